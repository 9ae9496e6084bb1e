"""The space of layouts on made-up drafts: how far each list goes, the order of the settings, and wire that suits."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import permutations, product
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.jumper import design
from harnesscheck.jumper.conductors import Choice
from harnesscheck.jumper.cost import Cost
from harnesscheck.jumper.design import Layout, Space, rank_specs
from harnesscheck.jumper.trunk import Setting
from harnesscheck.place import Point
from harnesscheck.units import Gauge

PIN = Point("A1J1", "1")
G = {n: Gauge(awg=n) for n in (24, 22, 20, 18)}


def line(cavity: str = "1", *taps: Point, size: int = 22, signal: str = "discrete", supply: bool = False,
         volts: float | None = None, circuit: bool = True) -> Any:  # fmt: skip
    """A line led through with ``size``; its branches are 20 AWG."""
    return SimpleNamespace(
        cavity=cavity, taps=taps, signal=signal, supply=supply, size=G[size],
        circuit=SimpleNamespace(supply=volts) if circuit else None,
    )  # fmt: skip


def block(*lines: Any, bundle: object = None, reach: int | None = None) -> Any:
    return SimpleNamespace(lines=lines, bundle=bundle, reach=reach)


class Stock:
    """Wire by size, volts and end; how many splices there are for wires of these sizes."""

    def __init__(self, wires: Callable[..., dict[str, int]], splices: Callable[..., int], own: str | None) -> None:
        self.found, self.count, self.habit = wires, splices, (own, "9")
        self.specs = ["S1", "S2", "S3", "S4", "S5"]
        self.asked: list[tuple[Any, ...]] = []

    def wires(self, size: Gauge, ends: Iterable[tuple[str, str]], volts: float) -> list[Choice]:
        self.asked.append((size.awg, tuple(ends), volts))
        return [Choice(f"{spec}-{size.awg}", doubts, None) for spec, doubts in self.found(size.awg).items()]

    def splices(self, sizes: list[Gauge], wet: bool | None) -> list[int]:
        return list(range(self.count([size.awg for size in sizes], wet)))


def draft(
    blocks: Iterable[Any] = (), lines: Iterable[Any] = (), singles: Iterable[Any] | None = None,
    bundles: Iterable[Any] = (),
    wires: Callable[..., dict[str, int]] = lambda size: {"S1": 0}, splices: Callable[..., int] = lambda *said: 2,
    spread: int = 5, ways: Iterable[str | None] = (), own: str | None = None,
) -> Any:  # fmt: skip
    routes = {"OPEN": SimpleNamespace(passages=()), "HOLES": SimpleNamespace(passages=("rib",))}
    return SimpleNamespace(
        blocks=list(blocks), lines=list(lines), singles=[line()] if singles is None else list(singles),
        bundles=list(bundles), first="P101",
        second="J101", plugs={"A1J1": "P102"}, wet="wet", stock=Stock(wires, splices, own), drawer="drawer",
        airframe=SimpleNamespace(routes=routes), ways={str(n): SimpleNamespace(route=r) for n, r in enumerate(ways)},
        gauge=lambda one: one.size, branch=lambda one, pin, base: G[20], spread=lambda: spread,
    )  # fmt: skip


# -- wire that suits every single wire ------------------------------------------------------------------------------


def test_what_is_asked_of_the_drawer() -> None:
    """The trunk at both halves and each branch at its plug, with the volts of the circuit; thermocouples are alloy."""
    made = draft(
        singles=[line("1", PIN, Point("A1J1", "3"), volts=28.0), line("2", size=24), line("3", size=18, circuit=False),
                 line("4", PIN, signal="thermocouple"), line("5", volts=115.0)]
    )  # fmt: skip
    rank_specs(made)

    def trunk(cavity: str) -> tuple[tuple[str, str], ...]:
        return (("P101", cavity), ("J101", cavity))

    assert made.stock.asked == [
        (22, trunk("1"), 28.0), (20, (("P102", "1"),), 28.0), (20, (("P102", "3"),), 28.0), (24, trunk("2"), 0.0),
        (18, trunk("3"), 0.0), (22, trunk("5"), 115.0),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("found", "own", "specs"),
    [
        # doubts of the 22 AWG trunk and the 20 AWG branch add up: S1 1+1, S2 0+1, S3 3, S4 is not made in 20
        ({22: {"S1": 1, "S2": 0, "S3": 3, "S4": 0}, 20: {"S1": 1, "S2": 1, "S3": 0}}, None, ["S2", "S1", "S3"]),
        # four that suit: the first three; equal doubts as in the drawer, the aircraft's own before its equals
        ({22: dict.fromkeys(("S1", "S2", "S3", "S4"), 0), 20: dict.fromkeys(("S1", "S2", "S3", "S4"), 0)}, None,
         ["S1", "S2", "S3"]),
        ({22: dict.fromkeys(("S1", "S2", "S3", "S4"), 0), 20: dict.fromkeys(("S1", "S2", "S3", "S4"), 0)}, "S3",
         ["S3", "S1", "S2"]),
        ({22: {"S1": 0, "S3": 1}, 20: {"S1": 0, "S3": 0}}, "S3", ["S1", "S3"]),
        # none suits both: the one that suits most, of equals the firmer one
        ({22: {"S1": 5, "S2": 2}, 20: {}}, None, ["S2"]), ({22: {"S4": 9}, 20: {}}, "S1", ["S4"]),
        ({22: {}, 20: {}}, "S2", ["S2"]), ({22: {}, 20: {}}, None, ["S1"]),
    ],
)  # fmt: skip
def test_specifications_that_suit(found: dict[int, dict[str, int]], own: str | None, specs: list[str]) -> None:
    assert rank_specs(draft(singles=[line("1", PIN)], wires=found.__getitem__, own=own)) == specs


# -- how far each list goes -----------------------------------------------------------------------------------------


def levels(made: Any) -> tuple[int, int, int, int, tuple[bool, ...], tuple[bool, ...]]:
    wires, splices, cables, thick, loose, apart = Space(made).levels
    assert all(each.start == 0 and each.step == 1 for each in (wires, splices, cables, thick))
    return len(wires), len(splices), len(cables), len(thick), loose, apart


FEED, BACK, SIGNAL = line("1", PIN, supply=True), line("2", PIN, signal="ground"), line("3", PIN)
BOTH, NO = (False, True), (False,)


def test_the_lists_of_a_draft() -> None:
    """Only tapped supplies and returns are made thicker or tied apart; a loose plug is for holes."""
    assert levels(draft()) == (1, 1, 1, 1, NO, NO), "nothing to splice"
    assert levels(draft(lines=[FEED])) == (1, 1, 1, 3, NO, BOTH) == levels(draft(lines=[SIGNAL, BACK]))
    assert levels(draft(lines=[SIGNAL])) == levels(draft(lines=[line("1", supply=True)])) == (1, 1, 1, 1, NO, NO)
    assert [levels(draft(lines=[FEED], spread=n))[3] for n in (0, 1, 2, 3, 4)] == [1, 1, 2, 3, 3]
    assert levels(draft(bundles=["cable"]))[2] == 2
    for ways, loose in (((), NO), (("OPEN",), NO), ((None,), NO), (("NO SUCH",), NO), (("OPEN", "HOLES"), BOTH)):
        assert levels(draft(ways=ways))[4] == loose, ways
    three = {"S1": 0, "S2": 0, "S3": 0, "S4": 0}
    assert levels(draft(singles=[line()], wires=lambda size: three))[0] == 3


def test_splices_that_are_looked_at() -> None:
    """Trunk in, trunk out, one branch for each pin; the block with most of them decides; of a cable always two."""
    two = Point("A1J1", "2")
    said: list[Any] = []

    def splices(sizes: list[int], wet: str) -> int:
        said.append((sizes, wet))
        return {2: 0, 3: 1, 4: 9}[len(sizes)]

    one, more, none = block(line("1", PIN)), block(line("2", PIN, two, size=18)), block(line("3"))
    assert levels(draft([one], splices=splices))[1] == 1 and said == [([22, 22, 20], "wet")]
    assert levels(draft([one, more], splices=splices))[1] == 2 == levels(draft([more, one], splices=splices))[1]
    assert said[2] == ([18, 18, 20, 20], "wet")
    assert levels(draft([none], splices=splices))[1] == 1, "at least the place of a splice that nobody knows"
    said.clear()
    assert levels(draft([block(line("1", PIN), bundle="cable")], splices=splices))[1] == 2 and not said
    assert Space(draft([one], splices=splices))._parts(0) == 1


def test_the_branch_of_a_block_is_as_thick_as_it_must_be() -> None:
    seen: list[Setting] = []
    made = draft([block(line("1")), block(line("2", PIN))])

    def branch(one: object, pin: Point, base: Setting) -> Gauge:
        seen.append(base)
        return G[20]

    made.branch = branch
    assert Space(made)._parts(1) == 2 and seen == [Setting((1,))]


# -- orders and costs -----------------------------------------------------------------------------------------------


def space(monkeypatch: pytest.MonkeyPatch, worth: Callable[[Setting], float], count: int = 2, **more: Any) -> Any:
    """A space whose settings cost what ``worth`` says; ``laid`` are the settings that were laid out."""
    laid: list[Setting] = []

    def lay(drafted: object, setting: Setting) -> Setting:
        laid.append(setting)
        return setting

    def of_kit(drawer: object, kit: Setting) -> Cost:
        assert drawer == "drawer"
        return Cost(0, 0.0, 10 * worth(kit), kit.wire, 0)

    monkeypatch.setattr(design, "laying", SimpleNamespace(lay=lay))
    monkeypatch.setattr(design, "costs", SimpleNamespace(of_kit=of_kit))
    reaches = more.pop("reaches", [None] * count)
    least = more.pop("least", None)
    made: Any = Space(draft([block(line(), reach=each) for each in reaches], **more), least)
    made.laid = laid
    return made


def test_a_layout_is_made_once_and_weighed_as_if_it_were_plain(monkeypatch: pytest.MonkeyPatch) -> None:
    made = space(monkeypatch, lambda s: s.wire + 1.0)
    setting = Setting((0, 1), wire=1, loose=True, apart=True)
    first = made.layout(setting)
    plain = Setting((0, 1), wire=1)
    assert made.laid == [setting, plain] and first.setting == first.kit == setting
    assert first.cost == Cost(0, 0.0, 20.0, 1, 0) and isinstance(first, Layout)
    assert made.layout(setting) is first and made.cost(plain) is first.cost
    assert made.cost(replace(plain, loose=True)) is made.cost(replace(plain, apart=True)) is first.cost
    assert made.laid == [setting, plain]


def test_what_comes_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """A plug finished at the bench, then cost; among equals the order, then the first choice of each list."""
    made = space(monkeypatch, lambda s: 1.0 + s.thicker)
    key = made.key(Setting((1, 0), 3, 4, 5, 2, True, True))
    assert key == (True, 3.75, (1, 0), 3, 4, 5, True), "3 m and 3 kinds of parts at 0.25"
    asked = space(monkeypatch, lambda s: 1.0 + s.thicker, least="parts")
    assert asked.key(Setting((0, 1), wire=1)) == (False, 1, 1.25, (0, 1), 1, 0, 0, False)


def test_every_setting_by_cost(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three specifications, two splices, two cables, two thicknesses, plug on or loose, together or apart: sorted."""
    wires = {"S1": 0, "S2": 0, "S3": 0}

    def worth(setting: Setting) -> float:
        return abs(hash((setting.wire * 7 + setting.splice * 5 + setting.cable * 3 + setting.thicker * 2) % 11))

    made = space(
        monkeypatch, worth, lines=[FEED], singles=[line()], wires=lambda size: wires, bundles=["cable"], spread=2,
        ways=("HOLES",),
    )  # fmt: skip
    listed = made.settings()
    every = {
        Setting(order, *rest)
        for order in permutations(range(2))
        for rest in product(range(3), range(2), range(2), range(2), BOTH, BOTH)
    }
    assert set(listed) == every and len(listed) == 2 * 3 * 2 * 2 * 2 * 2 * 2
    assert listed == sorted(every, key=lambda s: (
        s.loose, round(worth(s) + 0.25 * s.wire, 9), s.order, s.wire, s.splice, s.cable, s.apart
    ))  # fmt: skip


