"""The printed limit is the judged limit: on the sheets, on the worksheet, in readings files and in the diagnosis."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import sheets, worksheet
from harnesscheck.cli import main
from harnesscheck.paper.blocks import Cell, Table
from harnesscheck.ringout.article import articles
from harnesscheck.ringout.reading import Reading, band, limit
from harnesscheck.sheets import Wish, power_up, ring_out
from harnesscheck.trouble.desk import desk, listed, verdict
from harnesscheck.trouble.readings import Row, value_of
from harnesscheck.worksheet import judge

JOBS = sorted((Path(__file__).parents[2] / "harnesses").glob("*/jumper.yaml"))
MODES = ("", "bussed,field,units unplugged", "quick")
SIZE = {"ohm": 1.0, "kohm": 1e3, "Mohm": 1e6, "V": 1.0}
Limits = tuple[float | None, float | None]


def limits(words: str) -> Limits:
    """What a person takes a printed band to be."""
    number = r"(-?[0-9.]+)"
    words = words.removesuffix(", and write it down")
    if words == "write it down":
        return None, None
    if found := re.fullmatch(rf"0 V within {number} V", words):
        return -float(found[1]), float(found[1])
    if found := re.fullmatch(rf"at (least|most) {number} (\w+)", words):
        value = float(found[2]) * SIZE[found[3]]
        return (value, None) if found[1] == "least" else (None, value)
    found = re.fullmatch(rf"{number}(?: (\w+))? to {number} (\w+)", words)
    assert found, words
    return float(found[1]) * SIZE[found[2] or found[4]], float(found[3]) * SIZE[found[4]]


def on_sheet(content: sheets.Content) -> Iterator[tuple[str, str]]:
    """Reading and band of every row of a sheet."""
    for block in content.blocks:
        if isinstance(block, Table):
            accept = [n for n, column in enumerate(block.columns) if column.title == "accept"]
            for row in block.rows:
                if isinstance(row[0], Cell) and (row[0].anchor or "").startswith("reading-"):
                    cell = row[accept[0]]
                    yield row[0].text, cell.text if isinstance(cell, Cell) else str(cell)


def on_page(page: bytes) -> Iterator[tuple[str, str]]:
    """Reading and band of every row of a worksheet."""
    text = page.decode("utf-8")
    for row in re.findall(r'<article class="row".*?</article>', text, re.DOTALL):
        strong = re.search(r'class="accept"><strong>(.*?)</strong>', row)
        ident = re.search(r'data-id="(.*?)"', row)
        assert strong and ident
        yield ident[1], strong[1]


def judged_in(page: bytes) -> dict[str, Limits]:
    """What the script of the page judges by."""
    found = re.search(rb'<script type="application/json" id="data">(.*?)</script>', page, re.DOTALL)
    assert found
    return {r["id"]: (r["low"], r["high"]) for group in json.loads(found[1])["groups"] for r in group["readings"]}


@pytest.mark.parametrize("path", JOBS, ids=lambda p: p.parent.name)
def test_what_is_printed_is_what_is_judged(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = hc.load(path)
    count = 0
    for mode in MODES:
        wish = Wish(mode=mode)
        made = {r.id: r for each in ring_out.plans(job, wish) for r in each.readings}
        if not mode:
            made |= {r.id: r for name in articles(job) for r in listed(job, name)[1]}
        page = worksheet.page(job, wish, sheets.stamp(job))
        rows = [*on_sheet(ring_out.content(job, wish)), *on_page(page)]
        rows += [] if mode else on_sheet(power_up.content(job, wish))
        by_script = judged_in(page)
        for ident, words in rows:
            if ident in made:
                count += 1
                assert limits(words) == (made[ident].low, made[ident].high), (mode, ident, words)
        for ident in made.keys() & by_script.keys():
            assert by_script[ident] == (made[ident].low, made[ident].high), (mode, ident)
        assert {ident for ident, _ in rows} >= made.keys(), mode
    assert count > 50
    for name in articles(job):
        file = tmp_path / f"{name}.csv"
        file.write_text(f"article,{name}\nreading,value\n", encoding="utf-8")
        main(["readings", str(path), str(file), "--format", "json"])
        said = json.loads(capsys.readouterr().out)["rows"]
        assert [limits(row["accept"]) for row in said] == [(r.low, r.high) for r in listed(job, name)[1]]


@pytest.mark.parametrize("path", JOBS, ids=lambda p: p.parent.name)
def test_the_limit_itself_is_good_and_a_step_beyond_it_is_wrong(path: Path) -> None:
    """One step of the meter beyond: judged by the readings file, by the worksheet and by the diagnosis alike."""
    job = hc.load(path)
    for name in articles(job):
        at_the_desk = desk(job, name)
        for number, reading in enumerate(at_the_desk.readings):
            bands = at_the_desk.ranker.bands[number]
            assert bands == (-math.inf if reading.low is None else reading.low,
                             math.inf if reading.high is None else reading.high)  # fmt: skip
            for typed, good in beyond(reading):
                said = value_of(typed, reading.unit)
                assert not isinstance(said, str), typed
                row = Row(reading.id, said[0], said[1], typed, None)
                word = "good" if good else "wrong"
                assert (verdict(reading, row)[0], judge.verdict(reading, typed, reading.unit)) == (word, word), typed


def beyond(reading: Reading) -> Iterator[tuple[str, bool]]:
    """The printed limits as somebody types them, and the next number that a meter can show."""
    for printed, out in zip(limits(band(reading)), (-1, 1), strict=True):
        if printed is not None and math.isfinite(printed):
            step = 0.1 if reading.unit == "V" else 0.01 if printed < 10 else 0.1 if printed < 1000 else printed / 100
            yield f"{printed:.9g}", True
            if printed + out * step > 0 or reading.unit == "V":
                yield f"{printed + out * step:.9g}", False


@pytest.mark.parametrize(
    ("value", "unit", "upper", "expected"),
    [
        # By hand: 1.2 x 0.162 + 0.04 + 0.1 = 0.3344; steps 0.01 below 10, 0.1 below 1000, three digits above.
        (0.3344, "ohm", True, 0.34), (0.3, "ohm", True, 0.3), (0.1 + 0.2, "ohm", True, 0.3),
        (55.0974, "ohm", False, 55.0), (65.3021, "ohm", True, 65.4), (9.999, "ohm", True, 10.0),
        (3417.0, "ohm", False, 3410.0), (3417.0, "ohm", True, 3420.0), (10e6, "ohm", False, 10e6),
        (27.449, "V", False, 27.4), (-0.1, "V", False, -0.1), (28.6, "V", True, 28.6),
        (math.inf, "ohm", True, math.inf),
        (None, "ohm", True, None),
    ],
)  # fmt: skip
def test_rounding(value: float | None, unit: str, upper: bool, expected: float | None) -> None:
    assert limit(value, unit, upper) == expected


@pytest.mark.parametrize(
    ("low", "high", "unit", "words"),
    [
        (None, 0.18, "ohm", "at most 0.18 ohm"), (None, 0.3, "ohm", "at most 0.30 ohm"),
        (None, 0.17231811, "ohm", "at most 0.17231811 ohm"),  # not rounded, so printed whole
        (10e6, None, "ohm", "at least 10 Mohm"), (3410.0, None, "ohm", "at least 3.41 kohm"),
        (55.0, 65.4, "ohm", "55.0 to 65.4 ohm"), (500.0, 2000.0, "ohm", "500.0 ohm to 2 kohm"),
        (-0.1, 0.1, "V", "0 V within 0.1 V"), (26.5, 28.6, "V", "26.5 to 28.6 V"), (None, None, "V", "write it down"),
    ],
)  # fmt: skip
def test_the_band_in_words(low: float | None, high: float | None, unit: str, words: str) -> None:
    reading = Reading(
        id="X1", article="bench", kind="ohms", a=(), b=(), expected=None, low=low, high=high, unit=unit, why=""
    )
    assert band(reading) == words
    assert limits(words) == (low, high)
