"""What the schema refuses in words for a person, each at its place; and the schema for editors, key by key.

Places are counted in the texts, the keys listed are those of docs/file-format.md; the editor's schema follows JSON
Schema, draft 2020-12 (https://json-schema.org/draft/2020-12/schema).
"""

from __future__ import annotations

from typing import Annotated, Any

import pytest
from pydantic import AfterValidator, BaseModel, ConfigDict, Field, TypeAdapter, ValidationError

from harnesscheck.document import parse
from harnesscheck.formats import _types, editor_schema
from harnesscheck.formats._editor import _plain
from harnesscheck.formats._faults import schema_faults
from tests.formats.marked import check_airframe, places, same

KEYS = "the keys here are: altitude, ambient, arm, note, wet"
DASH = "begin each entry below it with a dash"
INDENT = "indent one 'key: value' a line below it"
ONE = "length: one value is expected here, not a list or a block"
LIKE = "write keys and values, like {from: P14-1, to: SP1}"


@pytest.mark.parametrize(
    ("text", "message", "remedy"),
    [
        ("zones: {Z: {§zzzzzz: a}}\n", "unknown key 'zzzzzz'", KEYS),
        ("zones: {Z: {wet: yes, §awm: 2 m}}\n", "unknown key 'awm'", "did you mean arm?"),
        ("zones: {Z: {§zzzzzz: {b: c}}}\n", "unknown key 'zzzzzz'", KEYS),
        (
            "zones: {Z: {§\u0430rm: 2 m}}\n",
            "unknown key '\u0430rm'",
            "U+0430 (cyrillic small letter a) at character 1 is not a plain letter: type it again",
        ),
        ("connectors: {P1: {cavities: {1: {§cirquit: a}}}}\n", "unknown key 'cirquit'", "did you mean circuit?"),
        ("circuits: {A: {§shield_ends: both}}\n", "unknown key 'shield_ends'", "did you mean shield ends?"),
        ("wires: {W1: {from: P1-1, to: P1-2, §lenght: 1 m}}\n", "unknown key 'lenght'", "did you mean length?"),
        ("waivers: [{check: a, at: b, reason: c, by: d, date: e, §dat: f}]\n",
         "unknown key 'dat'", "did you mean at or date?"),
        ("wires:\n  §W1: {from: P1-1}\n", "wires W1 has no 'to'", "add 'to: ...'"),
        ("waivers:\n  - §{check: a, at: b, reason: c, by: d}\n", "waivers 0 has no 'date'", "add 'date: ...'"),
        ("waivers:\n  - {check: a, at: b, reason: c, by: d, date: e}\n  - §{check: a, at: b, reason: c, by: d}\n",
         "waivers 1 has no 'date'", "add 'date: ...'"),
        ("waivers: §x\n", "waivers is a list, one entry after the other",
         f"{DASH}, like - {{at: ..., by: ..., check: ..., date: ..., reason: ...}}"),
        ("circuits: {A: {phases: §cruise}}\n", "circuits A phases is a list, one entry after the other", DASH),
        ("waivers: §{a: b}\n", "waivers is a list, one entry after the other",
         f"{DASH}, like - {{at: ..., by: ..., check: ..., date: ..., reason: ...}}"),
        ("wires: §oops\n", "wires holds the text 'oops' where keys and values belong", INDENT),
        ("wires: {W1: §oops}\n", "wires W1 holds the text 'oops' where keys and values belong", LIKE),
        ("wires: {W1: §[a]}\n", "wires W1 holds a list where keys and values belong", LIKE),
        ("zones: {Z: §[a]}\n", "zones Z holds a list where keys and values belong", INDENT),
        ("zones: §[]\n", "zones holds a list where keys and values belong", INDENT + ", or remove it"),
        ("zones:§\n", "zones holds nothing where keys and values belong", INDENT + ", or remove it"),
        ("waivers: [§a]\n", "waivers 0 holds the text 'a' where keys and values belong", INDENT),
        ("not understood:\n  - {at: a, what: §rows, why: c}\n", "not understood 0 what is not written as expected",
         "Input should be 'row' or 'value'"),
        ("zones: {" + "z" * 41 + ": §a}\n",
         "zones " + "z" * 40 + " holds the text 'a' where keys and values belong", INDENT),
        ("routes: {R: {length: §12}}\n", "length '12': the unit is missing", "write it like 320 mm or 12 in"),
        ("routes: {R: {length: §[a]}}\n", ONE, "write it like 320 mm"),
        ("routes: {R: {length: §{a: b}}}\n", ONE, "write it like 320 mm"),
        ("routes: {R: {length: §}}\n", "length: the value is missing", "write one, like 320 mm, or remove the key"),
        ("routes: {R: {passages: {rib: §9}}}\n", "rib '9': the unit is missing", "write it like 320 mm or 12 in"),
        ("circuits: {A: {phases: [climb, §cruze]}}\n", "phases 'cruze': not one of: start, taxi, takeoff, climb, "
         "cruise, descent, landing, emergency", "did you mean cruise?"),
        ("zones: {Z: {wet: §maybe}}\n", "wet 'maybe': not one of: yes, no", "write one of: yes, no"),
        ("zones: {Z: {wet: §\u0443es}}\n", "wet '\u0443es': not one of: yes, no",
         "U+0443 (cyrillic small letter u) at character 1 is not a plain letter: type it again"),
        ("connectors: {§14P: {}}\n", "'14P': this is not a reference",
         "write a letter, then letters and digits, like P14"),
        ("connectors: {§\u04201: {}}\n", "'\u04201': this is not a reference",
         "U+0420 (cyrillic capital letter er) at character 1 is not a plain letter: type it again"),
        ("connectors: {P1: {cavities: {1: §Spare}}}\n",
         "1 'Spare': this word says what a cavity is used for, it is no circuit name",
         "write spare in small letters in the cavity's line, or give the circuit another name"),
        ("wires: {W1: {from: §14P-1, to: stowed}}\n", "from '14P-1': this is not a wire end",
         "write it as P14-3 (reference, dash, cavity) or SP1"),
    ],
)  # fmt: skip
def test_what_the_schema_refuses(text: str, message: str, remedy: str) -> None:
    check_airframe(text, (message, remedy))


COMMA = "a comma inside { } starts a new key: write a decimal point, or quote the text"


def test_a_decimal_comma_in_braces_is_said_once_and_at_the_comma() -> None:
    check_airframe("routes: {R: {length: 1,§5 m}}\n", ("unknown key '5 m'", COMMA))
    check_airframe("routes: {R: {length: 1 m, §5 m: }}\n", ("unknown key '5 m'", COMMA))
    check_airframe(
        "routes: {R: {length: §1, §bent: 5 m}}\n",
        ("length '1': the unit is missing", "write it like 320 mm or 12 in"),
        ("unknown key 'bent'", "did you mean bend?"),
    )
    said = ("unknown key '5 m'", "the keys here are: bend, length, passages, zone")
    check_airframe("routes:\n  R:\n    length: 1 m\n    §5 m:\n", said)
    # In a list of entries as well: what stands beside the key with a value is not cut off.
    check_airframe(
        "waivers: [{check: §[a], at: b, reason: c, by: d, date: e, §dat: f}]\n",
        ("check: one value is expected here, not a list or a block", "write it like a few words"),
        ("unknown key 'dat'", "did you mean at or date?"),
    )
    # A key that is wrong itself is said besides: it was not cut off.
    check_airframe(
        "connectors: {P1: {name: n,§x}, §14P: {}}\n",
        ("unknown key 'x'", COMMA),
        ("'14P': this is not a reference", "write a letter, then letters and digits, like P14"),
    )
    check_airframe(
        "routes: {R: {length: §1}, S: {bend: 1,§5 m}}\n",
        ("length '1': the unit is missing", "write it like 320 mm or 12 in"),
        ("unknown key '5 m'", COMMA),
    )


def _odd(text: str) -> str:
    raise ValueError("odd it is")


class Inner(BaseModel):
    model_config = ConfigDict(extra="forbid")
    one: str = ""
    two_three: str = Field("", alias="two three")


class Model(BaseModel):
    model_config = ConfigDict(extra="forbid")
    odd: Annotated[str, AfterValidator(_odd)] = ""
    inner: Inner | None = None
    table: dict[str, Annotated[Inner, "said of it"]] = {}
    listed: list[Inner] = []
    deep: dict[str, dict[str, Inner]] = {}
    number: int = 0


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("odd: §x\n", ("odd 'x': odd it is", "correct this value")),
        ("odd: §odd\n", ("'odd': odd it is", "correct this value")),
        ("inner: {§x: y}\n", ("unknown key 'x'", "the keys here are: one, two three")),
        ("table: {a: {§xyzxyz: y}}\n", ("unknown key 'xyzxyz'", "the keys here are: one, two three")),
        ("listed: [{§xyzxyz: y}]\n", ("unknown key 'xyzxyz'", "the keys here are: one, two three")),
        ("deep: {a: {b: {§xyzxyz: y}}}\n", ("unknown key 'xyzxyz'", "the keys here are: one, two three")),
        ("listed: §x\n", ("listed is a list, one entry after the other",
                         f"{DASH}, like - {{one: ..., two three: ...}}")),
        ("§xyzxyz: y\n", ("unknown key 'xyzxyz'", "the keys here are: deep, inner, listed, number, odd, table")),
        ("number: §x\n", ("number is not written as expected",
                          "Input should be a valid integer, unable to parse string as an integer")),
    ],
)  # fmt: skip
def test_the_keys_that_fit_there(text: str, said: tuple[str, str]) -> None:
    plain, ((line, column),) = places(text)
    document = parse(plain, "f")
    with pytest.raises(ValidationError) as caught:
        Model.model_validate(document.root)
    found = [(f.line, f.column, f.message, f.remedy) for f in schema_faults(document, caught.value, Model)]
    same(found, [(line, column, *said)])


def test_a_file_that_lacks_a_key_is_told_so_at_its_first_line() -> None:
    class Needs(BaseModel):
        title: str

    document = parse("# x\n\na: b\n", "f")
    with pytest.raises(ValidationError) as caught:
        Needs.model_validate(document.root)
    (fault,) = schema_faults(document, caught.value, Needs)
    assert (fault.line, fault.column, fault.message) == (3, 1, "this file has no 'title'")


# -- for editors -------------------------------------------------------------------------------------------------------


def test_the_editors_schema_from_outside() -> None:
    schema: Any = editor_schema()
    assert list(schema) == ["$schema", "title", "type", "properties", "required", "allOf", "$defs"]
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    assert (schema["title"], schema["type"], schema["required"]) == ("harnesscheck job file", "object", ["kind"])
    kind = schema["properties"]["kind"]
    assert kind["enum"] == ["airframe", "as-found", "equipment", "jumper", "parts"]
    assert kind["description"].startswith("airframe: What is in the aircraft.; as-found: One aircraft: what somebody")
    assert kind["description"].endswith("; equipment: The new box.; jumper: The kit.; parts: the shop's own parts.")
    names = {
        "airframe": "AirframeFile",
        "as-found": "AsFoundFile",
        "equipment": "EquipmentFile",
        "jumper": "JumperFile",
    }
    assert schema["allOf"] == [
        {
            "if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]},
            "then": {"$ref": f"#/$defs/{name}"},
        }
        for kind, name in names.items()
    ]
    assert list(schema["$defs"]) == sorted(schema["$defs"]) and set(names.values()) < set(schema["$defs"])


def test_the_editors_schema_of_some_entries() -> None:
    found: Any = editor_schema()["$defs"]
    assert found["SettingEntry"] == {
        "additionalProperties": False,
        "description": "One thing to set when the equipment is put into use.",
        "properties": {
            "set": {"description": "the value it is set to", "type": ["string", "number"], "examples": ["a few words"]},
            "how": {"description": "where and how", "type": ["string", "number"], "examples": ["a few words"]},
        },
        "required": ["set"],
        "type": "object",
    }
    zone = found["ZoneEntry"]["properties"]
    assert zone["wet"] == {"enum": ["yes", "no"], "description": "yes when water may reach the connectors"}
    assert zone["arm"] == {
        "type": ["string", "number"],
        "examples": ["2.1 m"],
        "description": "from the datum, aft positive",
    }
    assert found["AirframeFile"]["properties"]["aircraft"] == {
        "$ref": "#/$defs/AircraftEntry",
        "description": "the aircraft, for the papers",
    }
    assert "title" in found["AirframeFile"]["properties"] and "title" in found["AirframeFile"]["required"]
    assert "shield ends" in found["CircuitEntry"]["properties"] and "from" in found["WireEntry"]["properties"]
    cavity = found["ConnectorEntry"]["properties"]["cavities"]["additionalProperties"]
    assert [sorted(choice) for choice in cavity["anyOf"]] == [["examples", "type"], ["$ref"]]


def test_what_an_editor_need_not_know_is_left_out() -> None:
    null = {"type": "null"}
    assert _plain({"title": "T", "default": 1, "type": "x"}) == {"type": "x"}
    assert _plain({"properties": {"title": {"title": "T", "type": "x"}, "default": null}}) == {
        "properties": {"title": {"type": "x"}, "default": null}
    }
    assert _plain({"anyOf": [{"type": "x"}, null], "description": "d"}) == {"type": "x", "description": "d"}
    assert _plain({"anyOf": [{"type": "x", "a": 1}, null], "type": "y"}) == {"type": "y", "a": 1}
    assert _plain({"anyOf": [{"type": "x"}, {"type": "y"}, null]}) == {"anyOf": [{"type": "x"}, {"type": "y"}]}
    assert _plain({"items": [{"title": "T", "type": "x"}], "n": 3}) == {"items": [{"type": "x"}], "n": 3}


# -- types -------------------------------------------------------------------------------------------------------------


def test_refusals_of_values_carry_what_a_person_needs() -> None:
    error = _types.RefusedError("m", "r")
    assert (str(error), error.message, error.remedy, error.plain) == ("m", "m", "r", False)
    unknown = _types.UnknownWordError("w", ("a", "b"))
    assert (str(unknown), unknown.words) == ("not one of: a, b", ("a", "b"))


def test_a_name_is_matched_as_a_whole_and_may_be_so_long() -> None:
    import re

    convert = _types._matching(re.compile("[a-z]{1,9}"), "a word", "write one", 4)
    assert convert("abcd") == "abcd"
    for text, message, remedy, plain in (
        ("abcde", "a word has at most 4 characters", "shorten it; write one", False),
        ("ab1", "this is not a word", "write one", True),
        ("", "this is not a word", "write one", True),
    ):
        with pytest.raises(_types.RefusedError) as caught:
            convert(text)
        assert (caught.value.message, caught.value.remedy, caught.value.plain) == (message, remedy, plain)
    one: Any = _types._one_of(("a", "b"))
    assert one("a") == "a" and one.words == ("a", "b")
    with pytest.raises(_types.UnknownWordError, match="not one of: a, b"):
        one("c")


@pytest.mark.parametrize("word", ["drian", "Drain", "drainn", "sheild"])
def test_a_core_that_is_nearly_a_word_of_the_format(word: str) -> None:
    with pytest.raises(_types.RefusedError, match="neither a colour nor shield nor drain"):
        _types._core(word)
    assert [_types._core(good) for good in ("drain", "shield", "white", "96")] == ["drain", "shield", "white", "96"]


def test_a_type_in_an_editor() -> None:
    schema = TypeAdapter(_types.Length).json_schema()
    assert schema == {"type": ["string", "number"], "examples": ["320 mm"]}
    assert TypeAdapter(_types.Yes).json_schema() == {"enum": ["yes", "no"]}
