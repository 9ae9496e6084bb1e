"""Which test line proves which wire: every conductor of the kit, and every circuit of a disturbed connector."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.harness import Harness, new_wires
from harnesscheck.place import Point
from harnesscheck.sheets._say import signal
from harnesscheck.sheets._steps import disturbed


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the functional test: one piece of copper, and every new wire in it."""

    name: str
    """Circuit, or the places it joins where no pin map names it."""
    signal: str
    wires: tuple[str, ...]
    pins: tuple[str, ...]
    """Pins of new equipment on it."""
    carries: bool
    """False for a spare: nothing in use shows that it is whole, the ring-out does."""


def lines(harness: Harness) -> list[Line]:
    """One line for each net with a new wire or a disturbed cavity of a known circuit; every new wire is on one."""
    wires: dict[int, list[str]] = {}
    nets = harness.nets
    for wire in new_wires(harness):
        wires.setdefault(nets.of(wire.a) or 0, []).append(wire.id)
    cavities: dict[int, tuple[str, str]] = {}
    for ref in disturbed(harness):
        for cavity in harness.connectors[ref].cavities.values():
            name, kind = signal(harness, cavity)
            net = nets.of(cavity.point)
            if name and net is not None:
                cavities.setdefault(net, (name, kind))
    pins: dict[int, list[tuple[Point, str]]] = {}
    for pin in harness.pins():
        net = nets.of(pin.point)
        if net is not None and pin.connect:
            pins.setdefault(net, []).append((pin.point, pin.function))
    found = []
    for net in sorted({*wires, *cavities}, key=lambda n: (n not in cavities, n)):
        own = pins.get(net, [])
        name, kind = cavities.get(net, ("", ""))
        ends = sorted({str(p) for w in wires.get(net, []) for p in (harness.wires[w].a, harness.wires[w].b) if p.ref})
        found.append(
            Line(
                name or (own[0][1] if own else ", ".join(ends)),
                kind,
                tuple(wires.get(net, [])),
                tuple(f"{point} {function}" for point, function in own),
                bool(name or own),
            )
        )
    return found
