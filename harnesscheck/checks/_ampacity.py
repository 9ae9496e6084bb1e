"""How much current a wire may carry where it lies: size, rating, ambient, bundle, altitude, and what of it is known."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from harnesscheck.checks._supply import Unrated, rating
from harnesscheck.checks._words import many, several
from harnesscheck.connector import Origin
from harnesscheck.electrics.elements import Gap, zones
from harnesscheck.formulas import ampacity, wire_resistance
from harnesscheck.formulas.ampacity import SHARES
from harnesscheck.formulas.gauge import area, number
from harnesscheck.harness import Harness, new_wires, view
from harnesscheck.parts.values import MILS
from harnesscheck.source import Source
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire

CMIL = MILS["cmil"]


@dataclass(frozen=True, slots=True)
class Carries:
    """What a wire may carry, amperes: among the wires known to be tied to it, and among those that may be as well."""

    best: float
    """Among the wires of its stated bundle; alone in the air when none is stated."""
    worst: float
    """With every wire of the kit whose bundle is not stated; with the whole kit when its own is not."""
    missing: str
    """What would have to be stated for the two to be one; empty when they are."""
    words: str
    """Rating, ambient, bundle and altitude of ``best`` in words."""
    source: Source


@dataclass(frozen=True, slots=True)
class _Air:
    cmil: float
    rating: float
    ambient: float
    altitude: float
    source: Source

    @property
    def alone(self) -> float:
        """Amperes in free air at its altitude."""
        return ampacity.free_air(self.cmil, self.rating - self.ambient) * ampacity.altitude_factor(self.altitude)


def circular_mils(gauge: Gauge) -> float:
    """Conductor area: that of aircraft wire for an AWG size the AC lists, else the solid or metric area."""
    mils = wire_resistance.CIRCULAR_MILS.get(awg) if (awg := number(gauge)) is not None else None
    if mils is not None:
        return float(mils)
    return area(gauge) / CMIL


def carries(
    harness: Harness,
    wire: Wire,
    loads: Mapping[str, float],
    unsure: frozenset[str] = frozenset(),
    amps: float | None = None,
) -> Carries | Gap:
    """What a wire may carry; ``loads`` gives the amperes of the wires that carry any, ``unsure`` the wires of which
    nobody can say it. Or what is missing for it. ``amps``: what this wire is to carry, instead of its load.
    """
    own = _air(harness, wire)
    if isinstance(own, Gap):
        return own
    tied = _tied(harness, wire.bundle, wire.bundle) if wire.bundle is not None else _Tied(harness, ())
    loose = _tied(harness, "", None) if wire.bundle is None else _tied(harness, None, None)
    here = _Loaded(wire, own, loads, loads.get(wire.id, 0.0) if amps is None else amps)
    count, (factor, share) = here.factor(tied)
    worst = min(factor, here.factor(tied, unsure=unsure)[1][0])
    together, (crowded, _) = here.factor(tied, loose, unsure=unsure)
    missing = "what a wire beside it carries is not known:" if unsure else ""
    if together > count:
        worst = min(worst, crowded)
        whose = wire.id if wire.bundle is None else loose.called
        verb = "lies" if wire.bundle is None or len(loose.wires) == 1 else "lie"
        missing = f"which bundle {whose} {verb} in is not stated: among all {together} wires of the kit"
    place = f"{many(count, 'wire')} in bundle {wire.bundle}, {100 * share:.0f} % in use" if wire.bundle else "alone"
    words = f"rated {own.rating:g} C, {own.ambient:g} C around it, {place}, {own.altitude:.0f} m"
    return Carries(own.alone * factor, own.alone * worst, missing, words, own.source)


class _Tied:
    """Wires that lie together, and their sums. The sums are exact, so that it is all one in which order they are made;
    they are made once, for each wire of the bundle asks for them.
    """

    def __init__(self, harness: Harness, wires: Iterable[Wire]) -> None:
        self.wires = {wire.id: wire for wire in wires if not wire.is_shield}
        kept = _airs(harness)
        airs = [kept.get(name) or kept.setdefault(name, _air(harness, wire)) for name, wire in self.wires.items()]
        # A wire of which not everything is known adds no capacity, which errs on the side of a fuller bundle.
        self.capacity = sum((Fraction(air.alone) for air in airs if isinstance(air, _Air)), Fraction())
        self._totals: list[tuple[Mapping[str, float], Fraction]] = []
        self._unsure: dict[frozenset[str], int] = {}

    @cached_property
    def called(self) -> str:
        """The first few of them."""
        return several(self.wires, 3)

    def total(self, loads: Mapping[str, float]) -> Fraction:
        """Amperes of all of them together."""
        for asked, total in self._totals:
            if asked is loads:
                return total
        found = sum((Fraction(amps) for name in self.wires if (amps := loads.get(name))), Fraction())
        self._totals = [*self._totals[-3:], (loads, found)]
        return found

    def unsure(self, names: frozenset[str]) -> int:
        """How many of them are among ``names``."""
        if names not in self._unsure:
            self._unsure[names] = sum(name in names for name in self.wires)
        return self._unsure[names]


@dataclass(frozen=True, slots=True)
class _Loaded:
    """One wire and what it carries, among others."""

    wire: Wire
    own: _Air
    loads: Mapping[str, float]
    amps: float

    def factor(self, *among: _Tied, unsure: frozenset[str] = frozenset()) -> tuple[int, tuple[float, float]]:
        """How many wires it is with them; bundle factor, and the share of their capacity in use that it was read at."""
        count, capacity, total, doubtful = 1, Fraction(self.own.alone), Fraction(self.amps), False
        for tied in among:
            own = self.wire.id in tied.wires
            count += len(tied.wires) - own
            capacity += tied.capacity - (Fraction(self.own.alone) if own else 0)
            total += tied.total(self.loads) - (Fraction(self.loads.get(self.wire.id, 0.0)) if own else 0)
            doubtful |= tied.unsure(unsure) > (own and self.wire.id in unsure)
        amps, room = math.inf if doubtful else float(total), float(capacity)
        share = next((s for s in SHARES if amps <= s * room * ampacity.bundle_factor(count, s)), 1.0)
        return count, (ampacity.bundle_factor(count, share), share)


def _tied(harness: Harness, name: str | None, bundle: str | None) -> _Tied:
    """The wires of a bundle; None: those of the kit whose bundle is not stated; nothing: the whole kit."""
    kept = _bundles(harness)
    if name not in kept:
        loose = new_wires(harness) if name == "" else harness.bundles.get(bundle, ())
        kept[name] = _Tied(harness, (w for w in loose if name or w.origin is Origin.JUMPER))
    return kept[name]


@view
def _bundles(harness: Harness) -> dict[str | None, _Tied]:
    """Those that anybody has asked for."""
    return {}


@view
def _airs(harness: Harness) -> dict[str, _Air | Gap]:
    """Wire id to what it may carry alone, as far as anybody has asked: wires of one bundle ask for each other."""
    return {}


def _air(harness: Harness, wire: Wire) -> _Air | Gap:
    if wire.gauge is None:
        return Gap(wire.place, f"the gauge of {wire.id} is not stated", "give gauge:, or a type: that says it")
    rated = rating(harness, wire, "temperature", "temperature rating")
    if isinstance(rated, Unrated):
        return Gap(wire.place, f"{rated.missing} ({wire.id})", rated.remedy)
    touched = zones(harness, wire)
    if not touched:
        return Gap(wire.place, f"the zone that {wire.id} lies in is not stated", "give zone: at the connectors")
    for zone in touched:
        if zone.ambient is None:
            return Gap(zone.place, f"the ambient temperature of zone {zone.name} is not stated", "give ambient:")
        if zone.altitude is None:
            return Gap(zone.place, f"the altitude of zone {zone.name} is not stated", "give altitude:")
    ambient = max(zone.ambient.high for zone in touched if zone.ambient is not None)
    altitude = max(zone.altitude for zone in touched if zone.altitude is not None)
    if ambient >= rated.value:
        return Gap(
            wire.place,
            f"{wire.id} is rated {rated.value:g} C and lies in {ambient:g} C: it may carry nothing",
            "see wire-below-zone-temperature",
        )
    if altitude > 60 * ampacity.KILOFEET:
        return Gap(wire.place, f"the altitude curve ends at 60,000 ft, and {wire.id} goes higher", "correct altitude:")
    source = ampacity.FREE_AIR_SOURCE if rated.source.firm else rated.source
    return _Air(circular_mils(wire.gauge), rated.value, ambient, altitude, source)
