"""The file format as JSON Schema (draft 2020-12), for editors: completion, hover text, a line under a slip.

An editor sees less than the reader: it knows keys, words and where a list or a block belongs. Quantities, references
and everything that needs a second file are the reader's.
"""

from __future__ import annotations

from typing import Any

from harnesscheck.formats._schema import FILES

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def editor_schema() -> dict[str, Any]:
    """One schema for all kinds of file: ``kind:`` says which part of it counts."""
    definitions: dict[str, Any] = {}
    branches = []
    summaries = []
    for kind, model in FILES.items():
        found = model.model_json_schema(by_alias=True, ref_template="#/$defs/{model}")
        for name, definition in found.pop("$defs", {}).items():
            definitions[name] = _plain(definition)
        name = model.__name__
        definitions[name] = _plain(found)
        summaries.append(f"{kind}: {found['description']}")
        branches.append(
            {"if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]}, "then": {"$ref": f"#/$defs/{name}"}}
        )
    return {
        "$schema": DIALECT,
        "title": "harnesscheck job file",
        "type": "object",
        "properties": {
            "kind": {"enum": [*FILES, "parts"], "description": "; ".join([*summaries, "parts: the shop's own parts."])}
        },
        "required": ["kind"],
        "allOf": branches,
        "$defs": dict(sorted(definitions.items())),
    }


def _plain(schema: Any) -> Any:
    """Without what only matters to the library that wrote it: titles, defaults, and null, which the reader refuses."""
    if isinstance(schema, list):
        return [_plain(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    kept = {key: value for key, value in schema.items() if key not in ("title", "default")}
    if "properties" in kept:
        kept["properties"] = {name: _plain(value) for name, value in kept["properties"].items()}
    choices = [each for each in kept.pop("anyOf", []) if each != {"type": "null"}]
    if len(choices) == 1:
        kept = {**choices[0], **kept}
    elif choices:
        kept["anyOf"] = choices
    return {key: value if key == "properties" else _plain(value) for key, value in kept.items()}
