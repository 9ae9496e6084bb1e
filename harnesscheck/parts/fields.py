"""The vocabulary of the drawer: which kinds of part there are and which fields each has.

One table: kind -> field -> how its value is read (``values``). A new field is one line here; a value in a data file
under a name that is not in this table is refused.
"""

from __future__ import annotations

from collections.abc import Mapping

from harnesscheck.parts import values as v
from harnesscheck.parts.values import Parser

RESERVED = frozenset({"status", "source", "rule", "document", "paragraph", "by", "date"})
"""Words of a statement that say where it comes from; no field may be called so."""

_GENDER = v.word("pin", "socket")
_STYLE = v.word("plug", "receptacle")
_YES = v.word("yes", "no")

_NOTE: dict[str, Parser] = {"note": v.text}

_WIRE_SIZE: dict[str, Parser] = {
    "spec": v.text,
    "gauge": v.gauge,
    "od": v.lengths,  # finished wire over the insulation
    "conductor diameter": v.length,
    "resistance": v.per_length,  # greatest, at 20 C
    "stranding": v.text,
    "strands": v.count,
    "weight": v.weight,
}
_WIRE_SPEC: dict[str, Parser] = {
    "insulation": v.text,
    "conductor": v.text,
    "temperature": v.temperature,
    "volts": v.voltage,
}

