"""One aircraft laid over the file of its type: each value and the line where it was typed, counted in the two texts.

``t`` is the type's file and ``o`` the as-found file; ``o:2:5`` is line 2, column 5 of the second.
"""

from __future__ import annotations

from typing import Any

import pytest

from harnesscheck.document import Block, Document, Items, parse
from harnesscheck.fault import Fault
from harnesscheck.formats._overlay import Overlaid, lay_over, told
from tests.formats.marked import places, same

TYPE = """kind: airframe
connectors:
  P1:
    part: A
    cavities:
      1: CAN H
      2: spare
      3: {circuit: AUX, note: n}
  J1: {mates: P1}
  P2: {part: B}
wires:
  W1: {from: P1-7, to: P2-9, length: 1 m}
  W2: {from: P2-8, to: P1-6}
routes:
  run: {length: 2 m, passages: {rib: 9 mm, keel: 8 mm}}
zones:
buses: {BUS1: {supply: 28 V}}
"""


def laid(over: str, base: str = TYPE) -> tuple[Overlaid, list[Fault]]:
    return lay_over(parse(base, "t"), parse(over, "o"))


def result(over: str, base: str = TYPE) -> Overlaid:
    found, faults = laid(over, base)
    assert not faults, faults
    return found


def value(found: Overlaid, *keys: str) -> Any:
    here: Any = found.root
    for key in keys:
        here = here[key]
    return here


def spelt(found: Overlaid, *keys: str) -> tuple[str, str, Any]:
    """Where the last key stands, where its value does, and the value."""
    block = value(found, *keys[:-1])
    line, column, value_line, value_column = block.marks[keys[-1]]
    where = [found.origin(n)[0].where(found.origin(n)[1], c) for n, c in ((line, column), (value_line, value_column))]
    return where[0], where[1], block[keys[-1]]


def refused(over: str, *said: tuple[str, str], base: str = TYPE) -> None:
    plain, marks = places(over)
    found = sorted(laid(plain, base)[1])
    same(
        [(f.file, f.line, f.column, f.message, f.remedy) for f in found],
        [("o", *mark, *words) for mark, words in zip(marks, said, strict=True)],
    )


def test_a_key_that_differs() -> None:
    found = result("wires:\n  W1: {length: 3 m}\n")
    assert spelt(found, "wires", "W1", "length") == ("o:2:8", "o:2:16", "3 m")
    assert spelt(found, "wires", "W1", "to") == ("t:12:20", "t:12:24", "P2-9")
    assert spelt(found, "wires", "W1")[:2] == ("o:2:3", "t:12:7"), "the entry stands where it is said to differ"
    assert spelt(found, "wires", "W2")[0] == "t:13:3"
    assert list(value(found, "wires", "W1")) == ["from", "to", "length"]


def test_the_type_is_left_as_it_is() -> None:
    base = parse(TYPE, "t")
    before = repr(base.root), dict(base.root["wires"].marks), dict(base.root["connectors"]["P1"]["cavities"].marks)
    over = (
        "wires: {W1: {length: 3 m}, W2: none}\nconnectors: {P1: {cavities: {1: spare, 2: none, 3: {note: m}}}}\n"
        "routes: {run: {passages: {rib: none}}}\nadded: {buses: {BUS2: {}}}\nlimits: {a: {value: b}}\n"
    )
    lay_over(base, parse(over, "o"))
    after = repr(base.root), dict(base.root["wires"].marks), dict(base.root["connectors"]["P1"]["cavities"].marks)
    assert before == after


def test_lines_of_the_two_files_are_told_apart() -> None:
    """The type's file has 17 lines and, behind the last line end, an empty one."""
    found = result("wires:\n  W1: {length: 3 m}\n")
    assert [found.origin(n) for n in (1, 18, 19, 20)] == [
        (found.base, 1),
        (found.base, 18),
        (found.over, 1),
        (found.over, 2),
    ]
    fault = found.fault(20, 8, "m", "r")
    assert (fault.file, fault.line, fault.column, fault.text, fault.message, fault.remedy) == (
        "o", 2, 8, "  W1: {length: 3 m}", "m", "r",
    )  # fmt: skip
    assert found.fault(4, 5, "m", "r").text == "    part: A"
    assert (found.name, found.line(20)) == ("t", "  W1: {length: 3 m}")


