"""What the shop has looked up counts for the whole job, whichever of its files names the parts file."""

from pathlib import Path

import pytest

import harnesscheck as hc

DEMO = Path(__file__).parents[1] / "harnesses" / "ice-probe"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for file in DEMO.glob("*.yaml"):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    return tmp_path


def test_the_airframe_alone_may_name_the_parts_file(folder: Path) -> None:
    jumper = folder / "jumper.yaml"
    jumper.write_text(jumper.read_text().replace("parts: shop-parts.yaml\n", ""))
    report = hc.check(hc.load(jumper))
    assert (report.clear, report.not_checked) == (True, ())


def test_two_parts_files_count_together(folder: Path) -> None:
    shop = (folder / "shop-parts.yaml").read_text()
    head, _, rest = shop.partition("  M39029/63-368:")
    (folder / "other-parts.yaml").write_text(f"kind: parts\nparts:\n  M39029/63-368:{rest}")
    (folder / "shop-parts.yaml").write_text(head)
    airframe = folder / "airframe.yaml"
    airframe.write_text(airframe.read_text().replace("parts: shop-parts.yaml", "parts: other-parts.yaml"))
    report = hc.check(hc.load(folder / "jumper.yaml"))
    assert (report.clear, report.not_checked) == (True, ())


def test_parts_files_that_contradict_each_other_are_refused(folder: Path) -> None:
    shop = (folder / "shop-parts.yaml").read_text()
    (folder / "other-parts.yaml").write_text(shop.replace("strip: 4.1 mm", "strip: 9.9 mm"))
    airframe = folder / "airframe.yaml"
    airframe.write_text(airframe.read_text().replace("parts: shop-parts.yaml", "parts: other-parts.yaml"))
    with pytest.raises(hc.InputError, match="M39029/56-348: strip is shop-confirmed twice with different values"):
        hc.load(folder / "jumper.yaml")
