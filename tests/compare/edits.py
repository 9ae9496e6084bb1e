"""Single edits of the demo's text, each with the one difference it is. Written from the text alone."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe"
J, A, E, S = "jumper.yaml", "airframe.yaml", "ice-probe.yaml", "shop-parts.yaml"


@dataclass(frozen=True)
class Edit:
    """What is changed in which file, and the difference that has to be named."""

    file: str
    text: str
    verb: str
    what: str
    name: str
    fields: dict[str, tuple[str, str]] | None = field(default=None)
    """Field to before and now; None: not looked at (added, removed)."""
    was: str = ""


def read(file: str) -> str:
    return (DEMO / file).read_text(encoding="utf-8")


def swap(file: str, old: str, new: str, count: int = 1) -> str:
    text = read(file)
    assert old in text, old
    return text.replace(old, new, count)


def wires(file: str) -> list[tuple[str, str, str, str]]:
    """Line, id, end A, end B of every wire."""
    rows = re.findall(r"^(  (\w+): \{from: ([^,]+), to: ([^,]+), .*)$", read(file), re.MULTILINE)
    assert rows
    return rows


CAVITIES = [f"{ref}-{n}" for ref in ("J114", "P114") for n in range(1, 16)] + [f"P115-{n}" for n in range(1, 7)]


def moved(chance: Random) -> Edit:
    line, name, a, b = chance.choice(wires(J))
    key, old, end = chance.choice((("from", a, "end A"), ("to", b, "end B")))
    new = chance.choice([p for p in (*CAVITIES, "SP1", "SP2", "SP3", "SP4", "SP5") if p not in (a, b)])
    text = swap(J, line, line.replace(f"{key}: {old},", f"{key}: {new},"))
    return Edit(J, text, "changed", "wire", name, {end: (old, new)})


def removed(chance: Random) -> Edit:
    line, name, *_ = chance.choice(wires(J))
    return Edit(J, swap(J, line + "\n", ""), "removed", "wire", name)


def added(chance: Random) -> Edit:
    line, *_ = chance.choice(wires(J))
    new = f"  W900A22: {{from: {chance.choice(CAVITIES[:15])}, to: {chance.choice(CAVITIES[15:])}, gauge: 22 AWG}}\n"
    return Edit(J, swap(J, line + "\n", line + "\n" + new), "added", "wire", "W900A22")


def wire_renamed(chance: Random) -> Edit:
    _, name, *_ = chance.choice(wires(J))
    return Edit(J, swap(J, f"  {name}:", "  W901A22:"), "renamed", "wire", "W901A22", {}, name)


def renamed(chance: Random) -> Edit:
    what, old, new = chance.choice(
        [("splice", f"SP{n}", "SP77") for n in range(1, 6)]
        + [("cable", f"C501{n}", "C577") for n in "ABC"]
        + [("connector", "J114", "J177"), ("connector", "P114", "P177"), ("connector", "P115", "P177")]
    )
    return Edit(J, re.sub(rf"\b{old}\b", new, read(J)), "renamed", what, new, {}, old)


def length(chance: Random) -> Edit:
    lines = [row for row in wires(J) if "length:" in row[0]]
    line, name, *_ = chance.choice(lines)
    found = re.search(r"length: (\d+) mm", line)
    assert found is not None
    new = int(found[1]) + chance.randint(1, 90)
    text = swap(J, line, line.replace(found[0], f"length: {new} mm"))
    return Edit(J, text, "changed", "wire", name, {"length": (f"{found[1]} mm", f"{new} mm")})


def made_of(chance: Random) -> Edit:
    """Another gauge and another colour; both stand in the part number (M22759/16: size, then colour digit)."""
    lines = [row for row in wires(J) if "cable:" not in row[0]]
    line, name, *_ = chance.choice(lines)
    found = re.search(r"M22759/16-(\d\d)-9", line)
    assert found is not None
    size, colour = chance.choice([("18", "9"), (found[1], "2"), ("24", "0")])
    new = f"M22759/16-{size}-{colour}"
    fields = {"type": (found[0], new)}
    if size != found[1]:
        fields["gauge"] = (f"{found[1]} AWG", f"{size} AWG")
    if colour != "9":
        fields["colour"] = ("9", colour)
    return Edit(J, swap(J, line, line.replace(found[0], new)), "changed", "wire", name, fields)


def simple(file: str, old: str, new: str, what: str, name: str, which: str, before: str, after: str) -> Edit:
    return Edit(file, swap(file, old, new), "changed", what, name, {which: (before, after)})


def listed() -> list[Edit]:
    """One of each other sort."""
    return [
        simple(J, "C501C: {type: M27500-22TG2T14, length: 290 mm", "C501C: {type: M27500-22TG2T14, length: 295 mm",
               "cable", "C501C", "length", "290 mm", "295 mm"),
        simple(J, "SP3: {part: M81824/1-1", "SP3: {part: M81824/1-2", "splice", "SP3", "part",
               "M81824/1-1", "M81824/1-2"),
        simple(J, "at: 120 mm from", "at: 125 mm from", "splice", "SP3", "place along the bundle", "120 mm", "125 mm"),
        simple(J, "contacts: M39029/56-348", "contacts: M39029/56-349", "connector", "P115", "contacts",
               "M39029/56-348", "M39029/56-349"),
        simple(J, "revision: A", "revision: B", "job", "file", "revision", "A", "B"),
        simple(J, "text: first issue", "text: second issue", "revision", "A", "text", "first issue", "second issue"),
        simple(J, "{M39029/56-348: 2}", "{M39029/56-348: 3}", "spare contact", "M39029/56-348", "number", "2", "3"),
        simple(J, "connector: 40 mm", "connector: 45 mm", "cutting allowance", "connector", "length", "40 mm", "45 mm"),
        simple(J, "remnants: [2.4 m]", "remnants: [2.5 m]", "stock", "M22759/16-22-9", "remnants", "2.4 m", "2.5 m"),
        simple(J, "value: 40 mm", "value: 41 mm", "limit", "splice-near-connector", "value", "40 mm", "41 mm"),
        simple(J, "A12J1-4: CAN L", "A12J1-4: CAN SHIELD", "tap", "A12J1-4", "carries", "CAN L", "CAN SHIELD"),
        simple(A, "{name: WING EQPT, rating: 5 A", "{name: WING EQPT, rating: 7.5 A", "breaker", "CB7", "rating",
               "5 A", "7.5 A"),
        simple(A, "bus: BUS1, resistance: 40 mohm}\n  CB9", "resistance: 40 mohm}\n  CB9", "breaker", "CB7", "bus",
               "BUS1", "not stated"),
        simple(A, "9: TOW REL OPEN", "9: OAT SIG", "cavity", "P14-9", "carries", "TOW REL OPEN", "OAT SIG"),
        simple(A, "rate: 500 kbit/s", "rate: 250 kbit/s", "circuit", "CAN H", "rate", "500000 bit/s", "250000 bit/s"),
        simple(A, "bond: 1.8 mohm", "bond: 1.9 mohm", "ground stud", "GS8", "bond", "0.0018 ohm", "0.0019 ohm"),
        simple(A, "wet: no", "wet: yes", "zone", "wing root", "wet", "no", "yes"),
        simple(A, "nose rib 1: 20 mm", "nose rib 1: 21 mm", "route", "leading edge run", "passages",
               "nose rib 1 20 mm, nose rib 2 20 mm", "nose rib 1 21 mm, nose rib 2 20 mm"),
        simple(A, "capacity: 18 Ah", "capacity: 17 Ah", "source", "BAT1", "capacity", "18 Ah", "17 Ah"),
        simple(A, "current: 3.5 A", "current: 3.4 A", "load", "FUEL PUMP", "current", "3.5 A", "3.4 A"),
        simple(A, "marking: WR2 WING", "marking: WR2", "connector", "P15", "marking", "WR2 WING", "WR2"),
        simple(A, "mass: 452 kg", "mass: 453 kg", "aircraft", "data", "mass", "452 kg", "453 kg"),
        simple(E, "current: 0.9 A", "current: 0.8 A", "pin", "A12J1-1", "current", "0.9 A", "0.8 A"),
        simple(E, "terminator state: off", "terminator state: fitted", "pin", "A12J1-3", "terminator state",
               "off", "fitted"),
        simple(E, 'set: "21"', 'set: "22"', "setting", "A12 CAN node id", "set", "21", "22"),
        simple(E, "note: invented for the demo", "note: invented", "equipment", "A12", "note", "invented for the demo",
               "invented"),
        Edit(J, swap(J, "  A12J1-6: CAN SHIELD\n", ""), "removed", "tap", "A12J1-6"),
        Edit(A, swap(A, "    mates: J15\n", ""), "removed", "mate", "J15/P15"),
        Edit(A, swap(A, "  L112A20: {from: CB9-load, to: J14-12, type: M22759/16-20-9, length: 2.6 m}\n", ""),
             "removed", "wire", "L112A20"),
        Edit(A, re.sub(r"\bOAT SIG\b", "OAT PROBE", read(A)), "renamed", "circuit", "OAT PROBE", {}, "OAT SIG"),
        Edit(A, re.sub(r"\bCB9\b", "CB19", read(A)), "renamed", "breaker", "CB19", {}, "CB9"),
        Edit(A, re.sub(r"\bGS3\b", "GS13", read(A)), "renamed", "ground stud", "GS13", {}, "GS3"),
        Edit(S, swap(S, "od: 3.1 mm", "od: 3.2 mm"), "changed", "shop's part", "cable size M22759/18-22 x 2"),
    ]  # fmt: skip


RANDOM: tuple[Callable[[Random], Edit], ...] = (moved, moved, removed, added, wire_renamed, renamed, length, made_of)
