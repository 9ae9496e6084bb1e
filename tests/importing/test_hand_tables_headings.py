"""Where a table begins, what its columns mean and what stands over it: read by eye, and what each says below."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.importing import lists

LISTS = """\
=== tables_with_blanks_between
Wire,From,To
W1,J1:1,J2:1

W2,J1:2,J2:2
---
rows nw.w
w2 W1: J1-1 > J2-1
w4 W2: J1-2 > J2-2
u list.csv!A1: from-to list: one row is one wire
=== tables_one_below_the_other
Wire,From,To
W1,J1:1,J2:1
Connector,Pin,Signal
J5,1,A
---
rows nwnp
w2 W1: J1-1 > J2-1
p4 J5-1: circuit A
u list.csv!A1: from-to list: one row is one wire
u list.csv!A3: pin table: one row is one cavity
=== tables_under_headings_in_a_sheet
Main loom
Wire,From,To
W1,J1:1,J2:1
Left wing,,
W2,J1:2,J2:2
J9,,
---
rows nnwnwx
w3 W1: J1-1 > J2-1
w5 W2: J1-2 > J2-2
x6A one end of the wire is not given ~ write both ends
u list.csv!A2: from-to list: one row is one wire
u list.csv!A2: from-to list: one row is one wire
=== tables_under_a_heading_with_a_colon
Pin,Signal
1,A
P5:,
2,B
---
rows npnp
p2 list-1: circuit A
p4 P5-2: circuit B
=== tables_with_titles_over_groups
,First,,Second,
Wire,From,Pin,To,Pin
W1,J1,1,J2,1
---
rows nnw
w3 W1: J1-1 > J2-1
u list.csv!A2: from-to list: one row is one wire
=== tables_with_a_double_head
Wire,From,,To,,Notes
,Connector,Pin,Connector,Pin,
W1,J1,1,J2,2,a
W2,J1,3,J2,4,
---
rows nnww
w3 W1: J1-1 > J2-2; note a
w4 W2: J1-3 > J2-4
u list.csv!A1: from-to list: one row is one wire
=== tables_with_a_double_head_of_other_words
From,,To,
Ref,Cavity,Ref,Cavity
J1,1,J2,2
---
rows nnw
w3 W001: J1-1 > J2-2
m wires without an id are numbered W001, W002 and so on, by row
u list.csv!A2: from-to list: one row is one wire
=== tables_with_a_head_twice
Wire,From,To
Wire,From,To
W1,J1:1,J2:1
---
rows nnw
w3 W1: J1-1 > J2-1
u list.csv!A1: from-to list: one row is one wire
u list.csv!A2: from-to list: one row is one wire
=== tables_with_a_double_head_that_is_none
Wire,From,To
x,y,z
W1,J1:1,J2:1
---
rows nxw
w3 W1: J1-1 > J2-1
x2A no cavity is given at 'y' ~ write the cavity; a splice is called SP1, a ground stud GS1, or name it with --map
u list.csv!A1: from-to list: one row is one wire
=== tables_italian
Filo,Da,A,Colore
W1,J1:1,J2:1,rosso
---
rows nw
w2 W001: J1-1 > J2-1; colour red; note Filo: W1
v1A column 'Filo': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
m wires without an id are numbered W001, W002 and so on, by row
u list.csv!A1: from-to list: one row is one wire
=== tables_of_one_known_head
Signal,Loom
A,J1
---
rows nx
x2A a table without cavities or ends ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== tables_of_one_known_head_with_a_long_one
Signal,a head that holds more than thirty
A,1
---
rows xx
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x2A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== tables_of_one_known_head_with_a_colon
Signal,Loom: x
A,1
---
rows xx
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x2A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== tables_with_numbers_in_the_head
Pin,Signal,3
1,A,x
---
rows xx
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x2A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== tables_of_two_heads_that_tell_nothing
Gauge,Color
22,red
---
rows xx
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x2A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== tables_of_three_heads_that_tell_nothing
Gauge,Color,Notes,From
22,red,a,J1
---
rows nx
x2A no layout is known for this table ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== tables_half_known
Wire,From,To,aa,bb,cc
W1,J1:1,J2:1,x,y,z
---
rows nw
w2 W1: J1-1 > J2-1; note aa: x; bb: y; cc: z
v1D column 'aa': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
v1E column 'bb': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
v1F column 'cc': what it holds is kept as a note ~ name it in a map: harnesscheck import --write-map
u list.csv!A1: from-to list: one row is one wire
=== tables_less_than_half_known
Wire,From,To,aa,bb,cc,dd
W1,J1:1,J2:1,x,y,z,u
---
rows xx
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x2A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== tables_of_one_column .md
| Pin |
|-----|
| 1 |
| 2 |
---
rows x.xx
x1:3 no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x3:3 no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x4:3 no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== tables_side_by_place
From,Pin,To,Pin,Pin
J1,1,J2,2,3
---
rows nx
x2A no cavity is given at 'J1' ~ write the cavity; a splice is called SP1, a ground stud GS1, or name it with --map
u list.csv!A1: from-to list: one row is one wire; connector list (from the name of the file)
=== tables_contacts_not_beside
Wire,From,Notes,Contact,To,Contact
W1,J1:1,a,M-1,J2:2,M-2
---
rows nx
x2A 'J2:2' holds a cavity, and 'M-2' stands beside it ~ keep one of them
u list.csv!A1: from-to list: one row is one wire
=== tables_contacts_of_one_side
Wire,From,Contact,Contact
W1,J1:1,1,2
---
rows nx
x2A no layout is known for this table ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== tables_with_units_in_the_next_row
Wire,From,To,Length,Gauge
,,,[cm],(AWG)
W1,J1:1,J2:1,30,22
---
rows nnw
w3 W1: J1-1 > J2-1; length 30 cm; gauge 22 AWG
u list.csv!A1: from-to list: one row is one wire
=== tables_with_units_under_all
Wire,From,To,Length,Gauge
,,,inches,x
W1,J1:1,J2:1,30,22
---
rows nxw
w3 W1: J1-1 > J2-1; gauge 22 AWG; note Length: 30
x2D one end of the wire is not given ~ write both ends
v3D Length '30': a number without a unit ~ write it like 320 mm or 12 in
u list.csv!A1: from-to list: one row is one wire
=== tables_in_markdown_parted_by_blanks .md
| Wire | From | To |
|---|---|---|
| W1 | J1:1 | J2:1 |

