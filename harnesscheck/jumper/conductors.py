"""Wire and cable for the kit: a size and a type that load, protector, crimp barrels and wire seals all take together.

Types are those the drawer knows. What the aircraft already has comes first, then what rests on the firmest data.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from harnesscheck.circuit import Circuit
from harnesscheck.connector import Cavity
from harnesscheck.device import Breaker
from harnesscheck.formulas.gauge import compare
from harnesscheck.harness import Harness
from harnesscheck.jumper import bodies, splicing
from harnesscheck.jumper.kit import Half
from harnesscheck.parts import Fact, Part
from harnesscheck.units import Gauge, Range
from harnesscheck.wire import Wire

SIZES = tuple(Gauge(awg=n) for n in (28, 26, 24, 22, 20, 18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0))
"""Sizes of aircraft wire, thinnest first."""
SIGNAL = Gauge(awg=22)
"""Signal wire where nothing says another size. Common practice: the thinnest that stands handling in a bundle."""
SUPPLY = frozenset({"power", "lighting"})
WHITE = "9"
"""Colour digit of a wire where the aircraft's own shows no other habit. Common practice: white, marked by number."""
LOOSE = 0.05
"""How far a diameter that nobody has confirmed may be out; the same as the check of wire seals counts with."""
_NUMBER = re.compile(r"(M22759/\d{1,3})-(\d{1,2})(?:-(\d{1,5}))?")


def thicker(*sizes: Gauge | None) -> Gauge | None:
    """The thickest of the sizes that are known."""
    found: Gauge | None = None
    for size in sizes:
        if size is not None and (found is None or compare(size, found) > 0):
            found = size
    return found


def standard(size: Gauge) -> Gauge:
    """The thinnest standard size that is not thinner than ``size``; the size itself beyond the list.

    >>> standard(Gauge(mm2=0.5)), standard(Gauge(awg=20))
    (Gauge(awg=20, mm2=None), Gauge(awg=20, mm2=None))
    """
    return next((one for one in SIZES if compare(one, size) >= 0), size)


@dataclass(frozen=True, slots=True)
class Choice:
    """A type of wire or cable for certain ends, and how much of what speaks for it is not firm."""

    number: str
    doubts: int
    weight: float | None
    """Kilograms a metre; None when the drawer does not know it."""


