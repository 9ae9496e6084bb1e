"""Made-up tables by the hundred: no row without an account, no cavity that the row does not name, clean lists exact."""

from __future__ import annotations

import csv
import io
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists import spellings
from harnesscheck.formats._lists.account import KINDS
from harnesscheck.formats._lists.cells import plain
from harnesscheck.formats._lists.reader import Imported
from tests.importing.test_cases import rows_in, wires_of

ORDERS = [
    ["id", "ends", "gauge", "colour", "note"],
    ["ends", "colour", "id", "gauge"],
    ["gauge", "note", "ends", "id", "colour"],
]
HEADS = [
    "Wire", "Wire #", "ID", "From", "To", "End A", "End B", "Source", "Destination", "Pin", "Pin #",
    "Connector",
    "Signal", "Function", "AWG", "Gauge", "Size", "Color", "Length", "Contact", "Notes", "Ends", "OEM Pin", "TCU pin",
    "Part", "Qty", "-", "", "Net", "From Pin", "to_pin", "Weather plug pin", "Target Pin", "Description",
    "End", "J1", "J2", "Goes to", "Connector 1", "Pin 2", "Farbe", "End 3", "Cavity", "Wire No.",
]  # fmt: skip
CELLS = [
    "", "", "", "1", "2", "3", "12", "A", "a", "J1", "J2", "P7", "K5:3", "F1:LOAD", "PS1:+V", "H2-5", "CN8-3", "J1.3",
    "J1 pin 3", "K1-24", "Coil (K1-13)", "pins 4/5/6", "C2, C3, C4", "B30+B31", "7-10", "1-2", "left pin 1 (top)",
    "+28V", "007", "1E5", "NO", "NC", "N/C", "-", "–", "Spare", "Reserved", "22", "22 AWG", "0.35", "18–20 AWG", "2/0",
    "3x22AWG shielded", "RG-316", "red", "White/ Yellow", "LT BLUE", "???", "80 mm ± 5 mm", "~13 ft", '12"', "TBD",
    "SP1", "GS3", "GND", "splice on AC-L1", "F5 *and* F6 (splice)", "Total", "J1:1; J2:2; J3:3", "5/16\" stud",
    "DC−", "fan relay (old)", "retired", "#16", "M39029/58-360", "same as W7", "a -> b", "J1:1 -> J2:2",
    "ECU:3<red>P:4", '"', "do.", "WHT/BLU", "GR", "1,200 mm", "5' 2\"", "J1(3)", "DELETED",
    "6 thru 9", "W1", "W2", "W1 22 WHT",
]  # fmt: skip


def read(rows: list[list[str]], suffix: str = ".csv") -> Imported | None:
    text = io.StringIO()
    if suffix == ".md":
        text.write("# Plug P5\n\n")
        for number, row in enumerate(rows):
            text.write("| " + " | ".join(cell.replace("|", "") for cell in row) + " |\n")
            text.write("|" + "---|" * len(row) + "\n" if number == 0 else "")
    else:
        csv.writer(text).writerows(rows)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"list{suffix}"
        path.write_text(text.getvalue(), encoding="utf-8")
        if not any(cell.strip() for row in rows for cell in row):
            return None
        return spreadsheet.understood(path, path.name)


tables = st.tuples(
    st.lists(st.sampled_from(HEADS), min_size=2, max_size=7),
    st.lists(st.lists(st.sampled_from(CELLS), min_size=2, max_size=7), min_size=1, max_size=8),
    st.sampled_from([".csv", ".md"]),
)


@settings(max_examples=250, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(tables)
def test_no_row_is_dropped_and_no_cavity_is_made_up(table: tuple[list[str], list[list[str]], str]) -> None:
    heads, rows, suffix = table
    imported = read([heads, *([*row, *[""] * len(heads)][: len(heads)] for row in rows)], suffix)
    if imported is None:
        return
    account = imported.account
    assert account.total == rows_in(imported)
    assert sum(account.count(kind) for kind in KINDS) == account.total
    listed = {left.line for left in account.left}
    assert listed == {line for line, kind in account.rows.items() if kind == "not understood"}
    for wire in imported.draft.wires:
        assert account.rows[wire.line] in ("wires", "not understood")
        lines = [plain(imported.document.line(line)) for line in (wire.line, wire.also) if line]
        if any('"' in line or "do." in line for line in lines):
            continue  # a ditto mark names the cavity of a row above
        row = " ".join(lines)
        for _, cavity in (wire.a, wire.b):
            assert cavity in row, (cavity, row)
    wired = {line for wire in imported.draft.wires for line in (wire.line, wire.also)}
    assert {line for line, kind in account.rows.items() if kind == "wires"} <= wired
    if imported.draft.connectors or imported.draft.wires:
        spreadsheet.job_of(imported, Path("list.csv"), "list.csv")  # the model takes whatever was understood


COLUMNS = {
    "id": ["Wire #", "Wire", "ID", "Wire No.", "Wire number"],
    "from": ["From", "End A", "Source", "From connector", "from_ref", "FROM REF"],
    "from pin": ["Pin", "From Pin", "Source Pin", "from_cavity", "Pin A"],
    "to": ["To", "End B", "Destination", "To connector", "to_ref", "Target Component"],
    "to pin": ["Pin", "To Pin", "Target Pin", "to_cavity", "Pin B"],
    "gauge": ["AWG", "Wire Gauge", "Gauge", "Gauge (AWG)"],
    "colour": ["Color", "Colour", "Wire Color", "Harness wire color"],
    "note": ["Notes", "Remarks", "Comment"],
}
names = st.from_regex(r"[A-Z]{1,2}[0-9]{1,2}", fullmatch=True).filter(
    lambda name: not spellings.GROUND.fullmatch(name) and not spellings.SPLICE.fullmatch(name)
)
pins = st.from_regex(r"[0-9]{1,2}|[A-Za-z]|\+[0-9]{2}V|0[0-9]{2}|[1-9]-[1-9]|[0-9]E[0-9]|IN[0-9]", fullmatch=True)
wires = st.tuples(names, pins, names, pins, st.integers(4, 26).map(str), st.sampled_from(["red", "White/Blue", "96"]))


@settings(max_examples=150, deadline=None)
@given(
    st.lists(wires, min_size=1, max_size=8).filter(lambda w: all(a[:2] != a[2:4] for a in w)),
    st.fixed_dictionaries({key: st.sampled_from(said) for key, said in COLUMNS.items()}),
    st.sampled_from(ORDERS),
    st.sampled_from([".csv", ".md"]),
)  # fmt: skip
def test_a_clean_list_is_read_exactly(
    rows: list[tuple[str, ...]], said: dict[str, str], order: list[str], suffix: str
) -> None:
    columns = [c for name in order for c in (["from", "from pin", "to", "to pin"] if name == "ends" else [name])]
    table = [[said[column] for column in columns]]
    for number, row in enumerate(rows):
        values = dict(zip(("from", "from pin", "to", "to pin", "gauge", "colour"), row, strict=True))
        values |= {"id": f"N{number}", "note": "x y"}
        table.append([values[column] for column in columns])
    imported = read(table, suffix)
    assert imported is not None
    assert imported.account.whole, [(left.text, left.reason) for left in imported.account.left]
    assert wires_of(imported) == {
        f"N{n}": f"{a}-{b} > {c}-{d}, {size} AWG, {hue}, " for n, (a, b, c, d, size, hue) in enumerate(rows)
    }
