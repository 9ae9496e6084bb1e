"""What is under test: the jumper on the bench, the installed wiring with the new box unplugged, the aircraft alone.

A terminal is a point that a probe reaches. Between them lies a network of links: wires, contacts, splice legs, and what
stays connected, such as terminators. Nothing is taken to be open, or closed, that no file says.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from harnesscheck.circuit import label_components
from harnesscheck.connector import NONE, Origin
from harnesscheck.electrics.elements import SPLICE, contact_ohms, per_metre
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.place import Point
from harnesscheck.ringout.kept import kept_in, names, open_ended
from harnesscheck.ringout.link import CONTACT_LIMIT, STRUCTURE, WIRE_FACTOR, Link, by_node
from harnesscheck.wire import Wire

NAMES = ("bench", "installed", "aircraft")
TITLES = {
    "bench": "the jumper on the bench",
    "installed": "the aircraft with the jumper in, the new unit unplugged",
    "aircraft": "the aircraft alone, the pair open",
}


@dataclass(frozen=True)
class Article:
    """One thing under test."""

    name: str
    harness: Harness
    terminals: tuple[Point, ...]
    links: tuple[Link, ...]
    staying: bool
    """True: other units of the aircraft stay plugged in, and what they are is not known unless a file says so."""
    named: Mapping[Point, str] = field(default_factory=dict)
    """What each cavity is for, as far as anybody says."""
    unlisted: Mapping[Point, str] = field(default_factory=dict)
    """Terminals, or points behind them, beyond which the wiring is not listed, and the circuit there."""

    @cached_property
    def labels(self) -> dict[Point, int]:
        """Net number of every node: what copper joins, in order of the first terminal."""
        return labels([*self.terminals, *self.unlisted], (link for link in self.links if link.copper))

    @cached_property
    def nets(self) -> tuple[tuple[Point, ...], ...]:
        """Terminals by net, in order of their first terminal; copper that no probe reaches is left out."""
        found: dict[int, list[Point]] = {}
        for point in self.terminals:
            found.setdefault(self.labels[point], []).append(point)
        return tuple(tuple(points) for points in found.values())

    @cached_property
    def net_of(self) -> dict[Point, int]:
        """Position in ``nets`` of each terminal."""
        return {point: number for number, net in enumerate(self.nets) for point in net}

    @cached_property
    def open_nets(self) -> frozenset[int]:
        """Nets that lead to something no file lists; empty when everything else is unplugged."""
        if not self.staying:
            return frozenset()
        beyond = {self.labels[point] for point in self.unlisted}
        return frozenset(n for n, net in enumerate(self.nets) if self.labels[net[0]] in beyond)

    def inside(self, net: int) -> list[Link]:
        """The copper of one net."""
        label = self.labels[self.nets[net][0]]
        return self._by_label.get(label, [])

    @cached_property
    def _by_label(self) -> dict[int, list[Link]]:
        found: dict[int, list[Link]] = {}
        for link in self.links:
            if link.copper:
                found.setdefault(self.labels[link.a], []).append(link)
        return found

    @cached_property
    def near(self) -> dict[Point, list[Link]]:
        """The links at every node."""
        return by_node(self.links)

    def circuit(self, net: int) -> str:
        """What a net is for, as far as it is named."""
        label = self.labels[self.nets[net][0]]
        return ", ".join(dict.fromkeys(self._named_in.get(label, ())))

    @cached_property
    def _named_in(self) -> dict[int, list[str]]:
        found: dict[int, list[str]] = {}
        for point, name in self.named.items():
            if point in self.labels:
                found.setdefault(self.labels[point], []).append(name)
        return found


def articles(job: Job) -> tuple[str, ...]:
    """Which articles a job has: all three for a kit, the aircraft alone for an airframe, none for equipment."""
    if job.jumper is not None and job.airframe is not None:
        return NAMES
    return ("bench",) if job.jumper is not None else ("aircraft",) if job.airframe is not None else ()


def article(job: Job, name: str, staying: bool = True) -> Article:
    """One article of a job. ``staying`` False: every other unit, sensor and switch is unplugged as well.

    Raises ``KeyError`` when the job has no such article.
    """
    if name not in articles(job):
        raise KeyError(name)
    if name == "bench":
        assert job.jumper is not None
        return _bench(job.jumper, names(job))
    if name == "installed":
        return _in_place(job.subject, name, staying, names(job))
    assert job.airframe is not None
    harness, pairs = job.airframe, {frozenset(pair) for pair in job.subject.opens} if job.jumper else set()
    mates = tuple(mate for mate in harness.mates if mate.refs not in pairs)
    opened = frozenset(ref for pair in pairs for ref in pair)
    return _in_place(replace(harness, mates=mates), name, staying, names(job), opened)


def _bench(jumper: Harness, named: Mapping[Point, str]) -> Article:
    """The kit alone: its connectors, and every end that is fitted to something on site, hang free."""
    loose: dict[tuple[str, Point], Point] = {}
    at: dict[Point, list[str]] = {}
    for wire in jumper.wires.values():
        for end in dict.fromkeys((wire.a, wire.b)):
            at.setdefault(end, []).append(wire.id)
    for end, wires in at.items():
        if end.ref and _on_site(jumper, end):
            for name in wires:
                here = end if len(wires) == 1 else Point(end.ref, f"{end.cavity} (end of {name})".strip())
                loose[name, end] = here
    terminals = list(_cavities(jumper, jumper.connectors, named))
    terminals += [Point(ref) for ref in jumper.grounds]
    terminals += [end for end in loose.values() if end not in terminals]
    return Article("bench", jumper, tuple(terminals), tuple(_links(jumper, terminals, loose)), False, named)


def _on_site(jumper: Harness, end: Point) -> bool:
    if end.ref in jumper.splices:
        return jumper.splices[end.ref].fitted != "bench"
    return end.ref not in jumper.connectors and end.ref not in jumper.grounds


def _in_place(
    harness: Harness, name: str, staying: bool, named: Mapping[Point, str], opened: frozenset[str] = frozenset()
) -> Article:
    """Wiring in the aircraft: what the kit touches, or what the opened pair leads to; all of it without a kit."""
    boxes = {ref for ref, half in harness.connectors.items() if half.origin is Origin.EQUIPMENT}
    harness = replace(harness, mates=tuple(mate for mate in harness.mates if not mate.refs & boxes))
    mated = {ref for mate in harness.mates for ref in mate.refs}
    free = [ref for ref in harness.connectors if ref not in boxes | mated]
    terminals = [*_cavities(harness, free, named), *(Point(ref) for ref in (*harness.grounds, *harness.buses))]
    terminals += [Point(ref, end) for ref in harness.breakers for end in ("line", "load")]
    beyond = open_ended(harness, named)
    links = list(_links(harness, terminals, {}))
    found = labels([*terminals, *beyond], links)
    ends = (end for wire in harness.wires.values() if wire.origin is Origin.JUMPER for end in (wire.a, wire.b))
    touched = {found[p] for p in (*ends, *terminals) if p in found and (p.ref in opened or _new(harness, p))}
    if name == "aircraft" and not opened:
        touched = set(found.values())
    terminals = [p for p in terminals if found[p] in touched]
    links = [link for link in links if found[link.a] in touched]
    links += [link for link in _bonds(harness) if found.get(link.a) in touched]
    if staying:
        links += kept_in(harness, found, named)
    beyond = {p: circuit for p, circuit in beyond.items() if found[p] in touched}
    return Article(name, harness, (*terminals, STRUCTURE), tuple(links), staying, named, beyond)


def _new(harness: Harness, point: Point) -> bool:
    """True for what the kit brings: a cavity or a splice of its own."""
    thing = harness.connectors.get(point.ref) or harness.splices.get(point.ref)
    return thing is not None and thing.origin is Origin.JUMPER


def _cavities(harness: Harness, refs: Iterable[str], named: Mapping[Point, str]) -> Iterator[Point]:
    """Cavities that hold a contact: those with a wire, with a stated contact, or facing one that carries a circuit."""
    for ref in refs:
        for cavity in harness.connectors[ref].cavities.values():
            if cavity.contact == NONE:
                continue
            carries = named.get(cavity.point, "spare") != "spare" and harness.connectors[ref].origin is Origin.AIRFRAME
            if cavity.contact is not None or carries or harness.wires_at(cavity.point):
                yield cavity.point


def _links(harness: Harness, terminals: list[Point], loose: dict[tuple[str, Point], Point]) -> Iterator[Link]:
    """Wires, splice legs, mated contacts, and the contact at each terminal."""
    reached = set(terminals)
    for wire in harness.wires.values():
        ends = []
        for end in (wire.a, wire.b):
            here = loose.get((wire.id, end), end)
            if here == end and end.ref in harness.splices:
                here = Point(end.ref, f"(end of {wire.id})")
                yield Link("splice", f"{end.ref} leg {wire.id}", end, here, SPLICE / 2, 0.0, SPLICE * WIRE_FACTOR / 2)
            elif end in reached and end.ref in harness.connectors and end.cavity:
                here = rear(end)
            ends.append(here)
        yield _wire(harness, wire, ends[0], ends[1])
    for point in terminals:
        if point.ref in harness.connectors and harness.cavity(point) is not None:
            ohms = contact_ohms(harness, point, point).value
            yield Link("contact", str(point), point, rear(point), ohms, 0.0, max(CONTACT_LIMIT, ohms))
    for a, b in harness.mated_points:
        ohms = contact_ohms(harness, a, b).value
        yield Link("contact", f"{a}/{b}", a, b, ohms, 0.0, max(CONTACT_LIMIT, ohms))


def rear(point: Point) -> Point:
    """The wire side of the contact at a terminal."""
    return Point(point.ref, f"{point.cavity} (crimp)")


def _wire(harness: Harness, wire: Wire, a: Point, b: Point) -> Link:
    """A wire at 20 C: a ring-out is done in a shop or a hangar, not in the heat of the zone."""
    if wire.gauge is None or wire.length is None:
        what = "length" if wire.length is None else "gauge"
        return Link("wire", wire.id, a, b, None, None, None, f"the {what} of {wire.id} is not stated")
    ohms = per_metre(harness, wire.type, wire.gauge)[0] * wire.length
    return Link("wire", wire.id, a, b, ohms, ohms / WIRE_FACTOR, ohms * WIRE_FACTOR)


def _bonds(harness: Harness) -> Iterator[Link]:
    """Studs are joined to the structure, and so is a shield that a file says is grounded beyond its cavity."""
    for stud in harness.grounds.values():
        point, bond = Point(stud.ref), stud.bond
        missing = "" if bond is not None else f"the bond of {stud.ref} is not stated"
        yield Link("bond", stud.ref, point, STRUCTURE, bond, 0.0, None if bond is None else bond * WIRE_FACTOR, missing)
    for _, cavity in harness.cavities():
        if cavity.grounded and not harness.wires_at(cavity.point):
            missing = f"the ground lead beyond {cavity.point} is not listed"
            here = cavity.point if harness.touches(cavity.point) else rear(cavity.point)
            yield Link("ground lead", str(cavity.point), here, STRUCTURE, None, None, None, missing)


def labels(first: Iterable[Point], links: Iterable[Link]) -> dict[Point, int]:
    """Net number of every node of the links, and of ``first``, which are numbered first."""
    index = {point: number for number, point in enumerate(dict.fromkeys(first))}
    starts, ends = [], []
    for link in links:
        starts.append(index.setdefault(link.a, len(index)))
        ends.append(index.setdefault(link.b, len(index)))
    return dict(zip(index, label_components(len(index), starts, ends), strict=True))
