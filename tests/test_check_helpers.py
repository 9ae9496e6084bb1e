"""Limits as a person types them, and small questions that several checks share.

The limits are those of the checks' own sources; what is refused is everything with another unit, sign or shape.
"""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import check_cases
import pytest
from check_cases import KIT, Case

import harnesscheck as hc
from harnesscheck import checks
from harnesscheck.checks import _pinmap, _words, pair_apart
from harnesscheck.checks._limits import Limit
from harnesscheck.faces import Face
from harnesscheck.place import Point
from harnesscheck.source import Source, Status

SHARES = {"80 %": 0.8, "100 %": 1.0, "0.5 %": 0.005, "80%": 0.8}
NO_SHARES = ("0 %", "101 %", "80", "80 A", "-1 %", "8O %", "% 80", "1000 %")
LENGTHS, NO_LENGTHS = {"25 mm": 0.025, "1 in": 0.0254, "2 m": 2.0}, ("25", "25 A", "mm", "2,5 m", "-3 mm")
COUNTS, NO_COUNTS = {"4": 4.0, "0": 0.0}, ("4.5", "-1", "four", "4 pieces", "")
READ: dict[str, tuple[dict[str, float], tuple[str, ...]]] = {
    "breaker-overloaded": (SHARES, NO_SHARES),
    "source-overloaded": (SHARES, NO_SHARES),
    "breaker-trip-band": ({"140 %": 1.4, "100 %": 1.0}, ("99 %", "140", "1.4", "140 % more", "140.5 %", "-140 %")),
    "signal-load-too-heavy": ({"0.5 %": 0.005, "1 %": 0.01}, ("0.5", "0,5 %", "1 % more", "-1 %", "1.2.3 %")),
    "crowded-stud": (COUNTS, NO_COUNTS),
    "missing-spare-contacts": (COUNTS, NO_COUNTS),
    "tight-bend": ({"10 x": 10.0, "2.5 x": 2.5}, ("10", "x 10", "10 x 2", "-1 x", "1.2.3 x", "10 X")),
    "long-ground-path": ({"5 mohm": 0.005, "1 ohm": 1.0}, ("5", "5 mA", "five ohm")),
    "long-stub": (LENGTHS, NO_LENGTHS),
    "untwisted-length": (LENGTHS, NO_LENGTHS),
    "bundle-tight-in-passage": (LENGTHS, NO_LENGTHS),
    "missing-slack": (LENGTHS, NO_LENGTHS),
    "missing-wire-mark": (LENGTHS, NO_LENGTHS),
    "splice-near-connector": (LENGTHS, NO_LENGTHS),
    "unstaggered-splices": (LENGTHS, NO_LENGTHS),
}


def own(check: str) -> Limit:
    found = checks.module(check).LIMIT
    assert isinstance(found, Limit)
    return found


def test_every_limit_is_here() -> None:
    assert sorted(READ) == [name for name in checks.names() if hasattr(checks.module(name), "LIMIT")]


@pytest.mark.parametrize("check", sorted(READ))
def test_what_a_limit_may_be(check: str) -> None:
    limit = own(check)
    good, bad = READ[check]
    assert limit.read(limit.text) == pytest.approx(limit.value)  # the default can be typed as it is printed
    for text, value in good.items():
        assert limit.read(text) == pytest.approx(value), text
    for text in bad:
        with pytest.raises(ValueError):
            limit.read(text)


def test_a_limit_that_cannot_be_read_has_its_place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    limits = "\nlimits:\n  long-stub: {value: 25, reason: r, by: b}\n"
    with pytest.raises(hc.InputError, match=r"jumper.yaml:\d+:\d+: limit '25' of long-stub") as caught:
        check_cases.answered(Case("long-stub", ((KIT, "", limits),), ""))
    assert "write it like 0.3 m" in str(caught.value)


def test_texts_are_the_same_in_any_case_and_other_values_as_they_are() -> None:
    assert _words.same("DA-15", "da-15")
    assert not _words.same("DA-15", "DA-26")
    assert _words.same(("a",), ("a",))
    assert not _words.same("1", 1)


def test_distances_only_of_what_the_face_shows() -> None:
    """Three contacts in a row, one pitch apart; the fourth is not on the drawing."""
    face = Face({"1": (0.0, 0.0), "2": (1.0, 0.0), "3": (2.0, 0.0)}, Source("invented for the test", Status.STATED))
    cavities = [[Point("P1", "1")], [Point("P1", "3"), Point("P1", "2"), Point("P1", "4")], [Point("P1", "4")]]
    assert list(pair_apart._distances(face, cavities)) == [("1", "2", 1.0)]
    assert list(pair_apart._distances(face, [[Point("P1", "4")], [Point("P1", "1")]])) == []


@pytest.mark.parametrize(("spots", "twins"), [
    ({"1": (0.0, 0.0), "2": (2.0, 0.0), "3": (1.0, 1.0)}, {"1": "2", "2": "1", "3": "3"}),
    ({"1": (0.0, 0.0), "2": (2.0, 0.0), "3": (0.0, 1.0)}, None),  # no mirror image of itself
    ({}, None),
])  # fmt: skip
def test_the_mirror_cavity_is_the_one_on_the_other_side(
    spots: dict[str, tuple[float, float]], twins: dict[str, str] | None
) -> None:
    """Faces drawn for the test, in insert radii: a triangle on its base, and a right-angled one."""
    view = SimpleNamespace(table=lambda _: spots, point=lambda _, name: spots[name])
    harness: Any = SimpleNamespace(part=lambda kind, _: view if kind == "face view" else None)
    pins: Any = SimpleNamespace(connector=SimpleNamespace(says=lambda _: "X", names=tuple(spots)))
    found = _pinmap.mirrored(harness, pins)
    assert (found and found[0]) == twins


@pytest.mark.parametrize(("counts", "lines"), [
    (("2", "3"), (("1", "2"), ("3", "4", "5"))), (("5",), (("1", "2", "3", "4", "5"),)),
    (("2", "2"), None), (None, None),
])  # fmt: skip
def test_the_rows_of_an_insert_hold_all_its_cavities(
    counts: tuple[str, ...] | None, lines: tuple[tuple[str, ...], ...] | None
) -> None:
    """Five cavities, counted out row by row; rows that hold fewer or more are not those of this insert."""
    record = SimpleNamespace(value=lambda _: counts, items=lambda _: counts)
    harness: Any = SimpleNamespace(part=lambda *_: record)
    pins: Any = SimpleNamespace(connector=SimpleNamespace(says=lambda _: "X", names=("1", "2", "3", "4", "5")))
    assert _pinmap.rows(harness, pins) == lines
