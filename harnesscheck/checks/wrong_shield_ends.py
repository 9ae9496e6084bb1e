"""A shield is grounded at more or fewer ends than it should be.

What
    For each shield circuit with shield ends: the ends where the shield meets ground, with the jumper fitted, are
    counted against both, one or none. An end is where the listed copper stops. Counted as grounded: each wire of the
    shield on a ground stud, each place where it joins a ground circuit, a ground pin of the equipment, and a cavity
    or shield pin with grounded: yes. Counted as open: grounded: no, and a contact of the kit that leads no further.
    Any other end (a cavity behind which no wire is listed, a shield pin of which nobody has said) is not known, and
    then the check says so.

Why it matters
    A shield that should be grounded once and is grounded twice carries the current between the two grounds, and hums
    or disturbs the pair it should protect. A shield that should be grounded at both ends and is not, keeps no radio
    frequency out. A new unit often brings a second ground that nobody asked for.

Source
    The airframe file says how many ends. Documents disagree: ARINC 429 grounds both ends and every break (training
    card, second hand); an audio or NMEA line one end, at the audio unit or talker (installation manuals, confirmed);
    AC 43.13-1B Chg 1, par. 11-89 as quoted in the trade (second hand), both ends. The manual of the unit decides.

What to do
    Write shield ends: at the circuit as the manual of the unit wants it, and grounded: at the ends. Lift the drain at
    the end that is too many (insulate and stow it), or ground the one that is missing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from harnesscheck.checks._shields import GROUNDS, Reach, carried, named, pin_at, reach
from harnesscheck.checks._words import many, several
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = Source("shield ends stated for the circuit", Status.STATED)
FOLLOWS = ("drain-on-wrong-contact", "dropped-shield")

WANTED = {"both": "both ends", "one": "one end", "none": "no end"}


@dataclass(slots=True)
class _Ends:
    grounded: list[Point] = field(default_factory=list)
    open: list[Point] = field(default_factory=list)
    unknown: list[Point] = field(default_factory=list)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every shield circuit that says how many ends are grounded, or that the jumper touches."""
    starts = named(harness)
    good = 0
    for circuit in harness.circuits.values():
        if circuit.signal != "shield" and circuit.shield_ends is None:
            continue
        joined = reach(harness, starts.get(circuit.name, ()), lambda point: _ground_circuit(harness, point))
        if circuit.shield_ends is None:
            if joined.new:
                yield NotChecked(
                    place=circuit.place,
                    missing="how many ends of the shield are to be grounded is not stated",
                    remedy="write shield ends: both, one or none, as the manual of the unit wants it",
                )
            continue
        if _joined_with_others(harness, circuit, joined):
            continue  # broken-through-circuit, drain-on-wrong-contact or pin-map-mismatch says so
        answer = _judge(harness, circuit, joined, _ends(harness, joined))
        if answer is None:
            good += 1
        else:
            yield answer
    yield Passed(good, "shields")


def _ground_circuit(harness: Harness, point: Point) -> bool:
    cavity = harness.cavity(point)
    circuit = harness.circuits.get(cavity.circuit or "") if cavity else None
    return circuit is not None and circuit.signal in GROUNDS


def _joined_with_others(harness: Harness, circuit: Circuit, joined: Reach) -> bool:
    """True when the shield is one piece of copper with something that is no shield and no ground."""
    for point in joined.points:
        stands = carried(harness, point)
        if stands and stands.name != circuit.name and stands.signal not in (None, "shield", *GROUNDS):
            return True
    return False


def _ends(harness: Harness, joined: Reach) -> _Ends:
    ends = _Ends()
    studs = [p for w in joined.wires for p in (w.a, w.b) if p.ref in harness.grounds]
    ends.grounded += studs
    for point in joined.points:
        connector = harness.connectors.get(point.ref)
        if connector is None:
            if point.ref in harness.splices and len(list(harness.neighbours(point))) < 2:
                new = harness.splices[point.ref].origin is Origin.JUMPER
                (ends.open if new else ends.unknown).append(point)
            continue
        pin = pin_at(harness, point)
        cavity = harness.cavity(point)
        if _ground_circuit(harness, point) or (pin is not None and pin.signal in GROUNDS):
            ends.grounded.append(point)
        elif len(list(harness.neighbours(point))) > 1:
            continue  # not an end: the copper goes on
        elif connector.origin is Origin.JUMPER:
            ends.open.append(point)
        else:
            said = pin.grounded if pin is not None else cavity.grounded if cavity is not None else None
            {True: ends.grounded, False: ends.open, None: ends.unknown}[said].append(point)
    return ends


def _judge(harness: Harness, circuit: Circuit, joined: Reach, ends: _Ends) -> Answer | None:
    count = len(ends.grounded)
    wanted = circuit.shield_ends or ""
    most = {"both": count, "one": 1, "none": 0}[wanted]
    # A pin that the box leaves open is the end of a branch; the shield itself must be grounded where it was before.
    left_open = [p for p in ends.open if pin_at(harness, p) is None]
    sure = {"both": 2, "one": 1, "none": 0}[wanted]
    where = several(str(p) for p in ends.grounded)
    if count > most:
        said = f"is grounded at {many(count, 'end')} ({where}), {WANTED[wanted]} is wanted"
        remedy = "lift the drain at one end, insulate and stow it; the manual of the unit says which"
    elif wanted == "both" and left_open:
        said = f"is to be grounded at both ends, but is open at {several(str(p) for p in left_open)}"
        remedy = "ground that end, or correct shield ends:"
    elif ends.unknown:
        so_far = f"grounded so far: {where}" if where else "no ground known so far"
        return NotChecked(
            place=circuit.place,
            missing=f"whether the shield is grounded at {several(str(p) for p in ends.unknown)} ({so_far}; "
            f"{WANTED[wanted]} wanted)",
            remedy="write grounded: yes or grounded: no there, or list the wire to the stud",
        )
    elif count < sure:
        said = f"is grounded at {f'one end only ({where})' if count else 'no end'}, {WANTED[wanted]} "
        said += "are wanted" if wanted == "both" else "is wanted"
        remedy = "ground the end that is missing, or correct shield ends:"
    else:
        return None
    return Finding(
        headline=f"shield {circuit.name} {said}",
        place=circuit.place,
        others=(
            *(_typed(harness, p) for p in (*ends.grounded, *left_open, *joined.points)),
            *(w.place for w in joined.new),
        ),
        value=f"grounded at {where or 'no end'}" + (f", open at {several(map(str, left_open))}" if left_open else ""),
        limit=WANTED[wanted],
        remedy=remedy,
    )


def _typed(harness: Harness, point: Point) -> Place:
    """Where an end was typed: the pin, the cavity or the stud."""
    pin, cavity, stud = pin_at(harness, point), harness.cavity(point), harness.grounds.get(point.ref)
    thing = pin or cavity or stud
    return thing.place if thing is not None else Place(str(point))
