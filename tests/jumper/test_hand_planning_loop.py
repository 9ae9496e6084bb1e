"""The planner's own steps with everything around them made up: which taps are tried, and what becomes of a try."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck import api
from harnesscheck.finding import Finding, Report, Severity
from harnesscheck.formats import harness_yaml
from harnesscheck.jumper import planning
from harnesscheck.jumper.choice import Chosen, Refusal, Tapped
from harnesscheck.jumper.cost import Cost
from harnesscheck.jumper.design import TRIES, Layout, Result, Tried
from harnesscheck.jumper.keeping import Kept
from harnesscheck.jumper.kit import Kit
from harnesscheck.jumper.planning import Asked, Plan
from harnesscheck.jumper.stations import TooShortError
from harnesscheck.jumper.stopping import No
from harnesscheck.jumper.trunk import Setting
from harnesscheck.jumper.writing import Entry, Head
from harnesscheck.place import Place, Point

P, Q, R = Point("A1J1", "1"), Point("A1J1", "2"), Point("A1J1", "3")
ASKED = Asked("air.yaml", ("box.yaml",), "P14/J14", "plan.yaml")
KIT = Kit(("P1", "J1"), (), (), (), (), {})


def tap(pin: Point, circuit: str, *reasons: str, others: tuple[tuple[str, str], ...] = ()) -> Tapped:
    return Tapped(pin, circuit, f"cavity of {circuit}", reasons, others)


def finding(check: str, headline: str, value: str = "") -> Finding:
    return Finding(headline=headline, value=value, place=Place("P1"), check=check, severity=Severity.STOP)


def failed(chosen: Chosen, *found: Finding) -> Plan:
    layout = Layout(Setting(()), KIT, Cost(0, 0, 0, 0, 0))
    return Plan(chosen, result=Result(None, None, failed=(Tried(layout, found),)), noes=(No("it drops", "do"),))


# -- other circuits -------------------------------------------------------------------------------------------------


def test_a_first_choice_is_told_as_it_is() -> None:
    chosen = Chosen((tap(P, "X", "asked for by a person"),))
    assert planning._second_thoughts(chosen, {P: "X"}, {}, None) is chosen


def test_why_another_circuit_than_the_first_choice_is_taken() -> None:
    """Only for pins that the planner itself has asked about; those that a person has asked for stay as they are."""
    first = failed(Chosen((tap(P, "A"), tap(Q, "B"), tap(R, "C"))))
    said = "asked for by a person"
    chosen = Chosen((tap(P, "X", said, "spare", said), tap(Q, "B", said), tap(R, "C", "the only one", said)))
    found = planning._second_thoughts(chosen, {P: "X", Q: "B"}, {Q: "B"}, first)
    assert [each.reasons for each in found.taps] == [
        ("A, the first choice, cannot be laid out: it drops", "spare"), (said,), ("the only one", said),
    ]  # fmt: skip
    assert [(each.pin, each.circuit) for each in found.taps] == [(P, "X"), (Q, "B"), (R, "C")]


AIR = SimpleNamespace(circuits={n: SimpleNamespace(signal=s) for n, s in
                                (("PWR", "power"), ("RTN", "ground"), ("CAN H", "can"))})  # fmt: skip
DO, NOT = "would do, but it has less to spare", "will not do: it is full"
TAPS = Chosen((
    tap(P, "PWR", others=(("P no", NOT), ("P yes", DO))), tap(Q, "RTN", others=(("Q yes", DO),)),
    tap(R, "CAN H", others=(("R no", NOT), ("R yes", DO), ("R 2", DO))),
))  # fmt: skip


@pytest.mark.parametrize(
    ("found", "use", "said"),
    [
        # a finding names a circuit or a pin, in its headline or its value; what would do comes first
        ([finding("long-stub", "the branch of CAN H is long")], {}, [(R, "R yes"), (R, "R 2"), (R, "R no")]),
        ([finding("long-stub", "a branch is long", "A1J1-3 has 1 m")], {}, [(R, "R yes"), (R, "R 2"), (R, "R no")]),
        ([finding("long-stub", "A1J1-2 is far"), finding("x", "PWR is hot")], {},
         [(P, "P yes"), (Q, "Q yes"), (P, "P no")]),
        ([finding("long-stub", "A1J1-12 is far")], {}, []), ([finding("long-stub", "a branch is long")], {}, []),
        ([], {}, []),
        # a drop or a load is the business of the returns as well
        ([finding("excess-voltage-drop", "x")], {}, [(Q, "Q yes")]),
        ([finding("a", "x"), finding("over-ampacity", "x")], {}, [(Q, "Q yes")]),
        ([finding("breaker-trip-band", "PWR")], {}, [(P, "P yes"), (Q, "Q yes"), (P, "P no")]),
        # what is settled stays settled
        ([finding("x", "PWR and CAN H")], {R: "CAN H"}, [(P, "P yes"), (P, "P no")]),
    ],
)  # fmt: skip
def test_other_circuits_that_are_tried(found: list[Finding], use: dict[Point, str], said: list[Any]) -> None:
    assert planning._otherwise(failed(TAPS, *found), use, AIR) == [{**use, pin: name} for pin, name in said]  # type: ignore[arg-type]


def test_nothing_else_is_tried_where_nothing_was_laid_out() -> None:
    assert planning._otherwise(Plan(TAPS, noes=(No("a", "b"),)), {}, AIR) == []  # type: ignore[arg-type]
    two = failed(TAPS, finding("x", "PWR"))
    assert two.result is not None
    late = Plan(TAPS, result=Result(None, None, failed=(*failed(TAPS).result.failed, *two.result.failed)))  # type: ignore[union-attr]
    assert [list(each) for each in planning._otherwise(late, {}, AIR)] == [[P], [P]]  # type: ignore[arg-type]


# -- one choice after the other -------------------------------------------------------------------------------------


class Steps:
    """Stands in for what ``plan`` calls: ``circuits`` makes the taps of what is asked, ``good`` what can be laid."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, good: set[str], following: Mapping[str, list[str]]) -> None:
        self.good, self.following = good, following
        self.tried: list[tuple[Any, ...]] = []
        self.wanted: list[dict[Point, str]] = []
        self.before = Kept(use={P: "A", Q: "FIXED"})
        monkeypatch.setattr(planning, "_before", lambda asked, out: self.before if out == Path("plan.yaml") else None)
        monkeypatch.setattr(planning, "_head", lambda asked, before: ("head", before))
        job = SimpleNamespace(airframe="craft", equipment=["box"])
        monkeypatch.setattr(planning, "_bare", lambda asked, head: job if head == ("head", self.before) else None)
        for name in ("choose", "_attempt", "_otherwise"):
            monkeypatch.setattr(planning, name, getattr(self, name.strip("_")))

    def choose(self, airframe: str, boxes: list[str], opened: tuple[str, str], use: Mapping[Point, str]) -> Chosen:
        assert (airframe, boxes, opened) == ("craft", ["box"], ("P14", "J14"))
        self.wanted.append(dict(use))
        name = use[P]
        refused = (Refusal(P, "no", "do"),) if name.startswith("bad") else ()
        return Chosen((tap(P, name.removesuffix("'"), "asked for by a person", f"reason {len(self.wanted)}"),), (),
                      refused)  # fmt: skip

    def attempt(self, *said: Any) -> Plan:
        *same, chosen = said
        assert same == [ASKED_USE, ("head", self.before), self.before, "craft", ["box"], ("P14", "J14")]
        (one,) = chosen.taps
        self.tried.append((one.circuit, one.reasons))
        return Plan(chosen, text="text" if one.circuit in self.good else None, noes=(No("odd", ""),))

    def otherwise(self, made: Plan, use: Mapping[Point, str], airframe: str) -> list[dict[Point, str]]:
        assert airframe == "craft"
        return [{**use, P: name} for name in self.following.get(use[P], [])]


