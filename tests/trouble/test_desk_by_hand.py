"""Verdicts of single rows, which list is meant, and what a desk takes over."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from harnesscheck.trouble.desk import best_article, verdict, verdicts
from harnesscheck.trouble.papers import differences, files_of
from harnesscheck.trouble.rank import Taken
from harnesscheck.trouble.readings import Row
from tests.trouble.small import OPEN, desk, fault, ranker, reading

WIRE, AIR, VOLTS, TERM = reading("BC1"), reading("BS2", "isolation"), reading("BV3", "volts"), reading("BR4", "ohms")
DOWN = reading("BX5", "ohms", expected=None, low=None, high=None, unknown="the length of W1 is not known")
LOW = reading("BY6", "volts", low=-0.5, high=0.5, expected=0.0)


def row(ident: str, value: float | None, unit: str = "", verdict: bool | None = None, beyond: str = "") -> Row:
    return Row(ident, value, unit, "", verdict, beyond=beyond)


HAND = "by hand: no value typed"
BEYOND = "the limit lies beyond the range of the meter: use another range"


@pytest.mark.parametrize(
    ("listed", "typed", "said"),
    [
        (WIRE, row("BC1", None), ("not read", "")), (WIRE, row("BC1", None, verdict=True), ("good", HAND)),
        (WIRE, row("BC1", None, verdict=False), ("wrong", HAND)),
        (WIRE, row("BC1", 0.5), ("good", "")), (WIRE, row("BC1", 0.51), ("wrong", "")),
        (WIRE, row("BC1", 0.3, "V"), ("wrong", "typed in V, but this reading is in ohm")),
        (VOLTS, row("BV3", 14.0, "ohm"), ("wrong", "typed in ohm, but this reading is in V")),
        (VOLTS, row("BV3", 14.0, "V"), ("good", "")), (VOLTS, row("BV3", 14.0), ("good", "")),
        (DOWN, row("BX5", 3.0), ("written down", "the length of W1 is not known")),
        # a unit slip: at most 0.5 ohm, 55 to 65 ohm, from 10 Mohm
        (WIRE, row("BC1", 300.0),
         ("wrong", "a thousandth of it would be good: look at the unit of the meter")),
        (WIRE, row("BC1", 50.0),
         ("wrong", "a thousandth of it would be good: look at the unit of the meter")),
        # 2 ohm is a bad contact: 2 mohm is nothing that a meter shows where 0.5 ohm is the limit
        (WIRE, row("BC1", 2.0), ("wrong", "")), (WIRE, row("BC1", 49.0), ("wrong", "")),
        (WIRE, row("BC1", 501.0), ("wrong", "")), (WIRE, row("BC1", OPEN), ("wrong", "")),
        (TERM, row("BR4", 0.06),
         ("wrong", "a thousand times of it would be good: look at the unit of the meter")),
        (TERM, row("BR4", 0.00006),
         ("wrong", "a million times of it would be good: look at the unit of the meter")),
        (TERM, row("BR4", 60e3), ("wrong", "a thousandth of it would be good: look at the unit of the meter")),
        (TERM, row("BR4", 0.0), ("wrong", "")), (VOLTS, row("BV3", 0.014), ("wrong", "")),
        (AIR, row("BS2", 20.0), ("wrong", "a million times of it would be good: look at the unit of the meter")),
        (AIR, row("BS2", 2e4), ("wrong", "a thousand times of it would be good: look at the unit of the meter")),
        (AIR, row("BS2", OPEN), ("good", "")), (AIR, row("BS2", 1e7), ("good", "")),
        # called otherwise by hand
        (WIRE, row("BC1", 0.2, verdict=False), ("good", "called wrong by hand")),
        (WIRE, row("BC1", 0.2, verdict=True), ("good", "")),
        (WIRE, row("BC1", 300.0, verdict=True),
         ("wrong", "a thousandth of it would be good: look at the unit of the meter; called good by hand")),
        # more or less than
        (AIR, row("BS2", 2e7, beyond=">"), ("good", "")), (AIR, row("BS2", 1e7, beyond=">"), ("good", "")),
        (AIR, row("BS2", 2e6, beyond=">"), ("unclear", BEYOND)),
        (AIR, row("BS2", 2e6, beyond="<"), ("wrong", "")), (AIR, row("BS2", 1e7, beyond="<"), ("wrong", "")),
        (AIR, row("BS2", 2e7, beyond="<"), ("unclear", BEYOND)),
        (WIRE, row("BC1", 0.5, beyond="<"), ("good", "")), (WIRE, row("BC1", 0.6, beyond="<"), ("unclear", BEYOND)),
        (WIRE, row("BC1", 0.5, beyond=">"), ("wrong", "")), (WIRE, row("BC1", 0.4, beyond=">"), ("unclear", BEYOND)),
        (TERM, row("BR4", 65.0, beyond=">"), ("wrong", "")), (TERM, row("BR4", 60.0, beyond="<"), ("unclear", BEYOND)),
        (TERM, row("BR4", 55.0, beyond="<"), ("wrong", "")),
        # ohms are not below zero, volts may be
        (LOW, row("BY6", 0.1, beyond="<"), ("unclear", BEYOND)), (LOW, row("BY6", -0.5, beyond="<"), ("wrong", "")),
    ],
)  # fmt: skip
def test_one_row(listed: object, typed: Row, said: tuple[str, str]) -> None:
    assert verdict(listed, typed) == said  # type: ignore[arg-type]


def test_ohms_that_are_at_least_zero_are_less_than_a_limit() -> None:
    """``<0.5``: between nothing and half an ohm, so a lower limit of nothing holds."""
    zero = reading("BC1", low=0.0, high=0.5)
    assert verdict(zero, row("BC1", 0.5, beyond="<")) == ("good", "")


def test_rows_and_readings_side_by_side() -> None:
    first, strange = row("BR4", 60.0), row("BQ9", 1.0)
    assert list(verdicts([WIRE, TERM, DOWN], [strange, first])) == [
        (strange, None, "no such reading", ""), (first, TERM, "good", ""), (None, WIRE, "not read", ""),
        (None, DOWN, "not read", ""),
    ]  # fmt: skip


NAMES = ("bench", "installed", "aircraft")


@pytest.mark.parametrize(
    ("head", "ids", "wished", "said"),
    [
        ({}, [], None, "bench"), ({"article": "aircraft"}, ["IC1"], None, "aircraft"),
        ({"article": "aircraft"}, [], "installed", "installed"), ({}, ["IC1", "BC1", "IC2"], None, "installed"),
        ({}, ["AC1", "IC1"], None, "installed"), ({}, ["XC1"], None, "bench"), ({}, [""], None, "bench"),
        ({}, ["AC1", "XC1", "XC2"], None, "aircraft"),
    ],
)  # fmt: skip
def test_which_article_is_meant(head: dict[str, str], ids: list[str], wished: str | None, said: str) -> None:
    file = SimpleNamespace(head=head, rows=[row(ident, 1.0) for ident in ids])
    assert best_article(file, NAMES, wished) == said  # type: ignore[arg-type]
    if not head and not ids:
        assert best_article(None, NAMES, None) == "bench"


READINGS = [WIRE, AIR, VOLTS, TERM]


def test_what_is_taken_over() -> None:
    a, b, u = fault("A", 0.1), fault("B", 0.1), fault("U", 0.1)
    here = desk(ranker(READINGS, [0.1, OPEN, 14.0, 60.0], {a: [{0: OPEN}], b: [{0: OPEN}], u: [{}]}))
    rows = [
        row("BC1", 0.2), row("BQ7", 1.0), row("BS2", 2e7, beyond=">"), row("BS2", 2e6, beyond=">"),
        row("BV3", 3.0, "ohm"), row("BV3", 13.9, "V"), row("BR4", None), row("BR4", None, verdict=False),
        row("BC1", 0.7, beyond=">"),
    ]  # fmt: skip
    assert here.take(rows) == [rows[1], rows[4]]
    assert here.taken == [
        Taken(0, 0.2), Taken(1, None, True), Taken(2, 13.9), Taken(3, None, False), Taken(0, None, False),
    ]  # fmt: skip
    assert (here.number("BV3"), here.number("BQ7")) == (2, None)
    assert here.alike(a) == [b] and here.alike(b) == [a] and here.unseen == [u]
    assert here.asked(3) is TERM


HASH = {"airframe.yaml": "a" * 64, "jumper.yaml": "b" * 64}
SAID = f"airframe.yaml {'a' * 16}; jumper.yaml {'b' * 16}"
NOW = "the ids may name other readings"


@pytest.mark.parametrize(
    ("head", "pack", "found"),
    [
        ({}, None, []), ({"files": SAID}, None, []), ({"pack id": "P-1"}, "P-1", []), ({"pack id": "P-1"}, None, []),
        ({"pack id": "P-1"}, "P-2", ["these readings carry pack id P-1, not P-2: other papers"]),
        ({}, "P-2", ["these readings carry no pack id, not P-2: other papers"]),
        ({"file hash": "BBBBBBBB"}, None, []),
        ({"file hash": "abcdef0123456789ff"}, None,
         [f"the job file has changed since the list was made (its hash does not start with abcdef0123456789): {NOW}"]),
        ({"files": SAID.replace("bb", "cc")}, None,
         ["jumper.yaml has changed since the list was made: ids and limits may be others"]),
        ({"files": SAID.replace("a" * 16, "A" * 16)}, None, []),
        ({"files": f"airframe.yaml {'a' * 8}"}, None,
         [f"jumper.yaml belongs to the job now, and did not when the list was made: {NOW}"]),
        ({"files": f"{SAID}; my parts.yaml {'c' * 64}"}, None,
         [f"my parts.yaml belonged to the job when the list was made, not now: {NOW}"]),
        ({"files": f"airframe.yaml {'a' * 7}"}, None,
         ["the files of the head cannot be read (name and hash, with '; ' between): nobody knows what they were"]),
    ],
)  # fmt: skip
def test_other_papers(head: dict[str, str], pack: str | None, found: list[str]) -> None:
    files = [SimpleNamespace(name=name, sha256=digest) for name, digest in reversed(HASH.items())]
    job = SimpleNamespace(files=files, path=SimpleNamespace(name="jumper.yaml"))
    assert files_of(job) == SAID  # type: ignore[arg-type]
    assert differences(job, SimpleNamespace(head=head), pack) == found  # type: ignore[arg-type]
