"""A sheet of paper to draw on, in millimetres, and the SVG and PNG made from it.

The SVG is built as an element tree, never by pasting text, so a name such as ``<script>`` stays a name. Everything
is an attribute of its element: no style sheet, no script, no reference to anything outside the file.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from xml.etree import ElementTree as ET

from harnesscheck.paper import metrics

XY = tuple[float, float]
SCALE = 10.0
"""Drawing units per millimetre: whole numbers of 0.1 mm keep small lettering exact in every viewer."""
TEXT = 2.5
"""Height of the smallest lettering, mm: the design's print rule (text >= 2.5 mm)."""
DPI = 200
"""Resolution of the picture, dots per inch: common practice for a drawing print."""
MOST_PIXELS = 120_000_000
"""Largest picture made at full resolution; more sheets than that share it at a lower one (480 MB of memory)."""
LEAST_DPI = 72
STRONG = 0.06
"""Outline of strong lettering over the height of its capitals."""
FONTS = f"'{metrics.FAMILY}','DejaVu Sans',sans-serif"
NAMESPACE = "http://www.w3.org/2000/svg"


class TooLargeError(ValueError):
    """More pages than one picture can hold."""


@dataclass(frozen=True)
class Style:
    """How a line is drawn: width in mm, dashes in mm (empty: solid)."""

    width: float
    dash: tuple[float, ...] = ()


STYLES: Mapping[str, Style] = {
    "new": Style(0.6),
    "existing": Style(0.25, (7.0, 1.0, 0.8, 1.0)),
    "tie": Style(0.25, (2.4, 1.2)),
    "shield": Style(0.35, (1.1, 0.8)),
    "cable": Style(0.25),
    "symbol": Style(0.35),
    "bus": Style(1.2),
    "thin": Style(0.2),
    "frame": Style(0.5),
    "picked new": Style(1.1),
    "picked existing": Style(0.9, (7.0, 1.6, 1.4, 1.6)),
}
"""New and existing wiring differ in weight and in dashes, so a copy in black and white still tells them apart."""


