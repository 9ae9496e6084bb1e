"""The wiring diagram: nothing missing, nothing on top of anything else, the same bytes every time."""

from __future__ import annotations

import os
import re
import struct
import subprocess
import sys
import zlib
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from diagram_bench import (
    DEMO,
    EQUIPMENT,
    JOBS,
    MM,
    ROOT,
    SVG,
    Box,
    airframe,
    box,
    demo,
    job_of,
    jumper,
    overlaps,
    sheets_of,
    strokes,
    texts,
    wire_groups,
)

from harnesscheck.connector import Origin
from harnesscheck.harness import new_wires
from harnesscheck.job import Job
from harnesscheck.paper import metrics
from harnesscheck.paper.cautions import CAUTIONS
from harnesscheck.paper.svg import STYLES
from harnesscheck.sheets import wiring_diagram


@pytest.fixture(scope="module", params=list(JOBS), ids=lambda name: name.replace(" ", "-"))
def drawn(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Job, ET.Element]:
    job = JOBS[request.param](tmp_path_factory.mktemp("job"))
    return job, ET.fromstring(wiring_diagram.render(job, "svg"))


# -- everything is there ---------------------------------------------------------------------------------------------


def test_every_wire_is_drawn_once_or_in_two_parts_when_it_closes_a_loop(drawn: tuple[Job, ET.Element]) -> None:
    job, root = drawn
    groups = wire_groups(root)
    listed = " ".join(" ".join(texts(root)).split())
    for wire in job.subject.wires.values():
        assert len(groups[wire.id]) == 1 + (f"{wire.id} closes a loop from {wire.a} to {wire.b}" in listed)
        for group in groups[wire.id]:
            assert group.attrib["data-from"] == str(wire.a)
            assert any(text.startswith(wire.id) for text in texts(group))
    assert "Not drawn: " not in listed
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len(ids) == len(set(ids))


def test_every_wire_runs_from_contact_to_contact_and_only_across_or_down(drawn: tuple[Job, ET.Element]) -> None:
    for groups in wire_groups(drawn[1]).values():
        for group in groups:
            (line,) = group.iter(f"{SVG}polyline")
            points = [tuple(float(v) for v in pair.split(",")) for pair in line.attrib["points"].split()]
            for (xa, ya), (xb, yb) in pairwise(points):
                assert xa == xb or ya == yb
            length = sum(abs(xa - xb) + abs(ya - yb) for (xa, ya), (xb, yb) in pairwise(points))
            assert length > 10 * MM, group.attrib["id"]


def not_drawn(root: ET.Element, ref: str) -> bool:
    """True when the drawing says in words that an existing connector is not on it."""
    notes = " ".join(texts(root))
    said = re.search(r"Not drawn, existing wiring that the jumper does not touch: (.*?)\.", notes)
    return bool(said) and ref in re.split(r"[/, ]+", said[1])


def test_every_cavity_of_every_connector_is_shown(drawn: tuple[Job, ET.Element]) -> None:
    job, root = drawn
    for connector in job.subject.connectors.values():
        if not_drawn(root, connector.ref):
            # Nothing of the kit leads there: existing halves only, found by walking the copper from them.
            assert connector.origin is Origin.AIRFRAME
            ends = [step.end.ref for c in connector.cavities.values() for step in job.subject.trace(c.point)]
            assert not any(
                job.subject.connectors[ref].origin is not Origin.AIRFRAME
                for ref in ends
                if ref in job.subject.connectors
            )
            continue
        shown: list[str] = []
        for group in root.iter(f"{SVG}g"):
            if group.get("data-ref") == connector.ref:
                shown += texts(group)
        for name in connector.cavities:
            assert any(text == name or text.startswith(f"{name} (wire") for text in shown), f"{connector.ref}-{name}"
        assert connector.ref in texts(root)