def test_what_is_taken_away_is_gone_with_its_place() -> None:
    found = result(
        "wires:\n  W2: none\nconnectors: {P1: {cavities: {2: none, 1: B}}}\nroutes: {run: {passages: {rib: none}}}\n"
    )
    assert list(value(found, "wires")) == ["W1"] == list(value(found, "wires").marks)
    cavities = value(found, "connectors", "P1", "cavities")
    assert list(cavities) == ["1", "3"] == list(cavities.marks)
    passages = value(found, "routes", "run", "passages")
    assert dict(passages) == {"keel": "8 mm"} and list(passages.marks) == ["keel"]
    assert found.gone == {"W2": "o:2", "2": "o:3", "rib": "o:4"}


def test_a_key_taken_back_is_unknown_again() -> None:
    found = result(
        "wires: {W1: {length: unknown}, W2: {mark: unknown}}\nconnectors: {P1: {cavities: {3: {circuit: unknown}}}}\n"
    )
    assert list(value(found, "wires", "W1")) == ["from", "to"] == list(value(found, "wires", "W1").marks)
    assert spelt(found, "wires", "W2", "mark") == ("o:1:37", "o:1:43", "unknown")  # this key may be unknown itself
    assert dict(value(found, "connectors", "P1", "cavities", "3")) == {"note": "n"}
    found = result("connectors: {P1: {cavities: {3: {use: unknown}}}}\n")
    assert value(found, "connectors", "P1", "cavities", "3", "use") == "unknown"
    refused(
        "wires:\n  W1: {§lenght: unknown}\n  W2: {§zzzzzz: unknown}\n",
        ("the type's file has no 'lenght' here that could be taken back", "did you mean length?"),
        ("the type's file has no 'zzzzzz' here that could be taken back",
         "remove it; what is said here is: from, to"),
    )  # fmt: skip


def test_one_word_for_a_cavity_replaces_all_and_a_key_of_it_one() -> None:
    found = result(
        "connectors:\n  P1:\n    cavities:\n      3: spare\n      1: {note: seen}\n      2: {note: looked}\n"
    )
    assert spelt(found, "connectors", "P1", "cavities", "3") == ("o:4:7", "o:4:10", "spare")
    one = value(found, "connectors", "P1", "cavities", "1")
    assert dict(one) == {"circuit": "CAN H", "note": "seen"} and (one.line, one.column) == (6, 10)
    assert spelt(found, "connectors", "P1", "cavities", "1", "circuit") == ("t:6:10", "t:6:10", "CAN H")
    assert spelt(found, "connectors", "P1", "cavities", "1", "note") == ("o:5:11", "o:5:17", "seen")
    assert spelt(found, "connectors", "P1", "cavities", "1")[0] == "o:5:7"
    assert dict(value(found, "connectors", "P1", "cavities", "2")) == {"use": "spare", "note": "looked"}
    assert spelt(found, "connectors", "P1")[0] == "t:3:3", "of the half itself nothing is said"
    found = result("connectors: {P1: {cavities: {1: {note: m}}}}\n", TYPE.replace("1: CAN H", "1: unknown"))
    assert dict(value(found, "connectors", "P1", "cavities", "1")) == {"use": "unknown", "note": "m"}


def test_a_half_of_which_something_is_said_stands_there() -> None:
    found = result("connectors:\n  P1: {part: C, cavities: {1: spare}}\n")
    assert spelt(found, "connectors", "P1")[0] == "o:2:3"
    assert spelt(found, "connectors", "P1", "part") == ("o:2:8", "o:2:14", "C")


