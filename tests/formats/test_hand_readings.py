"""A file of readings: the rarer slips, each at the place counted in the text."""

from __future__ import annotations

from pathlib import Path

import pytest

from harnesscheck import document
from harnesscheck.trouble import readings
from tests.formats.marked import expected, places, refused, same


def check(folder: Path, name: str, text: str, *said: tuple[str, str]) -> None:
    (folder / name).write_text(places(text)[0], encoding="utf-8")
    same(refused(lambda: readings.load(folder / name, name)), expected({name: text}, *said))


KEYS = ", ".join([*readings.HEAD, "readings"])
NONE = ("this file holds no readings", "add 'readings:' with a list of rows")


def test_slips_of_the_head(tmp_path: Path) -> None:
    rows = "readings: [{reading: BC1, value: 0.2}]\n"
    check(tmp_path, "a.yaml", f"§metr: x\n{rows}", ("unknown key 'metr'", "did you mean meter?"))
    check(tmp_path, "a.yaml", f"§zzzzzzz: x\n{rows}", ("unknown key 'zzzzzzz'", f"the keys are: {KEYS}"))
    check(tmp_path, "a.yaml", f"who: §[a]\n{rows}", ("who is plain text", "write it on one line"))
    check(tmp_path, "a.yaml", "§who: me\n", NONE)


def test_a_quote_is_written_twice_inside_quotes(tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_text('who,"a ""b"", c"\nreading,value,note\nBC1,0.2,"""x"""\n')
    found = readings.load(tmp_path / "a.csv", "a.csv")
    assert found.head == {"who": 'a "b", c'}
    assert [(row.id, row.value, row.note) for row in found.rows] == [("BC1", 0.2, '"x"')]


def test_more_rows_than_a_file_may_have(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(readings, "MOST", 2)
    text = "reading,value\nBC1,0.1\nBC2,0.1\n"
    check(tmp_path, "a.csv", text)
    check(tmp_path, "a.csv", text + "§BC3,0.1\n", ("more than 2 rows", "split the file by article"))


def test_a_list_that_is_too_large(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(document, "MAX_BYTES", 20)
    (tmp_path / "a.csv").write_text("reading,value\nBC1,0\n")
    assert [fault[3] for fault in refused(lambda: readings.load(tmp_path / "a.csv", "a.csv"))] == []
    (tmp_path / "a.csv").write_text("reading,value\nBC1,0\n#")
    (fault,) = refused(lambda: readings.load(tmp_path / "a.csv", "a.csv"))
    assert fault[1:4] == (1, 1, "this file is larger than 0 MB")
