"""What is printed on a wire, and what its colour is, for the checks on telling wires apart."""

from __future__ import annotations

from harnesscheck.connector import NONE
from harnesscheck.harness import Harness
from harnesscheck.wire import Wire

UNKNOWN = "UNKNOWN"
"""What ``printed`` gives for ``mark: unknown``: nobody has read what is on the wire."""


def printed(wire: Wire) -> str | None:
    """The mark as a person reads it, capitals and single blanks; None when nothing is printed,
    ``UNKNOWN`` when nobody has read it.
    """
    if wire.mark is None:
        return wire.id.upper()
    said = " ".join(wire.mark.split())
    return None if said.casefold() == NONE or not said else said.upper()


def colour(harness: Harness, wire: Wire) -> str | None:
    """The colour in words: digits after MIL-STD-681 are spelled out, so that ``9`` and ``white`` are one colour."""
    said = wire.core if wire.cable is not None and wire.core else wire.colour
    if said is None:
        return None
    said = " ".join(said.split())
    if said.isdecimal():
        words = [part.text("word") if (part := harness.part("colour", digit)) else None for digit in said]
        return "/".join(word or digit for word, digit in zip(words, said, strict=True))
    return said.casefold().replace("-", "/").replace(" with ", "/").replace(" / ", "/").replace("gray", "grey")
