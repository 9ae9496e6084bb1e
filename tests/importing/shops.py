"""Lists as shops keep them, with what each says typed by hand, and what the reader makes of them beside it.

A file of ``shops/`` holds many lists. ``######## NAME [encoding] [tabs]`` begins one, its rows follow as they stand in
the file (``tabs``: `` | `` stands for a tab), and below ``--------`` what they say::

    w 5 L1: J1-1 > P7-A; 22; white; 965.2; STALL WARN    row, id (*: any), ends; gauge; colour; mm; circuit
    p 9 J1-7: (spare)                                      a cavity in which no wire ends: circuit, (spare) or (?)
    x 5     a row that must be listed as not understood      r 6   one that must be listed as retired
    n 1 2   rows that are heads or notes                     ?     a value that must be listed and not taken
    hid 3   rows that must be named as hidden

A workbook has ``== SHEET`` lines, cells between bars (``#12`` a number, ``@2024-01-02`` a date), and lines such as
``!merge A1:B2``, ``!hide row 3``, ``!hide column E`` and ``!hide sheet``. Rows are then written ``SHEET!5``.
"""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from harnesscheck import units
from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists.account import NOTE, RETIRED, UNREAD
from harnesscheck.formats._lists.reader import Imported
from tests.importing import books

SHOPS = Path(__file__).parent / "shops"
_WORDS = {"grey": "gray", "purple": "violet"}


@dataclass(slots=True)
class Shop:
    """One list: its file, and what it says."""

    name: str
    wishes: list[str]
    body: list[str] = field(default_factory=list)
    says: list[str] = field(default_factory=list)


def every() -> list[Shop]:
    """All lists, in the order of their files."""
    found: list[Shop] = []
    for path in sorted(SHOPS.glob("*.txt")):
        said = False
        for line in path.read_text("utf-8").split("\n"):
            if line.startswith("######## "):
                name, *wishes = line[9:].split()
                found.append(Shop(name, wishes))
                said = False
            elif line == "--------":
                said = True
            elif found and (line or not said):
                (found[-1].says if said else found[-1].body).append(line)
    return found


def written(shop: Shop, folder: Path) -> Path:
    """The list as the file that somebody keeps."""
    path = folder / shop.name
    if path.suffix in (".xlsx", ".ods"):
        sheets, orders = _sheets(shop.body)
        return books.kept(path, sheets, orders)
    lines = [line.replace(" | ", "\t") if "tabs" in shop.wishes else line for line in shop.body]
    encoding = next((w for w in shop.wishes if w != "tabs"), "utf-8")
    path.write_bytes(("\n".join(lines) + "\n").encode(encoding))
    return path


def _sheets(body: list[str]) -> tuple[dict[str, list[list[Any]]], dict[str, list[str]]]:
    sheets: dict[str, list[list[Any]]] = {}
    orders: dict[str, list[str]] = {}
    name = ""
    for line in body:
        if line.startswith("== "):
            name = line[3:]
            sheets[name], orders[name] = [], []
        elif line.startswith("!"):
            orders[name].append(line[1:])
        elif line:
            sheets[name].append(
                [_value(text.strip()) for text in line.strip().removeprefix("|").removesuffix("|").split("|")]
            )
    return sheets, orders


def _value(text: str) -> Any:
    if re.fullmatch(r"#-?[\d.]+", text):
        return float(text[1:])
    return datetime.date.fromisoformat(text[1:]) if text.startswith("@") else text


@dataclass(slots=True)
class Score:
    """What became of what the list says, in counts; ``faults`` says each that must not be."""

    right: int = 0
    listed: int = 0
    wrong: int = 0
    dropped: int = 0
    faults: list[str] = field(default_factory=list)

    def bad(self, kind: str, text: str) -> None:
        """A wire or a pin that is wrong, or gone without a word."""
        setattr(self, kind, getattr(self, kind) + 1)
        self.faults.append(f"{kind}: {text}")


def score(shop: Shop, path: Path) -> Score:
    """The list as understood against what it says."""
    imported = spreadsheet.understood(path, path.name)
    return _Judge(imported, shop).score


