"""Rows that are none of their own, and the values of rows: read by eye, and what each list says written below it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.importing import lists

LISTS = """\
=== rows_ditto
Wire,From,To,Gauge,Color,Notes
W1,J1:1,J2:1,22 AWG,red,a
W2,J1:2,J2:2,do.,dto,ditto
W3,J1:3,J2:3,idem,- '' -,''
W4,J1:4,J2:4,〃,dito,DO.
---
rows nwwww
w2 W1: J1-1 > J2-1; gauge 22 AWG; colour red; note a
w3 W2: J1-2 > J2-2; gauge 22 AWG; colour red; note a
w4 W3: J1-3 > J2-3; gauge 22 AWG; colour red; note a
w5 W4: J1-4 > J2-4; gauge 22 AWG; colour red; note a
m do. under 'Gauge' means what stands above it
m dto under 'Color' means what stands above it
m ditto under 'Notes' means what stands above it
m idem under 'Gauge' means what stands above it
m - '' - under 'Color' means what stands above it
m '' under 'Notes' means what stands above it
m 〃 under 'Gauge' means what stands above it
m dito under 'Color' means what stands above it
m DO. under 'Notes' means what stands above it
=== rows_ditto_of_a_blank
Wire,From,To,Color
W1,J1:1,J2:1,
W2,J1:2,J2:2,do.
W3,J1:3,J2:3,red
---
rows nwxw
w2 W1: J1-1 > J2-1
w4 W3: J1-3 > J2-3; colour red
x3A do. under 'Color' repeats a blank ~ write the value out
=== rows_ditto_first
Wire,From,To,Color
W1,J1:1,J2:1,do.
---
rows nx
x2A do. under 'Color' repeats a blank ~ write the value out
=== rows_said_again_and_totals
Wire,From,To,Length
W1,J1:1,J2:1,300 mm
Wire,From,To,Length
W2,J1:2,J2:2,300 mm
--,--,--,--
Total,,,600 mm
Total wire,x,y,600 mm
Sum,J1:5,J2:5,300 mm
---
rows nwnwnnxw
w2 W1: J1-1 > J2-1; length 300 mm
w4 W2: J1-2 > J2-2; length 300 mm
w8 Sum: J1-5 > J2-5; length 300 mm
x7A no cavity is given at 'x' ~ write the cavity; a splice is called SP1, a ground stud GS1, or name it with --map
=== rows_taken_back
Wire,From,To,Status,Notes
W1,J1:1,J2:1,ok,
W2,J1:2,J2:2,deleted,
W3,J1:3,J2:3,void,
W4,J1:4,J2:4,,RETIRED
W5 (removed),J1:5,J2:5,,
W6,J1:6,J2:6,,removed
W7,J1:7,J2:7,,removed per ECN 4
W8,J1:8,J2:8,,removed connector cover
W9,J1:9,J2:9,,see deleted one
superseded by W1,,,,
---
rows nwrrrrrrwwn
w2 W1: J1-1 > J2-1; note Status: ok
w9 W8: J1-8 > J2-8; note removed connector cover
w10 W9: J1-9 > J2-9; note see deleted one
r3A the row calls itself retired
r4A the row calls itself retired
r5A the row calls itself retired
r6A the row calls itself retired
r7A the row calls itself retired
r8A the row calls itself retired
=== rows_first_words
Wire,From,To,Notes
W1,J1:1,J2:1,
Notes: all is invented,,,
* crimped twice,,,
# a remark,,,
see drawing,,,
Page 3,,,
end of list,,,
keys as typed,,,
W2,J1:2,J2:2,
this is a rather long remark indeed,,,
five words are no remark,,,
---
rows nwnnnnnnnwnn
w2 W1: J1-1 > J2-1
w10 W2: J1-2 > J2-2
=== rows_of_one_word
Wire,From,To
W1,J1:1,J2:1
Notes,,
Legend,,
W2,J1:2,J2:2
---
rows nwnnw
w2 W1: J1-1 > J2-1
w5 W2: J1-2 > J2-2
=== rows_commented_out
Wire,From,To
W1,J1:1,J2:1
//W2,J1:2,J2:2
;W3,J1:3,J2:3
! W4,J1:4,J2:4
%W5,J1:5,J2:5
#W6,J1:6,J2:6
rem W7,J1:7,J2:7
#8,J1:8,J2:8
remW9,J1:9,J2:9
---
rows nwxxxxxxww
w2 W1: J1-1 > J2-1
w9 #8: J1-8 > J2-8
w10 remW9: J1-9 > J2-9
x3A '//W2' begins like a comment ~ delete the row, or the sign before it
x4A ';W3' begins like a comment ~ delete the row, or the sign before it
x5A '! W4' begins like a comment ~ delete the row, or the sign before it
x6A '%W5' begins like a comment ~ delete the row, or the sign before it
x7A '#W6' begins like a comment ~ delete the row, or the sign before it
x8A 'rem W7' begins like a comment ~ delete the row, or the sign before it
=== rows_that_all_begin_so
Wire,From,To
#W1,J1:1,J2:1
#W2,J1:2,J2:2
---
rows nww
w2 #W1: J1-1 > J2-1
w3 #W2: J1-2 > J2-2
=== rows_notes_that_go_on
Wire,From,To,Notes,Remarks
W1,J1:1,J2:1,,
,,,first,
,,,,second
W2,J1:2,J2:2,own,
,,,more,and more
---
rows nwnnwn
w2 W1: J1-1 > J2-1; note first; second
w5 W2: J1-2 > J2-2; note own; more; and more
m a row with nothing but a note goes on with the note of the row above
=== rows_notes_before_any_row
Wire,From,To,Notes
,,,nothing above
W1,J1:1,J2:1,
W2,J9,J2:1,
,,,below a row not taken
---
rows nxwxx
w3 W1: J1-1 > J2-1
x2D one end of the wire is not given ~ write both ends
x4A no cavity is given at 'J9' ~ write the cavity; a splice is called SP1, a ground stud GS1, or name it with --map
x5D one end of the wire is not given ~ write both ends
=== rows_too_wide
Wire,From,To
W1,J1:1,J2:1,loose
W2,J1:2,J2:2,
W3,J1:3,J2:3,,x
---
rows nxwx
w3 W2: J1-2 > J2-2
x2A this row has 4 cells, its head 3 ~ put a value that holds the separator in quotes, or name the column
x4A this row has 5 cells, its head 3 ~ put a value that holds the separator in quotes, or name the column
=== rows_two_heads_alike
Wire,From,To,Gauge,Gauge,Notes,Notes
W1,J1:1,J2:1,22 AWG,20 AWG,a,b
W2,J1:2,J2:2,22 AWG,22 AWG,,
W3,J1:3,J2:3,22 AWG,,,
---
rows nxww
w3 W2: J1-2 > J2-2; gauge 22 AWG
w4 W3: J1-3 > J2-3; gauge 22 AWG
x2A two columns 'Gauge' say '22 AWG' and '20 AWG' ~ keep one of the two columns, or call one of them Note
=== values_two_columns_of_one_sort
Wire,From,To,Gauge,AWG,Color,Colour
W1,J1:1,J2:1,22 AWG,20,red,RED
W2,J1:2,J2:2,22 AWG,22,red,blue
W3,J1:3,J2:3,,20,,blue
W4,J1:4,J2:4,20,,red,
---
rows nwwww
w2 W1: J1-1 > J2-1; colour RED; note Gauge: 22 AWG; AWG: 20
w3 W2: J1-2 > J2-2; gauge 22 AWG; note Color: red; Colour: blue
w4 W3: J1-3 > J2-3; gauge 20 AWG; colour blue
w5 W4: J1-4 > J2-4; gauge 20 AWG; colour red
v2E AWG '20': 'Gauge' says '22 AWG', and nothing says which of the two is meant here ~ keep one of the columns, or c
v3G Colour 'blue': 'Color' says 'red', and nothing says which of the two is meant here ~ keep one of the columns, or
=== values_three_columns_of_one_sort
Wire,From,To,Color,Colour,Farbe
W1,J1:1,J2:1,red,blue,red
---
rows nw
w2 W1: J1-1 > J2-1; note Color: red; Colour: blue; Farbe: red
v2E Colour 'blue': 'Color' says 'red', and nothing says which of the two is meant here ~ keep one of the columns, or
v2F Farbe 'red': 'Colour' says 'blue', and nothing says which of the two is meant here ~ keep one of the columns, or
=== values_that_are_not_plain
Wire,From,To,Gauge,Color,Length,Wire Type
W1,J1:1,J2:1,thin,GR,about 3 m,café
W2,J1:2,J2:2,22 AWG shielded,red (old),300 mm max,-
W3,J1:3,J2:3,tbd,unknown,as required,
W4,J1:4,J2:4,RG-58,white,300 mm,??
---
rows nwwww
w2 W1: J1-1 > J2-1; note Gauge: thin; Color: GR; Length: about 3 m
w3 W2: J1-2 > J2-2; gauge 22 AWG; colour red; note shielded; old; Length: 300 mm max
w4 W3: J1-3 > J2-3; note Gauge: tbd; Color: unknown; Length: as required
w5 W4: J1-4 > J2-4; type RG-58; colour white; length 300 mm; note RG-58
v2D Gauge 'thin': not a conductor size ~ write it like 22 AWG or 0.35 mm2, or state it with --map
v2E Color 'GR': GR is green or gray ~ write a word like white/blue, digits like 96, or a legend: GR = green
v2F Length 'about 3 m': an estimate, not a length ~ write it like 320 mm or 12 in
v2G Wire Type 'café': no part number ~ write it in plain characters
v3F Length '300 mm max': a limit, not a length ~ write it like 320 mm or 12 in
=== values_size_and_colour
Wire,From,To,Gauge,Color
W1,J1:1,J2:1,22 AWG red,
W2,J1:2,J2:2,22 AWG red (x),blue
W3,J1:3,J2:3,,20 AWG white
W4,J1:4,J2:4,18 AWG,20 AWG white
---
rows nwwww
w2 W1: J1-1 > J2-1; colour red; gauge 22 AWG
w3 W2: J1-2 > J2-2; gauge 22 AWG; note x; Gauge: 22 AWG red (x); Color: blue
w4 W3: J1-3 > J2-3; gauge 20 AWG; colour white
w5 W4: J1-4 > J2-4; colour white; note Gauge: 18 AWG; Color: 20 AWG white
v3E Color 'blue': 'Gauge' says '22 AWG red (x)', and nothing says which of the two is meant here ~ keep one of the c
v5E Color '20 AWG white': 'Gauge' says '18 AWG', and nothing says which of the two is meant here ~ keep one of the c
=== values_type_with_a_size
Wire,From,To,Wire Type
W1,J1:1,J2:1,22 AWG shielded
W2,J1:2,J2:2,22 AWG
W3,J1:3,J2:3,M-5
---
rows nwww
w2 W1: J1-1 > J2-1; gauge 22 AWG; note shielded
w3 W2: J1-2 > J2-2; gauge 22 AWG
w4 W3: J1-3 > J2-3; type M-5
=== values_type_beside_a_size
Wire,From,To,Wire Type,Gauge
W1,J1:1,J2:1,22 AWG shielded,20 AWG
W2,J1:2,J2:2,22 AWG shielded,22
W3,J1:3,J2:3,22 AWG shielded,
---
rows nwww
w2 W1: J1-1 > J2-1; type 22 AWG shielded; note Wire Type: 22 AWG shielded; Gauge: 20 AWG
w3 W2: J1-2 > J2-2; gauge 22 AWG; type 22 AWG shielded
w4 W3: J1-3 > J2-3; gauge 22 AWG; type 22 AWG shielded
v2E Gauge '20 AWG': 'Wire Type' says '22 AWG shielded', and nothing says which of the two is meant here ~ keep one o
=== values_of_bare_fractions
Wire,From,To,Size
W1,J1:1,J2:1,0.5
W2,J1:2,J2:2,1
---
rows nww
w2 W1: J1-1 > J2-1; gauge 0.5 mm2
w3 W2: J1-2 > J2-2; gauge 1 mm2
m bare numbers under 'Size' are read as mm2, since there are fractions among them
=== values_of_bare_fractions_in_a_gauge
Wire,From,To,Cross section
W1,J1:1,J2:1,"0,5"
W2,J1:2,J2:2,1
---
rows nww
w2 W1: J1-1 > J2-1; gauge 0.5 mm2
w3 W2: J1-2 > J2-2; gauge 1 mm2
m bare numbers under 'Cross section' are read as mm2, since there are fractions among them
=== values_of_two_units
Wire,From,To,Cross section
W1,J1:1,J2:1,0.5
W2,J1:2,J2:2,22
---
rows nww
w2 W1: J1-1 > J2-1; note Cross section: 0.5
w3 W2: J1-2 > J2-2; note Cross section: 22
v2D Cross section '0.5': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --
v3D Cross section '22': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --m
=== values_of_no_unit
Wire,From,To,Cross section
W1,J1:1,J2:1,4
W2,J1:2,J2:2,6
---
rows nww
w2 W1: J1-1 > J2-1; note Cross section: 4
w3 W2: J1-2 > J2-2; note Cross section: 6
v2D Cross section '4': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --ma
v3D Cross section '6': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --ma
=== values_of_a_wire_size
Wire,From,To,Wire Size
W1,J1:1,J2:1,22
W2,J1:2,J2:2,16
W3,J1:3,J2:3,4 red
---
rows nwww
w2 W1: J1-1 > J2-1; gauge 22 AWG
w3 W2: J1-2 > J2-2; gauge 16 AWG
w4 W3: J1-3 > J2-3; colour red; gauge 4 AWG
m bare numbers under 'Wire Size' are read as AWG: not all of them are areas in mm2
=== values_of_a_wire_size_that_may_be_area
Wire,From,To,Wire Size
W1,J1:1,J2:1,4
W2,J1:2,J2:2,6
---
rows nww
w2 W1: J1-1 > J2-1; note Wire Size: 4
w3 W2: J1-2 > J2-2; note Wire Size: 6
v2D Wire Size '4': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --map
v3D Wire Size '6': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --map
=== values_of_a_wire_size_that_is_odd
Wire,From,To,Wire Size
W1,J1:1,J2:1,22
W2,J1:2,J2:2,21
---
rows nww
w2 W1: J1-1 > J2-1; note Wire Size: 22
w3 W2: J1-2 > J2-2; note Wire Size: 21
v2D Wire Size '22': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --map
v3D Wire Size '21': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --map
=== values_of_a_head_with_its_unit
Wire,From,To,Cross section (mm2),Length (cm)
W1,J1:1,J2:1,4,30
W2,J1:2,J2:2,"0,5",40.5
---
rows nww
w2 W1: J1-1 > J2-1; gauge 4 mm2; length 30 cm
w3 W2: J1-2 > J2-2; gauge 0.5 mm2; length 40.5 cm
=== values_points_of_a_column
Wire,From,To,Length (m),Gauge (mm2)
W1,J1:1,J2:1,"1,234",0.5
W2,J1:2,J2:2,"0,5",1
---
rows nww
w2 W1: J1-1 > J2-1; length 1.234 m; gauge 0.5 mm2
w3 W2: J1-2 > J2-2; length 0.5 m; gauge 1 mm2
=== values_points_of_the_sizes
Wire,From,To,Length (m),Gauge (mm2)
W1,J1:1,J2:1,"1,234","0,5"
---
rows nw
w2 W1: J1-1 > J2-1; length 1.234 m; gauge 0.5 mm2
=== values_legend .md
GR = green, BL = blue

