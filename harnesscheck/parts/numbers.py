"""Standard part numbers taken apart: each piece becomes a fact with the source of the code table it was read from.

``D38999/26WA35SN`` (shell style, class, shell size and arrangement, contacts, key), ``M22759/16-22-9`` (wire
specification, size, colour digits) and ``M27500-22TG2T14`` (cable). The code tables are data (kind ``code``), so
what is only remembered stays *from memory* here too. A number with an unknown letter is not decoded at all, for a
guess at the rest would be a wrong part; only an unknown class letter (finish) is let through, as an unknown field.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from harnesscheck.parts.part import Fact, Part
from harnesscheck.source import Source, Status

Get = Callable[[str, str], Part | None]
"""Looks a part up by kind and number."""

LAST_AWG = 40
"""Thinnest AWG number ``units.gauge`` reads."""

_D38999 = re.compile(r"D38999/([0-9][0-9])([A-Z])([A-Z])([0-9]{1,3})([A-Z])([A-Z])")
_M22759 = re.compile(r"(M22759/[0-9]{1,3})-([0-9]{1,4})(?:-([0-9]{1,5}))?")
_M27500 = re.compile(r"M27500-([0-9]{1,2})([A-Z]{2})([1-9][0-9]?)([A-Z])([0-9][0-9])")


def plain(kind: str, number: str) -> str:
    """The spelling the drawer uses: wire sold as ``AS22759/16`` is marked and listed as ``M22759/16``."""
    if kind in ("wire", "wire size") and number.startswith("AS22759/"):
        return number[1:].replace("S", "M", 1)
    return number


def decode(kind: str, number: str, get: Get) -> Part | None:
    """The part a standard number stands for; None when the number is of no form known for that kind."""
    if kind == "connector":
        return _connector(number, get)
    if kind == "wire":
        return _wire(plain(kind, number), get)
    if kind == "cable":
        return _cable(number, get)
    return None


def _code(get: Get, scheme: str, place: str, letter: str) -> Part | None:
    return get("code", f"{scheme} {place} {letter}")


def _means(code: Part, value: str) -> Fact:
    """``value`` with the source of the meaning of a code letter."""
    return Fact(value, code.facts["means"].source)


def _connector(number: str, get: Get) -> Part | None:
    found = _D38999.fullmatch(number)
    if not found:
        return None
    style_code, class_code, shell_code, arrangement, contact_code, key_code = found.groups()
    style = _code(get, "D38999", "style", style_code)
    finish = _code(get, "D38999", "class", class_code)
    shell = _code(get, "D38999", "shell", shell_code)
    contact = _code(get, "D38999", "contact", contact_code)
    key = _code(get, "D38999", "key", key_code)
    if not (style and shell and contact and key) or "style" not in style.facts:  # a cap has no style
        return None
    if "gender" in style.facts and style.text("gender") != contact.text("gender"):
        return None
    facts = {
        "family": _means(style, "38999-III"),
        "shell": shell.facts["shell"],
        "insert": _insert(f"{shell.text('shell')}-{arrangement}", f"{shell_code}{arrangement}", shell, get),
        "key": _means(key, key_code),
    }
    if finish:
        facts["class"] = finish.facts["means"]
    for code in (style, contact):
        facts |= {name: fact for name, fact in code.facts.items() if name not in ("means", "note")}
    return Part(number, "connector", facts, tuple(name for name in ("class", "sealed") if name not in facts))


def _insert(name: str, code: str, shell: Part, get: Get) -> Fact:
    """The arrangement: confirmed where the chart prints this very code, else derived from the form of the number."""
    arrangement = get("insert", name)
    if arrangement and arrangement.text("code") == code:
        return Fact(name, arrangement.facts["code"].source)
    origin = shell.facts["shell"].source
    rule = "rule: shell size of the letter, a dash, the arrangement number; this code is not printed in the chart read"
    return Fact(name, Source(origin.document, Status.DERIVED, origin.edition, f"{origin.paragraph}; {rule}"))


def _wire(number: str, get: Get) -> Part | None:
    matched = _M22759.fullmatch(number)
    form = get("code", "M22759 size")
    colour = get("code", "M22759 colour")
    if not matched or not form or not colour:
        return None
    spec, size, digits = matched.groups()
    facts: dict[str, Fact] = {}
    others: dict[str, tuple[Fact, ...]] = {}
    unknown: tuple[str, ...] = ()
    for part in (get("wire", spec), get("wire size", f"{spec}-{size}")):
        if part:
            facts |= part.facts
            others |= part.others
            unknown += part.unknown
    facts["spec"] = _means(form, spec)
    # A size with a leading zero is 1/0 and larger in some sheets and a typing slip in others: leave it open.
    if 1 <= int(size) <= LAST_AWG and not size.startswith("0"):
        facts["gauge"] = _means(form, f"{size} AWG")
    else:
        unknown += ("gauge",)
    if digits:
        facts["digits"] = _means(colour, digits)
        words = [found.text("word") for digit in digits if (found := get("colour", digit))]
        facts["colours"] = Fact(tuple(word for word in words if word), colour.facts["means"].source)
    else:
        unknown += ("digits", "colours")
    return Part(number, "wire", facts, unknown, others)


def _cable(number: str, get: Get) -> Part | None:
    found = _M27500.fullmatch(number)
    form = get("code", "M27500 form")
    order = get("code", "M27500 core colours")
    if not found or not form or not order:
        return None
    size, basic_code, cores, shield_code, jacket_code = found.groups()
    basic = _code(get, "M27500", "basic wire", basic_code)
    shield = _code(get, "M27500", "shield", shield_code)
    jacket = _code(get, "M27500", "jacket", jacket_code)
    if not (basic and shield and jacket) or not 1 <= int(size) <= LAST_AWG:
        return None
    facts = {
        "gauge": _means(form, f"{size} AWG"),
        "basic wire": _means(basic, basic_code),
        "spec": basic.facts["spec"],
        "cores": _means(form, cores),
        "shield": shield.facts["means"],
        "jacket": jacket.facts["means"],
    }
    colours = (order.text("means") or "").split(", ")
    if int(cores) <= len(colours):
        facts["core colours"] = Fact(tuple(colours[: int(cores)]), order.facts["means"].source)
    return Part(number, "cable", facts, () if "core colours" in facts else ("core colours",))
