"""The shield of a new cable is led to nothing.

What
    Each new cable with a shield: its shield or drain must be listed as a wire, and what it is joined to must hold a
    ground stud, a ground or shield circuit of the airframe, or a ground or shield pin of the equipment that the box
    does not leave open. A shield listed for a cable whose type has none is a fault as well.

Why it matters
    A braid that hangs free shields nothing; it couples the conductors under it to whatever runs beside it. On the
    bench the cable rings out without fault, and the unit works until the radio transmits.

Source
    Common practice: a shield works only where it is grounded. AC 43.13-1B Chg 1, par. 11-89, as it is quoted in the
    trade (second hand), grounds both ends against radio frequency, one end for audio. How many ends this cable wants
    is the business of wrong-shield-ends.

What to do
    List the shield or drain as a wire of the cable (core: shield or core: drain) and lead it to the shield contact,
    or to a stud. If it is to float, say so: shield ends: none at the shield circuit that covers the pair.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._shields import GROUNDS, Reach, carried, cores, facing, has_shield, new_shields, pin_at, reach
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.wire import Cable, Wire

SEVERITY = Severity.CAUTION
SOURCE = Source("a shield works only where it is grounded", Status.COMMON)
FOLLOWS = ("drain-on-wrong-contact", "dropped-shield", "pin-map-mismatch", "unknown-cavity", "dead-end-wire")

GOOD = GROUNDS | {"shield"}


def check(harness: Harness) -> Iterator[Answer]:
    """Look at the shield of every new cable."""
    good = 0
    inside = cores(harness)
    unsaid: dict[str, list[Wire]] = {}
    for name, cable, shields in new_shields(harness):
        shielded = has_shield(harness, cable, shields)
        if shielded is None:
            yield NotChecked(
                place=cable.place if cable else harness.place,
                missing=f"whether cable {name} has a shield: its type is not known and no shield or drain is listed",
                remedy="give type:, or list the shield as a wire with core: shield",
            )
        elif not shielded:
            continue
        elif shields and cable is not None and _bare(harness, cable):
            yield _imagined(harness, cable, shields)
        elif not shields:
            assert cable is not None  # a shield of no cable is listed itself
            if _meant_to_float(harness, inside.get(name, [])):
                good += 1
            else:
                yield _unlisted(harness, cable, inside.get(name, []))
        else:
            answer = _grounded(harness, name, shields, inside.get(name, []))
            if answer is None and cable is not None and harness.part("cable", cable.type) is None:
                yield NotChecked(
                    place=cable.place,
                    missing=f"whether cable {name} has the shield that is listed for it: its type is not known",
                    remedy="give type: as a part number that the drawer knows",
                )
            elif answer is None:
                good += 1
            elif isinstance(answer, Finding):
                yield answer
            else:
                unsaid.setdefault(answer, []).append(shields[0])
    for what, wires in unsaid.items():
        yield NotChecked(
            place=wires[0].place,
            missing=f"whether the shields of {several(w.cable or w.id for w in wires)} are grounded: {what} not stated",
            remedy="name the circuit and its signal class",
        )
    yield Passed(good, "cable shields")


def _bare(harness: Harness, cable: Cable) -> bool:
    """True when the drawer knows the type of the cable as one without a shield."""
    record = harness.part("cable", cable.type)
    return record is not None and record.text("shield") == "no shield"


def _imagined(harness: Harness, cable: Cable, shields: list[Wire]) -> Finding:
    record = harness.part("cable", cable.type)
    return Finding(
        headline=f"cable {cable.id} ({cable.type}) has no shield; {several(w.id for w in shields)} is listed as one",
        place=cable.place,
        others=tuple(wire.place for wire in shields),
        value=f"type {cable.type}: no shield",
        limit="a cable with a shield where a shield or drain is listed",
        source=record.source("shield") if record else None,
        remedy="correct the type of the cable, or take the shield off the list",
    )


def _unlisted(harness: Harness, cable: Cable, inside: list[Wire]) -> Finding:
    ends = list(_shield_contacts(harness, inside))
    where = f" to {several(str(p) for p in ends)}" if ends else " on to the shield contact or a stud"
    return Finding(
        headline=f"cable {cable.id} is shielded, but its shield is wired at neither end",
        place=cable.place,
        others=(
            *(wire.place for wire in inside),
            *(Place(str(p)) for end in ends for p in (end, facing(harness, end))),
        ),
        value="no wire with core: shield or core: drain",
        limit="a shield led to a ground or shield contact, or to a stud",
        remedy=f"list the shield as a wire and lead it{where}; a shield that ends on a backshell needs a waiver",
    )


def _shield_contacts(harness: Harness, inside: list[Wire]) -> Iterator[Point]:
    """The shield contacts of the connectors in which the cores of the cable end."""
    refs = dict.fromkeys(point.ref for wire in inside for point in (wire.a, wire.b) if point.ref in harness.connectors)
    for ref in refs:
        for cavity in harness.connectors[ref].cavities.values():
            stands = carried(harness, cavity.point)
            if stands is not None and stands.signal == "shield":
                yield cavity.point


def _grounded(harness: Harness, name: str, shields: list[Wire], inside: list[Wire]) -> Finding | str | None:
    """What is wrong with the way of the shield, or what is not stated; None when it reaches a ground or a shield."""
    if _meant_to_float(harness, inside):
        return None
    joined = reach(harness, [point for wire in shields for point in (wire.a, wire.b)])
    if any(point.ref in harness.grounds for point in joined.points):
        return None
    unsaid: list[str] = []
    for point in joined.points:
        connector = harness.connectors.get(point.ref)
        if connector is None or connector.origin is Origin.JUMPER:
            continue
        pin = pin_at(harness, point)
        if pin is not None and pin.grounded is False:
            continue
        stands = carried(harness, point)
        cavity = harness.cavity(point)
        if stands is not None and stands.signal in GOOD:
            return None
        if stands is None and not (cavity and cavity.use == "spare"):
            unsaid.append(f"what {point} carries")
        elif stands is not None and stands.signal is None:
            unsaid.append(f"the signal class of {stands.name}")
    if unsaid:
        return f"{several(unsaid)} is" if len(set(unsaid)) == 1 else f"{several(unsaid)} are"
    return _floating(name, shields, joined)


def _floating(name: str, shields: list[Wire], joined: Reach) -> Finding:
    ends = several(str(p) for p in joined.points)
    return Finding(
        headline=f"the shield of {name} ({several(w.id for w in shields)}) reaches no ground and no shield contact",
        place=shields[0].place,
        others=(*(w.place for w in shields[1:]), *(w.place for w in joined.new if w not in shields)),
        value=f"joined to {ends}",
        limit="a ground stud, or a ground or shield contact",
        remedy="lead the drain to the shield contact of one half, or to a stud",
    )


def _meant_to_float(harness: Harness, inside: list[Wire]) -> bool:
    """True when a shield circuit that covers a conductor of the cable is stated to be grounded at no end."""
    floats = {c.shields for c in harness.circuits.values() if c.shield_ends == "none" and c.shields}
    if not floats:
        return False
    for wire in inside:
        for name in harness.circuits_at(reach(harness, [wire.a]).points):
            circuit = harness.circuits.get(name)
            if circuit is not None and floats & {circuit.name, circuit.pair}:
                return True
    return False
