"""A supply pin of the new equipment has no way back to ground.

What
    For every supply pin the pin by which its current comes back (returns: at the pin, else the only ground pin) must be
    joined by copper to a ground stud of the aircraft or to a circuit of class ground. A return that is not wired, or
    that ends nowhere, or on a circuit that is no ground, is a fault.

Why it matters
    The current finds another way: through a shield, a data line or the mounting screws, and destroys what it passes.

Source
    A circuit is closed: that is no number. AC 43.13-1B Chg 1, par. 11-185 to 11-188, asks for a return of its own for
    each load (common practice here).

What to do
    Wire the return pin to the return circuit or the stud that belongs to its supply.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._power import CAUSES, at, copper_of, live, named
from harnesscheck.checks._words import several
from harnesscheck.device import Device, Pin
from harnesscheck.electrics.consumers import Consumer, return_pins
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("", Status.COMMON, paragraph="every load has a way back to ground; AC 43.13-1B par. 11-185 to 11-188")
FOLLOWS = (*CAUSES, "dead-end-wire")
BACK = ("ground", "signal ground")
"""Classes that lead to ground; that a signal ground is no return for a load is another check's business."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every supply pin of the new equipment; one finding for each."""
    net = live(harness)
    if net is None:
        return
    good = 0
    for consumer in net.consumers:
        pin = consumer.pin
        if pin is None:
            continue
        device = next(d for d in harness.devices.values() if pin in d.pins)
        answer = _one(harness, consumer, pin, device)
        if answer is None:
            good += 1
        else:
            yield answer
    yield Passed(good, "supply pins with a way back")


def _one(harness: Harness, consumer: Consumer, pin: Pin, device: Device) -> Answer | None:
    backs = return_pins(device, pin)
    place = at(pin.point, pin.place)
    if not backs:
        return NotChecked(
            place=place,
            missing=f"by which pin the current of {named(consumer)} comes back is not stated: it has no ground pin",
            remedy="give returns: at the pin",
        )
    states = [_way(harness, back) for back in backs]
    if True in states:
        return None if all(states) else _partly(consumer, pin, backs, states)
    if None in states:
        names = several(str(back.point) for back in backs)
        return NotChecked(
            place=place,
            missing=f"where the return at {names} leads is not known: no stud, no circuit of a known class",
            remedy="give the circuit of the cavity it leads to, with signal: ground, or list the wire to the stud",
        )
    names = several(f"{back.point} ({back.function})" for back in backs)
    return Finding(
        headline=f"{named(consumer)} has no return: {names} leads to no ground",
        place=place,
        others=tuple(at(back.point, back.place) for back in backs),
        value=f"{names}: {_reached(harness, backs)}",
        limit="a ground stud or a return circuit of the aircraft",
        remedy="wire the return pin to the return that belongs to its supply",
    )


def _partly(consumer: Consumer, pin: Pin, backs: list[Pin], states: list[bool | None]) -> Answer:
    """Several ground pins, and not all of them wired: which one carries the current is for the maker to say."""
    loose = several(str(back.point) for back, state in zip(backs, states, strict=True) if not state)
    return NotChecked(
        place=at(pin.point, pin.place),
        missing=f"{named(consumer)} may return by {loose} as well, which leads to no ground that is known",
        remedy="give returns: at the pin",
    )


def _way(harness: Harness, back: Pin) -> bool | None:
    """Whether a return pin leads to ground; None when its copper ends in cavities of which nothing is said."""
    here = copper_of(harness, back.point)
    if here is None or not here.new:
        return False
    if here.grounds or any(circuit.signal in BACK for circuit in here.circuits.values()):
        return True
    if any(circuit.signal is None for circuit in here.circuits.values()) or (here.unsaid and not here.circuits):
        return None
    return False


def _reached(harness: Harness, backs: list[Pin]) -> str:
    names: list[str] = []
    for back in backs:
        here = copper_of(harness, back.point)
        assert here is not None  # a pin is a cavity of its connector
        names += here.circuits
        names += [f"{pin.point}" for pin in here.pins if pin.point != back.point]
    return f"joined to {several(names)}" if names else "not joined to anything"
