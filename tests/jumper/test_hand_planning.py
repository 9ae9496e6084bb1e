"""From what a person asks for to a draft, on made-up files and harnesses: each branch, each word, each file name."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck import api
from harnesscheck.fault import Fault, InputError
from harnesscheck.finding import Report
from harnesscheck.formats import harness_yaml
from harnesscheck.jumper import planning, writing
from harnesscheck.jumper.choice import Chosen, Tapped
from harnesscheck.jumper.cost import Cost
from harnesscheck.jumper.design import Layout, Result
from harnesscheck.jumper.keeping import Kept
from harnesscheck.jumper.kit import Joint, Kit
from harnesscheck.jumper.planning import Asked
from harnesscheck.jumper.stopping import No
from harnesscheck.jumper.trunk import Setting, Way
from harnesscheck.jumper.writing import Entry, Head
from harnesscheck.place import Point
from harnesscheck.started import sealed

PIN = Point("A1J1", "1")
HEAD = Head("Jumper: one", "air.yaml", {"A1": "box.yaml", "A2": "sub/box 2.yaml"})


def asked(**more: Any) -> Asked:
    return Asked(**{"airframe": "air.yaml", "equipment": ("box.yaml",), "at": "P14/J14", "out": "plan.yaml"} | more)


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def write(name: str, text: str) -> Path:
    path = Path(name)
    path.parent.mkdir(exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def named(entries: Iterable[Entry]) -> list[tuple[str, str]]:
    return [(entry.section, entry.key) for entry in entries]


# -- what a person has settled --------------------------------------------------------------------------------------

OWN = "kind: jumper\nrevision: C  # fixed\n"
WIRED = "wires:\n  W1: {from: P1-1, to: J1-1}\n"
SIGNED = "# Planned by harnesscheck tap. Read it.\n"


def test_nothing_is_settled_where_there_is_no_file_or_a_sealed_one() -> None:
    assert planning._before(asked(), Path("plan.yaml")) == Kept()
    write("plan.yaml", "\n".join(sealed(["kind: jumper", "revision: C  # fixed"])) + "\n")
    assert planning._before(asked(), Path("plan.yaml")) == Kept(), "started, and not changed by anybody"


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        (OWN, True), (SIGNED + OWN + WIRED, True), (f"# one\n# two\n{SIGNED}{OWN}{WIRED}", True),
        (f"# one\n# two\n# three\n{SIGNED}{OWN}{WIRED}", False), (OWN + WIRED, False),
        (f"# of it: {SIGNED}{OWN}{WIRED}", False),
    ],
)  # fmt: skip
def test_a_file_of_ones_own_with_wires_is_no_plan(text: str, kept: bool) -> None:
    """The signature stands in the first three lines, at the start of a line."""
    write("plan.yaml", text)
    if kept:
        assert named(planning._before(asked(), Path("plan.yaml")).entries) == [("revision", "revision")]
        return
    with pytest.raises(InputError) as found:
        planning._before(asked(), Path("plan.yaml"))
    (fault,) = found.value.faults
    assert (fault.file, fault.line, fault.column, fault.text) == ("plan.yaml", 1, 1, text.partition("\n")[0])
    assert fault.message == "this file is there already and is no plan of this command"
    assert fault.remedy.startswith("choose another name with -o") and "--decided" in fault.remedy


def test_decisions_of_another_file_take_the_place_of_ones_own() -> None:
    mine = "taps:\n  A1J1-1: PWR  # fixed\nlimits:\n  long-stub: {value: 1 m}\nwaivers:\n  - {at: P1}\n"
    write("plan.yaml", OWN + mine)
    alone = planning._before(asked(), Path("plan.yaml"))
    assert alone.limits == {"long-stub": "1 m"} and alone.use == {PIN: "PWR"}
    assert named(alone.entries)[2:] == [("limits", "limits"), ("waivers", "waivers")]
    write("his.yaml", "revision: Z  # fixed\nlimits:\n  short-bend: {value: 2 mm}\n")
    both = planning._before(asked(decided="his.yaml"), Path("plan.yaml"))
    assert named(both.entries) == [("revision", "revision"), ("taps", "A1J1-1"), ("limits", "limits")]
    assert both.entries[0].lines == ("revision: C  # fixed",), "of the other file only the decisions"
    assert both.entries[2].lines == ("limits:", "  short-bend: {value: 2 mm}")
    assert both.limits == {"short-bend": "2 mm"} and both.use == {PIN: "PWR"}
    write("waived.yaml", "waivers:\n  - {at: P1}\n")
    waived = planning._before(asked(decided="waived.yaml"), Path("none.yaml"))
    assert named(waived.entries) == [("waivers", "waivers")] and waived.limits == {}
    write("empty.yaml", "title: x\n")
    with pytest.raises(InputError) as found:
        planning._before(asked(decided="empty.yaml"), Path("plan.yaml"))
    (fault,) = found.value.faults
    assert (fault.file, fault.line, fault.column) == ("empty.yaml", 1, 1)
    assert (fault.message, fault.remedy) == ("nothing is decided in this file", "write limits: or waivers: in it")


# -- files ----------------------------------------------------------------------------------------------------------


def test_the_head_of_a_plan() -> None:
    write("air.yaml", "title: Demo 1\n")
    write("sub/a.yaml", "title: Fan\n")
    write("b.yaml", "title: Probe\n")
    write("c.yaml", "kind: equipment\n")
    before = Kept(units={"b.yaml": "A3", "other.yaml": "A1"})
    head = planning._head(asked(equipment=("sub/a.yaml", "b.yaml", "c.yaml"), units=("A7",)), before)
    assert head.title == "Jumper for Fan and Probe at P14/J14, Demo 1" and head.airframe == "air.yaml"
    assert head.equipment == {"A7": "sub/a.yaml", "A3": "b.yaml", "A2": "c.yaml"}, "A1 belongs to a file"
    assert list(head.equipment) == ["A7", "A3", "A2"] and head.story == ()
    write("air.yaml", "kind: airframe\n")
    bare = planning._head(asked(equipment=("c.yaml", "b.yaml")), Kept())
    assert bare.title == "Jumper for Probe at P14/J14" and bare.equipment == {"A1": "c.yaml", "A2": "b.yaml"}
    alone = planning._head(asked(equipment=("c.yaml",), out="sub/../plan.yaml"), Kept())
    assert alone.title == "Jumper for equipment at P14/J14"
    write("air.yaml", "title: {a: b}\n")
    assert planning._head(asked(equipment=("c.yaml",)), Kept()).title == "Jumper for equipment at P14/J14"


def test_file_names_as_the_plan_gives_them(folder: Path) -> None:
    write("sub/a.yaml", "")
    assert planning._beside("sub/a.yaml", folder) == "sub/a.yaml"
    assert planning._beside(str(folder / "sub" / "a.yaml"), folder / "sub") == "a.yaml"
    assert planning._beside("none.yaml", folder / "sub") == "../none.yaml", "the reader says that it is not there"
    write("a.yaml", "")
    with pytest.raises(InputError) as found:
        planning._beside("a.yaml", folder / "sub")
    (fault,) = found.value.faults
    assert (fault.file, fault.line, fault.column, fault.text) == ("a.yaml", 1, 1, "")
    assert fault.message == "this file is not in or below the folder sub, where the plan goes"
    assert fault.remedy == "write the plan into the folder of the airframe file, or one above it"


def test_a_jumper_file_without_a_kit() -> None:
    assert planning._skeleton(asked(), HEAD) == (
        'kind: jumper\ntitle: "Jumper: one"\nairframe: air.yaml\nequipment:\n  A1: box.yaml\n  A2: sub/box 2.yaml\n'
        "opens: P14/J14\n"
    )  # fmt: skip


def failing(*faults: Fault) -> Any:
    def load(path: Path, name: str, *, text: str) -> object:
        raise InputError(faults)

    return load


def test_slips_of_the_command_line_are_said_of_it(monkeypatch: pytest.MonkeyPatch) -> None:
    mine, other = Fault("plan.yaml", 7, 8, "no pair", "opens: P9", "do"), Fault("air.yaml", 3, 2, "odd", "x", "y")
    monkeypatch.setattr(harness_yaml, "load", failing(mine, other))
    with pytest.raises(InputError) as found:
        planning._bare(asked(), HEAD)
    assert found.value.faults == (other, Fault("command line", 1, 1, "no pair", "", "do"))
    given: list[Any] = []

    def load(path: Path, name: str, *, text: str) -> int:
        given.append((path, name, text))
        return 7

    monkeypatch.setattr(harness_yaml, "load", load)
    assert planning._bare(asked(), HEAD) == 7  # type: ignore[comparison-overlap]
    assert given == [(Path("plan.yaml"), "plan.yaml", planning._skeleton(asked(), HEAD))]


# -- the way there --------------------------------------------------------------------------------------------------


def route(name: str, length: float | None = 0.9, zone: str | None = None) -> Any:
    return SimpleNamespace(name=name, length=length, zone=zone)


def airframe(*routes: Any, zone: str | None = "HERE", circuits: Iterable[Any] = ()) -> Any:
    return SimpleNamespace(
        routes={each.name: each for each in routes}, connectors={"P14": SimpleNamespace(zone=zone)},
        circuits={each.name: each for each in circuits},
    )  # fmt: skip


def box(**zones: str | None) -> Any:
    return SimpleNamespace(connectors={ref: SimpleNamespace(zone=zone) for ref, zone in zones.items()})


def ways(what: Any, craft: Any, boxes: Any = None) -> Any:
    taps = tuple(Tapped(Point(ref, "1"), "X", "1", ()) for ref in ("A1J1", "A1J1", "A2J1"))
    return planning._ways(what, craft, boxes or [box(A1J1=None, A1J2="B"), box(A2J1="BAY")], Chosen(taps))


def test_the_way_to_each_receptacle_that_is_tapped() -> None:
    """902 mm are laid as 905; a zone is that of the receptacle, else of the route, else of the opened pair."""
    assert ways(asked(), airframe(route("R", 0.902))) == {"A1J1": Way("R", 905, "HERE"), "A2J1": Way("R", 905, "BAY")}
    assert ways(asked(), airframe(route("R", zone="TAIL")))["A1J1"] == Way("R", 900, "TAIL")
    assert ways(asked(), airframe(zone=None, circuits=()) if False else airframe(route("R"), zone=None))["A1J1"] == Way(
        "R", 900, None
    )
    assert ways(asked(branch=0.4), airframe())["A2J1"] == Way(None, 400, "BAY")
    assert ways(asked(branch=0.4), airframe(route("R")))["A2J1"] == Way("R", 400, "BAY"), "as a person says"
    assert ways(asked(branch=0.4), airframe(route("R"), route("S")))["A1J1"] == Way(None, 400, "HERE")
    assert ways(asked(route="S"), airframe(route("R"), route("S", 0.5)))["A1J1"] == Way("S", 500, "HERE")


def test_a_way_that_is_not_known() -> None:
    assert ways(asked(), airframe(route("R", None))) == No(
        "the length of route R is not stated", "give length: there, or --branch 400 mm"
    )
    assert ways(asked(), airframe(route("R"), route("S"))) == No(
        "which way leads to the equipment is not stated: R, S", "name it with --route"
    )
    assert ways(asked(), airframe()) == No(
        "how far it is from the opened pair to the equipment is not stated",
        "give routes: in the airframe file with a length, or --branch 400 mm",
    )
    for typed, remedy in (("ROUTE 1", "did you mean ROUTE 2?"), ("zzzz", "the routes are: ROUTE 2, S")):
        with pytest.raises(InputError) as found:
            ways(asked(route=typed), airframe(route("ROUTE 2"), route("S")))
        message = f"there is no route {typed!r}"
        assert found.value.faults == (Fault("command line", 1, 1, message, "", remedy),)


def test_what_goes_into_a_draft(monkeypatch: pytest.MonkeyPatch) -> None:
    """12 in are 304.8 mm, laid as 305; a trunk of 0.501 m as 505; a stagger that nobody has set is not stated."""
    monkeypatch.setattr(planning, "Draft", lambda *said, **more: (said, more))
    craft = airframe(circuits=[circuit("CAN H", "can"), circuit("PWR", "power")])
    chosen = Chosen((Tapped(PIN, "CAN H", "3", ()), Tapped(Point("A1J1", "2"), "PWR", "4", ())))

    def draft(said: dict[str, str], **more: Any) -> Any:
        return planning._draft(asked(**more), craft, ["box"], ("P14", "J14"), chosen, {"A1J1": "way"}, said)  # type: ignore[dict-item, list-item]

    taps, reaches = {PIN: "3", Point("A1J1", "2"): "4"}, {"3": 300, "4": None}
    same = (craft, ["box"], ("P14", "J14"), taps, {"A1J1": "way"})
    assert draft({}) == ((*same, 305, reaches, None), {"gap": None})
    said = {"splice-near-connector": "41 mm", "unstaggered-splices": "52 mm", "long-stub": "250 mm"}
    assert draft(said, trunk=0.501) == ((*same, 45, {"3": 250, "4": None}, 505), {"gap": 55})
    assert draft({"unstaggered-splices": "odd"}) == ((*same, 305, reaches, None), {"gap": 0})


def test_a_limit_as_a_person_set_it() -> None:
    assert planning._metres({"a": "40 mm"}, "a", 0.5) == pytest.approx(0.04)
    assert planning._metres({"a": "40 mm"}, "b", 0.5) == 0.5 == planning._metres({"a": "forty"}, "a", 0.5)


def circuit(name: str, signal: str, pair: str | None = None, edge: float | None = None, kind: str | None = None) -> Any:
    return SimpleNamespace(name=name, signal=signal, pair=pair, edge=edge, kind=kind)


@pytest.mark.parametrize(
    ("lines", "said", "reach"),
    [
        # ISO 11898-2: 0.3 m; J1939: 1 m; a person's own limit stands before both, whole fives below it
        ([circuit("X", "can")], {}, 300), ([circuit("X", "can", kind="J1939")], {}, 1000),
        ([circuit("X", "can", kind="CANopen")], {}, 300),
        ([circuit("Y", "can", kind="J1939"), circuit("X", "can")], {}, 1000),
        ([circuit("Y", "rs485", kind="J1939"), circuit("X", "can")], {}, 300),
        ([circuit("X", "can")], {"long-stub": "254 mm"}, 250), ([circuit("X", "can")], {"long-stub": "far"}, 300),
        ([circuit("X", "can")], {"long-stub": "0.555 m"}, 555),
        # round trip: edge / (20 x 5 ns/m): 100 ns is 1 m, 30.4 ns is 304 mm
        ([circuit("X", "rs485", edge=100e-9)], {}, 1000), ([circuit("X", "rs422", edge=30.4e-9)], {}, 300),
        ([circuit("X", "rs485", edge=100e-9)], {"long-stub": "0.2 m"}, 1000),
        ([circuit("X", "rs485", "A"), circuit("Y", "rs485", "A", 50e-9)], {}, 500),
        ([circuit("Y", "rs485", "B", 50e-9), circuit("X", "rs485", "A")], {}, None),
        ([circuit("Y", "rs485", None, 50e-9), circuit("X", "rs485", None)], {}, None),
        ([circuit("Y", "rs485", None, 50e-9), circuit("X", "rs485", None, 100e-9)], {}, 1000),
        # ARINC 429 high speed, 1 us at the least: 10 m
        ([circuit("X", "arinc429")], {}, 10000), ([circuit("X", "arinc429", edge=2e-6)], {}, 20000),
        ([circuit("X", "rs422")], {}, None), ([circuit("X", "rs232", edge=1e-6)], {}, None), ([], {}, None),
    ],
)  # fmt: skip
def test_the_longest_branch_of_a_signal(lines: list[Any], said: dict[str, str], reach: int | None) -> None:
    assert planning._reach(airframe(circuits=lines), Tapped(PIN, "X", "1", ()), said) == reach


# -- the text, read back --------------------------------------------------------------------------------------------


def kit(*unknown: str) -> Kit:
    joint = Joint("SP1", None, 100, "P1", None)
    return Kit(("P1", "J1"), (), (joint,), (), (), {PIN: "PWR"}, unknown=unknown)


def layout(order: tuple[int, ...], total: float, *unknown: str, loose: bool = False) -> Layout:
    return Layout(Setting(order, loose=loose), kit(*unknown), Cost(1, 0.0, 10 * (total - 1.0), 0, 0))


def test_the_story_at_the_top() -> None:
    """1 splice is 1.0; 10 m of wire 1.0."""
    best = layout((0,), 2.0, "the size of W1", "who")
    result = Result(best, Report("x"), (layout((0,), 3.0, loose=True), layout((1,), 2.5)), (), 12)
    sign = "Planned by harnesscheck tap. Read it, edit it; mark what is settled with '# fixed' and plan again."
    rest = "m of wire, 0 g of copper, 0 kinds of parts"
    cost = f"1 splice, 10.00 {rest}: 2.00"
    assert planning._story(asked(), result) == (
        sign, f"Cost by the weighted sum: {cost}; the cheapest of 12 layouts that passes every check.",
        f"Second to it, 1 splice, 20.00 {rest}: 3.00: plug finished in the aircraft.",
        f"Second to it, 1 splice, 15.00 {rest}: 2.50: splices in the order .",
        "not known: the size of W1", "not known: who",
    )  # fmt: skip
    for least, words in (("splices", "fewest splices"), ("parts", "fewest parts"), ("mass", "least mass"),
                         ("length", "least length")):  # fmt: skip
        said = planning._story(asked(least=least), Result(layout((0,), 2.0), None, (), (), 1))
        assert said[1:] == (
            f"Cost by {words} first, then the weighted sum: {cost}; "
            "the cheapest of 1 layouts that passes every check.",
        )  # fmt: skip


def test_the_text_of_a_kit_holds_what_a_person_has_fixed() -> None:
    fixed = Entry("revision", "revision", ("revision: C  # fixed",))
    text = planning._text(HEAD, kit(), Kept((fixed,)), ("how it was planned",))
    told = Head(HEAD.title, HEAD.airframe, HEAD.equipment, ("how it was planned",))
    assert text == writing.text(writing.entries(told, kit()), (fixed,))
    assert text.startswith("# how it was planned\nkind: jumper\n") and "revision: C  # fixed\n" in text
    assert planning._text(HEAD, kit(), Kept()).startswith("kind: jumper\n")


def test_a_layout_is_judged_by_its_text(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(harness_yaml, "load", lambda path, name, *, text: (path, name, text))
    monkeypatch.setattr(api, "check", lambda job: ("checked", job))
    text = planning._text(HEAD, kit(), Kept())
    found: Any = planning._judge(asked(), HEAD, layout((0,), 1.0), Kept())
    assert found == ("checked", (Path("plan.yaml"), "plan.yaml", text))


def test_a_slip_in_the_planned_text_is_said_of_the_file_it_comes_from(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of the decisions where they hold the line, else of the plan that is there, as a fixed entry or as its own."""
    slip, other = Fault("plan.yaml", 9, 3, "no such part", "    value: x", "do"), Fault("a.yaml", 1, 1, "m", "", "r")
    monkeypatch.setattr(harness_yaml, "load", failing(slip, other))

    def said(*entries: Entry, **more: Any) -> tuple[str, int, str]:
        with pytest.raises(InputError) as found:
            planning._judge(asked(**more), HEAD, layout((0,), 1.0), Kept(entries))
        assert found.value.faults[0] == other
        (mine,) = found.value.faults[1:]
        assert (mine.column, mine.text, mine.remedy) == (3, slip.text, "do")
        return mine.file, mine.line, mine.message

    limits = Entry("limits", "limits", ("limits:", "  a:", "    value: x"))
    fixed = Entry("wires", "W1", ("  W1:  # fixed", "    value: x")), Entry("taps", "A1J1-1", ("x",))
    words = "the plan cannot be read with what is marked # fixed"
    assert said() == said(limits) == ("plan.yaml", 9, slip.message)
    write("his.yaml", "limits:\n  a:\n    value: x  \n")
    assert said(limits, decided="his.yaml") == ("his.yaml", 3, slip.message) == said(*fixed, decided="his.yaml")
    write("plan.yaml", "kind: jumper\n")
    assert said() == ("plan.yaml", 9, slip.message) == said(limits)
    assert said(*fixed) == ("plan.yaml", 1, f"{words} (W1, A1J1-1): no such part"), "whichever of them it is"
    assert said(fixed[1], limits) == ("plan.yaml", 1, f"{words} (A1J1-1): no such part")
    write("plan.yaml", "kind: jumper\na:\n  b:\n    value: x\n")
    assert said() == ("plan.yaml", 4, slip.message) == said(limits) == said(limits, fixed[1])
    assert said(*fixed) == ("plan.yaml", 4, f"{words} (W1, A1J1-1): no such part")
    write("his.yaml", "limits:\n  a: 1\n")
    assert said(*fixed, decided="his.yaml") == ("plan.yaml", 4, f"{words} (W1, A1J1-1): no such part")
