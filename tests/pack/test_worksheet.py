"""The worksheet in the pack carries the id of the pack."""

from __future__ import annotations

import json
import re
from pathlib import Path


def test_the_worksheet_of_a_pack_writes_its_pack_id_into_the_readings_file(demo_pack: Path) -> None:
    page = (demo_pack / "worksheet.html").read_text(encoding="utf-8")
    found = re.search(r'<script type="application/json" id="data">(.*?)</script>', page, re.DOTALL)
    assert found
    pack = json.loads((demo_pack / "manifest.json").read_text(encoding="utf-8"))["pack id"]
    assert json.loads(found[1])["head"]["pack id"] == pack
