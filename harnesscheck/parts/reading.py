"""A parts file becomes parts: every statement checked, every refusal with file, line and column."""

from __future__ import annotations

import datetime
import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from harnesscheck.document import Block, Document, Items
from harnesscheck.fault import Fault, InputError
from harnesscheck.parts.fields import FIELDS, RESERVED
from harnesscheck.parts.part import Fact
from harnesscheck.parts.values import Value, same
from harnesscheck.source import Source, Status

GRADES = ("standard text", "manufacturer reproduction", "published report", "third-party page", "recalled")
"""What a source is. A third party's page cannot confirm a value, and only it makes one second hand."""
RECALLED = "none: recalled"

_NEEDS_SOURCE = frozenset({Status.CONFIRMED, Status.SECOND_HAND, Status.DERIVED})
_NOWHERE = {
    Status.MEMORY: RECALLED,
    Status.COMMON: "none: done so throughout the trade",
    Status.DEMO: "none: made up for the demonstration",
}


@dataclass(frozen=True, slots=True)
class Said:
    """One statement about one field, with the place it was written."""

    fact: Fact
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class Record:
    """One part as one file states it."""

    number: str
    kind: str
    said: Mapping[str, list[Said]]
    unknown: tuple[str, ...]
    line: int
    column: int


@dataclass(frozen=True, slots=True)
class _Named:
    document: str
    edition: str
    grade: str


def nearest(typed: str, known: Iterable[str]) -> str:
    """A remedy: the nearest known word, or all of them when none is near."""
    listed = sorted(known)
    if not listed:
        return "list it there first"
    close = difflib.get_close_matches(typed, listed, 1, 0.6)
    return f"did you mean {close[0]!r}?" if close else f"write one of: {', '.join(listed)}"


def read_records(document: Document) -> list[Record]:
    """Every record of a parts file. Raises ``InputError`` with all faults of the file."""
    reader = _Reader(document)
    records = reader.run()
    if reader.faults:
        raise InputError(reader.faults)
    return records


def conflicts(document: Document, record: Record) -> list[Fault]:
    """Two different values of one field, both confirmed (or both shop-confirmed): one of them must be wrong."""
    faults = []
    for name, said in record.said.items():
        read = FIELDS[record.kind][name]
        for status in (Status.CONFIRMED, Status.SHOP):
            firm = [one for one in said if one.fact.source.status is status]
            for one in firm[1:]:
                if not same(read(firm[0].fact.value), read(one.fact.value)):
                    message = f"{record.number}: {name} is {status} twice with different values"
                    remedy = f"keep the right one (the other is on line {firm[0].line})"
                    faults.append(document.fault(one.line, one.column, message, remedy))
    return faults


