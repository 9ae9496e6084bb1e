"""The kit pack: every document of one job in one folder, under one pack id.

``book`` puts the sheets in order and numbers them, ``ident`` makes the pack id, ``write`` makes the folder, ``verify``
says whether a folder is still that pack.
"""

from __future__ import annotations

from harnesscheck.pack.verify import verify
from harnesscheck.pack.write import write

__all__ = ["verify", "write"]
