"""The demo's pages as a printer meets them: black and white, large enough, inside the margins, nothing overlapping."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
import reading

UNITS = 10.0
"""Drawing units a millimetre, as the ``viewBox`` and the size of the file say (checked below)."""
TEXT = 2.5
"""Least height of a capital letter, mm: the project's print rule."""
MARGIN = 6.0
"""Common printers leave 6 mm blank: the project's print rule."""
CAP = 0.729
"""Height of a capital over the font size in the bundled font; ``test_capitals`` looks it up in the font."""
CONTRAST = 4.5
"""WCAG 2.1, success criterion 1.4.3."""


@dataclass(frozen=True)
class Mark:
    """One thing drawn: its box on the page in mm, and what it is."""

    kind: str
    left: float
    top: float
    right: float
    bottom: float
    text: str = ""


@dataclass(frozen=True)
class Page:
    """One page."""

    name: str
    width: float
    height: float
    marks: tuple[Mark, ...]


def pages(folder: Path) -> Iterator[Page]:
    """Every page of every sheet, read from the SVG files."""
    for path in sorted((folder / "sheets").glob("*.svg")):
        root = ET.fromstring(path.read_bytes())
        assert root.get("width", "").endswith("mm")
        sizes = [float(number) for number in root.get("viewBox", "").split()]
        assert sizes[2] == pytest.approx(UNITS * float(root.get("width", "").removesuffix("mm")))
        sheets = [child for child in root if child.get("id", "").startswith("sheet-")]
        tops = [shift(sheet)[1] for sheet in sheets] + [sizes[3]]
        for number, sheet in enumerate(sheets):
            marks = tuple(walk(sheet, 0.0, -tops[number]))
            high = (tops[number + 1] - tops[number]) / UNITS
            # Pages of one file are as wide as the widest of them; all pages of a sheet have one size.
            yield Page(f"{path.stem} {number + 1}", sizes[2] / UNITS, high, marks)


def shift(element: ET.Element) -> tuple[float, float]:
    said = element.get("transform", "translate(0 0)")
    assert said.startswith("translate("), said
    x, y = said.removeprefix("translate(").removesuffix(")").split()
    return float(x), float(y)


def walk(element: ET.Element, x: float, y: float) -> Iterator[Mark]:
    across, down = shift(element)
    x, y = x + across, y + down
    kind = element.tag.removeprefix(reading.SVG)
    if kind == "text":
        yield text_box(element, x, y)
    elif kind in ("polyline", "polygon"):
        points = [pair.split(",") for pair in element.get("points", "").split()]
        xs, ys = [float(p[0]) + x for p in points], [float(p[1]) + y for p in points]
        yield Mark(kind, min(xs) / UNITS, min(ys) / UNITS, max(xs) / UNITS, max(ys) / UNITS)
    elif kind == "circle":
        cx, cy, r = (float(element.get(key, "0")) for key in ("cx", "cy", "r"))
        yield Mark(kind, (x + cx - r) / UNITS, (y + cy - r) / UNITS, (x + cx + r) / UNITS, (y + cy + r) / UNITS)
    elif kind == "rect" and element.get("pointer-events") is None:
        left, top, wide, high = (float(element.get(key, "0")) for key in ("x", "y", "width", "height"))
        yield Mark(kind, (x + left) / UNITS, (y + top) / UNITS, (x + left + wide) / UNITS, (y + top + high) / UNITS)
    for child in element:
        yield from walk(child, x, y)


def text_box(element: ET.Element, x: float, y: float) -> Mark:
    """From the capital's height down to the base line: what must stay clear of other lettering."""
    wide = float(element.get("textLength", "0"))
    at, base = x + float(element.get("x", "0")), y + float(element.get("y", "0"))
    at -= {"start": 0.0, "middle": wide / 2, "end": wide}[element.get("text-anchor", "start")]
    cap = float(element.get("font-size", "0")) * CAP
    text = element.text or ""
    return Mark("text", at / UNITS, (base - cap) / UNITS, (at + wide) / UNITS, base / UNITS, text)


@pytest.fixture(scope="module")
def drawn(demo_pack: Path) -> list[Page]:
    """All pages of the demo."""
    return list(pages(demo_pack))


def test_capitals() -> None:
    """The share of a capital in the font size, read from the OS/2 table of the font file (ISO/IEC 14496-22)."""
    import struct

    from harnesscheck.paper.metrics import font_path

    data = Path(font_path()).read_bytes()
    where = {
        data[12 + 16 * n : 16 + 16 * n]: struct.unpack_from(">I", data, 12 + 16 * n + 8)[0]
        for n in range(struct.unpack_from(">H", data, 4)[0])
    }
    per_em = struct.unpack_from(">H", data, where[b"head"] + 18)[0]
    glyphs = struct.unpack_from(">H", data, where[b"maxp"] + 4)[0]
    assert glyphs > 1000 and per_em == 2048
    # DejaVu's published capital height is 1493 units of 2048.
    assert pytest.approx(1493 / per_em, abs=0.001) == CAP


def test_every_page_of_the_book_is_looked_at(drawn: list[Page], demo_pack: Path) -> None:
    assert len(drawn) == len(reading.pdf_pages((demo_pack / "book.pdf").read_bytes()))
    assert all(len([mark for mark in page.marks if mark.kind == "text"]) > 10 for page in drawn)


def test_lettering_is_large_enough(drawn: list[Page]) -> None:
    small = {
        (page.name, mark.text)
        for page in drawn
        for mark in page.marks
        if mark.text and mark.bottom - mark.top < TEXT - 0.005
    }
    assert small == set()


def test_nothing_stands_in_the_margin(drawn: list[Page]) -> None:
    out = {
        (page.name, mark.kind, mark.text)
        for page in drawn
        for mark in page.marks
        if mark.left < MARGIN
        or mark.top < MARGIN
        or mark.right > page.width - MARGIN
        or mark.bottom > page.height - MARGIN
    }
    assert out == set()


def test_no_lettering_overlaps(drawn: list[Page]) -> None:
    clashes = []
    for page in drawn:
        texts = sorted((mark for mark in page.marks if mark.text), key=lambda mark: mark.left)
        for number, one in enumerate(texts):
            for two in texts[number + 1 :]:
                if two.left >= one.right - 0.05:
                    break
                if two.top < one.bottom - 0.05 and one.top < two.bottom - 0.05:
                    clashes.append((page.name, one.text, two.text))
    assert clashes == []


def test_everything_is_black_on_white(demo_pack: Path) -> None:
    """Every colour is black, white or a grey that stands out on white; nothing is told by colour alone."""
    for path in (demo_pack / "sheets").glob("*.svg"):
        root = ET.fromstring(path.read_bytes())
        assert not list(root.iter(f"{reading.SVG}style"))
        for element in root.iter():
            assert "style" not in element.attrib and "opacity" not in element.attrib
            for key in ("fill", "stroke"):
                colour = element.get(key, "none")
                assert colour in ("black", "white", "none") or contrast(colour) >= CONTRAST, (path.name, colour)


def contrast(colour: str) -> float:
    """Of a grey on white: (1.05) / (L + 0.05) with the relative luminance L of WCAG 2.1."""
    assert len(colour) == 7 and colour[1:3] == colour[3:5] == colour[5:7], f"{colour} is not a grey"
    share = int(colour[1:3], 16) / 255
    light = share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
    return 1.05 / (light + 0.05)


def test_a_black_and_white_print_keeps_new_and_existing_wiring_apart(demo_pack: Path) -> None:
    """By the dashes, which no printer loses, and by the weight."""
    root = ET.fromstring(next((demo_pack / "sheets").glob("03*-wiring-diagram.svg")).read_bytes())
    looks: dict[str, set[tuple[str, str]]] = {"new": set(), "existing": set()}
    for group in root.iter(f"{reading.SVG}g"):
        words = group.get("class", "").split()
        for kind, found in looks.items():
            if "wire" in words and kind in words:
                for line in group.iter(f"{reading.SVG}polyline"):
                    found.add((line.get("stroke-width", ""), line.get("stroke-dasharray", "")))
    assert looks["new"] and looks["existing"]
    assert {dash for _, dash in looks["new"]}.isdisjoint(dash for _, dash in looks["existing"])
    assert min(float(w) for w, _ in looks["new"]) > max(float(w) for w, _ in looks["existing"])
