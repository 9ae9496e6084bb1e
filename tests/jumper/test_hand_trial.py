"""The trial jumper wire by wire, and which of the checks' answers stand against a set of taps."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck import checks
from harnesscheck.connector import Mate, Origin, Use
from harnesscheck.finding import Finding, NotChecked, Report, Severity
from harnesscheck.harness import Kind
from harnesscheck.jumper import trial
from harnesscheck.jumper.trial import Court, Verdict, carried
from harnesscheck.place import Place, Point
from harnesscheck.units import Gauge


def pin(cavity: str, ref: str = "A1J1") -> Point:
    return Point(ref, cavity)


def circuit(name: str, signal: str | None, **more: Any) -> Any:
    return SimpleNamespace(**{"name": name, "signal": signal, "load": None, "peak": None, "returns": None} | more)


def half(**cavities: str | None) -> Any:
    """Cavity (``c1``) to circuit."""
    return SimpleNamespace(cavities={n[1:]: SimpleNamespace(circuit=name) for n, name in cavities.items()})


def box(**pins: str) -> Any:
    """Receptacle to its cavities."""
    every = [SimpleNamespace(point=Point(ref, c)) for ref, names in pins.items() for c in names]
    connectors = {ref: SimpleNamespace(cavities=dict.fromkeys(names)) for ref, names in pins.items()}
    return SimpleNamespace(connectors=connectors, pins=lambda: iter(every))


CIRCUITS = [
    circuit("PWR", "power"), circuit("DIM", "lighting"), circuit("RTN", "ground"), circuit("SIG", "analogue"),
    circuit("SHLD", "shield"), circuit("LAMP", "discrete", load=0.2), circuit("PEAK", "discrete", peak=1.0),
    circuit("BACK", "signal ground"), circuit("OTHER", "analogue", returns="BACK"), circuit("IDLE", "can"),
]  # fmt: skip


def court(one: Any, two: Any | None = None, boxes: Iterable[Any] = (), circuits: Iterable[Any] = CIRCUITS) -> Any:
    craft: Any = SimpleNamespace(
        connectors={"P14": one, "J14": two or half()}, circuits={each.name: each for each in circuits}, drawer="drawer"
    )
    made: Any = Court(craft, list(boxes), ("P14", "J14"))
    return made


# -- what the pair carries ------------------------------------------------------------------------------------------


def test_circuits_and_their_cavities_as_a_person_counts_them() -> None:
    one = half(c10="B", c2="A", cb="C", c3=None, c1="B")
    made = court(one, half(c4="A", ca="D", c2="A", c11="E"))
    found = carried(made.airframe, ("P14", "J14"))
    assert list(found.items()) == [("B", ["1", "10"]), ("A", ["2", "4"]), ("E", ["11"]), ("D", ["a"]), ("C", ["b"])]
    assert made.cavities == found and made.asked == 0 and made.overrides == {} and made.boxes == ()


def test_circuits_that_feed_or_bring_current_back() -> None:
    """By their class, by what hangs on them, and what another one names as its return."""
    made = court(half())
    assert made._feeding == {"PWR", "DIM", "RTN", "LAMP", "PEAK", "BACK"}


# -- the trial jumper -----------------------------------------------------------------------------------------------

AWG20 = Gauge(awg=20)


def wires(made: Any, taps: Mapping[Point, str]) -> list[tuple[str, str, Any]]:
    found = made._jumper(taps).wires
    assert list(found) == [f"trial {n}" for n in range(1, len(found) + 1)]
    for name, each in found.items():
        assert (each.id, each.origin, each.gauge, each.bundle) == (name, Origin.JUMPER, AWG20, "trial")
    return [(str(each.a), str(each.b), pytest.approx(each.length)) for each in found.values()]


def test_what_is_led_through_and_what_is_tapped() -> None:
    """Supplies always, others only where they are tapped; 300 mm in equal parts between the splices, 300 mm to pins.

    A circuit in two cavities is tapped in the first.
    """
    one = half(c1="PWR", c2="IDLE", c3="SIG", c4="RTN", c5="RTN", c6="SHLD", c7="LOST")
    made = court(one, boxes=[box(A1J1="1234", A1J2="9")])
    a, b = "J0trial.one", "P0trial.two"
    assert wires(made, {}) == [(f"{a}-{n}", f"{b}-{n}", 0.3) for n in (1, 4, 5)]
    taps = {pin("1"): "SIG", pin("9", "A1J2"): "RTN", pin("2"): "SIG", pin("3"): "SHLD", pin("4"): "LOST"}
    sp = "SP0trial."
    assert wires(made, taps) == [
        (f"{a}-1", f"{b}-1", 0.3),
        (f"{a}-3", f"{sp}1", 0.1), (f"{sp}1", "P0trial.A1J1-1", 0.3), (f"{sp}1", f"{sp}2", 0.1),
        (f"{sp}2", "P0trial.A1J1-2", 0.3), (f"{sp}2", f"{b}-3", 0.1),
        (f"{a}-4", f"{sp}3", 0.15), (f"{sp}3", "P0trial.A1J2-9", 0.3), (f"{sp}3", f"{b}-4", 0.15),
        (f"{a}-5", f"{b}-5", 0.3),
        (f"{a}-6", f"{sp}4", 0.15), (f"{sp}4", "P0trial.A1J1-3", 0.3), (f"{sp}4", f"{b}-6", 0.15),
        (f"{a}-7", f"{sp}5", 0.15), (f"{sp}5", "P0trial.A1J1-4", 0.3), (f"{sp}5", f"{b}-7", 0.15),
    ]  # fmt: skip
    jumper = made._jumper(taps)
    assert [each.core for each in jumper.wires.values()] == [None] * 10 + ["drain"] * 3 + [None] * 3
    assert (jumper.kind, jumper.title, jumper.drawer) == (Kind.JUMPER, "trial jumper", "drawer")
    assert list(jumper.splices) == [f"{sp}{n}" for n in range(1, 6)]
    assert {(ref, each.ref, each.origin, each.place.label) for ref, each in jumper.splices.items()} == {
        (ref, ref, Origin.JUMPER, ref) for ref in jumper.splices
    }
    assert {ref: list(each.cavities) for ref, each in jumper.connectors.items()} == {
        a: list("1234567"), b: list("1234567"), "P0trial.A1J1": list("1234"), "P0trial.A1J2": ["9"],
    }  # fmt: skip
    for ref, each in jumper.connectors.items():
        assert (each.ref, each.origin, each.place.label) == (ref, Origin.JUMPER, ref)
        for name, cavity in each.cavities.items():
            assert (cavity.point, cavity.place.label, cavity.use) == (Point(ref, name), f"{ref}-{name}", Use.LIVE)
    assert jumper.mates == (
        Mate("P14", a, Place(a)), Mate("J14", b, Place(b)), Mate("A1J1", "P0trial.A1J1", Place("P0trial.A1J1")),
        Mate("A1J2", "P0trial.A1J2", Place("P0trial.A1J2")),
    )  # fmt: skip
    assert {point: (each.pin, each.circuit, each.place.label) for point, each in jumper.taps.items()} == {
        point: (point, name, str(point)) for point, name in taps.items()
    }
    assert jumper.opens == (("P14", "J14"),) and jumper.overrides == {}


def test_cavities_of_the_trial_jumper_are_in_turn() -> None:
    jumper = court(half(c10="PWR", c9="RTN", cb="PWR", ca="RTN"), boxes=[box(A1J1=("12", "3"))])._jumper({})  # type: ignore[arg-type]
    assert list(jumper.connectors["J0trial.one"].cavities) == ["9", "10", "a", "b"]
    assert list(jumper.connectors["P0trial.A1J1"].cavities) == ["3", "12"]


def test_limits_that_a_person_has_set_hold_on_trial() -> None:
    made = court(half(c1="PWR"))
    made.overrides = {"long-stub": "set"}
    assert made._jumper({}).overrides == {"long-stub": "set"}
    limited = Court(made.airframe, (), ("P14", "J14"), {"a": "b"})  # type: ignore[dict-item]
    assert limited._jumper({}).overrides == {"a": "b"}  # type: ignore[comparison-overlap]


def test_the_trial_jumper_is_put_into_the_aircraft(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trial, "install", lambda craft, jumper, boxes: (craft, jumper.taps, boxes))
    one = box(A1J1="1")
    made = court(half(c1="PWR"), boxes=[one])
    craft, taps, boxes = made.harness({pin("1"): "PWR"})
    assert craft is made.airframe and list(taps) == [pin("1")] and boxes == (one,)


# -- questions and answers ------------------------------------------------------------------------------------------


def finding(check: str, label: str, headline: str = "h", severity: Severity | None = Severity.STOP) -> Finding:
    return Finding(headline=headline, place=Place(label), check=check, severity=severity)


class Checks:
    """Stands in for the checks: the findings of a set of taps, and what was asked."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, alone: Iterable[Any] = (), tapped: Iterable[Any] = ()) -> None:
        self.alone, self.tapped = list(alone), list(tapped)
        self.asked: list[tuple[tuple[str, ...], tuple[str, ...]]] = []
        monkeypatch.setattr(trial, "install", lambda craft, jumper, boxes: jumper)
        monkeypatch.setattr(checks, "run", self.run)

    def run(self, jumper: Any, names: tuple[str, ...]) -> Report:
        self.asked.append((tuple(point.cavity for point in jumper.taps), names))
        found = [each for each in (self.tapped if jumper.taps else self.alone)
                 if getattr(each, "check", "") in names]  # fmt: skip
        return Report(
            "x", tuple(f for f in found if isinstance(f, Finding)),
            tuple(n for n in found if isinstance(n, NotChecked)),
        )  # fmt: skip