def test_changes_of_one_entry_come_together() -> None:
    """What was written into one entry before stays when the next is written beside it."""
    found = result("connectors: {P1: {part: C, name: x, cavities: {1: spare, 2: A, 3: {note: m}}}, P2: {part: D}}\n")
    assert {k: v for k, v in value(found, "connectors", "P1").items() if k != "cavities"} == {"part": "C", "name": "x"}
    assert {k: str(v) for k, v in value(found, "connectors", "P1", "cavities").items()} == {
        "1": "spare", "2": "A", "3": "{'circuit': 'AUX', 'note': 'm'}",
    }  # fmt: skip
    assert value(found, "connectors", "P2", "part") == "D"
    found = result("buses: {BUS1: {name: x}}\nadded: {buses: {BUS2: {}}}\n")
    assert {k: dict(v) for k, v in value(found, "buses").items()} == {
        "BUS1": {"supply": "28 V", "name": "x"}, "BUS2": {},
    }  # fmt: skip


@pytest.mark.parametrize(
    ("ref", "cavity", "seen"),
    [
        ("J1", "1", True), ("J1", "2", True), ("J1", "7", False), ("P1", "7", True), ("P1", "6", True),
        ("P2", "9", True), ("P2", "8", True), ("P2", "1", False),
    ],
)  # fmt: skip
def test_a_cavity_that_the_type_speaks_of_elsewhere_may_be_stated(ref: str, cavity: str, seen: bool) -> None:
    """J1 is mated with P1, which has 1, 2 and 3; wires end at P1-7, P2-9, P2-8 and P1-6."""
    if seen:
        found = result(f"connectors: {{{ref}: {{cavities: {{{cavity}: {{note: m}}}}}}}}\n")
        assert spelt(found, "connectors", ref, "cavities", cavity) == ("o:1:30", "o:1:33", {"note": "m"})
    else:
        where = f"put it under added: connectors: {ref}: cavities: when this aircraft has one more"
        refused(
            f"connectors: {{{ref}: {{cavities: {{§{cavity}: spare}}}}}}\n",
            (f"the type's file has no cavity '{cavity}'", where),
        )
    # What is not there cannot be taken away, even where the other half has it.
    if (ref, cavity) == ("J1", "1"):
        where = "put it under added: connectors: J1: cavities: when this aircraft has one more"
        refused("connectors: {J1: {cavities: {§1: none}}}\n", ("the type's file has no cavity '1'", where))


def test_the_mated_half_is_found_from_either_side() -> None:
    base = TYPE.replace("J1: {mates: P1}", "J1: {}").replace("    part: A\n", "    mates: J1\n")
    found = result("connectors: {J1: {cavities: {2: {note: m}}}}\n", base)
    assert spelt(found, "connectors", "J1", "cavities", "2")[2] == {"note": "m"}
    assert spelt(found, "connectors", "J1", "cavities")[:2] == ("o:1:19", "o:1:29")
    inner = value(found, "connectors", "J1", "cavities")
    assert (inner.line, inner.column) == (18 + 1, 29)


def test_entries_that_the_type_has_not() -> None:
    more = "when this aircraft has one more"
    refused(
        "wires:\n  §W3: {length: 1 m}\n  §zzzzzz: none\n  W1: {length: 2 m}\nzones:\n  §tail: {wet: yes}\n"
        "buses: {§\u0412US1: {}}\nroutes: {run: {passages: {§rab: 9 mm, rib: 1 mm}}}\ngrounds: {§GS1: {}}\n",
        ("the type's file has no wire 'W3'", f"did you mean W1 or W2? If not: put it under added: wires: {more}"),
        ("the type's file has no wire 'zzzzzz'", f"put it under added: wires: {more}"),
        ("the type's file has no zone 'tail'", f"put it under added: zones: {more}"),
        (
            "the type's file has no bus '\u0412US1'",
            "U+0412 (cyrillic capital letter ve) at character 1 is not a plain letter: type it again "
            f"If not: put it under added: buses: {more}",
        ),
        ("the type's file has no passage 'rab'",
         f"did you mean rib? If not: put it under added: routes: run: passages: {more}"),
        ("the type's file has no ground 'GS1'", f"put it under added: grounds: {more}"),
    )  # fmt: skip


def test_text_where_a_block_belongs_is_put_there_for_the_schema_to_refuse() -> None:
    found = result("wires: {W1: oops}\nbuses: {BUS1: {name: n}}\nconnectors: {P1: {cavities: oops}}\n")
    assert spelt(found, "wires", "W1") == ("o:1:9", "o:1:13", "oops")
    assert value(found, "connectors", "P1", "cavities") == "oops"
    found = result("wires: {W1: {from: P9-1}}\n", TYPE.replace("W1: {from: P1-7, to: P2-9, length: 1 m}", "W1: odd"))
    assert value(found, "wires", "W1") == {"from": "P9-1"}


def test_what_the_aircraft_has_besides() -> None:
    found = result(
        "added:\n  wires:\n    W3: {from: P1-1, to: P2-2}\n  zones:\n    tail: {wet: yes}\n"
        "  connectors:\n    P1:\n      cavities: {9: AUX}\n    J1:\n      cavities:\n        5: spare\n"
        "  routes: {run: {passages: {frame: 7 mm}}, other: {}}\n"
    )
    assert spelt(found, "wires", "W3") == ("o:3:5", "o:3:9", {"from": "P1-1", "to": "P2-2"})
    assert spelt(found, "wires", "W3", "to") == ("o:3:22", "o:3:26", "P2-2")
    assert (value(found, "wires", "W3").line, value(found, "wires", "W3").column) == (18 + 3, 9)
    assert spelt(found, "zones", "tail") == ("o:5:5", "o:5:11", {"wet": "yes"})
    assert spelt(found, "zones")[:2] == ("o:4:3", "o:5:5")
    assert (value(found, "zones").line, value(found, "zones").column) == (18 + 5, 5)
    assert spelt(found, "connectors", "P1", "cavities", "9") == ("o:8:18", "o:8:21", "AUX")
    assert list(value(found, "connectors", "P1", "cavities")) == ["1", "2", "3", "9"]
    assert spelt(found, "connectors", "P1", "cavities")[0] == "t:5:5"
    assert spelt(found, "connectors", "J1", "cavities", "5") == ("o:11:9", "o:11:12", "spare")
    assert spelt(found, "connectors", "J1", "cavities")[:2] == ("o:10:7", "o:11:9")
    cavities = value(found, "connectors", "J1", "cavities")
    assert (cavities.line, cavities.column) == (18 + 11, 9)
    grounds = value(result("added:\n  grounds:\n       GS1: {}\n"), "grounds")
    assert (grounds.line, grounds.column) == (18 + 3, 8)
    assert dict(value(found, "routes", "run", "passages")) == {"rib": "9 mm", "keel": "8 mm", "frame": "7 mm"}
    assert list(value(found, "routes")) == ["run", "other"]


def test_what_is_added_must_be_new() -> None:
    refused(
        "added:\n  wires: {§W1: {from: P1-1, to: P2-2}, W9: {}}\n  connectors:\n    §P1: {part: C}\n    §J1: {}\n"
        "    §P2: {part: D, cavities: {1: A}}\n  routes: {run: {passages: {§rib: 9 mm, new: 2 mm}}}\n"
        "  buses: {§BUS1: odd}\n",
        *(
            (f"the type's file has {what} already", f"say what differs under {section}:, not under added:")
            for what, section in (
                ("wire 'W1'", "wires"),
                ("connector 'P1'", "connectors"),
                ("connector 'J1'", "connectors"),
                ("connector 'P2'", "connectors"),
            )
        ),
        ("the type's file names 'rib' here already", "say what differs outside added:"),
        ("the type's file has bus 'BUS1' already", "say what differs under buses:, not under added:"),
    )
    found = result("added: {connectors: {P2: {cavities: oops}}}\n")
    assert spelt(found, "connectors", "P2", "cavities") == ("o:1:27", "o:1:37", "oops")


def test_differences_come_before_what_is_added_and_after_it() -> None:
    """A wire taken away and added again is another wire."""
    found = result("wires: {W2: none}\nadded: {wires: {W2: {from: P1-1, to: P2-1}}}\n")
    assert spelt(found, "wires", "W2") == ("o:2:17", "o:2:21", {"from": "P1-1", "to": "P2-1"})


