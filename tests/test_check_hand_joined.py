"""Circuits that a kit breaks or joins, thin wire behind thick, drops: verdicts worked out by hand (data invented)."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import check_cases
import pages
import pytest
from check_cases import AIR, KIT, Case, Swap

from harnesscheck.checks import _sides, excess_voltage_drop, gauge_change_without_protector
from harnesscheck.checks._supply import Copper, coppers
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.device import Breaker
from harnesscheck.finding import Finding, NotChecked, Passed, Report, Severity
from harnesscheck.harness import Kind
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire

NEW, OLD = Origin.JUMPER, Origin.AIRFRAME
STOP, CAUTION, NOTE = Severity.STOP, Severity.CAUTION, Severity.NOTE


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


# -- broken-through-circuit ----------------------------------------------------------------------------------------

FIVE_SPARE: Swap = (AIR, "      4: spare\n", "      4: spare\n      5: spare\n")


def led(ways: str, *more: Swap) -> Report:
    """The kit with other wires: ``2>3`` leads J101-2 to P101-3, ``2>`` leaves the wire out, ``+2>3`` adds one.

    Cavity 2 is LAMP RTN, 3 DATA, 4 spare; of 5 to 9 nobody has said anything.
    """
    swaps: list[Swap] = []
    for way in ways.split():
        start, _, end = way.lstrip("+").partition(">")
        old = f"  W{start}: {{from: J101-{start}, to: P101-{start}}}\n"
        name = f"X{start}{end}" if way[0] == "+" else f"W{start}"
        new = f"  {name}: {{from: J101-{start}, to: P101-{end}}}\n" if end else ""
        swaps.append((KIT, old, old + new if way[0] == "+" else new))
    return check_cases.answered(Case("broken-through-circuit", (*swaps, *more), ""))


@pytest.mark.parametrize(("ways", "more", "counts", "words"), [
    ("", [], "3 passed", ""),
    ("2>3 3>2", [], "1 stop, 1 passed", "mixes up LAMP RTN and DATA: P1-2 leads to J1-3 and P1-3 leads to J1-2"),
    ("+2>3", [], "1 stop, 1 passed", "the jumper joins what was apart: LAMP RTN and DATA"),
    ("+3>4", [], "1 caution, 2 passed", "joins what was apart: DATA and spare P1-4"),
    ("+3>5", [], "1 stop, 2 passed", "joins what was apart: DATA and P1-5 (nobody has said what it carries)"),
    ("+4>5", [], "1 caution, 3 passed", "joins what was apart"),
    ("+5>6", [], "1 caution, 3 passed", "joins what was apart"),
    ("+4>5", [FIVE_SPARE], "1 note, 3 passed", "joins what was apart: spare P1-4 and spare P1-5"),
    ("3>4 4>3", [], "1 stop, 2 passed", "mixes up DATA and spare P1-4"),
    ("5>6 6>5", [], "1 caution, 3 passed", "mixes up"),
    ("4>5 5>4", [FIVE_SPARE], "1 note, 3 passed", "mixes up spare P1-4 and spare P1-5"),
    ("3>", [], "1 stop, 2 passed", "DATA is broken by the jumper: P1-3 no longer reaches J1-3"),
    ("4>", [], "1 note, 3 passed", "P1 cavity 4: spare, and not led through the jumper"),
    ("4> 5>", [FIVE_SPARE], "1 note, 3 passed", "P1 cavities 4 and 5: spare"),
    ("5>", [], "1 not checked, 3 passed", "nobody has said what this cavity carries"),
    ("5> 6>", [], "2 not checked, 3 passed", "nobody has said what this cavity carries"),
    ("2> 3>", [], "2 stop, 1 passed", "LAMP RTN is broken"),
    ("4> +2>3", [], "1 stop, 1 note, 1 passed", "joins what was apart"),
])  # fmt: skip
def test_broken_through_circuit_what_is_led_where(ways: str, more: list[Swap], counts: str, words: str) -> None:
    report = led(ways, *more)
    assert pages.counted(report) == counts
    assert words in check_cases.said(report)


def labels(report: Report) -> set[str]:
    return {place.label for place in (report.findings[0].place, *report.findings[0].others)}


def test_broken_through_circuit_names_all_that_it_is_about() -> None:
    """The wires that cross over, their cavities in the kit, and the cavities of the aircraft."""
    crossed = led("2>3 3>2")
    assert crossed.findings[0].place.label == "P1-2"
    assert crossed.findings[0].place.text.strip().startswith("W2:")
    assert labels(crossed) >= {"W2", "W3", "J101-2", "J101-3", "P101-2", "P101-3", "P1-2", "P1-3", "J1-2", "J1-3"}
    assert not labels(crossed) & {"W4", "J101-4", "P101-4", "P1-4"}
    joined = led("+2>3")
    assert joined.findings[0].place.text.strip().startswith("X23:")  # the one that joins them
    assert labels(joined) >= {"X23", "W2", "W3", "J101-2", "P101-3", "P1-2", "P1-3", "J1-2", "J1-3"}
    broken = led("3>")
    assert broken.findings[0].place.text.strip().startswith("3: DATA")
    assert labels(broken) >= {"P1-3", "J1-3"}


def test_broken_through_circuit_spares_by_either_half() -> None:
    spares = led("4> 5>", FIVE_SPARE)
    assert spares.findings[0].value == "2 spares not led through"
    assert spares.findings[0].place.label == "P1-4"
    assert labels(spares) == {"P1-4", "J1-4", "P1-5", "J1-5"}
    stub: Swap = (KIT, "  W4: {from: J101-4, to: P101-4}\n", "  W4: {from: J101-4, to: SP4}\n")
    stowed = led("", stub, (KIT, "  SP1: {}\n", "  SP1: {}\n  SP4: {}\n"))
    assert labels(stowed) == {"P1-4", "J1-4", "W4", "J101-4", "SP4"}


# -- gauge-change-without-protector --------------------------------------------------------------------------------


def size(awg: int | None) -> Gauge | None:
    return Gauge(awg=awg) if awg else None


def supply(
    signals: str = "power", new: tuple[int | None, ...] = (20,), old: tuple[int, ...] = (),
    cavity: tuple[int, ...] = (), ratings: tuple[float | None, ...] = (), unsaid: str = "",
) -> Copper:  # fmt: skip
    """Circuits by signal (a point: not stated), wires by AWG, breakers by rating."""
    wires = [Wire(f"W{n}", Point("A"), Point("B"), NEW, gauge=size(awg)) for n, awg in enumerate(new)]
    wires += [Wire(f"L{n}", Point("A"), Point("B"), OLD, gauge=size(awg)) for n, awg in enumerate(old)]
    return Copper(
        wires=wires,
        circuits={f"C{n}": Circuit(f"C{n}", Place(f"C{n}"), None if said == "." else said)
                  for n, said in enumerate(signals.split())},
        loads=[Breaker(f"CB{n}", Place(f"CB{n}"), OLD, rating=amps) for n, amps in enumerate(ratings)],
        gauges=[(f"the wire at P1-{n}", Gauge(awg=awg), Place(f"P1-{n}")) for n, awg in enumerate(cavity)],
        unsaid=[Point(*name.split("-")) for name in unsaid.split()],
    )  # fmt: skip


def looked_at(*found: Copper) -> list[Any]:
    halves = {"P1": SimpleNamespace(place=Place("P1")), "P2": SimpleNamespace(place=Place("P2"))}
    one: Any = SimpleNamespace(
        kind=Kind.INSTALLED, opens=(("P1", "J1"), ("P2", "J2")), connectors=halves,
        views={coppers.__wrapped__: list(found)},  # type: ignore[attr-defined]
    )  # fmt: skip
    return list(gauge_change_without_protector.check(one))


NEITHER = "neither the rating of its breaker nor the size of the existing wire is stated"
WHETHER = "whether it is a supply is not stated, nor a breaker, nor the size of the existing wire"
NO_GAUGE = "the gauge of the wire is not stated"


@pytest.mark.parametrize(("one", "good", "missing", "headline"), [
    (supply(ratings=(5.0,)), 1, [], ""),
    (supply(ratings=(5.0,), new=(24, 26), old=(20,)), 2, [], ""),  # the breaker is known: another check compares
    (supply(ratings=(None, 5.0)), 1, [], ""),
    (supply(ratings=(None,)), 0, [NEITHER], ""),
    (supply(), 0, [NEITHER], ""),
    (supply("lighting"), 0, [NEITHER], ""),
    (supply("ground", ratings=(None,)), 0, [NEITHER], ""),
    (supply("."), 0, [WHETHER], ""),
    (supply("ground"), 0, [], ""),
    (supply("ground", old=(18,)), 0, [], ""),
    (supply("ground .", old=(20,)), 1, [], ""),
    (supply(old=(20,)), 1, [], ""),
    (supply(old=(22,)), 1, [], ""),
    (supply(old=(20,), new=(18,)), 1, [], ""),
    (supply(old=(18,)), 0, [], "W0 (20 AWG): thinner than wire L0 (18 AWG) on C0, and the breaker"),
    (supply(old=(18,), new=(20, 18)), 1, [], "W0 (20 AWG): thinner than wire L0 (18 AWG) on C0, and the breaker"),
    (supply(old=(20, 18)), 0, [], "W0 (20 AWG): thinner than wire L1 (18 AWG) on C0"),  # the thickest counts
    (supply(old=(18, 20)), 0, [], "W0 (20 AWG): thinner than wire L0 (18 AWG) on C0"),
    (supply(old=(18, 18)), 0, [], "W0 (20 AWG): thinner than wire L0 (18 AWG) on C0"),  # of equal ones the first
    (supply(cavity=(18,)), 0, [], "W0 (20 AWG): thinner than the wire at P1-0 (18 AWG) on C0, and"),
    (supply(old=(18,), cavity=(18,)), 0, [], "W0 (20 AWG): thinner than wire L0 (18 AWG)"),
    (supply(".", old=(18,)), 0, [], "W0 (20 AWG): thinner than wire L0 (18 AWG) on C0, which may be a supply, and"),
    (supply(". power", old=(18,)), 0, [], "W0 (20 AWG): thinner than wire L0 (18 AWG) on C0 and C1, and the breaker"),
    (supply("ground", old=(18,), ratings=(None,)), 0, [], "W0 (20 AWG): thinner than wire L0 (18 AWG) on C0, and the"),
    (supply(old=(20,), new=(None, 20)), 1, [NO_GAUGE], ""),
    (supply(old=(18,), new=(None, 20)), 0, [NO_GAUGE], "W1 (20 AWG): thinner than"),
    (supply(old=(18,), new=(20, 22, 20, 22)), 0, [], "W0, W1, W2 and W3 (20 AWG and 22 AWG): thinner than"),
    (supply(old=(18,), new=(20,) * 5), 0, [], "W0, W1, W2, W3 and 1 more (20 AWG): thinner than"),
    (supply(new=(), old=(18,)), 0, [], ""),
    (supply("", old=(18,)), 0, [], ""),  # nobody says that it may be a supply
    (supply("", old=(18,), unsaid="P1-1"), 0, [],
     "W0 (20 AWG): thinner than wire L0 (18 AWG) on the circuit of W0, which may be a supply"),
    (supply("", old=(20,), unsaid="P1-1"), 1, [], ""),
    (supply("", unsaid="P1-1"), 0, ["nobody has said what P1 cavity 1 carries, so it may be a supply"], ""),
    (supply("", unsaid="J1-1 P1-1"), 0, ["nobody has said what P1 cavity 1 carries, so it may be a supply"], ""),
    (supply("", unsaid="P2-7 P2-6"), 0,
     ["nobody has said what P2 cavities 6 and 7 carry, so they may be a supply"], ""),
    (supply("", unsaid="J1-1"), 0, [], ""),
    (supply("", unsaid="P1-1", new=()), 0, [], ""),
    (supply("ground", unsaid="P1-1"), 0, [], ""),
])  # fmt: skip
def test_gauge_change_without_protector(one: Copper, good: int, missing: list[str], headline: str) -> None:
    for found in ([one], [supply("ground"), one], [supply(new=()), one, supply("ground")]):
        said = looked_at(*found)
        assert [answer.missing for answer in said if isinstance(answer, NotChecked)] == missing
        wrong = [answer.headline for answer in said if isinstance(answer, Finding)]
        assert [text[: len(headline)] for text in wrong] == [headline] * bool(headline)
        assert said[-1] == Passed(good, "new wires on a supply, size kept or breaker known")


# -- excess-voltage-drop -------------------------------------------------------------------------------------------

FIRM, SOFT = Source("a", Status.CONFIRMED), Source("b", Status.MEMORY)


def drop(name: str, severity: Severity | None, source: Source | None) -> Finding:
    return Finding(headline="h", place=Place(name), severity=severity, source=source, value="v", others=(Place("W"),))


@pytest.mark.parametrize(("group", "first", "value"), [
    ([("A", None, FIRM)], "A", "v"),
    ([("A", None, FIRM), ("B", None, FIRM)], "A", "v; too much also for B"),
    ([("A", None, SOFT), ("B", None, FIRM), ("C", None, FIRM)], "B", "v; too much also for A and C"),  # a stop before
    ([("A", None, SOFT), ("B", None, SOFT)], "A", "v; too much also for B"),
    ([("A", NOTE, FIRM), ("B", None, SOFT)], "B", "v; too much also for A"),  # what was there before comes last
    ([("A", NOTE, FIRM), ("B", None, SOFT), ("C", None, FIRM)], "C", "v; too much also for A and B"),
    ([("A", NOTE, SOFT), ("B", NOTE, FIRM)], "B", "v; too much also for A"),
    ([("A", None, None), ("B", None, FIRM)], "B", "v; too much also for A"),
    ([("A", None, None), ("B", None, SOFT)], "A", "v; too much also for B"),
])  # fmt: skip
def test_excess_voltage_drop_loads_on_one_feeder(
    group: list[tuple[str, Severity | None, Source | None]], first: str, value: str
) -> None:
    found = excess_voltage_drop._together([drop(*each) for each in group])
    assert (found.place.label, found.value) == (first, value)
    assert [place.label for place in found.others] == ["W", *(name for name, *_ in group if name != first)]


@pytest.mark.parametrize(("failed", "shares", "part"), [
    (set(), [("L1", 1), ("L2", 2)], 1),  # where it loses most
    (set(), [("L2", 2), ("L1", 1)], 2),
    (set(), [], 10),  # nothing is lost: where it hangs
    ({"steady"}, [("L1", 1)], 20),  # it finds no stable voltage: by its return
    ({"most"}, [("L1", 1)], 20),
    ({"steady", "most"}, [("L1", 1)], 20),
    ({"on"}, [("L1", 1)], 1),
])  # fmt: skip
def test_excess_voltage_drop_where_a_load_loses_most(
    failed: set[str], shares: list[tuple[str, int]], part: int
) -> None:
    net: Any = SimpleNamespace(
        flow=lambda mode: mode, failed=lambda _, mode: mode in failed, part_of={"at": 10, "back": 20}.get,
        shares=lambda *_: [(0.1, element) for element in shares], element_part=lambda element: element[1],
    )  # fmt: skip
    consumer: Any = SimpleNamespace(at="at", back="back")
    assert excess_voltage_drop._where(net, consumer) == part


@pytest.mark.parametrize(("new", "there", "gaps", "lost", "before"), [
    (False, True, [], 0.51, True), (False, True, [], 0.5, False), (False, True, [], 0.49, False),
    (False, True, [], None, False), (True, True, [], 0.51, False), (False, False, [], 0.51, False),
    (False, True, ["gap"], 0.51, False), (False, None, [], 0.51, False),
])  # fmt: skip
def test_excess_voltage_drop_that_was_there_before(
    monkeypatch: pytest.MonkeyPatch, new: bool, there: bool | None, gaps: list[str], lost: float | None, before: bool
) -> None:
    """Before the kit came a load of 14 V lost so much, or it was not there, or nothing was known of it."""
    load: Any = SimpleNamespace(name="LAMP", new=new)
    others = [SimpleNamespace(name="FAN"), *([SimpleNamespace(name="LAMP")] if there else [])]
    old = SimpleNamespace(
        consumers=others, gaps=lambda _: gaps, nominal=lambda _: 14.0,
        across=lambda one, mode, bare: 14.0 - lost if lost is not None and one.name == "LAMP" else None,
    )  # fmt: skip
    monkeypatch.setattr(excess_voltage_drop, "wiring", lambda _: old)
    net: Any = SimpleNamespace(harness=SimpleNamespace(before=object() if there is not None else None))
    assert excess_voltage_drop._before(net, load, "steady", 0.5) is before


# -- one contact, several wires ------------------------------------------------------------------------------------


def test_sides_what_the_points_are_meant_for(tmp_path: Path) -> None:
    """By the tap of a pin, by the name at a cavity, and by the copper of the aircraft as found."""
    here, far, pin = Point("P1", "1"), Point("J1", "2"), Point("A9J1", "1")
    named = {here: SimpleNamespace(circuit="LAMP", point=here)}
    before = SimpleNamespace(
        nets=SimpleNamespace(of={far: 7, Point("X", "1"): 7, here: 3}.get),
        cavities=lambda: [(None, SimpleNamespace(circuit="FAN", point=Point("X", "1")))],
    )
    one: Any = SimpleNamespace(before=before, taps={pin: SimpleNamespace(circuit="HORN")}, cavity=named.get)
    assert _sides.circuits_meant(one, [here]) == {"LAMP"}
    assert _sides.circuits_meant(one, [far]) == {"FAN"}
    assert _sides.circuits_meant(one, [pin]) == {"HORN"}
    assert _sides.circuits_meant(one, [here, far, pin]) == {"LAMP", "FAN", "HORN"}
    assert _sides.circuits_meant(one, [Point("SP1")]) == set()
    one.before = None
    assert _sides.circuits_meant(one, [here, far]) == {"LAMP"}
