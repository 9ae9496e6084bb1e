"""For the site only: the words behind a fence (``yaml airframe.yaml``, ``sh exit=1``) become a line above the block.

The tests of the pages need them; the renderer of the site takes a fence with a second word for running text.
"""

from __future__ import annotations

import re
from typing import Any

_FENCE = re.compile(r"^```(\w+) ([^\n]+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_SAYS = {"diff": "Change in", "yaml": "File", "csv": "File"}


def on_page_markdown(markdown: str, **_: Any) -> str:
    """The text of a page before it is rendered."""
    return _FENCE.sub(_plain, markdown)


def _plain(found: re.Match[str]) -> str:
    kind, words, body = found.groups()
    said = f"{_SAYS[kind]} `{words}`:\n\n" if kind in _SAYS else ""
    return f"{said}```{kind}\n{body}```"
