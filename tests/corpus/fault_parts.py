"""Faults of parts: connectors that do not mate, contacts and plugs that do not belong."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus import tables as t
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import Job


def _entry(job: Job, ref: str) -> dict[str, str]:
    found: dict[str, str] = job.jumper["connectors"][ref]
    return found


def _any(job: Job, rng: Random, seal: bool | None = None) -> str | None:
    refs = [r for r in (*job.halves(), *job.plugs()) if seal is None or p.sealed(job, r) is seal]
    return p.choose(rng, refs)


def _cavities(job: Job, ref: str) -> list[str]:
    return [ref, *(f"{ref}-{c}" for c in job.cavities(ref))]


def _give(job: Job, ref: str, number: str) -> None:
    """Another part number, with the contacts and plugs that belong to it; the shop confirms a D-sub as before."""
    entry = _entry(job, ref)
    entry["part"], entry["contacts"] = number, t.contact_of(number)
    insert = t.INSERTS[t.insert_of(number)]
    if insert.rows:
        style = "plug" if t.gender_of(number) == "pin" else "receptacle"
        p.shop_part(job, number, "connector", family="D-sub", style=style, gender=t.gender_of(number),
                    insert=insert.name, sealed="no")  # fmt: skip
    else:
        entry["plugs"] = t.PLUGS[insert.size]


@fault
def half_of_the_wrong_gender(job: Job, rng: Random) -> Answer:
    """Pins against pins."""
    ref = _any(job, rng)
    assert ref is not None
    number = _entry(job, ref)["part"]
    insert = t.insert_of(number)
    style = "plug" if "/26" in number else "receptacle"
    _give(job, ref, t.part(insert, style, "socket" if t.gender_of(number) == "pin" else "pin", t.key_of(number)))
    return "wrong-mate", [ref, job.mates()[ref]]


@fault
def wrong_key(job: Job, rng: Random) -> Answer:
    """Another keying letter on one half."""
    ref = _any(job, rng, True)
    if ref is None:
        return None
    number = _entry(job, ref)["part"]
    _entry(job, ref)["part"] = number[:-1] + rng.choice([k for k in "NABCDE" if k != number[-1]])
    return "wrong-mate", [ref, job.mates()[ref]]


@fault
def wrong_insert(job: Job, rng: Random) -> Answer:
    """The next larger insert with the same contacts."""
    ref = _any(job, rng)
    assert ref is not None
    number = _entry(job, ref)["part"]
    insert = t.INSERTS[t.insert_of(number)]
    larger = [i.name for i in t.INSERTS.values() if i.size == insert.size and bool(i.rows) == bool(insert.rows)
              and set(insert.cavities) < set(i.cavities) and not i.confirm]  # fmt: skip
    if not larger:
        return None
    style = "plug" if "/26" in number else "receptacle"
    _give(job, ref, t.part(larger[0], style, t.gender_of(number), t.key_of(number)))
    if not insert.rows:
        _entry(job, ref)["part"] = _entry(job, ref)["part"]
    return "wrong-mate", [ref, job.mates()[ref]]


@fault
def halves_plugged_the_wrong_way_round(job: Job, rng: Random) -> Answer:
    """Each half of the jumper listed against the half it should not meet."""
    one, two = job.halves()
    a, b = _entry(job, one), _entry(job, two)
    a["mates"], b["mates"] = b["mates"], a["mates"]
    return "wrong-mate", [one, two]


@fault
def plug_in_place_of_receptacle(job: Job, rng: Random) -> Answer:
    """Two plugs, or two receptacles, with the right contacts."""
    ref = _any(job, rng, True)
    if ref is None:
        return None
    entry = _entry(job, ref)
    entry["part"] = entry["part"].replace("/26", "/X").replace("/24", "/26").replace("/X", "/24")
    return "wrong-mate", [ref, job.mates()[ref]]


@fault
def contacts_of_the_wrong_gender(job: Job, rng: Random) -> Answer:
    """Pin contacts on the list of a socket half."""
    ref = _any(job, rng)
    assert ref is not None
    number = _entry(job, ref)["part"]
    insert = t.INSERTS[t.insert_of(number)]
    other = "socket" if t.gender_of(number) == "pin" else "pin"
    wrong = t.CONTACTS[t.family(insert.name), insert.size, other]
    _entry(job, ref)["contacts"] = wrong
    return "wrong-contact-gender", _cavities(job, ref)


@fault
def one_contact_of_the_wrong_gender(job: Job, rng: Random) -> Answer:
    """One cavity gets the contact of the other half."""
    ref = _any(job, rng)
    assert ref is not None
    number = _entry(job, ref)["part"]
    insert = t.INSERTS[t.insert_of(number)]
    other = "socket" if t.gender_of(number) == "pin" else "pin"
    cavity = rng.choice(sorted(job.used(ref)))
    wrong = t.CONTACTS[t.family(insert.name), insert.size, other]
    job.jumper["connectors"][ref]["cavities"] = {cavity: {"contact": wrong}}
    return "wrong-contact-gender", [f"{ref}-{cavity}"]


@fault
def contact_of_another_family(job: Job, rng: Random) -> Answer:
    """A D-sub contact in a circular connector, or the other way round."""
    ref = _any(job, rng)
    assert ref is not None
    number = _entry(job, ref)["part"]
    gender = t.gender_of(number)
    wrong = t.CONTACTS["D-sub", "20", gender] if p.sealed(job, ref) else t.CONTACTS["38999", "20", gender]
    _entry(job, ref)["contacts"] = wrong
    return "wrong-contact-family", _cavities(job, ref)


@fault
def contact_of_another_size(job: Job, rng: Random) -> Answer:
    """The right family, the wrong size."""
    ref = _any(job, rng, True)
    if ref is None:
        return None
    gender, size = t.gender_of(_entry(job, ref)["part"]), p.size(job, ref)
    _entry(job, ref)["contacts"] = t.CONTACTS["38999", "16" if size == "20" else "20", gender]
    return "wrong-contact-family", _cavities(job, ref)


@fault
def no_plugs(job: Job, rng: Random) -> Answer:
    """Nothing said of plugs for a sealed connector with unused cavities."""
    refs = [r for r in (*job.halves(), *job.plugs()) if p.sealed(job, r) and set(job.cavities(r)) - job.used(r)]
    ref = p.choose(rng, refs)
    if ref is None:
        return None
    del job.jumper["connectors"][ref]["plugs"]
    return "unplugged-cavity", [f"{ref}-{c}" for c in job.cavities(ref) if c not in job.used(ref)]


@fault
def one_cavity_without_plug(job: Job, rng: Random) -> Answer:
    """``plug: none`` at one unused cavity."""
    found = [(r, c) for r in (*job.halves(), *job.plugs()) if p.sealed(job, r)
             for c in job.cavities(r) if c not in job.used(r)]  # fmt: skip
    if not found:
        return None
    ref, cavity = rng.choice(found)
    job.jumper["connectors"][ref]["cavities"] = {cavity: {"use": "spare", "plug": "none"}}
    return "unplugged-cavity", [f"{ref}-{cavity}"]


@fault
def plug_of_another_size(job: Job, rng: Random) -> Answer:
    """Sealing plugs for another cavity size."""
    refs = [r for r in (*job.halves(), *job.plugs()) if p.sealed(job, r) and set(job.cavities(r)) - job.used(r)]
    ref = p.choose(rng, refs)
    if ref is None:
        return None
    job.jumper["connectors"][ref]["plugs"] = t.PLUGS["12"]
    return "wrong-sealing-plug", _cavities(job, ref)


@fault
def unsealed_connector_where_it_is_wet(job: Job, rng: Random) -> Answer:
    """A D-sub in the wheel well."""
    ref = _any(job, rng, False)
    if ref is None:
        return None
    wet = next(name for name, zone in job.airframe["zones"].items() if zone["wet"] == "yes")
    _entry(job, ref)["zone"] = wet
    return "unsealed-connector-in-wet-zone", [ref, job.mates()[ref]]


@fault
def zone_that_turns_out_wet(job: Job, rng: Random) -> Answer:
    """The zone of a D-sub is wet after all."""
    ref = _any(job, rng, False)
    if ref is None:
        return None
    job.airframe["zones"][_entry(job, ref)["zone"]]["wet"] = "yes"
    return "unsealed-connector-in-wet-zone", [ref, job.mates()[ref], *job.halves()]


@fault
def tin_against_gold(job: Job, rng: Random) -> Answer:
    """Contacts of another finish in one half."""
    ref = _any(job, rng)
    assert ref is not None
    number = _entry(job, ref)["part"]
    insert = t.INSERTS[t.insert_of(number)]
    family = ["D-sub"] if insert.rows else ["38999-I", "38999-II", "38999-III"]
    barrel = t.BARREL["D-sub 20"] if insert.rows else t.BARREL[insert.size]
    facts = {"gender": t.gender_of(number), "size": insert.size, "family": family, "gauge": barrel,
             "finish": "tin over nickel"}  # fmt: skip
    if not insert.rows:
        facts["insulation"] = t.SEAL[insert.size]
    p.shop_part(job, "SHOP-TIN-1", "contact", **facts)
    _entry(job, ref)["contacts"] = "SHOP-TIN-1"
    mate = job.mates()[ref]
    return "mixed-contact-finish", [ref, mate, f"{ref}/{mate}", f"{mate}/{ref}", *_cavities(job, ref)]


@fault
def same_marking(job: Job, rng: Random) -> Answer:
    """The band on a jumper half says what its mate says."""
    ref = rng.choice(job.halves())
    mate = job.mates()[ref]
    _entry(job, ref)["marking"] = str(job.connectors()[mate].get("marking", mate))
    return "same-marking-on-both-halves", [ref, mate, f"{ref}/{mate}", f"{mate}/{ref}"]


@fault
def plugs_that_can_be_exchanged(job: Job, rng: Random) -> Answer:
    """Two plugs of the kit side by side with the same shell, insert and key."""
    plugs = [r for r in job.plugs() if p.sealed(job, r)]
    pairs = [(a, b) for a in plugs for b in plugs if a < b
             and t.insert_of(_entry(job, a)["part"]) == t.insert_of(_entry(job, b)["part"])]  # fmt: skip
    if not pairs:
        return None
    one, two = rng.choice(pairs)
    number = _entry(job, one)["part"]
    _entry(job, two)["zone"] = _entry(job, one)["zone"]
    _entry(job, two)["part"] = number
    box = job.connectors()[job.mates()[two]]
    box["part"], box["mating"] = box["part"][:-1] + number[-1], number
    return "exchangeable-plugs", [one, two]
