"""Slots filled from a made-up aircraft, what a person has fixed, places along the trunk: cases by hand."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.document import parse
from harnesscheck.jumper.keeping import Kept, kept
from harnesscheck.jumper.slots import Candidate, Slot, fill
from harnesscheck.jumper.stations import stations
from harnesscheck.jumper.terminators import terminators
from harnesscheck.place import Point


def want(pin: str, line: str, function: str) -> Any:
    said = {"line": line, "loops": None, "function": function, "direction": "both", "current": None, "peak": None}
    return SimpleNamespace(point=Point("A1J1", pin), signal="can", unit="A1", drives=False, serves=(),
                           pin=SimpleNamespace(**said))  # fmt: skip


def circuit(name: str, **more: Any) -> Any:
    said = {"signal": "can", "line": name[-1], "pair": name[:-2], "receivers": None, "most_receivers": None,
            "terminators": None}  # fmt: skip
    return SimpleNamespace(name=name, **said | more)


def fault(check: str, headline: str, remedy: str = "do it") -> Any:
    return SimpleNamespace(check=check, headline=headline, value="", remedy=remedy)


GAP: Any = SimpleNamespace(check="long-bus", missing="the rate", remedy="ask")


class Court:
    """Judges taps by the name of the circuit of their first pin."""

    def __init__(self, **faults: Any) -> None:
        self.faults, self.asked = faults, []  # type: ignore[var-annotated]

    def verdict(self, taps: Any, checks: Any) -> Any:
        self.asked.append((dict(taps), checks))
        name = next(iter(taps.values())).replace(" ", "_")
        return SimpleNamespace(faults=self.faults.get(name, ()), gaps=(GAP,) if name == "D_H" else ())


def test_a_slot_is_filled() -> None:
    """A is too long a bus, B has two faults of which the first counts, C lacks a terminator only, which another unit
    may bring, D is good. CAN (ISO 11898-2) takes 30 units: with 14 and 5 on it the tap makes 15 and 6."""
    listed = [circuit(f"{bus} {line}") for bus in "ABCD" for line in "HL"]
    by_name = {one.name: one for one in listed}
    by_name["D H"].receivers, by_name["D L"].receivers = 5, 14
    site: Any = SimpleNamespace(cavities=by_name, circuit=by_name.__getitem__)
    court: Any = Court(
        A_H=[fault("long-bus", "too long")], B_H=[fault("odd", "odd", "remedy of its own"), fault("long-bus", "long")],
        C_H=[fault("wrong-terminator-count", "one only")],
    )  # fmt: skip
    h, low = want("1", "H", "d_h"), want("2", "L", "CAN L")
    slot = Slot((h, low), True)
    fill(slot, site, court, {})
    instead = "lower the rate of the whole bus, part it with a bridge, or open a connector nearer to the unit"
    assert slot.barred == [(("A H", "A L"), "too long", instead), (("B H", "B L"), "odd", "remedy of its own")]
    assert slot.candidates == [
        Candidate(("C H", "C L"), 2, 0.5, ("", ""), ()),
        Candidate(("D H", "D L"), 1, 0.5, ("5 units are on it, 30 may be", "14 units are on it, 30 may be"),
                  (GAP,)),
    ]  # fmt: skip
    assert [taps for taps, _ in court.asked] == [
        {h.point: f"{bus} H", low.point: f"{bus} L"} for bus in "ABCD"
    ] and all("pin-map-mismatch" in checks and "long-bus" in checks for _, checks in court.asked)  # fmt: skip
    by_name["D H"].receivers, by_name["D L"].receivers = 29, 14
    again = Slot((h, low), True)
    fill(again, site, court, {h.point: "D H"})
    assert [one.burden for one in again.candidates] == [1.0], "the heavier of 30 and 15 of 30"
    empty = Slot((h, low), True)
    fill(empty, SimpleNamespace(cavities={}, circuit=None), court, {})  # type: ignore[arg-type]
    assert (empty.candidates, empty.barred, empty.group, empty.signal) == ([], [], 0, "can")


def test_the_taps_of_a_slot() -> None:
    slot = Slot((want("1", "H", "x"), want("2", "L", "y")), True)
    assert slot.taps(None) == {}
    assert slot.taps(Candidate(("A", "B"), 0, 0.0, ())) == {Point("A1J1", "1"): "A", Point("A1J1", "2"): "B"}


# -- what a person has fixed -----------------------------------------------------------------------------------------


def read(text: str) -> Kept:
    return kept(parse(text, "plan.yaml", Path("plan.yaml")))


def entries(found: Kept) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(entry.section, entry.key, entry.lines) for entry in found.entries]


def test_entries_of_one_line_and_of_several() -> None:
    found = read(
        "odd: x  # fixed\nnote: >\n  one  \n  # fixed is text here\n  two\ntitle: mine  # fixed\n\n"
        "wires:\n  W1: {from: P1-1, to: J1-1}  # fixed\n  # said of the next\n  W2: odd  # fixed\n\n  W3: {from: a}\n"
    )
    assert entries(found) == [
        ("note", "note", ("note: >", "  one  ", "  # fixed is text here", "  two")),
        ("title", "title", ("title: mine  # fixed",)),
        ("wires", "W1", ("  W1: {from: P1-1, to: J1-1}  # fixed",)), ("wires", "W2", ("  W2: odd  # fixed",)),
    ] and found.use == {}  # fmt: skip
    last = read("kind: jumper\nrevision: C  # fixed")
    assert entries(last) == [("revision", "revision", ("revision: C  # fixed",))] and last.fixed == "revision"


def test_taps_that_are_fixed() -> None:
    """Only a pin with the name of a circuit is asked for; a slip is kept, for the reader to point at."""
    found = read(
        "taps:\n  A1J1-1: ' PWR '  # fixed\n  -3: RTN  # fixed\n  A1J1-2: {odd: RTN}  # fixed\n  A1J1-4: SIG\n"
    )
    assert found.use == {Point("A1J1", "1"): "PWR"} and found.fixed == "A1J1-1, -3, A1J1-2"


def test_several_on_one_line() -> None:
    """A section on one line has no line of its own for each entry: nothing of it breaks off the reading."""
    assert read("taps: {A1J1-1: PWR, A1J1-2: RTN}\nlimits: {long-bus: {value: 5 m}, odd: x}\n").limits == {
        "long-bus": "5 m"
    }


def test_seven_fixed_entries() -> None:
    wires = "".join(f"  W{n}: x  # fixed\n" for n in range(1, 8))
    assert read(f"wires:\n{wires}").fixed == "W1, W2, W3, W4, W5, W6 and 1 more"


# -- places and terminators ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lengths", "reach", "trunk", "at"),
    [
        # the longest of the ways counts: 1000 - 300, 1000 - 303 on the next mark of the rule
        ((600, 1000), 300, None, (700, 730)), ((1000, 600), 303, None, (700, 730)), ((600, 400), 300, None, (300, 330)),
        ((600, 400), 300, 900, (300, 330)), ((100, 100), 300, 90, (30, 60)),
    ],
)  # fmt: skip
def test_the_longest_way_decides(lengths: tuple[int, int], reach: int, trunk: int | None, at: tuple[int, int]) -> None:
    """Two splices 30 mm apart, margin 100 mm; the trunk is as long as the last place and the margin, or as asked."""
    lines = [SimpleNamespace(cavity="1"), SimpleNamespace(cavity="2")]
    block = SimpleNamespace(lines=lines, reach=reach, taps=lambda line: [Point("A1J1"), Point("A2J1")])
    draft: Any = SimpleNamespace(
        blocks=[block], margin=100, trunk=trunk,
        ways={f"A{n}J1": SimpleNamespace(length=length) for n, length in enumerate(lengths, 1)},
    )  # fmt: skip
    found = stations(draft, SimpleNamespace(order=(0,)), {(0, "1"): 30, (0, "2"): 30})  # type: ignore[arg-type]
    assert found.at == {(0, "1"): at[0], (0, "2"): at[1]}
    assert (found.trunk, found.margin) == ((90, 30) if trunk == 90 else (trunk or at[1] + 100, 100))


def test_terminators_of_two_buses() -> None:
    """Each bus has its own count; a line without a pair goes by its own name. Two at the ends: ISO 11898-2."""
    circuits = {
        "X H": circuit("X H", terminators=5), "A H": circuit("A H"), "A L": circuit("A L", terminators=2),
        "LONE": circuit("LONE", pair=None, terminators=1), "BARE": circuit("BARE", pair=None, terminators=3),
    }  # fmt: skip
    pins = [
        SimpleNamespace(point=Point(f"A1J{n}", "1"), signal="can", terminator_state="off", terminator=None)
        for n in (1, 2)
    ]
    taps = [SimpleNamespace(circuit=name, pin=Point(f"A1J{n}", "1")) for n, name in ((1, "A H"), (2, "LONE"))]
    box = SimpleNamespace(pins=lambda: pins)
    found = terminators(SimpleNamespace(circuits=circuits), [box], SimpleNamespace(taps=taps))  # type: ignore[arg-type,list-item]
    assert found == (
        "terminators of A: the aircraft has 2 of 2; the one inside A1J1 stays off",
        "terminators of LONE: the aircraft has 1 of 2; the one inside A1J2 stays off",
    )
