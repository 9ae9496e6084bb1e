"""One small job from its files to the text of the plan, worked out by hand and compared as a whole.

Invented for the tests: four contacts through P1/J1, a fan 500 mm away, a supply of 14 V behind a breaker of 5 A.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from harnesscheck.jumper.planning import Asked, Plan, plan
from harnesscheck.place import Point

EMPTY = ", ".join(f"{n}: {{contact: none}}" for n in range(5, 16))
AIRFRAME = """\
kind: airframe
title: Made up
zones:
  bay: {wet: no, ambient: -20 C to 60 C, altitude: 10000 ft}
routes:
  spar: {length: 500 mm, passages: {hole: 60 mm}, bend: 90 mm, zone: bay}
buses:
  BUS1: {supply: 14 V}
sources:
  ALT1: {kind: alternator, bus: BUS1, supply: 14.2 V, low: 13.5 V, high: 14.6 V, abnormal: 9 V to 16 V, rating: 40 A}
  BAT1: {kind: battery, bus: BUS1, supply: 12.6 V, low: 11.5 V, high: 14.6 V, capacity: 18 Ah, usable: 75 %}
loads:
  RADIO: {bus: BUS1, current: 1.1 A, peak: 6 A}
breakers:
  CB1: {name: BAY, rating: 5 A, bus: BUS1, resistance: 40 mohm}
grounds:
  GS1: {returns: dc, terminals: 2, bond: 1.4 mohm}
circuits:
  BAY PWR: {signal: power, supply: 14 V, breaker: CB1, load: 0.5 A, returns: BAY RTN}
  BAY RTN: {signal: ground}
  DOOR SW: {signal: discrete, note: open or ground}
connectors:
  P1:
    part: M24308/4-2
    marking: P1 BAY
    zone: bay
    contacts: M39029/64-369
    mates: J1
    cavities: {1: BAY PWR, 2: BAY RTN, 3: DOOR SW, 4: spare, NONE}
  J1:
    part: M24308/2-2
    marking: J1 BAY
    zone: bay
    contacts: M39029/63-368
    cavities: {4: spare, NONE}
wires:
  P101A22: {from: CB1-load, to: J1-1, type: M22759/16-22-2, length: 1.4 m}
  P102A22N: {from: GS1, to: J1-2, type: M22759/16-22-9, length: 0.8 m}
""".replace("NONE", EMPTY)
FAN = """\
kind: equipment
title: Fan
connectors:
  J1:
    part: M24308/4-1
    mating: M24308/2-1
    contacts: M39029/64-369
    pins:
      1: {function: POWER, signal: power, direction: in, supply: 10 V to 32 V, abnormal: 6 V to 40 V, current: 0.8 A,
          peak: 1.5 A, load: power, returns: 2}
      2: {function: RETURN, signal: ground}
"""

# The aircraft's marks are 101 and 102, so the kit's begin with 200. J101 is built like J1 and P101 like P1, for which
# 101 is free; the plug is the next number. The wording of the remarks is own output, regression only.
PLAN = """\
kind: jumper
title: "Jumper for Fan at P1/J1, Made up"
revision: A
airframe: airframe.yaml
equipment:
  A1: fan.yaml
opens: P1/J1

connectors:
  J101:
    # the same part as J1, which mates P1 today
    name: "jumper, to P1"
    part: M24308/2-2
    contacts: M39029/63-368
    zone: bay
    mates: P1
  P101:
    # the same part as P1, which mates J1 today
    name: "jumper, to J1"
    part: M24308/4-2
    contacts: M39029/64-369
    zone: bay
    mates: J1
  P102:
    # the maker of A1J1 names it
    # contact M39029/63-368: family, gender and size of the cavities, by the parts drawer
    name: plug for A1J1
    part: M24308/2-1
    contacts: M39029/63-368
    zone: bay
    mates: A1J1
    route: spar

splices:
  # the trunk is laid along the way to the unit as far as its splices; a branch is what is left of it
  SP1: {part: M81824/1-1, zone: bay, at: 305 mm from J101}
  SP2: {part: M81824/1-1, zone: bay, at: 330 mm from J101}

wires:
  # BAY PWR, tapped
  # through wire 22 AWG: as thick as the existing 22 AWG
  # branch to A1J1-1: 22 AWG behind CB1 (5 A, Table 11-3)
  P201A22: {from: J101-1, to: SP1, type: M22759/16-22-2, length: 305 mm, bundle: trunk}
  P201B22: {from: SP1, to: P101-1, type: M22759/16-22-2, length: 330 mm, bundle: trunk}
  P201C22: {from: SP1, to: P102-1, type: M22759/16-22-2, length: 305 mm, bundle: stub}
  # BAY RTN, tapped
  # through wire 22 AWG: as thick as the existing 22 AWG
  # branch to A1J1-2: 22 AWG, as thick as its feed
  P202A22N: {from: J101-2, to: SP2, type: M22759/16-22-9, length: 330 mm, bundle: trunk}
  P202B22N: {from: SP2, to: P101-2, type: M22759/16-22-9, length: 305 mm, bundle: trunk}
  P202C22N: {from: SP2, to: P102-2, type: M22759/16-22-9, length: 305 mm, bundle: stub}
  # led straight through
  # not known: the existing size at cavity 3
  W203A22: {from: J101-3, to: P101-3, type: M22759/16-22-2, length: 635 mm, bundle: trunk}
  # spares led through, so that they stay spares
  # not known: the existing size at cavity 4
  S204A22: {from: J101-4, to: P101-4, type: M22759/16-22-2, length: 635 mm, bundle: trunk}

taps:
  # the only power circuit at P1/J1
  # CB1 (5 A) carries 0.5 A, with 0.8 A more 1.3 A, 26% of its rating
  A1J1-1: BAY PWR
  # the only ground circuit at P1/J1
  # 0.5 A come back on BAY RTN already
  # the return of BAY PWR, as the airframe file says
  A1J1-2: BAY RTN

allowances:
  # connector: par. 11-118 asks for slack for two re-terminations; the amount is ours
  connector: 40 mm
  # splice: reach into the splice barrel
  splice: 10 mm
  # round up to: reading off a bench rule
  round up to: 5 mm
"""


@pytest.fixture(autouse=True)
def job(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("airframe.yaml").write_text(AIRFRAME, encoding="utf-8")
    Path("fan.yaml").write_text(FAN, encoding="utf-8")


def planned(**more: object) -> Plan:
    return plan(Asked("airframe.yaml", ("fan.yaml",), "P1/J1", "plan.yaml", **more))  # type: ignore[arg-type]


def test_a_supply_and_its_return_for_a_fan() -> None:
    """The splices keep 12 in (304.8 mm, so 305) from every connector and 25 mm from each other: 305 and 330, the trunk
    ends at 635. A branch would be 500 - 305 = 195 long, but must not be nearer to its plug than 305 either.

    Wire: 4 times 635 and twice 305 are 3.15 m, of 0.38 mm2 (19 strands of 34 AWG, 0.160 mm): 10.7 g of copper. Kinds of
    parts: two wires, one splice, three connectors, two contacts. 2 + 0.107 + 0.315 + 8 / 4 + 5 / 2 = 6.92; which five
    are not confirmed is what the drawer says (own output, regression only)."""
    made = planned()
    assert made.text is not None and made.noes == () and made.remarks == ()
    story, _, body = made.text.partition("kind: jumper\n")
    assert "kind: jumper\n" + body == PLAN
    words = " ".join(line.removeprefix("#").strip() for line in story.splitlines())
    assert words.startswith("Planned by harnesscheck tap. Read it, edit it; mark what is settled with '# fixed'")
    assert re.search(
        r"Cost by the weighted sum: 2 splices, 3\.15 m of wire, 11 g of copper, 8 kinds of parts "
        r"\(5 unconfirmed\): 6\.92; the cheapest of \d+ layouts that passes every check\.", words,
    )  # fmt: skip
    assert words.count("Second to it, 2 splices, 3.15 m of wire") == 3
    assert "splices in the order BAY RTN and BAY PWR." in words
    assert [(tap.pin, tap.circuit, tap.cavity) for tap in made.chosen.taps] == [
        (Point("A1J1", "1"), "BAY PWR", "1"), (Point("A1J1", "2"), "BAY RTN", "2"),
    ]  # fmt: skip
    assert made.report is not None and not made.report.findings
    assert {gap.check for gap in made.report.not_checked} == {"mixed-contact-finish"}, "no finish is in the drawer"


def test_a_longer_trunk_and_another_way() -> None:
    """A trunk of 1 m: the splices stay, 1000 - 305 = 695 and 1000 - 330 = 670 go on. A way of 803 mm counts as 805:
    branches of 500 and 475."""
    made = planned(trunk=1.0, branch=0.803, units=("A7",))
    assert made.text is not None
    lengths = dict(re.findall(r"^  (\w+): \{from.* length: (\d+) mm", made.text, re.MULTILINE))
    assert lengths == {
        "P201A22": "305", "P201B22": "695", "P201C22": "500", "P202A22N": "330", "P202B22N": "670", "P202C22N": "475",
        "W203A22": "1000", "S204A22": "1000",
    }  # fmt: skip
    assert "  A7: fan.yaml\n" in made.text and "  A7J1-1: BAY PWR\n" in made.text and "mates: A7J1" in made.text
