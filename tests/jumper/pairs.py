"""Random airframes and equipment for the planner: texts of YAML files that go through the real reader.

``pair(seed)`` writes a folder with ``airframe.yaml``, one or two equipment files (``unit-a12.yaml``, ``unit-a13.yaml``)
and ``shop-parts.yaml``; the pair to open is always P14/J14. Everything in them is invented. Some pairs have no plan: a
breaker is full, a line has its talker, a class is not there. Uses nothing of the planner.
"""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from typing import Any

import harnesscheck as hc
from harnesscheck.harness import Harness
from tests.corpus import tables as t
from tests.corpus.jobs import File, Job
from tests.jumper import lines

OPENED = ("P14", "J14")
NOTE = "invented for the tests of the planner"
DSUB = ("DE-9", "DA-15", "DB-25", "DC-37", "DD-50")
FINE = ("9-35", "11-35", "13-35", "15-35", "17-35", "19-35")
TWENTY = ("9-98", "11-5", "11-98", "13-8", "13-98", "15-18", "15-19", "17-26")


@dataclass
class Circuit:
    """One circuit of the airframe: its name, what the file says of it, and where it starts."""

    name: str
    said: File
    start: str = ""
    """``CB7-load`` or ``GS3``: where its wire in the aircraft begins; empty: no wire is listed."""
    cavity: str = ""

    @property
    def signal(self) -> str:
        """Signal class; empty when the file does not say."""
        return str(self.said.get("signal", ""))


@dataclass
class Draft:
    """What is being drawn."""

    rng: Random
    volts: int
    trouble: float = 1.0
    """0: every line has room for a tap, and the equipment asks for what is there; 1: often not."""
    circuits: list[Circuit] = field(default_factory=list)
    breakers: File = field(default_factory=dict)
    grounds: File = field(default_factory=dict)

    def chance(self, share: float) -> bool:
        """True in that share of the cases."""
        return self.rng.random() < share

    def amiss(self, share: float) -> bool:
        """True in that share of the cases of an airframe with trouble."""
        return self.rng.random() < share * self.trouble

    def pick(self, good: tuple[Any, ...], bad: tuple[Any, ...], share: float = 0.3) -> Any:
        """One of the values that leave room, or in some cases one that leaves none."""
        return self.rng.choice(bad if self.amiss(share) else good)

    def add(self, name: str, start: str = "", **said: Any) -> Circuit:
        """A circuit; underscores in keys become what the file format has there."""
        taken = {circuit.name for circuit in self.circuits}
        unique = name if name not in taken else f"{name} {len(taken) + 1}"
        fields = {
            key.replace("pull_up", "pull-up").replace("_", " "): str(value)
            for key, value in said.items()
            if value is not None
        }
        self.circuits.append(Circuit(unique, fields, start))
        return self.circuits[-1]


def pair(seed: int | str, root: Path | None = None, small: bool = False) -> Path:
    """A folder with one airframe and its equipment.

    ``small``: 3 to 6 circuits and 2 to 5 pins, for comparing with every possible choice; else 3 to 60 cavities.
    """
    folder = Path(tempfile.mkdtemp(prefix=f"pair-{seed}-") if root is None else root / f"pair-{seed}")
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in texts(seed, small).items():
        (folder / name).write_text(text, encoding="utf-8")
    return folder


def texts(seed: int | str, small: bool = False) -> dict[str, str]:
    """File name to text."""
    rng = Random(f"pair/{seed}/{small}")
    draft = Draft(rng, rng.choice((14, 14, 28)), rng.choice((0.0, 0.15, 0.4, 1.0)))
    most = rng.randrange(3, 7) if small else min(60, max(3, int(rng.triangular(3, 60, 14))))
    lines.airframe(draft, most)
    units = lines.equipment(
        draft, 2 if draft.chance(0.1 if small else 0.2) else 1, rng.randrange(2, 6) if small else None
    )
    shop: File = {"kind": "parts", "about": f"shop confirmations, {NOTE}", "parts": {}}
    files = {"airframe.yaml": _airframe(draft), "shop-parts.yaml": shop}
    for number, pins in enumerate(units, start=12):
        files[f"unit-a{number}.yaml"] = _unit(draft, number, pins)
    _confirm(shop, files)
    return Job(files).texts()


@dataclass(frozen=True)
class Asked:
    """What the planner is given."""

    airframe: Harness
    boxes: tuple[Harness, ...]
    opened: tuple[str, str]


