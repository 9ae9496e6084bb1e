"""Faults of the pin maps: what reaches the pins of the equipment, and patterns over a whole connector."""

from __future__ import annotations

from random import Random

from tests.corpus import places as p
from tests.corpus import tables as t
from tests.corpus.faults import Answer, fault
from tests.corpus.jobs import Job

MISMATCH = "pin-map-mismatch"


def _two(job: Job, rng: Random, kind: str = "") -> tuple[p.Stub, p.Stub] | None:
    """Two stubs of one plug that carry different circuits."""
    found = [s for s in p.stubs(job) if s.signal != "shield"]
    pairs = [(a, b) for a in found for b in found if a.plug == b.plug and a.circuit < b.circuit]
    if kind == "pair":
        pairs = [(a, b) for a, b in pairs if a.signal == b.signal in ("can", "arinc429", "rs422", "rs485")]
    if kind == "power":
        pairs = [(a, b) for a, b in [*pairs, *((b, a) for a, b in pairs)]
                 if a.signal == "power" and b.signal not in ("power", "ground", "shield")]  # fmt: skip
    return rng.choice(pairs) if pairs else None


def _swap(job: Job, both: tuple[p.Stub, p.Stub] | None) -> Answer:
    if both is None:
        return None
    one, two = both
    p.move(job, one.wire, one.plug, f"{two.plug}-{two.cavity}")
    p.move(job, two.wire, two.plug, f"{one.plug}-{one.cavity}")
    return MISMATCH, [one.pin, two.pin]


@fault
def swap_at_tap(job: Job, rng: Random) -> Answer:
    """Two pins of the equipment exchanged."""
    return _swap(job, _two(job, rng))


@fault
def swap_high_and_low_at_tap(job: Job, rng: Random) -> Answer:
    """H and L, or A and B, exchanged at the equipment."""
    return _swap(job, _two(job, rng, "pair"))


@fault
def supply_on_data_pin(job: Job, rng: Random) -> Answer:
    """The supply and a data line exchanged at the equipment."""
    return _swap(job, _two(job, rng, "power"))


@fault
def stub_from_wrong_splice(job: Job, rng: Random) -> Answer:
    """A stub crimped into the splice of another circuit."""
    found = [s for s in p.stubs(job) if s.signal != "shield"]
    pairs = [(a, b) for a in found for b in found if a.start != b.start and len(job.at(a.start)) > 2]
    if not pairs:
        return None
    one, two = rng.choice(pairs)
    p.move(job, one.wire, one.start, two.start)
    return MISMATCH, [one.pin]


@fault
def drop_stub(job: Job, rng: Random) -> Answer:
    """A pin the equipment cannot do without gets no wire."""
    found = [s for s in p.stubs(job) if s.required and s.signal != "shield" and len(job.at(s.start)) != 2]
    if not found:
        return None
    one = rng.choice(found)
    del job.wires()[one.wire]
    return MISMATCH, [one.pin]


@fault
def stub_on_pin_to_stay_open(job: Job, rng: Random) -> Answer:
    """A stub led to the factory test pin."""
    found = [s for s in p.stubs(job) if s.signal != "shield"]
    rng.shuffle(found)
    for one in found:
        ref = job.mates()[one.plug]
        for cavity in job.cavities(one.plug):
            said = job.pin(f"{ref}-{cavity}")
            if said is not None and said.get("connect") == "no":
                p.move(job, one.wire, one.plug, f"{one.plug}-{cavity}")
                return MISMATCH, [f"{ref}-{cavity}", one.pin]
    return None


@fault
def supply_outside_the_range(job: Job, rng: Random) -> Answer:
    """The equipment works from 18 V; the circuit has another voltage."""
    found = [s for s in p.stubs(job) if s.signal == "power"]
    if not found:
        return None
    one = rng.choice(found)
    said = job.pin(one.pin)
    assert said is not None
    said["supply"] = rng.choice(("5 V to 9 V", "100 V to 130 V"))
    return MISMATCH, [one.pin]


@fault
def other_signal_class(job: Job, rng: Random) -> Answer:
    """The maker's pin is of another class than the circuit."""
    found = [s for s in p.stubs(job) if s.signal not in ("power", "ground", "shield")]
    if not found:
        return None
    one = rng.choice(found)
    said = job.pin(one.pin)
    assert said is not None
    said["signal"] = "arinc429" if one.signal != "arinc429" else "can"
    said.setdefault("line", "A")
    return MISMATCH, [one.pin]


@fault
def other_tap_declared(job: Job, rng: Random) -> Answer:
    """The copper is right for one intent, the declaration says another."""
    found = p.stubs(job)
    if not found:
        return None
    one = rng.choice(found)
    others = [n for n in job.airframe["circuits"] if n != one.circuit]
    if not others:
        return None
    job.jumper["taps"][one.pin] = rng.choice(others)
    return MISMATCH, [one.pin]


def _remap(job: Job, order: dict[str, str]) -> bool:
    """Lead every through wire of one half to another cavity; false when fewer than five move."""
    found = p.throughs(job)
    _, ref = job.halves()
    moves = [(one.last, order[one.cavity]) for one in found if order.get(one.cavity, one.cavity) != one.cavity]
    extra = {c: w[0] for c in job.cavities(ref) if c not in {f.cavity for f in found} and (w := job.at(f"{ref}-{c}"))}
    for cavity, wire in extra.items():
        if order.get(cavity, cavity) != cavity:
            moves.append((wire, order[cavity]))
    if sum(1 for one in found if order.get(one.cavity, one.cavity) != one.cavity) < 5:
        return False
    for wire, cavity in moves:
        p.move(job, wire, ref, f"{ref}-{cavity}")
    return True


def _rows(job: Job) -> tuple[int, ...]:
    one, _ = job.halves()
    return t.INSERTS[t.insert_of(job.connectors()[one]["part"])].rows


def _labels(job: Job) -> list[str]:
    return [f"{ref}-{c}" for ref in (*job.halves(), *job.opened()) for c in job.cavities(ref)] + list(job.halves())


@fault
def mirrored_connector(job: Job, rng: Random) -> Answer:
    """The rear view read as the front: every row of a D-sub reversed."""
    rows, order, start = _rows(job), {}, 0
    for length in rows:
        for k in range(start + 1, start + length + 1):
            order[str(k)] = str(start + length + 1 - (k - start))
        start += length
    if not rows or not _remap(job, order):
        return None
    return "mirrored-pin-map", _labels(job)


@fault
def shifted_connector(job: Job, rng: Random) -> Answer:
    """From one cavity on, each wire one further; the last one free takes the end."""
    names = job.cavities(job.halves()[0])
    used = [c for c in names if c in job.used(job.halves()[1])]
    runs: list[list[str]] = []
    for name in names:
        if name in used and runs and names.index(name) == names.index(runs[-1][-1]) + 1:
            runs[-1].append(name)
        elif name in used:
            runs.append([name])
    long = [run for run in runs if len(run) >= 6 and names.index(run[-1]) + 1 < len(names)]
    if not long:
        return None
    run = rng.choice(long)
    start = rng.randrange(len(run) - 5)
    order = {name: names[names.index(name) + 1] for name in run[start:]}
    if not _remap(job, order):
        return None
    return "shifted-pin-map", _labels(job)


@fault
def ribbon_connector(job: Job, rng: Random) -> Answer:
    """Numbered across the rows, as the wires of a flat cable lie."""
    rows = _rows(job)
    if len(rows) != 2:
        return None
    count = sum(rows)
    order = {str(n): str((n + 1) // 2 if n % 2 else rows[0] + n // 2) for n in range(1, count + 1)}
    if not _remap(job, order):
        return None
    return "ribbon-order-pin-map", _labels(job)
