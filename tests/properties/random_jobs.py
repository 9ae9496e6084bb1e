"""Random airframes and jumpers as plain data, their files as text, and what must be said about them.

Everything here is written from the meaning of the files (README, docs/file-format.md) and uses nothing of harnesscheck:
it is the independent half of the comparison. Two points are one piece of copper when wires and mated contacts lead
from one to the other; breakers, equipment and unmated halves join nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from itertools import combinations
from random import Random

Wire = tuple[str, str, str]
"""Id, end A, end B. An end is ``P1-3`` or ``SP1``."""
INSERT = tuple(str(n) for n in range(1, 16))
"""The cavities of insert arrangement DA-15: 1 to 15, the count that its name says (common practice)."""


@dataclass
class Half:
    """One connector half: what its file says about each cavity it lists."""

    ref: str
    mates: str = ""
    insert: bool = False
    """True: the file says insert: DA-15, so there are 15 cavities and no others."""
    said: dict[str, str] = field(default_factory=dict)
    """Cavity to ``spare``, ``unknown``, ``none`` (spare with contact: none) or a circuit name."""


@dataclass
class Job:
    """An airframe and a jumper that opens P1/J1."""

    airframe: dict[str, Half]
    wires: list[Wire]
    splices: list[str]
    grounds: list[str]
    breakers: list[str]
    kit: dict[str, Half]
    kit_wires: list[Wire]
    kit_splices: list[str]


def cavity(point: str) -> str:
    """``3`` of ``P1-3``; empty for a point without cavity."""
    return point.partition("-")[2]


def ref(point: str) -> str:
    """``P1`` of ``P1-3``."""
    return point.partition("-")[0]


# -- drawing a job -----------------------------------------------------------------------------------------------------


def draw_job(chance: Random, faults: int) -> Job:
    """A random airframe, a jumper that leads every cavity of it through, and then ``faults`` random changes of it."""
    insert = chance.random() < 0.5
    some = INSERT if insert else ("1", "2", "3", "A", "a", "B", "+28V", "10", "1-2")
    names = sorted(chance.sample(some, chance.randint(2, min(7, len(some)))))
    airframe = {
        "P1": Half("P1", "J1", insert and chance.random() < 0.8),
        "J1": Half("J1", "", insert and chance.random() < 0.8),
        "P2": Half("P2", "J2"),
        "J2": Half("J2"),
        "X1": Half("X1"),
    }
    order = chance.sample(sorted(airframe), len(airframe))
    airframe = {r: airframe[r] for r in order}
    if chance.random() < 0.5:  # the other half says it
        airframe["P1"].mates, airframe["J1"].mates = "", "P1"
    job = Job(airframe, [], ["AS1", "AS2"], ["GS1", "GS2"], ["CB1"], {}, [], [])
    for half in ("P1", "J1"):
        for name in names:
            kind = chance.random()
            if kind < 0.45:
                airframe[half].said[name] = chance.choice(("POWER", "RETURN", "CAN H", "CAN L", "LAMP"))
            elif kind < 0.68:
                airframe[half].said[name] = chance.choice(("spare", "spare", "spare", "unknown", "none"))
    far = ["AS1", "AS2", "GS1", "GS2", "CB1-line", "CB1-load", "X1-1", "X1-2", "X1-3", "P2-1", "P2-2", "J2-1", "J2-2"]
    for number in range(chance.randint(0, 9)):
        near = [f"{half}-{name}" for half in ("P1", "J1") for name in names]
        near = [point for point in near if airframe[ref(point)].said.get(cavity(point)) not in ("spare", "none")]
        a, b = chance.choice(near + far), chance.choice(near + far)
        if a != b:
            job.wires.append((f"W{number}", a, b))
    _draw_kit(job, names, chance)
    for number in range(faults):
        _spoil(job, names, chance, f"M{number}")
    return job


def _draw_kit(job: Job, names: list[str], chance: Random) -> None:
    """Every cavity led through, some by way of a splice with a tap to the plug P4."""
    insert = job.airframe["P1"].insert and chance.random() < 0.7
    job.kit = {"J3": Half("J3", "P1", insert), "P3": Half("P3", "J1", insert), "P4": Half("P4")}
    wired = {point for _, *ends in job.wires for point in ends}
    listed = set(INSERT) if job.airframe["P1"].insert or job.airframe["J1"].insert else set()
    for number, name in enumerate(sorted({*names, *listed} if chance.random() < 0.3 else names)):
        if chance.random() < 0.25:
            splice = f"SP{number}"
            job.kit_splices.append(splice)
            job.kit_wires += [(f"K{number}A", f"J3-{name}", splice), (f"K{number}B", splice, f"P3-{name}")]
            job.kit_wires.append((f"K{number}C", splice, f"P4-{number}"))
        elif chance.random() < 0.9 or f"P1-{name}" in wired:
            ends = [f"J3-{name}", f"P3-{name}"]
            chance.shuffle(ends)
            job.kit_wires.append((f"K{number}", *ends))


def _spoil(job: Job, names: list[str], chance: Random, new: str) -> None:
    """One random change of the jumper: most of them are faults, some are harmless."""
    kind = chance.randrange(8)
    wires = job.kit_wires
    if not wires:
        return
    at = chance.randrange(len(wires))
    name, a, b = wires[at]
    anywhere = [f"{half}-{n}" for half in ("J3", "P3", "P4") for n in names] + job.kit_splices
    if kind == 0:
        del wires[at]
    elif kind == 1:  # two wires exchanged at one end
        other = chance.randrange(len(wires))
        if other != at:
            far = wires[other]
            wires[at], wires[other] = (name, a, far[2]), (far[0], far[1], b)
    elif kind == 2:
        wires[at] = (name, a, chance.choice(anywhere))
    elif kind == 3:
        wires.append((new, chance.choice(anywhere), chance.choice(anywhere)))
    elif kind == 4:  # the same joint once more: harmless to the copper
        wires.append((new, b, a))
    elif kind == 5:  # an end on something of the aircraft
        wires[at] = (name, a, chance.choice(["GS1", "GS2", "AS1", "CB1-load", "X1-1", *(f"P1-{n}" for n in names)]))
    elif kind == 6:
        job.kit[chance.choice(("J3", "P3"))].mates = ""
    else:
        wires.append((new, chance.choice(anywhere), chance.choice(["GS1", "AS2", "P4-99"])))
    job.kit_wires[:] = [wire for wire in wires if wire[1] != wire[2]]


# -- as text -----------------------------------------------------------------------------------------------------------


def airframe_text(job: Job) -> str:
    """The airframe file."""
    lines = ["kind: airframe", "title: random", "connectors:", *_halves(job.airframe)]
    lines += [f"{key}: {{{', '.join(f'{r}: {{}}' for r in refs)}}}" for key, refs in _tables(job).items()]
    return "\n".join([*lines, *_wires(job.wires)]) + "\n"


def kit_text(job: Job) -> str:
    """The jumper file."""
    lines = ["kind: jumper", "title: random kit", "airframe: airframe.yaml", "opens: P1/J1"]
    lines += ["connectors:", *_halves(job.kit)]
    if job.kit_splices:
        lines += ["splices:", *(f"  {splice}: {{}}" for splice in job.kit_splices)]
    return "\n".join([*lines, *_wires(job.kit_wires)]) + "\n"


def _tables(job: Job) -> dict[str, list[str]]:
    return {"splices": job.splices, "grounds": job.grounds, "breakers": job.breakers}


def _halves(halves: dict[str, Half]) -> Iterator[str]:
    for half in halves.values():
        yield f"  {half.ref}:"
        yield "    family: D-sub"
        if half.mates:
            yield f"    mates: {half.mates}"
        if half.insert:
            yield "    insert: DA-15"
        if half.said:
            yield "    cavities:"
        for name, said in half.said.items():
            yield f"      '{name}': " + ("{use: spare, contact: none}" if said == "none" else said)


def _wires(wires: list[Wire]) -> list[str]:
    return ["wires:", *(f"  {name}: {{from: '{a}', to: '{b}'}}" for name, a, b in wires)] if wires else []


# -- the oracle: plain breadth-first search ----------------------------------------------------------------------------


def contacts(one: Half, two: Half, wires: Iterable[Wire]) -> Iterator[tuple[str, str]]:
    """Cavity pairs that touch when two halves are mated.

    Cavities of one name touch when neither half is known not to have it, and neither is stated to be without contact.
    """
    names = [*one.said, *two.said]
    for half in (one, two):
        names += INSERT if half.insert else [cavity(p) for _, *ends in wires for p in ends if ref(p) == half.ref]
    for name in dict.fromkeys(names):
        there = all(not half.insert or name in INSERT or name in half.said for half in (one, two))
        if there and "none" not in (one.said.get(name), two.said.get(name)):
            yield f"{one.ref}-{name}", f"{two.ref}-{name}"


def mates(halves: dict[str, Half], opened: bool) -> Iterator[tuple[Half, Half]]:
    """Mated pairs; ``opened``: the jumper is in, so P1/J1 are apart."""
    for half in halves.values():
        if half.mates and not (opened and {half.ref, half.mates} == {"P1", "J1"}):
            yield half, halves[half.mates]


def pieces(joins: Iterable[tuple[str, str]]) -> dict[str, int]:
    """Point to number of its piece of copper, by breadth-first search; points without a join are not listed."""
    beside: dict[str, set[str]] = {}
    for a, b in joins:
        beside.setdefault(a, set()).add(b)
        beside.setdefault(b, set()).add(a)
    number: dict[str, int] = {}
    for start in beside:
        if start in number:
            continue
        count = len(number)
        number[start], queue = count, [start]
        for point in queue:
            for other in beside[point]:
                if other not in number:
                    number[other] = count
                    queue.append(other)
    return number


def points(job: Job) -> list[str]:
    """Every point of the airframe."""
    found = [p for _, *ends in job.wires for p in ends] + job.splices + job.grounds
    found += [f"{breaker}-{end}" for breaker in job.breakers for end in ("line", "load")]
    for half in job.airframe.values():
        found += [f"{half.ref}-{name}" for name in (*half.said, *(INSERT if half.insert else ()))]
    for one, two in mates(job.airframe, False):
        found += [p for pair in contacts(one, two, job.wires) for p in pair]
    return list(dict.fromkeys(found))


def before(job: Job) -> dict[str, int]:
    """Pieces of copper of the airframe as found."""
    joins = [(a, b) for _, a, b in job.wires]
    for one, two in mates(job.airframe, False):
        joins += contacts(one, two, job.wires)
    return pieces(joins)


def after(job: Job) -> dict[str, int]:
    """Pieces of copper with the jumper fitted."""
    both = [*job.wires, *job.kit_wires]
    joins = [(a, b) for _, a, b in both]
    for one, two in mates({**job.airframe, **job.kit}, True):
        # Each half knows the wires of its own file.
        joins += contacts(one, two, both)
    return pieces(joins)


def uses(job: Job) -> dict[str, str]:
    """What the airframe file says of each point: ``live``, ``spare`` or ``unknown``."""
    wired = {p for _, *ends in job.wires for p in ends}
    found = {}
    for point in points(job):
        half = job.airframe.get(ref(point))
        said = half.said.get(cavity(point)) if half else "stud"
        if said in ("spare", "none"):
            found[point] = "spare"
        else:
            found[point] = "live" if point in wired or said not in (None, "unknown") else "unknown"
    return found


@dataclass
class Changes:
    """Pairs of airframe points whose connected or separate state the jumper changes, by what is known of them."""

    parted: dict[str, list[tuple[str, str]]] = field(default_factory=dict)
    """Use of the net to pairs that were one piece and are no longer."""
    joined: dict[str, list[tuple[str, str]]] = field(default_factory=dict)
    """Uses of the two nets, the livelier first, to pairs that were apart and are one piece."""


def changes(job: Job) -> Changes:
    """Every pair of airframe points, before and after.

    A net is live when any of its points is, else spare when any is called so, else unknown.
    """
    was, now, use, listed = before(job), after(job), uses(job), points(job)

    def net(point: str) -> object:
        return was.get(point, point)

    of: dict[object, str] = {}
    for point in listed:
        ranked = ("unknown", "spare", "live")
        of[net(point)] = max(of.get(net(point), "unknown"), use[point], key=ranked.index)
    found = Changes()
    for a, b in combinations(listed, 2):
        together = net(a) == net(b)
        still = a in now and b in now and now[a] == now[b]
        if together and not still:
            found.parted.setdefault(of[net(a)], []).append((a, b))
        elif still and not together:
            pair = sorted((of[net(a)], of[net(b)]), key=("live", "unknown", "spare").index)
            found.joined.setdefault(" ".join(pair), []).append((a, b))
    return found
