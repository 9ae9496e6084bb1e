"""Gauge and colour in one cell."""

from __future__ import annotations

import re
from functools import lru_cache

from harnesscheck.formats._lists.colours import Keys, colour
from harnesscheck.formats._lists.spellings import Read, gauge

_SIZE = r"(?P<g>(?:AWG|\#)\s*[\d/]+|[\d/.,]+\s*(?:AWG|ga|gauge|mm2|mm²)\.?)"


@lru_cache(maxsize=4096)
def gauge_and_colour(text: str, unit: str, keys: Keys = ()) -> tuple[Read, Read] | None:
    """Both in one cell, in either order (``16 AWG red``, ``red 16 AWG``); None when it is not that.

    >>> [read.value for read in gauge_and_colour("#20 WHT", "") or ()]
    ['20 AWG', 'white']
    """
    size = _SIZE if not unit else _SIZE[:-1] + r"|[\d/.,]+)"
    for pattern in (rf"{size}[\s,/]+(?P<c>[^\W\d_].+)", rf"(?P<c>[^\d]+?)[\s,/]+{size}"):
        found = re.fullmatch(pattern, text.strip(), re.IGNORECASE)
        if found:
            read, hue = gauge(found["g"], unit), colour(found["c"], keys)
            if read.value and hue.value:
                return read, hue
    return None