@dataclass
class Canvas:
    """One sheet. ``x`` runs right and ``y`` down from the upper left corner, in mm."""

    width: float
    height: float
    root: ET.Element = field(default_factory=lambda: ET.Element("g"))
    here: ET.Element = field(init=False)
    mirror: float | None = None
    """When set, x is mirrored about this line: the left side of a drawing is the right side turned over."""
    anchors: dict[str, XY] = field(default_factory=dict)
    """Places that links may lead to, by name."""
    links: list[tuple[float, float, float, float, str]] = field(default_factory=list)
    """Left, top, width and height of a place to tap, and the name it leads to."""
    ink: str = "black"
    """Colour of lines and lettering; what stands back in a drawing is drawn in grey."""

    def __post_init__(self) -> None:
        self.here = self.root

    # -- groups ------------------------------------------------------------------------------------------------

    def group(self, link: str = "", **attributes: str) -> ET.Element:
        """Open a new group under the sheet; what is drawn next goes into it. Underscores become dashes.

        ``link`` makes a link of the group, like ``kit.html#wire-P501A20``.
        """
        named = {key.rstrip("_").replace("_", "-"): value for key, value in attributes.items()}
        group = self.here = ET.SubElement(self.root, "g", named)
        if link:
            self.here = ET.SubElement(group, "a", {"href": link})
        return group

    def end(self) -> None:
        """Draw on the sheet itself again."""
        self.here = self.root

    # -- places ------------------------------------------------------------------------------------------------

    def anchor(self, name: str, x: float, y: float) -> None:
        """Name a place; the group drawn into from now on carries the name as its id. A name taken is left alone."""
        if name and name not in self.anchors:
            self.anchors[name] = (self.at(x), y)
            self.group(id=name)

    def link(self, name: str, x: float, y: float, width: float, height: float) -> None:
        """Make a rectangle lead to a named place of this file, or of another one of the same book."""
        if name:
            self.links.append((x, y, width, height, name))

    def place(self, drawing: Canvas, x: float, y: float) -> None:
        """Put a drawing on this sheet with its upper left corner at ``x``, ``y``."""
        drawing.root.set("transform", f"translate({_number(x)} {_number(y)})")
        self.root.append(drawing.root)
        for name, (left, top) in drawing.anchors.items():
            self.anchors.setdefault(name, (left + x, top + y))
        self.links += [(left + x, top + y, wide, high, to) for left, top, wide, high, to in drawing.links]

    # -- marks -------------------------------------------------------------------------------------------------

    def at(self, x: float) -> float:
        """The x on the paper."""
        return x if self.mirror is None else 2 * self.mirror - x

    def line(self, points: Sequence[XY], style: str, closed: bool = False, fill: str = "none") -> None:
        """A line through points; ``style`` is a key of ``STYLES``."""
        text = " ".join(f"{_number(self.at(x))},{_number(y)}" for x, y in points)
        element = ET.SubElement(self.here, "polygon" if closed else "polyline", {"points": text, "fill": fill})
        self._stroke(element, style)

    def circle(self, x: float, y: float, radius: float, style: str = "symbol", fill: str = "white") -> None:
        """A circle."""
        named = {"cx": _number(self.at(x)), "cy": _number(y), "r": _number(radius), "fill": fill}
        self._stroke(ET.SubElement(self.here, "circle", named), style)

    def arc(self, start: XY, end: XY, radius: float, style: str, clockwise: bool = True) -> None:
        """The smaller arc from start to end."""
        sweep = clockwise != (self.mirror is not None)
        r = _number(radius)
        data = (
            f"M{_number(self.at(start[0]))} {_number(start[1])}"
            f"A{r} {r} 0 0 {int(sweep)} {_number(self.at(end[0]))} {_number(end[1])}"
        )
        self._stroke(ET.SubElement(self.here, "path", {"d": data, "fill": "none"}), style)

    def blacks(self, boxes: Iterable[tuple[float, float, float, float]]) -> None:
        """Black rectangles without an outline, each as left, top, width, height: one path for all of them."""
        data = "".join(
            f"M{_number(x)} {_number(y)}h{_number(wide)}v{_number(high)}h{_number(-wide)}z"
            for x, y, wide, high in boxes
        )
        ET.SubElement(self.here, "path", {"d": data, "fill": "black"})

    def capsule(self, left: float, top: float, right: float, bottom: float, style: str) -> None:
        """A rectangle with round corners."""
        left, right = sorted((self.at(left), self.at(right)))
        radius = _number(min(2.0, (bottom - top) / 2))
        named = {
            "x": _number(left),
            "y": _number(top),
            "width": _number(right - left),
            "height": _number(bottom - top),
            "rx": radius,
            "ry": radius,
            "fill": "none",
        }
        self._stroke(ET.SubElement(self.here, "rect", named), style)

    def _stroke(self, element: ET.Element, name: str) -> None:
        style = STYLES[name]
        element.set("stroke", self.ink)
        if element.get("fill") == "black":
            element.set("fill", self.ink)
        element.set("stroke-width", _number(style.width))
        if style.dash:
            element.set("stroke-dasharray", " ".join(_number(length) for length in style.dash))

    def text(
        self, x: float, y: float, text: str, cap: float = TEXT, anchor: str = "start", strong: bool = False
    ) -> None:
        """One line of text with its base line at ``y``; its length is fixed so that another font cannot overlap.

        ``strong`` text is drawn with an outline, so that one font file serves for both.
        """
        if not text:
            return
        if self.mirror is not None:
            x, anchor = self.at(x), {"start": "end", "end": "start"}.get(anchor, anchor)
        named = {
            "x": _number(x),
            "y": _number(y),
            "font-size": _number(cap / metrics.CAP),
            "textLength": _number(metrics.width(text, cap)),
            "lengthAdjust": "spacingAndGlyphs",
        }
        if "  " in text:
            named["xml:space"] = "preserve"
        if anchor != "start":
            named["text-anchor"] = anchor
        if strong:
            named.update({"stroke": "black", "stroke-width": _number(cap * STRONG)})
        if self.ink != "black":
            named["fill"] = self.ink
        element = ET.SubElement(self.here, "text", named)
        element.text = metrics.shown(text)

    def lines(self, x: float, y: float, texts: Iterable[str], cap: float = TEXT, anchor: str = "start") -> None:
        """Lines of text below each other, the first base line at ``y``."""
        for number, text in enumerate(texts):
            self.text(x, y + number * leading(cap), text, cap, anchor)


def leading(cap: float) -> float:
    """Distance between base lines, mm: 1.64 times the capital height (common practice)."""
    return cap * 1.64


def clean(text: str) -> str:
    """``text`` without the characters that XML cannot hold."""
    return re.sub(r"[^\t\n\r\x20-\uD7FF\uE000-\uFFFD\U00010000-\U0010FFFF]", "\N{REPLACEMENT CHARACTER}", text)


def identifier(kind: str, name: str) -> str:
    """An id that is valid in XML and unlike that of any other name: ``wire-P501A20``."""
    return f"{kind}-" + re.sub(r"[^A-Za-z0-9.-]", lambda found: f"_{ord(found[0]):X}_", name)


def _number(value: float) -> str:
    """A length in drawing units, as short as it can be written."""
    text = f"{value * SCALE:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def svg(sheets: Sequence[Canvas], title: str) -> bytes:
    """One SVG file with the sheets below each other."""
    wide = max(sheet.width for sheet in sheets)
    high = sum(sheet.height for sheet in sheets)
    root = ET.Element(
        "svg",
        {
            "xmlns": NAMESPACE,
            "width": f"{wide:g}mm",
            "height": f"{high:g}mm",
            "viewBox": f"0 0 {_number(wide)} {_number(high)}",
            "font-family": FONTS,
            "stroke-linecap": "butt",
            "stroke-linejoin": "miter",
        },
    )
    ET.SubElement(root, "title").text = clean(title)
    paper = {"x": "0", "y": "0", "width": _number(wide), "height": _number(high), "fill": "white"}
    ET.SubElement(root, "rect", paper)
    top = 0.0
    for number, sheet in enumerate(sheets, 1):
        sheet.root.set("id", f"sheet-{number}")
        sheet.root.set("fill", "black")
        sheet.root.attrib.pop("transform", None)  # a sheet may be written alone after it was written with others
        if top:
            sheet.root.set("transform", f"translate(0 {_number(top)})")
        root.append(sheet.root)
        top += sheet.height
    _link(sheets)
    ET.indent(root, " ")
    text: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def _link(sheets: Sequence[Canvas]) -> None:
    """Draw the links whose ends both stand in this file: nothing to see, only to tap."""
    known = {element.get("id") for sheet in sheets for element in sheet.root.iter()}
    for sheet in sheets:
        for old in sheet.root.findall("a[@class='tap']"):
            sheet.root.remove(old)
        for left, top, wide, high, name in sheet.links:
            if name in known:
                box = {"x": left, "y": top, "width": wide, "height": high}
                named = {key: _number(value) for key, value in box.items()}
                frame = ET.SubElement(sheet.root, "a", {"href": f"#{name}", "class": "tap"})
                ET.SubElement(frame, "rect", {**named, "fill": "none", "pointer-events": "all"})


def png(drawing: bytes, sheets: Sequence[Canvas]) -> bytes:
    """The same drawing as a picture of about 200 dots per inch, lettered with the bundled font only.

    Raises ``TooLargeError`` when there are more sheets than one legible picture can hold.
    """
    import resvg_py

    wide = max(sheet.width for sheet in sheets) / 25.4
    high = sum(sheet.height for sheet in sheets) / 25.4
    dpi = min(DPI, (MOST_PIXELS / (wide * high)) ** 0.5)
    if dpi < LEAST_DPI:
        raise TooLargeError(f"{len(sheets)} pages do not fit one legible picture")
    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=drawing.decode("utf-8"),
            dpi=dpi,
            background="#ffffff",
            skip_system_fonts=True,
            font_files=[metrics.font_path()],
            font_family=metrics.FAMILY,
            sans_serif_family=metrics.FAMILY,
        )
    )
