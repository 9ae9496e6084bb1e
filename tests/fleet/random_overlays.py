"""Random edits of an airframe, written once as an as-found file and once as an edited airframe file.

The edits are made on plain dictionaries and both files are written as JSON (which is YAML), so nothing of the program
has a part in making the file that the overlay is compared with. ``python -m tests.fleet.random_overlays --whole`` makes
500 pairs; the tests make 40.
"""

from __future__ import annotations

import copy
import json
import sys
import tempfile
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from pathlib import Path
from random import Random
from typing import Any

import harnesscheck as hc
from harnesscheck.document import Document, parse
from harnesscheck.place import Place
from harnesscheck.source import Source, Status

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe"
HEAD = {"kind": "as-found", "airframe": "type.yaml", "aircraft": "LN-1", "by": "tester", "date": "2026-11-20"}
Tree = dict[str, Any]


def plain(text: str) -> Tree:
    """A file as nested dictionaries, without places."""
    return json.loads(json.dumps(parse(text, "demo").root))  # type: ignore[no-any-return]


def spelt(said: Any) -> Tree:
    """What is said of a cavity in full, after docs/file-format.md."""
    if isinstance(said, dict):
        return dict(said)
    return {"use": said} if said in ("spare", "unknown") else {"circuit": said}


VALUES = {
    "wires": {"length": "3.3 m", "type": "M22759/16-22-9", "to": "J14-7", "note": "moved", "bundle": "wing"},
    "breakers": {"rating": "7.5 A", "resistance": "60 mohm", "name": "OTHER"},
    "circuits": {"load": "0.7 A", "supply": "28 V", "rate": "250 kbit/s", "note": "seen"},
    "connectors": {"part": "M24308/4-3", "marking": "WR9", "zone": "wing leading edge", "name": "other"},
    "routes": {"length": "430 mm", "bend": "60 mm", "zone": "wing root"},
    "grounds": {"bond": "2 mohm", "terminals": "3", "returns": "signal"},
    "sources": {"high": "14.9 V", "rating": "60 A", "supply": "14.1 V"},
    "loads": {"current": "2.5 A", "duty": "intermittent", "phases": ["cruise"]},
    "zones": {"wet": "yes", "altitude": "20000 ft", "ambient": "-40 C to 80 C"},
    "buses": {"supply": "28 V", "name": "other bus"},
}


class Edits:
    """One drawn set of edits: ``edited`` is the airframe after them, ``overlay`` says the same as differences."""

    def __init__(self, base: Tree, rng: Random, most: int) -> None:
        self.rng = rng
        self.edited = copy.deepcopy(base)
        self.overlay: Tree = dict(HEAD)
        self.touched: set[tuple[str, ...]] = set()
        kinds: list[Callable[[], None]] = [
            self.value, self.value, self.value, self.taken_back, self.gone, self.more,
            self.cavity_word, self.cavity_key, self.cavity_gone, self.cavity_more, self.passage,
        ]  # fmt: skip
        for _ in range(rng.randint(0, most)):
            rng.choice(kinds)()

    def _free(self, *path: str) -> bool:
        """An entry is edited by one edit only: what two edits of one line mean together is not asked here."""
        if any(path[: len(done)] == done or done[: len(path)] == path for done in self.touched):
            return False
        self.touched.add(path)
        return True

    def _put(self, value: Any, *path: str) -> None:
        here = self.overlay
        for key in path[:-1]:
            here = here.setdefault(key, {})
        here[path[-1]] = value

    def value(self) -> None:
        section = self.rng.choice(list(VALUES))
        name = self.rng.choice(list(self.edited[section]) or [""])
        key, value = self.rng.choice(list(VALUES[section].items()))
        if name and self._free(section, name, key):
            self.edited[section][name][key] = value
            self._put(value, section, name, key)

    def taken_back(self) -> None:
        section = self.rng.choice(list(VALUES))
        name = self.rng.choice(list(self.edited[section]) or [""])
        keys = [k for k, v in (self.edited[section].get(name) or {}).items() if isinstance(v, str)]
        if keys:
            key = self.rng.choice(keys)
            if self._free(section, name, key):
                del self.edited[section][name][key]
                self._put("unknown", section, name, key)

    def gone(self) -> None:
        section = self.rng.choice(["wires", "loads", "breakers", "grounds", "circuits"])
        name = self.rng.choice(list(self.edited[section]) or [""])
        if name and self._free(section, name):
            del self.edited[section][name]
            self._put("none", section, name)

    def more(self) -> None:
        number = self.rng.randint(1, 99)
        section, name, entry = self.rng.choice([
            ("wires", f"X{number}A20", {"from": "CB7-load", "to": f"J15-{number % 9 + 1}", "type": "M22759/16-20-9"}),
            ("breakers", f"CB{100 + number}", {"rating": "3 A", "bus": "BUS1"}),
            ("loads", f"FAN {number}", {"bus": "BUS1", "current": "1 A"}),
            ("splices", f"SP{100 + number}", {"part": "M81824/1-2", "zone": "wing root"}),
            ("grounds", f"GS{100 + number}", {"returns": "dc"}),
        ])  # fmt: skip
        if self._free(section, name):
            self.edited.setdefault(section, {})[name] = entry
            self._put(entry, "added", section, name)

    def _cavity(self) -> tuple[str, str]:
        ref = self.rng.choice(["P14", "J14", "P15"])
        return ref, self.rng.choice(list(self.edited["connectors"][ref]["cavities"]) or [""])

    def cavity_word(self) -> None:
        ref, cavity = self._cavity()
        word = self.rng.choice(["spare", "unknown", *self.edited["circuits"]])
        if cavity and self._free("connectors", ref, "cavities", cavity):
            self.edited["connectors"][ref]["cavities"][cavity] = word
            self._put(word, "connectors", ref, "cavities", cavity)

    def cavity_key(self) -> None:
        ref, cavity = self._cavity()
        key, value = self.rng.choice([("grounded", "yes"), ("contact", "none"), ("note", "seen"), ("gauge", "20 AWG")])
        if cavity and self._free("connectors", ref, "cavities", cavity):
            there = self.edited["connectors"][ref]["cavities"]
            there[cavity] = {**spelt(there[cavity]), key: value}
            self._put({key: value}, "connectors", ref, "cavities", cavity)

    def cavity_gone(self) -> None:
        ref, cavity = self._cavity()
        if cavity and self._free("connectors", ref, "cavities", cavity):
            del self.edited["connectors"][ref]["cavities"][cavity]
            self._put("none", "connectors", ref, "cavities", cavity)

    def cavity_more(self) -> None:
        cavity = str(self.rng.randint(2, 9))
        if self._free("connectors", "P15", "cavities", cavity):
            self.edited["connectors"]["P15"]["cavities"][cavity] = "STALL WARN"
            self._put("STALL WARN", "added", "connectors", "P15", "cavities", cavity)

    def passage(self) -> None:
        name, what = self.rng.choice(["nose rib 1", "nose rib 2"]), self.rng.choice(["18 mm", "none"])
        route = self.edited["routes"].get("leading edge run")
        if route and self._free("routes", "leading edge run", "passages", name):
            if what == "none":
                del route["passages"][name]
            else:
                route["passages"][name] = what
            self._put(what, "routes", "leading edge run", "passages", name)


