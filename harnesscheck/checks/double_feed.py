"""Two breakers or two buses feed one piece of copper.

What
    For every piece of copper of the installed harness that the jumper touches, what feeds it is counted: the breakers
    whose load side it joins, those that feed its circuits in the airframe as found, and buses joined past a breaker.
    More than one is a fault; what was so before is a caution where the new equipment hangs on it, else a note.

Why it matters
    Opening one breaker no longer takes the supply away: the other one feeds a fault, or a man's hands. Two buses that
    were kept apart so that one fault cannot take both are one from now on, and one feeder carries the other's load.

Source
    AC 43.13-1B Chg 1, par. 11-47 to 11-50: each circuit has its protector, close to the bus; par. 11-48 sizes it for
    the wires behind it alone. Independence of buses is why there are two of them (common practice).

What to do
    Part the two: one of the wires stands in the wrong cavity or splice, or the unit needs one supply only, or a diode.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._power import CAUSES
from harnesscheck.checks._supply import Copper, coppers
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.device import Breaker
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, Kind, view
from harnesscheck.place import Place
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-47 to 11-50")
FOLLOWS = CAUSES


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every piece of copper with supply on it that the jumper touches; one finding for each."""
    if harness.kind is not Kind.INSTALLED:
        return
    good = 0
    for here in coppers(harness):
        feeds = _feeds(harness, here)
        touched = any(wire.origin is Origin.JUMPER for wire in here.wires)
        if not feeds and here.new and here.is_supply:
            first = next(iter(here.circuits.values()))
            yield NotChecked(
                place=first.place,
                missing=f"what feeds {here.called()} is not known",
                remedy="give breaker: at the circuit, or list the wire from the breaker",
            )
        if not feeds or not touched:
            continue
        if len(feeds) < 2:
            good += 1
            continue
        earlier = harness.before is not None and any(
            set(feeds) <= set(_feeds(harness.before, old)) for old in coppers(harness.before)
        )
        wire = next(w for w in here.wires if w.origin is Origin.JUMPER)
        tail = ", as in the airframe before" if earlier else ""
        yield Finding(
            headline=f"{several(feeds)} feed one piece of copper ({here.called()}){tail}",
            place=wire.place,
            others=(*feeds.values(), *(circuit.place for circuit in here.circuits.values())),
            value=f"joined: {several(feeds)}",
            limit="one breaker for each piece of copper",
            severity=(Severity.CAUTION if here.pins else Severity.NOTE) if earlier else None,
            remedy="part them: find the wire in the wrong cavity or splice, or feed the unit from one of them only",
        )
    yield Passed(good, "pieces of copper with one feed")


def _feeds(harness: Harness, here: Copper) -> dict[str, Place]:
    """What feeds a piece of copper. A circuit is fed by what its own copper led to as found, else by what it names."""
    breakers = {breaker.ref: breaker for breaker in here.loads}
    for circuit in here.circuits.values():
        by_copper = _as_found(harness.before or harness).get(circuit.name)
        named = harness.breakers.get(circuit.breaker or "")
        for breaker in by_copper or ([named] if named else []):
            breakers[breaker.ref] = breaker
    if not here.circuits and not breakers:  # a cavity may name its breaker and no circuit
        breakers = {breaker.ref: breaker for breaker in here.named}
    behind = {breaker.bus for breaker in breakers.values()}
    direct = {name: harness.buses[name].place for name in here.buses if name not in behind or len(here.buses) > 1}
    return {**{ref: breaker.place for ref, breaker in breakers.items()}, **direct}


@view
def _as_found(harness: Harness) -> dict[str, list[Breaker]]:
    """Circuit name to the breakers that its copper led to before the jumper."""
    found: dict[str, list[Breaker]] = {}
    for old in coppers(harness):
        for circuit in old.circuits:
            found.setdefault(circuit, []).extend(old.loads)
    return found
