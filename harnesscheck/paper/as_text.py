"""A sheet as text for a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.fault import quoted
from harnesscheck.paper.blocks import Block, Content, Facts, Figure, Heading, Stamp, Table, Words, plain
from harnesscheck.paper.cautions import CAUTIONS
from harnesscheck.paper.rows import columns

SUFFIX = ".txt"
UNSAID = "not stated"


def write(content: Content, stamp: Stamp) -> bytes:
    """The sheet as UTF-8 lines; control characters are shown, never sent to the terminal."""
    return "\n".join(quoted(line) for line in _lines(content, stamp)).encode("utf-8") + b"\n"


def _lines(content: Content, stamp: Stamp) -> Iterator[str]:
    yield f"{content.title.upper()}   {stamp.title}   revision {stamp.revision or UNSAID}"
    if stamp.pack:
        yield f"pack {stamp.pack}"
    if stamp.warning:
        yield stamp.warning
    if stamp.note:
        yield stamp.note
    for block in content.blocks:
        yield from _block(block)
    yield ""
    if content.decisions:
        yield "Decided in writing for this job:"
        yield from (f"  {line}" for line in content.decisions)
        yield ""
    yield from CAUTIONS


def _block(block: Block) -> Iterator[str]:
    if isinstance(block, Heading):
        yield from ("", block.text.upper())
    elif isinstance(block, Words):
        yield block.text
    elif isinstance(block, Facts):
        wide = max((len(name) for name, _ in block.pairs), default=0)
        yield from (f"  {name.ljust(wide)}  {value}".rstrip() for name, value in block.pairs)
    elif isinstance(block, Table):
        yield from _table(block)
    elif isinstance(block, Figure):
        yield from ("", f"[drawing: {block.caption}]", *(f"  {line}" for line in block.words))


def _table(table: Table) -> Iterator[str]:
    yield ""
    if table.title:
        yield table.title
    if not table.rows:
        yield "  none"
        return
    head = [column.title for column in table.columns]
    body = [
        [
            "____" if column.blank and not plain(cell) else plain(cell)
            for column, cell in zip(table.columns, row, strict=True)
        ]
        for row in table.rows
    ]
    right = frozenset(i for i, column in enumerate(table.columns) if column.right)
    yield from (f"  {line}" for line in columns([head, *body], right))