def test_of_a_few_blocks_the_three_best_orders(monkeypatch: pytest.MonkeyPatch) -> None:
    """Up to four blocks every order is weighed, with the splices and the thickness that are asked about."""
    assert design.WHOLE == 4
    for count in (1, 3, 4):
        wanted = sorted(permutations(range(count)), key=lambda o: sum(a * b * b for a, b in enumerate(o)))

        def worth(setting: Setting) -> float:
            assert (setting.splice, setting.thicker) == (1, 2)
            return sum(a * b * b for a, b in enumerate(setting.order))

        assert space(monkeypatch, worth, count)._orders(1, 2) == wanted[:3], count


def test_of_many_blocks_neighbours_are_exchanged(monkeypatch: pytest.MonkeyPatch) -> None:
    """Five blocks: each exchange that brings two nearer to the wanted order pays, so that order is found."""
    for wanted in ((3, 1, 4, 0, 2), (4, 3, 2, 1, 0), (0, 1, 2, 3, 4), (1, 0, 2, 4, 3)):
        place = {block: number for number, block in enumerate(wanted)}

        def worth(setting: Setting, place: dict[int, int] = place) -> float:
            assert (setting.splice, setting.thicker) == (1, 2)
            pairs = [(a, b) for n, a in enumerate(setting.order) for b in setting.order[n + 1 :]]
            return sum(place[a] > place[b] for a, b in pairs)

        assert space(monkeypatch, worth, 5)._orders(1, 2) == [wanted]


def test_where_no_exchange_helps_the_first_order_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    """Branches of any length first, those that must stay short further out; an exchange that is no better is none."""
    reaches = [300, None, 100, None, None]
    start = (1, 3, 4, 0, 2)
    made = space(monkeypatch, lambda s: float(s.order != start), 5, reaches=reaches)
    assert made._orders(0, 0) == [start]
