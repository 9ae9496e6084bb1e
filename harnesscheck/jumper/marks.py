"""Names for what the kit brings: wire marks after the scheme of the aircraft, and free references.

A mark is made of a letter for the system, a number for the circuit, a letter for the segment, the size, and N for a
wire to ground: ``P501A20``, ``P502A20N``. Common practice; where the aircraft's own marks show another letter for a
circuit, that one is kept.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from copy import copy

from harnesscheck.circuit import Circuit
from harnesscheck.harness import Harness
from harnesscheck.units import Gauge
from harnesscheck.wire import Wire

MARK = re.compile(r"([A-Z])(\d{1,5})([A-Z])(\d{1,2})([A-Z]?)")
LETTERS = {
    "power": "P", "ground": "P", "lighting": "L", "shield": "D", "can": "D", "ethernet": "D", "arinc429": "D",
    "rs422": "D", "rs485": "D", "rs232": "R", "nmea0183": "R", "discrete": "W", "analogue": "D", "signal ground": "D",
    "pulse": "D", "audio": "A", "thermocouple": "T", "ignition": "J", "video": "V", "rf": "R",
}  # fmt: skip
"""Signal class to the letter of its system. Common practice, with the project's own demo jobs as the pattern."""
SPARE = "S"


class Marks:
    """Hands out marks and references that neither the aircraft nor the equipment uses."""

    def __init__(self, airframe: Harness, boxes: Iterable[Harness], cavities: Sequence[str]) -> None:
        taken = [airframe, *boxes]
        self._ids = {name.upper() for harness in taken for name in (*harness.wires, *harness.cables)}
        self._ids |= {w.mark.upper() for harness in taken for w in harness.wires.values() if w.mark}
        self._refs = {
            ref
            for h in taken
            for table in (h.connectors, h.splices, h.grounds, h.breakers, h.buses, h.sources, h.devices)
            for ref in table
        }
        numbers = [int(found[2]) for name in self._ids if (found := MARK.fullmatch(name))]
        plain = all(name.isdecimal() and int(name) > 0 for name in cavities)
        step = 1000 if any(n >= 100 for n in (map(int, cavities) if plain else [len(cavities)])) else 100
        self.base = (max(numbers, default=0) // step + 1) * step
        self._of = {name: self.base + (int(name) if plain else n) for n, name in enumerate(cavities, 1)}

    def fork(self) -> Marks:
        """A copy that hands out the same marks again: each layout of a job starts from the same free ones."""
        other = copy(self)
        other._ids, other._refs = set(self._ids), set(self._refs)
        return other

    def number(self, cavity: str) -> int:
        """The number of the circuit on a cavity: the next free hundred and the cavity, or its place in the insert."""
        return self._of[cavity]

    def wire(self, letter: str, cavity: str, segment: int, size: Gauge | None, tail: str = "") -> str:
        """The mark of one segment (0 is A); an id that is taken already moves to the next segment letter."""
        thickness = str(size.awg) if size is not None and size.awg is not None else ""
        for further in range(26 - segment):
            name = f"{letter}{self.number(cavity)}{chr(65 + segment + further)}{thickness}{tail}"
            if name.upper() not in self._ids:
                self._ids.add(name.upper())
                return name
        raise ValueError(f"no free mark for cavity {cavity}")

    def cable(self, cavity: str, segment: int) -> str:
        """The id of a cable, after the number of its first circuit."""
        return self.wire("C", cavity, segment, None)

    def ref(self, letters: str, number: int, step: int = 1) -> str:
        """A free reference: ``letters`` and the first free number from ``number`` on."""
        while f"{letters}{number}" in self._refs:
            number += step
        self._refs.add(f"{letters}{number}")
        return f"{letters}{number}"


def letter(circuit: Circuit | None, existing: Iterable[Wire]) -> tuple[str, str]:
    """Letter of the system and tail of a mark: as on the aircraft's own wire of the circuit, else by signal class.

    >>> letter(None, [])
    ('S', '')
    """
    for wire in existing:
        found = MARK.fullmatch(wire.mark or wire.id)
        if found:
            return found[1], found[5]
    if circuit is None:
        return SPARE, ""
    return LETTERS.get(circuit.signal or "", "X"), "N" if circuit.signal == "ground" else ""


def number_of(ref: str) -> int:
    """The digits of a reference: 14 of ``P14``; 0 when it has none."""
    found = re.search(r"\d+", ref)
    return int(found[0]) if found else 0
