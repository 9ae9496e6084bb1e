"""From a finding to the exit status, step by step: severity, what explains what, waivers, totals, the verdict.

The expected answers are the stated rules: exit 1 for *stop* or *caution* that nobody has waived, with ``--strict`` also
for notes and things not checked; a value that nobody has confirmed never stops (docstrings of ``finding.py`` and
``cli.py``).
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck import api, checks
from harnesscheck.decision import Override, Waiver
from harnesscheck.document import Document
from harnesscheck.fault import Fault, InputError
from harnesscheck.finding import Finding, Passed, Report, Severity, explained, in_order, settled
from harnesscheck.harness import AsFound, Kind
from harnesscheck.job import Job, Unread
from harnesscheck.place import Place
from harnesscheck.report import verdict
from harnesscheck.source import Source, Status
from tests.mutation.answers import (
    CAUTION,
    MEMORY,
    NOTE,
    SOURCE,
    STOP,
    finding,
    harness,
    missing,
    override,
    pretend,
    waiver,
)  # fmt: skip

# -- severity ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("status", list(Status))
def test_only_what_somebody_has_looked_up_may_stop(status: Status) -> None:
    firm = status in (Status.CONFIRMED, Status.SHOP, Status.STATED)
    stops = firm or status is Status.COMMON
    source = Source("d", status)
    assert (source.firm, source.may_stop) == (firm, stops)
    assert settled(finding(), "c", STOP, source).severity is (STOP if stops else CAUTION)


def test_severities_stand_in_their_order() -> None:
    """The numbers are in the evidence files and the reports for machines."""
    assert [int(s) for s in (NOTE, CAUTION, STOP)] == [1, 2, 3]
    assert [s.word for s in (NOTE, CAUTION, STOP)] == ["NOTE", "CAUTION", "STOP"]


@pytest.mark.parametrize("own", [None, STOP, CAUTION, NOTE])
@pytest.mark.parametrize("default", [STOP, CAUTION, NOTE])
@pytest.mark.parametrize(
    ("one", "two"), [(None, SOURCE), (None, MEMORY), (SOURCE, MEMORY), (MEMORY, SOURCE), (None, None)]
)
def test_a_finding_is_settled(own: Severity | None, default: Severity, one: Source | None, two: Source | None) -> None:
    """Its own severity and source come before those of the check; *stop* needs a firm source, the rest does not."""
    result = settled(finding(severity=own, source=one), "c", default, two)
    said, source = (default if own is None else own), (two if one is None else one)
    lowered = said is STOP and source is MEMORY
    assert result == finding(severity=CAUTION if lowered else said, source=source, check="c")


def test_worst_first_then_by_place() -> None:
    def at(file: str, line: int, column: int, **more: Any) -> Finding:
        return replace(finding(**more), place=Place("W1", Document(file, ""), line, column))

    wanted = [
        at("b", 9, 9, severity=STOP),
        at("a", 2, 2, severity=CAUTION, check="c1", headline="a"),
        at("a", 2, 2, severity=CAUTION, check="c1", headline="b"),
        at("a", 2, 2, severity=CAUTION, check="c2", headline="a"),
        at("a", 2, 3, severity=CAUTION),
        at("a", 3, 1, severity=CAUTION),
        at("b", 1, 1, severity=CAUTION),
        at("a", 1, 1, severity=NOTE, check="c1"),
        at("a", 1, 1, severity=None, check="c2"),  # counts as a note
        at("a", 1, 1, severity=NOTE, check="c3"),
        at("a", 1, 1, severity=STOP, follows="x"),
    ]
    assert sorted(wanted[5:] + wanted[:5], key=in_order) == wanted


# -- what explains what --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("cause", "effect", "same", "follows"), [
    (STOP, STOP, True, True),
    (STOP, NOTE, True, True),
    (CAUTION, STOP, True, False),  # the graver one would vanish from the totals
    (NOTE, CAUTION, True, False),
    (STOP, STOP, False, False),
    (None, NOTE, True, False),
    (NOTE, None, True, True),
    (None, None, True, True),
])  # fmt: skip
def test_what_explains_what(cause: Severity | None, effect: Severity | None, same: bool, follows: bool) -> None:
    one, two = finding("W1", cause, "a"), finding("W1" if same else "W2", effect, "b")
    for order in ([one, two], [two, one]):
        result = {f.check: f.follows for f in explained(order, {"b": ("nothing", "a")})}
        assert result == {"a": "", "b": "a" if follows else ""}
    assert not any(f.follows for f in explained([one, two], {}))


def test_findings_meet_in_any_of_their_places() -> None:
    one = finding("W1", STOP, "a", others=(Place("P1-1"),))
    two = finding("P1-1", STOP, "b")
    assert one.labels == {"W1", "P1-1"}
    assert [f.follows for f in explained([one, two], {"b": ("a",)})] == ["", "a"]


def test_a_chain_is_no_ring_and_a_ring_keeps_its_head() -> None:
    chain = [finding("W1", STOP, name) for name in "abc"]
    assert [f.follows for f in explained(chain, {"b": ("a",), "c": ("b",)})] == ["", "a", "b"]
    ring = explained(chain, {"a": ("b",), "b": ("c",), "c": ("a",)})
    assert sorted(f.follows for f in ring) == ["", "b", "c"]
    pair = explained(chain[:2], {"a": ("b",), "b": ("a",)})
    assert sorted(f.follows for f in pair) == ["", "b"]


def test_the_second_candidate_counts_where_the_first_is_elsewhere() -> None:
    found = [finding("W9", STOP, "a"), finding("W1", STOP, "a"), finding("W1", CAUTION, "b")]
    assert [f.follows for f in explained(found, {"b": ("a",)}) if f.check == "b"] == ["a"]


# -- the report ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("severity", [STOP, CAUTION, NOTE])
@pytest.mark.parametrize("waived", ["", "b, d: r"])
@pytest.mark.parametrize("follows", ["", "x"])
def test_what_counts(severity: Severity, waived: str, follows: str) -> None:
    one = finding(severity=severity, waived=waived, follows=follows)
    report = Report("t", (one,))
    counts = not waived and not follows
    assert list(report) == [one]
    assert report.primary == ((one,) if counts else ())
    assert report.waived == ((one,) if waived else ())
    assert report.clear is (severity is NOTE or bool(waived))  # what follows from another still keeps a job from clear
    assert [report.count(s) for s in (STOP, CAUTION, NOTE)] == [
        int(counts and s is severity) for s in (STOP, CAUTION, NOTE)
    ]


def test_one_bad_finding_among_good_ones_is_enough() -> None:
    assert not Report("t", (finding(severity=NOTE), finding(severity=STOP))).clear
    assert not Report("t", (finding(severity=STOP, waived="w"), finding(severity=CAUTION))).clear
    assert Report("t").clear


GOOD = {"a": (Passed(2, "wires"), Passed(3, "pins")), "b": ()}


@pytest.mark.parametrize(("report", "words"), [
    (Report("t", (finding(), finding()), passed=GOOD), "STOP, do not build or apply power: 2 to stop for, 0 cautions"),
    (Report("t", (finding(severity=CAUTION), finding(severity=NOTE), finding(severity=NOTE)), passed=GOOD),
     "CAUTION, put right or decide in writing: 0 to stop for, 1 caution, 2 notes; 0 things not checked; 5 looked"),
    (Report("t", not_checked=(missing(),), passed=GOOD),
     "Nothing found to stop for, but look yourself at what was not checked: 0 to stop for, 0 cautions, 0 notes; "
     "1 thing not checked; 5 looked at and found right."),
    (Report("t", passed=GOOD), "Nothing to stop for: 0 to stop for, 0 cautions, 0 notes; 0 things not checked; 5 "),
    (Report("t", passed={"b": ()}), "Nothing was checked: "),
    (Report("t", (finding(waived="w"),), passed=GOOD, overrides=("o",)), "Nothing to stop for: 0 to stop for, "),
])  # fmt: skip
def test_the_last_line_says_what_to_do(report: Report, words: str) -> None:
    assert verdict(report).startswith(words)
    decided = len(report.waived) + len(report.overrides)
    assert ("in writing." in verdict(report)) is bool(decided)
    assert not decided or verdict(report).endswith("found right; 2 decisions in writing.")


# -- running the checks --------------------------------------------------------------------------------------------


def test_every_answer_is_in_the_report(monkeypatch: pytest.MonkeyPatch) -> None:
    pretend(
        monkeypatch,
        a={"gives": [finding("W1", None), Passed(2, "wires"), Passed(0, "pins")]},
        b={"gives": [finding("W1", NOTE), missing("W2"), missing("W1")], "extra": {"FOLLOWS": ("a",)}},
        c={"gives": []},
    )
    report = checks.run(harness(), reach="so far")
    assert [(f.check, f.severity, f.follows) for f in report.findings] == [("a", STOP, ""), ("b", NOTE, "a")]
    assert [(n.check, n.place.label) for n in report.not_checked] == [("b", "W1"), ("b", "W2")]
    assert report.passed == {"a": (Passed(2, "wires"),), "b": (), "c": ()}
    assert (report.title, report.reach, report.overrides) == ("t", "so far", ())
    assert list(checks.run(harness(), ["b"]).passed) == ["b"]
    assert [f.check for f in checks.run(harness(), iter(["b", "a"])).findings] == ["a", "b"]


def test_a_check_that_breaks_down_stops_the_job(monkeypatch: pytest.MonkeyPatch) -> None:
    pretend(monkeypatch, a={"gives": [Passed(1, "wires"), ValueError("odd")]}, b={"gives": [Passed(1, "pins")]})
    report = checks.run(harness())
    (broken,) = report.findings
    assert broken.severity is STOP
    assert broken.headline == "the check a broke down and did not finish (ValueError: odd)"
    assert not report.clear
    assert report.passed["b"] == (Passed(1, "pins"),)


def test_a_limit_that_cannot_be_read_is_no_breakdown(monkeypatch: pytest.MonkeyPatch) -> None:
    fault = InputError([Fault("j.yaml", 1, 1, "odd", "", "")])
    pretend(monkeypatch, a={"gives": [fault]}, b={"gives": []})
    with pytest.raises(InputError, match="odd"):
        checks.run(harness())


@pytest.mark.parametrize(("decision", "words"), [
    (waiver("unplugged-cavities", "P1"), ("there is no check 'unplugged-cavities'", "did you mean unplugged-cavity?")),
    (waiver("xyzzy", "P1"), ("there is no check 'xyzzy'", "see: harnesscheck list")),
    (override("pin-collision"), ("the check pin-collision has no limit that can be set", "waive the finding instead")),
])  # fmt: skip
def test_a_decision_about_nothing_is_an_error(decision: Waiver | Override, words: tuple[str, str]) -> None:
    given: dict[str, Any] = (
        {"waivers": (waiver("pin-collision", "P1"), decision)}
        if isinstance(decision, Waiver)
        else {"overrides": {"long-stub": override("long-stub"), "x": decision}}
    )
    for subject in (harness(**given), harness(kits=(harness(), harness(**given)))):
        with pytest.raises(InputError) as caught:
            checks.run(subject, [])
        (fault,) = caught.value.faults
        assert words[0] in fault.message
        assert words[1] in fault.remedy
    with pytest.raises(InputError) as caught:
        api.decided(Job(SimpleNamespace(), "n", harness(), harness(waivers=(waiver("xyzzy", "P1"),))))  # type: ignore[arg-type]
    assert caught.value.faults[0].text == "typed so"
    api.decided(Job(SimpleNamespace(), "n", harness(), harness(waivers=(waiver("pin-collision", "P1"),))))  # type: ignore[arg-type]


@pytest.mark.parametrize("where", ["airframe", "jumper", "kits", "equipment"])
@pytest.mark.parametrize("kind", ["limits", "waivers"])
def test_a_misspelt_decision_is_found_wherever_it_stands(where: str, kind: str) -> None:
    bad = (
        harness(overrides={"xyzzy": override("xyzzy")})
        if kind == "limits"
        else harness(waivers=(waiver("xyzzy", "P1"),))
    )
    given: dict[str, Any] = {where: bad if where in ("airframe", "jumper") else (harness(), bad)}
    if where == "kits":
        given["jumper"] = harness()
    with pytest.raises(InputError) as caught:
        api.decided(Job(SimpleNamespace(), "n", harness(), **given))  # type: ignore[arg-type]
    assert len(caught.value.faults) == 1
    assert caught.value.faults[0].remedy == "see: harnesscheck list"
    with pytest.raises(InputError, match="did you mean over-ampacity"):
        api.decided(Job(SimpleNamespace(), "n", harness(), harness(waivers=(waiver("over-ampacitiy", "P1"),))))  # type: ignore[arg-type]


# -- the interface -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("kind", "words"), [
    (Kind.AIRFRAME, "An airframe file alone"), (Kind.EQUIPMENT, "An equipment file alone"), (Kind.INSTALLED, ""),
])  # fmt: skip
@pytest.mark.parametrize("found", [None, AsFound("N1", "b", "d", Place("a"))])
def test_the_report_says_how_far_it_reaches(
    monkeypatch: pytest.MonkeyPatch, kind: Kind, words: str, found: AsFound | None
) -> None:
    pretend(monkeypatch, a={"gives": []}, b={"gives": []})
    report = api.check(harness(kind=kind, as_found=found))
    start = f"On {found}." if found else ""
    assert report.reach.startswith(" ".join(w for w in (start, words) if w))
    assert bool(report.reach) is bool(found or words)
    assert list(api.check(harness(), ["b", "b"]).passed) == ["b"]
    assert list(api.check(Job(SimpleNamespace(), "n", harness())).passed) == ["a", "b"]  # type: ignore[arg-type]


def test_a_row_that_was_not_read_is_a_finding(monkeypatch: pytest.MonkeyPatch) -> None:
    pretend(monkeypatch, a={"gives": [finding("W1", NOTE), missing()]})
    row, value = Unread(Place("r"), "odd", ""), Unread(Place("v"), "dim", "clean it", row=False)

    def job(*unread: Unread, rows: str = "2 rows: 1 read") -> Job:
        return Job(SimpleNamespace(), "n", harness(unread=unread), rows=rows)  # type: ignore[arg-type]

    report = api.check(job(row, value))
    assert [(f.check, f.severity, f.value) for f in report.findings] == [
        ("unread-row", CAUTION, "odd"),
        ("a", NOTE, ""),
    ]
    assert report.findings[0].remedy.startswith("write it again")
    assert [(n.check, n.missing) for n in report.not_checked] == [("a", "m"), ("unread-row", "dim")]
    assert "2 rows: 1 read." in report.reach
    assert not report.clear
    said = job(replace(row, remedy="type the wire again"), value)
    assert api.check(said).findings[0].remedy.startswith("type the wire again")
    kept = api.check(job(replace(row, at="list.csv:3"), rows=""))  # the list is not read again: the file kept its row
    assert kept.findings[0].value == "list.csv:3: odd"
    assert "The list that the airframe file was made of holds 1 row or value more" in kept.reach
    assert not kept.clear
    assert "holds 2 rows or values more" in api.check(job(row, value, rows="")).reach
    assert api.check(job(rows="")).clear