ASKED_USE = Asked("air.yaml", ("box.yaml",), "P14/J14", "plan.yaml", use={R: "MINE"})


def steps(monkeypatch: pytest.MonkeyPatch, good: str, **following: str) -> tuple[Plan, list[str], Steps]:
    made = Steps(monkeypatch, set(good.split()), {name: after.split() for name, after in following.items()})
    plan = planning.plan(ASKED_USE)
    return plan, [name for name, _ in made.tried], made


def test_the_first_choice_that_can_be_laid_out(monkeypatch: pytest.MonkeyPatch) -> None:
    plan, tried, made = steps(monkeypatch, "A", A="B")
    assert plan.text == "text" and tried == ["A"] and made.wanted == [{P: "A", Q: "FIXED", R: "MINE"}]
    assert plan.chosen.taps[0].reasons == ("asked for by a person", "reason 1")


def test_another_choice_where_the_first_cannot_be_laid_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is refused is passed over, and so is a choice of the same taps; a later one follows from an earlier one."""
    plan, tried, made = steps(monkeypatch, "D", A="bad A' B C", B="D", bad="D")
    assert tried == ["A", "B", "C", "D"] and plan.text == "text"
    assert [use[P] for use in made.wanted] == ["A", "bad", "A'", "B", "C", "D"]
    assert plan.chosen.taps[0].circuit == "D"
    assert made.tried[3][1] == ("asked for by a person", "reason 6"), "a person has asked about that pin"


def test_a_pin_that_nobody_has_asked_about_is_told_otherwise(monkeypatch: pytest.MonkeyPatch) -> None:
    made = Steps(monkeypatch, {"B"}, {"A": ["B"]})
    made.before = Kept(use={Q: "FIXED"})
    monkeypatch.setattr(planning, "choose", lambda a, b, o, use: made.choose(a, b, o, {P: "A", **use}))
    monkeypatch.setattr(planning, "_otherwise", lambda plan, use, a: [{**use, P: "B"}])
    assert planning.plan(ASKED_USE).text == "text"
    assert made.tried[1] == ("B", ("A, the first choice, cannot be laid out: odd", "reason 2"))


def test_the_first_refusal_is_told_where_nothing_can_be_laid_out(monkeypatch: pytest.MonkeyPatch) -> None:
    plan, tried, _ = steps(monkeypatch, "", A="B C")
    assert plan.text is None and tried == ["A", "B", "C"] and plan.chosen.taps[0].circuit == "A"
    plan, tried, _ = steps(monkeypatch, "", bad="B", A="bad")
    assert tried == ["A"]


def test_a_choice_that_is_refused_at_once_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    made = Steps(monkeypatch, set(), {})
    made.before = Kept(use={P: "bad"})
    plan = planning.plan(ASKED_USE)
    assert plan.chosen.refusals and [name for name, _ in made.tried] == ["bad"]


def test_no_more_than_eight_other_choices(monkeypatch: pytest.MonkeyPatch) -> None:
    many = " ".join(f"C{n}" for n in range(12))
    plan, tried, _ = steps(monkeypatch, "", A=many)
    assert tried == ["A", *(f"C{n}" for n in range(8))] and plan.chosen.taps[0].circuit == "A"
    plan, tried, _ = steps(monkeypatch, "C7", A=many)
    assert len(tried) == 9 and plan.text == "text" and plan.chosen.taps[0].circuit == "C7"
    assert len(steps(monkeypatch, "C8", A=many)[1]) == 9


# -- one choice, laid out -------------------------------------------------------------------------------------------

CAVITY = SimpleNamespace(value="40 mm")


class Bench:
    """Stands in for what ``_attempt`` calls, with what each was given."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, result: Result | None, blocks: int = 0) -> None:
        self.given: dict[str, Any] = {}
        self.airframe: Any = SimpleNamespace(overrides={"a": CAVITY, "b": SimpleNamespace(value="5 V")})
        lines = [SimpleNamespace(cavity="cavity of X"), SimpleNamespace(cavity="cavity of Y")]

        def through(airframe: Any, opened: Any, taps: Any) -> list[Any]:
            assert (airframe, opened, taps) == (self.airframe, ("P14", "J14"), {})
            return lines

        def search(space: Any, judge: Any, tries: int) -> Result:
            self.given["tries"] = (space, judge("layout"), tries)
            if result is None:
                raise TooShortError(90)
            return result

        def put(name: str, answer: Any) -> None:
            def stand_in(*said: Any, **more: Any) -> Any:
                self.given[name] = (*said, *more.values())
                return answer

            monkeypatch.setattr(planning, name, stand_in)

        monkeypatch.setattr(planning, "through", through)
        monkeypatch.setattr(planning, "search", search)
        for name, answer in (
            ("_ways", {"A1J1": "way"}), ("_draft", "draft"), ("Space", "space"), ("excluded", ["block"] * blocks),
            ("_judge", "judged"), ("stopped", (No("it is long", "do"),)), ("terminators", ("on the bus",)),
            ("_text", "the text"), ("_story", ("story",)),
        ):  # fmt: skip
            put(name, answer)
        monkeypatch.setattr(harness_yaml, "load", lambda path, name, *, text: (path, name, text))
        monkeypatch.setattr(api, "check", lambda job: ("report", job))

    def attempt(self, chosen: Chosen, before: Kept = Kept(), **asked: Any) -> Plan:  # noqa: B008
        what = Asked("air.yaml", ("box.yaml",), "P14/J14", "out/plan.yaml", **asked)
        self.asked = what
        return planning._attempt(what, HEAD, before, self.airframe, ["box"], ("P14", "J14"), chosen)  # type: ignore[list-item]


