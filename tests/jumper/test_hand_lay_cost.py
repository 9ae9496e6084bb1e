"""Cost of a jumper, letters of marks, splices and lines: the cases that other tables leave out, by own arithmetic."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck.connector import NONE, Cavity, Connector, Origin
from harnesscheck.harness import Harness, Kind
from harnesscheck.jumper import cost, marks, splicing
from harnesscheck.jumper.cost import Cost, of_harness, of_kit
from harnesscheck.jumper.kit import Half, Kit, Lead, Section, Sheath
from harnesscheck.jumper.lines import bundles, through
from harnesscheck.place import Point
from harnesscheck.splice import Splice
from harnesscheck.units import Gauge
from harnesscheck.wire import Cable, Wire
from tests.jumper.bench import HERE, airframe, circuit, draft, half
from tests.jumper.small import Made, Shelf, conductors

G = {n: Gauge(awg=n) for n in (24, 22, 20, 18, 16, 8)}
COPPER = 8890.0  # kg/m3, IEC 60028


def drawer(**kinds: list[Made]) -> Any:
    return Shelf(conductor=conductors(), **kinds)


def wire(ident: str, a: str, b: str, length: float | None, gauge: int | None, **more: Any) -> Wire:
    one, two = (Point(*end.split("-")) for end in (a, b))
    origin = more.pop("origin", Origin.JUMPER)
    return Wire(ident, one, two, origin, gauge=G[gauge] if gauge else None, length=length, **more)


def cavity(name: str, contact: str | None = None, plug: str | None = None) -> Cavity:
    return Cavity(Point("P1", name), HERE, contact=contact, plug=plug)


def jumper(wires: tuple[Wire, ...], cables: tuple[Cable, ...] = (), splices: tuple[Splice, ...] = (),
           connectors: tuple[Connector, ...] = (), parts: Any = None) -> Harness:  # fmt: skip
    def by(things: Any, key: str) -> dict[str, Any]:
        return {getattr(thing, key): thing for thing in things}

    return Harness(Kind.JUMPER, "made up", parts or drawer(), wires=by(wires, "id"), cables=by(cables, "id"),
                   splices=by(splices, "ref"), connectors=by(connectors, "ref"))  # fmt: skip


def test_the_cost_of_a_jumper_that_was_read() -> None:
    """0.5 m of 0.6 mm2, one wire without a length and one without a size (1 m), a cable of 2 m with cores of 0.4 and
    0.2 mm2, counted as two of the first, and one of 3 m with nothing in it; what the aircraft had is not counted.
    Parts: wires A and B, two cables, two splices, two connectors, three contacts, one plug."""
    read = jumper(
        (
            wire("W0", "P1-1", "P1-2", 9.0, 20, origin=Origin.AIRFRAME, type="OLD"),
            wire("W1", "P1-1", "SP1", 0.5, 20, type="A"),
            wire("W2", "P1-2", "SP1", None, 20, type="B"), wire("W3", "P1-3", "SP1", 1.0, None, type="B"),
            wire("K1a", "P1-4", "SP1", 1.9, 22, cable="K1", core="white"),
            wire("K1b", "P1-5", "SP1", 1.9, 24, cable="K1", core="blue"),
            wire("K1s", "P1-6", "SP1", 1.9, 20, cable="K1", core="shield"),
            wire("K2s", "P1-6", "SP1", 1.9, 20, cable="K2", core="drain"),
        ),
        (Cable("K1", HERE, Origin.JUMPER, "CABLE", 2.0), Cable("K2", HERE, Origin.JUMPER, None, 3.0),
         Cable("K3", HERE, Origin.JUMPER, "OTHER", None)),
        tuple(Splice(f"SP{n}", HERE, Origin.JUMPER, part) for n, part in enumerate(("S", "T", "S", None), 1)),
        (
            replace(half("P1", {}, "D38999"), cavities={c.point.cavity: c for c in (
                cavity("1", "C20"), cavity("2", "C22"), cavity("3", "C16", "PLUG"), cavity("4", NONE, NONE),
                cavity("5", None), cavity("6", NONE), cavity("7", "C12", "PLUG"), cavity("8", "C12"),
                cavity("9", None, NONE))}),
            half("P2", {}, None), half("P3", {}, "M24308"),
        ),
    )  # fmt: skip
    found = of_harness(read)
    assert (found.splices, found.parts) == (4, 2 + 2 + 2 + 2 + 3 + 1)
    assert found.length == pytest.approx(0.5 + 0 + 1.0 + 2.0 + 3.0 + 0)
    assert found.mass == pytest.approx((0.5 * 0.6 + 2.0 * 2 * 0.4) * 1e-6 * COPPER)
    # of wires, cables, splices and contacts the drawer knows none: nine
    assert found.unconfirmed == 9


def test_a_jumper_of_one_wire_and_of_nothing() -> None:
    assert of_harness(jumper(())) == Cost(0, 0.0, 0.0, 0, 0)
    assert of_harness(jumper((wire("W1", "P1-1", "SP1", 0.5, 8),))) == Cost(0, 0.0, 0.5, 0, 0), "8 AWG is not listed"
    two = wire("W1", "P1-1", "SP1", 1.5, 22, cable="K"), wire("W2", "P1-2", "SP1", 1.5, 20, cable="K", core="drain")
    lone = jumper(two, (Cable("K", HERE, Origin.JUMPER, None, 2.0),))
    assert of_harness(lone).mass == pytest.approx(2.0 * 0.4e-6 * COPPER)


def lead(ident: str, gauge: int | None, **more: Any) -> Lead:
    return Lead(ident, Point("P1", ident), Point("SP1"), 1500, "trunk", gauge=G[gauge] if gauge else None, **more)


def kit(leads: tuple[Lead, ...], sheaths: tuple[Sheath, ...] = (), halves: tuple[Half, ...] = ()) -> Kit:
    return Kit(("P", "J"), halves, (), sheaths, (Section("all", leads),), {})


def test_one_core_and_its_shield() -> None:
    """2 m of one core of 0.4 mm2; the drain of 0.6 mm2 is not weighed, nor is a cable with a drain only."""
    for core in ("shield", "drain"):
        leads = (lead("1", 22, cable="K", core="white"), lead("2", 20, cable="K", core=core))
        found = of_kit(drawer(), kit(leads, (Sheath("K", None, 2000, "trunk"),)))
        assert found.mass == pytest.approx(2.0 * 0.4e-6 * COPPER) and (found.length, found.parts) == (2.0, 0)
        bare = of_kit(drawer(), kit(leads[1:], (Sheath("K", None, 2000, "trunk"), Sheath("L", None, 500, "trunk"))))
        assert (bare.mass, bare.length) == (0.0, 2.5)
    assert of_kit(drawer(), kit((lead("1", 8), lead("2", None)))) == Cost(0, 0.0, 3.0, 0, 0), "of no known area"


def test_parts_of_halves() -> None:
    one = Half("P1", "x", "J1", part="A", plugs="PLUG", contacts="C")
    for halves, parts in (((one,), 3), ((replace(one, part=None),), 2), ((replace(one, plugs=None),), 2),
                          ((replace(one, contacts=None),), 2), ((replace(one, ref="P2"),), 2),
                          ((one, one), 3)):  # fmt: skip
        assert of_kit(drawer(), kit((lead("1", 22),), (), halves)).parts == parts


FIRM: dict[str, dict[str, Any]] = {
    "wire": {"temperature": 200.0, "volts": 600.0, "od": (1, 2)}, "cable": {"spec": "W"},
    "splice": {"cma": (1, 2), "sealed": True}, "contact": {"gauge": (24, 20)},
}  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "field"), [(kind, field) for kind, fields in FIRM.items() for field in ("", *fields, "other")]
)
def test_parts_that_nobody_has_confirmed(kind: str, field: str) -> None:
    """A part counts when one of the fields that decide whether it suits is soft or missing, and no other field."""
    sure = field in ("", "other")
    for part in (
        Made("X", field, other=1, **FIRM[kind]),
        Made("X", other=1, **{k: v for k, v in FIRM[kind].items() if k != field}),
    ):
        found = list(cost._unconfirmed(drawer(**{kind: [part]}), [(kind, "X"), (kind, "NONE"), ("connector", "X")]))
        assert found == ([] if sure else [(kind, "X")]) + [(kind, "NONE")]
    assert {kind: set(fields) for kind, fields in cost.LOOKED_AT.items()} == {k: set(v) for k, v in FIRM.items()}


def test_plans_are_ordered_by_billionths() -> None:
    """Nine digits: 31 g and a third of a microgram is 31 g; a total that differs by 3e-10 is the same total."""
    assert Cost(0, 0.0310000003, 0.0, 0, 0).key("mass")[0] == 0.031
    assert Cost(0, 0.0310000031, 0.0, 0, 0).key("mass")[0] == 0.031000003
    assert Cost(1, 0.0, 3e-9, 0, 0).key() == (1.0,) and Cost(1, 0.0, 3e-8, 0, 0).key() == (1.000000003,)
    assert Cost(1, 0.0, 3e-8, 2, 0).key("parts") == (2, 1.500000003)


# -- letters and numbers of marks ------------------------------------------------------------------------------------

LETTERS = {
    "P": "power ground", "L": "lighting", "R": "rs232 nmea0183 rf", "W": "discrete", "A": "audio", "T": "thermocouple",
    "J": "ignition", "V": "video", "D": "shield can ethernet arinc429 rs422 rs485 analogue pulse",
}  # fmt: skip


def test_the_letter_of_each_signal_class() -> None:
    """Common practice, as the module says."""
    for letter, signals in LETTERS.items():
        for signal in signals.split():
            said = marks.letter(circuit("X", signal), [])
            assert said == (letter, "N" if signal == "ground" else ""), signal
    assert marks.letter(circuit("X", "signal ground"), []) == ("D", "")


def base(cavities: tuple[str, ...], *ids: str) -> int:
    taken: Any = airframe(wires=[SimpleNamespace(id=name, mark=None) for name in ids])
    return marks.Marks(taken, [], cavities).base


def test_the_first_free_hundred() -> None:
    """By the highest number that is taken; from a hundred cavities on the first free thousand."""
    assert base(("1",), "P199A20", "P350A20", "P101A20") == 400 and base((), "P250A20") == 300 and base(()) == 100
    assert base(("99", "7"), "P250A20") == 300 and base(("99", "100", "7"), "P250A20") == 1000
    letters = tuple(f"a{n}" for n in range(100))
    assert base(letters, "P250A20") == 1000 and base(letters[1:], "P250A20") == 300
    assert base(("1", "x", "200")) == 100, "three cavities, for their names are no numbers"


# -- splices and lines -----------------------------------------------------------------------------------------------


def test_four_wires_that_go_together_in_one_way_only() -> None:
    """1.2, 1.0, 0.4 and 0.2: of all divisions only 1.2 + 0.2 against 1.0 + 0.4 gives 1.4 twice."""
    assert splicing._divides([1.2, 1.0, 0.4, 0.2], 1.4, 1.4) and splicing._divides([0.2, 1.0, 0.4, 1.2], 1.4, 1.4)
    assert splicing._divides([1.2, 0.2, 1.0, 0.4], 1.4, 1.4)
    assert not splicing._divides([1.2, 1.0, 0.4, 0.2], 1.41, 1.5) and not splicing._divides([1.2, 1.0], 1.0, 1.1)
    assert splicing._divides([0.2, 0.4, 0.6], 0.6, 0.6), "the last one alone"


def test_a_splice_behind_those_that_do_not_suit() -> None:
    """Each of the first is left out for one reason only; the last is found behind them."""
    fits: dict[str, Any] = {"cma": (0.4e-6, 1.0e-6), "sealed": True}
    good, size = Made("GOOD", **fits), [G[20]] * 2
    for more in ({"cma": None}, {"style": "stub"}, {"restriction": "ground only"}, {"sealed": False},
                 {"cma": (0.7e-6, 1.0e-6)}, {"most_wires": 1}):  # fmt: skip
        listed = [Made("BAD", **{**fits, **more}), good]
        found = splicing.parts(drawer(splice=listed), size, True)
        assert [part.number for part in found] == ["GOOD"], more
    assert splicing.parts(drawer(splice=[Made("TWO", most_wires=2, **fits)]), size, True)[0].number == "TWO"


def test_lines_in_a_cable_and_their_order() -> None:
    """A shield that names the pair is no core of it; cables come in the order of their first cavity."""
    listed = draft(airframe(
        ("1", None), ("2", circuit("OPEN H", "can", line="H")), ("3", circuit("OPEN L", "can", line="L")),
        ("4", circuit("SH", "shield", shields="Q", pair="Q")), ("5", circuit("QA", "rs422", pair="Q")),
        ("6", circuit("QB", "rs422", pair="Q")), ("7", circuit("RA", "arinc429", line="A")),
        ("8", circuit("RB", "arinc429", line="B")), ("9", circuit("LONE", "rs485", line="A")),
    ), (), {}).lines  # fmt: skip
    found, singles = bundles(listed)
    assert [(["".join(c.cavity for c in b.cores)], b.shield and b.shield.cavity) for b in found] == [
        (["23"], None), (["56"], "4"), (["78"], None),
    ]  # fmt: skip
    assert [line.cavity for line in singles] == ["1", "9"]


def test_cavities_that_one_half_does_not_have() -> None:
    """2 is no cavity of J1; 3 has no contact there: both are left out, and what comes behind them is not."""
    air = airframe(*((str(n), circuit(f"C{n}", "discrete")) for n in range(1, 6)))
    j1 = air.connectors["J1"]
    cavities = {name: each for name, each in j1.cavities.items() if name != "2"}
    cavities["3"] = replace(cavities["3"], contact=NONE)
    air = replace(air, connectors={**air.connectors, "J1": replace(j1, cavities=cavities, names=("1", "3", "4", "5"))})
    assert [line.cavity for line in through(air, ("P1", "J1"), {})] == ["1", "4", "5"]
    assert [line.cavity for line in through(air, ("J1", "P1"), {})] == ["1", "4", "5"]
