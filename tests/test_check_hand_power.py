"""Loads, contacts and grounds: sums and verdicts worked out by hand from small jobs and bare records (all invented)."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import check_cases
import pages
import pytest
from check_cases import AIR, BOX, KIT, Case, Swap

from harnesscheck.checks import mixed_ground_classes, over_ampacity, overfull_splice
from harnesscheck.checks._ampacity import Carries
from harnesscheck.checks._supply import Copper, coppers
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.finding import Finding, NotChecked, Passed, Report, Severity
from harnesscheck.harness import Kind
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status
from harnesscheck.splice import Ground
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire

NEW, OLD = Origin.JUMPER, Origin.AIRFRAME
SAID = Source("invented for the test", Status.STATED)


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)


def told(page: str, *swaps: Swap, job: int = 0) -> Report:
    return check_cases.answered(Case(page, swaps, "", job=job))


# -- breakers and sources ------------------------------------------------------------------------------------------

LAMP, FLAT = "load: 0.5 A,", (BOX, "peak: 2 A", "peak: 1 A")


@pytest.mark.parametrize(("flat", "load", "counts", "words"), [
    # The box takes 1 A, 2 A at its peak (flat: 1 A); CB1 is 5 A, 80 % of it are 4 A.
    (False, "load: 3 A,", "1 passed", ""),  # 4 A, and 5 A at peak
    (False, "load: 3.01 A,", "1 caution", "5.01 A at peak, and 5 A is its limit"),
    (True, "load: 3 A,", "1 passed", ""),
    (True, "load: 3.01 A,", "1 caution", "4.01 A continuously, 80 % of its rating, and 4 A (80 % of 5 A)"),
    (True, "load: 4 A,", "1 caution", "5 A continuously, 100 % of its rating"),
    (True, "load: 4.01 A,", "1 stop", "5.01 A continuously, and 5 A is its limit"),
    (True, "load: 0 A,", "1 passed", ""),
    (False, "peak: 3 A,", "1 passed", ""),  # only the peak is stated: it counts continuously
    (True, "peak: 3.01 A,", "1 caution", "4.01 A continuously"),
    (False, "load: 0.5 A, peak: 3 A,", "1 passed", ""),
    (False, "load: 0.5 A, peak: 3.01 A,", "1 caution", "5.01 A at peak"),
    (False, "load: 3 A, peak: 0.5 A,", "1 passed", ""),
    (False, "load: 3.01 A, duty: intermittent,", "1 caution", "5.01 A at peak"),
    (False, "load: 3 A, duty: intermittent,", "1 passed", ""),
    (True, "load: 3.99 A, duty: intermittent,", "1 passed", ""),
])  # fmt: skip
def test_breaker_overloaded_what_hangs_on_the_circuit_already(flat: bool, load: str, counts: str, words: str) -> None:
    report = told("breaker-overloaded", (AIR, LAMP, load), *[FLAT] * flat)
    assert (pages.counted(report), words in check_cases.said(report)) == (counts, True)


@pytest.mark.parametrize(("flat", "load", "counts", "words"), [
    (False, "current: 3 A", "1 passed", ""),
    (False, "current: 3.01 A", "1 caution", "5.01 A at peak"),
    (True, "current: 3.01 A", "1 caution", "4.01 A continuously"),
    (True, "current: 4.01 A", "1 stop", "5.01 A continuously"),
    (False, "peak: 3 A", "1 passed", ""),
    (True, "peak: 3.01 A", "1 caution", "4.01 A continuously"),
    (False, "current: 0.5 A, peak: 3.01 A", "1 caution", "5.01 A at peak"),
    (False, "current: 0.5 A, peak: 3 A", "1 passed", ""),
    (False, "current: 3 A, duty: intermittent", "1 passed", ""),
    (False, "current: 3.01 A, duty: intermittent", "1 caution", "FAN 3.01 A"),
    (True, "current: 3.99 A, duty: intermittent", "1 passed", ""),
])  # fmt: skip
def test_breaker_overloaded_other_loads_of_the_breaker(flat: bool, load: str, counts: str, words: str) -> None:
    fan: Swap = (AIR, "  RADIO: {", f"  FAN: {{breaker: CB1, {load}}}\n  RADIO: {{")
    report = told("breaker-overloaded", (AIR, LAMP, "load: 0 A,"), fan, *[FLAT] * flat)
    assert (pages.counted(report), words in check_cases.said(report)) == (counts, True)


def test_breaker_overloaded_what_is_missing_is_said_unless_the_rest_is_too_much_already() -> None:
    fan: Swap = (AIR, "  RADIO: {", "  FAN: {breaker: CB1}\n  RADIO: {")
    sense: Swap = (AIR, "  LAMP: {", "  SENSE: {signal: discrete, breaker: CB1}\n  LAMP: {")
    for load, counts in (("1 A", "1 not checked"), ("3.5 A", "1 caution, 1 not checked"), ("5 A", "1 stop")):
        assert pages.counted(told("breaker-overloaded", (AIR, LAMP, f"load: {load},"), fan, FLAT)) == counts
        assert pages.counted(told("breaker-overloaded", (AIR, LAMP, f"load: {load},"), fan, sense, FLAT)) == counts
    assert pages.counted(told("breaker-overloaded", (AIR, LAMP, "load: 5 A,"), sense, FLAT)) == "1 stop"


@pytest.mark.parametrize(("rating", "counts", "words"), [
    # 2 A of the radio, 0.5 A of the lamp and 1 A of the box: 3.5 A; the limit is 80 % of the rating.
    ("rating: 4.375 A", "1 passed", ""),
    ("rating: 4.37 A", "1 caution", "3.5 A hang on BUS1"),
    ("rating: 3.13 A", "1 caution", "2.5 A before, 1 A new"),
])  # fmt: skip
def test_source_overloaded_at_its_limit(rating: str, counts: str, words: str) -> None:
    report = told("source-overloaded", (AIR, "rating: 40 A", rating))
    assert (pages.counted(report), words in check_cases.said(report)) == (counts, True)
    assert "as it was before" not in check_cases.said(report)  # 80 % of 3.13 A are 2.504 A, more than the 2.5 A before


def test_source_overloaded_before_the_kit_came() -> None:
    report = told("source-overloaded", (AIR, "rating: 40 A", "rating: 3.12 A"))
    assert "(3.12 A), as it was before" in report.findings[0].headline  # 80 % are 2.496 A


# -- over-ampacity -------------------------------------------------------------------------------------------------


def flow(*contacts: tuple[str, str, float], lame: tuple[int, ...] = (), kind: str = "contact") -> Any:
    """A network of mated contacts: the two cavities, and amperes; references with a Z are of the aircraft."""
    elements = [SimpleNamespace(kind=kind, ends=tuple(Point(*e.split("-")) for e in pair[:2])) for pair in contacts]
    refs = {p.ref for element in elements for p in element.ends}
    halves = {ref: SimpleNamespace(origin=OLD if "Z" in ref else NEW, place=Place(ref)) for ref in refs}
    return SimpleNamespace(
        harness=SimpleNamespace(connectors=halves, cavity=lambda _: None),
        flow=lambda _: SimpleNamespace(amps=[pair[2] for pair in contacts]),
        elements=elements, lame=lambda element, _: elements.index(element) in lame,
    )  # fmt: skip


@pytest.fixture
def rated(monkeypatch: pytest.MonkeyPatch) -> Callable[..., None]:
    """Ratings of cavities in amperes."""

    def put(**amps: float) -> None:
        found = {name.replace("_", "-"): (value, SAID) for name, value in amps.items()}
        monkeypatch.setattr(over_ampacity, "contact_rating", lambda _, point: found.get(str(point)))

    return put


@pytest.mark.parametrize(("contacts", "good", "wrong"), [
    ((("P1-1", "J1Z-1", 5.0),), 1, []),  # exactly its rating
    ((("P1-1", "J1Z-1", 5.01),), 0, [5.01]),
    ((("P1-1", "J1Z-1", -5.01),), 0, [5.01]),  # the other way round
    ((("P1-2", "J1Z-1", 6.0),), 1, []),  # P1-2 is rated 7.5 A, and J1Z-1 is not known
    ((("P1-2", "J1-1", 6.0),), 0, [6.0]),  # the lower rating of the two halves
    ((("P1-3", "J1Z-1", 60.0),), 0, []),  # nothing is known of either
    ((("P1-1", "J1Z-1", 0.0005),), 0, []),  # no current
    ((("P1-1", "J1Z-1", 0.001),), 1, []),
    ((("P2Z-1", "J1Z-1", 9.0),), 0, []),  # both of the aircraft
    ((("P2Z-1", "J1Z-1", 9.0), ("P1-1", "J1Z-1", 1.0), ("P1-2", "J1Z-2", 1.0)), 2, []),
    ((("P1-3", "J1Z-3", 9.0), ("P1-1", "J1Z-1", 1.0)), 1, []),
])  # fmt: skip
def test_over_ampacity_of_contacts(
    rated: Callable[..., None], contacts: tuple[tuple[str, str, float], ...], good: int, wrong: list[float]
) -> None:
    rated(P1_1=5.0, P1_2=7.5, J1_1=5.5, P2Z_1=5.0)
    found, right = over_ampacity._contacts(flow(*contacts))
    assert right == good
    assert [finding.value for finding in found] == [
        f"{'J1-1' if amps == 6.0 else 'P1-1'} {amps:g} A, with every load on" for amps in wrong
    ]


def test_over_ampacity_leaves_out_what_has_no_answer(rated: Callable[..., None]) -> None:
    rated(P1_1=5.0)
    assert over_ampacity._contacts(flow(("P1-1", "J1Z-1", 9.0), lame=(0,))) == ([], 0)
    assert over_ampacity._contacts(flow(("P1-1", "J1Z-1", 9.0), kind="wire")) == ([], 0)


def test_over_ampacity_contacts_of_one_pair_are_one_finding(rated: Callable[..., None]) -> None:
    """9 A of 5 A is worse than 12 A of 7.5 A; another pair of halves is a finding of its own."""
    rated(P1_1=5.0, P1_2=7.5, P3_1=5.0)
    found, _ = over_ampacity._contacts(flow(("P1-2", "J1Z-2", 12.0), ("P1-1", "J1Z-1", 9.0), ("P3-1", "J3Z-1", 6.0)))
    assert [finding.headline for finding in found] == [
        "each of the contacts at P1-2 and P1-1 carries up to 9 A, and is rated 5 A",
        "the contact at P3-1 carries up to 6 A, and is rated 5 A",
    ]
    first = found[0]
    assert (first.value, first.limit) == ("P1-2 12 A; P1-1 9 A, with every load on", "5 A or less")
    assert (first.place.label, [p.label for p in first.others], first.severity) == ("P1-1", ["P1-2"], Severity.STOP)
    assert first.source is SAID


def hot(name: str, amps: float, may: float, bundle: str | None = None) -> tuple[float, Wire, Carries]:
    wire = Wire(name, Point(f"{name}a"), Point(f"{name}b"), NEW, gauge=Gauge(awg=22), bundle=bundle)
    return amps, wire, Carries(may, may, "", "in words", SAID)


def test_over_ampacity_the_worst_wire_comes_first() -> None:
    """3 A of 1 A, then 5 A of 2 A; of equal shares (2 A of 1 A) by name."""
    found = over_ampacity._finding([hot("D", 2.0, 1.0), hot("A", 5.0, 2.0), hot("B", 3.0, 1.0), hot("C", 4.0, 2.0)])
    assert found.headline == "wire B (22 AWG) carries 3 A, and may carry 1 A there"
    assert found.value == "3 A with every load on; A 5 A; C 4 A; D 2 A"
    assert (found.place.label, [p.label for p in found.others]) == ("B", ["A", "C", "D"])
    assert found.limit == "1 A: in words"


@pytest.mark.parametrize(("parts", "bundles", "loads", "groups"), [
    ({"Aa": 1, "Ba": 2}, {}, [], ["A", "B"]),
    ({"Aa": 1, "Ba": 1}, {}, [], ["AB"]),
    ({"Ab": 1, "Ba": 1}, {}, [], ["AB"]),  # the other end tells it
    ({}, {"A": "x", "B": "x"}, [], ["AB"]),
    ({}, {"A": "x", "B": "y"}, [], ["A", "B"]),
    ({}, {}, [], ["A", "B"]),
    ({"Aa": 1, "Ba": 2}, {}, [("L1", "L2", 1.0)], ["AB"]),  # there and back of one load
    ({"Aa": 1, "Ba": 2}, {}, [("L1", "L2", 0.001)], ["AB"]),
    ({"Aa": 1, "Ba": 2}, {}, [("L1", "L2", 0.0005)], ["A", "B"]),  # a load that takes nothing
    ({"Aa": 1, "Ba": 2}, {}, [("L1", None, 1.0)], ["A", "B"]),
    ({"Aa": 1, "Ba": 2}, {}, [("L1", "L3", 1.0)], ["A", "B"]),  # its return lies elsewhere
    ({"Aa": 1, "Ba": 2}, {}, [("L1", "L3", 1.0), ("L1", "L2", 1.0)], ["AB"]),
])  # fmt: skip
def test_over_ampacity_wires_of_one_feed_are_one_fault(
    parts: dict[str, int], bundles: dict[str, str], loads: list[tuple[str, str | None, float]], groups: list[str]
) -> None:
    """Loads hang on part 1 by L1, on part 2 by L2, on part 3 by L3."""
    known = {**parts, "L1": 1, "L2": 2, "L3": 3}
    consumers = [SimpleNamespace(at=at, back=back, on=amps) for at, back, amps in loads]
    net: Any = SimpleNamespace(part_of=lambda p: known.get(str(p)), consumers=consumers)
    found = over_ampacity._together(net, [hot(name, 2.0, 1.0, bundles.get(name)) for name in "AB"])
    assert ["".join(wire.id for _, wire, _ in group) for group in found] == groups


# -- grounds of different classes ----------------------------------------------------------------------------------

Kinds = tuple[str | None, ...]


def ground(ref: str, returns: str | None) -> Ground:
    return Ground(ref, Place(ref), OLD, returns=returns)


def copper(studs: Kinds = (), circuits: Kinds = (), pins: tuple[str, ...] = (), wires: str = "n") -> Copper:
    """Studs GS0, GS1... by class; circuits and pins by signal; wires: n new, o old, s new and at GS0, r the same the
    other way round.
    """
    ends = {"n": ("J1", "P1"), "o": ("J1", "P1"), "s": ("J1", "GS0"), "r": ("GS0", "J1")}
    led = [(f"W{n}", Point(ends[w][0]), Point(ends[w][1]), OLD if w == "o" else NEW) for n, w in enumerate(wires)]
    return Copper(
        wires=[Wire(name, a, b, origin) for name, a, b, origin in led],
        grounds=[ground(f"GS{n}", kind) for n, kind in enumerate(studs)],
        circuits={f"C{n}": Circuit(f"C{n}", Place(f"C{n}"), kind) for n, kind in enumerate(circuits)},
        pins=[Pin(Point("A9J1", str(n)), Place(f"A9J1-{n}"), "PIN", kind) for n, kind in enumerate(pins)],
    )  # fmt: skip


def grounds(*found: Copper, before: tuple[Copper, ...] = ()) -> list[Any]:
    derive = coppers.__wrapped__  # type: ignore[attr-defined]
    old = SimpleNamespace(views={derive: list(before)})
    harness: Any = SimpleNamespace(kind=Kind.INSTALLED, views={derive: list(found)}, before=old)
    return list(mixed_ground_classes.check(harness))


@pytest.mark.parametrize(("one", "good", "asked", "wrong"), [
    (copper(("dc",), ("ground",)), 1, 0, 0),
    (copper(("dc",), ("ground",), wires="o"), 0, 0, 0),  # the kit does not touch it
    (copper(("dc",), ("ground",), wires="on"), 1, 0, 0),
    (copper((), ("power",)), 0, 0, 0),  # no ground at all
    (copper((), ("ground",)), 1, 0, 0),
    (copper((), (), ("ground",)), 1, 0, 0),
    (copper(("dc",), ("signal ground",)), 0, 0, 1),
    (copper(("signal",), ("ground",)), 0, 0, 1),
    (copper(("ac",), ("ground",)), 1, 0, 0),  # a return of AC is led to an AC stud
    (copper(("dc", "ac")), 0, 0, 1),
    (copper(("signal", "ac")), 0, 0, 1),
    (copper((), ("ground", "signal ground")), 0, 0, 1),
    (copper((), ("ground",), ("signal ground",)), 0, 0, 1),
    (copper((None,), ("power",)), 0, 0, 0),  # nothing new ends there, and no ground pin: not the kit's question
    (copper((None,), ("ground",)), 1, 0, 0),
    (copper((None,), ("ground",), wires="s"), 0, 1, 0),
    (copper((None,), (), wires="r"), 0, 1, 0),
    (copper((None,), (), wires="ns"), 0, 1, 0),
    (copper((None, None), (), wires="s"), 0, 2, 0),
    (copper((None, "dc"), (), wires="s"), 0, 1, 0),
    (copper((None,), (), ("power", "ground")), 0, 1, 0),
    (copper((None,), (), ("power",)), 0, 0, 0),
])  # fmt: skip
def test_mixed_ground_classes_of_one_piece_of_copper(one: Copper, good: int, asked: int, wrong: int) -> None:
    for found in ([one], [copper((), ("power",)), one], [copper(("dc",), wires="o"), one, copper(wires="o")]):
        said = grounds(*found)
        assert sum(isinstance(answer, NotChecked) for answer in said) == asked
        assert [answer.severity for answer in said if isinstance(answer, Finding)] == [None] * wrong
        assert said[-1] == Passed(good, "grounds that the jumper touches")


CLASH = copper(("dc",), ("signal ground",))


@pytest.mark.parametrize(("before", "severity"), [
    ((copper(("dc",), ("signal ground",), wires="o"),), Severity.NOTE),
    ((copper(("dc", "signal"), wires="o"),), Severity.NOTE),  # the stud GS0 is the same
    ((copper((), ("signal ground", "ground"), wires="o"),), None),  # C0 is the same, of another clash
    ((copper(("dc",), wires="o"),), None),
    ((Copper(grounds=[ground("GS7", "dc"), ground("GS8", "signal")]),), None),  # other studs
    ((Copper(grounds=[ground("GS7", "dc"), ground("GS8", "signal")]), copper(("dc", "signal"))), Severity.NOTE),
    ((), None),
])  # fmt: skip
def test_mixed_ground_classes_that_were_joined_before(before: tuple[Copper, ...], severity: Severity | None) -> None:
    found = grounds(CLASH, before=before)[0]
    assert found.severity is severity
    assert found.headline.endswith(", as in the airframe before") is (severity is not None)


def test_mixed_ground_classes_by_name_before() -> None:
    """The circuits are the same, and no stud: C0 and C1 were one piece of copper before."""
    both = copper((), ("signal ground", "ground"))
    assert grounds(both, before=(copper((), ("signal ground", "ground"), wires="o"),))[0].severity is Severity.NOTE
    pin = copper((), ("signal ground",), ("ground",))  # the pin is new, whatever was there before
    assert grounds(pin, before=(copper((), ("signal ground", "ground"), wires="o"),))[0].severity is None


# -- wires of a splice ---------------------------------------------------------------------------------------------


def test_overfull_splice_every_way_to_divide_the_wires() -> None:
    """n wires go into two ends, none of them empty, in 2^(n-1) - 1 ways: 1, 3, 7; beyond 12 wires one even way."""

    def ways(count: int) -> list[set[frozenset[str]]]:
        wires = [(Wire(f"W{n}", Point("SP1"), Point("P1", str(n)), NEW), float(n + 1)) for n in range(count)]
        found = overfull_splice._divided(wires)
        for way in found:
            assert sum(end.area for end in way) == pytest.approx(count * (count + 1) / 2)
            assert sorted(name for end in way for name in end.wires) == sorted(w.id for w, _ in wires)
        return [{frozenset(end.wires) for end in way} for way in found]

    assert ways(2) == [{frozenset({"W0"}), frozenset({"W1"})}]
    three = ways(3)
    assert len(three) == 3
    assert all({frozenset({f"W{n}"}), frozenset({"W0", "W1", "W2"} - {f"W{n}"})} in three for n in range(3))
    assert len({frozenset(way) for way in ways(5)}) == 15
    assert len(ways(12)) == 2047
    assert len(ways(13)) == 1


@pytest.mark.parametrize(("count", "spares", "counts"), [
    # AC 43.13-1B Chg 1, par. 11-234: 2 spares for up to 25 contacts, 4 for up to 100, and 6 above.
    (25, 2, "1 passed"), (25, 1, "1 caution"), (26, 4, "1 passed"), (26, 3, "1 caution"),
    (100, 4, "1 passed"), (100, 3, "1 caution"), (101, 6, "1 passed"), (101, 5, "1 caution"),
])  # fmt: skip
def test_missing_spare_contacts_by_the_number_of_contacts(count: int, spares: int, counts: str) -> None:
    wires = "".join(f"  X{n}: {{from: J101-{n}, to: P102-{n}}}\n" for n in range(10, 8 + count))
    report = told("missing-spare-contacts", (KIT, "kit:\n", f"{wires}kit:\n"), (KIT, "-351: 2}", f"-351: {spares}}}"))
    assert pages.counted(report) == counts
