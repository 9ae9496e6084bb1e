"""A value in a cell, and a file as tables: what stands in each cell, worked out by hand from the file."""

from __future__ import annotations

import json

import pytest

from harnesscheck.document import Block, Items, parse
from harnesscheck.formats import _tables as tables

# -- one value in one cell ---------------------------------------------------------------------------------------------

SAME = ["a", "P14-3", "+28V", "a(b", "a]", "28 V to 32 V", "_x00", "~a", "x0041_", "\u00e4"]
AS_JSON = ["", "[", "{a", '"x"', "(see a)", " a", "a ", "a\tb", "a\nb", "_x0041_", "b_xFfFf_c"]


@pytest.mark.parametrize("text", SAME)
def test_plain_text_stands_as_it_is(text: str) -> None:
    assert tables.encode(text) == text and tables.decode(text, (1, 1)) == text


@pytest.mark.parametrize("text", AS_JSON)
def test_text_that_could_be_taken_for_something_else_is_json(text: str) -> None:
    """JSON (RFC 8259) as the standard library reads it; no cell holds what a workbook takes for an escape."""
    said = tables.encode(text)
    assert said[0] == '"' and json.loads(said) == text == tables.decode(said, (1, 1))
    assert "_x" not in said.lower() or ("_x00" not in said.lower() and "_xf" not in said.lower())


def test_lists_and_blocks_in_a_cell_have_its_place() -> None:
    found = tables.decode('{"a": ["b", "c"], "d": {"e": "f"}}', (7, 3))
    assert found == {"a": ["b", "c"], "d": {"e": "f"}} and isinstance(found, Block)
    assert (found.line, found.column, found.marks) == (7, 3, {"a": (7, 3, 7, 3), "d": (7, 3, 7, 3)})
    assert isinstance(found["a"], Items)
    assert (found["a"].marks, found["a"].line, found["a"].column) == ([(7, 3), (7, 3)], 7, 3)
    assert found["d"].marks == {"e": (7, 3, 7, 3)}
    assert tables.encode(["\u00e4"]) == '["\u00e4"]'
    assert tables.encode(found) == '{"a": ["b", "c"], "d": {"e": "f"}}'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('{"a": "b", "a": "c"}', "a key is given twice"),
        ('["a", 1]', "a number or a truth value without quotes"),
        ('{"a": true}', "a number or a truth value without quotes"),
        ("[null]", "a number or a truth value without quotes"),
        ('["a"', "Expecting ',' delimiter"),
    ],
)
def test_what_is_no_value(text: str, said: str) -> None:
    with pytest.raises(ValueError, match=said):
        tables.decode(text, (1, 1))


def test_a_value_hung_with_its_place() -> None:
    block = Block(1, 1)
    tables.put(block, "a", "x", (4, 5))
    tables.put(block, "b", "y", (4, 5), (2, 3))
    assert (block, block.marks) == ({"a": "x", "b": "y"}, {"a": (4, 5, 4, 5), "b": (2, 3, 4, 5)})


# -- a file as tables --------------------------------------------------------------------------------------------------


def grids(text: str) -> list[tuple[str, list[list[str]]]]:
    return [(grid.name, [grid.heads, *grid.rows]) for grid in tables.grids(parse(text, "f.yaml").root)]


def test_head_and_sections() -> None:
    text = "kind: airframe\nwaivers: [{a: b}]\nbuses: {B1: {name: n}, B2: {}}\nzones:\nnote: '[x'\n"
    assert grids(text) == [
        ("file", [["(name)", "(value)"], ["kind", "airframe"], ["waivers", '[{"a": "b"}]'], ["buses", "(see buses)"],
                  ["zones", '""'], ["note", '"[x"']]),
        ("buses", [["(name)", "name"], ["B1", "n"], ["B2", ""]]),
    ]  # fmt: skip


def test_entries_that_are_no_blocks_have_a_column_of_their_own() -> None:
    text = "labour: {crimp: 2 min}\nbuses: {B1: odd, B2: {name: n}}\nkit: {spare contacts: {C: '2'}, site tools: [T]}\n"
    assert grids(text)[1:] == [
        ("labour", [["(name)", "(value)"], ["crimp", "2 min"]]),
        ("buses", [["(name)", "(value)", "name"], ["B1", "odd", ""], ["B2", "", "n"]]),
        ("kit", [["(name)", "(value)"], ["spare contacts", '{"C": "2"}'], ["site tools", '["T"]']]),
    ]


def test_pin_maps_are_tables_of_their_own() -> None:
    text = (
        "connectors:\n  P1: {part: A, cavities: {1: CAN H, 2: {use: spare}}, note: n}\n  P2: odd\n"
        "  J1: {pins: {1: {function: f}}, cavities: {}}\n  J2: {cavities: {7: B}}\n"
    )
    assert grids(text)[1:] == [
        (
            "connectors",
            [
                ["(name)", "(value)", "part", "pins", "cavities", "note"],
                ["P1", "", "A", "", "(see cavities)", "n"],
                ["P2", "odd", "", "", "", ""],
                ["J1", "", "", "(see pins)", "{}", ""],
                ["J2", "", "", "", "(see cavities)", ""],
            ],
        ),
        (
            "cavities",
            [
                ["(connector)", "(name)", "(value)", "use"],
                ["P1", "1", "CAN H", ""],
                ["P1", "2", "", "spare"],
                ["J2", "7", "B", ""],
            ],
        ),
        ("pins", [["(connector)", "(name)", "function"], ["J1", "1", "f"]]),
    ]


def test_the_file_is_left_as_it_is() -> None:
    root = parse("connectors: {P1: {part: A, cavities: {1: B}}}\n", "f").root
    before = repr(root)
    tables.grids(root)
    assert repr(root) == before


def test_keys_in_another_order_say_so() -> None:
    text = (
        "wires:\n  W1: {from: a, to: b}\n  W2: {to: c, from: d}\n  W3: {from: e, length: f, to: g}\n  W4: {length: h}\n"
    )
    assert grids(text)[1] == (
        "wires",
        [
            ["(name)", "from", "length", "to", "(order)"],
            ["W1", "a", "", "b", ""],
            ["W2", "d", "", "c", '["to", "from"]'],
            ["W3", "e", "f", "g", ""],
            ["W4", "", "h", "", ""],
        ],
    )


@pytest.mark.parametrize(
    ("lists", "order"),
    [
        ([], ""), (["ab", "ab"], "ab"), (["ac", "abc"], "abc"), (["b", "ab", "bc"], "abc"), (["ab", "cd"], "abcd"),
        (["ab", "ba"], "ab"), (["bd", "abcde"], "abcde"), (["ab", "cb"], "acb"),
    ],
)  # fmt: skip
def test_a_new_key_goes_before_the_one_that_follows_it(lists: list[str], order: str) -> None:
    assert "".join(tables._columns([list(keys) for keys in lists])) == order
