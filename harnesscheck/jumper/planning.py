"""From files to a plan: what is asked for, the taps that are chosen, the search, and the finished text.

``plan`` reads what is there, chooses and lays out, reads the text of its own plan with the ordinary reader and puts it
to all checks. It writes nothing.
"""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from harnesscheck import api, units
from harnesscheck.checks import long_stub, splice_near_connector
from harnesscheck.document import read
from harnesscheck.fault import Fault, InputError, nearest
from harnesscheck.finding import Report
from harnesscheck.formats import harness_yaml
from harnesscheck.formulas import stub_length
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.jumper import writing
from harnesscheck.jumper.choice import Chosen, Tapped, choose
from harnesscheck.jumper.deciding import in_decided_file, line_in
from harnesscheck.jumper.design import TRIES, Layout, Result, Space, difference, search
from harnesscheck.jumper.keeping import DECISIONS, Kept, kept
from harnesscheck.jumper.kit import Kit, up
from harnesscheck.jumper.lines import through
from harnesscheck.jumper.stations import TooShortError
from harnesscheck.jumper.stopping import No, excluded, stopped
from harnesscheck.jumper.terminators import terminators
from harnesscheck.jumper.trunk import Draft, Way
from harnesscheck.place import Point
from harnesscheck.started import untouched


@dataclass(frozen=True, slots=True)
class Asked:
    """What a person asks for."""

    airframe: str
    equipment: tuple[str, ...]
    at: str
    out: str
    use: Mapping[Point, str] = field(default_factory=dict)
    least: str | None = None
    units: tuple[str, ...] = ()
    """Designators, in the order of ``equipment``."""
    trunk: float | None = None
    """Length of the trunk, metres."""
    route: str | None = None
    branch: float | None = None
    """Length of the way to the equipment where there is no route, metres."""
    decided: str | None = None
    """Jumper file whose limits: and waivers: hold for the plan as well."""


OTHER_TAPS = 8
"""How many other choices of a circuit are tried when the first cannot be laid out so that it passes the checks."""
SURE_TRIES = 3
"""Layouts that are looked at where two rules exclude each other: enough to name what else a person has to decide."""
SIGNED = "Planned by harnesscheck tap."
"""How a plan begins; a file that does not is a person's own and is not overwritten."""


@dataclass(frozen=True, slots=True)
class Plan:
    """The outcome: ``text`` is the jumper file, or None where ``noes`` says why there is none."""

    chosen: Chosen
    title: str = ""
    text: str | None = None
    kit: Kit | None = None
    result: Result | None = None
    report: Report | None = None
    noes: tuple[No, ...] = ()
    remarks: tuple[str, ...] = ()


def plan(asked: Asked) -> Plan:
    """Plan the tap. Raises ``InputError`` for input that cannot be read."""
    out = Path(asked.out)
    before = _before(asked, out)
    head = _head(asked, before)
    bare = _bare(asked, head)
    assert bare.airframe is not None
    airframe, boxes = bare.airframe, bare.equipment
    one, _, two = asked.at.partition("/")
    use = {**before.use, **asked.use}
    first: Plan | None = None
    waiting: list[Mapping[Point, str]] = [use]
    laid: set[tuple[Tapped, ...]] = set()
    for wanted in waiting:
        chosen = choose(airframe, boxes, (one, two), wanted)
        taps = tuple(replace(tap, reasons=(), others=()) for tap in chosen.taps)
        if first is not None and (chosen.refusals or taps in laid):
            continue
        laid.add(taps)
        chosen = _second_thoughts(chosen, wanted, use, first)
        made = _attempt(asked, head, before, airframe, boxes, (one, two), chosen)
        if made.text is not None or len(laid) > OTHER_TAPS:
            return made if made.text is not None or first is None else first
        first = first or made
        waiting += _otherwise(made, wanted, airframe)
    assert first is not None
    return first


def _second_thoughts(
    chosen: Chosen, wanted: Mapping[Point, str], use: Mapping[Point, str], first: Plan | None
) -> Chosen:
    """The taps with the reason why another circuit than the first choice is taken; no person has asked for it."""
    if first is None:
        return chosen
    before = {tap.pin: tap.circuit for tap in first.chosen.taps}
    taps = []
    for tap in chosen.taps:
        reasons = tap.reasons
        if tap.pin in wanted and tap.pin not in use:
            why = f"{before.get(tap.pin)}, the first choice, cannot be laid out: {first.noes[0].what}"
            reasons = tuple(dict.fromkeys(why if reason == "asked for by a person" else reason for reason in reasons))
        taps.append(replace(tap, reasons=reasons))
    return replace(chosen, taps=tuple(taps))


