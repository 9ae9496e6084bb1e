"""Every possible choice of circuits, each installed as the least jumper and put to the checks: the planner's oracle.

Shares nothing with the planner but the model, the checks and the words of the files. An assignment is good when

* every pin that must be served is, both conductors of a pair or neither, and both on one pair of the aircraft,
* no unit is on one line with two pins, but for supply, returns and shields,
* no circuit is used of which nobody has said what it is,
* no check that looks at circuits finds what it does not find in the same jumper without taps,
* nobody drives a line of which is not known who drives it already, and
* nothing is stated in two ways, so that no check could look at it.

``python -m tests.jumper.choice --whole N`` compares N small random pairs; ``--from SEED`` starts elsewhere.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Iterator, Mapping
from itertools import product
from pathlib import Path

from harnesscheck import checks
from harnesscheck.circuit import Tap
from harnesscheck.connector import Cavity, Connector, Mate, Origin, Use
from harnesscheck.device import Pin
from harnesscheck.finding import Severity
from harnesscheck.harness import Harness, Kind, install
from harnesscheck.jumper.choice import Chosen, choose
from harnesscheck.place import Place, Point
from harnesscheck.splice import Splice
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire
from tests.jumper import pairs

BUILT = frozenset(
    {
        "breaker-trip-band", "broken-through-circuit", "bundle-tight-in-passage", "colour-clash", "crowded-stud",
        "dead-end-wire", "drain-on-wrong-contact", "dropped-shield", "duplicate-wire-mark", "energised-pins",
        "exchangeable-plugs", "gauge-change-without-protector", "long-stub", "mirrored-pin-map", "missing-site-tool",
        "missing-slack", "missing-spare-contacts", "missing-wire-mark", "mixed-contact-finish", "over-ampacity",
        "overfull-splice", "pair-apart", "pin-collision", "plug-larger-than-passage", "ribbon-order-pin-map",
        "same-marking-on-both-halves", "several-splices-in-one-segment", "shifted-pin-map", "splice-near-connector",
        "split-pair", "thin-wire-behind-breaker", "tight-bend", "two-wires-in-one-contact", "unknown-cavity",
        "unplugged-cavity", "unsealed-connector-in-wet-zone", "unsealed-splice-in-wet-zone", "unstaggered-splices",
        "untwisted-length", "wire-below-circuit-voltage", "wire-below-zone-temperature", "wire-outside-crimp-barrel",
        "wire-outside-seal-range", "wire-shorter-than-route", "wrong-contact-family", "wrong-contact-gender",
        "wrong-mate", "wrong-sealing-plug", "copper-in-alloy-run", "floating-shield",
    }
)  # fmt: skip
"""Checks that look at how a jumper is built, not at which circuits it taps."""
ASKED = tuple(name for name in checks.names() if name not in BUILT)
PAIRED = frozenset({"can", "rs422", "rs485", "arinc429", "ethernet", "thermocouple"})
MOST = 4000
"""More assignments than this are not gone through."""


class Oracle:
    """One airframe with its equipment."""

    def __init__(self, asked: pairs.Asked) -> None:
        self.asked = asked
        self.airframe = asked.airframe
        self.pins = [p for box in asked.boxes for p in box.pins() if p.connect and p.signal != "none"]
        self.at: dict[str, str] = {}
        for ref in asked.opened:
            for name, cavity in self.airframe.connectors[ref].cavities.items():
                if cavity.circuit:
                    self.at.setdefault(cavity.circuit, name)
        self.before = frozenset(self.findings({}))
        self.count = 0

    def domains(self) -> list[list[str | None]]:
        """For each pin the circuits that pin-map-mismatch has nothing against, and nothing where it may be open."""
        found: list[list[str | None]] = []
        for pin in self.pins:
            fits: list[str | None] = []
            for name in self.at:
                circuit = self.airframe.circuits[name]
                if circuit.signal is not None and not self._unlike(pin, name):
                    fits.append(name)
            found.append([*fits, None])
        return found

    def _unlike(self, pin: Pin, name: str) -> bool:
        report = checks.run(self.installed({pin.point: name}), ["pin-map-mismatch"])
        return any(finding.place.label.startswith(str(pin.point)) and name in finding.headline for finding in report)

    def assignments(self, required: bool) -> Iterator[dict[Point, str]]:
        """Every choice; with ``required`` only those that serve all pins that must be."""
        domains = self.domains()
        if required:
            domains = [
                [n for n in names if n is not None or not pin.required]
                for pin, names in zip(self.pins, domains, strict=True)
            ]
        self.count = 1
        for names in domains:
            self.count *= len(names)
        if self.count > MOST:
            raise TooManyError(self.count)
        for names in product(*domains):
            yield {pin.point: name for pin, name in zip(self.pins, names, strict=True) if name is not None}

    def good(self, taps: Mapping[Point, str]) -> bool:
        """Whether every rule at the head of this file is kept."""
        return self._coupled(taps) and not self._doubled(taps) and not self.findings(taps)

    def most_served(self) -> int | None:
        """The most pins that any good choice serves which serves all that must be; None when there is none."""
        every = sorted(self.assignments(required=True), key=len, reverse=True)
        return next((len(taps) for taps in every if self.good(taps)), None)

    def _coupled(self, taps: Mapping[Point, str]) -> bool:
        """Both conductors of a pair or neither, on one pair of the aircraft. Pairs follow each other in the files."""
        following = zip(self.pins, self.pins[1:], strict=False)
        skip = None
        for one, two in following:
            if one is skip or one.signal not in PAIRED or one.signal != two.signal or one.line == two.line:
                continue
            if one.point.ref != two.point.ref:
                continue
            skip = two
            first, second = taps.get(one.point), taps.get(two.point)
            if (first is None) != (second is None):
                return False
            if first and second and self.airframe.circuits[first].pair != self.airframe.circuits[second].pair:
                return False
        return True

    def _doubled(self, taps: Mapping[Point, str]) -> bool:
        """One unit on one line with two pins."""
        free = ("power", "ground", "signal ground", "shield")
        named = [(pin.point.ref, taps[pin.point]) for pin in self.pins if pin.point in taps and pin.signal not in free]
        return len(named) > len(set(named))

    # -- the least jumper --------------------------------------------------------------------------------------

    def findings(self, taps: Mapping[Point, str]) -> set[tuple[str, str]]:
        """What the checks have against these taps: check and headline."""
        report = checks.run(self.installed(taps), ASKED)
        open_ = {str(pin.point) for pin in self.pins if pin.point not in taps}
        found = {
            (finding.check, finding.headline)
            for finding in report
            if finding.place.label not in open_
            and (finding.severity is not Severity.NOTE or finding.check == "driver-without-listener")
        }
        drives = any(pin.point in taps and pin.direction in ("out", "both") for pin in self.pins)
        if drives:
            found |= {
                (gap.check, gap.missing)
                for gap in report.not_checked
                if gap.check in ("two-drivers", "paralleled-sources") and gap.place.label not in open_
            }
        found |= {(gap.check, gap.missing) for gap in report.not_checked if "stated in two ways" in gap.missing}
        return found - self.before if hasattr(self, "before") else found

    def installed(self, taps: Mapping[Point, str]) -> Harness:
        """The aircraft with the least jumper that makes these taps: 0.3 m through it, 0.3 m to each pin."""
        one, two = self.asked.opened
        wires: dict[str, Wire] = {}
        splices: dict[str, Splice] = {}
        halves: dict[str, dict[str, Cavity]] = {"X1": {}, "X2": {}}

        def point(ref: str, cavity: str) -> Point:
            halves.setdefault(ref, {})[cavity] = Cavity(Point(ref, cavity), Place(f"{ref}-{cavity}"), Use.LIVE)
            return Point(ref, cavity)

        def lead(a: Point, b: Point, metres: float, shield: bool) -> None:
            name = f"N{len(wires)}"
            core = "shield" if shield else None
            wires[name] = Wire(name, a, b, Origin.JUMPER, gauge=Gauge(awg=20), length=metres, core=core)

        plugs = {}
        for box in self.asked.boxes:
            for ref in box.connectors:
                plugs[ref] = f"X{len(plugs) + 3}"
        for name, cavity in self.at.items():
            shield = self.airframe.circuits[name].signal == "shield"
            here, there = point("X1", cavity), point("X2", cavity)
            tapping = [pin for pin in self.pins if taps.get(pin.point) == name]
            step = 0.3 / (len(tapping) + 1)
            for pin in tapping:
                ref = f"Y{len(splices)}"
                splices[ref] = Splice(ref, Place(ref), Origin.JUMPER)
                lead(here, Point(ref), step, shield)
                lead(Point(ref), point(plugs[pin.point.ref], pin.point.cavity), 0.3, shield)
                here = Point(ref)
            lead(here, there, step, shield)
        connectors = {r: Connector(r, Place(r), Origin.JUMPER, cavities=c) for r, c in halves.items()}
        mates = [Mate("X1", one, Place("X1")), Mate("X2", two, Place("X2"))]
        mates += [Mate(plug, ref, Place(plug)) for ref, plug in plugs.items() if plug in connectors]
        kit = Harness(
            Kind.JUMPER, "least jumper", self.airframe.drawer, connectors=connectors, wires=wires, splices=splices,
            mates=tuple(mates), taps={p: Tap(p, name, Place(str(p))) for p, name in taps.items()}, opens=(one, two),
        )  # fmt: skip
        return install(self.airframe, kit, self.asked.boxes)


class TooManyError(Exception):
    """More assignments than are gone through."""


def compare(seed: int, root: Path) -> str:
    """``plan``, ``refused`` or ``too many``. Raises ``AssertionError`` where planner and oracle differ."""
    asked = pairs.read(pairs.pair(seed, root, small=True))
    chosen = choose(asked.airframe, asked.boxes, asked.opened)
    oracle = Oracle(asked)
    taps = {tap.pin: tap.circuit for tap in chosen.taps}
    _whole(seed, chosen, oracle)
    if not chosen.refusals:
        assert oracle.good(taps), f"{seed}: the checks have something against the choice: {oracle.findings(taps)}"
    try:
        most = oracle.most_served()
    except TooManyError:
        return "too many"
    if chosen.refusals:
        said = "; ".join(f"{r.pin}: {r.reason}" for r in chosen.refusals)
        assert most is None, f"{seed}: refused, but there is a choice that serves {most} pins: {said}"
        return "refused"
    assert most == len(taps), f"{seed}: {len(taps)} pins served, {most} can be"
    return "plan"


def _whole(seed: int, chosen: Chosen, oracle: Oracle) -> None:
    """Every pin is tapped, left or refused, and exactly one of these."""
    every = [tap.pin for tap in chosen.taps] + [pin for pin, _ in chosen.left] + [r.pin for r in chosen.refusals]
    pins = [pin.point for box in oracle.asked.boxes for pin in box.pins()]
    assert sorted(map(str, every)) == sorted(map(str, pins)), f"{seed}: {every}"
    for tap in chosen.taps:
        assert tap.cavity == oracle.at[tap.circuit], f"{seed}: {tap}"
        assert tap.reasons, f"{seed}: no reason for {tap}"
    must = {pin.point for pin in oracle.pins if pin.required}
    assert not must & {pin for pin, _ in chosen.left}, f"{seed}: a pin that must be served is left"


def main(arguments: list[str]) -> int:
    """Compare many."""
    count = int(arguments[arguments.index("--whole") + 1]) if "--whole" in arguments else 100
    first = int(arguments[arguments.index("--from") + 1]) if "--from" in arguments else 0
    totals: dict[str, int] = {}
    started = time.perf_counter()
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(first, first + count):
            try:
                answer = compare(seed, Path(folder))
            except AssertionError as error:
                answer = "DIFFERENT"
                print(error, flush=True)
            totals[answer] = totals.get(answer, 0) + 1
            if sys.stdout.isatty():
                print(f"\r{seed - first + 1} of {count} {totals}", end="", flush=True)
    print(f"\n{count} pairs from seed {first}: {totals}, {time.perf_counter() - started:.0f} s")
    return 1 if "DIFFERENT" in totals else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
