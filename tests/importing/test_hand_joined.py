"""Pin tables that name wires, and the layouts at the edge of what they take: read by eye, and what they say below."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.importing import lists

LISTS = """\
=== joined_with_a_from_to_list
Wire,From,To
W1,J1:1,J2:1

Connector,Pin,Wire No.
J1,1,W1
J2,1,W1
J3,1,W2
J4,1,W2
---
rows nw.nppww
w2 W1: J1-1 > J2-1
w7 W2: J3-1 > J4-1; also 8
p5 J1-1: note Wire No.: W1
p6 J2-1: note Wire No.: W1
p7 J3-1: note Wire No.: W2
p8 J4-1: note Wire No.: W2
m a wire id that stands at two points of the pin tables is one wire between them
=== joined_what_both_ends_say
Connector,Pin,Wire No.,Signal,AWG,Color,Notes,Contact
J1,1,W1,A,22,,left,M39029-5
J2,1,W1,A,,red,right,
J1,2,W2,A,22,red,x,
J2,2,W2,B,22,RED,X,
J1,3,W3,A,22,,,
J2,3,W3,,,,,M39029-6
J1,4,W4,C,,,,
J1,5,W4,D,,,,
---
rows nwwwwwwww
w2 W1: J1-1 > J2-1; gauge 22 AWG; note left; Contact: M39029-5; right; colour red; circuit A; also 3
w4 W2: J1-2 > J2-2; gauge 22 AWG; colour red; note x; also 5
w6 W3: J1-3 > J2-3; gauge 22 AWG; note Contact: M39029-6; also 7
w8 W4: J1-4 > J1-5; also 9
p2 J1-1: contact M39029-5; circuit A
p3 J2-1: circuit A
p4 J1-2: circuit A
p5 J2-2: circuit B
p6 J1-3: circuit A
p7 J2-3: contact M39029-6
p8 J1-4: note Wire No.: W4; circuit C
p9 J1-5: note Wire No.: W4; circuit D
m a wire id that stands at two points of the pin tables is one wire between them
=== joined_at_the_same_cavity
Connector,Pin,Wire No.,AWG
J1,1,W1,22
J1,1,W1,20
GS1,,W2,22
GS1,,W2,22
GS2,,W3,22
J3,1,W3,20
---
rows nppxxxp
p2 J1-1: gauge 22 AWG; note Wire No.: W1; use unknown
p7 J3-1: gauge 20 AWG; note Wire No.: W3; use unknown
x5C the wire ends where it starts ~ correct one of the two rows
x4A the wire ends where it starts ~ write a row for the other end
x6A wire 'W3' has gauge 22 AWG at list.csv!D6, and 20 AWG here ~ write a row for the other end
v3C wire 'W1': wire 'W1' has gauge 22 AWG at list.csv!D2, and 20 AWG here ~ correct one of the two rows
v7C wire 'W3': wire 'W3' has gauge 22 AWG at list.csv!D6, and 20 AWG here ~ correct one of the two rows
=== joined_with_a_list_that_says_otherwise
Wire,From,To
W1,J1:1,J2:1
W2,J1:2,GS1
W1,J5:1,J 6:1

