"""What the checks on power share: gaps in words, loads that the jumper touches, breakers and buses that feed them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from harnesscheck import units
from harnesscheck.checks._supply import Copper, coppers
from harnesscheck.device import Breaker
from harnesscheck.electrics.consumers import Consumer
from harnesscheck.electrics.elements import Gap
from harnesscheck.electrics.wiring import Wiring, wiring
from harnesscheck.finding import NotChecked
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Place, Point

CAUSES = (
    "pin-collision",
    "mirrored-pin-map",
    "shifted-pin-map",
    "ribbon-order-pin-map",
    "broken-through-circuit",
    "pin-map-mismatch",
)
"""Wiring faults that make currents flow where nobody meant them to."""


def share(text: str) -> float:
    """A share typed as a limit, like ``80 %``. Raises ``UnitError``."""
    found = re.fullmatch(r"([0-9]{1,3}(?:\.[0-9]{1,3})?) ?%", text)
    if not found or not 0 < float(found[1]) <= 100:
        raise units.UnitError("write a share above 0 and up to 100, like 80 %")
    return float(found[1]) / 100


def live(harness: Harness) -> Wiring | None:
    """The network of an installed harness with loads on it; None when there is nothing to compute."""
    if harness.kind is not Kind.INSTALLED:
        return None
    found = wiring(harness)
    return found if found.consumers else None


def unknown(gaps: Iterable[Gap], about: str = "") -> Iterator[NotChecked]:
    """Each gap once as *not checked*; ``about`` names the load that has no answer for it."""
    for gap in dict.fromkeys(gaps):
        yield NotChecked(place=gap.place, missing=gap.missing + (f" ({about})" if about else ""), remedy=gap.remedy)


def copper_of(harness: Harness, point: Point | None) -> Copper | None:
    """The piece of copper at a point."""
    net = harness.nets.of(point) if point is not None else None
    return coppers(harness)[net] if net is not None else None


def breakers_of(harness: Harness, consumer: Consumer) -> list[Breaker]:
    """The breakers that feed a load: by copper, else by name."""
    here = copper_of(harness, consumer.at)
    if here is not None and here.breakers:
        return here.breakers
    named = harness.breakers.get(consumer.circuit.breaker or "") if consumer.circuit else None
    return [named] if named else []


def buses_of(harness: Harness, consumer: Consumer) -> list[str]:
    """The buses that feed a load: by copper, else those that its breakers name."""
    here = copper_of(harness, consumer.at)
    named = [b.bus for b in breakers_of(harness, consumer) if b.bus in harness.buses]
    return sorted({name for name in [*(here.buses if here else []), *named] if name is not None})


def named(consumer: Consumer) -> str:
    """``A12J1-1 (POWER)``, or ``the load of NAV LT PWR``."""
    if consumer.pin is not None:
        return f"{consumer.name} ({consumer.pin.function})"
    return f"the {consumer.name}"


def at(point: Point, near: Place) -> Place:
    """A place for a point, with the position of what declared it."""
    return Place(str(point), near.document, near.line, near.column)


def volts(value: float) -> str:
    """``0.35 V``, ``13.5 V``: two decimals below 2 V, else one."""
    return f"{value:.2f} V" if abs(value) < 2 else f"{value:.1f} V"


def amps(value: float) -> str:
    """``2.2 A``; at most three significant figures."""
    return f"{value:.3g} A"
