"""Readings files with one slip or several: the place of each is counted in the text beside it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from harnesscheck import document
from harnesscheck.fault import InputError
from harnesscheck.trouble import readings
from harnesscheck.trouble.readings import HEAD, ROW, ReadingsFile, Row, _cells, load


def read(folder: Path, text: str, name: str = "r.csv") -> ReadingsFile:
    path = folder / name
    path.write_bytes(text.encode())
    return load(path, name)


def refused(folder: Path, text: str, name: str = "r.csv") -> list[tuple[int, int, str, str]]:
    with pytest.raises(InputError) as found:
        read(folder, text, name)
    return [(f.line, f.column, f.message, f.remedy) for f in found.value.faults]


WORDS = {
    "kind": "readings", "who": "A. Fitter", "meter": "M", "meter id": "7", "date": "today", "article": "installed",
    "mode": "quick", "groups": "single", "other units": "plugged in", "pack id": "P-1", "file hash": "ab12",
    "files": "a.yaml 0123abcd", "note": "dry", "title": "Jumper",
}  # fmt: skip


def test_every_key_of_the_head(tmp_path: Path) -> None:
    assert set(WORDS) == set(HEAD) and ROW == ("reading", "value", "unit", "verdict", "note")
    lines = [f"{key},{said}" for key, said in WORDS.items()]
    assert read(tmp_path, "\n".join([*lines, "reading,value", "BC1,1"])).head == WORDS
    lines = [f"{key}: {said}" for key, said in WORDS.items()]
    assert read(tmp_path, "\n".join([*lines, "readings: []"]), "r.yaml").head == WORDS


@pytest.mark.parametrize(
    ("line", "cells"),
    [
        ('"a"""', [('a"', 1)]), ('"""a",b', [('"a', 1), ("b", 7)]), ('""""', [('"', 1)]), ('"""', 1), ('a,"b""', 3),
        ('"a""b""c";d', [('a"b"c', 1), ("d", 11)]), ("a,", [("a", 1), ("", 3)]), ('"",""', [("", 1), ("", 4)]),
        ('a"b,c', [('a"b', 1), ("c", 5)]),
    ],
)  # fmt: skip
def test_quotes_in_cells(line: str, cells: object) -> None:
    assert _cells(line) == cells


def test_every_slip_of_a_list_is_told(tmp_path: Path) -> None:
    """Row 1 is no mapping, row 2 has an unknown key and a list for a value, row 3 names no reading."""
    text = "readings:\n  - BC1\n  - {reading: BC1, valeu: 1, note: [x]}\n  - {value: 1}\n  - {reading: BC4, value: 1}\n"
    assert [(line, column) for line, column, *_ in refused(tmp_path, text, "r.yaml")] == [
        (2, 5), (3, 20), (3, 36), (4, 5),
    ]  # fmt: skip


def test_every_slip_of_a_table_is_told(tmp_path: Path) -> None:
    """An open quote in row 2 does not hide the unit of row 3; Windows line ends are no part of a cell."""
    text = 'who,me\r\nreading,value\r\n"BC1,1\r\nBC2,1 foot\r\nBC3,1\r\n'
    found = refused(tmp_path, text)
    assert [(line, column) for line, column, *_ in found] == [(3, 1), (4, 5)]
    assert "'1 foot': unit 'foot'" in found[1][2]
    good = read(tmp_path, 'who,me\r\nreading,value,note\r\nBC1,1,\r\nBC2,"2",dry\r\n')
    assert [(r.id, r.value, r.note, r.line) for r in good.rows] == [("BC1", 1.0, "", 3), ("BC2", 2.0, "dry", 4)]
    assert good.head == {"who": "me"}


@pytest.mark.parametrize(
    ("name", "text", "place", "message", "remedy"),
    [
        # What is wrong stands in the head, though the same word stands in another line before it.
        ("r.csv", "who,bech\narticle,bech\nreading,value\n", (2, 9), "article cannot be 'bech'", "bench"),
        ("r.csv", "note,\n\nmode,x\nreading,value\n", (3, 6), "mode cannot be 'x'",
         "write first article, field or quick"),
        ("r.csv", "article,x\nreading,value\n", (1, 9), "article cannot be 'x'", "write bench, installed or aircraft"),
        ("r.csv", "groups,x\nreading,value\n", (1, 8), "groups cannot be 'x'", "write single or tied"),
        ("r.csv", "who,bench\narticle,\"x\"\nreading,value\n", (2, 9), "article cannot be 'x'",
         "write bench, installed or aircraft"),
        ("r.yaml", "who: bech\narticle:   bech\nreadings: []\n", (2, 12), "article cannot be 'bech'", "bench"),
        ("r.yaml", "other units: \"out\"\nreadings: []\n", (1, 14), "other units cannot be 'out'",
         "write plugged in or unplugged"),
    ],
)  # fmt: skip
def test_slips_in_the_head(
    name: str, text: str, place: tuple[int, int], message: str, remedy: str, tmp_path: Path
) -> None:
    ((line, column, said, todo),) = refused(tmp_path, text, name)
    assert (line, column) == place and said == message and remedy in todo


