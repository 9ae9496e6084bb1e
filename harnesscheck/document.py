"""Read YAML as text with places: the one door through which every file enters.

A file becomes nested ``Block`` (mapping), ``Items`` (list) and ``str``. No scalar is ever given a type here:
``NO``, ``07``, ``1:2`` and ``1_0`` stay what the person typed, because a cavity name that a reader silently
changes is a wrong pin. Aliases, anchors, tags and merge keys are refused: harness files do not need them, and
each of them lets a small file say something else than it shows.

The C event stream of ruamel.yaml does the parsing; the composer below keeps line and column of every key and value.
Where all lines of an entry are plain, they are taken apart without it: see ``plainlines``.
"""

from __future__ import annotations

import gc
import hashlib
import os
import re
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from harnesscheck import characters, plainlines
from harnesscheck.block import Block, Items
from harnesscheck.fault import Fault, InputError, short

__all__ = ["Block", "Document", "Items", "inside", "no_collection", "parse", "read"]

MAX_BYTES = 50_000_000
"""Largest file read, bytes. Common practice: a cap far above any real harness (100,000 wires are about 8 MB)."""
MAX_DEPTH = 50
"""Deepest nesting. Common practice; a harness file needs 5."""
MAX_MARKS = 4_000_000
"""Most signs that part one value from the next. Common practice: a job of 100,000 wires has about 1.3 million, and each
value takes some hundred bytes of memory."""
MAX_FAULTS = 200
"""Faults collected before reading stops."""
MAX_SCALAR = 4_000
"""Longest text in one value, characters. Common practice."""

_CUT_OFF = re.compile(r"[ \t]#[^\s#]")


class Document:
    """One file as read: its name for messages, its lines, and its top mapping ``root``.

    ``sha256`` is that of the bytes as read, in hexadecimal digits; empty for text that came from no file.
    """

    __slots__ = ("lines", "name", "path", "root", "sha256")

    def __init__(self, name: str, text: str, path: Path | None = None) -> None:
        self.name = name
        self.path = path
        self.lines = text.split("\n")
        self.root: Block = Block(1, 1)
        self.sha256 = ""

    def line(self, number: int) -> str:
        """The text of line ``number`` (from 1), without its line end; empty when there is no such line."""
        return self.lines[number - 1].rstrip("\r") if 0 < number <= len(self.lines) else ""

    def origin(self, line: int) -> tuple[Document, int]:
        """The file in which a person typed ``line``, and its number there: this file, unless another lies over it."""
        return self, line

    def where(self, line: int, column: int) -> str:
        """A place of this file as messages print it: ``jumper.yaml:14:3``."""
        return f"{self.name}:{line}:{column}"

    def fault(self, line: int, column: int, message: str, remedy: str) -> Fault:
        """A fault at a place of this file, with the line as the person typed it."""
        return Fault(self.name, line, column, message, self.line(line), remedy)


@contextmanager
def no_collection() -> Iterator[None]:
    """No search for cyclic garbage meanwhile: half-built records are never garbage, and a search walks all of them.

    Measured with 10,000 wires: a third of the time of a check. What was made meanwhile is handed on as old
    afterwards, because the next search would walk all of it for being new.
    """
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            if not gc.get_freeze_count():  # a program that has frozen things of its own keeps them frozen
                gc.freeze()
                gc.unfreeze()
            gc.enable()


def parse(data: bytes | str, name: str, path: Path | None = None) -> Document:
    """Compose YAML text into a ``Document``.

    Raises ``InputError`` with every fault found; a fault that stops the parser is the last one.
    """
    text = data if isinstance(data, str) else characters.decoded(data, name)
    text = text.removeprefix("\ufeff")
    document = Document(name, text, path)
    faults = [document.fault(*each) for each in characters.bad(document.lines, text)]
    if faults:
        raise InputError(faults)
    if len(text) > MAX_MARKS and sum(map(text.count, "\n,:[{")) > MAX_MARKS:
        message = f"this file holds more than {MAX_MARKS} values"
        raise InputError([document.fault(1, 1, message, "split the job, or take out what is no part of it")])
    with no_collection():
        found = _plain(document, text)
        if found is None:
            found = _compose(document, text, faults)
    if found is None:
        raise InputError(faults)
    document.root = found
    return document


def _plain(document: Document, text: str) -> Block | None:
    """The file by its plain lines; None when it is to be read by the parser alone, or has a fault to be placed."""
    if "\r" in text or "\t" in text or _CUT_OFF.search(text):
        return None

    def slow(part: str, above: int, depth: int) -> Block | None:
        return _compose(document, part, [], above, depth)

    found = plainlines.compose(document.lines, slow)
    return found if found is not None and _is_yaml(text) else None


def _is_yaml(text: str) -> bool:
    """What the parser would refuse is never taken for read. Asked last: what was composed is not nested too deep."""
    from _ruamel_yaml import CParser
    from ruamel.yaml.error import YAMLError

    try:
        CParser(text).raw_parse()
    except YAMLError:
        return False
    return True


