"""Rows, heads and cells of readings files, one slip at a time, by the reader alone."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from harnesscheck.fault import InputError
from harnesscheck.trouble import readings
from harnesscheck.trouble.readings import _cells, load, value_of


@pytest.mark.parametrize(
    ("line", "cells"),
    [
        ("a,b", [("a", 1), ("b", 3)]), ("", [("", 1)]), (",", [("", 1), ("", 2)]), ('"a,b",c', [("a,b", 1), ("c", 7)]),
        ('"a""b",c', [('a"b', 1), ("c", 8)]), ('a;b', [("a", 1), ("b", 3)]), ("a;b,c", [("a;b", 1), ("c", 5)]),
        ('x,"open', 3), ('"', 1), ('""', [("", 1)]), ('"a";"b"', [("a", 1), ("b", 5)]),
        ('"a"x,b', [("a", 1), ("b", 6)]),
    ],
)  # fmt: skip
def test_cells(line: str, cells: object) -> None:
    assert _cells(line) == cells


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        *((word, "", (math.inf, "ohm", "")) for word in ("OL", "o.l", "O.L.", "0L", "open", "Inf", "infinite",
                                                          "overload", "over", "1.", "---", ">")),
        *((f"2{u}", "", (2.0 * f, "ohm", "")) for u, f in (("ohm", 1.0), ("ohms", 1.0), ("Ω", 1.0), ("kohm", 1e3),
            ("k", 1e3), ("kΩ", 1e3), ("K", 1e3), ("Mohm", 1e6), ("M", 1e6), ("MΩ", 1e6), ("Gohm", 1e9))),
        ("200 mohm", "", (0.2, "ohm", "")), ("2", "mV", (0.002, "V", "")), ("2 volt", "", (2.0, "V", "")),
        (" 3 ", "", (3.0, "", "")), ("<0.1", "ohm", (0.1, "ohm", "<")), ("> 2 M", "", (2e6, "ohm", ">")),
        ("-0.5", "ohm", (-0.5, "ohm", "")), ("-0.51", "V", (-0.51, "V", "")), ("-0.6", "", (-0.6, "", "")),
        ("+3", "", (3.0, "", "")), ("1.2k", "V", (1200.0, "ohm", "")), ("2 V", "ohm", (2.0, "V", "")),
    ],
)  # fmt: skip
def test_what_a_meter_shows(typed: str, unit: str, value: tuple[float, str, str]) -> None:
    found = value_of(typed, unit)
    assert not isinstance(found, str)
    assert found == (pytest.approx(value[0]), *value[1:])


@pytest.mark.parametrize(
    ("typed", "unit", "said"),
    [
        ("0,3", "", "a decimal comma is not read"), ("> 0,3 ohm", "", "a decimal comma"),
        ("-0,3", "", "a decimal comma"),
        ("beep", "", "neither a number nor OL"), ("", "", "neither"), ("1" * 13, "", "neither"),
        ("3", "furlong", "unit 'furlong' is not one of"), ("3 mile", "ohm", "unit 'mile'"),
        ("-0.51", "ohm", "not below zero"),
    ],
)  # fmt: skip
def test_what_no_meter_shows(typed: str, unit: str, said: str) -> None:
    found = value_of(typed, unit)
    assert isinstance(found, str) and said in found


def read(tmp_path: Path, text: str, name: str = "r.csv") -> readings.ReadingsFile:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return load(path, name)


def test_a_whole_file(tmp_path: Path) -> None:
    found = read(tmp_path, (
        "\ufeffkind,readings\nWho:,A. Fitter\nMETER\ngroups,tied\nother units,unplugged\n,,\n\n"
        "ID,Value,unit,verdict,note,\nBC1,0.2,ohm,,\nBC2,,,BAD,loose;dry\n\nBS3,>2,Mohm,ok,,\nBV4,13.9 V\nBX5,,,,\n"
    ))  # fmt: skip
    assert found.head == {
        "kind": "readings",
        "who": "A. Fitter",
        "meter": "",
        "groups": "tied",
        "other units": "unplugged",
    }
    assert found.tied and not found.staying
    assert [(r.id, r.value, r.unit, r.typed, r.verdict, r.note, r.line, r.column, r.beyond) for r in found.rows] == [
        ("BC1", 0.2, "ohm", "0.2", None, "", 9, 1, ""), ("BC2", None, "", "", False, "loose;dry", 10, 1, ""),
        ("BS3", 2e6, "ohm", ">2", True, "", 12, 1, ">"), ("BV4", 13.9, "V", "13.9 V", None, "", 13, 1, ""),
        ("BX5", None, "", "", None, "", 14, 1, ""),
    ]  # fmt: skip
    plain = read(tmp_path, "reading,value\nBC1,1\n")
    assert not plain.tied and plain.staying and plain.head == {}


@pytest.mark.parametrize("word", ["good", "OK", "Pass"])
def test_words_for_good(word: str, tmp_path: Path) -> None:
    assert read(tmp_path, f"reading,verdict\nBC1,{word}\n").rows[0].verdict is True


@pytest.mark.parametrize("word", ["wrong", "Bad", "FAIL"])
def test_words_for_wrong(word: str, tmp_path: Path) -> None:
    assert read(tmp_path, f"reading;verdict\nBC1;{word}\n").rows[0].verdict is False


HEAD = "readings:\n"
BAD = [
    ("r.csv", "reading,valeu\nBC1,1\n", (1, 9), "unknown column", "value"),
    ("r.csv", "reading,xyzzy\nBC1,1\n", (1, 9), "unknown column", "the columns are: reading, value"),
    ("r.csv", "metre,x\nreading,value\nBC1,1\n", (1, 1), "unknown key", "meter"),
    ("r.csv", "xyzzy,x\nreading,value\nBC1,1\n", (1, 1), "unknown key", "start the rows with a line 'reading,value"),
    ("r.csv", 'reading,value\n"BC1,1\nBC2,2\n', (2, 1), "the quote opened here", "close it"),
    ("r.csv", "reading,value\nBC1,1,,x\n", (2, 7), "more cells than columns", "quotes"),
    ("r.csv", "reading,value\nBC1,1 foot\n", (2, 5), "'1 foot': unit 'foot'", "write it like 0.3"),
    ("r.csv", "reading,verdict\nBC1,goood\n", (2, 5), "unknown verdict 'goood'", "good"),
    ("r.csv", "reading,verdict\nBC1,xyzzy\n", (2, 5), "unknown verdict", "write good or wrong"),
    ("r.csv", "reading,value\n ,1\n", (2, 1), "names no reading", "like BC1"),
    ("r.csv", "who,me\n", (1, 1), "holds no readings", "start the rows with"),
    ("r.csv", "kind,jumper\nreading,value\n", (1, 1), "this is a file of kind 'jumper'", "readings file"),
    ("r.csv", "article,bech\nreading,value\n", (1, 9), "article cannot be 'bech'", "bench"),
    ("r.csv", "groups,xyzzy\nreading,value\n", (1, 8), "groups cannot be", "write single or tied"),
    ("r.csv", "who,x\nmode,quik\nreading,value\n", (2, 6), "mode cannot be", "quick"),
    ("r.csv", "other units,xyzzy\nreading,value\n", (1, 13), "other units cannot be", "write plugged in or unplugged"),
    ("r.csv", "who,a\tb\nreading,value\nBC1,\x071\n", (3, 5), "hidden or control character U+0007", "delete it"),
    ("r.csv", "who,a\nmode,quick\nwho,b\nreading,value\n", (3, 1), "'who' is said twice", "leave one"),
    ("r.csv", "who\nWho:,b\nreading,value\n", (2, 1), "'Who:' is said twice", "leave one"),
    ("r.csv", "reading,value,Value\nBC1,1,2\n", (1, 15), "column 'value' stands here twice", "leave one"),
    ("r.csv", "reading,value\nBC1,1\u3164\n", (2, 6), "character U+3164 (hangul filler)", "delete it"),
    ("r.yaml", "who: [a]\nreadings: []\n", (1, 6), "who is plain text", "one line"),
    ("r.yaml", "metre: a\nreadings: []\n", (1, 1), "unknown key", "meter"),
    ("r.yaml", "xyzzy: a\nreadings: []\n", (1, 1), "unknown key", "the keys are: kind, who"),
    ("r.yaml", "who: a\n", (1, 1), "holds no readings", "readings:"),
    ("r.yaml", "readings: a\n", (1, 11), "readings is a list", "- {reading"),
    ("r.yaml", HEAD + "  - a\n", (2, 5), "a row is a mapping", "{reading"),
    ("r.yaml", HEAD + "  - {reading: BC1, valeu: 1}\n", (2, 20), "unknown key 'valeu'", "value"),
    ("r.yaml", HEAD + "  - {reading: BC1, xyzzy: 1}\n", (2, 20), "unknown key", "the keys of a row are: reading"),
    ("r.yaml", HEAD + "  - {reading: BC1, value: [1]}\n", (2, 27), "value is plain text", "one value"),
    ("r.yaml", HEAD + "  - {reading: BC1, value: x}\n", (2, 27), "neither a number", "write it like"),
    ("r.yaml", HEAD + "  - {value: 1}\n", (2, 5), "names no reading", "like BC1"),
    ("r.yaml", HEAD + "  - {reading: BC1, verdict: x}\n", (2, 29), "unknown verdict", "good or wrong"),
]


@pytest.mark.parametrize(("name", "text", "place", "words", "remedy"), BAD)
def test_one_slip(name: str, text: str, place: tuple[int, int], words: str, remedy: str, tmp_path: Path) -> None:
    with pytest.raises(InputError) as found:
        read(tmp_path, text, name)
    (fault,) = found.value.faults
    assert (fault.line, fault.column) == place and words in fault.message and remedy in fault.remedy, str(fault)


def test_every_slip_is_told(tmp_path: Path) -> None:
    """The kind of file comes first; then the rows in their order."""
    with pytest.raises(InputError) as found:
        read(tmp_path, "xyzzy,1\nkind,jumper\nreading,value,verdict\n,1\nBC1,beep\nBC2,1,,,x\nBC3,1,maybe\nBC4,1\n")
    assert [f.line for f in found.value.faults] == [1, 1, 4, 5, 6, 7]
    assert "kind 'jumper'" in found.value.faults[0].message
    with pytest.raises(InputError) as found:
        read(tmp_path, "reading,value\nBC1,\u200b1\n\u200bBC2,1\n")
    assert [(f.line, f.column) for f in found.value.faults] == [(2, 5), (3, 1)]


def test_rows_are_counted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(readings, "MOST", 2)
    assert len(read(tmp_path, "reading,value\nBC1,1\nBC2,2\n").rows) == 2
    with pytest.raises(InputError, match="more than 2 rows") as found:
        read(tmp_path, "reading,value\nBC1,1\nBC2,2\nBC3,3\n")
    assert [(f.line, f.column) for f in found.value.faults] == [(4, 1)]


@pytest.mark.parametrize(
    ("data", "place"), [(b"reading,value\nBC1,\xff\n", (2, 5)), (b"\xffx\n", (1, 1)), (b"a\n\nbc\xfe", (3, 3))]
)
def test_bytes_that_are_no_text(data: bytes, place: tuple[int, int], tmp_path: Path) -> None:
    (tmp_path / "r.csv").write_bytes(data)
    with pytest.raises(InputError, match="is not UTF-8 text") as found:
        load(tmp_path / "r.csv", "r.csv")
    (fault,) = found.value.faults
    assert (fault.line, fault.column, fault.remedy) == (*place, "save the file as UTF-8")
