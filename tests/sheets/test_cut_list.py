"""The cut list against counts and sums made by hand from the demo's own file."""

import csv
import io
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import sheets
from harnesscheck.formulas.cut_length import cut_length
from harnesscheck.paper.rows import guarded

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe"


def listed(job: hc.Job, table: str = "cut", kits: int = 1) -> list[dict[str, str]]:
    text = sheets.render("cut-list", job, "csv", sheets.Wish(kits)).decode("utf-8")
    return [row for row in csv.DictReader(io.StringIO(text, newline="")) if row["table"] == table]


@pytest.fixture(scope="module")
def job() -> hc.Job:
    return hc.load(DEMO / "jumper.yaml")


def test_every_new_wire_and_cable_once(job: hc.Job) -> None:
    assert job.jumper is not None
    rows = listed(job)
    assert sorted(r["id"] for r in rows) == sorted([*job.jumper.wires, *job.jumper.cables])
    assert not any(r["id"] in job.airframe.wires for r in rows)  # type: ignore[union-attr]


def test_cut_lengths_are_the_sum_of_their_pieces(job: hc.Job) -> None:
    cut = [r for r in listed(job) if r["kind"] in ("wire", "cable")]
    for row in cut:
        pieces = [float(row[k]) for k in ("laid mm", "end A mm", "end B mm", "rounding mm")]
        assert sum(pieces) == pytest.approx(float(row["cut mm"]))
        assert float(row["cut mm"]) % 5 == 0  # the demo rounds up to 5 mm


def test_a_wire_read_by_hand(job: hc.Job) -> None:
    # By hand from jumper.yaml: 350 laid, splice 10, connector 40: 400, already a multiple of 5.
    row = next(r for r in listed(job) if r["id"] == "P501C22")
    assert (row["type"], row["gauge"], row["colour digits"], row["colour"]) == (
        "M22759/16-22-9",
        "22 AWG",
        "9",
        "white",
    )
    assert (row["laid mm"], row["end A mm"], row["end B mm"], row["cut mm"]) == ("350", "10", "40", "400")
    a, b = (r for r in listed(job, "ends") if r["id"] == "P501C22")
    assert (a["end"], a["at"], b["end"], b["at"]) == ("A", "SP1", "B", "P115-1")
    assert b["fitting"] == "contact M39029/56-348"
    assert b["strip"] == "4.1 mm (shop-confirmed)"  # shop-parts.yaml
    assert b["work"] == "crimp at the bench, ship loose, insert on site"
    assert a["strip"] == "not known"  # no document gives the strip length of this splice


def test_one_row_for_each_end_of_each_wire(job: hc.Job) -> None:
    assert job.jumper is not None
    ends = {(w.id, end, str(p)) for w in job.jumper.wires.values() for end, p in (("A", w.a), ("B", w.b))}
    assert {(r["id"], r["end"], r["at"]) for r in listed(job, "ends")} == ends


def test_several_kits(job: hc.Job) -> None:
    one, ten = listed(job), listed(job, kits=10)
    assert [r["cut mm"] for r in one] == [r["cut mm"] for r in ten]
    assert {r["pieces"] for r in ten if r["kind"] != "core"} == {"10"}


def test_cores_of_a_cable_are_not_cut_separately(job: hc.Job) -> None:
    rows = listed(job)
    cores = [r for r in rows if r["kind"] == "core"]
    assert len(cores) == 9
    assert {r["cut mm"] for r in cores} == {""}
    assert {r["of cable"] for r in cores} == {"C501A", "C501B", "C501C"}


def test_total_is_the_sum_of_the_rows(job: hc.Job) -> None:
    text = sheets.render("cut-list", job, "text").decode()
    for kind in ("M22759/16-20-9", "M22759/16-22-9", "M27500-22TG2T14"):
        metres = sum(float(r["cut mm"]) for r in listed(job) if r["type"] == kind and r["kind"] != "core") / 1000
        line = next(line.split() for line in text.splitlines() if line.split()[:2] == ["subtotal", kind])
        pieces = sum(r["type"] == kind and r["kind"] != "core" for r in listed(job))
        assert line[2:5] == [f"{metres:.3f}", "m", str(pieces)]


def test_a_missing_length_is_said_and_never_zero(tmp_path: Path) -> None:
    for file in DEMO.glob("*.yaml"):
        text = file.read_text().replace(
            "W508A22: {from: J114-8, to: P114-8, type: M22759/16-22-9, length: 300 mm, bundle: trunk}",
            "W508A22: {from: J114-8, to: P114-8, type: M22759/16-22-9}",
        )
        (tmp_path / file.name).write_text(text)
    job = hc.load(tmp_path / "jumper.yaml")
    row = next(r for r in listed(job) if r["id"] == "W508A22")
    assert (row["laid mm"], row["cut mm"]) == ("", "not stated")
    assert "1 without a length" in sheets.render("cut-list", job, "text").decode()


def test_cautions_and_allowances_are_on_the_sheet(job: hc.Job) -> None:
    text = sheets.render("cut-list", job, "text").decode()
    assert "not approved data" in text
    assert "Never measure resistance or insulation with equipment connected." in text
    assert "stated in the job" in text


@pytest.mark.parametrize(
    "laid, a, b, step, total",
    [
        (0.060, 0.040, 0.010, 0.005, 0.110),
        (0.0601, 0.040, 0.010, 0.005, 0.115),
        (0.300, 0.040, 0.040, 0.001, 0.380),
        (2.6, 0.040, 0.040, 0.1, 2.7),
    ],
)
def test_rounding_up(laid: float, a: float, b: float, step: float, total: float) -> None:
    # Expected values by hand arithmetic in millimetres.
    assert cut_length(laid, a, b, step).total == pytest.approx(total, abs=1e-9)


@pytest.mark.parametrize("name", ["=1+1", "+28V", "-SIG", "@x", "'quoted", "plain", "\tTab"])
def test_csv_guard_is_reversible(name: str) -> None:
    cell = guarded(name)
    assert cell[:1] not in ("=", "+", "-", "@", "\t")
    assert (cell[1:] if cell.startswith("'") else cell) == name


def test_an_airframe_alone_has_no_new_wires() -> None:
    job = hc.load(DEMO / "airframe.yaml")
    assert listed(job) == []
    assert "No new wires" in sheets.render("cut-list", job, "text").decode()
