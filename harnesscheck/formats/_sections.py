"""Sections of a job file that the airframe and the jumper share, and what ties the two together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import fields
from itertools import pairwise
from typing import Any

from harnesscheck.circuit import KINDS, SIGNALS, Circuit
from harnesscheck.connector import Mate
from harnesscheck.device import Breaker, Bus, KnownLoad, PowerSource
from harnesscheck.fault import nearest, short
from harnesscheck.formats import _schema as schema
from harnesscheck.formats._build import Builder, cavities_wired
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Point
from harnesscheck.splice import Splice
from harnesscheck.wire import Cable

_CIRCUIT = tuple(field.name for field in fields(Circuit) if field.name not in ("name", "place", "phases"))
"""What a circuit has under the same name in the file and in the model."""


def wiring(build: Builder, file: schema.AirframeFile | schema.JumperFile) -> dict[str, Any]:
    """Connectors, wires, cables, splices and mates: the same in an airframe and in a jumper."""
    cables = {
        name: Cable(name, build.place(name, "cables", name), build.origin, c.type, c.length, c.note, c.bundle, c.route)
        for name, c in file.cables.items()
    }
    for name in file.cables:
        if name in file.wires:
            build.fault(f"{name} is both a wire and a cable", "give one of the two another name", "cables", name)
    wired = cavities_wired(file.wires.values(), lambda ref: build.scope.kinds.get(ref) == "connector")
    return {
        "wires": build.wires(file.wires, cables),
        "connectors": build.connectors(file.connectors, wired),
        "mates": build.mates(file.connectors),
        "cables": cables,
        "splices": {ref: _splice(build, ref, s) for ref, s in file.splices.items()},
    }


def no_pins(build: Builder, file: schema.AirframeFile | schema.JumperFile) -> None:
    """Pins with their demands belong to equipment."""
    for ref, entry in file.connectors.items():
        if entry.pins:
            build.fault(
                "pins: belongs in an equipment file", "list the circuits under cavities:", "connectors", ref, "pins"
            )


def _splice(build: Builder, ref: str, entry: schema.SpliceEntry) -> Splice:
    at, at_ref = entry.at or (None, None)
    if at_ref is not None:
        build.known(at_ref, ("connector",), "splices", ref, "at")
    place = build.place(ref, "splices", ref)
    return Splice(ref, place, build.origin, entry.part, entry.zone, entry.fitted, at, at_ref, entry.note)


def geography(build: Builder, file: Any, zones: Iterable[str], routes: Iterable[str]) -> None:
    """Zones and routes that things name must be listed in the airframe file, when it lists any."""
    for section, key, known in (
        ("connectors", "zone", zones),
        ("splices", "zone", zones),
        ("connectors", "route", routes),
        ("wires", "route", routes),
        ("cables", "route", routes),
    ):
        listed = dict.fromkeys(known)
        for name, entry in getattr(file, section).items():
            said = getattr(entry, key)
            if said is not None and said not in listed and (listed or key == "route"):
                build.fault(
                    f"there is no {key} {said!r}",
                    nearest(said, listed) or f"declare it under {key}s: in the airframe file",
                    *(section, name, key),
                )


def circuits(build: Builder, file: schema.AirframeFile) -> dict[str, Circuit]:
    """Circuits of the airframe: those listed, else those that the pin maps name."""
    circuits: dict[str, Circuit] = {}
    for name, entry in file.circuits.items():
        place = build.place(name, "circuits", name)
        same = {key: getattr(entry, key) for key in _CIRCUIT}
        phases = tuple(entry.phases) if entry.phases is not None else None
        circuits[name] = Circuit(name=name, place=place, phases=phases, **same)
        if entry.kind is not None and entry.kind not in KINDS.get(entry.signal or "", ()):
            build.fault(
                f"kind {entry.kind} does not belong to {entry.signal or 'a circuit without a signal class'}",
                "correct signal: or kind:; " + "; ".join(f"{s}: {' or '.join(k)}" for s, k in KINDS.items()),
                *("circuits", name, "kind"),
            )
        back = entry.returns
        if back is not None and (back == name or (back not in file.circuits and back not in file.grounds)):
            others = [other for other in (*file.circuits, *file.grounds) if other != name]
            build.fault(
                f"{short(back)} is no other circuit and no ground stud of the airframe",
                nearest(back, others) or "name the circuit or the stud by which the current comes back",
                *("circuits", name, "returns"),
            )
        if entry.breaker is not None:
            build.known(entry.breaker, ("breaker",), "circuits", name, "breaker")
    for ref, connector in file.connectors.items():
        for cavity, said in connector.cavities.items():
            path = ("connectors", ref, "cavities", cavity)
            if said.circuit is None:
                continue
            if said.circuit not in circuits:
                if file.circuits:
                    listed = nearest(said.circuit, file.circuits) or "add it under circuits:"
                    build.fault(f"circuit {said.circuit!r} is not listed under circuits:", listed, *path)
                place = build.place(said.circuit, *path)
                circuits[said.circuit] = Circuit(said.circuit, place, said.signal, breaker=said.breaker)
            elif said.signal and circuits[said.circuit].signal not in (None, said.signal):
                build.fault(
                    f"{said.circuit} is {circuits[said.circuit].signal} elsewhere and {said.signal} here",
                    f"state the signal once, one of: {', '.join(SIGNALS)}",
                    *path,
                )
            if said.breaker is not None:
                build.known(said.breaker, ("breaker",), *path)
    return circuits


def power(build: Builder, file: schema.AirframeFile) -> dict[str, Any]:
    """Breakers, buses, sources and the loads that hang on no listed circuit."""
    for section in ("breakers", "sources", "loads"):
        for name, entry in getattr(file, section).items():
            for key in ("bus", "breaker"):
                said = getattr(entry, key, None)
                if said is not None:
                    build.known(said, (key,), section, name, key)
    for name, source in file.sources.items():
        given = [(key, volts) for key in ("low", "supply", "high") if (volts := getattr(source, key)) is not None]
        for (lower, less), (upper, more) in pairwise(given):
            if less > more:
                message = f"{lower} {less:g} V is more than {upper} {more:g} V"
                build.fault(message, "low, supply and high stand in rising order", "sources", name, upper)
    origin = build.origin
    return {
        "breakers": {
            r: Breaker(r, build.place(r, "breakers", r), origin, b.name, b.rating, b.bus, b.resistance)
            for r, b in file.breakers.items()
        },
        "buses": {r: Bus(r, build.place(r, "buses", r), origin, b.name, b.supply) for r, b in file.buses.items()},
        "sources": {
            r: PowerSource(
                r, build.place(r, "sources", r), origin, s.kind, s.name, s.bus,
                s.supply, s.low, s.high, s.abnormal, s.rating, s.capacity, s.usable,
            )
            for r, s in file.sources.items()
        },
        "loads": {
            n: KnownLoad(
                n, build.place(n, "loads", n), e.bus, e.breaker, e.current, e.peak, e.duty,
                tuple(e.phases) if e.phases is not None else None,
            )
            for n, e in file.loads.items()
        },
    }  # fmt: skip


def opened(build: Builder, typed: str, airframe: Harness) -> tuple[str, str] | None:
    halves = [half.strip() for half in typed.split("/")]
    if len(halves) != 2:
        meant = nearest(typed, [f"{mate.a}/{mate.b}" for mate in airframe.mates])
        remedy = meant or "write both halves, like P14/J14"
        build.fault(f"opens {short(typed)} does not name a mated pair", remedy, "opens")
        return None
    pair = frozenset(halves)
    if any(mate.refs == pair for mate in airframe.mates):
        return halves[0], halves[1]
    choices = [f"{mate.a}/{mate.b}" for mate in airframe.mates]
    listed = f"the mated pairs are: {', '.join(choices)}" if choices else "say mates: at a connector of the airframe"
    build.fault(f"{typed} is not a mated pair of the airframe", nearest(typed, choices) or listed, "opens")
    return None


def still_mated(build: Builder, mates: Iterable[Mate], opens: tuple[str, str] | None, airframe: Harness) -> None:
    """The kit may only be plugged into halves that are free, or that ``opens:`` sets free."""
    for mate in mates:
        for half in (mate.a, mate.b):
            other = airframe.mate_of(half)
            if opens is not None and other is not None and half not in opens:
                own = mate.a if half == mate.b else mate.b
                message = f"{half} stays mated with {other} in the aircraft, so {own} cannot be plugged into it"
                build.fault(message, f"mate with {' or '.join(opens)}, or correct opens:", "connectors", own, "mates")


def used_once(build: Builder, file: schema.JumperFile, others: Iterable[Harness]) -> None:
    """Wires, cables and limits of the kit may not carry a name that another file of the job has given away."""
    for other in others:
        taken = {w.id: w.place for w in other.wires.values()} | {c.id: c.place for c in other.cables.values()}
        for section, what in (("wires", "wire"), ("cables", "cable")):
            for name in getattr(file, section):
                if name in taken:
                    said = f"{what} {name} is used twice: first at {taken[name].where()}"
                    build.fault_at_key(said, "give the wire or cable of the kit another name", section, name)
        for name in file.limits if other.kind is not Kind.JUMPER else ():  # each kit keeps its own limits
            if name in other.overrides:
                said = f"the limit {name} is set twice: first at {other.overrides[name].place.where()}"
                build.fault_at_key(said, "keep one of the two", "limits", name)


def tapped(build: Builder, taps: Mapping[Point, str], airframe: Harness, boxes: Sequence[Harness]) -> None:
    """A tap joins a pin that the equipment lists to a circuit that the airframe lists."""
    pins = [pin.point for box in boxes for pin in box.pins()]
    unlisted = {ref for box in boxes for ref in box.connectors} - {pin.ref for pin in pins}
    for point, circuit in taps.items():
        path = ("taps", str(point))
        if build.scope.kinds.get(point.ref) is None:
            build.known(point.ref, ("connector",), *path, at_key=True)
        elif point not in pins and (point.ref not in unlisted or not point.cavity):
            own = [str(pin) for pin in pins if pin.ref == point.ref] or [str(pin) for pin in pins]
            known = nearest(str(point), own) or f"the pins are: {', '.join(own[:15])}"
            build.fault_at_key(f"{point} is not a pin that an equipment file lists", known, *path)
        if circuit not in airframe.circuits:
            choices = list(airframe.circuits)
            build.fault(
                f"the airframe has no circuit {short(circuit)}",
                nearest(circuit, choices) or f"its circuits are: {', '.join(choices[:15])}",
                *path,
            )