def _otherwise(made: Plan, use: Mapping[Point, str], airframe: Harness) -> list[Mapping[Point, str]]:
    """Other circuits for the pins that the findings are about, one at a time, as a person would ask for them.

    A drop or a load is the business of the returns as well. What would do comes before what will not.
    """
    if made.result is None:
        return []
    found = [f for tried in made.result.failed for f in tried.faults]
    said = " ".join(f"{f.headline} {f.value}" for f in found)
    drawn = any(f.check in ("excess-voltage-drop", "over-ampacity", "breaker-trip-band") for f in found)

    def blamed(tap: Tapped) -> bool:
        return (
            tap.circuit in said
            or f"{tap.pin} " in said
            or (drawn and airframe.circuits[tap.circuit].signal == "ground")
        )

    others = [
        (tap.pin, *other) for tap in made.chosen.taps if tap.pin not in use and blamed(tap) for other in tap.others
    ]
    others.sort(key=lambda each: not each[2].startswith("would do"))
    return [{**use, pin: name} for pin, name, _ in others]


def _attempt(
    asked: Asked, head: writing.Head, before: Kept, airframe: Harness, boxes: Sequence[Harness],
    opened: tuple[str, str], chosen: Chosen,
) -> Plan:  # fmt: skip
    """One choice of taps, laid out and searched."""
    out = Path(asked.out)
    if chosen.refusals:
        return Plan(chosen, noes=tuple(No(f"{r.pin}: {r.reason}", r.remedy, r.tried) for r in chosen.refusals))
    if not chosen.taps:
        return Plan(chosen, noes=(No("no pin of the equipment taps anything", "state what its pins want"),))
    led = {line.cavity for line in through(airframe, opened, {})}
    if lost := [tap for tap in chosen.taps if tap.cavity not in led]:
        remedy = "look at the name of that cavity and at the insert, in the airframe file"
        said_no = "{}: its circuit is in cavity {} of {}, through which no contact leads"
        return Plan(chosen, noes=tuple(No(said_no.format(t.pin, t.cavity, asked.at), remedy) for t in lost))
    ways = _ways(asked, airframe, boxes, chosen)
    if isinstance(ways, No):
        return Plan(chosen, noes=(ways,))
    said = {**{name: each.value for name, each in airframe.overrides.items()}, **before.limits}
    draft = _draft(asked, airframe, boxes, opened, chosen, ways, said)
    try:
        space = Space(draft, asked.least)
        tries = TRIES if not excluded(draft) else SURE_TRIES  # then the findings are wanted, not a layout
        result = search(space, lambda layout: _judge(asked, head, layout, before), tries)
    except TooShortError as error:
        return Plan(chosen, noes=(No(str(error), f"ask for a trunk of {error.least} mm or more"),))
    if result.best is None or result.report is None:
        noes = stopped(draft, result)
        if before.fixed:
            noes += (
                No(f"kept because it is marked # fixed: {before.fixed}", "take the mark off what stands in the way"),
            )
        return Plan(chosen, result=result, noes=noes)
    kit = replace(result.best.kit, tap_reasons={tap.pin: tap.reasons for tap in chosen.taps})
    words = terminators(airframe, boxes, chosen)
    text = _text(head, kit, before, (*_story(asked, result), *words))
    job = harness_yaml.load(out, asked.out, text=text)
    remarks = (*(f"{pin} stays open: {why}" for pin, why in chosen.left), *words)
    remarks += tuple(f"not known: {missing}" for missing in kit.unknown)
    return Plan(chosen, head.title, text, kit, result, api.check(job), remarks=remarks)


