"""Two connectors near each other can be plugged into each other's mates.

What
    A half of the kit and another connector in the same zone that is not its mate, but would mate with it: same family,
    insert and key, pins against sockets. The four halves at the opened connector are left out among themselves, for
    exchanging those only takes the jumper out of the circuit again.

Why it matters
    Sooner or later somebody plugs them in the wrong way round, in the dark, by feel. On a launcher two identical plugs
    were exchanged and it lost control after lift-off; in a wing it puts supply on a data pin.

Source
    AC 43.13-1B Chg 1, par. 11-235b: neighbouring connectors must not be mateable with each other; shell size, coupling,
    insert or keying differ, and marking alone is not enough. That connectors in one zone are neighbours is our reading.

What to do
    Take another key for one of them, or another insert or shell. Where aircraft and equipment dictate both, cut the
    branches so short that neither reaches the mate of the other, and mark all four halves.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import Tally, same, several, weakest
from harnesscheck.connector import Connector, Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.parts import Fact
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-235b")

SAME = ("family", "insert", "key")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every half of an installed kit against every other connector, one finding per pair of joints."""
    if harness.kind is not Kind.INSTALLED:
        return
    good = Tally("halves of the kit")
    seen: dict[frozenset[str], tuple[Connector, Connector]] = {}
    unsaid: dict[str, dict[str, None]] = {}
    near = _Near(harness)
    for half in harness.connectors.values():
        if half.origin is not Origin.JUMPER:
            continue
        clean: Source | None = SOURCE
        for other in near.to(half):
            if _together(harness, half, other):
                continue
            missing = _apart(harness, half, other)
            if isinstance(missing, Source):
                clean = missing if clean is not None and clean.firm else clean
                continue
            clean = None
            for ref, what in missing:
                unsaid.setdefault(ref, {})[what] = None
            if not missing:
                seen.setdefault(frozenset((_joint(harness, half), _joint(harness, other))), (half, other))
        if clean is not None:
            good.add(1, clean)
    alike: dict[str, list[str]] = {}
    for ref, unknown in unsaid.items():
        alike.setdefault(several(unknown), []).append(ref)
    for words, refs in alike.items():
        yield NotChecked(
            place=harness.connectors[refs[0]].place,
            missing=f"the {words} of {several(refs)} is not known, so it is open what else can be plugged in there",
            remedy="give zone: and part: of these connectors",
        )
    for half, other in seen.values():
        yield _finding(harness, half, other)
    yield from good.passed()


class _Near:
    """The connectors by zone, so that a half is compared with its neighbours and not with the whole aircraft."""

    def __init__(self, harness: Harness) -> None:
        self.harness = harness
        self.order = {ref: number for number, ref in enumerate(harness.connectors)}
        self.zones: dict[str, list[str]] = {}
        self.nowhere: list[str] = []
        for ref, half in harness.connectors.items():
            found = _zones(harness, half)
            for zone in found:
                self.zones.setdefault(zone, []).append(ref)
            if not found:
                self.nowhere.append(ref)

    def to(self, half: Connector) -> list[Connector]:
        """Those that share a zone with ``half``, or whose zone (or whose own) nobody has stated; in file order."""
        zones = _zones(self.harness, half)
        if not zones:
            return list(self.harness.connectors.values())
        refs = {ref for zone in zones for ref in self.zones[zone]}
        return [self.harness.connectors[ref] for ref in sorted(refs.union(self.nowhere), key=self.order.__getitem__)]


def _joint(harness: Harness, half: Connector) -> str:
    """One name for all halves that belong to one joint; the opened connector with its jumper halves is one joint."""
    mate = harness.mate_of(half.ref)
    pair = harness.pair_of(half.ref) or harness.pair_of(mate or "")
    if pair is not None:
        return "/".join(pair)
    return "/".join(sorted((half.ref, mate))) if mate else half.ref


def _together(harness: Harness, half: Connector, other: Connector) -> bool:
    return _joint(harness, half) == _joint(harness, other)


def _zones(harness: Harness, half: Connector) -> set[str]:
    """The zones of a half and of its mate, which are in one place."""
    mate = harness.connectors.get(harness.mate_of(half.ref) or "")
    return {one.zone for one in (half, mate) if one is not None and one.zone}


def _apart(harness: Harness, half: Connector, other: Connector) -> list[tuple[str, str]] | Source:
    """The source when the two cannot meet, an empty list when they can, else what is not known of which.

    They share a zone, or the zone of one of them is not stated: others have not been compared.
    """
    missing = [(one.ref, "zone") for one in (half, other) if not _zones(harness, one)]
    differ: list[Source] = []
    for name in (*SAME, "gender", "style"):
        first, second = half.fact(name), other.fact(name)
        if first is not None and second is not None:
            source = weakest(first, second)
            if same(first.value, second.value) != (name in SAME) and source is not None:
                differ.append(source)
        elif name != "style" and not (name == "key" and "D-sub" in (half.says("family"), other.says("family"))):
            missing += [(one.ref, name) for one, fact in ((half, first), (other, second)) if fact is None]
    return next((source for source in differ if source.firm), differ[0]) if differ else missing


def _finding(harness: Harness, half: Connector, other: Connector) -> Finding:
    own, its = harness.mate_of(half.ref), harness.mate_of(other.ref)
    zone = several(sorted(_zones(harness, half) & _zones(harness, other)))
    facts: list[Fact | None] = [one.fact(name) for name in (*SAME, "gender") for one in (half, other)]
    mates = [harness.connectors[ref] for ref in (own, its) if ref is not None]
    words = [str(fact.value) for name in SAME if (fact := half.fact(name)) is not None]
    instead = f" instead of {own}" if own else ""
    return Finding(
        headline=f"{half.ref} can be plugged into {other.ref}{instead}: same family, insert and key, in zone {zone}",
        place=half.place,
        others=(other.place, *(mate.place for mate in mates)),
        value=f"{half.ref} belongs to {own or 'nothing'}, {other.ref} to {its or 'nothing'}; both {', '.join(words)}",
        limit="neighbouring connectors that cannot be mated with each other",
        source=weakest(Fact("", SOURCE), *facts),
        remedy=f"take another key or insert for one of them; where both are dictated, cut the branches so that "
        f"{half.ref} does not reach {other.ref}, and mark every half",
    )
