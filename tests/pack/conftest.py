"""The demo's pack, written once for all tests of this folder."""

from __future__ import annotations

import base64
from pathlib import Path

import pytest

from harnesscheck import api, pack
from harnesscheck.pack import documents
from harnesscheck.sheets import Wish

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe" / "jumper.yaml"


def written(place: Path, file: Path = DEMO, kits: int = 1) -> Path:
    """A pack in a folder."""
    job = api.load(file)
    return pack.write(job, api.check(job), place, Wish(kits)).folder


@pytest.fixture
def blank_pictures(monkeypatch: pytest.MonkeyPatch) -> None:
    """One white dot in place of each picture, which is half the work of a pack, where pictures are not looked at."""
    dot = base64.b64decode(
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGP4DwABAQEAG7buVgAAAABJRU5ErkJggg=="
    )
    monkeypatch.setattr(documents.as_pdf, "pictures", lambda leaves, dpi: [dot for _ in leaves])


@pytest.fixture(scope="session")
def demo_pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the demo's pack; tests read it and leave it as it is."""
    return written(tmp_path_factory.mktemp("pack") / "demo")
