"""May this circuit serve this pin? One file for each signal class or family; the folder listing is the list.

A rule is a plain module: ``SIGNALS`` (the classes it answers for), ``CHECKS`` (the checks that judge such a tap on
trial), ``OWN`` (what would do when nothing serves), ``INSTEAD`` (check name to what would do when that check stands
against it), and ``merit(site, want, circuit) -> Merit``: how much of its capacity would be used, in figures and words.
Limits stand in the checks, and nowhere else.
"""

from __future__ import annotations

import pkgutil
from dataclasses import dataclass, field
from functools import cache, cached_property
from importlib import import_module
from types import ModuleType

from harnesscheck.circuit import Circuit
from harnesscheck.electrics import budget
from harnesscheck.harness import Harness
from harnesscheck.place import Point

ALWAYS = ("pin-map-mismatch", "redundant-circuits-in-one-connector")
"""Checks that judge every tap."""


@dataclass(frozen=True, slots=True)
class Merit:
    """How well a circuit serves: the share of its capacity that is used with the tap, and what is to be said of it."""

    burden: float = 0.0
    words: str = ""


@dataclass
class Site:
    """The aircraft as the rules see it: the circuits at the opened pair and what feeds them."""

    airframe: Harness
    opened: tuple[str, str]
    cavities: dict[str, list[str]] = field(default_factory=dict)
    """Circuit name to its cavities."""

    @property
    def pair(self) -> str:
        """``P14/J14``."""
        return "/".join(self.opened)

    def circuit(self, name: str) -> Circuit:
        """A circuit of the pin map; one that is not listed is known by its name only."""
        return self.airframe.circuits[name]

    def leads_to(self, name: str, stud: str) -> bool:
        """True when the copper of a circuit leads to a ground stud in the aircraft."""
        nets = self.airframe.nets
        net = nets.of(Point(stud))
        here = (nets.of(Point(ref, cavity)) for ref in self.opened for cavity in self.cavities.get(name, ()))
        return net is not None and net in here

    @cached_property
    def lines(self) -> list[budget.Line]:
        """Every load of the aircraft with the breaker that feeds it."""
        return budget.lines(self.airframe)

    def breaker(self, circuit: Circuit) -> str | None:
        """The breaker that feeds a circuit, by name, else by copper."""
        found = next((line.breaker for line in self.lines if line.name == circuit.name), None)
        return circuit.breaker or found


@cache
def _listed() -> dict[str, ModuleType]:
    found: dict[str, ModuleType] = {}
    for entry in sorted(pkgutil.iter_modules(__path__), key=lambda each: each.name):
        if not entry.name.startswith("_"):
            module = import_module(f"{__name__}.{entry.name}")
            found.update(dict.fromkeys(module.SIGNALS, module))
    return found


def signals() -> list[str]:
    """The signal classes that have a rule."""
    return sorted(_listed())


def of(signal: str) -> ModuleType:
    """The rule of a signal class. Raises ``KeyError`` for a class without one."""
    return _listed()[signal]


def names(signal: str) -> tuple[str, ...]:
    """The checks that judge a tap on a circuit of this class."""
    return (*ALWAYS, *of(signal).CHECKS)


def beside(signal: str) -> tuple[str, ...]:
    """Those of them that another tap may change the answer of."""
    return tuple(name for name in names(signal) if name != "pin-map-mismatch")
