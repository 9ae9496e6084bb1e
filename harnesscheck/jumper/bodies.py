"""The connector halves of the kit: those that mate the opened pair, and the plug for the equipment.

The half that mates P14 is built like J14, which mates it in the aircraft today: gender, key, shell and insert are right
by construction. Where the aircraft's half is not known, the other half of its own number is derived from the drawer.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from harnesscheck.connector import NONE, Connector
from harnesscheck.harness import Harness
from harnesscheck.jumper.kit import Half
from harnesscheck.parts import Drawer, Part
from harnesscheck.place import Point

STATED = ("family", "insert", "gender", "style", "key", "shell", "sealed")
OTHER = {"pin": "socket", "socket": "pin", "plug": "receptacle", "receptacle": "plug"}

_D38999 = re.compile(r"(D38999/)(\d\d)([A-Z][A-Z]\d{1,3})([A-Z])([A-Z])")
_OTHER_STYLE = {"26": "24", "20": "26", "24": "26"}
"""Series III shell styles: a straight plug and a jam nut or wall mount receptacle (the drawer's codes)."""
_OTHER_CONTACT = {"P": "S", "S": "P", "H": "J", "J": "H", "A": "B", "B": "A"}
_DSUB = re.compile(r"M24308/([24])-(\d)")


def counterpart(drawer: Drawer, number: str | None) -> str | None:
    """The part number that mates ``number``; None when the drawer cannot tell.

    >>> from harnesscheck.parts import open_drawer
    >>> counterpart(open_drawer(), "D38999/24WD35PN"), counterpart(open_drawer(), "M24308/4-2")
    ('D38999/26WD35SN', 'M24308/2-2')
    """
    if number is None:
        return None
    other = None
    if found := _D38999.fullmatch(number):
        head, style, middle, contact, key = found.groups()
        if style in _OTHER_STYLE and contact in _OTHER_CONTACT:
            other = f"{head}{_OTHER_STYLE[style]}{middle}{_OTHER_CONTACT[contact]}{key}"
    elif found := _DSUB.fullmatch(number):
        other = f"M24308/{'2' if found[1] == '4' else '4'}-{found[2]}"
    return other if other is not None and drawer.get("connector", other) is not None else None


def like(airframe: Harness, ref: str, mate: str, name: str) -> Half:
    """The half ``ref`` that plugs into ``mate``, built like the half that mates it in the aircraft today."""
    old = airframe.connectors[mate]
    pattern = airframe.connectors[airframe.mate_of(mate) or ""]
    part, facts = pattern.part, dict[str, str]()
    why = (f"the same part as {pattern.ref}, which mates {mate} today",)
    if part is None:
        part = counterpart(airframe.drawer, old.part)
        why = (f"mates {old.part}; the part of {pattern.ref} is not stated",)
    if part is None:
        facts = _stated(pattern, old)
        why = (f"not known: the part number. Built like {pattern.ref}: read it off the shell",)
    contacts = [cavity.contact for cavity in pattern.cavities.values() if cavity.contact not in (None, NONE)]
    usual = Counter(str(contact) for contact in contacts).most_common()
    default = usual[0][0] if usual else None
    own: dict[str, str] = {}
    for cavity in pattern.cavities.values():
        if cavity.contact is not None and cavity.contact not in (NONE, default):
            own[cavity.point.cavity] = cavity.contact
    return Half(ref, name, mate, part, facts, default, own, zone=old.zone or pattern.zone, why=why)


def _stated(pattern: Connector, old: Connector) -> dict[str, str]:
    """What is known of a half without a part number, from itself, else from its mate with gender and style turned."""
    facts: dict[str, str] = {}
    for name in STATED:
        said = pattern.says(name)
        if said is None and name not in ("sealed",):
            said = old.says(name)
            said = OTHER.get(said or "", said) if name in ("gender", "style") else said
        if said is not None:
            facts[name] = said
    return facts


def equipment_plug(harness: Harness, box: Connector, ref: str) -> Half:
    """The plug that mates a receptacle of the equipment: the maker's own number, else one the drawer derives."""
    drawer = harness.drawer
    part, why = box.mating, (f"the maker of {box.ref} names it",)
    facts: dict[str, str] = {}
    if part is None:
        part, why = counterpart(drawer, box.part), (f"mates {box.part}; the maker names no mating part",)
    if part is None or (drawer.get("connector", part) is None and box.fact("family")):
        facts = {
            name: OTHER.get(said, said) if name in ("gender", "style") else said
            for name in STATED
            if name != "sealed" and (said := box.says(name))
        }
    if part is None:
        why = ("not known: the part number; ask the maker of the equipment",)
    return Half(ref, "", box.ref, part, facts, zone=box.zone, why=why)


def known(drawer: Drawer, half: Half, name: str) -> str | None:
    """A property of a half: family, gender, insert, sealed."""
    if name in half.facts:
        return half.facts[name]
    record = drawer.get("connector", half.part) if half.part else None
    return record.text(name) if record is not None else None


def names(drawer: Drawer, half: Half) -> tuple[str, ...] | None:
    """All cavities of a half; None when its insert is not in the drawer."""
    insert = known(drawer, half, "insert")
    record = drawer.get("insert", insert) if insert else None
    return record.items("cavities") if record is not None else None


def size(drawer: Drawer, half: Half) -> str | None:
    """The contact size of the cavities, where they all have one."""
    insert = known(drawer, half, "insert")
    record = drawer.get("insert", insert) if insert else None
    return record.text("cavity size") if record is not None else None


def contacts(drawer: Drawer, half: Half) -> Iterator[Part]:
    """Copper contacts for a half, those whose wire range is firm first, then in the order of the drawer."""
    family, gender, wanted = known(drawer, half, "family"), known(drawer, half, "gender"), size(drawer, half)
    if family is None or gender is None or wanted is None:
        return
    found: list[tuple[tuple[bool, ...], Part]] = []
    for number in drawer.numbers("contact"):
        part = drawer.get("contact", number)
        if part is None or part.fact("alloy") is not None or part.text("material") is not None:
            continue
        suits = part.text("gender") == gender and part.text("size") == wanted
        if suits and family in (part.items("family") or ()):
            gauge, insulation = part.fact("gauge"), part.fact("insulation")
            rank = (
                gauge is None,
                not (gauge is not None and gauge.firm),
                not (insulation is not None and insulation.firm),
            )
            found.append((rank, part))
    yield from (part for _, part in sorted(found, key=lambda pair: pair[0]))


def with_contacts(drawer: Drawer, half: Half) -> Half:
    """The half with a contact from the drawer where the aircraft names none."""
    if half.contacts is not None:
        return half
    first = next(contacts(drawer, half), None)
    if first is None:
        return replace(half, why=(*half.why, "not known: the contact; none of the drawer is listed for it"))
    said = f"contact {first.number}: family, gender and size of the cavities, by the parts drawer"
    return replace(half, contacts=first.number, why=(*half.why, said))


def plugged(drawer: Drawer, half: Half, wired: Iterable[Point]) -> Half:
    """The half with sealing plugs, where it has a grommet and a cavity in which no wire ends."""
    listed = names(drawer, half)
    used = {point.cavity for point in wired if point.ref == half.ref}
    if known(drawer, half, "sealed") != "yes" or listed is None or not set(listed) - used:
        return half
    wanted, family = size(drawer, half), known(drawer, half, "family")
    for number in drawer.numbers("sealing plug"):
        part = drawer.get("sealing plug", number)
        if part is not None and wanted in (part.items("size") or ()) and family in (part.items("family") or ()):
            return replace(half, plugs=number)
    return replace(half, why=(*half.why, "not known: the sealing plug for its unused cavities"))
