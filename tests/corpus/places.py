"""Where a fault can be put: lists of wires, splices, stubs and circuits of a plain job, for the injectors."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from tests.corpus import tables as t
from tests.corpus.jobs import File, Job

SUPPLY = frozenset({"power", "lighting"})


@dataclass(frozen=True)
class Through:
    """A circuit of the opened pair, the cavity, and the new wires that lead it from half to half."""

    cavity: str
    circuit: str
    signal: str
    first: str
    """Wire at the half that faces the first half of ``opens:``."""
    last: str
    """Wire at the other half; the same wire when there is no splice."""
    splice: str | None


def throughs(job: Job) -> list[Through]:
    """Every circuit that the jumper leads through, in the order of the cavities."""
    one, two = job.halves()
    found = []
    for cavity in job.cavities(one):
        circuit = job.circuit_at(cavity)
        first, last = job.at(f"{one}-{cavity}"), job.at(f"{two}-{cavity}")
        if circuit and len(first) == len(last) == 1:
            far = job.far(first[0], f"{one}-{cavity}")
            splice = far if "-" not in far else None
            found.append(Through(cavity, circuit, job.signal(circuit) or "", first[0], last[0], splice))
    return found


def near(job: Job, through: Through) -> list[str]:
    """Labels at the opened pair by which a finding may name a circuit that is led through."""
    return [f"{ref}-{through.cavity}" for ref in (*job.opened(), *job.halves())]


def pick(rng: Random, items: list[Through], signals: frozenset[str] | None = None) -> Through | None:
    """One of them, of those signal classes when given."""
    fit = [i for i in items if signals is None or i.signal in signals]
    return rng.choice(fit) if fit else None


def end_at(wire: File, ref: str) -> str:
    """``from`` or ``to``: the key of the end that is at a connector or splice."""
    return "from" if wire["from"].partition("-")[0] == ref else "to"


def move(job: Job, wire: str, ref: str, to: str) -> None:
    """Lead the end of a wire that is at ``ref`` to another point."""
    entry = job.wires()[wire]
    entry[end_at(entry, ref)] = to


@dataclass(frozen=True)
class Stub:
    """A new wire at a plug of the equipment."""

    wire: str
    plug: str
    cavity: str
    pin: str
    """The equipment pin it meets: ``A12J1-3``."""
    circuit: str
    signal: str
    required: bool
    start: str
    """The splice or stud at the other end."""


def stubs(job: Job) -> list[Stub]:
    """Every stub, in the order of the plugs and cavities."""
    found = []
    mates = job.mates()
    for plug in job.plugs():
        for cavity in job.cavities(plug):
            for wire in job.at(f"{plug}-{cavity}"):
                pin = f"{mates[plug]}-{cavity}"
                said, circuit = job.pin(pin), job.jumper["taps"].get(pin)
                if said is not None and circuit:
                    found.append(
                        Stub(wire, plug, cavity, pin, circuit, said["signal"], said.get("required") != "no",
                             job.far(wire, f"{plug}-{cavity}"))
                    )  # fmt: skip
    return found


def sealed(job: Job, ref: str) -> bool:
    """True for a connector with a grommet."""
    return t.family(t.insert_of(job.connectors()[ref]["part"])) == "38999"


def size(job: Job, ref: str) -> str:
    """Contact size of a connector."""
    return t.INSERTS[t.insert_of(job.connectors()[ref]["part"])].size


def choose(rng: Random, items: list[str]) -> str | None:
    """One of them, or nothing."""
    return rng.choice(items) if items else None


def new_splice(job: Job, part: str = "M81824/1-1") -> str:
    """Declare one more splice; its zone is that of the jumper's first half."""
    ref = f"SP{900 + len(job.jumper.get('splices', {}))}"
    one, _ = job.halves()
    job.jumper.setdefault("splices", {})[ref] = {
        "part": part, "zone": job.jumper["connectors"][one].get("zone", ""), "at": f"600 mm from {one}"}  # fmt: skip
    return ref


def shop_part(job: Job, number: str, kind: str, **facts: object) -> None:
    """Add a part to the shop's file, marked as invented."""
    said = {
        "status": "shop-confirmed",
        "document": "sheet on the shelf (invented for the corpus)",
        "by": "corpus fabricator",
        "date": "2026-11-20",
        **{k.replace("_", " "): v for k, v in facts.items()},
    }
    parts = job.shop["parts"].setdefault(number, {"kind": kind, "facts": []})
    parts["facts"] = [f for f in parts["facts"] if not set(f) & set(facts)] + [said]
