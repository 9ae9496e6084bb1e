"""The readers and paths that are fuzzed: each makes a random case for one door of the program."""

from __future__ import annotations

import contextlib
import io
import json
import random
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from tests.fuzz import mutate
from tests.fuzz.case import ROOT, Case
from tests.fuzz.words import HOSTILE, hostile, jobs

CASES = ROOT / "tests" / "importing" / "cases"
ICE = "harnesses/ice-probe"
POINTS = ("P14-3", "J14-1", "SP1", "GS3", "CB7-load", "P114-12", "A12J1-1")


def _base(rng: random.Random) -> str:
    folder = ROOT / ICE if rng.random() < 0.3 else rng.choice(jobs())
    return folder.relative_to(ROOT).as_posix()


@cache
def _tree(path: Path) -> Any:
    from harnesscheck.document import read

    return _plain(read(path).root)


def _plain(node: Any) -> Any:
    if isinstance(node, dict):
        return {key: _plain(value) for key, value in node.items()}
    return [_plain(value) for value in node] if isinstance(node, list) else node


def _spoilt(rng: random.Random, path: Path) -> bytes:
    """A YAML file of a job with slips in its text, in its tree (with parts of other files) or in its bytes."""
    pick = rng.random()
    if pick < 0.05:
        return mutate.raw(rng, path.read_bytes())
    if pick < 0.4:
        return mutate.text(rng, path.read_text("utf-8")).encode("utf-8", "replace")
    alike = rng.choice(jobs()) / path.name
    donor = _tree(alike) if alike.exists() and rng.random() < 0.8 else _tree(path)
    return mutate.as_yaml(mutate.tree(rng, _tree(path), donor)).encode("utf-8", "replace")


def _job(rng: random.Random, reader: str, commands: list[tuple[str, ...]], more: dict[str, bytes]) -> Case:
    base = _base(rng)
    files = dict(more)
    paths = sorted((ROOT / base).glob("*.yaml"))
    for path in rng.sample(paths, rng.choice((1, 1, 1, 2))):
        files[path.name] = _spoilt(rng, path)
    return Case(reader, base, rng.choice(commands), files)


def job(rng: random.Random) -> Case:
    """Jumper, airframe, equipment and parts files through ``check``."""
    check = ("check", "jumper.yaml")
    forms = [("check", "--format", form, "jumper.yaml") for form in ("json", "sarif", "annotations")]
    return _job(rng, "job", [check] * 6 + [*forms, ("check", "airframe.yaml")], {})


def paths(rng: random.Random) -> Case:
    """The same files through what else reads a job."""
    from harnesscheck import sheets

    name = rng.choice(sheets.names())
    point = rng.choice(POINTS)
    commands = [
        ("load", "jumper.yaml"), ("volts", "jumper.yaml"), ("trace", "jumper.yaml", point), ("prove", "jumper.yaml"),
        ("trace", "airframe.yaml", point, "--format", "json"), ("compare", "jumper.yaml", "jumper.yaml"),
        ("sheet", name, "jumper.yaml"), ("sheet", name, "jumper.yaml", "-o", f"out.{rng.choice(sheets.forms(name))}"),
        ("parts", "fit", "jumper.yaml", "--cavity", point), ("worksheet", "jumper.yaml", "-o", "w.html"),
        ("export", "jumper.yaml", "-o", rng.choice(("a.json", "a.xlsx", "a.csv", "a.graphml", "a.cir"))),
    ]  # fmt: skip
    return _job(rng, "paths", commands, {})


def tap(rng: random.Random) -> Case:
    """Airframe and equipment files through the planner."""
    case = _job(rng, "tap", [()], {})
    unit = next(
        (n for n in case.files if n not in ("jumper.yaml", "airframe.yaml", "shop-parts.yaml")), "ice-probe.yaml"
    )
    return Case("tap", case.base, ("tap", "airframe.yaml", unit, "--at", "P14/J14", "-o", "plan.yaml"), case.files)


def layout(rng: random.Random) -> Case:
    """``format``: the file says the same before and after."""
    case = _job(rng, "format", [()], {})
    return Case("format", case.base, ("format", *sorted(case.files)), case.files)


