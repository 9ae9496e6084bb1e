"""What the reader settles for a whole table: columns of several meanings, title blocks, what is no list."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.importing import lists

LISTS = """\
=== reader_wire_is_a_size
Wire,From,To
22 AWG,J1:1,J2:1
20 AWG,J1:2,J2:2
red 18 AWG,J1:3,J2:3
tbd,J1:4,J2:4
---
rows nwwww
w2 W001: J1-1 > J2-1; gauge 22 AWG
w3 W002: J1-2 > J2-2; gauge 20 AWG
w4 W003: J1-3 > J2-3; colour red; gauge 18 AWG
w5 W004: J1-4 > J2-4; note Wire: tbd
m wires without an id are numbered W001, W002 and so on, by row
=== reader_wire_is_half_a_size
Wire,From,To
22 AWG,J1:1,J2:1
W2,J1:2,J2:2
---
rows nww
w2 22_AWG: J1-1 > J2-1; mark 22 AWG
w3 W2: J1-2 > J2-2
v2A wire id '22 AWG': a size stands in it, which is not taken ~ give gauge and colour columns of their own
=== reader_wire_is_a_colour
Wire,From,To
red,J1:1,J2:1
white/blue,J1:2,J2:2
W3,J1:3,J2:3
---
rows nwww
w2 W001: J1-1 > J2-1; colour red
w3 W002: J1-2 > J2-2; colour white/blue
w4 W003: J1-3 > J2-3; note Wire: W3
v4A Wire 'W3': not a colour ~ write a word like white/blue, digits like 96, or a legend: GR = green
m colour keys: W is white
m wires without an id are numbered W001, W002 and so on, by row
=== reader_wire_is_half_a_colour
Wire,From,To
red,J1:1,J2:1
W2,J1:2,J2:2
---
rows nww
w2 red: J1-1 > J2-1
w3 W2: J1-2 > J2-2
=== reader_wire_ids_that_begin_like_colours
Wire,From,To
W_1,J1:1,J2:1
R_2,J1:2,J2:2
---
rows nww
w2 W_1: J1-1 > J2-1
w3 R_2: J1-2 > J2-2
=== reader_wire_beside_an_id
Wire No.,Wire,From,To
W1,main,J1:1,J2:1
W2,main,J1:2,J2:2
---
rows nww
w2 W1: J1-1 > J2-1; note main
w3 W2: J1-2 > J2-2; note main
=== reader_wire_beside_an_id_is_a_bare_size
Wire No.,Wire,From,To
W1,22,J1:1,J2:1
W2,20,J1:2,J2:2
---
rows nww
w2 W1: J1-1 > J2-1; gauge 22 AWG
w3 W2: J1-2 > J2-2; gauge 20 AWG
m bare numbers under 'Wire' are read as AWG: not all of them are areas in mm2
=== reader_wire_of_a_pin_table_is_a_size
Connector,Pin,Signal,Wire
J1,1,A,22
J1,2,B,22
J1,3,C,20
---
rows nppp
p2 J1-1: gauge 22 AWG; circuit A
p3 J1-2: gauge 22 AWG; circuit B
p4 J1-3: gauge 20 AWG; circuit C
m bare numbers under 'Wire' are read as AWG: not all of them are areas in mm2
=== reader_wire_of_a_pin_table_is_no_size
Connector,Pin,Signal,Wire
J1,1,A,22
J1,2,B,24
J1,3,C,21
---
rows nppp
p2 J1-1: note Wire: 22; circuit A
p3 J1-2: note Wire: 24; circuit B
p4 J1-3: note Wire: 21; circuit C
m 3 wires have one end in this list, and only its cavity is taken: 22, 24, 21
=== reader_wire_of_a_pin_table_that_repeats_no_size
Connector,Pin,Signal,Wire
J1,1,A,22
J1,2,B,20
---
rows npp
p2 J1-1: note Wire: 22; circuit A
p3 J1-2: note Wire: 20; circuit B
m 2 wires have one end in this list, and only its cavity is taken: 22, 20
=== reader_three_in_one_cell
Wire,From,To,Notes
W1 22 WHT,J1:1,J2:1,a
W2 20 AWG red,J1:2,J2:2,
Main 18AWG dark blue,J1:3,J2:3
,J1:4,J2:4,
---
rows nwwww
w2 W1: J1-1 > J2-1; gauge 22 AWG; colour white; note a
w3 W2: J1-2 > J2-2; gauge 20 AWG; colour red
w4 Main: J1-3 > J2-3; gauge 18 AWG; colour dark blue
w5 W004: J1-4 > J2-4
m bare numbers under 'Wire' are read as AWG: not all of them are areas in mm2
m colour keys: WHT is white
m wires without an id are numbered W001, W002 and so on, by row
=== reader_three_in_one_cell_not_all
Wire,From,To
W1 22 WHT,J1:1,J2:1
W2,J1:2,J2:2
---
rows nww
w2 W1_22_WHT: J1-1 > J2-1; mark W1 22 WHT
w3 W2: J1-2 > J2-2
=== reader_size_with_units
From,To,Size
J1:1,J2:1,22 AWG
J1:2,J2:2,20 AWG
---
rows nww
w2 W001: J1-1 > J2-1; gauge 22 AWG
w3 W002: J1-2 > J2-2; gauge 20 AWG
m wires without an id are numbered W001, W002 and so on, by row
=== reader_size_of_wires
From,To,Size
J1:1,J2:1,22
J1:2,J2:2,20
---
rows nww
w2 W001: J1-1 > J2-1; note Size: 22
w3 W002: J1-2 > J2-2; note Size: 20
v2C Size '22': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --map
v3C Size '20': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --map
m wires without an id are numbered W001, W002 and so on, by row
=== reader_size_of_contacts
Connector,Pin,Signal,Size
J1,1,A,#16
J1,2,B,#20
---
rows npp
p2 J1-1: note Size: #16; circuit A
p3 J1-2: note Size: #20; circuit B
=== reader_size_beside_contacts
From,To,Size,Contact
J1:1,J2:1,22,M-1
J1:2,J2:2,20,M-2
---
rows nww
w2 W001: J1-1 > J2-1; note Size: 22; Contact: M-1
w3 W002: J1-2 > J2-2; note Size: 20; Contact: M-2
m wires without an id are numbered W001, W002 and so on, by row
=== reader_size_of_a_pin_table
Connector,Pin,Signal,Size
J1,1,A,22 AWG
J1,2,B,20 AWG
J1,3,C,small
---
rows nppp
p2 J1-1: gauge 22 AWG; circuit A
p3 J1-2: gauge 20 AWG; circuit B
p4 J1-3: note Size: small; circuit C
v4D Size 'small': not a conductor size ~ write it like 22 AWG or 0.35 mm2, or state it with --map
=== reader_size_half_with_units
Connector,Pin,Signal,Size
J1,1,A,22 AWG
J1,2,B,small
---
rows npp
p2 J1-1: note Size: 22 AWG; circuit A
p3 J1-2: note Size: small; circuit B
=== reader_part_is_the_connector
Part,Pin,Signal
ECU,1,A
ECU,2,B
---
rows npp
p2 ECU-1: circuit A
p3 ECU-2: circuit B
=== reader_terminal_beside_the_cavity
Connector,Pin,Terminal,Signal
J1,1,M-1,A
J1,2,M-2,B
---
rows npp
p2 J1-1: note Terminal: M-1; circuit A
p3 J1-2: note Terminal: M-2; circuit B
=== reader_connections_beside_ends
Wire,From,To,Connections
W1,J1:1,J2:1,crimped
---
rows nw
w2 W1: J1-1 > J2-1; note crimped
=== reader_columns_by_their_values
Wire,From,To,Cond,Paint,Paint 2
W1,J1:1,J2:1,22 AWG,red,blue
W2,J1:2,J2:2,20 AWG red,Red,-
W3,J1:3,J2:3,,,
---
rows nwww
w2 W1: J1-1 > J2-1; gauge 22 AWG; colour red; note Paint 2: blue
w3 W2: J1-2 > J2-2; colour Red; gauge 20 AWG
w4 W3: J1-3 > J2-3
v1F column 'Paint 2': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
=== reader_columns_not_by_their_values
Wire,From,To,Cond,Paint,Hue
W1,J1:1,J2:1,22 AWG,red,RD
W2,J1:2,J2:2,thick,96,BK
W3,J1:3,J2:3,,red (old),BN
---
rows nwww
w2 W1: J1-1 > J2-1; note Cond: 22 AWG; Paint: red; Hue: RD
w3 W2: J1-2 > J2-2; note Cond: thick; Paint: 96; Hue: BK
w4 W3: J1-3 > J2-3; note Paint: red (old); Hue: BN
v1D column 'Cond': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
v1E column 'Paint': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
v1F column 'Hue': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
=== reader_columns_beside_known_ones
Wire,From,To,AWG,Cond,Color,Paint
W1,J1:1,J2:1,22,22 AWG,red,red
---
rows nw
w2 W1: J1-1 > J2-1; gauge 22 AWG; colour red; note Cond: 22 AWG; Paint: red
v1E column 'Cond': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
v1G column 'Paint': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
=== reader_no_table_at_all
alpha,beta
1,2
---
rows xx
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x2A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== reader_a_table_of_something_else
Price,Vendor,Link
1,x,y
2,x,y
---
rows nxx
x2A a table without cavities or ends ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x3A a table without cavities or ends ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== reader_a_table_of_ids
Wire,Gauge,Color
W1,22,red
W2,20,blue
---
rows nxx
x2A no layout is known for this table ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x3A no layout is known for this table ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== reader_a_title_block
Drawn,Checked,Rev
ab,cd,C
---
rows nn
m the 1 rows from list.csv!A1 are a title block or a list of revisions
=== reader_a_title_block_over_a_list
Drawing of the main loom,
by somebody,rev C
Wire,From,To
W1,J1:1,J2:1
---
rows nnnw
w4 W1: J1-1 > J2-1
m the 1 rows from list.csv!A2 are a title block or a list of revisions
=== reader_a_title_block_that_is_none
Loom J1-4,
a,b
Wire,From,To
W1,J1:1,J2:1
---
rows nxnw
w4 W1: J1-1 > J2-1
x2A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== reader_revisions
Rev,Date,Change
A,1.2.26,first
B,2.2.26,more
,,

