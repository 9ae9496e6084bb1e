"""What can be chosen for what: a slot is a pin, or the two pins of a pair, with the circuits that might serve it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product

from harnesscheck.finding import Finding, NotChecked
from harnesscheck.jumper import rules
from harnesscheck.jumper.demand import Want, plain
from harnesscheck.jumper.trial import Court, Verdict
from harnesscheck.place import Point

SEVERAL = frozenset({"power", "ground", "signal ground", "shield"})
"""Classes of which several pins of one unit may share a circuit; two inputs on one line are for a person to ask for."""
CURABLE = frozenset({"no-return", "driver-without-listener", "wrong-terminator-count"})
"""Checks whose finding about one tap alone another tap may cure: a return, a talker, a second terminator."""
DRIVING = frozenset({"two-drivers", "paralleled-sources"})
"""Checks whose *not checked* stands against a pin that drives: nobody drives a line whose drivers are unknown."""


@dataclass(slots=True)
class Candidate:
    """Circuits for the pins of a slot, what it is worth, and what is not known of it."""

    circuits: tuple[str, ...]
    inexact: int
    burden: float
    words: tuple[str, ...]
    gaps: tuple[NotChecked, ...] = ()


@dataclass(slots=True)
class Slot:
    """A pin, or the pins of a pair, and what might serve it."""

    wants: tuple[Want, ...]
    required: bool
    group: int = 0
    """Number of the group of pins that it is chosen with."""
    candidates: list[Candidate] = field(default_factory=list)
    barred: list[tuple[tuple[str, ...], str, str]] = field(default_factory=list)
    """Circuits that will not do, why, and what would do instead."""

    @property
    def signal(self) -> str:
        """Signal class."""
        return self.wants[0].signal

    def taps(self, candidate: Candidate | None) -> dict[Point, str]:
        """Pin to circuit."""
        if candidate is None:
            return {}
        return {want.point: name for want, name in zip(self.wants, candidate.circuits, strict=True)}


def against(verdict: Verdict, wants: Mapping[Point, Want], curable: bool = False) -> list[tuple[str, str, str]]:
    """What stands against taps: check, reason in words, and the checks' own remedy."""
    found = [
        (f.check, spoken(f), f.remedy) for f in verdict.faults if not (curable and f.check in CURABLE)
    ]  # fmt: skip
    # What two pins or two conductors say differently could be either, and no check looks at either.
    found += [(gap.check, gap.missing, gap.remedy) for gap in verdict.gaps if "stated in two ways" in gap.missing]
    if any(want.drives for want in wants.values()):
        found += [
            (gap.check, f"it would drive a line of which is not known who drives it: {gap.missing}", gap.remedy)
            for gap in verdict.gaps if gap.check in DRIVING
        ]  # fmt: skip
    return found


_FIGURE = re.compile(r"\d ?(?:%|mohm|ohm|kohm|V|mV|A|mA|m|Mbit/s)\b|\d %")


def spoken(finding: Finding) -> str:
    """A finding in one breath: its headline, and its value where the headline has no figure."""
    if finding.value and not _FIGURE.search(finding.headline) and finding.value not in finding.headline:
        return f"{finding.headline} ({finding.value})"
    return finding.headline


def fill(slot: Slot, site: rules.Site, court: Court, use: Mapping[Point, str]) -> None:
    """Look for the circuits that might serve a slot, and put each to the checks on its own."""
    checks = rules.names(slot.signal)
    for names in _possible(slot, site, use):
        taps = dict(zip((want.point for want in slot.wants), names, strict=True))
        verdict = court.verdict(taps, checks)
        wrong = against(verdict, {want.point: want for want in slot.wants}, curable=True)
        if wrong:
            check, reason, remedy = wrong[0]
            slot.barred.append((names, reason, rules.of(slot.signal).INSTEAD.get(check) or remedy))
            continue
        rule = rules.of(slot.signal)
        served = list(zip(slot.wants, names, strict=True))
        merits = [rule.merit(site, want, site.circuit(name)) for want, name in served]
        exact = sum(plain(want.pin.function) != plain(name) for want, name in served)
        slot.candidates.append(
            Candidate(
                names, exact, max(merit.burden for merit in merits),
                tuple(merit.words for merit in merits), verdict.gaps,
            )
        )  # fmt: skip


def _possible(slot: Slot, site: rules.Site, use: Mapping[Point, str]) -> Iterator[tuple[str, ...]]:
    """Circuits of the right class and line; for a pair two of one pair, for joined pins the same one."""
    choices = [[name for name in site.cavities if _fits(want, site, name, use.get(want.point))] for want in slot.wants]
    number = {want.point: index for index, want in enumerate(slot.wants)}
    joined = [
        (index, number[want.pin.loops]) for index, want in enumerate(slot.wants) if want.pin.loops in number
    ]  # fmt: skip
    for names in product(*choices):
        if any(names[a] != names[b] for a, b in joined):
            continue
        lines = {(want.pin.line, name) for want, name in zip(slot.wants, names, strict=True)}
        pairs = {site.circuit(name).pair for name in names}
        if len(lines) == len(set(names)) == len({want.pin.line for want in slot.wants}) and len(pairs) == 1:
            yield names


def _fits(want: Want, site: rules.Site, name: str, used: str | None) -> bool:
    circuit = site.circuit(name)
    if used is not None:
        return name == used
    if circuit.signal != want.signal:
        return False
    return circuit.line is None or want.pin.line is None or circuit.line == want.pin.line


def twice(slot: Slot, one: Candidate | None, other: Slot, its: Candidate | None, asked: Mapping[Point, str]) -> str:
    """The line that a unit would be on with pins of two slots; empty when there is none, or a person asks for it."""
    if one is None or its is None or slot.signal in SEVERAL or slot.wants[0].unit != other.wants[0].unit:
        return ""
    if any(want.point in asked for want in (*slot.wants, *other.wants)):
        return ""
    return next((name for name in one.circuits if name in its.circuits), "")
