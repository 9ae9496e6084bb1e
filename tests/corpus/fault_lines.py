"""Faults of thermocouple runs and of lines with one talker (NMEA 0183)."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus.fault_signals import becomes
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import Job


@fault
def thermocouple_in_copper(job: Job, rng: Random) -> Answer:
    """The circuit is a thermocouple, and the kit leads it in copper wire."""
    return _thermocouple(job, rng, None)


@fault
def thermocouple_in_another_alloy(job: Job, rng: Random) -> Answer:
    """Type K, led in wire of type J from the next reel."""
    return _thermocouple(job, rng, "J")


@fault
def thermocouple_through_plain_contacts(job: Job, rng: Random) -> Answer:
    """The wire is right, and its contacts are those of every other wire."""
    return _thermocouple(job, rng, "K")


def _thermocouple(job: Job, rng: Random, alloy: str | None) -> Answer:
    found = [f for f in p.throughs(job) if f.splice is None and f.signal in ("discrete", "pulse", "audio", "rs232")]
    one = p.pick(rng, found)
    if one is None:
        return None
    entry = job.airframe["circuits"][one.circuit]
    entry.clear()
    entry |= {"signal": "thermocouple", "alloy": "K", "line": "+"}
    for name in {one.first, one.last} if alloy else ():
        job.wires()[name]["alloy"] = alloy
    return "copper-in-alloy-run", [one.circuit, one.first, one.last, *p.near(job, one)]


def _talker(job: Job, rng: Random, **facts: str) -> list[str] | None:
    """A line of one talker, with two listeners of the aircraft; each new one takes 3 mA."""
    names = becomes(job, rng, "nmea0183")
    if names is None:
        return None
    job.airframe["circuits"][names[0]] |= {"drivers": "1", "receivers": "2", "rate": "4800 bit/s"}
    job.airframe["circuits"][names[0]] |= {key.replace("_", " "): value for key, value in facts.items()}
    for stub in [s for s in p.stubs(job) if s.circuit == names[0]]:
        pin = job.pin(stub.pin)
        assert pin is not None
        pin |= {"direction": "in", "current": "3 mA", "rate": "4800 bit/s"}
    return names


@fault
def listeners_take_more_than_the_talker_gives(job: Job, rng: Random) -> Answer:
    """Two old listeners at 2 mA and a new one at 3 mA on a talker of 5 mA."""
    names = _talker(job, rng, driver_current="5 mA")
    return None if names is None else ("signal-load-too-heavy", names)


@fault
def one_listener_too_many_for_the_talker(job: Job, rng: Random) -> Answer:
    """The maker of the talker allows two."""
    names = _talker(job, rng, most_receivers="2")
    return None if names is None else ("too-many-receivers", names)
