"""The symbols of the diagram, after IEEE 315 and IEC 60617 (shapes from memory; every sheet has a legend of them)."""

from __future__ import annotations

from collections.abc import Callable
from math import cos, pi, sin

from harnesscheck.paper.svg import XY, Canvas
from harnesscheck.sheets._layout import HALF_HEIGHT, half_width


def contact(canvas: Canvas, x: float, y: float, gender: str | None, towards: int) -> None:
    """Half of a contact pair at ``x``; ``towards`` is +1 when the other half lies to the right.

    A pin is an arrow head, a socket a fork that takes it; when nobody has said which, a short bar.
    """
    if gender == "pin":
        tip = x + towards * 3.2
        canvas.line([(x, y), (tip - towards * 1.6, y)], "symbol")
        canvas.line([(tip, y), (tip - towards * 1.9, y - 0.8), (tip - towards * 1.9, y + 0.8)], "symbol", True, "black")
    elif gender == "socket":
        back = x + towards * 0.7
        canvas.line([(x, y), (back, y)], "symbol")
        canvas.arc((back + towards * 1.3, y - 1.4), (back, y), 1.4, "symbol", clockwise=towards < 0)
        canvas.arc((back, y), (back + towards * 1.3, y + 1.4), 1.4, "symbol", clockwise=towards < 0)
    else:
        canvas.line([(x, y), (x + towards * 1.9, y)], "symbol")
        canvas.line([(x + towards * 1.9, y - 1.2), (x + towards * 1.9, y + 1.2)], "symbol")


def splice(canvas: Canvas, x: float, y: float, taps: int = 1) -> None:
    """A crimp splice: an open diamond that wires enter at its corners and from below."""
    wide = half_width(taps)
    canvas.line([(x - wide, y), (x, y - HALF_HEIGHT), (x + wide, y), (x, y + HALF_HEIGHT)], "symbol", True, "white")


def tap_edge(offset: float, taps: int) -> float:
    """How far below its middle the edge of a splice is, ``offset`` mm from the middle."""
    return HALF_HEIGHT * (1 - abs(offset) / half_width(taps))


def ground(canvas: Canvas, x: float, y: float) -> None:
    """Chassis ground, turned to point right: a bar with three slanted prongs."""
    canvas.line([(x, y), (x + 1.6, y)], "symbol")
    canvas.line([(x + 1.6, y - 1.8), (x + 1.6, y + 1.8)], "symbol")
    for offset in (-1.8, 0.0, 1.8):
        canvas.line([(x + 1.6, y + offset), (x + 3.2, y + offset - 0.7)], "symbol")


def breaker(canvas: Canvas, x: float, y: float) -> None:
    """A circuit breaker: two contacts with a half circle over the gap; 9 mm long."""
    canvas.line([(x, y), (x + 1.6, y)], "symbol")
    canvas.arc((x + 1.9, y - 0.9), (x + 7.1, y - 0.9), 3.0, "symbol")
    for at in (x + 2.1, x + 6.9):
        canvas.circle(at, y, 0.5)
    canvas.line([(x + 7.4, y), (x + 9.0, y)], "symbol")


def arrow(canvas: Canvas, x: float, y: float) -> None:
    """The line goes on elsewhere, as the text beside it says."""
    canvas.line([(x, y), (x + 2.0, y)], "symbol")
    canvas.line([(x + 3.6, y), (x + 1.6, y - 0.9), (x + 1.6, y + 0.9)], "symbol", True, "white")


def cut(canvas: Canvas, x: float, y: float) -> None:
    """The line goes on, but the wire is not listed: a wavy break across its end."""
    canvas.arc((x, y - 1.6), (x, y), 1.1, "symbol", clockwise=False)
    canvas.arc((x, y), (x, y + 1.6), 1.1, "symbol", clockwise=True)


def spare(canvas: Canvas, x: float, y: float, towards: int, empty: bool = True) -> None:
    """A cavity without a wire: a short lead with a bar across its end; without the bar nobody has said."""
    canvas.line([(x, y), (x + towards * 1.5, y)], "symbol")
    if not empty:
        return
    canvas.line([(x + towards * 1.5, y - 1.1), (x + towards * 1.5, y + 1.1)], "symbol")


def twist(canvas: Canvas, x: float, top: float, bottom: float) -> None:
    """Twisted together: an S across all cores."""
    middle, reach = (top + bottom) / 2, (bottom - top) / 2 + 1.3
    points: list[XY] = []
    for step in range(25):
        angle = 2 * pi * step / 24
        points.append((x + 1.3 * sin(angle) * cos(angle / 2 - pi / 2), middle - reach * cos(angle / 2)))
    canvas.line(points, "symbol")


