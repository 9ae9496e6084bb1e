"""The stub from a bus to the new unit is too long for its rate or its edge.

What
    For each CAN, TIA-485, TIA-422 and ARINC 429 bus that a new unit joins: the wires from the trunk (the splice) to
    the unit's plug are added up, by the longer conductor. A core counts with the length of its cable. CAN: 0.3 m, or
    with kind: J1939 1 m; where rate: is stated and not above 500 kbit/s, a stub over 0.3 m is a caution up to the
    looser table, and a stop above it. Others: by the rise time of the driver (edge:); ARINC 429 has 1 us.

Why it matters
    The stub is an open line: what runs into it comes back, and lands on the next edge. The bus shows errors now and
    then, never on the bench.

Source
    CAN: 0.3 m at 1 Mbit/s, transceiver data sheet after ISO 11898-2, and an EFIS manual (confirmed); other manuals say
    0.2, 0.5 and 1.5 m. By rate: a table of an industrial controller (confirmed), 5.5 m at 500 kbit/s; taken as the
    outer limit only, for it is looser than ISO. J1939: engine manual, 1 m (confirmed); 3 m for J1939-15 is from
    memory. An edge that is stated gives a third of the critical length (CiA 301, as quoted in a glossary, confirmed).
    TIA-485 and the others: round trip below a tenth of the rise time (data sheets, confirmed); a tutorial counts one
    way and gets twice the length: the stricter one is used.

What to do
    Move the splice nearer to the unit, or lead the trunk in and out at the unit's own plug where it allows that.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._signals import Bus, Missing, Unit, Way, bits, mixed, stub, tapped
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import can_bus, stub_length
from harnesscheck.harness import Harness
from harnesscheck.source import Source
from harnesscheck.units import length

SEVERITY = Severity.STOP
SOURCE = stub_length.CAN_SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")
LIMIT = Limit(stub_length.CAN_STUB, "0.3 m", SOURCE, length)

BY_EDGE = frozenset({"rs485", "rs422", "arinc429"})


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every stub from such a bus to a new unit."""
    plain = limit(harness, "long-stub", LIMIT)
    good = 0
    for bus in tapped(harness):
        if bus.signal != "can" and bus.signal not in BY_EDGE:
            continue
        missing = Missing(bus)
        found: list[Finding] = []
        for unit in bus.units:
            ways = [w for line in bus.lines for p in unit.pins if p in line.pins if (w := stub(harness, line, p))]
            if not ways:
                continue  # a bus between new units alone: no branch
            for wire in dict.fromkeys(name for one in ways for name in one.unknown):
                missing.note("length", wire)
            longest = max(ways, key=lambda one: one.length)
            answer = _can(bus, unit, longest, plain) if bus.signal == "can" else _edge(bus, unit, longest, missing)
            if answer is not None:
                found.append(answer)
            elif not missing:
                good += 1
        yield from found
        if missing:
            yield missing.answer(f"how long the stubs of {bus.name} are, or may be")
    yield from mixed(harness, BY_EDGE | {"can"})
    yield Passed(good, "stubs from a bus to a unit")


def _can(bus: Bus, unit: Unit, branch: Way, plain: Limit) -> Finding | None:
    rate, edge, kind = bus.said("rate"), bus.said("edge"), bus.said("kind")
    most, words, source = plain.value, f"{plain.text} (ISO 11898-2)", plain.source
    if plain is not LIMIT:
        words = plain.text
    elif kind == "J1939":
        most, words, source = stub_length.J1939_STUB, "1 m (J1939)", can_bus.J1939_SOURCE
    if branch.length <= most + 1e-9:
        return None
    outer = stub_length.can_by_rate(rate) if rate is not None and rate <= 500e3 and plain is LIMIT else None
    critical = round(stub_length.critical_length(edge) / 3, 3) if edge is not None else None
    looser = [one for one in (outer, critical) if one is not None]
    mild = outer is not None and branch.length <= min(looser)
    if outer is not None:
        words += (
            f"; {outer:g} m at {bits(rate)} by a looser table: ISO is stricter and is used, up to there as a caution"
        )
    elif rate is None and plain is LIMIT:
        words += f"; {stub_length.CAN_OTHERS}; the rate is not stated, so the one of 1 Mbit/s is used"
    elif plain is LIMIT:
        words += f"; {stub_length.CAN_OTHERS}; the standard is used"
    if critical is not None:
        words += f"; {critical:g} m by the edge"
    return _finding(bus, unit, branch, words, source, Severity.CAUTION if mild else None)


def _edge(bus: Bus, unit: Unit, branch: Way, missing: Missing) -> Finding | None:
    edge = bus.said("edge")
    if edge is None:
        edge = stub_length.ARINC429_EDGE if bus.signal == "arinc429" else missing.circuit("edge")
    if edge is None:
        return None
    most, other = stub_length.by_rise_time(edge), stub_length.by_rise_time(edge, round_trip=False)
    if branch.length <= most + 1e-9:
        return None
    words = f"{most:.3g} m (round trip below a tenth of {edge * 1e9:g} ns); {other:.3g} m where one way is counted, "
    words += "the stricter one is used"
    mild = Severity.CAUTION if branch.length <= other else None
    return _finding(bus, unit, branch, words, stub_length.RISE_SOURCE, mild)


def _finding(bus: Bus, unit: Unit, branch: Way, words: str, source: Source, severity: Severity | None) -> Finding:
    most = " ".join(words.split()[:2]).strip(";")
    return Finding(
        headline=f"the stub of {bus.name} ({bus.signal}) to {unit.ref} is {branch.length:.3g} m long, over {most}",
        place=branch.wires[0].place if branch.wires else bus.place,
        others=bus.places,
        value=f"{branch.length:.3g} m: {several(f'{w.id} {w.length or 0:.3g} m' for w in branch.wires)}",
        limit=words,
        source=source,
        severity=severity,
        remedy="move the splice nearer to the unit, or lead the trunk in and out at its plug if the maker allows it",
    )
