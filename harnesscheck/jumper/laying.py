"""From a draft and a setting to a whole kit: places, lengths, wires, cables and what is packed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from harnesscheck.checks.missing_spare_contacts import MOST, STEPS
from harnesscheck.jumper import bodies, reasons, splicing
from harnesscheck.jumper.conductors import SIGNAL, Choice
from harnesscheck.jumper.kit import Half, Joint, Kit, Lead, Section, Sheath
from harnesscheck.jumper.lines import Bundle, Line
from harnesscheck.jumper.marks import Marks, letter
from harnesscheck.jumper.stations import stations
from harnesscheck.jumper.trunk import TRIM, UNTWISTED, Block, Draft, Setting
from harnesscheck.place import STOWED, Point
from harnesscheck.units import Gauge

THERMOCOUPLE = {"K": "yellow", "J": "white", "T": "blue", "E": "purple", "N": "orange"}
"""Colour of the positive conductor by type letter, red for the negative one: ASTM E230, from memory."""


def lay(draft: Draft, setting: Setting) -> Kit:
    """The kit for one setting. Raises ``TooShortError``."""
    return _Layer(draft, setting).kit()


class _Layer:
    """Lays one kit; a new one for each setting."""

    def __init__(self, draft: Draft, setting: Setting) -> None:
        self.draft, self.setting, self.stock = draft, setting, draft.stock
        self.marks: Marks = draft.marks.fork()
        self.plugs = {ref: self._fitted(ref, half) for ref, half in draft.plugs.items()}
        self.unknown: list[str] = []
        self.parts = {line.cavity: self._part(block, line) for block in draft.blocks for line in block.lines}
        rooms = {cavity: draft.gap or (part.room if part else 30) for cavity, part in self.parts.items()}
        self.where = stations(draft, setting, rooms)
        order = [line.cavity for number in setting.order for line in draft.blocks[number].lines]
        self.splices = dict(zip(order, draft.joints, strict=True))

    def _fitted(self, ref: str, half: Half) -> Half:
        way = self.draft.ways[ref]
        half = replace(half, route=way.route)
        if not self.setting.loose:
            return half
        note = "the shell does not pass the holes of the route; wires are crimped at the bench and inserted on site"
        return replace(half, fitted="aircraft", note=note)

    # -- splices -----------------------------------------------------------------------------------------------

    def _part(self, block: Block, line: Line) -> splicing.Part | None:
        size = self._size(block, line)
        sizes = [size, size, *(self._branch_size(block, line, pin) for pin in line.taps)]
        if block.bundle is not None and line is block.bundle.shield:
            stowed = {pin.ref for core in block.bundle.cores for pin in core.taps} - {pin.ref for pin in line.taps}
            sizes += [SIGNAL for _ in stowed]
        found = self.draft.stock.splices(sizes, self.draft.wet)
        if not found:
            said = ", ".join(map(str, sizes))
            self.unknown.append(f"the splice for {line.name}: none of the drawer is known to take {said}")
            return None
        return found[min(self.setting.splice, len(found) - 1)]

    def _size(self, block: Block, line: Line) -> Gauge:
        if block.bundle is None:
            return self.draft.gauge(line)
        if line is block.bundle.shield:
            return self._drain(line)
        return self._cable(block.bundle, self._trunk_ends(line))[1]

    def _branch_size(self, block: Block, line: Line, pin: Point) -> Gauge:
        if block.bundle is None:
            return self.draft.branch(line, pin, self.setting)
        if line is block.bundle.shield:
            return self.stock.nearest(SIGNAL, [self.plugs[pin.ref].contact(pin.cavity)])
        return self._cable(block.bundle, [(self.plugs[pin.ref], pin.cavity)])[1]

    def _drain(self, line: Line) -> Gauge:
        return self.stock.nearest(SIGNAL, [half.contact(cavity) for half, cavity in self._trunk_ends(line)])

    def _trunk_ends(self, line: Line) -> list[tuple[Half, str]]:
        return [(self.draft.first, line.cavity), (self.draft.second, line.cavity)]

    # -- wires -------------------------------------------------------------------------------------------------

    def _type(self, size: Gauge, ends: Sequence[tuple[Half, str]], line: Line) -> str | None:
        choices = self.stock.wires(size, ends, self._volts(line))
        if not choices:
            self.unknown.append(f"a wire type of {size} for {line.name} that suits its ends")
            return None
        wanted = self.draft.specs[self.setting.wire] if self.draft.specs else ""
        chosen: Choice = next((c for c in choices if c.number.startswith(f"{wanted}-")), choices[0])
        return f"{chosen.number}-{self._digit(line)}"

    def _volts(self, line: Line) -> float:
        return (line.circuit.supply if line.circuit else None) or 0.0

    def _digit(self, line: Line) -> str:
        """The colour of the aircraft's own wire of this circuit, else the one most of its wires have."""
        for wire in line.wires:
            if wire.colour is not None and wire.colour.isdecimal():
                return wire.colour
        return self.stock.habit[1]

    def _wire(self, line: Line, segment: int, a: Point, b: Point, length: int, size: Gauge, bundle: str) -> Lead:
        ends = [(half, point.cavity) for point in (a, b) if (half := self._half(point)) is not None]
        system, tail = letter(line.circuit, line.wires)
        name = self.marks.wire(system, line.cavity, segment, size, tail)
        return Lead(name, a, b, length, bundle, size, self._type(size, ends, line))

    def _half(self, point: Point) -> Half | None:
        halves = (self.draft.first, self.draft.second, *self.plugs.values())
        return next((half for half in halves if half.ref == point.ref), None)

    def _plug(self, pin: Point) -> Point:
        return Point(self.plugs[pin.ref].ref, pin.cavity)

    def _bundle(self, ref: str) -> str:
        return "stub" if len(self.plugs) == 1 else f"stub {ref}"

    def _stub(self, pin: Point, cavity: str) -> int:
        return max(self.where.margin, self.draft.ways[pin.ref].length - self.where.at[cavity])

    # -- sections ----------------------------------------------------------------------------------------------

    def kit(self) -> Kit:
        """Everything together."""
        draft = self.draft
        sheaths: list[Sheath] = []
        sections: list[Section] = []
        for number in self.setting.order:
            block = draft.blocks[number]
            sections.append(self._tapped_bundle(block, sheaths) if block.bundle else self._tapped(block.lines[0]))
        for bundle in draft.bundles:
            if not bundle.tapped:
                sections.append(self._through_bundle(bundle, sheaths))
        plain = [line for line in draft.singles if not line.taps]
        live = [line for line in plain if line.circuit is not None]
        rest = [line for line in plain if line.circuit is None]
        for title, group in (("led straight through", live), ("spares led through, so that they stay spares", rest)):
            if group:
                sections.append(Section(title, tuple(self._through(line) for line in group), reasons.group(group)))
        leads = [lead for section in sections for lead in section.leads]
        wired = [point for lead in leads for point in (lead.a, lead.b)]
        halves = [bodies.plugged(draft.drawer, h, wired) for h in (draft.first, draft.second, *self.plugs.values())]
        joints = tuple(self._joint(cavity) for cavity in self.splices)
        spares, tools, unknown = self._packed(halves, wired)
        circuits = {line.cavity: line.name for line in draft.lines}
        taps = {pin: circuits[cavity] for pin, cavity in draft.taps.items()}
        return Kit(
            draft.opened, tuple(halves), joints, tuple(sheaths), tuple(sections), taps,
            spare_contacts=spares, site_tools=tools, unknown=tuple(dict.fromkeys([*self.unknown, *unknown])),
        )  # fmt: skip

    def _joint(self, cavity: str) -> Joint:
        part = self.parts[cavity]
        first = next(iter(self.splices)) == cavity
        why = ("the trunk is laid along the way to the unit as far as its splices; a branch is what is left of it",)
        return Joint(
            self.splices[cavity], part.number if part else None, self.where.at[cavity], self.draft.first.ref,
            self.draft.zone, why if first else (),
        )  # fmt: skip

    def _tapped(self, line: Line) -> Section:
        size, at, splice = self.draft.gauge(line), self.where.at[line.cavity], Point(self.splices[line.cavity])
        start, end = Point(self.draft.first.ref, line.cavity), Point(self.draft.second.ref, line.cavity)
        leads = [
            self._wire(line, 0, start, splice, at, size, "trunk"),
            self._wire(line, 1, splice, end, self.where.trunk - at, size, "trunk"),
        ]
        why = [reasons.through(line, size)]
        for number, pin in enumerate(line.taps):
            own = self.draft.branch(line, pin, self.setting)
            length = self._stub(pin, line.cavity)
            leads.append(self._wire(line, 2 + number, splice, self._plug(pin), length, own, self._bundle(pin.ref)))
            why.append(reasons.branch(line, pin, own))
        return Section(f"{line.name}, tapped", tuple(leads), tuple(why))

    def _through(self, line: Line) -> Lead:
        start, end = Point(self.draft.first.ref, line.cavity), Point(self.draft.second.ref, line.cavity)
        circuit, length = line.circuit, self.where.trunk
        if circuit is not None and circuit.signal == "thermocouple" and circuit.alloy:
            found = self.stock.alloy(circuit.alloy)
            if found is None:
                self.unknown.append(f"the wire for thermocouple type {circuit.alloy} ({circuit.name})")
            number, size = found or (None, None)
            size = size or self.stock.nearest(SIGNAL, [self.draft.first.contact(line.cavity)])
            colour = "red" if circuit.line == "-" else THERMOCOUPLE.get(circuit.alloy)
            name = self.marks.wire("T", line.cavity, 0, size)
            return Lead(name, start, end, length, "trunk", size, number, colour, alloy=circuit.alloy, state_gauge=True)
        return self._wire(line, 0, start, end, length, self.draft.gauge(line), "trunk")

    # -- cables ------------------------------------------------------------------------------------------------

    def _cable(self, bundle: Bundle, ends: Sequence[tuple[Half, str]], cores: int = 0) -> tuple[str | None, Gauge]:
        volts = max(map(self._volts, bundle.lines))
        found = self.stock.cables(cores or len(bundle.cores), bundle.shield is not None, ends, volts)
        if not found:
            self.unknown.append(f"a cable for {bundle.name} that suits its ends")
            return None, SIGNAL
        choice, size = found[min(self.setting.cable, len(found) - 1)]
        return choice.number, size

    def _colours(self, number: str | None, cores: int) -> list[str]:
        part = self.draft.drawer.get("cable", number) if number else None
        return list((part.items("core colours") if part else None) or ("white", "blue", "orange", "green"))[:cores]

    def _core(
        self, line: Line, segment: int, a: Point, b: Point, length: int | None, sheath: Sheath, size: Gauge, colour: str
    ) -> Lead:
        system, tail = letter(line.circuit, line.wires)
        name = self.marks.wire(system, line.cavity, segment, size, tail)
        return Lead(
            name, a, b, sheath.length if length is None else length, sheath.bundle, size, None, None,
            sheath.id, colour, UNTWISTED,
        )  # fmt: skip

    def _drained(self, line: Line, segment: int, a: Point, b: Point, length: int, sheath: Sheath) -> Lead:
        ends = [(half, point.cavity) for point in (a, b) if (half := self._half(point)) is not None]
        size = self.stock.nearest(SIGNAL, [half.contact(cavity) for half, cavity in ends])
        system, tail = letter(line.circuit, line.wires)
        name = self.marks.wire(system, line.cavity, segment, size, tail)
        return Lead(
            name, a, b, length, sheath.bundle, size, self._type(size, ends, line), None, sheath.id, "drain",
        )  # fmt: skip

    def _through_bundle(self, bundle: Bundle, sheaths: list[Sheath]) -> Section:
        number, size = self._cable(bundle, [end for core in bundle.cores for end in self._trunk_ends(core)])
        sheath = Sheath(self.marks.cable(bundle.cores[0].cavity, 0), number, self.where.trunk, "trunk", bundle.name)
        sheaths.append(sheath)
        leads = []
        for line, colour in zip(bundle.cores, self._colours(number, len(bundle.cores)), strict=True):
            a, b = Point(self.draft.first.ref, line.cavity), Point(self.draft.second.ref, line.cavity)
            leads.append(self._core(line, 0, a, b, None, sheath, size, colour))
        if bundle.shield is not None:
            shield = bundle.shield.cavity
            a, b = Point(self.draft.first.ref, shield), Point(self.draft.second.ref, shield)
            leads.append(self._drained(bundle.shield, 0, a, b, sheath.length, sheath))
        return Section(f"{bundle.name}, led straight through in one cable", tuple(leads))

    def _tapped_bundle(self, block: Block, sheaths: list[Sheath]) -> Section:
        bundle = block.bundle
        assert bundle is not None
        leads: list[Lead] = []
        at, first = self.where.at, bundle.cores[0].cavity
        ends = [end for core in bundle.cores for end in self._trunk_ends(core)]
        for segment, (half, word) in enumerate(((self.draft.first, "in"), (self.draft.second, "out"))):
            lengths = {c: at[c] if segment == 0 else self.where.trunk - at[c] for c in (x.cavity for x in block.lines)}
            number, size = self._cable(bundle, ends)
            note = f"{bundle.cores[0].name} trunk {word}; trim the cores"
            sheath = Sheath(self.marks.cable(first, segment), number, _over(lengths.values()), "trunk", note)
            sheaths.append(sheath)
            leads += self._cores(bundle, segment, half, lengths, sheath, size)
        units = dict.fromkeys(pin.ref for core in bundle.cores for pin in core.taps)
        for segment, ref in enumerate(units, 2):
            leads += self._stubs(bundle, segment, ref, sheaths)
        if bundle.shield is not None:
            alone = [pin for pin in bundle.shield.taps if pin.ref not in units]
            for segment, pin in enumerate(alone, 2 + len(units)):
                shield, splice = bundle.shield, Point(self.splices[bundle.shield.cavity])
                size = self.stock.nearest(SIGNAL, [self.plugs[pin.ref].contact(pin.cavity)])
                length = self._stub(pin, shield.cavity)
                leads.append(self._wire(shield, segment, splice, self._plug(pin), length, size, self._bundle(pin.ref)))
        why = (
            f"twisted pair kept together; twist the ends again up to {UNTWISTED} mm from contact and splice"
            if len(bundle.cores) > 1
            else "shielded core",
        )
        leads.sort(key=lambda lead: [line.cavity in _cavities(lead, self) for line in bundle.lines].index(True))
        return Section(f"{bundle.name}, tapped", tuple(leads), why)

    def _cores(
        self, bundle: Bundle, segment: int, half: Half, lengths: dict[str, int], sheath: Sheath, size: Gauge
    ) -> Iterator[Lead]:
        for line, colour in zip(bundle.cores, self._colours(sheath.type, len(bundle.cores)), strict=True):
            ends = Point(half.ref, line.cavity), Point(self.splices[line.cavity])
            a, b = ends if segment == 0 else ends[::-1]
            yield self._core(line, segment, a, b, lengths[line.cavity], sheath, size, colour)
        if bundle.shield is not None:
            ends = Point(half.ref, bundle.shield.cavity), Point(self.splices[bundle.shield.cavity])
            a, b = ends if segment == 0 else ends[::-1]
            yield self._drained(bundle.shield, segment, a, b, lengths[bundle.shield.cavity], sheath)

    def _stubs(self, bundle: Bundle, segment: int, ref: str, sheaths: list[Sheath]) -> Iterator[Lead]:
        """The branch of a cable to one unit; its shield ends at the unit's shield pin, else it is cut back there."""
        pins = [(core, pin) for core in bundle.cores for pin in core.taps if pin.ref == ref]
        over = bundle.shield
        lengths = {pin: self._stub(pin, core.cavity) for core, pin in pins}
        if over is None and len(pins) == 1:
            core, pin = pins[0]
            size = self.stock.nearest(SIGNAL, [self.plugs[ref].contact(pin.cavity)])
            splice = Point(self.splices[core.cavity])
            yield self._wire(core, segment, splice, self._plug(pin), lengths[pin], size, self._bundle(ref))
            return
        ends = [(self.plugs[ref], pin.cavity) for _, pin in pins]
        number, size = self._cable(bundle, ends, len(pins))
        drain = [pin for pin in over.taps if pin.ref == ref] if over else []
        to_shield = self._stub(pins[0][1], over.cavity) if over else 0
        length = _over([*lengths.values(), to_shield])
        note = f"branch to {self.plugs[ref].ref}; trim the cores"
        sheath = Sheath(self.marks.cable(bundle.cores[0].cavity, segment), number, length, self._bundle(ref), note)
        sheaths.append(sheath)
        for (core, pin), colour in zip(pins, self._colours(number, len(pins)), strict=True):
            splice = Point(self.splices[core.cavity])
            yield self._core(core, segment, splice, self._plug(pin), lengths[pin], sheath, size, colour)
        if over is not None:
            splice = Point(self.splices[over.cavity])
            for pin in drain[:1]:
                yield self._drained(over, segment, splice, self._plug(pin), self._stub(pin, over.cavity), sheath)
            if not drain:
                yield self._drained(over, segment, splice, STOWED, to_shield, sheath)

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


def _over(lengths: Iterable[int]) -> int:
    """Length of a cable over its cores."""
    return max(lengths) + TRIM


def _cavities(lead: Lead, layer: _Layer) -> set[str]:
    """The cavities of the opened pair that a lead belongs to."""
    refs = (layer.draft.first.ref, layer.draft.second.ref)
    by_splice = {ref: cavity for cavity, ref in layer.splices.items()}
    return {p.cavity for p in (lead.a, lead.b) if p.ref in refs} | {
        by_splice[p.ref] for p in (lead.a, lead.b) if p.ref in by_splice
    }