ONE = {pin("1"): "PWR"}


def test_what_stands_against_taps(monkeypatch: pytest.MonkeyPatch) -> None:
    """Stops and cautions, and the note of a line that is laid for nothing; not what holds for the aircraft alone."""
    stop, caution = finding("a", "P14"), finding("a", "A1J1-1", "c", Severity.CAUTION)
    old, again = finding("b", "P14", "old"), finding("a", "P14", "old")
    note, nothing = (
        finding("a", "P14", "n", Severity.NOTE),
        finding("driver-without-listener", "P14", "d", Severity.NOTE),
    )
    other, third = finding("a", "A1J1-2", "o"), finding("a", "A2J1-1", "t")
    gap, its, unserved = (NotChecked(place=Place(label), missing="m", check="a") for label in
                          ("P14", "A1J1-1", "A1J1-2"))  # fmt: skip
    told = Checks(monkeypatch, [old], [stop, caution, old, again, note, nothing, other, third, gap, its, unserved])
    made = court(half(c1="PWR"), boxes=[box(A1J1="12"), box(A2J1="1")])
    found = made.verdict(ONE, ["b", "a", "driver-without-listener", "a"])
    assert found == Verdict((stop, caution, again, nothing), (gap, its)) and not found.ok
    names = ("a", "b", "driver-without-listener")
    assert told.asked == [((), names), (("1",), names)] and made.asked == 2
    assert Verdict().ok and Verdict(gaps=(gap,)).ok