LIMITS = "limits: {a: {value: 1}}\nwaivers:\n  - {check: x}\n"


def test_limits_waivers_and_the_note_of_the_aircraft() -> None:
    over = "limits:\n  b: {value: 2}\nwaivers:\n  - {check: y}\n  - {check: z}\nnote: seen\n"
    found = result(over, TYPE + LIMITS)
    assert {k: dict(v) for k, v in value(found, "limits").items()} == {"a": {"value": "1"}, "b": {"value": "2"}}
    assert spelt(found, "limits", "b")[:2] == ("o:2:3", "o:2:6")
    both = value(found, "waivers")
    assert isinstance(both, Items) and [dict(w) for w in both] == [{"check": "x"}, {"check": "y"}, {"check": "z"}]
    assert [found.origin(line)[0].where(found.origin(line)[1], column) for line, column in both.marks] == [
        "t:20:5",
        "o:4:5",
        "o:5:5",
    ]
    assert spelt(found, "note") == ("o:6:1", "o:6:7", "seen")
    assert spelt(found, "limits")[0] == "t:18:1" and spelt(found, "waivers")[0] == "t:19:1"
    alone = result(over)
    assert spelt(alone, "limits")[:2] == ("o:1:1", "o:2:3") and list(value(alone, "limits")) == ["b"]
    assert (value(alone, "limits").line, value(alone, "limits").column) == (18 + 2, 3)
    assert spelt(alone, "waivers")[:2] == ("o:4:3", "o:4:3") and len(value(alone, "waivers")) == 2
    assert (value(alone, "waivers").line, value(alone, "waivers").column) == (18 + 4, 3)
    kept = result("wires: {W1: {length: 2 m}}\n", TYPE + LIMITS)
    assert spelt(kept, "limits", "a")[0] == "t:18:10" and len(value(kept, "waivers")) == 1


def test_faults_that_come_of_what_is_taken_away_are_told_so() -> None:
    """The longest name in the message is the one: P14 is no P1."""
    found = result("connectors: {P1: none, P2: none}\nwires: {W1: none}\n")
    fault = found.base.fault(9, 14, "nothing is called 'P1' (connector)", "declare it")
    assert found.told(fault).remedy == "o:1 takes P1 away: say there what becomes of this line too"
    other = found.base.fault(9, 14, "nothing is called 'P9' (connector)", "declare it")
    assert found.told(other) == other
    mine = found.over.fault(1, 1, "nothing is called 'P1' (connector)", "declare it")
    assert found.told(mine) == mine
    found.gone["P14"] = "o:9"
    fault = found.base.fault(9, 14, "P14 stays mated with W1", "r")
    assert found.told(fault).remedy.startswith("o:9 takes P14 away")
    assert told(found, [fault, mine]) == [found.told(fault), mine]
    assert told(found.base, [fault]) == [fault] == told(None, [fault])


def test_blocks_and_lists_are_moved_as_a_whole() -> None:
    found = result("added:\n  wires:\n    W3:\n      a: [x, {b: c}]\n      d: {e: {f: g}}\n")
    wire = value(found, "wires", "W3")
    assert wire == {"a": ["x", {"b": "c"}], "d": {"e": {"f": "g"}}}
    assert isinstance(wire["a"], Items) and (wire["a"].line, wire["a"].column) == (18 + 4, 10)
    assert wire["a"].marks == [(18 + 4, 11), (18 + 4, 14)]
    inner = wire["a"][1]
    assert isinstance(inner, Block) and inner.marks == {"b": (18 + 4, 15, 18 + 4, 18)}
    assert wire["d"]["e"].marks == {"f": (18 + 5, 15, 18 + 5, 18)}


def test_a_section_that_is_no_block_in_the_type() -> None:
    base: Document = parse(TYPE, "t")
    assert base.root["zones"] == ""
    said = ("the type's file has no zone 'tail'", "put it under added: zones: when this aircraft has one more")
    refused("zones: {§tail: none}\n", said)