class Stock:
    """What the drawer offers for one job; answers are kept, for a connector asks the same for each of its cavities."""

    def __init__(self, airframe: Harness, zones: Iterable[str | None], boxes: Sequence[Harness] = ()) -> None:
        self.airframe, self.drawer = airframe, airframe.drawer
        listed = [airframe.zones[name] for name in zones if name is not None and name in airframe.zones]
        self.hottest = max((zone.ambient.high for zone in listed if zone.ambient), default=float("-inf"))
        self._ranges: dict[str, tuple[Gauge, Gauge] | None] = {}
        self._sizes: dict[frozenset[str | None], list[Gauge]] = {}
        self._cables: dict[tuple[object, ...], list[tuple[Choice, Gauge]]] = {}
        self._choices: dict[tuple[object, ...], list[Choice]] = {}
        self._splices: dict[tuple[object, ...], list[splicing.Part]] = {}

    # -- what the aircraft shows -------------------------------------------------------------------------------

    @cached_property
    def habit(self) -> tuple[str | None, str]:
        """Specification and colour digit that most wires of the aircraft have; white where nothing shows."""
        found = [m for w in self.airframe.wires.values() if w.type and (m := _NUMBER.fullmatch(w.type))]
        spec, digit = Counter(m[1] for m in found), Counter(m[3] for m in found if m[3])
        return max(spec, key=spec.__getitem__, default=None), max(digit, key=digit.__getitem__, default=WHITE)

    def chart(self, breaker: Breaker) -> Gauge | None:
        """The thinnest wire behind a protector, AC 43.13-1B Chg 1 Table 11-3; None when the table ends before it."""
        if breaker.rating is None:
            return None
        column = "fuse" if re.match(r"F\d", breaker.ref) or "fuse" in breaker.name.casefold() else "breaker"
        for number in self.drawer.numbers("wire protection"):
            part = self.drawer.get("wire protection", number)
            most, size = (part.quantity(column), part.gauge_range("gauge")) if part else (None, None)
            if most is not None and size is not None and most >= breaker.rating:
                return size[0]
        return None

    # -- what contacts take ------------------------------------------------------------------------------------

    def barrel(self, contact: str | None) -> tuple[Gauge, Gauge] | None:
        """Thinnest and thickest wire of a contact's crimp barrel; None when it is not known."""
        if contact is None:
            return None
        if contact not in self._ranges:
            part = self.drawer.get("contact", contact)
            self._ranges[contact] = part.gauge_range() if part is not None else None
        return self._ranges[contact]

    def sizes(self, ends: Iterable[str | None]) -> list[Gauge]:
        """Every standard size that the barrels of all these contacts take, thinnest first."""
        key = frozenset(ends)
        if key not in self._sizes:
            spans = [span for contact in key if (span := self.barrel(contact)) is not None]
            self._sizes[key] = [o for o in SIZES if all(compare(a, o) <= 0 <= compare(b, o) for a, b in spans)]
        return self._sizes[key]

    def nearest(self, wanted: Gauge, ends: Iterable[str | None]) -> Gauge:
        """The thinnest size from ``wanted`` up that the barrels take; else the thickest they take at all."""
        listed = self.sizes(ends)
        thick = [one for one in listed if compare(one, wanted) >= 0]
        return (thick or listed[-1:] or [standard(wanted)])[0]

    # -- wire --------------------------------------------------------------------------------------------------

    @cached_property
    def specs(self) -> list[str]:
        """Wire specifications: the aircraft's own first, then in the order of the drawer."""
        listed = [number for number in self.drawer.numbers("wire") if re.fullmatch(r"M22759/\d{1,3}", number)]
        own = self.habit[0]
        return [*([own] if own in listed else []), *(one for one in listed if one != own)]

    def wires(self, size: Gauge, ends: Iterable[tuple[Half, str]], volts: float = 0.0) -> list[Choice]:
        """Types of that size for those ends, the aircraft's own specification and the firmest first.

        Without a specification's own size in the drawer there is none; a type too hot, too weak or outside a wire seal
        is left out.
        """
        seals = frozenset(half.contact(cavity) for half, cavity in ends if self.sealed(half))
        key = (size, seals, volts)
        if key not in self._choices:
            found = [c for spec in self.specs if (c := self._judged(spec, size, seals, volts)) is not None]
            self._choices[key] = sorted(found, key=lambda one: one.doubts)  # of equals as in ``specs``
        return self._choices[key]

    def _judged(self, spec: str, size: Gauge, seals: Iterable[str | None], volts: float) -> Choice | None:
        number = f"{spec}-{size.awg}"
        if size.awg is None or self.drawer.get("wire size", number) is None:
            return None
        part = self.drawer.get("wire", number)
        if part is None:
            return None
        doubts = self._rated(part, volts)
        if doubts is None:
            return None
        for contact in seals:
            doubt = self._in_seal(part, contact)
            if doubt is None:
                return None
            doubts += doubt
        od = part.fact("od")
        doubts += od is None or not od.firm
        return Choice(number, doubts, part.quantity("weight"))

    def _rated(self, part: Part, volts: float) -> int | None:
        """How many of temperature and volts are not firm; None when one of them is too low."""
        warm, strong = part.quantity("temperature"), part.quantity("volts")
        if (warm is not None and warm <= self.hottest) or (strong is not None and strong < volts):
            return None
        return sum(fact is None or not fact.firm for fact in (part.fact("temperature"), part.fact("volts")))

    def sealed(self, half: Half) -> bool:
        """True when a half has a grommet, or may have one."""
        return bodies.known(self.drawer, half, "sealed") != "no"

    def _in_seal(self, wire: Part, contact: str | None) -> int | None:
        """0 when the insulation surely fits the seal, 1 when that is not known, None when it does not fit."""
        span, od = self._seal(contact), wire.span("od")
        fact: Fact | None = wire.fact("od")
        if span is None or od is None or fact is None:
            return 1
        if not (span.low <= od.low and od.high <= span.high):
            return None
        if fact.firm:
            return 0
        return 0 if span.low <= od.low * (1 - LOOSE) and od.high * (1 + LOOSE) <= span.high else 1

    def _seal(self, contact: str | None) -> Range | None:
        part = self.drawer.get("contact", contact) if contact else None
        own = part.lengths("insulation") if part else None
        size = part.text("size") if part and own is None else None
        record = self.drawer.get("contact size", size) if size else None
        return own or (record.lengths("insulation") if record else None)

    def alloy(self, letter: str) -> tuple[str, Gauge | None] | None:
        """A thermocouple wire of the drawer for a type letter, with its gauge; None without a wire or a letter."""
        if not letter:
            return None  # of an alloy that nobody has said any wire would be a guess
        for number in self.drawer.numbers("wire"):
            part = self.drawer.get("wire", number)
            said = part.text("conductor") if part else None
            if part is not None and said is not None and re.search(rf"\btype {re.escape(letter)}\b", said):
                span = part.gauge_range("gauge")
                return number, span[0] if span else None
        return None

    def splices(self, sizes: Sequence[Gauge], wet: bool | None) -> list[splicing.Part]:
        """Splices that take these wires: see ``splicing.parts``."""
        key = (*sorted(map(str, sizes)), wet)
        if key not in self._splices:
            self._splices[key] = splicing.parts(self.drawer, sizes, wet)
        return self._splices[key]

    # -- cable -------------------------------------------------------------------------------------------------

    def cables(
        self, cores: int, shielded: bool, ends: Iterable[tuple[Half, str]], volts: float = 0.0
    ) -> list[tuple[Choice, Gauge]]:
        """M27500 cables with that many cores, and the size of the cores; the firmest first, then as in the aircraft."""
        listed = list(ends)
        contacts = frozenset(half.contact(cavity) for half, cavity in listed)
        seals = sorted({half.contact(cavity) or "" for half, cavity in listed if self.sealed(half)})
        key = (cores, shielded, contacts, tuple(seals), volts)
        if key not in self._cables:
            self._cables[key] = self._listed_cables(cores, shielded, self.sizes(contacts), seals, volts)
        return self._cables[key]

    def _listed_cables(
        self, cores: int, shielded: bool, sizes: Sequence[Gauge], seals: Sequence[str], volts: float
    ) -> list[tuple[Choice, Gauge]]:
        size = SIGNAL if SIGNAL in sizes or not sizes else sizes[-1] if compare(sizes[-1], SIGNAL) < 0 else sizes[0]
        found: list[tuple[Choice, Gauge]] = []
        for tail in ("14", "23", "09", "06") if shielded else ("00",):
            for basic in ("TE", "TG", "SB", "SD", "SM", "SR", "RC"):
                number = f"M27500-{size.awg}{basic}{cores}{'T' if shielded else 'U'}{tail}"
                doubts = self._cable(number, seals, volts)
                if doubts is not None:
                    found.append((Choice(number, doubts, None), size))
        own = {cable.type for cable in self.airframe.cables.values()}
        return sorted(found, key=lambda pair: (pair[0].number not in own, pair[0].doubts))

    def _cable(self, number: str, seals: Sequence[str], volts: float) -> int | None:
        part = self.drawer.get("cable", number)
        if part is None:
            return None
        spec, gauge = part.text("spec"), part.text("gauge")
        core = self.drawer.get("wire", f"{spec}-{(gauge or '').removesuffix(' AWG')}")
        if core is None:
            return None
        doubts = self._rated(core, volts)
        if doubts is None:
            return None
        for contact in seals:
            doubt = self._in_seal(core, contact)
            if doubt is None:
                return None
            doubts += doubt
        told, od = part.fact("spec"), core.fact("od")
        girth = self.drawer.get("cable size", f"{core.number} x {part.text('cores')}")
        girth_od = girth.fact("od") if girth is not None else None
        return doubts + sum(fact is None or not fact.firm for fact in (told, od, girth_od))


# -- sizes of the lines ------------------------------------------------------------------------------------------


def breaker_of(airframe: Harness, circuit: Circuit | None, cavities: Iterable[Cavity | None]) -> Breaker | None:
    """The protector that the files name for a circuit."""
    names = [circuit.breaker if circuit else None, *(cavity.breaker for cavity in cavities if cavity)]
    return next((airframe.breakers[name] for name in names if name is not None and name in airframe.breakers), None)


def existing(wires: Iterable[Wire], cavities: Iterable[Cavity | None]) -> Gauge | None:
    """The thickest existing wire at a cavity of the opened pair, as listed or as the pin map says."""
    return thicker(*(wire.gauge for wire in wires), *(cavity.gauge for cavity in cavities if cavity))