| Wire | From | To | Color |
|---|---|---|---|
| W1 | J1:1 | J2:1 | GR/BL |
---
rows n.n.w
w5 W1: J1-1 > J2-1; colour green/blue
m the 1 rows from list.md:1:1 are a title block or a list of revisions
m colour keys: BL is blue, GR is green
=== values_told_by_other_keys
Wire,From,To,Color
W1,J1:1,J2:1,BL
W2,J1:2,J2:2,BK/WH
W3,J1:3,J2:3,22 AWG GN
---
rows nwww
w2 W1: J1-1 > J2-1; colour blue
w3 W2: J1-2 > J2-2; colour black/white
w4 W3: J1-3 > J2-3; gauge 22 AWG; colour green
m colour keys: BK is black, GN is green, WH is white; BL is read as blue, since BK stands in the same column
=== values_of_a_cavity
Connector,Pin,Signal,ID,Notes,Color,Wire Type
J1,1,café,a,keep,red,M-5
J1,2,reserved,,,red,
J1,3,"CAN
H",,,,
J1,4,...,,,,
J1,5,n/c,,,,
J1,6,-,,,,
---
rows npspsss
p2 J1-1: note ID: a; keep; colour red; type M-5; café; use unknown
p3 J1-2: note colour red; reserved; use unknown
p4 J1-3: circuit CAN H
p5 J1-4: use spare
p6 J1-5: use spare; note n/c
p7 J1-6: use spare
v2C signal 'café': holds a sign that is not plain ~ write it short and in plain characters, like CAN H
=== values_of_signals_in_two_columns
Connector,Pin,Signal,Description,Voltage,Status
J1,1,A,main,12 V,new
J1,2,,second,,
---
rows npp
p2 J1-1: note Description: main; Voltage: 12 V; Status: new; circuit A
p3 J1-2: note Description: second; use unknown
"""


@pytest.mark.parametrize("case", lists.cases(LISTS), ids=lambda case: case.name)
def test_hand_rows_values(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []
