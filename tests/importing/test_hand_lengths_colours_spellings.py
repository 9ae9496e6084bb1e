"""Lengths, colours and spellings at every boundary; what each text means was written down by reading it.

Keys: IEC 60757, DIN 47100 and the trade's (common practice); digits: MIL-STD-681.
"""

from __future__ import annotations

import pytest

from harnesscheck.formats._lists import colours, lengths, spellings, together
from harnesscheck.formats._lists.spellings import End, Read


@pytest.mark.parametrize(("text", "unit", "point", "value", "note"), [
    ("300 mm", "", "", "300 mm", ""), ("300", "mm", "", "300 mm", ""), ("30cm", "", "", "30 cm", ""),
    ("3m", "", "", "3 m", ""),
    ("3 metres", "", "", "3 m", ""), ("3 meter", "", "", "3 m", ""), ("3 meters", "", "", "3 m", ""),
    ("3 metre", "", "", "3 m", ""),
    ("3 mtr", "", "", "3 m", ""), ("3 Zoll", "", "", "3 in", ""), ("3 inch", "", "", "3 in", ""),
    ("3 inches", "", "", "3 in", ""),
    ("3 in.", "", "", "3 in", ""), ("3''", "", "", "3 in", ""), ('3"', "", "", "3 in", ""), ("3'", "", "", "3 ft", ""),
    ("3 feet", "", "", "3 ft", ""), ("3 foot", "", "", "3 ft", ""), ("3 FT", "", "", "3 ft", ""),
    ("300 MM", "", "", "300 mm", ""), ("3", "feet", "", "3 ft", ""), ("3 ft 6 in", "", "", "3 ft 6 in", ""),
    ("3 ft 6", "", "", "3 ft 6 in", ""), ("3ft. 1/2 in", "", "", "3 ft 0.5 in", ""),
    ("3'-6 3/4\"", "", "", "3 ft 6.75 in", ""), ("3', 6''", "", "", "3 ft 6 in", ""), ("1/2 in", "", "", "0.5 in", ""),
    ("1-1/3 ft", "", "", "1.333333 ft", ""), ("12 3/8", "in", "", "12.375 in", ""),
    ("300 mm ± 5", "", "", "300 mm", "± 5"), ("300 mm +/- 5 mm", "", "", "300 mm", "+/- 5 mm"),
    ("300 mm +-5", "", "", "300 mm", "+-5"), ("300 mm +5/-3", "", "", "300 mm", "+5/-3"),
    ("300 mm (12 in)", "", "", "300 mm", "12 in"), ("300 mm each", "", "", "300 mm", "each"),
    ("300 mm, twisted", "", "", "300 mm", "twisted"), ("1.234", "m", "", "1.234 m", ""),
    ("1.234", "m", ".", "1.234 m", ""), ("1,234", "m", ",", "1.234 m", ""), ("1.234", "mm", ",", "1234 mm", ""),
    ("1.234", "mm", ".", "1.234 mm", ""), ("0.123", "mm", "", "0.123 mm", ""), ("0,123", "m", "", "0.123 m", ""),
    (".5", "m", "", "0.5 m", ""), (",5", "m", "", "0.5 m", ""), ("1 200", "mm", "", "1200 mm", ""),
    ("1 200,5", "mm", "", "1200.5 mm", ""), ("1.200,50", "mm", "", "1200.50 mm", ""),
    ("1,200.50", "mm", "", "1200.50 mm", ""), ("1,200,000", "mm", "", "1200000 mm", ""),
    ("1.234", "in", "", "1.234 in", ""), ("12.34", "m", "", "12.34 m", ""), ("tbd", "mm", "", "", "tbd"),
    ("as required", "", "", "", "as required"), ("-", "", "", "", ""), ("?", "", "", "", ""), ("", "", "", "", ""),
    ])  # fmt: skip
def test_lengths_that_are_plain(text: str, unit: str, point: str, value: str, note: str) -> None:

    assert lengths.length(text, unit, point) == Read(value, note)


