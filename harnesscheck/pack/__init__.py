"""The kit pack: every document of one job in one folder, under one pack id.

``book`` puts the sheets in order and numbers them, ``documents`` makes their files one sheet after the other, ``ident``
makes the pack id, ``folder`` writes it all, ``audit`` says whether a folder is still that pack.
"""

from __future__ import annotations

from harnesscheck.pack.audit import verify
from harnesscheck.pack.folder import WORKSHEET, write

__all__ = ["WORKSHEET", "verify", "write"]
