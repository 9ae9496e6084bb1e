"""Crimp cards: one for each contact or splice and wire size, with tool, setting, strip length, looks and pull test.

A setting that nobody has confirmed is said to be unknown: it is read off the data plate of the positioner.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Facts, Heading, NewPage, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish
from harnesscheck.sheets._joints import SAMPLES, SAMPLES_SOURCE, Joint, force, joints, pull
from harnesscheck.sheets._say import UNKNOWN, fact, kind_words, part_fact, rule

PART, ORDER = 5, 40
PLATE = "set from the data plate of the positioner"
LOOKS = ("strands-visible", "indent-position", "stranded-wire-only", "open-barrel-end", "crimp-tool")
RECORD = (
    Column("sample", right=True),
    Column("least"),
    Column("pulled off at", blank=True, least=22),
    Column("frame no., setting, calibrated until", blank=True, least=44),
    Column("wire and contact lots", blank=True, least=34),
    Column("by, date", blank=True, least=26),
)


def content(job: Job, wish: Wish) -> Content:
    """The crimp cards of a job, for as many kits as are wished."""
    harness = job.subject
    blocks: list[Block] = []
    for number, joint in enumerate(joints(harness), 1):
        if number > 1 and number % 2 == 0:
            blocks.append(NewPage())  # two cards a page, one beside the general rules
        blocks += _card(harness, joint, number, wish.kits)
    if blocks:
        blocks[:0] = [Heading("Looked for at every crimp"), Facts(tuple(_looks(harness)))]
    else:
        blocks.append(Words("No crimp joint: this is not a jumper, or its file lists no wire."))
    return Content("crimp-cards", "Crimp cards", tuple(blocks), False, tuple(decisions(harness)))


def _card(harness: Harness, joint: Joint, number: int, kits: int) -> Iterator[Block]:
    yield Heading(f"Card {number}: {joint.name}")
    made = dict.fromkeys(kind_words(wire) for wire in joint.wires)
    what = "crimps" if joint.kind == "contact" else "wire ends crimped"
    each = f"{joint.crimps} in a kit" + (f", {joint.crimps * kits} in {kits} kits" if kits > 1 else "")
    frame = _frame(harness, joint)
    pairs = [("wire", ", ".join(made)), (what, each), *_tools(harness, joint, frame)]
    pairs += list(_rules(harness, joint))
    minima = list(pull(harness, joint))
    for words, least in minima:
        where = f"{least.source.paragraph or least.source.document} ({least.source.status})"
        pairs.append(("pull-off, at least", f"{force(least)} for {words}; {where}"))
    if not minima:
        why = "two wires in one barrel" if len(joint.sizes) > 1 else "no table has it for this joint and size"
        text, source = rule(harness, "pull-not-in-table")
        pairs.append(("pull-off, at least", f"{UNKNOWN}: {why}. {text} {source or ''}".rstrip()))
    yield Facts(tuple(pairs))
    shown = force(minima[0][1]) if len(minima) == 1 else "see above" if minima else UNKNOWN
    rows: list[tuple[str | Cell, ...]] = [(str(n), shown, "", "", "", "") for n in range(1, SAMPLES + 1)]
    yield Table(f"pull-test-{number}", RECORD, tuple(rows))


def _frame(harness: Harness, joint: Joint) -> str | None:
    record = harness.part(joint.kind, joint.part)
    return record.text("crimp frame") if record else None


def _tools(harness: Harness, joint: Joint, frame: str | None) -> Iterator[tuple[str, str]]:
    yield "frame", part_fact(harness, joint.kind, joint.part, "crimp frame")
    if joint.kind == "contact":
        yield "positioner", part_fact(harness, "contact", joint.part, "positioner")
        yield "selector", _selector(harness, joint, frame)
    tool = harness.part("tool", frame)
    if tool is not None and tool.fact("inspection gauge") is not None:
        setting = tool.fact("gauge selector")
        at = f" at selector {fact(setting)}" if setting else ""
        yield "gauge of the frame", f"{fact(tool.fact('inspection gauge'))}{at}"
    else:
        yield "gauge of the frame", UNKNOWN
    yield "strip length", part_fact(harness, joint.kind, joint.part, "strip")
    if joint.kind == "contact":
        put, take = (part_fact(harness, "contact", joint.part, f"{work} tool") for work in ("insertion", "removal"))
        if put == take:
            yield "insert and remove", put
        else:
            yield "insertion tool", put
            yield "removal tool", take
    else:
        yield "sleeve", f"length {part_fact(harness, 'splice', joint.part, 'sleeve length')}"


def _selector(harness: Harness, joint: Joint, frame: str | None) -> str:
    """The setting where a document gives it for this contact and size; a general list for the frame is only named."""
    record = harness.part("contact", joint.part)
    own = record.table("selector") if record else None
    found = record.fact("selector") if record else None
    if own and found and joint.sizes[0] in own:
        check = "" if found.source.firm else f"; compare with the data plate of the positioner ({found.source.status})"
        return f"{own[joint.sizes[0]]}{check}"
    tool = harness.part("tool", frame)
    general = tool.table("selector") if tool else None
    said = tool.fact("selector") if tool else None
    if general and said and joint.sizes[0] in general:
        return f"{PLATE}; for this size on this frame {general[joint.sizes[0]]} is seen ({said.source.status})"
    return f"{UNKNOWN}: {PLATE}"


def _rules(harness: Harness, joint: Joint) -> Iterator[tuple[str, str]]:
    damage, source = strip_damage(harness, joint)
    yield "strands", f"{damage}  {source}".rstrip()
    gap, came = _gap(harness, joint)
    yield "insulation gap", f"{gap}  {came}"
    if joint.kind == "splice":
        text, source_of = rule(harness, "several-wires-in-a-barrel")
        yield "several wires", f"{text} {source_of or ''}".rstrip()


def _looks(harness: Harness) -> Iterator[tuple[str, str]]:
    for name in LOOKS:
        text, source = rule(harness, name)
        yield name.replace("-", " "), f"{text} {source or ''}".rstrip()
    yield "pull test", f"{SAMPLES} samples pulled to destruction; {SAMPLES_SOURCE}"
    found = dict.fromkeys(str(least.source) for joint in joints(harness) for _, least in pull(harness, joint))
    for came in found:
        yield "pull-off forces", came


def strip_damage(harness: Harness, joint: Joint) -> tuple[str, str]:
    """Strands that may be nicked or broken at this size, and the source."""
    size = _awg(joint)
    for name, thick, thin in (
        ("strip-damage-24-to-14", 14, 24), ("strip-damage-12-to-10", 10, 12), ("strip-damage-8-to-4", 4, 8),
    ):  # fmt: skip
        if size is not None and thick <= size <= thin:
            record = harness.drawer.get("rule", name)
            values, found = (record.table("values"), record.source("values")) if record else (None, None)
            if values:
                came = f"{found.document}, {found.paragraph} ({found.status})" if found else ""
                return f"nicked {values['nicked']} at most, broken {values['broken']};", came
    return f"strands nicked or broken: limit {UNKNOWN} for this size; none is the aim", ""


def _gap(harness: Harness, joint: Joint) -> tuple[str, str]:
    size = _awg(joint)
    most = "most-20-and-smaller" if size is not None and size >= 20 else "most-18-and-larger"
    low, high = (_value(harness, name) for name in ("insulation-gap-least", f"insulation-gap-{most}"))
    _, source = rule(harness, "insulation-gap-least")
    if size is None or "least" not in low or "most" not in high:
        return UNKNOWN, ""
    return f"{low['least']} to {high['most']}", str(source or "")


def _value(harness: Harness, name: str) -> dict[str, str]:
    record = harness.drawer.get("rule", name)
    return dict(record.table("values") or {}) if record else {}


def _awg(joint: Joint) -> int | None:
    text, _, unit = joint.sizes[0].partition(" ")
    return int(text) if unit == "AWG" and text.isdigit() else None
