"""Faults of the copper: wires left out, crossed, joined, ended in the wrong place."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import Job

BROKEN = "broken-through-circuit"


@fault
def swap_at_trunk(job: Job, rng: Random) -> Answer:
    """Two circuits crossed at one half of the jumper."""
    found = [f for f in p.throughs(job) if f.signal != "shield"]
    if len(found) < 2:
        return None
    one, two = rng.sample(found, 2)
    _, ref = job.halves()
    p.move(job, one.last, ref, f"{ref}-{two.cavity}")
    p.move(job, two.last, ref, f"{ref}-{one.cavity}")
    return BROKEN, [*p.near(job, one), *p.near(job, two)]


@fault
def swap_supply_with_signal(job: Job, rng: Random) -> Answer:
    """A supply and a signal crossed at the other half."""
    found = p.throughs(job)
    supply = p.pick(rng, found, p.SUPPLY)
    data = p.pick(rng, [f for f in found if f.signal not in p.SUPPLY | {"ground", "shield"}])
    if supply is None or data is None:
        return None
    ref, _ = job.halves()
    p.move(job, supply.first, ref, f"{ref}-{data.cavity}")
    p.move(job, data.first, ref, f"{ref}-{supply.cavity}")
    return BROKEN, [*p.near(job, supply), *p.near(job, data)]


@fault
def swap_conductors_of_a_pair(job: Job, rng: Random) -> Answer:
    """H and L of one pair crossed on the way through."""
    found = p.throughs(job)
    pairs: dict[str, list[p.Through]] = {}
    for one in found:
        name = job.airframe["circuits"][one.circuit].get("pair")
        if name:
            pairs.setdefault(name, []).append(one)
    whole = [both for both in pairs.values() if len(both) == 2]
    if not whole:
        return None
    one, two = rng.choice(whole)
    _, ref = job.halves()
    p.move(job, one.last, ref, f"{ref}-{two.cavity}")
    p.move(job, two.last, ref, f"{ref}-{one.cavity}")
    return BROKEN, [*p.near(job, one), *p.near(job, two)]


@fault
def rotate_three(job: Job, rng: Random) -> Answer:
    """Three circuits moved round in a ring."""
    found = [f for f in p.throughs(job) if f.signal not in ("shield",)]
    if len(found) < 3:
        return None
    ring = rng.sample(found, 3)
    _, ref = job.halves()
    for here, there in zip(ring, [*ring[1:], ring[0]], strict=True):
        p.move(job, here.last, ref, f"{ref}-{there.cavity}")
    return BROKEN, [label for one in ring for label in p.near(job, one)]


@fault
def drop_through_wire(job: Job, rng: Random) -> Answer:
    """A straight wire left out."""
    one = p.pick(rng, [f for f in p.throughs(job) if f.splice is None and f.signal != "shield"])
    if one is None:
        return None
    del job.wires()[one.first]
    return BROKEN, p.near(job, one)


@fault
def drop_half_of_a_trunk(job: Job, rng: Random) -> Answer:
    """Behind the tap the circuit is not led on."""
    found = [f for f in p.throughs(job) if f.splice and f.signal != "shield" and len(job.at(f.splice)) > 2]
    one = p.pick(rng, found)
    if one is None:
        return None
    del job.wires()[rng.choice((one.first, one.last))]
    return BROKEN, p.near(job, one)


@fault
def short_by_a_bridge(job: Job, rng: Random) -> Answer:
    """A wire too many joins two splices."""
    found = [f for f in p.throughs(job) if f.splice and f.signal != "shield"]
    if len(found) < 2:
        return None
    one, two = rng.sample(found, 2)
    job.wires()["Z990A22"] = {"from": one.splice, "to": two.splice, "type": "M22759/16-22-9", "length": "40 mm"}
    return BROKEN, [*p.near(job, one), *p.near(job, two)]


@fault
def short_of_supply_to_ground(job: Job, rng: Random) -> Answer:
    """A tapped supply joined to a tapped return."""
    found = [f for f in p.throughs(job) if f.splice]
    one, two = p.pick(rng, found, frozenset({"power"})), p.pick(rng, found, frozenset({"ground"}))
    if one is None or two is None:
        return None
    job.wires()["Z991A20"] = {"from": one.splice, "to": two.splice, "type": "M22759/16-20-9", "length": "60 mm"}
    return BROKEN, [*p.near(job, one), *p.near(job, two)]


@fault
def trunk_into_wrong_splice(job: Job, rng: Random) -> Answer:
    """One trunk wire crimped into the neighbour's splice."""
    found = [f for f in p.throughs(job) if f.splice and f.signal != "shield" and len(job.at(f.splice)) > 2]
    if len(found) < 2:
        return None
    one, two = rng.sample(found, 2)
    p.move(job, one.first, str(one.splice), str(two.splice))
    return BROKEN, [*p.near(job, one), *p.near(job, two)]


@fault
def straight_wire_into_splice(job: Job, rng: Random) -> Answer:
    """A wire that should run through ends in somebody else's splice."""
    found = p.throughs(job)
    straight = p.pick(rng, [f for f in found if f.splice is None and f.signal not in ("shield", *p.SUPPLY)])
    tapped = p.pick(rng, [f for f in found if f.splice and f.signal != "shield"])
    if straight is None or tapped is None:
        return None
    _, ref = job.halves()
    p.move(job, straight.first, ref, str(tapped.splice))
    return BROKEN, [*p.near(job, straight), *p.near(job, tapped)]


@fault
def wire_onto_occupied_cavity(job: Job, rng: Random) -> Answer:
    """A slip of the keyboard: the wire ends in the cavity of another circuit."""
    found = p.throughs(job)
    if len(found) < 2:
        return None
    one, two = rng.sample(found, 2)
    _, ref = job.halves()
    p.move(job, one.last, ref, f"{ref}-{two.cavity}")
    return "pin-collision|two-wires-in-one-contact", [f"{ref}-{two.cavity}"]


@fault
def stub_onto_occupied_cavity(job: Job, rng: Random) -> Answer:
    """The same slip at a plug of the equipment."""
    found = p.stubs(job)
    pairs = [(a, b) for a in found for b in found if a.plug == b.plug and a.wire != b.wire and a.circuit != b.circuit]
    if not pairs:
        return None
    one, two = rng.choice(pairs)
    p.move(job, one.wire, one.plug, f"{two.plug}-{two.cavity}")
    # Two shields may be one piece of copper: that they share a contact is what is wrong then.
    shields = one.signal == two.signal == "shield"
    return "two-wires-in-one-contact" if shields else "pin-collision", [f"{two.plug}-{two.cavity}"]


@fault
def second_wire_of_the_same_circuit(job: Job, rng: Random) -> Answer:
    """A straight wire doubled: two wires in one contact at both ends."""
    one = p.pick(rng, [f for f in p.throughs(job) if f.splice is None and "cable" not in job.wires()[f.first]])
    if one is None:
        return None
    job.wires()["Z992A22"] = dict(job.wires()[one.first])
    return "two-wires-in-one-contact", p.near(job, one)


@fault
def cavity_that_does_not_exist(job: Job, rng: Random) -> Answer:
    """A cavity number beyond the insert."""
    one = p.pick(rng, p.throughs(job))
    if one is None:
        return None
    _, ref = job.halves()
    wrong = rng.choice(("0", "129", "3O", "AA"))
    p.move(job, one.last, ref, f"{ref}-{wrong}")
    return "unknown-cavity", [f"{ref}-{wrong}"]


@fault
def capital_for_small_letter(job: Job, rng: Random) -> Answer:
    """``a`` for ``A``: two different cavities, of which this insert has one."""
    ref, _ = job.halves()
    ends = [(f.first, ref, f.cavity) for f in p.throughs(job)] + [(s.wire, s.plug, s.cavity) for s in p.stubs(job)]
    ends = [(w, r, c) for w, r, c in ends if c.isupper() and c.lower() not in job.cavities(r)]
    if not ends:
        return None
    wire, ref, cavity = rng.choice(ends)
    p.move(job, wire, ref, f"{ref}-{cavity.lower()}")
    return "unknown-cavity", [f"{ref}-{cavity.lower()}"]


@fault
def stub_into_cavity_that_does_not_exist(job: Job, rng: Random) -> Answer:
    """The same at a plug of the equipment."""
    found = p.stubs(job)
    if not found:
        return None
    one = rng.choice(found)
    p.move(job, one.wire, one.plug, f"{one.plug}-777")
    return "unknown-cavity", [f"{one.plug}-777"]


@fault
def wire_alone_in_a_splice(job: Job, rng: Random) -> Answer:
    """A straight wire ends in a splice that nothing else reaches."""
    one = p.pick(rng, [f for f in p.throughs(job) if f.splice is None and f.signal != "shield"])
    if one is None:
        return None
    _, ref = job.halves()
    splice = p.new_splice(job)
    p.move(job, one.last, ref, splice)
    return "dead-end-wire", [one.last, splice]


@fault
def splice_without_wires(job: Job, rng: Random) -> Answer:
    """A splice on the list that nothing reaches."""
    return "dead-end-wire", [p.new_splice(job)]


@fault
def stub_to_unlisted_pin(job: Job, rng: Random) -> Answer:
    """A stub ends against a cavity of which the maker says nothing."""
    found = p.stubs(job)
    if not found:
        return None
    one = rng.choice(found)
    listed = [c for c in job.cavities(one.plug) if job.pin(f"{job.mates()[one.plug]}-{c}") is None]
    free = [c for c in listed if c not in job.used(one.plug)]
    if not free:
        return None
    p.move(job, one.wire, one.plug, f"{one.plug}-{rng.choice(free)}")
    return "dead-end-wire", [one.wire]


@fault
def plug_not_plugged_in(job: Job, rng: Random) -> Answer:
    """A plug of the kit mates with nothing."""
    plug = p.choose(rng, job.plugs())
    if plug is None:
        return None
    del job.jumper["connectors"][plug]["mates"]
    return "dead-end-wire", [plug]
