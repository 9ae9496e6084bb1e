"""Reports that others paid for, as named regression scenarios on the project's own invented job.

Each takes one public report, by its number, and seeds what happened there into the demo; the report is the
source of the kind of mistake, aircraft and wiring are invented. Sources: NASA Aviation Safety Reporting System
(ACN numbers) and NTSB accident number 105519.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import harnesscheck as hc
from harnesscheck import sheets
from harnesscheck.finding import Severity

DEMO = Path(__file__).parents[1] / "harnesses" / "ice-probe"
AIRFRAME, JUMPER = "airframe.yaml", "jumper.yaml"


def job(folder: Path, *changes: tuple[str, str, str]) -> hc.Job:
    """The demo with lines changed: (file, text that stands there once, text instead)."""
    texts = {file.name: file.read_text(encoding="utf-8") for file in DEMO.glob("*.yaml")}
    for name, old, new in changes:
        assert texts[name].count(old) == 1, (name, old)
        texts[name] = texts[name].replace(old, new)
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    return hc.load(folder / JUMPER)


def only(report: hc.Report, check: str) -> hc.Finding:
    """The one primary finding, which must be of this check."""
    assert [f.check for f in report.primary] == [check], [f.headline for f in report.primary]
    return report.primary[0]


def test_acn_468392_both_halves_carry_the_same_marking(tmp_path: Path) -> None:
    """ASRS ACN 468392 (2000): positions pinned wrongly at a disconnect whose halves carried the same marking."""
    report = hc.check(job(tmp_path, (AIRFRAME, "marking: WR1 FUSELAGE", "marking: WR1 WING")))
    assert "WR1 WING" in only(report, "same-marking-on-both-halves").headline


def test_acn_700199_the_wire_one_row_over(tmp_path: Path) -> None:
    """ASRS ACN 700199: on a connector without cavity marks the wire one row over was taken."""
    out = "  W508A22: {from: J114-8, to: P114-8, type: M22759/16-22-9, length: 300 mm, bundle: trunk}\n"
    report = hc.check(job(tmp_path, (JUMPER, out, "")))
    finding = only(report, "broken-through-circuit")
    assert finding.severity is Severity.STOP
    assert "STALL WARN" in finding.headline
    assert {"P14-8", "J14-8"} & finding.labels


def test_acn_838240_two_wires_swapped_and_no_step_for_them(tmp_path: Path) -> None:
    """ASRS ACN 838240 (2009): two wires of a rack swapped; the job card had no step for them."""
    both = job(
        tmp_path,
        (JUMPER, "J114-8, to: P114-8,", "J114-8, to: P114-9,"),
        (JUMPER, "J114-9, to: P114-9,", "J114-9, to: P114-8,"),
    )
    finding = only(hc.check(both), "broken-through-circuit")
    assert "STALL WARN" in finding.headline
    assert "TOW REL OPEN" in finding.headline
    # No wire without its own numbered line on the bench list.
    rows = list(csv.DictReader(io.StringIO(sheets.render("cut-list", both, "csv").decode("utf-8"), newline="")))
    numbered = [row["id"] for row in rows if row["kind"] == "wire"]
    assert {"W508A22", "W509A22"} <= set(numbered)
    assert len(numbered) == len(set(numbered))


def test_acn_650490_the_one_wire_the_test_did_not_exercise(tmp_path: Path) -> None:
    """ASRS ACN 650490 (2005): the return-to-service test passed with one annunciator wire broken.

    Every through wire of the kit is cut in turn: each cut must be found, and name its own cavity.
    """
    lines = [line for line in (DEMO / JUMPER).read_text(encoding="utf-8").splitlines() if "from: J114-" in line]
    assert len(lines) == 15
    for line in lines:
        report = hc.check(job(tmp_path, (JUMPER, line + "\n", "")))
        cavity = line.split("J114-")[1].split(",")[0]
        assert report.findings, line
        assert any({f"P14-{cavity}", f"J14-{cavity}", f"J114-{cavity}"} & f.labels for f in report.findings), line


def test_acn_467542_a_test_jumper_left_fitted(tmp_path: Path) -> None:
    """ASRS ACN 467542 (2000): a test jumper was left in. Here it ties the stall warning to the hook switch."""
    left = "  # spares led through as well\n"
    wire = "  TEST1: {from: SP9, to: SP10, gauge: 22 AWG, colour: 2, length: 60 mm}\n"
    cut = "  W508A22: {from: J114-8, to: P114-8, type: M22759/16-22-9, length: 300 mm, bundle: trunk}\n"
    other = "  W509A22: {from: J114-9, to: P114-9, type: M22759/16-22-9, length: 300 mm, bundle: trunk}\n"
    halves = "".join(
        f"  {name}{end}: {{from: {a}, to: {b}, type: M22759/16-22-9, length: {long} mm}}\n"
        for name, splice, cavity, at in (("W508", "SP9", 8, 210), ("W509", "SP10", 9, 240))
        for end, a, b, long in (("A22", f"J114-{cavity}", splice, at), ("B22", splice, f"P114-{cavity}", 300 - at))
    )
    splices = "".join(
        f"  {ref}: {{part: M81824/1-1, zone: wing root, at: {at} mm from J114}}\n"
        for ref, at in (("SP9", 210), ("SP10", 240))
    )
    report = hc.check(
        job(
            tmp_path,
            (JUMPER, cut, ""),
            (JUMPER, other, halves),
            (JUMPER, left, wire + left),
            (JUMPER, "\ncables:\n", splices + "\ncables:\n"),
        )
    )
    first = report.findings[0]
    assert (first.check, first.severity) == ("broken-through-circuit", Severity.STOP)
    assert "STALL WARN" in first.headline
    assert "TOW REL OPEN" in first.headline
    assert "TEST1" in first.labels


def test_acn_945142_connectors_mated_the_other_way_round(tmp_path: Path) -> None:
    """ASRS ACN 945142 (2011): several connectors re-mated with no functional check called for.

    Here the two halves of the kit go to each other's places: pins meet pins.
    """
    swapped = job(
        tmp_path,
        (JUMPER, "    mates: P14\n", "    mates: J14 \n"),
        (JUMPER, "    mates: J14\n", "    mates: P14\n"),
    )
    report = hc.check(swapped)
    assert report.findings[0].check == "wrong-mate"
    assert report.findings[0].severity is Severity.STOP


def test_ntsb_105519_one_connector_carries_both_paths(tmp_path: Path) -> None:
    """NTSB 105519 (2022): one connector at the firewall carried the whole ignition, and came loose."""
    report = hc.check(
        job(
            tmp_path,
            (AIRFRAME, "      12: NAV LT PWR\n      13: spare\n", "      12: NAV LT PWR\n      13: TOW REL SPARE SW\n"),
            (AIRFRAME, "    cavities:\n      1: TOW REL SPARE SW\n", "    cavities:\n      1: spare\n"),
            (AIRFRAME, "      5: {circuit: CAN SHIELD, grounded: yes}\n      13: spare\n",
             "      5: {circuit: CAN SHIELD, grounded: yes}\n"),
        )
    )  # fmt: skip
    named = [f for f in report.findings if f.check == "redundant-circuits-in-one-connector"]
    assert named
    assert "TOW REL OPEN" in named[0].headline
    assert "TOW REL SPARE SW" in named[0].headline
