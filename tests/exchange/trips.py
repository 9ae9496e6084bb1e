"""Random files of a job, and the way of one of them out to a table and back again."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from pathlib import Path
from random import Random
from typing import Any

import harnesscheck as hc
from harnesscheck import exchange
from harnesscheck.document import read
from harnesscheck.formats import exported
from tests.corpus import run
from tests.corpus.topologies import TOPOLOGIES
from tests.properties import random_jobs as rj

Files = dict[str, str]
SUFFIXES = (".csv", ".xlsx")
ODD = (
    "+28V", "-28V", "007", "1-2", "1/2", "1E5", "=1+1", "@SUM(A1)", "'x", "''x", "NO", "yes", "null", "~", "TRUE",
    "MAR1", "1:2", "5 A", "0x1F", "1_000", "(see pins)", "(value)", "[a]", "{a: b}", '"q"', '"', "a | b", "a; b",
    "_x0041_", "a,b", "#1", "a #1", "A:", "%", "&x", "*x", "!x", "\\", "sep=;", ".5", "1.", "harnesscheck export",
)  # fmt: skip
"""Legal names that a spreadsheet, CSV, JSON or YAML could take for something else."""


def odd_files(chance: Random) -> Files:
    """An airframe whose names, notes and order of keys are as awkward as they may be."""

    def shuffled(said: dict[str, Any]) -> dict[str, Any]:
        keys = chance.sample(list(said), chance.randint(0, len(said)))
        return {key: said[key] for key in keys}

    def note() -> str:
        return chance.choice([*ODD, "two\nlines", "ä Ω µ \U0001f6e9", "a  b", " both ", "it's", "x" * 300])

    cavities = chance.sample([name for name in ODD if name.isprintable()], 8)
    circuits = {name: shuffled({"signal": "power", "note": note(), "supply": "28 V", "phases": ["start", "landing"]})
                for name in chance.sample(ODD, 5) if name.casefold() not in ("spare", "unknown")}  # fmt: skip
    named = list(circuits)

    def half() -> dict[str, Any]:
        holes: dict[str, Any] = {}
        for name in chance.sample(cavities, chance.randint(0, 8)):
            full = shuffled({"circuit": chance.choice(named), "note": note(), "contact": "none", "use": "live"})
            holes[name] = chance.choice([chance.choice(named), "spare", {}, full, full])
        said = {"name": note(), "family": "D-sub", "note": note(), "cavities": holes, "marking": note()}
        return shuffled(said)

    refs = ["P1", "J1", "X.1", "E5", "NO"]
    connectors = {ref: half() for ref in chance.sample(refs, chance.randint(2, 5))}
    there = list(connectors)
    spare = {(ref, name) for ref, said in connectors.items() for name, hole in said.get("cavities", {}).items()
             if hole == "spare"}  # fmt: skip
    ends = [f"{ref}-{name}" for ref in there for name in cavities if (ref, name) not in spare]
    ends += ["SP1", "GS1", "stowed"]
    ids = [name for name in ODD if " " not in name and name[0].isalnum() and len(name) < 30]
    wires = {}
    for name in chance.sample(ids, chance.randint(0, min(8, len(ids)))):
        one, two = chance.sample(ends, 2)
        extra = shuffled({"gauge": "22 AWG", "length": "1 m", "note": note(), "mark": note(), "colour": "9"})
        wires[name] = dict(chance.sample([*{"from": one, "to": two, **extra}.items()], len(extra) + 2))
    sections = {
        "connectors": connectors, "wires": wires, "circuits": circuits, "splices": {"SP1": {}},
        "grounds": {"GS1": shuffled({"returns": "dc", "name": note()})}, "breakers": {},
        "routes": {note()[:40].replace("\n", " "): {"passages": {"007": "20 mm", "=1": "1 in"}}, "r": {"passages": {}}},
        "waivers": [{"check": "wrong-mate", "at": "P1-1", "reason": note(), "by": "me", "date": "2026-11-20"}],
    }  # fmt: skip
    order = chance.sample(list(sections), len(sections))
    root = {"kind": "airframe", "title": note().replace("\n", " "), **{key: sections[key] for key in order}}
    return {"airframe.yaml": json.dumps(root, ensure_ascii=False)}


def random_files(number: int) -> Files:
    """One random job, of three sorts in turn: awkward names, drawn wiring, the corpus with its equipment and parts."""
    chance = Random(f"exchange {number}")
    if number % 3 == 0:
        return odd_files(chance)
    if number % 3 == 1:
        job = rj.draw_job(chance, number % 4)
        return {"airframe.yaml": rj.airframe_text(job), "jumper.yaml": rj.kit_text(job)}
    topology = chance.choice(sorted(TOPOLOGIES))
    return run.job_of(topology, chance.randrange(2), 5000 + number).texts()


def facts(value: Any) -> Any:
    """A harness as plain data with the order of every table, without the places where its parts were typed."""
    if is_dataclass(value) and not isinstance(value, type):
        left = ("place", "document", "line", "column", "drawer")
        return type(value).__name__, [(f.name, facts(getattr(value, f.name))) for f in fields(value)
                                      if f.name not in left]  # fmt: skip
    if isinstance(value, Mapping):
        return [(facts(key), facts(each)) for key, each in value.items()]
    return [facts(each) for each in value] if isinstance(value, list | tuple) else repr(value)


def told(value: Any) -> Any:
    """A composed file with the order of its keys."""
    if isinstance(value, dict):
        return [(key, told(each)) for key, each in value.items()]
    return [told(each) for each in value] if isinstance(value, list) else value


def differences(files: Files, folder: Path) -> Iterator[str]:
    """Every file of a job to a table and back; what is not the same, in words. Yields nothing when all is well."""
    for name, text in files.items():
        (folder / name).write_text(text, encoding="utf-8")
    for name, text in files.items():
        if "kind: parts" in text:
            continue
        plain = hc.load(folder / name)
        before, root = facts(plain.subject), told(read(folder / name).root)
        for suffix in SUFFIXES:
            table, again = folder / f"table{suffix}", folder / "again.yaml"
            table.write_bytes(exchange.write(plain, str(table)))
            if not exported.reads(table):
                yield f"{name} {suffix}: not known as an export"
                continue
            document = exported.document_of(table, str(table))
            if told(document.root) != root:
                yield f"{name} {suffix}: another file"
            if facts(hc.load(table).subject) != before:
                yield f"{name} {suffix}: another harness"
            again.write_text(exported.as_yaml(document), encoding="utf-8")
            if told(read(again).root) != root or facts(hc.load(again).subject) != before:
                yield f"{name} {suffix}: another harness in YAML"
