"""Power-up: ohms first, volts at every pin before the new plug is mated, then the order in which power comes on.

A function test of every connector that was disturbed, sense included, and test gear counted in and out.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.connector import Origin
from harnesscheck.harness import Kind
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.place import Point
from harnesscheck.ringout import kept, live
from harnesscheck.ringout.article import Article, article
from harnesscheck.ringout.link import STRUCTURE
from harnesscheck.ringout.plan import plan
from harnesscheck.ringout.reading import band, computed
from harnesscheck.sheets import Wish, not_needed
from harnesscheck.sheets import _readings as rows
from harnesscheck.sheets._steps import counted, disturbed

PART, ORDER = 7, 20
TITLE = "Power-up"
STEP = (
    Column("step", right=True),
    Column("what"),
    Column("done", blank=True, least=14),
    Column("by", blank=True, least=12),
)
CAN = (
    ("60 ohm (55 to 65)", "right: two terminators of 120 ohm", "go on"),
    ("120 ohm", "one terminator is missing, or H or L is open on the way to one",
     "take the jumper out, read both halves: 120 and open: a terminator is missing on the open side; 120 and 120: the "
     "open is in the jumper"),
    ("40 ohm", "a third terminator", "unplug the new unit: back to 60, then its own terminator must be switched off"),
    ("30 ohm", "four terminators", "as for 40 ohm, twice"),
    ("open", "no terminator on this side, or both conductors open", "read both halves with the jumper out"),
    ("0 to 10 ohm", "H and L shorted", "do not apply power; the lowest reading is nearest the short"),
    ("50 to 55 ohm", "many units on the bus share it, or an extra resistor", "count the units: 30 of 10 kohm make 51"),
)  # fmt: skip
SENSE = {
    "power": "the loads on it run, and stop when their own breaker is pulled and no other",
    "ground": "its loads run; no dimming or noise when others switch",
    "shield": "nothing in use shows it: ring-out, one end lifted",
    "discrete": "operate it both ways: each state shows as what it is, not the other way round",
    "analogue": "move the quantity up: the reading goes up; then down",
    "signal ground": "the reading of its sensor stands still while loads are switched",
    "thermocouple": "warm the tip: the reading rises, it does not fall",
    "can": "every unit is heard, the error counters stand still; each one by its own name",
    "rs232": "data arrive from the right talker", "rs422": "data arrive from the right talker",
    "rs485": "every unit answers under its own address", "arinc429": "the right labels at each receiver",
    "nmea0183": "sentences arrive from the right talker", "ethernet": "link up, no errors",
    "video": "the right picture",
    "rf": "transmit and receive", "audio": "heard at the right station, left is left", "pulse": "faster reads faster",
    "ignition": "off is off and on is on, each magneto by itself: a broken P-lead leaves it live",
    "lighting": "each lamp, bright is up",
}  # fmt: skip


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return "" if job.subject.kind is Kind.INSTALLED else "an airframe or a unit alone is not powered up anew"


def content(job: Job, wish: Wish) -> Content:
    """The power-up sheet of a job."""
    why = not_applicable(job, wish)
    if why:
        return not_needed("power-up", TITLE, why, True)
    under = article(job, "installed")
    pairs = live.plugs(job)
    new = ", ".join(ref for ref, _ in pairs) or "the new plug"
    blocks: list[Block] = [
        Words("Begun when the ring-out of the jumper is signed. Stop at the first value that is not accepted.", True),
        counted("test-gear"),
        *_mating(job, pairs),
        *_ohms(under, new),
        *_volts(job, new),
        *_on(job, pairs),
        *_functions(job),
        *_settings(job),
        Heading("After the last line"),
        Words("Count the test gear out on the first table: a test jumper left fitted has flown (ASRS ACN 467542)."),
        *_sources(),
    ]
    return Content("power-up", TITLE, tuple(blocks), False, tuple(decisions(job.subject)))


def _steps(name: str, texts: list[str], first: int = 1) -> Table:
    return Table(name, STEP, tuple((str(n), text, "", "") for n, text in enumerate(texts, first)))


def _mating(job: Job, pairs: list[tuple[str, str]]) -> Iterator[Block]:
    yield Heading("1. Dead aircraft, mate the kit")
    pulled = ", ".join(live.breakers(job)) or "every breaker of these circuits (none is named)"
    steps = [
        f"Battery disconnected, external power off. Pull and tag {pulled}.",
        "Volts from the supply pins of the pair to structure: nothing above 0.1 V, or something else feeds it.",
    ]
    for one, two in job.subject.opens:
        steps.append(f"Open {one}/{two}. Look at both faces: no bent pin, no water, seal in place.")
    boxes = {box for _, box in pairs}
    for mate in job.subject.mates:
        ours = [r for r in (mate.a, mate.b) if job.subject.connectors[r].origin is Origin.JUMPER]
        if ours and not mate.refs & boxes:
            other = mate.b if ours[0] == mate.a else mate.a
            steps.append(f"Read the marking on both, then mate {ours[0]} to {other}; lock it and pull at it.")
    for ref, box in pairs:
        steps.append(f"Leave {ref} off {box}, capped: the new unit is UNPLUGGED until part 4.")
    yield _steps("mate", steps)


def _ohms(under: Article, new: str) -> Iterator[Block]:
    yield Heading("2. Ohms, before any power")
    yield Words(f"Battery still disconnected, {new} unmated. A number, not a beep; leads nulled.")
    made = plan(under)
    table = [r for r in made.readings if r.judged]
    yield rows.apart("ohms", table, "Readings of the ring-out with the kit in")
    lines: dict[str, dict[str, Point]] = {}
    for net, points in enumerate(under.nets):
        for name in under.circuit(net).split(", "):
            circuit = under.harness.circuits.get(name)
            if circuit is not None and circuit.signal == "can" and circuit.pair and circuit.line:
                lines.setdefault(circuit.pair, {}).setdefault(circuit.line, points[0])
    checks = [(f"{name} {a}", p, STRUCTURE) for name, pair in lines.items() for a, p in pair.items()]
    fed = [p for p in under.terminals if p.ref in under.harness.breakers and p.cavity == "load"]
    checks += [(f"{name} {a} to {f}", p, f) for name, pair in lines.items() for a, p in pair.items() for f in fed]
    if checks:
        accept = "more than 1 Mohm with every unit unplugged; else as before the kit went in"
        yield Table(
            "bus-to-rails",
            (Column("what"), Column("lead A"), Column("lead B"), Column("accept"), *rows.BLANKS),
            tuple((what, str(a), str(b), accept, "", "") for what, a, b in checks),
            "Bus to structure and supply: H to L still shows 60 ohm when one of them is grounded",
        )
    if lines:
        meaning = (Column("H to L reads"), Column("means"), Column("then"))
        yield Table("can", meaning, CAN, "What the ohms between CAN H and L mean, all other units plugged in")
        both = [f"{name}: {pair['H']} to {pair['L']}" for name, pair in lines.items() if {"H", "L"} <= set(pair)]
        if both:
            yield Words(f"Read it at {'; '.join(both)}.")


def _volts(job: Job, new: str) -> Iterator[Block]:
    yield Heading("3. Power on, new plug unmated")
    close = [f"Close {ref} alone; go on when it holds." for ref in live.breakers(job)]
    yield _steps("close", ["Reconnect the battery; bus volts on the aircraft's own meter: ________ V.", *close])
    found = live.volts(job)
    columns = (Column("no"), Column("red lead"), Column("black lead"), Column("computed", right=True), Column("accept"),
               Column("what it is"), *rows.BLANKS)  # fmt: skip
    table = []
    for r in found:
        accept = band(r) + (", and write it down" if r.judged and r.low is None else "")
        what = "; ".join(word for word in (r.why, r.unknown) if word)
        table.append((rows.anchored(r), rows.points(r.a), rows.points(r.b), computed(r) or "-", accept, what, "", ""))
    yield Table("volts", columns, tuple(table), f"Volts at every contact of {new}; 0 V before its breaker is closed")
    if not found:
        yield Words("The kit has no plug for a new unit: volts are those of the circuits it leads through.")


def _on(job: Job, pairs: list[tuple[str, str]]) -> Iterator[Block]:
    yield Heading("4. Power off, mate the new unit, power on")
    steps = ["Pull the same breakers again, disconnect the battery; 0 V at the new plug."]
    for ref, box in pairs:
        steps.append(f"Read the marking, then mate {ref} to {box}; lock it.")
    pins = [p for p in job.subject.pins() if p.signal == "can" and p.terminator is not None]
    for pin in pins:
        said = {"fitted": "on", "off": "off", "none": "none"}.get(pin.terminator_state or "", "not stated")
        steps.append(f"CAN H to L again, unit plugged in (its terminator: {said}): ________ ohm, by the table above.")
    steps += ["Battery on, then close the breakers one at a time: smell, heat, current on the aircraft's meter.",
              "Volts at the supply of the new unit while it runs: ________ V (see the volts sheet)."]  # fmt: skip
    yield _steps("on", steps)


def _functions(job: Job) -> Iterator[Block]:
    yield Heading("5. Function and sense of every connector disturbed")
    yield Words("Not only the new one: four connectors re-mated without a function check went wrong (ASRS ACN 945142).")
    harness = job.subject
    existing = {ref for ref in disturbed(harness) if harness.connectors[ref].origin is Origin.AIRFRAME}
    columns = (Column("circuit"), Column("at"), Column("what shows that it works, the right way round"),
               Column("seen", blank=True, least=20), Column("by", blank=True, least=12))  # fmt: skip
    table, spares = [], []
    cavities: dict[str, list[Point]] = {}
    for point, name in kept.names(job).items():
        if point.ref in existing:
            cavities.setdefault(name, []).append(point)
    for name, points in cavities.items():
        circuit = harness.circuits.get(name)
        if name == "spare":
            spares = points
            continue
        signal = circuit.signal if circuit is not None else None
        note = f" ({circuit.note})" if circuit is not None and circuit.note else ""
        shows = SENSE.get(signal or "", "its signal class is not stated: by the manual of its unit")
        table.append((name + note, rows.points(points), shows, "", ""))
    for ref, box in live.plugs(job):
        table.append((f"new unit at {box}", ref, "self test and first data by its maker's manual", "", ""))
    yield Table("functions", columns, tuple(table))
    if spares:
        yield Words(f"Spare, proven by ring-out only: {rows.points(spares)}.")


def _settings(job: Job) -> Iterator[Block]:
    yield Heading("6. Settings of the new unit")
    columns = (Column("unit"), Column("setting"), Column("set to"), Column("found", blank=True, least=24),
               Column("left at", blank=True, least=24), Column("by", blank=True, least=12))  # fmt: skip
    table = [(d.ref, s.name, s.value, "", "", "") for d in job.subject.devices.values() for s in d.settings]
    if table:
        yield Table("settings", columns, tuple(table))
    unsaid = [d.ref for d in job.subject.devices.values() if not d.settings]
    if unsaid:
        yield Words(f"{', '.join(unsaid)}: no commissioning value is stated; read the maker's manual.")
    if not job.subject.devices:
        yield Words("No new unit is listed.")


def _sources() -> Iterator[Block]:
    yield Heading("Where the limits are from")
    yield Facts((
        ("volts", "DC solve: from the lowest bus with every known load at its peak to the highest bus without load"),
        ("margin", str(live.MARGIN_SOURCE)),
        ("CAN volts", str(live.CAN_IDLE_SOURCE)),
        ("60, 120 and 40 ohm", "published CAN resistance checks (confirmed); 30 ohm computed"),
        ("55 to 65 ohm", str(kept.TERMINATOR_SOURCE)),
        ("1 Mohm to structure", "all units off (from memory)"),
        ("what shows it", "common practice for each class of signal; the units' own manuals come first"),
    ))  # fmt: skip
