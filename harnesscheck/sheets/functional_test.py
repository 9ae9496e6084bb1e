"""Functional test and return to service: one line for each circuit, which wires it proves, and interference on ground.

Every conductor of the kit stands on a line (ASRS 650490: a test that did not use one wire passed with the wire broken).
A spare carries nothing in use: its line says that the ring-out is what proves it.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish, not_needed
from harnesscheck.sheets._coverage import Line, lines
from harnesscheck.sheets._steps import Numbered, Step, aircraft_facts

PART, ORDER = 10, 30
NONE = "an airframe or equipment file alone changes nothing that could be tried"
COLUMNS = (
    Column("line", right=True),
    Column("circuit"),
    Column("what shows that it works"),
    Column("proves wires"),
    Column("seen", blank=True, least=20),
    Column("by", blank=True, least=14),
)
SHOWS = {
    "power": "the loads on it run; volts at the load by the power-up sheet",
    "ground": "the loads on it run; volts from the return to the stud by the power-up sheet",
    "shield": "no test in use shows it: ring-out, one end open",
    "discrete": "each state made at the switch and seen at the lamp or unit",
    "analogue": "reading plausible, and moves with the quantity",
    "signal ground": "reading of its sensor plausible and steady, loads switched",
    "thermocouple": "reading plausible, and rises when warmed",
    "can": "every unit on the bus is heard, error counters stand still for 10 minutes",
    "rs232": "data seen at the receiver, no framing errors",
    "rs422": "data seen at the receiver, no framing errors",
    "rs485": "every unit answers",
    "arinc429": "labels seen at each receiver",
    "nmea0183": "sentences seen, checksums right",
    "ethernet": "link up at full rate, no errors",
    "video": "picture steady",
    "rf": "transmits and receives; reflected power by the radio's manual",
    "audio": "heard at each station, no hum with loads switched",
    "pulse": "reading plausible over its range",
    "ignition": "the drop and the off position by the engine's manual",
    "lighting": "each lamp, over the whole range of the dimmer",
}
GROUND = (
    (
        "Every load of the aircraft switched on and off, one after the other",
        "the new equipment and its bus see nothing",
    ),
    ("Each radio: transmit on three frequencies (low, middle, high)", "no reading or warning moves"),
    ("New equipment at its highest load", "no noise in audio, no reading moves"),
    ("Compass, with the new equipment on and off", "no change, or swung anew"),
    ("Engine run at idle and at power", "all lines above once more"),
)
FLIGHT = (
    ("Flight check: cleared by whom, under which rules", "name: ____________________"),
    ("Items above once more in the air, in calm conditions, near the field", ""),
)


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return "" if job.subject.kind is Kind.INSTALLED else NONE


def content(job: Job, wish: Wish) -> Content:
    """The functional test of the installed kit."""
    harness = job.subject
    title = "Functional and interference check, return to service"
    why = not_applicable(job, wish)
    if why:
        return not_needed("functional-test", title, why)
    number = Numbered()
    found = lines(harness)
    blocks: list[Block] = [
        aircraft_facts(harness),
        Heading("Circuits"),
        Words("What to look for is common practice for each class of signal; the units' own manuals come first."),
        Table("functions", COLUMNS, tuple(_rows(found))),
        Words(_covered(harness, found), strong=True),
        Heading("Interference on the ground (common practice)"),
        number.table("ground", "", [Step(text, limit) for text, limit in GROUND]),
        Heading("Return to service"),
        number.table("return", "", [*(Step(text, limit) for text, limit in FLIGHT), *_last()]),
    ]
    return Content("functional-test", title, tuple(blocks), False, tuple(decisions(harness)))


def _last() -> Iterator[Step]:
    yield Step("Test leads and jumpers counted out", "installation sheet", hold=True)
    yield Step("Records filled in and signed by who may sign", "records", hold=True)


def _rows(found: list[Line]) -> Iterator[tuple[str | Cell, ...]]:
    for number, line in enumerate(found, 1):
        name = f"{line.name} (to {', '.join(line.pins)})" if line.pins else line.name
        yield str(number), name, _shows(line), ", ".join(line.wires) or "no new wire", "", ""


def _shows(line: Line) -> str:
    if not line.carries:
        return "carries nothing in use: only the ring-out proves it"
    return SHOWS.get(line.signal, "signal class not stated: say here how it is tried")


def _covered(harness: Harness, found: list[Line]) -> str:
    wires = {wire for line in found for wire in line.wires}
    in_use = {wire for line in found if line.carries and line.signal != "shield" for wire in line.wires}
    words = f"{len(wires)} new wires, each on a line; {len(in_use)} are proved in use"
    return f"{words}, {len(wires) - len(in_use)} by the ring-out only." if len(in_use) < len(wires) else f"{words}."