def read(folder: Path) -> Asked:
    """Through the real reader, by way of a kit that is still empty."""
    boxes = {f.stem.removeprefix("unit-").upper(): f.name for f in sorted(folder.glob("unit-*.yaml"))}
    said = [f"  {unit}: {name}" for unit, name in boxes.items()]
    head = ["kind: jumper", "title: nothing yet", "airframe: airframe.yaml", "opens: P14/J14", "parts: shop-parts.yaml"]
    (folder / "empty.yaml").write_text("\n".join([*head, "equipment:", *said, ""]), encoding="utf-8")
    job = hc.load(folder / "empty.yaml")
    assert job.airframe is not None
    return Asked(job.airframe, job.equipment, OPENED)


# -- files -------------------------------------------------------------------------------------------------------------


def _airframe(draft: Draft) -> File:
    rng = draft.rng
    alloy = any(circuit.signal == "thermocouple" for circuit in draft.circuits)
    kinds = [DSUB] if alloy else [DSUB, FINE, FINE, TWENTY]
    need = len(draft.circuits) + rng.randrange(3)
    fits = [kind for kind in kinds if any(len(t.INSERTS[name].cavities) >= need for name in kind)] or [FINE]
    insert = next(name for name in rng.choice(fits) if len(t.INSERTS[name].cavities) >= need)
    _places(draft, insert)
    dsub = t.family(insert) == "D-sub"
    plug_has = "pin" if dsub else rng.choice(("pin", "socket"))
    key = rng.choice("NABC")
    parts = {
        "P14": t.part(insert, "plug", plug_has, key),
        "J14": t.part(insert, "receptacle", "socket" if plug_has == "pin" else "pin", key),
    }
    live = next(ref for ref, part in parts.items() if t.gender_of(part) == "socket")
    size = t.INSERTS[insert].size
    zone = "cabin floor" if dsub else rng.choice(("cabin floor", "wheel well"))
    volts = draft.volts
    air: File = {
        "kind": "airframe", "title": "Airframe", "revision": "A", "note": NOTE, "parts": "shop-parts.yaml",
        "zones": {
            "cabin floor": {"wet": "no", "ambient": "-30 C to 70 C", "altitude": "15000 ft"},
            "wheel well": {"wet": "yes", "ambient": "-40 C to 55 C", "altitude": "15000 ft"},
        },
        "routes": {
            "to the new unit": {
                "length": f"{rng.randrange(30, 120) * 10} mm", "passages": {"frame hole": "60 mm"}, "bend": "60 mm",
                "zone": zone,
            }
        },
        "buses": {"BUS1": {"name": "main bus", "supply": f"{volts} V"}},
        "sources": {
            "ALT1": {"kind": "alternator", "bus": "BUS1", "supply": f"{volts + 0.2:g} V", "low": f"{volts - 0.5:g} V",
                     "high": f"{volts + 0.7:g} V", "rating": "40 A"}
        },
        "loads": {"RADIO": {"bus": "BUS1", "current": "2 A", "peak": "6 A"},
                  "LANDING LIGHT": {"bus": "BUS1", "current": "7 A", "phases": ["takeoff", "landing"]}},
        "breakers": draft.breakers, "grounds": draft.grounds,
        "circuits": {circuit.name: circuit.said for circuit in draft.circuits}, "connectors": {}, "wires": {},
    }  # fmt: skip
    for ref, other in (("P14", "J14"), ("J14", "P14")):
        entry: File = {"name": f"disconnect, half {ref}", "part": parts[ref], "zone": zone,
                       "contacts": t.contact_of(parts[ref]), "marking": ref}  # fmt: skip
        if not dsub:
            entry["plugs"] = t.PLUGS[size]
        if ref == "P14":
            entry["mates"] = other
        entry["cavities"] = {name: _cavity(draft, ref, name, live) for name in t.INSERTS[insert].cavities}
        air["connectors"][ref] = entry
    gauge = t.GAUGES[size][0]
    for circuit in draft.circuits:
        if circuit.start:
            name = f"X{len(air['wires']) + 1}A{gauge}"
            air["wires"][name] = {"from": circuit.start, "to": f"{live}-{circuit.cavity}",
                                  "type": f"M22759/16-{gauge}-9",
                                  "length": f"{rng.randrange(60, 400) * 10} mm"}  # fmt: skip
    return {key: value for key, value in air.items() if value != {}}


def _places(draft: Draft, insert: str) -> None:
    """Cavities for the circuits: those that follow each other in the draft stay side by side."""
    names = list(t.INSERTS[insert].cavities)
    free = len(names) - len(draft.circuits)
    start = draft.rng.randrange(free + 1)
    for circuit, name in zip(draft.circuits, names[start:], strict=False):
        circuit.cavity = name


