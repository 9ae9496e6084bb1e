"""Equipment boxes and their pins, breakers and buses."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.connector import Origin
from harnesscheck.paperwork import Setting
from harnesscheck.place import Place, Point
from harnesscheck.units import Range

PHASES = ("start", "taxi", "takeoff", "climb", "cruise", "descent", "landing", "emergency")
"""Phases of flight of an electrical load analysis; ``emergency`` is on battery alone."""


@dataclass(frozen=True, slots=True)
class Pin:
    """What the equipment wants on one pin of its receptacle."""

    point: Point
    place: Place
    function: str
    signal: str
    """Signal class: see ``circuit.SIGNALS``."""
    line: str | None = None
    """Which conductor of a pair: ``H``, ``L``, ``A``, ``B``, ``+``, ``-``."""
    direction: str | None = None
    supply: Range | None = None
    """Volts between which the equipment works."""
    current: float | None = None
    """Typical current, amperes."""
    peak: float | None = None
    """Highest current, amperes."""
    required: bool = True
    connect: bool = True
    """False: the maker says nothing may be connected."""
    grounded: bool | None = None
    """For a shield pin: whether the box grounds it inside; None: nobody has said."""
    input_resistance: float | None = None
    """What the input offers to a signal, ohms."""
    source_resistance: float | None = None
    """Of an output, ohms."""
    unit_load: float | None = None
    """As a share of the TIA-485 unit load."""
    terminator: float | None = None
    """Value of the terminator inside the box, ohms; infinity when stated to have none."""
    terminator_state: str | None = None
    """``fitted``, ``off`` (there, and not connected) or ``none``."""
    pull_up: float | None = None
    """Inside the box, ohms; infinity when stated to have none."""
    pull_up_supply: float | None = None
    """Volts that the pull-up leads to."""
    isolated: bool | None = None
    """True when a box without supply cannot hold the line: a diode inside, or a resistor where sources are joined."""
    duty: str | None = None
    """``continuous``, or ``intermittent`` (two minutes at the most); None: nobody has said."""
    returns: Point | None = None
    """The pin by which the current of this one comes back."""
    load: str | None = None
    """What kind of load it is: constant ``current``, ``resistance`` or ``power``; None: nobody has said."""
    abnormal: Range | None = None
    """Volts that the equipment stands without harm, though it may not work."""
    rate: float | None = None
    """Bits a second to which the unit is set on this line."""
    loops: Point | None = None
    """The pin of the same receptacle to which the maker has joined it inside, so that a bus is led in and out."""


@dataclass(frozen=True, slots=True)
class Device:
    """One equipment unit (``A12``) with its pins."""

    ref: str
    place: Place
    origin: Origin
    name: str = ""
    pins: tuple[Pin, ...] = ()
    mass: float | None = None
    """Kilograms."""
    settings: tuple[Setting, ...] = ()
    """What its maker wants set when it is put into use."""


@dataclass(frozen=True, slots=True)
class Breaker:
    """A circuit breaker or fuse with the points ``-line`` (bus side) and ``-load``."""

    ref: str
    place: Place
    origin: Origin
    name: str = ""
    rating: float | None = None
    """Amperes."""
    bus: str | None = None
    resistance: float | None = None
    """Ohms between its terminals; None is unknown."""


@dataclass(frozen=True, slots=True)
class Bus:
    """A supply bus; all its terminals are one net."""

    ref: str
    place: Place
    origin: Origin
    name: str = ""
    volts: float | None = None


@dataclass(frozen=True, slots=True)
class PowerSource:
    """An alternator, generator or battery, and the bus it feeds."""

    ref: str
    place: Place
    origin: Origin
    kind: str
    """``alternator``, ``generator`` or ``battery``."""
    name: str = ""
    bus: str | None = None
    supply: float | None = None
    """Regulated volts."""
    low: float | None = None
    """Lowest volts in normal running."""
    high: float | None = None
    """Highest volts in normal running."""
    abnormal: Range | None = None
    """Volts that may stand on the bus for a short time: starting, regulator failure."""
    rating: float | None = None
    """Amperes."""
    capacity: float | None = None
    """Ampere hours of a battery."""
    usable: float | None = None
    """Share of the capacity that may be counted on, 0 to 1."""


@dataclass(frozen=True, slots=True)
class KnownLoad:
    """A load of the aircraft that hangs on none of the circuits listed."""

    name: str
    place: Place
    bus: str | None = None
    breaker: str | None = None
    current: float | None = None
    """Amperes."""
    peak: float | None = None
    duty: str = "continuous"
    phases: tuple[str, ...] | None = None
    """Phases of flight in which it is on; None: in all of them."""
