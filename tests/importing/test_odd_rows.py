"""Single odd rows below a plain one: taken as the one thing they can mean, or listed with the reason; never guessed.

What each row means was decided by reading it, before it was read by the program.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists.reader import Imported

HEAD = "wire id,from connector,from pin,to connector,to pin,gauge,signal\nW0,P9,9,P8,8,22,Z\n"


def read(rows: str, folder: Path, head: str = HEAD) -> Imported:
    (folder / "list.csv").write_text(head + rows, encoding="utf-8")
    return spreadsheet.understood(folder / "list.csv", "list.csv")


@pytest.mark.parametrize(("row", "reason", "remedy"), [
    ("W1,P1,1,P2,,22,A", "no cavity is given at 'P2'", "write the cavity"),
    ("W1,P1 and P3,1,P2,1,22,A", "may name more than one part", "write one row for each"),
    ("W1,?!,1,P2,1,22,A", "'?!' cannot be a reference", "write a letter"),
    ("W1,P1,1,P1,1,22,A", "the wire ends where it starts", "correct one end"),
    ("W1,P9,,P2,1,22,A", "no cavity is given at 'P9'", "write the cavity"),
    ("W1,P 9,1,P2,1,22,A\nW2,P_9,2,P3,1,22,A", "would both be written P_9", "another name"),
    ("W1,SP1,2,P3,2,22,B\nW2,SP1,,P2,1,22,A", "no cavity is given at 'SP1'", "write the cavity"),
    ("W1,SP1,,P2,1,22,A\nW2,P1,1,P2,,22,B", "no cavity is given at 'P2'", "write the cavity"),
])  # fmt: skip
def test_a_row_that_is_not_plain_is_listed(row: str, reason: str, remedy: str, tmp_path: Path) -> None:
    imported = read(row + "\n", tmp_path)
    (left,) = imported.account.left
    assert reason in left.reason
    assert remedy in left.remedy
    assert left.line == 2 + len(row.splitlines()) or "SP1" in left.reason  # a splice is met where its other row stands
    assert list(imported.account.rows.values()).count("not understood") == 1
    assert len(imported.draft.wires) == len(row.splitlines())  # the plain row and those that are plain beside it


@pytest.mark.parametrize(("row", "ends"), [
    ("W1,P1,1,SP1,,22,A", (("P1", "1"), ("SP1", ""))),
    ("W1,GS1,,P2,1,22,A", (("GS1", ""), ("P2", "1"))),
    ("W1,P1,1,P2,1,22,A", (("P1", "1"), ("P2", "1"))),
    ("W1,P1,1,,2,22,A", (("P1", "1"), ("P8", "2"))),  # a merged cell: the connector of the row above
])  # fmt: skip
def test_a_plain_row_is_a_wire(row: str, ends: tuple[tuple[str, str], tuple[str, str]], tmp_path: Path) -> None:
    imported = read(row + "\n", tmp_path)
    wire = imported.draft.wires[1]
    assert (wire.id, wire.a, wire.b) == ("W1", *ends)
    assert wire.values["gauge"][0] == "22 AWG"
    assert not imported.account.left


def test_an_id_that_comes_again_is_numbered_and_marked_as_typed(tmp_path: Path) -> None:
    imported = read("W1,P1,1,P2,1,22,A\nW1,P1,2,P2,2,22,A\nW1,P1,3,P2,3,22,A\n", tmp_path)
    assert [wire.id for wire in imported.draft.wires] == ["W0", "W1", "W1_2", "W1_3"]
    assert [wire.values.get("mark", ("",))[0] for wire in imported.draft.wires] == ["", "", "W1", "W1"]


@pytest.mark.parametrize(("signal", "taken"), [
    ("A", True), ("x" * 50, True), ("x" * 51, False), ("caf\u00e9", False), ("spare", False), ("--", False),
])  # fmt: skip
def test_a_circuit_name_that_our_files_can_hold(signal: str, taken: bool, tmp_path: Path) -> None:
    imported = read(f"W1,P1,1,P2,1,22,{signal}\n", tmp_path)
    pins = imported.draft.pins
    named = {point for point, pin in pins.items() if "circuit" in pin.values}
    assert (("P1", "1") in named, ("P2", "1") in named) == (taken, taken)


def test_one_cavity_carries_one_circuit(tmp_path: Path) -> None:
    imported = read("W1,P1,1,P2,1,22,A\nW2,P1,1,P3,2,22,B\n", tmp_path)
    pins = imported.draft.pins
    assert pins["P1", "1"].values["circuit"][0] == "A"
    assert pins["P3", "2"].values["circuit"][0] == "B"
    assert any("is called 'A'" in left.reason for left in imported.account.values)
