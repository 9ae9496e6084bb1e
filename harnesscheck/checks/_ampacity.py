"""How much current a wire may carry where it lies: size, rating, ambient, bundle, altitude, and what of it is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from harnesscheck.checks._supply import Unrated, rating
from harnesscheck.electrics.elements import Gap, zones
from harnesscheck.formulas import ampacity, wire_resistance
from harnesscheck.formulas.gauge import area
from harnesscheck.harness import Harness, new_wires
from harnesscheck.parts.values import MILS
from harnesscheck.source import Source
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire

CMIL = MILS["cmil"]


@dataclass(frozen=True, slots=True)
class Carries:
    """What a wire may carry, amperes: alone in the air at its altitude, and in its bundle."""

    alone: float
    bundled: float
    wires: int
    """In the bundle."""
    share: float
    """Of the bundle's capacity in use, as the curve was read."""
    stated: bool
    """False: no bundle is stated, and all the wires of the kit were taken to be one."""
    words: str
    """Rating, ambient, bundle and altitude in words."""
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
    if gauge.awg in wire_resistance.CIRCULAR_MILS:
        return float(wire_resistance.CIRCULAR_MILS[gauge.awg])
    return area(gauge) / CMIL


def carries(harness: Harness, wire: Wire, loads: Mapping[str, float]) -> Carries | Gap:
    """What a wire may carry; ``loads`` gives the amperes of the wires that carry any. Or what is missing for it."""
    own = _air(harness, wire)
    if isinstance(own, Gap):
        return own
    stated = wire.bundle is not None
    mates = [
        other
        for other in (harness.wires.values() if stated else new_wires(harness))
        if not other.is_shield and (not stated or other.bundle == wire.bundle)
    ]
    mates = mates if wire in mates else [*mates, wire]
    airs = [own if other is wire else _air(harness, other) for other in mates]
    # A wire of which not everything is known adds no capacity, which errs on the side of a fuller bundle.
    capacity = [air.alone for air in airs if isinstance(air, _Air)]
    total = sum(loads.get(other.id, 0.0) for other in mates)
    share = next(
        (s for s in ampacity.SHARES if total <= s * sum(capacity) * ampacity.bundle_factor(len(mates), s)), 1.0
    )
    factor = ampacity.bundle_factor(len(mates), share)
    words = (
        f"rated {own.rating:g} C, {own.ambient:g} C around it, {len(mates)} wires in "
        f"{'bundle ' + wire.bundle if wire.bundle is not None else 'the kit'}, {100 * share:.0f} % in use, "
        f"{own.altitude:.0f} m"
    )
    return Carries(own.alone, own.alone * factor, len(mates), share, stated, words, own.source)


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
