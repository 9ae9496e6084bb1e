"""Keys that only the papers need: what is read, and what a slip in one of them says."""

from __future__ import annotations

from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck import units
from harnesscheck.fault import InputError

DEMO = Path(__file__).parents[1] / "harnesses" / "ice-probe"


def test_what_the_demo_states() -> None:
    harness = hc.load(DEMO / "jumper.yaml").subject
    assert harness.aircraft is not None
    assert (harness.aircraft.mass, harness.aircraft.arm) == (452.0, 1.93)
    assert harness.zones["wing leading edge"].arm == 1.62
    assert harness.devices["A12"].mass == 0.32
    assert [setting.value for setting in harness.devices["A12"].settings][:2] == ["21", "500 kbit/s"]
    assert harness.stock["M22759/16-20-9"].remnants == (1.2, 0.8)
    assert [(r.letter, r.date) for r in harness.revisions] == [("A", "2026-11-20")]
    assert harness.effectivity.startswith("glider tug")


@pytest.mark.parametrize(
    "read, text, value",
    [
        (units.mass, "1 lb", 0.45359237),  # international yard and pound agreement, 1959
        (units.mass, "16 oz", 0.45359237),
        (units.mass, "320 g", 0.32),
        (units.station, "-12 in", -0.3048),
        (units.duration, "1.5 h", 5400.0),
    ],
)
def test_units(read, text: str, value: float) -> None:  # type: ignore[no-untyped-def]
    assert read(text) == value


@pytest.mark.parametrize(
    "file, old, new, said",
    [
        ("ice-probe.yaml", "mass: 0.32 kg", "mass: 0.32", "the unit is missing"),
        ("ice-probe.yaml", "mass: 0.32 kg", "mass: 0 kg", "a mass is above zero"),
        ("ice-probe.yaml", '{set: "21", how', '{set: "21", hwo', "how"),
        ("airframe.yaml", "arm: 1.93 m", "arm: 1,93 m", "comma"),
        ("airframe.yaml", "aircraft: {type", "aircraft: {tpye", "type"),
        ("jumper.yaml", "reel: 15 m", "reel: 15", "the unit is missing"),
        ("jumper.yaml", "remnants: [2.4 m]", "remnants: [2.4 m, -1 m]", "a length is above zero"),
        ("jumper.yaml", "stock:\n", "labour: {crimpp: 2 min}\nstock:\n", "crimp"),
        ("jumper.yaml", "stock:\n", "labour: {crimp: 2}\nstock:\n", "the unit is missing"),
        ("jumper.yaml", "text: first issue, ", "", "text"),
    ],
)
def test_a_slip_is_one_fault_with_its_place(tmp_path: Path, file: str, old: str, new: str, said: str) -> None:
    for path in DEMO.glob("*.yaml"):
        (tmp_path / path.name).write_text(path.read_text())
    text = (tmp_path / file).read_text()
    assert text.count(old) == 1
    (tmp_path / file).write_text(text.replace(old, new))
    with pytest.raises(InputError) as caught:
        hc.load(tmp_path / "jumper.yaml")
    (fault,) = caught.value.faults
    assert Path(fault.file).name == file and fault.line > 1
    assert said in f"{fault.message} {fault.remedy}"