def _before(asked: Asked, out: Path) -> Kept:
    """What a person has settled: in the plan that is there already, and the decisions of another jumper file."""
    before = Kept()
    there = read(out, asked.out) if out.is_file() else None
    if there is not None and not untouched(there.lines):
        if not any(line.startswith(f"# {SIGNED}") for line in there.lines[:3]) and there.root.get("wires"):
            remedy = "choose another name with -o; to take over its limits: and waivers:, name it with --decided"
            raise InputError([there.fault(1, 1, "this file is there already and is no plan of this command", remedy)])
        before = kept(there)
    if asked.decided is not None:
        decided = read(Path(asked.decided), asked.decided)
        if not any(decided.root.get(section) for section in DECISIONS):
            raise InputError(
                [decided.fault(1, 1, "nothing is decided in this file", "write limits: or waivers: in it")]
            )
        other = kept(decided)
        entries = [entry for entry in before.entries if entry.section not in DECISIONS]
        entries += [entry for entry in other.entries if entry.section in DECISIONS]
        before = replace(before, entries=tuple(entries), limits=other.limits)
    return before


# -- files -------------------------------------------------------------------------------------------------------


def _head(asked: Asked, before: Kept) -> writing.Head:
    """Title, file names as the plan will give them, and designators of the equipment."""
    base = Path(asked.out).resolve().parent
    airframe = _beside(asked.airframe, base)
    listed: dict[str, str] = {}
    title = read(Path(asked.airframe), asked.airframe).root.get("title")
    names = []
    for number, file in enumerate(asked.equipment):
        typed = _beside(file, base)
        names.append(read(Path(file), file).root.get("title"))
        own = asked.units[number] if number < len(asked.units) else before.units.get(typed)
        unit = own or next(f"A{n}" for n in range(1, 1000) if f"A{n}" not in (*listed, *before.units.values()))
        listed[unit] = typed
    box = " and ".join(str(name) for name in names if name) or "equipment"
    where = f", {title}" if isinstance(title, str) else ""
    return writing.Head(f"Jumper for {box} at {asked.at}{where}", airframe, listed)


def _beside(file: str, base: Path) -> str:
    path = Path(file).resolve()
    if path.is_file() and not path.is_relative_to(base):
        remedy = "write the plan into the folder of the airframe file, or one above it"
        message = f"this file is not in or below the folder {base.name}, where the plan goes"
        raise InputError([Fault(file, 1, 1, message, "", remedy)])
    return Path(os.path.relpath(path, base)).as_posix()


def _skeleton(asked: Asked, head: writing.Head) -> str:
    """A jumper file without a kit: the reader finds what is wrong with the other files and the pair."""
    boxes = "\n".join(f"  {unit}: {writing.scalar(file)}" for unit, file in head.equipment.items())
    title, airframe, at = (writing.scalar(each) for each in (head.title, head.airframe, asked.at))
    return f"kind: jumper\ntitle: {title}\nairframe: {airframe}\nequipment:\n{boxes}\nopens: {at}\n"


def _bare(asked: Asked, head: writing.Head) -> Job:
    """The job without a kit. What is wrong with the command line is said of the command line."""
    try:
        return harness_yaml.load(Path(asked.out), asked.out, text=_skeleton(asked, head))
    except InputError as error:
        mine = [replace(f, file="command line", line=1, column=1, text="") if f.file == asked.out else f
                for f in error.faults]  # fmt: skip
        raise InputError(mine) from None


# -- the job -----------------------------------------------------------------------------------------------------


def _ways(asked: Asked, airframe: Harness, boxes: Sequence[Harness], chosen: Chosen) -> dict[str, Way] | No:
    refs = dict.fromkeys(tap.pin.ref for tap in chosen.taps)
    routes = list(airframe.routes)
    name = asked.route or (routes[0] if len(routes) == 1 else None)
    if asked.route is not None and asked.route not in airframe.routes:
        remedy = nearest(asked.route, routes) or f"the routes are: {', '.join(routes)}"
        raise InputError([Fault("command line", 1, 1, f"there is no route {asked.route!r}", "", remedy)])
    route = airframe.routes[name] if name else None
    length = asked.branch if asked.branch is not None else route.length if route else None
    if length is None:
        if route is not None:
            return No(f"the length of route {route.name} is not stated", "give length: there, or --branch 400 mm")
        if routes:
            return No(f"which way leads to the equipment is not stated: {', '.join(routes)}", "name it with --route")
        return No(
            "how far it is from the opened pair to the equipment is not stated",
            "give routes: in the airframe file with a length, or --branch 400 mm",
        )
    found: dict[str, Way] = {}
    for box in boxes:
        for ref, connector in box.connectors.items():
            if ref in refs:
                here = airframe.connectors[asked.at.partition("/")[0]].zone
                zone = connector.zone or (route.zone if route else None) or here
                found[ref] = Way(name, up(length), zone)
    return found


