"""How much processor time planning a tap at a connector with 100 contacts takes, beside the check of its result.

Run it by hand from the checkout; pytest does not collect it::

    python tests/bench/plan_tap.py             # 3 plans
    python tests/bench/plan_tap.py --runs 9    # steadier

Prints the median of ``plan`` and of ``check`` of the planned jumper, both in one warm process, and their ratio. The
project's own target is 2 seconds for the plan on the machine of the day. Exit status 1 when it is missed.
The aircraft is invented.
"""

from __future__ import annotations

import argparse
import os
import statistics
import sys
import tempfile
import time
from pathlib import Path

import harnesscheck as hc
from harnesscheck.jumper.planning import Asked, plan

TARGET = 2.0
CONTACTS = 100
"""Insert 23-35 of the 38999 series III has 100 contacts of size 22D."""


def main() -> int:
    """Plan, check, print."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--runs", type=int, default=3)
    runs = parser.parse_args().runs
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        write(Path(folder))
        asked = Asked("airframe.yaml", ("unit.yaml",), "P14/J14", "plan.yaml", units=("A12",))
        plans, checks = [], []
        for _ in range(runs):
            start = time.process_time()
            made = plan(asked)
            plans.append(time.process_time() - start)
            assert made.text is not None, made.noes
            Path("plan.yaml").write_text(made.text, encoding="utf-8")
            job = hc.load("plan.yaml")
            start = time.process_time()
            hc.check(job)
            checks.append(time.process_time() - start)
        assert made.kit is not None and made.result is not None
        print(f"{len(list(made.kit.leads()))} wires, {made.result.looked_at} layouts; {made.result.best.cost}")  # type: ignore[union-attr]
    first, whole, check = plans[0], statistics.median(plans), statistics.median(checks)
    print(f"plan: first {first:.2f} s, median {whole:.2f} s; check {check:.3f} s; ratio {whole / check:.1f}")
    print(f"target: {TARGET:g} s: {'kept' if first <= TARGET else 'MISSED'}")
    return 0 if first <= TARGET else 1


def write(folder: Path) -> None:
    """The airframe and the equipment."""
    lines = {1: "UNIT PWR", 2: "UNIT RTN", 3: "BUS H", 4: "BUS L", 5: "BUS SHIELD", 6: "DATA OUT", 7: "DATA GND"}
    circuits = [
        "  UNIT PWR: {signal: power, supply: 14 V, breaker: CB1, load: 0.5 A, returns: UNIT RTN}",
        "  UNIT RTN: {signal: ground}",
        "  BUS H: {signal: can, kind: J1939, line: H, pair: BUS, rate: 250 kbit/s, bus length: 6 m, topology: line,"
        " receivers: 3, terminators: 2, terminator: 120 ohm}",
        "  BUS L: {signal: can, kind: J1939, line: L, pair: BUS}",
        "  BUS SHIELD: {signal: shield, shields: BUS, shield ends: one}",
        "  DATA OUT: {signal: rs232, drivers: 1, receivers: 1, input resistance: 5 kohm, bus length: 2 m}",
        "  DATA GND: {signal: signal ground}",
    ]
    for number in range(8, 91):
        lines[number] = f"SWITCH {number}"
        circuits.append(f"  SWITCH {number}: {{signal: discrete}}")
    cavities = [f"      {n}: {lines.get(n, 'spare')}" for n in range(1, CONTACTS + 1)]
    half = "\n".join(cavities)
    air = f"""kind: airframe
title: Airframe with a large disconnect
zones: {{bay: {{wet: no, ambient: -20 C to 60 C, altitude: 15000 ft}}}}
routes: {{to the unit: {{length: 900 mm, passages: {{cutout: 70 mm}}, bend: 90 mm, zone: bay}}}}
buses: {{BUS1: {{supply: 14 V}}}}
sources: {{ALT1: {{kind: alternator, bus: BUS1, supply: 14.2 V, low: 13.5 V, high: 14.6 V, rating: 40 A}}}}
breakers: {{CB1: {{rating: 5 A, bus: BUS1}}}}
grounds: {{GS1: {{returns: dc, terminals: 1, bond: 1 mohm}}}}
circuits:
{chr(10).join(circuits)}
connectors:
  P14:
    part: D38999/26WH35PN
    contacts: M39029/58-360
    plugs: MS27488-22-2
    zone: bay
    mates: J14
    cavities:
{half}
  J14:
    part: D38999/24WH35SN
    contacts: M39029/56-348
    plugs: MS27488-22-2
    zone: bay
    cavities:
{half}
wires:
  P101A22: {{from: CB1-load, to: J14-1, type: M22759/16-22-9, length: 1 m}}
  P102A22N: {{from: GS1, to: J14-2, type: M22759/16-22-9, length: 0.5 m}}
"""
    unit = """kind: equipment
title: Unit
connectors:
  J1:
    part: D38999/24WA35PN
    mating: D38999/26WA35SN
    contacts: M39029/58-360
    pins:
      1: {function: POWER, signal: power, direction: in, supply: 9 V to 32 V, current: 0.2 A, load: power, returns: 2}
      2: {function: RETURN, signal: ground}
      3: {function: BUS H, signal: can, line: H, direction: both, terminator: none, terminator state: none}
      4: {function: BUS L, signal: can, line: L, direction: both}
      5: {function: DATA IN, signal: rs232, direction: in, input resistance: 12 kohm}
      6: {function: DATA GND, signal: signal ground}
"""
    (folder / "airframe.yaml").write_text(air, encoding="utf-8")
    (folder / "unit.yaml").write_text(unit, encoding="utf-8")


if __name__ == "__main__":
    sys.exit(main())
