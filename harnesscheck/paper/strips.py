"""A page is a pile of strips, none of which is parted."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from harnesscheck.paper import metrics
from harnesscheck.paper.svg import TEXT, Canvas, leading


@dataclass(frozen=True, slots=True)
class Item:
    """A strip across the page that is not parted: its height, and how it is drawn with its upper edge at ``y``."""

    height: float
    draw: Callable[[Canvas, float, float], None]
    keep: bool = False
    """Stays with what follows."""
    head: Item | None = None
    """Stands above it again when it begins a page."""
    gap: float = 0.0
    """Room above it, unless it begins a page."""
    breaks: bool = False
    """Begins a page."""


def lines(texts: Sequence[str], strong: bool = False) -> Iterator[Item]:
    """Lines of text, one item each, so that a long paragraph can go on over the page."""
    for number, text in enumerate(texts):

        def draw(canvas: Canvas, x: float, y: float, text: str = text) -> None:
            canvas.text(x, y + TEXT + 0.6, text, strong=strong)

        # The first two lines of a paragraph stay together, and so do the last two.
        keep = len(texts) > 1 and (number == 0 or number == len(texts) - 2)
        yield Item(leading(TEXT), draw, keep, gap=0.0 if number else 1.2)


def name(anchor: str) -> str:
    """An anchor as an id that XML and links can hold; ``svg.identifier`` makes names that need no change."""
    return "".join(c if c.isascii() and (c.isalnum() or c in "._-") else f"_{ord(c):X}_" for c in anchor)


def cut(text: str, cap: float, room: float) -> str:
    """``text`` on one line, its end given up for an ellipsis where it is too long; it stands in full elsewhere."""
    if metrics.width(text, cap) <= room:
        return text
    while text and metrics.width(text + "...", cap) > room:
        text = text[:-1]
    return text.rstrip() + "..."
