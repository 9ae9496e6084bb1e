"""What was understood of a list, before it becomes one of our files: wires, pins, connectors, each with its cell."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from harnesscheck.formats._lists import spellings
from harnesscheck.formats._lists.account import NOTE, RETIRED, UNREAD, Account, Left
from harnesscheck.formats._lists.cells import Cell, Row, Sheet
from harnesscheck.formats._lists.mapping import Mapping
from harnesscheck.formats._lists.source import ListDocument
from harnesscheck.formats._lists.spellings import NotPlainError
from harnesscheck.formats._lists.tables import Table

Mark = tuple[int, int]

_CIRCUIT = re.compile(r"[!-~](?:[ -~]{0,48}[!-~])?")


@dataclass(slots=True)
class DraftWire:
    """One wire: both ends as ``(reference, cavity)``, values as our file writes them."""

    id: str
    a: tuple[str, str]
    b: tuple[str, str]
    mark: Mark
    ends: tuple[Mark, Mark]
    values: dict[str, tuple[str, Mark]] = field(default_factory=dict)
    circuit: str = ""
    line: int = 0
    also: int = 0
    """The line of a second row that tells the same wire."""


@dataclass(slots=True)
class DraftPin:
    """What is known of one cavity."""

    mark: Mark
    values: dict[str, tuple[str, Mark]] = field(default_factory=dict)
    line: int = 0


def _same_id(wire: DraftWire, typed: str) -> bool:
    """Whether a wire may be the one with an id as typed in another table."""
    mark = wire.values.get("mark", (wire.id,))[0]
    return typed in (wire.id, mark) or re.fullmatch(r"W\d{3}", wire.id) is not None


class Draft:
    """Gathers rows; every row gets its verdict here."""

    def __init__(self, document: ListDocument, mapping: Mapping) -> None:
        self.document = document
        self.mapping = mapping
        self.account = Account()
        self.wires: list[DraftWire] = []
        self.pins: dict[tuple[str, str], DraftPin] = {}
        self.connectors: dict[str, dict[str, tuple[str, Mark]]] = {}
        self.marks: dict[str, Mark] = {}
        """Reference to where it was first named."""
        self.points: dict[str, str] = {}
        """References without cavities: ``splices``, ``grounds`` or ``breakers``."""
        self.names: dict[str, str] = {}
        """Reference to the name as typed, where the two differ."""
        self.tables: list[Table] = []
        self.understood: list[str] = []
        self.remarks: dict[str, None] = {}
        self.mated: dict[str, str] = {}
        """Halves of a bulkhead connector that one table told together."""
        self.halves: dict[tuple[tuple[str, str], tuple[str, str]], DraftWire] = {}
        """Wires of pin tables by the end that the row is about and the far end."""
        self.whole: dict[tuple[frozenset[tuple[str, str]], str], DraftWire] = {}
        """Wires of from-to lists by their ends and their id as typed."""
        self.leads: list[Any] = []
        """Ends of wires that pin tables name (``joined.Lead``)."""
        self.known: frozenset[str] = frozenset()
        self.colour_keys: tuple[tuple[str, str], ...] | None = None
        """What the colour keys of the list mean; None: not looked at yet."""
        self._ids: dict[str, int] = {}

    # -- rows and values ---------------------------------------------------------------------------------------

    def mark(self, sheet: Sheet, cell: Cell) -> Mark:
        """Line and column of a cell."""
        return self.document.number(sheet, cell.row), cell.column

    def settle(self, sheet: Sheet, row: Row, kind: str) -> None:
        """Say what became of a row."""
        self.account.rows[self.document.number(sheet, row.number)] = kind

    def unread(self, sheet: Sheet, row: Row, reason: str, remedy: str = "", cell: Cell | None = None) -> None:
        """A row that was not understood."""
        at = cell or next(iter(row.filled), row.at(0))
        self.settle(sheet, row, UNREAD)
        self.account.left.append(Left(*self.mark(sheet, at), row.text.replace("\n", " "), reason, remedy))

    def retired(self, sheet: Sheet, row: Row, reason: str) -> None:
        """A row that the list itself takes back."""
        self.settle(sheet, row, RETIRED)
        at = next(iter(row.filled))
        self.account.retired.append(Left(*self.mark(sheet, at), row.text.replace("\n", " "), reason))

    def note(self, sheet: Sheet, row: Row) -> None:
        """A heading, a note or a head of columns."""
        self.settle(sheet, row, NOTE)

    def not_taken(self, sheet: Sheet, cell: Cell, what: str, reason: str, remedy: str = "") -> None:
        """A value of a row that was taken without it."""
        self.account.values.append(Left(*self.mark(sheet, cell), f"{what} {cell.text!r}", reason, remedy))

    def state(self) -> tuple[int, ...]:
        """How much has been gathered, for ``back_to``."""
        return tuple(map(len, self._gathered()))

    def back_to(self, before: tuple[int, ...]) -> None:
        """Take back what a row has entered that turns out not to be understood."""
        for gathered, length in zip(self._gathered(), before, strict=True):
            while len(gathered) > length:
                if isinstance(gathered, dict):
                    gathered.popitem()
                else:
                    gathered.pop()

    def _gathered(self) -> tuple[Any, ...]:
        return (
            self.account.values, self.wires, self.pins, self.connectors, self.marks, self.points, self.names,
            self.remarks, self._ids, self.mated, self.halves, self.whole, self.leads,
        )  # fmt: skip

    def remark(self, text: str) -> None:
        """Something done that the reader should know, said once."""
        self.remarks[text] = None

    # -- references, ends ----------------------------------------------------------------------------------------

    def ref(self, typed: str, mark: Mark) -> str:
        """A reference that our files accept. Raises ``NotPlainError`` when none can be made, or two would be one."""
        if typed not in self.mapping.names and re.search(r"(?i)[,;&\n]|\b(?:and|or)\b|\bsplice on\b", typed):
            remedy = "write one row for each, or state one name for it with --map (names:)"
            raise NotPlainError(f"{typed!r} may name more than one part", remedy)
        typed = self.mapping.names.get(typed, typed)
        made = spellings.reference(typed)
        if not made:
            raise NotPlainError(f"{typed!r} cannot be a reference", "write a letter, then letters and digits, like P14")
        was = self.names.get(made, made if made in self.marks else typed)
        if was != typed:
            remedy = "give one of the two another name, or state it with --map (names:)"
            raise NotPlainError(f"{typed!r} and {was!r} would both be written {made}", remedy)
        if made != typed:
            self.names[made] = typed
        self.marks.setdefault(made, mark)
        return made

    def point_kind(self, typed: str, cavity: str) -> str:
        """The section that an end belongs to; empty for a name without a cavity that is no splice and no ground."""
        if spellings.BREAKER.fullmatch(typed) and cavity.lower() in ("line", "load"):
            return "breakers"
        if cavity:
            return "connectors"
        if typed in self.mapping.splices:
            return "splices"
        if typed in self.mapping.grounds:
            return "grounds"
        if typed in self.known:
            return ""
        if spellings.SPLICE.fullmatch(typed):
            return "splices"
        return "grounds" if spellings.GROUND.fullmatch(typed) else ""

    def end(self, typed: str, cavity: str, mark: Mark) -> tuple[str, str]:
        """One end of a wire. Raises ``NotPlainError`` when no cavity is given for a part that has cavities."""
        if not typed and not cavity:
            raise NotPlainError("one end of the wire is not given", "write both ends")
        if not typed:
            raise NotPlainError(f"cavity {cavity!r} has no reference", "write the connector too")
        kind = self.point_kind(typed, cavity)
        if not kind:
            remedy = "write the cavity; a splice is called SP1, a ground stud GS1, or name it with --map"
            if spellings.BREAKER.fullmatch(typed) and not cavity:
                remedy = "write its terminal as the cavity: load, or line for the side of the bus"
            raise NotPlainError(f"no cavity is given at {typed!r}", remedy)
        if cavity:
            self._cavity(cavity)
        ref = self.ref(typed, mark)
        if kind == "breakers":
            cavity = cavity.lower()
        if kind == "connectors":
            if ref in self.points:
                raise NotPlainError(
                    f"{typed} is a {self.points[ref][:-1]} elsewhere and has a cavity here", "correct one"
                )
            self.connectors.setdefault(ref, {})
        else:
            if ref in self.connectors and kind == "breakers":
                raise NotPlainError(f"{typed} is a breaker here and has other cavities elsewhere", "correct one")
            if ref in self.connectors:
                raise NotPlainError(
                    f"no cavity is given at {typed!r}, which has cavities elsewhere", "write the cavity"
                )
            self.points[ref] = kind
        return ref, cavity

    def _cavity(self, cavity: str) -> None:
        if not spellings.is_cavity(cavity) or re.search(r"(?i)\b(?:any|either|see|verify|tbd)\b|\?", cavity):
            raise NotPlainError(f"{cavity!r} cannot be a cavity name", "write it as marked on the insert, like 3 or A")

    # -- what is taken -------------------------------------------------------------------------------------------

    def wire(
        self,
        table: Table,
        row: Row,
        ends: tuple[tuple[str, str, Cell], tuple[str, str, Cell]],
        values: dict[str, tuple[str, Mark]],
        id_cell: Cell | None = None,
        circuit: tuple[str, Cell] | None = None,
        near: int | None = None,
    ) -> None:
        """Take a wire. Raises ``NotPlainError``; nothing is taken then.

        ``near``: which end the row is about, where it is a row of a pin table that tells the far end.
        """
        typed = [(ref, cavity, self.mark(table.sheet, cell)) for ref, cavity, cell in ends]
        if typed[0][:2] == typed[1][:2] and any(typed[0][:2]):
            raise NotPlainError("the wire ends where it starts", "correct one end")
        for ref, cavity, _ in typed:
            if not ref or (not cavity and not self.point_kind(ref, cavity)):
                self.end(ref, cavity, typed[0][2])  # raises, before anything of the other end is entered
        a, b = (self.end(*one) for one in typed)
        mark = self.mark(table.sheet, id_cell or next(iter(row.filled)))
        if self._told_already(a, b, mark, values, id_cell, circuit, near):
            return
        name = self._id(id_cell.text if id_cell else "", table, id_cell, values)
        wire = DraftWire(name, a, b, mark, (typed[0][2], typed[1][2]), dict(values), line=mark[0])
        self.wires.append(wire)
        if near is not None:
            self.halves[(a, b)[near], (a, b)[1 - near]] = wire
        elif id_cell is not None:
            self.whole.setdefault((frozenset((a, b)), id_cell.text), wire)
        if circuit and circuit[0]:
            wire.circuit = circuit[0]
            for ref, cavity in (a, b):
                if cavity and ref not in self.points:
                    self._circuit(table, (ref, cavity), circuit, mark)

    def _told_already(
        self,
        a: tuple[str, str],
        b: tuple[str, str],
        mark: Mark,
        values: dict[str, tuple[str, Mark]],
        id_cell: Cell | None,
        circuit: tuple[str, Cell] | None,
        near: int | None,
    ) -> bool:
        """True when two pin tables tell the same wire, each from its own end. Raises when they tell it differently."""
        if near is None:
            same = self.whole.get((frozenset((a, b)), id_cell.text)) if id_cell is not None else None
            if same is not None:
                where = self.document.where(*same.mark)
                reason = f"this wire, with the same id and the same ends, stands at {where} already"
                raise NotPlainError(reason, "delete one of the two rows, or give the second wire an id of its own")
            return False
        one, two = (a, b) if near == 0 else (b, a)
        wire = self.halves.get((two, one))
        if wire is None or (id_cell is not None and not _same_id(wire, id_cell.text)):
            return False
        where = self.document.where(*wire.mark)
        for key in ("gauge", "colour", "length", "type"):
            was, now = wire.values.get(key), values.get(key)
            if was and now and was[0].casefold() != now[0].casefold():
                raise NotPlainError(f"{where} tells the same wire with {key} {was[0]}, and not {now[0]}", "correct one")
        if circuit and wire.circuit and circuit[0] != wire.circuit:
            raise NotPlainError(
                f"{where} tells the same wire as {wire.circuit!r}, and not {circuit[0]!r}", "correct one"
            )
        for key in ("gauge", "colour", "length", "type"):
            if key in values:
                wire.values.setdefault(key, values[key])
        if "note" in values and values["note"][0] != wire.values.get("note", ("",))[0]:
            was = wire.values.get("note")
            wire.values["note"] = (
                (f"{was[0]}; {values['note'][0]}" if was else values["note"][0])[:390],
                values["note"][1],
            )
        wire.also = mark[0]
        self.remark("a wire that two pin tables tell, each from its own end, is one wire")
        return True

    def _id(self, typed: str, table: Table, cell: Cell | None, values: dict[str, tuple[str, Mark]]) -> str:
        made = re.sub(r"\s+", "_", typed)
        if cell is not None and typed and not re.fullmatch(r"[!-~]{1,40}", made):
            self.not_taken(table.sheet, cell, "wire id", "no plain text of up to 40 signs", "type it again")
            made = ""
        if cell is not None and "gauge" not in values and re.search(r"(?i)\b\d{1,2} ?AWG\b|\d ?mm[2\u00b2]", typed):
            reason = "a size stands in it, which is not taken"
            self.not_taken(table.sheet, cell, "wire id", reason, "give gauge and colour columns of their own")
        if not made:
            number = len(self.wires) + 1
            while f"W{number:03d}" in self._ids:
                number += 1
            made = f"W{number:03d}"
            self.remark("wires without an id are numbered W001, W002 and so on, by row")
        elif cell is not None and made != typed:
            values.setdefault("mark", (typed, self.mark(table.sheet, cell)))
        base, count = made, self._ids.get(made, 1)
        while made in self._ids:
            count += 1
            made = f"{base[:34]}_{count}"
        if made != base:
            self._ids[base] = count  # where to go on when the same id comes again
        if made != base and cell is not None:
            values.setdefault("mark", (typed, self.mark(table.sheet, cell)))
            self.remark(f"the id {typed} stands in several rows: its second wire is called {made}, marked {typed}")
        self._ids[made] = 1
        return made

    def _circuit(self, table: Table, point: tuple[str, str], circuit: tuple[str, Cell], mark: Mark) -> None:
        name, cell = circuit
        pin = self.pins.setdefault(point, DraftPin(mark, {}, mark[0]))
        said = pin.values.get("circuit")
        if said is None and "use" not in pin.values:
            pin.values["circuit"] = (name, self.mark(table.sheet, cell))
        elif said is not None and said[0] != name:
            reason = f"{point[0]}-{point[1]} is called {said[0]!r} at {self.document.where(*said[1])}: that is kept"
            self.not_taken(
                table.sheet, cell, "signal", reason, "one cavity carries one circuit: correct one of the two"
            )

    def circuit(self, table: Table, cell: Cell) -> tuple[str, Cell] | None:
        """A circuit name of a cell; one that our files cannot hold is listed as not taken."""
        said = cell.text.replace("\n", " ").strip()
        if not said or said.casefold() in ("spare", "unknown") or re.fullmatch(r"[-.?]+", said):
            return None
        if not _CIRCUIT.fullmatch(said):
            reason = "longer than 50 signs" if len(said) > 50 else "holds a sign that is not plain"
            self.not_taken(table.sheet, cell, "signal", reason, "write it short and in plain characters, like CAN H")
            return None
        return said, cell

    def pin(
        self, table: Table, row: Row, ref: str, cavity: str, cell: Cell, values: dict[str, tuple[str, Mark]]
    ) -> None:
        """Take what is known of a cavity. Raises ``NotPlainError`` when another row has said something else of it."""
        mark = self.mark(table.sheet, cell)
        self._cavity(cavity)
        made = self.ref(ref, mark)
        if made in self.points:
            raise NotPlainError(f"{ref} is a {self.points[made][:-1]} elsewhere", "give one of the two another name")
        before = self.pins.get((made, cavity))
        if before is not None:
            for key in ("circuit", "use"):
                one, two = before.values.get(key, ("", mark))[0], values.get(key, ("", mark))[0]
                if one != two and before.line != mark[0]:
                    said = self.document.where(*before.mark)
                    raise NotPlainError(
                        f"cavity {cavity} of {ref} stands at {said} already", "keep one of the two rows"
                    )
        self.connectors.setdefault(made, {})
        entry = self.pins.setdefault((made, cavity), DraftPin(mark, {}, mark[0]))
        for key, value in values.items():
            entry.values.setdefault(key, value)
