"""What runs through the opened pair, cavity by cavity: circuit, size, pair, shield and the pins that tap it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from harnesscheck.checks._pairs import LINES, PAIRED
from harnesscheck.checks._words import in_turn
from harnesscheck.circuit import Circuit
from harnesscheck.connector import NONE, Cavity, Use
from harnesscheck.device import Breaker
from harnesscheck.harness import Harness
from harnesscheck.jumper.conductors import SUPPLY, breaker_of, existing
from harnesscheck.place import Point
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire


@dataclass(frozen=True, slots=True)
class Line:
    """One cavity of the opened pair that is led through."""

    cavity: str
    circuit: Circuit | None
    use: Use
    wires: tuple[Wire, ...]
    """The aircraft's own wires at either half."""
    gauge: Gauge | None
    """The thickest of them; None when nobody has said."""
    breaker: Breaker | None
    taps: tuple[Point, ...]

    @property
    def name(self) -> str:
        """The circuit, or what the cavity is used for."""
        return self.circuit.name if self.circuit else str(self.use)

    @property
    def signal(self) -> str | None:
        """Signal class; None when nobody has said."""
        return self.circuit.signal if self.circuit else None

    @property
    def supply(self) -> bool:
        """True for a feed, as far as the files say."""
        return self.signal in SUPPLY or self.breaker is not None


@dataclass(frozen=True, slots=True)
class Bundle:
    """Lines that are led in one cable: the cores of a pair (or one shielded core) and the shield over them."""

    cores: tuple[Line, ...]
    shield: Line | None

    @property
    def lines(self) -> tuple[Line, ...]:
        """The cores, then the shield."""
        return (*self.cores, self.shield) if self.shield else self.cores

    @property
    def tapped(self) -> bool:
        """True when a pin of the equipment taps one of the lines."""
        return any(line.taps for line in self.lines)

    @property
    def name(self) -> str:
        """The circuits, in words."""
        return " and ".join(line.name for line in self.lines)


def through(airframe: Harness, opened: tuple[str, str], taps: Mapping[Point, str]) -> list[Line]:
    """Every cavity that touches in the opened pair, in the order in which a person counts them.

    ``taps`` gives the cavity that each equipment pin taps. A cavity that either half states to have no contact is left
    out, for there is nothing to lead through.
    """
    one, two = (airframe.connectors[ref] for ref in opened)
    names = dict.fromkeys([*one.cavities, *two.cavities])
    listed: list[Line] = []
    for name in sorted(names, key=in_turn):
        halves = one.cavities.get(name), two.cavities.get(name)
        if any(half is None and each.names is not None for half, each in zip(halves, (one, two), strict=True)):
            continue
        if any(half is not None and half.contact == NONE for half in halves):
            continue
        wires = tuple(wire for ref in opened for wire in airframe.wires_at(Point(ref, name)))
        circuit = next((airframe.circuits[h.circuit] for h in halves if h and h.circuit), None)
        tapped = tuple(pin for pin, cavity in taps.items() if cavity == name)
        listed.append(
            Line(
                name, circuit, _use(halves), wires, existing(wires, halves),
                breaker_of(airframe, circuit, halves), tapped,
            )
        )  # fmt: skip
    return listed


def _use(halves: Sequence[Cavity | None]) -> Use:
    uses = {half.use for half in halves if half is not None}
    return next((use for use in (Use.LIVE, Use.SPARE) if use in uses), Use.UNKNOWN)


def bundles(lines: Sequence[Line]) -> tuple[list[Bundle], list[Line]]:
    """The lines that belong in a cable together, and those led as single wires.

    A pair is what ``pair:`` says, or the only two lines of a paired class whose ``line:`` leave no doubt. A shield
    belongs to the pair or circuit it is said to cover.
    """
    groups: dict[str, list[Line]] = {}
    open_: dict[str | None, list[Line]] = {}
    for line in lines:
        circuit = line.circuit
        if circuit is None or circuit.signal == "shield":
            continue
        if circuit.pair is not None:
            groups.setdefault(circuit.pair, []).append(line)
        elif circuit.signal in PAIRED:
            open_.setdefault(circuit.signal, []).append(line)
    found: list[tuple[str | None, tuple[Line, ...]]] = [
        (name, tuple(members)) for name, members in groups.items() if len(members) > 1
    ]
    for signal, members in open_.items():
        if len(members) == 2 and frozenset((m.circuit.line or "") if m.circuit else "" for m in members) in LINES:
            found.append((signal, tuple(members)))
    shields = {line.circuit.shields: line for line in lines if line.circuit and line.circuit.signal == "shield"}
    result: list[Bundle] = []
    for name, cores in found:
        named = {name, *(core.name for core in cores)}
        result.append(Bundle(cores, next((line for over, line in shields.items() if over in named), None)))
    inside = {line.cavity for bundle in result for line in bundle.lines}
    for over, shield in shields.items():
        core = next((line for line in lines if _under(line, over) and line.cavity not in inside), None)
        if core is not None and shield.cavity not in inside:
            result.append(Bundle((core,), shield))
            inside |= {core.cavity, shield.cavity}
    order = {line.cavity: number for number, line in enumerate(lines)}
    result.sort(key=lambda bundle: order[bundle.cores[0].cavity])
    return result, [line for line in lines if line.cavity not in inside]


def _under(line: Line, over: str | None) -> bool:
    """True for a line that a shield is said to cover, by its own name or that of its pair."""
    return over is not None and line.circuit is not None and over in (line.circuit.name, line.circuit.pair)
