"""How one cell is spelt: ends, cavities, sizes, colours and lengths, each taken whole or refused.

What every text means was written down by reading it. Keys of colours: IEC 60757 (letters), MIL-STD-681 (digits), DIN
47100 (German letters, common practice), the trade's two and three letters (common practice); words of four languages
are those of a dictionary.
"""

from __future__ import annotations

import pytest

from harnesscheck.formats._lists import colours, lengths, spellings, together
from harnesscheck.formats._lists.spellings import End

NOTHING = frozenset[str]()


@pytest.mark.parametrize(("text", "end"), [
    ("P14: 3", End("P14", "3")), ("P14 pin 3", End("P14", "3")), ("P14 cavity #A", End("P14", "A")),
    ("P14.3", End("P14", "3")), ("P14/12", End("P14", "12")), ("P14 (7)", End("P14", "7")), ("P14(A)", End("P14", "A")),
    ("P14 # 5", End("P14", "5")), ("P14-A1", End("P14", "A1")), ("P14", End("P14")), ("Relay K1", End("Relay K1")),
    ("Pump (P3-1)", End("P3", "1", "Pump")), ("P3-1 (pump)", End("P3", "1", "pump")), ("P14-ABC", End("P14-ABC")),
])  # fmt: skip
def test_an_end_in_one_cell(text: str, end: End) -> None:
    assert spellings.end(text) == end


def test_names_that_are_known_and_a_dash_that_parts() -> None:
    assert spellings.end("A, B", frozenset({"A, B"})) == End("A, B")
    assert spellings.end("K1-X (7)", frozenset({"K1-X (7)"})) == End("K1-X (7)")
    assert spellings.end("PS-ABC", frozenset({"PS"})) == End("PS", "ABC")
    assert spellings.end("PS-ABC") == End("PS-ABC")
    assert spellings.end("PS-ABC", dash=True) == End("PS", "ABC")
    assert spellings.end("PSABC", dash=True) == End("PSABC")


@pytest.mark.parametrize("text", ["P1-1 and P2-1", "P1-1, P1-2", "P1-1; P1-2", "P1-1 or P1-2", "spliced on W7",
                                  "tapped at P1", "P1-1 (P2-3)"])  # fmt: skip
def test_two_points_are_no_end(text: str) -> None:
    with pytest.raises(spellings.NotPlainError) as caught:
        spellings.end(text)
    assert caught.value.remedy


@pytest.mark.parametrize(("text", "names"), [
    ("1,2", ["1", "2"]), ("A & B", ["A", "B"]), ("1; 2; 3", ["1", "2", "3"]), ("1/2/3", ["1", "2", "3"]),
    ("C2/C3", ["C2", "C3"]), ("pins 4", ["4"]), ("Cavity #7", ["7"]), ("3 (GND)", ["3"]), ("+V", ["+V"]),
    ("1/2", None), ("A/B", None), ("1, +V", None), ("C2/3", None),
])  # fmt: skip
def test_cavities_of_one_cell(text: str, names: list[str] | None) -> None:
    """None: it may be one name or several, and nobody can tell."""
    if names is None:
        with pytest.raises(spellings.NotPlainError, match="may be one cavity or"):
            spellings.cavities(text)
    else:
        assert spellings.cavities(text) == names


@pytest.mark.parametrize(("text", "first", "last"), [
    ("1-2", 1, 2), ("7 to 10", 7, 10), ("pins 3..5", 3, 5), ("1-201", 1, 201), ("1-202", 0, 0), ("2-1", 0, 0),
    ("2-2", 0, 0), ("A-C", 0, 0),
])  # fmt: skip
def test_a_range_of_cavities_rises_and_ends(text: str, first: int, last: int) -> None:
    """Two hundred numbers behind the first are the most that a range is taken to mean; 0: no range."""
    expected = [str(n) for n in range(first, last + 1)] if last else None
    assert spellings.cavity_range(text) == expected


@pytest.mark.parametrize(("text", "made"), [
    ("P14", "P14"), ("PWR IN", "PWR_IN"), ("12V", "X12V"), ("a--b", "a_b"), ("_P1_", "P1"), ("?", ""), ("", ""),
    ("x" * 40, "x" * 31), (f"{'x' * 30} y", "x" * 30), ("7", "X7"),
])  # fmt: skip
def test_a_reference_that_our_files_can_hold(text: str, made: str) -> None:
    assert spellings.reference(text) == made


