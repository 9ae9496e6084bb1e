"""The harness: frozen records, with nets and graph as derived views, and ``install`` which makes the third one.

A jumper is itself a harness, and "jumper installed" is a third harness: every check, drawing and list works on each.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cached_property, wraps
from typing import TYPE_CHECKING, Any, TypeVar

from harnesscheck.circuit import Circuit, Nets, Step, Tap, follow
from harnesscheck.connector import NONE, Cavity, Connector, Mate, Origin, Use
from harnesscheck.decision import Override, Waiver
from harnesscheck.device import Breaker, Bus, Device, KnownLoad, Pin, PowerSource
from harnesscheck.paperwork import Aircraft, Revision, Stock
from harnesscheck.place import Place, Point
from harnesscheck.splice import Ground, Splice
from harnesscheck.unread import Unread
from harnesscheck.wire import Cable, Wire
from harnesscheck.zone import Route, Zone

if TYPE_CHECKING:
    import networkx

    from harnesscheck.parts import Drawer, Part

_T = TypeVar("_T")


class Kind(StrEnum):
    """Which of the harnesses of a job this is."""

    AIRFRAME = "airframe"
    JUMPER = "jumper"
    INSTALLED = "installed"
    EQUIPMENT = "equipment"


@dataclass(frozen=True, slots=True)
class AsFound:
    """Which aircraft of a type this is, and who looked."""

    aircraft: str
    by: str
    date: str
    place: Place

    def __str__(self) -> str:
        """For reports."""
        return f"aircraft {self.aircraft} as found {self.date} by {self.by}"

    def titled(self, title: str) -> str:
        """A title that names the aircraft as well."""
        return f"{title}, {self.aircraft} as found"


@dataclass(frozen=True)
class Harness:
    """Everything that is known about one state of the wiring. Records are frozen; views are computed once."""

    kind: Kind
    title: str
    drawer: Drawer
    place: Place = field(default_factory=lambda: Place("harness"))
    revision: str = ""
    connectors: Mapping[str, Connector] = field(default_factory=dict)
    wires: Mapping[str, Wire] = field(default_factory=dict)
    cables: Mapping[str, Cable] = field(default_factory=dict)
    splices: Mapping[str, Splice] = field(default_factory=dict)
    grounds: Mapping[str, Ground] = field(default_factory=dict)
    breakers: Mapping[str, Breaker] = field(default_factory=dict)
    buses: Mapping[str, Bus] = field(default_factory=dict)
    sources: Mapping[str, PowerSource] = field(default_factory=dict)
    loads: Mapping[str, KnownLoad] = field(default_factory=dict)
    """Loads of the aircraft that hang on none of ``circuits``, for the load analysis."""
    devices: Mapping[str, Device] = field(default_factory=dict)
    circuits: Mapping[str, Circuit] = field(default_factory=dict)
    mates: tuple[Mate, ...] = ()
    taps: Mapping[Point, Tap] = field(default_factory=dict)
    opens: tuple[tuple[str, str], ...] = ()
    """The mated pairs that are opened, as typed (``P14``, ``J14``): one for each kit."""
    allowances: Mapping[str, float] = field(default_factory=dict)
    """Cutting allowances stated in the job, metres: ``connector``, ``splice``, ``stud``, ``round up to``."""
    note: str = ""
    zones: Mapping[str, Zone] = field(default_factory=dict)
    routes: Mapping[str, Route] = field(default_factory=dict)
    spare_contacts: Mapping[str, int] = field(default_factory=dict)
    """Contact part number to the number of spares packed in the kit."""
    site_tools: tuple[str, ...] = ()
    """Part numbers of tools packed for, or at hand of, whoever works on site."""
    overrides: Mapping[str, Override] = field(default_factory=dict)
    """Limits that a person has set for this job, by check name."""
    waivers: tuple[Waiver, ...] = ()
    aircraft: Aircraft | None = None
    stock: Mapping[str, Stock] = field(default_factory=dict)
    """Wire or cable type to what lies on the shelf."""
    labour: Mapping[str, float] = field(default_factory=dict)
    """Task to seconds, where the shop states its own rate."""
    revisions: tuple[Revision, ...] = ()
    effectivity: str = ""
    """Aircraft the kit is for, as typed in the jumper file."""
    mass: float | None = None
    """Kilograms of one finished kit without equipment, as weighed."""
    before: Harness | None = None
    """For an installed harness: the airframe as found."""
    kits: tuple[Harness, ...] = ()
    """For several kits in one aircraft: each of them installed alone. Empty for a single kit."""
    unread: tuple[Unread, ...] = ()
    as_found: AsFound | None = None
    """The one aircraft that somebody has looked at; None: the type, as its file says."""

    # -- looking things up -------------------------------------------------------------------------------------
    def cavity(self, point: Point) -> Cavity | None:
        """The cavity at a point; None when there is none of that name."""
        connector = self.connectors.get(point.ref)
        return connector.cavities.get(point.cavity) if connector else None

    def cavities(self) -> Iterator[tuple[Connector, Cavity]]:
        """Every cavity of every connector, in file order."""
        for connector in self.connectors.values():
            for cavity in connector.cavities.values():
                yield connector, cavity

    def zone_of(self, thing: Connector | Splice) -> Zone | None:
        """The zone a connector or splice sits in; None when none is stated."""
        return self.zones.get(thing.zone) if thing.zone else None

    def part(self, kind: str, number: str | None) -> Part | None:
        """The catalogue record of a part; None when the number is unknown or not in the drawer."""
        return None if number is None or number == NONE else self.drawer.get(kind, number)

    def pins(self) -> Iterator[Pin]:
        """Every pin of every equipment unit."""
        for device in self.devices.values():
            yield from device.pins

    @property
    def opened(self) -> tuple[str, ...]:
        """The halves of the opened pairs, pair by pair."""
        return tuple(half for pair in self.opens for half in pair)

    def pair_of(self, ref: str) -> tuple[str, str] | None:
        """The opened pair that a half belongs to; None for any other connector."""
        return next((pair for pair in self.opens if ref in pair), None)

    def mate_of(self, ref: str) -> str | None:
        """The reference that ``ref`` is plugged into; None when nothing is."""
        return self._mated.get(ref)

    @cached_property
    def _mated(self) -> dict[str, str]:
        mated = {mate.a: mate.b for mate in self.mates}
        mated.update({mate.b: mate.a for mate in self.mates})
        return mated

    def wires_at(self, point: Point) -> tuple[Wire, ...]:
        """The wires that end at a point, in file order."""
        return self._wires_at.get(point, ())

    @cached_property
    def _wires_at(self) -> dict[Point, tuple[Wire, ...]]:
        ends: dict[Point, list[Wire]] = {}
        for wire in self.wires.values():
            ends.setdefault(wire.a, []).append(wire)
            if wire.b != wire.a:
                ends.setdefault(wire.b, []).append(wire)
        return {point: tuple(wires) for point, wires in ends.items()}

    @cached_property
    def views(self) -> dict[object, Any]:
        """What has been derived of this harness, by the function that derived it: see ``view``."""
        return {}

    # -- what is one piece of copper ---------------------------------------------------------------------------

    @cached_property
    def mated_points(self) -> tuple[tuple[Point, Point], ...]:
        """Cavity pairs that touch when the connectors are mated: those of the same name.

        Where the arrangement of one half is unknown it is taken to have the cavities of the other, which is what
        mating means; a cavity that either half states to have no contact (``contact: none``) joins nothing.
        """
        pairs: list[tuple[Point, Point]] = []
        for mate in self.mates:
            one, two = self.connectors.get(mate.a), self.connectors.get(mate.b)
            if one is None or two is None:
                continue
            names = dict.fromkeys([*one.cavities, *two.cavities])
            for name in names:
                first, second = one.cavities.get(name), two.cavities.get(name)
                if (first is None and one.names is not None) or (second is None and two.names is not None):
                    continue
                if NONE in (first.contact if first else None, second.contact if second else None):
                    continue
                pairs.append((Point(mate.a, name), Point(mate.b, name)))
        return tuple(pairs)

    @cached_property
    def looped_points(self) -> tuple[tuple[Point, Point], ...]:
        """Pins that the maker of a unit has joined inside it (``loops:``), each couple once, in file order."""
        couples: dict[frozenset[Point], tuple[Point, Point]] = {}
        for pin in self.pins():
            if pin.loops is not None:
                couples.setdefault(frozenset((pin.point, pin.loops)), (pin.point, pin.loops))
        return tuple(couples.values())

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """Every electrical point, each once, in file order."""
        points: dict[Point, None] = {}
        for connector in self.connectors.values():
            for cavity in connector.cavities.values():
                points[cavity.point] = None
        for ref in (*self.splices, *self.grounds, *self.buses):
            points[Point(ref)] = None
        for ref in self.breakers:
            points[Point(ref, "line")] = points[Point(ref, "load")] = None
        for a, b in (*self.mated_points, *self.looped_points):
            points[a] = points[b] = None
        for wire in self.wires.values():
            points[wire.a] = points[wire.b] = None
        return tuple(points)

    @cached_property
    def nets(self) -> Nets:
        """Wires, splices, studs, buses and mated contacts joined; breakers and equipment are not copper.

        Except two pins of a unit that its maker has joined for a bus to be led in and out.
        """
        wires = ((wire.a, wire.b) for wire in self.wires.values())
        return Nets(self.points, (*wires, *self.mated_points, *self.looped_points))

    @cached_property
    def _touching(self) -> dict[Point, list[Point]]:
        touching: dict[Point, list[Point]] = {}
        for a, b in self.mated_points:
            touching.setdefault(a, []).append(b)
            touching.setdefault(b, []).append(a)
        return touching

    def touches(self, point: Point) -> bool:
        """True when a mated contact of another half touches the point."""
        return point in self._touching

    @cached_property
    def bundles(self) -> Mapping[str | None, tuple[Wire, ...]]:
        """Bundle name to its wires, in file order; None: those whose bundle nobody has stated."""
        tied: dict[str | None, list[Wire]] = {}
        for wire in self.wires.values():
            tied.setdefault(wire.bundle, []).append(wire)
        return {name: tuple(wires) for name, wires in tied.items()}

    @cached_property
    def _looped(self) -> dict[Point, list[Point]]:
        looped: dict[Point, list[Point]] = {}
        for a, b in self.looped_points:
            looped.setdefault(a, []).append(b)
            looped.setdefault(b, []).append(a)
        return looped

    def neighbours(self, point: Point) -> Iterator[tuple[str, Point]]:
        """What is joined directly to a point: ``(wire id, far end)``, ``("mate", cavity)``, ``("inside", pin)``."""
        for wire in self.wires_at(point):
            yield wire.id, wire.other(point)
        for other in self._touching.get(point, ()):
            yield "mate", other
        for other in self._looped.get(point, ()):
            yield "inside", other

    def trace(self, point: Point) -> list[Step]:
        """Every step along the copper from ``point``, in the order in which a person would trace it."""
        return follow(point, self.neighbours)

    def circuits_at(self, points: Iterable[Point]) -> dict[str, Point]:
        """The airframe circuits named at any of the points, each with the first point that names it."""
        named: dict[str, Point] = {}
        for point in points:
            cavity = self.cavity(point)
            if cavity and cavity.circuit:
                named.setdefault(cavity.circuit, point)
        return named

    def graph(self) -> networkx.MultiGraph[Any]:
        """A networkx view: nodes are ``Point``; edges carry ``kind`` (``wire``, ``mate``) and ``wire``."""
        import networkx

        graph: networkx.MultiGraph[Any] = networkx.MultiGraph()
        graph.add_nodes_from(self.points)
        for wire in self.wires.values():
            graph.add_edge(wire.a, wire.b, kind="wire", wire=wire)
        for a, b in self.mated_points:
            graph.add_edge(a, b, kind="mate", wire=None)
        for a, b in self.looped_points:
            graph.add_edge(a, b, kind="inside", wire=None)
        return graph


def known(before: Harness, points: list[Point]) -> Use:
    """What is known of a net: live when any point is, else spare when any cavity is called so, else unknown."""
    uses = {cavity.use if (cavity := before.cavity(point)) else None for point in points}
    # A point without a cavity is a stud, splice, bus or breaker, or lies opposite a cavity that is listed.
    studs = any(not point.cavity or point.ref in before.breakers for point in points)
    if studs or Use.LIVE in uses:
        return Use.LIVE
    return Use.SPARE if Use.SPARE in uses else Use.UNKNOWN


def merged(*tables: Mapping[str, _T]) -> dict[str, _T]:
    """Several tables in one. Raises ``ValueError`` when a name stands in two of them."""
    result: dict[str, _T] = {}
    for table in tables:
        for name, thing in table.items():
            if name in result:
                raise ValueError(f"{name} is used twice")
            result[name] = thing
    return result


def view(derive: Callable[[Harness], _T]) -> Callable[[Harness], _T]:
    """Make a function of a harness that is worked out once for each harness; treat its result as read only.

    Many checks ask the same question of the same harness. A harness is frozen, so the answer is kept with it.
    """

    @wraps(derive)
    def kept(harness: Harness) -> _T:
        if derive not in harness.views:
            harness.views[derive] = derive(harness)
        found: _T = harness.views[derive]
        return found

    return kept


def install(airframe: Harness, jumper: Harness, equipment: Iterable[Harness] = ()) -> Harness:
    """The harness after the jumper is fitted: the opened pair is parted, the jumper's halves mated.

    ``airframe`` may have a jumper in it already: then both are in it, and ``kits`` holds each of them alone.
    Raises ``ValueError`` when a reference or wire id is used twice, or the pair to open is not mated in the airframe.
    """
    boxes = tuple(equipment)
    if airframe.before is not None:
        jumper = _own_bundles(jumper, airframe, airframe.before)
    everything = (airframe, jumper, *boxes)
    mates = list(airframe.mates)
    for pair in jumper.opens:
        kept = [mate for mate in mates if mate.refs != frozenset(pair)]
        if len(kept) == len(mates):
            raise ValueError(f"{'/'.join(pair)} is not a mated pair of the airframe")
        mates = kept
    for part in (jumper, *boxes):
        mates.extend(part.mates)
    found = airframe.before or airframe
    kits: tuple[Harness, ...] = ()
    overrides = merged(*(h.overrides for h in everything)) if airframe.before is None else found.overrides
    title = found.as_found.titled(jumper.title) if found.as_found else jumper.title
    if airframe.before is not None:  # each kit keeps its own limits, allowances and contents: they stand in ``kits``
        kits = (*(airframe.kits or (airframe,)), install(found, jumper, boxes))
        title = f"{airframe.title} and {title}"
    return Harness(
        kind=Kind.INSTALLED,
        title=title,
        revision=jumper.revision,
        place=jumper.place,
        drawer=jumper.drawer,
        connectors=merged(*(h.connectors for h in everything)),
        wires=merged(*(h.wires for h in everything)),
        cables=merged(*(h.cables for h in everything)),
        splices=merged(*(h.splices for h in everything)),
        grounds=merged(*(h.grounds for h in everything)),
        breakers=merged(*(h.breakers for h in everything)),
        buses=merged(*(h.buses for h in everything)),
        sources=merged(*(h.sources for h in everything)),
        loads=merged(*(h.loads for h in everything)),
        devices=merged(*(h.devices for h in everything)),
        circuits=merged(*(h.circuits for h in everything)),
        mates=tuple(mates),
        taps={**airframe.taps, **jumper.taps},
        opens=(*airframe.opens, *jumper.opens),
        allowances={} if kits else jumper.allowances,
        note=jumper.note,
        zones=merged(*(h.zones for h in everything)),
        routes=merged(*(h.routes for h in everything)),
        spare_contacts={} if kits else jumper.spare_contacts,
        site_tools=() if kits else jumper.site_tools,
        overrides=overrides,
        waivers=tuple(waiver for h in everything for waiver in h.waivers),
        aircraft=airframe.aircraft,
        stock=jumper.stock,
        labour=jumper.labour,
        revisions=jumper.revisions,
        effectivity=jumper.effectivity,
        mass=jumper.mass,
        before=found,
        kits=kits,
        as_found=found.as_found,
    )


def _own_bundles(jumper: Harness, installed: Harness, found: Harness) -> Harness:
    """A bundle's name is the kit's own, unless the airframe names that bundle: two kits may each have a ``trunk``."""

    def names(harness: Harness) -> set[str | None]:
        return {thing.bundle for table in (harness.wires, harness.cables) for thing in table.values()}

    double = (names(jumper) & names(installed)) - names(found) - {None}
    called = {name: f"{name} ({jumper.place.file})" for name in double}
    return replace(
        jumper,
        wires={n: replace(w, bundle=called.get(w.bundle, w.bundle)) for n, w in jumper.wires.items()},
        cables={n: replace(c, bundle=called.get(c.bundle, c.bundle)) for n, c in jumper.cables.items()},
    )


def new_wires(harness: Harness) -> Iterator[Wire]:
    """The wires that the jumper brings, in file order."""
    return (wire for wire in harness.wires.values() if wire.origin is Origin.JUMPER)
