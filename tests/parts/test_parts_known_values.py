"""Values a person would look up first, each against the document and page named beside it.

The expected numbers were typed from the pages, not taken from the data files.
"""

from __future__ import annotations

import pytest

from harnesscheck.parts import Part, open_drawer
from harnesscheck.source import Status
from harnesscheck.units import Gauge, Range

DRAWER = open_drawer()
INCH = 0.0254
LBF = 4.4482216152605
FT1000 = 304.8


def _part(kind: str, number: str) -> Part:
    part = DRAWER.get(kind, number)
    assert part is not None, f"{kind} {number}"
    return part


# 38999 series catalogue (manufacturer reproduction) p18: size, A, mV, well diameter in, well depth in, pin, sockets.
CONTACTS = [
    ("22D", 5, 73, 0.0345, 0.141, "M39029/58-360", "M39029/56-348", "M39029/57-354", "MS27488-22-2"),
    ("22M", 3, 45, 0.028, 0.141, "M39029/58-361", "M39029/56-349", "M39029/57-355", "MS27488-22-2"),
    ("22", 5, 73, 0.0365, 0.141, "M39029/58-362", "M39029/56-350", "M39029/57-356", "MS27488-22-2"),
    ("20", 7.5, 55, 0.047, 0.209, "M39029/58-363", "M39029/56-351", "M39029/57-357", "MS27488-20-2"),
    ("16", 13, 49, 0.067, 0.209, "M39029/58-364", "M39029/56-352", "M39029/57-358", "MS27488-16-2"),
    ("12", 23, 42, 0.100, 0.209, "M39029/58-365", "M39029/56-353", "M39029/57-359", "MS27488-12-2"),
]


@pytest.mark.parametrize(("size", "amps", "mv", "bore", "depth", "pin", "one", "two", "plug"), CONTACTS)
def test_contacts(
    size: str, amps: float, mv: float, bore: float, depth: float, pin: str, one: str, two: str, plug: str
) -> None:
    for number, gender in ((pin, "pin"), (one, "socket"), (two, "socket")):
        part = _part("contact", number)
        assert (part.text("gender"), part.text("size")) == (gender, size)
        assert part.quantity("rated current") == pytest.approx(amps)
        assert part.quantity("drop") == pytest.approx(mv / 1000)
        assert part.quantity("well diameter") == pytest.approx(bore * INCH)
        assert part.quantity("well depth") == pytest.approx(depth * INCH)
        for field in ("gender", "size", "family", "rated current", "drop", "well diameter", "well depth"):
            assert part.facts[field].source.status is Status.CONFIRMED, field
            assert part.facts[field].source.paragraph == "p18"
    assert "38999-II" not in (_part("contact", one).items("family") or ())
    assert _part("contact", two).items("family") == ("38999-II",)
    assert _part("contact size", size).text("sealing plug") == plug


def test_the_gauge_range_of_22d_is_recalled_and_the_disagreement_is_kept() -> None:
    """Recalled 28 to 22 AWG; one third-party list stops at 24 AWG. Neither is a published page, so neither is firm."""
    size = _part("contact size", "22D")
    assert [(fact.value, fact.source.status) for fact in size.all("gauge")] == [
        ("28 AWG to 24 AWG", Status.SECOND_HAND),
        ("28 AWG to 22 AWG", Status.MEMORY),
    ]
    pin = _part("contact", "M39029/58-360")
    assert pin.gauge_range() == (Gauge(awg=28), Gauge(awg=22))
    assert not pin.facts["gauge"].firm and "24 AWG" in (pin.text("gauge note") or "")


def test_removal_tools_of_22d_disagree_and_both_are_kept() -> None:
    values = [(fact.value, fact.source.status) for fact in _part("contact", "M39029/58-360").all("removal tool")]
    assert values == [(("M81969/8-02",), Status.SECOND_HAND), (("M81969/14-01",), Status.MEMORY)]


@pytest.mark.parametrize(("number", "gender"), [("M39029/63-368", "socket"), ("M39029/64-369", "pin")])
def test_d_sub_contacts_are_second_hand_or_recalled(number: str, gender: str) -> None:
    """Gender and frame from training notes (third party); size, family, wire range and selector recalled."""
    part = _part("contact", number)
    assert part.text("gender") == gender and part.items("family") == ("D-sub",)
    assert {fact.source.status for fact in part.facts.values()} == {Status.SECOND_HAND, Status.MEMORY}
    assert part.facts["gauge"].source.status is Status.MEMORY
    assert "selector" in part.unknown


# Same catalogue p6 to p8: arrangement, count by size, rating, series III code, series II name.
INSERTS = [
    ("9-35", {"22D": 6}, "M", "A35", "8-35"),
    ("9-98", {"20": 3}, "I", "A98", "8-98"),
    ("11-35", {"22D": 13}, "M", "B35", "10-35"),
    ("11-98", {"20": 6}, "I", "B98", "10-98"),
    ("11-99", {"20": 7}, "I", "B99", "10-99"),
    ("13-35", {"22D": 22}, "M", "C35", "12-35"),
    ("13-98", {"20": 10}, "I", "C98", "12-98"),
    ("15-35", {"22D": 37}, "M", "D35", "14-35"),
    ("15-15", {"20": 14, "16": 1}, "I", "D15", "14-15"),
    ("17-35", {"22D": 55}, "M", "E35", "16-35"),
    ("23-35", {"22D": 100}, "M", "H35", "22-35"),
]


@pytest.mark.parametrize(("number", "sizes", "rating", "code", "series_two"), INSERTS)
def test_inserts(number: str, sizes: dict[str, int], rating: str, code: str, series_two: str) -> None:
    part = _part("insert", number)
    assert part.counts("sizes") == sizes and part.whole("contacts") == sum(sizes.values())
    assert (part.text("service rating"), part.text("code"), part.text("series II")) == (rating, code, series_two)
    assert {fact.source.status for fact in part.facts.values()} == {Status.CONFIRMED}


def test_cavity_names() -> None:
    """Same catalogue p10 and p11, as printed on the faces."""
    assert _part("insert", "13-98").items("cavities") == tuple("ABCDEFGHJK")
    assert _part("insert", "17-26").items("cavities") == tuple("ABCDEFGHJKLMNPRSTUVWXYZabc")
    assert (_part("insert", "13-35").items("cavities") or ())[-1] == "22"


def test_face_view_of_9_35() -> None:
    """Same catalogue p10, measured on the drawing: 6 stands in the middle, 1 and 5 at the top, 3 at the bottom."""
    view = _part("face view", "9-35")
    assert view.point("positions", "6") == pytest.approx((0, 0), abs=0.05)
    assert (view.point("positions", "3") or (0, 0))[1] < -0.5
    assert (view.point("positions", "1") or (0, 0))[0] > 0.3 and (view.point("positions", "5") or (0, 0))[0] < -0.2
    assert view.point("positions", "7") is None


# D-sub row and numbering page (third party).
@pytest.mark.parametrize(
    ("number", "rows"),
    [("DE-9", (5, 4)), ("DA-15", (8, 7)), ("DB-25", (13, 12)), ("DC-37", (19, 18)), ("DD-50", (17, 16, 17)),
     ("DE-15HD", (5, 5, 5)), ("DA-26HD", (9, 9, 8)), ("DB-44HD", (15, 15, 14)), ("DC-62HD", (21, 21, 20)),
     ("DD-78HD", (20, 19, 20, 19))],
)  # fmt: skip
def test_d_sub_rows(number: str, rows: tuple[int, ...]) -> None:
    part = _part("insert", number)
    assert part.value("rows") == rows
    assert part.items("cavities") == tuple(str(name) for name in range(1, sum(rows) + 1))
    assert part.facts["cavities"].source.status is Status.SECOND_HAND
    assert part.facts["cavity size"].source.status is Status.MEMORY


def test_d_sub_pitch_disagreement_is_kept() -> None:
    """2.77 mm on footprints, 2.74 mm on a trade page (both third party); DC-37 flange 69.5, 69.4, recalled 69.32 mm."""
    assert [fact.value for fact in _part("insert", "DB-25").all("pitch")] == ["2.77 mm", "2.74 mm"]
    assert [fact.value for fact in _part("insert", "DC-37").all("flange length")] == ["69.5 mm", "69.4 mm", "69.32 mm"]


def test_service_ratings() -> None:
    """Same catalogue p18, sea level: M 400 V ac, 500 V dc, 1300 V test; II 900, 1250, 2300."""
    rows = {name: _part("service rating", name) for name in ("M", "N", "I", "II")}
    assert [(r.quantity("ac"), r.quantity("dc"), r.quantity("test")) for r in rows.values()] == [
        (400, 500, 1300), (300, 450, 1000), (600, 850, 1800), (900, 1250, 2300),
    ]  # fmt: skip


def test_key_angles_of_the_normal_key() -> None:
    """Same catalogue p27: shell 9 105/140/215/265; 11 to 15 95/141/208/236; 17 and up 80/142/196/293 degrees."""
    expected = {
        "9": (105, 140, 215, 265),
        "13": (95, 141, 208, 236),
        "19": (80, 142, 196, 293),
        "25": (80, 142, 196, 293),
    }
    for shell, angles in expected.items():
        value = _part("keying", f"38999-III-{shell}-N").value("angles")
        assert isinstance(value, dict) and tuple(value.values()) == angles, shell


