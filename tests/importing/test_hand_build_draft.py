"""The file made of a list, word for word, and what two rows say of one thing. All expected by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists import build
from tests.importing import books, lists

LISTS = """\
=== draft_breakers_and_points
Wire,From,To
W1,CB1:load,J1:1
W2,CB1:3,J1:2
W3,CB2:x,J1:3
W4,CB2:line,J1:4
W5,SP1,J1:5
W6,SP1:1,J1:6
W7,GS1:1,J1:7
W8,GS1,J1:8
---
rows nwxwxwxwx
w2 W1: CB1-load > J1-1
w4 W3: CB2-x > J1-3
w6 W5: SP1 > J1-5
w8 W7: GS1-1 > J1-7
x3A CB1 is a breaker elsewhere and has a cavity here ~ correct one
x5A CB2 is a breaker here and has other cavities elsewhere ~ correct one
x7A SP1 is a splice elsewhere and has a cavity here ~ correct one
x9A no cavity is given at 'GS1', which has cavities elsewhere ~ write the cavity
k CB1: breakers
k SP1: splices
=== draft_points_in_a_pin_table
Wire,From,To
W1,SP1,J1:5

SP1,
Pin,Signal
1,A
J9,
Pin,Signal
2,B
---
rows nw.nnxnnp
w2 W1: SP1 > J1-5
p9 J9-2: circuit B
x6A SP1 is a splice elsewhere ~ give one of the two another name
k SP1: splices
=== draft_points_in_a_list_of_connectors
Wire,From,To
W1,SP1,J1:5

Connector,Gender
SP1,pin
J1,socket
---
rows nx.nnn
x2A no cavity is given at 'SP1', which has cavities elsewhere ~ write the cavity
c SP1: gender pin
c J1: gender socket
=== draft_the_same_wire_twice
Wire,From,To,Gauge
W1,J1:1,J2:1,22 AWG
W1,J2:1,J1:1,22 AWG
W2,J1:1,J2:1,22 AWG
,J1:1,J2:1,22 AWG
,J1:1,J2:1,22 AWG
---
rows nwxwww
w2 W1: J1-1 > J2-1; gauge 22 AWG
w4 W2: J1-1 > J2-1; gauge 22 AWG
w5 W003: J1-1 > J2-1; gauge 22 AWG
w6 W004: J1-1 > J2-1; gauge 22 AWG
x3A this wire, with the same id and the same ends, stands at list.csv!A2 already ~ delete one of the two rows
=== draft_ids
Wire,From,To
a wire of the main loom with a long name,J1:1,J2:1
a wire of the main loom with a long names,J1:2,J2:2
café,J1:3,J2:3
W 1,J1:4,J2:4
W 1,J1:5,J2:5
W_1,J1:6,J2:6
a wire of the main loom with a long name,J1:7,J2:7
22AWG-1,J1:8,J2:8
1mm2 red,J1:9,J2:9
W 1,J1:10,J2:10
---
rows nwwwwwwwwww
w2 a_wire_of_the_main_loom_with_a_long_name: J1-1 > J2-1; mark a wire of the main loom with a long name
w3 W002: J1-2 > J2-2
w4 W003: J1-3 > J2-3
w5 W_1: J1-4 > J2-4; mark W 1
w6 W_1_2: J1-5 > J2-5; mark W 1
w7 W_1_3: J1-6 > J2-6; mark W_1
w8 a_wire_of_the_main_loom_with_a_lon_2: J1-7 > J2-7; mark a wire of the main loom with a long name
w9 22AWG-1: J1-8 > J2-8
w10 1mm2_red: J1-9 > J2-9; mark 1mm2 red
w11 W_1_4: J1-10 > J2-10; mark W 1
v3A wire id 'a wire of the main loom with a long names': no plain text of up to 40 signs ~ type it again
v4A wire id 'café': no plain text of up to 40 signs ~ type it again
v9A wire id '22AWG-1': a size stands in it, which is not taken ~ give gauge and colour columns of their own
v10A wire id '1mm2 red': a size stands in it, which is not taken ~ give gauge and colour columns of their own
m wires without an id are numbered W001, W002 and so on, by row
m the id W 1 stands in several rows: its second wire is called W_1_2, marked W 1
m the id W_1 stands in several rows: its second wire is called W_1_3, marked W_1
m the id a wire of the main loom with a long name stands in several rows: its second wire is called a_wire_of_the_ma
m the id W 1 stands in several rows: its second wire is called W_1_4, marked W 1
=== draft_cavities
Wire,From,Pin,To,Pin
W1,J1,any,J2,1
W2,J1,see B,J2,2
W3,J1,A?,J2,3
W4,J1,tbd,J2,4
W5,J1,either 3,J2,5
W6,J1,anyone,J2,6
W7,,3,J2,7
W8,J1,8,,9
---
rows nxxxxxwww
w7 W6: J1-anyone > J2-6
w8 W7: J1-3 > J2-7
w9 W8: J1-8 > J2-9
x2A 'any' cannot be a cavity name ~ write it as marked on the insert, like 3 or A
x3A 'see B' cannot be a cavity name ~ write it as marked on the insert, like 3 or A
x4A 'A?' cannot be a cavity name ~ write it as marked on the insert, like 3 or A
x5A 'tbd' cannot be a cavity name ~ write it as marked on the insert, like 3 or A
x6A 'either 3' cannot be a cavity name ~ write it as marked on the insert, like 3 or A
m a blank 'From' beside a cavity means the one above it
m a blank 'To' beside a cavity means the one above it
=== draft_signals
Connector,Pin,Signal
J1,1,12345678901234567890123456789012345678901234567890
J1,2,123456789012345678901234567890123456789012345678901
J1,3,unknown
J1,4,Spare
J1,5,..
J1,6,a b
---
rows npppssp
p2 J1-1: circuit 12345678901234567890123456789012345678901234567890
p3 J1-2: use unknown; note 123456789012345678901234567890123456789012345678901
p4 J1-3: use unknown; note unknown
p5 J1-4: use spare; note Spare
p6 J1-5: use spare
p7 J1-6: circuit a b
v3C signal '123456789012345678901234567890123456789012345678901': longer than 50 signs ~ write it short and in plain
=== draft_spare_and_wired
Connector,Pin,Signal
J1,1,spare
J1,2,reserved
J1,3,spare

