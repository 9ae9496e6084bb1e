"""Small helpers that several checks use to word their answers."""

from __future__ import annotations

from collections.abc import Iterable

from harnesscheck.place import Place, Point


def several(names: Iterable[str], most: int = 12) -> str:
    """``1, 2 and 3``; long lists are cut with the number left out."""
    items = list(dict.fromkeys(names))
    if len(items) > most:
        return f"{', '.join(items[:most])} and {len(items) - most} more"
    return " and ".join([", ".join(items[:-1]), items[-1]]) if len(items) > 1 else "".join(items)


def cavities(points: Iterable[Point]) -> str:
    """``P14 cavity 3`` or ``P14 cavities 3, 4 and 5`` for points of one connector."""
    listed = list(points)
    word = "cavity" if len(listed) == 1 else "cavities"
    return f"{listed[0].ref} {word} {several(p.cavity for p in listed)}"


def places(points: Iterable[Point], near: Place) -> tuple[Place, ...]:
    """Places for points that were not typed on a line of their own: they carry the position of ``near``."""
    return tuple(Place(str(point), near.document, near.line, near.column) for point in points)