def read(path: Path, name: str | None = None) -> Document:
    """Read a file. ``name`` is what messages call it (the path as typed). Raises ``InputError``."""
    shown = name or str(path)
    problem = ""
    try:
        mode = path.stat()
        if stat.S_ISDIR(mode.st_mode):
            problem = "is a folder, not a file"
        elif not stat.S_ISREG(mode.st_mode):
            problem = "is not an ordinary file"
        elif mode.st_size > MAX_BYTES:
            problem = f"is larger than {MAX_BYTES // 1_000_000} MB"
        else:
            data = path.read_bytes()
            document = parse(data, shown, path)
            document.sha256 = hashlib.sha256(data).hexdigest()
            return document
    except FileNotFoundError:
        problem = "does not exist"
    except PermissionError:
        problem = "may not be read by this user"
    except (OSError, ValueError) as error:
        problem = f"cannot be read ({error.__class__.__name__})"
    raise InputError([Fault(shown, 1, 1, f"this file {problem}", "", _FILE_REMEDY)])


_FILE_REMEDY = "give the path of a harness file written as UTF-8 text"


def file_kind(path: Path) -> str:
    """``file``, ``folder``, ``other``, or ``missing``: also for a name that the system refuses, as one too long."""
    try:
        mode = path.stat().st_mode
    except (OSError, ValueError):
        return "missing"
    return "file" if stat.S_ISREG(mode) else "folder" if stat.S_ISDIR(mode) else "other"


def inside(root: Path, base: Path, typed: str) -> Path | str:
    """Resolve a path typed in a file lying in ``base``; it may not leave the folder tree ``root``.

    Returns the path, or a sentence that says why it is refused.
    """
    if not typed or "\\" in typed or "\0" in typed:
        return "a path is written with forward slashes"
    if os.path.isabs(typed) or ":" in typed:
        return "a path is relative to the file that names it"
    try:
        # Both sides resolved, so that neither '..' nor a symbolic link leads out of the tree.
        target = (base / typed).resolve()
        if not target.is_relative_to(root.resolve()):
            return "a path may not leave the folder of the file you named"
    except (OSError, RuntimeError, ValueError):
        return "this path cannot be followed"
    if file_kind(target) != "file":
        return "there is no such file"
    return target


def _compose(document: Document, text: str, faults: list[Fault], above: int = 0, depth: int = 0) -> Block | None:
    """Compose text, or a part of it that has ``above`` lines before it and lies ``depth`` mappings deep.

    Returns None when there are faults.
    """
    from _ruamel_yaml import CParser
    from ruamel.yaml.error import MarkedYAMLError, YAMLError
    from ruamel.yaml.events import (
        AliasEvent,
        DocumentStartEvent,
        MappingEndEvent,
        MappingStartEvent,
        ScalarEvent,
        SequenceEndEvent,
        SequenceStartEvent,
        StreamEndEvent,
    )

    def refuse(mark: Any, message: str, remedy: str) -> None:
        if len(faults) < MAX_FAULTS:
            faults.append(document.fault(mark.line + down, mark.column + 1, message, remedy))

    down = above + 1  # the parser counts lines from 0
    most = MAX_DEPTH - depth
    root = document.root
    stack: list[tuple[Any, Any]] = []
    here: Any = None  # the open container
    key: Any = None  # the key waiting for its value, when ``here`` is a mapping
    key_line: int
    key_column: int
    documents = 0
    skipped = object()  # stands in for a refused key; never reaches the result
    hashes = _CUT_OFF.search(text) is not None  # seldom: then every plain text is looked at for what '#' cuts off
    try:
        next_event = CParser(text).get_event
        while True:
            event = next_event()
            kind = type(event)
            if kind is ScalarEvent:
                mark = event.start_mark
                line, column = mark.line + down, mark.column + 1
                value: Any = event.value
                if event.ctag is not None or event.anchor is not None:
                    _refuse_dressing(event, refuse)
                if not (value.isascii() and value.isprintable()):
                    _refuse_escaped(event, refuse)
                if hashes and not event.style:
                    _refuse_cut_off(document, event, refuse)
                if len(value) > MAX_SCALAR:
                    refuse(mark, f"text of {len(value)} characters", f"keep a value under {MAX_SCALAR} characters")
                    value = ""
                if type(here) is Block and key is None:
                    key, key_line, key_column = value, line, column
                    if value == "<<" and event.implicit[0]:
                        refuse(mark, "merge key <<", "write the keys out")
                        key = skipped
                    elif value in here:
                        first = here.marks[value][0]
                        refuse(mark, f"key {short(value)} is given twice (first on line {first})", "keep one of them")
                        key = skipped
                    elif value == "":
                        refuse(mark, "empty key", "give the key a name")
                        key = skipped
                    continue
            elif kind is MappingEndEvent or kind is SequenceEndEvent:
                here, key = stack.pop()
                continue
            elif kind is MappingStartEvent or kind is SequenceStartEvent:
                mark = event.start_mark
                line, column = mark.line + down, mark.column + 1
                if event.ctag is not None or event.anchor is not None:
                    _refuse_dressing(event, refuse)
                if len(stack) >= most:
                    refuse(mark, f"nested deeper than {MAX_DEPTH} levels", "flatten this part of the file")
                    return None
                if type(here) is Block and key is None:
                    refuse(mark, "a key that is itself a list or a mapping", "use plain text as the key")
                    value = Block(line, column) if kind is MappingStartEvent else Items(line, column)
                    # The complex key is composed and dropped; its value then lands under the skipped key.
                    stack.append((here, skipped))
                    here, key = value, None
                    continue
                value = Block(line, column) if kind is MappingStartEvent else Items(line, column)
            elif kind is AliasEvent:
                refuse(event.start_mark, f"alias *{event.anchor}", "write the value out: aliases are not read")
                value = ""  # its place counts for nothing: the file is refused
                if type(here) is Block and key is None:
                    key = skipped
                    continue
            elif kind is DocumentStartEvent:
                documents += 1
                if documents > 1:
                    refuse(event.start_mark, "a second document in one file", "keep one document a file")
                    return None
                continue
            elif kind is StreamEndEvent:
                break
            else:
                continue
            # A value is complete or opened: hang it into the open container.
            if type(here) is Block:
                if key is not skipped:
                    here[key] = value
                    here.marks[key] = (key_line, key_column, line, column)
                key = None
            elif here is None:
                if kind is not MappingStartEvent:
                    refuse(event.start_mark, "the file is not a mapping of keys to values", _TOP)
                    return None
                root = value
            else:
                here.append(value)
                here.marks.append((line, column))
            if kind is MappingStartEvent or kind is SequenceStartEvent:
                stack.append((here, None))
                here = value
    except MarkedYAMLError as error:
        faults.append(_broken(document, error))
        return None
    except YAMLError as error:  # the characters were looked at before, so none is known to come here
        faults.append(document.fault(1, 1, f"not valid YAML: {error}", "save the file as plain UTF-8 text"))
        return None
    if not root and not faults:
        faults.append(
            document.fault(
                1, 1, "this file is empty", "start it with what it is: 'kind: jumper', or airframe, equipment, ..."
            )
        )
    return None if faults else root


_TOP = "start it with 'kind: jumper', one 'key: value' a line, with a blank after the colon"


def _refuse_dressing(event: Any, refuse: Any) -> None:
    if event.tag is not None:
        refuse(event.start_mark, f"tag {event.tag}", "remove the tag: every value is read as text")
    if event.anchor is not None:
        refuse(event.start_mark, f"anchor &{event.anchor}", "remove the anchor: aliases are not read")


def _refuse_escaped(event: Any, refuse: Any) -> None:
    """A quoted text may spell a hidden character as an escape; line breaks and tabs in it are ordinary prose."""
    odd = next(filter(characters.hidden, event.value.replace("\n", "").replace("\t", "")), "")
    if odd:
        refuse(event.start_mark, f"this text holds the hidden character {characters.called(odd)}", "write plain text")


def _refuse_cut_off(document: Document, event: Any, refuse: Any) -> None:
    """``LAMP #2`` without quotes is ``LAMP``: YAML drops the rest, and two circuits become one."""
    rest = document.line(event.end_mark.line + 1)[event.end_mark.column :]
    if _CUT_OFF.match(rest):
        cut = rest.split()[0]
        remedy = "put quotes round the text; if it is a remark, put a blank after the #"
        refuse(event.start_mark, f"{short(event.value)} is cut off before {short(cut)}", remedy)


_WORDS = (
    # What the parser says, what a person is told, what to do; the first that is found counts.
    ("unknown escape", "\\ followed by this letter means nothing", "write the text in single quotes"),
    ("a quoted scalar", "the quote opened here is not closed", "close the quote on the same line"),
    ("',' or '}'", "the { opened here is not closed, or a comma is missing in it", "add the } or the comma"),
    ("',' or ']'", "the [ opened here is not closed, or a comma is missing in it", "add the ] or the comma"),
    ("mapping values are not", "a colon where no key can stand", "check the indent, or quote a text that holds ': '"),
    ("cannot start any token", "a text cannot start with this character", "put the text in quotes"),
    ("expected ':'", "no colon behind this text, or one inside it", "write 'key: value', or quote the text"),
    ("directive", "a line cannot start with %", "put the text in quotes"),
    ("<document start>", "more text after the end of the file's mapping", "remove the bracket or text too many"),
    ("", "this line cannot be read", "look for a missing quote, bracket, comma or indent here or on the line before"),
)


def _broken(document: Document, error: Any) -> Fault:
    """What stops the parser, in plain words; a bracket, quote or text left open is shown where it starts."""
    said, at, opened = f"{error.problem} {error.context}", error.problem_mark, error.context_mark
    words, remedy = next((words, remedy) for heard, words, remedy in _WORDS if heard in said)
    if opened is not None and ("opened here" in words or "this text" in words):
        at = opened
    text = document.line(at.line + 1)
    if "\t" in text[: len(text) - len(text.lstrip())]:
        words, remedy = "a tab in the indent", "indent with blanks, not tabs"
    return document.fault(at.line + 1, at.column + 1, f"not valid YAML: {words}", remedy)
