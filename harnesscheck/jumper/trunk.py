"""The jumper laid out: every cavity led through, splices staggered along the trunk, a branch to each unit.

Places are counted from the rear face of the half that mates the first reference of the opened pair. The trunk is laid
along the route to the unit as far as its splices, so a branch is as long as what is left of the route.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from harnesscheck.checks.star_topology import LINES_ONLY
from harnesscheck.device import Pin
from harnesscheck.harness import Harness
from harnesscheck.jumper import bodies, marks
from harnesscheck.jumper.conductors import SIGNAL, SIZES, Stock, standard, thicker
from harnesscheck.jumper.kit import Half
from harnesscheck.jumper.lines import Bundle, Line, bundles, through
from harnesscheck.place import Point
from harnesscheck.units import Gauge

TRIM = 10
"""Millimetres that a cable is laid longer than its longest core, so that each core is trimmed to its own length."""
UNTWISTED = 20
"""Millimetres of untwisted end to be built. Common practice; the house rule of the check is 25 mm."""
UNTWISTED_ETHERNET = 10
"""The same for Ethernet, where a network cable manual allows 13 mm (see ``untwisted-length``)."""


@dataclass(frozen=True, slots=True)
class Way:
    """How a branch reaches its unit."""

    route: str | None
    length: int
    """Millimetres from the opened pair to the plug."""
    zone: str | None


@dataclass(frozen=True, slots=True)
class Setting:
    """One point of the space that is searched. Every number counts from 0, the first choice of its list."""

    order: tuple[int, ...]
    """Blocks in the order in which they are spliced along the trunk."""
    wire: int = 0
    splice: int = 0
    cable: int = 0
    thicker: int = 0
    """By how many sizes tapped supplies and returns, and their branches, are thicker than they have to be."""
    loose: bool = False
    """True when the plug is shipped loose and finished in the aircraft."""
    apart: bool = False
    """True when supplies and returns are tied into a bundle of their own along the trunk."""


Port = tuple[Point, ...]
"""Pins of one receptacle that tap different lines of one cable: what one branch leads to."""


@dataclass(frozen=True, slots=True)
class Block:
    """What is spliced together: one tapped line, or a cable with all its lines."""

    lines: tuple[Line, ...]
    bundle: Bundle | None
    reach: int | None
    """Longest branch in millimetres that the signal stands; None: any."""
    ports: tuple[Port, ...] = ()
    """Ports of the equipment that branch off here."""

    def taps(self, line: Line) -> tuple[Point, ...]:
        """The pins that tap a line at this block."""
        return tuple(pin for port in self.ports for pin in port if pin in line.taps)


@dataclass
class Draft:
    """Everything about a job that does not change with the setting; makes a kit for each setting."""

    airframe: Harness
    boxes: Sequence[Harness]
    opened: tuple[str, str]
    taps: Mapping[Point, str]
    """Equipment pin to cavity of the opened pair."""
    ways: Mapping[str, Way]
    """Receptacle of the equipment to the way there."""
    margin: int
    """Millimetres that a splice keeps from a connector."""
    reaches: Mapping[str, int | None]
    """Cavity to the longest branch it stands."""
    trunk: int | None = None
    """Length that a person asks for, millimetres; None: as long as the splices need."""
    lines: list[Line] = field(init=False)
    blocks: list[Block] = field(init=False)
    specs: list[str] = field(init=False, default_factory=list)
    """Wire specifications to choose from, the best suited first."""
    gap: int | None = None
    """Stagger that a person has set, millimetres; None: by the sleeves."""

    def __post_init__(self) -> None:
        """Sort what runs through the pair."""
        self.drawer = self.airframe.drawer
        self.lines = through(self.airframe, self.opened, self.taps)
        self.pins: dict[Point, Pin] = {pin.point: pin for box in self.boxes for pin in box.pins()}
        self.bundles, self.singles = bundles(self.lines)
        self.looped = {bundle.cores[0].cavity: ends for bundle in self.bundles if (ends := self._in_and_out(bundle))}
        if spare := self._second_pins():
            self.taps = {pin: cavity for pin, cavity in self.taps.items() if pin not in spare}
            self.lines = through(self.airframe, self.opened, self.taps)
            self.bundles, self.singles = bundles(self.lines)
        self.blocks = [
            *(self._block((line,), None, tuple((pin,) for pin in line.taps)) for line in self.singles if line.taps),
            *(
                self._block(bundle.lines, bundle, ports)
                for bundle in self.bundles
                if bundle.tapped and bundle.cores[0].cavity not in self.looped
                for ports in _stages(bundle)
            ),
        ]
        zones = [self.airframe.connectors[ref].zone for ref in self.opened]
        self.wet = self._wet(zones)
        self.zone = next((zone for zone in zones if zone), None)
        self.stock = Stock(self.airframe, [*zones, *(way.zone for way in self.ways.values())])
        self._halves()

    def _block(self, lines: tuple[Line, ...], bundle: Bundle | None, ports: tuple[Port, ...]) -> Block:
        limits = [limit for line in lines if (limit := self.reaches.get(line.cavity)) is not None]
        return Block(lines, bundle, min(limits, default=None), ports)

    def _wet(self, zones: Iterable[str | None]) -> bool | None:
        said = [self.airframe.zones[zone].wet if zone in self.airframe.zones else None for zone in zones if zone]
        return True if True in said else None if None in said or not said else False

    def _halves(self) -> None:
        """The halves of the kit, with references that are free."""
        self.marks = marks.Marks(self.airframe, self.boxes, [line.cavity for line in self.lines])
        one, two = self.opened
        base = max(map(marks.number_of, self.opened)) + 100
        letters = "J" if not one.startswith("J") else "P"
        first = bodies.like(
            self.airframe, self.marks.ref(letters, base, 100), one, f"jumper, to {_side(self.airframe, one)}"
        )
        second = bodies.like(
            self.airframe, self.marks.ref("P" if letters == "J" else "J", base, 100), two,
            f"jumper, to {_side(self.airframe, two)}",
        )  # fmt: skip
        self.first, self.second = (bodies.with_contacts(self.drawer, half) for half in (first, second))
        self.plugs: dict[str, Half] = {}
        for box in self.boxes:
            for ref, connector in box.connectors.items():
                if ref not in self.ways:
                    continue
                number = max(marks.number_of(first.ref), marks.number_of(second.ref)) + 1
                half = bodies.equipment_plug(self.airframe, connector, self.marks.ref("P", number))
                half = replace(half, name=f"plug for {connector.name or ref}", zone=self.ways[ref].zone or half.zone)
                self.plugs[ref] = bodies.with_contacts(self.drawer, half)
        self.joints = [self.marks.ref("SP", 1) for block in self.blocks for _ in block.lines]

    # -- a bus led in and out ----------------------------------------------------------------------------------

    def _in_and_out(self, bundle: Bundle) -> dict[str, tuple[Point, Point]]:
        """Cavity to the two pins by which a bus is led in and out at a unit, where that unit offers it for every line.

        Only for a bundle that one unit taps; the shield must be led in and out as well.
        """
        found: dict[str, tuple[Point, Point]] = {}
        for line in bundle.lines:
            pair = next(((p, q) for p in line.taps for q in line.taps if self.pins[p].loops == q), None)
            if pair is None or len(line.taps) > 2:
                return {}
            found[line.cavity] = pair
        return found if len(_units(bundle.lines)) == 1 else {}

    def _second_pins(self) -> set[Point]:
        """Pins that stay open: their maker has joined them to another pin, and the bus is not led in and out."""
        used = {pin for ends in self.looped.values() for couple in ends.values() for pin in couple}
        spare: set[Point] = set()
        for pin in self.taps:
            other = self.pins[pin].loops
            if other is not None and other in self.taps and pin not in used:
                spare.add(max(pin, other, key=lambda p: list(self.taps).index(p)))
        return spare

    # -- sizes -------------------------------------------------------------------------------------------------

    def gauge(self, line: Line, setting: Setting | None = None) -> Gauge:
        """Size of the through wire: never thinner than what is there, nor than its protector allows.

        A tapped supply or return is made thicker as the setting says, as far as the contacts take it.
        """
        ends = self.first.contact(line.cavity), self.second.contact(line.cavity)
        least = self.stock.nearest(self._wanted(line), ends)
        if setting is None or not setting.thicker or not line.taps or not (line.supply or line.signal == "ground"):
            return least
        listed = [size for size in self.stock.sizes(ends) if thicker(size, least) == size]
        return listed[min(setting.thicker, len(listed) - 1)] if listed else least

    def _wanted(self, line: Line) -> Gauge:
        if line.supply:
            chart = self.stock.chart(line.breaker) if line.breaker else None
            known = thicker(line.gauge, chart)
            return standard(known) if known is not None else SIZES[-1]  # not known: as thick as the contacts take
        if line.signal == "ground":
            feeds = [
                self._wanted(each)
                for each in self.lines
                if each.circuit and each.circuit.returns == line.name and each.supply
            ]
            known = thicker(line.gauge, *feeds)
            return standard(known) if known is not None else SIZES[-1]
        return standard(line.gauge or SIGNAL)

    def branch(self, line: Line, pin: Point, setting: Setting) -> Gauge:
        """Size of a branch: what the protector asks for, made thicker as the setting says; of a return, its feed."""
        contact = self.plugs[pin.ref].contact(pin.cavity)
        feeds = [p.point for p in self.pins.values() if p.returns == pin] if line.signal == "ground" else []
        if line.supply or feeds:
            by = {point: one for one in self.lines for point in one.taps}
            wanted = thicker(*(self._fed(by.get(point, line)) for point in feeds or [pin]))
            assert wanted is not None
            listed = [size for size in self.stock.sizes([contact]) if thicker(size, wanted) == size]
            return listed[min(setting.thicker, len(listed) - 1)] if listed else self.stock.nearest(wanted, [contact])
        return self.stock.nearest(SIGNAL, [contact])

    def _fed(self, line: Line) -> Gauge:
        chart = self.stock.chart(line.breaker) if line.breaker else None
        return standard(chart or (line.gauge if line.supply and line.gauge else SIGNAL))

    def spread(self) -> int:
        """How many sizes of branch the plugs take."""
        return max((len(self.stock.sizes([half.contacts])) for half in self.plugs.values()), default=1)


def _units(lines: Iterable[Line]) -> tuple[str, ...]:
    """The receptacles that tap any of the lines."""
    return tuple(dict.fromkeys(pin.ref for line in lines for pin in line.taps))


def _ports(bundle: Bundle) -> list[Port]:
    """The ports that tap a cable: of the pins of one receptacle on each line the first together, then the second."""
    found: dict[tuple[str, int], list[Point]] = {}
    for line in bundle.lines:
        for pin in line.taps:
            number = [each for each in line.taps if each.ref == pin.ref].index(pin)
            found.setdefault((pin.ref, number), []).append(pin)
    return [tuple(pins) for pins in found.values()]


def _stages(bundle: Bundle) -> list[tuple[Port, ...]]:
    """The ports that branch off at one place of a cable: one at a time from a bus that must stay one line."""
    ports = _ports(bundle)
    return [(port,) for port in ports] if bundle.cores[0].signal in LINES_ONLY else [tuple(ports)]


def _side(airframe: Harness, ref: str) -> str:
    name = airframe.connectors[ref].name
    return f"{ref} ({name})" if name else ref
