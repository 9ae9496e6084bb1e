"""How people spell ends, cavities, gauges, colours, lengths and spares; what is not plain is given back unread.

Each reader returns what it understood and what is left over as a note, or says why it did not understand. Nothing here
chooses between two meanings.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from harnesscheck import units
from harnesscheck.place import CAVITY, REFERENCE

SPARE = re.compile(
    r"\W*(?:n/?c|not connected|no connect(?:ion)?|n\.c\.|not used|unused|spare[ s]?\d*|available|empty|open cavity|"
    r"no wire|nicht (?:belegt|verbunden|angeschlossen|benutzt)|unbelegt|unbenutzt|frei|libre|"
    r"non connecté|-+|\.|none|blank|plug(?:ged)?|sealing plug)\W*",
    re.IGNORECASE,
)
"""A cavity that is stated to carry nothing."""
RESERVED = re.compile(
    r"\W*(?:reserved?|do not (?:connect|use)|dnc|dnu|not supplied|unsupported|factory use(?: only)?)\b.*", re.IGNORECASE
)
"""Nothing is to be connected, which does not say that nothing is inside: not a spare."""
UNSTATED = re.compile(
    r"\W*(?:tbd|tba|tbc|unknown|variable|varies|verify|any|per harness|per panel location|as required|n/?a|see notes?|"
    r"not recorded|gauge not recorded|not terminated|to suit|unlabeled|-+|same as .*|\*?carry .*|\?+|as needed|"
    r"per .* location)\W*",
    re.IGNORECASE,
)
"""Words by which a person says that the value is not known."""
TOTALS = re.compile(r"(?:grand |sub-?)?(?:total|sum|subtotal|summe|gesamt)s?\b.*", re.IGNORECASE)
SPLICE = re.compile(r"SPL?[-_ ]?\d+[A-Z]?|SPLICE[-_ ]?\w{0,8}", re.IGNORECASE)
GROUND = re.compile(
    r"GS[-_ ]?\d+|GND[-_ ]?\d*|"
    r"(?:chassis|frame|airframe|engine|body|firewall|panel|avionics)?[-_ ]?(?:ground|earth)"
    r"(?:[-_ ]?(?:stud|lug|bus|point|bar))?[-_ ]?\d*|chassis(?: stud)?",
    re.IGNORECASE,
)
BREAKER = re.compile(r"CB[-_ ]?\d+[A-Z]?", re.IGNORECASE)
"""A circuit breaker; its ends are the terminals ``line`` (bus side) and ``load``."""
RETIRED = re.compile(r"\b(?:retired|deleted|obsolete|removed|superseded|merged into)\b", re.IGNORECASE)
_DESIGNATOR = r"[A-Za-z]{1,6}\d{1,4}[A-Za-z]?"
_NUMBERED = re.compile(r"\d{1,3}|[A-Za-z]|[A-Za-z]\d{1,3}|\d{1,3}[A-Za-z]")


@dataclass(frozen=True, slots=True)
class End:
    """One end of a wire: the part as typed, the cavity as typed (empty: none given), what stood behind it."""

    ref: str
    cavity: str = ""
    note: str = ""


class NotPlainError(ValueError):
    """A text that has no plain meaning; ``remedy`` says how to write it."""

    def __init__(self, reason: str, remedy: str = "") -> None:
        super().__init__(reason)
        self.reason = reason
        self.remedy = remedy


def end(text: str, known: frozenset[str] = frozenset(), dash: bool = False) -> End:
    """An end with reference and cavity in one cell. Raises ``NotPlainError``.

    ``known`` are names that are parts for certain; with ``dash`` a dash parts reference and cavity.

    >>> end("PS1:+V"), end("H2-5"), end("J1 pin 3"), end("Coil (K1-13)")
    (End(ref='PS1', cavity='+V', note=''), End(ref='H2', cavity='5', note=''), End(ref='J1', cavity='3', note=''), \
End(ref='K1', cavity='13', note='Coil'))
    """
    said = text.strip()
    if re.search(r"(?i)\bspliced?\b.*\bon\b|\bt-?tap|\btapped\b|\band\b|;|,|\bor\b|&", said) and said not in known:
        raise NotPlainError(f"{said!r} tells of more than one point", "write one row for each wire, with a splice SP1")
    bracket = re.fullmatch(r"(.+?)\s*\(([^()]+)\)", said)
    short = bracket and re.fullmatch(r"\d{1,3}|[A-Za-z]{1,2}|[A-Za-z]\d{1,2}", bracket[2].strip())
    if bracket and said not in known and not (short and re.fullmatch(_DESIGNATOR, bracket[1])):
        inner = _one_end(bracket[2].strip(), known, dash)
        outer = _one_end(bracket[1].strip(), known, dash)
        if inner.cavity and not outer.cavity:
            return End(inner.ref, inner.cavity, bracket[1].strip())
        if outer.cavity and not inner.cavity:
            return End(outer.ref, outer.cavity, bracket[2].strip())
        if inner.cavity and outer.cavity:
            raise NotPlainError(f"{said!r} names two cavities", "keep one, and put the other into a note")
    return _one_end(said, known, dash)


def _one_end(said: str, known: frozenset[str], dash: bool) -> End:
    if said in known:
        return End(said)
    for pattern in (
        r"([^:]+?)\s*:\s*(.+)",
        r"(.+?)[ ,-]+(?:pin|cavity|cav|terminal|term)\.?\s*#?\s*(\S+)",
        rf"({_DESIGNATOR})[./](\w{{1,4}})",
        rf"({_DESIGNATOR})\s*\((\w{{1,3}})\)",
        rf"({_DESIGNATOR})\s*#\s*(\w{{1,3}})",
        rf"({_DESIGNATOR})-({_NUMBERED.pattern})",
    ):
        found = re.fullmatch(pattern, said, re.IGNORECASE)
        if found:
            return End(found[1].strip(), found[2].strip())
    parts = said.rpartition("-")
    if parts[1] and (dash or parts[0] in known):
        return End(parts[0], parts[2])
    return End(said)


def cavities(text: str) -> list[str]:
    """The cavity, or several, that a cell names. Raises ``NotPlainError`` where it may be one name or several.

    >>> cavities("C2, C3 and C4"), cavities("pin 12"), cavities("+28V"), cavities("4/5/6")
    (['C2', 'C3', 'C4'], ['12'], ['+28V'], ['4', '5', '6'])
    """
    said = re.sub(r"(?i)^(?:pins?|cavit(?:y|ies)|terminals?)[ .#]+(?=\S)", "", text.strip())
    parts = [p.strip() for p in re.split(r"\s*(?:,|;|&|\band\b|\n)\s*", said)]
    if len(parts) > 1:
        if all(_NUMBERED.fullmatch(part) for part in parts):
            return parts
        raise NotPlainError(f"{text!r} may be one cavity or several", "write one row for each cavity")
    joined = re.split(r"[/+]", said)
    if len(joined) > 1 and all(_NUMBERED.fullmatch(part) for part in joined):
        if len(joined) > 2 or (joined[0][0].isalpha() and len(joined[0]) > 1 and joined[1][0].isalpha()):
            return joined
        raise NotPlainError(f"{text!r} may be one cavity or two", "write one row for each cavity")
    bracket = re.fullmatch(r"(\w{1,5})\s*\(([^()]+)\)", said)
    if bracket and not said[:1].isspace():
        return [bracket[1]]
    return [said]


def cavity_range(text: str) -> list[str] | None:
    """``['7', '8', '9', '10']`` of ``7-10``; None when the text is no such range. It may be a name all the same."""
    found = re.fullmatch(
        r"(?:pins?\s+|terminals?\s+)?(\d{1,3})\s*(?:-|to|thru|through|bis|\.\.+)\s*(\d{1,3})",
        text.strip(),
        re.IGNORECASE,
    )
    if not found or not int(found[1]) < int(found[2]) <= int(found[1]) + 200:
        return None
    return [str(n) for n in range(int(found[1]), int(found[2]) + 1)]


def reference(text: str) -> str:
    """A name that our files accept as a reference; the same text when it is one already, empty when none can be made.

    >>> reference("PWR-IN"), reference("K5"), reference("12V bus")
    ('PWR_IN', 'K5', 'X12V_bus')
    """
    said = text.strip()
    if REFERENCE.fullmatch(said):
        return said
    made = re.sub(r"_+", "_", re.sub(r"[^A-Za-z0-9_.]", "_", said)).strip("_")
    made = made if made[:1].isalpha() else f"X{made}"
    return made[:31].rstrip("_") if len(made) > 1 and REFERENCE.fullmatch(made[:31]) else ""


def is_cavity(text: str) -> bool:
    """True for a name that may stand on an insert."""
    return CAVITY.fullmatch(text) is not None


@dataclass(frozen=True, slots=True)
class Read:
    """What was understood of a value (empty: nothing is stated), what is kept as a note, and what was not taken."""

    value: str = ""
    note: str = ""
    refused: str = ""


_AWG = re.compile(
    r"(?:(?:AWG|#)\s*([1-4]/0|\d{1,2})|([1-4]/0|\d{1,2})\s*-?\s*(?:AWG|ga\.?|gauge|gage)\b|([2-4]/0)\b)\s*(.*)",
    re.I | re.S,
)
_MM2 = re.compile(r"(\d{1,3}(?:[.,]\d{1,3})?|\.\d{1,3})\s*(?:mm2|mm²|mm\^2|sq\.? ?mm|qmm)\s*(.*)", re.I | re.S)


@lru_cache(maxsize=4096)
def gauge(text: str, unit: str = "") -> Read:
    """A conductor size. ``unit`` is what a bare number means: ``awg``, ``mm2`` or empty for not known.

    >>> gauge("22AWG TXL"), gauge("20ga").value, gauge("18-20 AWG").refused
    (Read(value='22 AWG', note='TXL', refused=''), '20 AWG', 'a range of sizes')
    """
    said = text.strip()
    if not said or UNSTATED.fullmatch(said):
        return Read(note=said if said.strip("-? ") else "")
    if re.match(r"(?i)\d+\s*[x×]\s*\d", said):
        return Read(refused="a cable of several cores: write one row for each core")
    if re.match(r"(?i)\d+(?:/0)?\s*(?:AWG)?\s*(?:-|to|or)\s*\d+(?:/0)?\s*(?:AWG|ga)?", said) and not re.match(
        r"(?i)\d+-?(?:awg|ga)", said
    ):
        return Read(refused="a range of sizes")
    metric, found = _MM2.match(said), _AWG.match(said)
    if metric:
        return _sized(f"{metric[1].replace(',', '.')} mm2", metric[2])
    if found:
        if re.match(r"(?i)\s*(?:or|to|/|-)\s*\d", found[4]):
            return Read(refused="a range of sizes")
        return _sized(f"{found[1] or found[2] or found[3]} AWG", found[4])
    bare = re.fullmatch(r"\d{1,3}(?:[.,]\d{1,3})?", said)
    if bare and unit:
        return _sized(f"{said.replace(',', '.')} {'AWG' if unit == 'awg' else 'mm2'}", "")
    if bare:
        return Read(refused="a number without a unit: AWG or mm2")
    if re.fullmatch(r"(?i)RG-?\s?\d{1,4}\w?.*", said):
        return Read(value=f"type:{said.split()[0]}", note=said)
    return Read(refused="not a conductor size")


def _sized(value: str, rest: str) -> Read:
    try:
        return Read(str(units.gauge(value)), rest_of(rest))
    except units.UnitError as error:
        return Read(refused=error.message)


def rest_of(text: str) -> str:
    """What stands behind a value, without its brackets."""
    said = text.strip(" ,;\n")
    said = said[1:].lstrip() if re.match(r"\.(?:\s|$)", said) else said  # of an abbreviation: 22 ga.
    return said[1:-1] if re.fullmatch(r"\([^()]*\)", said) else said.replace("\n", " ")
