"""Ring-out: the fewest readings that prove the wiring, what each should show, and what they cannot see.

For the jumper on the bench, the aircraft with the jumper in and the new unit unplugged, and the aircraft alone. Modes,
with commas between: first article, field or quick; bussed (isolation by shorting plugs); units unplugged (every other
unit, sensor and switch of the aircraft is unplugged as well); bench, installed or aircraft for one of the three.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.fault import Fault, InputError, nearest, short
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Column, Content, Facts, Heading, NewPage, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.ringout import coverage as proof
from harnesscheck.ringout import kept, link, plan
from harnesscheck.ringout import ohms as limits
from harnesscheck.ringout.article import NAMES, article, articles
from harnesscheck.ringout.pairs import SHOWN, Names
from harnesscheck.ringout.reading import band
from harnesscheck.sheets import Wish
from harnesscheck.sheets import _readings as rows
from harnesscheck.sheets._steps import counted

PART, ORDER = 7, 10
TITLE = "Ring-out"
TIED, UNPLUGGED = "bussed", "units unplugged"
SECONDS = 10
"""Of one reading, for the estimate of time: common practice."""
BEFORE = (
    "The meter reads ohms and shows a number. A buzzer may sound up to 40 ohm: it does not pass or refuse anything.",
    "Hold the test leads together and null the meter, or write their ohms down and take them off every value.",
    "Touch mating contacts or a breakout, never the inside of a socket with a probe tip: it spreads.",
    "A value that changes when the leads are exchanged is a semiconductor or a voltage, not a wire: something is "
    "plugged in or live.",
    "Hold the leads on while a second person moves the bundle at each splice and backshell: one steady value is weak "
    "evidence.",
)
IN_AIRCRAFT = (
    "Battery disconnected, external power off, breakers pulled and tagged. A CAN bus is left a minute to sleep.",
    "The new unit is UNPLUGGED: with it plugged in you read its inputs.",
    "No insulation tester on anything that electronics hang on.",
)


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return "" if articles(job) else "there is neither a jumper nor an airframe to ring out"


def chosen(job: Job, wish: Wish) -> tuple[str, bool, bool, tuple[str, ...]]:
    """Mode, bussed, units stay, and the articles wished for. Raises ``InputError`` for a word it does not know."""
    mode, tied, staying, only = plan.MODES[0], False, True, []
    known = (*plan.MODES, TIED, UNPLUGGED, *NAMES)
    for word in (w.strip() for w in wish.mode.split(",") if w.strip()):
        if word not in known:
            remedy = nearest(word, known) or f"write {', '.join(known)}; several with commas between"
            raise InputError([Fault("command line", 1, 1, f"ring-out has no mode {short(word)}", "", remedy)])
        mode = word if word in plan.MODES else mode
        tied, staying = tied or word == TIED, staying and word != UNPLUGGED
        if word in NAMES:
            only.append(word)
    return mode, tied, staying, tuple(name for name in articles(job) if not only or name in only)


def plans(job: Job, wish: Wish) -> list[plan.Plan]:
    """The readings of each article on the sheet."""
    mode, tied, staying, names = chosen(job, wish)
    return [plan.plan(article(job, name, staying), mode, tied) for name in names]


def content(job: Job, wish: Wish) -> Content:
    """The ring-out sheet of a job."""
    blocks: list[Block] = []
    made = plans(job, wish)
    if not made:
        blocks.append(Words(f"Not applicable: {not_applicable(job, wish) or 'the job has no such article'}."))
    else:
        blocks += [Heading("Before the first reading"), *(Words(text) for text in BEFORE), counted("test-gear")]
        for number, each in enumerate(made):
            blocks += [NewPage()] if number else []
            blocks += _article(each)
        blocks += [Heading("What no reading on these sheets can see"), _blind(), *_after(), *_sources()]
    return Content("ring-out", TITLE, tuple(blocks), False, tuple(decisions(job.subject)))


def _article(made: plan.Plan) -> Iterator[Block]:
    name, under = made.article.name, made.article
    yield Heading(
        f"{made.title[0].upper()}{made.title[1:]} ({made.mode}{', bussed' if made.tied else ''})",
        anchor=f"article-{name}",
    )
    if name != "bench":
        yield from (Words(text) for text in IN_AIRCRAFT)
        stay = (
            "Every other unit, sensor and switch on these circuits is unplugged as well: tick each off. A return or "
            "shield that the aircraft grounds by a lead no file lists still reads 0 here: list the lead, or say so."
        )
        leave = "Other units stay plugged in; what hangs there and no file lists is written down, and compared."
        yield Words(leave if under.staying else stay)
    yield Facts((*_counts(made), ("head of a readings file", _head(made))))
    yield rows.through(f"{name}-through", made.of_kind("continuity"))
    judged = [r for r in made.of_kind("isolation") if r.judged]
    if made.tied:
        yield rows.apart(f"{name}-apart", judged, "Apart: the points of each column tied by a shorting plug or clips")
    elif made.mode == "quick":
        yield rows.apart(f"{name}-apart", judged, "Apart: neighbours only")
    else:
        yield from _walk(made)
    kept_in = made.of_kind("ohms")
    if kept_in:
        yield rows.apart(f"{name}-kept", kept_in, "Through what stays connected")
    written = [r for r in made.of_kind("isolation") if not r.judged]
    if written:
        when = "before the kit goes in; the same with the kit in" if name == "aircraft" else "as before the kit went in"
        yield rows.apart(
            f"{name}-written", written, f"To structure, what hangs there not listed: the same value {when}"
        )
    yield from (Words(note) for note in made.notes)
    yield from _proof(made)


def _head(made: plan.Plan) -> str:
    """What a readings file of these rows says, so that its ids are looked up in the same list."""
    name = made.article.name
    units = "" if name == "bench" else f"; other units: {'plugged in' if made.article.staying else 'unplugged'}"
    return f"article: {name}; mode: {made.mode}; groups: {'tied' if made.tied else 'single'}{units}"


def _counts(made: plan.Plan) -> Iterator[tuple[str, str]]:
    under = made.article
    terminals, nets = len(under.terminals), len(under.nets)
    through, apart = len(made.of_kind("continuity")), len([r for r in made.of_kind("isolation") if r.judged])
    closed = nets - len(under.open_nets)
    yield "points a probe reaches", f"{terminals} in {nets} nets"
    said = f"{terminals} - {nets} = {terminals - nets} is the least when anything may be miswired"
    if made.mode == "first article":
        yield "readings through", f"{through}: {said}"
    else:
        yield "readings through", f"{through}: the least for wiring whose routing is proven; a first article takes more"
    if made.tied:
        yield "readings apart", f"{apart} for {closed} nets: the least number of groups that differ for any two nets"
    elif made.mode == "quick":
        yield "readings apart", f"{apart}: neighbouring cavities only; a short between others is not seen"
    elif not closed:
        yield "readings apart", "none with a limit: every net leads on to something that no file lists"
    else:
        yield "readings apart", f"{apart} for {closed} nets: one fewer than nets, each against all not yet read"
    yield "time at 10 s a reading", f"about {len(made.readings) * SECONDS / 60:.0f} min"
    if made.travel is not None and made.travel[1] - made.travel[0] >= 1:
        yield "order", f"by probe travel: {made.travel[0]:.0f} pitches, {made.travel[1]:.0f} in the order of numbers"


def _walk(made: plan.Plan) -> Iterator[Block]:
    """Walking: the list of what is tied stands once, and each line lifts one net off."""
    judged = [r for r in made.of_kind("isolation") if r.judged]
    if not judged:
        return
    yield Words(
        f"Apart: tie together {rows.points((*judged[0].a, *judged[0].b))}. Take the nets off one by one in this "
        "order, read each against all that are still tied, and leave it off."
    )
    columns = (Column("no"), Column("lifted off, lead A"), Column("lead B"), Column("accept"), Column("of"),
               *rows.BLANKS)  # fmt: skip
    table = []
    for reading in judged:
        rest = rows.points(reading.b) if len(reading.b) <= 2 else f"the other {len(reading.b)} points, tied"
        table.append((rows.anchored(reading), rows.points(reading.a), rest, band(reading), reading.why, "", ""))
    yield Table(f"{made.article.name}-apart", columns, tuple(table))


def _proof(made: plan.Plan) -> Iterator[Block]:
    columns = (Column("class of fault"), Column("cases", right=True), Column("change what is joined", right=True),
               Column("shown", right=True), Column("by through", right=True), Column("by apart or value", right=True),
               Column("not shown"))  # fmt: skip
    table = []
    for kind, found in proof.coverage(made).items():
        missed = "; ".join(f"{len(names)}: {reason}{_which(names)}" for reason, names in found.unseen.items())
        first = found.first
        table.append((kind, str(found.cases), str(found.visible), str(found.seen), str(first.get("continuity", 0)),
                      str(first.get("isolation", 0) + first.get("ohms", 0)), missed or "-"))  # fmt: skip
    yield Table(f"{made.article.name}-proof", columns, tuple(table),
                "What these readings prove: every fault of these classes tried against them")  # fmt: skip
    blind = [ref for ref in dict.fromkeys(p.ref for p in made.article.terminals)
             if ref in made.article.harness.connectors and not proof.mirrored(made.article, ref)]  # fmt: skip
    if blind:
        yield Words(f"Mirror image not tried on {', '.join(blind)}: the places of its cavities are not in the drawer.")


def _which(names: Names) -> str:
    if len(names) <= SHOWN:
        return f" ({', '.join(names.first)})"
    return f" ({', '.join(names.first[:2])} and {len(names) - 2} more)"


def _blind() -> Table:
    columns = (Column("fault"), Column("what does see it"), Column("done", blank=True, least=20), rows.BLANKS[1])
    return Table("blind", columns, tuple((fault, sees, "", "") for fault, sees in proof.BLIND))


def _after() -> Iterator[Block]:
    yield Heading("Insulation test, bare jumper only")
    yield Words(
        "With nothing plugged in: 200 to 1000 VDC between each wire and all others with the shields tied, at most one "
        "minute, at least 100 Mohm (US Army SB 740-91-01, confirmed); discharge afterwards. The sum of many good wires "
        "may read less than one: a refusal does not say which."
    )
    yield Heading("After the last reading")
    yield Words("Count the test gear out on the first table: a test jumper left fitted has flown (ASRS ACN 467542).")


def _sources() -> Iterator[Block]:
    yield Heading("Where the limits are from")
    yield Facts((
        ("accept, through", "1.2 x wires at 20 C + 0.02 ohm for each contact + 0.1 ohm for nulled leads and meter; "
         "without nulling add the ohms of the leads; rounded up to what a meter shows, and judged so"),
        ("wire", "AC 43.13-1B Table 11-9 unless the drawer knows the wire"),
        ("factor 1.2", str(link.WIRE_FACTOR_SOURCE)),
        ("contact", str(link.CONTACT_LIMIT_SOURCE)),
        ("leads nulled", str(plan.NULLED_SOURCE)),
        ("leads", str(limits.LEADS_SOURCE)),
        ("length not known", str(limits.UNKNOWN_LIMIT_SOURCE)),
        ("apart", str(plan.OPEN_LINE_SOURCE)),
        ("terminators", str(kept.TERMINATOR_SOURCE)),
    ))  # fmt: skip