def found(rng: random.Random) -> Case:
    """As-found files over an airframe."""
    base = _base(rng)
    frame = _tree(ROOT / base / "airframe.yaml")
    head = {"kind": "as-found", "airframe": "airframe.yaml", "aircraft": "LN-TST", "by": "t", "date": "2026-11-20"}
    keys = rng.sample([k for k, v in frame.items() if isinstance(v, dict)], 2)
    over = {**head, **{key: mutate.tree(rng, frame[key], frame) for key in keys}}
    data = mutate.as_yaml(over if rng.random() < 0.6 else mutate.tree(rng, over, frame))
    if rng.random() < 0.2:
        data = mutate.text(rng, data)
    command = rng.choice((("check", "jumper.yaml", "--on", "found.yaml"), ("check", "found.yaml"),
                          ("compare", "airframe.yaml", "found.yaml")))  # fmt: skip
    return Case("found", base, command, {"found.yaml": data.encode("utf-8", "replace")})


def parts(rng: random.Random) -> Case:
    """A shop's parts file, and the files of the drawer."""
    if rng.random() < 0.5:
        base = _base(rng)
        files = {"shop-parts.yaml": _spoilt(rng, ROOT / base / "shop-parts.yaml")}
        return Case("parts", base, ("check", "jumper.yaml"), files)
    path = rng.choice(sorted((ROOT / "harnesscheck" / "parts" / "data").glob("*.yaml")))
    return Case("parts", "", ("(drawer)", "drawer.yaml"), {"drawer.yaml": _spoilt(rng, path)})


@cache
def _lists() -> tuple[tuple[str, bytes], ...]:
    """Lists of every form: the tables of the importing tests, and workbooks made of them."""
    import tempfile

    from tests.importing import books

    texts = sorted(path for s in (".csv", ".md", ".txt", ".tsv") for path in CASES.rglob(f"*{s}"))
    listed = [(path.suffix, path.read_bytes()) for path in texts]
    with tempfile.TemporaryDirectory() as folder:
        for path in [p for p in texts if p.suffix == ".csv"][:6]:
            rows = [row or [""] for row in mutate.grid(path.read_text("utf-8"))]
            sheet: Any = {"Wires": rows}
            struck = frozenset({("Wires", len(rows) - 1)})
            listed.append((".xlsx", books.xlsx(Path(folder, "a.xlsx"), sheet, None, struck).read_bytes()))
            plain = [[c.replace("&", "+").replace("<", "").replace(">", "") for c in row] for row in rows]
            listed.append((".ods", books.ods(Path(folder, "a.ods"), plain, len(rows) - 1).read_bytes()))
    return tuple(listed)


def _list(rng: random.Random) -> tuple[str, bytes]:
    suffix, data = rng.choice(_lists())
    if suffix in (".xlsx", ".ods"):
        return suffix, mutate.archive(rng, data)
    if rng.random() < 0.05:
        return suffix, mutate.raw(rng, data)
    text = data.decode("utf-8", "replace")
    if suffix == ".csv" and rng.random() < 0.7:
        return suffix, mutate.as_csv(mutate.table(rng, mutate.grid(text)), rng).encode("utf-8", "replace")
    return suffix, mutate.text(rng, text).encode("utf-8", "replace")


def lists(rng: random.Random) -> Case:
    """From-to lists and pin tables: CSV, TSV, XLSX, ODS, Markdown, text."""
    suffix, data = _list(rng)
    name = f"list{suffix}"
    command = rng.choice((("import", name), ("check", name), ("import", name, "-o", "made.yaml"),
                          ("import", name, "--write-map", "map.yaml")))  # fmt: skip
    return Case("lists", "", command, {name: data})


MAP = {
    "kind": "list map", "sheet": "Wires", "header row": "1", "connector": "P14", "gauge unit": "AWG",
    "length unit": "mm",
    "columns": {"A": "id", "B": "from", "C": "from pin", "D": "to", "E": "to pin", "G": "ignore", "Gauge": "gauge"},
    "dash": "yes", "splices": ["J1", "JS2"], "grounds": ["FRAME"], "names": {"PWR-IN": "P1"},
}  # fmt: skip


