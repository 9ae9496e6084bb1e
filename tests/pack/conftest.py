"""The demo's pack, written once for all tests of this folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from harnesscheck import api, pack
from harnesscheck.sheets import Wish

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe" / "jumper.yaml"


def written(folder: Path, file: Path = DEMO, kits: int = 1) -> Path:
    """A pack in a folder."""
    job = api.load(file)
    return pack.write(job, api.check(job), folder, Wish(kits)).folder


@pytest.fixture(scope="session")
def demo_pack(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the demo's pack; tests read it and leave it as it is."""
    return written(tmp_path_factory.mktemp("pack") / "demo")
