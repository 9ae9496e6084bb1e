"""Do-no-harm statement: what the jumper changes for each circuit of the aircraft, what is proven and what is not known.

The airframe as found against the installed jumper. What the checks find is no part of this page: ``harnesscheck prove``
prints both together and writes the evidence that the independent re-checker reckons through.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from harnesscheck.electrics.elements import SPLICE_SOURCE
from harnesscheck.fault import quoted
from harnesscheck.job import Job
from harnesscheck.paper.cautions import CAUTIONS, decisions
from harnesscheck.paper.rows import columns, csv_bytes
from harnesscheck.proof.effects import Fed, Stub, Way, from_memory
from harnesscheck.proof.statement import CLAIMS, Statement, provable, statement

FORMS = ("text", "csv")
ALONE = "This file has no before and after: name the jumper file of the job."
WORDS = {True: "holds", False: "DOES NOT HOLD", None: "not known"}
WAYS = ("cavity", "circuit", "added mohm", "existing A", "new A", "drop in kit V", "new drop in aircraft V")
FED = ("breaker", "rating A", "before A", "with kit A", "share", "at peak A")
STUBS = ("pin", "circuit", "stub mm", "receivers before", "with kit", "allowed")
HEADER = (
    "block", "item", "value", "existing A", "new A", "drop in kit V", "new drop in aircraft V", "before", "after",
    "limit", "not known",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Block:
    """One block of the page: a title, lines of text, and a table whose first row is its head."""

    title: str
    lines: tuple[str, ...] = ()
    table: tuple[tuple[str, ...], ...] = ()
    right: frozenset[int] = frozenset()
    """Columns set flush right."""


def blocks(proven: Statement) -> list[Block]:
    """The content of the page, in order; blocks with nothing in them are left out."""
    effects, harness = proven.effects, proven.copper.harness
    ways = tuple(_way(way) for way in effects.ways)
    found = [
        Block("RESULT", (_result(proven),)),
        Block("WHAT SPEAKS AGAINST IT", tuple(proven.against)),
        Block("WHAT WAS PROVEN", table=tuple((WORDS[proven.claims[name]], said) for name, said in CLAIMS.items())),
        Block("JOINED ON PURPOSE", tuple(_taps(proven))),
        Block("EACH CIRCUIT OF THE OPENED PAIR", (), (WAYS, *ways) if ways else (), frozenset(range(2, 7))),
        Block(
            "BREAKERS THAT FEED THE NEW EQUIPMENT", (), _table(FED, map(_fed, effects.breakers)), frozenset(range(1, 6))
        ),
        Block("TAPS ON SIGNAL LINES", (), _table(STUBS, map(_stub, effects.stubs)), frozenset(range(2, 6))),
        Block("NOT KNOWN", tuple(_unknown(proven))),
        Block("HOW IT WAS RECKONED", tuple(_how(proven))),
        Block("FILES", table=tuple((file.name, file.sha256) for file, _ in proven.files)),
        Block("DECIDED IN WRITING FOR THIS JOB", tuple(decisions(harness))),
    ]
    return [block for block in found if block.lines or block.table]


def render(job: Job, form: str) -> bytes:
    """The statement of a job as ``text`` or ``csv``."""
    if not provable(job.subject):
        return csv_bytes(HEADER, []) if form == "csv" else "\n".join([ALONE, "", *CAUTIONS, ""]).encode()
    proven = statement(job)
    if form == "csv":
        return csv_bytes(HEADER, _rows(proven))
    return "\n".join(quoted(line) for line in text(proven)).encode("utf-8") + b"\n"


def text(proven: Statement) -> Iterator[str]:
    """The page as lines."""
    harness = proven.copper.harness
    yield f"DO-NO-HARM STATEMENT   {harness.title}   revision {harness.revision or 'not stated'}"
    yield f"aircraft: {proven.copper.airframe.title}   opened: {'/'.join(harness.opened)}"
    if harness.note:
        yield harness.note
    for block in blocks(proven):
        yield ""
        yield block.title
        yield from (f"  {line}" for line in block.lines)
        if block.table:
            yield from (f"  {line}" for line in columns(block.table, block.right))
    yield ""
    yield from CAUTIONS


def _result(proven: Statement) -> str:
    pair, against = "/".join(proven.copper.harness.opened), len(proven.against)
    if not proven.holds:
        return f"NO PROOF: {against} {'thing speaks' if against == 1 else 'things speak'} against it."
    led = sum(way.kit is not None for way in proven.effects.ways)
    rest = len(proven.unknown)
    unknown = f" {rest} {'thing is' if rest == 1 else 'things are'} not known: see below." if rest else ""
    return f"No harm to the circuits of {pair}: {led} led through, none joined, none parted.{unknown}"


def _taps(proven: Statement) -> Iterator[str]:
    copper = proven.copper
    taps = [tap for tap in copper.harness.taps.values() if copper.made(tap)]
    yield from (f"{tap.pin} to {tap.circuit}" for tap in taps)
    yield from (
        f"{pin} to {steps[-1].b if pin != steps[-1].b else steps[-1].a}, by {steps[-1].id}"
        for pin, steps in copper.direct
    )
    for way in proven.effects.ways:
        inside = [edge for edge in way.kit or () if edge.kind == "inside"]
        if inside:
            yield f"{way.name} runs through {inside[0].a.ref}: with that plug off, the aircraft's circuit is open"
    ended = [copper.members[net][0] for net in copper.given_up]
    if ended:
        yield f"spares that end at the jumper, and are no spares of the aircraft any more: {', '.join(map(str, ended))}"


def _unknown(proven: Statement) -> Iterator[str]:
    for what, where in proven.unknown.items():
        more = f" and {len(where) - 8} more" if len(where) > 8 else ""
        yield f"not known: {what} ({', '.join(where[:8])}{more})"


def _how(proven: Statement) -> Iterator[str]:
    effects = proven.effects
    yield "Resistances at 20 C, contacts at their worst. The parted contact is not deducted: each figure is the most"
    yield "that is added. Drops are those at the highest stated currents, all at once."
    for kind in ("wire", "mate"):
        of = {edge.id for edge in proven.copper.edges if edge.kind == kind}
        said = dict.fromkeys(piece.source for name, piece in effects.pieces.items() if name in of and piece.source)
        yield from (f"{'Wires' if kind == 'wire' else 'Contacts'}: {source}" for source in said)
    if any(way.splices or way.aircraft_splices for way in effects.ways):
        yield f"Splices: {SPLICE_SOURCE}"
    memory = from_memory(effects)
    if memory:
        yield f"Counted for want of a known contact: {', '.join(memory[:8])}{' and more' if len(memory) > 8 else ''}"


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> tuple[tuple[str, ...], ...]:
    found = tuple(rows)
    return (head, *found) if found else ()


def _number(value: float | None, digits: int, scale: float = 1.0) -> str:
    return "not known" if value is None else f"{value * scale:.{digits}f}"


def _amps(way: Way, *, new: bool) -> str:
    amps = [load.amps for load in way.loads if load.new is new]
    if not way.carries or (new and not amps):
        return "-"
    return _number(math.fsum(each or 0.0 for each in amps) if amps and None not in amps else None, 2)


def _way(way: Way) -> tuple[str, ...]:
    shared = any(load.new for load in way.loads)
    return (
        str(way.pair.id),
        way.name,
        _number(way.ohms, 1, 1000) if way.kit is not None else "not led through",
        _amps(way, new=False),
        _amps(way, new=True),
        _number(way.kit_volts, 3) if way.carries else "-",
        _number(way.aircraft_volts, 3) if shared else "-",
    )


def _fed(fed: Fed) -> tuple[str, ...]:
    share = "not known" if fed.share is None else f"{100 * fed.share:.0f} %"
    sums = (_number(value, 2) for value in (fed.rating, fed.before, fed.after))
    return (fed.ref or "not known", *sums, share, _number(fed.peak, 2))


def _stub(stub: Stub) -> tuple[str, ...]:
    counts = ("not known" if n is None else str(n) for n in (stub.receivers, stub.receivers_after))
    most = "not stated" if stub.most is None else str(stub.most)
    return (str(stub.pin), stub.circuit, _number(stub.metres, 0, 1000), *counts, most)


def _rows(proven: Statement) -> Iterator[Sequence[str]]:
    """Everything in one table: the columns are those of ``HEADER``."""
    for name, said in CLAIMS.items():
        yield _line("claim", said, WORDS[proven.claims[name]])
    yield from (_line("against", said) for said in proven.against)
    yield from (_line("joined", said) for said in _taps(proven))
    for way in proven.effects.ways:
        pair, name, ohms, *rest = _way(way)
        numbers = ["" if cell == "-" else cell for cell in rest]
        value = f"{ohms} mohm" if way.ohms is not None else ohms
        yield _line("way", f"{pair} {name}", value, *numbers, unknown=way.unknown)
    for fed in proven.effects.breakers:
        ref, rating, before, after, share, _ = _fed(fed)
        yield _line("breaker", ref, share, "", "", "", "", before, after, rating, unknown=fed.unknown)
    for stub in proven.effects.stubs:
        pin, circuit, metres, before, after, most = _stub(stub)
        length = f"{metres} mm" if stub.metres is not None else metres
        yield _line("stub", f"{pin} {circuit}", length, "", "", "", "", before, after, most, unknown=stub.unknown)
    yield from (_line("file", file.name, file.sha256) for file, _ in proven.files)
    yield from (_line("not known", said) for said in _unknown(proven))
    yield from (_line("caution", said) for said in (*decisions(proven.copper.harness), *CAUTIONS))


def _line(*cells: str, unknown: Sequence[str] = ()) -> tuple[str, ...]:
    """Cells of one row, filled up to the last column."""
    return (*cells, *[""] * (len(HEADER) - 1 - len(cells)), "; ".join(unknown))