def test_plug_diameters() -> None:
    """Same catalogue p29: greatest /26 plug diameters 21.8, 25.0, 29.4, 32.5, 35.7, 38.5, 41.7, 44.9, 48.0 mm."""
    printed = (21.8, 25.0, 29.4, 32.5, 35.7, 38.5, 41.7, 44.9, 48.0)
    for size, diameter in zip((9, 11, 13, 15, 17, 19, 21, 23, 25), printed, strict=True):
        shell = _part("shell", f"38999-III-{size}")
        assert shell.quantity("plug diameter") == pytest.approx(diameter / 1000, abs=0.05e-3)


# IPC/WHMA-A-620B Table 19-12 (reproduced in a test report), lbf: machined, nickel wire, splice, stamped or terminal.
PULL = [
    (28, 3, 2, 2, 2), (26, 5, 3, 3, 7), (24, 8, 6, 5, 10), (22, 12, 8, 8, 15), (20, 20, 19, 13, 19),
    (18, 32, None, 20, 38), (16, 50, 37, 30, 50), (14, 70, 60, 50, 70), (12, 110, 100, 70, 110),
]  # fmt: skip


@pytest.mark.parametrize(("size", "machined", "nickel", "splice", "stamped"), PULL)
def test_pull_forces(size: int, machined: float, nickel: float | None, splice: float, stamped: float) -> None:
    row = _part("pull test", f"{size} AWG")
    assert row.quantity("machined contact") == pytest.approx(machined * LBF)
    assert row.quantity("machined contact nickel wire") == (None if nickel is None else pytest.approx(nickel * LBF))
    assert row.quantity("splice") == pytest.approx(splice * LBF)
    assert row.quantity("stamped contact or terminal") == pytest.approx(stamped * LBF)


def test_nasa_grounding_lead() -> None:
    """NASA-STD-8739.4 p69: 22 AWG 13 lbf, 57 N."""
    force = _part("pull test", "22 AWG").quantity("grounding lead")
    assert force == pytest.approx(13 * LBF) and round(force or 0) in (57, 58)


# AC 43.13-1B Table 11-9 p11-23, tin-plated copper at 20 C, ohm per 1000 ft, and area in circular mils.
@pytest.mark.parametrize(
    ("size", "resistance", "area"),
    [(22, 16.20, 755), (20, 9.88, 1216), (18, 6.23, 1900), (16, 4.81, 2426), (14, 3.06, 3831), (12, 2.02, 5874),
     (10, 1.26, 9354)],
)  # fmt: skip
def test_conductors(size: int, resistance: float, area: float) -> None:
    row = _part("conductor", f"{size} AWG")
    assert row.quantity("tin") == pytest.approx(resistance / FT1000)
    assert row.quantity("area") == pytest.approx(area * 5.067074790974977e-10)
    assert row.facts["tin"].source.status is Status.CONFIRMED
    assert row.facts["silver"].source.status is Status.MEMORY
    wire = _part("wire", f"M22759/16-{size}-9")
    assert wire.quantity("resistance") == pytest.approx(resistance / FT1000)
    assert wire.facts["resistance"].source.status is Status.CONFIRMED


def test_24_awg_keeps_its_warning() -> None:
    """AC 43.13-1B prints 28.40 ohm per 1000 ft for 24 AWG, out of family: the recalled 26.2 stays recalled."""
    row = _part("conductor", "24 AWG")
    assert row.facts["tin"].source.status is Status.MEMORY and "28.40" in (row.text("note") or "")


def test_m22759_16_is_etfe_on_tin_for_150_c() -> None:
    """Title block of SAE AS22759/16 Rev A; the finished diameters are not confirmed."""
    wire = _part("wire", "M22759/16-22-9")
    assert (wire.text("insulation"), wire.text("conductor")) == ("ETFE extruded, medium weight", "tin-coated copper")
    assert (wire.quantity("temperature"), wire.quantity("volts")) == (150, 600)
    assert wire.facts["insulation"].source.status is Status.CONFIRMED
    assert [fact.source.status for fact in wire.all("od")] == [Status.SECOND_HAND, Status.MEMORY]


def test_m22759_11_diameter_of_a_test_report_beats_the_recalled_one() -> None:
    """Crimp test report p5: 22 AWG 1.24 mm over the insulation, 0.76 mm conductor; recalled 0.050 in."""
    wire = _part("wire size", "M22759/11-22")
    assert wire.span("od") == Range(pytest.approx(1.24e-3), pytest.approx(1.24e-3))  # type: ignore[arg-type]
    assert wire.quantity("conductor diameter") == pytest.approx(0.76e-3)
    assert [fact.source.status for fact in wire.all("od")] == [Status.CONFIRMED, Status.MEMORY]
    odd = _part("wire size", "M22759/11-12")
    assert odd.whole("strands") == 19 and odd.text("stranding") == "37x28", (
        "report and recollection disagree: both kept"
    )


def test_colour_digits() -> None:
    """AC 21-99 section 2 chapter 2 and MIL-W-16878F: 0 black ... 9 white; IEC 60757 letters seen for four of them."""
    words = [_part("colour", str(digit)).text("word") for digit in range(10)]
    assert words == ["black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "gray", "white"]
    seen = {n for n in DRAWER.numbers("colour") if _part("colour", n).facts["iec"].source.status is Status.CONFIRMED}
    assert {_part("colour", n).text("iec") for n in seen} == {"RD", "YE", "GN", "BU", "GNYE"}


def test_sealing_plug_colours() -> None:
    """Black 22D and red 20 on third-party notes; the commercial plug of the size on catalogue p19."""
    expected = [("22-2", "black", Status.SECOND_HAND), ("20-2", "red", Status.SECOND_HAND),
                ("16-2", "blue", Status.MEMORY), ("12-2", "yellow", Status.MEMORY)]  # fmt: skip
    for dash, colour, status in expected:
        plug = _part("sealing plug", f"MS27488-{dash}")
        assert (plug.text("colour"), plug.text("commercial colour")) == (colour, colour)
        assert plug.facts["colour"].source.status is status
        assert plug.facts["commercial colour"].source.status is Status.CONFIRMED


def test_crimp_inspection_gauge() -> None:
    """AC 21-99 section 2 chapter 10 Table 10-7: M22520/3-1 at selector 4 for /1-01, at 8 for /2-01; /3-3 for /7-01."""
    rows = {n: _part("tool", n) for n in ("M22520/1-01", "M22520/2-01", "M22520/7-01", "M22520/4-01")}
    assert [(tool.text("inspection gauge"), tool.whole("gauge selector")) for tool in rows.values()] == [
        ("M22520/3-1", 4), ("M22520/3-1", 8), ("M22520/3-3", 8), ("M22520/3-2", None),
    ]  # fmt: skip


def test_table_11_3() -> None:
    """AC 43.13-1B Table 11-3 p11-15, breaker and fuse in ampere."""
    expected = {22: (5, 5), 20: (7.5, 5), 18: (10, 10), 16: (15, 10), 14: (20, 15), 12: (30, 20), 10: (40, 30),
                8: (50, 50), 6: (80, 70), 4: (100, 70), 2: (125, 100), 1: (None, 150), 0: (None, 150)}  # fmt: skip
    for size, (breaker, fuse) in expected.items():
        row = _part("wire protection", f"{size} AWG")
        assert (row.quantity("breaker"), row.quantity("fuse")) == (breaker, fuse), size


@pytest.mark.parametrize(
    ("number", "values"),
    [
        ("insulation-gap-least", {"least": "0.25 mm"}),  # NASA-STD-8739.4 10.1.7.b.1 p53
        ("strip-damage-24-to-14", {"nicked": "2 strands", "broken": "0 strands"}),  # AC 43.13-1B Table 11-13
        ("terminals-on-a-stud", {"most": "4 terminals"}),  # AC 43.13-1B par. 11-174b p11-67
        ("terminals-on-a-stud-naval", {"most": "3 connections"}),  # MIL-DTL-917F 3.12.2.8: the two disagree, both kept
        ("support-interval", {"most": "24 in"}),  # AC 43.13-1B par. 11-96a p11-43
        ("mark-interval", {"most": "15 in"}),  # AC 43.13-1B par. 11-208 p11-83
        ("bend-radius", {"least": "10 x OD"}),  # Army TM 1-1500-204-23-4 item 27
        ("bond-resistance", {"most": "2.5 mohm"}),  # AC 43.13-1B par. 11-188f p11-74
    ],
)
def test_rules(number: str, values: dict[str, str]) -> None:
    rule = _part("rule", number)
    assert rule.table("values") == values
    assert rule.facts["values"].source.status is Status.CONFIRMED


def test_recalled_rules_stay_recalled() -> None:
    for number in ("unwired-contact-and-plug", "splice-from-termination", "bend-radius-supported", "mark-sleeve"):
        assert _part("rule", number).facts["text"].source.status is Status.MEMORY
