"""Map files, the tables that they state, and what a person reads of a list. All expected by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from harnesscheck.fault import InputError
from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists import mapping, show
from harnesscheck.formats._lists.headers import FROM, TO, Head
from harnesscheck.formats._lists.mapping import Mapping, Part, load
from tests.importing import books, lists

LISTS = """\
=== mapped_columns
x,y,z,u,v,extra
a,J1,1,J2,2,9
b,J1,2,J2,3,8
+++
header row: 1
columns: {A: id, y: from, C: from pin, u: to, E: to pin, F: gauge}
gauge unit: AWG
---
rows nww
w2 a: J1-1 > J2-2; gauge 9 AWG
w3 b: J1-2 > J2-3; gauge 8 AWG
=== mapped_without_a_head
a,J1-1,J2-2,300
b,J1-2,J2-3,400
+++
header row: 0
columns: {A: id, B: from, C: to, D: length}
length unit: mm
---
rows ww
w1 a: J1-1 > J2-2; length 300 mm
w2 b: J1-2 > J2-3; length 400 mm
=== mapped_row_in_the_middle
some words,,
more,words,
n,p,q
1,J1-1,J2-1

2,J1-2,J2-2
+++
header row: 3
columns: {n: id, p: from, q: to}
---
rows nnnw.w
w4 1: J1-1 > J2-1
w6 2: J1-2 > J2-2
=== mapped_two_tables
Power,,
n,p,q
1,J1-1,J2-1
2,J1-2,J2-2
in between,,
Pin,Was,
A,CAN H,
B,CAN L,

at the end,,
+++
tables:
  plug: {header row: 6, last row: 8, columns: {B: signal}, connector: P14}
  power: {header row: 2, last row: 4, columns: {A: id, B: from, C: to}}
---
rows nnwwnnpp.n
w3 1: J1-1 > J2-1
w4 2: J1-2 > J2-2
p7 P14-A: circuit CAN H
p8 P14-B: circuit CAN L
m 1 rows from list.csv!A5 stand in no table of the map, and nothing is taken from them
m 1 rows from list.csv!A10 stand in no table of the map, and nothing is taken from them
=== mapped_to_the_next_table
n,p,q
1,J1-1,J2-1
Pin,Was,
A,CAN H,
+++
tables:
  power: {header row: 1, last row: 9, columns: {A: id, B: from, C: to}}
  plug: {header row: 3, columns: {A: pin, B: signal}, connector: P14}
---
rows nwnp
w2 1: J1-1 > J2-1
p4 P14-A: circuit CAN H
=== mapped_units_of_each_table
n,p,q,s,l
1,J1-1,J2-1,1,5
n,p,q,s,l
2,J1-2,J2-2,1,5
+++
gauge unit: mm2
length unit: cm
tables:
  one: {header row: 1, columns: {A: id, B: from, C: to, D: gauge, E: length}}
  two: {header row: 3, columns: {A: id, B: from, C: to, D: gauge, E: length}, gauge unit: AWG, length unit: in}
---
rows nwnw
w2 1: J1-1 > J2-1; gauge 1 mm2; length 5 cm
w4 2: J1-2 > J2-2; gauge 1 AWG; length 5 in
=== mapped_connector
Pin,Signal
1,VCC
+++
connector: P14
---
rows np
p2 P14-1: circuit VCC
=== mapped_connector_of_headed_columns
Kontakt,Was
1,VCC
+++
header row: 1
columns: {Kontakt: pin, Was: signal}
connector: P14
---
rows np
p2 P14-1: circuit VCC
=== mapped_dash_and_points
Wire,From,To
W1,P14-ABC,KNOT
W2,FRAME,P14-DEF
W3,P14-GHI,PWR-IN-X
+++
dash: yes
splices: [KNOT]
grounds: [FRAME]
names: {PWR-IN: P1}
---
rows nwww
w2 W1: P14-ABC > KNOT
w3 W2: FRAME > P14-DEF
w4 W3: P14-GHI > P1-X
k KNOT: splices
k FRAME: grounds
=== mapped_no_dash
Wire,From,To
W1,P14-ABC,J2-1
+++
dash: no
---
rows nx
x2A no cavity is given at 'P14-ABC' ~ write the cavity; a splice is called SP1, a ground stud GS1, or name it with -
=== mapped_colours
Wire,From,To,Color
W1,J1-1,J2-1,gr
W2,J1-2,J2-2,QQ
+++
colours: {GR: green, qq: Dark Blue}
---
rows nww
w2 W1: J1-1 > J2-1; colour green
w3 W2: J1-2 > J2-2; colour dark blue
m colour keys: GR is green, QQ is dark blue
=== mapped_and_ignored
Wire,From,To,Length,Color
W1,J1-1,J2-1,300 mm,red
+++
header row: 1
columns: {D: ignore}
---
rows nw
w2 W1: J1-1 > J2-1; colour red
=== mapped_names_that_collide
Wire,From,To
W1,A and B:1,J2-1
W2,C:1,J2-2
+++
names: {A and B: P1, C: P1}
---
rows nxw
w3 W2: P1-1 > J2-2
x2A 'A and B:1' tells of more than one point ~ write one row for each wire, with a splice SP1
"""


@pytest.mark.parametrize("case", lists.cases(LISTS), ids=lambda case: case.name)
def test_hand_mapped(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []


def faults(text: str, folder: Path) -> list[tuple[int, int, str, str]]:
    (folder / "map.yaml").write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load(folder / "map.yaml", "map.yaml")
    return [(one.line, one.column, one.message, one.remedy) for one in caught.value.faults]


@pytest.mark.parametrize(("text", "line", "column", "message", "remedy"), [
    ("sheet: W\n", 1, 1, "this file does not say that it is a map", "add 'kind: list map'"),
    ("kind: map\n", 1, 1, "this file does not say that it is a map", "add 'kind: list map'"),
    ("kind: list map\ncollumns: {}\n", 2, 1, "unknown key 'collumns'", "did you mean columns?"),
    ("kind: list map\nqqqqqqqq: {}\n", 2, 1, "unknown key 'qqqqqqqq'", "the keys are: kind, sheet"),
    ("kind: list map\nsheet: [a]\n", 2, 8, "sheet is written as one value", "see docs/import.md"),
    ("kind: list map\nsplices: a\n", 2, 10, "splices is written as a list like [J1, JS2]", "see docs/import.md"),
    ("kind: list map\nnames: a\n", 2, 8, "names is written as a block like {A: id}", "see docs/import.md"),
    ("kind: list map\nsplices: [[a]]\n", 2, 10, "splices holds something that is no text", "see docs/import.md"),
    ("kind: list map\ncolours: {A: [b]}\n", 2, 10, "colours holds something that is no text", "see docs/import.md"),
    ("kind: list map\ntables: {A: b}\n", 2, 9, "tables holds something that is no text", "see docs/import.md"),
    ("kind: list map\ntables: x\n", 2, 9, "tables is written as a block like {A: id}", "see docs/import.md"),
    ("kind: list map\ngauge unit: mm\n", 2, 13, "gauge unit 'mm' is not known", "write AWG or mm2"),
    ("kind: list map\nlength unit: yd\n", 2, 14, "length unit 'yd' is not known", "write "),
    ("kind: list map\ncolumns: {A: frm}\n", 2, 14, "there is no field 'frm'", "did you mean from?"),
    ("kind: list map\ncolumns: {A: qqqqqqq}\n", 2, 14, "there is no field 'qqqqqqq'", "the fields are: id, signal"),
    ("kind: list map\nheader row: x\n", 2, 13, "this is not the number of a row", "write it like 3"),
    ("kind: list map\nheader row: \"1234567\"\n", 2, 13, "this is not the number of a row", "write it like 3"),
    ("kind: list map\nlast row: \"²\"\n", 2, 11, "this is not the number of a row", "write it like 3"),
    ("kind: list map\ndash: maybe\n", 2, 7, "dash 'maybe' is not known", "write yes or no"),
    ("kind: list map\nhidden: show\n", 2, 9, "hidden 'show' is not known", "write take or leave"),
    ("kind: list map\ntables:\n  p: {header row: 1}\n", 3, 3, "table 'p' states no rows or no columns",
    "add 'header row:'"),
    ("kind: list map\ntables:\n  p: {columns: {A: id}}\n", 3, 3, "table 'p' states no rows or no columns",
    "add 'header row:'"),
    ("kind: list map\ntables:\n  p: {header row: 1, columns: {A: x}}\n", 3, 35, "there is no field 'x'", ""),
    ("kind: list map\ntables:\n  p: {splices: [a]}\n", 3, 7, "unknown key 'splices'", "the keys are: sheet,"),
    ("kind: list map\nsheet: W\ntables:\n  p: {header row: 1, columns: {A: id}}\n", 2, 1, "sheet stands beside tables:",
     "move it into its table"),
    ("kind: list map\nconnector: W\ntables:\n  p: {header row: 1, columns: {A: id}}\n", 2, 1,
     "connector stands beside tables:", "move it"),
    ("kind: list map\nheader row: 1\ntables:\n  p: {header row: 1, columns: {A: id}}\n", 2, 1,
     "header row stands beside tables:", "move"),
    ("kind: list map\ncolumns: {A: id}\ntables:\n  p: {header row: 1, columns: {A: id}}\n", 2, 1,
     "columns stands beside tables:", "move"),
])  # fmt: skip
def test_hand_mapping_refused(text: str, line: int, column: int, message: str, remedy: str, tmp_path: Path) -> None:
    (one,) = faults(text, tmp_path)
    assert one[:3] == (line, column, message)
    assert remedy in one[3]


def test_hand_mapping_names_every_fault(tmp_path: Path) -> None:
    text = "kind: list map\ndash: x\nhidden: y\ngauge unit: z\ntables:\n  p: {header row: q, columns: {A: b, C: d}}\n"
    assert [(line, message.split()[0]) for line, _, message, _ in faults(text, tmp_path)] == [
        (2, "dash"), (3, "hidden"), (4, "gauge"), (6, "this"), (6, "there"), (6, "there")]  # fmt: skip


def test_hand_mapping_as_read(tmp_path: Path) -> None:
    (tmp_path / "map.yaml").write_text("kind: list map\n", encoding="utf-8")
    assert load(tmp_path / "map.yaml", "m") == Mapping()
    assert Mapping().parts == ()
    (tmp_path / "map.yaml").write_text(
        "kind: list map\nsheet: W\nheader row: 3\ncolumns: {A: id, B: from}\nconnector: P1\ngauge unit: AWG\n"
        "length unit: mm\ndash: yes\nsplices: [S]\ngrounds: [G]\nnames: {a: b}\ncolours: {GR: green}\nhidden: take\n",
        encoding="utf-8",
    )
    read = load(tmp_path / "map.yaml", "m")
    columns = {"A": "id", "B": "from"}
    assert read == Mapping("W", 3, columns, "P1", "awg", "mm", True, frozenset({"S"}), frozenset({"G"}), {"a": "b"},
                           {"GR": "green"}, "take", ())  # fmt: skip
    assert read.parts == (Part("", "W", 3, 0, columns, "P1", "awg", "mm"),)
    (tmp_path / "map.yaml").write_text(
        "kind: list map\ngauge unit: AWG\nlength unit: mm\ndash: no\ntables:\n"
        "  a: {header row: 3, columns: {A: id}}\n"
        "  b: {sheet: V, header row: 0, last row: 123456, columns: {B: to}, connector: P2, "
        "gauge unit: mm2, length unit: in}\n",
        encoding="utf-8",
    )
    read = load(tmp_path / "map.yaml", "m")
    assert read.parts == read.tables == (
        Part("a", "", 3, 0, {"A": "id"}, "", "awg", "mm"), Part("b", "V", 0, 123456, {"B": "to"}, "P2", "mm2",
        "in"))  # fmt: skip
    assert (read.dash, read.columns) == (False, {})
    assert {
        **{name: Head(name) for name in ("id", "signal", "pin", "gauge", "colour", "length", "type", "contact", "note",
                                         "ends", "part", "gender")},
        "from": Head("end", FROM), "from pin": Head("pin", FROM), "to": Head("end", TO), "to pin": Head("pin", TO),
        "connector": Head("ref"), "ignore": Head("quantity"),
    } == mapping.FIELDS  # fmt: skip


def test_hand_mapped_sheets(tmp_path: Path) -> None:
    head = ["n", "p", "q"]
    books.xlsx(tmp_path / "l.xlsx", {"A": [head, ["1", "J1-1", "J2-1"]], "B": [head, ["2", "J1-2", "J2-2"]],
                                     "C": [["Wire", "From", "To"], ["W3", "J1:3", "J2:3"]]})  # fmt: skip
    columns = {"A": "id", "B": "from", "C": "to"}
    one = Part("one", "A", 1, 0, columns, "", "", "")
    two = Part("two", "B", 1, 0, columns, "", "", "")

    def read(stated: Mapping) -> tuple[list[str], list[str]]:
        imported = spreadsheet.understood(tmp_path / "l.xlsx", "l.xlsx", stated)
        return [w.id for w in imported.draft.wires], [s.name for s in imported.document.sheets]

    assert read(Mapping(sheet="A", header_row=1, columns=columns)) == (["1"], ["A"])
    assert read(Mapping(tables=(one, two))) == (["1", "2"], ["A", "B"])
    assert read(Mapping(sheet="C")) == (["W3"], ["C"])
    assert read(Mapping(tables=(one, Part("two", "", 1, 0, columns, "", "", ""))))[1] == ["A", "B", "C"]
    for stated, words in (
        (Mapping(sheet="D"), "there is no sheet 'D'"),
        (Mapping(tables=(one, Part("x", "E", 1, 0, columns, "", "", ""))),
                                                        "there is no sheet 'E'"),
        (Mapping(sheet="A", header_row=1, columns={**columns, "Z": "note"}), "names a column 'Z' that is not there"),
        (Mapping(tables=(one, Part("two", "B", 1, 0, {"r": "to"}, "", "", ""))),
        "a column 'r' of table 'two' that is not"),
        (Mapping(sheet="A", header_row=9, columns=columns), "names a column 'A' that is not there"),
    ):  # fmt: skip
        with pytest.raises(InputError, match=words):
            read(stated)


def test_hand_shown_to_a_person(tmp_path: Path) -> None:
    (tmp_path / "l.csv").write_text(
        "Wire,From,To,Gauge,Rev\nW1,J 1:1,SP1,22,A\nW2,GS1,J2:2,thick,A\nW3,CB1:load,J2:x?,20,A\n"
        "W4 deleted,J1:4,J2:4,,A\n",
        encoding="utf-8",
    )
    imported = spreadsheet.understood(tmp_path / "l.csv", "l.csv")
    assert show.shown(imported) == (
        "Understood:\n"
        "  l.csv!A1: from-to list: one row is one wire\n"
        "      'Wire' is id, 'From' is from, 'To' is to, 'Gauge' is gauge\n"
        "      columns not taken: 'Rev'\n"
        "  2 wires, 0 cavities, 2 connectors, splices: SP1, ground studs: GS1\n"
        "\nNote:\n"
        "  references hold letters and digits only: J 1 is written J_1\n"
        "\nNot understood, and not taken:\n"
        "  l.csv!A4: W3 | CB1:load | J2:x? | 20 | A\n"
        "      'x?' cannot be a cavity name; do: write it as marked on the insert, like 3 or A\n"
        "\nValues not understood (their rows were taken without them):\n"
        "  l.csv!D3: Gauge 'thick'\n"
        "      not a conductor size; do: write it like 22 AWG or 0.35 mm2, or state it with --map\n"
        "\nRetired in the list, and not taken:\n"
        "  l.csv!A5: W4 deleted | J1:4 | J2:4 |  | A\n"
        "      the row calls itself retired\n"
        "\n5 rows read = 2 wires + 0 pins + 0 spares + 1 notes and headers + 1 retired + 1 not understood\n"
    )
    assert show.map_text(imported) == (
        "# How to read this shop's lists: correct the columns, delete what you do not need.\nkind: list map\n"
        "header row: 1\n# fields: " + ", ".join(mapping.FIELDS) + "\ncolumns:\n"
        "  A: id  # Wire\n  B: from  # From\n  C: to  # To\n  D: gauge  # Gauge\n  E: ignore  # Rev\n"
        "# connector: P14\n# gauge unit: AWG\n# length unit: mm\n# splices: [J1, JS2]\n# grounds: [FRAME]\n"
    )
    books.xlsx(
        tmp_path / "l.xlsx", {"It's": [["x"], [], ["From Connector", "Pin", "To", "?"], ["J1", "1", "J2:1", "a"]]}
    )
    text = show.map_text(spreadsheet.understood(tmp_path / "l.xlsx", "l.xlsx"))
    assert "sheet: It's\nheader row: 3\n" in text
    assert "  A: from  # From Connector\n  B: from pin  # Pin\n  C: to  # To\n  D: ignore  # ?\n#" in text
    (tmp_path / "l.csv").write_text("alpha,beta\n1,2,3\n", encoding="utf-8")
    imported = spreadsheet.understood(tmp_path / "l.csv", "l.csv")
    assert "header row: 1\n" in show.map_text(imported)
    assert "columns:\n  A: ignore\n  B: ignore\n  C: ignore\n#" in show.map_text(imported)
    assert show.shown(imported).startswith(
        "Understood:\n  nothing\n  0 wires, 0 cavities, 0 connectors\n\nNot understood"
    )
    assert "retired in" not in show.shown(imported).lower()