Wire,From,To
W1,J1:1,J2:1
---
rows nnn..nw
w7 W1: J1-1 > J2-1
m the 2 rows from list.csv!A1 are a title block or a list of revisions
=== reader_struck_text .md
| What | Else |
|---|---|
| ~~J1~~ | ~~gone~~ |
| ~~J2~~ | here |
---
rows n.rx
x4:3 'J2' is struck through, and the rest of the row is not ~ strike the whole row, or write it anew
v1:3 column 'What': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
v1:10 column 'Else': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
r3:3 struck through
=== reader_struck_rows_of_no_layout .md
| What | Else | More | x y |
|---|---|---|---|
| ~~left loom~~ | ~~gone~~ | ~~a~~ | |
| left loom | here | a | |
---
rows n.rx
x4:3 no layout is known for this table ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
r3:3 struck through
=== reader_ends_over_a_list
Drawing,J1-4
Wire,From,To
W1,J1:1,J2:1
---
rows xnw
w3 W1: J1-1 > J2-1
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== reader_sizes_over_a_list
Drawing,22 AWG
Wire,From,To
W1,J1:1,J2:1
---
rows xnw
w3 W1: J1-1 > J2-1
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== reader_cavities_over_a_list
Drawing,1,A
Wire,From,To
W1,J1:1,J2:1
---
rows xnw
w3 W1: J1-1 > J2-1
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== reader_title_over_a_list
Drawing:,D-1
Scale of it,1
Wire,From,To
W1,J1:1,J2:1
---
rows nnnw
w4 W1: J1-1 > J2-1
m the 2 rows from list.csv!A1 are a title block or a list of revisions
=== reader_headings_and_words .md
# Loom

The loom runs left of the frame.
See J1 for all.

- 5 V is red
- J1: to be done

| From | To |
|---|---|
| J1:1 | J2:1 |
---
rows n.nn.nn.n.w
w11 W001: J1-1 > J2-1
m the 1 rows from list.md:7:1 are a title block or a list of revisions
m wires without an id are numbered W001, W002 and so on, by row
"""


@pytest.mark.parametrize("case", lists.cases(LISTS), ids=lambda case: case.name)
def test_hand_reader(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []
