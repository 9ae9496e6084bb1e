"""The tap on trial: the least jumper that makes a choice of taps, installed in memory and put to the checks.

The trial jumper leads the supply circuits and those that are tapped through and gives each tap a splice of its own.
Its wires are short and as thick as the contacts of most connectors take, so that what the checks say of it comes from
the circuits that were chosen and not from how the jumper is built.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from harnesscheck import checks
from harnesscheck.checks._words import in_turn
from harnesscheck.circuit import Tap
from harnesscheck.connector import Cavity, Connector, Mate, Origin, Use
from harnesscheck.decision import Override
from harnesscheck.finding import Finding, NotChecked, Severity
from harnesscheck.harness import Harness, Kind, install
from harnesscheck.place import Place, Point
from harnesscheck.splice import Splice
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire

TRUNK = 0.3
"""Way of each circuit through the trial jumper, metres: the least that leaves room for splices. Common practice."""
STUB = 0.3
"""Length of each branch, metres: the stub that every data bus of the rules stands."""
GAUGE = Gauge(awg=20)
"""Common practice: the thickest wire that a size 20 contact takes."""
_ONE, _TWO = "J0trial.one", "P0trial.two"


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the checks say of a set of taps."""

    faults: tuple[Finding, ...] = ()
    gaps: tuple[NotChecked, ...] = ()

    @property
    def ok(self) -> bool:
        """True when nothing stands against it."""
        return not self.faults


def carried(airframe: Harness, opened: tuple[str, str]) -> dict[str, list[str]]:
    """Circuit name to the cavities of the opened pair that carry it, in the order in which they are counted."""
    found: dict[str, set[str]] = {}
    for ref in opened:
        for name, cavity in airframe.connectors[ref].cavities.items():
            if cavity.circuit:
                found.setdefault(cavity.circuit, set()).add(name)
    order = {name: min(map(in_turn, cavities)) for name, cavities in found.items()}
    return {name: sorted(found[name], key=in_turn) for name in sorted(found, key=lambda each: order[each])}


class Court:
    """Puts sets of taps to the checks, each set once."""

    def __init__(
        self,
        airframe: Harness,
        boxes: Sequence[Harness],
        opened: tuple[str, str],
        overrides: Mapping[str, Override] | None = None,
    ) -> None:
        self.overrides = {} if overrides is None else overrides
        self.airframe, self.boxes, self.opened = airframe, tuple(boxes), opened
        self.cavities = carried(airframe, opened)
        self.asked = 0
        self._kept: dict[tuple[frozenset[tuple[Point, str]], tuple[str, ...]], Verdict] = {}
        self._before: dict[tuple[str, ...], frozenset[tuple[str, str]]] = {}

    def verdict(self, taps: Mapping[Point, str], names: Iterable[str], all_of_it: bool = True) -> Verdict:
        """What the named checks say of these taps (pin to circuit), without what they say of the aircraft alone.

        Without ``all_of_it`` the checks that solve the network are spared when another one has found something.
        """
        chosen = tuple(sorted(set(names)))
        key = (frozenset(taps.items()), chosen)
        if key in self._kept:
            return self._kept[key]
        harness = self.harness(taps)
        quick = tuple(name for name in chosen if name not in SOLVING)
        if not all_of_it and len(quick) < len(chosen):
            first = self._ask(harness, taps, quick)
            if first.faults:
                return first
        self._kept[key] = self._ask(harness, taps, chosen)
        return self._kept[key]

    def _ask(self, harness: Harness, taps: Mapping[Point, str], names: tuple[str, ...]) -> Verdict:
        self.asked += 1
        if names not in self._before and taps:
            alone = self._ask(self.harness({}), {}, names)
            self._before[names] = frozenset((f.check, f.headline) for f in alone.faults)
        report = checks.run(harness, names)
        served = {str(point) for point in taps}
        every = {str(pin.point) for box in self.boxes for pin in box.pins()}
        faults = tuple(
            f for f in report.findings
            if (f.severity in (Severity.STOP, Severity.CAUTION) or f.check in NOTES)
            and (f.check, f.headline) not in self._before.get(names, ())
            and (f.place.label in served or f.place.label not in every)
        )  # fmt: skip
        gaps = tuple(n for n in report.not_checked if n.place.label in served or n.place.label not in every)
        return Verdict(faults, gaps)

    @cached_property
    def _feeding(self) -> frozenset[str]:
        """The circuits that carry supply current or bring it back: their loads count whatever is tapped."""
        every = self.airframe.circuits.values()
        fed = {c.name for c in every if c.signal in ("power", "lighting", "ground") or c.load or c.peak}
        return frozenset(fed | {c.returns for c in every if c.returns is not None})

    def harness(self, taps: Mapping[Point, str]) -> Harness:
        """The aircraft with the trial jumper in it."""
        return install(self.airframe, self._jumper(taps), self.boxes)

    def _jumper(self, taps: Mapping[Point, str]) -> Harness:
        wires: dict[str, Wire] = {}
        splices: dict[str, Splice] = {}

        def wire(a: Point, b: Point, length: float, core: str | None = None) -> None:
            name = f"trial {len(wires) + 1}"
            wires[name] = Wire(name, a, b, Origin.JUMPER, gauge=GAUGE, length=length, core=core, bundle="trial")

        def half(ref: str, names: Iterable[str]) -> Connector:
            cavities = {
                name: Cavity(Point(ref, name), Place(f"{ref}-{name}"), Use.LIVE)
                for name in sorted(names, key=in_turn)
            }  # fmt: skip
            return Connector(ref, Place(ref), Origin.JUMPER, cavities=cavities)

        joined: dict[str, list[Point]] = {}
        for point, circuit in taps.items():
            joined.setdefault(circuit, []).append(point)
        for circuit, cavities in self.cavities.items():
            if circuit not in joined and circuit not in self._feeding:
                continue
            known = self.airframe.circuits.get(circuit)
            core = "drain" if known is not None and known.signal == "shield" else None
            for number, cavity in enumerate(cavities):
                here = Point(_ONE, cavity)
                tapping = joined.get(circuit, []) if number == 0 else []
                step = TRUNK / (len(tapping) + 1)
                for point in tapping:
                    ref = f"SP0trial.{len(splices) + 1}"
                    splices[ref] = Splice(ref, Place(ref), Origin.JUMPER)
                    wire(here, Point(ref), step, core)
                    wire(Point(ref), Point(f"P0trial.{point.ref}", point.cavity), STUB, core)
                    here = Point(ref)
                wire(here, Point(_TWO, cavity), step, core)
        named = {name for cavities in self.cavities.values() for name in cavities}
        connectors = {ref: half(ref, named) for ref in (_ONE, _TWO)}
        mates = [Mate(self.opened[0], _ONE, Place(_ONE)), Mate(self.opened[1], _TWO, Place(_TWO))]
        for box in self.boxes:
            for ref, socket in box.connectors.items():
                plug = f"P0trial.{ref}"
                connectors[plug] = half(plug, socket.cavities)
                mates.append(Mate(ref, plug, Place(plug)))
        return Harness(
            kind=Kind.JUMPER,
            title="trial jumper",
            drawer=self.airframe.drawer,
            connectors=connectors,
            wires=wires,
            splices=splices,
            mates=tuple(mates),
            taps={point: Tap(point, circuit, Place(str(point))) for point, circuit in taps.items()},
            opens=(self.opened,),
            overrides=self.overrides,
        )


SOLVING = frozenset({"supply-outside-range", "excess-voltage-drop"})
"""Checks that solve the network, which takes them longer than all others together."""
NOTES = frozenset({"driver-without-listener"})
"""Checks whose notes stand against a choice: a line that is laid for nothing is no tap."""
