"""Labour: how often each task occurs, times a rate, at the bench and in the aircraft.

The rates are common practice with wide margins; a shop states its own under ``labour:`` in the jumper file.
"""

from __future__ import annotations

import math
from collections import Counter

from harnesscheck.connector import NONE, Origin
from harnesscheck.formulas.labour import RATES, SOURCE, hours
from harnesscheck.harness import Harness, new_wires
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish
from harnesscheck.sheets._counts import marks, plugged, seats, splices, terminals
from harnesscheck.sheets._site import new_mates
from harnesscheck.sheets._steps import disturbed
from harnesscheck.sheets.cut_list import rows

PART, ORDER = 5, 70
SITE = ("site set-up", "site insert", "mate", "route", "function check")
ONCE = ("set-up",)
"""Once a batch, however many kits."""
COLUMNS = (
    Column("where"),
    Column("task"),
    Column("covers"),
    Column("one kit", right=True),
    Column("all kits", right=True),
    Column("min each", right=True),
    Column("hours", right=True),
    Column("rate from"),
)


def content(job: Job, wish: Wish) -> Content:
    """The labour estimate of a job, for as many kits as are wished."""
    harness = job.subject
    counts = tasks(harness)
    blocks: list[Block] = []
    if not rows(harness):
        blocks.append(Words("No new wires: there is nothing to build."))
    else:
        body = [_row(harness, task, counts[task], wish.kits) for task in RATES if counts[task]]
        sums = []
        for words, chosen in (("bench", False), ("aircraft", True)):
            total = _hours(harness, {t: n for t, n in counts.items() if (t in SITE) is chosen}, wish.kits)
            sums.append(("", "", f"sum {words}", "", "", "", Cell(f"{total:.1f}", strong=True), ""))
        blocks.append(Table("tasks", COLUMNS, (*body, *sums), totals=len(sums)))
        blocks.append(Words(f"An estimate, no offer: {SOURCE.paragraph} unless the shop states its own under labour:."))
        blocks.append(
            Words("Not counted: travel, access panels that stick, faults found, paper work with an authority.")
        )
    return Content("labour", "Labour estimate", tuple(blocks), False, tuple(decisions(harness)))


def tasks(harness: Harness) -> Counter[str]:
    """How often each task occurs in one kit and one aircraft."""
    wires = list(new_wires(harness))
    seated = list(seats(harness))
    count: Counter[str] = Counter()
    if not wires:
        return count
    mated = new_mates(harness)
    count["set-up"] = 1
    count["cut"] = sum(1 for row in rows(harness) if row.number)
    count["label"] = sum(1 for _ in marks(harness))
    count["strip"] = sum(1 for wire in wires for point in (wire.a, wire.b) if point.ref)
    count["crimp"] = sum(1 for seat in seated if seat.wires) + sum(1 for _ in terminals(harness))
    count["insert"] = sum(1 for seat in seated if not seat.on_site)
    count["plug"] = sum(1 for plug in plugged(harness) if plug.part != NONE)
    count["splice"] = sum(1 for _ in splices(harness))
    count["shield"] = sum(1 for wire in wires if wire.is_shield for point in (wire.a, wire.b) if point.ref)
    count["ring-out"] = len(wires)
    count["site set-up"] = 1 if mated else 0
    count["site insert"] = sum(1 for seat in seated if seat.on_site)
    count["mate"] = len(mated)
    count["route"] = metres(harness)
    count["function check"] = len(disturbed(harness))
    return count


def metres(harness: Harness) -> int:
    """Whole metres of route that the kit takes, rounded up; at least one for a kit that is fitted."""
    named = dict.fromkeys(
        thing.route
        for table in (harness.connectors, harness.wires, harness.cables)
        for thing in table.values()
        if thing.origin is Origin.JUMPER and thing.route
    )
    lengths = [route.length or 0.0 for name in named if (route := harness.routes.get(name)) is not None]
    return max(1, -int(-math.fsum(lengths) // 1))


def _rate(harness: Harness, task: str) -> tuple[float, str]:
    if task in harness.labour:
        return harness.labour[task], "stated in the job file"
    return RATES[task][0], str(SOURCE.status)


def _times(task: str, kits: int) -> int:
    return 1 if task in ONCE else kits


def _row(harness: Harness, task: str, count: int, kits: int) -> tuple[str | Cell, ...]:
    seconds, source = _rate(harness, task)
    many = count * _times(task, kits)
    where = "aircraft" if task in SITE else "bench"
    spent = f"{many * seconds / 3600:.2f}"
    return where, task, RATES[task][1], str(count), str(many), f"{seconds / 60:.3g}", spent, source


def _hours(harness: Harness, counts: dict[str, int], kits: int) -> float:
    rates = {task: _rate(harness, task)[0] for task in counts}
    return hours({task: count * _times(task, kits) for task, count in counts.items()}, rates)
