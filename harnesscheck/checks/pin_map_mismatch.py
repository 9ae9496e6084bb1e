"""The jumper delivers something else to a pin of the equipment than the equipment wants there.

What
    Each pin of the new equipment is followed through the jumper to the airframe circuit it ends on. The signal class,
    the conductor of the pair (H or L, A or B, + or -), the supply voltage and the circuit named under taps: must agree
    with what the maker wants on that pin. A pin the equipment cannot do without must reach a circuit; a pin that must
    stay open must reach none. Pins that are exchanged among themselves are reported as one finding.

Why it matters
    The unit is silent or its bus is dead if it goes well; supply stands on a data pin if it does not.

Source
    The equipment file (the maker's pin table) against the airframe's circuits.

What to do
    Follow the pin with harnesscheck trace, correct the cavity at one end of the tap wire, and check again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from harnesscheck.checks._words import several
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("pin table of the equipment against the airframe's circuits", Status.STATED)
FOLLOWS = (
    "unknown-cavity",
    "pin-collision",
    "two-wires-in-one-contact",
    "dead-end-wire",
    "wrong-mate",
    "mirrored-pin-map",
    "shifted-pin-map",
    "ribbon-order-pin-map",
    "drain-on-wrong-contact",
    "broken-through-circuit",
)

PAIRED = frozenset({"can", "rs422", "rs485", "arinc429"})
"""Signal classes where the two conductors of a pair must not be exchanged."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every pin of every equipment unit of an installed harness."""
    if harness.kind is not Kind.INSTALLED:
        return
    by_net: dict[int, list[Circuit]] = {}
    for _, cavity in harness.cavities():
        net = harness.nets.of(cavity.point)
        circuit = harness.circuits.get(cavity.circuit or "")
        if circuit is not None and net is not None and circuit not in by_net.setdefault(net, []):
            by_net[net].append(circuit)
    good = 0
    wrong: list[tuple[Pin, Circuit | None, str]] = []
    for pin in harness.pins():
        net = harness.nets.of(pin.point)
        reached = by_net.get(net, []) if net is not None else []
        verdict = list(_compare(harness, pin, reached))
        for answer in verdict:
            if isinstance(answer, str):
                wrong.append((pin, reached[0] if reached else None, answer))
            else:
                yield answer
        good += not verdict
    yield from _findings(harness, wrong)
    yield Passed(good, "equipment pins")


def _compare(harness: Harness, pin: Pin, reached: list[Circuit]) -> Iterator[str | NotChecked]:
    """What is wrong with one pin, as a sentence without its subject."""
    tap = harness.taps.get(pin.point)
    wired = any(wire.origin is Origin.JUMPER for _, p in harness.neighbours(pin.point) for wire in harness.wires_at(p))
    if not pin.connect:
        if wired or reached:
            yield "must stay open, but the jumper leads a wire to it"
        return
    if not reached:
        if pin.required or tap:
            yield f"wants {pin.function}, but reaches no circuit of the airframe"
        elif wired:
            yield NotChecked(place=pin.place, missing="the wire on this pin reaches no circuit whose name is known")
        return
    if len(reached) > 1:
        return  # two circuits joined: broken-through-circuit says so
    circuit = reached[0]
    if tap is not None and tap.circuit != circuit.name:
        yield f"wants {pin.function} from {tap.circuit}, but gets {circuit.name}"
        return
    if circuit.signal is None:
        yield NotChecked(place=pin.place, missing=f"the signal class of circuit {circuit.name} is not stated")
        return
    if circuit.signal != pin.signal:
        yield f"wants {pin.function} ({pin.signal}), but gets {circuit.name} ({circuit.signal})"
        return
    if pin.signal in PAIRED:
        if pin.line is None or circuit.line is None:
            yield NotChecked(
                place=pin.place, missing=f"which conductor of the pair {circuit.name} or the pin is, is not stated"
            )
            return
        if pin.line != circuit.line:
            yield f"wants {pin.function} ({pin.line}), but gets {circuit.name} ({circuit.line})"
            return
    yield from _supply(pin, circuit)
    if tap is None:
        yield NotChecked(
            place=pin.place,
            missing="no circuit is declared for this pin under taps:",
            remedy="declare it, so that the intent can be compared",
        )


def _supply(pin: Pin, circuit: Circuit) -> Iterator[str | NotChecked]:
    if pin.signal != "power":
        return
    if pin.supply is None or circuit.supply is None:
        what = f"the supply range of {pin.point}" if pin.supply is None else f"the voltage of {circuit.name}"
        yield NotChecked(place=pin.place, missing=f"{what} is not stated")
    elif circuit.supply not in pin.supply:
        yield f"works from {pin.supply.low:g} V to {pin.supply.high:g} V, but {circuit.name} has {circuit.supply:g} V"


def _findings(harness: Harness, wrong: list[tuple[Pin, Circuit | None, str]]) -> Iterator[Finding]:
    """One finding a fault: pins that got each other's circuits are one exchange."""
    left = dict(enumerate(wrong))
    for number, (pin, got, words) in enumerate(wrong):
        if number not in left:
            continue
        ring = _exchange(harness, wrong, left, number)
        for member in ring:
            left.pop(member, None)
        pins = [wrong[m][0] for m in ring]
        if len(ring) > 1:
            names = several(f"{p.point} ({p.function})" for p in pins)
            headline = f"the circuits of {names} are exchanged"
        else:
            headline = f"{pin.point} {words}"
        yield Finding(
            headline=headline,
            place=_typed_at(harness, pin),
            others=tuple(place for p in pins for place in (p.place, *_path(harness, p))),
            value=f"gets {got.name}" if got else "no circuit",
            limit=f"{pin.function}, as the equipment file says",
            remedy=f"correct the cavity of the tap wire; follow it with: harnesscheck trace FILE {pin.point}",
        )


def _exchange(
    harness: Harness, wrong: list[tuple[Pin, Circuit | None, str]], left: Mapping[int, object], start: int
) -> list[int]:
    """Numbers of the pins that form one exchange with ``start``; just ``start`` when there is none."""
    want = {
        harness.taps[p.point].circuit: i for i, (p, _, _) in enumerate(wrong) if p.point in harness.taps and i in left
    }
    ring, here = [start], start
    while True:
        got = wrong[here][1]
        following = want.get(got.name) if got else None
        if following is None or (following in ring and following != start):
            return [start]
        if following == start:
            return ring
        ring.append(following)
        here = following


def _typed_at(harness: Harness, pin: Pin) -> Place:
    """The tap wire at the pin, where the mistake was most likely typed; else the pin itself."""
    for _, mated in harness.neighbours(pin.point):
        for wire in harness.wires_at(mated):
            return Place(str(pin.point), wire.document, wire.line, wire.column)
    return pin.place


def _path(harness: Harness, pin: Pin) -> list[Place]:
    """The new wires on the way from the pin, and the cavity of the plug that faces it."""
    found = []
    for step in harness.trace(pin.point):
        wire = harness.wires.get(step.through)
        if wire is not None and wire.origin is Origin.JUMPER:
            found.append(wire.place)
        elif step.through == "mate" and step.start == pin.point:
            found.append(_at(step.end, pin.place))
    return found


def _at(point: Point, near: Place) -> Place:
    return Place(str(point), near.document, near.line, near.column)
