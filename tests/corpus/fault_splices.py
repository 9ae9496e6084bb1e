"""Faults of splices, lengths and routes."""

from __future__ import annotations

from itertools import pairwise
from random import Random

from tests.corpus import places as p
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import File, Job


def _splices(job: Job) -> list[str]:
    return sorted(job.jumper.get("splices", {}))


@fault
def splice_too_small(job: Job, rng: Random) -> Answer:
    """The barrel does not take all the wires."""
    big = [s for s in _splices(job) if job.jumper["splices"][s]["part"] != "M81824/1-1" and len(job.at(s)) > 2]
    ref = p.choose(rng, big)
    if ref is None:
        return None
    job.jumper["splices"][ref]["part"] = "M81824/1-1"
    return "overfull-splice", [ref]


@fault
def splice_too_large(job: Job, rng: Random) -> Answer:
    """The barrel closes on nothing."""
    small = [s for s in _splices(job) if job.jumper["splices"][s]["part"] == "M81824/1-1"]
    ref = p.choose(rng, small)
    if ref is None:
        return None
    job.jumper["splices"][ref]["part"] = "M81824/1-3"
    return "overfull-splice", [ref]


@fault
def unsealed_splice_where_it_is_wet(job: Job, rng: Random) -> Answer:
    """A plain insulated splice in the wheel well."""
    ref = p.choose(rng, _splices(job))
    if ref is None:
        return None
    entry = job.jumper["splices"][ref]
    entry["zone"] = next(name for name, zone in job.airframe["zones"].items() if zone["wet"] == "yes")
    cma = next(f["cma"] for f in job.shop["parts"][entry["part"]]["facts"] if "cma" in f)
    p.shop_part(job, "SHOP-PLAIN-1", "splice", cma=cma, sealed="no")
    entry["part"] = "SHOP-PLAIN-1"
    return "unsealed-splice-in-wet-zone", [ref]


@fault
def second_splice_in_a_wire(job: Job, rng: Random) -> Answer:
    """A wire that was too short was lengthened, twice."""
    found = [f for f in p.throughs(job) if f.splice is None and "cable" not in job.wires()[f.first]]
    one = p.pick(rng, found)
    if one is None:
        return None
    wires = job.wires()
    whole = wires.pop(one.first)
    refs = [p.new_splice(job) for _ in range(2)]
    ends = [whole["from"], *refs, whole["to"]]
    for i, (a, b) in enumerate(pairwise(ends)):
        wires[f"Z99{5 + i}A22"] = {**whole, "from": a, "to": b, "length": "700 mm"}
    return "several-splices-in-one-segment", refs


@fault
def splices_side_by_side(job: Job, rng: Random) -> Answer:
    """Two splices at one place."""
    feeds = {s for s in _splices(job) for w in job.at(s) if str(job.wires()[w].get("bundle", "")).startswith("feed")}
    found = [s for s in _splices(job) if "at" in job.jumper["splices"][s] and s not in feeds]  # each feed lies apart
    if len(found) < 2:
        return None
    one, two = rng.sample(found, 2)
    for ref, other in ((one, two),):
        job.jumper["splices"][ref]["at"] = job.jumper["splices"][other]["at"]
        for name in job.at(ref):
            _relay(job, name, ref, other)
    return "unstaggered-splices", [one, two]


def _relay(job: Job, name: str, ref: str, other: str) -> None:
    """Give a wire of a splice that was moved the length of the other splice's wire to the same connector."""
    wire = job.wires()[name]
    far = job.far(name, ref).partition("-")[0]
    for twin in job.at(other):
        if job.far(twin, other).partition("-")[0] == far and "length" in wire and "length" in job.wires()[twin]:
            wire["length"] = job.wires()[twin]["length"]


@fault
def splice_behind_connector(job: Job, rng: Random) -> Answer:
    """A splice 60 mm behind the plug of the equipment."""
    found = [s for s in p.stubs(job) if s.start.startswith("SP") and "cable" not in job.wires()[s.wire]]
    if not found:
        return None
    one = rng.choice(found)
    job.wires()[one.wire]["length"] = "60 mm"
    return "splice-near-connector", [one.start]


@fault
def splice_inside_backshell(job: Job, rng: Random) -> Answer:
    """A splice that is stated to sit close behind the jumper's own half."""
    ref = p.choose(rng, _splices(job))
    if ref is None:
        return None
    one = str(job.jumper["splices"][ref]["at"]).rpartition(" ")[2]
    job.jumper["splices"][ref]["at"] = f"20 mm from {one}"
    return "splice-near-connector", [ref]


def _routed(job: Job, rng: Random) -> tuple[str, File, str] | None:
    """(plug, its route, route name)."""
    plugs = [r for r in job.plugs() if "route" in job.jumper["connectors"][r]]
    plug = p.choose(rng, plugs)
    if plug is None:
        return None
    name = job.jumper["connectors"][plug]["route"]
    return plug, job.airframe["routes"][name], name


@fault
def stub_shorter_than_its_way(job: Job, rng: Random) -> Answer:
    """The route is longer than the stubs."""
    found = _routed(job, rng)
    if found is None:
        return None
    plug, route, _ = found
    route["length"] = "40 m"
    wires = [s.wire for s in p.stubs(job) if s.plug == plug]
    return "wire-shorter-than-route", [*wires, *(job.wires()[w]["cable"] for w in wires if "cable" in job.wires()[w])]


@fault
def wire_shorter_than_to_its_splice(job: Job, rng: Random) -> Answer:
    """A trunk wire does not reach the splice where the splice is said to sit."""
    found = [f for f in p.throughs(job) if f.splice and "length" in job.wires()[f.first]]
    found = [f for f in found if job.jumper["splices"][f.splice]["at"].endswith(f"from {job.halves()[0]}")
             and "cable" not in job.wires()[f.first]]  # fmt: skip
    one = p.pick(rng, found)
    if one is None:
        return None
    job.wires()[one.first]["length"] = "310 mm"
    at = int(job.jumper["splices"][one.splice]["at"].split()[0])
    if at <= 310:
        return None
    return "wire-shorter-than-route", [one.first]


@fault
def plug_that_does_not_pass(job: Job, rng: Random) -> Answer:
    """The finished plug is larger than the hole in the rib."""
    found = _routed(job, rng)
    if found is None or job.jumper["connectors"][found[0]].get("fitted") == "aircraft":
        return None
    plug, route, _ = found
    route["passages"] = {"rib 2": "11 mm"}
    return "plug-larger-than-passage", [plug]


@fault
def bundle_that_does_not_pass(job: Job, rng: Random) -> Answer:
    """The bundle fills the hole."""
    found = _routed(job, rng)
    if found is None:
        return None
    _, route, name = found
    route["passages"] = {"rib 2": "3 mm", "rib 3": "70 mm"}
    return "bundle-tight-in-passage", [name]


@fault
def bend_too_tight(job: Job, rng: Random) -> Answer:
    """Round the corner in 8 mm."""
    found = _routed(job, rng)
    if found is None:
        return None
    found[1]["bend"] = "8 mm"
    return "tight-bend", [found[2]]
