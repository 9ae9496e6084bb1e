"""A kit as text: each entry, each line break and what a person has fixed, written out by hand."""

from __future__ import annotations

from typing import Any

import pytest

from harnesscheck.document import parse
from harnesscheck.jumper.kit import Half, Joint, Kit, Lead, Section, Sheath
from harnesscheck.jumper.writing import (
    FIXED,
    SECTIONS,
    WIDTH,
    Entry,
    Head,
    _half,
    _joint,
    _lead,
    _merged,
    _sheath,
    entries,
    flow,
    mm,
    remark,
    scalar,
    text,
)
from harnesscheck.place import STOWED, Point
from harnesscheck.units import Gauge


@pytest.mark.parametrize(
    ("plain", "said"),
    [
        ("WING EQPT PWR", True), ("J114-3", True), ("(a+b)=c*d&e;'f'", True), ("1", True), ("a/b.c_d", True),
        ("+28V", True), (".5", True), ("", False), (" a", False), ("a ", False), ("a: b", False), ("a:b", False),
        ("a #b", False), ("-3", False), ("*a", False), ("&a", False), ("a, b", False), ("{a}", False), ('"a"', False),
        ("a\\b", False), ('say "no" \\', False), ("'a'", False), ("=a", False), ("a\u00e4", False),
    ],
)  # fmt: skip
def test_a_text_as_yaml(plain: str, said: bool) -> None:
    """Plain where it may be; what is read back is the same text."""
    assert scalar(plain) == plain if said else scalar(plain).startswith('"') and scalar(plain).endswith('"')
    assert parse(f"k: {scalar(plain)}\nm: {{n: {scalar(plain)}, o: p}}\n", "x").root == {
        "k": plain, "m": {"n": plain, "o": "p"},
    }  # fmt: skip
    assert scalar('a"b\\c') == '"a\\"b\\\\c"'


def test_comment_lines() -> None:
    """120 columns: behind ``  # `` there are 116, behind the deeper indent of the next line 114."""
    assert remark("why") == ["  # why"] and remark("why", 0) == ["# why"] and remark("why", 4) == ["    # why"]
    assert remark("") == []
    full = "a " * 57 + "bb"  # 116 characters
    assert remark(full) == [f"  # {full}"] and len(remark(full)[0]) == WIDTH == 120
    assert remark(f"{full}b") == [f"  # {'a ' * 57}".rstrip(), "  #   bbb"]
    third = "a " * 57 + "b" * 114 + " c"
    assert remark(third) == [f"  # {'a ' * 57}".rstrip(), f"  #   {'b' * 114}", "  #   c"]
    assert remark("a" * 110 + " one-two-three") == [f"  # {'a' * 110}", "  #   one-two-three"], "no break at a dash"
    assert remark("a" * 300) == [f"  # {'a' * 300}"], "nor in a word"


def test_a_mapping_on_one_line_or_two() -> None:
    assert flow("W1", [("a", "1"), ("b", None), ("c", "3")]) == ("  W1: {a: 1, c: 3}",)
    assert flow("W1", [("a", "1")], 4) == ("    W1: {a: 1}",)
    # "  W1: {" has 7, "a: " 3, ", " 2, "b: 1}" 5: with 103 more it is 120
    assert flow("W1", [("a", "x" * 103), ("b", "1")]) == (f"  W1: {{a: {'x' * 103}, b: 1}}",)
    assert len(flow("W1", [("a", "x" * 103), ("b", "1")])[0]) == 120
    assert flow("W1", [("a", "x" * 104), ("b", "1")]) == (f"  W1: {{a: {'x' * 104},", "       b: 1}")
    # a comma may stand in the last column: 7 + 4 + 2 + "b: " and 103, and the comma
    assert flow("W1", [("a", "1"), ("b", "x" * 103), ("c", "3")]) == (f"  W1: {{a: 1, b: {'x' * 103},", "       c: 3}")
    assert flow("W1", [("a", "1"), ("b", "x" * 104), ("c", "3")]) == (
        "  W1: {a: 1,", f"       b: {'x' * 104},", "       c: 3}",
    )  # fmt: skip
    assert flow("W1", [("a", "x" * 200), ("b", "y" * 200), ("c", "z")]) == (
        "  W1: {", f"       a: {'x' * 200},",
        f"       b: {'y' * 200},", "       c: z}",
    )  # fmt: skip
    assert mm(320) == "320 mm"


