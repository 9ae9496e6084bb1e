"""CAN: length by rate, terminators, nodes. ISO 11898-2, ARINC 825 and J1939 have one physical layer."""

from __future__ import annotations

from harnesscheck.formulas.loading import parallel
from harnesscheck.source import Source, Status

LENGTHS = {
    1_000_000: 25.0, 800_000: 50.0, 500_000: 100.0, 250_000: 250.0, 125_000: 500.0,
    50_000: 1000.0, 20_000: 2500.0, 10_000: 5000.0,
}  # fmt: skip
"""Bits a second to the longest trunk, metres. Source: ``LENGTHS_SOURCE``."""
LENGTHS_SOURCE = Source("two motion controllers' manuals, length by rate", Status.CONFIRMED)
ISO_LENGTH = 40.0
"""Metres at 1 Mbit/s, as a transceiver data sheet quotes ISO 11898-2 (confirmed); isolated nodes elsewhere 20 m."""
J1939_LENGTH = 40.0
J1939_SOURCE = Source("diesel engine application manual on J1939, p. 235", Status.CONFIRMED)
EFIS_LENGTH = 20.0
"""Metres that the manual of an amateur-built EFIS allows its bus."""
LINE_SOURCE = Source(
    "EFIS installation manual, p. 2-22", Status.CONFIRMED, paragraph="one line, two ends, no star or Y"
)
NODES = 30
NODES_SOURCE = Source("ISO 11898-2 and J1939", Status.SECOND_HAND, paragraph="30 nodes; a reseller's page, and memory")
TERMINATORS = 2
TERMINATOR = 120.0
"""Ohms."""
TERMINATORS_SOURCE = Source(
    "CAN transceiver data sheets", Status.CONFIRMED, paragraph="ISO 11898-2: 2 x 120 ohm; drivers feed 45 to 70 ohm"
)
IMPEDANCE = (95.0, 140.0)
"""Ohms of cable and terminator, ISO 11898-2:2003 Table 9 as quoted (second hand)."""
DRIVEN = (45.0, 70.0)
"""Ohms into which drivers are specified, the extended range included. Source: ``TERMINATORS_SOURCE``."""
DELAY = 5e-9
"""Seconds a metre. Source: CiA 301 as quoted in a space engineering glossary (confirmed)."""


def longest(rate: float) -> float | None:
    """Longest trunk for a rate, metres: of the nearest rate above that the table has; None above 1 Mbit/s.

    >>> longest(1e6), longest(500e3), longest(83.3e3), longest(2e6)
    (25.0, 100.0, 500.0, None)
    """
    rows = [row for row in LENGTHS if row >= rate]
    return LENGTHS[min(rows)] if rows else None


def longest_by_timing(rate: float, sample_point: float, loop: float) -> float:
    """Longest trunk by arbitration, metres: 2 (L t_p + t_loop) <= SP x t_bit. ``loop`` one way, seconds (from memory).

    Simplified; own arithmetic. It explains the two lengths at 1 Mbit/s (loop 175 ns and 255 ns):

    >>> round(longest_by_timing(1e6, 0.75, 175e-9), 1), round(longest_by_timing(1e6, 0.75, 255e-9), 1)
    (40.0, 24.0)
    >>> [round(longest_by_timing(r, s, 255e-9)) for r, s in ((500e3, 0.875), (250e3, 0.87), (125e3, 0.875))]
    [124, 297, 649]
    """
    return (sample_point / rate / 2 - loop) / DELAY


def load(terminators: int, value: float = TERMINATOR) -> float:
    """What the terminators give together, ohms. One, two, three of 120 ohm; three are below what drivers feed:

    >>> [load(n) for n in (1, 2, 3)], DRIVEN[0] <= load(2) <= DRIVEN[1], load(3) < DRIVEN[0]
    ([120.0, 60.0, 40.0], True, True)
    """
    return round(parallel([value] * terminators), 9)
