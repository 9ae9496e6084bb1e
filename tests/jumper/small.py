"""Parts made up for the tests: facts written down, asked for as the drawer's parts are."""

from __future__ import annotations

from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

from harnesscheck.units import Gauge, Range


class Made:
    """A part. ``soft`` names the facts that nobody has confirmed."""

    def __init__(self, number: str, soft: str = "", **facts: Any) -> None:
        self.number, self.facts, self.soft = number, facts, soft.split()

    def fact(self, name: str) -> Any:
        name = name.replace(" ", "_")
        return SimpleNamespace(firm=name not in self.soft) if name in self.facts else None

    def _said(self, name: str) -> Any:
        return self.facts.get(name.replace(" ", "_"))

    quantity = text = whole = gauge_range_of = _said

    def yes(self, name: str) -> bool | None:
        return self.facts.get(name)

    def span(self, name: str) -> Range | None:
        said = self._said(name)
        return None if said is None else Range(*said)

    lengths = span

    def gauge_range(self, name: str = "gauge") -> tuple[Gauge, Gauge] | None:
        said = self._said(name)
        return None if said is None else (Gauge(awg=said[0]), Gauge(awg=said[1]))


class Shelf:
    """A drawer of such parts, by kind."""

    def __init__(self, **kinds: list[Made]) -> None:
        self.kinds: Mapping[str, dict[str, Made]] = {
            kind.replace("_", " "): {part.number: part for part in parts} for kind, parts in kinds.items()
        }

    def numbers(self, kind: str) -> list[str]:
        return list(self.kinds.get(kind, {}))

    def get(self, kind: str, number: str) -> Made | None:
        return self.kinds.get(kind, {}).get(number)


AREAS = {24: 0.2e-6, 22: 0.4e-6, 20: 0.6e-6, 18: 1.0e-6, 16: 1.2e-6}
"""Round areas in square metres, invented for the tests."""


def conductors() -> list[Made]:
    return [Made(f"{n} AWG", area=area) for n, area in AREAS.items()]
