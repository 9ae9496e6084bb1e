"""Lays out what ``build.Build`` has collected: cavities, connector halves, new wires, existing wires, shop values."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tests.corpus import tables as t
from tests.corpus.jobs import File

if TYPE_CHECKING:
    from tests.corpus.build import Build, Line, Run

FIRST = 320
"""Distance of the first splice from a connector, mm: more than the 12 in that AC 43.13-1B is recalled to want."""


def lines(build: Build) -> list[Line]:
    """Every trunk line."""
    return [line for run in build.runs for line in run.lines]


def cavities(build: Build, insert: str) -> None:
    """Give each line a cavity; the lines of one cable get neighbours in one row."""
    found = t.INSERTS[insert]
    rows: list[list[str]] = []
    names = list(found.cavities)
    for length in found.rows or (len(names),):
        rows.append(names[:length])
        names = names[length:]
    runs = sorted(build.runs, key=lambda run: (-len(run.lines), build.rng.random()))
    free = sum(len(row) for row in rows) - len(lines(build))
    assert free >= 0, f"{insert} is too small for {build.name}"
    for run in runs:
        room = [row for row in rows if len(row) >= len(run.lines)]
        row = build.rng.choice(room) if room else next(r for r in rows if r)
        gap = build.rng.randrange(min(free, 2, len(row) - len(run.lines)) + 1) if len(row) > len(run.lines) else 0
        if not found.rows or len(run.lines) == 1:
            free -= gap
            del row[:gap]
        taken = row[: len(run.lines)]
        del row[: len(run.lines)]
        short = len(run.lines) - len(taken)
        for other in rows:
            while short and other:
                taken.append(other.pop(0))
                short -= 1
        order = list(run.lines)
        for line, cavity in zip(order, taken, strict=True):
            line.cavity = cavity


def opened_pair(build: Build, insert: str, parts: dict[str, str], plug: str, receptacle: str) -> None:
    """The pair in the aircraft and the two halves of the jumper."""
    found = t.INSERTS[insert]
    dsub = t.family(insert) == "D-sub"
    used = {line.cavity: line.name for line in lines(build)}
    zone = build.dry if dsub else build.rng.choice((build.dry, build.wet))
    number = plug[1:]
    told = build.rng.choice((plug, receptacle))
    for ref in (plug, receptacle):
        entry: File = {"name": f"disconnect {number}, half {ref}", "part": parts[ref], "zone": zone}
        entry["contacts"] = t.contact_of(parts[ref])
        if not dsub:
            entry["plugs"] = t.PLUGS[found.size]
        entry["marking"] = ref
        if ref == plug:
            entry["mates"] = receptacle
        # The pin map of one half is often all there is; where the other half is sealed its plugs must be known as well.
        whole = ref == told or not dsub or build.chance(0.5)
        entry["cavities"] = {n: used.get(n, "spare") for n in found.cavities if whole or n not in used}
        if not whole:
            mine = f"{'P' if ref == receptacle else 'J'}1{number}"
            build.expected.add(("mixed-contact-finish", f"{mine}/{ref}"))
        build.air["connectors"][ref] = entry
    for mine, of in ((f"J1{number}", plug), (f"P1{number}", receptacle)):
        copy = parts[receptacle if of == plug else plug]
        entry = {"name": f"jumper, to {of}", "part": copy, "contacts": t.contact_of(copy), "zone": zone, "mates": of}
        if not dsub:
            entry["plugs"] = t.PLUGS[found.size]
        build.jump["connectors"] = {mine: entry, **build.jump["connectors"]}
    from tests.corpus.build import Line, Run

    # Spares are led through; in some jobs a few end here, plugged, and somebody has said so in writing.
    left = [name for name in found.cavities if name not in used]
    if left and build.chance(0.35):
        ends = left[: build.rng.randrange(1, 5)]
        left = left[len(ends) :]
        build.jump["waivers"] = [
            {"check": "broken-through-circuit", "at": f"{plug}-{end}", "reason": "spares end here, plugged",
             "by": "corpus fabricator", "date": "2026-11-20"}
            for end in ends
        ]  # fmt: skip
    gauge = t.GAUGES[found.size][-1]
    build.runs.extend(Run([Line("", "none", gauge, cavity=name)]) for name in left)


def jumper_wires(build: Build, one: str, two: str) -> None:
    """Trunk wires from half to half, with a splice for every line that is tapped."""
    tapped = [line for line in lines(build) if line.taps and not line.stud]
    for run in build.runs:  # a shield is cut where its cable is cut
        if run.cable and any(line.taps for line in run.lines):
            tapped += [line for line in run.lines if not line.taps]
    order = list(tapped)
    build.rng.shuffle(order)
    at = {id(line): FIRST + build.step * i for i, line in enumerate(order)}
    length = 2 * FIRST + build.step * (len(order) - 1) if order else build.rng.randrange(200, 700, 10)
    # The bundle to a plug leaves the trunk at one place; a splice further away from there has a longer stub.
    plugs = dict.fromkeys(plug for line in order for plug, _ in line.taps)
    leaves = {plug: build.rng.randrange(FIRST, length - FIRST + 1) // 10 * 10 for plug in plugs}
    base = {plug: build.rng.randrange(320, 900, 10) for plug in plugs}
    stubs = {
        (line.name, plug): base[plug] + abs(at[id(line)] - leaves[plug]) for line in order for plug, _ in line.taps
    }
    from_one = build.chance(0.6)
    zone = build.rng.choice((build.dry, build.wet))
    for line in order:
        ref = f"SP{len(build.jump['splices']) + 1}"
        gauges = [line.gauge, line.gauge, *(_stub_gauge(build, line, plug) for plug, _ in line.taps)]
        where = f"{at[id(line)]} mm from {one}" if from_one else f"{length - at[id(line)]} mm from {two}"
        build.jump["splices"][ref] = {"part": t.splice_for(gauges), "zone": zone, "at": where}
        line.fields["splice"] = ref
    slack = build.rng.randrange(0, 30, 5)
    length += slack
    for run in build.runs:
        if run.cable:
            _cable_run(build, run, one, two, length, stubs)
        else:
            _wire_run(build, run.lines[0], one, two, length, at, stubs)


def routes(build: Build) -> None:
    """Ways through the airframe for some of the plugs: shorter than the stubs, wide enough for what goes through."""
    wires, cables = build.jump["wires"], build.jump["cables"]
    for plug, entry in build.jump["connectors"].items():
        own = [w for w in wires.values() if plug in (w["from"].partition("-")[0], w["to"].partition("-")[0])]
        if not entry["name"].startswith("plug of") or build.chance(0.4):
            continue
        lengths = [int((w.get("length") or cables[w["cable"]]["length"]).split()[0]) for w in own]
        thick = 4 * len(own) ** 0.5
        loose = entry.get("fitted") == "aircraft"
        route = f"way to {plug}"
        build.air["routes"][route] = {
            "length": f"{min(lengths) - 20} mm",
            "bend": f"{round(13 * thick)} mm",
            "passages": {"rib 2": f"{round(20 + thick if loose else 50 + thick)} mm"},
            "zone": build.dry,
        }
        entry["route"] = route
        for wire in own:
            if "cable" in wire:
                cables[wire["cable"]]["route"] = route
            else:
                wire["route"] = route


def other_pair(build: Build) -> None:
    """A second disconnect that carries what takes over when one of our circuits fails; the jumper leaves it alone."""
    mine = [line.name for line in lines(build) if line.signal in ("discrete", "power")]
    number = build.next()
    if not mine or build.chance(0.7):
        return
    backup = f"{mine[0]} B"
    build.air["circuits"][backup] = {"signal": build.air["circuits"][mine[0]]["signal"]}
    build.air["circuits"][mine[0]]["redundant"] = backup
    for ref, style, gender in ((f"P{number}", "plug", "socket"), (f"J{number}", "receptacle", "pin")):
        part = t.part("9-35", style, gender, "D")
        build.air["connectors"][ref] = {
            "name": "second disconnect", "part": part, "zone": build.wet, "contacts": t.contact_of(part),
            "plugs": t.PLUGS["22D"], "marking": ref, "cavities": {"3": backup, **dict.fromkeys("12456", "spare")},
        }  # fmt: skip
        if style == "plug":
            build.air["connectors"][ref]["mates"] = f"J{number}"


def _stub_gauge(build: Build, line: Line, plug: str) -> int:
    """Thinnest gauge at the plug that its breaker still protects."""
    sizes = t.GAUGES[t.INSERTS[t.insert_of(build.jump["connectors"][plug]["part"])].size]
    fits = [g for g in sizes if g in t.BREAKER and g >= line.gauge] or [line.gauge]
    if line.signal == "power":
        rating = float(build.air["breakers"][line.fields["breaker"]]["rating"].split()[0])
        fits = [g for g in fits if t.BREAKER[g] >= rating]
    return max(fits)


def _number(build: Build) -> int:
    return 500 + len(build.jump["wires"]) + len(build.jump["cables"])


def _wire(build: Build, a: str, b: str, letter: str, gauge: int, length: int, **more: str) -> str:
    name = f"{letter}{_number(build)}{build.rng.choice('ABC')}{gauge}"
    ends = (a, b) if build.chance(0.7) else (b, a)
    entry = {"from": ends[0], "to": ends[1], "type": f"M22759/16-{gauge}-{build.rng.choice(t.COLOURS)}"}
    if build.chance(0.1):
        del entry["type"]
        entry |= {"gauge": f"{gauge} AWG", "colour": "white", "type": f"M22759/16-{gauge}-9"}
    build.jump["wires"][name] = {**entry, "length": f"{length} mm", **more}
    return name


def _letter(line: Line) -> str:
    from tests.corpus.build import LETTER

    return LETTER.get(line.signal, "W")


def _wire_run(
    build: Build, line: Line, one: str, two: str, length: int, at: dict[int, int], stubs: dict[tuple[str, str], int]
) -> None:
    letter, tail = _letter(line), {"bundle": "main"}
    if id(line) not in at:
        _wire(build, f"{one}-{line.cavity}", f"{two}-{line.cavity}", letter, line.gauge, length, **tail)
        for plug, cavity in line.taps:  # at the ground stud itself
            stud, far = line.fields["note"], stubs.get((line.name, plug), 400)
            gauge = _stub_gauge(build, line, plug)
            _wire(build, stud, f"{plug}-{cavity}", letter, gauge, far, bundle=f"to {plug}")
        return
    splice, far = line.fields["splice"], at[id(line)]
    _wire(build, f"{one}-{line.cavity}", splice, letter, line.gauge, far, **tail)
    _wire(build, splice, f"{two}-{line.cavity}", letter, line.gauge, length - far, **tail)
    for plug, cavity in line.taps:
        gauge = _stub_gauge(build, line, plug)
        _wire(build, splice, f"{plug}-{cavity}", letter, gauge, stubs[line.name, plug], bundle=f"to {plug}")


def _cable_run(build: Build, run: Run, one: str, two: str, length: int, stubs: dict[tuple[str, str], int]) -> None:
    """A cable from half to half; when tapped, one in, one out and one to each plug."""
    tapped = any(line.taps for line in run.lines)
    ends: list[tuple[str, str, int, str]] = [("in", "splice", length, "main"), ("splice", "out", length, "main")]
    if not tapped:
        ends = [("in", "out", length, "main")]
    plugs = dict.fromkeys(plug for line in run.lines for plug, _ in line.taps)
    longest = {plug: max(stubs.get((line.name, plug), 0) for line in run.lines) for plug in plugs}
    ends += [("splice", plug, longest[plug] + 20, f"to {plug}") for plug in plugs]
    for start, end, far, bundle in ends:
        cable = f"C{_number(build)}"
        cores = sum(1 for line in run.lines if line.signal != "shield")
        wired = [line for line in run.lines if end in ("out", "splice") or end in dict(line.taps)]
        build.jump["cables"][cable] = {
            "type": f"M27500-{run.lines[0].gauge}TG{cores}{run.cable}", "length": f"{far} mm", "bundle": bundle,
        }  # fmt: skip
        colours = iter(("white", "blue", "orange"))
        for line in run.lines:
            core = "drain" if line.signal == "shield" else next(colours)
            if line not in wired:
                continue
            splice = line.fields.get("splice") or f"{two}-{line.cavity}"
            a = f"{one}-{line.cavity}" if start == "in" else splice
            b = {"out": f"{two}-{line.cavity}", "splice": splice}.get(end, f"{end}-{dict(line.taps).get(end, '')}")
            name = f"D{_number(build)}{build.rng.choice('ABC')}{line.gauge}"
            entry = {"from": a, "to": b, "cable": cable, "core": core}
            if core == "drain":
                entry |= {"gauge": f"{line.gauge} AWG", "type": f"M22759/16-{line.gauge}-9"}
            if end in plugs:
                entry["length"] = f"{stubs[line.name, end]} mm"
            entry["untwisted"] = f"{build.rng.randrange(12, 24)} mm"
            build.jump["wires"][name] = entry


def airframe_wires(build: Build, live: str, load: str) -> None:
    """What is known of the existing wiring: feeds, returns and shields to where they start, and one existing box."""
    every = [line for line in lines(build) if not line.second]
    twins = {line.name: line.cavity for line in lines(build) if line.second}
    said = build.air["connectors"][load]["cavities"]
    stud = f"GS{build.next()}"
    for line in every:
        fields = {k: v for k, v in line.fields.items() if k != "splice"}
        if line.name and line.name not in build.air["circuits"]:
            build.air["circuits"][line.name] = {"signal": line.signal, **fields}
        end = f"{live}-{line.cavity}"
        if line.name in twins:
            _shared(build, line, twins[line.name], live, load)
        elif "breaker" in line.fields:
            _existing(build, f"{line.fields['breaker']}-load", end, line.gauge)
        elif line.signal == "ground":
            _existing(build, line.fields["note"], end, line.gauge)
        elif line.signal == "shield":
            ends = line.fields["shield ends"]
            said[line.cavity] = {"circuit": line.name, "grounded": "yes" if ends == "both" else "no"}
            if ends == "none":
                build.air["connectors"][live]["cavities"][line.cavity] = {"circuit": line.name, "grounded": "no"}
                continue
            build.air["grounds"].setdefault(stud, {"name": "shield stud", "returns": "signal", "terminals": "0"})
            if sum(w["from"] == stud for w in build.air["wires"].values()) >= 4:
                stud = f"GS{build.next()}"
                build.air["grounds"][stud] = {"name": "shield stud", "returns": "signal", "terminals": "0"}
            _existing(build, stud, end, 22)
    others = [line for line in every if line.name and line.signal not in ("power", "lighting", "ground", "shield")]
    size = t.INSERTS[t.insert_of(build.air["connectors"][live]["part"])].size
    if others and size != "16" and build.chance(0.4):
        box = f"P{build.next()}"
        number = t.part("17-35", "plug", "socket", "A")
        build.air["connectors"][box] = {
            "name": "existing box", "part": number, "zone": build.dry, "contacts": t.contact_of(number),
            "marking": box, "plugs": t.PLUGS["22D"],
            "cavities": {str(n): "spare" for n in range(len(others[:3]) + 1, 56)},
        }  # fmt: skip
        for i, line in enumerate(others[:3], start=1):
            _existing(build, f"{box}-{i}", f"{live}-{line.cavity}", 22)


def _shared(build: Build, line: Line, second: str, live: str, load: str) -> None:
    """A circuit on two cavities, joined by a splice on both sides of the opened pair."""
    box = f"P{build.next()}"
    number = t.part("11-98", "plug", "socket", "D")
    build.air["connectors"][box] = {
        "name": "existing load", "part": number, "zone": build.dry, "contacts": t.contact_of(number), "marking": box,
        "plugs": t.PLUGS["20"], "cavities": dict.fromkeys("BCDEF", "spare"),
    }  # fmt: skip
    for half, start in ((live, f"{line.fields['breaker']}-load"), (load, f"{box}-A")):
        splice = f"SX{build.next()}"
        build.air["splices"][splice] = {"part": "M81824/1-2", "zone": build.dry}
        _existing(build, start, splice, 20)
        for cavity in (line.cavity, second):
            _existing(build, f"{half}-{cavity}", splice, line.gauge)


def _existing(build: Build, a: str, b: str, gauge: int) -> None:
    name = f"X{len(build.air['wires']) + 1}A{gauge}"
    length = f"{build.rng.randrange(60, 400) * 10} mm"
    build.air["wires"][name] = {"from": a, "to": b, "type": f"M22759/16-{gauge}-9", "length": length}


def confirmations(build: Build) -> None:
    """The shop's parts file: everything a check may want to be sure of, marked as invented."""
    parts = build.shop["parts"]

    def say(number: str, kind: str, **facts: object) -> None:
        said = {"status": "shop-confirmed", "document": f"sheet on the shelf ({NOTE})", "by": "corpus fabricator"}
        parts.setdefault(number, {"kind": kind, "facts": []})["facts"].append(
            {**said, "date": "2026-11-20", **{k.replace("_", " "): v for k, v in facts.items()}}
        )

    from tests.corpus.build import NOTE

    numbers = [
        entry["part"]
        for content in (build.air, build.jump, *build.boxes.values())
        for entry in content["connectors"].values()
    ]
    for number in dict.fromkeys(numbers):
        insert = t.INSERTS[t.insert_of(number)]
        if insert.rows:
            style = "plug" if number.startswith("M24308/4") else "receptacle"
            say(number, "connector", family="D-sub", style=style, gender=t.gender_of(number), insert=insert.name,
                sealed="no")  # fmt: skip
            if insert.name not in parts:
                say(insert.name, "insert", cavity_size="20")
        elif insert.confirm and insert.name not in parts:
            say(insert.name, "insert", cavities=list(insert.cavities))
        contact = t.contact_of(number)
        if contact not in parts and insert.rows:
            say(contact, "contact", gender=t.gender_of(number), size="20", family=["D-sub"],
                gauge=t.BARREL["D-sub 20"], finish="gold over nickel")  # fmt: skip
        elif contact not in parts:
            say(contact, "contact", gauge=t.BARREL[insert.size], insulation=t.SEAL[insert.size])
    for gauge, diameter in t.OD.items():
        say(f"M22759/16-{gauge}", "wire size", od=diameter)
    for cores, diameter in ((1, "2.2 mm"), (2, "3.4 mm"), (3, "3.7 mm")):
        say(f"M22759/18-22 x {cores}", "cable size", spec="M22759/18", gauge="22 AWG", cores=str(cores), od=diameter)
    say("M22759/18", "wire", temperature="150 C", volts="600 V", conductor="tin-coated copper")
    say("M22759/18-22", "wire size", od="1.09 mm", gauge="22 AWG", spec="M22759/18")
    for number, (low, high) in t.SPLICES.items():
        say(number, "splice", cma=f"{low} cmil to {high} cmil", sealed="yes")