def test_every_splice_stud_breaker_bus_and_circuit_is_named(drawn: tuple[Job, ET.Element]) -> None:
    job, root = drawn
    everything = "\n".join(texts(root))
    harness = job.subject
    for ref in (*harness.splices, *harness.grounds, *harness.breakers):
        assert re.search(rf"\b{re.escape(ref)}\b", everything), ref
    used = {point.ref for wire in harness.wires.values() for point in (wire.a, wire.b)}
    for ref in used:
        assert re.search(rf"\b{re.escape(ref)}\b", everything), ref
    for splice in harness.splices:
        assert splice in texts(root) or splice not in used
    fed = {str(point) for wire in harness.wires.values() for point in (wire.a, wire.b)}
    for breaker in harness.breakers.values():
        if f"{breaker.ref}-load" in fed and breaker.bus:
            assert breaker.bus in everything
    for connector, cavity in harness.cavities():
        if cavity.circuit and not not_drawn(root, connector.ref):
            assert cavity.circuit in everything, f"{connector.ref}-{cavity.point.cavity}"
    for pin in harness.pins():
        assert pin.function in everything


def test_every_sheet_has_its_furniture_and_all_cautions(drawn: tuple[Job, ET.Element]) -> None:
    job, root = drawn
    found = sheets_of(root)
    for number, sheet in enumerate(found, 1):
        said = texts(sheet)
        assert f"{number} of {len(found)}" in said
        for word in ("TITLE", "KIND OF DRAWING", "DRAWING NO.", "REV", "LEGEND", "NOTES", "CAUTIONS"):
            assert word in said
        cautions = next(group for group in sheet.findall(f"{SVG}g") if group.get("class") == "cautions")
        assert " ".join(texts(cautions)[1:]) == " ".join(CAUTIONS)
        assert any(job.subject.title in text for text in said)


def test_colours_stand_as_digit_and_word_and_the_unknown_is_a_question_mark(tmp_path: Path) -> None:
    said = texts(ET.fromstring(wiring_diagram.render(JOBS["existing wiring on both sides"](tmp_path), "svg")))
    assert "P202A20  22 AWG  96 white/blue" in said
    assert "P203A20  gauge ?  colour ?" in said
    assert "P101A22" not in said
    assert "W101A22  22 AWG  9 white" in said


def test_the_demo_is_one_sheet_with_its_cables_site_mark_and_spares() -> None:
    root = ET.fromstring(wiring_diagram.render(demo(), "svg"))
    said = texts(root)
    assert len(sheets_of(root)) == 1
    assert [text for text in said if text.startswith("C501")] == [f"C501{letter}  M27500-22TG2T14" for letter in "ABC"]
    assert "D503A22  22 AWG  9 white" in said
    assert "D505A22  22 AWG  drain" in said
    assert "FITTED ON SITE" in said
    assert "SPARE, sealing plug MS27488-22-2" in said
    assert len(list(new_wires(demo().subject))) == 25
    dashed = STYLES["shield"].dash
    pattern = " ".join(f"{length * MM:g}" for length in dashed)
    envelopes = [r for r in root.iter(f"{SVG}rect") if r.get("stroke-dasharray") == pattern]
    assert len(envelopes) == 3 + 1  # one for each cable, and the one in the legend


# -- nothing lies on anything else -----------------------------------------------------------------------------------


def test_no_text_overlaps_another_text(drawn: tuple[Job, ET.Element]) -> None:
    for sheet in sheets_of(drawn[1]):
        boxes = sorted(((box(element), element.text) for element in sheet.iter(f"{SVG}text")), key=lambda pair: pair[0])
        for number, (one, first) in enumerate(boxes):
            for two, second in boxes[number + 1 :]:
                if two[0] > one[2]:
                    break
                assert not overlaps(one, two), (first, second, one, two)


def test_no_line_runs_through_a_text(drawn: tuple[Job, ET.Element]) -> None:
    for sheet in sheets_of(drawn[1]):
        lines = list(strokes(sheet))
        for element in sheet.iter(f"{SVG}text"):
            here = box(element)
            for line in lines:
                assert not overlaps(here, line), (element.text, here, line)


