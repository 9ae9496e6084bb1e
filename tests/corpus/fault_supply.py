"""Faults of supply, protection, grounds and ratings."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus import tables as t
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import Job

THIN = "thin-wire-behind-breaker"


def _breaker(job: Job, rng: Random) -> tuple[str, p.Through] | None:
    found = [f for f in p.throughs(job) if f.signal in p.SUPPLY]
    one = p.pick(rng, found)
    return None if one is None else (str(job.airframe["circuits"][one.circuit]["breaker"]), one)


@fault
def breaker_too_large(job: Job, rng: Random) -> Answer:
    """Somebody has fitted the next larger breakers."""
    found = _breaker(job, rng)
    if found is None:
        return None
    breaker, one = found
    job.airframe["breakers"][breaker]["rating"] = rng.choice(("25 A", "35 A", "20.5 A"))
    return THIN, [breaker, one.first, one.last]


@fault
def trunk_wire_too_thin_for_breaker(job: Job, rng: Random) -> Answer:
    """One new wire of a supply is too thin for its breaker."""
    found = _breaker(job, rng)
    if found is None:
        return None
    breaker, one = found
    rating = float(job.airframe["breakers"][breaker]["rating"].split()[0])
    thin = [g for g, most in t.BREAKER.items() if most < rating] or [24]
    job.wires()[one.last]["type"] = f"M22759/16-{max(g for g in thin)}-9"
    job.wires()[one.last].pop("gauge", None)
    return THIN, [one.last]


@fault
def tap_too_thin_for_breaker(job: Job, rng: Random) -> Answer:
    """The stub of a supply is too thin for its breaker."""
    found = [s for s in p.stubs(job) if s.signal == "power" and "cable" not in job.wires()[s.wire]]
    if not found:
        return None
    one = rng.choice(found)
    job.wires()[one.wire]["type"] = "M22759/16-24-9"
    job.wires()[one.wire].pop("gauge", None)
    return THIN, [one.wire]


@fault
def existing_wire_too_thin_for_breaker(job: Job, rng: Random) -> Answer:
    """The wire that is in the aircraft is too thin."""
    found = _breaker(job, rng)
    if found is None:
        return None
    breaker, _ = found
    for name, wire in job.airframe["wires"].items():
        if f"{breaker}-load" in (wire["from"], wire["to"]):
            wire["type"] = "M22759/16-24-9"
            return THIN, [name, breaker]
    return None


@fault
def thinner_tap_and_breaker_not_known(job: Job, rng: Random) -> Answer:
    """The pin map knows a thick wire, nobody knows the breaker, the new wire is thinner."""
    found = _breaker(job, rng)
    if found is None:
        return None
    breaker, one = found
    del job.airframe["circuits"][one.circuit]["breaker"]
    airframe = job.airframe["wires"]
    for name in [n for n, w in airframe.items() if f"{breaker}-load" in (w["from"], w["to"])]:
        del airframe[name]
    cavities = job.airframe["connectors"][job.opened()[0]]["cavities"]
    cavities[one.cavity] = {"circuit": one.circuit, "gauge": "12 AWG"}
    return "gauge-change-without-protector", [one.first, one.last, one.circuit, f"{job.opened()[0]}-{one.cavity}"]


@fault
def insulation_below_voltage(job: Job, rng: Random) -> Answer:
    """Wire for 10 V on a 14 V or 28 V circuit."""
    found = _breaker(job, rng)
    if found is None:
        return None
    _, one = found
    gauge = job.wires()[one.first]["type"].split("-")[1]
    p.shop_part(job, "M22759/41", "wire", volts="10 V", temperature="200 C")
    p.shop_part(job, f"M22759/41-{gauge}", "wire size", od=t.OD[int(gauge)])
    job.wires()[one.first]["type"] = f"M22759/41-{gauge}-9"
    return "wire-below-circuit-voltage", [one.first, one.circuit]


@fault
def circuit_above_insulation(job: Job, rng: Random) -> Answer:
    """A supply of 700 V on ordinary wire."""
    found = _breaker(job, rng)
    if found is None:
        return None
    _, one = found
    job.airframe["circuits"][one.circuit]["supply"] = "700 V"
    return "wire-below-circuit-voltage", [one.first, one.last, one.circuit]


@fault
def zone_hotter_than_wire(job: Job, rng: Random) -> Answer:
    """The zone of the jumper is beside the exhaust."""
    one, _ = job.halves()
    zone = job.jumper["connectors"][one]["zone"]
    job.airframe["zones"][zone]["ambient"] = "-30 C to 210 C"
    return "wire-below-zone-temperature", [*job.wires(), zone]


@fault
def wire_below_temperature(job: Job, rng: Random) -> Answer:
    """One wire of a type for 60 C."""
    found = [f for f in p.throughs(job) if "cable" not in job.wires()[f.first]]
    one = p.pick(rng, found)
    if one is None:
        return None
    gauge = job.wires()[one.first]["type"].split("-")[1]
    p.shop_part(job, "M22759/41", "wire", volts="600 V", temperature="40 C")
    p.shop_part(job, f"M22759/41-{gauge}", "wire size", od=t.OD[int(gauge)])
    job.wires()[one.first]["type"] = f"M22759/41-{gauge}-9"
    return "wire-below-zone-temperature", [one.first]


def _stud_with_new_wire(job: Job) -> list[tuple[str, str]]:
    """(stud, new wire) for every new wire on a stud."""
    studs = job.airframe.get("grounds", {})
    return [(w[k], name) for name, w in job.wires().items() for k in ("from", "to") if w[k] in studs]


def _onto_stud(job: Job, rng: Random) -> tuple[str, str] | None:
    """A return that ends at the stud in the frame: one that does already, or a tap moved there from its splice."""
    found = _stud_with_new_wire(job)
    if found:
        return rng.choice(found)
    for stub in p.stubs(job):
        stud = job.airframe["circuits"][stub.circuit].get("note", "")
        if stub.signal == "ground" and stud in job.airframe.get("grounds", {}) and len(job.at(stub.start)) > 2:
            p.move(job, stub.wire, stub.start, stud)
            return stud, stub.wire
    return None


@fault
def crowded_stud(job: Job, rng: Random) -> Answer:
    """The stud holds four terminals already."""
    found = _onto_stud(job, rng)
    if found is None:
        return None
    job.airframe["grounds"][found[0]]["terminals"] = "4"
    return "crowded-stud", list(found)


@fault
def power_return_on_signal_stud(job: Job, rng: Random) -> Answer:
    """The stud of a power return is the ground of the sensors."""
    one = p.pick(rng, p.throughs(job), frozenset({"ground"}))
    stud = job.airframe["circuits"][one.circuit].get("note") if one else None
    if one is None or stud not in job.airframe["grounds"]:
        return None
    job.airframe["grounds"][stud]["returns"] = "signal"
    return "mixed-ground-classes", [stud, one.circuit, one.first, one.last, *p.near(job, one)]


@fault
def dc_return_on_ac_stud(job: Job, rng: Random) -> Answer:
    """A second stud, of the AC returns, joined by a new wire."""
    found = _onto_stud(job, rng)
    if found is None:
        return None
    stud, wire = found
    job.airframe["grounds"]["GS990"] = {"name": "AC stud", "returns": "ac", "terminals": "0"}
    job.wires()["Z993A20"] = {"from": stud, "to": "GS990", "type": "M22759/16-20-9", "length": "200 mm"}
    return "mixed-ground-classes", [stud, "GS990", wire, "Z993A20"]


@fault
def supply_and_its_backup_in_one_connector(job: Job, rng: Random) -> Answer:
    """Two circuits of the jumper that must not fail together."""
    found = [f for f in p.throughs(job) if "redundant" not in job.airframe["circuits"][f.circuit]]
    if len(found) < 2:
        return None
    one, two = rng.sample(found, 2)
    job.airframe["circuits"][one.circuit]["redundant"] = two.circuit
    return "redundant-circuits-in-one-connector", [one.circuit, two.circuit, *job.halves()]


@fault
def feed_on_the_side_of_the_pins(job: Job, rng: Random) -> Answer:
    """The breaker feeds the half that has pins, so the new half with pins is live when it is opened."""
    found = _breaker(job, rng)
    if found is None:
        return None
    breaker, one = found
    refs = {t.gender_of(job.airframe["connectors"][ref]["part"]): ref for ref in job.opened()}
    for wire in job.airframe["wires"].values():
        for key in ("from", "to"):
            if wire[key] == f"{refs['socket']}-{one.cavity}" and f"{breaker}-load" in (wire["from"], wire["to"]):
                wire[key] = f"{refs['pin']}-{one.cavity}"
                mate = job.mates()[refs["socket"]]
                return "energised-pins", [mate, refs["socket"], f"{mate}-{one.cavity}"]
    return None
