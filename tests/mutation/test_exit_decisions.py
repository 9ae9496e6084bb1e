"""What a person decides in writing, for one kit and for several: which findings it reaches.

Expected: the rules in ``checks/__init__.py`` and ``checks/_several.py``: a waiver reaches what it names, nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from harnesscheck import checks
from harnesscheck.checks import _several as several
from harnesscheck.connector import Connector, Origin
from harnesscheck.document import Document
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Report
from harnesscheck.harness import Harness
from harnesscheck.place import Place
from tests.mutation.answers import CAUTION, NOTE, finding, harness, override, pretend, waiver

# -- waivers -------------------------------------------------------------------------------------------------------

P1 = {"P1": Connector("P1", Place("P1"), Origin.AIRFRAME)}  # all a waiver needs to know: that P1 is a connector


@pytest.mark.parametrize(("about", "others", "at", "fits"), [
    ("W1", (), ("W1",), True),
    ("W1", (), ("W2",), False),
    ("W1", ("W2",), ("W2",), False),  # waived by the name it stands under, not by a bystander's
    ("W1", ("P1-1", "P1-2"), ("P1-1",), False),
    ("W1", ("P1-1", "P1-2"), ("P1-1", "P1-2"), True),
    ("W1", ("P1-1", "end B of W1"), ("P1-1", "end B of W1"), True),
    ("W1", ("P1", "S1-1"), ("P1",), False),  # a connector is no cavity, S1 no connector
    ("P1-1", (), ("P1-1",), True),
    ("P1-1", (), ("P1",), False),  # P1 is not among the places of this finding
    ("P1-1", ("P1",), ("P1",), True),
    ("P1-1", ("P1-2",), ("P1-1",), False),
    ("P1-1", ("P1-2",), ("P1-1", "P1-2"), True),
    ("P1-1", ("W2",), ("W2",), False),
    ("P1", ("P1-1",), ("P1",), True),
    ("P1", ("P1-1",), ("P1-1",), True),
    ("S1-1", (), ("S1-1",), True),  # no connector of that name
])  # fmt: skip
def test_which_waivers_cover_a_finding(
    monkeypatch: pytest.MonkeyPatch, about: str, others: tuple[str, ...], at: tuple[str, ...], fits: bool
) -> None:
    one = finding(about, others=tuple(Place(label) for label in others))
    pretend(monkeypatch, a={"gives": [one]}, b={"gives": []})
    waivers = tuple(waiver("a", name) for name in at)
    report = checks.run(harness(connectors=P1, waivers=waivers))
    assert report.clear is fits
    assert [f.waived for f in report.findings if f.check == "a" and f.place.label == about and f.headline == "h"] == [
        "b, d: r" if fits else ""
    ]
    void = [f for f in report.findings if f.severity is NOTE]
    assert [f.headline for f in void] == ([] if fits else [f"the waiver of a at {n} fits no finding" for n in at])
    assert all(f.check == "a" and f.place.file == "j.yaml" for f in void)
    other = checks.run(harness(connectors=P1, waivers=tuple(replace(w, check="b") for w in waivers)))
    assert not other.clear
    some = checks.run(harness(connectors=P1, waivers=waivers), ["a"])  # a part of the checks proves no waiver void
    assert [f.headline for f in some.findings] == ["h"]


def test_the_first_waiver_that_fits_is_quoted(monkeypatch: pytest.MonkeyPatch) -> None:
    pretend(monkeypatch, a={"gives": [finding("W1")]})
    report = checks.run(harness(waivers=(waiver("a", "W1", "first"), waiver("a", "W1", "second"))))
    assert [f.waived for f in report.findings] == ["b, d: first"]


# -- several kits --------------------------------------------------------------------------------------------------


def kit(name: str, **more: Any) -> Harness:
    return harness(place=Place(name, Document(f"{name}.yaml", "")), note=name, **more)


def test_answers_about_several_kits(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a kit brings along is asked of each and added up; a limit of one kit does not judge the other's things."""
    one = kit("k1", overrides={"c": override("c"), "b": override("b")})
    two = kit("k2", overrides={"c": override("c", "4 A")})
    both = harness(kits=(one, two), note="both", overrides={"b": override("b")})
    asked: list[tuple[str, str, str]] = []

    def gives(check: str) -> Any:
        def answers(h: Harness) -> Iterator[Answer]:
            limit = h.overrides.get("c")
            asked.append((check, h.note, limit.value if limit else ""))
            of = limit.value if limit else h.note
            yield Passed(4 if of == "4 A" else 3, "wires")
            yield finding("W1", CAUTION)  # the same each time: said once
            yield Finding(headline=f"of k1 {of}", place=one.place, severity=CAUTION)
            yield Finding(headline=f"of k2 {of}", place=Place("W2"), others=(two.place,), severity=CAUTION)
            yield NotChecked(place=two.place, missing=f"of k2 {of}")

        return answers

    pretend(monkeypatch, a={"gives": gives("a")}, c={"gives": gives("c")},
            p={"gives": gives("p"), "extra": {"PER_KIT": True}}, b={"gives": gives("b")})  # fmt: skip
    report = checks.run(both)
    assert [a for a in asked if a[1] == "both" and a[0] != "b"][:3] == [
        ("a", "both", ""),
        ("c", "both", "3 A"),
        ("c", "both", "4 A"),
    ]
    assert [a for a in asked if a[0] == "b"][:2] == [("b", "both", "3 A"), ("b", "both", "4 A")]  # one differs
    assert [a for a in asked if a[0] == "p"][:2] == [("p", "k1", "3 A"), ("p", "k2", "4 A")]
    assert report.passed["a"] == (Passed(3, "wires"),)
    assert report.passed["c"] == (Passed(3, "wires"),)  # right under both limits
    assert report.passed["p"] == (Passed(7, "wires"),)  # three of the one and four of the other
    of_c = [f.headline for f in report.findings if f.check == "c"]
    assert sorted(of_c) == ["h", "of k1 3 A", "of k2 4 A"]  # each kit's things under its own limit
    assert [n.missing for n in report.not_checked if n.check == "c"] == ["of k2 4 A"]
    assert sorted({n.missing for n in report.not_checked if n.check == "p"}) == ["of k2 3 A", "of k2 4 A"]
    assert len([f for f in report.findings if f.check == "a" and f.headline == "h"]) == 1
    assert sorted(report.overrides) == sorted(str(o) for o in (override("b"), override("c"), override("c", "4 A")))


