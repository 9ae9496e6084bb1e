"""The do-no-harm statement: what is claimed of an installed jumper, and whether each claim holds.

Three answers, never two: a claim holds, does not hold, or is not known (with what is missing). The whole holds when the
copper, the ways, the taps and the removal hold, and no limit or file that is known speaks against it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from harnesscheck.connector import Use
from harnesscheck.harness import Harness
from harnesscheck.job import InputFile, Job
from harnesscheck.place import Point
from harnesscheck.proof.copper import Copper, copper
from harnesscheck.proof.effects import Effects

CLAIMS = {
    "nets": "the aircraft's own points are the same pieces of copper as before: none joined, none parted",
    "ways": "the kit itself leads every circuit of the opened pair to the cavity of the same name",
    "taps": "the equipment is joined to the circuits that are declared, and to nothing else of the aircraft",
    "limits": "breakers and drivers that get more to carry stay within what they are stated to bear",
    "removal": "with the kit taken out and the pair mated again the aircraft's harness is the one that was found",
    "files": "the files of the job are byte for byte those that were read: the airframe file was not written",
}
"""Claim to the sentence that is claimed."""
MUST = ("nets", "ways", "taps", "removal")
"""Claims that must hold; the others must not fail."""
TINY = 1e-9
"""Room for rounding when a sum is compared with a limit."""


@dataclass(frozen=True)
class Statement:
    """The statement of one installed jumper. Make it with ``statement(job)``."""

    job: Job
    copper: Copper
    effects: Effects
    files: tuple[tuple[InputFile, str | None], ...]
    """Every file of the job with the hash of what lies there now; None where nothing can be read any more."""

    @cached_property
    def claims(self) -> dict[str, bool | None]:
        """Each claim: holds, does not hold, or None where it is not known."""
        copper, now = self.copper, [None if there is None else there == file.sha256 for file, there in self.files]
        return {
            "nets": not copper.joined and not copper.parted,
            "ways": all(way.kit is not None or way.use is Use.SPARE for way in self.effects.ways),
            "taps": not copper.undeclared and all(copper.made(tap) for tap in copper.harness.taps.values()),
            "limits": _all(self._limits()),
            "removal": not copper.changed,
            "files": _all(now) if now else None,
        }

    @property
    def holds(self) -> bool:
        """True when nothing speaks against the statement."""
        return all(self.claims[name] for name in MUST) and False not in self.claims.values()

    def _limits(self) -> Iterator[bool | None]:
        for fed in self.effects.breakers:
            yield None if fed.share is None else fed.share <= 1 + TINY
        for stub in self.effects.stubs:
            if stub.most is not None:
                yield None if stub.share is None else stub.share <= 1 + TINY

    # -- in words --------------------------------------------------------------------------------------------------

    def called(self, net: int) -> str:
        """A net of the aircraft as a person calls it: its circuits, else its first points."""
        points = self.copper.members[net]
        names = list(self.copper.airframe.circuits_at(points))
        return " and ".join(names) or "/".join(map(str, points[:3]))

    @cached_property
    def against(self) -> list[str]:
        """What speaks against the statement, one sentence each; empty when it holds."""
        copper, after = self.copper, self.copper.after
        said = [f"the kit joins {' and '.join(self.called(net) for net in nets)}" for nets in copper.joined]
        for net in copper.parted:
            points = copper.members[net]
            lost = next(p for p in points if after.of(p) != after.of(points[0]))
            said.append(f"the kit parts {self.called(net)}: {points[0]} no longer reaches {lost}")
        for way in self.effects.ways:
            if way.kit is None and way.use is not Use.SPARE and copper.before.of(way.pair.a) not in copper.parted:
                said.append(f"{way.name}: the kit itself does not lead {way.pair.a} to {way.pair.b}")
        said += [f"{pin} is joined to {self._met(pin)}, and no tap declares it" for pin in copper.undeclared]
        said += [
            f"{tap.pin} does not reach {tap.circuit}, as the taps declare"
            for tap in copper.harness.taps.values()
            if not copper.made(tap)
        ]
        said += [
            f"{fed.ref} gets {fed.after:g} A, and is rated {fed.rating:g} A"
            for fed in self.effects.breakers
            if fed.share is not None and fed.share > 1 + TINY
        ]
        said += [
            f"{stub.circuit} gets {stub.receivers_after} receivers, and {stub.most} are allowed"
            for stub in self.effects.stubs
            if stub.share is not None and stub.share > 1 + TINY
        ]
        said += [f"changed by the kit: {thing}" for thing in copper.changed]
        said += [
            f"{file.name} is not the file that was read" for file, now in self.files if now not in (None, file.sha256)
        ]
        return list(dict.fromkeys(said))

    def _met(self, pin: Point) -> str:
        copper = self.copper
        net = copper.after.of(pin)
        nets = dict.fromkeys(
            old for old, new in zip(copper.before.label, copper.after.label, strict=False) if new == net
        )
        return " and ".join(self.called(old) for old in nets)

    @cached_property
    def unknown(self) -> dict[str, list[str]]:
        """What is not known, each with the circuits, breakers, pins or files that it is about."""
        said: dict[str, list[str]] = {}
        rows = [(way.pair.id, way.unknown) for way in self.effects.ways]
        rows += [(fed.ref or "the new equipment", fed.unknown) for fed in self.effects.breakers]
        rows += [(str(stub.pin), stub.unknown) for stub in self.effects.stubs]
        rows += [(file.name, ["whether it is still the file that was read"]) for file, now in self.files if now is None]
        if not self.files:
            rows.append(("the job", ["which files it was read from"]))
        if not self.copper.pairs:
            rows.append(("the opened pair", ["what it carries: neither half lists a cavity"]))
        for where, missing in rows:
            for what in missing:
                said.setdefault(what, []).append(where)
        return {what: list(dict.fromkeys(where)) for what, where in said.items()}


def _all(answers: Iterator[bool | None] | list[bool | None]) -> bool | None:
    """False when one is false, else None when one is not known, else True."""
    found = list(answers)
    return False if False in found else None if None in found else True


def statement(job: Job) -> Statement:
    """The statement of a jumper job. Raises ``ValueError`` for an airframe or equipment alone."""
    both = copper(job.subject)
    return Statement(job, both, Effects(both), tuple((file, _now(job, file)) for file in job.files))


def _now(job: Job, file: InputFile) -> str | None:
    try:
        return hashlib.sha256((job.path.resolve().parent / file.name).read_bytes()).hexdigest()
    except OSError:
        return None


def provable(harness: Harness) -> bool:
    """True for an installed harness: only that has a before and an after."""
    return harness.before is not None
