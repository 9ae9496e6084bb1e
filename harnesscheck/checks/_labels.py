"""Circuit names typed at cavities, compared with each other: part of the check pin-map-mismatch."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from harnesscheck.checks._words import several
from harnesscheck.connector import Cavity, Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Point


def named_by_net(harness: Harness) -> dict[int, list[str]]:
    """The circuit names that the aircraft's own pin maps give to each net, each once, in file order."""
    named: dict[int, dict[str, None]] = {}
    for connector, cavity in harness.cavities():
        net = harness.nets.of(cavity.point)
        if connector.origin is Origin.AIRFRAME and cavity.circuit and net is not None:
            named.setdefault(net, {})[cavity.circuit] = None
    return {net: list(names) for net, names in named.items()}


def names_at(harness: Harness, named: Mapping[int, list[str]], point: Point) -> list[str]:
    """The circuit names of the net that a point lies on."""
    net = harness.nets.of(point)
    return named.get(net, []) if net is not None else []


def compare_labels(harness: Harness, named: Mapping[int, list[str]]) -> Iterator[Answer]:
    """Two halves that name one cavity differently, and names in the kit that are not those of the copper there."""
    airframe = harness.before or harness
    good = 0
    for mate in airframe.mates:
        one, two = airframe.connectors[mate.a], airframe.connectors[mate.b]
        for name, first in one.cavities.items():
            second = two.cavities.get(name)
            if second is None or first.circuit is None or second.circuit is None:
                continue
            if first.circuit == second.circuit:
                good += 1
            else:
                yield _halves(first, second)
    for connector, cavity in harness.cavities():
        if connector.origin is not Origin.JUMPER or cavity.circuit is None:
            continue
        names = names_at(harness, named, cavity.point)
        if cavity.circuit in names:
            good += 1
        elif names:
            yield _label(harness, cavity, names)
        else:
            yield NotChecked(
                place=cavity.place,
                missing=f"this cavity is called {cavity.circuit}, but reaches no cavity of the aircraft with a name",
                remedy="name the circuit in the airframe file, or correct the name here",
            )
    yield Passed(good, "circuit names at cavities")


def _halves(first: Cavity, second: Cavity) -> Finding:
    return Finding(
        headline=f"{first.point} is called {first.circuit} and {second.point}, which it mates with, {second.circuit}",
        place=second.place,
        others=(first.place,),
        severity=Severity.CAUTION,
        value=f"{first.circuit} on one half, {second.circuit} on the other",
        limit="one name for one cavity pair",
        remedy="find out which is right in the aircraft, and correct the other line",
    )


def _label(harness: Harness, cavity: Cavity, names: list[str]) -> Finding:
    facing = Point(harness.mate_of(cavity.point.ref) or "", cavity.point.cavity)
    other = harness.cavity(facing)
    wires = tuple(wire.place for wire in harness.wires_at(cavity.point))
    return Finding(
        headline=f"{cavity.point} is called {cavity.circuit}, but carries {several(names)}",
        place=cavity.place,
        others=(*wires, *((other.place,) if other else ())),
        severity=Severity.CAUTION,
        value=f"called {cavity.circuit}",
        limit=f"{several(names)}, as the airframe file says",
        remedy="correct the name here, or the wire if the name is what you meant",
    )
