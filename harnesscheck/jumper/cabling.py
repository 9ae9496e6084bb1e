"""Pairs and shielded cores: trunk cable from half to splice to half, a branch cable to each unit, shields led along.

A cable is laid a little longer than its longest core; each core has its own length and is trimmed to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import cycle, islice
from typing import TYPE_CHECKING

from harnesscheck.jumper.conductors import SIGNAL
from harnesscheck.jumper.kit import Half, Lead, Section, Sheath
from harnesscheck.jumper.lines import Bundle, Line
from harnesscheck.jumper.marks import letter
from harnesscheck.jumper.stations import Spot
from harnesscheck.jumper.trunk import TRIM, UNTWISTED, UNTWISTED_ETHERNET, Block, Port
from harnesscheck.place import STOWED, Point
from harnesscheck.units import Gauge

if TYPE_CHECKING:
    from harnesscheck.jumper.laying import Layer

COLOURS = ("white", "blue", "orange", "green", "red", "black", "yellow", "violet", "grey", "brown")
"""Colours of cores that no data sheet names, the pair's first: common practice. Beyond them they come again."""
Stage = tuple[int, Block]
"""Number of a block, and the block: one place along the trunk where units branch off a cable."""


class Cabler:
    """Lays the cables of one kit; ``sheaths`` collects them."""

    def __init__(self, layer: Layer) -> None:
        self.layer, self.draft, self.stock = layer, layer.draft, layer.stock
        self.sheaths: list[Sheath] = []

    def cable(self, bundle: Bundle, ends: Sequence[tuple[Half, str]], cores: int = 0) -> tuple[str | None, Gauge]:
        """Cable type and core size for a bundle whose cores end in these cavities; None where none suits."""
        alloy = next((core.circuit.alloy for core in bundle.cores if core.circuit and core.circuit.alloy), None)
        if alloy is not None and bundle.cores[0].signal == "thermocouple":
            found = self.stock.alloy(alloy)
            return None, (found[1] if found else None) or SIGNAL
        volts = max(map(self.layer.volts, bundle.lines))
        listed = self.stock.cables(cores or len(bundle.cores), bundle.shield is not None, ends, volts)
        if not listed:
            self.layer.unknown.append(f"a cable for {bundle.name} that suits its ends")
            return None, SIGNAL
        choice, size = listed[min(self.layer.setting.cable, len(listed) - 1)]
        return choice.number, size

    def ends(self, line: Line) -> list[tuple[Half, str]]:
        """Both trunk ends of a line."""
        return [(self.draft.first, line.cavity), (self.draft.second, line.cavity)]

    def drain(self, ends: Iterable[tuple[Half, str]]) -> Gauge:
        """Size of the wire that leads a shield into these contacts."""
        return self.stock.nearest(SIGNAL, [half.contact(cavity) for half, cavity in ends])

    # -- sections ----------------------------------------------------------------------------------------------

    def through(self, bundle: Bundle) -> Section:
        """A bundle that nothing taps: one cable from half to half."""
        sheath, size = self._sheath(bundle, 0, self.layer.where.trunk, bundle.name)
        leads = [
            self._core(line, 0, *self._trunk(line), None, sheath, size, colour)
            for line, colour in self._coloured(bundle.cores, sheath)
        ]
        if bundle.shield is not None:
            leads.append(self._drained(bundle.shield, 0, *self._trunk(bundle.shield), sheath.length, sheath))
        return Section(f"{bundle.name}, led straight through in one cable", tuple(leads))

    def tapped(self, stages: Sequence[Stage]) -> Section:
        """A bundle that units branch off, at one place or at several along the trunk."""
        bundle = stages[0][1].bundle
        assert bundle is not None
        leads: list[Lead] = []
        last = len(stages)
        for segment in range(last + 1):
            lengths = {line.cavity: self._run(line, stages, segment) for line in bundle.lines}
            word = "in" if segment == 0 else "out" if segment == last else f"from unit to unit {segment}"
            note = f"{bundle.cores[0].name} trunk {word}; trim the cores"
            sheath, size = self._sheath(bundle, segment, _over(lengths.values()), note)
            for line, colour in self._coloured(bundle.cores, sheath):
                a, b = self._between(line, stages, segment)
                leads.append(self._core(line, segment, a, b, lengths[line.cavity], sheath, size, colour))
            if bundle.shield is not None:
                a, b = self._between(bundle.shield, stages, segment)
                leads.append(self._drained(bundle.shield, segment, a, b, lengths[bundle.shield.cavity], sheath))
        for number, block in stages:
            for port in block.ports:
                leads += self._branch(bundle, number, last, port)  # marks go on behind the last piece of the trunk
        order = {line.cavity: n for n, line in enumerate(bundle.lines)}
        leads.sort(key=lambda lead: order[self.layer.cavity_of(lead)])
        words = f"twisted pair kept together; twist the ends again to {_untwisted(bundle)} mm from contact and splice"
        return Section(f"{bundle.name}, tapped", tuple(leads), (words if len(bundle.cores) > 1 else "shielded core",))

    def in_and_out(self, bundle: Bundle, ends: Mapping[str, tuple[Point, Point]]) -> Section:
        """A bus led to the unit and back: its trunk runs through the plug, and there is no branch."""
        leads: list[Lead] = []
        (ref,) = {pin.ref for couple in ends.values() for pin in couple}
        for segment, word in enumerate(("to the unit", "back from the unit")):
            halves = [end for core in bundle.cores for end in self.ends(core)]
            halves += [(self.layer.plugs[ref], pin.cavity) for couple in ends.values() for pin in couple]
            note = f"{bundle.cores[0].name} trunk {word}"
            length, tied = self.draft.ways[ref].length, self.layer.bundle(ref)
            sheath, size = self._sheath(bundle, segment, length, note, halves, tied=tied)
            for line, colour in self._coloured(bundle.cores, sheath):
                a, b = self._leg(line, ends, segment)
                leads.append(self._core(line, segment, a, b, None, sheath, size, colour))
            if bundle.shield is not None:
                a, b = self._leg(bundle.shield, ends, segment)
                leads.append(self._drained(bundle.shield, segment, a, b, length, sheath))
        why = (
            "led in and out at the plug, where the maker has joined the pins: the stub is zero, and no splice is made",
            f"with the plug of {ref} pulled the bus is open: plug it, or join the two pairs, before it is used",
        )
        return Section(f"{bundle.name}, led in and out", tuple(leads), why)

    def _leg(self, line: Line, ends: Mapping[str, tuple[Point, Point]], segment: int) -> tuple[Point, Point]:
        start, end = self._trunk(line)
        plugs = [self.layer.plug(pin) for pin in ends[line.cavity]]
        return (start, plugs[0]) if segment == 0 else (plugs[1], end)

    def _run(self, line: Line, stages: Sequence[Stage], segment: int) -> int:
        """Length of a line between two places along the trunk, millimetres."""
        at = [0, *(self.layer.where.at[number, line.cavity] for number, _ in stages), self.layer.where.trunk]
        return at[segment + 1] - at[segment]

    def _between(self, line: Line, stages: Sequence[Stage], segment: int) -> tuple[Point, Point]:
        """The two ends of a line on one segment of the trunk."""
        start, end = self._trunk(line)
        points = [start, *(Point(self.layer.splices[number, line.cavity]) for number, _ in stages), end]
        return points[segment], points[segment + 1]

    def _trunk(self, line: Line) -> tuple[Point, Point]:
        return Point(self.draft.first.ref, line.cavity), Point(self.draft.second.ref, line.cavity)

    def _branch(self, bundle: Bundle, number: int, segment: int, port: Port) -> Iterator[Lead]:
        """The branch of a cable to one port; its shield ends at the port's shield pin, else it is cut back there."""
        pins = [(core, pin) for core in bundle.cores for pin in port if pin in core.taps]
        over, layer, ref = bundle.shield, self.layer, port[0].ref
        drains = [(over, pin) for pin in port if pin in over.taps] if over else []
        if over is None or not pins:  # nothing to keep a shield over: single wires, a pair of cores excepted
            lone = pins if len(pins) == 1 else drains
            for line, pin in lone:
                spot = (number, line.cavity)
                yield layer.branch(line, segment, spot, pin, self.drain([(layer.plugs[ref], pin.cavity)]))
            if lone or not pins:
                return
        lengths = {pin: layer.stub(pin, (number, core.cavity)) for core, pin in pins}
        to_shield = [layer.stub(port[0], (number, over.cavity))] if over else []
        note = f"branch to {layer.plugs[ref].ref}; trim the cores"
        ends = [(layer.plugs[ref], pin.cavity) for _, pin in pins]
        length = _over([*lengths.values(), *to_shield])
        sheath, size = self._sheath(bundle, segment, length, note, ends, len(pins), layer.bundle(ref))
        for (core, pin), colour in zip(pins, self._colours(sheath.type, len(pins)), strict=True):
            splice = self._splice((number, core.cavity))
            yield self._core(core, segment, splice, layer.plug(pin), lengths[pin], sheath, size, colour)
        if over is not None:
            splice = self._splice((number, over.cavity))
            end = layer.plug(drains[0][1]) if drains else STOWED
            yield self._drained(over, segment, splice, end, to_shield[0], sheath)

    def _splice(self, spot: Spot) -> Point:
        return Point(self.layer.splices[spot])

    # -- pieces ------------------------------------------------------------------------------------------------

    def _sheath(
        self, bundle: Bundle, segment: int, length: int, note: str, ends: Sequence[tuple[Half, str]] = (),
        cores: int = 0, tied: str = "trunk",
    ) -> tuple[Sheath, Gauge]:  # fmt: skip
        number, size = self.cable(bundle, ends or [end for core in bundle.cores for end in self.ends(core)], cores)
        name = self.layer.marks.cable(bundle.cores[0].cavity, segment)
        sheath = Sheath(name, number, length, tied, note if number else f"{note}; twisted by hand")
        self.sheaths.append(sheath)
        return sheath, size

    def _coloured(self, cores: Sequence[Line], sheath: Sheath) -> Iterator[tuple[Line, str]]:
        yield from zip(cores, self._colours(sheath.type, len(cores)), strict=True)

    def _colours(self, number: str | None, cores: int) -> list[str]:
        part = self.draft.drawer.get("cable", number) if number else None
        return list(islice(cycle((part.items("core colours") if part else None) or COLOURS), cores))

    def _core(
        self, line: Line, segment: int, a: Point, b: Point, length: int | None, sheath: Sheath, size: Gauge, colour: str
    ) -> Lead:
        system, tail = letter(line.circuit, line.wires)
        name = self.layer.marks.wire(system, line.cavity, segment, size, tail)
        own = sheath.length if length is None else length
        bare = UNTWISTED_ETHERNET if line.signal == "ethernet" else UNTWISTED
        circuit = line.circuit
        if sheath.type is None and circuit is not None and circuit.signal == "thermocouple" and circuit.alloy:
            found, colour = self.layer.thermocouple(circuit)
            return Lead(
                name, a, b, own, sheath.bundle, size, found, None, sheath.id, colour, bare, circuit.alloy, True,
            )  # fmt: skip
        return Lead(name, a, b, own, sheath.bundle, size, None, None, sheath.id, colour, bare)

    def _drained(self, line: Line, segment: int, a: Point, b: Point, length: int, sheath: Sheath) -> Lead:
        ends = [(half, point.cavity) for point in (a, b) if (half := self.layer.half(point)) is not None]
        size = self.drain(ends)
        system, tail = letter(line.circuit, line.wires)
        name = self.layer.marks.wire(system, line.cavity, segment, size, tail)
        number = self.layer.type(size, ends, line)
        return Lead(name, a, b, length, sheath.bundle, size, number, None, sheath.id, "drain")


def _untwisted(bundle: Bundle) -> int:
    return UNTWISTED_ETHERNET if bundle.cores[0].signal == "ethernet" else UNTWISTED


def _over(lengths: Iterable[int]) -> int:
    """Length of a cable over its cores."""
    return max(lengths) + TRIM
