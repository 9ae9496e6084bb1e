"""Which strands go on which sheet, and the blocks of rows a sheet has."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.sheets._strands import Field, Row, Strand, Weaver, fields
from harnesscheck.wire import Wire


@dataclass(eq=False)
class Beyond:
    """The wiring on the other side of a mated pair: drawn in full, or named with the sheet that shows it."""

    half: str
    rows: dict[str, Row]
    strands: list[Strand] = field(default_factory=list)
    extra: list[Row] = field(default_factory=list)
    elsewhere: frozenset[str] = frozenset()
    """Wires of the half that another sheet shows."""


@dataclass(eq=False)
class Joint:
    """Two mated halves, or one alone; ``inner`` faces the field of this sheet."""

    inner: str
    outer: str
    rows: list[Row]
    left: bool = False
    beyond: Beyond | None = None

    def cavity(self, row: Row) -> str:
        """The cavity that the joint has on a row."""
        return row.near_cavity if self.left else row.far_cavity

    def idle(self, row: Row) -> bool:
        """True when the cavity on a row has no wire in the field."""
        return bool(row.idle_near if self.left else row.idle_far)


@dataclass(eq=False)
class Page:
    """One sheet: a joint on the left, one straight across, more below that, and rows for studs at the bottom."""

    near: str
    aligned: str
    open_far: bool
    strands: list[Strand]
    main: list[Row]
    joints: list[Joint]
    ends: list[Row]
    part: bool = False
    """True when the field goes on on another sheet."""

    @property
    def drawn(self) -> Iterator[str]:
        """Ids of the wires on this sheet, those beyond mated pairs too."""
        beyond = [strand for joint in self.joints if joint.beyond is not None for strand in joint.beyond.strands]
        for strand in (*self.strands, *beyond):
            yield from (leg.wire.id for leg in strand.legs)

    @property
    def halves(self) -> list[str]:
        """Connector halves on this sheet."""
        return [ref for joint in self.joints for ref in (joint.inner, joint.outer) if ref]

    @property
    def depth(self) -> int:
        """Splices one behind the other on this sheet; at least one channel is kept for lines that change rows."""
        return max((strand.depth for strand in self.strands), default=0)


@dataclass(eq=False)
class Unit:
    """What must stay on one sheet: the strands of a cable, one strand, or one cavity without a wire."""

    strands: list[Strand]
    idle: tuple[tuple[str, str], ...] = ()
    """Half and cavity without a wire; two when both sides of the field have it."""
    group: int = 0
    place: int = 0


MOST_UNITS = 120
"""More strands than the largest sheet has rows."""

Fits = Callable[[Page], bool]
"""Says whether a page can be drawn on one sheet."""


class Planner:
    """Plans all the sheets of a harness. ``full`` says whether the wiring beyond mated pairs is drawn with them."""

    def __init__(self, harness: Harness, fits: Fits, full: bool = True) -> None:
        self.harness = harness
        self.fits = fits
        self.full = full
        self.fields = fields(harness)
        self.field_of = {ref: one for one in self.fields for ref in one.halves}
        self.shown: set[str] = set()
        self._islands: dict[str, dict[str, list[Wire]]] = {}

    def pages(self) -> Iterator[Page]:
        """All pages. Fields with several halves come first, those of the jumper before the others."""
        several = [one for one in self.fields if len(one.halves) > 1]
        several.sort(key=lambda one: (not any(w.origin is Origin.JUMPER for w in one.wires), -len(one.wires)))
        for one in several:
            yield from self._pages_of(one, self._near(one))
        singles = sorted((one for one in self.fields if len(one.halves) == 1), key=lambda one: -len(one.wires))
        for one in singles:
            if one.halves[0] not in self.shown:
                yield from self._pages_of(one, one.halves[0])
        for one in self.fields:
            if not one.halves:
                yield from self._pages_of(one, "")

    def drawn_beyond(self, ref: str) -> bool:
        """True when the wiring of this half is drawn beyond the joint it belongs to."""
        one = self.field_of.get(ref)
        return self.full and one is not None and len(one.halves) == 1

    # -- choosing sides ----------------------------------------------------------------------------------------

    def _near(self, one: Field) -> str:
        """The half on the left: the jumper's half that meets the plainer side of the opened pair, else the busiest."""
        for pair in self.harness.opens:
            sides = sorted(pair, key=lambda ref: len(self.field_of[ref].wires) if ref in self.field_of else 0)
            for ref in sides:
                mate = self.harness.mate_of(ref)
                if mate in one.halves:
                    return str(mate)
        counts = dict.fromkeys(one.halves, 0)
        for wire in one.wires:
            for point in (wire.a, wire.b):
                if point.ref in counts:
                    counts[point.ref] += 1
        return max(counts, key=lambda ref: counts[ref])

    def _aligned(self, one: Field, near: str) -> str:
        """The half straight across: the one that most strands from the near half lead to."""
        others = [ref for ref in one.halves if ref != near]
        for ref in others:
            if self.harness.mate_of(ref) in self.harness.opened:
                return ref
        counts = dict.fromkeys(others, 0)
        for strand in Weaver(self.harness, one.wires, near).strands():
            refs = {node.ref for node in strand.ports}
            if near in refs:
                for ref in others:
                    counts[ref] += ref in refs
        return max(counts, key=lambda ref: counts[ref]) if counts else ""

    # -- units -------------------------------------------------------------------------------------------------

    def _pages_of(self, one: Field, near: str) -> Iterator[Page]:
        open_far = len(one.halves) < 2
        half = self.harness.connectors.get(near)
        alone = half is not None and (self.harness.mate_of(near) is None or half.origin is Origin.EQUIPMENT)
        if open_far and not one.wires and alone:
            near = ""  # a half alone is drawn on the far side, with what is known of it to the right
        aligned = "" if open_far else self._aligned(one, near)
        self.shown.update(one.halves)
        units = self._units(one, near, aligned, open_far)
        start, last = 0, 12
        while start < len(units):
            rest = units[start : start + MOST_UNITS]

            def page(count: int, rest: Sequence[Unit] = rest) -> Page:
                part = count < len(units)
                return self._page(one, near, aligned, open_far, rest[:count], part)

            last = _most(len(rest), min(last, len(rest)), lambda count: self.fits(page(count)))
            yield page(last)
            start += last

    def _units(self, one: Field, near: str, aligned: str, open_far: bool) -> list[Unit]:
        weaver = Weaver(self.harness, one.wires, near, aligned, open_far=open_far)
        strands = list(weaver.strands())
        stacked = [ref for ref in one.halves if ref not in (near, aligned)]
        units = [
            Unit(bundle, group=max(self._group(strand, near, aligned, stacked) for strand in bundle))
            for bundle in _bundles(strands)
        ]
        for number, unit in enumerate(units):
            unit.place = number
        units.extend(self._idle(one, near, aligned, strands))
        if open_far and near:
            # Nothing leads down from here: the order of the insert is the plainest.
            order = {name: number for number, name in enumerate(self.cavities(near))}
            for unit in units:
                names = [node.point.cavity for strand in unit.strands for node in strand.ports]
                names += [name for _, name in unit.idle]
                unit.group, unit.place = 0, min((order[name] for name in names if name in order), default=len(order))
        units.sort(key=lambda unit: (unit.group, unit.place))
        return units

    @staticmethod
    def _group(strand: Strand, near: str, aligned: str, stacked: Sequence[str]) -> int:
        """0 led through, 1 without a wire, then by the first half below that the strand leads to."""
        refs = {node.ref for node in strand.ports}
        below = [number for number, ref in enumerate(stacked) if ref in refs]
        through = near in refs or aligned in refs
        if not below:
            return 0 if through or not refs else 2
        return (2 if through else 2 + len(stacked)) + min(below)

    def _idle(self, one: Field, near: str, aligned: str, strands: Sequence[Strand]) -> list[Unit]:
        wired = {(node.ref, node.point.cavity) for strand in strands for node in strand.ports}
        units: list[Unit] = []
        across = {name for name in self.cavities(aligned) if (aligned, name) not in wired} if aligned else set()
        for name in self.cavities(near) if near else ():
            if (near, name) in wired:
                continue
            both = name in across
            across.discard(name)
            units.append(Unit([], ((near, name), (aligned, name)) if both else ((near, name),), 1, len(units)))
        for name in self.cavities(aligned) if aligned else ():
            if name in across:
                units.append(Unit([], ((aligned, name),), 1, len(units)))
        for ref in one.halves:
            if ref not in (near, aligned):
                for name in self.cavities(ref):
                    if (ref, name) not in wired:
                        units.append(Unit([], ((ref, name),), 1000, len(units)))
        return units

    def cavities(self, ref: str) -> list[str]:
        """Cavities of a half and of what it is mated with, in the order of the insert."""
        names = dict.fromkeys(self.harness.connectors[ref].cavities)
        mate = self.harness.connectors.get(self.harness.mate_of(ref) or "")
        if mate is not None:
            names.update(dict.fromkeys(mate.cavities))
        return list(names)

    # -- one page ----------------------------------------------------------------------------------------------

    def _page(self, one: Field, near: str, aligned: str, open_far: bool, units: Sequence[Unit], part: bool) -> Page:
        strands = [strand for unit in units for strand in unit.strands]
        blocks: dict[str, list[Row]] = {"main": [], "end": []}
        last = None
        for unit in units:
            rows = [row for strand in unit.strands for row in strand.rows]
            rows.extend(_idle_rows(unit, near, aligned))
            for row in rows:
                row.gap = 0.0
                blocks.setdefault(row.block, []).append(row)
            if last is not None and rows and unit.group != last and unit.group < 1000 and rows[0].block == "main":
                rows[0].gap = 3.0
            last = unit.group
        joints: list[Joint] = []
        main = blocks.pop("main")
        ends = blocks.pop("end")
        on_left = [row for row in main if row.near_cavity]
        on_right = [row for row in main if row.far_cavity]
        near, aligned = (near if on_left else ""), (aligned if on_right else "")
        if near:
            joints.append(self._joint(near, on_left, left=True))
        if aligned:
            joints.append(self._joint(aligned, on_right))
        for ref in one.halves:
            if ref in blocks:
                joints.append(self._joint(ref, blocks[ref]))
        return Page(near, aligned, open_far, strands, main, joints, ends, part)

    def _joint(self, inner: str, rows: list[Row], left: bool = False) -> Joint:
        outer = self.harness.mate_of(inner) or ""
        if outer not in self.harness.connectors:
            outer = ""
        if not outer and not left and not self.field_of[inner].wires:
            inner, outer = "", inner
        joint = Joint(inner, outer, rows, left)
        if outer:
            joint.beyond = self._beyond(joint, outer)
        return joint

    def _beyond(self, joint: Joint, half: str) -> Beyond:
        rows: dict[str, Row] = {joint.cavity(row): Row("given") for row in joint.rows}
        beyond = Beyond(half, rows)
        wires: list[Wire] = list(self.field_of[half].wires) if joint.inner else []
        if not self.drawn_beyond(half):
            beyond.elsewhere = frozenset(wire.id for wire in wires if half in (wire.a.ref, wire.b.ref))
            return beyond
        self.shown.add(half)
        # Only strands that start at a cavity of this page; the others are on the page of their first cavity.
        wires = self._reached(half, wires, rows)
        weaver = Weaver(self.harness, wires, half, given=rows, open_far=True)
        order = {name: number for number, name in enumerate(self.cavities(half))}
        for strand in weaver.strands():
            homes = [node.point.cavity for node in strand.ports if node.ref == half]
            if homes and min(homes, key=lambda name: order.get(name, len(order))) in rows:
                beyond.strands.append(strand)
                beyond.extra.extend(strand.rows)
        here = {leg.wire.id for strand in beyond.strands for leg in strand.legs}
        ends = [(wire.id, point) for wire in wires if wire.id not in here for point in (wire.a, wire.b)]
        beyond.elsewhere = frozenset(name for name, point in ends if point.ref == half and point.cavity in rows)
        return beyond

    def _reached(self, half: str, wires: Sequence[Wire], rows: Mapping[str, Row]) -> list[Wire]:
        """Those wires beyond a half that hang on a cavity of this page, in file order."""
        if half not in self._islands:
            self._islands[half] = _islands(half, wires, self.harness)
        wanted = {wire.id for name in rows for wire in self._islands[half].get(name, ())}
        return [wire for wire in wires if wire.id in wanted]


