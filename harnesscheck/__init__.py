"""harnesscheck: plan an inline jumper, prove that it does no harm, find wiring mistakes before copper is cut.

>>> import harnesscheck as hc
>>> job = hc.load("harnesses/ice-probe/jumper.yaml")
>>> hc.check(job).clear
True

The names below are imported when they are first used, so that ``harnesscheck --help`` starts at once.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from harnesscheck.version import __version__

if TYPE_CHECKING:
    from harnesscheck.api import check, draw, load, sheet
    from harnesscheck.fault import Fault, InputError
    from harnesscheck.finding import Finding, NotChecked, Passed, Report, Severity
    from harnesscheck.harness import Harness, install
    from harnesscheck.job import Job
    from harnesscheck.jumper.interface import plan_tap

_HOMES = {
    "load": "api",
    "check": "api",
    "draw": "api",
    "sheet": "api",
    "Fault": "fault",
    "InputError": "fault",
    "Finding": "finding",
    "NotChecked": "finding",
    "Passed": "finding",
    "Report": "finding",
    "Severity": "finding",
    "Harness": "harness",
    "install": "harness",
    "Job": "job",
    "plan_tap": "jumper.interface",
}

__all__ = [
    "Fault",
    "Finding",
    "Harness",
    "InputError",
    "Job",
    "NotChecked",
    "Passed",
    "Report",
    "Severity",
    "__version__",
    "check",
    "draw",
    "install",
    "load",
    "plan_tap",
    "sheet",
]


def __getattr__(name: str) -> Any:
    """Import a public name from its module at first use."""
    if name in _HOMES:
        from importlib import import_module

        return getattr(import_module(f"harnesscheck.{_HOMES[name]}"), name)
    raise AttributeError(f"module 'harnesscheck' has no attribute {name!r}")
