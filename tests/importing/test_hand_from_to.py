"""From-to lists, row by row: each list was read by eye, and what it says written below it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.importing import lists

LISTS = """\
=== plain
Wire,From,Pin,To,Pin,Gauge,Color,Length,Wire Type,Notes
W1,J1,1,J2,A,22 AWG,white,320 mm,M-1,see B
W2,J1,2,J2,B,20,red,12 in,,
---
rows nww
w2 W1: J1-1 > J2-A; gauge 22 AWG; colour white; length 320 mm; type M-1; note see B
w3 W2: J1-2 > J2-B; gauge 20 AWG; colour red; length 12 in
u list.csv!A1: from-to list: one row is one wire
u 'Wire' is id, 'From' is from, 'Pin' is from cavity, 'To' is to, 'Pin' is to cavity, 'Gauge' is gauge
m- wires without an id
c J1: -
c J2: -
=== no_ids
From,To,Pin
J1:1,J2,3
J1-2,J2,4
---
rows nww
w2 W001: J1-1 > J2-3
w3 W002: J1-2 > J2-4
m wires without an id are numbered W001, W002 and so on, by row
u 'From' is from, 'To' is to, 'Pin' is to cavity
=== ids_given_before
Wire,From,To
W002,J1:1,J2:1
,J1:2,J2:2
,J1:3,J2:3
---
rows nwww
w2 W002: J1-1 > J2-1
w3 W003: J1-2 > J2-2
w4 W004: J1-3 > J2-3
=== third_end
Wire,From,To,End 3
W1,J1:1,J2:1,J3:1
W2,J1:2,J2:2,-
W3,J1:3,J2:3,
---
rows nxww
w3 W2: J1-2 > J2-2
w4 W3: J1-3 > J2-3
x2A 'J3:1' is a third end, and nothing says between which of them wires run
=== by_way_of
Wire,From,To,Via
W1,J1:1,J2:1,P7-3
W2,J1:2,J2:2,SP3
W3,J1:3,J2:3,left loom
W4,J1:4,J2:4,
W5,J1:5,J2:5,P7-3 / P8-3
---
rows nxxwwx
w4 W3: J1-3 > J2-3; note Via: left loom
w5 W4: J1-4 > J2-4
x2A 'P7-3' under 'Via' is another point, and nothing says what is wired to it
x3A 'SP3' under 'Via' is another point
x6A 'P7-3 / P8-3' under 'Via' is another point
v1D column 'Via': what it holds is kept as a note ~ name it in a map
u columns not taken: 'Via'
=== quantities
Wire,From,To,Qty,Price
W1,J1:1,J2:1,1,2
W2,J1:2,J2:2,2,10
W3,J1:3,J2:3,9,
W4,J1:4,J2:4,10,
W5,J1:5,J2:5,,
W6,J1:6,J2:6,0,
---
rows nwwwwww
w2 W1: J1-1 > J2-1
w3 W2: J1-2 > J2-2
w4 W3: J1-3 > J2-3
w5 W4: J1-4 > J2-4
w6 W5: J1-5 > J2-5
w7 W6: J1-6 > J2-6
v3D Qty '2': more than one wire in this row, and one is taken ~ write one row for each wire
v4D Qty '9': more than one
v5D Qty '10': more than one
u columns not taken: 'Qty', 'Price'
=== open_ends
Wire,From,Pin,To,Pin,Signal
W1,J1,1,J2,1,A
W2,J1,2,,,N/C
W3,J1,3,N/C,,
W4,J1,4,,,
W5,,,J2,5,B
W6,J1,6,spare,,C
W7,J1,,,,D
W8,J1,8,J9,,E
---
rows nwsspppxx
w2 W1: J1-1 > J2-1; circuit A
p2 J1-1: circuit A
p2 J2-1: circuit A
p3 J1-2: note Wire: W2; N/C; use spare
p4 J1-3: note Wire: W3; N/C; use spare
p5 J1-4: note Wire: W4; use unknown
p6 J2-5: note Wire: W5; circuit B
p7 J1-6: note Wire: W6; circuit C
x8A no cavity is given at 'J1' ~ write the cavity; a splice is called SP1
x9A no cavity is given at 'J9'
=== a_spare_signal_on_a_wire
Wire,From,To,Signal
W1,J1:1,J2:1,spare
W2,J1:2,J2:2,CAN H
---
rows nww
w2 W1: J1-1 > J2-1
w3 W2: J1-2 > J2-2; circuit CAN H
p3 J1-2: circuit CAN H
p3 J2-2: circuit CAN H
=== dashes
Wire,From,Pin,To,Pin
W1,B1,+,J2,1
W2,B1,-,J2,2
W3,J1:3,-,J2,3
W4,J1:4,N/A,J2,4
W5,J1,--,J2,5
---
rows nwwwwx
w2 W1: B1-+ > J2-1
w3 W2: B1-- > J2-2
w4 W3: J1-3 > J2-3
w5 W4: J1-4 > J2-4
x6A no cavity is given at 'J1'
=== several_cavities
Wire,From,Pin,To,Pin
W1,J1,"1,2",J2,1
W2,J1:3,3,J2,2
W3,J1,pin 4,J2,cavity 3
---
rows nxxw
w4 W3: J1-4 > J2-3
x2A '1,2' names several cavities ~ write one row for each wire
x3A 'J1:3' holds a cavity, and '3' stands beside it ~ keep one of them
=== two_names_of_one_end
Wire,From Device,From Connector,From Pin,To Device,To Connector,To Pin
W1,ECU,J1,1,PDM,J1,1
W2,,,2,,,2
W3,,J2,3,,,3
W4,AUX,,4,PDM,J1,4
---
rows nwwww
w2 W1: ECU_J1-1 > PDM_J1-1
w3 W2: ECU_J1-2 > PDM_J1-2
w4 W3: ECU_J2-3 > PDM_J1-3
w5 W4: AUX-4 > PDM_J1-4
= ECU_J1: ECU J1
= PDM_J1: PDM J1
= ECU_J2: ECU J2
m a blank 'From Device' beside a cavity means the one above it
m 'From Device' and 'From Connector' name one connector together
=== a_blank_is_no_name_without_a_cavity
Wire,From,Pin,To,Pin
W1,J1,1,J2,1
W2,,2,J2,2
W3,,,J2,3
---
rows nwwp
w2 W1: J1-1 > J2-1
w3 W2: J1-2 > J2-2
p4 J2-3: note Wire: W3; use unknown
m a blank 'From' beside a cavity means the one above it
=== terminals_beside_ends
Wire,From,Terminal,To,Terminal
W1,P1:1,M39029,P2:1,M39030
W2,P1:2,M39029,P2:2,
---
rows nww
w2 W1: P1-1 > P2-1; note Terminal: M39029; Terminal: M39030
w3 W2: P1-2 > P2-2; note Terminal: M39029
=== terminals_that_are_cavities
Wire,From,From Terminal,To,To Terminal
W1,P1,1,P2,A
W2,P1,2,P2,B
---
rows nww
w2 W1: P1-1 > P2-A
w3 W2: P1-2 > P2-B
=== revisions
Wire,From,To,Rev
W1,J1:1,J2:1,A
W2,J1:2,J2:2,B
---
rows nww
w2 W1: J1-1 > J2-1
w3 W2: J1-2 > J2-2
v1D rows of several revisions stand in this list, and all of them are taken ~ keep the rows that hold
=== one_revision
Wire,From,To,Rev,Date
W1,J1:1,J2:1,A,1.2.26
W2,J1:2,J2:2,A,1.3.26
---
rows nww
w2 W1: J1-1 > J2-1
w3 W2: J1-2 > J2-2
=== sides_by_place
Connector,Pin,Connector,Pin
J1,1,J2,1
J1,2,J2,2
---
rows nww
w2 W001: J1-1 > J2-1
w3 W002: J1-2 > J2-2
=== cavities_called_contacts
Wire,From,Contact,To,Contact
W1,J1,1,J2,4
W2,J1,2,J2,5
---
rows nww
w2 W1: J1-1 > J2-4
w3 W2: J1-2 > J2-5
=== a_number_of_the_row_called_item
Item,Conn A,Pin A,Conn B,Pin B
1,J1,1,J2,1
2,J1,2,J2,2
---
rows nww
w2 1: J1-1 > J2-1
w3 2: J1-2 > J2-2
=== splices_and_studs
Wire,From,To
W1,J1:1,SP1
W2,GS1,J2:1
W3,SP1,GND
W4,CB3:load,J1:2
W5,CB4,J1:3
W6,CB5:LINE,CB6-x
---
rows nwwwwxw
w2 W1: J1-1 > SP1
w3 W2: GS1 > J2-1
w4 W3: SP1 > GND
w5 W4: CB3-load > J1-2
w7 W6: CB5-line > CB6-x
k SP1: splices
k GS1: grounds
k GND: grounds
k CB3: breakers
k CB5: breakers
c CB6: -
x6A no cavity is given at 'CB4' ~ write its terminal as the cavity: load, or line
"""


@pytest.mark.parametrize("case", lists.cases(LISTS), ids=lambda case: case.name)
def test_from_to(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []
