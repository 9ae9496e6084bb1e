"""Draws the face of a connector half: shell, key, and every cavity with its words, from the places in the drawer."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from harnesscheck.connector import Connector
from harnesscheck.faces import Face, Side
from harnesscheck.faces import face as geometry
from harnesscheck.harness import Harness
from harnesscheck.paper import metrics
from harnesscheck.paper.blocks import Figure
from harnesscheck.paper.svg import TEXT, XY, Canvas, identifier

ROOMS = ((186.0, 122.0), (268.0, 122.0))
"""Room for the faces of one half on A4 upright, with a table below, and on A4 turned, mm."""
RATIOS = (10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0)
"""Scales that are used, paper to life."""
MOST_PITCH, MOST_RADIUS = 17.0, 54.0
"""Largest distance of neighbours, and largest insert radius, on paper, mm: more is no plainer."""
FILL = 0.45
"""Radius of a cavity's ring over the smallest pitch: rings never touch."""
BETWEEN = 3.25
"""Distance of base lines inside a ring, mm."""
HEAD, FOOT, SHELL, GAP, BELOW = 11.0, 6.0, 4.0, 5.0, 2.0
KINDS = ("new", "existing", "plug", "empty", "unknown")
USE = {Side.WIRE: "for pinning", Side.MATING: "for probing"}


@dataclass(frozen=True, slots=True)
class Mark:
    """What is said at one cavity. ``kind`` is one of ``KINDS``; ``strong`` picks the cavity out of its neighbours."""

    text: str
    kind: str = "empty"
    strong: bool = False


def face(harness: Harness, connector: Connector, side: Side, marks: Mapping[str, tuple[str, bool]]) -> Figure | None:
    """One face with words and emphasis at some cavities; the others are drawn as neighbours, with their names only.

    None when the drawer does not know the geometry or nobody has said pin or socket: a face is never guessed.
    """
    named = {name: Mark(text, "empty", strong) for name, (text, strong) in marks.items()}
    return faces(harness, connector, (side,), named)


def faces(harness: Harness, connector: Connector, sides: Sequence[Side], marks: Mapping[str, Mark]) -> Figure | None:
    """Faces of one half at one scale, beside each other where they fit. None as in ``face``."""
    found, gender = geometry(harness, connector), connector.gender
    if found is None or gender is None:
        return None
    views = [_View(found, connector, side, marks) for side in sides]
    tries = [_scale(found, views, *room) for room in ROOMS]
    # Turned paper only where words fit their rings that would not fit them on upright paper.
    turned = any(view.short(tries[0][0]) for view in views) and tries[1][0] > tries[0][0]
    scale, beside = tries[turned]
    sizes = [view.size(scale) for view in views]
    if beside:
        width, height = sum(w for w, _ in sizes) + GAP * (len(sizes) - 1), max(h for _, h in sizes)
    else:
        width, height = max(w for w, _ in sizes), sum(h for _, h in sizes) + GAP * (len(sizes) - 1)
    height += BELOW

    def draw(canvas: Canvas) -> None:
        x = y = 0.0
        for view, (w, h) in zip(views, sizes, strict=True):
            view.draw(canvas, x if beside else (width - w) / 2, y, scale)
            x, y = (x + w + GAP, y) if beside else (x, y + h + GAP)

    name = f"face-{connector.ref}" + (f"-{_word(sides[0])}" if len(sides) == 1 else "")
    words = tuple(line for view in views for line in view.words())
    return Figure(name, _caption(found, scale, views), width, height, draw, words)


def why_unknown(harness: Harness, connector: Connector) -> str:
    """Why there is no drawing of a face, in words that stand alone."""
    insert = connector.says("insert")
    if insert is None:
        why = "the insert arrangement of this half is not stated"
    elif geometry(harness, connector) is None:
        why = f"the drawer does not know where the cavities of insert {insert} stand"
    else:
        why = "nobody has said whether this half has pins or sockets"
    return f"Face geometry not known: {why}. Use the marking moulded on the insert itself."


def _word(side: Side) -> str:
    return "wire" if side is Side.WIRE else "mating"


def _scale(found: Face, views: Sequence[_View], wide: float, high: float) -> tuple[float, bool]:
    """The largest scale at which the faces fit the paper, and whether they stand beside each other.

    In paper mm for one unit of the face: 1000 times the ratio for metres, the insert's radius in mm otherwise.
    """
    steps = [ratio * 1000.0 for ratio in RATIOS] if found.metres else [MOST_RADIUS - 2.0 * n for n in range(22)]
    for scale in (step for step in steps if found.pitch * step <= MOST_PITCH or step == steps[-1]):
        sizes = [view.size(scale) for view in views]
        if sum(w for w, _ in sizes) + GAP * (len(sizes) - 1) <= wide and max(h for _, h in sizes) <= high:
            return scale, True
        if max(w for w, _ in sizes) <= wide and sum(h for _, h in sizes) + GAP * (len(sizes) - 1) <= high:
            return scale, False
    return steps[-1], False


