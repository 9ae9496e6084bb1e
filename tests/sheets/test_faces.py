"""Connector faces: left and right are right on both sides, every cavity says what belongs in it, nothing is guessed."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from diagram_bench import MM, SVG, airframe, box, demo, job_of, jumper, overlaps, sheets_of, texts

from harnesscheck import sheets
from harnesscheck.faces import Face, Side, face
from harnesscheck.paper.blocks import Figure, Words
from harnesscheck.paper.svg import Canvas
from harnesscheck.parts import Drawer
from harnesscheck.place import Point
from harnesscheck.sheets import Wish
from harnesscheck.sheets._faces_draw import face as figure
from harnesscheck.sheets.faces import content

VIEWS = sorted(Drawer().numbers("face view"))


def _of(insert: str, gender: str = "pin") -> Face:
    """The face of a half with this insert."""

    class Half:
        def says(self, name: str) -> str | None:
            return {"insert": insert, "gender": gender}.get(name)

    found = face(demo().subject, Half())  # type: ignore[arg-type]
    assert found is not None
    return found


def _turn(spots: dict[str, tuple[float, float]]) -> float:
    """Degrees walked round the middle along the first cavities, those of the outer ring; clockwise is negative."""
    names = list(spots)
    ring = [names[0]]
    for name in names[1:]:
        if math.hypot(*spots[name]) < 0.65 * math.hypot(*spots[names[0]]):
            break
        ring.append(name)
    total = 0.0
    for one, two in pairwise(ring):
        step = math.degrees(math.atan2(spots[two][1], spots[two][0]) - math.atan2(spots[one][1], spots[one][0]))
        total += (step + 180.0) % 360.0 - 180.0
    assert len(ring) > 2
    return total


@pytest.mark.parametrize("insert", VIEWS)
def test_letters_run_clockwise_on_the_pin_mating_face_and_the_other_way_on_the_socket_one(insert: str) -> None:
    # TM 9-2350-311-20-1 p. 60: letters of a male insert run clockwise from the key, of a female one counter-clockwise,
    # seen on the mating face. From the wire side each is its own mirror image.
    found = _of(insert)
    assert _turn(found.seen("pin", Side.MATING)) < 0
    assert _turn(found.seen("socket", Side.MATING)) > 0
    assert _turn(found.seen("pin", Side.WIRE)) > 0
    assert _turn(found.seen("socket", Side.WIRE)) < 0


@pytest.mark.parametrize("insert", ["DE-9", "DA-15", "DB-25", "DC-37", "DE-15HD", "DA-26HD", "DB-44HD", "DC-62HD"])
def test_rows_of_a_d_sub_run_as_the_drawer_says(insert: str) -> None:
    record = Drawer().get("insert", insert)
    assert record is not None
    # The statement is that of the source in the drawer (D-sub row and numbering page), read here as text.
    said = record.text("numbering") or ""
    assert "pin (plug) mating face left to right, socket (receptacle) mating face right to left" in said
    first = (record.items("cavities") or ())[: (record.value("rows") or (0,))[0]]  # type: ignore[index]
    found = _of(insert)
    for gender, backwards in (("pin", False), ("socket", True)):
        front, back = found.seen(gender, Side.MATING), found.seen(gender, Side.WIRE)
        assert sorted(first, key=lambda name: front[name][0], reverse=backwards) == list(first)
        assert sorted(first, key=lambda name: back[name][0], reverse=not backwards) == list(first)
        assert all(front[first[0]][1] > y for name, (_, y) in front.items() if name not in first)


@pytest.mark.parametrize(
    ("insert", "swapped", "fixed"),
    # Which cavity is counted for which when the wrong side is read: each row reversed, m(k) = s + n + 1 - (k - s) with
    # s cavities before the row and n in it; worked out by hand from the published rows, not from this program.
    [
        ("DE-9", {"1": "5", "6": "9"}, ["3"]),
        ("DA-15", {"1": "8", "9": "15"}, ["12"]),
        ("DB-25", {"1": "13", "14": "25"}, ["7"]),
        ("DC-37", {"1": "19", "20": "37"}, ["10"]),
    ],
)
def test_the_wrong_side_reverses_each_row(insert: str, swapped: dict[str, str], fixed: list[str]) -> None:
    spots = _of(insert).positions
    middle = (min(x for x, _ in spots.values()) + max(x for x, _ in spots.values())) / 2

    def turned(name: str) -> str:
        x, y = spots[name]
        return min(spots, key=lambda other: math.dist(spots[other], (2 * middle - x, y)))

    assert {name: turned(name) for name in swapped} == swapped
    assert [name for name in spots if turned(name) == name] == fixed


# -- what is drawn -----------------------------------------------------------------------------------------------------


def _cavities(root: ET.Element) -> dict[str, ET.Element]:
    return {g.attrib["id"]: g for g in root.iter(f"{SVG}g") if g.get("class") == "cavity"}


def _middle(group: ET.Element) -> tuple[float, float]:
    name = group.find(f"{SVG}text")
    assert name is not None
    return float(name.attrib["x"]), float(name.attrib["y"])


@pytest.fixture(scope="module")
def drawn() -> ET.Element:
    return ET.fromstring(sheets.render("faces", demo(), "svg"))


def test_every_wire_of_the_kit_stands_at_its_cavity_on_both_sides(drawn: ET.Element) -> None:
    harness, found = demo().subject, _cavities(drawn)
    for ref in ("J114", "P114", "P115"):
        for name in harness.connectors[ref].cavities:
            wires = harness.wires_at(Point(ref, name))
            for side in ("wire", "mating"):
                first, *rest = texts(found[f"face-{ref}-{side}-{name}"])
                assert first == name
                assert "".join(rest) == (wires[0].id if wires else "plug")


def test_the_two_sides_are_mirror_images_on_paper(drawn: ET.Element) -> None:
    found = _cavities(drawn)
    # J114 has sockets: its mating face counts right to left (numbering page), its wire side left to right.
    for ref, side, rising in (("J114", "wire", True), ("J114", "mating", False), ("P114", "wire", False),
                              ("P114", "mating", True)):  # fmt: skip
        row = [_middle(found[f"face-{ref}-{side}-{n}"])[0] for n in range(1, 9)]
        assert (row == sorted(row)) is rising and (row == sorted(row, reverse=True)) is not rising
    said = texts(drawn)
    assert "J114  WIRE SIDE  (for pinning)" in said and "J114  MATING FACE  (for probing)" in said
    assert "MASTER KEY" in said and "MASTER KEYWAY" in said


def test_words_stay_inside_their_rings_and_off_each_other(drawn: ET.Element) -> None:
    for group in _cavities(drawn).values():
        ring = group.find(f"{SVG}circle")
        if ring is not None:
            x, y, radius = (float(ring.attrib[name]) / MM for name in ("cx", "cy", "r"))
            for text in group.findall(f"{SVG}text"):
                left, top, right, bottom = box(text)
                assert max(math.dist((x, y), (a, b)) for a in (left, right) for b in (top, bottom)) < radius + 0.6
    rings = [g.find(f"{SVG}circle") for g in _cavities(drawn).values() if g.attrib["id"].startswith("face-P115-wire")]
    spots = [(float(r.attrib["cx"]), float(r.attrib["cy"]), float(r.attrib["r"])) for r in rings if r is not None]
    assert all(math.dist(a[:2], b[:2]) > a[2] + b[2] for i, a in enumerate(spots) for b in spots[:i])
    for page in sheets_of(drawn):
        boxes = [(box(g), t.text) for g in page.iter(f"{SVG}g") if g.get("class") == "cavity" for t in g for g in [t]
                 if t.tag == f"{SVG}text"]  # fmt: skip
        assert not any(overlaps(a, b) for i, (a, _) in enumerate(boxes) for b, _ in boxes[:i])


def test_an_unknown_face_is_not_drawn(tmp_path: Path) -> None:
    made = content(job_of(tmp_path, jumper(3, 1), airframe(3)), Wish())
    assert not [block for block in made.blocks if isinstance(block, Figure)]
    said = [block.text for block in made.blocks if isinstance(block, Words)]
    assert any(text.startswith("Face geometry not known: the insert arrangement of this half is not") for text in said)
    assert {table.name for table in made.tables} >= {"cavities-J114", "cavities-P114", "cavities-P120"}
    parts = jumper(3, 1).replace("gender: pin", "insert: DD-50, gender: pin").replace("gender: socket", "insert: DA-15")
    said = [block.text for block in content(job_of(tmp_path, parts, airframe(3)), Wish()).blocks
            if isinstance(block, Words)]  # fmt: skip
    assert any("does not know where the cavities of insert DD-50 stand" in text for text in said)
    assert any("nobody has said whether this half has pins or sockets" in text for text in said)


def test_a_picked_cavity_is_black_and_its_neighbours_are_there() -> None:
    harness = demo().subject
    made = figure(harness, harness.connectors["P114"], Side.MATING, {"3": ("probe", True), "4": ("probe", True)})
    assert made is not None
    canvas = Canvas(made.width, made.height)
    made.draw(canvas)
    groups = {group.get("id"): group for group in canvas.root.iter("g") if group.get("class") == "cavity"}
    assert len(groups) == 15
    for name in harness.connectors["P114"].cavities:
        rings = [e for e in groups[f"face-P114-mating-{name}"] if e.tag in ("circle", "polygon")]
        assert (rings[0].get("fill") == "black") == (name in ("3", "4"))


@pytest.mark.parametrize("insert", ["DE-9", "DA-15", "DB-25", "DC-37", "DB-44HD", *VIEWS])
def test_every_face_of_the_drawer_can_be_drawn_inside_its_frame(insert: str, tmp_path: Path) -> None:
    text = jumper(3, 1).replace("gender: pin", f"insert: {insert}, gender: pin")
    harness = job_of(tmp_path, text, airframe(3)).subject
    made = figure(harness, harness.connectors["P114"], Side.WIRE, {})
    assert made is not None
    canvas = Canvas(made.width, made.height)
    made.draw(canvas)
    for element in canvas.root.iter("circle"):
        x, y, r = (float(element.attrib[name]) / MM for name in ("cx", "cy", "r"))
        assert r <= x <= made.width - r and r <= y <= made.height - r
