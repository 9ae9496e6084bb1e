"""Lengths as lists write them: marks, fractions, decimal points and commas, tolerances. Nothing is read in part."""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache

from harnesscheck import units
from harnesscheck.formats._lists.spellings import UNSTATED, Read, rest_of

_NAMES = {"inch": "in", "inches": "in", '"': "in", "''": "in", "feet": "ft", "'": "ft", "foot": "ft", "meter": "m",
          "metre": "m", "meters": "m", "metres": "m", "zoll": "in", "mtr": "m"}  # fmt: skip
_UNIT = r"(?:mm|cm|m(?:et(?:er|re)s?|tr)?|inch(?:es)?|in|feet|foot|ft|zoll|\"|''|')"
_NUMBER = r"(?:\d{1,3}(?: \d{3})+(?:[.,]\d+)?(?!\d)|\d[\d.,]*(?<![.,])|[.,]\d+)"
_MIXED = r"(?:(?:\d+[ -])?\d+/\d+)"
_FEET = re.compile(
    rf"(?P<feet>\d+)\s*(?:'|ft\.?|feet|foot)[\s,-]*(?P<inches>{_MIXED}|{_NUMBER})\s*(?:\"|''|in(?:ch(?:es)?)?\.?)?",
    re.I,
)
_ONE = re.compile(rf"(?P<number>{_MIXED}|{_NUMBER})\s*(?P<unit>{_UNIT}(?![A-Za-z\"']))?\.?(?P<rest>.*)", re.I | re.S)
_GROUPED = re.compile(r"\d{1,3}([.,])\d{3}")


def point_of(texts: Iterable[str]) -> str:
    """The decimal sign of a column, as far as its numbers tell: ``.`` or ``,``, empty when they do not or disagree.

    >>> point_of(["1.200", "950,5"]), point_of(["41.5", "1,200"]), point_of(["1,200"])
    (',', '.', '')
    """
    found = set()
    for text in texts:
        for number in re.findall(r"\d*[.,][\d.,]*\d", text):
            signs = [c for c in number if c in ".,"]
            last = re.split(r"[.,]", number)[-1]
            if len(set(signs)) == 2 or (len(signs) == 1 and (len(last) != 3 or number[0] in "0.,")):
                found.add(signs[-1])
    return found.pop() if len(found) == 1 else ""


@lru_cache(maxsize=4096)
def length(text: str, unit: str = "", point: str = "") -> Read:
    """A laid length. A limit, a range, a sum or an estimate is no length; a tolerance is kept as a note.

    ``unit`` is what a bare number means, ``point`` the decimal sign of the column where that is known.

    >>> length("80 mm ± 5 mm"), length('12"').value, length("4-8 ft").refused
    (Read(value='80 mm', note='± 5 mm', refused=''), '12 in', 'a range, not a length')
    >>> length("0,85", "m").value, length("14 1/4 in").value, length("3' 6 1/2" + '"').value, length("1,200 mm").refused
    ('0.85 m', '14.25 in', '3 ft 6.5 in', '1,200 may be 1.2 or 1200')
    """
    said = text.strip()
    if not said or UNSTATED.fullmatch(said):
        return Read(note=said if said.strip("-? ") else "")
    if re.match(r"(?i)<|>|within|under|over|up to|max|min|less|at least", said) or re.search(
        r"(?i)or (?:short|long|less|more)|\bmax|\bmin\b", said
    ):
        return Read(refused="a limit, not a length")
    if re.match(r"(?i)~|approx|about|circa|ca\.?\s|est", said):
        return Read(refused="an estimate, not a length")
    feet = _FEET.fullmatch(said)
    if feet:
        inches, fault = _number(feet["inches"], point)
        return Read(refused=fault) if fault else _long(f"{int(feet['feet'])} ft {inches} in", "")
    found = _ONE.fullmatch(said)
    if not found:
        return Read(refused="not a length")
    rest = found["rest"]
    if re.match(r"(?i)\s*(?:-|to|\.\.+)\s*\d", rest):
        return Read(refused="a range, not a length")
    # What stands behind may be a tolerance or words; further numbers would mean that only half was read.
    if rest and (
        rest[0].isalnum() or re.search(r"\d", re.sub(r"^\s*(?:±|\+/?-|\+ ?\d[^()]*/ ?-|\().*", "", rest, flags=re.S))
    ):
        return Read(refused="not a length")
    said_unit = (found["unit"] or unit).casefold()
    said_unit = _NAMES.get(said_unit, said_unit)
    if not said_unit:
        return Read(refused="a number without a unit")
    if "/" in found["number"] and said_unit not in ("in", "ft"):
        return Read(refused="a fraction of a metric unit")
    typed = found["number"]
    if said_unit == "mm" and not point and _GROUPED.fullmatch(typed) and typed[0] != "0":
        # No wire is laid to a thousandth of a millimetre: the point may as well part thousands.
        return Read(refused=f"{typed} may be {typed.replace(',', '.').rstrip('0')} or {re.sub('[.,]', '', typed)}")
    if said_unit in ("m", "ft") and _GROUPED.fullmatch(typed) and point and point not in typed and typed[0] != "0":
        return Read(refused=f"{typed} {said_unit} may be {re.sub('[.,]', '', typed)}, and that is no wire of a harness")
    number, fault = _number(typed, point)
    return Read(refused=fault) if fault else _long(f"{number} {said_unit}", rest)


def _number(typed: str, point: str) -> tuple[str, str]:
    """A number with a decimal point, or why it is not plain."""
    if "/" in typed:
        whole, _, part = re.sub(r"[ -]", " ", typed).rpartition(" ")
        top, bottom = part.split("/")
        if not int(bottom) or int(top) >= int(bottom):
            return "", "not a fraction"
        return _decimal(Fraction(int(whole or 0)) + Fraction(int(top), int(bottom))), ""
    if " " in typed:  # 1 200,5: the blank parts thousands, and what follows is the decimal sign
        return typed.replace(" ", "").replace(",", "."), ""
    signs = {c for c in typed if c in ".,"}
    groups = re.split(r"[.,]", typed)
    if _GROUPED.fullmatch(typed) and typed[0] != "0":
        if not point and "," in typed:
            return "", f"{typed} may be {typed.replace(',', '.').rstrip('0')} or {typed.replace(',', '')}"
        return (typed.replace(",", "."), "") if (point or ".") in typed else (re.sub(r"[.,]", "", typed), "")
    if not signs or re.fullmatch(r"\d*[.,]\d+", typed):
        made = typed.replace(",", ".")
        return (f"0{made}" if made[0] == "." else made), ""
    decimal = max(typed.rfind("."), typed.rfind(","))
    if len(signs) == 1:  # 1.200.000: the sign parts thousands
        decimal = len(typed)
    thousands = groups[: -1 if len(signs) == 2 else None]
    if any(len(group) != 3 for group in thousands[1:]) or typed.count(typed[decimal : decimal + 1] or "\0") > 1:
        return "", "not a number"
    whole, part = re.sub(r"\D", "", typed[:decimal]), typed[decimal + 1 :]
    return (f"{whole}.{part}" if part else whole), ""


def _decimal(value: Fraction) -> str:
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


def _long(value: str, rest: str) -> Read:
    try:
        units.length(value)
    except units.UnitError as error:
        return Read(refused=error.message)
    return Read(value, rest_of(rest))
