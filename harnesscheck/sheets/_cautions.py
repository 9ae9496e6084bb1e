"""The cautions that every sheet carries."""

from __future__ import annotations

from harnesscheck.report import CAUTIONS

__all__ = ["CAUTIONS"]