@pytest.mark.parametrize(("text", "unit", "point", "why"), [ ("300", "", "", "a number without a unit"),
("1,234", "mm", "", "1,234 may be 1.234 or 1234"), ("1.230", "mm", "", "1.230 may be 1.23 or 1230"),
("1,234", "m", "", "1,234 may be 1.234 or 1234"),
("1.234", "m", ",", "1.234 m may be 1234, and that is no wire of a harness"),
("1,234", "ft", ".", "1,234 ft may be 1234, and that is no wire"), ("1/2 cm", "", "", "a fraction of a metric unit"),
("1/2", "mm", "", "a fraction of a metric unit"), ("3/3 in", "", "", "not a fraction"),
("4/3 in", "", "", "not a fraction"), ("1/0 in", "", "", "not a fraction"), ("3' 1/0", "", "", "not a fraction"),
("1.23.4 m", "", "", "not a number"), ("12.34.567,8 mm", "", "", "not a number"),
("1,234.567.8 mm", "", "", "not a number"), ("1.234,5,6 mm", "", "", "not a number"), ("<3 m", "", "", "a limit"),
(">3 m", "", "", "a limit"), ("within 3 m", "", "", "a limit"), ("under 3 m", "", "", "a limit"),
("over 3 m", "", "", "a limit"), ("min 3 m", "", "", "a limit"), ("less 3 m", "", "", "a limit"),
("at least 3 m", "", "", "a limit"), ("3 m or longer", "", "", "a limit"), ("3 m or more", "", "", "a limit"),
("3 m max.", "", "", "a limit"), ("circa 3 m", "", "", "an estimate"), ("estimated 3 m", "", "", "an estimate"),
("3-4 m", "", "", "a range"), ("3 m to 4 m", "", "", "a range"), ("3..4 m", "", "", "not a number"),
("3 mm2", "", "", "not a length"), ("3 m 20", "", "", "not a length"), ("3 m + 20", "", "", "not a length"),
("3x", "", "", "not a length"), ("x", "", "", "not a length"), ("0 mm", "", "", "above zero"), ])  # fmt: skip
def test_lengths_that_are_refused(text: str, unit: str, point: str, why: str) -> None:
    read = lengths.length(text, unit, point)
    assert why in read.refused, read
    assert (read.value, read.note) == ("", "")


def test_lengths_by_the_sign_of_their_column() -> None:

    for texts, sign in ( (["1.5"], "."), (["1,25"], ","), (["1.2345"], "."), (["1.234"], ""), (["0.234"], "."),
    ([".234"], "."), (["1.234,5"], ","), (["1,234.5"], "."), (["1.5 m", "3 m"], "."), (["1.5-2,5"], ""),
    (["1,5", "2,25", "1.000"], ","), (["12."], ""), (["x"], ""), (["1.2.3"], ""), (["1,234,567.5"], "."),
    ):  # fmt: skip
        assert lengths.point_of(texts) == sign, texts


@pytest.mark.parametrize(("texts", "keys", "said"),
[ (["BK", "wh"], {"BK": "black", "WH": "white"}, "colour keys: BK is black, WH is white"), (["BL"], {"BL": ""}, ""),
(["BL", "BK"], {"BK": "black", "BL": "blue"},
"colour keys: BK is black; BL is read as blue, since BK stands in the same column"),
(["GR", "GN"], {"GN": "green", "GR": "gray"},
"colour keys: GN is green; GR is read as gray, since GN stands in the same column"),
(["GR", "GY"], {"GR": "green", "GY": "gray"},
"colour keys: GY is gray; GR is read as green, since GY stands in the same column"),
(["GR", "GN", "GY"], {"GN": "green", "GR": "", "GY": "gray"}, "colour keys: GN is green, GY is gray"),
(["BL", "BK", "BU"], {"BK": "black", "BL": "", "BU": "blue"}, "colour keys: BK is black, BU is blue"),
(["sw", "gr"], {"GR": "gray", "SW": "black"}, "colour keys: GR is gray, SW is black"),
(["sw", "gr", "pk"], {"GR": "", "PK": "pink", "SW": "black"}, "colour keys: PK is pink, SW is black"),
(["red", "white/blue", "9"], {}, ""), (["RED/W", "B"], {"B": "", "W": "white"}, "colour keys: W is white"),
(["GNYE"], {"GN": "green", "YE": "yellow"}, "colour keys: GN is green, YE is yellow"), ([], {}, ""),
(["W1"], {"W": "white"}, "colour keys: W is white"), (["nothing known"], {}, ""), ])  # fmt: skip
def test_colours_keys_of_a_column(texts: list[str], keys: dict[str, str], said: str) -> None:
    found, words = colours.keys_of(texts)
    assert (dict(found), words) == (keys, said)
    assert list(found) == sorted(found)


def test_colours_keys_that_are_stated() -> None:
    stated = (("GR", "green"), ("XY", "pink"))
    assert colours.keys_of(["GR", "xy", "BK"], stated) == ( (("BK", "black"), ("GR", "green"), ("XY", "pink")),
    "colour keys: BK is black, GR is green, XY is pink")  # fmt: skip
    assert colours.keys_of(["sw", "XY", "gr"], stated)[0] == (("GR", "green"), ("SW", "black"), ("XY", "pink"))
    assert colours.colour("XY/GR", stated) == Read("pink/green")
    assert colours.colour("XY").refused == "not a colour"
    assert colours.colour("LT old", (("LT", "tan"),)) == Read("tan", "old")  # LT is a shade before a colour
    assert colours.colour("red +5").refused == "not a colour"
    assert colours.legend(["x GN = green y", "ABCD = red", "no = 5", "rd=dark red; R =Light Blue"]) == ( ("GN",
    "green"), ("R", "light blue"), ("RD", "dark red"))  # fmt: skip
    assert colours.legend([]) == ()


