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
    zone = build.dry
    number = plug[1:]
    for ref in (plug, receptacle):
        entry: File = {"name": f"disconnect {number}, half {ref}", "part": parts[ref], "zone": zone}
        entry["contacts"] = t.contact_of(parts[ref])
        if not dsub:
            entry["plugs"] = t.PLUGS[found.size]
        entry["marking"] = ref
        if ref == plug:
            entry["mates"] = receptacle
        entry["cavities"] = {name: used.get(name, "spare") for name in found.cavities}
        build.air["connectors"][ref] = entry
    for mine, of in ((f"J1{number}", plug), (f"P1{number}", receptacle)):
        copy = parts[receptacle if of == plug else plug]
        entry = {"name": f"jumper, to {of}", "part": copy, "contacts": t.contact_of(copy), "zone": zone, "mates": of}
        if not dsub:
            entry["plugs"] = t.PLUGS[found.size]
        build.jump["connectors"] = {mine: entry, **build.jump["connectors"]}
    # Spares are led through as well in half of the jobs, else plugged (or left, where nothing is sealed).
    if build.chance(0.5):
        from tests.corpus.build import Line, Run

        left = [name for name in found.cavities if name not in used]
        gauge = t.GAUGES[found.size][-1]
        build.runs.extend(Run([Line("", "none", gauge, cavity=name)]) for name in left[:6])


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
    stubs = {plug: build.rng.randrange(320, 900, 10) for line in order for plug, _ in line.taps}
    for line in order:
        ref = f"SP{len(build.jump['splices']) + 1}"
        gauges = [line.gauge, line.gauge, *(_stub_gauge(build, line, plug) for plug, _ in line.taps)]
        where = f"{at[id(line)]} mm from {one}"
        build.jump["splices"][ref] = {"part": t.splice_for(gauges), "zone": build.dry, "at": where}
        line.fields["splice"] = ref
    for run in build.runs:
        if run.cable:
            _cable_run(build, run, one, two, length, stubs)
        else:
            _wire_run(build, run.lines[0], one, two, length, at, stubs)


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
    build: Build, line: Line, one: str, two: str, length: int, at: dict[int, int], stubs: dict[str, int]
) -> None:
    letter, tail = _letter(line), {"bundle": "main"}
    if id(line) not in at:
        _wire(build, f"{one}-{line.cavity}", f"{two}-{line.cavity}", letter, line.gauge, length, **tail)
        for plug, cavity in line.taps:  # at the ground stud itself
            stud, far = line.fields["note"], stubs.get(plug, 400)
            gauge = _stub_gauge(build, line, plug)
            _wire(build, stud, f"{plug}-{cavity}", letter, gauge, far, bundle=f"to {plug}")
        return
    splice, far = line.fields["splice"], at[id(line)]
    _wire(build, f"{one}-{line.cavity}", splice, letter, line.gauge, far, **tail)
    _wire(build, splice, f"{two}-{line.cavity}", letter, line.gauge, length - far, **tail)
    for plug, cavity in line.taps:
        gauge = _stub_gauge(build, line, plug)
        _wire(build, splice, f"{plug}-{cavity}", letter, gauge, stubs[plug], bundle=f"to {plug}")


def _cable_run(build: Build, run: Run, one: str, two: str, length: int, stubs: dict[str, int]) -> None:
    """A cable from half to half; when tapped, one in, one out and one to each plug."""
    tapped = any(line.taps for line in run.lines)
    ends: list[tuple[str, str, int, str]] = [("in", "splice", length, "main"), ("splice", "out", length, "main")]
    if not tapped:
        ends = [("in", "out", length, "main")]
    plugs = dict.fromkeys(plug for line in run.lines for plug, _ in line.taps)
    ends += [("splice", plug, stubs[plug] + 20, f"to {plug}") for plug in plugs]
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
                entry["length"] = f"{stubs[end]} mm"
            entry["untwisted"] = f"{build.rng.randrange(12, 24)} mm"
            build.jump["wires"][name] = entry


def airframe_wires(build: Build, live: str, load: str) -> None:
    """What is known of the existing wiring: feeds, returns and shields to where they start, and one existing box."""
    every = lines(build)
    said = build.air["connectors"][load]["cavities"]
    stud = f"GS{build.next()}"
    for line in every:
        fields = {k: v for k, v in line.fields.items() if k != "splice"}
        if line.name and line.name not in build.air["circuits"]:
            build.air["circuits"][line.name] = {"signal": line.signal, **fields}
        end = f"{live}-{line.cavity}"
        if "breaker" in line.fields:
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
    say("M22759/18", "wire", temperature="150 C", volts="600 V", conductor="tin-coated copper")
    say("M22759/18-22", "wire size", od="1.09 mm", gauge="22 AWG", spec="M22759/18")
    for number, (low, high) in t.SPLICES.items():
        say(number, "splice", cma=f"{low} cmil to {high} cmil")
