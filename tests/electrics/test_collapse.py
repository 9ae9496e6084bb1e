"""A feed that its wiring cannot carry takes its own answer with it and no other.

28 V. The sound feed is 2 A (56 W); the other asks for 280 W over 300 ft of 24 AWG (28.40 ohm per 1000 ft, AC 43.13-1B
Table 11-9: 8.5 ohm), where 28 V x 28 V / 4 / 8.5 ohm = 23 W are the most that any load can get.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import sheets
from harnesscheck.electrics.doubt import counted_zero, unsure
from harnesscheck.electrics.wiring import wiring

AIRFRAME = """\
kind: airframe
title: Two feeds
buses: {BUS1: {supply: 28 V}}
breakers:
  CB1: {rating: 10 A, bus: BUS1, resistance: 10 mohm}
  CB2: {rating: 15 A, bus: BUS1, resistance: 10 mohm}
grounds: {GS1: {bond: 2 mohm}}
circuits:
  FEED: {signal: power, breaker: CB1, load: 2 A, returns: GS1}
  FAR: {signal: power, breaker: CB2, load: 10 A, returns: GS1}
connectors:
  P1: {insert: DE-9, mates: J1, cavities: {1: FEED, 3: FAR}}
  J1: {insert: DE-9}
wires:
  W1: {from: CB1-load, to: J1-1, gauge: 20 AWG, length: 10 ft}
  W4: {from: CB2-load, to: J1-3, gauge: 24 AWG, length: 300 ft}
"""


@pytest.fixture
def job(tmp_path: Path) -> hc.Job:
    (tmp_path / "airframe.yaml").write_text(AIRFRAME)
    return hc.load(tmp_path / "airframe.yaml")


def test_the_sound_feed_has_its_volts(job: hc.Job) -> None:
    """In the bond of the stud the 10 A that the other feed states are counted. One contact of unknown kind, 15 mohm."""
    net = wiring(job.subject)
    sound, far = net.consumers
    assert net.failed(far, net.flow("steady"))
    assert not net.failed(sound, net.flow("steady"))
    assert net.across(far) is None
    way, bond = 0.010 + 0.0988 + 0.015, 0.002
    # V = 28 - (56 / V) (way + bond) - 10 A x bond
    top = 28 - 10 * bond
    expected = (top + (top**2 - 4 * 56 * (way + bond)) ** 0.5) / 2
    assert net.across(sound) == pytest.approx(expected, rel=1e-9)
    assert net.amps("steady") == pytest.approx({"W1": 56 / expected}, rel=1e-9)
    assert {name: load.name for name, load in unsure(net, "steady").items()} == {"W4": "load of FAR"}


def test_the_sheet_names_the_collapsed_feed_and_answers_the_other(job: hc.Job) -> None:
    text = sheets.render("volts", job, "text").decode()
    assert "NO SOLUTION for load of FAR (continuous): " in text
    listed = list(csv.DictReader(io.StringIO(sheets.render("volts", job, "csv").decode())))
    by_name = {row["name"]: row for row in listed}
    assert float(by_name["load of FEED"]["continuous V"]) == pytest.approx(27.73, abs=0.005)
    assert by_name["load of FAR"]["continuous V"] == ""
    assert by_name["load of FAR"]["missing"]
    assert "W1" in by_name
    assert "W4" not in by_name


def test_what_counts_zero_is_named(tmp_path: Path) -> None:
    (tmp_path / "airframe.yaml").write_text(
        AIRFRAME.replace("rating: 10 A, bus: BUS1, resistance: 10 mohm", "rating: 10 A, bus: BUS1").replace(
            "{bond: 2 mohm}", "{}"
        )
    )
    net = wiring(hc.load(tmp_path / "airframe.yaml").subject)
    sound, far = net.consumers
    assert sorted(gap.place.label for gap in counted_zero(net, sound)) == ["CB1", "GS1"]
    assert [gap.place.label for gap in counted_zero(net, far)] == ["GS1"]
