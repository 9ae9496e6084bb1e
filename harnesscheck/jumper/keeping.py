"""What a person has settled in a jumper file that is planned again: entries marked ``# fixed``, limits and waivers.

Limits and waivers are a person's decisions always, for a plan writes none of its own.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from harnesscheck.document import Block, Document, Items
from harnesscheck.jumper.writing import FIXED, SECTIONS, Entry
from harnesscheck.place import Point, split_point

DECISIONS = ("limits", "waivers")


@dataclass(frozen=True, slots=True)
class Kept:
    """A person's entries, what is asked for through them, and the limits that are set."""

    entries: tuple[Entry, ...] = ()
    use: dict[Point, str] = field(default_factory=dict)
    """Taps marked as fixed: equipment pin to circuit."""
    limits: dict[str, str] = field(default_factory=dict)
    """Check to the value that a person set for it."""
    units: dict[str, str] = field(default_factory=dict)
    """Equipment file to the designator that it has in the file."""

    @property
    def fixed(self) -> str:
        """The entries marked as fixed, in words; empty when there are none."""
        named = [entry.key for entry in self.entries if entry.section not in DECISIONS]
        return ", ".join(named[:6]) + (f" and {len(named) - 6} more" if len(named) > 6 else "")


def kept(document: Document) -> Kept:
    """What an existing jumper file holds of a person's own."""
    root = document.root
    found: list[Entry] = []
    use: dict[Point, str] = {}
    tops = sorted((mark[0], name) for name, mark in root.marks.items())
    after = [line for line, _ in tops[1:]] + [len(document.lines) + 1]
    ends = {name: end for (_, name), end in zip(tops, after, strict=True)}
    for name, value in root.items():
        line, end = root.marks[name][0], ends[name]
        if name in DECISIONS:
            found.append(Entry(name, name, _lines(document, line, end)))
        elif isinstance(value, Block) and name in SECTIONS:
            starts = sorted((mark[0], key) for key, mark in value.marks.items())
            for number, (start, key) in enumerate(starts):
                stop = starts[number + 1][0] if number + 1 < len(starts) else end
                lines = _lines(document, start, stop)
                if any(FIXED.search(each) for each in lines):
                    found.append(Entry(name, key, lines))
                    point = split_point(key) if name == "taps" else None
                    if point is not None and isinstance(value[key], str):
                        use[point] = value[key].strip()
        elif isinstance(value, str) and name in SECTIONS:
            lines = _lines(document, line, end)
            if any(FIXED.search(each) for each in lines):
                found.append(Entry(name, name, lines))
    return Kept(tuple(found), use, _limits(root), _units(root))


def _lines(document: Document, start: int, stop: int) -> tuple[str, ...]:
    """The lines of one entry; comments and blank lines before the next one belong to that."""
    lines = [document.line(number) for number in range(start, stop)]
    while lines[1:] and (not lines[-1].strip() or lines[-1].lstrip().startswith("#")):
        lines.pop()
    return tuple(lines)


def _limits(root: Block) -> dict[str, str]:
    listed = root.get("limits")
    if not isinstance(listed, Block):
        return {}
    return {
        name: said["value"].strip()
        for name, said in listed.items()
        if isinstance(said, Block) and isinstance(said.get("value"), str)
    }


def _units(root: Block) -> dict[str, str]:
    listed = root.get("equipment")
    if not isinstance(listed, Block) or isinstance(listed, Items):
        return {}
    return {file.strip(): unit for unit, file in listed.items() if isinstance(file, str)}
