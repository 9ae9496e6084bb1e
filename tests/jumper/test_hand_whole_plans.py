"""Whole plans of three pins, worked out by hand to the end: wires, splices, lengths, cost, words, refusals."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from harnesscheck.jumper.deciding import Decision
from harnesscheck.jumper.kit import Kit
from harnesscheck.jumper.planning import Asked, Plan, plan
from harnesscheck.jumper.stopping import No
from harnesscheck.place import Point

PARTS = Path(__file__).parents[2] / "harnesses" / "cabin-fan" / "shop-parts.yaml"
AIRFRAME = """kind: airframe
title: Demo
note: invented for a test
parts: shop-parts.yaml
zones:
  cabin: {{wet: no, ambient: -20 C to 60 C, altitude: 15000 ft}}
routes:
  post: {{length: 903 mm, zone: cabin}}
buses: {{BUS1: {{supply: 14 V}}}}
sources: {{ALT1: {{kind: alternator, bus: BUS1, supply: 14.2 V, low: 13.5 V, high: 14.6 V, rating: 40 A}}}}
breakers:
  CB1: {{rating: 5 A, bus: BUS1, resistance: 40 mohm}}
  CB2: {{rating: 3 A, bus: BUS1, resistance: 40 mohm}}
grounds: {{GS1: {{returns: dc, terminals: 2, bond: 1.4 mohm}}}}
circuits:
  PWR: {{signal: power, supply: 14 V, breaker: CB1, load: 0.5 A, returns: RTN}}
  RTN: {{signal: ground}}
  GPS: {{signal: rs232, drivers: 1, receivers: {receivers}, input resistance: 12 kohm, bus length: 2 m}}
connectors:
  P31:
    part: M24308/4-{insert}
    zone: cabin
    contacts: M39029/64-369
    mates: J31
    cavities: {{1: PWR, 2: RTN, 3: GPS, 4: spare, {none}}}
  J31: {{part: M24308/2-{insert}, zone: cabin, contacts: M39029/63-368, cavities: {{4: spare, {none}}}}}
wires:
  P131A20: {{from: CB1-load, to: J31-1, type: M22759/16-20-9, length: 1.4 m}}
  P132A20N: {{from: GS1, to: J31-2, type: M22759/16-20-9, length: 0.8 m}}
"""
BOX = """kind: equipment
title: Box
note: invented for a test
connectors:
  J1:
    part: M24308/4-1
    mating: M24308/2-1
    contacts: M39029/64-369
    pins:
      1: {function: POWER, signal: power, direction: in, supply: 9 V to 32 V, current: 0.8 A, peak: 1.5 A, load: power,
          returns: 2}
      2: {function: RETURN, signal: ground}
      3: {function: RX, signal: rs232, direction: in, input resistance: 50 kohm}
      4: {function: TEST, signal: none, connect: no}
"""
ASKED = Asked("airframe.yaml", ("box.yaml",), "P31/J31", "plan.yaml", units=("A21",))


def planned(cavities: int = 15, receivers: int = 1, **asked: Any) -> Plan:
    """A plan in the current folder: a pair with so many cavities, four of which have a contact."""
    none = ", ".join(f"{n}: {{contact: none}}" for n in range(5, cavities + 1))
    shutil.copy(PARTS, "shop-parts.yaml")
    insert = {15: 2, 9: 1}[cavities]
    text = AIRFRAME.format(none=none, insert=insert, receivers=receivers)
    Path("airframe.yaml").write_text(text, encoding="utf-8")
    Path("box.yaml").write_text(BOX, encoding="utf-8")
    return plan(replace(ASKED, **asked))


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def leads(kit: Kit) -> dict[str, list[tuple[str, str, str, str | None, int, str]]]:
    """The wires under each line of the file: mark, ends, type, millimetres, bundle."""
    return {
        section.title: [(w.id, str(w.a), str(w.b), w.type, w.length, w.bundle) for w in section.leads]
        for section in kit.sections
    }


def wire(mark: str, a: str, b: str, gauge: int, length: int, bundle: str = "trunk") -> tuple[Any, ...]:
    """White wire of the aircraft's own specification."""
    return mark, a, b, f"M22759/16-{gauge}-9", length, bundle


def test_three_pins_worked_out_by_hand() -> None:
    """The way of 903 mm is laid as 905. Splices keep 12 in, 304.8 mm, laid as 305, and a sleeve of 27.94 mm, as 30.

    So they sit at 305, 335 and 365 mm; the trunk ends 305 further, at 670; branches are 905 less 305, 335, 365. 5 A
    need 22 AWG (Table 11-3), a through wire is as thick as what is there. No order is better: as the cavities come.
    """
    made = planned()
    kit = made.kit
    assert kit is not None and made.noes == () and made.title == "Jumper for Box at P31/J31, Demo"
    assert [(half.ref, half.part, half.contacts, half.mates, half.zone, half.route) for half in kit.halves] == [
        ("J131", "M24308/2-2", "M39029/63-368", "P31", "cabin", None),
        ("P131", "M24308/4-2", "M39029/64-369", "J31", "cabin", None),
        ("P132", "M24308/2-1", "M39029/63-368", "A21J1", "cabin", "post"),
    ]
    assert [(joint.ref, joint.part, joint.at, joint.at_ref, joint.zone) for joint in kit.joints] == [
        ("SP1", "M81824/1-2", 305, "J131", "cabin"), ("SP2", "M81824/1-2", 335, "J131", "cabin"),
        ("SP3", "M81824/1-1", 365, "J131", "cabin"),
    ]  # fmt: skip
    assert kit.sheaths == () and leads(kit) == {
        "PWR, tapped": [
            wire("P201A20", "J131-1", "SP1", 20, 305), wire("P201B20", "SP1", "P131-1", 20, 365),
            wire("P201C22", "SP1", "P132-1", 22, 600, "stub"),
        ],
        "RTN, tapped": [
            wire("P202A20N", "J131-2", "SP2", 20, 335), wire("P202B20N", "SP2", "P131-2", 20, 335),
            wire("P202C22N", "SP2", "P132-2", 22, 570, "stub"),
        ],
        "GPS, tapped": [
            wire("R203A22", "J131-3", "SP3", 22, 365), wire("R203B22", "SP3", "P131-3", 22, 305),
            wire("R203C22", "SP3", "P132-3", 22, 540, "stub"),
        ],
        "spares led through, so that they stay spares": [wire("S204A22", "J131-4", "P131-4", 22, 670)],
    }  # fmt: skip
    assert [section.why for section in kit.sections] == [
        ("through wire 20 AWG: as thick as the existing 20 AWG",
         "branch to A21J1-1: 22 AWG behind CB1 (5 A, Table 11-3)"),
        ("through wire 20 AWG: as thick as the existing 20 AWG", "branch to A21J1-2: 22 AWG, as thick as its feed"),
        ("through wire 22 AWG: signal wire; not known: the existing size", "branch to A21J1-3: 22 AWG"),
        ("not known: the existing size at cavity 4",),
    ]  # fmt: skip
    pins = [Point("A21J1", str(n)) for n in (1, 2, 3)]
    assert kit.taps == dict(zip(pins, ("PWR", "RTN", "GPS"), strict=True)) and kit.tap_reasons == {
        # (0.5 A + 0.8 A) / 5 A = 26 %; three receivers of TIA-232 is what the check grants
        pins[0]: ("the only power circuit at P31/J31",
                  "CB1 (5 A) carries 0.5 A, with 0.8 A more 1.3 A, 26% of its rating"),
        pins[1]: ("the only ground circuit at P31/J31", "0.5 A come back on RTN already",
                  "the return of PWR, as the airframe file says"),
        pins[2]: ("the only rs232 circuit at P31/J31", "1 listen to it, 3 may"),
    }  # fmt: skip
    assert [tap.cavity for tap in made.chosen.taps] == ["1", "2", "3"]
    assert [tap.others for tap in made.chosen.taps] == [(), (), ()]
    assert made.remarks == ("A21J1-4 stays open: TEST: the maker says that nothing may be connected",)
    assert kit.unknown == () == kit.site_tools and kit.opened == ("P31", "J31")
    result = made.result
    assert result is not None and result.best is not None and result.failed == ()
    cost = result.best.cost
    # Wire: four times 670, and 600 + 570 + 540. Kinds: two sizes, two splices, three connectors, two contacts.
    assert (cost.splices, round(cost.length, 9), cost.parts, cost.unconfirmed) == (3, 4.39, 9, 0)
    # AC 43.13-1B Table 11-9: 20 AWG has 1,216 circular mils, 22 AWG 754 (5.067e-10 m2 each); copper 8,890 kg/m3
    assert cost.mass == pytest.approx((1.34 * 1216 + 3.05 * 754) * 5.067e-10 * 8890, rel=0.01)
    assert cost.total == pytest.approx(3 + 10 * cost.mass + 0.439 + 0.25 * 9)
    # three of the six orders, three specifications, three thicknesses, supplies tied with the rest or apart
    assert result.looked_at == 3 * 3 * 3 * 2
    text = made.text or ""
    assert "; the cheapest of 54\n#   layouts that passes every check.\n" in text
    for line in (
        "  SP2: {part: M81824/1-2, zone: cabin, at: 335 mm from J131}", "  A21: box.yaml", "opens: P31/J31",
        "  P201C22: {from: SP1, to: P132-1, type: M22759/16-22-9, length: 600 mm, bundle: stub}",
        "  A21J1-3: GPS", "  # the only rs232 circuit at P31/J31", "airframe: airframe.yaml",
    ):  # fmt: skip
        assert f"\n{line}\n" in text, line
    assert made.report is not None and not made.report.findings
    assert {gap.check for gap in made.report.not_checked} == {
        "plug-larger-than-passage", "rate-mismatch", "same-marking-on-both-halves", "tight-bend"
    }  # fmt: skip


def test_a_longer_trunk_and_a_longer_way() -> None:
    """A trunk of 903 mm is laid as 905, the second end of each wire longer; of 1 m 695, 665 and 635 are left."""
    kit = planned(trunk=0.903, branch=1.0).kit
    assert kit is not None
    found = [(w.id, w.length) for w in kit.leads()]
    assert found == [
        ("P201A20", 305), ("P201B20", 600), ("P201C22", 695), ("P202A20N", 335), ("P202B20N", 570), ("P202C22N", 665),
        ("R203A22", 365), ("R203B22", 540), ("R203C22", 635), ("S204A22", 905),
    ]  # fmt: skip


def test_a_way_that_is_shorter_than_its_route() -> None:
    """The branches are no shorter than the margin of their splices, 305 mm; from end to end that is less than 903."""
    made = planned(branch=0.5)
    (no,) = made.noes
    assert made.text is None and no.what == (
        "3 wires do not reach, P201C22 by most: route post is 903 mm long, there are 610 mm from end to end "
        "(P201C22 305 mm and J131 to SP1 305 mm) [wire-shorter-than-route]"
    )
    assert no.remedy.startswith("make P201C22 293 mm longer and the others as well")


def test_a_half_that_fits_the_unit_as_well() -> None:
    """A pair with the insert of the unit: the jumper's own half could be plugged into the unit by mistake."""
    made = planned(9)
    assert made.text is None and made.result is not None and made.report is None
    assert len(made.result.failed) == 7, "after six others with the same finding it is held to stay"
    lines = ("  - check: exchangeable-plugs", "    at: J131", "    reason:    # why it does no harm here",
             "    by:        # who decides", "    date:      # today, like 2026-11-20")  # fmt: skip
    (no,) = made.noes
    assert no.what == (
        "J131 can be plugged into A21J1 instead of P31: same family, insert and key, in zone cabin [exchangeable-plugs]"
    )
    assert no.remedy.startswith("take another key or insert for one of them") and no.tried == ()
    assert no.decision == Decision("waivers", lines)


def test_a_line_with_as_many_receivers_as_it_may_have() -> None:
    """TIA-232: three, as a manual grants; with a third there already the new one would be the fourth."""
    made = planned(receivers=3)
    assert made.text is None and made.kit is None and made.result is None
    (no,) = made.noes
    assert isinstance(no, No) and no.what.startswith("A21J1-3: GPS, the only rs232 circuit at P31/J31, will not do: ")
    assert [name for name, _ in no.tried] == ["GPS"] and no.decision is None
    assert [str(each.pin) for each in made.chosen.refusals] == ["A21J1-3"]
    assert [tap.circuit for tap in made.chosen.taps] == ["PWR", "RTN"]