class _Reader:
    """One pass over one document; faults are collected, so that a person sees them all at once."""

    def __init__(self, document: Document) -> None:
        self.document = document
        self.faults: list[Fault] = []
        self.sources: dict[str, _Named] = {}

    def refuse(self, mark: tuple[int, int], message: str, remedy: str) -> None:
        self.faults.append(self.document.fault(*mark, message, remedy))

    def run(self) -> list[Record]:
        root = self.document.root
        self._only(root, ("kind", "about", "sources", "parts"), "a parts file")
        if root.get("kind") != "parts":
            mark = _value_mark(root, "kind") if "kind" in root else (1, 1)
            self.refuse(mark, "this is not a parts file", "start it with 'kind: parts'")
            return []
        for key, block in self._blocks(root, "sources"):
            self._source(key, block, _key_mark(root["sources"], key))
        records = []
        for number, block in self._blocks(root, "parts"):
            record = self._record(number, block, _key_mark(root["parts"], number))
            if record:
                records.append(record)
                self.faults.extend(conflicts(self.document, record))
        return records

    def _blocks(self, parent: Block, key: str) -> list[tuple[str, Block]]:
        value = parent.get(key)
        if value is None:
            return []
        if not isinstance(value, Block):
            self.refuse(_value_mark(parent, key), f"{key} is not a mapping", "indent one 'name: ...' a line below it")
            return []
        found = []
        for name, block in value.items():
            if isinstance(block, Block):
                found.append((name, block))
            else:
                self.refuse(_value_mark(value, name), f"{name} is not a mapping", "write its keys indented below it")
        return found

    def _only(self, block: Block, known: Iterable[str], what: str) -> None:
        for key in block:
            if key not in known:
                self.refuse(_key_mark(block, key), f"{key!r} is no key of {what}", nearest(key, known))

    def _words(self, block: Block, key: str) -> str:
        value = block.get(key, "")
        if not isinstance(value, str):
            self.refuse(_value_mark(block, key), f"{key} is not a text", "write one text")
            return ""
        return value.strip()

    def _source(self, key: str, block: Block, mark: tuple[int, int]) -> None:
        self._only(block, ("document", "edition", "grade"), "a source")
        document, grade = self._words(block, "document"), self._words(block, "grade")
        if " " in key:
            self.refuse(mark, f"source key {key!r} holds a blank", "use one word; the paragraph follows it")
        if not document and isinstance(block.get("document", ""), str):
            self.refuse(mark, f"source {key} names no document", "add 'document: ...'")
        if grade not in GRADES:
            where = _value_mark(block, "grade") if "grade" in block else mark
            self.refuse(where, f"source {key} has no known grade", nearest(grade, GRADES))
        self.sources[key] = _Named(document, self._words(block, "edition"), grade)

    def _record(self, number: str, block: Block, mark: tuple[int, int]) -> Record | None:
        self._only(block, ("kind", "facts", "unknown"), "a part")
        kind = self._words(block, "kind")
        if kind not in FIELDS:
            where = _value_mark(block, "kind") if "kind" in block else mark
            message = f"{number}: kind {kind!r} is not known" if kind else f"{number} has no kind"
            self.refuse(where, message, nearest(kind, FIELDS))
            return None
        said: dict[str, list[Said]] = {}
        statements = block.get("facts")
        if not isinstance(statements, Items) or not statements:
            where = _value_mark(block, "facts") if "facts" in block else mark
            self.refuse(where, f"{number} has no facts", "write 'facts:' and one '- {status: ..., field: ...}' a line")
            statements = Items(*mark)
        for at, statement in zip(statements.marks, statements, strict=True):
            if isinstance(statement, Block):
                self._statement(kind, statement, at, said)
            else:
                self.refuse(at, "a statement is not a mapping", "write '- {status: ..., source: ..., field: ...}'")
        return Record(number, kind, said, self._unknown(kind, block), *mark)

    def _unknown(self, kind: str, block: Block) -> tuple[str, ...]:
        listed = block.get("unknown", Items(0, 0))
        if not isinstance(listed, Items):
            self.refuse(_value_mark(block, "unknown"), "unknown is not a list", "write field names in square brackets")
            return ()
        for at, name in zip(listed.marks, listed, strict=True):
            if not isinstance(name, str) or name not in FIELDS[kind]:
                self.refuse(at, f"{name!r} is no field of a {kind}", nearest(str(name), FIELDS[kind]))
        return tuple(str(name) for name in listed)

    def _statement(self, kind: str, block: Block, mark: tuple[int, int], said: dict[str, list[Said]]) -> None:
        source = self._origin(block, mark)
        fields = [name for name in block if name not in RESERVED]
        if not fields:
            self.refuse(mark, "this statement says nothing", "add at least one field")
        for name in fields:
            read = FIELDS[kind].get(name)
            if read is None:
                self.refuse(_key_mark(block, name), f"{name!r} is no field of a {kind}", nearest(name, FIELDS[kind]))
                continue
            value = self._value(block, name)
            if value is None:
                continue
            try:
                read(value)
            except ValueError as error:
                self.refuse(_value_mark(block, name), f"{name} cannot be read", str(error))
                continue
            if source:
                said.setdefault(name, []).append(Said(Fact(value, source), *_value_mark(block, name)))

    def _value(self, block: Block, name: str) -> Value | None:
        """Text, tuple or plain dict. A dict, not a read-only view: parts travel to worker processes by pickle."""
        value = block[name]
        if isinstance(value, str):
            return value
        inner = list(value.values()) if isinstance(value, Block) else list(value)
        if not all(isinstance(one, str) for one in inner):
            self.refuse(_value_mark(block, name), f"{name} is nested", "write texts only inside a list or a mapping")
            return None
        return dict(value) if isinstance(value, Block) else tuple(value)

    def _origin(self, block: Block, mark: tuple[int, int]) -> Source | None:
        """The source of one statement, from its words of origin; None when they are refused."""
        typed = self._words(block, "status")
        if not isinstance(block.get("status", ""), str):
            return None
        if typed not in set(Status):
            where = _value_mark(block, "status") if "status" in block else mark
            message = f"status {typed!r} is not known" if typed else "this statement has no status"
            self.refuse(where, message, nearest(typed, set(Status)))
            return None
        status = Status(typed)
        if status is Status.SHOP:
            return self._shop(block, mark)
        for key in ("document", "paragraph", "by", "date"):
            if key in block:
                self.refuse(_key_mark(block, key), f"{key!r} belongs to a shop-confirmed statement", "use 'source'")
        cited = self._words(block, "source")
        rule = self._words(block, "rule")
        if (status is Status.DERIVED) != bool(rule):
            message = "a derived value has no rule" if not rule else "a rule belongs to a derived value"
            self.refuse(mark, message, "add 'rule: how it is computed'" if not rule else "remove it")
        if not cited:
            if status in _NEEDS_SOURCE:
                self.refuse(mark, f"a {status} statement names no source", "add 'source: KEY page or paragraph'")
                return None
            return Source(_NOWHERE[status], status)
        key, _, paragraph = cited.partition(" ")
        named = self.sources.get(key)
        if named is None:
            message = f"source {key!r} is not listed under sources"
            self.refuse(_value_mark(block, "source"), message, nearest(key, self.sources))
            return None
        self._graded(status, named.grade, _value_mark(block, "status"))
        paragraph = "; ".join(word for word in (paragraph, rule and f"rule: {rule}") if word)
        return Source(named.document, status, named.edition, paragraph)

    def _graded(self, status: Status, grade: str, mark: tuple[int, int]) -> None:
        """Grade and status must fit: a third party never confirms, and what is recalled stays so."""
        allowed = {
            "standard text": {Status.CONFIRMED, Status.DERIVED},
            "manufacturer reproduction": {Status.CONFIRMED, Status.DERIVED},
            "published report": {Status.CONFIRMED, Status.DERIVED},
            "third-party page": {Status.SECOND_HAND, Status.DERIVED},
            "recalled": {Status.MEMORY, Status.DERIVED},
        }
        if status not in allowed.get(grade, {status}):
            words = " or ".join(sorted(allowed[grade]))
            self.refuse(mark, f"a source of grade '{grade}' cannot make a value {status}", f"write status {words}")

    def _shop(self, block: Block, mark: tuple[int, int]) -> Source | None:
        words = {key: self._words(block, key) for key in ("document", "by", "date", "paragraph")}
        missing = [key for key in ("document", "by", "date") if not words[key]]
        if missing:
            self.refuse(mark, f"a shop-confirmed statement lacks {', '.join(missing)}", "add document, by and date")
            return None
        try:
            datetime.date.fromisoformat(words["date"])
        except ValueError:
            self.refuse(
                _value_mark(block, "date"), f"date {words['date']!r} cannot be read", "write it like 2031-05-24"
            )
            return None
        by = f"{words['by']}, {words['date']}"
        return Source(words["document"], Status.SHOP, paragraph=words["paragraph"], by=by)


def _key_mark(block: Block, key: str) -> tuple[int, int]:
    line, column, _, _ = block.marks[key]
    return line, column


def _value_mark(block: Block, key: str) -> tuple[int, int]:
    _, _, line, column = block.marks[key]
    return line, column
