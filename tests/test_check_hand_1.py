"""Answers of single checks that the pages leave out, and what a check is called. Jobs are invented for the demo.

Expected counts and words follow from the rule of each check (its docstring names the source), worked out by hand.
"""

from __future__ import annotations

from pathlib import Path

import check_cases
import pages
import pytest
from check_cases import AIR, KIT, Case, Swap

from harnesscheck import checks
from harnesscheck.checks import _ampacity
from harnesscheck.finding import Report
from harnesscheck.units import Gauge


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def told(page: str, *swaps: Swap, job: int = 0) -> Report:
    return check_cases.answered(Case(page, swaps, "", job=job))


def counts(report: Report) -> str:
    return pages.counted(report)


# -- the list of checks --------------------------------------------------------------------------------------------


def test_a_check_is_known_by_its_name_and_its_page() -> None:
    """The first paragraph of the page is the title in reports; the name is that of the file, with hyphens."""
    rule = checks.rule("long-stub")
    assert rule.name == "long-stub"
    assert rule.text == checks.explain("long-stub")
    assert rule.text.startswith(rule.summary[:20])
    assert "\n" not in rule.summary
    assert checks.title("long-stub") == rule.text.splitlines()[0]
    assert checks.module("long-stub").__name__ == "harnesscheck.checks.long_stub"
    assert "long-stub" in checks.names()
    assert not any(name.startswith("_") or "_" in name for name in checks.names())
    assert checks.names() == sorted(checks.names())
    assert checks.has_limit("long-stub")
    assert not checks.has_limit("wrong-mate")
    for name in ("long_stub", "unread-row", "no-such-check", ""):
        with pytest.raises(KeyError):
            checks.module(name)


def test_what_the_reader_of_lists_says_has_a_page_and_no_file() -> None:
    assert checks.rule("unread-row") is checks.UNREAD
    assert checks.explain("unread-row") == checks.UNREAD.text
    assert checks.title("unread-row") == checks.UNREAD.summary
    assert "unread-row" not in checks.names()


@pytest.mark.parametrize("name", [*checks.names(), "unread-row"])
def test_a_page_has_its_four_headings_in_order(name: str) -> None:
    text = checks.explain(name)
    places = [text.index(f"\n{heading}\n") for heading in checks.HEADINGS]
    assert places == sorted(places)
    assert checks.rule(name).summary == checks.rule(name).summary.strip() != ""


# -- areas ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("gauge", "mils"), [
    (Gauge(awg=22), 755.0),  # AC 43.13-1B Table 11-9
    (Gauge(awg=10), 9354.0),
    (Gauge(mm2=0.38256), 755.0),  # the area of 22 AWG aircraft wire to 0.1 %
    (Gauge(mm2=0.5), 0.5 / 5.067074790974977e-4),  # a circular mil is pi/4 (0.0254 mm)2 = 5.0671e-4 mm2
    (Gauge(awg=26), 254.1),  # ASTM B258: the solid area of No. 26, 15.94 mils squared; not in the table of the AC
])  # fmt: skip
def test_the_area_of_a_conductor_in_circular_mils(gauge: Gauge, mils: float) -> None:
    assert _ampacity.circular_mils(gauge) == pytest.approx(mils, rel=2e-4)


# -- answers beside the pages --------------------------------------------------------------------------------------

CABLED = "{from: J101-2, to: P101-2, cable: C9, core: white}\ncables: {C9: {length: 700 mm}}"


def test_a_core_between_two_connectors_is_no_known_run() -> None:
    """W2 as a core is trimmed: 700 mm of cable say nothing about the run, so nothing tells how far SP1 is from P101."""
    straight: Swap = (KIT, "{from: SP1, to: P101-1, length: 380 mm}", "{from: SP1, to: P101-1}")
    core: Swap = (KIT, "{from: J101-2, to: P101-2, length: 700 mm}", CABLED)
    report = told("splice-near-connector", straight)
    assert counts(report) == "3 passed"  # 700 mm less 320 mm are 380 mm
    report = told("splice-near-connector", straight, core)
    assert counts(report) == "1 not checked, 2 passed"
    assert report.not_checked[0].missing == "how far the splice is from P101 is not stated"
    assert report.not_checked[0].place.label == "SP1"


def test_a_splice_of_the_aircraft_is_looked_at_from_the_kit_only() -> None:
    """X1 is the aircraft's, and so is J7 on it: 10 mm between them are not the kit's doing, 100 mm from P102 are."""
    report = told(
        "splice-near-connector",
        (
            AIR,
            "  J1: {}\n",
            "  J1: {}\n  J7: {}\nsplices: {X1: {}}\nwires: {A1: {from: X1, to: J7-1, length: 10 mm}}\n",
        ),
        (KIT, "wires:\n", "wires:\n  W9: {from: X1, to: P102-2, length: 100 mm}\n"),
    )
    assert counts(report) == "1 caution, 3 passed"
    assert report.findings[0].place.label == "X1"
    assert "behind P102" in report.findings[0].headline


def test_an_opened_half_that_the_kit_does_not_plug_into_has_no_map() -> None:
    """Without P101 in J1 nothing leads through, and the map of the box stays; without J101 on P1, where the circuits
    have their names, the box gets none either.
    """
    far: Swap = (KIT, "P101: {insert: DE-9, mates: J1}", "P101: {insert: DE-9}")
    near: Swap = (KIT, "J101: {insert: DE-9, mates: P1}", "J101: {insert: DE-9}")
    assert counts(told("mirrored-pin-map")) == "2 passed"
    assert counts(told("mirrored-pin-map", far)) == "1 passed"
    assert counts(told("mirrored-pin-map", near)) == "nothing to look at"


def test_copper_of_a_stud_does_not_count_on_the_way_through() -> None:
    """Two wires of the kit to one stud: J101-8 and J101-9 reach it, and do not reach P101-8 and P101-9 through it."""
    stud: list[Swap] = [
        (AIR, "connectors:\n", "grounds: {GS1: {}}\nconnectors:\n"),
        (KIT, "W8: {from: J101-8, to: P101-8}", "W8: {from: J101-8, to: GS1}\n  W8B: {from: GS1, to: P101-9}"),
        (KIT, "W9: {from: J101-9, to: P101-9}", "W9: {from: J101-9, to: GS1}\n  W9B: {from: GS1, to: P101-8}"),
    ]
    assert counts(told("mirrored-pin-map", *stud)) == "2 passed"


def test_the_taps_of_one_box_are_not_those_of_another() -> None:
    """Two boxes of one kind: each has its own map, so three maps with the one through the jumper."""
    more: list[Swap] = [
        (KIT, "{A9: box.yaml}", "{A9: box.yaml, A8: box.yaml}"),
        (KIT, "  P102: {", "  P103: {part: D38999/26WA35SN, mates: A8J1}\n  P102: {"),
        (KIT, "  W1C: {", "  W1D: {from: SP1, to: P103-1}\n  W2D: {from: SP2, to: P103-2}\n  W1C: {"),
        (KIT, "taps: {", "taps: {A8J1-1: LAMP, A8J1-2: LAMP RTN, "),
    ]
    assert counts(told("mirrored-pin-map", *more)) == "3 passed"


def test_a_joint_without_a_zone_may_be_anywhere() -> None:
    """Nobody says where P102 and the box are: they are compared with all connectors. P5 and J5 have the same key."""
    nowhere: Swap = (
        KIT,
        "{mates: A9J1, part: D38999/26WA98SN, zone: wing root}",
        "{mates: A9J1, part: D38999/26WA98SN}",
    )
    report = told("exchangeable-plugs", nowhere, (AIR, "26WA98SA", "26WA98SN"), (AIR, "24WA98PA", "24WA98PN"))
    assert counts(report) == "1 not checked, 2 passed"
    assert report.not_checked[0].missing.startswith("the zone of P102 is not known")
    assert counts(told("exchangeable-plugs", nowhere)) == "3 passed"  # with another key it does not matter


def test_a_stud_of_which_nothing_is_said_and_nothing_needed_is_not_asked_for() -> None:
    """A lamp line that the aircraft itself leads to a stud of no class: no ground pin and no new wire ends there."""
    report = told("mixed-ground-classes", (AIR, "wires:\n", "wires:\n  N3: {from: GS3, to: J1-1}\n"),
                  (AIR, "grounds:\n", "grounds:\n  GS3: {}\n"))  # fmt: skip
    assert counts(report) == "2 passed"


HOT = "the ambient temperature of this zone is not stated"


def test_a_wire_to_a_stud_is_looked_at_where_its_other_end_is() -> None:
    """A stud has no zone in the file: the cabin (60 C) counts. Where no end has one, the wire is not looked at."""
    stud: Swap = (AIR, "connectors:\n", "grounds: {GS1: {}, GS2: {}}\nconnectors:\n")
    one: Swap = (KIT, "wires:\n", "wires:\n  G1: {from: J101-3, to: GS1, type: M22759/16-22-9}\n")
    two: Swap = (KIT, "wires:\n", "wires:\n  G2: {from: GS2, to: GS1, type: M22759/16-22-9}\n")
    assert counts(told("wire-below-zone-temperature", stud, one)) == "5 passed"
    assert counts(told("wire-below-zone-temperature", stud, two)) == "4 passed"
    unsaid: Swap = (AIR, "cabin: {ambient: -20 C to 60 C}", "cabin: {}")
    report = told("wire-below-zone-temperature", stud, one, unsaid)
    assert counts(report) == "1 not checked"  # W1C goes on into two known zones, and into the cabin as well
    assert [(n.place.label, n.missing) for n in report.not_checked] == [("cabin", HOT)]


L1 = "L1: {from: CB1-load, to: J1-1, gauge: 20 AWG, length: 3 m}"
TYPED = "L1: {from: CB1-load, to: J1-1, type: M22759/16-20-9, length: 3 m}"
TIED = "L1: {from: CB1-load, to: J1-1, type: M22759/16-20-9, length: 3 m, bundle: wing}"


def test_a_wire_of_the_aircraft_is_not_asked_for_its_bundle() -> None:
    """L1 is 20 AWG like W1B and carries the same: too much among all wires of the kit, not too much alone. It is the
    aircraft's, so nobody is asked; where its bundle is stated and nothing else is tied to it, it is in order.
    """
    assert counts(told("over-ampacity", job=3)) == "4 not checked, 2 passed"
    assert counts(told("over-ampacity", (AIR, L1, TYPED), job=3)) == "4 not checked, 2 passed"
    assert counts(told("over-ampacity", (AIR, L1, TIED))) == "7 passed"
    assert counts(told("over-ampacity", (AIR, L1, TYPED))) == "6 passed"
