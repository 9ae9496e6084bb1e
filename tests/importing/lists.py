"""Small lists in one text with what they say below ``---``, for tests by hand.

=== name [suffix]         begins a list; its rows follow, then ``---``, then all that is to be understood:
rows nwp.x                what became of each line: n note, w wire, p pin, s spare, r retired, x not understood
w2 W1: J1-1 > J2-1; gauge 22 AWG      a wire with the line it stands on, its ends and its values, whole
p3 J1-2: circuit A                    a cavity, the same way
x4B words                 a row that is not understood, at this cell; the words stand in the reason or the remedy
v5C words                 a value that is not understood, the same way; r6A words: a row that is retired
m words  u words          a remark, a line of what was understood (these stand among others)
m- words                  no remark says this
c J1: part P-1            a connector with what is told of it;  k SP1: splices  a point;  = J_1: J-1  a name as typed
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists.mapping import load
from harnesscheck.formats._lists.reader import Imported

_SIGNS = {"wires": "w", "pins": "p", "spares": "s", "notes and headers": "n", "retired": "r", "not understood": "x"}


@dataclass(slots=True)
class Case:
    """One list: its rows, and what they say."""

    name: str
    suffix: str
    body: list[str] = field(default_factory=list)
    map: list[str] = field(default_factory=list)
    says: list[str] = field(default_factory=list)


def cases(text: str) -> list[Case]:
    """The lists of a text; ``+++`` parts off a map file from the rows."""
    found: list[Case] = []
    part: list[str] = []
    for line in text.split("\n"):
        if line.startswith("=== "):
            name, _, suffix = line[4:].partition(" ")
            found.append(Case(name, suffix or ".csv"))
            part = found[-1].body
        elif line == "+++":
            part = found[-1].map
        elif line == "---":
            part = found[-1].says
        elif line or part is not found[-1].says:
            part.append(line)
    return found


def read(case: Case, folder: Path) -> Imported:
    """The list as understood."""
    path = folder / f"list{case.suffix}"
    path.write_text("\n".join(case.body), encoding="utf-8")
    mapping = None
    if case.map:
        (folder / "map.yaml").write_text("kind: list map\n" + "\n".join(case.map) + "\n", encoding="utf-8")
        mapping = load(folder / "map.yaml", "map.yaml")
    return spreadsheet.understood(path, path.name, mapping)


def wrong(case: Case, imported: Imported) -> list[str]:
    """Where what was understood is not what the list says; none when it is."""
    got = list(told(imported))
    found = []
    for kinds in ("rows", "w", "p"):
        one, two = (sorted(s for s in said if _kind(s) == kinds) for said in (case.says, got))
        found += [f"{case.name}: missing {s}" for s in one if s not in two]
        found += [f"{case.name}: not wanted {s}" for s in two if s not in one]
    for kind in "xvr":
        wanted, there = (sorted(s for s in said if _kind(s) == kind) for said in (case.says, got))
        fits = len(wanted) == len(there) and all(_fits(s, t) for s, t in zip(wanted, there, strict=True))
        if not fits:
            found.append(f"{case.name}: {wanted} and not {there}")
    for said in case.says:
        if _kind(said) not in ("rows", *"wpxvr") and (not any(_fits(said, s) for s in got)) is (said[:2] != "m-"):
            found.append(f"{case.name}: {said!r} in {[s for s in got if s[0] == said[0]]}")
    return found


def _kind(said: str) -> str:
    return "rows" if said.startswith("rows") else said[0]


def _fits(wanted: str, got: str) -> bool:
    kind, _, words = wanted.partition(" ")
    kind = kind.rstrip("-")
    return got.partition(" ")[0] == kind and words in got.partition(" ")[2]


def told(imported: Imported) -> Iterator[str]:
    """Everything that was understood, in lines as above."""
    draft, document = imported.draft, imported.document
    account = draft.account
    last = max(account.rows, default=0)
    yield "rows " + "".join(_SIGNS.get(account.rows.get(n, ""), ".") for n in range(1, last + 1))
    for wire in draft.wires:
        ends = " > ".join("-".join(filter(None, end)) for end in (wire.a, wire.b))
        values = [f"{key} {text}" for key, (text, _) in wire.values.items()]
        also = [f"also {wire.also}"] if wire.also else []
        yield f"w{wire.line} {wire.id}: " + "; ".join(
            [ends, *values, *([f"circuit {wire.circuit}"] if wire.circuit else []), *also]
        )
    for (ref, cavity), pin in draft.pins.items():
        yield f"p{pin.line} {ref}-{cavity}: " + (
            "; ".join(f"{key} {text}" for key, (text, _) in pin.values.items()) or "-"
        )
    for sign, listed in (("x", account.left), ("v", account.values), ("r", account.retired)):
        for left in listed:
            where = document.where(left.line, left.column).rpartition("!")[2]
            at = f"{left.line}:{left.column}" if ":" in where else f"{left.line}{re.sub(r'[0-9]', '', where)}"
            yield f"{sign}{at} {left.text}: {left.reason} ~ {left.remedy}"
    for said in draft.remarks:
        yield f"m {said}"
    for said in draft.understood:
        yield f"u {said}"
    for ref, values in draft.connectors.items():
        mates = [f"mates {draft.mated[ref]}"] if ref in draft.mated else []
        told_of_it = [*(f"{key} {text}" for key, (text, _) in values.items() if text), *mates]
        yield f"c {ref}: {'; '.join(told_of_it) or '-'}"
    for ref, kind in draft.points.items():
        yield f"k {ref}: {kind}"
    for ref, typed in draft.names.items():
        yield f"= {ref}: {typed}"