def _cavity(draft: Draft, ref: str, name: str, live: str) -> File | str:
    circuit = next((c for c in draft.circuits if c.cavity == name), None)
    if circuit is None:
        return "spare"
    said: File = {"circuit": circuit.name}
    if circuit.signal == "shield":
        said["grounded"] = "yes" if ref == live or circuit.said.get("shield ends") == "both" else "no"
    if circuit.signal == "thermocouple":
        said["contact"] = "TCK-20P" if ref == "P14" else "TCK-20S"
    return said if len(said) > 1 else circuit.name


def _unit(draft: Draft, number: int, pins: list[File]) -> File:
    dsub = draft.chance(0.3)
    kind = DSUB if dsub else ("9-35", "11-35", "13-35", "15-35")
    insert = next(name for name in kind if len(t.INSERTS[name].cavities) >= len(pins))
    box = t.part(insert, "plug" if dsub else "receptacle", "pin", "N")
    mine = t.part(insert, "receptacle" if dsub else "plug", "socket", "N")
    names = t.INSERTS[insert].cavities
    place = {str(index): name for index, name in enumerate(names)}
    said = {}
    for index, pin in enumerate(pins):
        entry = dict(pin)
        if "returns" in entry:
            entry["returns"] = place[entry["returns"]]
        said[names[index]] = entry
    return {
        "kind": "equipment", "title": f"Sensor unit A{number}", "note": NOTE,
        "connectors": {"J1": {"name": "receptacle", "part": box, "mating": mine, "contacts": t.contact_of(box),
                              "pins": said}},
    }  # fmt: skip


def _confirm(shop: File, files: dict[str, File]) -> None:
    """Everything a check may want to be sure of, as confirmed by a shop that does not exist."""
    parts = shop["parts"]

    def say(number: str, kind: str, **facts: object) -> None:
        if any(number == known and entry["kind"] == kind for known, entry in parts.items()):
            return
        said = {"status": "shop-confirmed", "document": f"sheet on the shelf ({NOTE})", "by": "test fabricator"}
        said |= {"date": "2026-11-20", **{key.replace("_", " "): value for key, value in facts.items()}}  # type: ignore[dict-item]
        parts[number] = {"kind": kind, "facts": [said]}

    connectors = [entry for content in files.values() for entry in content.get("connectors", {}).values()]
    numbers = [entry["part"] for entry in connectors]
    numbers += [entry["mating"] for entry in connectors if "mating" in entry]
    opened = [entry["part"] for ref, entry in files["airframe.yaml"]["connectors"].items() if ref in OPENED]
    for part in opened:  # the jumper's own halves are the other half of each: the same two numbers
        assert part in numbers
    for number in dict.fromkeys(numbers):
        insert = t.INSERTS[t.insert_of(number)]
        contact = t.contact_of(number)
        if insert.rows:
            style = "plug" if number.startswith("M24308/4") else "receptacle"
            say(number, "connector", family="D-sub", style=style, gender=t.gender_of(number), insert=insert.name,
                sealed="no")  # fmt: skip
            say(insert.name, "insert", cavity_size="20")
            say(contact, "contact", gender=t.gender_of(number), size="20", family=["D-sub"],
                gauge=t.BARREL["D-sub 20"], finish="gold over nickel")  # fmt: skip
        else:
            tool = [t.TOOLS[insert.size]]
            say(contact, "contact", gauge=t.BARREL[insert.size], insulation=t.SEAL[insert.size], insertion_tool=tool,
                removal_tool=tool)  # fmt: skip
    for gauge, diameter in t.OD.items():
        say(f"M22759/16-{gauge}", "wire size", od=diameter)
    for cores, diameter in ((1, "2.2 mm"), (2, "3.4 mm"), (3, "3.7 mm")):
        say(f"M22759/18-22 x {cores}", "cable size", spec="M22759/18", gauge="22 AWG", cores=str(cores), od=diameter,
            construction="shielded and jacketed")  # fmt: skip
        say(f"M27500-22TG{cores}T14", "cable", spec="M22759/18")
    say("M22759/18", "wire", temperature="150 C", volts="600 V", conductor="tin-coated copper")
    say("M22759/18-22", "wire size", od="1.09 mm", gauge="22 AWG", spec="M22759/18")
    for number, (low, high) in t.SPLICES.items():
        say(number, "splice", cma=f"{low} cmil to {high} cmil", sleeve_length="27.9 mm", sealed="yes")
    for number, gender in (("TCK-20P", "pin"), ("TCK-20S", "socket")):
        say(number, "contact", gender=gender, size="20", family=["D-sub"], gauge="24 AWG to 20 AWG", alloy="K",
            finish="gold flash over the alloy")  # fmt: skip
    say("TCK-EXT-22", "wire", gauge="22 AWG", conductor="type K alloys", temperature="200 C", volts="300 V",
        od="1.3 mm")  # fmt: skip