def test_an_empty_word_of_the_head_is_none(tmp_path: Path) -> None:
    found = read(tmp_path, "article\nmode,\ngroups,  \nreading,value\n")
    assert found.head == {"article": "", "mode": "", "groups": ""} and not found.rows


def test_no_more_rows_than_any_harness_has(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Twenty thousand is common practice, as the module says; one row more than the limit is one too many."""
    assert readings.MOST == 20_000
    monkeypatch.setattr(readings, "MOST", 3)
    rows = ["reading", "B", "B", "B"]
    assert len(read(tmp_path, "\n".join(rows)).rows) == 3
    assert refused(tmp_path, "\n".join([*rows, "C"])) == [(5, 1, "more than 3 rows", "split the file by article")]


def test_large_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """21 characters are read where 21 are the limit, not where 20 are."""
    text = "reading,value\nBC1,0.3"
    monkeypatch.setattr(document, "MAX_BYTES", 21)
    assert len(text) == 21 and len(read(tmp_path, text).rows) == 1
    monkeypatch.setattr(document, "MAX_BYTES", 20)
    ((_, _, said, _),) = refused(tmp_path, text)
    assert said.startswith("this file is larger than")


@pytest.mark.parametrize("text", ["", " ", "\n\n", "\t\r\n"])
def test_empty_files(text: str, tmp_path: Path) -> None:
    ((line, column, said, _),) = refused(tmp_path, text)
    assert (line, column) == (1, 1) and "empty" in said


def test_what_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "d.csv").mkdir()
    os.mkfifo(tmp_path / "p.csv")
    for name, said in (("d.csv", "is a folder"), ("p.csv", "is not an ordinary file"), ("n.csv", "does not exist")):
        with pytest.raises(InputError, match=said):
            load(tmp_path / name, name)


def test_hidden_characters(tmp_path: Path) -> None:
    """A zero width space, a soft hyphen; tabs and the line end of Windows are none."""
    found = refused(tmp_path, "reading,value\r\nBC\u200b1,1\r\n\u00adBC2,\t2\r\n")
    assert [(line, column, said.partition(" U+")[2]) for line, column, said, _ in found] == [
        (2, 3, "200B (zero width space)"), (3, 1, "00AD (soft hyphen)"),
    ]  # fmt: skip
    assert read(tmp_path, "reading,value\r\nBC2,\t2\r\n").rows[0].value == 2.0
    assert len(refused(tmp_path, "reading,value\rBC2,2\r\n")) >= 1


def test_units_of_a_column_and_of_a_cell(tmp_path: Path) -> None:
    """The unit of the cell goes before that of its row; a row without a value needs none."""
    found = read(tmp_path, "reading,unit,value,verdict\nBC1,kohm,2,\nBC2,V,3 mohm,\nBC3,mile,,good\nBC4,,OL,bad\n")
    assert [(r.value, r.unit, r.verdict) for r in found.rows] == [
        (2000.0, "ohm", None), (pytest.approx(0.003), "ohm", None), (None, "", True), (float("inf"), "ohm", False),
    ]  # fmt: skip
    (bad,) = refused(tmp_path, "reading,unit,value\nBC1,mile,2\n")
    assert bad[:2] == (2, 10) and bad[2].startswith("'2': unit 'mile' is not one of")


def test_what_the_head_says_of_the_article(tmp_path: Path) -> None:
    for said, tied, staying in (
        ("groups,tied", True, True),
        ("groups,single", False, True),
        ("other units,unplugged", False, False),
        ("other units,plugged in", False, True),
    ):
        found = read(tmp_path, f"{said}\nreading,value\n")
        assert (found.tied, found.staying) == (tied, staying)
    spoken = Row("BC1", 0.3, "ohm", "0.3", None)
    assert (spoken.line, spoken.column, spoken.note, spoken.beyond) == (0, 0, "", ""), (
        "on the telephone there is no line"
    )
    assert (readings.PLUGGED, readings.UNPLUGGED) == ("plugged in", "unplugged")
