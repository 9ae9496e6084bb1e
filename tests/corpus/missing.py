"""Missing data never passes: what a check needs is found out by changing it, and then it is taken away.

For one leaf of the files of a clean job and one check: if some other value of that leaf makes the check report a
finding, the check depends on it. Then without the leaf the check must say something else than before: a finding, a
*not checked*, or fewer things passed. Where the leaf is stated twice, or has a default that is documented, the table
``EXCUSED`` says so, by hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random
from typing import Any

import harnesscheck as hc
from harnesscheck.finding import Report
from tests.corpus import run
from tests.corpus.jobs import AIRFRAME, JUMPER, SHOP, Job

Path = tuple[str, ...]
NAMED = {"connectors", "wires", "cables", "splices", "grounds", "breakers", "buses", "circuits", "zones", "routes",
         "cavities", "pins", "taps", "passages", "spare contacts", "equipment", "parts", "sources",
         "loads"}  # fmt: skip
"""Keys below which the names are the job's own."""

WRONG: dict[str, tuple[str, ...]] = {
    "type": ("M22759/16-12-9", "M22759/32-26-9", "M27500-22TG2U00"),
    "gauge": ("12 AWG", "28 AWG"),
    "length": ("15 mm", "30 m"),
    "at": ("20 mm from {half}",),
    "signal": ("power", "arinc429", "ground", "shield", "signal ground"),
    "supply": ("700 V", "100 V to 130 V"),
    "rating": ("60 A",),
    "returns": ("signal", "ac"),
    "terminals": ("9",),
    "wet": ("yes", "no"),
    "ambient": ("-30 C to 240 C",),
    "bend": ("4 mm",),
    "shield ends": ("both", "one", "none"),
    "grounded": ("yes", "no"),
    "line": ("H", "L", "A", "B"),
    "direction": ("in", "out", "both"),
    "required": ("yes", "no"),
    "connect": ("yes", "no"),
    "untwisted": ("90 mm",),
    "mark": ("none",),
    "fitted": ("aircraft", "bench"),
    "plugs": ("none", "MS27488-12-2"),
    "contacts": ("M39029/58-365", "M39029/56-353", "M39029/64-369"),
    "connector": ("5 mm",),
    "stud": ("5 mm",),
    "splice": ("1 mm",),
    "core": ("white", "drain"),
    "part": ("D38999/26WC98SN", "M24308/2-1", "M81824/1-1", "M81824/1-3", "M7928/10-1"),
    "od": ("0.5 mm", "9 mm"),
    "cma": ("1 cmil to 2 cmil",),
    "insulation": ("0.1 mm to 0.2 mm",),
    "temperature": ("20 C",),
    "volts": ("3 V",),
    "finish": ("tin over nickel",),
    "sealed": ("yes", "no"),
    "family": ("38999-III",),
    "gender": ("pin", "socket"),
    "insert": ("DE-9", "DB-25"),
    "cavity size": ("22D", "16"),
    "style": ("plug", "receptacle"),
    "size": ("16",),
    "current": ("6 A", "70 A"),
    "peak": ("9 A", "90 A"),
    "load": ("6 A", "resistance", "power"),
    "duty": ("continuous", "intermittent"),
    "low": ("3 V",),
    "high": ("60 V",),
    "abnormal": ("2 V to 80 V", "12 V to 14 V"),
    "capacity": ("0.1 Ah",),
    "usable": ("1 %",),
    "resistance": ("4 ohm",),
    "bond": ("2 ohm", "14 mohm"),
    "altitude": ("60000 ft",),
    "rate": ("1 Mbit/s", "4800 bit/s"),
    "edge": ("1 ns",),
    "drivers": ("0", "3"),
    "receivers": ("0", "60"),
    "most receivers": ("1",),
    "unit load": ("40",),
    "input resistance": ("500 ohm",),
    "source resistance": ("60 kohm",),
    "driver current": ("1 mA",),
    "terminators": ("0", "1", "3"),
    "terminator": ("50 ohm", "120 ohm"),
    "terminator state": ("fitted",),
    "terminated": ("yes", "no"),
    "bus length": ("6000 m",),
    "stub length": ("300 m",),
    "topology": ("star",),
    "kind": ("mic", "supply", "resistive", "battery"),
    "pull-up": ("200 ohm",),
    "pull-up supply": ("28 V",),
    "isolated": ("no",),
    "alloy": ("J", "none"),
}
"""Other values for a key, besides the values that stand at the same key elsewhere in the job."""