| W2 | J1:2 | J2:2 |
---
rows n.w.x
w3 W1: J1-1 > J2-1
x5:3 no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
u list.md:1:3: from-to list: one row is one wire
=== tables_in_markdown_under_levels .md
# Loom J5

## Left J7

Some words about it.

| Pin | Signal |
|---|---|
| 1 | A |

### Pin table

| Pin | Signal |
|---|---|
| 2 | B |

## Right

| Pin | Signal |
|---|---|
| 3 | C |
---
rows n.n.n.n.p.n.n.p.n.n.p
p9 J7-1: circuit A
p15 J7-2: circuit B
p21 Right-3: circuit C
u list.md:7:3: pin table: one row is one cavity; connector J7 (from the heading 'Left J7')
u list.md:13:3: pin table: one row is one cavity; connector J7 (from the heading 'Left J7')
u list.md:19:3: pin table: one row is one cavity; connector Right (from the heading 'Right')
=== headings_of_a_sheet
"Connector: fuel pump (old)",
Pin,Signal
1,A
---
rows nnp
p3 fuel_pump-1: circuit A
= fuel_pump: fuel pump
=== headings_that_name_a_plug
Pinout J14 to the box,
Pin,Signal
1,A
---
rows nnp
p3 J14-1: circuit A
u list.csv!A2: pin table: one row is one cavity; connector J14 (from the heading 'Pinout J14 to the box')
=== headings_with_two_names
Between J14 and J15,
Pin,Signal
1,A
---
rows nnx
x3A 'Between J14 and J15' may name more than one part ~ write one row for each, or state one name for it with --map
u list.csv!A2: pin table: one row is one cavity; connector Between J14 and J15 (from the heading 'Between J14 and J1
=== headings_that_end_in_a_word
Fuel pump connector,
Pin,Signal
1,A
---
rows nnp
p3 Fuel_pump-1: circuit A
u list.csv!A2: pin table: one row is one cavity; connector Fuel pump (from the heading 'Fuel pump connector')
= Fuel_pump: Fuel pump
=== headings_that_are_too_long
A heading that goes on and on and on and on and on and on and on and on and on and on,
Pin,Signal
1,A
---
rows nnp
p3 list-1: circuit A
u list.csv!A2: pin table: one row is one cavity; connector list (from the name of the file)
=== headings_longer_than_a_name
A heading that has far too many letters,
Pin,Signal
1,A
---
rows nnp
p3 list-1: circuit A
u list.csv!A2: pin table: one row is one cavity; connector list (from the name of the file)
=== headings_in_brackets .md
# Plug (J7)

| Pin | Signal |
|---|---|
| 1 | A |
---
rows n.n.p
p5 J7-1: circuit A
u list.md:3:3: pin table: one row is one cavity; connector J7 (from the heading 'Plug (J7)')
=== headings_state_a_gauge
All wires are 22 AWG unless stated,,,
Wire,From,To,AWG
W1,J1:1,J2:1,
W2,J1:2,J2:2,20
---
rows nnww
w3 W1: J1-1 > J2-1; gauge 22 AWG
w4 W2: J1-2 > J2-2; gauge 20 AWG
m wires without a gauge of their own are 22 AWG: 'All wires are 22 AWG unless stated'
u list.csv!A2: from-to list: one row is one wire
=== headings_state_a_gauge_of_a_table .md
## Loom, 0.5 mm2

| Wire | From | To |
|---|---|---|
| W1 | J1:1 | J2:1 |
---
rows n.n.w
w5 W1: J1-1 > J2-1; gauge 0.5 mm2
m wires without a gauge of their own are 0.5 mm2: 'Loom, 0.5 mm2'
u list.md:3:3: from-to list: one row is one wire
=== headings_state_two_gauges
All wires 22 AWG,,
Every wire is 20 AWG,,
Wire,From,To
W1,J1:1,J2:1
---
rows nnnw
w4 W1: J1-1 > J2-1; gauge 20 AWG
m wires without a gauge of their own are 20 AWG: 'Every wire is 20 AWG'
u list.csv!A3: from-to list: one row is one wire
=== headings_state_the_gauge_of_contacts
All contacts accept 22 AWG,,
Wire,From,To
W1,J1:1,J2:1
---
rows nnw
w3 W1: J1-1 > J2-1
u list.csv!A2: from-to list: one row is one wire
=== headings_state_one_wire
W1 is 22 AWG,,
Notes of the loom,,
Wire,From,To
W1,J1:1,J2:1
---
rows nnnw
w4 W1: J1-1 > J2-1
u list.csv!A3: from-to list: one row is one wire
=== headings_state_a_unit
Lengths are in inches.,,,
Wire,From,To,Length
W1,J1:1,J2:1,12
---
rows nnw
w3 W1: J1-1 > J2-1; length 12 in
m lengths without a unit are in in: 'Lengths are in inches.'
u list.csv!A2: from-to list: one row is one wire
=== headings_state_metres
Dimensions in metres,,,
Wire,From,To,Length
W1,J1:1,J2:1,1.5
---
rows nnw
w3 W1: J1-1 > J2-1; length 1.5 m
m lengths without a unit are in m: 'Dimensions in metres'
=== headings_state_two_units
Lengths in mm,,,
Dimensions in feet,,,
Wire,From,To,Length
W1,J1:1,J2:1,12
---
rows nnnw
w4 W1: J1-1 > J2-1; note Length: 12
v4D Length '12': a number without a unit ~ write it like 320 mm or 12 in
u list.csv!A3: from-to list: one row is one wire
=== headings_state_two_gauges_below
Wire,From,To
W1,J1:1,J2:1
all wires 22 AWG,,
every wire 20 AWG,,
---
rows nwnn
w2 W1: J1-1 > J2-1
m notes state several gauges for all wires, and none was taken: 'all wires 22 AWG', 'every wire 20 AWG'
=== headings_below_the_table
Wire,From,To,Length
W1,J1:1,J2:1,12
"All lengths in mm, all wires 1 mm²",,,
---
rows nwn
w2 W1: J1-1 > J2-1; length 12 mm; gauge 1 mm2
m wires without a gauge of their own are 1 mm2: 'All lengths in mm, all wires 1 mm²'
m lengths without a unit are in mm: 'All lengths in mm, all wires 1 mm²'
"""


@pytest.mark.parametrize("case", lists.cases(LISTS), ids=lambda case: case.name)
def test_hand_tables_headings(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []
