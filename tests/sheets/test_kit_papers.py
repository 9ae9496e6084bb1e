"""The papers of a kit: counts made anew from the YAML text, one step for each wire, and what is never left out.

Expected counts come from reading the demo's file as plain text here, with a pattern for a wire line.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import sheets

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe"
PLAIN = Path(__file__).parents[1] / "jobs" / "plain"
OURS = (
    "pin-map", "cut-list", "reel-plan", "crimp-cards", "wire-labels", "kit-list", "bench-traveller", "installation",
    "removal", "load-sheet", "volts", "weight-balance", "labour", "rework", "commissioning", "functional-test",
    "airworthiness", "flight-manual", "records",
)  # fmt: skip
TEXT = (DEMO / "jumper.yaml").read_text()
WIRE = re.compile(r"^  (\S+): \{from: ([^,]+), to: ([^,]+),(.*)\}$", re.MULTILINE)
WIRES = {name: (a, b, rest) for name, a, b, rest in WIRE.findall(TEXT)}
CONNECTORS = {"J114": "M39029/63-368", "P114": "M39029/64-369", "P115": "M39029/56-348"}  # read off the file by hand
INCH = 25.4


@cache
def job() -> hc.Job:
    return hc.load(DEMO / "jumper.yaml")


@cache
def text(name: str, kits: int = 1) -> str:
    return sheets.render(name, job(), "text", sheets.Wish(kits)).decode()


@cache
def table(name: str, which: str = "", kits: int = 1) -> list[dict[str, str]]:
    wish = sheets.Wish(kits)
    rows = list(csv.DictReader(io.StringIO(sheets.render(name, job(), "csv", wish).decode(), newline="")))
    return [row for row in rows if not which or row["table"] == which]


def ends() -> Counter[str]:
    """How many wire ends of the file end in each connector."""
    return Counter(end.partition("-")[0] for a, b, _ in WIRES.values() for end in (a, b))


def test_the_pattern_reads_every_wire_line() -> None:
    assert len(WIRES) == TEXT.count("{from: ") == 25


def test_kit_list_counts_what_the_file_says() -> None:
    rows = {(row["what"], row["part"]): row for row in table("kit-list", "kit")}
    for ref, contact in CONNECTORS.items():
        assert int(rows["contact", contact]["one kit"]) == ends()[ref]
    assert int(rows["spare contact", "M39029/56-348"]["one kit"]) == 2  # kit: spare contacts
    assert int(rows["sealing plug", "MS27488-22-2"]["one kit"]) == 6 - ends()["P115"]  # six cavities in 9-35
    splices = Counter(re.findall(r"^  SP\d: \{part: ([^,]+),", TEXT, re.MULTILINE))
    assert {p: int(r["one kit"]) for (what, p), r in rows.items() if what == "splice"} == splices
    total = sum(ends()[ref] for ref in CONNECTORS) + 2 + 1 + splices.total()
    assert f"= {total} pieces in a kit" in text("kit-list")


def test_kit_list_of_ten_kits() -> None:
    for row in table("kit-list", "kit", 10):
        assert float(row["all kits"]) == pytest.approx(10 * float(row["one kit"]), abs=5e-3)
    assert "430 in 10 kits" in text("kit-list", 10)


def test_wire_on_the_kit_list_is_the_sum_of_the_cut_list_and_of_the_reel_plan() -> None:
    cut: Counter[str] = Counter()
    for row in table("cut-list", "cut", 10):
        if row["kind"] != "core":
            cut[row["type"]] += round(float(row["cut mm"]) * int(row["pieces"]))
    listed = {r["part"]: round(1000 * float(r["all kits"])) for r in table("kit-list", "kit", 10) if r["unit"] == "m"}
    assert listed == cut
    planned = Counter[str]()
    for row in table("reel-plan", kits=10):
        if row["pieces"]:
            wire = row["wire or cable"]
            kind = next(r["type"] for r in table("cut-list", "cut") if r["id"] == wire)
            planned[kind] += round(1000 * float(row["metres"]))
    assert planned == cut


def test_a_type_without_stock_gets_no_plan(tmp_path: Path) -> None:
    for file in DEMO.glob("*.yaml"):
        lines = [line for line in file.read_text().splitlines() if "reel: 15 m" not in line]
        (tmp_path / file.name).write_text("\n".join(lines) + "\n")
    found = sheets.render("reel-plan", hc.load(tmp_path / "jumper.yaml"), "text").decode()
    assert "no plan; give the reel length and the remnants under stock:" in found
    assert "0.800" in found.partition("M27500-22TG2T14")[2]  # the sum is still there


def test_crimp_cards_count_every_crimp_and_name_the_source_of_every_force() -> None:
    found = text("crimp-cards")
    crimps = [int(n) for n in re.findall(r"^  crimps +(\d+) in a kit$", found, re.MULTILINE)]
    assert sum(crimps) == sum(ends()[ref] for ref in CONNECTORS)
    inside = [int(n) for n in re.findall(r"^  wire ends crimped +(\d+) in a kit$", found, re.MULTILINE)]
    assert sum(inside) == sum(n for ref, n in ends().items() if ref.startswith("SP"))
    for line in re.findall(r"^  pull-off, at least.*$", found, re.MULTILINE):
        assert "IPC/WHMA-A-620B Table 19-12 (confirmed)" in line
    # IPC/WHMA-A-620B Table 19-12: 22 AWG 12 lbf in a machined contact, 8 in a splice; 20 AWG 20 lbf. 12 lbf = 53.4 N.
    card = found.partition("CARD 1: M39029/63-368, 20 AWG")[2].partition("CARD 2")[0]
    assert "20 lbf (89 N) for silver or tin plated wire" in card
    assert "12 lbf (53 N)" in found.partition("CARD 5: M39029/56-348, 22 AWG")[2].partition("CARD 6")[0]
    assert "8 lbf (36 N) for splice" in found.partition("M81824/1-1, 22 AWG")[2]
    # What nobody has looked up is said to be so.
    assert "set from the data plate" in found and "(from memory)" in found


def test_labels_after_the_rule_of_the_circular() -> None:
    """AC 43.13-1B 11-208: none under 3 in, one up to 7 in, else both ends and 15 in apart at most."""
    marks: dict[str, list[float]] = {}
    for row in table("wire-labels", "labels"):
        marks.setdefault(row["wire"], []).append(float(row["from end A mm"]))
        assert row["code"] == f"kit.html#wire-{row['wire']}"
    lengths = {name: float(m[1]) for name, w in WIRES.items() if (m := re.search(r" length: (\d+) mm", w[2]))}
    assert len(lengths) > 10
    for name, length in lengths.items():
        places = marks.get(name, [])
        if length < 3 * INCH:
            assert places == []
            assert name in text("wire-labels").partition("Mark each end")[0]
        elif length <= 7 * INCH:
            assert places == [length / 2]
        else:
            assert len(places) >= 2
            assert places[0] <= 3 * INCH and length - places[-1] <= 3 * INCH
            assert all(b - a <= 15 * INCH for a, b in pairwise(places))
    assert len(table("wire-labels", "labels", 3)) == 3 * len(table("wire-labels", "labels"))


def test_a_code_is_drawn_module_by_module() -> None:
    """The black area of the drawing is that of the code's dark modules, by the code library."""
    import segno

    from harnesscheck.paper.svg import Canvas
    from harnesscheck.sheets._code import code

    canvas = Canvas(50, 50)
    code(canvas, "kit.html#wire-P501A20", 0, 0, 33)
    data = next(canvas.root.iter("path")).get("d") or ""
    boxes = re.findall(r"M[-\d.]+ [-\d.]+h([\d.]+)v([\d.]+)h", data)
    matrix = segno.make("kit.html#wire-P501A20", error="m", micro=False, boost_error=False).matrix
    module = 330 / (len(matrix) + 8)  # drawing units
    area = sum(float(wide) * float(high) for wide, high in boxes) / module**2
    assert area == pytest.approx(sum(sum(row) for row in matrix), rel=0.01)


