"""An export of tables is read back before anybody gets it: what would not come back the same is not written."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from harnesscheck.document import Block
from harnesscheck.fault import Fault, InputError
from harnesscheck.formats import exported


def proven(data: bytes, root: Block, suffix: str) -> bytes:
    """``data``, when reading it gives ``root`` again. Raises ``InputError`` when it does not."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"export{suffix}"
        path.write_bytes(data)
        try:
            same = ordered(exported.document_of(path, path.name).root) == ordered(root)
            why, remedy = "this file holds something that its tables do not give back", "keep it as .yaml"
        except InputError as error:
            same, why, remedy = False, error.faults[0].message, error.faults[0].remedy
    if not same:
        raise InputError([Fault(f"export to {suffix}", 1, 1, why, "", remedy)])
    return data


def ordered(value: Any) -> Any:
    """Nested values with the order of their keys."""
    if isinstance(value, dict):
        return [(key, ordered(each)) for key, each in value.items()]
    return [ordered(each) for each in value] if isinstance(value, list) else value
