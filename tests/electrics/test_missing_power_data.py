"""Without a length, a load or an ambient the checks on power say what is missing, and pass nothing that needed it.

Every wire of the way, every load and every zone of clean corpus jobs is taken in turn. The words are compared, for a
person has to know exactly what to look up.
"""

from __future__ import annotations

import pytest

import harnesscheck as hc
from harnesscheck.finding import Report
from tests.corpus import places as p
from tests.corpus import run
from tests.corpus.jobs import Job

JOBS = (("dsub-tap", 1, 1), ("power-heavy", 1, 2), ("ground-stud", 0, 3), ("multi-branch", 0, 4), ("two-plugs", 1, 5))


def answers(job: Job) -> Report:
    return hc.check(job.load())


def missing(report: Report, check: str) -> list[str]:
    return [n.missing for n in report.not_checked if n.check == check]


def passed(report: Report, check: str) -> int:
    return sum(one.count for one in report.passed.get(check, ()))


def said(job: Job, base: Report, checks: tuple[str, ...], words: str) -> None:
    """Each check names what is missing, and passes less than before."""
    report = answers(job)
    for check in checks:
        assert any(words in line for line in missing(report, check)), (check, words, missing(report, check))
        assert passed(report, check) < passed(base, check), check
        assert not [f for f in report.findings if f.check == check]


@pytest.fixture(params=JOBS, ids=lambda key: key[0])
def job(request: pytest.FixtureRequest) -> Job:
    return run.job_of(*request.param)


def test_every_length_on_the_way_of_a_supply(job: Job) -> None:
    base, count = answers(job), 0
    for stub in (s for s in p.stubs(job) if s.signal == "power"):
        for name in {*job.at(stub.start), stub.wire}:
            copy = job.copy()
            if "length" not in copy.wires()[name]:
                continue
            far = copy.far(name, stub.start)
            if far.partition("-")[0] not in (stub.plug, *copy.halves()):
                continue
            del copy.wires()[name]["length"]
            report = answers(copy)
            words = f"the length of {name} is not stated"
            # The part of the trunk beyond the splice carries nothing when nothing hangs there.
            named = any(words in line for line in missing(report, "excess-voltage-drop"))
            carries = name == stub.wire or copy.airframe["circuits"][stub.circuit]["load"] != "0 A"
            assert named or not carries, (name, missing(report, "excess-voltage-drop"))
            if carries:
                said(copy, base, ("excess-voltage-drop",), words)
                count += 1
    assert count


def test_the_length_of_the_return(job: Job) -> None:
    base = answers(job)
    for stub in (s for s in p.stubs(job) if s.signal == "ground" and "length" in job.wires()[s.wire]):
        copy = job.copy()
        del copy.wires()[stub.wire]["length"]
        said(copy, base, ("excess-voltage-drop",), f"the length of {stub.wire} is not stated")


def test_the_current_of_a_new_unit(job: Job) -> None:
    base = answers(job)
    for stub in (s for s in p.stubs(job) if s.signal == "power"):
        copy = job.copy()
        pin = copy.pin(stub.pin)
        assert pin is not None
        del pin["current"], pin["peak"]
        checks = ("excess-voltage-drop", "breaker-overloaded", "source-overloaded", "supply-outside-range")
        said(copy, base, checks, f"the current of {stub.pin}")


def test_the_load_that_hangs_on_a_circuit_already(job: Job) -> None:
    base = answers(job)
    for circuit in {s.circuit for s in p.stubs(job) if s.signal == "power"}:
        copy = job.copy()
        for key in ("load", "peak", "returns"):
            copy.airframe["circuits"][circuit].pop(key, None)
        words = f"what hangs on {circuit} already is not stated"
        said(copy, base, ("excess-voltage-drop", "breaker-overloaded"), words)
        found = missing(answers(copy), "source-overloaded")
        assert f"the current of {circuit} is not stated" in found


def test_the_ambient_of_a_zone_with_supply_wires(job: Job) -> None:
    base = answers(job)
    count = 0
    for name in job.airframe["zones"]:
        copy = job.copy()
        del copy.airframe["zones"][name]["ambient"]
        report = answers(copy)
        words = f"the ambient temperature of zone {name} is not stated"
        for check in ("over-ampacity", "breaker-trip-band"):
            if passed(report, check) < passed(base, check):
                assert any(words in line for line in missing(report, check)), (check, missing(report, check))
                count += 1
            else:
                assert missing(report, check) == missing(base, check)
    assert count, "no zone of the job has a wire with supply on it"
