"""From a draft and a setting to a whole kit: places, lengths, wires, and what is packed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from harnesscheck.checks.missing_spare_contacts import MOST, STEPS
from harnesscheck.circuit import Circuit
from harnesscheck.jumper import bodies, reasons, splicing
from harnesscheck.jumper.cabling import Cabler
from harnesscheck.jumper.conductors import SIGNAL, Choice
from harnesscheck.jumper.kit import Half, Joint, Kit, Lead, Section
from harnesscheck.jumper.lines import Line
from harnesscheck.jumper.marks import Marks, letter
from harnesscheck.jumper.stations import Spot, stations
from harnesscheck.jumper.trunk import Block, Draft, Setting
from harnesscheck.place import Point
from harnesscheck.units import Gauge

THERMOCOUPLE = {"K": "yellow", "J": "white", "T": "blue", "E": "purple", "N": "orange"}
"""Colour of the positive conductor by type letter, red for the negative one: ASTM E230, from memory."""


def lay(draft: Draft, setting: Setting) -> Kit:
    """The kit for one setting. Raises ``TooShortError``."""
    return Layer(draft, setting).kit()


class Layer:
    """Lays one kit; a new one for each setting."""

    def __init__(self, draft: Draft, setting: Setting) -> None:
        """Place the splices."""
        self.draft, self.setting, self.stock = draft, setting, draft.stock
        self.marks: Marks = draft.marks.fork()
        self.plugs = {ref: self._fitted(ref, half) for ref, half in draft.plugs.items()}
        self.unknown: list[str] = []
        self.cabler = Cabler(self)
        self.parts: dict[Spot, splicing.Part | None] = {
            (number, line.cavity): self._part(block, line)
            for number, block in enumerate(draft.blocks)
            for line in block.lines
        }
        rooms = {spot: draft.gap or (part.room if part else 30) for spot, part in self.parts.items()}
        self.where = stations(draft, setting, rooms)
        order = [(number, line.cavity) for number in setting.order for line in draft.blocks[number].lines]
        self.splices: dict[Spot, str] = dict(zip(order, draft.joints, strict=True))
        self._cavities = {ref: cavity for (_, cavity), ref in self.splices.items()}

    def _fitted(self, ref: str, half: Half) -> Half:
        half = replace(half, route=self.draft.ways[ref].route)
        if not self.setting.loose:
            return half
        note = "the shell does not pass the holes of the route; wires are crimped at the bench and inserted on site"
        return replace(half, fitted="aircraft", note=note)

    # -- splices -----------------------------------------------------------------------------------------------

    def _part(self, block: Block, line: Line) -> splicing.Part | None:
        size = self._size(block, line)
        sizes = [size, size, *(self._branch_size(block, line, pin) for pin in block.taps(line))]
        if block.bundle is not None and line is block.bundle.shield:
            cut = [port for port in block.ports if not any(pin in line.taps for pin in port)]
            sizes += [SIGNAL for _ in cut]
        found = self.stock.splices(sizes, self.draft.wet)
        if not found:
            said = ", ".join(map(str, sizes))
            self.unknown.append(f"the splice for {line.name}: none of the drawer is known to take {said}")
            return None
        return found[min(self.setting.splice, len(found) - 1)]

    def _size(self, block: Block, line: Line) -> Gauge:
        if block.bundle is None:
            return self.draft.gauge(line, self.setting)
        if line is block.bundle.shield:
            return self.cabler.drain(self.cabler.ends(line))
        return self.cabler.cable(block.bundle, self.cabler.ends(line))[1]

    def _branch_size(self, block: Block, line: Line, pin: Point) -> Gauge:
        if block.bundle is None:
            return self.draft.branch(line, pin, self.setting)
        ends = [(self.plugs[pin.ref], pin.cavity)]
        return self.cabler.drain(ends) if line is block.bundle.shield else self.cabler.cable(block.bundle, ends)[1]

    # -- wires -------------------------------------------------------------------------------------------------

    def type(self, size: Gauge, ends: Sequence[tuple[Half, str]], line: Line) -> str | None:
        """A wire type of that size for those ends, in the colour of the aircraft's own wire."""
        choices = self.stock.wires(size, ends, self.volts(line))
        if not choices:
            self.unknown.append(f"a wire type of {size} for {line.name} that suits its ends")
            return None
        wanted = self.draft.specs[self.setting.wire] if self.draft.specs else ""
        chosen: Choice = next((c for c in choices if c.number.startswith(f"{wanted}-")), choices[0])
        return f"{chosen.number}-{self._digit(line)}"

    def volts(self, line: Line) -> float:
        """Nominal volts of a line; 0 where none are stated."""
        return (line.circuit.supply if line.circuit else None) or 0.0

    def _digit(self, line: Line) -> str:
        """The colour of the aircraft's own wire of this circuit, else the one most of its wires have."""
        for wire in line.wires:
            if wire.colour is not None and wire.colour.isdecimal():
                return wire.colour
        return self.stock.habit[1]

    def wire(self, line: Line, segment: int, a: Point, b: Point, length: int, size: Gauge, bundle: str) -> Lead:
        """A single wire."""
        ends = [(half, point.cavity) for point in (a, b) if (half := self.half(point)) is not None]
        system, tail = letter(line.circuit, line.wires)
        name = self.marks.wire(system, line.cavity, segment, size, tail)
        return Lead(name, a, b, length, bundle, size, self.type(size, ends, line))

    def branch(self, line: Line, segment: int, spot: Spot, pin: Point, size: Gauge) -> Lead:
        """A single wire from a splice to a unit."""
        splice = Point(self.splices[spot])
        return self.wire(line, segment, splice, self.plug(pin), self.stub(pin, spot), size, self.bundle(pin.ref))

    def half(self, point: Point) -> Half | None:
        """The connector half of the kit at a point."""
        halves = (self.draft.first, self.draft.second, *self.plugs.values())
        return next((half for half in halves if half.ref == point.ref), None)

    def plug(self, pin: Point) -> Point:
        """The cavity of the kit that mates a pin of the equipment."""
        return Point(self.plugs[pin.ref].ref, pin.cavity)

    def bundle(self, ref: str) -> str:
        """Name of the bundle that branches off to a receptacle."""
        return "stub" if len(self.plugs) == 1 else f"stub {ref}"

    def tied(self, line: Line) -> str:
        """Name of the bundle that a trunk wire is tied into."""
        return "trunk feeds" if self.setting.apart and (line.supply or line.signal == "ground") else "trunk"

    def stub(self, pin: Point, spot: Spot) -> int:
        """Length of a branch: what is left of the way, and never nearer to the plug than a splice may be."""
        return max(self.where.margin, self.draft.ways[pin.ref].length - self.where.at[spot])

    def cavity_of(self, lead: Lead) -> str:
        """The cavity of the opened pair whose line a lead belongs to."""
        refs = (self.draft.first.ref, self.draft.second.ref)
        found = (p.cavity if p.ref in refs else self._cavities.get(p.ref) for p in (lead.a, lead.b))
        return next(cavity for cavity in found if cavity is not None)

    def thermocouple(self, circuit: Circuit) -> tuple[str | None, str]:
        """Wire type and colour for a thermocouple line."""
        found = self.stock.alloy(circuit.alloy or "")
        if found is None:
            self.unknown.append(f"the wire for thermocouple type {circuit.alloy} ({circuit.name})")
        colour = "red" if circuit.line == "-" else THERMOCOUPLE.get(circuit.alloy or "", "white")
        return found[0] if found else None, colour

    # -- sections ----------------------------------------------------------------------------------------------

    def kit(self) -> Kit:
        """Everything together."""
        draft = self.draft
        sections = [*self._tapped_sections()]
        for bundle in draft.bundles:
            if ends := draft.looped.get(bundle.cores[0].cavity):
                sections.append(self.cabler.in_and_out(bundle, ends))
            elif not bundle.tapped:
                sections.append(self.cabler.through(bundle))
        plain = [line for line in draft.singles if not line.taps]
        live = [line for line in plain if line.circuit is not None]
        rest = [line for line in plain if line.circuit is None]
        for title, group in (("led straight through", live), ("spares led through, so that they stay spares", rest)):
            if group:
                sections.append(Section(title, tuple(self._through(line) for line in group), reasons.group(group)))
        leads = [lead for section in sections for lead in section.leads]
        wired = [point for lead in leads for point in (lead.a, lead.b)]
        halves = [bodies.plugged(draft.drawer, h, wired) for h in (draft.first, draft.second, *self.plugs.values())]
        joints = tuple(self._joint(spot) for spot in self.splices)
        spares, tools, unknown = self._packed(halves, wired)
        circuits = {line.cavity: line.name for line in draft.lines}
        taps = {pin: circuits[cavity] for pin, cavity in draft.taps.items()}
        return Kit(
            draft.opened, tuple(halves), joints, tuple(self.cabler.sheaths), tuple(sections), taps,
            spare_contacts=spares, site_tools=tools, unknown=tuple(dict.fromkeys([*self.unknown, *unknown])),
        )  # fmt: skip

    def _tapped_sections(self) -> Iterator[Section]:
        """Tapped lines and cables in the order of their first splice."""
        done: set[str] = set()
        for number in self.setting.order:
            block = self.draft.blocks[number]
            if block.bundle is None:
                yield self._tapped(number, block)
            elif block.bundle.cores[0].cavity not in done:
                done.add(block.bundle.cores[0].cavity)
                stages = [(n, self.draft.blocks[n]) for n in self.setting.order]
                yield self.cabler.tapped([(n, b) for n, b in stages if b.bundle is block.bundle])

    def _joint(self, spot: Spot) -> Joint:
        part = self.parts[spot]
        why = ("the trunk is laid along the way to the unit as far as its splices; a branch is what is left of it",)
        return Joint(
            self.splices[spot], part.number if part else None, self.where.at[spot], self.draft.first.ref,
            self.draft.zone, why if next(iter(self.splices)) == spot else (),
        )  # fmt: skip

    def _tapped(self, number: int, block: Block) -> Section:
        line, spot = block.lines[0], (number, block.lines[0].cavity)
        size, at, splice = self.draft.gauge(line, self.setting), self.where.at[spot], Point(self.splices[spot])
        start, end = Point(self.draft.first.ref, line.cavity), Point(self.draft.second.ref, line.cavity)
        leads = [
            self.wire(line, 0, start, splice, at, size, self.tied(line)),
            self.wire(line, 1, splice, end, self.where.trunk - at, size, self.tied(line)),
        ]
        why = [reasons.through(line, size)]
        for segment, pin in enumerate(line.taps, 2):
            own = self.draft.branch(line, pin, self.setting)
            leads.append(self.branch(line, segment, spot, pin, own))
            why.append(reasons.branch(line, pin, own))
        return Section(f"{line.name}, tapped", tuple(leads), tuple(why))

    def _through(self, line: Line) -> Lead:
        start, end = Point(self.draft.first.ref, line.cavity), Point(self.draft.second.ref, line.cavity)
        circuit, length = line.circuit, self.where.trunk
        if circuit is not None and circuit.signal == "thermocouple" and circuit.alloy:
            number, colour = self.thermocouple(circuit)
            found = self.stock.alloy(circuit.alloy)
            size = (found[1] if found else None) or self.stock.nearest(SIGNAL, [self.draft.first.contact(line.cavity)])
            name = self.marks.wire("T", line.cavity, 0, size)
            return Lead(name, start, end, length, "trunk", size, number, colour, alloy=circuit.alloy, state_gauge=True)
        return self.wire(line, 0, start, end, length, self.draft.gauge(line), self.tied(line))

    # -- what is packed ----------------------------------------------------------------------------------------

    def _packed(
        self, halves: Sequence[Half], wired: Sequence[Point]
    ) -> tuple[dict[str, int], tuple[str, ...], list[str]]:
        """Spare contacts and tools for the connectors that are finished in the aircraft."""
        used: Counter[str] = Counter()
        for half in halves:
            if half.fitted == "aircraft":
                used.update(c for p in wired if p.ref == half.ref and (c := half.contact(p.cavity)) is not None)
        spares = {number: next((n for most, n in STEPS if count <= most), MOST) for number, count in used.items()}
        tools: dict[str, None] = {}
        unknown = []
        for number in used:
            record = self.draft.drawer.get("contact", number)
            for work in ("insertion", "removal"):
                said = record.items(f"{work} tool") if record is not None else None
                if not said:
                    unknown.append(f"the {work} tool of contact {number}")
                elif not set(said) & set(tools):
                    tools[said[0]] = None
        return spares, tuple(tools), unknown
