"""Faults of signal lines: terminators, stubs, lengths, drivers, receivers, pull-ups, diodes, forbidden tees."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import File, Job

BUSES = ("can", "rs485", "rs422")
BOTH_ENDS = ("can", "rs485")
PAIRS = {"wrong-terminator-count", "terminator-not-at-end"}


def _tapped(job: Job, rng: Random, *signals: str) -> p.Stub | None:
    """A stub on a line of one of these classes."""
    found = [s for s in p.stubs(job) if s.signal in signals]
    return rng.choice(found) if found else None


def _circuits(job: Job, one: p.Stub) -> dict[str, File]:
    """The circuit of a stub and the other conductor of its pair."""
    pair = job.airframe["circuits"][one.circuit].get("pair")
    return {
        name: entry
        for name, entry in job.airframe["circuits"].items()
        if name == one.circuit or (pair and entry.get("pair") == pair and entry["signal"] == one.signal)
    }


def _stubs(job: Job, one: p.Stub) -> list[p.Stub]:
    """The stubs to the same plug on the conductors of the same line."""
    return [s for s in p.stubs(job) if s.plug == one.plug and s.circuit in _circuits(job, one)]


def _pins(job: Job, one: p.Stub) -> list[File]:
    return [pin for s in _stubs(job, one) if (pin := job.pin(s.pin)) is not None]


def _names(job: Job, one: p.Stub) -> list[str]:
    """By what a finding may name the line: circuits, pins, the unit, stubs."""
    ref = one.pin.partition("-")[0]
    unit = next(unit for unit in job.units() if ref.startswith(unit))
    mine = _stubs(job, one)
    return [*_circuits(job, one), *(s.pin for s in mine), *(s.wire for s in mine), unit, ref]


def _said(job: Job, one: p.Stub, **facts: str) -> list[str]:
    """State something of the line; returns its names."""
    for entry in _circuits(job, one).values():
        entry |= {key.replace("_", " "): value for key, value in facts.items()}
    return _names(job, one)


def _wants(job: Job, one: p.Stub, **facts: str) -> list[str]:
    """State something of the pins of the equipment; returns the names of the line."""
    for pin in _pins(job, one):
        pin |= {key.replace("_", " ").replace("pull up", "pull-up"): value for key, value in facts.items()}
    return _names(job, one)


# -- terminators ---------------------------------------------------------------------------------------------------


@fault
def terminator_in_the_unit_switched_on(job: Job, rng: Random) -> Answer:
    """The new unit brings a third terminator, at the end of a stub."""
    one = _tapped(job, rng, *BUSES)
    if one is None:
        return None
    return "wrong-terminator-count", _wants(job, one, terminator="120 ohm", terminator_state="fitted")


@fault
def terminator_moved_into_the_unit(job: Job, rng: Random) -> Answer:
    """The count is right, and one of them sits on a stub."""
    one = _tapped(job, rng, *BOTH_ENDS)
    if one is None:
        return None
    _said(job, one, terminators="1")
    return "terminator-not-at-end", _wants(job, one, terminator="120 ohm", terminator_state="fitted")


@fault
def one_terminator_only(job: Job, rng: Random) -> Answer:
    """One of two has been taken out of the aircraft."""
    one = _tapped(job, rng, *BOTH_ENDS)
    return None if one is None else ("wrong-terminator-count", _said(job, one, terminators="1"))


@fault
def one_terminator_of_60_ohm(job: Job, rng: Random) -> Answer:
    """One resistor of half the value in the place of two."""
    one = _tapped(job, rng, "can")
    return None if one is None else ("wrong-terminator-count", _said(job, one, terminators="1", terminator="60 ohm"))


@fault
def three_terminators(job: Job, rng: Random) -> Answer:
    """The aircraft has three."""
    one = _tapped(job, rng, *BUSES)
    return None if one is None else ("wrong-terminator-count", _said(job, one, terminators="3"))


@fault
def terminators_of_another_value(job: Job, rng: Random) -> Answer:
    """Terminators of a coaxial network on a twisted pair."""
    one = _tapped(job, rng, *BUSES)
    return None if one is None else ("wrong-terminator-count", _said(job, one, terminator="50 ohm"))


@fault
def trunk_end_without_terminator(job: Job, rng: Random) -> Answer:
    """Both terminators are on one side of the disconnect."""
    one = _tapped(job, rng, *BOTH_ENDS)
    if one is None:
        return None
    half = rng.choice(job.opened())
    for said in job.airframe["connectors"][half]["cavities"].values():
        if isinstance(said, dict) and said.get("circuit") in _circuits(job, one):
            said["terminated"] = "no"
    return "terminator-not-at-end", [*_names(job, one), half]


# -- lengths and shape ---------------------------------------------------------------------------------------------


@fault
def stub_of_forty_metres(job: Job, rng: Random) -> Answer:
    """The unit is at the other end of the aircraft."""
    one = _tapped(job, rng, *BUSES)
    if one is None:
        return None
    for stub in _stubs(job, one):
        wire = job.wires()[stub.wire]
        wire["length"] = "40 m"
        if "cable" in wire:
            job.jumper["cables"][wire["cable"]]["length"] = "40 m"
    return "long-stub", _names(job, one)


@fault
def stub_too_long_for_a_fast_edge(job: Job, rng: Random) -> Answer:
    """The driver is a fast one."""
    one = _tapped(job, rng, "rs422", "rs485")
    return None if one is None else ("long-stub", _said(job, one, edge="5 ns"))


@fault
def stub_beyond_the_standard(job: Job, rng: Random) -> Answer:
    """Nobody has allowed the longer stub in writing."""
    one = _tapped(job, rng, "can")
    if one is None:
        return None
    job.jumper.get("limits", {}).pop("long-stub", None)
    return "long-stub", _names(job, one)


@fault
def trunk_too_long_for_its_rate(job: Job, rng: Random) -> Answer:
    """A trunk of 30 m at 1 Mbit/s."""
    one = _tapped(job, rng, "can")
    if one is None:
        return None
    for stub in [s for s in p.stubs(job) if s.circuit in _circuits(job, one)]:
        _wants(job, stub, rate="1 Mbit/s")
    return "long-bus", _said(job, one, rate="1 Mbit/s", bus_length="30 m")


@fault
def serial_line_too_long(job: Job, rng: Random) -> Answer:
    """From the tail to the nose and back."""
    one = _tapped(job, rng, "rs232")
    return None if one is None else ("long-bus", _said(job, one, bus_length="31 m"))


@fault
def stubs_of_the_aircraft_long(job: Job, rng: Random) -> Answer:
    """Every unit on the bus hangs on a stub of its own already."""
    one = _tapped(job, rng, "can")
    return None if one is None else ("long-stub-sum", _said(job, one, stub_length="56 m"))


@fault
def unit_set_to_another_rate(job: Job, rng: Random) -> Answer:
    """The switch of the unit is where the maker left it."""
    one = _tapped(job, rng, "can", "rs232", "rs422", "rs485", "arinc429")
    return None if one is None else ("rate-mismatch", _wants(job, one, rate="57.6 kbit/s"))


@fault
def star_in_the_aircraft(job: Job, rng: Random) -> Answer:
    """The bus is a star already and gets one more arm."""
    one = _tapped(job, rng, *BUSES)
    return None if one is None else ("star-topology", _said(job, one, topology="star"))


# -- drivers and receivers -----------------------------------------------------------------------------------------


@fault
def second_talker_on_a_serial_line(job: Job, rng: Random) -> Answer:
    """The transmit pin of the unit on a line that has a talker."""
    one = _tapped(job, rng, "rs232")
    return None if one is None else ("two-drivers", _wants(job, one, direction="out"))


@fault
def second_talker_on_a_pair(job: Job, rng: Random) -> Answer:
    """The same on a pair for one transmitter."""
    one = _tapped(job, rng, "rs422", "arinc429")
    return None if one is None else ("two-drivers", _wants(job, one, direction="out"))


@fault
def one_receiver_too_many_on_a_pair(job: Job, rng: Random) -> Answer:
    """The driver feeds as many as the standard allows already."""
    one = _tapped(job, rng, "arinc429", "rs422")
    if one is None:
        return None
    return "too-many-receivers", _said(job, one, receivers="20" if one.signal == "arinc429" else "10")


@fault
def more_receivers_than_the_data_sheet(job: Job, rng: Random) -> Answer:
    """The maker of the driver guarantees one receiver."""
    one = _tapped(job, rng, "arinc429", "rs232", "rs422")
    return None if one is None else ("too-many-receivers", _said(job, one, receivers="1", most_receivers="1"))


@fault
def too_many_unit_loads(job: Job, rng: Random) -> Answer:
    """The bus carries 32 unit loads already."""
    one = _tapped(job, rng, "rs485")
    if one is None:
        return None
    _wants(job, one, unit_load="0.25")
    return "too-many-receivers", _said(job, one, receivers="32", unit_load="1")


@fault
def listener_on_a_dead_line(job: Job, rng: Random) -> Answer:
    """The unit that talked has been taken out."""
    one = _tapped(job, rng, "rs232", "rs422", "arinc429")
    return None if one is None else ("driver-without-listener", _said(job, one, drivers="0"))


@fault
def talker_that_nobody_hears(job: Job, rng: Random) -> Answer:
    """The unit sends into a line without listener."""
    one = _tapped(job, rng, "rs232", "rs422", "arinc429")
    if one is None or len({s.plug for s in p.stubs(job) if s.circuit in _circuits(job, one)}) > 1:
        return None
    _wants(job, one, direction="out")
    return "driver-without-listener", _said(job, one, drivers="0", receivers="0")


@fault
def two_audio_outputs_on_one_line(job: Job, rng: Random) -> Answer:
    """The warning horn of the unit on the line of the radio."""
    one = _tapped(job, rng, "audio")
    return None if one is None else ("paralleled-sources", _wants(job, one, direction="out"))


# -- loads and levels ----------------------------------------------------------------------------------------------


@fault
def input_too_low_for_the_sensor(job: Job, rng: Random) -> Answer:
    """10 kohm on a sensor of 100 ohm: 1 % off."""
    one = _tapped(job, rng, "analogue")
    return None if one is None else ("signal-load-too-heavy", _wants(job, one, input_resistance="10 kohm"))


@fault
def sensor_too_weak_for_the_input(job: Job, rng: Random) -> Answer:
    """A sensor of 20 kohm: 2 % off at 1 Mohm."""
    one = _tapped(job, rng, "analogue")
    return None if one is None else ("signal-load-too-heavy", _said(job, one, source_resistance="20 kohm"))


@fault
def two_receivers_load_a_serial_line(job: Job, rng: Random) -> Answer:
    """3 kohm beside 5 kohm."""
    one = _tapped(job, rng, "rs232")
    return None if one is None else ("signal-load-too-heavy", _wants(job, one, input_resistance="3 kohm"))


@fault
def second_pull_up_on_a_pulse_line(job: Job, rng: Random) -> Answer:
    """The unit pulls the line to 12 V, the old one to 5 V."""
    one = _tapped(job, rng, "pulse")
    if one is None:
        return None
    return "second-pull-up", _wants(job, one, pull_up="2.2 kohm", pull_up_supply="12 V")


@fault
def second_pull_up_on_a_sender(job: Job, rng: Random) -> Answer:
    """Two gauges feed one resistive sender."""
    one = _tapped(job, rng, "analogue")
    if one is None:
        return None
    for entry in _circuits(job, one).values():
        entry["pull-up"] = "200 ohm"
    return "second-pull-up", _wants(job, one, pull_up="1 kohm")


@fault
def unit_without_a_diode(job: Job, rng: Random) -> Answer:
    """Without its supply the unit holds the line down."""
    one = _tapped(job, rng, "discrete")
    return None if one is None else ("missing-isolation-diode", _wants(job, one, isolated="no"))


# -- what may not be teed ------------------------------------------------------------------------------------------


@fault
def microphone_line_teed(job: Job, rng: Random) -> Answer:
    """The audio line is that of a microphone."""
    one = _tapped(job, rng, "audio")
    return None if one is None else ("no-tee-class", _said(job, one, kind="mic"))


def becomes(job: Job, rng: Random, signal: str) -> list[str] | None:
    """Make a tapped line one of another class, of which nothing is stated; returns its names, the circuit first."""
    one = _tapped(job, rng, "discrete", "rs232", "audio", "pulse")
    if one is None:
        return None
    names = _names(job, one)
    for stub in [s for s in p.stubs(job) if s.circuit == one.circuit]:
        pin = job.pin(stub.pin)
        assert pin is not None
        for key in ("input resistance", "pull-up", "isolated", "terminator"):
            pin.pop(key, None)
        pin["signal"] = signal
        names.append(stub.pin)
    entry = job.airframe["circuits"][one.circuit]
    kept = {key: entry[key] for key in ("redundant",) if key in entry}
    entry.clear()
    entry |= {"signal": signal, **kept}
    return names


@fault
def network_line_teed(job: Job, rng: Random) -> Answer:
    """A point-to-point line with a tee in it."""
    names = becomes(job, rng, "ethernet")
    return None if names is None else ("no-tee-class", names)


@fault
def aerial_line_teed(job: Job, rng: Random) -> Answer:
    """A 50 ohm line with a tee in it."""
    names = becomes(job, rng, "rf")
    return None if names is None else ("no-tee-class", names)
