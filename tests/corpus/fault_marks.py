"""Faults of marks and colours."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import Job


@fault
def no_mark(job: Job, rng: Random) -> Answer:
    """One new wire without a mark."""
    wires = [n for n, w in job.wires().items() if w.get("core") != "drain"]
    name = p.choose(rng, wires)
    if name is None:
        return None
    job.wires()[name]["mark"] = "none"
    return "missing-wire-mark", [name]


@fault
def same_mark_twice(job: Job, rng: Random) -> Answer:
    """Two new wires with one mark."""
    wires = [n for n, w in job.wires().items() if w.get("core") != "drain"]
    if len(wires) < 2:
        return None
    one, two = rng.sample(wires, 2)
    job.wires()[one]["mark"] = two
    return "duplicate-wire-mark", [one, two]


@fault
def mark_of_an_existing_wire(job: Job, rng: Random) -> Answer:
    """A new wire with the number of a wire that is there."""
    wires = [n for n, w in job.wires().items() if w.get("core") != "drain"]
    there = list(job.airframe.get("wires", {}))
    if not wires or not there:
        return None
    one = rng.choice(wires)
    job.wires()[one]["mark"] = rng.choice(there).lower()
    return "duplicate-wire-mark", [one]


@fault
def two_cores_of_one_colour(job: Job, rng: Random) -> Answer:
    """Two white cores in one cable."""
    by: dict[str, list[str]] = {}
    for name, wire in job.wires().items():
        if wire.get("core") not in (None, "drain"):
            by.setdefault(wire["cable"], []).append(name)
    whole = [cores for cores in by.values() if len(cores) > 1]
    if not whole:
        return None
    cores = rng.choice(whole)
    job.wires()[cores[1]]["core"] = job.wires()[cores[0]]["core"]
    return "colour-clash", cores[:2]


@fault
def two_bare_wires_of_one_colour(job: Job, rng: Random) -> Answer:
    """Two unmarked wires of one colour in one bundle, of a length that needs no mark."""
    alone = [f.first for f in p.throughs(job) if f.splice is None and "cable" not in job.wires()[f.first]]
    wires = [name for name in alone if job.wires()[name].get("bundle") == "main"]
    if len(wires) < 2:
        return None
    one, two = rng.sample(wires, 2)
    for name in (one, two):
        entry = job.wires()[name]
        entry["type"] = f"{entry['type'].rpartition('-')[0]}-9"
        entry.pop("colour", None)
        entry |= {"mark": "none", "length": "70 mm"}
    return "colour-clash", [one, two]