def _islands(half: str, wires: Sequence[Wire], harness: Harness) -> dict[str, list[Wire]]:
    """The wires that hang on each cavity of a half, splices included; studs and other connectors end them."""
    touching: dict[Point, list[Wire]] = {}
    for wire in wires:
        for point in (wire.a, wire.b):
            touching.setdefault(point, []).append(wire)
    reached: dict[str, list[Wire]] = {}
    for start in [point for point in touching if point.ref == half]:
        seen: dict[str, Wire] = {}
        stack = [start]
        while stack:
            here = stack.pop()
            for wire in touching[here]:
                if wire.id not in seen:
                    seen[wire.id] = wire
                    stack.extend(
                        point for point in (wire.a, wire.b) if point.ref == half or point.ref in harness.splices
                    )
        reached[start.cavity] = list(seen.values())
    return reached


def _most(count: int, guess: int, fits: Callable[[int], bool]) -> int:
    """The most units that fit, found by halving round a guess: one sheet is about as full as the one before.

    At least one is always taken; larger paper is tried when not even that fits.
    """
    good, bad, trial = 1, count + 1, max(guess, 1)
    while bad - good > 1:
        trial = min(max(trial, good + 1), bad - 1)
        if fits(trial):
            good, trial = trial, trial + max(2, trial // 4)
        else:
            bad, trial = trial, (good + trial) // 2
    return good


def _idle_rows(unit: Unit, near: str, aligned: str) -> list[Row]:
    if not unit.idle:
        return []
    row = Row("main" if unit.idle[0][0] in (near, aligned) else unit.idle[0][0])
    for ref, name in unit.idle:
        if ref == near:
            row.idle_near = name
        else:
            row.idle_far = name
    return [row]


def _bundles(strands: Sequence[Strand]) -> list[list[Strand]]:
    """Strands with cores in one cable or wires in one contact together, shields last; in order of first appearance."""
    bundle_of: dict[str, int] = {}
    bundles: list[list[Strand]] = []
    for strand in strands:
        cables = [*sorted(strand.cables()), *(f"contact {node.point}" for node in strand.ports)]
        known = sorted({bundle_of[cable] for cable in cables if cable in bundle_of})
        if known:
            home = known[0]
            for other in known[1:]:
                bundles[home].extend(bundles[other])
                bundles[other] = []
                for cable, number in bundle_of.items():
                    if number == other:
                        bundle_of[cable] = home
        else:
            home = len(bundles)
            bundles.append([])
        bundles[home].append(strand)
        for cable in cables:
            bundle_of[cable] = home
    return [sorted(bundle, key=lambda strand: strand.is_shield) for bundle in bundles if bundle]
