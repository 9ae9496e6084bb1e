"""Questions to the parts drawer: find a part, show what is known of it and from where, and what fits a cavity."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from harnesscheck import units
from harnesscheck.connector import Connector
from harnesscheck.fault import Fault, InputError, quoted
from harnesscheck.formulas.gauge import compare
from harnesscheck.harness import Harness
from harnesscheck.parts import Drawer, Fact, Part
from harnesscheck.parts.fields import FIELDS
from harnesscheck.place import split_point
from harnesscheck.source import FIRM, Status

MOST = 40
"""Parts listed for one search; more are counted, not listed."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """One candidate and what speaks for or against it."""

    part: Part
    fits: str
    """``yes``, ``yes, not confirmed``, ``no`` or ``not known``."""
    reasons: tuple[str, ...]


def find(drawer: Drawer, words: list[str]) -> list[Part]:
    """Parts whose number, kind or values hold every word, capital or small; numbers that only decode count too."""
    wanted = [word.casefold() for word in words]
    found: dict[tuple[str, str], Part] = {}
    for kind in FIELDS:
        numbers = [*drawer.numbers(kind), *(words if len(words) == 1 else ())]
        for number in numbers:
            part = drawer.get(kind, number)
            if part is not None and (kind, number) not in found:
                text = f"{part.number} {kind} {' '.join(said(fact) for fact in part.facts.values())}".casefold()
                if number in words or all(word in text for word in wanted):
                    found[kind, number] = part
    return list(found.values())


D_SUB_SHELLS = {"9": "DE-9", "15": "DA-15", "25": "DB-25", "37": "DC-37", "50": "DD-50"}
"""D-subminiature inserts by their number of contacts: the letter is the shell size. Common practice."""
TELLING = ("family", "style", "gender", "insert", "size", "gauge", "colour")


def other_name(words: list[str]) -> str:
    """A remedy where a D-sub is called DB after its most common size, as in ``DB15`` or ``DB-9``; else empty.

    >>> other_name(["DB15"])
    'did you mean DA-15? The letter of a D-sub is its shell size'
    """
    for word in words:
        found = re.fullmatch(r"D[A-Z]?-?(\d+)(?:P|S|pin|-pin)?", word, re.IGNORECASE)
        if found and found[1] in D_SUB_SHELLS:
            return f"did you mean {D_SUB_SHELLS[found[1]]}? The letter of a D-sub is its shell size"
    return ""


def in_short(part: Part) -> str:
    """What tells a part from the next one in a list: ``D-sub, plug, pin, DA-15``."""
    return ", ".join(said(fact) for name in TELLING if (fact := part.facts.get(name)) is not None)


def show(drawer: Drawer, number: str) -> list[Part]:
    """Every kind of part that has this number. Raises ``InputError`` with near numbers when there is none."""
    parts = [part for kind in FIELDS if (part := drawer.get(kind, number)) is not None]
    if not parts:
        near = [s for kind in FIELDS for s in drawer.suggest(kind, number)][:3]
        remedy = f"did you mean {' or '.join(near)}?" if near else "try: harnesscheck parts find WORDS"
        raise _fault(f"there is no part {number!r} in the drawer", remedy)
    return parts


def said(fact: Fact) -> str:
    """A value in words."""
    value = fact.value
    if isinstance(value, str):
        return value
    return ", ".join(value) if isinstance(value, tuple) else ", ".join(f"{k}: {v}" for k, v in value.items())


def page(part: Part) -> Iterator[str]:
    """Everything known of a part: each value with its source and status, values it beat, and what is not known."""
    yield f"{part.number}   {part.kind}"
    for name in part.facts:
        first, *others = part.all(name)
        yield from _value(name, said(first), str(first.source))
        for other in others:
            yield from _value("", f"also: {said(other)}", str(other.source))
    if part.unknown:
        yield f"  not known firmly: {', '.join(part.unknown)}"


def _value(name: str, value: str, source: str) -> Iterator[str]:
    """Value and source in columns; a long value pushes its source to the next line."""
    if len(value) <= 32:
        yield f"  {name:<22}{value:<34}{source}"
    else:
        yield f"  {name:<22}{value}"
        yield f"  {'':<56}{source}"


def part_data(part: Part) -> dict[str, Any]:
    """The same as plain data."""
    return {
        "number": part.number,
        "kind": part.kind,
        "facts": {
            name: [{"value": said(f), "status": str(f.source.status), "source": str(f.source)} for f in part.all(name)]
            for name in part.facts
        },
        "unknown": list(part.unknown),
    }


def cavity_connector(harness: Harness, typed: str) -> tuple[Connector, str, str | None]:
    """The connector, cavity name and wire type at a cavity a person typed. Raises ``InputError``."""
    point = split_point(typed)
    connector = harness.connectors.get(point.ref) if point else None
    if point is None or connector is None or not point.cavity:
        names = ", ".join(list(harness.connectors)[:12])
        raise _fault(f"there is no cavity {typed!r}", f"write it like P14-3; the connectors are: {names}")
    if connector.names is not None and point.cavity not in connector.names:
        raise _fault(f"{point.ref} has no cavity {point.cavity!r}", f"its cavities: {', '.join(connector.names[:30])}")
    wires = harness.wires_at(point)
    return connector, point.cavity, wires[0].type if wires else None


def fitting(drawer: Drawer, facts: dict[str, Fact], wire: str | None) -> tuple[list[Verdict], list[Part]]:
    """Contacts and sealing plugs for a connector half described by ``family``, ``gender`` and ``insert`` facts.

    Contacts of another family, gender or size are left out when both values are known; where one is not known the
    contact is listed as *not known*, never as fitting.
    """
    insert = drawer.get("insert", said(facts["insert"])) if "insert" in facts else None
    size = insert.fact("cavity size") if insert else None
    family = said(facts["family"]) if "family" in facts else None
    gender = said(facts["gender"]) if "gender" in facts else None
    verdicts = []
    for number in drawer.numbers("contact"):
        part = drawer.get("contact", number)
        if part is None or (gender and part.text("gender") not in (None, gender)):
            continue
        if size and part.text("size") not in (None, size.value):
            continue
        families = (*(part.items("family") or ()), *(part.items("also in") or ()))
        if family and families and family not in families:
            continue
        verdicts.append(_verdict(drawer, part, family, size, wire))
    order = {"yes": 0, "yes, not confirmed": 1, "not known": 2, "no": 3}
    plugs = []
    for number in drawer.numbers("sealing plug"):
        plug = drawer.get("sealing plug", number)
        if plug and size and size.value in (plug.items("size") or ()) and family in (plug.items("family") or ()):
            plugs.append(plug)
    return sorted(verdicts, key=lambda v: order[v.fits]), plugs


def _verdict(drawer: Drawer, part: Part, family: str | None, size: Fact | None, wire: str | None) -> Verdict:
    reasons, answers = [], []
    for what, value in (("gender", part.fact("gender")), ("size", part.fact("size")), ("family", part.fact("family"))):
        if value is None:
            reasons.append(f"{what} of the contact not known")
            answers.append("not known")
        elif not value.source.firm:
            reasons.append(f"{what} {said(value)} ({value.source.status})")
    if family is None or size is None:
        reasons.append("family or cavity size of the connector not known")
        answers.append("not known")
    if wire:
        for answer, reason in (_gauge(drawer, part, wire), _insulation(drawer, part, wire)):
            answers.append(answer)
            reasons.append(reason)
    weak = any(str(status) in reason for reason in reasons for status in Status if status not in FIRM)
    good = "yes, not confirmed" if weak else "yes"
    fits = "no" if "no" in answers else "not known" if "not known" in answers else good
    return Verdict(part, fits, tuple(reasons))


def _gauge(drawer: Drawer, part: Part, wire: str) -> tuple[str, str]:
    record, fact = drawer.get("wire", wire), part.fact("gauge")
    text = record.text("gauge") if record else None
    if text is None or fact is None:
        return "not known", "gauge of the wire not known" if text is None else "gauge range of the contact not known"
    size = units.gauge(text)
    thin, thick = units.gauge_range(said(fact))
    good = compare(size, thin) >= 0 and compare(size, thick) <= 0
    return "yes" if good else "no", f"{text} {'in' if good else 'outside'} {said(fact)} ({fact.source.status})"


def _insulation(drawer: Drawer, part: Part, wire: str) -> tuple[str, str]:
    record, fact = drawer.get("wire", wire), part.fact("insulation")
    if part.text("sealing") or fact is None:
        return "yes", f"no wire seal: {part.text('sealing')}" if part.text("sealing") else "no seal range listed"
    od = record.span("od") if record else None
    if record is None or od is None:
        return "not known", "diameter over insulation not known"
    seal, source = part.lengths("insulation"), record.source("od")
    good = seal is not None and seal.low <= od.low and od.high <= seal.high
    size = f"{od.high * 1000:.2f} mm ({source.status if source else ''})"
    return (
        "yes" if good else "no",
        f"insulation {size} {'in' if good else 'outside'} {said(fact)} ({fact.source.status})",
    )


def fit_page(facts: dict[str, Fact], verdicts: list[Verdict], plugs: list[Part], wire: str | None) -> Iterator[str]:
    """What fits, as a person reads it."""
    yield "connector: " + ", ".join(f"{name} {said(fact)} ({fact.source.status})" for name, fact in facts.items())
    yield f"wire: {wire or 'not stated; give --wire to compare gauge and insulation'}"
    yield ""
    for verdict in verdicts[:MOST]:
        part = verdict.part
        what = ", ".join(said(fact) for name in ("purpose", "material") if (fact := part.fact(name)))
        yield f"contact {part.number}: {verdict.fits}" + (f"; {what}" if what else "")
        for reason in verdict.reasons:
            yield f"    {reason}"
        for name in ("crimp frame", "positioner", "insertion tool", "removal tool"):
            fact = part.fact(name)
            yield f"    {name:<16}{said(fact) + ' (' + fact.source.status + ')' if fact else 'not known'}"
    if not verdicts:
        yield "no contact in the drawer fits this connector"
    for plug in plugs:
        colour = plug.fact("colour")
        yield f"sealing plug {plug.number}" + (f", {said(colour)} ({colour.source.status})" if colour else "")
    if not plugs:
        yield "no sealing plug in the drawer is listed for this cavity size and family"


def lines(found: Iterator[str]) -> str:
    """Lines made safe for a terminal."""
    return "\n".join(quoted(line.rstrip()) for line in found) + "\n"


def _fault(message: str, remedy: str) -> InputError:
    return InputError([Fault("command line", 1, 1, message, "", remedy)])
