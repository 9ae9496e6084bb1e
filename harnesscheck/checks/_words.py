"""Small helpers that several checks use to word their answers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from harnesscheck.connector import Connector
from harnesscheck.finding import Passed
from harnesscheck.harness import Harness
from harnesscheck.parts import Fact
from harnesscheck.place import Place, Point
from harnesscheck.source import Source


class Tally:
    """Counts what was found right, and keeps apart what rests on values that nobody has confirmed."""

    def __init__(self, what: str) -> None:
        self.what = what
        self.firm = self.soft = 0

    def add(self, count: int, source: Source | None) -> None:
        """``source`` is the weakest of those that the answer rests on; None when it rests on no part data."""
        if source is None or source.firm:
            self.firm += count
        else:
            self.soft += count

    def passed(self) -> Iterator[Passed]:
        """One line for the firm ones, one for the others."""
        yield Passed(self.firm, self.what)
        yield Passed(self.soft, f"{self.what}, by values that nobody has confirmed")


def several(names: Iterable[str], most: int = 12) -> str:
    """``1, 2 and 3``; long lists are cut with the number left out."""
    items = list(dict.fromkeys(names))
    if len(items) > most:
        return f"{', '.join(items[:most])} and {len(items) - most} more"
    return " and ".join([", ".join(items[:-1]), items[-1]]) if len(items) > 1 else "".join(items)


def many(count: int, one: str, more: str = "") -> str:
    """``1 wire``, ``2 wires``; ``more`` is a plural that does not just take an s."""
    return f"{count} {one if count == 1 else more or one + 's'}"


def in_turn(name: str) -> tuple[int, int, str]:
    """Sort key for cavity names: numbers by value, then letters; the order of wires in a file must not show."""
    return (0, int(name), name) if name.isascii() and name.isdecimal() else (1, 0, name)


def cavities(points: Iterable[Point]) -> str:
    """``P14 cavity 3`` or ``P14 cavities 3, 4 and 5`` for points of one connector."""
    listed = list(points)
    word = "cavity" if len(listed) == 1 else "cavities"
    return f"{listed[0].ref} {word} {several(sorted((p.cavity for p in listed), key=in_turn))}"


def at(point: Point | str, near: Place) -> Place:
    """A place for a point that was not typed on a line of its own: it carries the position of ``near``."""
    return Place(str(point), near.document, near.line, near.column)


def same(one: object, two: object) -> bool:
    """True for equal values; two texts are equal when they differ in capital letters only (``DA-15``, ``da-15``)."""
    if isinstance(one, str) and isinstance(two, str):
        return one.casefold() == two.casefold()
    return one == two


def weakest(*facts: Fact | None) -> Source | None:
    """Where the least trusted of several facts comes from: a finding is as firm as its weakest leg."""
    sources = [fact.source for fact in facts if fact is not None]
    return next((source for source in sources if not source.firm), sources[0] if sources else None)


def why_unknown(harness: Harness, connector: Connector, what: str) -> str:
    """Why a property of a connector is not known, as a sentence: ``what`` is ``the insert arrangement``."""
    if connector.part is None:
        return f"{what} is not known: no part number is stated"
    if harness.part("connector", connector.part) is None:
        return f"{what} is not known: part number {connector.part} is not in the parts drawer"
    return f"{what} is not known: the parts drawer does not give it for {connector.part}"


def cure(harness: Harness, connector: Connector, key: str) -> str:
    """What to do about an unknown property: ``key`` is how it is stated in the job file, like ``family:``."""
    if connector.part is None:
        return f"give part: or {key}"
    return f"add {connector.part} to the shop's parts file, or give {key}"


def no_names(harness: Harness, connector: Connector) -> str:
    """Why the cavity names of a connector are not known, as a sentence."""
    insert = connector.says("insert")
    if insert is None:
        return why_unknown(harness, connector, "the insert arrangement")
    return f"the cavities of insert arrangement {insert} are not in the parts drawer"
