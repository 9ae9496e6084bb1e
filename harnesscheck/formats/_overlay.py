"""Lay an as-found file over the airframe file of its type: one document, each line with the place where it was typed.

An entry named in the as-found file must stand in the type's file: a misspelt one would silently do nothing. What the
aircraft has besides stands under ``added:``. An entry that is ``none`` is taken away; a key that is ``unknown`` is
taken back, because nobody knows it on this aircraft. One word for a cavity replaces what the type's file says of it.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import Any

from harnesscheck.document import Block, Document, Items
from harnesscheck.fault import Fault, foreign, nearest, short
from harnesscheck.formats._as_found import SECTIONS

NESTED = {"connectors": ("cavities",), "routes": ("passages",)}
"""Keys that hold named entries of their own, by section."""
_ONE = {"buses": "bus", "cavities": "cavity"}
_GONE, _UNKNOWN = "none", "unknown"
_SAYS_UNKNOWN = {("wires", "mark"), ("connectors", "use")}
"""Keys whose own value may be ``unknown``."""


class Overlaid(Document):
    """The type's file with an as-found file laid over it; lines behind those of the type's are the as-found file's."""

    __slots__ = ("base", "gone", "over")

    def __init__(self, base: Document, over: Document) -> None:
        self.base, self.over = base, over
        self.name, self.path = base.name, base.path
        self.lines = [*base.lines, *over.lines]
        self.root = _copy(base.root)
        self.gone: dict[str, str] = {}
        """What the as-found file takes away, and where it says so."""

    def origin(self, line: int) -> tuple[Document, int]:
        """The type's file, or the as-found file with its own line number."""
        behind = line - len(self.base.lines)
        return (self.over, behind) if behind > 0 else (self.base, line)

    def fault(self, line: int, column: int, message: str, remedy: str) -> Fault:
        """A fault at the place where the line was typed."""
        document, own = self.origin(line)
        return document.fault(own, column, message, remedy)

    def told(self, fault: Fault) -> Fault:
        """A fault in a line of the type's file that is one only because the as-found file takes something away."""
        names = [name for name in self.gone if name in fault.message]
        if fault.file != self.base.name or not names:
            return fault
        name = max(names, key=len)
        return replace(fault, remedy=f"{self.gone[name]} takes {name} away: say there what becomes of this line too")


def lay_over(base: Document, over: Document) -> tuple[Overlaid, list[Fault]]:
    """The type's file with the differences of ``over`` in it, and what is wrong with them.

    The heads of both files must have been looked at before; entries are typed afterwards, as those of an airframe.
    """
    work = _Work(base, over)
    root = over.root
    for section in SECTIONS:
        if section in root:
            work.changed(section, root[section])
    added = root.get("added", {})
    for section in SECTIONS:
        if section in added:
            work.added(section, added[section], added.marks[section])
    work.decided()
    if "note" in root:
        work.put(work.result.root, "note", root["note"], root.marks["note"])
    return work.result, work.faults


def told(frame: Document | None, faults: list[Fault]) -> list[Fault]:
    """Faults found in an aircraft's file, each with what to do there."""
    return [frame.told(fault) for fault in faults] if isinstance(frame, Overlaid) else faults


