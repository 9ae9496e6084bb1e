"""Two-dimensional codes (ISO/IEC 18004) drawn as black squares."""

from __future__ import annotations

from functools import lru_cache

from harnesscheck.paper.svg import Canvas

QUIET = 4
"""Light modules round a code: ISO/IEC 18004."""


@lru_cache(maxsize=4096)
def _matrix(text: str) -> tuple[bytes, ...]:
    """Dark modules row by row; every form of a sheet asks for the same codes again."""
    import segno

    return tuple(bytes(row) for row in segno.make(text, error="m", micro=False, boost_error=False).matrix)


def code(canvas: Canvas, text: str, x: float, y: float, size: float) -> None:
    """A code with its upper left corner at ``x``, ``y``, ``size`` mm wide, quiet zone included."""
    matrix = _matrix(text)
    step = size / (len(matrix) + 2 * QUIET)
    boxes = []
    for row, line in enumerate(matrix):
        start = None
        for column, dark in enumerate([*line, 0]):
            if dark and start is None:
                start = column
            elif not dark and start is not None:
                boxes.append((x + (start + QUIET) * step, y + (row + QUIET) * step, (column - start) * step, step))
                start = None
    canvas.blacks(boxes)
