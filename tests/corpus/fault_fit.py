"""Faults of wire against contact and seal, and of what is packed with the kit."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import Job


def _straight(job: Job, rng: Random, size: str, seal: bool) -> tuple[str, list[str]] | None:
    """A plain wire from half to half of that contact size, and the names by which a finding may call it."""
    one, _ = job.halves()
    if p.sealed(job, one) is not seal or p.size(job, one) != size:
        return None
    found = [f for f in p.throughs(job) if f.splice is None and f.signal not in p.SUPPLY
             and "cable" not in job.wires()[f.first]]  # fmt: skip
    if not found:
        return None
    chosen = rng.choice(found)
    return chosen.first, [chosen.first, *p.near(job, chosen)]


@fault
def wire_too_thick_for_contact(job: Job, rng: Random) -> Answer:
    """16 AWG in a size 20 contact."""
    found = _straight(job, rng, "20", False) or _straight(job, rng, "20", True)
    if found is None:
        return None
    job.wires()[found[0]]["type"] = "M22759/16-16-9"
    job.wires()[found[0]].pop("gauge", None)
    return "wire-outside-crimp-barrel", found[1]


@fault
def wire_too_thin_for_contact(job: Job, rng: Random) -> Answer:
    """26 AWG in a size 20 contact."""
    found = _straight(job, rng, "20", False) or _straight(job, rng, "20", True)
    if found is None:
        return None
    job.wires()[found[0]]["type"] = "M22759/32-26-9"
    job.wires()[found[0]].pop("gauge", None)
    return "wire-outside-crimp-barrel", found[1]


@fault
def stub_too_thick_for_contact(job: Job, rng: Random) -> Answer:
    """A stub of a gauge that the plug's contact does not take."""
    found = [s for s in p.stubs(job) if "cable" not in job.wires()[s.wire] and p.size(job, s.plug) in ("22D", "20")]
    if not found:
        return None
    one = rng.choice(found)
    job.wires()[one.wire]["type"] = f"M22759/16-{20 if p.size(job, one.plug) == '22D' else 16}-9"
    job.wires()[one.wire].pop("gauge", None)
    return "wire-outside-crimp-barrel", [one.wire]


@fault
def insulation_too_thick_for_seal(job: Job, rng: Random) -> Answer:
    """The right gauge with thick insulation."""
    limits = {"22D": "1.60 mm", "20": "2.40 mm", "16": "3.10 mm"}
    return _insulation(job, rng, limits)


@fault
def insulation_too_thin_for_seal(job: Job, rng: Random) -> Answer:
    """The right gauge with thin insulation."""
    limits = {"22D": "0.66 mm", "20": "0.90 mm", "16": "1.40 mm"}
    return _insulation(job, rng, limits)


def _insulation(job: Job, rng: Random, diameters: dict[str, str]) -> Answer:
    found = [(s.wire, s.plug, [s.wire, f"{s.plug}-{s.cavity}"]) for s in p.stubs(job)
             if p.sealed(job, s.plug) and "cable" not in job.wires()[s.wire]]  # fmt: skip
    one, _ = job.halves()
    if p.sealed(job, one):
        found += [(f.first, one, [f.first, *p.near(job, f)]) for f in p.throughs(job)
                  if f.splice is None and "cable" not in job.wires()[f.first]]  # fmt: skip
    if not found:
        return None
    wire, ref, names = rng.choice(found)
    gauge = job.wires()[wire]["type"].split("-")[1]
    p.shop_part(job, f"M22759/34-{gauge}", "wire size", od=diameters[p.size(job, ref)])
    job.wires()[wire]["type"] = f"M22759/34-{gauge}-9"
    return "wire-outside-seal-range", names


@fault
def too_few_spare_contacts(job: Job, rng: Random) -> Answer:
    """One spare contact for a plug that is fitted on the aircraft."""
    loose = [r for r in job.plugs() if job.jumper["connectors"][r].get("fitted") == "aircraft"]
    ref = p.choose(rng, loose)
    if ref is None:
        return None
    contact = job.jumper["connectors"][ref]["contacts"]
    job.jumper["kit"]["spare contacts"][contact] = "1"
    return "missing-spare-contacts", [ref, contact]


@fault
def no_spare_contacts(job: Job, rng: Random) -> Answer:
    """Spares of another contact only."""
    loose = [r for r in job.plugs() if job.jumper["connectors"][r].get("fitted") == "aircraft"]
    ref = p.choose(rng, loose)
    if ref is None:
        return None
    contact = job.jumper["connectors"][ref]["contacts"]
    job.jumper["kit"]["spare contacts"] = {"M39029/58-365": "6"}
    return "missing-spare-contacts", [ref, contact]


@fault
def no_tool_on_site(job: Job, rng: Random) -> Answer:
    """The insertion tool stays in the shop; only a crimp frame comes along."""
    loose = [r for r in job.plugs() if job.jumper["connectors"][r].get("fitted") == "aircraft"]
    ref = p.choose(rng, loose)
    if ref is None:
        return None
    job.jumper["kit"]["site tools"] = ["M22520/2-01"]
    return "missing-site-tool", loose


@fault
def no_slack(job: Job, rng: Random) -> Answer:
    """Not even one re-termination in the allowance."""
    job.jumper["allowances"]["connector"] = "10 mm"
    return "missing-slack", ["connector", "allowances", "jumper", *job.jumper["connectors"]]
