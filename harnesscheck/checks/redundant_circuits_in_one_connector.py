"""A circuit and the one that takes over when it fails run through the same new connector.

What
    For every circuit that names another under redundant:, the connectors of the kit are searched for one that carries
    both. Where the airframe already leads both through the pair that the jumper opens, the jumper cannot help it: that
    is said as a note, once. Anywhere else it is a stop.

Why it matters
    One connector half engaged, one key sheared, one drop of water, and both are gone. An engine has been lost in
    flight because its whole ignition ran through one connector that was not locked (NTSB 105519).

Source
    AC 43.13-1B Chg 1, par. 11-235a: redundant functions run in separate connectors.

What to do
    Give one of the two its own connector, and lead it another way.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import several
from harnesscheck.circuit import Circuit
from harnesscheck.connector import Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Place
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-235a")
FOLLOWS = ("broken-through-circuit",)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every pair of redundant circuits against every connector of the kit."""
    if harness.kind is not Kind.INSTALLED or not any(circuit.redundant for circuit in harness.circuits.values()):
        return
    through = _through(harness)
    good = 0
    seen: set[frozenset[str]] = set()
    for circuit in harness.circuits.values():
        if circuit.redundant is None or frozenset((circuit.name, circuit.redundant)) in seen:
            continue
        seen.add(frozenset((circuit.name, circuit.redundant)))
        other = harness.circuits.get(circuit.redundant)
        if other is None or other is circuit:
            yield NotChecked(
                place=circuit.place,
                missing=f"redundant: names {circuit.redundant}, which is no other circuit of the airframe",
                remedy="write the name of the other circuit as it stands under circuits:",
            )
            continue
        lost = [c for c in (circuit, other) if c.name not in through]
        if lost:
            for each in lost:
                yield NotChecked(
                    place=each.place,
                    missing="no cavity is stated to carry it, so its way is not known",
                    remedy="name it at the cavities that it runs through",
                )
            continue
        shared = [ref for ref in through[circuit.name] if ref in through[other.name]]
        if shared:
            yield _finding(harness, circuit, other, shared)
        else:
            good += 1
    yield Passed(good, "pairs of redundant circuits")


def _through(harness: Harness) -> dict[str, dict[str, list[Place]]]:
    """Circuit name to the new connectors that its copper runs through, with its cavities there."""
    nets = harness.nets
    names: dict[int, list[str]] = {}
    found: dict[str, dict[str, list[Place]]] = {}
    for _, cavity in harness.cavities():
        if cavity.circuit:
            found.setdefault(cavity.circuit, {})
            names.setdefault(nets.at(cavity.point), []).append(cavity.circuit)
    for ref, connector in harness.connectors.items():
        if connector.origin is not Origin.JUMPER:
            continue
        for cavity in connector.cavities.values():
            for name in dict.fromkeys(names.get(nets.at(cavity.point), ())):
                found[name].setdefault(ref, []).append(cavity.place)
    return found


def _finding(harness: Harness, one: Circuit, other: Circuit, shared: list[str]) -> Finding:
    dictated = [ref for ref in shared if (harness.mate_of(ref) or "") in harness.opened]
    chosen = [ref for ref in shared if ref not in dictated]
    refs = chosen or dictated
    pairs = dict.fromkeys(pair for ref in refs if (pair := harness.pair_of(harness.mate_of(ref) or "")))
    before = "" if chosen else f", as through {several('/'.join(pair) for pair in pairs)} before"
    return Finding(
        headline=f"{one.name} and {other.name}, which takes over for it, run together through {several(refs)}{before}",
        place=harness.connectors[refs[0]].place,
        others=(*(harness.connectors[ref].place for ref in refs[1:]), one.place, other.place),
        value="both in one connector",
        limit="redundant circuits in separate connectors",
        severity=None if chosen else Severity.NOTE,
        remedy="give one of the two its own connector and lead it another way"
        if chosen
        else "lock and mark these halves with care: one half engaged and both circuits are gone; better part the two",
    )
