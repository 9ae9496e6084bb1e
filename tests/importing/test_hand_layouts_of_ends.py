"""Layouts that name ends, and lists without heads: read by eye, and what they say written below."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.importing import lists

ENDS = """\
=== end_list
Net,Ends
VCC,J1-3; J2-5
GND,"J1-4, J2-6, GS1"
CAN H,J1-7 <-> J2-8
CAN L,J1-8
X,
Y,J1-9; J9
,J1-1; J2-2; J3-3
---
rows nwpwxxxx
w2 W001: J1-3 > J2-5; circuit VCC
w4 W002: J1-7 > J2-8; circuit CAN H
p2 J1-3: circuit VCC
p2 J2-5: circuit VCC
p3 J1-4: circuit GND; note of a net list
p3 J2-6: circuit GND; note of a net list
p4 J1-7: circuit CAN H
p4 J2-8: circuit CAN H
x5A only one end is given ~ write both ends
x6A no ends are given ~ write the ends, parted by ;
x7A no cavity is given at 'J9' ~ write each end as J1:3
x8B this net has no name ~ give it a name
m wires without an id are numbered W001, W002 and so on, by row
m a net of more than two ends gives the pin map only: between which of them wires run is not told
=== end_list_with_ids
Wire,Ends,AWG
W1,J1:1; J2:1,22
W2,J1:2 J2:2,20
W3,J1:3 -> J2:3,
---
rows nwww
w2 W1: J1-1 > J2-1; gauge 22 AWG; circuit W1
w3 W2: J1-2 > J2-2; gauge 20 AWG; circuit W2
w4 W3: J1-3 > J2-3; circuit W3
p2 J1-1: circuit W1
p2 J2-1: circuit W1
p3 J1-2: circuit W2
p3 J2-2: circuit W2
p4 J1-3: circuit W3
p4 J2-3: circuit W3
=== breaker_schedule
CB,Amps,Function,To,Wire
CB1,5,Radio,J1-1,W1
CB2,10,Lamp,J2:4,W2
,5,X,J1-3,
CB3,5,Y,,
---
rows nwwxx
w2 W1: CB1-load > J1-1; note Amps: 5; circuit Radio
w3 W2: CB2-load > J2-4; note Amps: 10; circuit Lamp
p2 J1-1: circuit Radio
p3 J2-4: circuit Lamp
x4B no breaker is named in this row ~ write the breaker, like CB3
x5A nothing is said to hang on CB3 ~ write the cavity that its wire leads to
k CB1: breakers
k CB2: breakers
=== breaker_schedule_in_two_columns
Breaker,To Connector,To Pin,AWG
CB1,J1,1,20
CB2,J1,2,18
---
rows nww
w2 W001: CB1-load > J1-1; gauge 20 AWG
w3 W002: CB2-load > J1-2; gauge 18 AWG
m wires without an id are numbered W001, W002 and so on, by row
k CB1: breakers
k CB2: breakers
=== connector_list
Connector,Part Number,Gender,Ways,Description,Notes,Qty
J1,M-1,socket,9,front,keep,2
P1,M-2,male,9,,,
P1,M-3,pins,,,,
,M-4,,,,,
P2,M5ö,both,,,,
P3,,female,,,,
P4,A,plug,,,,
---
rows nnnxxnnn
x4A P1 is listed at list.csv!A3 already ~ keep one
x5B no reference is given ~ write the reference, like J14
c J1: part M-1; gender socket; note keep; Ways: 9; Description: front; Qty: 2
c P1: part M-2; gender pin; note Ways: 9
c P2: note Part Number: M5ö; Gender: both
c P3: gender socket
c P4: part A; note Gender: plug
=== headless
J1-1,22 AWG,red,J2-1,14,300,hello
J1-2,20 AWG,blue,J2-2,16,400,
---
rows ww
w1 W001: J1-1 > J2-1; gauge 22 AWG; colour red; note column 5: 14; column 6: 300; hello
w2 W002: J1-2 > J2-2; gauge 20 AWG; colour blue; note column 5: 16; column 6: 400
v1E column 5 '14': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --map
v1F column 6 '300': a number without a unit ~ write it like 320 mm or 12 in
v2E column 5 '16': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --map
v2F column 6 '400': a number without a unit ~ write it like 320 mm or 12 in
m wires without an id are numbered W001, W002 and so on, by row
=== headless_with_a_blank_column
J1-1,,J2-1,a,RD
J1-2,,J2-2,5,9
---
rows ww
w1 W001: J1-1 > J2-1; note a; RD
w2 W002: J1-2 > J2-2; note 5; 9
m wires without an id are numbered W001, W002 and so on, by row
=== headless_of_colours_and_lengths
J1-1,J2-1,RD,300,x
J1-2,J2-2,BK,41,22
---
rows ww
w1 W001: J1-1 > J2-1; colour red; note column 4: 300; x
w2 W002: J1-2 > J2-2; colour black; note column 4: 41; 22
v1D column 4 '300': a number without a unit ~ write it like 320 mm or 12 in
v2D column 4 '41': a number without a unit ~ write it like 320 mm or 12 in
m colour keys: BK is black, RD is red
m wires without an id are numbered W001, W002 and so on, by row
=== headless_numbers
W1,J1-1,J2-1,WHT,22
W2,J1-2,J2-2,RED,20
---
rows xx
x1A no heading says which connector this cavity belongs to ~ put its name over the list
x2A no heading says which connector this cavity belongs to ~ put its name over the list
=== headless_of_one_row
J1-1,J2-1
---
rows x
x1A no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== list_items .md
# Plug P9