HEAD = Head("a title", "air.yaml", {})
GOOD = Chosen((tap(P, "X", "why X"), tap(Q, "Y")), ((R, "it stays off"), (P, "twice")))
LAYOUT = Layout(Setting((0,)), Kit(("P1", "J1"), (), (), (), (), {}, unknown=("the size", "who")), Cost(0, 0, 0, 0, 0))


def test_a_layout_that_passes_becomes_a_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    result = Result(LAYOUT, Report("x"), looked_at=3)
    bench, before = Bench(monkeypatch, result), Kept(limits={"b": "6 V", "c": "7 V"})
    plan = bench.attempt(GOOD, before, least="mass")
    assert (plan.chosen, plan.title, plan.text, plan.result, plan.noes) == (GOOD, "a title", "the text", result, ())
    assert plan.report == ("report", (Path("out/plan.yaml"), "out/plan.yaml", "the text"))  # type: ignore[comparison-overlap]
    assert plan.kit is not None and plan.kit.tap_reasons == {P: ("why X",), Q: ()}
    assert plan.remarks == (
        "A1J1-3 stays open: it stays off", "A1J1-1 stays open: twice", "on the bus", "not known: the size",
        "not known: who",
    )  # fmt: skip
    given, what = bench.given, bench.asked
    assert given["_ways"] == (what, bench.airframe, ["box"], GOOD)
    said = {"a": "40 mm", "b": "6 V", "c": "7 V"}
    assert given["_draft"] == (what, bench.airframe, ["box"], ("P14", "J14"), GOOD, {"A1J1": "way"}, said)
    assert given["Space"] == ("draft", "mass") and given["excluded"] == ("draft",)
    assert given["tries"] == ("space", "judged", TRIES) and given["_judge"] == (what, HEAD, "layout", before)
    assert given["_text"] == (HEAD, plan.kit, before, ("story", "on the bus")) and given["_story"] == (what, result)
    assert given["terminators"] == (bench.airframe, ["box"], GOOD)


