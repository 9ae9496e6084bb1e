"""What a customer says, word by word; weights of the faults are products of eights counted by hand."""

from __future__ import annotations

import pytest

from harnesscheck.place import Point
from harnesscheck.trouble.faults import Plan, Trouble
from harnesscheck.trouble.symptoms import SYMPTOMS, factors, named, understood

DEAD, BUS, SERIAL, QUIT, TRIPS, COMES, READS, WEAK, NOISE, ALL = (s.says for s in SYMPTOMS)


@pytest.mark.parametrize(
    ("text", "heard"),
    [
        ("new unit dead", {DEAD}), ("The new BOX is dark!", {DEAD}), ("new sensor won't start", {DEAD}),
        ("old unit dead", {QUIT}), ("the new unit is dead, the old one works", {DEAD, QUIT}),
        ("CAN errors", {BUS}), ("network timeout", {BUS}), ("bus ok", set()), ("errors", set()),
        ("no gps position", {SERIAL}), ("data lost", {BUS, SERIAL}), ("rs232 missing", {SERIAL}),
        ("the transponder quit", {QUIT}), ("transponder installed", set()),
        ("breaker pops", {TRIPS}), ("fuse blown", {TRIPS}), ("breaker in", set()),
        ("intermittent", {COMES}), ("it flickers in vibration", {COMES}),
        ("temperature erratic", {READS}), ("gauge jumps", {READS}),
        ("it reboots", {WEAK}), ("lamp dim", {WEAK}), ("a whine", {NOISE}), ("everything is crazy", {ALL}),
        ("nothing works", {ALL}), ("beautiful weather", set()), ("", set()),
        # slips in words of four letters and more only
        ("intermitent", {COMES}), ("the brekaer tripps", {TRIPS}), ("teh cna erorrs", set()), ("fues blwon", {TRIPS}),
        ("hun", set()), ("hum", {NOISE}),
    ],
)  # fmt: skip
def test_what_is_understood(text: str, heard: set[str]) -> None:
    assert {s.says for s in understood(text)} == heard


J = [Point("J1", str(n)) for n in range(9)]
PLAN = Plan(
    signals={J[1]: "power", J[2]: "ground", J[3]: "can", J[4]: "rs232", J[5]: "discrete", Point("P9", "1"): "discrete"},
    names={J[1]: "WING EQPT PWR", J[2]: "GEN GND", J[3]: "CAN H", J[4]: "AOA TX", J[5]: "STALL WARN"},
    wires={"W3": (J[3],)},
)


@pytest.mark.parametrize(
    ("text", "circuits"),
    [
        ("the AOA display", ["AOA TX"]), ("aoa tx", ["AOA TX"]), ("stall warning", ["STALL WARN"]),
        ("stal horn", ["STALL WARN"]), ("the can bus", []), ("can h", ["CAN H"]), ("scan h", []), ("can hx", []),
        ("wing", ["WING EQPT PWR"]), ("wign", []), ("gen out", ["GEN GND"]), ("gnd", []), ("pwr", []), ("tx", []),
        ("stall on wing", ["WING EQPT PWR", "STALL WARN"]),
    ],
)  # fmt: skip
def test_circuits_that_are_named(text: str, circuits: list[str]) -> None:
    """``can``, ``gnd``, ``pwr`` are said of any circuit; short words want every letter, longer ones hold a slip."""
    assert named(text, PLAN) == circuits


def trouble(kind: str, *points: Point, wires: tuple[str, ...] = ()) -> Trouble:
    return Trouble(kind, "", "", points=points, wires=wires)


FAULTS = [
    trouble("contact open", J[1]), trouble("high resistance", J[2]), trouble("short between neighbours", J[3], J[4]),
    trouble("wire open", wires=("W3",)), trouble("contact open", Point("P9", "1")),
    trouble("contact open", J[5]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "stubs", "weights"),
    [
        ("hello", {"J1"}, {}),
        ("new unit dead", {"J1"}, {0: 8, 1: 8}), ("new unit dead", {"P9"}, {}),
        ("can errors", set(), {2: 8, 3: 8}), ("can h errors", set(), {2: 64, 3: 64}),
        ("comes and goes", set(), {0: 8, 1: 8, 2: 8, 4: 8, 5: 8}),
        ("it resets sometimes", set(), {0: 8, 1: 64, 2: 8, 4: 8, 5: 8}),
        ("old radio quit", {"J1"}, {4: 8}), ("old radio quit", {"P9"}, {0: 8, 1: 8, 2: 8, 3: 8, 5: 8}),
        ("stall", set(), {5: 8}), ("the breaker trips", set(), {2: 8}),
    ],
)  # fmt: skip
def test_weights_of_faults(text: str, stubs: set[str], weights: dict[int, float]) -> None:
    assert factors(text, FAULTS, PLAN, frozenset(stubs)) == weights