class _Work:
    """One laying over."""

    def __init__(self, base: Document, over: Document) -> None:
        self.base, self.over = base, over
        self.result = Overlaid(base, over)
        self.down = len(base.lines)
        self.faults: list[Fault] = []
        self.own: set[int] = set()
        """Blocks that are copies already, and may be written into."""

    def refuse(self, mark: tuple[int, ...], message: str, remedy: str) -> None:
        self.faults.append(self.over.fault(mark[0], mark[1], message, remedy))

    # -- writing into the result -------------------------------------------------------------------------------

    def put(self, block: Block, key: str, value: Any, mark: tuple[int, int, int, int]) -> None:
        """Set a key to a value of the as-found file."""
        block[key] = self.moved(value)
        block.marks[key] = (mark[0] + self.down, mark[1], mark[2] + self.down, mark[3])

    def moved(self, value: Any) -> Any:
        """A value of the as-found file with its lines counted on behind those of the type's file."""
        if isinstance(value, Block):
            block = Block(value.line + self.down, value.column)
            for key, inner in value.items():
                self.put(block, key, inner, value.marks[key])
            return block
        if isinstance(value, Items):
            items = Items(value.line + self.down, value.column)
            items.extend(self.moved(inner) for inner in value)
            items.marks = [(line + self.down, column) for line, column in value.marks]
            return items
        return value

    def inside(self, block: Block, key: str) -> Block:
        """The block at a key, as a copy that may be written into."""
        found = block[key]
        if id(found) not in self.own:
            found = block[key] = _copy(found)
            self.own.add(id(found))
        assert isinstance(found, Block)
        return found

    def touch(self, block: Block, key: str, mark: tuple[int, int, int, int]) -> None:
        """An entry that the as-found file changes is said to stand where it says so."""
        block.marks[key] = (mark[0] + self.down, mark[1], *block.marks[key][2:])

    # -- differences -------------------------------------------------------------------------------------------

    def changed(self, section: str, said: Block) -> None:
        """Entries of one section that differ or are gone."""
        root = self.result.root
        there = root.get(section)
        listed: Collection[str] = there if isinstance(there, Block) else ()
        for name, value in said.items():
            mark = said.marks[name]
            if name not in listed:
                self._missing(_one(section), name, mark, listed, f"added: {section}:")
                continue
            entries = self.inside(root, section)
            if value == _GONE:
                del entries[name], entries.marks[name]
                self.gone(name, mark)
            elif not isinstance(value, Block) or not isinstance(entries[name], Block):
                self.put(entries, name, value, mark)  # the schema says what belongs there
            else:
                self._entry(section, name, self.inside(entries, name), value)
                if set(value) - set(NESTED.get(section, ())):
                    self.touch(entries, name, mark)

    def gone(self, name: str, mark: tuple[int, ...]) -> None:
        self.result.gone[name] = f"{self.over.name}:{mark[0]}"

    def _entry(self, section: str, ref: str, entry: Block, said: Block) -> None:
        for key, value in said.items():
            mark = said.marks[key]
            if ref and key in NESTED.get(section, ()) and isinstance(value, Block):
                self._named(section, ref, entry, key, value, mark)
            elif value == _UNKNOWN and (section, key) not in _SAYS_UNKNOWN:
                if key in entry:
                    del entry[key], entry.marks[key]
                else:
                    remedy = nearest(key, entry) or f"remove it; what is said here is: {', '.join(entry)}"
                    self.refuse(mark, f"the type's file has no {short(key)} here that could be taken back", remedy)
            else:
                self.put(entry, key, value, mark)

    def _named(
        self, section: str, ref: str, entry: Block, key: str, said: Block, at: tuple[int, int, int, int]
    ) -> None:
        """Cavities of a connector, passages of a route."""
        if not isinstance(entry.get(key), Block):
            self.put(entry, key, Block(at[2], at[3]), at)
        inner = self.inside(entry, key)
        for name, value in said.items():
            mark = said.marks[name]
            if name not in inner and value != _GONE and key == "cavities" and self._seen(ref, name):
                self.put(inner, name, value, mark)
            elif name not in inner:
                self._missing(_one(key), name, mark, inner, f"added: {section}: {ref}: {key}:")
            elif value == _GONE:
                del inner[name], inner.marks[name]
                self.gone(name, mark)
            elif isinstance(value, Block):
                if not isinstance(inner[name], Block):
                    inner[name] = self._spelt_out(inner, name)
                    self.own.add(id(inner[name]))
                self._entry(section, "", self.inside(inner, name), value)
                self.touch(inner, name, mark)
            else:
                self.put(inner, name, value, mark)

    def _seen(self, ref: str, cavity: str) -> bool:
        """True when the type's file speaks of a cavity without listing it: at the mated half, or at a wire's end."""
        root = self.base.root
        halves = [half for half in root.get("connectors", {}).items() if isinstance(half[1], Block)]
        mated = [
            half for name, half in halves if half.get("mates") == ref or root["connectors"][ref].get("mates") == name
        ]
        if any(cavity in half["cavities"] for half in mated if isinstance(half.get("cavities"), Block)):
            return True
        wires = [wire for wire in root.get("wires", {}).values() if isinstance(wire, Block)]
        return any(f"{ref}-{cavity}" in (wire.get("from"), wire.get("to")) for wire in wires)

    def _spelt_out(self, inner: Block, name: str) -> Block:
        """``3: CAN H`` as ``3: {circuit: CAN H}``, so that one key of it can be changed."""
        line, column = inner.marks[name][2:]
        block = Block(line, column)
        word = inner[name]
        key = "use" if word in ("spare", "unknown") else "circuit"
        block[key] = word
        block.marks[key] = (line, column, line, column)
        return block

    def _missing(self, what: str, name: str, mark: tuple[int, ...], listed: Collection[str], where: str) -> None:
        listed_here = f"put it under {where} when this aircraft has one more"
        near = foreign(name) or nearest(name, listed)
        remedy = f"{near} If not: {listed_here}" if near else listed_here
        self.refuse(mark, f"the type's file has no {what} {short(name)}", remedy)

    # -- what the aircraft has besides -------------------------------------------------------------------------

    def added(self, section: str, said: Block, at: tuple[int, int, int, int]) -> None:
        """Entries of one section that the type's file has not."""
        root = self.result.root
        if not isinstance(root.get(section), Block):
            self.put(root, section, Block(at[2], at[3]), at)
        entries = self.inside(root, section)
        for name, value in said.items():
            mark = said.marks[name]
            nested = NESTED.get(section, ())
            if name not in entries:
                self.put(entries, name, value, mark)
            elif isinstance(value, Block) and value and set(value) <= set(nested):
                for key, inner in value.items():
                    self._added_inside(self.inside(entries, name), key, inner, value.marks[key])
            else:
                message = f"the type's file has {_one(section)} {short(name)} already"
                self.refuse(mark, message, f"say what differs under {section}:, not under added:")

    def _added_inside(self, entry: Block, key: str, said: Any, at: tuple[int, int, int, int]) -> None:
        if not isinstance(said, Block):
            self.put(entry, key, said, at)
            return
        if not isinstance(entry.get(key), Block):
            self.put(entry, key, Block(at[2], at[3]), at)
        inner = self.inside(entry, key)
        for name, value in said.items():
            if name in inner:
                message = f"the type's file names {short(name)} here already"
                self.refuse(said.marks[name], message, "say what differs outside added:")
            else:
                self.put(inner, name, value, said.marks[name])

    def decided(self) -> None:
        """Limits and waivers of this aircraft, besides those of its type."""
        root, over = self.result.root, self.over.root
        if isinstance(over.get("limits"), Block):
            if not isinstance(root.get("limits"), Block):
                at = over.marks["limits"]
                self.put(root, "limits", Block(at[2], at[3]), at)
            limits = self.inside(root, "limits")
            for name, value in over["limits"].items():
                self.put(limits, name, value, over["limits"].marks[name])
        if isinstance(over.get("waivers"), Items):
            mine = self.moved(over["waivers"])
            theirs = root.get("waivers")
            both = Items(mine.line, mine.column)
            for items in (theirs, mine):
                if isinstance(items, Items):
                    both.extend(items)
                    both.marks += items.marks
            root["waivers"] = both
            root.marks.setdefault("waivers", (mine.line, mine.column, mine.line, mine.column))


def _one(section: str) -> str:
    return _ONE.get(section, section.removesuffix("s"))


def _copy(block: Block) -> Block:
    """A copy of one block; what stands in it is shared."""
    copy = Block(block.line, block.column)
    copy.update(block)
    copy.marks.update(block.marks)
    return copy