Connector,Pin,Wire No.
J1,1,W1
J9,1,W1
GS1,,W2
GS2,,W2
J 6,1,W1
---
rows nwww.nppwxp
w2 W1: J1-1 > J2-1
w3 W2: J1-2 > GS1
w4 W1_2: J5-1 > J_6-1; mark W1
p7 J1-1: note Wire No.: W1
p8 J9-1: note Wire No.: W1; use unknown
p11 J_6-1: note Wire No.: W1
x10A wire 'W2' stands at list.csv!A3, and does not end here ~ write a row for the other end
v8C wire 'W1': wire 'W1' stands at list.csv!A2, and does not end here ~ correct one of the two rows
m the id W1 stands in several rows: its second wire is called W1_2, marked W1
k GS1: grounds
= J_6: J 6
=== joined_many_single_ends
Connector,Pin,Wire No.
J1,1,W1
J1,2,W2
J1,3,W3
J1,4,W4
J1,5,W5
J1,6,W6
---
rows npppppp
p2 J1-1: note Wire No.: W1; use unknown
p3 J1-2: note Wire No.: W2; use unknown
p4 J1-3: note Wire No.: W3; use unknown
p5 J1-4: note Wire No.: W4; use unknown
p6 J1-5: note Wire No.: W5; use unknown
p7 J1-6: note Wire No.: W6; use unknown
m 6 wires have one end in this list, and only its cavity is taken: W1, W2, W3, W4, W5, ...
=== joined_five_single_ends
Connector,Pin,Wire No.
J1,1,W1
J1,2,W2
J1,3,W3
J1,4,W4
J1,5,W5
---
rows nppppp
p2 J1-1: note Wire No.: W1; use unknown
p3 J1-2: note Wire No.: W2; use unknown
p4 J1-3: note Wire No.: W3; use unknown
p5 J1-4: note Wire No.: W4; use unknown
p6 J1-5: note Wire No.: W5; use unknown
m 5 wires have one end in this list, and only its cavity is taken: W1, W2, W3, W4, W5
=== joined_leads_of_a_cavity
Connector,Pin,Signal,Wire 1,Wire 2,Color
J1,1,GND,W1,W2,red
J2,1,GND,W1,,red
J2,2,GND,W2,-,
J2,3,X,spare,n/c,
---
rows nwwwp
w2 W1: J1-1 > J2-1; colour red; note Wire 1: W1; circuit GND; also 3
w2 W2: J1-1 > J2-2; note Wire 1: W2; circuit GND; also 4
p2 J1-1: note Wire 1: W1; Wire 2: W2; colour red; circuit GND
p3 J2-1: circuit GND
p4 J2-2: circuit GND
p5 J2-3: note Wire 1: spare; Wire 2: n/c; circuit X
m a wire id that stands at two points of the pin tables is one wire between them
=== joined_studs_at_three_points
Connector,Pin,Wire No.
GS1,,W1
J1,1,W1
J1,2,W1
---
rows nxpp
p3 J1-1: note Wire No.: W1; use unknown
p4 J1-2: note Wire No.: W1; use unknown
x2A 'W1' stands at 3 points, and nothing says between which of them wires run ~ write a row for the other end
v2C wire 'W1': 'W1' stands at 3 points, and nothing says between which of them wires run ~ give each wire an id of i
v3C wire 'W1': 'W1' stands at 3 points, and nothing says between which of them wires run ~ give each wire an id of i
v4C wire 'W1': 'W1' stands at 3 points, and nothing says between which of them wires run ~ give each wire an id of i
=== joined_in_one_row
Connector,Pin,Wire 1,Wire 2
J1,1,W1,W1
---
rows np
p2 J1-1: note Wire 1: W1; Wire 2: W1; use unknown
v2C wire 'W1': 'W1' stands at 2 points, and nothing says between which of them wires run ~ give each wire an id of i
v2D wire 'W1': 'W1' stands at 2 points, and nothing says between which of them wires run ~ give each wire an id of i
=== joined_no_column_of_wires
Connector,Pin,ID,No
J1,1,A,1
J2,1,A,2
---
rows npp
p2 J1-1: note ID: A; use unknown
p3 J2-1: note ID: A; use unknown
=== two_pin_tables_of_one_wire_with_a_note
Connector,Pin,To,Wire No.,Length,Wire Type,Notes
J1,1,J2-1,W1,300 mm,M-1,
J2,1,J1-1,W1,,,far
J1,2,J2-2,W2,300 mm,,same
J2,2,J1-2,W2,310 mm,,same
J1,3,J2-3,W3,,M-1,same
J2,3,J1-3,W3,300 mm,m-1,same
---
rows nwwwxww
w2 W1: J1-1 > J2-1; length 300 mm; type M-1; note far; also 3
w4 W2: J1-2 > J2-2; length 300 mm; note same
w6 W3: J1-3 > J2-3; type M-1; note same; length 300 mm; also 7
x5A list.csv!D4 tells the same wire with length 300 mm, and not 310 mm ~ correct one
m a wire that two pin tables tell, each from its own end, is one wire
=== ranges_beside_a_blank
Connector,Pin,Signal
P7,1,A
P7,2-3,spare
P7,,x
P7,4,B
---
rows npsxp
p2 P7-1: circuit A
p3 P7-2: use spare; note spare
p3 P7-3: use spare; note spare
p5 P7-4: circuit B
x4A no cavity is given ~ write the cavity
m '2-3' of P7 is read as the cavities 2, 3
=== through_table_to_several_points
Pin,Source,Destination,Signal
1,J1-1 and J2-1,J3-1,A
---
rows nw
w2 W001: list-1 > J3-1; note Source: J1-1 and J2-1; circuit A
p2 list-1: circuit A
p2 J3-1: circuit A
v2B Source 'J1-1 and J2-1': no cavity is named: what is wired to this one is kept as a note ~ write it like J2-1
m wires without an id are numbered W001, W002 and so on, by row
=== adapter_that_is_none
Signal,Loom (x),Plug here
VCC,ninechars,1
GND,2,3
---
rows nxx
x2A a table without cavities or ends ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x3A a table without cavities or ends ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== adapter_of_eight_signs
Signal,OEMX,TCUX
VCC,eightsig,1
GND,2,3
---
rows nww
w2 W001: OEMX-eightsig > TCUX-1; circuit VCC
w3 W002: OEMX-2 > TCUX-3; circuit GND
p2 OEMX-eightsig: circuit VCC
p2 TCUX-1: circuit VCC
p3 OEMX-2: circuit GND
p3 TCUX-3: circuit GND
m wires without an id are numbered W001, W002 and so on, by row
=== adapter_of_three_words
Signal,Left,Right,Tail
VCC,1,2,3
---
rows nx
x2A a table without cavities or ends ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== adapter_with_a_blank_column
Signal,J1,J2
VCC,1,
GND,2,
---
rows nxx
x2A a table without cavities or ends ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
x3A a table without cavities or ends ~ put a head over the columns (From, Pin, To, Pin), or state it with --map
=== ranges_that_fit_before
Connector,Pin,Signal
P7,1-2,spare
P7,3,VCC
P8,5,GND
P8,6-7,unused
P9,1-2,spare
P9,4,VCC
P6,1,A
P6,2-3,spare
P6,3,B
---
rows nsppsxppxp
p2 P7-1: use spare; note spare
p2 P7-2: use spare; note spare
p3 P7-3: circuit VCC
p4 P8-5: circuit GND
p5 P8-6: use spare; note unused
p5 P8-7: use spare; note unused
p7 P9-4: circuit VCC
p8 P6-1: circuit A
p10 P6-3: circuit B
x6A '1-2' may be one cavity or a range ~ write one row for each cavity
x9A '2-3' may be one cavity or a range ~ write one row for each cavity
m '1-2' of P7 is read as the cavities 1, 2
m '6-7' of P8 is read as the cavities 6, 7
=== ranges_that_are_names
Connector,Pin,Signal
P7,1-2,spare
P7,3-3,VCC
P8,1-3,spare
P8,2-4,VCC
P9,1-3,spare
P9,1-4,VCC
---
rows nspxxsp
p2 P7-1-2: use spare; note spare
p3 P7-3-3: circuit VCC
p6 P9-1-3: use spare; note spare
p7 P9-1-4: circuit VCC
x4A '1-3' may be one cavity or a range ~ write one row for each cavity
x5A '2-4' may be one cavity or a range ~ write one row for each cavity
=== side_by_side_no_groups
Pin,Signal,Pin,Signal,Signal
1,A,2,B,C
---
rows np
p2 list-1: circuit A
p2 list-2: note Signal: C; circuit B
=== side_by_side_ranges
Pin,Signal,Pin,Signal
1,A,5,spare
2-4,spare,6-7,reserved
,,8,X
---
rows npsp
p2 list-1: circuit A
p2 list-5: use spare; note spare
p3 list-2: use spare; note spare
p3 list-3: use spare; note spare
p3 list-4: use spare; note spare
p3 list-6: use unknown; note reserved
p3 list-7: use unknown; note reserved
p4 list-8: circuit X
=== side_by_side_under_titles
Left J3 plug,,Right wing,
Pin,Signal,Pin,Signal
1,A,1,C
2,B,2,D
---
rows nnpp
p3 J3-1: circuit A
p3 Right_wing-1: circuit C
p4 J3-2: circuit B
p4 Right_wing-2: circuit D
= Right_wing: Right wing
=== through_table_named
OEM Pin,Source,Source Pin,Destination,Signal
1,J5,3,J2-1,A
2,N/C,,J2-2,B
3,J5,4,,C
---
rows nwww
w2 W001: J5-3 > OEM_from-1; circuit A
w2 W002: OEM_to-1 > J2-1; circuit A
w3 W003: OEM_to-2 > J2-2; circuit B
w4 W004: J5-4 > OEM_from-3; circuit C
p2 J5-3: circuit A
p2 OEM_from-1: circuit A
p2 OEM_to-1: circuit A
p2 J2-1: circuit A
p3 OEM_to-2: circuit B
p3 J2-2: circuit B
p4 J5-4: circuit C
p4 OEM_from-3: circuit C
m OEM is read as two mated halves: OEM_from on the source side, OEM_to on the other
m wires without an id are numbered W001, W002 and so on, by row
c OEM_from: mates OEM_to
=== half_table_of_a_mated_pair
Connector,Pin,Source,Destination
J5,1,P1-1,P2-1
J5,2,P1-2,
J5,3,,P2-3
---
rows nwww
w2 W001: P1-1 > J5_from-1
w2 W002: J5_to-1 > P2-1
w3 W003: P1-2 > J5_from-2
w4 W004: J5_to-3 > P2-3
m J5 is read as two mated halves: J5_from on the source side, J5_to on the other
m wires without an id are numbered W001, W002 and so on, by row
c J5_from: mates J5_to
"""


@pytest.mark.parametrize("case", lists.cases(LISTS), ids=lambda case: case.name)
def test_hand_joined(case: lists.Case, tmp_path: Path) -> None:
    assert lists.wrong(case, lists.read(case, tmp_path)) == []
