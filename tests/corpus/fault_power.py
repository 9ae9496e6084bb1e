"""Faults of supply as current flows: drop, heat, breakers, sources, supply range, returns, double feeds."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import File, Job

FED = ("power", "lighting")


def _fed(job: Job, rng: Random) -> tuple[p.Stub, File, str] | None:
    """A supply pin that is wired, what it wants, and its breaker."""
    found = [s for s in p.stubs(job) if s.signal in FED]
    one = rng.choice(found) if found else None
    pin = job.pin(one.pin) if one else None
    if one is None or pin is None:
        return None
    return one, pin, str(job.airframe["circuits"][one.circuit]["breaker"])


def _names(job: Job, one: p.Stub, *more: str) -> list[str]:
    """By what a finding may name a supply: its circuit, every pin on it, its wires."""
    mine = [s for s in p.stubs(job) if s.circuit == one.circuit]
    return [one.circuit, f"load of {one.circuit}", *(s.pin for s in mine), *(s.wire for s in mine), *more]


def _rating(job: Job, breaker: str) -> float:
    return float(job.airframe["breakers"][breaker]["rating"].split()[0])


def _feed_wire(job: Job, breaker: str) -> str | None:
    """The existing wire at the load side of a breaker."""
    end = f"{breaker}-load"
    return next((n for n, w in job.airframe["wires"].items() if end in (w["from"], w["to"])), None)


def _return(job: Job, one: p.Stub) -> p.Stub | None:
    """The stub of the ground pin at the same plug."""
    return next((s for s in p.stubs(job) if s.signal == "ground" and s.plug == one.plug), None)


@fault
def unit_draws_more_than_its_breaker(job: Job, rng: Random) -> Answer:
    """The new unit alone is too much."""
    found = _fed(job, rng)
    if found is None:
        return None
    one, pin, breaker = found
    pin |= {"current": f"{_rating(job, breaker) * 1.2:g} A", "peak": f"{_rating(job, breaker) * 1.3:g} A"}
    return "breaker-overloaded", _names(job, one, breaker)


@fault
def breaker_full_already(job: Job, rng: Random) -> Answer:
    """What hangs on the breaker leaves no room."""
    found = _fed(job, rng)
    if found is None:
        return None
    one, _, breaker = found
    job.airframe["loads"]["HEATER"] = {
        "bus": "BUS1", "breaker": breaker, "current": f"{_rating(job, breaker) * 0.99:g} A"}  # fmt: skip
    return "breaker-overloaded", [*_names(job, one, breaker), "HEATER"]


@fault
def breaker_over_80_percent(job: Job, rng: Random) -> Answer:
    """Within the rating, above the share that common practice leaves."""
    found = _fed(job, rng)
    if found is None:
        return None
    one, _, breaker = found
    rating = _rating(job, breaker)
    mine = [s for s in p.stubs(job) if job.airframe["circuits"][s.circuit].get("breaker") == breaker]
    drawn = sum(float(str((job.pin(s.pin) or {})["current"]).split()[0]) for s in mine)
    job.airframe["loads"]["FAN"] = {"bus": "BUS1", "breaker": breaker, "current": f"{rating * 0.84 - drawn:.2f} A"}
    return "breaker-overloaded", [*_names(job, one, breaker), "FAN"]


@fault
def feed_of_the_aircraft_very_long(job: Job, rng: Random) -> Answer:
    """The existing feed is much longer than it was thought to be."""
    found = _fed(job, rng)
    wire = _feed_wire(job, found[2]) if found else None
    if found is None or wire is None:
        return None
    job.airframe["wires"][wire]["length"] = "400 m"
    return "excess-voltage-drop", _names(job, found[0], wire)


@fault
def stub_of_the_supply_very_long(job: Job, rng: Random) -> Answer:
    """The way from splice to unit is long and thin."""
    found = _fed(job, rng)
    if found is None or "cable" in job.wires()[found[0].wire]:
        return None
    job.wires()[found[0].wire]["length"] = "300 m"
    return "excess-voltage-drop", _names(job, found[0])


@fault
def return_very_long(job: Job, rng: Random) -> Answer:
    """The supply is short; the way back is not."""
    found = _fed(job, rng)
    back = _return(job, found[0]) if found else None
    if found is None or back is None or "cable" in job.wires()[back.wire]:
        return None
    job.wires()[back.wire]["length"] = "300 m"
    return "excess-voltage-drop", _names(job, found[0], back.wire, back.pin)


@fault
def drop_by_the_peak_alone(job: Job, rng: Random) -> Answer:
    """The continuous current is harmless; for a minute it is too much for the run."""
    found = _fed(job, rng)
    wire = _feed_wire(job, found[2]) if found else None
    if found is None or wire is None:
        return None
    job.airframe["wires"][wire]["length"] = "40 m"
    found[1].update({"current": "0.01 A", "peak": f"{_rating(job, found[2]) * 0.85:g} A"})
    return "excess-voltage-drop", _names(job, found[0], wire)


@fault
def wire_at_its_temperature_limit(job: Job, rng: Random) -> Answer:
    """2 A where the surroundings are as hot as the wire may be."""
    found = _fed(job, rng)
    if found is None:
        return None
    found[1].update({"current": "2 A", "peak": "2 A"})
    for zone in job.airframe["zones"].values():
        zone["ambient"] = "-30 C to 149.7 C"
    return "over-ampacity", [*_names(job, found[0]), *job.wires(), *job.airframe["wires"]]


@fault
def breaker_lets_more_flow_than_a_hot_wire_carries(job: Job, rng: Random) -> Answer:
    """The loads are small; what the breaker holds for an hour is not."""
    found = _fed(job, rng)
    if found is None:
        return None
    for zone in job.airframe["zones"].values():
        zone["ambient"] = "-30 C to 143 C"
    return "breaker-trip-band", list(job.wires())


@fault
def alternator_too_small(job: Job, rng: Random) -> Answer:
    """An alternator of 12 A."""
    found = _fed(job, rng)
    if found is None:
        return None
    job.airframe["sources"]["ALT1"]["rating"] = "12 A"
    return "source-overloaded", [*_names(job, found[0]), "ALT1", "BUS1"]


@fault
def heavy_load_in_one_phase(job: Job, rng: Random) -> Answer:
    """De-icing in climb and cruise."""
    found = _fed(job, rng)
    if found is None:
        return None
    job.airframe["loads"]["PITOT HEAT"]["current"] = "55 A"
    return "source-overloaded", [*_names(job, found[0]), "ALT1", "BUS1", "PITOT HEAT"]


@fault
def regulator_set_too_high(job: Job, rng: Random) -> Answer:
    """Above what the unit stands."""
    found = _fed(job, rng)
    if found is None:
        return None
    job.airframe["sources"]["ALT1"]["high"] = "33 V"
    return "supply-outside-range", _names(job, found[0], "ALT1", "BUS1")


@fault
def battery_falls_below_the_unit(job: Job, rng: Random) -> Answer:
    """The bus sags to 8 V in normal running."""
    found = _fed(job, rng)
    if found is None:
        return None
    job.airframe["sources"]["ALT1"]["low"] = "8 V"
    return "supply-outside-range", _names(job, found[0], "ALT1", "BUS1")


@fault
def surge_above_the_unit(job: Job, rng: Random) -> Answer:
    """In abnormal running the bus gives more than the unit stands."""
    found = _fed(job, rng)
    if found is None:
        return None
    for stub in p.stubs(job):
        if stub.signal in FED and (pin := job.pin(stub.pin)) is not None:
            pin["abnormal"] = "6 V to 40 V"
    job.airframe["sources"]["ALT1"]["abnormal"] = "8 V to 60 V"
    pins = [s.pin for s in p.stubs(job) if s.signal in FED]
    return "supply-outside-range", [*_names(job, found[0], "ALT1", "BUS1"), *pins]


@fault
def return_pin_left_open(job: Job, rng: Random) -> Answer:
    """The ground pin is called optional and is not wired."""
    found = _fed(job, rng)
    back = _return(job, found[0]) if found else None
    if found is None or back is None or len(job.at(back.start)) < 3:
        return None
    pin = job.pin(back.pin)
    assert pin is not None
    pin["required"] = "no"
    del job.wires()[back.wire], job.jumper["taps"][back.pin]
    return "no-return", _names(job, found[0], back.pin)


@fault
def supply_returns_by_a_signal_ground(job: Job, rng: Random) -> Answer:
    """The return that is tapped is the ground of the sensors."""
    found = _fed(job, rng)
    back = _return(job, found[0]) if found else None
    if found is None or back is None or back.start in job.airframe["grounds"]:
        return None  # at the stud itself the current is in no signal ground
    job.airframe["circuits"][back.circuit]["signal"] = "signal ground"
    return "shared-sensor-return", _names(job, found[0], back.pin, back.circuit, back.wire)


@fault
def bond_of_the_stud_bad(job: Job, rng: Random) -> Answer:
    """Corrosion under the stud."""
    found = _fed(job, rng)
    back = _return(job, found[0]) if found else None
    if found is None or back is None:
        return None
    stud = job.airframe["circuits"][back.circuit]["note"]
    job.airframe["grounds"][stud]["bond"] = "14 mohm"
    return "long-ground-path", [stud, back.pin]


@fault
def feed_from_the_bus_side_of_the_breaker(job: Job, rng: Random) -> Answer:
    """The feed is on the wrong terminal of its breaker."""
    found = _fed(job, rng)
    wire = _feed_wire(job, found[2]) if found else None
    if found is None or wire is None:
        return None
    entry = job.airframe["wires"][wire]
    entry["from" if entry["from"].startswith(found[2]) else "to"] = f"{found[2]}-line"
    return "tap-upstream-of-protector", _names(job, found[0], found[2])


@fault
def second_breaker_on_the_same_copper(job: Job, rng: Random) -> Answer:
    """Somebody has joined two feeds in the aircraft."""
    found = _fed(job, rng)
    wire = _feed_wire(job, found[2]) if found else None
    if found is None or wire is None:
        return None
    entry = job.airframe["wires"][wire]
    far = entry["to"] if entry["from"].startswith(found[2]) else entry["from"]
    job.airframe["buses"]["BUS2"] = {"name": "second bus", "supply": job.airframe["buses"]["BUS1"]["supply"]}
    job.airframe["breakers"]["CB990"] = {"name": "SECOND", "rating": "5 A", "bus": "BUS2"}
    job.airframe["wires"]["X990A20"] = {
        "from": "CB990-load", "to": far, "type": "M22759/16-20-9", "length": "900 mm"}  # fmt: skip
    return "double-feed", [*_names(job, found[0], found[2]), "CB990", "X990A20", *job.at(found[0].start)]