@pytest.mark.parametrize(("text", "unit", "value", "note"), [
    ("22", "awg", "22 AWG", ""), ("0,5", "mm2", "0.5 mm2", ""), ("0.75", "mm2", "0.75 mm2", ""),
    ("#16", "", "16 AWG", ""),
    ("AWG 1/0", "", "1/0 AWG", ""), ("2/0", "", "2/0 AWG", ""), ("22 gauge (shielded)", "", "22 AWG", "shielded"),
    ("0,35 mm², TXL", "", "0.35 mm2", "TXL"), ("1.5 sq mm", "", "1.5 mm2", ""),
    ("RG-58 coax", "", "type:RG-58", "RG-58 coax"),
    ("tbd", "", "", "tbd"), ("-", "", "", ""), ("", "", "", ""), ("?", "", "", ""),
])  # fmt: skip
def test_a_size_is_read(text: str, unit: str, value: str, note: str) -> None:
    assert spellings.gauge(text, unit) == spellings.Read(value, note)


@pytest.mark.parametrize(("text", "unit", "why"), [
    ("22", "", "a number without a unit"), ("18-20", "awg", "a range of sizes"),
    ("18 AWG or 20", "", "a range of sizes"),
    ("3 x 22 AWG", "", "a cable of several cores"), ("41 AWG", "", "from 4/0 to 40"),
    ("thin", "", "not a conductor size"),
    ("0 mm2", "", "between 0 and 1000 mm2"),
])  # fmt: skip
def test_a_size_is_refused(text: str, unit: str, why: str) -> None:
    read = spellings.gauge(text, unit)
    assert why in read.refused
    assert not read.value


WORDS = {
    "black": "schwarz noir noire negro nero", "brown": "braun brun marron marrón marrone",
    "red": "rot rouge rojo rosso",
    "orange": "naranja arancione", "yellow": "gelb jaune amarillo giallo", "green": "grün gruen vert verde",
    "blue": "blau bleu azul", "violet": "violett lila violeta viola", "gray": "grau gris grigio",
    "white": "weiß weiss blanc blanco bianco", "pink": "rosa rose", "turquoise": "türkis tuerkis", "bare": "blank",
}  # fmt: skip
KEYS = {
    "black": "BK BLK SW", "brown": "BN BR BRN", "red": "RD RED R RT", "orange": "OG OR ORN ORG ORA O",
    "yellow": "YE YL YEL Y GE", "green": "GN GRN", "blue": "BU BLU", "violet": "VT VI VIO V", "gray": "GY GRY GRA",
    "white": "WH WT WHT W WS", "pink": "PK PNK RS", "turquoise": "TQ TRQ TK", "gold": "GD", "silver": "SR",
    "purple": "PU PUR PPL", "tan": "TN TAN", "natural": "NAT",
}  # fmt: skip


@pytest.mark.parametrize("meaning", sorted({*WORDS, *KEYS}))
def test_words_and_keys_of_a_colour(meaning: str) -> None:
    for text in [*WORDS.get(meaning, "").split(), *KEYS.get(meaning, "").split()]:
        assert colours.colour(text).value.casefold() == meaning, text


def test_every_word_and_key_has_a_meaning_written_down() -> None:
    assert set(colours._FOREIGN) == {word for words in WORDS.values() for word in words.split()}
    assert {*colours._TRADE, *colours._GERMAN} - {"BL", "GR"} == {key for keys in KEYS.values() for key in keys.split()}


@pytest.mark.parametrize(("text", "value", "note"), [
    ("white/blue", "white/blue", ""), ("White : Blue", "White/Blue", ""), ("wht/blu", "white/blue", ""),
    ("dark blue", "dark blue", ""), ("dk. BLU", "dark blue", ""), ("lt-grn", "light green", ""), ("9/6", "96", ""),
    ("-9-6", "96", ""), ("9612", "9612", ""), ("white with a red stripe", "white/red", ""),
    ("GNYE", "green/yellow", ""),
    ("BLKWHT", "black/white", ""), ("white red tracer", "white/red", ""), ("white/6", "white/blue", ""),
    ("red (thick)", "red", "thick"), ("rot/white", "red/white", ""), ("unknown", "", "unknown"), ("--", "", ""),
    ("hellblau", None, ""), ("hell blau", "light blue", ""), ("W1", None, ""), ("white/", None, ""),
    ("12345", None, ""),
    ("BL", None, ""), ("B", None, ""), ("G", None, ""), ("P", None, ""), ("L", None, ""), ("GR/W", None, ""),
    ("coax", None, ""),
])  # fmt: skip
def test_a_colour_is_read_whole_or_refused(text: str, value: str | None, note: str) -> None:
    """None: refused."""
    read = colours.colour(text)
    assert bool(read.refused) is (value is None)
    assert (read.value, read.note) == (value or "", note)


@pytest.mark.parametrize("digit", range(10))
def test_a_digit_behind_a_word_is_its_stripe(digit: int) -> None:
    """MIL-STD-681: 0 black, 1 brown, 2 red, 3 orange, 4 yellow, 5 green, 6 blue, 7 violet, 8 gray, 9 white."""
    words = ("black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "gray", "white")
    assert colours.colour(f"white/{digit}").value == f"white/{words[digit]}"


def test_a_legend_told_twice_in_two_ways_is_no_key() -> None:
    assert colours.legend(["GR = green", "gr=green, BL = light blue"]) == (("BL", "light blue"), ("GR", "green"))
    assert colours.legend(["GR = green; GR = gray"]) == (("GR", ""),)
    assert colours.colour("GR/W", (("GR", "green"),)).value == "green/white"
    assert colours.colour("GR", (("GR", ""),)).refused == "GR is green or gray"


@pytest.mark.parametrize(("texts", "why"), [
    (["<300 mm", "max 3 m", "300 mm or less", "up to 2 m", "300 mm min"], "a limit, not a length"),
    (["~300 mm", "approx. 3 m", "about 1 m", "ca. 20 cm", "est 3 ft"], "an estimate, not a length"),
    (["3-4 ft", "300 to 320 mm"], "a range, not a length"),
    (["300", "12 1/2"], "a number without a unit"), (["1/2 m"], "a fraction of a metric unit"),
    (["300 mm2", "long", "300 mm + 20"], "not a length"), (["1/0 in", "3/2 in", "2/2 in"], "not a fraction"),
    (["0 mm"], "a length is above zero"), (["1.2.34 m", "12,345,67 m", "1234,567,890 mm"], "not a number"),
])  # fmt: skip
def test_what_is_no_length(texts: list[str], why: str) -> None:
    for text in texts:
        read = lengths.length(text)
        assert (why in read.refused, read.value) == (True, ""), (text, read)


@pytest.mark.parametrize(("texts", "sign"), [
    (["1,5"], ","), (["1.5"], "."), (["1.5", "2,5"], ""), (["1.234"], ""), (["0,123"], ","), ([",123"], ","),
    (["1.234,5"], ","), (["1,234,567"], ""), (["12"], ""), ([], ""),
])  # fmt: skip
def test_the_decimal_sign_of_a_column(texts: list[str], sign: str) -> None:
    """Three digits behind one sign may be thousands, unless nothing or a zero stands before it."""
    assert lengths.point_of(texts) == sign


@pytest.mark.parametrize(("text", "unit", "size", "hue"), [
    ("16 AWG red", "", "16 AWG", "red"), ("red 16 AWG", "", "16 AWG", "red"), ("22/white", "awg", "22 AWG", "white"),
    ("0.5 mm2, GN", "", "0.5 mm2", "green"),
])  # fmt: skip
def test_size_and_colour_in_one_cell(text: str, unit: str, size: str, hue: str) -> None:
    found = together.gauge_and_colour(text, unit)
    assert found
    assert (found[0].value, found[1].value) == (size, hue)


@pytest.mark.parametrize("text", ["16 AWG", "red", "16 AWG shielded", "22/white", "99 AWG red"])
def test_a_cell_that_does_not_hold_both(text: str) -> None:
    assert together.gauge_and_colour(text, "") is None