@pytest.mark.parametrize(("alone", "kept"), [
    (finding("W1", check="c", value="85 %", waived="w"), True),
    (finding("W1", check="c", value="97 %", waived="w"), False),  # a second kit made it worse: decide again
    (finding("W1", check="c", value="85 %", headline="other", waived="w"), False),
    (finding("W1", check="d", value="85 %", waived="w"), False),
    (finding("W2", check="c", value="85 %", waived="w"), False),
    (finding("W1", check="c", value="85 %"), False),
])  # fmt: skip
def test_a_waiver_for_one_kit_holds_for_the_same_finding_only(alone: Finding, kept: bool) -> None:
    together = finding("W1", check="c", value="85 %", waived="w")
    first = finding("W0", NOTE, check="c")
    result = several.still_waived([first, together], [Report("k", (alone,))])
    assert [f.waived for f in result] == ["w" if kept else "", ""]
    assert result[0].place.label == "W1"  # worst first, again


def test_a_waiver_of_one_kit_is_asked_again_with_both(monkeypatch: pytest.MonkeyPatch) -> None:
    def gives(h: Harness) -> Iterator[Answer]:
        yield finding("W1", CAUTION, value="97 %" if h.kits else "85 %")

    pretend(monkeypatch, a={"gives": gives})
    waivers = (waiver("a", "W1"),)
    assert checks.run(kit("k1", waivers=waivers)).clear
    assert not checks.run(harness(waivers=waivers, kits=(kit("k1", waivers=waivers), kit("k2")))).clear
