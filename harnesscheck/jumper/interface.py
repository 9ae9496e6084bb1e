"""Planning from Python: one call, nothing written."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping

from harnesscheck.fault import Fault, InputError
from harnesscheck.jumper.planning import Asked, Plan, plan
from harnesscheck.place import Point, split_point

File = str | os.PathLike[str]


def plan_tap(
    airframe: File, equipment: File | Iterable[File], at: str, out: File, *,
    use: Mapping[str, str] | None = None, least: str | None = None, units: Iterable[str] = (),
    trunk: float | None = None, route: str | None = None, branch: float | None = None, decided: File | None = None,
) -> Plan:  # fmt: skip
    """Plan a jumper at the mated pair ``at``; ``text`` of the result is the file, or None where ``noes`` say why not.

    ``out`` is where the plan will stand: its fixed lines are kept, and it is not written. ``use`` maps an equipment
    pin (``A12J1-1``) to a cavity or a circuit; ``trunk`` and ``branch`` are metres. Raises ``InputError``.
    """
    files: tuple[File, ...] = (equipment,) if isinstance(equipment, str | os.PathLike) else tuple(equipment)
    wanted: dict[Point, str] = {}
    for pin, where in (use or {}).items():
        point = split_point(pin)
        if point is None or not point.cavity:
            raise InputError([Fault("use", 1, 1, f"{pin!r} is no pin of the equipment", "", "write it like A12J1-1")])
        wanted[point] = where
    asked = Asked(
        os.fspath(airframe), tuple(os.fspath(file) for file in files), at, os.fspath(out), wanted, least, tuple(units),
        trunk, route, branch, os.fspath(decided) if decided is not None else None,
    )  # fmt: skip
    return plan(asked)
