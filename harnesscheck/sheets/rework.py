"""Rework: what has changed since a previous revision, and the fewest operations that turn a built kit into the new one.

Give the previous revision with ``--previous FILE``.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.rework.compare import Comparison, compare, words
from harnesscheck.rework.ends import CRIMP, CUT, INSERT, MARK, REMOVE, SPLICE, STOWED, End
from harnesscheck.rework.moves import Move, Rework
from harnesscheck.rework.shortest import of_aircraft, shortest
from harnesscheck.sheets import Wish
from harnesscheck.sheets._say import UNSAID, mm, wire_link
from harnesscheck.sheets._steps import Numbered, Step

PART, ORDER = 5, 80
NONE = "no previous revision is given (--previous FILE)"
DIFFERENCES = (
    Column("whose"),
    Column("what"),
    Column("name"),
    Column("which"),
    Column("before"),
    Column("now"),
    Column("comes of"),
)
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
    against = compare(old, harness, wish.previous.equipment, job.equipment)
    found = shortest(old, harness, against.names)
    changed = [move for move in found.moves if found.operations(move)]
    blocks: list[Block] = [
        Facts(
            (
                ("from", f"{old.title}, revision {old.revision or UNSAID}"),
                ("to", f"{harness.title}, revision {harness.revision or UNSAID}"),
            )
        ),
        Heading("What differs"),
        _differences(against),
        Heading("Circuits that changed"),
        _circuits(against),
        Heading("What becomes of each wire"),
        _wires(found, changed),
        Words(sum_words(found), strong=True),
    ]
    if changed:
        blocks += [Heading("Rework, one step for each operation"), *_steps(found, changed)]
    aircraft = of_aircraft(old, harness, against.names)
    if aircraft is not None:
        moved = [move for move in aircraft.moves if aircraft.operations(move)]
        blocks += [
            Heading("Wiring of the aircraft that is stated otherwise"),
            Words("Where the aircraft itself is to be changed, and not only what is written of it:"),
            _wires(aircraft, moved, "aircraft-wires"),
            Words(sum_words(aircraft), strong=True),
        ]
    return Content("rework", "Rework", tuple(blocks), True, tuple(decisions(harness)))


def _differences(against: Comparison) -> Table:
    rows: list[tuple[str | Cell, ...]] = []
    for d in against.differences:
        whose = "kit" if d.ours else "aircraft"
        if d.verb == "changed":
            rows += [(whose, d.what, d.name, words(f.name), f.before, f.after, d.follows) for f in d.fields]
        else:
            rows.append(
                (whose, d.what, d.name, "", d.was or ("-" if d.verb == "added" else "there"), d.verb, d.follows)
            )
    return Table("differences", DIFFERENCES, tuple(rows))


def _circuits(against: Comparison) -> Table:
    rows = [
        (verb, "   |   ".join(", ".join(part) for part in net))
        for verb, found in (("parted", against.parted), ("joined", against.joined))
        for net in found
    ]
    return Table("circuits", (Column("what"), Column("the parts, with | between them")), tuple(rows))


def _wires(found: Rework, changed: list[Move], name: str = "wires") -> Table:
    rows: list[tuple[str | Cell, ...]] = []
    for move in changed:
        count = found.operations(move)
        now: str | Cell = wire_link(move.new.id) if move.new else "taken out"
        numbers = [str(count[word]) if count[word] else "" for word in (REMOVE, CUT, CRIMP, INSERT, MARK)]
        rows.append((now, _origin(move), *numbers))
    return Table(name, WIRES, tuple(rows))


def _origin(move: Move) -> str:
    if move.old is None:
        return "new wire"
    if move.new is None:
        return f"{move.old.id}, scrapped"
    turned = ", turned end for end" if move.turned else ""
    return f"the old {move.old.id}{turned}"


def sum_words(found: Rework) -> str:
    """What stays and how many operations there are, in words."""
    total = found.total
    kept = sum(1 for move in found.moves if not found.operations(move))
    parts = ", ".join(f"{word} {total[word]}" for word in (REMOVE, CUT, CRIMP, INSERT, MARK) if total[word])
    tail = "no way takes fewer" if found.proved else "NOT PROVED to be the fewest"
    operations = sum(n for word, n in total.items() if word != MARK)
    return f"{kept} wires stay as they are. Operations: {operations} ({parts or 'none'}; marks not counted); {tail}."


def _steps(found: Rework, changed: list[Move]) -> Iterator[Block]:
    number = Numbered()
    for name, title, steps in groups(found, changed):
        if steps:
            yield number.table(name, title, steps)


def groups(found: Rework, changed: list[Move]) -> tuple[tuple[str, str, list[Step]], ...]:
    """The steps of the rework in order: name and title of the group, and its steps."""
    return (
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
