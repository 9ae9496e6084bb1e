"""Turn what the schema refuses into faults with file:line:column, the person's own text and a remedy."""

from __future__ import annotations

from collections.abc import Iterator
from types import UnionType
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from harnesscheck.document import Block, Document, Items
from harnesscheck.fault import Fault, foreign, nearest, short

_NEST = {"dict_type", "model_type", "model_attributes_type", "dataclass_type", "dataclass_exact_type"}


def schema_faults(document: Document, error: ValidationError, model: type[BaseModel]) -> Iterator[Fault]:
    """One fault for each thing the schema refuses."""
    comma = set()
    items = error.errors(include_url=False)
    for item in items:
        path = [part for part in item["loc"] if part != "[key]"]
        if _extra(item) and _after_comma(document, path):
            comma.add(tuple(path[:-1]))
    for item in items:
        path = [part for part in item["loc"] if part != "[key]"]
        kind = item["type"]
        on_key = "[key]" in item["loc"] or _extra(item)
        line, column, name = _find(document.root, path, on_key)
        if _extra(item):
            known = sorted(_keys(model, path[:-1]))
            remedy = foreign(name) or nearest(name, known) or f"the keys here are: {', '.join(known)}"
            if _after_comma(document, path):
                remedy = "a comma inside { } starts a new key: write a decimal point, or quote the text"
            yield document.fault(line, column, f"unknown key {short(name)}", remedy)
        elif kind in ("missing", "missing_argument"):
            yield document.fault(line, column, f"{_what(path[:-1])} has no {path[-1]!r}", f"add '{path[-1]}: ...'")
        elif kind == "value_error":
            if tuple(path[:-1]) in comma and not on_key:
                continue  # the value was cut at a comma: said once, at the comma
            yield _value_fault(document, item, line, column, name)
        elif kind == "list_type":
            entry = ", ".join(f"{key}: ..." for key in sorted(_keys(model, [*path, 0])))
            remedy = "begin each entry below it with a dash" + (f", like - {{{entry}}}" if entry else "")
            yield document.fault(line, column, f"{_what(path)} is a list, one entry after the other", remedy)
        elif kind in _NEST:
            yield _nest_fault(document, item, path, line, column)
        else:
            yield document.fault(line, column, f"{_what(path)} is not written as expected", str(item["msg"]))


def _extra(item: Any) -> bool:
    return item["type"] in ("extra_forbidden", "unexpected_keyword_argument")


def _after_comma(document: Document, path: list[int | str]) -> bool:
    """True for a key without a value right behind a comma: ``length: 1,5 mm`` makes ``5 mm`` a key."""
    if _value(document.root, path):
        return False
    line, column, _ = _find(document.root, path, True)
    return document.line(line)[: column - 1].rstrip().endswith(",")


def _value_fault(document: Document, item: Any, line: int, column: int, name: str) -> Fault:
    """A value that one of our own readers refused: its sentence, and what to write instead."""
    cause = item.get("ctx", {}).get("error")
    text = item["input"] if isinstance(item["input"], str) else ""
    words = getattr(cause, "words", None)
    message = str(getattr(cause, "message", cause))
    if text and repr(text) not in message:
        message = f"{short(text)}: {message}"
    if name != text:
        message = f"{name} {message}" if text else f"{name}: {message}"
    remedy = foreign(text) if getattr(cause, "plain", False) else ""
    if words:
        remedy = foreign(text) or nearest(text, words) or f"write one of: {', '.join(words)}"
    return document.fault(line, column, message, remedy or str(getattr(cause, "remedy", "")) or "correct this value")


def _nest_fault(document: Document, item: Any, path: list[int | str], line: int, column: int) -> Fault:
    """A text or a list where keys and values belong."""
    given = item["input"]
    what = "a list" if isinstance(given, Items) else (f"the text {short(given)}" if given else "nothing")
    message = f"{_what(path)} holds {what} where keys and values belong"
    remedy = "write keys and values, like {from: P14-1, to: SP1}" if path[:1] == ["wires"] and len(path) > 1 else ""
    if not remedy:
        remedy = "indent one 'key: value' a line below it" + (", or remove it" if not given else "")
    return document.fault(line, column, message, remedy)


def _what(path: list[int | str]) -> str:
    return " ".join(str(part)[:40] for part in path) or "this file"


def _find(root: Block, path: list[int | str], on_key: bool) -> tuple[int, int, str]:
    """Line, column and name of the deepest part of ``path`` that is in the file: its key, or the value itself."""
    here: Any = root
    line, column, name = root.line, root.column, ""
    for depth, part in enumerate(path):
        if isinstance(here, Block) and part in here.marks:
            mark, inner = here.marks[str(part)], here[str(part)]
            opened = isinstance(inner, Block) and (depth < len(path) - 1 or on_key)
            line, column = mark[:2] if opened or (on_key and depth == len(path) - 1) else mark[2:]
            name, here = str(part), inner
        elif isinstance(here, Items) and isinstance(part, int):
            line, column = here.marks[part]
            here = here[part]
        else:
            break
    return line, column, name


def _value(root: Block, path: list[int | str]) -> Any:
    here: Any = root
    for part in path:
        if isinstance(here, Items) and isinstance(part, int):
            here = here[part]
        else:
            here = here.get(str(part)) if isinstance(here, Block) else None
    return here


def _keys(model: type[BaseModel], path: list[int | str]) -> set[str]:
    """The keys accepted at ``path``: a field leads to its annotation, a dictionary's key to the dictionary's entry."""
    here: Any = model
    for part in path:
        fields = _fields(here)
        if fields:
            chosen = next((f for n, f in fields.items() if (f.alias or n) == part), None)
            here = chosen.annotation if chosen is not None else None
        else:
            here = _arguments(_bare(here))[-1:]
            here = here[0] if here else None
        here = _bare(here)
    return {field.alias or name for name, field in _fields(here).items()}


def _fields(thing: Any) -> dict[str, FieldInfo]:
    if isinstance(thing, type) and issubclass(thing, BaseModel):
        return thing.model_fields
    return getattr(thing, "__pydantic_fields__", {})


def _arguments(annotation: Any) -> tuple[Any, ...]:
    return tuple(getattr(annotation, "__args__", ()))


def _bare(annotation: Any) -> Any:
    """``Entry`` from ``Annotated[Entry, ...]`` and from ``Entry | None``."""
    if isinstance(annotation, UnionType):
        annotation = next(one for one in _arguments(annotation) if one is not type(None))
    return annotation.__origin__ if hasattr(annotation, "__metadata__") else annotation
