"""A desk made up for the tests: faults and what each reading would show with them are written down, not worked out."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from harnesscheck.place import Point
from harnesscheck.ringout.reading import Reading
from harnesscheck.trouble.ask import Asker
from harnesscheck.trouble.desk import Desk
from harnesscheck.trouble.faults import Plan, Trouble
from harnesscheck.trouble.predict import Edit
from harnesscheck.trouble.rank import Ranker

OPEN = math.inf


def reading(ident: str, kind: str = "continuity", **more: Any) -> Reading:
    """A reading from ``J1-n`` to ``P1-n``."""
    number = ident[-1]
    limits = {
        "continuity": (0.1, None, 0.5, "ohm"), "isolation": (OPEN, 1e7, None, "ohm"), "ohms": (60.0, 55.0, 65.0, "ohm"),
        "volts": (14.0, 12.0, 15.0, "V"),
    }  # fmt: skip
    expected, low, high, unit = limits[kind]
    said = {"a": (Point("J1", number),), "b": (Point("P1", number),), "expected": expected, "low": low, "high": high,
            "unit": unit, "why": f"line {number}", "article": "bench"}  # fmt: skip
    return Reading(id=ident, kind=kind, **{**said, **more})


class Written:
    """Stands for a predictor: effects are looked up by the edit."""

    def __init__(self, readings: Sequence[Any], healthy: Sequence[float]) -> None:
        self.readings, self.healthy = list(readings), list(healthy)
        self.hot = [r.kind == "volts" for r in readings]
        self.answers: dict[Edit, dict[int, float]] = {}

    def effect(self, edit: Edit) -> dict[int, float]:
        return self.answers[edit]

    def family(self, edits: Sequence[Edit]) -> list[dict[int, float]]:
        return [self.answers[edit] for edit in edits]


def fault(name: str, weight: float, strengths: int = 1, **more: Any) -> Trouble:
    """A fault of so many strengths; its edits are only names."""
    number = sum(ord(c) * 31**n for n, c in enumerate(name))
    edits = tuple(Edit(((number, n, n, 1.0),)) for n in range(strengths))
    said = {"kind": "contact open", "says": f"{name} is bad", "look": f"the cavity of {name}", **more}
    return Trouble(edits=edits, weight=weight, **said)


def ranker(
    readings: Sequence[Any], healthy: Sequence[float], faults: Mapping[Trouble, Sequence[Mapping[int, float]]],
    factors: Mapping[int, float] | None = None, also: Mapping[tuple[Trouble, Trouble], Mapping[int, float]] = {},
) -> Ranker:  # fmt: skip
    """``faults``: for every strength what it changes; ``also``: what two of them together change."""
    predictor = Written(readings, healthy)
    for trouble, effects in faults.items():
        predictor.answers |= {e: dict(effect) for e, effect in zip(trouble.edits, effects, strict=True)}
    for (one, two), effect in also.items():
        predictor.answers[one.edits[0].plus(two.edits[0])] = dict(effect)
        predictor.answers[two.edits[0].plus(one.edits[0])] = dict(effect)
    bands = [(-OPEN if r.low is None else r.low, OPEN if r.high is None else r.high) for r in readings]
    return Ranker(predictor, list(faults), bands, factors)  # type: ignore[arg-type]


def desk(ranked: Ranker, name: str = "bench", heard: Sequence[str] = ()) -> Desk:
    """A desk around a ranker."""
    readings = list(ranked.predictor.readings)
    asker = Asker(ranked, range(len(readings)), plugs=False)
    return Desk(name, readings, [], Plan({}, {}), ranked.troubles, ranked, asker, heard=list(heard))  # type: ignore[arg-type]