def _draft(
    asked: Asked, airframe: Harness, boxes: Sequence[Harness], opened: tuple[str, str], chosen: Chosen,
    ways: Mapping[str, Way], said: Mapping[str, str],
) -> Draft:  # fmt: skip
    reaches = {tap.cavity: _reach(airframe, tap, said) for tap in chosen.taps}
    margin = _metres(said, "splice-near-connector", splice_near_connector.LIMIT.value)
    gap = _metres(said, "unstaggered-splices", 0.0) if "unstaggered-splices" in said else None
    return Draft(
        airframe, boxes, opened, {tap.pin: tap.cavity for tap in chosen.taps}, ways, up(margin), reaches,
        up(asked.trunk) if asked.trunk is not None else None, gap=up(gap) if gap is not None else None,
    )  # fmt: skip


def _metres(said: Mapping[str, str], check: str, default: float) -> float:
    """A limit as a person set it, metres; what cannot be read is refused by the check itself later."""
    try:
        return units.length(said[check]) if check in said else default
    except ValueError:
        return default


def _reach(airframe: Harness, tap: Tapped, said: Mapping[str, str]) -> int | None:
    """The longest branch that a signal stands, millimetres; None: no limit is known. Limits as in ``long-stub``."""
    circuit = airframe.circuits.get(tap.circuit)
    if circuit is None:
        return None
    partner = next(
        (c for c in airframe.circuits.values() if c.pair and c.pair == circuit.pair and c.edge is not None), circuit
    )
    most: float | None = None
    if circuit.signal == "can":
        kind = next((c.kind for c in airframe.circuits.values() if c.signal == "can" and c.kind), None)
        plain = stub_length.J1939_STUB if kind == "J1939" else stub_length.CAN_STUB
        most = _metres(said, "long-stub", plain)
    elif circuit.signal in long_stub.BY_EDGE:
        edge = partner.edge
        if edge is None and circuit.signal == "arinc429":
            edge = stub_length.ARINC429_EDGE
        most = stub_length.by_rise_time(edge) if edge is not None else None
    return int(most * 1000 + 1e-6) // 5 * 5 if most is not None else None


# -- text --------------------------------------------------------------------------------------------------------


def _text(head: writing.Head, kit: Kit, before: Kept, story: tuple[str, ...] = ()) -> str:
    return writing.text(writing.entries(replace(head, story=story), kit), before.entries)


def _judge(asked: Asked, head: writing.Head, layout: Layout, before: Kept) -> Report:
    """Read the text of a layout back and put it to all checks."""
    try:
        return api.check(harness_yaml.load(Path(asked.out), asked.out, text=_text(head, layout.kit, before)))
    except InputError as error:
        raise InputError(_in_his_file(fault, asked, before) for fault in error.faults) from None


def _in_his_file(fault: Fault, asked: Asked, before: Kept) -> Fault:
    """A fault of the planned text said of the person's own file that its line comes from.

    That is the file with the decisions, or the plan that is there, with its decisions and what is marked as fixed.
    """
    if asked.decided is not None:
        fault = in_decided_file(fault, asked.out, asked.decided)
    if fault.file != asked.out or not Path(asked.out).is_file():
        return fault
    line = line_in(asked.out, fault)
    fixed = {text.rstrip() for each in before.entries if each.section not in DECISIONS for text in each.lines}
    if fixed and (line is None or fault.text.rstrip() in fixed):
        message = f"the plan cannot be read with what is marked # fixed ({before.fixed}): {fault.message}"
        return replace(fault, line=line or 1, message=message)
    return replace(fault, line=line) if line is not None else fault


def _story(asked: Asked, result: Result) -> tuple[str, ...]:
    assert result.best is not None
    wanted = f"fewest {asked.least} first" if asked.least in ("splices", "parts") else f"least {asked.least} first"
    weighed = f"{wanted}, then the weighted sum" if asked.least else "the weighted sum"
    lines = [
        f"{SIGNED} Read it, edit it; mark what is settled with '# fixed' and plan again.",
        f"Cost by {weighed}: {result.best.cost}; the cheapest of {result.looked_at} layouts that passes every check.",
    ]
    lines += [f"Second to it, {other.cost}: {difference(result.best, other)}." for other in result.runners_up]
    lines += [f"not known: {missing}" for missing in result.best.kit.unknown]
    return tuple(lines)
