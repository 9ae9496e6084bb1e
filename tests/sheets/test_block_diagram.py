"""The block diagram says what the unit takes from the aircraft, and says when nobody knows."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree as ET

from diagram_bench import DEMO, SVG, airframe, box, demo, job_of, jumper, overlaps, sheets_of, texts

from harnesscheck import sheets
from harnesscheck.formats.harness_yaml import load
from harnesscheck.paper.blocks import Words
from harnesscheck.sheets import Wish
from harnesscheck.sheets.block_diagram import content, not_applicable


def _said(job: object) -> str:
    return "\n".join(block.text for block in content(job, Wish()).blocks if isinstance(block, Words))  # type: ignore[arg-type]


def test_the_demo_says_supply_return_and_bus() -> None:
    said = _said(demo())
    # The demo's own files: supply, breaker, bus, load of the circuit, stud.
    assert "draws 0.9 A (peak 2.2 A) at 10 V to 32 V at POWER from WING EQPT PWR, behind CB7 WING EQPT 5 A" in said
    assert "BUS1 main bus 14 V. 0.6 A is drawn from that circuit already." in said
    assert "POWER RETURN by WING EQPT RTN to GS3 fuselage ground stud behind the seat" in said
    assert "CAN H talks and listens on CAN H: CAN bus (ISO 11898-2), 500 kbit/s, 4 listeners in the aircraft." in said
    assert "Left without a wire: FACTORY TEST." in said
    assert "leads 15 cavities through and taps 5 circuits" in said


def test_what_nobody_has_stated_is_said(tmp_path: Path) -> None:
    said = _said(job_of(tmp_path, jumper(4, 2), airframe(4)))
    assert "with a protector that is not stated, on a bus that is not stated" in said
    assert "to a ground point that is not stated" in said


def test_the_drawing_has_the_symbols_and_no_text_on_another() -> None:
    root = ET.fromstring(sheets.render("block-diagram", demo(), "svg"))
    said = texts(root)
    for word in ("AIRCRAFT", "KIT (new)", "P14/J14", "P115/A12J1", "CB7  WING EQPT  5 A", "SP1", "1  POWER"):
        assert word in said
    (figure,) = [group for page in sheets_of(root) for group in page.findall(f"{SVG}g") if "transform" in group.attrib]
    boxes = [(box(element), element.text) for element in figure.iter(f"{SVG}text")]
    assert len(boxes) > 20
    assert [(one[1], two[1]) for i, one in enumerate(boxes) for two in boxes[:i] if overlaps(one[0], two[0])] == []


def test_a_file_without_a_kit_has_no_block_diagram() -> None:
    job = load(DEMO.with_name("airframe.yaml"), "airframe.yaml")
    assert not_applicable(job, Wish()) == "no kit is planned in this file"
    assert "Not applicable: no kit is planned in this file." in _said(job)
    assert not_applicable(demo(), Wish()) == ""
