"""Two-dimensional codes (ISO/IEC 18004) drawn as black squares."""

from __future__ import annotations

from harnesscheck.paper.svg import Canvas

QUIET = 4
"""Light modules round a code: ISO/IEC 18004."""


def code(canvas: Canvas, text: str, x: float, y: float, size: float) -> None:
    """A code with its upper left corner at ``x``, ``y``, ``size`` mm wide, quiet zone included."""
    import segno

    matrix = segno.make(text, error="m", micro=False, boost_error=False).matrix
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
