"""Pin tables of every sort, row by row: each was read by eye, and what it says written below it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.importing import lists

PIN_TABLE = """\
=== pin_table_of_one_connector
Connector,Pin,Signal,Wire Color,AWG,Notes
P7,1,VCC,red,22,fused
P7,2,N/C,,,
P7,3,Reserved,,,
,4,,,,
P8,1,GND,,,old
P8,,GND,,,
---
rows npssppx
p2 P7-1: gauge 22 AWG; note fused; colour red; circuit VCC
p3 P7-2: use spare; note N/C
p4 P7-3: use unknown; note Reserved
p5 P7-4: use unknown
p6 P8-1: note old; circuit GND
x7A no cavity is given ~ write the cavity
m a blank 'Connector' beside a cavity means the one above it
=== pin_table_named_by_its_heading .md
# Plug P5

| Pin | Signal |
|-----|--------|
| 1 | VCC |
| 2 | GND |

# Right wing

| Pin | Signal |
|-----|--------|
| A | CAN H |
---
rows n.n.pp.n.n.p
p5 P5-1: circuit VCC
p6 P5-2: circuit GND
p12 Right_wing-A: circuit CAN H
u list.md:3:3: pin table: one row is one cavity; connector P5 (from the heading 'Plug P5')
u list.md:10:3: pin table: one row is one cavity; connector Right wing (from the heading 'Right wing')
= Right_wing: Right wing
=== pin_table_ranges
Connector,Pin,Signal
P7,1,VCC
P7,2-4,spare
P7,5,GND
P8,1-1,A
P8,1-2,B
P8,2-1,C
P9,1-3,VCC
P9,4,GND
P6,3-5,N/C
P6,9,GND
---
rows npsppppxpxp
p2 P7-1: circuit VCC
p3 P7-2: use spare; note spare
p3 P7-3: use spare; note spare
p3 P7-4: use spare; note spare
p4 P7-5: circuit GND
p5 P8-1-1: circuit A
p6 P8-1-2: circuit B
p7 P8-2-1: circuit C
p9 P9-4: circuit GND
p11 P6-9: circuit GND
x8A '1-3' may be one cavity or a range ~ write one row for each cavity
x10A '3-5' may be one cavity or a range ~ write one row for each cavity
m '2-4' of P7 is read as the cavities 2, 3, 4
=== pin_table_several_cavities
Connector,Pin,Signal
P7,"1, 2 and 3",GND
P7,A/B,X
P7,7 (SHLD),
P7,8 (CAN H),CAN
P7,9 (old),spare
P7,10(x),
---
rows npxppsp
p2 P7-1: circuit GND
p2 P7-2: circuit GND
p2 P7-3: circuit GND
p4 P7-7: circuit SHLD
p5 P7-8: circuit CAN; note CAN H
p6 P7-9: use spare; note spare; old
p7 P7-10: circuit x
x3A 'A/B' may be one cavity or two ~ write one row for each cavity
m '1, 2 and 3' of P7 is read as the cavities 1, 2, 3
=== pin_table_said_twice
Connector,Pin,Signal
P7,1,VCC
P7,1,VCC
P7,1,GND
P7,2,spare
P7,2,GND
---
rows nppxsx
p2 P7-1: circuit VCC
p5 P7-2: use spare; note spare
x4A cavity 1 of P7 stands at list.csv!B2 already ~ keep one of the two rows
x6A cavity 2 of P7 stands at list.csv!B5 already ~ keep one of the two rows
=== pin_table_wires_that_meet
Connector,Pin,Wire,Wire Color,AWG
P7,1,W1,red,22
P8,A,W1,,
P7,2,W2,white,22
P8,B,W2,blue,22
P7,3,W3,,
P7,4,W4,,
P8,4,W4,,
P9,4,W4,,
P7,5,N/C,,
P8,6,W6,red,20
P9,6,W6,red,
---
rows nwwpppppppww
w2 W1: P7-1 > P8-A; colour red; gauge 22 AWG; also 3
w11 W6: P8-6 > P9-6; colour red; gauge 20 AWG; also 12
p2 P7-1: -
p3 P8-A: note Wire: W1
p4 P7-2: gauge 22 AWG; note Wire: W2; colour white; use unknown
p5 P8-B: gauge 22 AWG; note Wire: W2; colour blue; use unknown
p6 P7-3: note Wire: W3; use unknown
p7 P7-4: note Wire: W4; use unknown
p8 P8-4: note Wire: W4; use unknown
p9 P9-4: note Wire: W4; use unknown
p10 P7-5: note Wire: N/C; use unknown
p11 P8-6: -
p12 P9-6: -
v5C wire 'W2': wire 'W2' has colour white at list.csv!D4, and blue here ~ correct one of the two rows
v7C wire 'W4': 'W4' stands at 3 points, and nothing says between which of them wires run ~ give each wire an id of i
v8C wire 'W4': 'W4' stands at 3 points, and nothing says between which of them wires run ~ give each wire an id of i
v9C wire 'W4': 'W4' stands at 3 points, and nothing says between which of them wires run ~ give each wire an id of i
m a wire id that stands at two points of the pin tables is one wire between them
m 1 wires have one end in this list, and only its cavity is taken: W3
=== pin_table_studs_of_wires
Connector,Pin,Wire No.,Function
P7,1,W1,GND
GS1,,W1,
GS2,,W9,
SP3,,,
P8,,W3,
---
rows nwwxxx
w2 W1: P7-1 > GS1; also 3
p2 P7-1: note Wire No.: W1; circuit GND
x5A no cavity is given ~ write the cavity
x6A no cavity is given ~ write the cavity
x4A wire 'W9' has no other end in this list ~ write a row for the other end
m a wire id that stands at two points of the pin tables is one wire between them
m 1 wires have one end in this list, and only its cavity is taken: W9
k GS1: grounds
=== pin_table_without_a_connector
Pin,Signal
1,VCC
2,GND
---
rows npp
p2 list-1: circuit VCC
p3 list-2: circuit GND
u list.csv!A1: pin table: one row is one cavity; connector list (from the name of the file)
=== pin_table_of_a_relay
Connector,Pin,Signal
K1,1,COM
K1,2,NO
K1,3,NC
---
rows nppp
p2 K1-1: circuit COM
p3 K1-2: circuit NO
p4 K1-3: circuit NC
=== pin_table_contacts
Connector,Pin,Signal,Contact,Colour,Length,Wire Type,Status,Fuse
P7,1,A,M39029-5,red,300 mm,M5,ok,5 A
P7,2,B,#16,,,,retired,
P7,3,C,22D,,,,,
P7,4,D,12345,,,,,
P7,5,E,AB CD1,,,,,
---
rows nprppp
p2 P7-1: note Contact: M39029-5; Status: ok; Fuse: 5 A; colour red; length 300 mm; type M5; contact M39029-5; circuit A
p4 P7-3: note Contact: 22D; circuit C
p5 P7-4: note Contact: 12345; contact 12345; circuit D
p6 P7-5: note Contact: AB CD1; circuit E
r3A the row calls itself retired
"""


@pytest.mark.parametrize("case", lists.cases(PIN_TABLE), ids=lambda case: case.name)
def test_hand_pin_tables(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []
