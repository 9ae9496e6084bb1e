"""What the kit touches: a diagram of the installed jumper shows that, and names the rest of the aircraft in a note."""

from __future__ import annotations

from dataclasses import replace

from harnesscheck.connector import Origin
from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job


def touched(job: Job) -> Job:
    """The job without those existing connectors that no copper and no mate joins to the kit, and the wires at them.

    For anything but an installed jumper nothing is left out.
    """
    harness = job.subject
    if harness.kind is not Kind.INSTALLED:
        return job
    kit = {ref for table in (harness.connectors, harness.splices) for ref, thing in table.items() if _of_the_kit(thing)}
    nets = harness.nets
    reached = {net for point, net in zip(nets.points, nets.label, strict=True) if point.ref in kit}
    kept = {point.ref for point, net in zip(nets.points, nets.label, strict=True) if net in reached}
    kept |= {*kit, *harness.opened}
    away = {ref for ref in harness.connectors if ref not in kept and harness.mate_of(ref) not in kept}
    trimmed = replace(
        harness,
        connectors={ref: half for ref, half in harness.connectors.items() if ref not in away},
        wires={name: w for name, w in harness.wires.items() if w.a.ref not in away and w.b.ref not in away},
        mates=tuple(mate for mate in harness.mates if not mate.refs & away),
    )
    return replace(job, subject=trimmed) if away else job


def left_out(harness: Harness) -> list[str]:
    """The existing connectors of a trimmed harness that are not drawn, mated ones as pairs."""
    before = harness.before
    if before is None:
        return []
    away = [ref for ref in before.connectors if ref not in harness.connectors]
    named = [f"{ref}/{mate}" if (mate := before.mate_of(ref)) in away else ref for ref in away]
    return [name for name in named if "/".join(reversed(name.split("/"))) not in named[: named.index(name)]]


def _of_the_kit(thing: object) -> bool:
    return getattr(thing, "origin", None) in (Origin.JUMPER, Origin.EQUIPMENT)