@pytest.mark.parametrize(("text", "read"), [ ("red", Read("red")), ("Red", Read("Red")), (" RED ", Read("RED")),
("rot", Read("red")), ("RD", Read("red")), ("White / Blue", Read("White/Blue")), ("White-Blue", Read("White-Blue")),
("WH-BU", Read("white/blue")), ("WH BU", Read("white", "BU")), ("white:blue", Read("white/blue")),
("lt blue", Read("lt blue")), ("Lt. Blue", Read("Lt Blue")), ("Light Blue", Read("Light Blue")),
("dk-GN", Read("dark green")), ("sky blue/white", Read("sky blue/white")), ("9", Read("9")), ("96", Read("96")),
("9-6-1", Read("961")), ("9/6/1/2", Read("9612")), ("white6", Read("white", "white6")),
("WHT/6", Read("white/blue")), ("white with blue stripe", Read("white/blue")),
("white w/ an orange tracer", Read("white/orange")), ("white, blue stripe", Read("white/blue")),
("white + red band", Read("white/red")), ("white & red tracer", Read("white/red")),
("white red stripe", Read("white/red")), ("white blue", Read("white", "blue")), ("red (old)", Read("red", "old")),
("red, thick", Read("red", "thick")), ("drain", Read("drain")), ("Bare", Read("Bare")),
("GNYEBU", Read("green/yellow/blue")), ("BLKWHTRED", Read("black/white/red")), ("tbd", Read("", "tbd")), ("?", Read()),
("", Read()), ("rot 2", Read("red", "2")), ])  # fmt: skip
def test_colours_as_typed(text: str, read: Read) -> None:

    assert colours.colour(text) == read


@pytest.mark.parametrize(("text", "why"), [ ("W1", "not a colour"), ("RD2", "not a colour"), ("coax", "not a colour"),
("red/", "not a colour"), ("red_", "not a colour"), ("W_1", "not a colour"), ("white/6/1", "not a colour"),
("12345", "not a colour"), ("red/x", "not a colour"),
("x/red", "not a colour"), ("BL", "BL is blue or black"), ("gr", "GR is green or gray"),
("B", "B is black, blue or brown"), ("G", "G is green or gray"), ("P", "P is pink or purple"),
("L", "L is blue or light"), ("W/BL", "BL is blue or black"), ("GNYEBUBK", "not a colour"), ("GNY", "not a colour"),
("redx", "not a colour"), ])  # fmt: skip
def test_colours_refused(text: str, why: str) -> None:

    assert colours.colour(text) == Read(refused=why)


def test_spellings_of_ends() -> None:
    known = frozenset({"PS A", "K1"})
    for text, dash, end in ( ("PS A", False, End("PS A")), ("K1-+V", False, End("K1", "+V")),
    ("K2-+V", False, End("K2-+V")), ("K2-+V", True, End("K2", "+V")), ("J1 (P2-3)", False, End("P2", "3", "J1")),
    ("P2-3 (J1)", False, End("P2", "3", "J1")), ("J1 (AB)", False, End("J1", "AB")),
    ("J1 (A12)", False, End("J1", "A12")), ("J1 (123)", False, End("J1", "123")), ("box (7)", False, End("box (7)")),
    ("J1 pin 3", False, End("J1", "3")), ("J1 term. #3", False, End("J1", "3")),
    ("J1 - cavity A", False, End("J1", "A")), ("J1/ABCD", False, End("J1", "ABCD")),
    ("J1/ABCDE", False, End("J1/ABCDE")), ("J1-123", False, End("J1", "123")), ("J1-1234", False, End("J1-1234")),
    ("J1-A12", False, End("J1", "A12")), ("J1-12A", False, End("J1", "12A")), ("a : b : c", False, End("a", "b : c")),
    ("J1#4", False, End("J1", "4")), (" J1 ", False, End("J1")), ("-x", True, End("", "x")), ):  # fmt: skip
        assert spellings.end(text, known, dash) == end, text
    for text in ("J1 and J2", "J1; J2", "J1 & J2", "t-tap at J1", "J1-1 (J2-2)", "splice on W1 spliced on W2"):
        with pytest.raises(spellings.NotPlainError) as caught:
            spellings.end(text)
        assert caught.value.reason == str(caught.value)
        assert caught.value.remedy
    assert spellings.NotPlainError("x").remedy == ""