FIELDS: dict[str, dict[str, Parser]] = {
    "contact": {
        "gender": _GENDER,
        "size": v.text,  # size of the mating end, which is also the size of the cavity
        "sizes": v.items,  # of a slash sheet whose dash numbers are not known
        "barrel": v.text,  # size of the crimp end
        "family": v.items,  # connector families the source lists; the list is that source's, not the world's
        "also in": v.items,  # further families, by another source
        "gauge": v.gauges,
        "gauge note": v.text,
        "insulation": v.lengths,  # wire over insulation that the sealing grommet of the connector takes
        "strip": v.lengths,
        "finish": v.text,
        "cycles": v.count,
        "rated current": v.current,  # qualification test current of one contact, not a bundle ampacity
        "drop": v.voltage,  # greatest, mated, at the rated current
        "resistance": v.resistance,  # greatest, mated
        "well diameter": v.length,
        "well tolerance": v.length,
        "well depth": v.length,
        "crimp frame": v.text,
        "positioner": v.text,
        "alternate frame": v.text,
        "alternate positioner": v.text,
        "selector": v.table_of(v.count),  # gauge -> setting
        "inspection gauge": v.text,
        "insertion tool": v.items,
        "removal tool": v.items,
        "bands": v.bands,
        "supersedes": v.text,
        "construction": v.text,
        "cable": v.text,
        "material": v.text,
        "alloy": v.text,  # of a thermocouple contact: the letter of its type
        "purpose": v.text,
        "wire example": v.text,
        "sealing": v.text,
    },
    "contact size": {
        "rated current": v.current,
        "drop": v.voltage,
        "resistance": v.resistance,
        "well diameter": v.length,
        "well tolerance": v.length,
        "well depth": v.length,
        "sealing plug": v.text,
        "gauge": v.gauges,
        "insulation": v.lengths,
        "strip": v.lengths,
        "conductor diameter": v.length,  # greatest that enters the well
    },
    "insert": {
        "family": v.word("38999", "D-sub"),
        "shell": v.text,
        "contacts": v.count,
        "cavities": v.items,  # every cavity name, in order
        "sizes": v.table_of(v.count),  # contact size -> how many
        "cavity size": v.text,  # when all cavities have one size
        "service rating": v.text,
        "code": v.text,  # shell letter and arrangement in a series III part number
        "series I": v.text,
        "series II": v.text,
        "rows": v.counts,
        "numbering": v.text,
        "pitch": v.length,
        "row spacing": v.length,
        "row offsets": v.table_of(v.offset),  # row -> shift of its first contact
        "flange length": v.length,
        "flange width": v.length,
        "screw pitch": v.length,
        "plug length": v.length,
        "receptacle length": v.length,
        "receptacle number": v.text,
        "plug number": v.text,
        "backshell": v.text,
    },
    "face view": {
        "insert": v.text,
        "gender": _GENDER,
        "face": v.word("mating face", "wire side"),
        "top": v.text,
        "positions": v.table_of(v.point),
        "true positions": v.text,
    },
    "connector": {
        "family": v.text,
        "style": _STYLE,
        "mount": v.text,
        "insert": v.text,
        "shell": v.text,
        "gender": _GENDER,
        "key": v.text,
        "class": v.text,
        "sealed": _YES,
        "cycles": v.count,
        "contacts supplied": _YES,
        "termination": v.text,
    },
    "service rating": {
        "ac": v.voltage,
        "dc": v.voltage,
        "test": v.voltage,
    },
    "code": {
        "means": v.text,
        "style": _STYLE,
        "mount": v.text,
        "shell": v.text,
        "gender": _GENDER,
        "cycles": v.count,
        "contacts supplied": _YES,
        "sealed": _YES,
        "spec": v.text,
    },
    "sealing plug": {
        "size": v.items,
        "family": v.items,
        "colour": v.text,
        "commercial colour": v.text,
        "replaces": v.text,
    },
    "splice": {
        "style": v.text,
        "gauge": v.gauges,
        "cma": v.cmils,  # sum of the conductors in one barrel end
        "colour": v.text,
        "barrel bore": v.lengths,
        "barrel diameter": v.lengths,
        "barrel length": v.lengths,
        "end to stop": v.lengths,
        "sleeve bore": v.length,
        "sleeve length": v.length,
        "length": v.length,
        "strip": v.lengths,
        "most wires": v.count,
        "crimp frame": v.text,
        "openings": v.text,
        "temperature": v.temperature,
        "plating": v.text,
        "environment class": v.text,
        "sealed": _YES,  # keeps water out of the joint when its own sleeve is fitted
        "restriction": v.text,
    },
    "wire": {**_WIRE_SPEC, **_WIRE_SIZE, "digits": v.text, "colours": v.bands},
    "wire size": _WIRE_SIZE,
    "conductor": {
        "gauge": v.gauge,
        "stranding": v.text,
        "area": v.cmil,
        "bare resistance": v.per_lengths,  # nominal values of several catalogues
        "tinned resistance": v.per_lengths,
        "tin": v.per_length,  # greatest, by plating
        "silver": v.per_length,
        "nickel": v.per_length,
    },
    "cable": {
        "gauge": v.gauge,
        "basic wire": v.text,
        "spec": v.text,
        "cores": v.count,
        "shield": v.text,
        "jacket": v.text,
        "core colours": v.items,
    },
    "cable size": {"spec": v.text, "gauge": v.gauge, "cores": v.count, "od": v.lengths, "construction": v.text},
    "colour": {"word": v.text, "iec": v.text},
    "shell": {
        "family": v.text,
        "plug diameter": v.length,  # greatest, without backshell
        "plug length": v.length,  # greatest, without backshell
        "plug passes": v.length,  # least round hole the bare plug goes through
        "flange square": v.length,  # greatest side of the wall mount flange
        "flange diagonal": v.length,
        "back mount hole": v.length,
        "front mount hole": v.length,
        "jam nut diameter": v.length,
        "jam nut hole": v.length,
        "jam nut flat": v.length,
        "jam nut hex": v.length,
        "coupling thread": v.length,  # major diameter
        "rear thread": v.text,
        "backshell": v.text,
    },
    "keying": {"family": v.text, "shell": v.text, "key": v.text, "angles": v.table_of(v.angle)},
    "tool": {
        "type": v.word("crimp frame", "positioner", "inspection gauge", "insertion and removal tool"),
        "style": v.text,
        "use": v.text,
        "gauge": v.gauges,
        "barrel sizes": v.items,
        "fits frame": v.text,
        "positioner": v.text,
        "turret": v.text,
        "selectors": v.count,  # how many settings
        "selector": v.table_of(v.count),  # gauge -> setting
        "inspection gauge": v.text,
        "gauge selector": v.count,  # setting at which the inspection gauge is used
        "gauge for": v.text,
        "go": v.lengths,
        "no go": v.lengths,
        "colour": v.text,
        "origin": v.text,
        "positions": v.text,
        "contacts": v.items,
        "dies": v.items,
        "family": v.items,
    },
    "sleeve": {
        "type": v.word("solder sleeve", "heat shrink"),
        "style": v.text,
        "class": v.text,
        "sizes": v.text,
        "nominal": v.text,
        "ratio": v.text,
        "supplied bore": v.length,  # least, before shrinking
        "recovered bore": v.length,  # greatest, shrunk freely
        "covers": v.lengths,
        "recovered wall": v.length,
        "shield diameter": v.lengths,
        "lead gauge": v.gauge,
    },
    "ring terminal": {
        "style": v.text,
        "gauge": v.gauges,
        "stud": v.text,
        "colour": v.text,
        "temperature": v.temperature,
        "tongue width": v.length,
        "strip": v.lengths,
    },
    "pull test": {
        "gauge": v.gauge,
        "machined contact": v.force,  # silver or tin plated wire
        "machined contact nickel wire": v.force,
        "splice": v.force,
        "stamped contact or terminal": v.force,
        "terminal military": v.force,
        "terminal commercial": v.force,
        "printed board contact": v.force,
        "grounding lead": v.force,
        "AS39029 contact": v.force,
    },
    "breaker": {
        "style": v.text,
        "least rating": v.current,
        "greatest rating": v.current,
        "ratings": v.items_of(v.current),
        "ambient": v.temperatures,
        "altitude": v.length,
        "carries": v.share,  # of the rating, for ever
        "trips at": v.share,
        "trips within": v.time,
        "trip ambient": v.temperature,
        "trip curve": v.text,
    },
    "wire protection": {"gauge": v.gauge, "breaker": v.current, "fuse": v.current},
    "seal range": {
        "size": v.text,
        "standard seal": v.lengths,
        "reduced seal": v.lengths,
        "standard seal gauge": v.gauges,
        "reduced seal gauge": v.gauges,
        "gauge": v.gauges,
        "insulation": v.lengths,
        "position assurance": _YES,
        "lock assurance": _YES,
        "plugs for unused": _YES,
    },
    "rule": {"topic": v.text, "text": v.text, "values": v.table_of(v.measured)},
}

for _fields in FIELDS.values():
    _fields.update(_NOTE)

KINDS: Mapping[str, Mapping[str, Parser]] = FIELDS


def file_name(kind: str) -> str:
    """The data file of a kind: ``sealing plug`` -> ``sealing_plug.yaml``."""
    return kind.replace(" ", "_") + ".yaml"