@dataclass(frozen=True)
class Leaf:
    """One value of one file."""

    file: str
    path: Path

    @property
    def kind(self) -> str:
        """The path with the job's own names left out: ``jumper wires * length``."""
        word = {AIRFRAME: "airframe", JUMPER: "jumper", SHOP: "shop"}.get(self.file, "equipment")
        parts, own = [word], False
        for key in self.path:
            parts.append("*" if own else key)
            own = key in NAMED and not own
        return " ".join(parts)


def leaves(job: Job) -> list[Leaf]:
    """Every value of every file; whole blocks count as well."""
    return [Leaf(file, path) for file, content in job.files.items() for path in _paths(content, ())]


def _paths(value: Any, path: Path) -> Iterator[Path]:
    if isinstance(value, dict):
        for key, content in value.items():
            yield (*path, str(key))
            yield from _paths(content, (*path, str(key)))
    elif isinstance(value, list):
        for number, content in enumerate(value):
            if isinstance(content, dict):
                yield from _paths(content, (*path, f"#{number}"))


def _home(job: Job, leaf: Leaf) -> Any:
    here: Any = job.files[leaf.file]
    for key in leaf.path[:-1]:
        here = here[int(key[1:])] if key.startswith("#") else here[key]
    return here


def without(job: Job, leaf: Leaf) -> Job:
    """The job with that leaf taken away."""
    changed = job.copy()
    del _home(changed, leaf)[leaf.path[-1]]
    return changed


def others(job: Job, leaf: Leaf, rng: Random, most: int) -> list[Job]:
    """The job with other values at that leaf."""
    old = _home(job, leaf)[leaf.path[-1]]
    if not isinstance(old, str):
        return []
    key = leaf.path[-1]
    pool = dict.fromkeys(v.replace("{half}", job.halves()[0]) for v in WRONG.get(key, ()))
    near = [path for path in leaves(job) if path.file == leaf.file and path.kind == leaf.kind]
    values = [_home(job, one)[one.path[-1]] for one in near]
    rng.shuffle(values)
    pool |= dict.fromkeys(v for v in values[:4] if isinstance(v, str))
    pool.pop(old, None)
    found = []
    for value in list(pool)[:most]:
        changed = job.copy()
        _home(changed, leaf)[key] = value
        found.append(changed)
    return found


def answers(job: Job) -> Report | None:
    """What the checks say; ``None`` for an input error."""
    try:
        return hc.check(job.load())
    except hc.InputError:
        return None


@dataclass(frozen=True)
class Silence:
    """A check that depends on a leaf and says the same without it."""

    check: str
    kind: str
    job: str
    leaf: Leaf
    finding: str
    """What the check says of another value."""


def _said(report: Report, check: str) -> tuple[object, ...]:
    return (
        sorted((p.what, p.count) for p in report.passed.get(check, ())),
        sorted((n.place.label, n.missing) for n in report.not_checked if n.check == check),
        sorted(f.headline for f in report.findings if f.check == check),
    )


def look(job: Job, base: Report, leaf: Leaf, rng: Random, most: int = 6) -> tuple[list[Silence], str]:
    """The silences of one leaf, and what broke down."""
    bare = answers(without(job, leaf))
    if bare is None:
        return [], ""
    twice = _on_both_halves(job, leaf)
    broken = next((f.headline for f in bare.findings if "broke down" in f.headline), "")
    before = {(f.check, f.headline) for f in base.findings}
    same = {check for check in base.passed if _said(base, check) == _said(bare, check)}
    found: dict[str, Silence] = {}
    for changed in others(job, leaf, rng, most):
        report = answers(changed)
        for f in report.findings if report is not None else ():
            broken = broken or (f.headline if "broke down" in f.headline else "")
            fresh = f.check in same and (f.check, f.headline) not in before and not f.follows and not f.waived
            speaker = EXCUSED.get((f.check, leaf.kind), ("", f.check))[1]
            if fresh and f.check not in found and speaker in same and not twice:
                found[f.check] = Silence(f.check, leaf.kind, job.name, leaf, f.headline)
    return list(found.values()), broken


def _on_both_halves(job: Job, leaf: Leaf) -> bool:
    """True for a circuit that the other half of the opened pair names at the same cavity."""
    if leaf.file != AIRFRAME or len(leaf.path) < 4 or leaf.path[2] != "cavities" or leaf.path[1] not in job.opened():
        return False
    other = next(ref for ref in job.opened() if ref != leaf.path[1])
    return leaf.path[3] in job.airframe["connectors"][other].get("cavities", {})


def sample(job: Job, rng: Random, each: int) -> list[Leaf]:
    """So many leaves of each kind."""
    by: dict[str, list[Leaf]] = {}
    for leaf in leaves(job):
        by.setdefault(leaf.kind, []).append(leaf)
    return [leaf for kind in by.values() for leaf in rng.sample(kind, min(each, len(kind)))]


JOBS = (
    ("can-shield", 1, 1), ("power-heavy", 1, 1), ("multi-branch", 0, 2), ("ground-stud", 1, 1), ("multi-pair", 0, 3),
    ("discretes", 1, 0), ("two-plugs", 1, 0), ("circular", 1, 4), ("analogue-tap", 0, 5), ("serial-tap", 1, 6),
)  # fmt: skip


def report(each: int) -> int:
    """Look at some values of every kind in several jobs and print every silence. Returns the exit status."""
    count, found = 0, dict[tuple[str, str], tuple[int, Silence]]()
    broken: list[str] = []
    for key in JOBS:
        job, rng = run.job_of(*key), Random(str(key))
        base = answers(job)
        assert base is not None
        for leaf in sample(job, rng, each):
            count += 1
            silences, crash = look(job, base, leaf, rng)
            broken += [f"{crash} at {leaf}"] if crash else []
            for one in silences:
                found[one.check, one.kind] = (found.get((one.check, one.kind), (0, one))[0] + 1, one)
    for number, one in found.values():
        print(f"{number} x {one.check} passes without {one.kind}: {one.job} {' '.join(one.leaf.path)}; {one.finding}")
    print("\n".join(broken))
    print(f"{count} values taken away: {len(found)} silences, {len(broken)} crashes")
    return 1 if found or broken else 0


TWICE = "stated in two places of the job: the other one still speaks"
NAMES = "without the part nobody knows the cavities: another check says so"
DRAWER = "the parts drawer says the same from another source"
PARTNER = "the other pin of the unit on that line says it"
PEAK = "peak: takes its place, which is no less: documented, and on the side of more current"
DEFAULT = "a documented default takes its place"

EXCUSED: dict[tuple[str, str], tuple[str, str]] = {
    ("pin-map-mismatch", "airframe buses * supply"): (TWICE, ""),
    ("wire-below-circuit-voltage", "airframe buses * supply"): (TWICE, ""),
    ("pin-map-mismatch", "airframe circuits * supply"): (TWICE, ""),
    ("wire-below-circuit-voltage", "airframe circuits * supply"): (TWICE, ""),
    ("wrong-shield-ends", "airframe circuits * signal"): ("shield ends: says that it is a shield", ""),
    ("mixed-ground-classes", "airframe circuits * signal"): ("its stud still has a class", "drain-on-wrong-contact"),
    ("wrong-shield-ends", "airframe connectors * cavities * circuit"): (TWICE, ""),
    ("dead-end-wire", "airframe connectors * part"): (NAMES, "unknown-cavity"),
    ("dead-end-wire", "equipment connectors * part"): (NAMES, "unknown-cavity"),
    ("wrong-mate", "equipment connectors * part"): ("the maker names the mating plug", "unknown-cavity"),
    ("wrong-mate", "equipment connectors * mating"): ("the maker gives the part number", ""),
    ("broken-through-circuit", "jumper connectors * part"): (NAMES, "unknown-cavity"),
    ("dropped-shield", "jumper connectors * part"): (NAMES, "unknown-cavity"),
    ("pin-map-mismatch", "jumper connectors * part"): (NAMES, "unknown-cavity"),
    ("dead-end-wire", "jumper connectors * part"): (NAMES, "unknown-cavity"),
    ("pair-apart", "jumper connectors * part"): (NAMES, "unknown-cavity"),
    ("missing-slack", "jumper allowances connector"): (DEFAULT, ""),
    ("missing-slack", "jumper allowances stud"): (DEFAULT, ""),
    ("missing-slack", "jumper allowances splice"): (DEFAULT, ""),
    ("unsealed-connector-in-wet-zone", "jumper connectors * zone"): ("its mate is in the same zone", ""),
    ("splice-near-connector", "jumper splices * at"): ("the wire lengths say it", ""),
    ("unstaggered-splices", "jumper splices * at"): ("the wire lengths say it", ""),
    ("splice-near-connector", "jumper wires * length"): ("the place of the splice says it", ""),
    ("wire-shorter-than-route", "jumper wires * length"): ("a core has the length of its cable", ""),
    ("drain-on-wrong-contact", "jumper wires * core"): ("a wire of a cable is a core", "colour-clash"),
    ("split-pair", "jumper wires * core"): ("a wire of a cable is a core", "colour-clash"),
    ("dropped-shield", "shop parts * facts #0 insert"): (DRAWER, "wrong-mate"),
    ("broken-through-circuit", "shop parts * facts #0 insert"): (DRAWER, "wrong-mate"),
    ("pin-map-mismatch", "shop parts * facts #0 insert"): (DRAWER, "wrong-mate"),
    ("dead-end-wire", "shop parts * facts #0 insert"): (DRAWER, "wrong-mate"),
    ("pair-apart", "shop parts * facts #0 insert"): (DRAWER, "wrong-mate"),
    ("unplugged-cavity", "shop parts * facts #0 sealed"): (DRAWER, ""),
    ("unsealed-splice-in-wet-zone", "shop parts * facts #0 sealed"): (DRAWER, ""),
    ("overfull-splice", "shop parts * facts #0 cma"): (DRAWER, ""),
    ("two-drivers", "equipment connectors * pins * direction"): (PARTNER, ""),
    ("paralleled-sources", "equipment connectors * pins * direction"): (PARTNER, ""),
    ("over-ampacity", "equipment connectors * pins * current"): (PEAK, ""),
    ("breaker-overloaded", "equipment connectors * pins * current"): (PEAK, ""),
    ("source-overloaded", "equipment connectors * pins * current"): (PEAK, ""),
    ("excess-voltage-drop", "equipment connectors * pins * current"): (PEAK, ""),
    ("excess-voltage-drop", "airframe circuits * load"): (PEAK, ""),
    ("over-ampacity", "airframe circuits * load"): (PEAK, ""),
    ("breaker-overloaded", "airframe circuits * load"): (PEAK, ""),
    ("source-overloaded", "airframe loads * current"): (PEAK, ""),
    # An existing load without a peak is documented never to draw more than its current.
    ("excess-voltage-drop", "airframe circuits * peak"): (DEFAULT, ""),
    ("supply-outside-range", "airframe circuits * peak"): (DEFAULT, ""),
    ("breaker-overloaded", "airframe circuits * peak"): (DEFAULT, ""),
}
"""(check, kind of leaf) to the reason why the check may pass without it, and the check that must speak instead."""
OPEN = {("energised-pins", "equipment connectors * pins * direction")}
"""Known and not mended yet: whether a supply pin takes or gives is not stated, and the pair passes."""
