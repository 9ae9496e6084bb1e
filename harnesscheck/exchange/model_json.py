"""The whole harness with the jumper in as JSON, SI units; its JSON Schema (draft 2020-12) is made of the records."""

from __future__ import annotations

import ast
import inspect
import json
import math
import types
import typing
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from enum import Enum
from itertools import pairwise
from typing import Any

from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.place import Place, Point
from harnesscheck.units import Gauge

SUFFIX = ".json"
ABOUT = "the whole model as JSON; its rules: harnesscheck export --schema"

FORMAT = "harnesscheck model 1"
_LEFT = ("drawer", "unread", "place", "before", "document", "line", "column", "views")
"""Where things were typed is said once, as ``place``; parts stay in their drawer."""


def write(job: Job) -> bytes:
    """UTF-8 JSON; lengths in metres, volts, amperes, ohms, degrees Celsius. null: nobody has said."""
    harness = job.subject
    data: dict[str, Any] = {"format": FORMAT, "file": job.path.name}
    data.update({name: _value(getattr(harness, name)) for name in _types(Harness)})
    data["nets"] = [[str(point) for point in net] for net in harness.nets.members()]
    data["not_understood"] = [
        {"place": left.place.where(), "reason": left.reason, "remedy": left.remedy} for left in job.unread
    ]
    return (json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode("utf-8")


def _value(value: Any) -> Any:
    if isinstance(value, Point):
        return str(value)
    if isinstance(value, Place):
        return value.where()
    if isinstance(value, Gauge):
        return str(value)
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, float):
        return "none" if math.isinf(value) else value
    if is_dataclass(value) and not isinstance(value, type):
        said = {name: _value(getattr(value, name)) for name in _types(type(value))}
        return {**said, "place": value.place.where()} if hasattr(value, "place") else said
    if isinstance(value, Mapping):
        return {str(key): _value(each) for key, each in value.items()}
    return [_value(each) for each in value] if isinstance(value, list | tuple) else value


def schema_text() -> str:
    """The JSON Schema of what ``write`` gives."""
    definitions: dict[str, Any] = {}
    rules = _record(Harness, definitions)
    properties = {
        "format": {"const": FORMAT, "description": "changes when a key changes its meaning"},
        "file": {"type": "string", "description": "name of the file that was exported"},
        **rules["properties"],
        "nets": {
            "type": "array", "items": {"type": "array", "items": {"type": "string"}, "minItems": 1},
            "description": "points that are one piece of copper",
        },
        "not_understood": {
            "type": "array", "description": "what a list holds beside what was understood of it",
            "items": {
                "type": "object", "properties": {key: {"type": "string"} for key in ("place", "reason", "remedy")},
                "required": ["place", "reason", "remedy"], "additionalProperties": False,
            },
        },
    }  # fmt: skip
    schema = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "harnesscheck model",
        "description": "A harness, SI units: metres, volts, amperes, ohms, degrees Celsius. null: nobody has said.",
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
        "$defs": dict(sorted(definitions.items())),
    }
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def _types(record: type) -> dict[str, Any]:
    """The fields of a record that are exported, with their types."""
    kinds = typing.get_type_hints(record, localns=_named())
    return {each.name: kinds[each.name] for each in fields(record) if each.name not in _LEFT}


def _named() -> dict[str, Any]:
    """Names that the records use in annotations only."""
    from harnesscheck.parts import Drawer, Fact, Part

    return {"Drawer": Drawer, "Fact": Fact, "Part": Part}


def _record(record: type, definitions: dict[str, Any]) -> dict[str, Any]:
    said = _described(record)
    properties = {}
    for name, kind in _types(record).items():
        properties[name] = {**_rule(kind, definitions), **({"description": said[name]} if name in said else {})}
    if record is not Harness and hasattr(record, "place"):
        properties["place"] = {"type": "string", "description": "file:line:column where it was typed; empty: nowhere"}
    return {
        "type": "object",
        "description": inspect.cleandoc(record.__doc__ or "").partition("\n")[0],
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _rule(kind: Any, definitions: dict[str, Any]) -> dict[str, Any]:
    origin, inner = typing.get_origin(kind), typing.get_args(kind)
    if origin in (types.UnionType, typing.Union):
        return {"anyOf": [_rule(each, definitions) for each in inner]}
    simple = {str: "string", bool: "boolean", int: "integer", type(None): "null"}
    if kind in simple:
        return {"type": simple[kind]}
    if kind is float:
        return {"anyOf": [{"type": "number"}, {"const": "none"}]}
    if kind in (Point, Place, Gauge):
        return {"type": "string"}
    if isinstance(kind, type) and issubclass(kind, Enum):
        return {"enum": [each.value for each in kind]}
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return {"type": "object", "additionalProperties": _rule(inner[1], definitions)}
    if origin in (tuple, list):
        fixed = {} if inner[-1] is Ellipsis or origin is list else {"minItems": len(inner), "maxItems": len(inner)}
        return {"type": "array", "items": _rule(inner[0], definitions), **fixed}
    if is_dataclass(kind) and isinstance(kind, type):
        if kind.__name__ not in definitions:
            definitions[kind.__name__] = {}
            definitions[kind.__name__] = _record(kind, definitions)
        return {"$ref": f"#/$defs/{kind.__name__}"}
    raise TypeError(f"no rule for {kind}")


def _described(record: type) -> dict[str, str]:
    """What stands under each field of a record in its own file."""
    body = typing.cast(ast.ClassDef, ast.parse(inspect.getsource(record)).body[0]).body
    found = {}
    for field, text in pairwise(body):
        if isinstance(field, ast.AnnAssign) and isinstance(field.target, ast.Name) and isinstance(text, ast.Expr):
            found[field.target.id] = inspect.cleandoc(str(typing.cast(ast.Constant, text.value).value))
    return found
