"""A job of the corpus as plain dictionaries, one per file, and the YAML text that the real reader gets.

Nothing here shares code with the checks: the text is written by hand, and copper is followed by our own walk.
"""

from __future__ import annotations

import re
import tempfile
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import harnesscheck as hc
from harnesscheck.job import Job as LoadedJob

File = dict[str, Any]
_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._/+-]*(?<! )")
AIRFRAME, JUMPER, SHOP = "airframe.yaml", "jumper.yaml", "shop-parts.yaml"


@dataclass
class Job:
    """One job: file name to its content, and what the generator expects to stay unchecked."""

    files: dict[str, File]
    name: str = ""
    expected: set[tuple[str, str]] = field(default_factory=set)
    """Not-checked answers that belong to this clean job: (check, label of the place)."""

    def copy(self) -> Job:
        """A job that may be changed."""
        return Job(deepcopy(self.files), self.name, set(self.expected))

    @property
    def airframe(self) -> File:
        """The airframe file."""
        return self.files[AIRFRAME]

    @property
    def jumper(self) -> File:
        """The jumper file."""
        return self.files[JUMPER]

    @property
    def shop(self) -> File:
        """The shop's parts file."""
        return self.files[SHOP]

    def units(self) -> dict[str, File]:
        """Unit designator to its equipment file."""
        return {unit: self.files[path] for unit, path in self.jumper.get("equipment", {}).items()}

    # -- text ----------------------------------------------------------------------------------------------------

    def texts(self) -> dict[str, str]:
        """File name to YAML text."""
        return {name: "\n".join(_lines(content, 0)) + "\n" for name, content in self.files.items()}

    def load(self) -> LoadedJob:
        """Through the real reader. Raises ``InputError``."""
        with tempfile.TemporaryDirectory(dir=_ROOM) as folder:
            for name, text in self.texts().items():
                (Path(folder) / name).write_text(text, encoding="utf-8")
            return hc.load(Path(folder) / JUMPER)

    # -- looking things up ---------------------------------------------------------------------------------------

    def connectors(self) -> dict[str, File]:
        """Reference to connector of all files; equipment references carry their unit."""
        found: dict[str, File] = dict(self.airframe.get("connectors", {}))
        found.update(self.jumper.get("connectors", {}))
        for unit, content in self.units().items():
            found.update({unit + ref: entry for ref, entry in content.get("connectors", {}).items()})
        return found

    def opened(self) -> tuple[str, str]:
        """The two halves of the aircraft that the jumper parts."""
        one, two = self.jumper["opens"].split("/")
        return one, two

    def mates(self) -> dict[str, str]:
        """Reference to the half it is plugged into, with the jumper fitted."""
        opened = set(self.opened())
        pairs: dict[str, str] = {}
        for content, new in ((self.airframe, False), (self.jumper, True)):
            for ref, entry in content.get("connectors", {}).items():
                other = entry.get("mates")
                if other and (new or {ref, other} != opened):
                    pairs[ref], pairs[other] = other, ref
        return pairs

    def wires(self) -> dict[str, File]:
        """The wires of the jumper."""
        found: dict[str, File] = self.jumper.get("wires", {})
        return found

    def halves(self) -> tuple[str, str]:
        """The jumper's halves facing the first and the second half of the opened pair."""
        mates = self.mates()
        one, two = self.opened()
        return mates[one], mates[two]

    def plugs(self) -> list[str]:
        """The jumper's connectors that are plugged into equipment."""
        mates, units = self.mates(), tuple(self.units())
        return [r for r in self.jumper["connectors"] if mates.get(r, "").startswith(units) and units]

    def circuit_at(self, cavity: str) -> str | None:
        """Circuit that the airframe file names at a cavity of the opened pair."""
        for ref in self.opened():
            said = self.airframe["connectors"][ref].get("cavities", {}).get(cavity)
            name = said.get("circuit") if isinstance(said, dict) else said
            if name and name not in ("spare", "unknown"):
                return str(name)
        return None

    def pin(self, point: str) -> File | None:
        """What the equipment wants at ``A12J1-3``."""
        ref, _, cavity = point.partition("-")
        for unit, content in self.units().items():
            if ref.startswith(unit) and ref[len(unit) :] in content["connectors"]:
                found: File | None = content["connectors"][ref[len(unit) :]]["pins"].get(cavity)
                return found
        return None

    def signal(self, circuit: str | None) -> str | None:
        """Signal class of a circuit."""
        said = self.airframe["circuits"].get(circuit or "", {}).get("signal")
        return None if said is None else str(said)

    def cavities(self, ref: str) -> list[str]:
        """Names of all cavities of the insert, after the generator's own table."""
        from tests.corpus.tables import INSERTS, insert_of

        return list(INSERTS[insert_of(str(self.connectors()[ref]["part"]))].cavities)

    def used(self, ref: str) -> set[str]:
        """Cavities of a connector where a wire ends."""
        ends = (e for w in self.all_wires() for e in (w["from"], w["to"]))
        return {e.partition("-")[2] for e in ends if e.partition("-")[0] == ref}

    def all_wires(self) -> Iterator[File]:
        """The wires of the airframe and of the jumper."""
        yield from self.airframe.get("wires", {}).values()
        yield from self.wires().values()

    def at(self, point: str) -> list[str]:
        """Ids of the new wires that end at a point."""
        return [name for name, wire in self.wires().items() if point in (wire["from"], wire["to"])]

    def far(self, wire: str, point: str) -> str:
        """The other end of a new wire."""
        entry = self.wires()[wire]
        return str(entry["to"] if entry["from"] == point else entry["from"])


_ROOM = "/dev/shm" if Path("/dev/shm").is_dir() else None


def _lines(value: File, depth: int) -> Iterator[str]:
    pad = "  " * depth
    for key, content in value.items():
        if isinstance(content, dict):
            if depth and all(not isinstance(one, dict) for one in content.values()):
                yield f"{pad}{_text(key)}: {_flow(content)}"
            elif content:
                yield f"{pad}{_text(key)}:"
                yield from _lines(content, depth + 1)
        elif isinstance(content, list) and any(isinstance(one, dict) for one in content):
            yield f"{pad}{_text(key)}:"
            yield from (f"{pad}  - {_flow(one)}" for one in content)
        else:
            yield f"{pad}{_text(key)}: {_flow(content)}"


def _flow(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_text(k)}: {_flow(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_flow(v) for v in value) + "]"
    return _text(str(value))


def _text(text: str) -> str:
    if _PLAIN.fullmatch(text):
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