def test_wires_lie_on_each_other_nowhere(drawn: tuple[Job, ET.Element]) -> None:
    for sheet in sheets_of(drawn[1]):
        runs: list[tuple[str, bool, Box]] = []
        for name, groups in wire_groups(sheet).items():
            for group in groups:
                for line in strokes(group):
                    runs.append((name, line[2] - line[0] > line[3] - line[1], line))
        for (one, across, a), (two, also, b) in combinations(runs, 2):
            assert one == two or across != also or not overlaps(a, b), (one, two, a, b)


def test_everything_stays_inside_the_frame_and_is_tall_enough(drawn: tuple[Job, ET.Element]) -> None:
    for sheet in sheets_of(drawn[1]):
        frame = next(group for group in sheet.findall(f"{SVG}g") if group.get("class") == "frame")
        outer, inner = (list(strokes(polygon)) for polygon in _closed(frame)[:2])
        left, top, right, bottom = _around(outer)
        page = (left - 8.0, top - 8.0, right + 8.0, bottom + 8.0)
        assert page[0] == pytest.approx(0, abs=0.2) and page[1] == pytest.approx(0, abs=0.2)
        inside = _around(inner)
        for element in sheet.iter(f"{SVG}text"):
            assert float(element.get("font-size", "")) / MM * metrics.CAP >= 2.5 - 0.01
            here = box(element)
            limits = (left, top, right, bottom) if element in set(frame.iter()) else inside
            assert here[0] >= limits[0] and here[1] >= limits[1], element.text
            assert here[2] <= limits[2] and here[3] <= limits[3], element.text
        for line in strokes(sheet):
            assert line[0] >= left and line[1] >= top and line[2] <= right and line[3] <= bottom


def _closed(group: ET.Element) -> list[ET.Element]:
    holders = []
    for polygon in group.findall(f"{SVG}polygon"):
        holder = ET.Element("g")
        holder.append(polygon)
        holders.append(holder)
    return holders


def _around(boxes: list[Box]) -> Box:
    return min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes)


def test_the_length_of_every_text_is_fixed(drawn: tuple[Job, ET.Element]) -> None:
    for element in drawn[1].iter(f"{SVG}text"):
        here = box(element)
        assert float(element.attrib["textLength"]) / MM == pytest.approx(here[2] - here[0], abs=0.05)


# -- black and white, hostile names, same bytes ----------------------------------------------------------------------


def test_new_and_existing_wires_differ_in_weight_and_in_dashes() -> None:
    root = ET.fromstring(wiring_diagram.render(demo(), "svg"))
    groups = wire_groups(root)
    new = groups["P501A20"][0].find(f".//{SVG}polyline")
    old = groups["P107A20"][0].find(f".//{SVG}polyline")
    assert new is not None and old is not None
    assert float(new.attrib["stroke-width"]) >= 2 * float(old.attrib["stroke-width"])
    assert "stroke-dasharray" not in new.attrib
    shield = " ".join(f"{length * MM:g}" for length in STYLES["shield"].dash)
    assert old.attrib["stroke-dasharray"] not in ("", shield)
    strokes_used = {element.get("stroke") for element in root.iter()} - {None}
    assert strokes_used == {"black"}


def test_hostile_names_come_out_as_text(tmp_path: Path) -> None:
    bad = """<script>alert('1')</script> & "q" ]]> é"""
    quoted = "'" + bad.replace("'", "''") + "'"
    text = jumper(3, 1, title=quoted).replace("name: to the wing half", f"name: {quoted}")
    text = text.replace("W101A22", "'W<&>\"1'")
    job = job_of(tmp_path, text, airframe(3).replace(": CIRCUIT 1\n", ": '<b>\"&'\n"))
    raw = wiring_diagram.render(job, "svg")
    root = ET.fromstring(raw)
    names = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert names == {"svg", "title", "rect", "g", "a", "polyline", "polygon", "path", "text"}
    assert not any(name.startswith("on") for element in root.iter() for name in element.attrib)
    links = [element.attrib["href"] for element in root.iter(f"{SVG}a")]
    assert links and all(re.fullmatch(r"kit\.html#wire-[A-Za-z0-9._-]+", link) for link in links)
    assert "".join(bad.split()) in "".join("".join(texts(root)).split())
    assert '<b>"&' in texts(root)
    assert 'W<&>"1' in wire_groups(root)
    assert wiring_diagram.render(job, "png").startswith(b"\x89PNG")


