"""What the new equipment wants: one ``Want`` for each pin, and which of them have to be chosen together."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from harnesscheck.device import Pin
from harnesscheck.electrics.consumers import is_supply
from harnesscheck.harness import Harness
from harnesscheck.place import Point

PAIRED = frozenset({"can", "rs422", "rs485", "arinc429", "ethernet", "thermocouple"})
"""Signal classes whose conductors come in pairs, as ``line:`` says."""
GROUNDED = frozenset({"rs232", "nmea0183", "analogue", "pulse", "audio", "discrete", "video"})
"""Signal classes of one conductor whose other side is a signal ground."""


@dataclass(frozen=True, slots=True)
class Want:
    """What one pin of the equipment wants."""

    unit: str
    """Designator of the unit: ``A12``."""
    pin: Pin
    serves: frozenset[Point] = frozenset()
    """For a return or a shield: the pins of the lines that it belongs to."""

    @property
    def point(self) -> Point:
        """The pin."""
        return self.pin.point

    @property
    def signal(self) -> str:
        """Signal class."""
        return self.pin.signal

    @property
    def supplied(self) -> bool:
        """True for a pin that draws its supply from the line."""
        return is_supply(self.pin)

    @property
    def drives(self) -> bool:
        """True for a pin that talks, as far as it says so."""
        return self.pin.direction in ("out", "both")

    def __str__(self) -> str:
        """``A12J1-1 (POWER)``."""
        return f"{self.pin.point} ({self.pin.function})"


@dataclass(frozen=True, slots=True)
class Group:
    """Pins that are chosen together: a supply and its return, the lines of a pair with its shield, one port."""

    wants: tuple[Want, ...]

    @property
    def name(self) -> str:
        """The pins, in words."""
        return ", ".join(str(want) for want in self.wants)


def plain(name: str) -> str:
    """A name without case, blanks and underscores, for comparing what people typed.

    >>> plain("Can_H") == plain("CAN H")
    True
    """
    return re.sub(r"[\s_]+", "", name).casefold()


_TRADE = frozenset(
    {"in", "out", "tx", "rx", "sig", "signal", "gnd", "ground", "rtn", "return", "hi", "lo", "h", "l", "a", "b"}
    | {"pwr", "power", "supply", "com", "common", "shield", "shld", "line", "no", "input", "output", "data"}
)


def words(name: str) -> frozenset[str]:
    """The words of a name that say whose it is; what only says which conductor it is left out.

    >>> sorted(words("GPS SIG GND")), sorted(words("OIL_P RTN"))
    (['gps'], ['oil', 'p'])
    """
    return frozenset(word for word in re.split(r"[^0-9a-z]+", name.casefold()) if word and word not in _TRADE)


def wants(boxes: Iterable[Harness]) -> tuple[list[Want], list[tuple[Point, str]]]:
    """What every pin wants, in file order, and the pins that must stay open, each with the reason."""
    wanted: list[Want] = []
    left: list[tuple[Point, str]] = []
    for box in boxes:
        for device in box.devices.values():
            for pin in device.pins:
                if not pin.connect:
                    left.append((pin.point, f"{pin.function}: the maker says that nothing may be connected"))
                elif pin.signal == "none":
                    left.append((pin.point, f"{pin.function}: the pin carries nothing (signal: none)"))
                else:
                    wanted.append(Want(device.ref, pin))
    return [_serving(want, [w for w in wanted if w.unit == want.unit]) for want in wanted], left


def _serving(want: Want, wanted: list[Want]) -> Want:
    """The want with the lines that it is the return or the shield of."""
    if want.signal == "ground":
        stated = [w for w in wanted if w.pin.returns == want.point]
        lines = stated or [w for w in wanted if w.supplied and w.pin.returns is None]
    elif want.signal == "signal ground":
        lines = owners(want, wanted)
    elif want.signal == "shield":
        lines = _covered(want, wanted)
    else:
        return want
    return replace(want, serves=frozenset(line.point for line in lines))


def groups(wanted: Iterable[Want]) -> list[Group]:
    """The pins sorted into groups that are chosen together, in order of their first pin."""
    listed = list(wanted)
    links = [(want.point, line) for want in listed for line in sorted(want.serves, key=str)]
    for unit in dict.fromkeys(want.unit for want in listed):
        for together in bound([w for w in listed if w.unit == unit]).values():
            links += [(together[0].point, other.point) for other in together[1:]]
    return [Group(members) for members in dict.fromkeys(_joined(listed, links).values())]


def bound(wanted: list[Want]) -> dict[Point, tuple[Want, ...]]:
    """For each pin of a unit those that stand or fall with it: its pair, and what the maker has joined inside."""
    links = [(one.point, two.point) for one, two in couples(wanted)]
    links += [(want.point, want.pin.loops) for want in wanted if want.pin.loops is not None]
    return _joined(wanted, links)


def _joined(wanted: list[Want], links: Iterable[tuple[Point, Point]]) -> dict[Point, tuple[Want, ...]]:
    """For each pin all those that links lead to, in file order."""
    root = {want.point: want.point for want in wanted}

    def find(point: Point) -> Point:
        while root[point] != point:
            point = root[point]
        return point

    for a, b in links:
        if a in root and b in root:
            root[find(b)] = find(a)
    found: dict[Point, list[Want]] = {}
    for want in wanted:
        found.setdefault(find(want.point), []).append(want)
    return {want.point: tuple(found[find(want.point)]) for want in wanted}


def couples(wanted: list[Want]) -> list[tuple[Want, Want]]:
    """The conductors of one pair: the same class and connector, lines that differ, in file order.

    Where a unit has several pairs of a class (two buses, or one led in and out), the names decide, else the order.
    """
    found: list[tuple[Want, Want]] = []
    open_: list[Want] = []
    for want in wanted:
        if want.signal not in PAIRED or want.pin.line is None:
            continue
        fits = [
            other for other in open_
            if other.signal == want.signal and other.point.ref == want.point.ref
            and frozenset((other.pin.line or "", want.pin.line)) in _LINES and other.pin.direction == want.pin.direction
        ]  # fmt: skip
        if not fits:
            open_.append(want)
            continue
        alike = [other for other in fits if words(other.pin.function) == words(want.pin.function)]
        partner = (alike or fits)[0]
        open_.remove(partner)
        found.append((partner, want))
    return found


_LINES = (frozenset("HL"), frozenset("AB"), frozenset("+-"))


def owners(ground: Want, wanted: list[Want]) -> list[Want]:
    """The signal pins that a signal ground pin serves: as stated, by name, else the lines next above it in the file."""
    stated = [want for want in wanted if want.pin.returns == ground.point]
    if stated:
        return stated
    lines = [w for w in wanted if w.signal in GROUNDED and w.point.ref == ground.point.ref and w.pin.returns is None]
    named = [w for w in lines if words(w.pin.function) & words(ground.pin.function)]
    if named:
        return named
    order = {want.point: number for number, want in enumerate(wanted)}
    before = [w for w in lines if order[w.point] < order[ground.point]]
    if not before:
        return lines[:1]
    last = before[-1]
    run = [w for w in before if w.signal == last.signal]
    return [w for w in run if order[last.point] - order[w.point] < 3]


def _covered(shield: Want, wanted: list[Want]) -> list[Want]:
    """The lines that a shield pin belongs to: by name, else the pair next to it."""
    lines = [w for w in wanted if w.signal in PAIRED and w.point.ref == shield.point.ref]
    named = [w for w in lines if words(w.pin.function) & words(shield.pin.function)]
    if named:
        return named
    order = {want.point: number for number, want in enumerate(wanted)}
    near = sorted(lines, key=lambda w: abs(order[w.point] - order[shield.point]))
    return next((list(pair) for pair in couples(lines) if near[0] in pair), near[:2])
