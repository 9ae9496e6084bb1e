"""Two connector halves that are meant to mate do not fit each other.

What
    For each mated pair: the halves must be of one family, have the same insert arrangement and the same keying, one
    half with pins and the other with sockets, and for circular connectors one plug and one receptacle.

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

from harnesscheck.checks._words import several
from harnesscheck.connector import Connector, Mate
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("halves that mate have one family, insert and key, and opposite contacts", Status.COMMON)

SAME = {"family": "family", "insert": "insert arrangement", "key": "key"}
UNLIKE = {"gender": "contacts", "style": "style"}


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every mated pair."""
    good = 0
    for mate in harness.mates:
        one, two = harness.connectors.get(mate.a), harness.connectors.get(mate.b)
        if one is None or two is None:
            continue
        answer = _misfit(mate, one, two)
        if answer is not None:
            yield answer
            continue
        missing = list(_missing(one, two))
        if missing:
            yield NotChecked(
                place=mate.place,
                missing=f"not known: {several(missing)}",
                remedy="give the part number, or insert:, gender: and key:, of both halves",
            )
        else:
            good += 1
    yield Passed(good, "mated pairs")


def _misfit(mate: Mate, one: Connector, two: Connector) -> Finding | None:
    wrong: list[tuple[str, str, str, Source | None]] = []
    for name, word in {**SAME, **UNLIKE}.items():
        first, second = one.fact(name), two.fact(name)
        if first is None or second is None or (first.value == second.value) == (name in SAME):
            continue
        weaker = next((f.source for f in (first, second) if not f.source.firm), None)
        wrong.append((word, str(first.value), str(second.value), weaker))
    if not wrong:
        return None
    word, _, second_value, _ = wrong[0]
    # One firm misfit is enough to stop; only when every misfit rests on an unconfirmed value is it lowered.
    weak = next((source for *_, source in wrong if source is not None), None)
    source = None if any(s is None for *_, s in wrong) else weak
    verb = "are both" if word in UNLIKE.values() else "differ in"
    said = f"{verb} {second_value}" if word in UNLIKE.values() else f"{verb} {word}"
    return Finding(
        headline=f"{mate.a} and {mate.b} do not mate: they {said}",
        place=mate.place,
        others=(one.place, two.place),
        value="; ".join(f"{w}: {mate.a} {a}, {mate.b} {b}" for w, a, b, _ in wrong),
        limit="same family, insert and key; pins against sockets",
        source=source,
        remedy=f"change the half that the kit brings ({_newer(one, two)}) to suit the other",
    )


def _newer(one: Connector, two: Connector) -> str:
    return two.ref if two.origin == "jumper" and one.origin != "jumper" else one.ref


def _missing(one: Connector, two: Connector) -> Iterator[str]:
    for half in (one, two):
        for name, word in {**SAME, "gender": "contacts"}.items():
            # Only circular connectors have a key; a D-sub shell is its own key.
            if half.fact(name) is None and not (name == "key" and half.says("family") == "D-sub"):
                yield f"{word} of {half.ref}"
