"""Builds one clean job from a short description: trunk circuits, equipment units, and what is tapped to what."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from typing import Any

from tests.corpus import tables as t
from tests.corpus.jobs import AIRFRAME, JUMPER, SHOP, File, Job

NOTE = "invented for the corpus"
CORES = ("white", "blue", "orange")
LETTER = {"power": "P", "ground": "P", "can": "D", "shield": "D", "rs232": "R", "analogue": "D", "lighting": "L"}


@dataclass
class Line:
    """One circuit through the opened pair, and the equipment pins that tap it."""

    name: str
    signal: str
    gauge: int = 22
    fields: dict[str, str] = field(default_factory=dict)
    cavity: str = ""
    taps: list[tuple[str, str]] = field(default_factory=list)
    """(jumper plug, cavity) of every stub."""
    second: bool = False
    """The circuit has another line of the same name, joined to this one in the aircraft."""
    stud: bool = False
    """The equipment reaches this ground at the stud, not at a splice."""


@dataclass
class Run:
    """Lines that are led side by side: one wire, or the cores (and drain) of one cable."""

    lines: list[Line]
    cable: str = ""
    """Letters of the cable: ``T14`` shielded, ``U00`` only twisted; empty for a single wire."""


class Build:
    """Collects a job; ``finish`` gives it out."""

    def __init__(self, topology: str, size: int, seed: int) -> None:
        self.rng = Random(f"{topology}/{size}/{seed}")
        self.name = f"{topology}/{size}/{seed}"
        self.number = self.rng.randrange(10, 60)
        self.runs: list[Run] = []
        self.air: File = {
            "kind": "airframe", "title": f"Airframe of {self.name}", "revision": self.rng.choice("ABCD"), "note": NOTE,
            "parts": SHOP, "zones": {}, "routes": {}, "buses": {}, "breakers": {}, "grounds": {}, "circuits": {},
            "connectors": {}, "splices": {}, "wires": {},
        }  # fmt: skip
        self.jump: File = {
            "kind": "jumper", "title": f"Jumper of {self.name}", "revision": "A", "note": NOTE, "airframe": AIRFRAME,
            "equipment": {}, "parts": SHOP, "opens": "", "connectors": {}, "splices": {}, "cables": {}, "wires": {},
            "taps": {}, "kit": {"spare contacts": {}, "site tools": []},
            "allowances": {"connector": "45 mm", "splice": "10 mm", "stud": "60 mm", "round up to": "5 mm"},
        }  # fmt: skip
        self.shop: File = {"kind": "parts", "about": "shop confirmations, " + NOTE, "parts": {}}
        self.boxes: dict[str, File] = {}
        self.expected: set[tuple[str, str]] = set()
        self.volts = self.rng.choice((14, 28))
        self.dry = self.rng.choice(("cabin floor", "equipment bay", "tail cone"))
        self.wet = self.rng.choice(("leading edge", "wheel well"))
        self.panel = "instrument panel"
        self.air["zones"] = {
            self.panel: {"wet": "no", "ambient": "-20 C to 60 C", "altitude": "15000 ft"},
            self.dry: {"wet": "no", "ambient": "-30 C to 70 C", "altitude": "15000 ft"},
            self.wet: {"wet": "yes", "ambient": "-40 C to 55 C", "altitude": "15000 ft"},
        }
        self.air["buses"] = {"BUS1": {"name": "main bus", "supply": f"{self.volts} V"}}
        self.units = 0
        self.step = 40

    # -- names ---------------------------------------------------------------------------------------------------

    def next(self) -> int:
        """A number no reference has yet."""
        self.number += self.rng.randrange(1, 4)
        return self.number

    def chance(self, share: float) -> bool:
        """True in that share of the jobs."""
        return self.rng.random() < share

    # -- trunk circuits ------------------------------------------------------------------------------------------

    def power(self, gauge: int = 20, thinnest: int | None = None, signal: str = "power") -> Line:
        """A supply feed with its breaker; ``thinnest`` is the thinnest wire that will hang on it."""
        breaker = f"CB{self.next()}"
        rating = t.BREAKER[thinnest or gauge]
        self.air["breakers"][breaker] = {"name": f"EQPT {breaker[2:]}", "rating": f"{rating:g} A", "bus": "BUS1"}
        fields = {"supply": f"{self.volts} V", "breaker": breaker}
        return self._line(f"{'PWR' if signal == 'power' else 'DIM'} {breaker[2:]}", signal, gauge, fields)

    def ground(self, gauge: int = 20, beside: Line | None = None) -> Line:
        """A supply return to a stud of its own, or to the stud of another return."""
        stud = beside.fields["note"] if beside else f"GS{self.next()}"
        self.air["grounds"].setdefault(stud, {"name": "frame stud", "returns": "dc", "terminals": "1"})
        line = self._line(f"RTN {stud[2:]}", "ground", gauge, {})
        line.fields["note"] = stud
        if beside:
            line.name = f"RTN {self.next()}"
        return line

    def twin(self, line: Line) -> None:
        """A second cavity for a circuit: two contacts share its current."""
        self.runs.append(Run([Line(line.name, line.signal, line.gauge, dict(line.fields), second=True)]))

    def signal(self, signal: str, word: str, gauge: int = 22, **fields: str) -> Line:
        """Any other single circuit."""
        return self._line(f"{word} {self.next()}", signal, gauge, fields)

    def pair(self, signal: str, word: str, lines: str = "HL", shield: bool = True, gauge: int = 22) -> Run:
        """Two conductors in one twisted cable, with a shield circuit or without."""
        number = self.next()
        group = f"{word} {number}"
        run = Run([], "T14" if shield else "U00")
        for letter in lines:
            fields = {"pair": group}
            if signal in ("can", "rs422", "rs485", "arinc429"):
                fields["line"] = letter
            run.lines.append(Line(f"{group} {letter}", signal, gauge, fields))
        if shield:
            said = {"shields": group, "shield ends": self.rng.choice(("one", "both", "none"))}
            run.lines.append(Line(f"{group} SHIELD", "shield", 22, said))
        self.runs.append(run)
        return run

    def wanted(self, run: Run) -> list[Line]:
        """The lines of a pair that a unit taps: a shield that floats on purpose ends before the unit."""
        return [line for line in run.lines if line.fields.get("shield ends") != "none"]

    def _line(self, name: str, signal: str, gauge: int, fields: dict[str, str]) -> Line:
        line = Line(name, signal, gauge, fields)
        self.runs.append(Run([line]))
        return line

    # -- equipment -----------------------------------------------------------------------------------------------

    def unit(self, insert: str, wants: list[Line], loose: bool = False, key: str = "N", more: bool = True) -> str:
        """An equipment unit with one receptacle; ``wants`` are the lines its pins tap, neighbours stay neighbours."""
        unit = f"A{self.next()}"
        self.units += 1
        path = f"unit-{unit.lower()}.yaml"
        self.boxes[path] = {"kind": "equipment", "title": f"Box {unit}", "note": NOTE, "connectors": {}}
        self.jump["equipment"][unit] = path
        self.socket(unit, path, insert, wants, loose, key, more)
        return unit

    def socket(
        self, unit: str, path: str, insert: str, wants: list[Line], loose: bool, key: str = "N", more: bool = True
    ) -> str:
        """One receptacle of a unit, and the jumper's plug for it."""
        ref = f"J{len(self.boxes[path]['connectors']) + 1}"
        plug = f"P{100 + self.next()}"
        dsub = t.family(insert) == "D-sub"
        box = t.part(insert, "plug" if dsub else "receptacle", "pin", key)
        mine = t.part(insert, "receptacle" if dsub else "plug", "socket", key)
        names = t.INSERTS[insert].cavities
        starts = [
            i
            for i in range(len(names) - len(wants) + 1)
            if all(
                t.side_by_side(insert, names[i + k], names[i + k + 1])
                for k in range(len(wants) - 1)
                if "pair" in wants[k].fields and wants[k].fields["pair"] == wants[k + 1].fields.get("pair")
            )
        ]
        start = self.rng.choice(starts)
        chosen = list(names[start : start + len(wants)])
        pins: File = {}
        for cavity, line in zip(chosen, wants, strict=True):
            line.taps.append((plug, cavity))
            pins[cavity] = self.pin(line)
            self.jump["taps"][f"{unit}{ref}-{cavity}"] = line.name
        left = [n for n in names if n not in chosen]
        if more and left:
            pins[left.pop(self.rng.randrange(len(left)))] = {
                "function": "FACTORY TEST", "signal": "none", "connect": "no"}  # fmt: skip
        if more and left and self.chance(0.5):
            pins[left.pop(self.rng.randrange(len(left)))] = {
                "function": "OPTION", "signal": "discrete", "required": "no"}  # fmt: skip
        self.boxes[path]["connectors"][ref] = {
            "name": f"receptacle {ref[1:]}", "part": box, "mating": mine, "contacts": t.contact_of(box), "pins": pins,
        }  # fmt: skip
        entry: File = {"name": f"plug of {unit}{ref}", "part": mine, "contacts": t.contact_of(mine)}
        if not dsub:
            entry["plugs"] = t.PLUGS[t.INSERTS[insert].size]
        entry["zone"] = self.panel if dsub else self.rng.choice((self.dry, self.wet))
        entry["mates"] = unit + ref
        if loose:
            entry["fitted"] = "aircraft"
            size = t.INSERTS[insert].size
            self.jump["kit"]["spare contacts"][t.contact_of(mine)] = "6"
            tool = "M81969/14-02" if dsub else t.TOOLS[size]
            if tool not in self.jump["kit"]["site tools"]:
                self.jump["kit"]["site tools"].append(tool)
        self.jump["connectors"][plug] = entry
        return plug

    def pin(self, line: Line) -> File:
        """What a pin wants when it is to get this line."""
        said: File = {"function": f"{line.signal.upper()} {line.fields.get('line', '')}".strip(), "signal": line.signal}
        if "line" in line.fields:
            said["line"] = line.fields["line"]
        if line.signal == "power":
            low = self.rng.choice(("9 V", "10 V"))
            said |= {"direction": "in", "supply": f"{low} to 32 V", "current": "0.4 A", "peak": "1.1 A"}
        elif line.signal == "shield":
            said |= {"required": "no", "grounded": "no"}
        elif line.signal not in ("ground", "signal ground"):
            said["direction"] = "both" if line.signal in ("can", "rs485") else "in"
        return said

    # -- the whole -----------------------------------------------------------------------------------------------

    def finish(self, insert: str, plug_has: str = "pin", key: str = "N") -> Job:
        """The job, with the opened pair of that insert; the half with sockets is on the supply side."""
        from tests.corpus import lay, power, signals

        number = self.next()
        plug, receptacle = f"P{number}", f"J{number}"
        dsub = t.family(insert) == "D-sub"
        other = "socket" if plug_has == "pin" else "pin"
        parts = {
            plug: t.part(insert, "plug", "pin" if dsub else plug_has, key),
            receptacle: t.part(insert, "receptacle", "socket" if dsub else other, key),
        }
        self.jump["opens"] = f"{plug}/{receptacle}" if self.chance(0.7) else f"{receptacle}/{plug}"
        lay.cavities(self, insert)
        lay.opened_pair(self, insert, parts, plug, receptacle)
        lay.jumper_wires(self, f"J1{number}", f"P1{number}")
        live = next(ref for ref, p in parts.items() if t.gender_of(p) == "socket")
        lay.airframe_wires(self, live, receptacle if live == plug else plug)
        lay.routes(self)
        lay.other_pair(self)
        lay.confirmations(self)
        signals.state(self)
        power.state(self)
        for ref, entry in self.jump["connectors"].items():
            if t.insert_of(entry["part"]) in t.NO_FACE:
                self.expected.add(("pair-apart", ref))
        return Job(self._files(), self.name, self.expected)

    def _files(self) -> dict[str, File]:
        for section in ("wires", "circuits", "breakers"):
            self._shuffled(self.air, section)
        for section in ("wires", "cables", "splices", "taps"):
            self._shuffled(self.jump, section)
        files: dict[str, File] = {AIRFRAME: self.air, JUMPER: self.jump, SHOP: self.shop, **self.boxes}
        return {path: {k: v for k, v in content.items() if v not in ({}, [])} for path, content in files.items()}

    def _shuffled(self, content: dict[str, Any], section: str) -> None:
        items = list(content[section].items())
        self.rng.shuffle(items)
        content[section] = dict(items)
