"""Faults that are easily missed: the copper is almost right, or the data almost say it."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus import tables as t
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import Job

BROKEN = "broken-through-circuit"


def _doubles(job: Job) -> list[p.Through]:
    """Through wires of circuits that stand on two cavities."""
    found = p.throughs(job)
    names = [f.circuit for f in found]
    return [f for f in found if names.count(f.circuit) > 1 and f.splice is None]


@fault
def one_of_two_parallel_wires_left_out(job: Job, rng: Random) -> Answer:
    """A feed on two cavities is led through on one: everything is joined, and one contact carries it all."""
    one = p.pick(rng, _doubles(job))
    if one is None:
        return None
    del job.wires()[one.first]
    return BROKEN, p.near(job, one)


@fault
def returns_of_one_stud_exchanged(job: Job, rng: Random) -> Answer:
    """Two returns that meet at a stud are crossed in the jumper."""
    found = [f for f in p.throughs(job) if f.signal == "ground"]
    studs = {f.circuit: job.airframe["circuits"][f.circuit].get("note") for f in found}
    both = [(a, b) for a in found for b in found if a.cavity < b.cavity and studs[a.circuit] == studs[b.circuit]]
    if not both:
        return None
    one, two = rng.choice(both)
    _, ref = job.halves()
    p.move(job, one.last, ref, f"{ref}-{two.cavity}")
    p.move(job, two.last, ref, f"{ref}-{one.cavity}")
    return BROKEN, [*p.near(job, one), *p.near(job, two)]


@fault
def shields_of_two_pairs_exchanged(job: Job, rng: Random) -> Answer:
    """The drains of two cables crossed."""
    found = [f for f in p.throughs(job) if f.signal == "shield"]
    if len(found) < 2:
        return None
    one, two = rng.sample(found, 2)
    _, ref = job.halves()
    p.move(job, one.last, ref, f"{ref}-{two.cavity}")
    p.move(job, two.last, ref, f"{ref}-{one.cavity}")
    return f"{BROKEN}|dropped-shield|drain-on-wrong-contact", [*p.near(job, one), *p.near(job, two), one.last, two.last]


def _spare(job: Job) -> str | None:
    """A spare cavity that the jumper does not lead through."""
    one, two = job.halves()
    free = [c for c in job.cavities(one) if c not in job.used(one) and c not in job.used(two)]
    return free[0] if free else None


@fault
def live_wire_onto_spare_cavity(job: Job, rng: Random) -> Answer:
    """A circuit led to a cavity that is spare on the other side; somebody has decided that spares end here."""
    spare = _spare(job)
    one = p.pick(rng, [f for f in p.throughs(job) if f.splice is None and f.signal != "shield"])
    if spare is None or one is None:
        return None
    _, ref = job.halves()
    p.move(job, one.last, ref, f"{ref}-{spare}")
    return BROKEN, p.near(job, one)


@fault
def wire_back_into_the_same_half(job: Job, rng: Random) -> Answer:
    """Both ends of a wire in one half: the other end went to a spare cavity beside it."""
    spare = _spare(job)
    one = p.pick(rng, [f for f in p.throughs(job) if f.splice is None and f.signal != "shield"])
    if spare is None or one is None:
        return None
    here, there = job.halves()
    p.move(job, one.last, there, f"{here}-{spare}")
    return BROKEN, p.near(job, one)


@fault
def no_contact_in_a_live_cavity(job: Job, rng: Random) -> Answer:
    """``contact: none`` where a wire ends."""
    one = p.pick(rng, [f for f in p.throughs(job) if f.signal != "shield"])
    if one is None:
        return None
    ref, _ = job.halves()
    job.jumper["connectors"][ref]["cavities"] = {one.cavity: {"contact": "none"}}
    return "dead-end-wire", [f"{ref}-{one.cavity}", one.first]


def _power_stub(job: Job, rng: Random) -> p.Stub | None:
    found = [s for s in p.stubs(job) if s.signal == "power" and len(job.at(s.start)) > 2]
    return rng.choice(found) if found else None


@fault
def tap_on_the_bus(job: Job, rng: Random) -> Answer:
    """The supply of the new unit taken from the bus itself: no breaker."""
    one = _power_stub(job, rng)
    if one is None:
        return None
    p.move(job, one.wire, one.start, "BUS1")
    return "pin-map-mismatch|thin-wire-behind-breaker", [one.pin, one.wire]


@fault
def tap_on_the_line_side(job: Job, rng: Random) -> Answer:
    """The supply taken from the wrong screw of the breaker."""
    one = _power_stub(job, rng)
    if one is None:
        return None
    p.move(job, one.wire, one.start, f"{job.airframe['circuits'][one.circuit]['breaker']}-line")
    return "pin-map-mismatch|thin-wire-behind-breaker", [one.pin, one.wire]


@fault
def breaker_known_at_the_cavity_only(job: Job, rng: Random) -> Answer:
    """Too large a breaker, and only the pin map names it."""
    one = p.pick(rng, [f for f in p.throughs(job) if f.signal == "power"])
    if one is None:
        return None
    breaker = job.airframe["circuits"][one.circuit].pop("breaker")
    wires = job.airframe["wires"]
    for name in [n for n, w in wires.items() if f"{breaker}-load" in (w["from"], w["to"])]:
        del wires[name]
    job.airframe["breakers"][breaker]["rating"] = "25 A"
    ref = rng.choice(job.opened())
    job.airframe["connectors"][ref]["cavities"][one.cavity] = {"circuit": one.circuit, "breaker": breaker}
    return "thin-wire-behind-breaker", [one.first, one.last, breaker]


@fault
def bus_with_another_voltage(job: Job, rng: Random) -> Answer:
    """The circuit is said to have 14 V, its breaker hangs on a bus of 115 V."""
    found = [s for s in p.stubs(job) if s.signal == "power"]
    if not found:
        return None
    one = rng.choice(found)
    breaker = job.airframe["circuits"][one.circuit]["breaker"]
    job.airframe["buses"]["BUS9"] = {"name": "other bus", "supply": "115 V"}
    job.airframe["breakers"][breaker]["bus"] = "BUS9"
    return "pin-map-mismatch", [one.pin, one.circuit]


@fault
def route_through_a_hot_zone(job: Job, rng: Random) -> Answer:
    """Both ends are cool, the way between them is not."""
    plugs = [r for r in job.plugs() if "route" in job.jumper["connectors"][r]]
    plug = p.choose(rng, plugs)
    if plug is None:
        return None
    job.airframe["zones"]["firewall"] = {"wet": "no", "ambient": "-30 C to 240 C"}
    job.airframe["routes"][job.jumper["connectors"][plug]["route"]]["zone"] = "firewall"
    return "wire-below-zone-temperature", [s.wire for s in p.stubs(job) if s.plug == plug]


@fault
def plug_like_one_in_the_aircraft(job: Job, rng: Random) -> Answer:
    """A new plug beside an existing disconnect with the same shell, insert and key."""
    there = [r for r, e in job.airframe["connectors"].items() if e["name"] == "second disconnect" and "mates" in e]
    plug = p.choose(rng, [r for r in job.plugs() if p.sealed(job, r)])
    if not there or plug is None:
        return None
    ref = there[0]
    mine = job.jumper["connectors"][plug]
    insert = t.insert_of(mine["part"])
    both = job.airframe["connectors"]
    other = both[both[ref]["mates"]]
    both[ref]["part"], other["part"] = mine["part"], t.part(insert, "receptacle", "pin", t.key_of(mine["part"]))
    for entry in (both[ref], other):
        entry["zone"], entry["contacts"] = mine["zone"], t.contact_of(entry["part"])
        entry["plugs"] = t.PLUGS[t.INSERTS[insert].size]
        names = t.INSERTS[insert].cavities
        entry["cavities"] = {**dict.fromkeys(names, "spare"), names[2]: next(iter(_carried(job, ref)), "spare")}
    return "exchangeable-plugs", [plug, ref]


def _carried(job: Job, ref: str) -> list[str]:
    said = job.airframe["connectors"][ref]["cavities"].values()
    return [one for one in said if isinstance(one, str) and one not in ("spare", "unknown")]


@fault
def plugs_mated_crosswise(job: Job, rng: Random) -> Answer:
    """Two plugs listed against each other's receptacle."""
    plugs = job.plugs()
    if len(plugs) < 2:
        return None
    one, two = rng.sample(plugs, 2)
    a, b = job.jumper["connectors"][one], job.jumper["connectors"][two]
    a["mates"], b["mates"] = b["mates"], a["mates"]
    return "wrong-mate", [one, two]


@fault
def drain_in_a_cable_without_shield(job: Job, rng: Random) -> Answer:
    """The cable that was ordered has no shield; the list still leads its drain."""
    cables = sorted({w["cable"] for w in job.wires().values() if w.get("core") == "drain"})
    cable = p.choose(rng, cables)
    if cable is None:
        return None
    job.jumper["cables"][cable]["type"] = job.jumper["cables"][cable]["type"].replace("T14", "U00")
    drains = [n for n, w in job.wires().items() if w.get("cable") == cable]
    return "floating-shield|dropped-shield", [cable, *drains]


@fault
def receptacle_known_by_its_mate_only(job: Job, rng: Random) -> Answer:
    """The maker gives no part number, only the number of the plug; the kit has another key."""
    plug = p.choose(rng, [r for r in job.plugs() if p.sealed(job, r)])
    if plug is None:
        return None
    box = job.connectors()[job.mates()[plug]]
    number = box.pop("part")
    entry = job.jumper["connectors"][plug]
    entry["part"] = entry["part"][:-1] + rng.choice([k for k in "NABCDE" if k != number[-1]])
    return "wrong-mate", [plug, job.mates()[plug]]
