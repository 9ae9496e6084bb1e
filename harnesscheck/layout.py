"""The canonical layout of our YAML files: every value and every comment stays, only blanks and line breaks change.

Two blanks a level, one blank line at the most, one wire one line, no line over 120 columns where a list or a block in
braces can be broken. What a person chose otherwise stays: quotes, braces or lines, the order of the keys.

Scalars are copied as they were typed, out of the C parser's event stream: no value is ever read as a number or a date
on the way. The result is read again and compared; a file that would not come out the same is left alone.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from harnesscheck.document import parse
from harnesscheck.fault import Fault, InputError

WIDTH = 120
"""Columns, the comma at the end of a line apart. Common practice; the demo's own width."""
STEP = 2
HANG = 4
"""Blanks by which the second line of a long entry is set in, when its author chose none."""
MOST_HANG = 12


class LeftAloneError(Exception):
    """A file that cannot be laid out without losing something; ``fault`` says where and what to do."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(str(fault))
        self.fault = fault


@dataclass(slots=True)
class _Scalar:
    start: int
    end: int
    raw: str
    value: str
    style: str


@dataclass(slots=True)
class _Group:
    """A mapping (its items are pairs) or a list (the keys are None), in braces or in lines."""

    start: int
    column: int
    mapping: bool
    braces: bool
    end: int = 0
    items: list[tuple[_Scalar | None, _Scalar | _Group]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Comment:
    start: int
    end: int
    column: int
    text: str
    own_line: bool


_Node = _Scalar | _Group


def canonical(data: bytes, name: str) -> bytes:
    """The canonical layout of a file, UTF-8, with the line ends it has.

    Raises ``InputError`` when the file cannot be read at all, ``LeftAloneError`` when it cannot be kept exactly.
    """
    before = parse(data, name)
    crlf = b"\r\n" in data
    text = data.decode("utf-8").removeprefix("\ufeff").replace("\r\n", "\n")
    try:
        result = _Layout(text, name).whole()
        after = parse(result, name)
        same = _ordered(before.root) == _ordered(after.root) and _comments(text) == _comments(result)
        settled = same and _Layout(result, name).whole() == result
    except InputError:
        same = settled = False
    if not settled:
        why = "the layout of this file cannot be changed without changing what it says"
        raise LeftAloneError(Fault(name, 1, 1, why, "", "lay it out by hand, one key a line"))
    return (result.replace("\n", "\r\n") if crlf else result).encode("utf-8")


def _ordered(value: Any) -> Any:
    """Nested values with the order of their keys; the two ends of a wire may change places with its other keys."""
    if isinstance(value, dict):
        return [(key, _ordered(each)) for key, each in _ends_first(list(value.items()))]
    return [_ordered(each) for each in value] if isinstance(value, list) else value


def _ends_first(pairs: list[tuple[Any, Any]]) -> list[tuple[Any, Any]]:
    ends = {"from": 0, "to": 1}
    names = [key.value if isinstance(key, _Scalar) else key for key, _ in pairs]
    if not set(ends) <= set(names):
        return pairs
    return [pair for _, pair in sorted(zip(names, pairs, strict=True), key=lambda both: ends.get(both[0], 2))]


def _comments(text: str) -> list[str]:
    return [comment.text for comment in _Layout(text, "").comments]


class _Layout:
    """One file on its way to its canonical layout."""

    def __init__(self, text: str, name: str) -> None:
        self.text = text
        self.name = name
        self.scalars: list[_Scalar] = []
        self.braces: list[tuple[int, int]] = []
        self.root = self._tree()
        self.comments = list(self._find_comments())
        self.waiting = 0
        """Index of the first comment that is not written yet."""
        self.at = 0
        """Where in the text the last thing written ends."""
        self.lines: list[str] = []
        self.closed: list[tuple[int, int]] = []
        """Columns, in the text and as written, of the levels that have ended since the last item."""
        self.opening = True

    # -- reading ---------------------------------------------------------------------------------------------------

    def _tree(self) -> _Group:
        from _ruamel_yaml import CParser
        from ruamel.yaml import events

        parser = CParser(self.text)
        stack: list[tuple[_Group, _Scalar | None]] = []
        here = _Group(0, 0, False, False)
        key: _Scalar | None = None
        while not isinstance(event := parser.get_event(), events.StreamEndEvent):
            start, end = event.start_mark.index, event.end_mark.index
            if isinstance(event, events.DocumentStartEvent) and (event.version or event.tags):
                raise self.left_alone(0, "a YAML directive", "remove the line that starts with %")
            node: _Node
            if isinstance(event, events.ScalarEvent):
                node = _Scalar(start, end, self.text[start:end], event.value, event.style or "")
                self.scalars.append(node)
                if here.mapping and key is None:
                    key = node
                    continue
            elif isinstance(event, events.MappingStartEvent | events.SequenceStartEvent):
                mapping = isinstance(event, events.MappingStartEvent)
                node = _Group(start, event.start_mark.column, mapping, bool(event.flow_style))
            elif isinstance(event, events.MappingEndEvent | events.SequenceEndEvent):
                here.end = end
                if here.braces:
                    self.braces.append((here.start, end))
                here, key = stack.pop()
                continue
            else:
                continue
            here.items.append((key, node))
            key = None
            if isinstance(node, _Group):
                stack.append((here, None))
                here = node
        root = here.items[0][1]
        assert isinstance(root, _Group)  # the reader has refused anything else
        return root

    def _find_comments(self) -> Iterator[_Comment]:
        """Comments stand between the scalars; there a '#' is nothing else."""
        at = 0
        for scalar in [*self.scalars, None]:
            gap = self.text[at : scalar.start if scalar else len(self.text)]
            for found in re.finditer(r"#[^\n]*", gap):
                start = at + found.start()
                line = self.text.rfind("\n", 0, start) + 1
                own = not self.text[line:start].strip()
                yield _Comment(start, at + found.end(), start - line, found[0].rstrip(), own)
            at = scalar.end if scalar else at

    def left_alone(self, at: int, message: str, remedy: str) -> LeftAloneError:
        """The refusal to lay this file out, at a place of its text."""
        line, start = self.text.count("\n", 0, at), self.text.rfind("\n", 0, at) + 1
        shown = self.text.split("\n")[line]
        return LeftAloneError(Fault(self.name, line + 1, at - start + 1, message, shown, remedy))

    # -- writing ---------------------------------------------------------------------------------------------------

    def whole(self) -> str:
        """The file in its canonical layout."""
        for comment in self.comments:
            if any(start < comment.start < end for start, end in self.braces):
                raise self.left_alone(
                    comment.start, "a comment between braces cannot be kept in its place", "put it on a line above"
                )
        if not self.root.items:
            raise self.left_alone(0, "there is nothing in this file", "start it with 'kind: jumper'")
        self.block(self.root, 0, "", ())
        self.before(len(self.text), None)
        return "\n".join(self.lines).rstrip("\n") + "\n"

    def before(self, position: int, level: tuple[int, int] | None) -> None:
        """Write the comments up to a place, and one blank line where there were some."""
        levels = [*self.closed, *([level] if level else [])]
        while self.waiting < len(self.comments) and self.comments[self.waiting].start < position:
            comment = self.comments[self.waiting]
            self.waiting += 1
            gap = self.text[self.at : comment.start]
            if set(gap.replace("---", "")) & {"-", "?"} or (not comment.own_line and "\n" in gap.lstrip(" \t:-")):
                raise self.left_alone(comment.start, "this comment cannot be kept in its place", "put it a line higher")
            if comment.own_line:
                self.blank_line(gap)
                deep = [each for each in levels if each[0] <= comment.column]
                fits = max(deep, key=lambda each: (each[0], -each[1])) if deep else level or (0, 0)
                self.lines.append(" " * fits[1] + comment.text)
            elif self.lines:
                self.lines[-1] += "  " + comment.text
            else:
                self.lines.append(comment.text)
            self.at = comment.end
            self.opening = False
        self.blank_line(self.text[self.at : position])
        self.closed = []

    def blank_line(self, gap: str) -> None:
        """One blank line where the text had at least one; none below the key that opens a block."""
        if re.search(r"\n[ \t]*\n", gap) and not self.opening and self.lines and self.lines[-1]:
            self.lines.append("")

    def block(self, group: _Group, indent: int, first: str, path: tuple[str, ...]) -> None:
        """Write a group one item a line; ``first`` is what the first line starts with, in place of blanks."""
        level = (group.column, indent)
        for number, (key, value) in enumerate(group.items):
            start = key.start if key else value.start
            if not group.mapping and isinstance(value, _Group) and not value.braces and value.items[0][0]:
                start = value.items[0][0].start  # the first key of a block that starts behind its dash
            if number or not first:
                self.before(start, level)
                lead = " " * indent
            else:
                lead = first
            if key is None:
                self.value(value, indent, f"{lead}-", path)
            else:
                if "\n" in key.raw:
                    raise self.left_alone(key.start, "a key over several lines", "write it on one line")
                self.at = key.end
                self.value(value, indent, f"{lead}{key.raw}:", (*path, key.value))
        self.closed.append(level)

    def value(self, node: _Node, indent: int, lead: str, path: tuple[str, ...]) -> None:
        """Write one value behind its key or dash."""
        self.opening = False
        if isinstance(node, _Group) and not self.in_braces(node, path):
            if lead.endswith("-"):
                self.block(node, indent + STEP, f"{lead} ", path)
            else:
                self.lines.append(lead)
                self.opening = True
                self.block(node, indent + STEP, "", path)
            self.at = max(self.at, node.end) if node.braces else self.at
            return
        kept = self.waiting
        if isinstance(node, _Scalar) and node.style in ("|", ">"):
            self.prose(node, indent, lead)
            return
        self.lines += self.broken(node, indent, lead)
        end = self.end_of(node)
        while self.waiting < len(self.comments) and self.comments[self.waiting].start < end:
            comment = self.comments[self.waiting]
            if comment.own_line or self.waiting > kept:
                raise self.left_alone(comment.start, "a comment between a key and its value", "put it above the key")
            self.lines[-1] += "  " + comment.text
            self.waiting += 1
        self.at = end

    def end_of(self, node: _Node) -> int:
        """Where the text of a value ends; that of a block without braces ends with its last value."""
        if isinstance(node, _Group) and not node.braces:
            return max((self.end_of(value) for _, value in node.items), default=node.end)
        return node.end

    def in_braces(self, group: _Group, path: tuple[str, ...]) -> bool:
        """Whether a group is written in braces: a wire always, a section never when it holds blocks."""
        if not group.items:
            return True
        if len(path) == 2 and path[0] == "wires" and group.mapping:
            end = self.end_of(group)
            near = [comment for comment in self.comments[self.waiting :] if comment.start < end]
            commented = any(comment.own_line or comment.start > group.start for comment in near)
            plain = all(isinstance(v, _Scalar) and v.style not in ("|", ">") for _, v in group.items)
            return group.braces or (plain and not commented)
        section = len(path) == 1 and (path[0] == "wires" or any(isinstance(v, _Group) for _, v in group.items))
        return group.braces and not (group.mapping and (not path or section))

    def broken(self, node: _Node, indent: int, lead: str) -> list[str]:
        """A value behind its key; over several lines when it is too long for one."""
        pieces = list(self.pieces(node, ""))
        line = f"{lead} {' '.join(pieces)}".rstrip(" ")
        if len(line) <= WIDTH:
            return [line]
        if isinstance(node, _Scalar):
            pieces = pieces[0].split(" ") if not node.style else pieces
        hang = STEP
        if isinstance(node, _Group):
            rest = re.search(r"\n( *)\S", self.text[node.start : node.end])
            start = self.text.rfind("\n", 0, node.start) + 1
            typed = self.text[start:]
            hang = len(rest[1]) - (len(typed) - len(typed.lstrip(" "))) if rest else HANG
            hang = hang if STEP <= hang <= MOST_HANG else HANG
        lines, line = [], lead
        for piece in pieces:
            if len(line) + 1 + len(piece.removesuffix(",")) > WIDTH and line != lead:
                lines.append(line)
                line = " " * (indent + hang) + piece
            else:
                line += f" {piece}"
        return [*lines, line]

    def pieces(self, node: _Node, after: str) -> Iterator[str]:
        """A value in pieces between which a line may be broken; ``after`` is what follows the last one."""
        if isinstance(node, _Scalar):
            yield self.plain(node) + after
            return
        opened, closing = "{}" if node.mapping else "[]"
        pairs = _ends_first(node.items)
        for number, (key, value) in enumerate(pairs):
            last = number == len(pairs) - 1
            inner = list(self.pieces(value, f"{closing}{after}" if last else ","))
            if isinstance(value, _Scalar) and self.needs_quotes(value):
                inner = [f"'{value.value.replace(chr(39), chr(39) * 2)}'" + (f"{closing}{after}" if last else ",")]
            if isinstance(value, _Scalar) and not value.style and not value.raw and key is not None:
                inner = ["''" + (f"{closing}{after}" if last else ",")]
            head = f"{self.plain(key)}: " if key is not None else ""
            inner[0] = f"{'' if number else opened}{head}{inner[0]}"
            yield from inner
        if not pairs:
            yield f"{opened}{closing}{after}"

    @staticmethod
    def needs_quotes(scalar: _Scalar) -> bool:
        """Plain text that says something else between braces."""
        return not scalar.style and bool(set(scalar.value) & set(",[]{}"))

    @staticmethod
    def plain(scalar: _Scalar) -> str:
        """A scalar as it was typed, on one line."""
        if "\n" not in scalar.raw:
            return scalar.raw
        return re.sub(r"[ \t]*\n[ \t]*", " ", scalar.raw) if scalar.style else scalar.value

    def prose(self, node: _Scalar, indent: int, lead: str) -> None:
        """Text under '|' or '>': its lines stay, set in by one step."""
        head, *body = node.raw.rstrip("\n").split("\n")
        if re.match(r"[|>][-+]*[0-9+]", head) or not body:
            raise self.left_alone(node.start, f"a text that starts with {head}", "write it behind its key")
        margin = min((len(line) - len(line.lstrip(" ")) for line in body if line.strip()), default=0)
        self.lines.append(f"{lead} {head}")
        self.lines += [" " * (indent + STEP) + line[margin:] if line.strip() else "" for line in body]
        self.at = node.start + len(node.raw.rstrip("\n"))
