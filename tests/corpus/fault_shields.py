"""Faults of shields and twisted pairs."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus import tables as t
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import Job

BUSES = frozenset({"can", "arinc429", "rs422", "rs485"})


def _drains(job: Job) -> dict[str, str]:
    """Cable to its drain wire."""
    return {w["cable"]: name for name, w in job.wires().items() if w.get("core") == "drain"}


def _cores(job: Job, cable: str) -> list[str]:
    return [n for n, w in job.wires().items() if w.get("cable") == cable and w.get("core") != "drain"]


@fault
def shield_of_a_trunk_cable_not_wired(job: Job, rng: Random) -> Answer:
    """The drain of a cable in the trunk is forgotten."""
    shields = [f for f in p.throughs(job) if f.signal == "shield"]
    one = p.pick(rng, shields)
    if one is None:
        return None
    wire = rng.choice((one.first, one.last))
    del job.wires()[wire]
    return "dropped-shield", [wire, *p.near(job, one), one.circuit]


@fault
def shield_of_a_stub_not_wired(job: Job, rng: Random) -> Answer:
    """The drain of the stub is forgotten."""
    found = [s for s in p.stubs(job) if s.signal == "shield"]
    if not found:
        return None
    one = rng.choice(found)
    cable = job.wires()[one.wire]["cable"]
    del job.wires()[one.wire]
    return "floating-shield", [cable]


@fault
def new_cable_with_loose_shield(job: Job, rng: Random) -> Answer:
    """A single wire replaced by a shielded one, of which nobody wired the shield."""
    one = p.pick(rng, [f for f in p.throughs(job) if f.splice is None and f.signal in ("discrete", "rs232", "analogue")
                       and "cable" not in job.wires()[f.first]])  # fmt: skip
    if one is None:
        return None
    wire = job.wires()[one.first]
    job.jumper.setdefault("cables", {})["C990"] = {"type": "M27500-22TG1T14", "length": wire["length"]}
    for key in ("type", "colour", "gauge"):
        wire.pop(key, None)
    wire |= {"cable": "C990", "core": "white", "untwisted": "20 mm"}
    return "floating-shield", ["C990"]


@fault
def shield_grounded_at_both_ends(job: Job, rng: Random) -> Answer:
    """The new box grounds its end as well."""
    found = [s for s in p.stubs(job) if s.signal == "shield"]
    one_end = [s for s in found if job.airframe["circuits"][s.circuit]["shield ends"] == "one"]
    if not one_end:
        return None
    one = rng.choice(one_end)
    said = job.pin(one.pin)
    assert said is not None
    said["grounded"] = "yes"
    return "wrong-shield-ends", [one.circuit, one.pin]


@fault
def shield_ends_otherwise_than_wanted(job: Job, rng: Random) -> Answer:
    """The circuit wants other ends grounded than are."""
    shields = [f for f in p.throughs(job) if f.signal == "shield"]
    one = p.pick(rng, shields)
    if one is None:
        return None
    said = job.airframe["circuits"][one.circuit]
    said["shield ends"] = {"one": "both", "both": "one", "none": "one"}[said["shield ends"]]
    return "wrong-shield-ends", [one.circuit]


@fault
def drain_and_core_exchanged(job: Job, rng: Random) -> Answer:
    """Drain and core of one cable crossed at one half."""
    _, ref = job.halves()
    found = p.throughs(job)
    shields = [f for f in found if f.signal == "shield"]
    one = p.pick(rng, shields)
    if one is None:
        return None
    cable = job.wires()[one.last]["cable"]
    mates = [f for f in found if f.last in _cores(job, cable)]
    if not mates:
        return None
    two = rng.choice(mates)
    p.move(job, one.last, ref, f"{ref}-{two.cavity}")
    p.move(job, two.last, ref, f"{ref}-{one.cavity}")
    return "drain-on-wrong-contact", [cable, one.last, two.last, f"{ref}-{two.cavity}", f"{ref}-{one.cavity}"]


@fault
def drain_on_supply_pin(job: Job, rng: Random) -> Answer:
    """Drain and supply crossed at the equipment."""
    found = p.stubs(job)
    drains = [s for s in found if s.signal == "shield"]
    supplies = [s for s in found if s.signal == "power"]
    both = [(d, s) for d in drains for s in supplies if d.plug == s.plug]
    if not both:
        return None
    one, two = rng.choice(both)
    p.move(job, one.wire, one.plug, f"{two.plug}-{two.cavity}")
    p.move(job, two.wire, two.plug, f"{one.plug}-{one.cavity}")
    return "drain-on-wrong-contact", [one.wire, f"{two.plug}-{two.cavity}", two.pin]


@fault
def split_pair(job: Job, rng: Random) -> Answer:
    """One conductor of a pair led as a single wire."""
    pairs = {n for n, c in job.airframe["circuits"].items() if "pair" in c and c["signal"] in BUSES | {"analogue"}}
    found = [f for f in p.throughs(job) if f.circuit in pairs]
    one = p.pick(rng, found)
    if one is None:
        return None
    wire = job.wires()[rng.choice((one.first, one.last))]
    length = wire.get("length") or job.jumper["cables"][wire["cable"]]["length"]
    for key in ("cable", "core", "untwisted"):
        wire.pop(key, None)
    wire |= {"type": "M22759/16-22-9", "length": length, "bundle": "main"}
    return "split-pair", [one.first, one.last, one.circuit]


@fault
def cores_of_two_pairs_mixed(job: Job, rng: Random) -> Answer:
    """Two pairs in two cables, one conductor of each in the wrong one: every wire goes where it should."""
    by: dict[str, list[str]] = {}
    for f in p.throughs(job):
        if f.signal in BUSES:
            by.setdefault(job.wires()[f.last].get("cable", ""), []).append(f.last)
    whole = [wires for cable, wires in sorted(by.items()) if cable and len(wires) == 2]
    if len(whole) < 2:
        return None
    one, two = rng.sample(whole, 2)
    a, b = job.wires()[one[1]], job.wires()[two[1]]
    for key in ("cable", "core"):
        a[key], b[key] = b[key], a[key]
    return "split-pair", [*one, *two]


@fault
def pair_apart_at_the_equipment(job: Job, rng: Random) -> Answer:
    """The maker's pins of a pair stand far apart."""
    for plug in job.plugs():
        insert = t.insert_of(job.connectors()[plug]["part"])
        if insert in t.NO_FACE:
            continue
        pair = [s for s in p.stubs(job) if s.plug == plug and s.signal in BUSES | {"analogue"} and "cable" in
                job.wires()[s.wire]]  # fmt: skip
        free = [c for c in job.cavities(plug) if c not in job.used(plug)]
        mate = job.mates()[plug]
        free = [c for c in free if job.pin(f"{mate}-{c}") is None]
        if len(pair) < 2 or not free:
            continue
        one, other = pair[0], pair[1]
        far = [c for c in free if _far(insert, c, other.cavity)]
        if not far:
            continue
        to = rng.choice(far)
        box = job.connectors()[mate]["pins"]
        box[to] = box.pop(one.cavity)
        job.jumper["taps"][f"{mate}-{to}"] = job.jumper["taps"].pop(one.pin)
        p.move(job, one.wire, plug, f"{plug}-{to}")
        return "pair-apart", [f"{plug}-{to}", f"{plug}-{other.cavity}", plug]
    return None