def _caption(found: Face, scale: float, views: Sequence[_View]) -> str:
    said = f"Scale {scale / 1000:g}:1 between cavities." if found.metres else "Not to scale."
    said += f" Places of the cavities: {found.source}. Shell outline and rings are for orientation only."
    if not found.metres:
        key = views[0].connector.says("key")
        letter = f"Key position {key}; the" if key else "The"
        said += f" {letter} minor keys are not drawn: the drawer does not say which way round they are counted."
    if any(view.short(scale) for view in views):
        said += " Where a ring has no words there was no room: see the table."
    return said


class _View:
    """One half seen from one side."""

    def __init__(self, found: Face, connector: Connector, side: Side, marks: Mapping[str, Mark]) -> None:
        assert connector.gender is not None
        self.found, self.connector, self.side, self.marks = found, connector, side, marks
        self.spots = found.seen(connector.gender, side)
        xs, ys = [x for x, _ in self.spots.values()], [y for _, y in self.spots.values()]
        self.box = (min(xs), min(ys), max(xs), max(ys)) if found.metres else (-1.0, -1.0, 1.0, 1.0)

    def words(self) -> Iterator[str]:
        """What the drawing says, for a form that cannot show it."""
        yield f"{self.connector.ref} {self.side.upper()} {USE[self.side]}"
        rows: dict[float, list[str]] = {}
        for name, (_, y) in self.spots.items():
            rows.setdefault(round(y, 9), []).append(name)
        if self.found.metres:
            for y in sorted(rows, reverse=True):
                yield "  row, left to right: " + ", ".join(sorted(rows[y], key=lambda name: self.spots[name][0]))

    def heads(self) -> tuple[str, str]:
        """The two lines over the face."""
        half = self.connector
        kind = f"{half.says('family') or ''} {half.says('insert') or ''}".strip()
        up = "wide side up" if self.found.metres else f"{self.key().lower()} up"
        return f"{half.ref}  {self.side.upper()}  ({USE[self.side]})", f"{half.gender} contacts, {kind}, {up}"

    def key(self) -> str:
        """What the master key of this half is: a key on a plug, a keyway in a receptacle (common practice)."""
        return {"plug": "MASTER KEY", "receptacle": "MASTER KEYWAY"}.get(
            self.connector.says("style") or "", "MASTER KEY OR KEYWAY"
        )

    def radius(self, scale: float) -> float:
        """Of the ring of a cavity, mm."""
        return self.found.pitch * scale * FILL

    def size(self, scale: float) -> tuple[float, float]:
        """Width and height with lettering and shell, mm."""
        left, low, right, high = self.box
        around = SHELL + (self.radius(scale) if self.found.metres else 2.0)
        wide, tall = (right - left) * scale + 2 * around, (high - low) * scale + 2 * around
        lettering = max(metrics.width(line, TEXT + 0.7 * (not n)) for n, line in enumerate(self.heads()))
        return max(wide, lettering + 2.0), HEAD + tall + (0.0 if self.found.metres else FOOT)

    def draw(self, canvas: Canvas, x: float, y: float, scale: float) -> None:
        """Draw with the upper left corner at ``x``, ``y``."""
        wide, _ = self.size(scale)
        middle = x + wide / 2
        first, second = self.heads()
        canvas.text(middle, y + TEXT + 1.2, first, TEXT + 0.7, "middle", strong=True)
        canvas.text(middle, y + 2 * TEXT + 3.8, second, anchor="middle")
        left, _, right, high = self.box
        around = SHELL + (self.radius(scale) if self.found.metres else 2.0)
        top = y + HEAD + (0.0 if self.found.metres else FOOT)

        def at(spot: XY) -> XY:
            return middle + (spot[0] - (left + right) / 2) * scale, top + around + (high - spot[1]) * scale

        self.shell(canvas, middle, top, scale, around)
        first_name = next(iter(self.spots))
        for name, spot in self.spots.items():
            canvas.group(id=identifier("face", f"{self.connector.ref}-{_word(self.side)}-{name}"), class_="cavity",
                         data_cavity=f"{self.connector.ref}-{name}", data_side=_word(self.side))  # fmt: skip
            self.cavity(canvas, *at(spot), scale, name, name == first_name)
        canvas.end()

    def shell(self, canvas: Canvas, middle: float, top: float, scale: float, around: float) -> None:
        """Outline of the shell: a D with its wide side up, or a circle with the master key at the top."""
        left, low, right, high = self.box
        tall = (high - low) * scale + 2 * around
        if self.found.metres:
            half = (right - left) * scale / 2 + around
            lean = tall * math.tan(math.radians(10))  # sides lean in towards the narrow side; from memory
            corners = [(middle - half, top), (middle + half, top), (middle + half - lean, top + tall)]
            corners.append((middle - half + lean, top + tall))
            canvas.line(list(_rounded(corners, SHELL)), "frame", closed=True)
            return
        radius = tall / 2
        y = top + radius
        canvas.circle(middle, y, radius, "frame", "none")
        key = [(middle - 2.0, top - 2.2), (middle + 2.0, top - 2.2), (middle + 2.0, top + 2.2)]
        canvas.line([*key, (middle - 2.0, top + 2.2)], "frame", closed=True, fill="black")
        canvas.text(middle + 4.0, top - 1.4, self.key())

    def short(self, scale: float) -> bool:
        """True when the words of some cavity do not fit its ring."""
        room = self.radius(scale)
        return any(mark.text and name in self.spots and _split(name, mark.text, room) is None
                   for name, mark in self.marks.items())  # fmt: skip

    def cavity(self, canvas: Canvas, x: float, y: float, scale: float, name: str, first: bool) -> None:
        """One cavity: its ring (a square for the first one), its name and its words."""
        mark = self.marks.get(name, Mark(""))
        radius = self.radius(scale)
        style = {"new": "new", "existing": "existing", "unknown": "tie"}.get(mark.kind, "thin")
        fill = "black" if mark.strong else "white"
        if first:
            side = radius * 0.84
            corners = [(x - side, y - side), (x + side, y - side), (x + side, y + side), (x - side, y + side)]
            canvas.line(corners, style, closed=True, fill=fill)
        else:
            canvas.circle(x, y, radius, style, fill)
        if mark.kind == "plug":
            canvas.circle(x, y, radius - 0.9, "thin", "none") if not first else None
        lines = _split(name, mark.text, radius) or [name]
        canvas.ink = "white" if mark.strong else "black"
        at = y + TEXT / 2 - BETWEEN * (len(lines) - 1) / 2
        for number, line in enumerate(lines):
            canvas.text(x, at + number * BETWEEN, line, anchor="middle", strong=not number and not mark.strong)
        canvas.ink = "black"


