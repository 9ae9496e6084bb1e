"""A job names every file it was read from, with the hash of its bytes."""

from __future__ import annotations

import hashlib
import os
import shutil
from pathlib import Path

import harnesscheck as hc

DEMO = Path(__file__).parent.parent / "harnesses" / "ice-probe"


def _hashes(folder: Path) -> dict[str, str]:
    """Independent route: the files that lie in the folder, hashed here."""
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in folder.glob("*.yaml")}


def test_every_file_of_the_demo_by_name() -> None:
    """Airframe, equipment, jumper and the shop's parts file, whichever of them names it."""
    files = hc.load(DEMO / "jumper.yaml").files
    assert {file.name: file.sha256 for file in files} == _hashes(DEMO)
    assert [file.name for file in files] == sorted(file.name for file in files)


def test_bytes_count_not_text(tmp_path: Path) -> None:
    """Another line end is another file, though it is read the same."""
    job = shutil.copytree(DEMO, tmp_path / "job")
    path = job / "airframe.yaml"
    path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    files = {file.name: file.sha256 for file in hc.load(job / "jumper.yaml").files}
    assert files == _hashes(job)
    assert files["airframe.yaml"] != _hashes(DEMO)["airframe.yaml"]


def test_an_airframe_alone_and_its_parts() -> None:
    """A file that names others below it: the jumper is not read, so it is not listed."""
    names = [file.name for file in hc.load(DEMO / "airframe.yaml").files]
    assert "airframe.yaml" in names
    assert "jumper.yaml" not in names


def test_names_do_not_hang_on_where_one_stands(tmp_path: Path) -> None:
    """Relative, absolute and by a link: the same names and hashes."""
    job = shutil.copytree(DEMO, tmp_path / "job")
    link = tmp_path / "link.yaml"
    link.symlink_to(job / "jumper.yaml")
    absolute, linked = hc.load(job / "jumper.yaml").files, hc.load(link).files
    relative = hc.load(os.path.relpath(job / "jumper.yaml")).files
    assert absolute == linked == relative
