"""What is asked of a predictor in tests by hand: two leads, or lines in series."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.place import Point


@dataclass(frozen=True)
class Probes:
    a: tuple[Point, ...]
    b: tuple[Point, ...]
    kind: str = "ohms"


@dataclass(frozen=True)
class Lines:
    lines: tuple[tuple[Point, Point], ...]
    a: tuple[Point, ...] = ()
    b: tuple[Point, ...] = ()
    kind: str = "series"