P, Q, SP = Point("P1", "1"), Point("J1", "a: b"), Point("SP1")


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"type": "T-22-9", "gauge": Gauge(awg=22)}, "type: T-22-9, length: 320 mm, bundle: trunk"),
        ({"gauge": Gauge(awg=22)}, "gauge: 22 AWG, length: 320 mm, bundle: trunk"),
        ({}, "length: 320 mm, bundle: trunk"),
        ({"type": "T", "gauge": Gauge(awg=20), "state_gauge": True},
         "type: T, gauge: 20 AWG, length: 320 mm, bundle: trunk"),
        ({"cable": "C1", "core": "white", "gauge": Gauge(awg=22), "untwisted": 20},
         "cable: C1, core: white, length: 320 mm, untwisted: 20 mm"),
        ({"cable": "C1", "core": "white", "untwisted": 0}, "cable: C1, core: white, length: 320 mm, untwisted: 0 mm"),
        ({"cable": "C1", "core": "drain", "gauge": Gauge(awg=22)},
         "cable: C1, core: drain, gauge: 22 AWG, length: 320 mm"),
        ({"cable": "C1", "core": "shield", "gauge": Gauge(awg=22)},
         "cable: C1, core: shield, gauge: 22 AWG, length: 320 mm"),
        ({"cable": "C1", "core": "drain", "gauge": Gauge(awg=22), "type": "T-22"},
         "cable: C1, core: drain, type: T-22, length: 320 mm"),
        ({"cable": "C1", "core": "red", "gauge": Gauge(awg=20), "type": "TCK", "state_gauge": True, "alloy": "K"},
         "cable: C1, core: red, type: TCK, gauge: 20 AWG, alloy: K, length: 320 mm"),
        ({"cable": "C1", "core": "red", "gauge": Gauge(awg=20), "alloy": "K", "state_gauge": True},
         "cable: C1, core: red, alloy: K, length: 320 mm"),
        ({"colour": "yellow: 1", "type": "a: b"}, 'type: "a: b", colour: "yellow: 1", length: 320 mm, bundle: trunk'),
    ],
)  # fmt: skip
def test_a_wire(more: dict[str, Any], said: str) -> None:
    """The gauge is said where the type, or the cable, does not say it."""
    assert _lead(Lead("W1", P, SP, 320, "trunk", **more)) == (f"  W1: {{from: P1-1, to: SP1, {said}}}",)


def test_ends_and_bundles_of_a_wire() -> None:
    assert _lead(Lead("W1", Q, STOWED, 5, "a: b")) == (
        '  W1: {from: "J1-a: b", to: stowed, length: 5 mm, bundle: "a: b"}',
    )  # fmt: skip
    assert _lead(Lead("W1", STOWED, P, 5, "x"))[0].startswith("  W1: {from: stowed, to: P1-1,")


def test_splices_and_cables() -> None:
    assert list(_joint(Joint("SP1", "LARGE", 100, "J101", "CABIN"))) == [
        "  SP1: {part: LARGE, zone: CABIN, at: 100 mm from J101}"
    ]
    assert list(_joint(Joint("SP1", None, 100, "J101", None, ("why", "and")))) == [
        "  # why", "  # and", "  SP1: {at: 100 mm from J101}",
    ]  # fmt: skip
    assert list(_joint(Joint("SP1", "a: b", 0, "J101", "c: d"))) == [
        '  SP1: {part: "a: b", zone: "c: d", at: 0 mm from J101}'
    ]
    assert _sheath(Sheath("C1", "M27500", 410, "stub", "trim: it")) == (
        '  C1: {type: M27500, length: 410 mm, bundle: stub, note: "trim: it"}',
    )  # fmt: skip
    assert _sheath(Sheath("C1", None, 410, "s: t")) == ('  C1: {length: 410 mm, bundle: "s: t"}',)
    assert _sheath(Sheath("C1", "a: b", 410, "stub"))[0].startswith('  C1: {type: "a: b", ')


