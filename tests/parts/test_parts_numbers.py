"""Standard part numbers taken apart. The expected pieces are those of the code tables named beside each case."""

from __future__ import annotations

import pytest

from harnesscheck.parts import Part, open_drawer
from harnesscheck.source import Status

DRAWER = open_drawer()

# Form and letters: 38999 series catalogue (manufacturer reproduction) p25 to p27; arrangements p6 to p8.
D38999 = [
    ("D38999/26WA35SN", "plug", "9", "9-35", "socket", "N", "olive drab cadmium metal"),
    ("D38999/20WA35PN", "receptacle", "9", "9-35", "pin", "N", "olive drab cadmium metal"),
    ("D38999/24FB98PA", "receptacle", "11", "11-98", "pin", "A", "electroless nickel metal"),
    ("D38999/26KC35SB", "plug", "13", "13-35", "socket", "B", "passivated stainless"),
    ("D38999/26ZD19JE", "plug", "15", "15-19", "socket", "E", "zinc nickel"),
    ("D38999/20TE26HC", "receptacle", "17", "17-26", "pin", "C", "nickel-PTFE"),
    ("D38999/26JJ4AD", "plug", "25", "25-4", "pin", "D", "olive drab cadmium composite"),
    ("D38999/24WG11BN", "receptacle", "21", "21-11", "socket", "N", "olive drab cadmium metal"),
    ("D38999/29WH35PN", "plug", "23", "23-35", "pin", "N", "olive drab cadmium metal"),
]


def _part(kind: str, number: str) -> Part:
    part = DRAWER.get(kind, number)
    assert part is not None, number
    return part


@pytest.mark.parametrize(("number", "style", "shell", "insert", "gender", "key", "finish"), D38999)
def test_d38999(number: str, style: str, shell: str, insert: str, gender: str, key: str, finish: str) -> None:
    part = _part("connector", number)
    expected = {
        "style": style, "shell": shell, "insert": insert, "gender": gender, "key": key, "class": finish,
        "family": "38999-III",
    }  # fmt: skip
    assert {name: part.text(name) for name in expected} == expected
    assert {part.facts[name].source.status for name in expected} == {Status.CONFIRMED}
    assert part.yes("sealed") is True
    assert part.facts["sealed"].source.status is Status.DERIVED, (
        "no page states it for the shell: derived from the plugs"
    )


def test_the_worked_number_of_the_brief_has_six_cavities_of_22d() -> None:
    """9-35 is 6 x 22D, code A35: 38999 series catalogue (manufacturer reproduction) p6 and p10."""
    name = _part("connector", "D38999/26WA35SN").text("insert")
    insert = _part("insert", name or "")
    assert insert.counts("sizes") == {"22D": 6}
    assert insert.items("cavities") == ("1", "2", "3", "4", "5", "6")
    assert insert.fact("sizes") and insert.facts["sizes"].firm


def test_contacts_supplied_and_long_life() -> None:
    """Letters A and B come without contacts, H and J with 1500-cycle ones: same catalogue, p27."""
    assert _part("connector", "D38999/26JJ4AD").yes("contacts supplied") is False
    assert _part("connector", "D38999/20TE26HC").whole("cycles") == 1500
    plain = _part("connector", "D38999/26WA35SN")
    assert plain.yes("contacts supplied") is None and plain.whole("cycles") is None


def test_an_arrangement_the_chart_does_not_print_is_derived_not_confirmed() -> None:
    part = _part("connector", "D38999/26WA99SN")
    assert part.text("insert") == "9-99"
    assert part.facts["insert"].source.status is Status.DERIVED
    assert DRAWER.get("insert", "9-99") is None
    assert _part("connector", "D38999/26WB4PN").facts["insert"].source.status is Status.DERIVED, (
        "11-4 has no code printed"
    )


def test_hermetic_receptacles_claim_no_seal_and_recall_their_style() -> None:
    part = _part("connector", "D38999/21YA35PN")
    assert part.yes("sealed") is None and "sealed" in part.unknown
    assert part.text("class") is None and "class" in part.unknown, "class Y is in no table read"
    assert part.facts["style"].source.status is Status.MEMORY


@pytest.mark.parametrize(
    "number",
    [
        "D38999/26WA35S",  # key missing
        "D38999/26WA35XN",  # no such contact letter
        "D38999/26WA35SF",  # no such key position
        "D38999/26WI35SN",  # letter I is skipped
        "D38999/27WA35SN",  # no such style in the table
        "D38999/32WA35SN",  # a cap
        "D38999/29WA35SN",  # lanyard plug with pins, contact letter sockets
        "d38999/26wa35sn",  # a part number is written in capitals
        "D38999/26WA35SN ",
        "D38999-26WA35SN",
    ],
)
def test_a_number_that_does_not_decode_completely_is_not_decoded(number: str) -> None:
    assert DRAWER.get("connector", number) is None


# The D-sub numbers are recalled: M24308/2 crimp receptacle with sockets, /4 crimp plug with pins, dash 1 to 5.
@pytest.mark.parametrize(("dash", "insert"), [(1, "DE-9"), (2, "DA-15"), (3, "DB-25"), (4, "DC-37"), (5, "DD-50")])
@pytest.mark.parametrize(("sheet", "style", "gender"), [(2, "receptacle", "socket"), (4, "plug", "pin")])
def test_d_sub(sheet: int, dash: int, insert: str, style: str, gender: str) -> None:
    part = _part("connector", f"M24308/{sheet}-{dash}")
    assert (part.text("insert"), part.text("style"), part.text("gender")) == (insert, style, gender)
    assert part.yes("sealed") is False
    assert {fact.source.status for fact in part.facts.values()} == {Status.MEMORY}


def test_wire_number() -> None:
    """M22759/34-22-948 is size 22, white, stripes yellow and gray: AC 21-99 section 2 chapter 2."""
    part = _part("wire", "M22759/34-22-948")
    assert (part.text("spec"), part.text("gauge"), part.text("digits")) == ("M22759/34", "22 AWG", "948")
    assert part.items("colours") == ("white", "yellow", "gray")
    assert {part.facts[name].source.status for name in ("spec", "gauge", "digits", "colours")} == {Status.CONFIRMED}
    assert part.text("insulation") == "XL-ETFE, normal weight (dual wall)"
    assert part.facts["insulation"].source.status is Status.MEMORY


def test_the_society_prefix_is_the_same_wire() -> None:
    assert _part("wire", "AS22759/16-22-9") == _part("wire", "M22759/16-22-9")
    assert _part("wire", "AS22759/16") == _part("wire", "M22759/16")


def test_a_wire_number_without_colour_or_of_an_unlisted_sheet() -> None:
    bare = _part("wire", "M22759/16-22")
    assert bare.items("colours") is None and {"digits", "colours"} <= set(bare.unknown)
    other = _part("wire", "M22759/99-22-9")
    assert other.text("gauge") == "22 AWG" and other.text("insulation") is None and other.span("od") is None
    assert _part("wire", "M22759/16-02-9").text("gauge") is None, "02 may be 2/0 or a slip: left open"


@pytest.mark.parametrize(
    "number", ["M22759/16-22-", "M22759/16-AWG22-9", "M22759-16-22", "M22759/16 22 9", "22759/16-22-9"]
)
def test_a_wire_number_of_another_form_is_not_decoded(number: str) -> None:
    assert DRAWER.get("wire", number) is None


def test_cable_number_is_recalled_throughout() -> None:
    """TG = M22759/18, T = tin-coated round braid, 14 = ETFE: from memory; core order AC 43.13-1B par. 11-78c p11-37."""
    part = _part("cable", "M27500-22TG2T14")
    assert (part.text("gauge"), part.text("spec"), part.whole("cores")) == ("22 AWG", "M22759/18", 2)
    assert (part.text("shield"), part.text("jacket")) == ("tin-coated copper round braid", "ETFE extruded")
    assert part.items("core colours") == ("white", "blue")
    recalled = {name for name, fact in part.facts.items() if fact.source.status is Status.MEMORY}
    assert recalled == {"gauge", "basic wire", "spec", "cores", "shield", "jacket"}


@pytest.mark.parametrize(
    "number", ["M27500-22QQ2T14", "M27500-22TG0T14", "M27500-22TG2X14", "M27500-22TG2T77", "M27500A22TG2T14"]
)
def test_a_cable_number_with_an_unknown_code_is_not_decoded(number: str) -> None:
    assert DRAWER.get("cable", number) is None


def test_a_cable_of_more_cores_than_the_order_names_leaves_the_colours_open() -> None:
    part = _part("cable", "M27500-22SB4T23")
    assert part.items("core colours") is None and "core colours" in part.unknown
