"""The jobs in ``harnesses/`` that a person has laid out by hand, and what the planner is asked for each."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

from harnesscheck.jumper.planning import Asked

HARNESSES = Path(__file__).parents[2] / "harnesses"


@dataclass(frozen=True)
class Job:
    """A folder, its equipment file, the pair to open and the designator of the unit."""

    name: str
    equipment: str
    at: str
    unit: str
    decided: bool = False
    """True when the hand-made jumper rests on limits that a person has decided, which the plan takes over."""

    def copied(self, root: Path) -> Path:
        """The folder, copied."""
        return shutil.copytree(HARNESSES / self.name, root / self.name)

    def asked(self, least: str | None = None) -> Asked:
        """What the planner is asked, from within the folder."""
        return Asked(
            "airframe.yaml", (self.equipment,), self.at, "plan.yaml", least=least, units=(self.unit,),
            decided="jumper.yaml" if self.decided else None,
        )  # fmt: skip


JOBS = (
    Job("ice-probe", "ice-probe.yaml", "P14/J14", "A12", decided=True),
    Job("signal-logger", "logger.yaml", "P21/J21", "A31"),
    Job("cabin-fan", "fan.yaml", "P31/J31", "A21"),
    Job("moving-map", "map.yaml", "P41/J41", "A22"),
    Job("wing-sensor", "gear.yaml", "P61/J61", "A25"),
    Job("oil-pressure", "recorder.yaml", "P71/J71", "A23"),
    Job("engine-display", "display.yaml", "P81/J81", "A24"),
    Job("data-bus", "recorder-unit.yaml", "P91/J91", "A26"),
)