def maps(rng: random.Random) -> Case:
    """Map files beside a list that is whole."""
    suffix, data = rng.choice(_lists())
    said = mutate.as_yaml(mutate.tree(rng, MAP, MAP))
    text = said if rng.random() < 0.7 else mutate.text(rng, said)
    files = {f"list{suffix}": data, "map.yaml": text.encode("utf-8", "replace")}
    return Case("maps", "", ("import", "--map", "map.yaml", f"list{suffix}"), files)


@cache
def _made(folder: str, name: str, *argv: str) -> bytes:
    """A file that the program makes of a clean job."""
    import os
    import tempfile

    from harnesscheck.cli import main

    here = Path.cwd()
    with tempfile.TemporaryDirectory() as place:
        os.chdir(ROOT / folder)
        try:
            with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
                main([*argv, "-o", f"{place}/{name}"])
        finally:
            os.chdir(here)
        return Path(place, name).read_bytes()


def exported(rng: random.Random) -> Case:
    """Our own tables of a job, read back."""
    base, suffix = rng.choice((ICE, "harnesses/cabin-fan")), rng.choice((".csv", ".csv", ".xlsx"))
    file = rng.choice(("jumper.yaml", "airframe.yaml"))
    data, name = _made(base, f"a{suffix}", "export", file), f"made{suffix}"
    if suffix == ".xlsx":
        data = mutate.archive(rng, data)
    elif rng.random() < 0.6:
        data = mutate.as_csv(mutate.table(rng, mutate.grid(data.decode("utf-8-sig"))), rng).encode("utf-8", "replace")
    else:
        data = mutate.text(rng, data.decode("utf-8")).encode("utf-8", "replace")
    return Case("exported", base, rng.choice((("check", name), ("import", name, "-o", "back.yaml"))), {name: data})


ROWS = [["reading", "value", "unit", "verdict", "note"]]


def readings(rng: random.Random) -> Case:
    """Readings as CSV, JSON and YAML, judged and diagnosed."""
    text = (ROOT / ICE / "readings.csv").read_text("utf-8")
    suffix = rng.choice((".csv", ".csv", ".json", ".yaml"))
    if suffix == ".csv":
        data = (
            mutate.as_csv(mutate.table(rng, mutate.grid(text)), rng) if rng.random() < 0.6 else mutate.text(rng, text)
        )
    else:
        grid = [row for row in mutate.grid(text) if row]
        start = next(n for n, row in enumerate(grid) if row[0] == "reading")
        head: dict[str, Any] = {row[0]: row[1] for row in grid[:start]}
        rows = [dict(zip(grid[start], row, strict=False)) for row in grid[start + 1 :]]
        said = mutate.tree(rng, {**head, "readings": rows}, {"readings": rows})
        data = json.dumps(said, indent=1) if suffix == ".json" else mutate.as_yaml(said)
        data = mutate.text(rng, data) if rng.random() < 0.2 else data
    name = f"r{suffix}"
    command = rng.choice((("readings", "jumper.yaml", name), ("diagnose", "jumper.yaml", name),
                          ("diagnose", "jumper.yaml", name, "--format", "json")))  # fmt: skip
    return Case("readings", ICE, command, {name: data.encode("utf-8", "replace")})


def diagnose(rng: random.Random) -> Case:
    """The whole path of a spoilt job to suspects, with readings and symptoms."""
    says = " ".join(rng.sample(["new unit dead", "hum", "resets", "everything wrong", hostile(rng)], 2))
    article = ("--article", rng.choice(("bench", "installed", "aircraft")))
    mine = ("diagnose", "jumper.yaml")
    commands: list[tuple[str, ...]] = [(*mine, *article), (*mine, f"--symptom={says}", *article),
                                       (*mine, "r.csv"), ("diagnose", "airframe.yaml", "--probes")]  # fmt: skip
    return _job(rng, "diagnose", commands, {"r.csv": (ROOT / ICE / "readings.csv").read_bytes()})


