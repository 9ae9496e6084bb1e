"""A fact and a part: what the drawer hands out. Immutable; a field that is not known is ``None``, never a default."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from harnesscheck.parts.fields import FIELDS
from harnesscheck.parts.values import Value
from harnesscheck.source import Source, Status
from harnesscheck.units import Gauge, Range

RANK = {
    Status.SHOP: 0,
    Status.CONFIRMED: 1,
    Status.SECOND_HAND: 2,
    Status.DERIVED: 2,
    Status.COMMON: 2,
    Status.MEMORY: 3,
    Status.DEMO: 4,
}
"""Which of several statements about one field counts: the lowest rank; the first written within a rank."""


@dataclass(frozen=True, slots=True)
class Fact:
    """One value as written (text with its unit, list of texts, or mapping of texts) and where it comes from."""

    value: Value
    source: Source

    @property
    def firm(self) -> bool:
        """True when the value may stop a job; see ``Source.firm``."""
        return self.source.firm


@dataclass(frozen=True, slots=True)
class Part:
    """One part. ``facts`` holds the statement that counts for each field, ``others`` the ones it beat."""

    number: str
    kind: str
    facts: Mapping[str, Fact]
    unknown: tuple[str, ...] = ()
    """Fields that were looked for and found in no document, less those a firm statement has given since."""
    others: Mapping[str, tuple[Fact, ...]] = field(default_factory=dict)
    _read: dict[str, object] = field(default_factory=dict, init=False, repr=False, compare=False)
    """Values as parsed, as far as anybody has asked: thousands of wires ask for those of one part."""

    def fact(self, name: str) -> Fact | None:
        """The value and its source; None when it is not known.

        Raises ``KeyError`` for a name that is no field of this kind: a slip of the caller, not a gap in the data.
        """
        if name not in FIELDS[self.kind]:
            raise KeyError(f"{self.kind} has no field {name!r}")
        return self.facts.get(name)

    def all(self, name: str) -> tuple[Fact, ...]:
        """Every statement about a field, the one that counts first; empty when nothing is known."""
        first = self.fact(name)
        return () if first is None else (first, *self.others.get(name, ()))

    def source(self, name: str) -> Source | None:
        """Where the value of a field comes from; None when it is not known."""
        fact = self.fact(name)
        return fact.source if fact else None

    def value(self, name: str) -> object:
        """The value as the parser of the field reads it; None when it is not known."""
        if name in self._read:
            return self._read[name]
        fact = self.fact(name)
        value = None if fact is None else FIELDS[self.kind][name](fact.value)
        if not isinstance(value, dict):  # a table is made anew, for whoever asks may change it
            self._read[name] = value
        return value

    def text(self, name: str) -> str | None:
        """The value of a field that is one text."""
        return self._of(name, str)

    def items(self, name: str) -> tuple[str, ...] | None:
        """The value of a field that is a list of texts, in order."""
        fact = self.fact(name)
        if fact is None:
            return None
        if not isinstance(fact.value, tuple):
            raise TypeError(f"{self.kind} field {name!r} is not a list")
        return fact.value

    def table(self, name: str) -> Mapping[str, str] | None:
        """The value of a field that is a mapping, as written."""
        fact = self.fact(name)
        if fact is None:
            return None
        if isinstance(fact.value, str | tuple):
            raise TypeError(f"{self.kind} field {name!r} is not a mapping")
        return fact.value

    def whole(self, name: str) -> int | None:
        """The value of a field that is a whole number."""
        value = self.value(name)
        if value is not None and not isinstance(value, int):
            raise TypeError(f"{self.kind} field {name!r} is not a whole number")
        return value

    def counts(self, name: str) -> dict[str, int] | None:
        """The value of a field that maps names to whole numbers, such as ``sizes``."""
        value = self.value(name)
        if value is not None and not (isinstance(value, dict) and all(isinstance(one, int) for one in value.values())):
            raise TypeError(f"{self.kind} field {name!r} is not a mapping to whole numbers")
        return value

    def quantity(self, name: str) -> float | None:
        """The value of a field that is one quantity, SI (m, A, V, ohm, ohm/m, kg/m, N, m2); temperatures in Celsius."""
        value = self.value(name)
        if value is not None and not isinstance(value, float):
            raise TypeError(f"{self.kind} field {name!r} is not one quantity")
        return value

    def span(self, name: str) -> Range | None:
        """The value of a field that is a range, SI; a single value gives both ends."""
        value = self.value(name)
        if value is not None and not isinstance(value, Range):
            raise TypeError(f"{self.kind} field {name!r} is not a range")
        return value

    def lengths(self, name: str) -> Range | None:
        """A range of lengths in metres, for example ``insulation`` or ``strip``."""
        return self.span(name)

    def gauge_range(self, name: str = "gauge") -> tuple[Gauge, Gauge] | None:
        """``(thinnest, thickest)``."""
        value = self.value(name)
        if value is None:
            return None
        if isinstance(value, Gauge):
            return value, value
        if not isinstance(value, tuple) or not all(isinstance(one, Gauge) for one in value):
            raise TypeError(f"{self.kind} field {name!r} is not a gauge range")
        return value[0], value[1]

    def point(self, name: str, key: str) -> tuple[float, float] | None:
        """One point of a field that maps names to points, such as ``positions`` of a face view."""
        value = self.value(name)
        if value is None:
            return None
        if not isinstance(value, dict):
            raise TypeError(f"{self.kind} field {name!r} is not a mapping to points")
        found = value.get(key)
        return None if found is None else (found[0], found[1])

    def yes(self, name: str) -> bool | None:
        """The value of a yes or no field."""
        value = self.text(name)
        return None if value is None else value == "yes"

    def _of(self, name: str, kind: type[str]) -> str | None:
        fact = self.fact(name)
        if fact is None:
            return None
        if not isinstance(fact.value, kind):
            raise TypeError(f"{self.kind} field {name!r} is not one text")
        return fact.value


def settle(statements: Mapping[str, list[Fact]]) -> tuple[dict[str, Fact], dict[str, tuple[Fact, ...]]]:
    """Of several statements about each field, the one that counts and the ones it beats."""
    facts: dict[str, Fact] = {}
    others: dict[str, tuple[Fact, ...]] = {}
    for name, said in statements.items():
        first, *rest = sorted(said, key=lambda fact: RANK[fact.source.status])
        facts[name] = first
        if rest:
            others[name] = tuple(rest)
    return facts, others
