"""One reading: where the two test leads go, and what the meter should show."""

from __future__ import annotations

import math
from dataclasses import dataclass

from harnesscheck.place import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """Test leads at ``a`` and ``b``; several points of one lead are tied together.

    ``expected``, ``low`` and ``high`` are ohms or volts by ``unit``; infinity is an open line. ``expected`` None: not
    known. ``low`` or ``high`` None: no limit on that side, and with neither the value is only written down.
    """

    id: str
    """``BC3``: article (B bench, I installed, A aircraft), kind (C, S, R), number. The same job gives the same ids."""
    article: str
    """``bench``, ``installed`` or ``aircraft``."""
    kind: str
    """``continuity``, ``isolation``, ``ohms`` or ``volts``."""
    a: tuple[Point, ...]
    b: tuple[Point, ...]
    expected: float | None
    low: float | None
    high: float | None
    unit: str
    why: str
    """What the reading is for, in words."""
    unknown: str = ""
    """What is missing where ``expected`` is not known."""

    @property
    def judged(self) -> bool:
        """True when a value can be right or wrong; False when it is only written down."""
        return self.low is not None or self.high is not None

    def accepts(self, value: float) -> bool | None:
        """Whether a value is within the limits; None when the reading has none. Open is ``math.inf``."""
        if not self.judged or math.isnan(value):
            return None
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)