def steps(name: str) -> list[str]:
    return [row["what to do"] for row in table(name) if row.get("what to do")]


def test_the_traveller_has_a_step_for_each_wire_and_each_end() -> None:
    found = steps("bench-traveller")
    for name, (a, b, rest) in WIRES.items():
        own = [step for step in found if re.search(rf"\b{re.escape(name)}\b", step)]
        assert any(step.startswith(("Cut", "Free")) for step in own), name
        for letter, end in (("A", a), ("B", b)):
            if end.startswith("SP"):
                assert any(f"{name} end {letter}: strip, lay into {end} " in step for step in own), (name, end)
            elif end.startswith("P115"):
                assert any(f"tag it {end}," in step and "do not insert" in step for step in own), (name, end)
            else:
                assert any(f"insert into {end} from the wire side, tug" in step for step in own), (name, end)
        assert rest
    # ASRS 700199: a ring-out after every group of wiring steps; hold points before covering and before release.
    for ref in ("J114", "P114"):
        assert f"Ring out {ref}: every cavity, and its neighbours for shorts" in found
        assert f"HOLD: {ref} rung out" in found
    assert sum(step.startswith("HOLD:") for step in found) >= 8


def test_no_box_for_the_inspector_but_at_hold_points() -> None:
    content = sheets.content("bench-traveller", job(), sheets.Wish())
    for found in content.tables:
        for row in found.rows:
            hold = (row[1] if isinstance(row[1], str) else row[1].text).startswith("HOLD:")
            assert (row[4] == "") is hold


