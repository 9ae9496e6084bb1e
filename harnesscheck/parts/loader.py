"""The drawer: parts by kind and number, each kind read from its data file when it is first asked for."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from harnesscheck.document import Document, read
from harnesscheck.fault import Fault, InputError
from harnesscheck.parts import numbers
from harnesscheck.parts.fields import FIELDS, file_name
from harnesscheck.parts.part import Fact, Part, settle
from harnesscheck.parts.reading import Record, conflicts, read_records
from harnesscheck.source import Status

__all__ = ["DATA", "Drawer", "Fact", "Part", "open_drawer"]

DATA = Path(__file__).with_name("data")
"""The folder of the data files that come with the program."""


def _plain(value: object) -> str:
    if isinstance(value, str):
        return value
    return ", ".join(f"{k}: {v}" for k, v in value.items()) if isinstance(value, dict) else ", ".join(map(str, value))  # type: ignore[call-overload]


class Drawer:
    """Parts by kind and number. ``extra`` are a shop's own parts files, laid over the parts that come with the program.

    A shop's file may add parts, with any status, and may add *shop-confirmed* statements to parts that are there.
    Raises ``InputError`` when one of them breaks a rule of a parts file, or two of them contradict each other.
    """

    def __init__(self, *extra: Document | None) -> None:
        """Check every file of ``extra`` at once; the data files are read later, kind by kind."""
        self._kinds: dict[str, dict[str, Part]] = {}
        self._decoded: dict[tuple[str, str], Part | None] = {}
        self._shop: dict[tuple[str, str], Record] = {}
        for document in extra:
            if document is not None:
                self._lay_over(document)

    def get(self, kind: str, number: str) -> Part | None:
        """The part, from the data or by decoding its number; None when it is not in the drawer.

        Raises ``KeyError`` for a kind that does not exist, ``InputError`` when a data file is damaged.
        """
        parts = self._of(kind)
        if number in parts:
            return parts[number]
        number = numbers.plain(kind, number)
        if number in parts:
            return parts[number]
        if (kind, number) not in self._decoded:
            part = numbers.decode(kind, number, self.get)
            said = self._shop.get((kind, number))
            self._decoded[kind, number] = _merged(part, said) if part and said else part
        return self._decoded[kind, number]

    def numbers(self, kind: str) -> list[str]:
        """Every number of a kind that stands in the data, in file order; numbers that only decode are not listed."""
        return list(self._of(kind))

    def suggest(self, kind: str, number: str) -> list[str]:
        """Up to three numbers of that kind that look like ``number``, the nearest first."""
        return difflib.get_close_matches(number, self._of(kind), 3, 0.7)

    def stated(self) -> Iterator[tuple[str, str, dict[str, str]]]:
        """What the shop's own files say: kind, number, and field to value and source in words, in file order."""
        for (kind, number), record in self._shop.items():
            yield (
                kind,
                number,
                {
                    word: "; ".join(f"{_plain(one.fact.value)}, {one.fact.source}" for one in said)
                    for word, said in record.said.items()
                },
            )

    def _of(self, kind: str) -> dict[str, Part]:
        if kind not in FIELDS:
            raise KeyError(f"there is no kind of part {kind!r}")
        if kind not in self._kinds:
            parts = dict(_supplied(kind))
            for (shop_kind, number), record in self._shop.items():
                if shop_kind != kind:
                    continue
                if number in parts:
                    parts[number] = _merged(parts[number], record)
                elif numbers.decode(kind, number, self._bare) is None:
                    parts[number] = _part(record)
            self._kinds[kind] = parts
        return self._kinds[kind]

    def _bare(self, kind: str, number: str) -> Part | None:
        """A part as supplied, without the shop's file: used to tell a new number from a known one."""
        supplied = _supplied(kind)
        found = supplied.get(number) or supplied.get(numbers.plain(kind, number))
        return found or numbers.decode(kind, number, self._bare)

    def _lay_over(self, extra: Document) -> None:
        faults: list[Fault] = []
        mine: set[tuple[str, str]] = set()
        for record in read_records(extra):
            number = record.number
            if self._bare(record.kind, number) is not None:
                if number not in _supplied(record.kind):
                    number = numbers.plain(record.kind, number)
                for name, said in record.said.items():
                    for one in said:
                        if one.fact.source.status is not Status.SHOP:
                            message = f"{number} is in the drawer: {name} may only be shop-confirmed here"
                            remedy = "write status shop-confirmed with document, by and date"
                            faults.append(extra.fault(one.line, one.column, message, remedy))
            key = (record.kind, number)
            if key not in self._shop:
                mine.add(key)
            elif key in mine:
                faults.append(
                    extra.fault(record.line, record.column, f"{number} is given twice", "keep one of the two")
                )
                continue
            else:  # said in another of the shop's files as well: both count, unless they contradict each other
                both = _both(self._shop[key], record)
                faults.extend(conflicts(extra, both))
                self._shop[key] = both
                continue
            self._shop[key] = record
        if faults:
            raise InputError(faults)


def open_drawer(*extra: Document | None) -> Drawer:
    """The drawer that comes with the program, with a shop's own parts files laid over it."""
    return Drawer(*extra)


@cache
def _supplied(kind: str) -> dict[str, Part]:
    """The parts of one data file. Shared by all drawers: parts are immutable and this dict is copied before use."""
    name = file_name(kind)
    path = DATA / name
    if not path.exists():  # a kind that only ever decodes, such as 'cable'
        return {}
    return {record.number: _part(record) for record in read_records(read(path, f"parts/data/{name}"))}


def _part(record: Record) -> Part:
    facts, others = settle({name: [one.fact for one in said] for name, said in record.said.items()})
    return Part(record.number, record.kind, facts, _still_unknown(record.unknown, facts), others)


def _merged(part: Part, record: Record) -> Part:
    statements = {name: list(part.all(name)) for name in part.facts}
    for name, said in record.said.items():
        statements.setdefault(name, []).extend(one.fact for one in said)
    facts, others = settle(statements)
    return Part(part.number, part.kind, facts, _still_unknown((*part.unknown, *record.unknown), facts), others)


def _both(earlier: Record, later: Record) -> Record:
    """What two of the shop's files say of one part."""
    names = dict.fromkeys([*earlier.said, *later.said])
    together = {name: [*earlier.said.get(name, ()), *later.said.get(name, ())] for name in names}
    return replace(later, said=together, unknown=(*earlier.unknown, *later.unknown))


def _still_unknown(wanted: tuple[str, ...], facts: dict[str, Fact]) -> tuple[str, ...]:
    return tuple(name for name in dict.fromkeys(wanted) if name not in facts or not facts[name].firm)
