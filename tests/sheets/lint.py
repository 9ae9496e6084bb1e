"""Lint of finished drawings, read back from their SVG alone; every fault is one line of text.

``python tests/sheets/lint.py [WIRES ...]`` draws generated jobs and prints faults, crossings and seconds.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from xml.etree import ElementTree as ET

sys.path.insert(0, str(Path(__file__).parent))

from diagram_bench import MM, SVG, Box, box, overlaps, sheets_of, strokes, texts, wire_groups

from harnesscheck.paper import metrics

LEAST_TEXT = 2.5
"""The project's print rule: smallest lettering, mm."""
EDGE = 6.0
"""The project's print rule: nothing nearer to the edge of the paper, mm."""
FILLED = ("TITLE", "KIND OF DRAWING", "DRAWING NO.", "FILE", "SIZE", "REV", "SHEET", "PACK ID", "MADE WITH")
"""Cells of the title block that a machine fills; the others are signed by hand."""


def lint(root: ET.Element) -> Iterator[str]:
    """Every fault of a drawing, sheet by sheet."""
    found = sheets_of(root)
    for number, sheet in enumerate(found, 1):
        for said in (*_texts(sheet), *_frame(sheet), *_furniture(sheet, number, len(found)), *_shields(sheet)):
            yield f"sheet {number}: {said}"


def _texts(sheet: ET.Element) -> Iterator[str]:
    placed = sorted(((box(element), element) for element in sheet.iter(f"{SVG}text")), key=lambda pair: pair[0])
    for number, (one, first) in enumerate(placed):
        high = float(first.get("font-size", "0")) / MM * metrics.CAP
        if high < LEAST_TEXT - 0.01:
            yield f"{first.text!r} is {high:.2f} mm high"
        for two, second in placed[number + 1 :]:
            if two[0] > one[2]:
                break
            if overlaps(one, two):
                yield f"{first.text!r} lies on {second.text!r}"


def _frame(sheet: ET.Element) -> Iterator[str]:
    group = _part(sheet, "frame")
    if group is None:
        yield "no frame"
        return
    edges = [_around(list(strokes(_alone(polygon)))) for polygon in group.findall(f"{SVG}polygon")]
    outer, inner = max(edges, key=_size), min(edges, key=_size)
    if outer[0] < EDGE or outer[1] < EDGE:
        yield f"frame {min(outer[:2]):.1f} mm from the edge of the paper"
    own = set(group.iter())
    for element in sheet.iter():
        if element in own or element.tag not in (f"{SVG}text", f"{SVG}polyline", f"{SVG}polygon", f"{SVG}circle"):
            continue
        here = box(element) if element.tag == f"{SVG}text" else _around(list(strokes(_alone(element))))
        if here[0] < inner[0] or here[1] < inner[1] or here[2] > inner[2] or here[3] > inner[3]:
            yield f"{element.tag.removeprefix(SVG)} {element.text or ''} outside the frame"


def _furniture(sheet: ET.Element, number: int, count: int) -> Iterator[str]:
    block, legend, revision = (_part(sheet, name) for name in ("title-block", "legend", "revision-block"))
    said = texts(block) if block is not None else []
    for name in FILLED:
        if name not in said:
            yield f"title block has no {name}"
        elif said.index(name) + 1 >= len(said) or said[said.index(name) + 1] in FILLED:
            yield f"title block: {name} is empty"
    if f"{number} of {count}" not in said:
        yield "title block does not say which sheet it is"
    if revision is None or len(texts(revision)) < 8:
        yield "revision block is not filled"
    if legend is None or len(texts(legend)) < 2:
        yield "legend is empty"


def _shields(sheet: ET.Element) -> Iterator[str]:
    for group in sheet.iter(f"{SVG}g"):
        if group.get("data-shield") == "yes":
            ended = any(element.tag == f"{SVG}circle" for element in group.iter())
            if not ended and not any("shield" in text for text in texts(group)):
                yield f"shield of {group.get('data-cable')} neither ended nor said to float"


def crossings(sheet: ET.Element) -> int:
    """How often wires cross each other: a line across and a line down that pass through one another."""
    runs = [(name, line) for name, groups in wire_groups(sheet).items() for group in groups for line in strokes(group)]
    across = [(name, line) for name, line in runs if line[2] - line[0] > line[3] - line[1]]
    down = [(name, line) for name, line in runs if line[2] - line[0] <= line[3] - line[1]]
    slack = 0.7  # half a heavy line: lines that only meet do not cross
    return sum(
        a[0] + slack < (b[0] + b[2]) / 2 < a[2] - slack and b[1] + slack < (a[1] + a[3]) / 2 < b[3] - slack
        for one, a in across
        for two, b in down
        if one != two
    )


def _part(sheet: ET.Element, name: str) -> ET.Element | None:
    return next((group for group in sheet.iter(f"{SVG}g") if group.get("class") == name), None)


def _alone(element: ET.Element) -> ET.Element:
    holder = ET.Element("g")
    holder.append(element)
    return holder


def _around(boxes: list[Box]) -> Box:
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def _size(one: Box) -> float:
    return (one[2] - one[0]) * (one[3] - one[1])


def main() -> None:
    """Draw generated jobs of the sizes named and print what the lint says of them."""
    import tempfile
    import time

    from drawn_jobs import generated

    from harnesscheck.sheets import wiring_diagram

    for wires in [int(word) for word in sys.argv[1:]] or [5, 50, 500, 1000]:
        with tempfile.TemporaryDirectory() as folder:
            job = generated(Path(folder), wires)
        start = time.process_time()
        drawn = wiring_diagram.render(job, "svg")
        spent = time.process_time() - start
        root = ET.fromstring(drawn)
        faults = list(lint(root))
        each = [crossings(sheet) for sheet in sheets_of(root)]
        print(f"{len(job.subject.wires)} wires: {len(each)} sheets, {sum(each)} crossings (most on one sheet "
              f"{max(each)}), {len(faults)} faults, {spent:.2f} s")  # fmt: skip
        for said in faults[:20]:
            print("   ", said)


if __name__ == "__main__":
    main()
