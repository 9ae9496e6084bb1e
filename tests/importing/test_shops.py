"""Lists as shops, builders and engineers keep them: each wire and pin right or listed, none wrong or gone.

What each list says was typed by hand from the list; ``tests/importing/shops.py`` tells how. ``python -m
tests.importing.shops`` prints the figures of each.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from harnesscheck import api
from harnesscheck.fault import InputError
from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists.build import as_yaml
from tests.importing import shops

LISTS = shops.every()


@pytest.mark.parametrize("shop", LISTS, ids=lambda shop: shop.name)
def test_a_list(shop: shops.Shop, tmp_path: Path) -> None:
    path = shops.written(shop, tmp_path)
    assert shops.score(shop, path).faults == []
    imported = spreadsheet.understood(path, path.name)
    rows = [row for sheet in imported.document.sheets for row in sheet.rows if any(c.text for c in row.cells)]
    assert imported.account.total == len(rows) == sum(map(imported.account.count, set(imported.account.rows.values())))


@pytest.mark.parametrize("shop", LISTS[::3], ids=lambda shop: shop.name)
def test_check_straight_on_a_list(shop: shops.Shop, tmp_path: Path) -> None:
    """Every row that was not understood is a finding at its cell, and the file made of the list says the same."""
    path = shops.written(shop, tmp_path)
    try:
        job = api.load(path)
    except InputError as error:
        assert "no wire and no cavity was understood" in str(error)
        return
    report = api.check(job)
    imported = spreadsheet.understood(path, path.name)
    unread = {f.place.line for f in report.findings if f.check == "unread-row"}
    assert unread == {left.line for left in imported.account.left}
    for finding in report.findings:
        shown = finding.place.document.where(finding.place.line, finding.place.column) if finding.place.document else ""
        assert shown.startswith(path.name) or str(path) in shown
    assert report.not_checked
    (tmp_path / "made.yaml").write_text(as_yaml(imported.draft), encoding="utf-8")
    again = api.load(tmp_path / "made.yaml").subject
    assert {w.id: (w.a, w.b, w.gauge, w.colour, w.length) for w in job.subject.wires.values()} == {
        w.id: (w.a, w.b, w.gauge, w.colour, w.length) for w in again.wires.values()
    }


@pytest.mark.parametrize(
    ("name", "rows", "words"),
    [
        ("cubesat_icd.md", {7, 8, 9, 10}, "no cavity is named"),
        ("arduino.md", {5, 6, 7, 8}, "no cavity is named"),
        ("relay_terminals.csv", {5}, "no cavity is named"),
        ("two_revisions.csv", {1}, "several revisions"),
        ("two_in_a_row.csv", {2}, "more than one wire"),
        ("two_sides_bulkhead.csv", {4}, "which of the two"),
    ],
)
def test_what_is_half_taken_is_listed(name: str, rows: set[int], words: str, tmp_path: Path) -> None:
    """The wire or the cavity is taken, and what the list says beyond it is no note like others."""
    path = shops.written(next(s for s in LISTS if s.name == name), tmp_path)
    listed = spreadsheet.understood(path, name).account.values
    assert {left.line for left in listed if words in left.reason} == rows


def test_the_scorer_can_fail(tmp_path: Path) -> None:
    """Each kind of fault is seen: a wrong value, a wire that is gone, one that nobody wrote, a row of another kind."""
    shop = next(s for s in LISTS if s.name == "homebuilt.csv")
    path = shops.written(shop, tmp_path)
    says = {
        "w 5 101: J1-1 > P7-A; 20; white; 965.2": "gauge is read as '22 AWG'",
        "w 5 101: J1-9 > P7-A; 22": "wrong: w 5 101",
        "w 1 999: J1-9 > P7-A; 22": "dropped: w 1 999",
        "n 5": "row 5 became 'wires'",
    }
    for line, words in says.items():
        faults = shops.score(shops.Shop(shop.name, [], shop.body, [line]), path).faults
        assert any(words in fault for fault in faults), (line, faults)
    alone = shops.score(shops.Shop(shop.name, [], shop.body, []), path).faults
    assert sum("a wire that nobody wrote" in fault for fault in alone) == 6
