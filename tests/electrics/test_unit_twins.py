"""Unit twins: one job in AWG, feet and inches, and in mm2, metres and millimetres, gives the same findings.

Lengths are converted exactly (1 in is 25.4 mm). The metric twin of a gauge number is the area of its stranded aircraft
conductor (AC 43.13-1B Table 11-9, in circular mils): that is the copper the AWG job has, and both twins then agree in
every number. The solid area of the number (ASTM B258) is no twin: 0.3255 mm2 is 15 % less copper than aircraft wire of
22 AWG has, and who states it may have just that. It is a size of its own like any other metric one: its resistance is
the greatest product of resistance and area of the table over its area, and its ampacity comes from its own area by the
fit of the free-air curves (status derived): per area never less resistance, and never more ampacity, than the table.
"""

from __future__ import annotations

import re
from random import Random

import pytest

import harnesscheck as hc
from harnesscheck.checks._ampacity import circular_mils
from harnesscheck.electrics.elements import BY_AREA, per_metre
from harnesscheck.finding import Report
from harnesscheck.formulas import wire_resistance
from harnesscheck.formulas.gauge import compare, conductor_area, number
from harnesscheck.formulas.short_circuit import CIRCULAR_MIL
from harnesscheck.source import Status
from harnesscheck.units import Gauge, gauge, length
from tests.corpus import faults, run
from tests.corpus.jobs import Job

SIZES = (22, 20, 18, 16)
TYPE = re.compile(r"M22759/16-([0-9]+)-[0-9]+")


def metric(awg: int) -> str:
    return f"{wire_resistance.CIRCULAR_MILS[awg] * CIRCULAR_MIL * 1e6:.9f} mm2"


def feet_and_inches(metres: float) -> str:
    feet, inches = divmod(round(metres / 0.0254, 6), 12)
    return f"{int(feet)} ft {inches:.6f} in" if feet else f"{inches:.6f} in"


def twin(job: Job, gauges: bool, lengths: bool) -> Job:
    """The job with its single wires of a shop type and a stated gauge; in mm2 when ``gauges``, in feet when not
    ``lengths``."""
    copy = job.copy()
    for content in (copy.airframe, copy.jumper):
        for wire in content.get("wires", {}).values():
            found = TYPE.fullmatch(wire.get("type", ""))
            if found and "cable" not in wire:
                size = int(found[1])
                wire |= {"type": f"TW-{size}", "gauge": metric(size) if gauges else f"{size} AWG", "colour": "white"}
        for section in ("wires", "cables", "routes"):
            for entry in content.get(section, {}).values():
                if not lengths and "length" in entry:
                    entry["length"] = feet_and_inches(length(entry["length"]))
    shop = {"status": "shop-confirmed", "document": "sheet on the shelf (invented)", "by": "corpus fabricator"}
    for size in SIZES:
        copy.shop["parts"][f"TW-{size}"] = {"kind": "wire", "facts": [
            {**shop, "date": "2026-11-20", "temperature": "150 C", "volts": "600 V", "conductor": "tin-coated copper",
             "od": {22: "1.32 mm", 20: "1.52 mm", 18: "1.78 mm", 16: "1.96 mm"}[size]}]}  # fmt: skip
    return copy


def answers(job: Job) -> Report:
    return hc.check(job.load())


def said(report: Report) -> list[tuple[str, str, tuple[str, ...]]]:
    return sorted((f.check, str(f.severity), tuple(sorted(f.labels))) for f in report.findings)


def unchecked(report: Report) -> list[tuple[str, str]]:
    return sorted((n.check, n.place.label) for n in report.not_checked)


JOBS = (("dsub-tap", 1, 1), ("power-heavy", 1, 2), ("sensor-hub", 0, 3), ("ground-stud", 1, 4))
FAULTS = ("", "unit-draws-more-than-its-breaker", "feed-of-the-aircraft-very-long", "breaker-too-large",
          "wire-at-its-temperature-limit", "breaker-over-80-percent", "drop-half-of-a-trunk")  # fmt: skip


def seeded(key: tuple[str, int, int], name: str) -> Job:
    job = run.job_of(*key)
    if not name:
        return job
    found = faults.seed(name, job)
    assert found is not None
    return found.job


@pytest.mark.parametrize("name", FAULTS)
@pytest.mark.parametrize("key", JOBS, ids=lambda key: key[0])
def test_feet_and_metres_agree_in_every_number(key: tuple[str, int, int], name: str) -> None:
    job = seeded(key, name)
    one, two = answers(twin(job, False, True)), answers(twin(job, False, False))
    assert [(f.check, f.headline, f.value, f.limit) for f in one.findings] == [
        (f.check, f.headline, f.value, f.limit) for f in two.findings
    ]
    assert unchecked(one) == unchecked(two)


@pytest.mark.parametrize("name", FAULTS)
@pytest.mark.parametrize("key", JOBS, ids=lambda key: key[0])
def test_the_metric_twin_gives_the_same_findings(key: tuple[str, int, int], name: str) -> None:
    job = seeded(key, name)
    one, two = answers(twin(job, False, False)), answers(twin(job, True, True))
    assert said(one) == said(two)
    assert unchecked(one) == unchecked(two)
    assert {c: sum(p.count for p in ps) for c, ps in one.passed.items()} == {
        c: sum(p.count for p in ps) for c, ps in two.passed.items()
    }


@pytest.mark.parametrize("awg", [n for n in wire_resistance.TIN_COPPER if n <= 22])
def test_a_converted_size_is_that_size(awg: int) -> None:
    same = gauge(metric(awg))
    assert number(same) == awg
    assert compare(same, Gauge(awg=awg)) == compare(Gauge(awg=awg), same) == 0
    assert circular_mils(same) == wire_resistance.CIRCULAR_MILS[awg]


@pytest.mark.parametrize("awg", [n for n in wire_resistance.TIN_COPPER if n <= 22])
@pytest.mark.parametrize("share", [0.99, 1.01])
def test_a_size_of_its_own_gets_a_derived_resistance(awg: int, share: float) -> None:
    # The copper of the aircraft wire of that number, 1 % off: no number, so no row of the table.
    mils = wire_resistance.CIRCULAR_MILS[awg] * share
    own = Gauge(mm2=mils * CIRCULAR_MIL * 1e6)
    assert number(own) is None
    harness = run.job_of("least", 0, 1).load().subject
    ours, source = per_metre(harness, None, own)
    assert source is BY_AREA
    assert source.status is Status.DERIVED
    assert not source.may_stop
    # 7.9 % is the spread of resistance times area in Table 11-9 from 22 AWG on.
    assert 0.999 <= ours * share / wire_resistance.per_metre(awg) <= 1.09
    assert circular_mils(own) == pytest.approx(mils, rel=1e-9)


@pytest.mark.parametrize(
    ("mm2", "awg", "answer"),
    [
        # Table 11-9: 22 AWG is 755 cmil = 0.3826 mm2, 20 AWG 1,216 = 0.6162, 16 AWG 2,426 = 1.2293 (a circular mil is
        # pi/4 (25.4 um)^2). The solid areas (ASTM B258) are 0.3255, 0.5176 and 1.3090 mm2.
        (0.34, 22, -1), (0.3255, 22, -1), (0.38, 22, -1), (0.3826, 22, 0), (0.39, 22, 1),
        (0.5, 20, -1), (0.5176, 20, -1), (0.6, 20, -1), (0.62, 20, 1), (1.2, 16, -1), (1.25, 16, 1), (1.309, 16, 1),
    ],
)  # fmt: skip
def test_a_metric_size_is_compared_by_its_own_copper(mm2: float, awg: int, answer: int) -> None:
    assert compare(Gauge(mm2=mm2), Gauge(awg=awg)) == answer
    assert compare(Gauge(awg=awg), Gauge(mm2=mm2)) == -answer


def test_the_solid_area_never_passes_for_more_copper_than_it_is() -> None:
    # 22 AWG solid: 642 cmil. Table 11-9 gives 16.2 ohm per 1000 ft to 755 cmil, so 642 cmil have 19.05 or more.
    harness = run.job_of("least", 0, 1).load().subject
    ours, _ = per_metre(harness, None, Gauge(mm2=0.3255))
    assert ours * 304.8 >= 16.2 * 755 / 642.4


def test_neighbouring_sizes_stay_apart() -> None:
    rng = Random(1)
    for awg in range(-3, 40):
        near = Gauge(mm2=conductor_area(Gauge(awg=awg)) * 1e6 * rng.choice((0.99, 1.01)))
        assert compare(near, Gauge(awg=awg)) != 0
