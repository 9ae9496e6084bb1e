"""What the files of a clean job say about its supply: sources, loads, returns, bonds, and bundles of the feeds.

Called when a job is laid out. Values are invented and apart from the checks; the currents are small because the longest
run of the corpus (some 12 m of 22 AWG and back) has to stay within the drop that a 14 V system allows.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.corpus.signals import pins_of

if TYPE_CHECKING:
    from tests.corpus.build import Build, Line

FED = ("power", "lighting")
SUPPLY = {14: ("14.2 V", "13.2 V", "14.8 V"), 28: ("28.4 V", "26.5 V", "29.2 V")}


def state(build: Build) -> None:
    """Complete sources, loads, circuits, grounds, breakers and pins, and tie every feed apart from the bundle."""
    supply, low, high = SUPPLY[build.volts]
    build.air["sources"] = {
        "ALT1": {"kind": "alternator", "bus": "BUS1", "supply": supply, "low": low, "high": high,
                 "rating": build.rng.choice(("40 A", "60 A"))},
    }  # fmt: skip
    if build.chance(0.5):
        build.air["sources"]["BAT1"] = {
            "kind": "battery", "bus": "BUS1", "supply": low, "low": low, "high": high, "capacity": "18 Ah",
            "usable": "75 %",
        }  # fmt: skip
    if build.chance(0.4):
        build.air["sources"]["ALT1"]["abnormal"] = "10 V to 31 V"
    build.air["loads"] = {
        "RADIO": {"bus": "BUS1", "current": "2 A", "peak": "6 A"},
        "LANDING LIGHT": {"bus": "BUS1", "current": "7 A", "phases": ["takeoff", "landing"]},
        "PITOT HEAT": {"bus": "BUS1", "current": "8 A", "phases": ["climb", "cruise", "descent"]},
        "STARTER RELAY": {"bus": "BUS1", "current": "3 A", "duty": "intermittent", "phases": ["start"]},
    }
    for ground in build.air["grounds"].values():
        ground["bond"] = build.rng.choice(("0.8 mohm", "1.5 mohm", "2.4 mohm"))
    for breaker in build.air["breakers"].values():
        breaker["resistance"] = "30 mohm" if build.chance(0.5) else "20 mohm"
    every = [line for run in build.runs for line in run.lines]
    returns = [line.name for line in every if line.signal == "ground" and not line.second]
    for line in every:
        if line.signal in FED and not line.second:
            build.air["circuits"][line.name].update(_load(build, returns))
            for pin in pins_of(build, line):
                share = 2 if len(line.taps) == 1 else 1
                pin |= {"current": f"{0.1 * share:g} A", "peak": f"{0.2 * share:g} A"}
    _tied_apart(build, every)


def _load(build: Build, returns: list[str]) -> dict[str, str]:
    """What hangs on a circuit already: nothing, or a small load that returns by the pair or at a stud."""
    if not returns or build.chance(0.3):
        return {"load": "0 A"}
    back = build.rng.choice(returns)
    said = {"load": "0.2 A", "returns": back}
    return said | {"peak": "0.4 A"} if build.chance(0.5) else said


def _tied_apart(build: Build, every: list[Line]) -> None:
    """Feeds lie outside the bundle: between rating and trip point of its breaker a wire must stand the current."""
    halves = [ref for ref, entry in build.jump["connectors"].items() if entry["name"].startswith("jumper")]
    ends = set()
    for line in every:
        if line.signal in FED:
            ends |= {f"{ref}-{line.cavity}" for ref in halves} | {f"{plug}-{cavity}" for plug, cavity in line.taps}
    for name, wire in build.jump["wires"].items():
        if "bundle" in wire and ends & {wire["from"], wire["to"]}:
            wire["bundle"] = f"feed {name}"
