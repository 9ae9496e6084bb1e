"""Data of ``test_bad_input.py``: slips in what a job says about power, with the place marked by hand."""

from __future__ import annotations

from bad_input_rows import MARK as M
from bad_input_rows import A, E, Row, swap

BREAKERS = "breakers:\n"
PWR = "WING EQPT PWR: {signal: power, supply: 14 V, breaker: CB7"
PIN = "current: 0.9 A, peak: 2.2 A}"
STUD = "returns: dc, terminals: 2}"


def source(name: str, said: str, says: str, do: str) -> Row:
    """A source is added to the airframe."""
    return swap(name, BREAKERS, f"sources:\n  ALT1: {{{said}}}\n{BREAKERS}", says, do, A)


def load(name: str, said: str, says: str, do: str) -> Row:
    """A load is added to the airframe."""
    return swap(name, BREAKERS, f"loads:\n  RADIO: {{{said}}}\n{BREAKERS}", says, do, A)


POWER = [
    source("source on no bus", f"kind: alternator, bus: {M}BUS2", "nothing is called 'BUS2' (bus)", "mean BUS1?"),
    source("kind of source", f"kind: {M}alternater", "not one of: alternator", "did you mean alternator?"),
    source("low above supply", f"kind: battery, low: 14.4 V, supply: {M}14.2 V", "low 14.4 V is more than", "rising"),
    source("low above high", f"kind: battery, high: {M}14 V, low: 14.4 V", "low 14.4 V is more than high", "rising"),
    source("usable share", f"kind: battery, usable: {M}75", "not a share", "0.75 or 75 %"),
    source("rating of nothing", f"kind: alternator, rating: {M}0 A", "a rating of nothing is none", "leave it out"),
    source("capacity", f"kind: battery, capacity: {M}18", "the unit is missing", "18 Ah"),
    load("phase of flight", f"phases: [takeoff, {M}lading]", "not one of: start", "did you mean landing?"),
    load("load behind no breaker", f"breaker: {M}CB8", "nothing is called 'CB8' (breaker)", "did you mean CB7"),
    swap("circuit returns to nothing", PWR, f"{PWR}, returns: {M}WING EQPT RETN", "no other circuit and no ground stud",
         "did you mean WING EQPT RTN?", A),
    swap("circuit returns to itself", PWR, f"{PWR}, returns: {M}WING EQPT PWR", "no other circuit", "", A),
    swap("returns by no pin", PIN, f"{PIN[:-1]}, returns: {M}9}}", "no other pin '9'", "did you mean 2, 3, 4", E),
    swap("kind of load", PIN, f"{PIN[:-1]}, load: {M}heater}}", "not one of: current", "", E),
    swap("bond without a unit", STUD, f"{STUD[:-1]}, bond: {M}1.2}}", "the unit is missing", "2.5 mohm", A),
]  # fmt: skip
