"""The kit pack: every document of one job in one folder, under one pack id.

``book`` puts the sheets in order and numbers them, ``ident`` makes the pack id, ``folder`` writes it all, ``audit``
says whether a folder is still that pack.
"""

from __future__ import annotations

from harnesscheck.pack.audit import verify
from harnesscheck.pack.folder import write

__all__ = ["verify", "write"]