Wire,From,To
W1,J1:1,J2:1
W2,J1:2,J2:2
---
rows nxss.nww
w7 W1: J1-1 > J2-1
w8 W2: J1-2 > J2-2
p2 J1-1: note spare
p3 J1-2: note reserved
p4 J1-3: use spare; note spare
x2B J1-1 is called spare here, and wire W1 ends in it (list.csv!A7) ~ correct one of the two rows
=== draft_spare_beside_a_pin
Pin,Signal,Pin,Signal
1,A,2,spare

Wire,From,To
W1,list:2,J2:1
---
rows np.nw
w5 W1: list-2 > J2-1
p2 list-1: circuit A
p2 list-2: note spare
x2C list-2 is called spare here, and wire W1 ends in it (list.csv!A5) ~ correct one of the two rows
=== draft_taken_back
Wire,From,To,Signal,Gauge
W1,J1:1,J2:1,A,22 AWG
W2,J 3:1,J5:?,B,thick
W2,J1:1,J6:1,C,22 AWG
---
rows nwxw
w2 W1: J1-1 > J2-1; gauge 22 AWG; circuit A
w4 W2: J1-1 > J6-1; gauge 22 AWG; circuit C
p2 J1-1: circuit A
p2 J2-1: circuit A
p4 J6-1: circuit C
x3A '?' cannot be a cavity name ~ write it as marked on the insert, like 3 or A
v4D signal 'C': J1-1 is called 'A' at list.csv!D2: that is kept ~ one cavity carries one circuit: correct one of the
=== draft_names
Wire,From,To
W1,PWR-IN:1,J2:1
W2,PWR IN:1,J2:2
W3,PWR_IN:1,J2:3
W4,?:1,J2:4
W5,12V:1,J2:5
---
rows nwxxxw
w2 W1: PWR_IN-1 > J2-1
w6 W5: X12V-1 > J2-5
x3A 'PWR IN' and 'PWR-IN' would both be written PWR_IN ~ give one of the two another name, or state it with --map (n
x4A 'PWR_IN' and 'PWR-IN' would both be written PWR_IN ~ give one of the two another name, or state it with --map (n
x5A '?' cannot be a reference ~ write a letter, then letters and digits, like P14
= PWR_IN: PWR-IN
= X12V: 12V
"""


@pytest.mark.parametrize("case", lists.cases(LISTS), ids=lambda case: case.name)
def test_hand_draft(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []


LIST = """\
Wire,From,Pin,To,Pin,Gauge,Color,Signal
W1,PWR IN,1,J2,A,22,red,VCC
W2,PWR IN,2,SP 1,,22,mauve,
W3,CB1,LINE,GS1,,20,,
W4,PWR IN,?,J2,C,20,,
W5,J2,D,,,,,spare
deleted,J2,E,J2,F,,,

Connector,Pin,Signal,Source,Destination
J7,1,"a: b",J2-G,J2-H
J7,2,,,
"""
MADE = """\
# Made from Main list.csv by harnesscheck import.
kind: airframe
title: Main list
# not taken: Main list.csv!A7: deleted | J2 | E | J2 | F: the row calls itself retired

# What the list says and this file does not hold. Write it below, then delete its line here.
not understood:
  - {at: "Main list.csv!A5", what: row, words: "W4 | PWR IN | ? | J2 | C | 20", why: "'?' cannot be a cavity name", \
remedy: "write it as marked on the insert, like 3 or A"}
  - {at: "Main list.csv!G3", what: value, words: Color 'mauve', why: not a colour, \
remedy: "write a word like white/blue, digits like 96, or a legend: GR = green"}

connectors:
  PWR_IN:  # Main list.csv!C2
    name: PWR IN
    cavities:
      1: {circuit: VCC}  # Main list.csv!A2
  J2:  # Main list.csv!E2
    cavities:
      A: {circuit: VCC}  # Main list.csv!A2
      D: {note: "Wire: W5; spare", use: spare}  # Main list.csv!C6
      G: {circuit: "a: b"}  # Main list.csv!A10
      H: {circuit: "a: b"}  # Main list.csv!A10
  J7_from:  # Main list.csv!B10
    mates: J7_to
    cavities:
      1: {circuit: "a: b"}  # Main list.csv!A10
  J7_to:  # Main list.csv!B10
    cavities:
      1: {circuit: "a: b"}  # Main list.csv!A10
  J7:  # Main list.csv!B11
    cavities:
      2: {use: unknown}  # Main list.csv!B11

wires:
  W1: {from: PWR_IN-1, to: J2-A, gauge: 22 AWG, colour: red}  # Main list.csv!A2
  W2: {from: PWR_IN-2, to: SP_1, gauge: 22 AWG, note: "Color: mauve"}  # Main list.csv!A3
  W3: {from: CB1-line, to: GS1, gauge: 20 AWG}  # Main list.csv!A4
  W004: {from: J2-G, to: J7_from-1}  # Main list.csv!A10
  W005: {from: J7_to-1, to: J2-H}  # Main list.csv!A10

splices:
  SP_1: {note: SP 1}  # Main list.csv!D3

grounds:
  GS1: {}  # Main list.csv!D4

breakers:
  CB1: {}  # Main list.csv!C4
"""


def test_hand_build_of_a_whole_file(tmp_path: Path) -> None:
    (tmp_path / "Main list.csv").write_text(LIST, encoding="utf-8")
    imported = spreadsheet.understood(tmp_path / "Main list.csv", str(tmp_path / "Main list.csv"))
    made = build.as_yaml(imported.draft)
    assert made == MADE


@pytest.mark.parametrize(("text", "said"), [
    ("W1", "W1"), ("+28V", "+28V"), ("a b", "a b"), ("a ", '"a "'), ("-x", '"-x"'), ("a: b", '"a: b"'),
    ("a:b", '"a:b"'),
    ("a #b", '"a #b"'), ("", '""'), ("ü", '"ü"'), ("x" * 199, "x" * 199), ("x" * 200, f'"{"x" * 200}"'), ("a'b", "a'b"),
    ('a"b', '"a\\"b"'), ("(a)", '"(a)"'), ("a(b)=c", "a(b)=c"), ("1.5 mm", "1.5 mm"), ("_", "_"), ("a,b", '"a,b"'),
])  # fmt: skip
def test_hand_build_of_one_value(text: str, said: str) -> None:
    """In quotes wherever YAML could read something else."""
    assert build.scalar(text) == said


def test_hand_build_in_one_line() -> None:
    assert build._flat("a\n b\u202e\tc ") == "a b c"
    assert build._flat("x" * 301) == "x" * 300


def test_hand_build_places(tmp_path: Path) -> None:
    """Every key of the document stands where its cell stands; what has no cell stands at the beginning."""
    rows = [["Wire", "From", "To", "Color"], ["W1", "J 1:1", "SP1", "red"], ["W2", "GS 1", "J2:2", "mauve"],
            ["W3", "CB1:load", "J2:??", ""]]  # fmt: skip
    imported = spreadsheet.understood(books.xlsx(tmp_path / "fl\u00fcgel.xlsx", {"S": rows}), "l.xlsx")
    root = imported.document.root
    assert list(root) == ["kind", "title", "connectors", "wires", "splices", "grounds", "breakers", "not understood"]
    assert (root["kind"], root["title"]) == ("airframe", "fl_gel")
    assert set(root.marks.values()) == {(1, 1, 1, 1)}
    assert (root.line, root.column) == (1, 1)
    assert dict(root["connectors"]) == {"J_1": {"name": "J 1"}, "J2": {}}
    assert root["connectors"].marks == {"J_1": (2, 2, 2, 2), "J2": (3, 3, 3, 3)}
    assert dict(root["wires"]) == {"W1": {"from": "J_1-1", "to": "SP1", "colour": "red"},
                                   "W2": {"from": "GS_1", "to": "J2-2", "note": "Color: mauve"}}  # fmt: skip
    assert root["wires"].marks == {"W1": (2, 1, 2, 1), "W2": (3, 1, 3, 1)}
    assert root["wires"]["W1"].marks == {"from": (2, 2, 2, 2), "to": (2, 3, 2, 3), "colour": (2, 4, 2, 4)}
    assert (dict(root["splices"]), dict(root["grounds"]), dict(root["breakers"])) == (
        {"SP1": {}}, {"GS_1": {"name": "GS 1"}}, {})  # fmt: skip
    assert root["splices"].marks == {"SP1": (2, 3, 2, 3)}
    assert root["grounds"].marks == {"GS_1": (3, 2, 3, 2)}
    assert root["grounds"]["GS_1"].marks == {"name": (3, 2, 3, 2)}
    listed = root["not understood"]
    assert [dict(one) for one in listed] == [
        {"at": "l.xlsx!S!A4", "what": "row", "words": "W3 | CB1:load | J2:??", "why": "'??' cannot be a cavity name",
         "remedy": "write it as marked on the insert, like 3 or A"},
        {"at": "l.xlsx!S!D3", "what": "value", "words": "Color 'mauve'", "why": "not a colour",
         "remedy": "write a word like white/blue, digits like 96, or a legend: GR = green"},
    ]  # fmt: skip
    assert (listed.marks, listed.line, listed.column) == ([(4, 1), (3, 4)], 1, 1)
    assert listed[0].marks["at"] == (4, 1, 4, 1)
    for section in ("connectors", "wires", "splices", "grounds", "breakers"):
        assert (root[section].line, root[section].column) == (1, 1)
    clean = books.xlsx(tmp_path / "l.xlsx", {"S": [rows[0], ["W1", "J1:1", "SP 1", "red"]]})
    root = spreadsheet.understood(clean, "l.xlsx").document.root
    assert "not understood" not in root
    assert dict(root["splices"]) == {"SP_1": {"note": "SP 1"}}
    assert root["splices"]["SP_1"].marks == {"note": (2, 3, 2, 3)}


def test_hand_build_of_a_row_that_shows_nothing(tmp_path: Path) -> None:
    """A filler that no person sees (U+3164) is a row that is not understood, and has no words to keep."""
    (tmp_path / "l.csv").write_text("Wire,From,To\nW1,J1:1,J2:1\n\u3164,,\n", encoding="utf-8")
    root = spreadsheet.understood(tmp_path / "l.csv", "l.csv").document.root
    assert [sorted(one) for one in root["not understood"]] == [["at", "remedy", "what", "why"]]
