"""The finished documents against each other and against the job file: ids, lengths, colours, cavities, counts."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
import reading
from conftest import DEMO
from reading import Rows, squeezed


@pytest.fixture(scope="module")
def lists(demo_pack: Path) -> dict[str, dict[str, Rows]]:
    """Sheet name to its tables, from the CSV files."""
    found = {}
    for path in sorted((demo_pack / "lists").glob("*.csv")):
        found[path.stem.partition("-")[2]] = reading.csv_tables(path.read_bytes())
    return found


def said_in_the_file() -> dict[str, dict[str, str]]:
    """The wires and cables of the job file, read with a pattern: no reader of the project has a part in it."""
    entry = re.compile(r"^  ([A-Z0-9]+): \{(from: .*|type: M27500.*)\}$", re.MULTILINE)
    return {
        name: dict(pair.split(": ", 1) for pair in re.split(r", (?=[a-z]+: )", body))
        for name, body in entry.findall(DEMO.read_text(encoding="utf-8"))
    }


def flat(tables: dict[str, Rows]) -> Rows:
    return [row for rows in tables.values() for row in rows]


def only(rows: Rows, **wanted: str) -> Rows:
    return [row for row in rows if all(row.get(key) == value for key, value in wanted.items())]


# -- the forms of one sheet -------------------------------------------------------------------------------------------


def test_every_table_is_the_same_in_csv_workbook_and_page(demo_pack: Path, lists: dict[str, dict[str, Rows]]) -> None:
    root = reading.html((demo_pack / "kit.html").read_bytes())
    page = {node.attributes["id"]: reading.html_tables(node) for node in root.all("section")}
    numbers = {
        sheet["name"]: sheet["number"] for sheet in json.loads((demo_pack / "manifest.json").read_bytes())["sheets"]
    }
    book = reading.xlsx_tables((demo_pack / "workbook.xlsx").read_bytes())
    compared = 0
    for sheet, tables in lists.items():
        for name, rows in tables.items():
            own = page[f"sheet-{sheet}"]
            shown = own[name] if name else next(iter(own.values()))
            heads = [head for head in shown[0] if head in rows[0]]
            assert [[row[head] for head in heads] for row in rows] == [[row[head] for head in heads] for row in shown]
            assert all(row[head] == "" for row in rows for head in row if head not in heads), (sheet, name)
            if name and heads:
                work = book[f"{numbers[sheet]} {name}"[:31]]
                at = [work[0].index(head) for head in heads]
                assert [[row[i] for i in at] for row in work[1 : len(rows) + 1]] == [
                    [row[head] for head in heads] for row in rows
                ]
            compared += len(rows)
    assert compared > 200


def test_every_cell_stands_on_the_paper(demo_pack: Path, lists: dict[str, dict[str, Rows]]) -> None:
    """Cells are wrapped on paper: blanks do not count, and a cell stands in one piece in the order of the text."""
    cells = 0
    for sheet, tables in lists.items():
        single = next((demo_pack / "sheets").glob(f"*-{sheet}.svg"))
        drawn = squeezed("".join(reading.svg_texts(single.read_bytes())))
        printed = squeezed("".join(reading.pdf_pages(single.with_suffix(".pdf").read_bytes())))
        for row in flat(tables):
            for cell in row.values():
                assert squeezed(cell) in drawn, (sheet, cell)
                # A hyphen at the end of a line is taken for a broken word by readers of PDF files.
                assert squeezed(cell).replace("-", "") in re.sub("[-\x02\ufffe]", "", printed), (sheet, cell)
                cells += 1
    assert cells > 2000


# -- one wire through all documents -----------------------------------------------------------------------------------


def test_the_cut_list_says_what_the_job_file_says(lists: dict[str, dict[str, Rows]]) -> None:
    typed = said_in_the_file()
    cut, ends = lists["cut-list"]["cut"], lists["cut-list"]["ends"]
    assert [row["id"] for row in cut if row["kind"] != "cable"] != []
    assert {row["id"] for row in cut} == set(typed)
    for row in cut:
        entry = typed[row["id"]]
        if "length" in entry:
            assert row["laid mm"] == entry["length"].removesuffix(" mm")
            parts = [float(row[key]) for key in ("laid mm", "end A mm", "end B mm", "rounding mm")]
            assert sum(parts) == float(row["cut mm"])
        if "type" in entry:
            assert row["type"] == entry["type"]
        if "from" in entry:
            assert [e["at"] for e in only(ends, id=row["id"])] == [entry["from"], entry["to"]]
        if "cable" in entry:
            assert (row["of cable"], row["core"]) == (entry["cable"], entry["core"])


def test_the_diagram_shows_the_wires_of_the_cut_list(demo_pack: Path, lists: dict[str, dict[str, Rows]]) -> None:
    root = ET.fromstring(next((demo_pack / "sheets").glob("03*-wiring-diagram.svg")).read_bytes())
    drawn: dict[str, tuple[str, str, str]] = {}
    for group in root.iter(f"{reading.SVG}g"):
        if "new" in group.get("class", "").split() and "data-wire" in group.attrib:
            text = " ".join(element.text or "" for element in group.iter(f"{reading.SVG}text"))
            drawn[group.get("data-wire", "")] = (group.get("data-from", ""), group.get("data-to", ""), text)
    cut = [row for row in lists["cut-list"]["cut"] if row["kind"] != "cable"]
    assert set(drawn) == {row["id"] for row in cut}
    for row in cut:
        a, b, text = drawn[row["id"]]
        assert [a, b] == [end["at"] for end in only(lists["cut-list"]["ends"], id=row["id"])]
        assert text.split()[:3] == [row["id"], *row["gauge"].split()]
        assert text.split()[-1] == ("drain" if row["core"] == "drain" else row["colour"])
        if row["colour digits"] and row["core"] != "drain":
            assert text.split()[-2] == row["colour digits"]


def test_pin_maps_and_faces_name_the_same_wire_in_each_cavity(lists: dict[str, dict[str, Rows]]) -> None:
    ends = lists["cut-list"]["ends"]
    cut = {row["id"]: row for row in lists["cut-list"]["cut"]}
    at = {end["at"]: end["id"] for end in ends if "-" in end["at"]}
    fitting = {end["at"]: end["fitting"] for end in ends}
    pins = {
        f"{name.removeprefix('pin-map-')}-{row['cavity']}": row
        for name, rows in lists["pin-map"].items()
        for row in rows
        if name.startswith("pin-map-")
    }
    faces = {
        f"{name.removeprefix('cavities-')}-{row.get('cavity') or row['Cavity']}": {k.lower(): v for k, v in row.items()}
        for name, rows in lists["faces"].items()
        for row in rows
    }
    assert set(pins) == set(faces)
    for point, wire in at.items():
        for row in (pins[point], faces[point]):
            assert row["wire"] == wire
            assert fitting[point] == f"contact {row['contact']}"
            assert row.get("size", row.get("gauge")) == cut[wire]["gauge"]
            if cut[wire]["core"] != "drain":
                assert row["colour"].split()[-1] == cut[wire]["colour"], (point, wire)
    for point, row in pins.items():
        if point.partition("-")[0] in ("J114", "P114", "P115") and point not in at:
            assert row["wire"] in ("", "none", "not listed")
            assert row["plug"]


def test_labels_name_every_wire_and_its_row(demo_pack: Path, lists: dict[str, dict[str, Rows]]) -> None:
    cut = {row["id"]: row for row in lists["cut-list"]["cut"]}
    page = reading.html((demo_pack / "kit.html").read_bytes())
    anchors = {node.attributes["id"] for node in page.all("tr") if "id" in node.attributes}
    labels = lists["wire-labels"]["labels"]
    # AC 43.13-1B par. 11-208: a wire under 3 in needs no mark; 3 in are 76.2 mm.
    unmarked = {name for name in cut if name not in {row["wire"] for row in labels}}
    assert all(0 < float(cut[name]["laid mm"] or 0) < 76.2 or cut[name]["kind"] != "wire" for name in unmarked)
    for row in labels:
        assert row["text"] == row["wire"]
        assert row["code"].partition("#")[2] in anchors


# -- counts -----------------------------------------------------------------------------------------------------------


def test_the_kit_counts_contacts_plugs_and_splices(lists: dict[str, dict[str, Rows]]) -> None:
    kit = lists["kit-list"]["kit"]
    typed = DEMO.read_text(encoding="utf-8")
    ends = lists["cut-list"]["ends"]
    contacts = Counter(end["fitting"].removeprefix("contact ") for end in ends if end["fitting"].startswith("contact "))
    assert {row["part"]: int(row["one kit"]) for row in only(kit, what="contact")} == contacts
    splices = Counter(re.findall(r"SP\d: \{part: (\S+),", typed))
    assert {row["part"]: int(row["one kit"]) for row in only(kit, what="splice")} == splices
    new = [row for name, rows in lists["pin-map"].items() if name[8:] in ("J114", "P114", "P115") for row in rows]
    plugs = Counter(row["plug"] for row in new if re.fullmatch(r"M\S+", row["plug"]))
    assert {row["part"]: int(row["one kit"]) for row in only(kit, what="sealing plug")} == plugs
    spares = dict(re.findall(r"(M39029/\S+): (\d+)", typed.partition("spare contacts:")[2].partition("\n")[0]))
    assert {row["part"]: row["one kit"] for row in only(kit, what="spare contact")} == spares


def test_the_cut_totals_are_the_sum_of_the_wires(demo_pack: Path, lists: dict[str, dict[str, Rows]]) -> None:
    sums: dict[str, float] = {}
    for row in lists["cut-list"]["cut"]:
        if row["cut mm"]:
            sums[row["type"]] = sums.get(row["type"], 0.0) + float(row["cut mm"])
    kit = lists["kit-list"]["kit"]
    listed = {row["part"]: float(row["one kit"]) for row in kit if row["what"] in ("wire", "cable")}
    assert listed == pytest.approx({name: total / 1000 for name, total in sums.items()})
    page = reading.html((demo_pack / "kit.html").read_bytes())
    table = next(t for t in page.all("table") if t.attributes["data-table"] == "cut")
    totals = [
        [cell.text for cell in row.all("td")] for row in table.all("tr") if row.attributes.get("class") == "total"
    ]
    assert len(totals) == len(sums)
    for cells in totals:
        name = next(cell for cell in cells if cell in sums)
        assert any(re.match(rf"{sums[name] / 1000:.3f}\b", cell) for cell in cells), cells


def test_ten_kits_are_ten_times_one(tmp_path: Path, lists: dict[str, dict[str, Rows]]) -> None:
    from harnesscheck import api, sheets

    job = api.load(DEMO)
    for sheet, table, column in (("kit-list", "kit", "all kits"), ("cut-list", "cut", "pieces")):
        ten = reading.csv_tables(sheets.render(sheet, job, "csv", sheets.Wish(10)))[table]
        one = lists[sheet][table]
        assert len(ten) == len(one)
        for row, single in zip(ten, one, strict=True):
            if single[column]:
                assert float(row[column]) == pytest.approx(10 * float(single[column])), row
