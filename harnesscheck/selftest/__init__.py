"""The self-test: known-good and known-bad articles through the program as it is installed here.

A tester is proved with a known-good and a known-bad article on the bench where it is used (common test practice). The
hazard of a checker is silence, so every check must find its fault here, and must say *not checked* where it cannot
look. ``articles`` holds what is tested and what must come out, ``bench`` runs it, ``record`` prints what came out.
"""

from __future__ import annotations

from harnesscheck.selftest.bench import Line, run
from harnesscheck.selftest.record import as_text

__all__ = ["Line", "as_text", "run"]