def test_a_connector_half() -> None:
    full = Half("P102", "plug: probe", "A1J1", "R6S", {"family": "ROUND"}, "S20", {"3": "S16", "a: b": "c: d"},
                "PLUG20", "CABIN", "aircraft", "along the spar", "on site", ("why", "and so"))  # fmt: skip
    assert list(_half(full)) == [
        "  P102:", "    # why", "    # and so", '    name: "plug: probe"', "    part: R6S", "    family: ROUND",
        "    contacts: S20", "    plugs: PLUG20", "    zone: CABIN", "    mates: A1J1", "    fitted: aircraft",
        "    route: along the spar", "    note: on site", "    cavities:", "      3: {contact: S16}",
        '      "a: b": {contact: "c: d"}',
    ]  # fmt: skip
    assert list(_half(Half("P102", "", "A1J1"))) == ["  P102:", "    mates: A1J1"]


KIT = Kit(
    ("P1", "J1"), (Half("J101", "first", "P1"), Half("P101", "second", "J1")),
    (Joint("SP1", "LARGE", 100, "J101", None),), (Sheath("C1", None, 410, "stub"),),
    (Section("PWR, tapped", (Lead("W1", P, SP, 100, "trunk"), Lead("W2", SP, P, 140, "trunk")), ("why", "and")),
     Section("spares", (Lead("W3", P, P, 240, "trunk"),))),
    {Point("A1J1", "1"): "PWR", Point("A1J1", "a: b"): "R: T"},
    {Point("A1J1", "1"): ("the only one", "not NAV")}, {"S20": 2, "P: 20": 4}, ("IN1", "OUT: 1"),
)  # fmt: skip
HEAD = Head("Jumper: probe", "air.yaml", {"A1": "box.yaml", "A2": "other: one.yaml"}, ("Planned.", "Cost: 3"))
WHOLE = """\
# Planned.
# Cost: 3
kind: jumper
title: "Jumper: probe"
revision: A
airframe: air.yaml
equipment:
  A1: box.yaml
  A2: "other: one.yaml"
opens: P1/J1

connectors:
  J101:
    name: first
    mates: P1
  P101:
    name: second
    mates: J1

splices:
  SP1: {part: LARGE, at: 100 mm from J101}

cables:
  C1: {length: 410 mm, bundle: stub}

wires:
  # PWR, tapped
  # why
  # and
  W1: {from: P1-1, to: SP1, length: 100 mm, bundle: trunk}
  W2: {from: SP1, to: P1-1, length: 140 mm, bundle: trunk}
  # spares
  W3: {from: P1-1, to: P1-1, length: 240 mm, bundle: trunk}

taps:
  # the only one
  # not NAV
  A1J1-1: PWR
  "A1J1-a: b": "R: T"

kit:
  spare contacts: {S20: 2, "P: 20": 4}
  site tools: [IN1, "OUT: 1"]

allowances:
  # connector: par. 11-118 asks for slack for two re-terminations; the amount is ours
  connector: 40 mm
  # splice: reach into the splice barrel
  splice: 10 mm
  # round up to: reading off a bench rule
  round up to: 5 mm
"""


