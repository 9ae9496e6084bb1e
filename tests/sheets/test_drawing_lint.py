"""Drawings are lintable: nothing on anything else, nothing too small, all furniture filled, at 5, 50 and 500 wires."""

from __future__ import annotations

import re
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from diagram_bench import JOBS, MM, ROOT, SVG, airframe, demo, job_of, jumper, sheets_of, texts, wire_groups
from drawn_jobs import generated
from lint import crossings, lint
from test_wiring_diagram import _rows

from harnesscheck.formats.harness_yaml import load
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper import metrics, svg
from harnesscheck.place import Point
from harnesscheck.sheets import wiring_diagram

DRAWN: dict[str, Callable[[Path], Job]] = {
    "demo": lambda folder: demo(),
    "signal-logger": lambda folder: load(ROOT / "harnesses/signal-logger/jumper.yaml", "jumper.yaml"),
    "5 wires": JOBS["5 wires"],
    "50 wires": lambda folder: generated(folder, 50),
    "500 wires": lambda folder: generated(folder, 500),
}


@pytest.fixture(scope="module", params=list(DRAWN), ids=lambda name: name.replace(" ", "-"))
def drawn(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, Harness, ET.Element]:
    job = DRAWN[request.param](tmp_path_factory.mktemp("job"))
    return request.param, job.subject, ET.fromstring(wiring_diagram.render(job, "svg"))


def test_the_lint_finds_nothing(drawn: tuple[str, Harness, ET.Element]) -> None:
    assert list(lint(drawn[2])) == []


def test_no_more_crossings_than_taps_need(drawn: tuple[str, Harness, ET.Element]) -> None:
    name, _, root = drawn
    for sheet in sheets_of(root):
        groups = [group for groups in wire_groups(sheet).values() for group in groups]
        down = [group for group in groups if len(next(group.iter(f"{SVG}polyline")).attrib["points"].split()) > 2]
        # Every line that leaves the rows downwards passes those below it once at most; counted on paper, by hand, for
        # a comb of n taps that is n (n - 1) / 2. Lines of a second unit pass those of the first as well.
        assert crossings(sheet) <= len(down) * (len(down) - 1) / 2, name


def test_the_demo_has_the_ten_crossings_that_five_taps_need() -> None:
    # Five taps of a comb, 5 * 4 / 2; counted on the printed sheet too.
    (sheet,) = sheets_of(ET.fromstring(wiring_diagram.render(demo(), "svg")))
    assert crossings(sheet) == 10


def _shrink(root: ET.Element) -> None:
    next(root.iter(f"{SVG}text")).set("font-size", "30")


def _stack(root: ET.Element) -> None:
    first, second = [element for element in root.iter(f"{SVG}text") if len(element.text or "") > 3][:2]
    second.attrib.update({name: first.attrib[name] for name in ("x", "y")})


def _stray(root: ET.Element) -> None:
    element = next(next(iter(groups)) for groups in wire_groups(root).values()).find(f".//{SVG}text")
    assert element is not None
    element.set("x", "-900")


def _blank(root: ET.Element) -> None:
    for group in root.iter(f"{SVG}g"):
        if group.get("class") == "title-block":
            cells = list(group.iter(f"{SVG}text"))
            group.remove(cells[[cell.text for cell in cells].index("TITLE") + 1])


def _no_legend(root: ET.Element) -> None:
    for group in root.iter(f"{SVG}g"):
        if group.get("class") == "legend":
            group.clear()


def _no_drain(root: ET.Element) -> None:
    for group in root.iter(f"{SVG}g"):
        if group.get("data-shield") == "yes":
            for circle in group.findall(f"{SVG}circle"):
                group.remove(circle)


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (_shrink, "mm high"),
        (_stack, "lies on"),
        (_stray, "outside the frame"),
        (_blank, "TITLE is empty"),
        (_no_legend, "legend is empty"),
        (_no_drain, "neither ended nor said to float"),
    ],
)
def test_the_lint_finds_what_is_spoilt(spoil: Callable[[ET.Element], None], said: str) -> None:
    root = deepcopy(ET.fromstring(wiring_diagram.render(demo(), "svg")))
    spoil(root)
    assert any(said in fault for fault in lint(root))


def test_a_shield_without_a_drain_is_said_to_float(tmp_path: Path) -> None:
    root = ET.fromstring(wiring_diagram.render(generated(tmp_path, 50), "svg"))
    cables = [group for group in root.iter(f"{SVG}g") if group.get("data-shield") == "yes"]
    assert cables and all(any(text.endswith("shield floating") for text in texts(group)) for group in cables)


# -- references from sheet to sheet ------------------------------------------------------------------------------------


