"""Layouts other than plain pin tables and from-to lists: each was read by eye, and what it says written below it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.importing import lists

ACROSS = """\
=== adapter_of_three
Signal,J1,J2,J3
GND,1,2,3
VCC,4,5,
,6,7,8
CAN H,9,n/c,
---
rows npwxp
w3 W001: J1-4 > J2-5; circuit VCC
p2 J1-1: circuit GND; note of a net list
p2 J2-2: circuit GND; note of a net list
p2 J3-3: circuit GND; note of a net list
p3 J1-4: circuit VCC
p3 J2-5: circuit VCC
p5 J1-9: circuit CAN H
x4B this row joins more than two cavities and has no name ~ give it a name
m a net of more than two ends gives the pin map only: between which of them wires run is not told
m wires without an id are numbered W001, W002 and so on, by row
=== adapter_without_names
Wire,Signal,Pin,OEM Pin
W1,VCC,1,4
W2,GND,2,5
---
rows nww
w2 W1: list-1 > OEM-4; circuit VCC
w3 W2: list-2 > OEM-5; circuit GND
p2 list-1: circuit VCC
p2 OEM-4: circuit VCC
p3 list-2: circuit GND
p3 OEM-5: circuit GND
=== side_by_side
Pin,Signal,Pin,Signal
1,VCC,3,CAN H
2,GND,4,spare
,,5,N/C
6,,7,X
,Y,8,Z
---
rows nppspx
p2 list-1: circuit VCC
p2 list-3: circuit CAN H
p3 list-2: circuit GND
p3 list-4: use spare; note spare
p4 list-5: use spare; note N/C
p5 list-6: use unknown
p5 list-7: circuit X
x6B no cavity is given beside a signal ~ write the cavity
=== side_by_side_of_two .md
# Loom

J1 | | J2 |
Pin | Signal | Pin | Signal |
----|----|----|----|
1 | VCC | 1 | CAN H |
2 | GND | 2 | spare |
---
rows n.nn.pp
p6 J1-1: circuit VCC
p6 J2-1: circuit CAN H
p7 J1-2: circuit GND
p7 J2-2: use spare; note spare
=== side_by_side_that_clash
Pin,Signal,Pin,Signal
1,VCC,1,CAN H
2,GND,2,CAN L
---
rows nxx
x2A cavity '2' stands in two groups of columns, and nothing says which connector each is ~ write the connector over
x3A cavity '2' stands in two groups of columns, and nothing says which connector each is ~ write the connector over
=== side_by_side_signal_first
Signal,Pin,Signal,Pin
VCC,1,CAN H,3
GND,2,CAN L,4
---
rows npp
p2 list-1: circuit VCC
p2 list-3: circuit CAN H
p3 list-2: circuit GND
p3 list-4: circuit CAN L
=== side_by_side_named
OEM Pin,Signal,TCU Pin,Function
1,VCC,1,CAN H
2,spare,2,N/C
---
rows nps
p2 OEM-1: circuit VCC
p2 TCU-1: circuit CAN H
p3 OEM-2: use spare; note spare
p3 TCU-2: use spare; note N/C
=== through_table
Pin,Signal,Source,Destination,Wire
1,VCC,PS1:+V,J2-1,W1
2,GND,PS1:-V,,W2
3,X,left loom,J2-3,W3
4,Y,N/C,somewhere,
5,spare,,,
6-8,spare,,,
9,Z,GS1,,
"10, 11",Q,J3-1,,
,V,J3-2,,
---
rows nwwwpsswxx
w2 W001: PS1-+V > list_from-1; circuit VCC
w2 W002: list_to-1 > J2-1; circuit VCC
w3 W2: PS1--V > list_from-2; circuit GND
w4 W3: list_to-3 > J2-3; note Source: left loom; circuit X
w8 W005: GS1 > list_from-9; circuit Z
p2 PS1-+V: circuit VCC
p2 list_from-1: circuit VCC
p2 list_to-1: circuit VCC
p2 J2-1: circuit VCC
p3 PS1--V: circuit GND
p3 list_from-2: circuit GND
p4 list_to-3: circuit X
p4 J2-3: circuit X
p5 list-4: circuit Y; note Destination: somewhere
p6 list-5: use spare; note spare
p7 list-6: use spare; note spare
p7 list-7: use spare; note spare
p7 list-8: use spare; note spare
p8 list_from-9: circuit Z
x9A '10, 11' names several cavities ~ write one row for each wire
x10B no cavity is given ~ write the cavity
v4C Source 'left loom': no cavity is named: what is wired to this one is kept as a note ~ write it like J2-1
v5D Destination 'somewhere': no cavity is named: what is wired to this one is kept as a note ~ write it like J2-1
m list is read as two mated halves: list_from on the source side, list_to on the other
m wires without an id are numbered W001, W002 and so on, by row
c list_from: mates list_to
k GS1: grounds
=== through_table_with_far_pins
Connector,Pin,To Connector,To Pin,Signal,AWG
P7,1,J2,A,VCC,22
P7,2,J2,B,GND,20
P7,3,,,spare,
P7,4,J2,,X,
J2,A,P7,1,VCC,22
J2,B,P7,2,GND,22
---
rows nwwspwx
w2 W001: P7-1 > J2-A; gauge 22 AWG; circuit VCC; also 6
w3 W002: P7-2 > J2-B; gauge 20 AWG; circuit GND
p2 P7-1: circuit VCC
p2 J2-A: circuit VCC
p3 P7-2: circuit GND
p3 J2-B: circuit GND
p4 P7-3: use spare; note spare
p5 P7-4: circuit X; note To Connector: J2
x7A list.csv!A3 tells the same wire with gauge 20 AWG, and not 22 AWG ~ correct one
v5C To Connector 'J2': no cavity is named: what is wired to this one is kept as a note ~ write it like J2-1
m wires without an id are numbered W001, W002 and so on, by row
m a wire that two pin tables tell, each from its own end, is one wire
=== through_table_told_from_both_ends
Connector,Pin,To,Signal,AWG,Color,Wire,Notes
P7,1,J2-1,VCC,22,red,W1,a
J2,1,P7-1,VCC,,,W1,b
P7,2,J2-2,GND,,,W2,
J2,2,P7-2,MASS,,,W2,
P7,3,J2-3,X,22,,W3,
J2,3,P7-3,X,22,blue,W4,
P7,4,J2-4,,,,,c
J2,4,P7-4,,22,,W9,c
---
rows nwwwxwwww
w2 W1: P7-1 > J2-1; gauge 22 AWG; colour red; note a; b; circuit VCC; also 3
w4 W2: P7-2 > J2-2; circuit GND
w6 W3: P7-3 > J2-3; gauge 22 AWG; circuit X
w7 W4: J2-3 > P7-3; gauge 22 AWG; colour blue; circuit X
w8 W005: P7-4 > J2-4; note c; gauge 22 AWG; also 9
p2 P7-1: circuit VCC
p2 J2-1: circuit VCC
p4 P7-2: circuit GND
p4 J2-2: circuit GND
p6 P7-3: circuit X
p6 J2-3: circuit X
x5A list.csv!G4 tells the same wire as 'GND', and not 'MASS' ~ correct one
m a wire that two pin tables tell, each from its own end, is one wire
m wires without an id are numbered W001, W002 and so on, by row
=== pins_across
Sensor,Pin 1,Pin 2,Pin 3,Notes,Qty
Fuel probe,VCC,GND,signal out,left,2
Oil probe,VCC,-,spare,,
,VCC,GND,,,
Empty one,,-,,,
Third,J1-1,GND,,,
Spares,spare,n/c,,,
---
rows nppxxxs
p2 Fuel_probe-1: circuit VCC; note Notes: left; Qty: 2
p2 Fuel_probe-2: circuit GND
p2 Fuel_probe-3: circuit signal out
p3 Oil_probe-1: circuit VCC
p3 Oil_probe-3: use spare; note spare
p7 Spares-1: use spare; note spare
p7 Spares-2: use spare; note n/c
x4B this row does not say which plug it is about ~ write its name
x5A no cavity of this plug is told ~ write what each pin carries, or spare
x6A 'J1-1' is the end of a wire ~ write a from-to list: From, Pin, To, Pin
= Fuel_probe: Fuel probe
= Oil_probe: Oil probe
=== item_numbers_in_a_pin_table
Item,Connector,Pin,Signal
1,P7,1,VCC
2,P7,2,GND
---
rows npp
p2 P7-1: note Item: 1; circuit VCC
p3 P7-2: note Item: 2; circuit GND
=== item_numbers_in_a_half_table
Item,Pin,To Connector,To Pin
1,1,J2,A
2,2,J2,B
---
rows nww
w2 1: list-1 > J2-A
w3 2: list-2 > J2-B
=== notes_that_go_on .md
| Pin | Signal | Notes |
|---|---|---|
| 1 | VCC | first |
| | | and more |
| | X | |
| 2 | GND | |
| | | of two |
---
rows n.pnxpn
p3 list-1: note first; and more; circuit VCC
p6 list-2: circuit GND; note of two
x5:5 no cavity is given ~ write the cavity
m a row with nothing but a note goes on with the note of the row above
=== units_below_the_heads .md
| From | To | Length | Size |
|---|---|---|---|
| | | (mm) | AWG |
| J1:1 | J2:1 | 300 | 22 |
---
rows n.xw
w4 W001: J1-1 > J2-1; note Length: 300; Size: 22
x3:7 one end of the wire is not given ~ write both ends
v4:17 Length '300': a number without a unit ~ write it like 320 mm or 12 in
v4:23 Size '22': a number without a unit: AWG or mm2 ~ write it like 22 AWG or 0.35 mm2, or state it with --map
m wires without an id are numbered W001, W002 and so on, by row
=== units_below_the_heads_of_a_sheet
From,To,Length,Gauge,Notes
,,mm,mm2,
J1:1,J2:1,300,1,a
---
rows nnw
w3 W001: J1-1 > J2-1; length 300 mm; gauge 1 mm2; note a
m wires without an id are numbered W001, W002 and so on, by row
=== crosses
Circuit,P1-1,P1-2,P2-1,AWG,Note
VCC,x,,X,22,main
GND,,*,,,
CAN,,,,,
,x,,,,
---
rows nppxx
p2 P1-1: circuit VCC; note gauge 22 AWG; main
p2 P2-1: circuit VCC; note gauge 22 AWG; main
p3 P1-2: circuit GND
x4A no cavity of this circuit is crossed ~ put a cross under each cavity that carries it
x5B this row names no circuit ~ give it a name
m a table of crosses gives the pin map only: between which of the cavities wires run is not told
"""


@pytest.mark.parametrize("case", lists.cases(ACROSS), ids=lambda case: case.name)
def test_hand_layouts(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []
