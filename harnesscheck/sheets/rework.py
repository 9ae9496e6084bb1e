"""Rework: what has changed since a previous revision, and the fewest operations that turn a built kit into the new one.

Give the previous revision with ``--previous FILE``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from harnesscheck.harness import Harness, new_wires
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.rework.compare import differences
from harnesscheck.rework.ends import CRIMP, CUT, INSERT, MARK, REMOVE, SPLICE, STOWED, End, piece
from harnesscheck.rework.moves import Move, Rework, fewest
from harnesscheck.sheets import Wish
from harnesscheck.sheets._say import UNSAID, mm, wire_link
from harnesscheck.sheets._steps import Numbered, Step

PART, ORDER = 5, 80
NONE = "no previous revision is given (--previous FILE)"
DIFFERENCES = (Column("whose"), Column("what"), Column("name"), Column("which"), Column("before"), Column("now"))
WIRES = (
    Column("wire now"),
    Column("made of"),
    *(Column(word, right=True) for word in (REMOVE, CUT, CRIMP, INSERT, MARK)),
)


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return "" if wish.previous is not None else NONE


def content(job: Job, wish: Wish) -> Content:
    """Differences and rework against ``wish.previous``."""
    harness = job.subject
    if wish.previous is None:
        said = Words(f"Not applicable: {NONE}.")
        return Content("rework", "Rework", (said,), decisions=tuple(decisions(harness)))
    old = wish.previous.subject
    found = fewest([piece(old, w) for w in new_wires(old)], [piece(harness, w) for w in new_wires(harness)])
    changed = [move for move in found.moves if found.operations(move)]
    blocks: list[Block] = [
        Facts(
            (
                ("from", f"{old.title}, revision {old.revision or UNSAID}"),
                ("to", f"{harness.title}, revision {harness.revision or UNSAID}"),
            )
        ),
        Heading("What differs"),
        _differences(old, harness),
        Heading("What becomes of each wire"),
        _wires(found, changed),
        Words(_sum_words(found), strong=True),
    ]
    if changed:
        blocks += [Heading("Rework, one step for each operation"), *_steps(found, changed)]
    return Content("rework", "Rework", tuple(blocks), True, tuple(decisions(harness)))


def _differences(old: Harness, new: Harness) -> Table:
    rows = tuple(
        ("kit" if d.ours else "aircraft", d.what, d.name, d.field, d.before or "-", d.after or "taken away")
        for d in differences(old, new)
    )
    return Table("differences", DIFFERENCES, rows)


def _wires(found: Rework, changed: list[Move]) -> Table:
    rows: list[tuple[str | Cell, ...]] = []
    for move in changed:
        count = found.operations(move)
        now: str | Cell = wire_link(move.new.id) if move.new else "taken out"
        numbers = [str(count[word]) if count[word] else "" for word in (REMOVE, CUT, CRIMP, INSERT, MARK)]
        rows.append((now, _origin(move), *numbers))
    return Table("wires", WIRES, tuple(rows))


def _origin(move: Move) -> str:
    if move.old is None:
        return "new wire"
    if move.new is None:
        return f"{move.old.id}, scrapped"
    turned = ", turned end for end" if move.turned else ""
    return f"the old {move.old.id}{turned}"


def _sum_words(found: Rework) -> str:
    total = found.total
    kept = sum(1 for move in found.moves if not found.operations(move))
    parts = ", ".join(f"{word} {total[word]}" for word in (REMOVE, CUT, CRIMP, INSERT, MARK) if total[word])
    tail = "no way takes fewer" if found.proved else "NOT PROVED to be the fewest"
    operations = sum(n for word, n in total.items() if word != MARK)
    return f"{kept} wires stay as they are. Operations: {operations} ({parts or 'none'}; marks not counted); {tail}."


def _steps(found: Rework, changed: list[Move]) -> Iterator[Block]:
    number = Numbered()
    groups = (
        ("take-out", "Take out and cut off", list(_out(found, changed))),
        ("put-in", "Crimp and put in", list(_in(found, changed))),
        (
            "look",
            "After",
            [
                Step("Remade splices and moved contacts looked at", "crimp cards", hold=True),
                Step("Sealing plugs and unwired contacts as on the new pin map"),
                Step("Complete ring-out by the new ring-out sheet: a rework makes every old ring-out void", hold=True),
                Step("Old papers of this kit serial marked as void"),
            ],
        ),
    )
    for name, title, steps in groups:
        if steps:
            yield number.table(name, title, steps)


def _splices_opened(found: Rework, changed: list[Move]) -> list[str]:
    ends = [e for m in changed if m.old is not None for e in (m.old.a, m.old.b)]
    return list(dict.fromkeys(e.point for e in ends if e.kind == SPLICE and e.point not in found.untouched))


def _out(found: Rework, changed: list[Move]) -> Iterator[Step]:
    for ref in _splices_opened(found, changed):
        yield Step(f"Cut {ref} out of the bundle; it is not used again", "as close to the barrel as can be")
    for move in changed:
        if move.old is None:
            continue
        if move.new is None:
            for name, end in (("A", move.old.a), ("B", move.old.b)):
                if end.kind not in (SPLICE, STOWED):
                    yield Step(f"Old {move.old.id} end {name}: take out of {end.point}; scrap the wire")
            if SPLICE in (move.old.a.kind, move.old.b.kind):
                yield Step(f"Old {move.old.id}: scrap what was in the splice")
            continue
        for (old, new), name in zip(move.ends or (), _names(move), strict=True):
            count = _count(found, old, new)
            if count[REMOVE]:
                yield Step(f"Old {move.old.id} end {name}: take out of {old.point}")
            if count[CUT] and old.kind != SPLICE:
                yield Step(f"Old {move.old.id} end {name}: cut the fitting off", f"{old.part or UNSAID}")


def _in(found: Rework, changed: list[Move]) -> Iterator[Step]:
    for move in changed:
        if move.new is None:
            continue
        wire = move.new.id
        if move.old is None:
            length = f"laid length {mm(move.new.length)} mm" if move.new.length else f"length {UNSAID}"
            if move.new.cable:
                yield Step(f"{wire}: new, core of {move.new.cable}", f"cut list; {length}", wire=wire)
            else:
                yield Step(f"Cut {wire}, mark it", f"cut list; {length}", wire=wire)
            for name, end in (("A", move.new.a), ("B", move.new.b)):
                yield from _fit(wire, name, end, True)
            continue
        if move.old.mark != move.new.mark:
            yield Step(f"Old {move.old.id}: take its marks off, mark it {move.new.mark}", wire=wire)
        for (old, new), name in zip(move.ends or (), ("A", "B"), strict=True):
            count = _count(found, old, new)
            if count:
                yield from _fit(wire, name, new, bool(count[CRIMP]))


def _names(move: Move) -> tuple[str, str]:
    return ("B", "A") if move.turned else ("A", "B")


def _count(found: Rework, old: End, new: End) -> Counter[str]:
    from harnesscheck.rework.ends import changed, stays_in_splice

    return Counter() if stays_in_splice(old, new) and old.point in found.untouched else changed(old, new)


def _fit(wire: str, name: str, end: End, crimped: bool) -> Iterator[Step]:
    if end.kind == STOWED:
        yield Step(f"{wire} end {name}: cap and tie down (stowed)", wire=wire)
    elif end.kind == SPLICE:
        yield Step(f"{wire} end {name}: strip, crimp into a new {end.point}", end.part or UNSAID, wire=wire)
    else:
        first = f"strip, crimp {end.part or UNSAID}, " if crimped else ""
        yield Step(f"{wire} end {name}: {first}insert into {end.point}, tug", wire=wire)
