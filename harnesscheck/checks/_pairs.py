"""Which conductors belong together as a pair, as far as the files say or leave no doubt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.checks._shields import Reach, named, reach
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.device import Pin
from harnesscheck.finding import NotChecked
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point

PAIRED = frozenset({"can", "rs422", "rs485", "arinc429", "ethernet"})
"""Signal classes that need a twisted pair; two circuits of other classes are a pair when ``pair:`` says so."""
LINES = (frozenset("HL"), frozenset("AB"), frozenset("+-"))


@dataclass(frozen=True, slots=True)
class Member:
    """One conductor of a pair: its circuit or pin, and everything it is joined to."""

    name: str
    place: Place
    reach: Reach


@dataclass(frozen=True, slots=True)
class Pair:
    """Conductors that must be led together."""

    name: str
    signal: str | None
    members: tuple[Member, ...]

    def __str__(self) -> str:
        """``CAN H and CAN L``."""
        return several(member.name for member in self.members)

    @property
    def joined(self) -> bool:
        """True when two of the conductors are one piece of copper: another check says so."""
        seen: set[Point] = set()
        for member in self.members:
            points = {p for p in member.reach.points if p.cavity}
            if points & seen:
                return True
            seen |= points
        return False


def pairs(harness: Harness) -> tuple[list[Pair], list[NotChecked]]:
    """The pairs that the jumper touches, and what would have to be stated to know the others."""
    found: list[Pair] = []
    unsaid: list[NotChecked] = []
    for answer in (*_of_circuits(harness), *_of_pins(harness)):
        if isinstance(answer, NotChecked):
            unsaid.append(answer)
        elif not answer.joined:
            found.append(answer)
    return found, unsaid


def _of_circuits(harness: Harness) -> Iterator[Pair | NotChecked]:
    starts = named(harness)
    together: dict[str, list[Member]] = {}
    open_: dict[str, list[Member]] = {}
    for circuit in harness.circuits.values():
        if circuit.signal == "shield" or (circuit.pair is None and circuit.signal not in PAIRED):
            continue
        member = Member(circuit.name, circuit.place, reach(harness, starts.get(circuit.name, ())))
        if circuit.pair is not None:
            together.setdefault(circuit.pair, []).append(member)
        elif member.reach.new:
            open_.setdefault(circuit.signal or "", []).append(member)
    for name, members in together.items():
        if not any(member.reach.new for member in members):
            continue
        if len(members) == 1:
            yield NotChecked(
                place=members[0].place,
                missing=f"pair {name} has one circuit only, so its partner is not known",
                remedy=f"write pair: {name} at the partner as well",
            )
        else:
            signal = harness.circuits[members[0].name].signal
            yield Pair(name, signal, tuple(members))
    for signal, members in open_.items():
        yield _couple(signal, members, frozenset(harness.circuits[m.name].line or "" for m in members))


def _of_pins(harness: Harness) -> Iterator[Pair | NotChecked]:
    """Pins of paired classes that the jumper leads to something else than a named circuit, such as another new box."""
    groups: dict[tuple[str, str], list[tuple[Pin, Member]]] = {}
    for pin in harness.pins():
        if pin.signal not in PAIRED:
            continue
        joined = reach(harness, [pin.point])
        if joined.new and not harness.circuits_at(joined.points):
            member = Member(f"{pin.point} ({pin.function})", pin.place, joined)
            groups.setdefault((pin.point.ref, pin.signal), []).append((pin, member))
    seen: set[frozenset[Point]] = set()
    for (_, signal), listed in groups.items():
        answer = _couple(signal, [m for _, m in listed], frozenset(pin.line or "" for pin, _ in listed))
        # A pair between two new boxes is met at either end; once is enough.
        points = frozenset(p for _, m in listed for p in m.reach.points)
        if isinstance(answer, Pair) and points in seen:
            continue
        seen.add(points)
        yield answer


def _couple(signal: str, members: list[Member], lines: frozenset[str]) -> Pair | NotChecked:
    if len(members) == 2 and lines in LINES:
        return Pair(signal, signal, tuple(members))
    names = several(member.name for member in members)
    return NotChecked(
        place=members[0].place,
        missing=f"which {signal} conductors form a pair is not stated ({names}), so twist and places are not looked at",
        remedy="write pair: at the circuits that belong together",
    )


def new_connectors(harness: Harness) -> frozenset[str]:
    """References of the connectors that the jumper brings."""
    return frozenset(ref for ref, one in harness.connectors.items() if one.origin is Origin.JUMPER)
