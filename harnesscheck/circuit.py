"""Circuits (what a signal is for), nets (what is one piece of copper), and the way along them."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from harnesscheck.place import Place, Point

SIGNALS = {
    "power": "supply feed",
    "ground": "supply return",
    "shield": "cable shield or drain",
    "discrete": "switch or lamp line, open/ground or open/supply",
    "analogue": "sensor voltage, current or resistance",
    "signal ground": "return of a sensor or data line",
    "thermocouple": "thermocouple, alloy wire",
    "can": "CAN bus (ISO 11898-2)",
    "rs232": "TIA-232 serial",
    "rs422": "TIA-422 serial",
    "rs485": "TIA-485 serial",
    "arinc429": "ARINC 429",
    "nmea0183": "NMEA 0183 talker line",
    "ethernet": "100BASE-TX and faster",
    "video": "75 ohm video",
    "rf": "50 ohm radio frequency",
    "audio": "microphone, phone or line audio",
    "pulse": "tachometer, PWM or Hall pulse",
    "ignition": "magneto P-lead",
    "lighting": "dimmer bus",
    "none": "nothing",
}
"""Signal classes and what they are, after the verdict table of the project's tap rules."""
KINDS = {
    "analogue": ("voltage", "resistive"),
    "audio": ("mic", "phones", "line"),
    "discrete": ("ground", "supply"),
    "can": ("ISO 11898-2", "ARINC 825", "J1939"),
}
"""Signal class to the sorts of it that are tapped by different rules: ``kind:`` of a circuit."""


@dataclass(frozen=True, slots=True)
class Circuit:
    """One circuit of the airframe, known by its name on the pin map."""

    name: str
    place: Place
    signal: str | None = None
    """Signal class, a key of ``SIGNALS``; None when nobody has said."""
    line: str | None = None
    """Which conductor of a pair: ``H``, ``L``, ``A``, ``B``, ``+``, ``-``."""
    supply: float | None = None
    """Nominal volts of a power circuit."""
    breaker: str | None = None
    note: str = ""
    pair: str | None = None
    """Name of the twisted pair it belongs to; its partner has the same name."""
    shields: str | None = None
    """For a shield: the pair or circuit it covers."""
    shield_ends: str | None = None
    """For a shield: ``both``, ``one`` or ``none``, the ends that are to be grounded."""
    redundant: str | None = None
    """Name of the circuit that takes over when this one fails; the two must not share a connector."""
    kind: str | None = None
    """Which sort of its signal class: see ``KINDS``."""
    rate: float | None = None
    """Bits a second."""
    edge: float | None = None
    """Rise time of the driver (10 to 90 %), seconds: the shortest of the data sheet."""
    drivers: int | None = None
    """How many units of the aircraft talk on it."""
    receivers: int | None = None
    """How many units of the aircraft listen to it; on a bus where all do both, the units on the bus."""
    most_receivers: int | None = None
    """How many receivers the data sheet of the driver allows."""
    unit_load: float | None = None
    """Of each receiver of the aircraft, as a share of the TIA-485 unit load."""
    input_resistance: float | None = None
    """Of each receiver of the aircraft, ohms."""
    source_resistance: float | None = None
    """Of the driver or sensor, ohms; for a resistive sender its highest resistance."""
    driver_current: float | None = None
    """Most that the driver can give, amperes."""
    rating: float | None = None
    """Of the switch or dimmer that feeds it, amperes."""
    terminators: int | None = None
    """How many terminators hang on it in the aircraft."""
    terminator: float | None = None
    """Value of each of them, ohms."""
    bus_length: float | None = None
    """Length of the trunk in the aircraft, metres."""
    stub_length: float | None = None
    """Sum of the lengths of all stubs in the aircraft, metres; 0 is stated to have none."""
    topology: str | None = None
    """``line`` or ``star``."""
    pull_up: float | None = None
    """In the aircraft, ohms; infinity when stated to have none."""
    pull_up_supply: float | None = None
    """Volts that the pull-up leads to."""
    alloy: str | None = None
    """Thermocouple type letter, like ``K``."""
    load: float | None = None
    """Amperes drawn by what hangs on it beyond the opened connector already; 0 is stated to be nothing."""
    peak: float | None = None
    """Highest of that, amperes."""
    duty: str | None = None
    """Of that load: ``continuous`` or ``intermittent``; None: nobody has said."""
    returns: str | None = None
    """The circuit, or the ground stud, by which that current comes back."""
    phases: tuple[str, ...] | None = None
    """Phases of flight in which that load is on; None: in all of them."""


