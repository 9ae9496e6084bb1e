"""The search for a layout and its words on made-up layouts: what is judged, what is passed over, where it ends."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from harnesscheck.finding import Finding, Report, Severity
from harnesscheck.jumper import design
from harnesscheck.jumper.cost import Cost
from harnesscheck.jumper.design import BY, Layout, Result, Tried, difference, faults
from harnesscheck.jumper.kit import Joint, Kit, Lead, Section, Sheath
from harnesscheck.jumper.trunk import Setting
from harnesscheck.place import Place, Point

ONE = Setting((0, 1))


def finding(check: str, severity: Severity = Severity.STOP, **more: Any) -> Finding:
    return Finding(headline=check, place=Place("P1"), check=check, severity=severity, **more)


def kit(*tapped: str, wires: tuple[str | None, ...] = (), cables: tuple[str | None, ...] = (),
        splices: tuple[str | None, ...] = ()) -> Kit:  # fmt: skip
    """A kit with a section for each tapped circuit, and one with wires of these types."""
    leads = tuple(Lead(f"W{n}", Point("P1", "1"), Point("J1", "1"), 100, "trunk", type=t) for n, t in enumerate(wires))
    return Kit(
        ("P1", "J1"), (), tuple(Joint(f"SP{n}", part, 100, "P1", None) for n, part in enumerate(splices)),
        tuple(Sheath(f"C{n}", part, 100, "trunk") for n, part in enumerate(cables)),
        (*(Section(f"{name}, tapped", ()) for name in tapped), Section("led through", leads)), {},
    )  # fmt: skip


def layout(setting: Setting, made: Kit | None = None) -> Layout:
    return Layout(setting, made or kit(wires=(f"TYPE{setting.wire}",)), Cost(setting.wire, 0.0, 0.0, 0, 0))


class Listed:
    """A space of these settings, dearer from one to the next."""

    def __init__(self, *settings: Setting) -> None:
        self.listed, self.made = list(settings), [layout(each) for each in settings]

    def settings(self) -> list[Setting]:
        return self.listed

    def layout(self, setting: Setting) -> Layout:
        return next(each for each in self.made if each.setting == setting)


def searched(space: Listed, said: Callable[[Setting], list[Finding]], tries: int = 40) -> tuple[Result, list[Setting]]:
    """The result, and the settings that were judged."""
    judged: list[Setting] = []

    def judge(each: Layout) -> Report:
        judged.append(each.setting)
        return Report(f"report {len(judged)}", tuple(said(each.setting)))

    return design.search(space, judge, tries), judged  # type: ignore[arg-type]


def test_only_open_stops_and_cautions_stand_against_a_layout() -> None:
    stop, caution, note = (finding(word, Severity[word]) for word in ("STOP", "CAUTION", "NOTE"))
    more = (finding("a", follows="b"), finding("c", waived="by somebody"))
    assert faults(Report("x", (note, stop, *more, caution))) == (stop, caution)
    assert faults(Report("x", (note, *more))) == () == faults(Report("x"))


def test_the_first_that_passes_and_those_that_follow_it() -> None:
    """Six layouts with another wire each: the second passes, the third to the fifth are named, the sixth is not."""
    settings = [Setting((0, 1), wire=n) for n in range(6)]
    space = Listed(*settings)
    result, judged = searched(space, lambda s: [] if s.wire else [finding("long-stub")])
    assert judged == settings[:2] and result.looked_at == 6
    assert result.best is space.made[1] and result.report is not None and result.report.title == "report 2"
    assert result.runners_up == tuple(space.made[2:5])
    assert result.failed == (Tried(space.made[0], (finding("long-stub"),)),)


def test_a_note_is_no_obstacle_and_one_layout_has_no_second() -> None:
    result, judged = searched(Listed(ONE), lambda s: [finding("x", Severity.NOTE)])
    assert result.best is not None and judged == [ONE]
    assert (result.runners_up, result.failed, result.looked_at) == ((), (), 1)
    assert searched(Listed(), lambda s: [])[0] == Result(None, None, (), (), 0) == Result(None, None)


@pytest.mark.parametrize(
    ("check", "parts"),
    [
        ("plug-larger-than-passage", "loose"), ("excess-voltage-drop", "thicker wire order"),
        ("over-ampacity", "thicker apart wire"), ("breaker-trip-band", "thicker apart wire"),
        ("overfull-splice", "splice thicker wire"), ("unsealed-splice-in-wet-zone", "splice"),
        ("wire-outside-seal-range", "wire cable thicker"), ("wire-below-zone-temperature", "wire cable"),
    ],
)  # fmt: skip
def test_after_a_finding_only_what_may_take_it_away_is_tried(check: str, parts: str) -> None:
    """One setting, then one for each part changed alone: those of the parts named are judged, the others are not."""
    changed: dict[str, Setting] = {
        "order": Setting((1, 0)), "wire": Setting((0, 1), wire=1), "splice": Setting((0, 1), splice=1),
        "cable": Setting((0, 1), cable=1), "thicker": Setting((0, 1), thicker=1), "loose": Setting((0, 1), loose=True),
        "apart": Setting((0, 1), apart=True),
    }  # fmt: skip
    assert set(BY[check]) == set(parts.split())
    result, judged = searched(Listed(ONE, *changed.values()), lambda s: [finding(check)])
    # Each that is judged has the finding too: it bars only its own values, which no later one shares in all parts.
    assert judged == [ONE, *(setting for part, setting in changed.items() if part in parts.split())]
    assert result.best is None and result.report is None and result.looked_at == 8
    assert len(result.failed) == len(judged)


def test_what_is_barred_stays_barred_by_its_own_values_only() -> None:
    """Splice 0 leaks, wire 1 is too hot: left are splice 1 with the wires 0 and 2. Of those the first passes."""
    settings = [Setting((0,), wire=w, splice=s) for s in (0, 1) for w in (1, 2, 0)]

    def said(setting: Setting) -> list[Finding]:
        hot = [finding("wire-below-zone-temperature")] if setting.wire == 1 else []
        return hot + ([finding("unsealed-splice-in-wet-zone")] if setting.splice == 0 else [])

    result, judged = searched(Listed(*settings), said)
    assert judged == [settings[0], settings[4]] and result.best is not None and result.best.setting == settings[4]
    assert [each.setting for each in result.runners_up] == [settings[5]]


def test_tries_are_counted() -> None:
    """Every layout has a finding of its own that no choice is known to take away."""
    settings = [Setting((0,), wire=n) for n in range(9)]
    for tries in (1, 3, 8, 9):
        result, judged = searched(Listed(*settings), lambda s: [finding(f"check {s.wire % 2}")], tries)
        assert len(judged) == tries == len(result.failed) and result.best is None
    assert design.TRIES == 40


def test_the_search_ends_where_a_finding_stays() -> None:
    """After the seventh layout it is held that none is without the finding: six others had it before."""
    settings = [Setting((0,), wire=n) for n in range(20)]
    always = [finding("long-stub"), finding("overfull-splice")]
    assert len(searched(Listed(*settings), lambda s: always)[1]) == 7
    assert len(searched(Listed(*settings), lambda s: always[:1])[1]) == 7
    late = searched(Listed(*settings), lambda s: always if s.wire > 3 else [finding(f"own {s.wire}")])[1]
    assert len(late) == 10, "the four first had others; six with it are the fifth to the tenth"
    curable = searched(Listed(*settings), lambda s: [finding("wire-below-zone-temperature")])[1]
    assert len(curable) == 20, "another wire may take it away, so every wire is looked at"


def tried(*wires: int, checks: tuple[str, ...] = ("long-stub",)) -> list[Tried]:
    return [Tried(layout(Setting((0,), wire=w)), tuple(map(finding, checks))) for w in wires]


def test_when_a_finding_is_held_to_be_lasting() -> None:
    assert design._lasting(tried(0, 1, 2, 3, 4, 5)) and design._lasting(tried(0, 0, 1, 2, 3, 4, 5))
    assert not design._lasting(tried(0, 0, 1, 2, 3, 4)), "one of them twice is no sixth layout"
    assert not design._lasting([*tried(0, 1, 2, 3, 4), *tried(5, checks=("other",))])
    assert design._lasting([*tried(0, checks=("other",)), *tried(1, 2, 3, 4, 5, 6, checks=("other", "long-stub"))])
    assert not design._lasting(tried(0, 1, 2, 3, 4, 5, checks=("overfull-splice",))), "a splice may take it away"


def test_what_another_layout_does_differently() -> None:
    first = layout(ONE, kit("PWR", "RTN", wires=("W16", None), splices=("S1",)))
    assert difference(first, first) == ""
    turned = layout(Setting((1, 0)), kit("RTN", "PWR", wires=("W16",), splices=("S1",)))
    assert difference(first, turned) == "splices in the order RTN and PWR"
    other = layout(ONE, kit("PWR", "RTN", wires=("W34", "W20"), cables=("M275", None), splices=("S2", None)))
    assert difference(first, other) == (
        "with M275, with S2, with W20, with W34, without S1, without W16"
    ), "what is new by its number, then what goes"  # fmt: skip
    assert difference(other, first) == "with S1, with W16, without M275, without S2, without W20, without W34"
    loose = layout(Setting((0, 1), loose=True), first.kit)
    assert difference(first, loose) == "plug finished in the aircraft" and difference(loose, first) == ""
    assert difference(loose, loose) == ""
    both = layout(Setting((1, 0), loose=True), turned.kit)
    assert difference(first, both) == "splices in the order RTN and PWR, plug finished in the aircraft"


def test_second_to_the_best_is_what_differs_each_difference_once() -> None:
    same = kit(wires=("A",))
    best = layout(ONE, same)
    like, apart = layout(Setting((0, 1), cable=1), same), layout(Setting((0, 1), wire=2, apart=True), kit(wires=("B",)))
    new, again = layout(Setting((0, 1), wire=1), kit(wires=("B",))), layout(Setting((0, 1), wire=3), kit(wires=("B",)))
    third = layout(Setting((0, 1), wire=4), kit(wires=("C",)))
    assert list(design._unlike(best, iter([like, apart, new, again, third]))) == [new, third]
    mine = layout(Setting((0, 1), apart=True), same)
    assert list(design._unlike(mine, iter([new, apart]))) == [apart], "tied alike"
    assert list(design._unlike(best, iter([]))) == []
