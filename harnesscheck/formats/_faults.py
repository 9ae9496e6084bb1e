"""Turn what the schema refuses into faults with file:line:column, the person's own text and a remedy."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from harnesscheck.document import Block, Document, Items
from harnesscheck.fault import Fault


def nearest(word: str, words: Iterable[str]) -> str:
    """``'; did you mean X'`` for the closest known word, or an empty string."""
    known = list(words)
    folded = {w.casefold(): w for w in known}
    if word.casefold() in folded:
        return f"did you mean {folded[word.casefold()]}? (capital and small letters differ)"
    close = get_close_matches(word, known, 1, 0.6) or get_close_matches(word.casefold(), folded, 1, 0.5)
    return f"did you mean {folded.get(close[0], close[0])}?" if close else ""


def schema_faults(document: Document, error: ValidationError, model: type[BaseModel]) -> Iterator[Fault]:
    """One fault for each thing the schema refuses."""
    for item in error.errors(include_url=False):
        path = [part for part in item["loc"] if part != "[key]"]
        on_key = "[key]" in item["loc"] or item["type"] in ("extra_forbidden", "unexpected_keyword_argument")
        line, column, name = _find(document.root, path, on_key)
        kind = item["type"]
        if kind in ("extra_forbidden", "unexpected_keyword_argument"):
            known = sorted(_keys(model, path[:-1]))
            remedy = nearest(name, known) or f"the keys here are: {', '.join(known)}"
            if not _value(document.root, path) and document.line(line)[: column - 1].rstrip().endswith(","):
                remedy = "a comma inside { } starts a new key: write a decimal point, or quote the text"
            yield document.fault(line, column, f"unknown key {name!r}", remedy)
        elif kind in ("missing", "missing_argument"):
            yield document.fault(line, column, f"{_what(path[:-1])} has no {path[-1]!r}", f"add '{path[-1]}: ...'")
        elif kind == "literal_error":
            yield document.fault(
                line, column, f"unknown kind of file {item['input']!r}", "write airframe, equipment or jumper"
            )
        elif kind == "value_error":
            cause = item.get("ctx", {}).get("error")
            words = getattr(cause, "words", None)
            text = str(item["input"]) if isinstance(item["input"], str) else ""
            message = f"{name}: {cause}" if not text or text in str(cause) else f"{name} {text!r}: {cause}"
            remedy = (nearest(text, words) or "use one of these words") if words else "write it as shown"
            yield document.fault(line, column, message, remedy)
        else:
            message = f"{_what(path)} is not written as expected"
            remedy = "write keys and values, like {from: P14-1, to: SP1}" if "type" in kind else item["msg"]
            yield document.fault(line, column, message, remedy)


def _what(path: list[int | str]) -> str:
    return " ".join(str(part) for part in path) or "this file"


def _find(root: Block, path: list[int | str], on_key: bool) -> tuple[int, int, str]:
    """Line, column and name of the deepest part of ``path`` that is in the file."""
    here: Any = root
    line, column, name = root.line, root.column, ""
    for depth, part in enumerate(path):
        last = depth == len(path) - 1
        if isinstance(here, Block) and part in here.marks:
            mark = here.marks[str(part)]
            line, column = mark[:2] if (last and on_key) or not last or isinstance(here[str(part)], Block) else mark[2:]
            name, here = str(part), here[str(part)]
        elif isinstance(here, Items) and isinstance(part, int) and part < len(here):
            line, column = here.marks[part]
            here = here[part]
        else:
            break
    return line, column, name


def _value(root: Block, path: list[int | str]) -> Any:
    here: Any = root
    for part in path:
        here = here.get(str(part)) if isinstance(here, Block) else None
    return here


def _keys(model: type[BaseModel], path: list[int | str]) -> set[str]:
    """The keys accepted at ``path``: follow the model through dictionaries and entries."""
    here: Any = model
    for part in path:
        fields = _fields(here)
        if fields:
            chosen = next((f for n, f in fields.items() if (f.alias or n) == part), None)
            here = _entry(chosen.annotation) if chosen is not None else None
        # A dictionary's own keys (P14, W1) do not change the entry type.
    return {field.alias or name for name, field in (_fields(here) or {}).items()}


def _fields(thing: Any) -> dict[str, FieldInfo]:
    if isinstance(thing, type) and issubclass(thing, BaseModel):
        return thing.model_fields
    return getattr(thing, "__pydantic_fields__", {})


def _entry(annotation: Any) -> Any:
    """The entry model inside ``dict[Ref, Entry]``, ``Annotated[Entry, ...]`` or ``Entry``."""
    arguments = getattr(annotation, "__args__", ())
    if _fields(annotation) or not arguments:
        return annotation
    return _entry(arguments[-1] if getattr(annotation, "__origin__", None) is dict else arguments[0])