def test_installation_inserts_each_wire_of_the_loose_plug_and_tries_every_circuit() -> None:
    found = steps("installation")
    for name, (a, b, _) in WIRES.items():
        for end in (a, b):
            if end.startswith("P115"):
                assert any(step.startswith(name) and f"insert into {end} " in step for step in found)
    sign_offs = [row["value or limit"] for row in table("installation") if "/" in (row["what to do"] or "")]
    assert sum("locked, witness mark across the joint, tug" in said for said in sign_offs) == 3  # three mated pairs
    circuits = re.findall(
        r"^      \d+: (?:\{circuit: )?([A-Z][A-Z ]+?)(?:,.*)?$", (DEMO / "airframe.yaml").read_text(), re.M
    )
    tried = {row["circuit"] for row in table("installation", "functions")}
    assert len(tried) == 12 and tried <= set(circuits)
    assert {"test leads", "hand tools"} <= {row["what"] for row in table("installation", "count")}


def test_removal_ends_with_the_pair_as_it_was() -> None:
    found = steps("removal")
    assert any(s.startswith("Mate P14 ") and " with J14 " in s for s in found)
    assert "HOLD: P14/J14" in found
    assert {"J114/P14", "P114/J14"} == {
        "/".join(re.findall(r"Part (\S+) from (\S+);", s)[0]) for s in found if s.startswith("Part ") and "A12" not in s
    }
    assert {row["circuit"] for row in table("removal", "functions")} == {
        row["circuit"] for row in table("installation", "functions")
    }


def test_every_new_wire_is_on_a_line_of_the_functional_test() -> None:
    lines = [row["proves wires"].split(", ") for row in table("functional-test", "functions")]
    assert Counter(w for line in lines for w in line if w != "no new wire") == Counter(list(WIRES))
    assert "25 new wires, each on a line" in text("functional-test")
    assert "carries nothing in use: only the ring-out proves it" in text("functional-test")


def test_pin_maps_show_every_cavity_once_and_close_the_spare_one() -> None:
    for ref, count in (("P14", 15), ("J114", 15), ("J14", 15), ("P114", 15), ("P115", 6), ("A12J1", 6)):
        rows = table("pin-map", f"pin-map-{ref}")
        assert len(rows) == len({row["cavity"] for row in rows}) == count
    for name, (a, b, _) in WIRES.items():
        for end, other in ((a, b), (b, a)):
            ref, _, cavity = end.partition("-")
            if cavity:
                row = next(r for r in table("pin-map", f"pin-map-{ref}") if r["cavity"] == cavity)
                assert (row["wire"], row["to"]) == (name, other)
    spare = next(r for r in table("pin-map", "pin-map-P115") if r["cavity"] == "5")
    assert (spare["circuit"], spare["plug"]) == ("spare, sealing plug", "MS27488-22-2")
    assert (
        next(r for r in table("pin-map", "pin-map-A12J1") if r["cavity"] == "5")["what the kit does"]
        == "do not connect"
    )


def test_mass_and_moment_by_hand() -> None:
    """0.32 kg at 1.62 m is 0.5184 kg m. 452 kg at 1.93 m: 872.36; (872.36 + 0.5184) / 452.32 = 1.92978 m."""
    found = text("weight-balance")
    assert "moment 0.518 kg m" in found
    assert "at least 452.320 kg at 1.9298 m" in found
    assert "NOT IN THE SUM" in found and "wire M22759/16-20-9" in found
    # Copper by hand: 1.18 m of 20 AWG, 1216 cmil = 0.6162 mm2 (AC 43.13-1B Table 11-9), x 8.89 g/cm3 = 6.46 g.
    assert "6.5 g in 1.180 m" in found


def test_labour_by_hand(tmp_path: Path) -> None:
    """Counts by hand: 16 wires and 3 cables cut; 35 contacts, 30 of them inserted at the bench; 5 splices; 3 pairs."""
    rows = {row["task"]: row for row in table("labour")}
    wanted = {"cut": 19, "crimp": 35, "insert": 30, "splice": 5, "site insert": 5, "mate": 3, "plug": 1, "strip": 50}
    assert {task: int(rows[task]["one kit"]) for task in wanted} == wanted
    assert "common practice" in text("labour") and "An estimate, no offer" in text("labour")
    for file in DEMO.glob("*.yaml"):
        (tmp_path / file.name).write_text(file.read_text())
    with (tmp_path / "jumper.yaml").open("a") as file:
        file.write("\nlabour: {crimp: 2 min}\n")
    own = sheets.render("labour", hc.load(tmp_path / "jumper.yaml"), "csv").decode()
    row = next(r for r in csv.DictReader(io.StringIO(own)) if r["task"] == "crimp")
    assert (row["min each"], row["hours"], row["rate from"]) == ("2", "1.17", "stated in the job file")  # 35 x 2 min


def test_commissioning_lists_what_the_maker_wants() -> None:
    typed = re.findall(r"^  (\S[^:]*): \{set: \"?([^\",]+)", (DEMO / "ice-probe.yaml").read_text(), re.MULTILINE)
    assert [(r["setting"], r["set to"]) for r in table("commissioning")] == typed and len(typed) == 4


def test_rework_of_two_crossed_wires(tmp_path: Path) -> None:
    for file in DEMO.glob("*.yaml"):
        crossed = file.read_text().replace("to: P114-6,", "to: P114-x,").replace("to: P114-7,", "to: P114-6,")
        (tmp_path / file.name).write_text(crossed.replace("to: P114-x,", "to: P114-7,"))
    wish = sheets.Wish(previous=job())
    found = sheets.render("rework", hc.load(tmp_path / "jumper.yaml"), "text", wish).decode()
    assert "Operations: 4 (remove 2, insert 2; marks not counted); no way takes fewer." in found
    assert "R506A22 end B: insert into P114-7, tug" in found
    same = sheets.render("rework", job(), "text", wish).decode()
    assert "25 wires stay as they are. Operations: 0" in same
    assert "Not applicable" in text("rework")


@pytest.mark.parametrize("name", OURS)
def test_every_sheet_for_every_kind_of_file(name: str) -> None:
    for file in (DEMO / "airframe.yaml", DEMO / "ice-probe.yaml", PLAIN / "jumper.yaml"):
        other = hc.load(file)
        written = sheets.render(name, other, "text", sheets.Wish(2))
        assert written == sheets.render(name, other, "text", sheets.Wish(2))
        assert b"Technical help, not approved data" in written


@pytest.mark.parametrize("name", OURS)
def test_nothing_claims_what_only_a_person_can_sign(name: str) -> None:
    """The words stand in the cautions only."""
    said = text(name).partition("Technical help, not approved data")[0].casefold()
    for word in ("approved", "certified", "airworthy", "safe to fly"):
        assert word not in said