def test_the_aircraft_alone_is_asked_once_for_each_set_of_checks(monkeypatch: pytest.MonkeyPatch) -> None:
    told = Checks(monkeypatch, [finding("a", "P14")], [finding("a", "P14")])
    made = court(half(c1="PWR", c2="RTN"), boxes=[box(A1J1="12")])
    assert made.verdict({}, ["a"]).faults == (finding("a", "P14"),) and made.asked == 1, "of itself it is told"
    assert made.verdict(ONE, ["a"]).ok and made.asked == 3
    two = {pin("2"): "RTN"}
    assert made.verdict(two, ["a"]).ok and made.asked == 4
    assert made.verdict(two, ["a"]) is made.verdict(dict(two), ["a", "a"]) and made.asked == 4
    made.verdict(two, ["a", "b"])
    assert made.asked == 6
    assert [taps for taps, _ in told.asked] == [(), (), ("1",), ("2",), (), ("2",)]


SLOW = "supply-outside-range"


def test_the_network_is_not_solved_where_another_check_has_found_something(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is answered early is not the whole answer, so it is not kept as such."""
    assert {"supply-outside-range", "excess-voltage-drop"} == trial.SOLVING
    told = Checks(monkeypatch, [], [finding("a", "P14")])
    made = court(half(c1="PWR"), boxes=[box(A1J1="1")])
    asked = told.asked
    first = made.verdict(ONE, ["a", SLOW], all_of_it=False)
    assert not first.ok and [names for _, names in asked] == [("a",), ("a",)]
    whole = made.verdict(ONE, ["a", SLOW])
    assert not whole.ok and [names for _, names in asked[2:]] == [("a", SLOW), ("a", SLOW)]
    assert made.verdict(ONE, ["a", SLOW], all_of_it=False) is whole and len(asked) == 4
    told.tapped = [finding(SLOW, "P14")]
    made = court(half(c1="PWR"), boxes=[box(A1J1="1")])
    asked.clear()
    kept = made.verdict(ONE, ["a", SLOW], all_of_it=False)
    assert kept.faults == (finding(SLOW, "P14"),) and made.verdict(ONE, [SLOW, "a"]) is kept
    assert [names for _, names in asked] == [("a",), ("a",), ("a", SLOW), ("a", SLOW)]
    asked.clear()
    assert made.verdict(ONE, ["b"], all_of_it=False).ok and [names for _, names in asked] == [("b",), ("b",)]
    assert made.verdict(ONE, ["b"]) is made.verdict(ONE, ["b"], all_of_it=False) and len(asked) == 2