def bare(thing: Any) -> Any:
    """Records without where they were typed, and without the aircraft's name: what the harness says."""
    if isinstance(thing, Place):
        return thing.label
    if isinstance(thing, Document):
        return None
    if isinstance(thing, Source) and thing.status is Status.STATED:
        return thing.paragraph
    if isinstance(thing, hc.Harness):
        left_out = ("drawer", "title", "as_found", "before")
        return {f.name: bare(getattr(thing, f.name)) for f in fields(thing) if f.name not in left_out}
    if is_dataclass(thing):
        at = ("document", "line", "column")  # of a wire
        return [(f.name, bare(getattr(thing, f.name))) for f in fields(thing) if f.name not in at]
    if hasattr(thing, "items"):
        return {key if isinstance(key, str) else str(key): bare(value) for key, value in thing.items()}
    if isinstance(thing, tuple | list):
        return [bare(one) for one in thing]
    return str(thing) if thing is not None else None


def answer(file: Path) -> Any:
    """The harness, or what is said against the file without where."""
    try:
        return bare(hc.load(file).subject)
    except hc.InputError as error:
        return sorted(fault.message.partition(": first")[0] for fault in error.faults)


def pair(folder: Path, seed: int, most: int = 6) -> tuple[Any, Any]:
    """What is read from the overlaid and from the edited file of one drawn set of edits."""
    base = plain((DEMO / "airframe.yaml").read_text(encoding="utf-8"))
    edits = Edits(base, Random(seed), most)
    (folder / "shop-parts.yaml").write_text((DEMO / "shop-parts.yaml").read_text(encoding="utf-8"))
    (folder / "type.yaml").write_text(json.dumps(base, indent=1))
    (folder / "edited.yaml").write_text(json.dumps(edits.edited, indent=1))
    (folder / "as-found.yaml").write_text(json.dumps(edits.overlay, indent=1))
    return answer(folder / "as-found.yaml"), answer(folder / "edited.yaml")


def main() -> int:
    """Compare 500 pairs, or the number given; say how many were refused alike."""
    count = 500 if "--whole" in sys.argv else 40
    wrong = refused = 0
    with tempfile.TemporaryDirectory() as folder:
        for seed in range(count):
            one, two = pair(Path(folder), seed)
            refused += isinstance(one, list)
            if one != two:
                wrong += 1
                print(f"seed {seed} differs")
    print(f"{count} pairs, {refused} refused alike, {wrong} differ")
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main())