def test_rules_that_exclude_each_other_are_looked_at_three_times(monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(monkeypatch, Result(LAYOUT, Report("x")), blocks=1)
    bench.attempt(GOOD)
    assert bench.given["tries"][2] == 3


def test_what_stops_before_anything_is_laid_out(monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(monkeypatch, None)
    tried = (("X", "full"),)
    refused = Chosen((), (), (Refusal(P, "none will do", "lay it", tried), Refusal(Q, "full", "wait")))
    assert bench.attempt(refused) == Plan(
        refused, noes=(No("A1J1-1: none will do", "lay it", tried), No("A1J1-2: full", "wait"))
    )
    assert bench.attempt(Chosen(())) == Plan(
        Chosen(()), noes=(No("no pin of the equipment taps anything", "state what its pins want"),)
    )
    lost = Chosen((tap(P, "X"), tap(Q, "Z"), tap(R, "V")))
    remedy = "look at the name of that cavity and at the insert, in the airframe file"
    said = "its circuit is in cavity cavity of {} of P14/J14, through which no contact leads"
    assert bench.attempt(lost) == Plan(
        lost, noes=(No(f"A1J1-2: {said.format('Z')}", remedy), No(f"A1J1-3: {said.format('V')}", remedy))
    )
    assert "_ways" not in bench.given
    assert bench.attempt(GOOD) == Plan(
        GOOD, noes=(No("the splices need a trunk of 90 mm", "ask for a trunk of 90 mm or more"),)
    )
    monkeypatch.setattr(planning, "_ways", lambda *said: No("which way", "say it"))
    assert bench.attempt(GOOD) == Plan(GOOD, noes=(No("which way", "say it"),))


@pytest.mark.parametrize("result", [Result(None, None), Result(LAYOUT, None), Result(None, Report("x"))])
def test_no_layout_that_passes(result: Result, monkeypatch: pytest.MonkeyPatch) -> None:
    bench = Bench(monkeypatch, result)
    long = No("it is long", "do")
    assert bench.attempt(GOOD) == Plan(GOOD, result=result, noes=(long,)) and bench.given["stopped"] == (
        "draft",
        result,
    )
    fixed = Kept((Entry("wires", "W1", ("  W1: x  # fixed",)), Entry("limits", "limits", ("limits:",))))
    remark = No("kept because it is marked # fixed: W1", "take the mark off what stands in the way")
    assert bench.attempt(GOOD, fixed) == Plan(GOOD, result=result, noes=(long, remark))
