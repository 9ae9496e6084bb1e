"""The jumper drops a shield: it is not led through, or the pair leaves it for a part of the way.

What
    Each shield circuit of the opened pair must reach its other side through the kit itself (not by way of two ground
    studs), and each new wire of the pair or circuit that it covers must run in a shielded cable.

Why it matters
    The unit works on the bench. In the aircraft the cable behind the jumper has lost its ground or has become an
    aerial, and the trouble shows in another system, on one radio frequency, in the air. When both ends are grounded,
    ohms at the connector look right although the shield is open: the loop closes through the airframe.

Source
    The airframe file: the shield was carried through before. That ARINC 429 pairs keep their shield at every break is
    second hand (training card); that a shield passes a connector on its own contact is common practice.

What to do
    Lead the shield through on its own contact, cavity to cavity of the same name, as the drain of the shielded cable
    that carries the pair. State shields: at the shield circuit.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._shields import facing, has_shield, named, new_shields, reach
from harnesscheck.checks._words import at, several
from harnesscheck.circuit import Circuit
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Wire

SEVERITY = Severity.STOP
SOURCE = Source("shields of the airframe before and after", Status.STATED)
FOLLOWS = ("unknown-cavity", "pin-collision", "dead-end-wire", "wrong-mate", "split-pair")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every shield circuit of the opened pair, and at every new wire under it."""
    before = harness.before
    if before is None or not harness.opens:
        return
    cables = {name: has_shield(harness, cable, shields) for name, cable, shields in new_shields(harness)}
    good = covered = 0
    told: set[str] = set()
    before_at, after_at = named(before), named(harness)
    opened: dict[Point, tuple[Point, Point]] = {}
    for one, two in before.mated_points:
        if {one.ref, two.ref} in map(set, harness.opens):
            opened[one] = opened[two] = (one, two)
    covered_by: dict[str, list[str]] = {}
    for circuit in harness.circuits.values():
        for name in {circuit.name, circuit.pair or circuit.name}:
            covered_by.setdefault(name, []).append(circuit.name)
    for circuit in before.circuits.values():
        if circuit.signal != "shield":
            continue
        crossings = _crossings(before, before_at.get(circuit.name, []), opened)
        for one, two in crossings:
            after = reach(harness, [one])
            if two in after.points:
                good += 1
            elif _alone(harness, circuit, one, two):
                yield _open(harness, before, circuit, one, two)
        if crossings or reach(harness, after_at.get(circuit.name, ())).new:
            for answer in _under(harness, circuit, covered_by.get(circuit.shields or "", []), after_at, cables, told):
                if isinstance(answer, int):
                    covered += answer
                else:
                    yield answer
    yield Passed(good, "shields led through")
    yield Passed(covered, "wires under a shield")


def _crossings(
    before: Harness, starts: list[Point], opened: dict[Point, tuple[Point, Point]]
) -> list[tuple[Point, Point]]:
    """The cavity pairs of the opened connectors on which the shield stood in the airframe as found."""
    return list(dict.fromkeys(opened[point] for point in reach(before, starts).points if point in opened))


def _alone(harness: Harness, circuit: Circuit, one: Point, two: Point) -> bool:
    """True when neither side has been led to another circuit instead: that is an exchange, reported as such."""
    led_to = harness.circuits_at((*reach(harness, [one]).points, *reach(harness, [two]).points))
    return not set(led_to) - {circuit.name}


def _open(harness: Harness, before: Harness, circuit: Circuit, one: Point, two: Point) -> Finding:
    cavity = next((c for p in (one, two) if (c := before.cavity(p)) is not None and c.circuit), None)
    place = cavity.place if cavity else circuit.place
    contacts = [facing(harness, one), facing(harness, two)]
    bare = [str(contact) for contact in contacts if not harness.wires_at(contact)]
    wires = tuple(wire.place for contact in contacts for wire in harness.wires_at(contact))
    return Finding(
        headline=f"shield {circuit.name} is dropped by the jumper: {one} no longer reaches {two}",
        place=place,
        others=(*wires, *(at(p, place) for p in (one, two))),
        value=f"no wire at {several(bare)}" if bare else "open between the two halves of the jumper",
        limit="led through, as before",
        remedy=f"lead {circuit.name} through on its own contact, as the drain of the cable it covers",
    )


def _under(
    harness: Harness,
    circuit: Circuit,
    covers: list[str],
    starts: dict[str, list[Point]],
    cables: dict[str, bool | None],
    told: set[str],
) -> Iterator[int | NotChecked | Finding]:
    """The new wires of what the shield covers: how many are under a shield, and those that are not."""
    if circuit.shields is None:
        yield NotChecked(
            place=circuit.place,
            missing="which pair or circuit the shield covers is not stated",
            remedy="write shields: with the name of the pair or circuit",
        )
        return
    if not covers:
        yield NotChecked(
            place=circuit.place,
            missing=f"there is no pair or circuit {circuit.shields} for the shield to cover",
            remedy="correct shields:, or write pair: at the circuits",
        )
        return
    bare: dict[str, list[tuple[Wire, str]]] = {}
    for name in covers:
        for wire in reach(harness, starts.get(name, ())).new:
            shielded = cables.get(wire.cable or "", False)
            if shielded:
                yield 1
            elif shielded is None and wire.cable not in told:
                told.add(wire.cable or "")
                yield NotChecked(
                    place=harness.cables[wire.cable or ""].place,
                    missing=f"whether the cable of {wire.id} is shielded, as {circuit.name} wants it",
                    remedy="give type:, or list the shield as a wire",
                )
            elif shielded is False:
                bare.setdefault(wire.cable or "", []).append((wire, name))
    for cable, listed in bare.items():
        yield _bare(circuit, cable, listed)


def _bare(circuit: Circuit, cable: str, listed: list[tuple[Wire, str]]) -> Finding:
    wires = [wire for wire, _ in listed]
    verb = "runs" if len(wires) == 1 else "run"
    return Finding(
        headline=f"{several(w.id for w in wires)} of {several(name for _, name in listed)} {verb} outside a shield",
        place=wires[0].place,
        others=(*(w.place for w in wires[1:]), circuit.place),
        severity=Severity.CAUTION,
        value=f"{cable} has no shield" if cable else "no cable",
        limit=f"under {circuit.name} all the way",
        remedy="lead them in a shielded cable, and its drain to the shield contact",
    )
