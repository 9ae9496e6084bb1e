"""Reel plan: which piece of the cut list is cut from which reel or remnant, with the fewest full reels opened.

Remnants and the length of a full reel stand under ``stock:`` in the jumper file. Where nothing is stated for a type the
sheet gives the sum only.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.reels import LOSS_SOURCE, Bar, Piece, Plan, plan
from harnesscheck.sheets import Wish
from harnesscheck.sheets._say import UNSAID, mm, wire_link
from harnesscheck.sheets.cut_list import Row, rows

PART, ORDER = 5, 20
COLUMNS = (
    Column("from"),
    Column("wire or cable"),
    Column("kits"),
    Column("cut mm", right=True),
    Column("pieces", right=True),
    Column("metres", right=True),
    Column("done", blank=True),
)


def content(job: Job, wish: Wish) -> Content:
    """The reel plan of a job, for as many kits as are wished."""
    harness = job.subject
    cut = [row for row in rows(harness) if row.number]
    blocks: list[Block] = []
    if not cut:
        blocks.append(Words("No new wires: nothing is cut."))
    for number, kind in enumerate(dict.fromkeys(row.type for row in cut), 1):
        own = [row for row in cut if row.type == kind]
        blocks += _type(harness, f"reel-plan-{number}", kind, own, wish.kits)
    if cut:
        blocks.append(Words(f"Counted in: {LOSS_SOURCE}. Mark every remnant with its type and its new length."))
    return Content("reel-plan", "Reel plan", tuple(blocks), False, tuple(decisions(harness)))


def _type(harness: Harness, name: str, kind: str, own: list[Row], kits: int) -> Iterator[Block]:
    yield Heading(kind)
    pieces = [
        Piece(f"{row.id}\t{kit:04d}", row.cut.total) for row in own if row.cut is not None for kit in range(1, kits + 1)
    ]
    total = math.fsum(piece.length for piece in pieces)
    pairs = [("pieces", str(len(pieces))), ("metres", f"{total:.3f}")]
    missing = [row.id for row in own if row.cut is None]
    if missing:
        pairs.append((f"length {UNSAID}", f"{', '.join(missing)}: in no sum and in no plan"))
    stock = harness.stock.get(kind)
    if stock is None or (stock.reel is None and not stock.remnants):
        pairs.append(("stock", f"{UNSAID}: no plan; give the reel length and the remnants under stock:"))
        yield Facts(tuple(pairs))
        return
    found = plan(pieces, stock.reel, stock.remnants)
    remnants = ", ".join(f"{length:g} m" for length in stock.remnants) or "none"
    pairs.append(("full reel", f"{stock.reel:g} m" if stock.reel is not None else UNSAID))
    pairs.append(("remnants", remnants))
    pairs.append(("full reels opened", str(found.reels)))
    pairs.append(("bound", f"no plan opens fewer than {found.bound} (linear program over all cutting patterns)"))
    yield Facts(tuple(pairs))
    yield from _unfit(found)
    yield Table(name, COLUMNS, tuple(_rows(found)))


def _unfit(found: Plan) -> Iterator[Block]:
    if found.unfit:
        names = ", ".join(f"{_wire(piece)} ({mm(piece.length)} mm)" for piece in found.unfit)
        yield Words(f"NO STOCK IS LONG ENOUGH for {names}.", strong=True)


def _wire(piece: Piece) -> str:
    return piece.name.partition("\t")[0]


def _rows(found: Plan) -> Iterator[tuple[str | Cell, ...]]:
    opened = 0
    for number, bar in enumerate(found.bars, 1):
        opened += bar.label == "reel"
        label = f"reel {opened}" if bar.label == "reel" else f"remnant {number}, {bar.length:g} m"
        for wire in dict.fromkeys(_wire(piece) for piece in bar.pieces):
            own = [piece for piece in bar.pieces if _wire(piece) == wire]
            metres = math.fsum(piece.length for piece in own)
            kits = _kits([int(piece.name.partition("\t")[2]) for piece in own])
            cut = mm(own[0].length)
            yield label, wire_link(wire), kits, cut, str(len(own)), f"{metres:.3f}", ""
        yield Cell(label, strong=True), "left over", "", "", "", Cell(_left(bar), strong=True), ""


def _left(bar: Bar) -> str:
    return f"{max(0.0, bar.left):.3f}"


def _kits(numbers: list[int]) -> str:
    """``K1, K3 to K5``."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"K{run[0]}" if len(run) == 1 else f"K{run[0]} to K{run[-1]}" for run in runs)
