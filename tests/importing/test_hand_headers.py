"""What the head of a column means: every word of it written down here a second time, as it was decided."""

from __future__ import annotations

import pytest

from harnesscheck.formats._lists import headers
from harnesscheck.formats._lists.headers import FROM, TO, Head, head, words

FIELDS = {
    "id": "wire id|wire no|wire number|wire mark|wire label|wire name|id|no|cable id|#|wire num|line no|item no|"
    "wire code|marking|cable no|wire ref|nr|lfd nr|draht nr|ader nr|leitung nr|kabel nr|repere|numero",
    "wire": "wire|wires|cable|conductor",
    "signal": "signal|signal name|circuit|circuit name|net|net name|function|pin function|pin name|purpose|usage|use|"
    "name|description|label|designation|terminal name|assignment|funktion|bezeichnung|benennung|fonction",
    "gauge": "gauge|awg|wire gauge|wire size|cable size|ga|mm2|mm²|cross section|wire awg|csa|gage|wire gage|"
    "conductor size|gauge awg|awg gauge|querschnitt|leiterquerschnitt|calibre|sezione|seccion",
    "size": "size|size type",
    "colour": "colour|color|wire colour|wire color|harness wire color|harness wire colour|colors|colours|col|"
    "insulation colour|insulation color|jacket color|jacket colour|farbe|aderfarbe|couleur|colore|core|core colour|"
    "core color",
    "length": "length|distance|est length|approx|wire length|cut length|cable length|len|approx length|"
    "estimated length|laenge|kabellaenge|longueur|longitud|lunghezza",
    "type": "wire type|wire part|wire part number|wire p n|wire pn|wire spec|cable type|insulation|specification|spec",
    "contact": "contact|contact size|contact part|contact p n|contact pn|contact part number|crimp|a termination|"
    "b termination|termination|terminations|termination a|termination b|terminal type|terminal part|"
    "terminal part number|terminal p n|from termination|to termination|from contact|to contact",
    "note": "note|notes|details|remark|remarks|comment|comments|info|variant|option|bemerkung|bemerkungen|anmerkung|"
    "hinweis|kommentar|remarque|remarques",
    "ends": "ends|endpoints|nodes|connections|connected to|pins connected|members|points",
    "part": "part|part number|part no|p n|pn|mpn|manufacturer part number|connector part|connector part number|"
    "connector type",
    "gender": "gender|sex|contacts gender|male female",
    "count": "cavity count|positions|ways|pin count|no of pins|number of pins|contact count|pins count|circuits|"
    "no of ways",
    "mates": "mates|mates with|mate|mating ref",
    "status": "status|state",
    "lead": "wire 1|wire 2|wire 3|1st wire|2nd wire|wire a|wire b",
    "which": "end|wire end|side",
    "more": "end 3|end 4|end 5|end c|end d|side c|to 2|to 3",
    "voltage": "voltage|current|amps|fuse|protection|rating|max current|volts",
    "block": "rev|revision|date|by|approved|drawn|checked|ecn|change|issue|datum",
    "quantity": "qty|quantity|price|cost|vendor|supplier|link|url",
}
SIDES = {
    FROM: "from|source|src|start|origin|end a|a end|side a|a side|end 1|side 1|near end|von|quelle|de|depuis|depart|"
    "origine|desde|origen|partenza|1st",
    TO: "to|destination|dest|dst|target|end b|b end|side b|b side|end 2|side 2|goes to|connects to|wired to|runs to|"
    "far end|sink|nach|ziel|vers|arrivee|hasta|destino|arrivo|2nd",
}
ONLY_BESIDE = {FROM: "a|1", TO: "b|2"}
PINS = "pin|pinnumber|pins|cavity|cav|terminal|term|position|pos|way|contact no|contact number|pin no|pin number|" \
    "cavities|pole|hole|stift|klemme|broche|borne|borna|morsetto"  # fmt: skip
REFS = "connector|conn|ref|reference|refdes|designator|device|unit|component|plug|item|module|equipment|part ref|" \
    "rail|header|location|node|stecker|geraet|bauteil|connecteur|appareil|conector|connettore|subsystem|box|board|" \
    "assembly|lru"  # fmt: skip


@pytest.mark.parametrize("field", FIELDS)
def test_headers_of_a_field(field: str) -> None:
    """Those further to the left are the surer ones; only what is crimped on is told for one end."""
    for rank, said in enumerate(FIELDS[field].split("|")):
        found = head(said.title() if said.isascii() else said)
        assert found is not None, said
        assert found.field == field, said
        assert found.rank == (rank if field != "more" else 0), said
        one_sided = field == "contact" and set(said.split()) & {"a", "b", "from", "to"}
        side = (FROM if set(said.split()) & {"a", "from"} else TO) if one_sided else ""
        assert (found.side, found.named) == (side, ""), said
    assert set(headers.FIELDS) == set(FIELDS)
    assert headers.FIELDS[field] == tuple(FIELDS[field].split("|"))


@pytest.mark.parametrize("side", SIDES)
def test_headers_of_an_end(side: str) -> None:
    for said in SIDES[side].split("|"):
        assert head(said) == Head("end", side), said
        assert head(f"{said} pin") == Head("pin", side), said
        assert head(f"{said.upper()} Connector") == Head("ref", side), said
    for said in ONLY_BESIDE[side].split("|"):
        assert head(said) is None, said
        assert head(f"{said} pin") == head(f"Cavity {said}") == Head("pin", side), said
        assert head(f"{said} plug") == head(f"Connector {said}") == Head("ref", side), said
        assert head(f"{said} something") is None, said
        assert head(f"something {said}") is None, said
    assert head("1st something") is head("something 2nd") is None
    assert headers.SIDES[side] == (*SIDES[side].split("|"), *ONLY_BESIDE[side].split("|"))


def test_headers_of_cavities_and_of_parts() -> None:
    for said in PINS.split("|"):
        assert head(said) == Head("pin"), said
        assert head(f"from {said}") == Head("pin", FROM), said
    for said in REFS.split("|"):
        assert head(said) == Head("ref", rank=int(said == "item")), said  # as often the number of a row
        assert head(f"{said} to") == Head("ref", TO, rank=int(said == "item")), said
    assert {p.replace("_", " ") for p in headers.PINS} == set(PINS.split("|"))
    assert {r.replace("_", " ") for r in headers.REFS} == set(REFS.split("|"))


@pytest.mark.parametrize(("text", "said"), [
    ("Wire Gauge (AWG)", "wire gauge"), ("Length [mm]", "length"), ("Wire\nNo.", "wire no"), ("#", "#"), (" # ", "#"),
    ("Wire #", "wire no"), ("# of ways", "# of ways"), ("LÄNGE", "laenge"), ("Gerät", "geraet"), ("Ü", "ue"),
    ("Öse", "oese"), ("Repère", "repere"), ("mm²", "mm²"), ("(V)", "v"), ("--", ""), ("", ""), ("A/B", "a b"),
    ("(a) b (c)", "b"), ("[x]", "x"),
])  # fmt: skip
def test_the_words_of_headers(text: str, said: str) -> None:
    """In lower case, without signs, accents and what stands in brackets, unless nothing else is there."""
    assert words(text) == said


@pytest.mark.parametrize(("text", "field", "side", "unit", "named", "rank"), [
    ("Wire Gauge (AWG)", "gauge", "", "awg", "", 2), ("AWG", "gauge", "", "awg", "", 1),
    ("mm²", "gauge", "", "mm2", "", 7),
    ("mm2", "gauge", "", "mm2", "", 6), ("ga", "gauge", "", "awg", "", 5), ("AWG gauge", "gauge", "", "awg", "", 15),
    ("Gauge", "gauge", "", "", "", 0), ("Gauge mm²", "gauge", "", "mm2", "", 0),
    ("Gauge [mm²]", "gauge", "", "mm2", "", 0),
    ("Length (mm)", "length", "", "mm", "", 0), ("Length [cm]", "length", "", "cm", "", 0),
    ("Length m", "length", "", "m", "", 0), ("Länge (mm)", "length", "", "mm", "", 10),
    ("Cut length (inches)", "length", "", "in", "", 5), ("Cut length inches", "length", "", "in", "", 5),
    ("Length inch", "length", "", "in", "", 0), ("Length (in.)", "length", "", "in", "", 0),
    ("Length (feet)", "length", "", "ft", "", 0), ("Length feet", "length", "", "ft", "", 0),
    ("Length ft.", "length", "", "ft", "", 0), ('Length "', "length", "", "in", "", 0),
    ("Length cm", "length", "", "cm", "", 0),
    ("Length in", "length", "", "in", "", 0), ("Length (yards)", "length", "", "", "", 0),
    ("Size (AWG)", "size", "", "awg", "", 0),
    ("Size AWG", "size", "", "awg", "", 0), ("Size ga", "size", "", "awg", "", 0),
    ("Size mm2", "size", "", "mm2", "", 0),
    ("Section (mm²)", "gauge", "", "mm2", "", 0),
    ("Max length", "voltage", "", "", "", 0), ("minimum size", "voltage", "", "", "", 0),
    ("Length (max)", "voltage", "", "", "", 0),
    ("Length [min. mm]", "voltage", "", "", "", 0), ("Maximum gauge", "voltage", "", "", "", 0),
    ("min wire", "voltage", "", "", "", 0),
    ("Max Current", "voltage", "", "", "", 6),
    ("End 6", "more", "", "", "", 0), ("node 3", "more", "", "", "", 0), ("Point C", "more", "", "", "", 0),
    ("destination 9", "more", "", "", "", 0), ("To 2", "more", "", "", "", 0), ("connection h", "more", "", "", "", 0),
    ("OEM Pin", "pin", "", "", "OEM", 0), ("J1 Cavity", "pin", "", "", "J1", 0),
    ("Loom (old) pin", "pin", "", "", "Loom (old", 0),
    ("Connector Pin", "pin", "", "", "", 0), ("Pin ID", "pin", "", "", "", 0), ("Cavity nr", "pin", "", "", "", 0),
    ("Pos. No.", "pin", "", "", "", 0), ("From OEM pin", "pin", FROM, "", "", 0), ("Contact No.", "pin", "", "", "", 0),
    ("Terminal number", "pin", "", "", "", 0), ("Pin J5 name", "pin", "", "", "Pin J5 name", 0),
    ("Connector name", "ref", "", "", "", 0), ("Reference designator", "ref", "", "", "", 0),
    ("Device ID", "ref", "", "", "", 0), ("Box no", "ref", "", "", "", 0),
    ("To connector reference", "ref", TO, "", "", 0),
    ("From signal", "note", FROM, "", "", 0), ("To colour", "note", TO, "", "", 0), ("To Color", "note", TO, "", "", 0),
    ("Source name", "note", FROM, "", "", 0), ("Dest label", "note", TO, "", "", 0),
    ("From function", "note", FROM, "", "", 0),
    ("Main wire", "wire", "", "", "", 9), ("Lead color", "colour", "", "", "", 9),
    ("Lead colour", "colour", "", "", "", 9),
    ("Lead gauge", "gauge", "", "", "", 9), ("Lead AWG", "gauge", "", "awg", "", 9),
    ("Laid length (m)", "length", "", "m", "", 9),
    ("Colour code", "colour", "", "", "", 9), ("Color code", "colour", "", "", "", 9),
    ("Length of cut", "length", "", "", "", 9),
    ("Gauge used", "gauge", "", "", "", 9), ("AWG or so", "gauge", "", "awg", "", 9),
    ("Note for shop", "note", "", "", "", 9),
    ("Notes for shop", "note", "", "", "", 9), ("Signal class", "signal", "", "", "", 9),
    ("colour " + "x" * 33, "colour", "", "", "", 9),
])  # fmt: skip
def test_headers_put_together(text: str, field: str, side: str, unit: str, named: str, rank: int) -> None:
    """Units in brackets and behind, names of connectors, ends, limits,
    and a known word among others (9)."""
    assert head(text) == Head(field, side, unit, named, rank)


@pytest.mark.parametrize("text", [
    "", "--", "(V)", "Section", "Maximal", "To 10", "End i", "colour " + "x" * 34, "Note for the shop",
    "name connector",
    "To wire", "From main colour", "Weather", "Connector colour code", "Length of the cut", "of length x",
])  # fmt: skip
def test_headers_that_say_nothing_known(text: str) -> None:
    """Of a column called so nothing is taken but as a note."""
    assert head(text) is None
