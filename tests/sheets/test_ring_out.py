"""The ring-out and power-up sheets, read as an installer reads them."""

from __future__ import annotations

from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import sheets
from harnesscheck.fault import InputError
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Table, plain
from harnesscheck.ringout.live import volts
from harnesscheck.sheets import Wish, power_up, ring_out
from tests.ringout.text import kit, straight

HARNESSES = Path(__file__).parents[2] / "harnesses"


@pytest.fixture(scope="module")
def demo() -> Job:
    return hc.load(HARNESSES / "ice-probe" / "jumper.yaml")


def table(job: Job, sheet: str, name: str, mode: str = "") -> Table:
    return next(t for t in sheets.content(sheet, job, Wish(mode=mode)).tables if t.name == name)


def text(job: Job, sheet: str, mode: str = "") -> str:
    return sheets.render(sheet, job, "text", Wish(mode=mode)).decode()


def test_every_reading_has_its_own_number_and_a_place_to_write(demo: Job) -> None:
    content = sheets.content("ring-out", demo, Wish())
    numbers = [row[0].text for t in content.tables for row in t.rows if hasattr(row[0], "anchor")]
    assert len(numbers) == len(set(numbers)) == sum(len(made.readings) for made in ring_out.plans(demo, Wish()))
    for each in content.tables:
        if each.rows and hasattr(each.rows[0][0], "anchor"):
            assert [c.title for c in each.columns if c.blank] == ["reading", "by"]


def test_the_bench_of_the_demo(demo: Job) -> None:
    """35 contacts in 15 nets by hand: 15 + 15 at the trunk ends, 5 at the probe; 35 - 15 = 20, 14 walking, 4 bussed."""
    assert len(table(demo, "ring-out", "bench-through").rows) == 20
    assert len(table(demo, "ring-out", "bench-apart").rows) == 14
    assert len(table(demo, "ring-out", "bench-apart", "bussed, bench").rows) == 4
    proof = table(demo, "ring-out", "bench-proof")
    assert all(row[1] == row[2] == row[3] for row in proof.rows), "every fault on the bench is shown"
    assert len(proof.rows) == 6


def test_the_installed_bus_shows_sixty_ohm_with_the_unit_unplugged(demo: Job) -> None:
    """Two terminators of 120 ohm, one beyond each half of the pair; each half alone shows 120."""
    assert [plain(c) for c in table(demo, "ring-out", "installed-kept").rows[0][1:4]] == [
        "P115-3", "P115-4", "55.0 to 65.3 ohm",  # 65 + 0.1 for nulled leads + contacts and wire, rounded up
    ]  # fmt: skip
    halves = table(demo, "ring-out", "aircraft-kept").rows
    assert [(row[1], row[3]) for row in halves] == [("P14-3", "110.0 to 130.2 ohm"), ("J14-3", "110.0 to 130.2 ohm")]


def test_what_no_file_lists_is_written_down_and_never_passed(demo: Job) -> None:
    rows = table(demo, "ring-out", "aircraft-written").rows
    assert {row[3] for row in rows} == {"write it down"}
    assert "STALL WARN" in {row[4] for row in rows}
    unplugged = sheets.content("ring-out", demo, Wish(mode="units unplugged"))
    assert not [t for t in unplugged.tables if t.name.endswith(("-written", "-kept"))]


def test_the_sheet_says_what_it_cannot_see(demo: Job) -> None:
    said = text(demo, "ring-out")
    for words in ("split pair", "strands", "wrong gauge", "UNPLUGGED", "A buzzer", "467542", "from memory"):
        assert words in said


def test_a_mode_that_does_not_exist(demo: Job) -> None:
    with pytest.raises(InputError) as caught:
        sheets.content("ring-out", demo, Wish(mode="field, busssed"))
    assert "bussed" in str(caught.value)


def test_a_quick_look_proves_less_and_says_so(demo: Job) -> None:
    shorts = next(row for row in table(demo, "ring-out", "bench-proof", "quick").rows if row[0] == "short")
    assert int(plain(shorts[3])) < int(plain(shorts[1]))
    assert "not read in this mode" in plain(shorts[6])
    unknown = kit(straight(3))
    assert "face is not in the drawer" in text(unknown, "ring-out", "quick")


def test_volts_before_the_plug_is_mated(demo: Job) -> None:
    """Supply from the solve: bus 14.2 V with 0.6 A through about 0.14 ohm and back; pins without supply must be 0 V."""
    found = {str(r.a[0]): r for r in volts(demo)}
    supply = found["P115-1"]
    assert supply.expected == pytest.approx(14.2 - 0.6 * 0.17, abs=0.03)
    assert supply.low is not None
    assert supply.low < 11.5, "the lowest bus is the battery's 11.5 V, less the drop"
    assert supply.high == pytest.approx(14.7)
    assert str(supply.b[0]) == "P115-2"
    assert (found["P115-2"].expected, found["P115-2"].high) == (0.0, 0.1)
    assert (found["P115-3"].low, found["P115-3"].high) == (2.0, 3.0)


def test_the_power_up_sheet(demo: Job) -> None:
    said = text(demo, "power-up")
    for words in ("Pull and tag CB7, CB9", "mate J114 to P14", "Leave P115 off A12J1", "40 ohm", "945142", "467542"):
        assert words in said
    tried = " ".join(plain(row[0]) for row in table(demo, "power-up", "functions").rows)
    assert all(name in tried for name in ("STALL WARN", "NAV LT PWR", "AOA TX", "new unit at A12J1"))
    order = [said.index(part) for part in ("2. OHMS", "3. POWER ON", "4. POWER OFF", "5. FUNCTION")]
    assert order == sorted(order)


def test_jobs_without_a_kit() -> None:
    airframe = hc.load(HARNESSES / "ice-probe" / "airframe.yaml")
    unit = hc.load(HARNESSES / "ice-probe" / "ice-probe.yaml")
    assert [made.article.name for made in ring_out.plans(airframe, Wish())] == ["aircraft"]
    assert ring_out.not_applicable(unit, Wish())
    assert "Not applicable" in text(unit, "ring-out")
    for job in (airframe, unit):
        assert power_up.not_applicable(job, Wish())
        assert "Not applicable" in text(job, "power-up")