class _Judge:
    def __init__(self, imported: Imported, shop: Shop) -> None:
        self.imported, self.score = imported, Score()
        document = imported.document
        self.lines = {
            (f"{sheet.name}!{row.number}" if sheet.name else str(row.number)): document.number(sheet, row.number)
            for sheet in document.sheets
            for row in sheet.rows
        }
        account = imported.account
        self.left = {left.line for left in account.left}
        self.values = {left.line for left in account.values}
        self.pending = list(imported.draft.wires)
        self.told_pins: set[tuple[str, str]] = set()
        for line in shop.says:
            self._line(line)
        for wire in self.pending:
            self.score.bad("wrong", f"a wire that nobody wrote: {wire.id} {wire.a} {wire.b}")
        ended = {end for wire in imported.draft.wires for end in (wire.a, wire.b)}
        for point in imported.draft.pins:
            if point not in ended and point not in self.told_pins:
                self.score.bad("wrong", f"a cavity that nobody wrote: {point}")

    def _line(self, said: str) -> None:
        kind, _, rest = said.partition(" ")
        if kind in "wW":
            where, name, ends, *values = re.fullmatch(r"(\S+) (\S+?): ([^;]+);?(.*)", self._spaced(rest)).groups()  # type: ignore[union-attr]
            self._wire(said, kind, where, name, ends, values[0])
        elif kind in "pP":
            where, point, values = re.fullmatch(r"(\S+) (\S+?): (.*)", self._spaced(rest)).groups()  # type: ignore[union-attr]
            self._pin(said, kind, where, point, values)
        else:
            for where in self._spaced(rest).split():
                got = self.imported.account.rows.get(self.lines.get(where.replace("\0", " "), 0), "no row at all")
                wanted = {"n": NOTE, "x": UNREAD, "r": RETIRED}.get(kind)
                if wanted and got != wanted:
                    self.score.bad("wrong", f"row {where} became {got!r}, not {wanted!r}")
                elif got == "no row at all":
                    self.score.bad("dropped", f"row {where}")
                elif kind in "xX":
                    self.score.listed += 1

    @staticmethod
    def _spaced(text: str) -> str:
        return re.sub(r"\b(Read) (me!)", "\\1\0\\2", text)

    def _at(self, where: str) -> list[int]:
        sheet, mark, rows = where.replace("\0", " ").rpartition("!")
        first, _, last = rows.partition("-")
        return [self.lines.get(f"{sheet}{mark}{n}", 0) for n in range(int(first), int(last or first) + 1)]

    def _wire(self, said: str, kind: str, where: str, name: str, ends: str, values: str) -> None:
        rows = self._at(where)
        a, _, b = ends.partition(" > ")
        names = self.imported.draft.names
        found = None
        for wire in self.pending:
            got = {"-".join(filter(None, (names.get(e[0], e[0]), e[1]))) for e in (wire.a, wire.b)}
            got_made = {"-".join(filter(None, e)) for e in (wire.a, wire.b)}
            if {a, b.strip()} in (got, got_made) and (wire.id == name or name == "*") and wire.line in rows:
                found = wire
        if found is None:
            there = [w for w in self.imported.draft.wires if w.line in rows]
            if all(r in self.left for r in rows) or (len(rows) > 1 and any(r in self.left for r in rows)):
                self.score.listed += 1
                if kind == "w":
                    self.score.faults.append(f"listed, and it is plain: {said}")
            elif there:
                self.score.bad("wrong", f"{said}: read as {[(w.id, w.a, w.b) for w in there]}")
            else:
                self.score.bad("dropped", said)
            return
        self.pending.remove(found)
        gauge, colour, length, circuit = ([v.strip() for v in values.split(";")] + [""] * 4)[:4]
        read = {key: text for key, (text, _) in found.values.items()}
        pairs = [("gauge", _gauge(gauge), _gauge(read.get("gauge", ""))),
                 ("colour", _colour(colour), _colour(read.get("colour", ""))),
                 ("length", length, _mm(read.get("length", "")))]  # fmt: skip
        if circuit:
            pairs.append(("circuit", circuit, found.circuit))
        self._compared(said, kind, rows, pairs)

    def _compared(self, said: str, kind: str, rows: list[int], pairs: list[tuple[str, str, str]]) -> None:
        for what, expected, got in pairs:
            if expected == got:
                continue
            told = any(r in self.values for r in rows)
            if not got and told and (expected == "?" or kind in "WP"):
                continue
            if expected == "?" or got:
                self.score.bad("wrong", f"{said}: {what} is read as {got!r}")
            elif told:
                self.score.listed += 1
                self.score.faults.append(f"value listed, and it is plain: {said}: {what}")
            else:
                self.score.bad("dropped", f"{said}: {what}")
            return
        self.score.right += 1

    def _pin(self, said: str, kind: str, where: str, point: str, values: str) -> None:
        rows = self._at(where)
        ref, _, cavity = point.partition("-")
        circuit, gauge, colour = ([v.strip() for v in values.split(";")] + [""] * 3)[:3]
        self.told_pins.add((ref, cavity))
        pin = self.imported.draft.pins.get((ref, cavity))
        if pin is None:
            if all(r in self.left for r in rows):
                self.score.listed += 1
                if kind == "p":
                    self.score.faults.append(f"listed, and it is plain: {said}")
            else:
                self.score.bad("dropped", said)
            return
        read = {key: text for key, (text, _) in pin.values.items()}
        got = read.get("circuit") or {"spare": "(spare)", "unknown": "(?)"}.get(read.get("use", ""), "(?)")
        note = read.get("note", "")
        hue = re.search(r"colour ([^;]+)", note)
        pairs = [("circuit", circuit, got), ("gauge", _gauge(gauge), _gauge(read.get("gauge", ""))),
                 ("colour", _colour(colour), _colour(hue[1] if hue else ""))]  # fmt: skip
        self._compared(said, kind, rows, pairs)


def _gauge(text: str) -> str:
    if text in ("", "?"):
        return text
    return str(units.gauge(text if "mm2" in text or "AWG" in text else f"{text} AWG"))


def _colour(text: str) -> str:
    said = text.casefold().strip()
    digits = ["black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "gray", "white"]
    if said.isdigit():
        said = "/".join(digits[int(d)] for d in said)
    return "/".join(_WORDS.get(part.strip(), part.strip()) for part in said.split("/"))


def _mm(text: str) -> str:
    return f"{round(units.length(text) * 1000, 3):g}" if text else ""


def main() -> None:
    """Print the score of every list."""
    import sys
    import tempfile

    total = Score()
    for shop in every():
        if sys.argv[1:] and shop.name not in sys.argv[1:]:
            continue
        with tempfile.TemporaryDirectory() as folder:
            try:
                one = score(shop, written(shop, Path(folder)))
            except Exception as error:
                one = Score(faults=[f"{type(error).__name__}: {str(error)[:160]}"])
                one.dropped = sum(line[0] in "wpWP" for line in shop.says)
        print(f"{shop.name:32} {one.right:3} right {one.listed:3} listed {one.wrong:3} wrong {one.dropped:3} dropped")
        for fault in one.faults:
            print("      " + fault)
        total = Score(
            total.right + one.right, total.listed + one.listed, total.wrong + one.wrong, total.dropped + one.dropped
        )
    print(total)


if __name__ == "__main__":
    main()