SPOTS = {
    "11-35": {
        "1": (0, 72), "2": (41, 55), "3": (67, 21), "4": (65, -26), "5": (43, -56), "6": (0, -70), "7": (-40, -56),
        "8": (-67, -26), "9": (-68, 21), "10": (-43, 55), "11": (0, 23), "12": (25, -20), "13": (-22, -20),
    },
    "9-35": {"1": (36, 60), "2": (60, -29), "3": (4, -62), "4": (-50, -29), "5": (-26, 60), "6": (4, 0)},
}  # fmt: skip
"""Cavity positions in hundredths of the insert radius, typed from the catalogue drawing."""


def _far(insert: str, one: str, two: str) -> bool:
    """True when two cavities are certainly no neighbours."""
    if insert in SPOTS:
        (x, y), (u, v) = SPOTS[insert][one], SPOTS[insert][two]
        return ((x - u) ** 2 + (y - v) ** 2) ** 0.5 > 90
    rows = t.INSERTS[insert].rows
    return bool(rows) and (int(one) <= rows[0]) == (int(two) <= rows[0]) and abs(int(one) - int(two)) > 2


@fault
def untwisted_too_long(job: Job, rng: Random) -> Answer:
    """80 mm of a pair fanned out."""
    cores = [n for n, w in job.wires().items() if "untwisted" in w and w.get("core") != "drain"]
    name = p.choose(rng, cores)
    if name is None:
        return None
    job.wires()[name]["untwisted"] = "80 mm"
    return "untwisted-length", [name, job.wires()[name]["cable"]]