def test_spellings_of_cavities() -> None:

    for text, names in ( ("1", ["1"]), ("pin 1", ["1"]), ("Pins.1", ["1"]), ("cavities #A", ["A"]),
    ("terminal B2", ["B2"]), ("1,2", ["1", "2"]), ("1 and 2", ["1", "2"]), ("A1\nA2", ["A1", "A2"]),
    ("123,12A", ["123", "12A"]), ("1/2/3", ["1", "2", "3"]), ("A1/A2", ["A1", "A2"]), ("A1+B2", ["A1", "B2"]),
    ("1/2/AB", ["1/2/AB"]), ("12345 (x)", ["12345"]), ("123456 (x)", ["123456 (x)"]), ("pin", ["pin"]),
    ("a b", ["a b"]), ("+", ["+"]), ):  # fmt: skip
        assert spellings.cavities(text) == names, text

    for text, why in (("1, AB", "one cavity or several"), ("1/2", "one cavity or two"), ("A/1", "one cavity or two"),
    ("A1/2", "one cavity or two"), ("1234, 1", "one cavity or several")):  # fmt: skip
        with pytest.raises(spellings.NotPlainError, match=why):
            spellings.cavities(text)
    for text, many in (("1-3", 3), ("1 thru 3", 3), ("1 through 2", 2), ("1 bis 2", 2), ("terminals 1..2", 2),
    ("1-201", 201), ("1-202", 0), ("3-3", 0), ("a-b", 0), ("1-3 x", 0)):  # fmt: skip
        assert len(spellings.cavity_range(text) or ()) == many, text
    assert spellings.cavity_range("7 to 9") == ["7", "8", "9"]
    assert [spellings.is_cavity(t) for t in ("A", "+28V", "")] == [True, True, False]


def test_spellings_of_references() -> None:

    for text, made in (("P1", "P1"), (" P1 ", "P1"), ("P-1", "P_1"), ("1A", "X1A"), ("-", ""), ("_", ""), ("ä", ""),
    ("a", "a"), ("1", "X1"), ("a" + "-b" * 20, ("a" + "_b" * 20)[:31]), ("a" * 30 + "-b", "a" * 30),
    ("a.b", "a.b")):  # fmt: skip
        assert spellings.reference(text) == made, text


@pytest.mark.parametrize(("text", "unit", "read"), [ ("22 AWG", "", Read("22 AWG")), ("AWG22", "", Read("22 AWG")),
("22ga. x", "", Read("22 AWG", "x")), ("22-AWG", "", Read("22 AWG")), ("3/0", "", Read("3/0 AWG")),
("1/0 AWG", "", Read("1/0 AWG")), ("0.5 mm2", "", Read("0.5 mm2")), (".5 qmm", "", Read("0.5 mm2")),
("0,5mm² (x)", "", Read("0.5 mm2", "x")), ("22", "awg", Read("22 AWG")), ("2,5", "mm2", Read("2.5 mm2")),
("RG 316", "", Read("type:RG", "RG 316")), ("RG316 coax", "", Read("type:RG316", "RG316 coax")),
("tbd", "", Read("", "tbd")), ("-", "", Read()), ("", "", Read()),
("22", "", Read(refused="a number without a unit: AWG or mm2")), ("22-20", "", Read(refused="a range of sizes")),
("22 AWG / 20", "", Read(refused="a range of sizes")), ("22 or 20 AWG", "", Read(refused="a range of sizes")),
("2 x 22 AWG", "", Read(refused="a cable of several cores: write one row for each core")),
("3×0.5 mm2", "", Read(refused="a cable of several cores: write one row for each core")),
("x", "", Read(refused="not a conductor size")), ])  # fmt: skip
def test_spellings_of_sizes(text: str, unit: str, read: Read) -> None:

    assert spellings.gauge(text, unit) == read


def test_spellings_of_what_stands_behind() -> None:

    for text, said in (
        (" (x) ", "x"),
        (", x;", "x"),
        ("(a)(b)", "(a)(b)"),
        ("a\nb", "a b"),
        ("", ""),
        ("(a\nb)", "a\nb"),
    ):
        assert spellings.rest_of(text) == said


def test_spellings_together() -> None:

    assert together.gauge_and_colour("22 AWG BL", "", (("BL", "blue"),)) == (Read("22 AWG"), Read("blue"))
    assert together.gauge_and_colour("22 AWG BL", "") is None
    assert together.gauge_and_colour("red, 22", "awg") == (Read("22 AWG"), Read("red"))
    assert together.gauge_and_colour("red, 22", "") is None
    assert together.gauge_and_colour("22 AWG red (x)", "") == (Read("22 AWG"), Read("red", "x"))
    assert together.gauge_and_colour("99 AWG red", "") is together.gauge_and_colour("22 AWG wide", "") is None