def _split(name: str, text: str, radius: float) -> list[str] | None:
    """Name and words in lines that fit a ring, the longest in the middle; None when they do not fit."""
    if not text:
        return [name]
    tries = [[text]] + [[text[:n].strip(), text[n:].strip()] for n in _breaks(text)]
    for lines in ([name, *said] for said in tries):
        if all(_fits(line, number, len(lines), radius) for number, line in enumerate(lines)):
            return lines
    return None


def _breaks(text: str) -> list[int]:
    """Where words may be parted, the best place first: at a space, before a letter that follows a digit, anywhere."""
    middle = sorted(range(2, len(text) - 1), key=lambda n: abs(n - len(text) * 0.55))
    spaces = [n for n in middle if text[n] == " "]
    letters = [n for n in middle if text[n - 1].isdigit() and text[n].isalpha()]
    return [*spaces, *letters, *([] if " " in text else middle)]


def _fits(line: str, number: int, count: int, radius: float) -> bool:
    far = abs(number - (count - 1) / 2) * BETWEEN + TEXT / 2 + 0.3
    return far < radius and metrics.width(line, TEXT) / 2 + 0.5 <= math.sqrt(radius * radius - far * far)


def _rounded(corners: Sequence[XY], radius: float) -> Iterator[XY]:
    """A polygon with its corners cut round."""
    count = len(corners)
    for n, corner in enumerate(corners):
        before, after = corners[n - 1], corners[(n + 1) % count]
        ends = [_towards(corner, other, radius) for other in (before, after)]
        for step in range(7):
            t = step / 6
            yield tuple(  # type: ignore[misc]
                (1 - t) ** 2 * a + 2 * t * (1 - t) * b + t * t * c
                for a, b, c in zip(ends[0], corner, ends[1], strict=True)
            )


def _towards(start: XY, goal: XY, length: float) -> XY:
    whole = math.dist(start, goal)
    return start[0] + (goal[0] - start[0]) * length / whole, start[1] + (goal[1] - start[1]) * length / whole
