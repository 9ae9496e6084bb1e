"""One kit against many aircraft: what differs from the type, what of it matters, and who may get the kit."""

from harnesscheck.fleet.verdicts import Row, Verdict
from harnesscheck.fleet.working import Fleet, run

__all__ = ["Fleet", "Row", "Verdict", "run"]
