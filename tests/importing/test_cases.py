"""Tables of every family of layout: each wire right, or its row listed; no row without an account.

All tables are made up for the tests, in the layouts that people use; what each file says was typed by hand into the
YAML file beside it, by reading the table, before it was read by the program.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from harnesscheck import api, document, formats
from harnesscheck.fault import InputError
from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists.build import as_yaml
from harnesscheck.formats._lists.reader import Imported

CASES = Path(__file__).parent / "cases"
TABLES = sorted(path for path in CASES.iterdir() if path.suffix != ".yaml")
FAMILIES = 16
"""Families of layout that the tables cover at the least: those of the survey that the reader was made after."""


def wires_of(imported: Imported) -> dict[str, str]:
    """Every wire as one line: ``J1-1 > J2-1, 22 AWG, Red, 80 mm``."""
    made = {}
    for wire in imported.draft.wires:
        ends = " > ".join("-".join(filter(None, end)) for end in (wire.a, wire.b))
        values = [wire.values.get(key, ("",))[0] for key in ("gauge", "colour", "length")]
        made[wire.id] = ", ".join([ends, *values])
    return made


def pins_of(imported: Imported) -> dict[str, str]:
    """Every cavity in which no wire ends: its circuit, ``(spare)`` or ``(unknown)``."""
    ended = {end for wire in imported.draft.wires for end in (wire.a, wire.b)}
    return {
        f"{ref}-{cavity}": pin.values["circuit"][0] if "circuit" in pin.values else f"({pin.values['use'][0]})"
        for (ref, cavity), pin in imported.draft.pins.items()
        if (ref, cavity) not in ended
    }


def rows_in(imported: Imported) -> int:
    """Rows that hold anything, counted again from the sheets."""
    return sum(any(cell.text for cell in row.cells) for sheet in imported.document.sheets for row in sheet.rows)


def told(path: Path) -> document.Block:
    return document.read(path.with_suffix(".yaml")).root


def understood(path: Path) -> Imported:
    return spreadsheet.understood(path, path.name)


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.name)
def test_a_table(path: Path) -> None:
    said, imported = told(path), understood(path)
    account = imported.account
    wires = {
        name: ", ".join(part.strip() for part in (line + ",,,").split(",")[:4]) for name, line in said["wires"].items()
    }
    assert wires_of(imported) == wires
    assert pins_of(imported) == dict(said.get("pins", {}))
    assert account.total == int(said["rows"]) == rows_in(imported)
    assert sum(account.count(kind) for kind in set(account.rows.values())) == account.total
    for listed, name in ((account.left, "left"), (account.values, "values")):
        expected = {int(row): reason for row, reason in said.get(name, {}).items()}
        assert sorted({left.line for left in listed}) == sorted(expected), [(left.line, left.reason) for left in listed]
        for left in listed:
            assert expected[left.line] in left.reason
            assert left.remedy or name == "values"
    assert [left.line for left in account.retired] == [int(row) for row in said.get("retired", ())]
    for point, circuit in said.get("circuits", {}).items():
        ref, _, cavity = point.partition("-")
        assert imported.draft.pins[ref, cavity].values["circuit"][0] == circuit


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.name)
def test_check_and_the_written_file_agree(path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The list is checked as it stands; the file written from it leads to the same wires, cavities and answers."""
    said, imported = told(path), understood(path)
    if "nothing" in said:
        with pytest.raises(InputError, match=said["nothing"]):
            formats.load(path, path.name)
        return
    job = api.load(path)
    (tmp_path / "made.yaml").write_text(as_yaml(imported.draft), encoding="utf-8")
    again = api.load(tmp_path / "made.yaml")
    assert len(job.subject.wires) == len(said["wires"])
    for one, two in ((job.subject, again.subject),):
        assert {w.id: (w.a, w.b, w.gauge, w.colour, w.length, w.note) for w in one.wires.values()} == {
            w.id: (w.a, w.b, w.gauge, w.colour, w.length, w.note) for w in two.wires.values()
        }
        assert [(c.point, c.use, c.circuit, c.gauge, c.note) for _, c in one.cavities()] == [
            (c.point, c.use, c.circuit, c.gauge, c.note) for _, c in two.cavities()
        ]
        assert one.points == two.points and one.connectors.keys() == two.connectors.keys()
    report = api.check(job)
    rows = [f for f in report.findings if f.check == "unread-row"]
    assert {f.place.line for f in rows} == {int(row) for row in said.get("left", {})}
    assert report.clear is not bool(said.get("left")) or not report.clear
    every = [f.headline for f in report.findings]
    assert every == [f.headline for f in api.check(again).findings]


def test_every_family_has_a_table() -> None:
    assert len({told(path)["family"] for path in TABLES}) >= FAMILIES
    assert len(TABLES) >= 20
