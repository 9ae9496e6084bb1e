"""What a file becomes when read: nested ``Block`` (mapping), ``Items`` (list) and ``str``, each with its place."""

from __future__ import annotations

from typing import Any


class Block(dict[str, Any]):
    """A mapping of the file: values are ``str``, ``Block`` or ``Items``.

    ``marks[key]`` is ``(key line, key column, value line, value column)``, all counted from 1.
    """

    __slots__ = ("column", "line", "marks")

    def __init__(self, line: int, column: int) -> None:
        super().__init__()
        self.line = line
        self.column = column
        self.marks: dict[str, tuple[int, int, int, int]] = {}


class Items(list[Any]):
    """A list of the file; ``marks[i]`` is ``(line, column)`` of item i, counted from 1."""

    __slots__ = ("column", "line", "marks")

    def __init__(self, line: int, column: int) -> None:
        super().__init__()
        self.line = line
        self.column = column
        self.marks: list[tuple[int, int]] = []