A - sensor 5 V
B: MPPT A +
1. CAN HI
C - red - RX
D) spare
E = reserved for later
pin 7: GND | see sheet 2
F - this line holds far too many words to be the name of a circuit
not one of them
---
rows n.ppppsspxn
p3 P9-A: circuit sensor 5 V
p4 P9-B: circuit MPPT A +
p5 P9-1: circuit CAN HI
p6 P9-C: circuit RX; note colour red
p7 P9-D: use spare; note spare
p8 P9-E: use unknown; note reserved for later
p9 P9-7: circuit GND; note see sheet 2
x10:1 this reads like a sentence ~ write it as 3: CAN HI
=== list_items_and_others .md
# Plug P9

1: VCC
2: GND
look <there> first
---
rows n.ppx
p3 P9-1: circuit VCC
p4 P9-2: circuit GND
x5:1 this line does not begin with a cavity ~ write it as 3: CAN HI
=== list_items_alone .md
# Plug P9

Pin 12: GND
---
rows n.x
x3:1 no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== list_items_alone_with_a_dash .txt
A - sensor
keep < 5 m
see <this> one
---
rows xnx
x1:1 no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x3:1 no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== list_items_that_are_prose .md
# Plug P9

1. Strip the wire.
2. Crimp it!
---
rows n.xx
x3:1 no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x4:1 no head says what the columns are ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== list_items_without_a_heading .txt
1: VCC
2: GND
---
rows xx
x1:1 no heading says which connector this cavity belongs to ~ put its name over the list
x2:1 no heading says which connector this cavity belongs to ~ put its name over the list
=== edges .txt
ECU:3<red>PDM:5
ECU:4<16 AWG blue>PDM:6
ECU:5<foo>PDM:7
ECU:6<>SP1
J1:3 -> J2:5 -> J3:1
J1:4 -- J2
J1:5 -- J2:6
J1:8 ==> GS2
J1 -> J2:9
CAN: red -> blue
red -> J1:1
---
rows wwwwwnxwxxx
w1 W001: ECU-3 > PDM-5; colour red
w2 W002: ECU-4 > PDM-6; gauge 16 AWG; colour blue
w3 W003: ECU-5 > PDM-7; note foo
w4 W004: ECU-6 > SP1
w5 W005: J1-3 > J2-5
w5 W006: J2-5 > J3-1
w8 W007: J1-8 > GS2
x7:1 no two ends of a wire ~ write it as J1:3 -> J2:5
x9:1 no cavity is given at 'J1' ~ write each end as J1:3
x10:1 colours along one circuit, and no ends ~ write one row for each wire, with both ends
x11:1 colours along one circuit, and no ends ~ write one row for each wire, with both ends
v3:1 colour 'foo' of 'ECU:5<foo>PDM:7': not a colour ~ write a word like white/blue
m wires without an id are numbered W001, W002 and so on, by row
k SP1: splices
k GS2: grounds
=== edges_of_two_cells
ECU:+14V,PDM:ADIO1
ECU:GND,PDM:ADIO2
ECU:GND,none
---
rows wwx
w1 W001: ECU-+14V > PDM-ADIO1
w2 W002: ECU-GND > PDM-ADIO2
x3A no two ends of a wire ~ write it as J1:3 -> J2:5
m wires without an id are numbered W001, W002 and so on, by row
=== adapter
Signal,OEM Pin,TCU Pin,Wire Color
VCC,1,A,red
GND,2,,
SHLD,,-,
CAN,3,"B, C",
---
rows nwpxx
w2 W001: OEM-1 > TCU-A; colour red; circuit VCC
p2 OEM-1: circuit VCC
p2 TCU-A: circuit VCC
p3 OEM-2: circuit GND
x4A no cavity is given ~ write both cavities
x5A 'B, C' names several cavities ~ write one row for each wire
m wires without an id are numbered W001, W002 and so on, by row
"""


@pytest.mark.parametrize("case", lists.cases(ENDS), ids=lambda case: case.name)
def test_hand_layouts(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []
