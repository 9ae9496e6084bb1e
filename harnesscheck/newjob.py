"""The four files of a new job, with comments that say what to fill in; nothing in them is guessed.

What the person has said stands in the files; what they have not said is a comment or the word *unknown*, so that the
checks answer *not checked* until it is filled in.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from harnesscheck import started
from harnesscheck.circuit import SIGNALS
from harnesscheck.fault import Fault, InputError, nearest, short
from harnesscheck.output import write_whole
from harnesscheck.parts import open_drawer
from harnesscheck.place import CAVITY, REFERENCE

MOST = 300
"""Cavities of one connector. Common practice: more than any circular or rectangular connector of small aircraft."""
EXAMPLES = {
    "zones": "avionics bay: {wet: no, ambient: -30 C to 70 C, altitude: 15000 ft}",
    "breakers": "CB7: {name: AUX, rating: 5 A, bus: BUS1}",
    "buses": "BUS1: {name: main bus, supply: 14 V}",
    "sources": "ALT1: {kind: alternator, bus: BUS1, supply: 14.2 V, low: 13.5 V, high: 14.6 V, rating: 40 A}",
    "routes": "to the box: {length: 600 mm}",
}
"""An entry of each section that a person fills in; all invented."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the person has said about the job."""

    title: str
    plug: str
    receptacle: str
    cavities: tuple[str, ...]
    unit: str
    pins: tuple[tuple[str, str], ...]
    """Pin of the equipment and its signal class, empty when nobody has said."""
    plug_part: str = ""
    receptacle_part: str = ""
    equipment_part: str = ""
    aircraft: str = ""
    known: tuple[str, ...] = ()
    """The airframe file as a list of wires gives it; empty when there is no list."""


def start(folder: Path, wanted: Wanted, tap: bool = False) -> list[Path]:
    """Write the files of a new job; ``tap`` says that the program can plan the taps itself. Returns the paths.

    Raises ``InputError`` when one of the files is there already: nothing is overwritten. ``OSError`` when the folder
    cannot be written.
    """
    files = {
        "airframe.yaml": iter(wanted.known) if wanted.known else _airframe(wanted),
        "equipment.yaml": _equipment(wanted),
        "jumper.yaml": started.sealed(list(_jumper(wanted, tap))),
        "shop-parts.yaml": _parts(),
    }
    there = [folder / name for name in files if (folder / name).exists()]
    if there:
        remedy = "name a new folder; your file is left as it is"
        raise InputError([Fault(str(path), 1, 1, "this file is there already", "", remedy) for path in there])
    folder.mkdir(parents=True, exist_ok=True)
    for name, lines in files.items():
        write_whole(folder / name, ("\n".join(lines) + "\n").encode("utf-8"))
    return [folder / name for name in files]


def cavities(text: str, option: str) -> tuple[str, ...]:
    """Cavities as typed: how many, counted from 1, or their names: ``15`` or ``A,B,C``. Raises ``InputError``."""
    if re.fullmatch(r"[0-9]+", text) and 0 < int(text) <= MOST:
        return tuple(str(n) for n in range(1, int(text) + 1))
    names = [name.strip() for name in text.split(",")]
    wrong = next((name for name in names if not CAVITY.fullmatch(name)), None)
    if len(names) < 2 or wrong is not None:
        said = f"{option} {short(text)} is neither a number from 1 to {MOST} nor a list of cavities"
        raise _usage(said, "write how many, like 15, or their names as marked on the insert, like A,B,C")
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise _usage(f"{option} names cavity {twice} twice", "name each cavity once; a and A are two cavities")
    return tuple(names)


def pins(text: str, option: str) -> tuple[tuple[str, str], ...]:
    """Pins of the equipment, with a signal class where one is given: ``6`` or ``1:power,2:ground,3``."""
    names, classes = [], []
    for each in text.split(","):
        name, _, signal = each.partition(":")
        signal = signal.strip()
        if signal and signal not in SIGNALS:
            remedy = nearest(signal, SIGNALS) or f"write one of: {', '.join(SIGNALS)}"
            raise _usage(f"{option}: {short(signal)} is no signal class", remedy)
        names.append(name)
        classes.append(signal)
    if len(names) == 1 and classes[0]:
        raise _usage(f"{option} {short(text)} is one pin alone", "a box has a return as well: like 1:power,2:ground")
    found = cavities(",".join(names), option)
    return tuple(zip(found, classes if len(classes) == len(found) else [""] * len(found), strict=True))


def pair(text: str, option: str) -> tuple[str, str]:
    """The mated pair that is opened: ``P14/J14``, first the half that hangs on its wires. Raises ``InputError``."""
    halves = text.split("/")
    if len(halves) == 2 and all(REFERENCE.fullmatch(half) for half in halves) and halves[0] != halves[1]:
        return halves[0], halves[1]
    raise _usage(f"{option} {short(text)} is no mated pair", "write both halves, like P14/J14")


def reference(text: str, option: str) -> str:
    """A unit designator, like A12. Raises ``InputError``."""
    if REFERENCE.fullmatch(text):
        return text
    raise _usage(f"{option} {short(text)} is no reference", "write a letter, then letters and digits, like A12")


def part(text: str, option: str) -> str:
    """A part number as it may stand in a file. Raises ``InputError``."""
    if re.fullmatch(r"[A-Za-z0-9](?:[A-Za-z0-9 ./()-]{0,58}[A-Za-z0-9)])?", text):
        return text
    raise _usage(f"{option} {short(text)} is no part number", "write it in plain characters, like M24308/4-2")


def known_cavities(number: str) -> tuple[str, ...]:
    """The cavities of a connector whose part number the drawer knows; empty when it does not."""
    drawer = open_drawer()
    connector = drawer.get("connector", number) if number else None
    insert = connector.facts.get("insert") if connector else None
    layout = drawer.get("insert", str(insert.value)) if insert else None
    listed = layout.facts.get("cavities") if layout else None
    return tuple(str(name) for name in listed.value) if listed and isinstance(listed.value, tuple) else ()


def _usage(message: str, remedy: str) -> InputError:
    return InputError([Fault("command line", 1, 1, message, "", remedy)])


def _quoted(text: str) -> str:
    """A text as a YAML value in quotes."""
    return "'" + text.replace("'", "''") + "'"


def _part_line(key: str, number: str) -> str:
    return f"    {key}: {number}" if number else f"    # {key}:   fill in the part number"


def _airframe(wanted: Wanted) -> Iterator[str]:
    yield "# What is in the aircraft, as far as you know it. What is not known stays out or says 'unknown': it is then"
    yield "# reported as not checked. Every key is explained in docs/file-format.md."
    yield "kind: airframe"
    yield f"title: {_quoted(wanted.aircraft or 'the aircraft')}"
    yield "parts: shop-parts.yaml"
    yield ""
    yield "# Fill in where the work is, and take the '# ' away:"
    yield "# zones:"
    yield f"#   {EXAMPLES['zones']}"
    yield "# breakers:"
    yield f"#   {EXAMPLES['breakers']}"
    yield "# buses:"
    yield f"#   {EXAMPLES['buses']}"
    yield "# sources:"
    yield f"#   {EXAMPLES['sources']}"
    yield "# grounds:"
    yield "#   GS3: {name: ground stud behind the seat, returns: dc, terminals: 2}   # that are not listed as wires"
    yield "# routes:            # from the pair to the new box; the plan takes the length of its branches from it"
    yield f"#   {EXAMPLES['routes']}"
    yield "# circuits:          # once you list one here, list every circuit that the pin map names"
    yield "#   AUX PWR: {signal: power, supply: 14 V, breaker: CB7, load: 0.6 A, returns: AUX RTN}"
    yield "#   AUX RTN: {signal: ground}"
    yield "#   DATA OUT: {signal: rs232, rate: 9600 bit/s, drivers: 1, receivers: 0}"
    yield from classes("# signal: is one of ")
    yield ""
    yield "connectors:"
    yield f"  {wanted.plug}:"
    yield "    name: the half on the free end of its wires"
    yield "    # marking: what the band on this half says, or none"
    yield "    # zone: avionics bay"
    yield _part_line("part", wanted.plug_part)
    yield f"    mates: {wanted.receptacle}"
    yield "    cavities:  # write the circuit's name: '3: CAN H', or spare; unknown is reported as not checked"
    for name in wanted.cavities:
        yield f"      {_key(name)}: unknown"
    yield f"  {wanted.receptacle}:"
    yield f"    name: the half that {wanted.plug} is plugged into"
    yield "    # marking: what the band on this half says, or none"
    yield "    # zone: avionics bay"
    yield _part_line("part", wanted.receptacle_part)
    yield ""
    yield "# The wires that you know, one a line:"
    yield "# wires:"
    end = f"{wanted.receptacle}-{wanted.cavities[0]}"
    yield f"#   P107A20: {{from: CB7-load, to: {end}, type: M22759/16-20-9, length: 2.6 m}}"


def _key(name: str) -> str:
    """A cavity as a key; names with marks of their own are put in quotes."""
    return name if re.fullmatch(r"[A-Za-z0-9]+", name) else _quoted(name)


def _equipment(wanted: Wanted) -> Iterator[str]:
    yield "# What the maker of the new box says about its receptacle: copy it from the installation manual."
    yield "kind: equipment"
    yield f"title: {_quoted(wanted.title)}"
    yield ""
    yield "connectors:"
    yield "  J1:"
    yield "    name: receptacle of the box"
    yield _part_line("part", wanted.equipment_part)
    yield "    # mating:   the mating part number that the maker names"
    yield "    # contacts: the contact part number fitted by the maker"
    said = [(name, signal) for name, signal in wanted.pins if signal]
    yield "    # function: is the maker's name for the pin, signal: its class."
    yield from classes("    # One of ")
    yield "    # Say of a supply pin: direction: in, supply: 9 V to 32 V, current: 0.5 A, peak: 1 A, returns: 2"
    yield "    # Say of a data pin: direction: out (the box talks) or in, rate: 9600 bit/s; of CAN: line: H or L"
    yield "    # Say of a pin that must stay free: signal: none, connect: no"
    yield f"    {'' if said else '# '}pins:"
    for name, signal in wanted.pins:
        known = f"{_key(name)}: {{function: {signal.upper()}, signal: {signal}}}"
        yield f"      {known}" if signal else f"    #   {_key(name)}: {{function: fill in, signal: fill in}}"


def _jumper(wanted: Wanted, tap: bool) -> Iterator[str]:
    to_plug, to_receptacle, to_box = _own(wanted)
    yield f"# The kit: opens {wanted.plug}/{wanted.receptacle} and leads every circuit through."
    yield "kind: jumper"
    yield f"title: {_quoted(wanted.title)}"
    yield "revision: A"
    yield "airframe: airframe.yaml"
    yield "equipment:"
    yield f"  {wanted.unit}: equipment.yaml"
    yield "parts: shop-parts.yaml"
    yield f"opens: {wanted.plug}/{wanted.receptacle}"
    yield ""
    yield "connectors:"
    yield f"  {to_plug}:"
    yield f"    name: jumper, to {wanted.plug}"
    yield _part_line("part", wanted.receptacle_part)
    yield "    # contacts: the contact part number"
    yield f"    mates: {wanted.plug}"
    yield f"  {to_receptacle}:"
    yield f"    name: jumper, to {wanted.receptacle}"
    yield _part_line("part", wanted.plug_part)
    yield "    # contacts: the contact part number"
    yield f"    mates: {wanted.receptacle}"
    yield f"  {to_box}:"
    yield "    name: plug of the new box"
    yield "    # part:     the mating part number that the maker names"
    yield "    # contacts: the contact part number"
    yield f"    mates: {wanted.unit}J1"
    yield ""
    if tap:
        yield "# 'harnesscheck tap' plans all of this from the other two files, and writes over this file."
    first = wanted.pins[0][0]
    yield "# Which pin of the box takes which circuit of the aircraft:"
    yield "# taps:"
    yield f"#   {wanted.unit}J1-{first}: AUX PWR"
    yield "# splices:"
    yield f"#   SP1: {{part: M81824/1-2, at: 60 mm from {to_plug}}}"
    yield ""
    yield "wires:"
    yield "  # Led straight through. Give each its own id, type and length: type: M22759/16-22-9, length: 300 mm"
    yield "  # A circuit that is tapped goes through a splice instead:"
    one = wanted.cavities[0]
    yield f"  #   P501A20: {{from: {to_plug}-{one}, to: SP1, type: M22759/16-20-9, length: 60 mm}}"
    yield f"  #   P501B20: {{from: SP1, to: {to_receptacle}-{one}, type: M22759/16-20-9, length: 240 mm}}"
    yield f"  #   P501C22: {{from: SP1, to: {to_box}-{first}, type: M22759/16-22-9, length: 350 mm}}"
    for number, name in enumerate(wanted.cavities, 1):
        ends = [f"{ref}-{name}" for ref in (to_plug, to_receptacle)]
        quote = ends if re.fullmatch(r"[A-Za-z0-9]+", name) else [_quoted(end) for end in ends]
        yield f"  T{number}: {{from: {quote[0]}, to: {quote[1]}}}"


def classes(start: str) -> Iterator[str]:
    """The signal classes, in two lines of comment."""
    words, indent = list(SIGNALS), start[: start.index("#") + 1]
    yield start + ", ".join(words[:11]) + ","
    yield f"{indent} {', '.join(words[11:])}."


def _own(wanted: Wanted) -> tuple[str, str, str]:
    """References of the kit's own connectors: those of the aircraft with a hundred added, none used twice."""
    digits = re.sub(r"\D", "", wanted.plug)[:3]
    number = 100 + int(digits or "0")
    while True:
        found = f"J{number}", f"P{number}", f"P{number + 1}"
        if not {wanted.plug, wanted.receptacle, wanted.unit, f"{wanted.unit}J1"} & set(found):
            return found
        number += 100


def _parts() -> Iterator[str]:
    yield "# Values that the shop has looked up for this job. Only a value that somebody has confirmed may stop a job;"
    yield "# 'harnesscheck parts show NUMBER' says what the program knows of a part, and from where. Add, for example:"
    yield "#   M39029/56-348:"
    yield "#     kind: contact"
    yield "#     facts:"
    yield "#       - {status: shop-confirmed, document: the slash sheet you have read, by: your name, date: 2026-01-31,"
    yield "#          gauge: 28 AWG to 22 AWG}"
    yield "kind: parts"
    yield "about: shop confirmations for this job"
    yield "parts: {}"
