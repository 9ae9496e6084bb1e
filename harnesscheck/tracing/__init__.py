"""Follow the copper from one point: every piece in order, what a meter reads, and who else is on it.

``along`` walks the copper, ``others`` says what hangs on it, ``said`` puts it into lines that can be read out on the
telephone.
"""

from harnesscheck.tracing.said import Trace, trace

__all__ = ["Trace", "trace"]
