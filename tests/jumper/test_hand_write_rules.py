"""The aircraft as the rules see it, and what the rules say of classes of which little is known: by hand."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck import checks
from harnesscheck.circuit import SIGNALS
from harnesscheck.connector import Origin
from harnesscheck.jumper import rules
from harnesscheck.jumper.rules import (
    Merit,
    Site,
    audio,
    bus,
    ground,
    lighting,
    no_tee,
    power,
    sensor,
    serial,
    shield,
    signal_ground,
)
from harnesscheck.splice import Ground
from tests.jumper.bench import HERE, airframe, circuit, wire

PWR = circuit("PWR", "power", breaker="CB1", load=1.0)
LINES = (
    ("1", PWR),
    ("2", circuit("RTN", "ground")),
    ("3", circuit("DIM", "lighting", load=0.5)),
    ("4", circuit("X", "can")),
)


def site(**cavities: str) -> Site:
    """P1/J1: RTN leads to GS1 behind J1-2; nobody knows where X leads to."""
    studs = {ref: Ground(ref, HERE, Origin.AIRFRAME) for ref in ("GS1", "GS2")}
    own = (wire("W1", "GS1", "J1-2"), wire("W2", "CB1-load", "J1-1"), wire("W3", "CB2-load", "J1-3"))
    return Site(airframe(*LINES, grounds=studs, wires=own), ("P1", "J1"), {n: [c] for n, c in cavities.items()})


def test_where_a_circuit_leads() -> None:
    here = site(PWR="1", RTN="2", X="4")
    assert here.pair == "P1/J1" and here.circuit("PWR") is PWR
    assert here.leads_to("RTN", "GS1") and not here.leads_to("RTN", "GS2")
    assert not here.leads_to("X", "GS1") and not here.leads_to("PWR", "GS1")
    assert not here.leads_to("RTN", "GS9"), "no such stud"
    assert not here.leads_to("NEW", "GS9") and not here.leads_to("NEW", "GS1"), "of no cavity"
    nowhere = site(NEW="9")
    assert not nowhere.leads_to("NEW", "GS9"), "neither of them is known"


def test_the_breaker_of_a_circuit() -> None:
    """As the circuit says, else as the copper says: DIM hangs on CB2 by its wire."""
    here = site()
    assert {line.name: line.current for line in here.lines} == {"PWR": 1.0, "DIM": 0.5}
    assert here.breaker(PWR) == "CB1" and here.breaker(circuit("DIM", "lighting")) == "CB2"
    assert here.breaker(circuit("PWR", "power")) == "CB1" and here.breaker(circuit("ELSE", "power")) is None
    assert here.breaker(circuit("DIM", "lighting", breaker="CB3")) == "CB3"


def test_the_checks_of_a_class() -> None:
    assert rules.names("shield") == ("pin-map-mismatch", "redundant-circuits-in-one-connector", "wrong-shield-ends")
    assert rules.beside("shield") == ("redundant-circuits-in-one-connector", "wrong-shield-ends")
    assert rules.of("video") is no_tee and rules.of("shield") is shield
    with pytest.raises(KeyError):
        rules.of("none")
    assert "can" in rules.signals() and rules.signals() == sorted(rules.signals())


MODULES = [audio, bus, ground, lighting, no_tee, power, sensor, serial, shield, signal_ground]
BARE: Any = SimpleNamespace(
    signal="rs232", point="A1J1-1",
    pin=SimpleNamespace(current=None, peak=None, duty=None, direction="in", input_resistance=None, pull_up=None),
)  # fmt: skip


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__.rpartition(".")[2])
def test_what_would_do_instead(module: Any) -> None:
    """Each way out is that of a check which judges the class; little that is known still gives a merit."""
    judges = {*rules.ALWAYS, *module.CHECKS}
    assert set(module.INSTEAD) <= judges <= set(checks.names()) and all(module.INSTEAD.values()) and module.OWN
    assert all(rules.of(signal) is module and signal in SIGNALS for signal in module.SIGNALS)
    assert 0.0 <= module.merit(site(), BARE, circuit("X", module.SIGNALS[0])).burden <= 1.0
    assert Merit() == Merit(0.0, "")


def test_merits_in_a_few_words() -> None:
    here, want = site(), SimpleNamespace()
    sound: Any = [circuit("A", "audio", receivers=n) for n in (None, 0, 1, 3)]
    assert [audio.merit(here, want, one) for one in sound] == [  # type: ignore[arg-type]
        Merit(0.0, ""), Merit(0.0, "0 listen to it already"), Merit(0.01, "1 listen to it already"),
        Merit(0.03, "3 listen to it already"),
    ]  # fmt: skip
    for module in (no_tee, signal_ground):
        assert module.merit(here, want, PWR) == Merit(0.0, "")  # type: ignore[arg-type]
    assert shield.merit(here, want, circuit("S", "shield", shields="CAN")) == Merit(0.0, "covers CAN")  # type: ignore[arg-type]
    assert shield.merit(here, want, circuit("S", "shield")) == Merit(0.0, "")  # type: ignore[arg-type]


def test_a_return_by_which_little_comes_back() -> None:
    """A load of 0 A is stated to be nothing, and is counted as nothing; of a thousand amperes 1 A is a thousandth."""
    for loads, burden, words in (((0.0,), 0.0, "0 A come back on RTN already"),
                                 ((0.0, 1.0), 0.001, "1 A come back on RTN already"),
                                 ((None,), 0.0, "")):  # fmt: skip
        listed = [(str(n), circuit(f"C{n}", "power", returns="RTN", load=load)) for n, load in enumerate(loads)]
        here = Site(airframe(*listed), ("P1", "J1"))
        assert ground.merit(here, SimpleNamespace(), circuit("RTN", "ground")) == Merit(burden, words)  # type: ignore[arg-type]
