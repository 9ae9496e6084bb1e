"""Two connector halves that are meant to mate do not fit each other.

What
    For each mated pair: the halves must be of one family, have the same insert arrangement and the same keying, one
    half with pins and the other with sockets, and for circular connectors one plug and one receptacle. Two halves of
    the kit that are plugged into each other's place are one finding. Where the maker of the equipment names the mating
    part number and the kit has another one that fits all the same, that is a note; where not enough is known to tell
    whether it fits, a caution.

Why it matters
    The kit arrives and cannot be plugged in; or worse, it is forced. Two halves with the same contacts never touch; a
    wrong key turned by force puts supply on whatever cavity happens to lie there.

Source
    MIL-DTL-38999 series III keying: the plug and the receptacle with the same letter mate (38999 catalogue p. 27).
    Gender, insert and family: what mating means, common practice.

What to do
    Order the half that matches the one in the aircraft. Read the part number off the shell, not off an old drawing.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import Tally, same, several, weakest
from harnesscheck.connector import Connector, Mate, Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("halves that mate have one family, insert and key, and opposite contacts", Status.COMMON)

SAME = {"family": "family", "insert": "insert arrangement", "key": "key"}
UNLIKE = {"gender": "contacts", "style": "style"}
RIGHT = "same family, insert and key; pins against sockets; plug against receptacle"

Misfit = tuple[str, str, str, Source | None]
"""What differs (or does not), of the first half, of the second half, and the source when it is not firm."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every mated pair."""
    good = Tally("mated pairs")
    wrong: list[tuple[Mate, Connector, Connector, list[Misfit]]] = []
    for mate in harness.mates:
        one, two = harness.connectors[mate.a], harness.connectors[mate.b]
        misfits = _misfits(one, two)
        if misfits:
            wrong.append((mate, one, two, misfits))
            continue
        missing = list(_missing(one, two))
        named = _named_by_maker(one, two)
        if named is False:
            yield _other_number(mate, one, two, missing)
        elif missing and named is None:
            yield NotChecked(
                place=mate.place,
                missing=f"not known: {several(missing)}",
                remedy="give the part number, or family:, insert:, gender:, style: and key:",
            )
        else:
            facts = [half.fact(name) for half in (one, two) for name in (*SAME, *UNLIKE)]
            good.add(1, weakest(*facts) if not missing else None)
    while wrong:
        mate, one, two, misfits = wrong.pop(0)
        crossed = next((entry for entry in wrong if _crossed((one, two), entry[1:3])), None)
        if crossed is not None:
            wrong.remove(crossed)
            yield _exchanged(mate, crossed[0], (one, two, *crossed[1:3]))
        else:
            yield _finding(mate, one, two, misfits)
    yield from good.passed()


def _misfits(one: Connector, two: Connector) -> list[Misfit]:
    wrong: list[Misfit] = []
    for name, word in {**SAME, **UNLIKE}.items():
        first, second = one.fact(name), two.fact(name)
        if first is None or second is None or same(first.value, second.value) == (name in SAME):
            continue
        source = weakest(first, second)
        wrong.append((word, str(first.value), str(second.value), None if source is None or source.firm else source))
    return wrong


def _finding(mate: Mate, one: Connector, two: Connector, misfits: list[Misfit]) -> Finding:
    word, first, second, _ = misfits[0]
    if word == "contacts":
        said = f"both take {first} contacts"
    elif word == "style":
        said = f"both are a {first}"
    else:
        said = f"{one.ref} has {word} {first}, {two.ref} has {second}"
    return Finding(
        headline=f"{one.ref} and {two.ref} do not mate: {said}",
        place=mate.place,
        others=(one.place, two.place),
        value="; ".join(f"{w}: {one.ref} {a}, {two.ref} {b}" for w, a, b, _ in misfits),
        limit=RIGHT,
        # One firm misfit is enough to stop; only when every misfit rests on an unconfirmed value is it lowered.
        source=None if any(s is None for *_, s in misfits) else misfits[0][3],
        remedy=f"change {_newer(one, two)}, which the kit brings, to suit the other half; or correct its part number",
    )


def _crossed(pair: tuple[Connector, Connector], other: tuple[Connector, Connector]) -> bool:
    """True when both pairs would fit if they changed partners."""
    (a, b), (c, d) = pair, other
    return not (_misfits(a, d) or _misfits(c, b)) or not (_misfits(a, c) or _misfits(b, d))


def _exchanged(mate: Mate, other: Mate, halves: tuple[Connector, Connector, Connector, Connector]) -> Finding:
    kit = [half.ref for half in halves if half.origin is Origin.JUMPER] or [halves[0].ref, halves[2].ref]
    return Finding(
        headline=f"{several(kit)} are plugged into each other's place",
        place=mate.place,
        others=(other.place, *(half.place for half in halves)),
        value=f"{mate.a} with {mate.b}, {other.a} with {other.b}",
        limit=RIGHT,
        remedy="exchange the two mates: lines",
    )


def _named_by_maker(one: Connector, two: Connector) -> bool | None:
    """Whether the kit's half is the part number that the maker of the equipment names; None when none is named."""
    for box, half in ((one, two), (two, one)):
        if box.mating is not None and half.part is not None:
            return same(box.mating, half.part)
    return None


def _other_number(mate: Mate, one: Connector, two: Connector, missing: list[str]) -> Finding:
    box, half = (one, two) if one.mating is not None else (two, one)
    remedy = "compare finish and rear end of the two part numbers; order the one that the maker names when in doubt"
    if missing:
        remedy = f"order {box.mating}, or give the part number of {box.ref}: without it nobody knows whether they mate"
    return Finding(
        headline=f"{half.ref} is {half.part}, while the maker of {box.ref} names {box.mating}",
        place=mate.place,
        others=(half.place, box.place),
        severity=Severity.CAUTION if missing else Severity.NOTE,
        value=f"{half.part}" + (f"; not known: {several(missing)}" if missing else ""),
        source=Source(box.place.file, Status.STATED, paragraph=f"{box.ref} mating"),
        limit=f"{box.mating}, or one that you know to fit as well",
        remedy=remedy,
    )


def _newer(one: Connector, two: Connector) -> str:
    return two.ref if two.origin is Origin.JUMPER and one.origin is not Origin.JUMPER else one.ref


def _missing(one: Connector, two: Connector) -> Iterator[str]:
    families = {half.says("family") for half in (one, two)} - {None}
    for half in (one, two):
        for name, word in {**SAME, **UNLIKE}.items():
            # A D-sub shell is its own key, and a D-sub half may be fixed or free whatever its contacts.
            if half.fact(name) is None and not (name in ("key", "style") and families == {"D-sub"}):
                yield f"{word} of {half.ref}"