def symptoms(rng: random.Random) -> Case:
    """What a customer says."""
    words = (
        "new",
        "unit",
        "dead",
        "noise",
        "hum",
        "resets",
        "display",
        "blank",
        "wrong",
        "power",
        "all",
        "works",
        "bus",
    )
    says = " ".join(rng.choice((rng.choice(words), hostile(rng))) for _ in range(rng.randrange(1, 9)))
    return Case("symptoms", ICE, ("diagnose", "jumper.yaml", f"--symptom={says}".replace("\0", "")))


def previous(rng: random.Random) -> Case:
    """The revision before."""
    base = _base(rng)
    command = rng.choice((("compare", "old.yaml", "jumper.yaml"), ("compare", "jumper.yaml", "old.yaml"),
                          ("sheet", "rework", "jumper.yaml", "--previous", "old.yaml")))  # fmt: skip
    return Case("previous", base, command, {"old.yaml": _spoilt(rng, ROOT / base / "jumper.yaml")})


def evidence(rng: random.Random) -> Case:
    """Evidence of a proof, sealed anew or not, through the re-checker."""
    from tests.proof.tampering import sealed

    base = rng.choice((ICE, "harnesses/cabin-fan", "harnesses/data-bus"))
    said = json.loads(_made(base, "evidence.json", "prove", "jumper.yaml"))
    said = mutate.tree(rng, said, said)
    if rng.random() < 0.5:
        with contextlib.suppress(Exception):  # what cannot be sealed stays unsealed
            said = sealed(said)
    data = json.dumps(said).encode()
    return Case(
        "evidence", base, ("recheck", "e.json"), {"e.json": mutate.raw(rng, data) if rng.random() < 0.1 else data}
    )


def pack(rng: random.Random) -> Case:
    """The manifest and the files of a pack, through ``verify``."""
    from harnesscheck.pack import ident, manifest

    basis: Any = {"inputs": [], "number": 1}
    one = ident.pack_id(basis)
    files = {"lists/a.csv": b"a,b\n", "b.svg": f"<svg>pack id {one}</svg>".encode()}
    said = json.loads(manifest.build(one, basis, {"title": "invented"}, files))
    said = mutate.tree(rng, said, said)
    data = json.dumps(said, indent=1).encode()
    if rng.random() < 0.5:
        data = manifest._sealed({k: v for k, v in said.items() if k != manifest.SEAL})
    if rng.random() < 0.2:
        files["b.svg"] = mutate.raw(rng, files["b.svg"])
    files[manifest.FILE] = mutate.raw(rng, data) if rng.random() < 0.2 else data
    return Case("pack", "", ("verify", "kit"), {f"kit/{name}": content for name, content in files.items()})


def command(rng: random.Random) -> Case:
    """The command line itself."""
    from harnesscheck import commands

    names = [name for name in commands.names() if name not in ("watch", "selftest", "demo", "pack", "fleet")]
    name = rng.choice(names)
    words = rng.choice(commands.module(name).EXAMPLES).split(" ")
    for _ in range(rng.choice((1, 1, 2, 3))):
        at = rng.randrange(len(words))
        word = rng.choice(
            (hostile(rng), rng.choice(HOSTILE), "-o", "--format", "json", "jumper.yaml", "readings.csv", ".")
        )
        rng.choice((lambda a=at, w=word: words.__setitem__(a, w), lambda a=at, w=word: words.insert(a, w),
                    lambda a=at: words.__delitem__(a) if len(words) > 1 else None))()  # fmt: skip
    safe = [word.replace("\0", "") for word in words if "/" not in word and ".." not in word]
    return Case("command", ICE, tuple(safe))


READERS: dict[str, Callable[[random.Random], Case]] = {
    "job": job, "paths": paths, "tap": tap, "format": layout, "found": found, "parts": parts, "lists": lists,
    "maps": maps,
    "exported": exported, "readings": readings, "diagnose": diagnose, "symptoms": symptoms, "previous": previous,
    "evidence": evidence, "pack": pack, "command": command,
}  # fmt: skip
"""Every door, by the name that the command takes."""
WEIGHTS = {"job": 4, "diagnose": 3, "lists": 4, "paths": 3, "tap": 1, "symptoms": 1, "maps": 1, "pack": 1}