def test_a_whole_file() -> None:
    """Allowances: 40 mm for two re-terminations, 10 mm into a barrel, fives of a bench rule (common practice)."""
    assert text(entries(HEAD, KIT)) == WHOLE
    least = text(entries(Head("t", "a.yaml", {}), Kit(("P", "J"), (), (), (), (), {}, site_tools=("IN1",))))
    assert least.startswith(
        "kind: jumper\ntitle: t\nrevision: A\nairframe: a.yaml\nopens: P/J\n\nkit:\n  site tools: [IN1]\n\n"
    )
    assert "allowances:\n  # connector" in least and "\nwires" not in least
    spares = text(entries(Head("t", "a", {}), Kit(("P", "J"), (), (), (), (), {}, spare_contacts={"S": 2})))
    assert "\nkit:\n  spare contacts: {S: 2}\n\n" in spares


def test_what_a_person_has_fixed_stands_in_its_place() -> None:
    kept = [
        Entry("wires", "W2", ("  W2: {from: X}  # fixed",)), Entry("title", "title", ("title: my own  # fixed",)),
        Entry("wires", "W9", ("  W9: {from: Y}  # fixed", "   z  ")), Entry("note", "note", ("note: hello  # fixed",)),
        Entry("limits", "limits", ("limits:", "  long-bus: {value: 5 m}")), Entry("wires", "", ("  # nobody",)),
        Entry("waivers", "waivers", ("waivers:", "  - x")), Entry("parts", "B", ("  B: shop.yaml  # fixed",)),
    ]  # fmt: skip
    found = text(entries(HEAD, KIT), kept)
    wanted = (
        WHOLE.replace(
            'title: "Jumper: probe"\nrevision: A\n', "title: my own  # fixed\nrevision: A\nnote: hello  # fixed\n"
        )
        .replace("  W2: {from: SP1, to: P1-1, length: 140 mm, bundle: trunk}\n", "  W2: {from: X}  # fixed\n")
        .replace("\n\ntaps:", "\n  W9: {from: Y}  # fixed\n   z\n  # nobody\n\ntaps:")
        .replace("opens: P1/J1\n", "\nparts:\n  B: shop.yaml  # fixed\nopens: P1/J1\n")
    )
    assert found == f"{wanted}\nlimits:\n  long-bus: {{value: 5 m}}\n\nwaivers:\n  - x\n"


BLOCK = ("  P1:", "    name: a", "    part: b", "    note: c")


@pytest.mark.parametrize(
    ("mine", "merged"),
    [
        # one line, a mapping on several lines, or a mark at the head: the person's own, whole
        (("  P1: x",), None), (("  P1: {a: b,", "    c: d}  # fixed"), None),
        (("  P1:  # fixed", "    part: z"), None), (("  P1: # FIXED", "    part: z"), None),
        # only the marked lines of a block
        (("  P1:", "    part: z  # fixed", "    name: y"),
         ("  P1:", "    name: a", "    part: z  # fixed", "    note: c")),
        (("  P1: ", "    zone: z  # Fixed: so"), (*BLOCK, "    zone: z  # Fixed: so")),
        (("  P1: # mine", "    note: z #fixed", "    name: y # fixed"),
         ("  P1:", "    name: y # fixed", "    part: b", "    note: z #fixed")),
        (("  P1:  # mine", "    name: y # fixed", "    part: z"),
         ("  P1:", "    name: y # fixed", "    part: b", "    note: c")),
        (("  P1:", "    name: y # fixedly"), BLOCK),
    ],
)  # fmt: skip
def test_of_a_block_only_the_marked_lines_are_kept(mine: tuple[str, ...], merged: tuple[str, ...] | None) -> None:
    own = Entry("connectors", "P1", mine)
    found = _merged(Entry("connectors", "P1", BLOCK), own)
    assert found == (own if merged is None else Entry("connectors", "P1", merged))


def test_marks_of_what_is_settled() -> None:
    for line, marked in ((" # fixed", True), ("\t#Fixed: x", True), ("# fixed", False), (" # not fixed", False),
                         (" # fixedly", False), (" #  FIXED", True)):  # fmt: skip
        assert bool(FIXED.search(line)) is marked, line
    assert SECTIONS[:4] == ("kind", "title", "revision", "note") and SECTIONS[-2:] == ("limits", "waivers")