@dataclass(frozen=True, slots=True)
class Tap:
    """What the jumper declares: this equipment pin is joined to this airframe circuit."""

    pin: Point
    circuit: str
    place: Place


class Nets:
    """Which points are one piece of copper.

    ``label[i]`` is the net number of point i; net numbers are 0, 1, 2 ... in order of their first point, so that
    the same harness always gives the same numbers. Points are numbered thing by thing and cavity by cavity: the wires
    of one connector stand together in a file, so the small table of its cavities is at hand, where one table of all
    points is looked up all over the memory (at 100,000 wires this takes half the time).
    """

    __slots__ = ("_numbers", "count", "label", "points")

    def __init__(self, points: Sequence[Point], joins: Iterable[tuple[Point, Point]]) -> None:
        self.points = points
        numbers: dict[str, dict[str, int]] = {}
        self._numbers = numbers
        for number, (ref, cavity) in enumerate(points):
            row = numbers.get(ref)
            if row is None:
                row = numbers[ref] = {}
            row[cavity] = number
        starts: list[int] = []
        ends: list[int] = []
        for (ref, cavity), (other, there) in joins:
            starts.append(numbers[ref][cavity])
            ends.append(numbers[other][there])
        self.label = label_components(len(points), starts, ends)
        self.count = max(self.label, default=-1) + 1

    def at(self, point: Point) -> int:
        """The net number of a point of the harness. Raises ``KeyError`` for another one."""
        return self.label[self.place(point)]

    def place(self, point: Point) -> int:
        """Where a point stands in ``points``. Raises ``KeyError`` for one that does not."""
        return self._numbers[point[0]][point[1]]

    def __contains__(self, point: Point) -> bool:
        return point[1] in self._numbers.get(point[0], ())

    def of(self, point: Point) -> int | None:
        """The net number of a point; None when the harness has no such point."""
        row = self._numbers.get(point[0])
        number = None if row is None else row.get(point[1])
        return None if number is None else self.label[number]

    def members(self) -> list[list[Point]]:
        """All nets as lists of points, in net order."""
        nets: list[list[Point]] = [[] for _ in range(self.count)]
        for point, number in zip(self.points, self.label, strict=True):
            nets[number].append(point)
        return nets


def label_components(count: int, starts: Sequence[int], ends: Sequence[int]) -> list[int]:
    """Connected components of ``count`` points joined pairwise: a list of component numbers in order of first point.

    Union by index with path halving on a plain integer list: 100,000 wires take about 0.09 s, without the 0.6 s
    that importing a graph library costs a one-second command.
    """
    parent = list(range(count))
    for start, end in zip(starts, ends, strict=True):
        a, b = start, end
        while parent[a] != a:
            parent[a] = a = parent[parent[a]]
        while parent[b] != b:
            parent[b] = b = parent[parent[b]]
        if a != b:
            # The smaller index becomes the root, so roots come in order of first appearance.
            if a < b:
                parent[b] = a
            else:
                parent[a] = b
    labels = [0] * count
    following = 0
    for point in range(count):
        root = parent[point]
        if root == point:
            labels[point] = following
            following += 1
        else:
            while parent[root] != root:
                parent[root] = root = parent[parent[root]]
            labels[point] = labels[root]
    return labels


@dataclass(frozen=True, slots=True)
class Step:
    """One step along a circuit: from ``start`` through ``through`` (a wire id, or ``mate``) to ``end``."""

    start: Point
    through: str
    end: Point
    depth: int


def follow(start: Point, neighbours: Callable[[Point], Iterable[tuple[str, Point]]]) -> list[Step]:
    """Walk everything joined to ``start``, depth first, each point once: the order in which a person would trace it."""
    seen = {start}
    steps: list[Step] = []
    stack: deque[tuple[Point, str, Point, int]] = deque()

    def push(point: Point, depth: int) -> None:
        for through, end in sorted(neighbours(point), key=lambda pair: (pair[0], str(pair[1])), reverse=True):
            stack.append((point, through, end, depth))

    push(start, 1)
    while stack:
        origin, through, end, depth = stack.pop()
        if end in seen:
            continue
        seen.add(end)
        steps.append(Step(origin, through, end, depth))
        push(end, depth + 1)
    return steps