def test_a_reference_to_another_sheet_names_the_zone_in_which_the_wire_is_written(tmp_path: Path) -> None:
    root = ET.fromstring(wiring_diagram.render(JOBS["airframe with several pairs"](tmp_path), "svg"))
    found = sheets_of(root)
    refs = [m for text in texts(root) if (m := re.search(r"(W\d+A22): sheet (\d+), ([A-Z])(\d+)$", text))]
    assert refs
    for ref in refs:
        sheet = found[int(ref[2]) - 1]
        (group,) = wire_groups(sheet)[ref[1]]
        label = group.find(f".//{SVG}text")
        assert label is not None
        # Zones are read off the paper: A3, frame 14 mm inside it, 8 zones across and 6 down (the border's lettering).
        across = (float(label.attrib["x"]) / MM - 14.0) / (420.0 - 28.0) * 8
        down = (float(label.attrib["y"]) / MM - 14.0) / (297.0 - 28.0) * 6
        if label.get("text-anchor") != "end":
            assert (ref[3], ref[4]) == ("ABCDEF"[int(down)], str(int(across) + 1))


def test_a_half_on_several_sheets_says_on_which_others(tmp_path: Path) -> None:
    found = sheets_of(ET.fromstring(wiring_diagram.render(generated(tmp_path, 50), "svg")))
    assert len(found) == 2
    for number, sheet in enumerate(found, 1):
        assert f"also on sheet {3 - number}" in texts(sheet)
        assert f"also on sheet {number}" not in texts(sheet)


def test_planning_a_thousand_wires_tries_each_sheet_a_few_times(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried = []
    compose = wiring_diagram.compose
    monkeypatch.setattr(wiring_diagram, "compose", lambda *given: (tried.append(1), compose(*given))[1])
    count = len(wiring_diagram.sheets(generated(tmp_path, 1000)))
    assert len(tried) < 12 * count


# -- one circuit picked out ------------------------------------------------------------------------------------------


def test_a_picked_circuit_is_heavy_and_the_rest_grey() -> None:
    job = demo()
    start = Point("P14", "3")
    lit = {start, *(step.end for step in job.subject.trace(start))}
    root = ET.fromstring(wiring_diagram.picture(job, "svg", lit))
    heavy = {
        name
        for name, groups in wire_groups(root).items()
        if float(next(groups[0].iter(f"{SVG}polyline")).attrib["stroke-width"]) > 8
    }
    assert heavy == {"D503A22", "D503B22", "D503C22"}  # the demo file, its CAN H wires
    for name, groups in wire_groups(root).items():
        line = next(groups[0].iter(f"{SVG}polyline"))
        assert (line.attrib["stroke"] == "black") == (name in heavy)
    assert "circuit picked out" in texts(root)
    assert list(lint(root)) == []
    assert wiring_diagram.picture(job, "svg") == wiring_diagram.render(job, "svg")


# -- print and lettering ---------------------------------------------------------------------------------------------


def test_on_a_grey_print_new_wire_is_one_heavy_line_and_existing_wire_has_gaps(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(svg, "DPI", 100)
    job = demo()
    data = wiring_diagram.render(job, "png")
    wide, high = (int.from_bytes(data[at : at + 4], "big") for at in (16, 20))
    rows = _rows(data, wide, high)
    assert all(row[0::4] == row[1::4] == row[2::4] for row in rows)
    groups = wire_groups(ET.fromstring(wiring_diagram.render(job, "svg")))

    def ink(name: str) -> tuple[float, float]:
        """Share of a wire's length that is dark, and its mean darkness over 2 mm across the wire."""
        points = next(groups[name][0].iter(f"{SVG}polyline")).attrib["points"].split()
        (xa, y), (xb, _) = (tuple(float(v) / MM / 25.4 * 100 for v in pair.split(",")) for pair in points[:2])
        left, right = sorted((round(xa) + 3, round(xb) - 3))
        band = [rows[n][4 * left : 4 * right : 4] for n in range(round(y) - 2, round(y) + 3)]
        columns = list(zip(*band, strict=True))
        return sum(min(c) < 140 for c in columns) / len(columns), sum(255 - v for c in columns for v in c) / len(
            columns
        )

    new, existing = ink("R506A22"), ink("P107A20")
    assert new[0] > 0.99
    assert 0.5 < existing[0] < 0.95
    assert new[1] > 1.8 * existing[1]


def test_a_character_without_a_glyph_is_written_as_its_number(tmp_path: Path) -> None:
    named = airframe(3).replace("name: disconnect", "name: wing \u4e2d")
    job = job_of(tmp_path, jumper(3, 1, title="Probe \U0001f600 kit"), named)
    root = ET.fromstring(wiring_diagram.render(job, "svg"))
    said = texts(root)
    assert "Probe U+1F600 kit" in said
    assert any("wing U+4E2D" in text for text in said)
    glyphs = metrics._tables()[2]
    assert all(ord(char) in glyphs for text in said for char in text)
    assert list(lint(root)) == []
    # The reader refuses marks that turn the direction of writing; a name from elsewhere cannot do it on paper either.
    assert metrics.shown("A\u202eB\x07") == "AU+202EBU+0007"
