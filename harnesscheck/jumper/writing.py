"""A kit as the text of a jumper file: one wire a line, the reason of each choice as a comment beside it.

The text is a list of entries, each known by its section and key, so that a person's entry that is marked ``# fixed``
takes the place of the planned one with the same name.
"""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from harnesscheck.formulas.cut_length import DEFAULTS
from harnesscheck.jumper.kit import Half, Joint, Kit, Lead, Sheath
from harnesscheck.place import STOWED, Point

WIDTH = 120
FIXED = re.compile(r"\s#\s*fixed\b", re.IGNORECASE)
"""How a person marks an entry that planning again must leave alone."""
_PLAIN = re.compile(r"[A-Za-z0-9_./+(][A-Za-z0-9_ ./+()=;*'&-]*")
SECTIONS = (
    "kind", "title", "revision", "note", "airframe", "equipment", "parts", "opens", "connectors", "splices", "cables",
    "wires", "taps", "kit", "allowances", "limits", "waivers",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a section: its key and its lines as they stand in the file. Without a key: comment lines."""

    section: str
    key: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Head:
    """What stands at the top of the file."""

    title: str
    airframe: str
    equipment: Mapping[str, str]
    story: tuple[str, ...] = ()
    """What was planned, at what cost, and what else there was: comment lines."""


def scalar(text: str) -> str:
    """A text as YAML: plain where that says the same, else in double quotes.

    >>> scalar("WING EQPT PWR"), scalar("a: b"), scalar("J114-3")
    ('WING EQPT PWR', '"a: b"', 'J114-3')
    """
    if _PLAIN.fullmatch(text) and text == text.strip():
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def remark(text: str, indent: int = 2) -> list[str]:
    """Comment lines, wrapped."""
    lead = " " * indent + "# "
    return textwrap.wrap(
        text, WIDTH, initial_indent=lead, subsequent_indent=lead + "  ", break_long_words=False, break_on_hyphens=False
    )


def flow(key: str, pairs: Iterable[tuple[str, str | None]], indent: int = 2) -> tuple[str, ...]:
    """``key: {a: b, c: d}`` on one line, or on two where it is too long."""
    said = [f"{name}: {value}" for name, value in pairs if value is not None]
    start = f"{' ' * indent}{key}: {{"
    lines, here = [], start
    for number, pair in enumerate(said):
        piece = pair + (", " if number < len(said) - 1 else "}")
        if len(here) + len(piece.rstrip()) > WIDTH and here.strip():
            lines.append(here.rstrip())
            here = " " * len(start)
        here += piece
    return (*lines, here)


def mm(length: int) -> str:
    """``320 mm``."""
    return f"{length} mm"


def entries(head: Head, kit: Kit) -> Iterator[Entry]:
    """The whole file, entry by entry."""
    for line in head.story:
        yield Entry("", "", tuple(remark(line, 0)))
    yield Entry("kind", "kind", ("kind: jumper",))
    yield Entry("title", "title", (f"title: {scalar(head.title)}",))
    yield Entry("revision", "revision", ("revision: A",))
    yield Entry("airframe", "airframe", (f"airframe: {scalar(head.airframe)}",))
    for unit, file in head.equipment.items():
        yield Entry("equipment", unit, (f"  {unit}: {scalar(file)}",))
    yield Entry("opens", "opens", (f"opens: {'/'.join(kit.opened)}",))
    for half in kit.halves:
        yield Entry("connectors", half.ref, tuple(_half(half)))
    for joint in kit.joints:
        yield Entry("splices", joint.ref, tuple(_joint(joint)))
    for sheath in kit.sheaths:
        yield Entry("cables", sheath.id, _sheath(sheath))
    for section in kit.sections:
        comments = [line for text in (section.title, *section.why) for line in remark(text)]
        yield Entry("wires", "", tuple(comments))
        for lead in section.leads:
            yield Entry("wires", lead.id, _lead(lead))
    for pin, circuit in kit.taps.items():
        why = [line for text in kit.tap_reasons.get(pin, ()) for line in remark(text)]
        yield Entry("taps", str(pin), (*why, f"  {key_of(str(pin))}: {scalar(circuit)}"))
    if kit.spare_contacts:
        spares = [(key_of(number), str(count)) for number, count in kit.spare_contacts.items()]
        yield Entry("kit", "spare contacts", flow("spare contacts", spares))
    if kit.site_tools:
        yield Entry("kit", "site tools", (f"  site tools: [{', '.join(map(scalar, kit.site_tools))}]",))
    for name, (value, source) in DEFAULTS.items():
        if name != "stud":
            why = remark(f"{name}: {source.paragraph}" if source.paragraph else name)
            yield Entry("allowances", name, (*why, f"  {name}: {value * 1000:g} mm"))


def key_of(text: str) -> str:
    """A key of a mapping as YAML."""
    return scalar(text)


def _half(half: Half) -> Iterator[str]:
    yield f"  {half.ref}:"
    for text in half.why:
        yield from remark(text, 4)
    pairs: list[tuple[str, str | None]] = [("name", half.name or None), ("part", half.part)]
    pairs += list(half.facts.items())
    pairs += [("contacts", half.contacts), ("plugs", half.plugs), ("zone", half.zone), ("mates", half.mates)]
    pairs += [("fitted", half.fitted if half.fitted != "bench" else None), ("route", half.route)]
    pairs += [("note", half.note or None)]
    for name, value in pairs:
        if value is not None:
            yield f"    {name}: {scalar(value)}"
    if half.own:
        yield "    cavities:"
        for cavity, contact in half.own.items():
            yield f"      {key_of(cavity)}: {{contact: {scalar(contact)}}}"


def _joint(joint: Joint) -> Iterator[str]:
    for text in joint.why:
        yield from remark(text)
    pairs = [
        ("part", scalar(joint.part) if joint.part else None),
        ("zone", scalar(joint.zone) if joint.zone else None),
        ("at", f"{mm(joint.at)} from {joint.at_ref}"),
    ]
    yield from flow(joint.ref, pairs)


def _sheath(sheath: Sheath) -> tuple[str, ...]:
    pairs = [
        ("type", scalar(sheath.type) if sheath.type else None),
        ("length", mm(sheath.length)),
        ("bundle", scalar(sheath.bundle)),
        ("note", scalar(sheath.note) if sheath.note else None),
    ]
    return flow(sheath.id, pairs)


def _end(point: Point) -> str:
    return "stowed" if point == STOWED else scalar(str(point))


def _lead(lead: Lead) -> tuple[str, ...]:
    drain = lead.core in ("shield", "drain")
    says = lead.type is not None and not lead.state_gauge
    pairs = [
        ("from", _end(lead.a)),
        ("to", _end(lead.b)),
        ("cable", lead.cable),
        ("core", lead.core),
        ("type", scalar(lead.type) if lead.type else None),
        ("gauge", str(lead.gauge) if lead.gauge and not says and (lead.cable is None or drain or lead.type) else None),
        ("colour", scalar(lead.colour) if lead.colour else None),
        ("alloy", lead.alloy),
        ("length", mm(lead.length)),
        ("bundle", scalar(lead.bundle) if lead.cable is None else None),
        ("untwisted", mm(lead.untwisted) if lead.untwisted is not None else None),
    ]
    return flow(lead.id, pairs)


def text(found: Iterable[Entry], kept: Iterable[Entry] = ()) -> str:
    """The file. Entries of ``kept`` stand in the place of planned ones with the same name, or at the section's end."""
    own = {(entry.section, entry.key): entry for entry in kept}
    used: set[tuple[str, str]] = set()
    by_section: dict[str, list[Entry]] = {}
    for entry in found:
        place = (entry.section, entry.key)
        mine = own.get(place) if entry.key else None
        used |= {place} if mine is not None else set()
        by_section.setdefault(entry.section, []).append(_merged(entry, mine) if mine is not None else entry)
    for place, entry in own.items():
        if place not in used:
            by_section.setdefault(place[0], []).append(entry)
    lines = [line for entry in by_section.get("", ()) for line in entry.lines]
    for section in SECTIONS:
        listed = by_section.get(section)
        if not listed:
            continue
        single = len(listed) == 1 and listed[0].key == section
        if not single:
            lines += ["", f"{section}:"] if section != "equipment" else [f"{section}:"]
        elif section in ("limits", "waivers"):
            lines.append("")
        for entry in listed:
            lines += entry.lines
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _merged(entry: Entry, mine: Entry) -> Entry:
    """A person's entry in the place of the planned one; of a block of several lines only those marked as fixed.

    A mark at the first line of a block keeps the whole block.
    """
    if len(mine.lines) == 1 or not mine.lines[0].split(" #")[0].rstrip().endswith(":") or FIXED.search(mine.lines[0]):
        return mine
    lines = list(entry.lines)
    for line in mine.lines:
        if FIXED.search(line):
            name = line.split(":")[0]
            place = next((n for n, each in enumerate(lines) if each.split(":")[0] == name), None)
            if place is None:
                lines.append(line)
            else:
                lines[place] = line
    return Entry(entry.section, entry.key, tuple(lines))
