"""Why a wire has its size, in words for the comments of a plan."""

from __future__ import annotations

from collections.abc import Sequence

from harnesscheck.jumper.lines import Line
from harnesscheck.place import Point
from harnesscheck.units import Gauge


def through(line: Line, size: Gauge) -> str:
    """Of a through wire."""
    if line.gauge is not None:
        return f"through wire {size}: as thick as the existing {line.gauge}"
    if line.breaker is not None and line.breaker.rating is not None:
        amps = f"{line.breaker.rating:g} A"
        return f"through wire {size}: {line.breaker.ref} has {amps} (Table 11-3); not known: the existing size"
    if line.supply or line.signal == "ground":
        return f"through wire {size}: the thickest that the contacts take; not known: the existing size"
    return f"through wire {size}: signal wire; not known: the existing size"


def branch(line: Line, pin: Point, size: Gauge) -> str:
    """Of a branch to a pin."""
    if line.supply and line.breaker is not None and line.breaker.rating is not None:
        return f"branch to {pin}: {size} behind {line.breaker.ref} ({line.breaker.rating:g} A, Table 11-3)"
    return f"branch to {pin}: {size}" + (", as thick as its feed" if line.signal == "ground" else "")


def group(lines: Sequence[Line]) -> tuple[str, ...]:
    """Of several through wires together."""
    known = [line.cavity for line in lines if line.gauge is not None]
    unknown = [line.cavity for line in lines if line.gauge is None]
    words = []
    if known:
        words.append(f"cavity {', '.join(known)}: as thick as the existing wire")
    if unknown:
        words.append(f"not known: the existing size at cavity {', '.join(unknown)}")
    return tuple(words)
