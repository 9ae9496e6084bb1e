"""How much current a wire may carry where it lies: size, rating, ambient, bundle, altitude, and what of it is known."""

from __future__ import annotations

import math
from collections import ChainMap
from collections.abc import Mapping
from dataclasses import dataclass

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
    harness: Harness, wire: Wire, loads: Mapping[str, float], unsure: frozenset[str] = frozenset()
) -> Carries | Gap:
    """What a wire may carry; ``loads`` gives the amperes of the wires that carry any, ``unsure`` the wires of which
    nobody can say it. Or what is missing for it.
    """
    own = _air(harness, wire)
    if isinstance(own, Gap):
        return own
    tied = harness.bundles[wire.bundle] if wire.bundle is not None else ()
    known = [wire, *(other for other in tied if other is not wire and not other.is_shield)]
    loose = new_wires(harness) if wire.bundle is None else harness.bundles.get(None, ())
    perhaps = [w for w in loose if w.origin is Origin.JUMPER and w is not wire and not w.is_shield]
    factor, share = _factor(harness, known, loads, own)
    most = ChainMap(dict.fromkeys(unsure - {wire.id}, math.inf), dict(loads)) if unsure else loads
    worst = min(factor, _factor(harness, known, most, own)[0], _factor(harness, [*known, *perhaps], most, own)[0])
    missing = "what a wire beside it carries is not known:" if unsure else ""
    if perhaps:
        whose = [wire.id] if wire.bundle is None else [other.id for other in perhaps]
        which = f"which bundle {several(whose, 3)} {'lies' if len(whose) == 1 else 'lie'} in is not stated"
        missing = f"{which}: among all {len(known) + len(perhaps)} wires of the kit"
    place = (
        f"{many(len(known), 'wire')} in bundle {wire.bundle}, {100 * share:.0f} % in use" if wire.bundle else "alone"
    )
    words = f"rated {own.rating:g} C, {own.ambient:g} C around it, {place}, {own.altitude:.0f} m"
    return Carries(own.alone * factor, own.alone * worst, missing, words, own.source)


def _factor(harness: Harness, wires: list[Wire], loads: Mapping[str, float], own: _Air) -> tuple[float, float]:
    """Bundle factor, and the share of the bundle's capacity in use that it was read at."""
    kept = _airs(harness)
    airs = [own, *(kept.get(other.id) or kept.setdefault(other.id, _air(harness, other)) for other in wires[1:])]
    # A wire of which not everything is known adds no capacity, which errs on the side of a fuller bundle.
    capacity = math.fsum(air.alone for air in airs if isinstance(air, _Air))
    total = math.fsum(loads.get(other.id, 0.0) for other in wires)
    share = next((s for s in SHARES if total <= s * capacity * ampacity.bundle_factor(len(wires), s)), 1.0)
    return ampacity.bundle_factor(len(wires), share), share


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