def dot(canvas: Canvas, x: float, y: float) -> None:
    """A junction."""
    canvas.circle(x, y, 0.7, "symbol", "black")


def on_site(canvas: Canvas, x: float, y: float) -> None:
    """Fitted on site: an open triangle that stands on its edge, base line at ``y``."""
    canvas.line([(x, y), (x + 3.2, y), (x + 1.6, y - 2.6)], "symbol", True, "white")


Draw = Callable[[Canvas, float, float], None]


def _across(style: str) -> Draw:
    return lambda canvas, x, y: canvas.line([(x, y), (x + 14, y)], style)


def _pair(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x, y), (x + 4.5, y)], "new")
    contact(canvas, x + 4.5, y, "pin", 1)
    contact(canvas, x + 9.5, y, "socket", -1)
    canvas.line([(x + 9.5, y), (x + 14, y)], "new")


def _unknown(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x, y), (x + 4.5, y)], "new")
    contact(canvas, x + 4.5, y, None, 1)
    contact(canvas, x + 9.5, y, None, -1)
    canvas.line([(x + 9.5, y), (x + 14, y)], "new")


def _tie(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x + 7, y - 2.6), (x + 7, y + 2.6)], "tie")


def _splice(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x, y), (x + 14, y)], "new")
    canvas.line([(x + 7, y), (x + 7, y + 2.7)], "new")
    splice(canvas, x + 7, y)


def _crossing(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x, y), (x + 14, y)], "new")
    canvas.line([(x + 7, y - 2.5), (x + 7, y + 2.5)], "new")


def _shield(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x, y - 0.4), (x + 14, y - 0.4)], "new")
    canvas.capsule(x + 1.5, y - 2.0, x + 12.5, y + 1.2, "shield")
    canvas.line([(x + 9, y + 1.2), (x + 9, y + 2.6), (x + 14, y + 2.6)], "new")


def _jacket(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x, y), (x + 14, y)], "new")
    canvas.capsule(x + 1.5, y - 1.6, x + 12.5, y + 1.6, "cable")


def _twist(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x, y - 1.1), (x + 14, y - 1.1)], "new")
    canvas.line([(x, y + 1.1), (x + 14, y + 1.1)], "new")
    twist(canvas, x + 7, y - 1.1, y + 1.1)


def _bus(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x, y), (x + 9, y)], "existing")
    canvas.line([(x + 9, y - 2.4), (x + 9, y + 2.4)], "bus")


def _led(draw: Callable[[Canvas, float, float], None], lead: float) -> Draw:
    def both(canvas: Canvas, x: float, y: float) -> None:
        canvas.line([(x, y), (x + lead, y)], "existing")
        draw(canvas, x + lead, y)

    return both


def _outline(canvas: Canvas, x: float, y: float) -> None:
    canvas.line([(x + 2, y - 2.2), (x + 12, y - 2.2), (x + 12, y + 2.2), (x + 2, y + 2.2)], "thin", True)


LEGEND: dict[str, tuple[Draw, str]] = {
    "new": (_across("new"), "new wire"),
    "existing": (_across("existing"), "existing wire"),
    "picked": (_across("picked new"), "circuit picked out"),
    "pair": (_pair, "pin (arrow), socket (fork)"),
    "unknown": (_unknown, "pin or socket not stated"),
    "tie": (_tie, "cavities of one connector half"),
    "splice": (_splice, "splice SP"),
    "crossing": (_crossing, "crossing, not joined"),
    "shield": (_shield, "shield round cores, with drain"),
    "cable": (_jacket, "cable, shield not stated"),
    "twist": (_twist, "twisted cores"),
    "breaker": (_led(breaker, 4.0), "circuit breaker CB"),
    "bus": (_bus, "bus"),
    "ground": (_led(ground, 7.0), "ground stud GS"),
    "arrow": (_led(arrow, 7.0), "goes on to what is named"),
    "cut": (_led(cut, 8.0), "goes on, wire not listed"),
    "spare": (lambda canvas, x, y: spare(canvas, x + 6, y, 1), "cavity without wire"),
    "site": (lambda canvas, x, y: on_site(canvas, x + 5, y + 1.3), "shipped loose, fitted on site"),
    "unit": (_outline, "equipment unit"),
}
"""Symbol and words of each legend entry, in the order in which they are listed."""
