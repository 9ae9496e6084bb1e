"""A jumper file that was only started: as long as nobody has changed it, a plan may take its place.

The first line carries a seal over the rest, so that one letter typed by a person keeps the file.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

_SAYS = "# Started, not yet changed by anybody: harnesscheck tap may write over it. Seal: "


def sealed(lines: Sequence[str]) -> list[str]:
    """The lines of a file with the seal in front."""
    return [_SAYS + _seal(lines), *lines]


def untouched(lines: Sequence[str]) -> bool:
    """True for a file that is as it was started."""
    kept = list(lines)
    while kept and not kept[-1]:
        kept.pop()
    return bool(kept) and kept[0] == _SAYS + _seal(kept[1:])


def _seal(lines: Sequence[str]) -> str:
    return hashlib.sha256("\n".join(lines).encode("utf-8")).hexdigest()[:12]