def test_long_names_are_cut_and_written_out_in_a_note(tmp_path: Path) -> None:
    function = "HEATER SUPPLY " + "AND MORE WORDS " * 12
    equipment = EQUIPMENT.replace("function: POWER", f"function: {function.strip()}")
    root = ET.fromstring(wiring_diagram.render(job_of(tmp_path, jumper(3, 2), airframe(3), equipment), "svg"))
    assert any(re.fullmatch(r"HEATER SUPPLY .*\.\.\. \[1\]", text) for text in texts(root))
    assert function.strip() in " ".join(" ".join(texts(root)).split())


def test_a_connector_with_no_stated_contacts_is_drawn_as_unknown(tmp_path: Path) -> None:
    text = jumper(3, 1).replace("gender: socket, ", "").replace("gender: pin, ", "")
    root = ET.fromstring(wiring_diagram.render(job_of(tmp_path, text, airframe(3)), "svg"))
    assert "pin or socket not stated" in texts(root)


@pytest.mark.parametrize("form", wiring_diagram.FORMS)
def test_two_runs_give_the_same_bytes(form: str) -> None:
    code = (
        "import sys; from pathlib import Path; from harnesscheck.formats.harness_yaml import load\n"
        "from harnesscheck.sheets.wiring_diagram import render\n"
        f"sys.stdout.buffer.write(render(load(Path({str(DEMO)!r}), 'jumper.yaml'), {form!r}))"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "4242")
    ]
    assert runs[0] == runs[1]
    assert len(runs[0]) > 10_000


def test_the_picture_has_200_dots_per_inch_and_ink_in_every_part() -> None:
    data = wiring_diagram.render(demo(), "png")
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    wide, high, depth, kind = struct.unpack_from(">IIBB", data, 16)
    assert (wide, high) == (pytest.approx(420 / 25.4 * 200, abs=1), pytest.approx(297 / 25.4 * 200, abs=1))
    assert (depth, kind) == (8, 6)
    rows = _rows(data, wide, high)
    black = [sum(row[0 : 4 * wide : 4].count(value) for value in range(64)) for row in rows]
    assert 0.01 < sum(black) / (wide * high) < 0.2
    edge = round(6 / 25.4 * 200)
    assert not any(black[:edge]) and not any(black[-edge:])


def _rows(data: bytes, wide: int, high: int) -> list[bytes]:
    """The pixels of an 8-bit RGBA picture, row by row (PNG filters 0 to 4, ISO/IEC 15948)."""
    at, packed = 8, b""
    while at < len(data):
        size, kind = struct.unpack_from(">I4s", data, at)
        packed += data[at + 8 : at + 8 + size] if kind == b"IDAT" else b""
        at += 12 + size
    raw = zlib.decompress(packed)
    stride = 4 * wide
    before, rows = bytearray(stride), []
    for number in range(high):
        start = number * (stride + 1)
        how, line = raw[start], bytearray(raw[start + 1 : start + 1 + stride])
        if how == 2:
            line = bytearray((a + b) & 255 for a, b in zip(line, before, strict=True))
        elif how:
            for i in range(stride):
                a, b = (line[i - 4] if i > 3 else 0), before[i]
                c = before[i - 4] if i > 3 else 0
                if how == 1:
                    guess = a
                elif how == 3:
                    guess = (a + b) // 2
                else:
                    p, q, r = abs(b - c), abs(a - c), abs(a + b - 2 * c)
                    guess = a if p <= q and p <= r else b if q <= r else c
                line[i] = (line[i] + guess) & 255
        rows.append(bytes(line))
        before = line
    return rows


def test_another_form_is_refused() -> None:
    with pytest.raises(KeyError):
        wiring_diagram.render(demo(), "dxf")
