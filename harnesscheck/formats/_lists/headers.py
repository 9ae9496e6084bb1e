"""What the heads of columns are called, and which field each stands for."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

FROM, TO = "from", "to"
SIDES = {
    FROM: ("from", "source", "src", "start", "origin", "end a", "a end", "side a", "a side", "end 1", "side 1",
           "near end", "von", "quelle", "de", "depuis", "depart", "origine", "desde", "origen", "partenza",
           "1st", "a", "1"),
    TO: ("to", "destination", "dest", "dst", "target", "end b", "b end", "side b", "b side", "end 2", "side 2",
         "goes to", "connects to", "wired to", "runs to", "far end", "sink", "nach", "ziel", "vers", "arrivee", "hasta",
         "destino", "arrivo", "2nd", "b", "2"),
}  # fmt: skip
"""Words that say which end of a wire a column is about; the last of each only beside another word."""
_LONGEST = {side: sorted(names, key=len, reverse=True) for side, names in SIDES.items()}
PINS = [
    "pin",
    "pinnumber",
    "pins",
    "cavity",
    "cav",
    "terminal",
    "term",
    "position",
    "pos",
    "way",
    "contact_no",
    "contact_number",
    "pin_no",
    "pin_number",
    "cavities",
    "pole",
    "hole",
    "stift",
    "klemme",
    "broche",
    "borne",
    "borna",
    "morsetto",
]
REFS = [
    "connector",
    "conn",
    "ref",
    "reference",
    "refdes",
    "designator",
    "device",
    "unit",
    "component",
    "plug",
    "item",
    "module",
    "equipment",
    "part_ref",
    "rail",
    "header",
    "location",
    "node",
    "stecker",
    "geraet",
    "bauteil",
    "connecteur",
    "appareil",
    "conector",
    "connettore",
    "subsystem",
    "box",
    "board",
    "assembly",
    "lru",
]
FIELDS: dict[str, tuple[str, ...]] = {
    "id": ("wire id", "wire no", "wire number", "wire mark", "wire label", "wire name", "id", "no", "cable id", "#",
           "wire num", "line no", "item no", "wire code", "marking", "cable no", "wire ref",
               "nr", "lfd nr", "draht nr", "ader nr", "leitung nr", "kabel nr", "repere", "numero"),
    "wire": ("wire", "wires", "cable", "conductor"),
    "signal": ("signal", "signal name", "circuit", "circuit name", "net", "net name", "function", "pin function",
               "pin name", "purpose", "usage", "use", "name", "description", "label", "designation", "terminal name",
               "assignment",
               "funktion", "bezeichnung", "benennung", "fonction"),
    "gauge": ("gauge", "awg", "wire gauge", "wire size", "cable size", "ga", "mm2", "mm²", "cross section",
              "wire awg", "csa", "gage", "wire gage", "conductor size", "gauge awg", "awg gauge",
               "querschnitt", "leiterquerschnitt", "calibre", "sezione", "seccion"),
    "size": ("size", "size type"),
    "colour": ("colour", "color", "wire colour", "wire color", "harness wire color", "harness wire colour", "colors",
               "colours", "col", "insulation colour", "insulation color", "jacket color", "jacket colour",
               "farbe", "aderfarbe", "couleur", "colore", "core", "core colour", "core color"),
    "length": ("length", "distance", "est length", "approx", "wire length", "cut length", "cable length", "len",
               "approx length", "estimated length",
               "laenge", "kabellaenge", "longueur", "longitud", "lunghezza"),
    "type": ("wire type", "wire part", "wire part number", "wire p n", "wire pn", "wire spec", "cable type",
             "insulation", "specification", "spec"),
    "contact": ("contact", "contact size", "contact part", "contact p n", "contact pn", "contact part number",
                "crimp", "a termination", "b termination", "termination", "terminations", "termination a",
                "termination b", "terminal type", "terminal part", "terminal part number", "terminal p n",
                "from termination", "to termination", "from contact", "to contact"),
    "note": ("note", "notes", "details", "remark", "remarks", "comment", "comments", "info", "variant", "option",
               "bemerkung", "bemerkungen", "anmerkung", "hinweis", "kommentar", "remarque", "remarques"),
    "ends": ("ends", "endpoints", "nodes", "connections", "connected to", "pins connected", "members", "points"),
    "part": ("part", "part number", "part no", "p n", "pn", "mpn", "manufacturer part number", "connector part",
             "connector part number", "connector type"),
    "gender": ("gender", "sex", "contacts gender", "male female"),
    "count": ("cavity count", "positions", "ways", "pin count", "no of pins", "number of pins", "contact count",
              "pins count", "circuits", "no of ways"),
    "mates": ("mates", "mates with", "mate", "mating ref"),
    "status": ("status", "state"),
    "lead": ("wire 1", "wire 2", "wire 3", "1st wire", "2nd wire", "wire a", "wire b"),
    "which": ("end", "wire end", "side"),
    "more": ("end 3", "end 4", "end 5", "end c", "end d", "side c", "to 2", "to 3"),
    "voltage": ("voltage", "current", "amps", "fuse", "protection", "rating", "max current", "volts"),
    "block": ("rev", "revision", "date", "by", "approved", "drawn", "checked", "ecn", "change", "issue", "datum"),
    "quantity": ("qty", "quantity", "price", "cost", "vendor", "supplier", "link", "url"),
}  # fmt: skip
"""Field to what its column is called, in lower case without signs. A field of the first column of a sort wins."""


@dataclass(frozen=True, slots=True)
class Head:
    """What the head of a column says: the field, the end it is about, a unit, and a name it holds (``OEM Pin``)."""

    field: str
    side: str = ""
    unit: str = ""
    named: str = ""
    rank: int = 0
    """How sure: 0 when a word of the table stands alone in it."""


_WORDS = {name: (field, rank) for field, names in FIELDS.items() for rank, name in enumerate(names)}
_UNIT = re.compile(r"[(\[ ](mm2|mm²|awg|mm|cm|m|in|inch|inches|ft|feet|\")\.?[)\]]?$")


_THIRD = re.compile(
    r"(?:end|node|point|side|destination|dest|connection) (?:[3-9]|[c-h])|(?:to|destination|dest) [2-9]"
)
"""A third end of a wire, and those behind it."""
_BARE_UNITS = ("mm", "cm", "m", "in", "inch", "inches", "ft", "feet", "mm2", "mm²", "awg", "ga")
_UMLAUTS = {ord("ä"): "ae", ord("ö"): "oe", ord("ü"): "ue"}


def words(text: str) -> str:
    """A head in lower case, without signs and units: ``Wire Gauge (AWG)`` is ``wire gauge``."""
    low = text.casefold().replace("\n", " ").translate(_UMLAUTS)
    low = "".join(c for c in unicodedata.normalize("NFD", low) if not unicodedata.combining(c))
    low = re.sub(r"\(.*?\)|\[.*?\]", " ", low)
    low = low if re.search(r"[a-z0-9²]", low) else text.casefold()
    low = "#" if low.strip() == "#" else re.sub(r"#", " no ", low) if re.search(r"#\s*$", low) else low
    return " ".join(re.sub(r"[^a-z0-9²#]+", " ", low).split())


@lru_cache(maxsize=4096)
def head(text: str) -> Head | None:
    """The meaning of the head of one column; None when it says nothing known.

    >>> head("From Pin"), head("Wire Gauge (AWG)").unit
    (Head(field='pin', side='from', unit='', named='', rank=0), 'awg')
    """
    said = words(text)
    unit = _UNIT.search(text.casefold().strip())
    if not said or len(said) > 40:
        return None
    if _THIRD.fullmatch(said):
        return Head("more")
    limit = re.match(r"(?:min|max|minimum|maximum)\b", said) or re.search(r"[(\[](?:min|max)", text.casefold())
    if limit and said not in ("max current",):  # a limit is no value
        return Head("voltage")
    if said == "section" and unit:  # French; without a unit it is a section of the aircraft
        return Head("gauge", "", _unit(unit, said))
    if said in _WORDS:
        field, rank = _WORDS[said]
        side = next((s for s in SIDES for w in SIDES[s] if said.startswith(w + " ") or said.endswith(" " + w)), "")
        return Head(field, side if field == "contact" else "", _unit(unit, said), "", rank)
    bare, _, last = said.rpartition(" ")
    if bare in _WORDS and last in _BARE_UNITS:
        field, rank = _WORDS[bare]
        return Head(field, "", _unit(unit, said), "", rank)
    side, rest = _sided(said)
    if side and not rest:
        return Head("end", side)
    joined = rest.replace(" ", "_")
    tokens = joined.split("_")
    if (
        joined in PINS
        or tokens[-1] in PINS
        or (tokens[-1] in ("no", "nr", "number", "name", "id") and tokens[0] in PINS)
    ):
        left = [t for t in tokens if t not in PINS and t not in ("no", "nr", "number", "name", "id")]
        ref = [t for t in left if t in REFS]
        named = "" if side or joined in PINS or not left or len(ref) == len(left) else _named(text)
        return Head("pin", side, "", named)
    if joined in REFS or (set(tokens) <= {*REFS, "name", "id", "no", "designator", "reference"} and tokens[0] in REFS):
        return Head("ref", side, rank=int(joined == "item"))  # an item is as often the number of the row
    if side and joined in ("signal", "name", "label", "function", "color", "colour"):
        return Head("note", side)
    if len(tokens) > 1 and side == "" and tokens[-1] in ("wire", "color", "colour", "gauge", "awg", "length"):
        return Head(_WORDS[tokens[-1]][0], "", _unit(unit, said), "", 9)
    if tokens[0] in ("color", "colour", "length", "gauge", "awg", "note", "notes", "signal") and len(tokens) <= 3:
        return Head(_WORDS[tokens[0]][0], "", _unit(unit, said), "", 9)
    return None


def _named(text: str) -> str:
    """``OEM`` of ``OEM Pin``: the connector that a column of cavities is named after."""
    return re.sub(r"(?i)[\s_#]*\b(?:pins?|cavity|terminal|pos(?:ition)?|no|number)\b[().#:s\s]*$", "", text).strip(
        " :#()"
    )


def _sided(said: str) -> tuple[str, str]:
    for side, names in SIDES.items():
        if said in names and len(said) > 1:
            return side, ""
    for side in SIDES:
        for name in _LONGEST[side]:
            single = len(name) == 1 or name in ("1st", "2nd")
            if said.startswith(name + " "):
                rest = said[len(name) + 1 :]
                if not single or rest.split()[0] in (*PINS, *REFS):
                    return side, rest
            if said.endswith(" " + name):
                rest = said[: -len(name) - 1]
                if not single or rest.split()[-1] in (*PINS, *REFS):
                    return side, rest
    return "", said


def _unit(found: re.Match[str] | None, said: str) -> str:
    last = said.rsplit(maxsplit=1)[-1]
    if last in ("awg", "mm2", "mm²", "mm", "cm", "ga", "inches", "ft"):
        return {"ga": "awg", "mm²": "mm2", "inches": "in"}.get(last, last)
    if found:
        return {"mm²": "mm2", "inch": "in", "inches": "in", "feet": "ft", '"': "in"}.get(found[1], found[1])
    return "awg" if "awg" in said else ""
