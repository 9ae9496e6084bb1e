"""A long sheet in portions: the same blocks in the same order, tables parted between their rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from harnesscheck.paper.blocks import Block, Content, Figure, Table

DRAWING = 50
"""Rows of a table that take as much room in a page or a workbook as one drawing does (measured, roughly)."""


def weight(content: Content) -> int:
    """How much stands on a sheet, counted in rows."""
    return sum(_weight(block) for block in content.blocks)


def portions(content: Content, most: int) -> Iterator[Content]:
    """The sheet in portions of at most ``most`` rows; the sheet itself when it has no more."""
    if weight(content) <= most:
        yield content
        return
    held: list[Block] = []
    left, first = most, True
    for block in _pieces(content, most):
        here = _weight(block)
        if here > left and held:
            yield _portion(content, held, first, last=False)
            held, left, first = [], most, False
        held.append(block)
        left -= here
    yield _portion(content, held, first, last=True)


def _weight(block: Block) -> int:
    return len(block.rows) if isinstance(block, Table) else DRAWING if isinstance(block, Figure) else 1


def _pieces(content: Content, most: int) -> Iterator[Block]:
    """The blocks, no table longer than ``most``; totals stay with the last piece."""
    for block in content.blocks:
        if not isinstance(block, Table) or len(block.rows) <= most:
            yield block
            continue
        starts = range(0, len(block.rows), most)
        for start in starts:
            rows = block.rows[start : start + most]
            title = f"{block.title}, continued" if block.title and start else block.title
            yield replace(
                block, rows=rows, title=title, totals=min(block.totals, len(rows)) if start == starts[-1] else 0
            )


def _portion(content: Content, blocks: list[Block], first: bool, last: bool) -> Content:
    title = content.title if first else f"{content.title}, continued"
    return replace(content, title=title, blocks=tuple(blocks), decisions=content.decisions if last else ())
