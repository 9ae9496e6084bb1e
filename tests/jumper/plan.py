"""Random airframes and equipment planned to the end: a jumper that passes every check, or a refusal that holds.

* A plan is written, read again from its file and put to all checks: no stop, no caution. The same question gives the
  same bytes. Its taps are those that were chosen; every wire has a type, a length and a bundle. The do-no-harm proof
  holds for it, its oracle agrees, and the re-checker confirms the evidence.
* A refusal of the choice of circuits holds when no possible choice is good (``tests/jumper/choice.py``).
* A refusal of the layout holds when every layout of the space fails a check, for every good choice of circuits.

Refusals are confirmed wherever everything can be gone through; the answer says where that was too much. Odd seeds are
small pairs, in which that is nearly always so. In every second pair of each sort a person has decided that splices may
sit 40 mm from a connector and that the holes have grommets.

``python -m tests.jumper.plan --whole 2000`` plans that many pairs in two processes; ``--small`` draws small pairs only,
``--from SEED`` starts elsewhere, ``--one SEED`` shows one of them.
"""

from __future__ import annotations

import contextlib
import os
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from itertools import permutations, product
from pathlib import Path
from unittest.mock import patch

import harnesscheck as hc
from harnesscheck.finding import Report, Severity
from harnesscheck.formats import harness_yaml
from harnesscheck.jumper import design, planning
from harnesscheck.jumper.design import Layout, Result, Space
from harnesscheck.jumper.planning import Asked, Plan, plan
from harnesscheck.jumper.trunk import Setting
from harnesscheck.place import Point
from tests.jumper import choice, pairs
from tests.proof import run as proof

DECIDED = """limits:
  splice-near-connector: {value: 40 mm, reason: tied down on both sides of each splice, by: test fabricator}
  bundle-tight-in-passage: {value: 2 mm, reason: every hole carries a grommet, by: test fabricator}
"""
CIRCUITS, LAYOUT = "refused: circuits", "refused: layout"
MOST_LAYOUTS = 900
"""More layouts than this are not all put to the checks; then every so-manieth is."""
MOST_CHOICES = 4
Judge = Callable[[Layout], Report]


def compare(seed: int, root: Path, confirm: bool = True, small: bool = False) -> str:
    """``plan``, or what refused it and how that was confirmed. Raises ``AssertionError`` where one of them is wrong."""
    folder = pairs.pair(seed, root, small or seed % 2 == 1)
    decided = seed % 4 > 1
    if decided:
        (folder / "decided.yaml").write_text(DECIDED, encoding="utf-8")
    with contextlib.chdir(folder):
        return _compare(seed, Path(), decided, confirm)


def asked_in(folder: Path, decided: bool) -> Asked:
    """What the planner is asked about a folder."""
    boxes = sorted(file.name for file in folder.glob("unit-*.yaml"))
    units = tuple(name.removeprefix("unit-").removesuffix(".yaml").upper() for name in boxes)
    return Asked(
        "airframe.yaml", tuple(boxes), "P14/J14", "plan.yaml", units=units,
        decided="decided.yaml" if decided else None,
    )  # fmt: skip


def _compare(seed: int, folder: Path, decided: bool, confirm: bool) -> str:
    asked = asked_in(folder, decided)
    made = plan(asked)
    assert not Path("plan.yaml").exists(), f"{seed}: planning wrote a file"
    if made.text is not None:
        _passes(seed, made)
        assert plan(asked).text == made.text, f"{seed}: not the same plan twice"
        return "plan"
    assert made.noes and all(no.what for no in made.noes), f"{seed}: refused without a reason"
    if made.chosen.refusals:
        if not confirm:
            return CIRCUITS
        try:
            most = choice.Oracle(pairs.read(Path.cwd())).most_served()
        except choice.TooManyError:
            return f"{CIRCUITS}, too many choices to go through"
        assert most is None, f"{seed}: {made.noes[0].what}; but a choice serves {most} pins"
        return f"{CIRCUITS}, confirmed"
    if not confirm:
        return LAYOUT
    return f"{LAYOUT}, {'every layout' if _no_layout(seed, asked) else 'a share of the layouts'} confirmed"


def _passes(seed: int, made: Plan) -> None:
    assert made.text is not None
    Path("plan.yaml").write_text(made.text, encoding="utf-8")
    job = hc.load("plan.yaml")
    wrong = [f for f in hc.check(job) if f.severity is not Severity.NOTE and not f.follows]
    assert not wrong, f"{seed}: {[f.headline for f in wrong]}"
    assert job.jumper is not None and job.airframe is not None
    for wire in job.jumper.wires.values():
        assert wire.length and wire.bundle and wire.gauge, f"{seed}: {wire.id} is not whole"
        assert wire.type or wire.cable or wire.alloy, f"{seed}: {wire.id} has no type"
    tapped = {tap.pin: tap.circuit for tap in made.chosen.taps}
    for pin, tap in job.jumper.taps.items():
        assert tapped[pin] == tap.circuit, f"{seed}: {pin}"
    looped = {p.point for box in job.equipment for p in box.pins() if p.loops}
    assert set(tapped) - set(job.jumper.taps) <= looped, f"{seed}: a tap is missing"
    proven = proof.judge(str(seed), Path("plan.yaml"))
    assert not proven.wrong, f"{seed}: {proven.wrong}"
    assert proven.holds, f"{seed}: no proof: {proven.claims}"


def _no_layout(seed: int, asked: Asked) -> bool:
    """No layout passes: of the circuits that were chosen, and of every other good choice of them.

    Returns whether every layout of the space was put to the checks; False where a share of them was.
    """
    whole = True
    for use in [{}, *_choices()]:
        seen: list[tuple[Space, Texts]] = []

        def search(space: Space, judge: Judge, tries: int = 0, seen: list[tuple[Space, Texts]] = seen) -> Result:
            texts = Texts()
            with patch.object(planning, "_judge", texts.learn):
                judge(space.layout(space.settings()[0]))
            seen.append((space, texts))
            return Result(None, None)

        with patch.object(planning, "search", search), patch.object(planning, "OTHER_TAPS", 0):
            plan(replace(asked, use=use))
        for space, texts in seen:
            listed, every = _every(space)
            whole = whole and every
            for setting in listed:
                assert texts.fails(space.layout(setting)), f"{seed}: refused, but it passes: {use} {setting}"
    return whole


class Texts:
    """Layouts as the texts of their plans: layouts that come to one text are judged once.

    A stop or caution of one check stands in the whole report as well (alone or under a graver one), so the checks that
    have refused a layout of this space before are asked first, and all of them only where these are silent.
    """

    def __init__(self) -> None:
        self.asked: Asked | None = None
        self.fixed: tuple[object, ...] = ()
        self.known: dict[str, bool] = {}
        self.refusing: list[str] = []

    def learn(self, asked: Asked, head: object, layout: Layout, before: object) -> Report:
        """Stands in for the planner's judge, to learn what else goes into the text of a plan."""
        self.asked, self.fixed = asked, (head, before)
        return Report("learning")

    def fails(self, layout: Layout) -> bool:
        """Whether the checks find a stop or a caution that nobody has decided upon."""
        assert self.asked is not None
        head, before = self.fixed
        text = planning._text(head, layout.kit, before)  # type: ignore[arg-type]
        if text not in self.known:
            job = harness_yaml.load(Path(self.asked.out), self.asked.out, text=text)
            found = design.faults(hc.check(job, self.refusing[-2:])) if self.refusing else ()
            if not found:
                found = design.faults(hc.check(job))
                self.refusing += [f.check for f in found][:1]
            self.known[text] = bool(found)
        return self.known[text]


def _choices() -> Iterator[dict[Point, str]]:
    """The good choices of circuits, the ones that serve most pins first."""
    oracle = choice.Oracle(pairs.read(Path.cwd()))
    with contextlib.suppress(choice.TooManyError):
        good = (taps for taps in sorted(oracle.assignments(required=True), key=len, reverse=True) if oracle.good(taps))
        for _, taps in zip(range(MOST_CHOICES), good, strict=False):
            yield taps


def _every(space: Space) -> tuple[list[Setting], bool]:
    """Every setting: all orders of up to four blocks, else the planner's own; thinned out where there are too many.

    The answer says as well whether it is every one.
    """
    wires, splices, cables, thick, loose, apart = space.levels
    count = len(space.draft.blocks)
    if count > design.WHOLE:
        listed = space.settings()
    else:
        orders = permutations(range(count))
        listed = [Setting(*each) for each in product(orders, wires, splices, cables, thick, loose, apart)]
    step = -(-len(listed) // MOST_LAYOUTS)
    thinned = listed[::step] if step % 2 else listed[:: step + 1]
    return (thinned, False) if step > 1 else (listed, count <= design.WHOLE)


def _job(seed: int, small: bool = False) -> tuple[int, str, float, str]:
    started = time.perf_counter()
    said = ""
    with tempfile.TemporaryDirectory() as folder:
        try:
            answer = compare(seed, Path(folder), small=small)
        except AssertionError as error:
            answer, said = "DIFFERENT", str(error)
        except Exception as error:
            answer, said = "BROKE DOWN", f"{seed}: {type(error).__name__}: {error}"
    return seed, answer, time.perf_counter() - started, said


def main(arguments: list[str]) -> int:
    """Plan many."""
    if "--one" in arguments:
        print(_job(int(arguments[arguments.index("--one") + 1])))
        return 0
    count = int(arguments[arguments.index("--whole") + 1]) if "--whole" in arguments else 100
    first = int(arguments[arguments.index("--from") + 1]) if "--from" in arguments else 0
    totals: Counter[str] = Counter()
    longest = (0.0, 0)
    with ProcessPoolExecutor(min(2, os.cpu_count() or 1)) as pool:
        small = ["--small" in arguments] * count
        for seed, answer, seconds, said in pool.map(_job, range(first, first + count), small, chunksize=4):
            totals[answer] += 1
            longest = max(longest, (seconds, seed))
            if said:
                print(said, flush=True)
            if sum(totals.values()) % 100 == 0:
                print(f"{sum(totals.values())} of {count}: {dict(sorted(totals.items()))}", file=sys.stderr, flush=True)
    words = ", ".join(f"{name} {number}" for name, number in sorted(totals.items()))
    print(f"{count} pairs from seed {first}: {words}; the longest took {longest[0]:.1f} s (seed {longest[1]})")
    return 1 if totals["DIFFERENT"] + totals["BROKE DOWN"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
