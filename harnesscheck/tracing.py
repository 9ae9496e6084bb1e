"""Follow the copper from one point and say it so that it can be read out on the telephone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from harnesscheck.circuit import Step
from harnesscheck.fault import Fault, InputError, foreign, nearest, quoted, short
from harnesscheck.harness import Harness
from harnesscheck.place import Point, split_point


@dataclass(frozen=True)
class Trace:
    """Everything joined to one point."""

    harness: Harness
    start: Point
    steps: tuple[Step, ...]

    def as_text(self) -> str:
        """One line a step, indented by how far it is from the start."""
        lines = [f"{self.start}{_said(self.harness, self.start)}"]
        for step in self.steps:
            if step.through == "mate":
                way = "plugged into"
            elif step.through == "inside":
                way = "joined inside the unit to"
            else:
                wire = self.harness.wires[step.through]
                words = [
                    str(wire.gauge) if wire.gauge else "",
                    wire.colour or "",
                    "new" if wire.origin == "jumper" else "existing",
                ]
                way = f"wire {wire.id} ({', '.join(w for w in words if w)}) to"
            lines.append(f"{'  ' * step.depth}{way} {step.end}{_said(self.harness, step.end)}")
        if not self.steps:
            lines.append("  leads nowhere: no wire and no mated cavity is known here")
        named = self.harness.circuits_at([self.start, *(s.end for s in self.steps)])
        if named:
            lines.append(f"circuit: {', '.join(named)}")
        return "\n".join(quoted(line) for line in lines) + "\n"

    def as_data(self) -> dict[str, Any]:
        """The same as plain data."""
        points = [self.start, *(s.end for s in self.steps)]
        return {
            "start": str(self.start),
            "circuits": list(self.harness.circuits_at(points)),
            "steps": [
                {"from": str(s.start), "through": s.through, "to": str(s.end), "depth": s.depth} for s in self.steps
            ],
        }


def trace(harness: Harness, typed: str) -> Trace:
    """Follow the copper from the point a person typed. Raises ``InputError`` with the nearest name if there is none."""
    point = split_point(typed)
    if point is None or point not in harness.nets.index:
        names = [str(p) for p in harness.points]
        own = [name for name in names if name.startswith(f"{typed}-")]
        hint = f"add what comes after the dash: {', '.join(own[:12])}" if own else foreign(typed)
        hint = hint or nearest(typed, names) or "write a cavity like P14-3, or SP1, GS3, CB7-load"
        said = f"{short(typed)} has more than one point" if own else f"there is no point {short(typed)} in this harness"
        raise InputError([Fault("command line", 1, 1, said, "", hint)])
    return Trace(harness, point, tuple(harness.trace(point)))


def _said(harness: Harness, point: Point) -> str:
    """What is known of a point, in brackets."""
    pin = next((p for p in harness.pins() if p.point == point), None)
    cavity = harness.cavity(point)
    connector = harness.connectors.get(point.ref)
    words = []
    if pin is not None:
        words.append(pin.function)
    if cavity is not None and cavity.circuit:
        words.append(cavity.circuit)
    for table in (harness.grounds, harness.breakers, harness.buses):
        thing = table.get(point.ref)
        if thing is not None and thing.name:
            words.append(thing.name)
    if connector is not None and connector.name:
        words.append(connector.name)
    if point.ref in harness.splices:
        words.append("splice")
    return f"  ({'; '.join(words)})" if words else ""
