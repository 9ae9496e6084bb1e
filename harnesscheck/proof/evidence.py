"""The evidence behind a do-no-harm statement, as JSON that anybody can reckon through again.

The layout is the project's own; ``recheck.py`` reads it and uses nothing else of the program. It holds the named points
with their net numbers before and after, every wire and mated contact, the taps, and each number with what it is made
of. ``seal`` is the SHA-256 of everything else, written without blanks and with sorted keys: it shows a slip of the
hand, not ill will, for whoever changes a number can seal it again. The re-checker does not lean on it.
"""

from __future__ import annotations

import hashlib
import json
from typing import Any

from harnesscheck.electrics.elements import SPLICE, SPLICE_SOURCE
from harnesscheck.finding import Report, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Point
from harnesscheck.proof.copper import Copper, Edge
from harnesscheck.proof.effects import Effects, Fed, Load, Stub, Way
from harnesscheck.proof.statement import Statement

LAYOUT, VERSION = "do-no-harm evidence", 1


def evidence(proven: Statement, report: Report | None = None) -> dict[str, Any]:
    """The evidence as plain data; ``report`` adds what the checks find."""
    copper, effects, harness = proven.copper, proven.effects, proven.copper.harness
    data: dict[str, Any] = {
        "layout": LAYOUT,
        "version": VERSION,
        "title": harness.title,
        "revision": harness.revision,
        "opened": list(harness.opened),
        "files": [{"name": file.name, "sha256": file.sha256, "now": now} for file, now in proven.files],
        "points": _points(copper),
        "edges": [_edge(edge) for edge in copper.edges],
        "circuits": _circuits(copper),
        "pieces": _pieces(effects),
        "splice": {"ohms": SPLICE, "source": str(SPLICE_SOURCE)},
        "taps": [
            {"pin": str(tap.pin), "circuit": tap.circuit, "made": copper.made(tap)} for tap in harness.taps.values()
        ],
        "direct": [{"pin": str(pin), "steps": _ids(steps)} for pin, steps in copper.direct],
        "undeclared": [str(pin) for pin in copper.undeclared],
        "joined": copper.joined,
        "parted": copper.parted,
        "spares ended": copper.given_up,
        "ways": [_way(way) for way in effects.ways],
        "breakers": [_fed(fed) for fed in effects.breakers],
        "stubs": [_stub(stub) for stub in effects.stubs],
        "changed": copper.changed,
        "checks": [] if report is None else [_checks(report)],
        "claims": proven.claims,
        "holds": proven.holds,
    }
    data["seal"] = seal(data)
    return data


def seal(data: dict[str, Any]) -> str:
    """SHA-256 of the evidence with an empty seal."""
    text = json.dumps({**data, "seal": ""}, sort_keys=True, separators=(",", ":"), ensure_ascii=True)
    return hashlib.sha256(text.encode("ascii")).hexdigest()


def as_json(data: dict[str, Any]) -> str:
    """The evidence as text: one entry of each list a line, so that two of them can be compared by eye."""
    parts = []
    for key, value in data.items():
        if isinstance(value, list) and value and isinstance(value[0], dict):
            lines = ",\n".join(f"  {json.dumps(one, ensure_ascii=True)}" for one in value)
            text = f"[\n{lines}\n ]"
        else:
            text = json.dumps(value, ensure_ascii=True)
        parts.append(f" {json.dumps(key)}: {text}")
    return "{\n" + ",\n".join(parts) + "\n}\n"


def _points(copper: Copper) -> list[dict[str, Any]]:
    return [
        {
            "name": str(point),
            "of": str(copper.owner(point)),
            "kind": _kind(copper.harness, point),
            "before": copper.before.label[number] if number < copper.own else None,
            "after": copper.after.label[number],
        }
        for number, point in enumerate(copper.points)
    ]


def _kind(harness: Harness, point: Point) -> str:
    kinds = {
        "splice": harness.splices,
        "ground": harness.grounds,
        "breaker": harness.breakers,
        "bus": harness.buses,
    }
    return next((kind for kind, table in kinds.items() if point.ref in table), "cavity" if point.ref else "stowed end")


def _edge(edge: Edge) -> dict[str, Any]:
    ends = {"from": str(edge.a), "to": str(edge.b)}
    return {"id": edge.id, "kind": edge.kind, "of": str(edge.of), **ends, "before": edge.before, "after": edge.after}


def _circuits(copper: Copper) -> list[dict[str, Any]]:
    """Circuit names on nets that are led through or tapped."""
    after = copper.after
    nets = {after.of(p) for e in copper.pairs for p in (e.a, e.b)} | {after.of(pin) for pin in copper.harness.taps}
    known = copper.airframe.circuits
    return [
        {"name": name, "signal": known[name].signal if name in known else None, "at": str(point)}
        for name, point in copper.named
        if after.of(point) in nets
    ]


def _pieces(effects: Effects) -> list[dict[str, Any]]:
    found = [
        {
            "edge": name,
            "metres": piece.metres,
            "ohm per metre": piece.ohm_per_metre,
            "ohms": piece.ohms,
            "source": piece.source,
        }
        for name, piece in effects.pieces.items()
    ]
    found += [
        {"edge": name, "metres": metres, "ohm per metre": None, "ohms": None, "source": ""}
        for name, metres in effects.lengths.items()
        if name not in effects.pieces
    ]
    return found


def _ids(steps: tuple[Edge, ...] | None) -> list[str] | None:
    return None if steps is None else [edge.id for edge in steps]


def _load(load: Load, *, peak: bool) -> dict[str, Any]:
    said: dict[str, Any] = {"name": load.name, "new": load.new, "amps": load.amps}
    return {**said, "peak": load.peak} if peak else said


def _way(way: Way) -> dict[str, Any]:
    return {
        "pair": way.pair.id,
        "circuits": list(way.circuits),
        "use": str(way.use),
        "kit": _ids(way.kit),
        "splices": list(way.splices),
        "ohms": way.ohms,
        "carries": way.carries,
        "loads": [_load(load, peak=False) for load in way.loads],
        "kit volts": way.kit_volts,
        "aircraft": _ids(way.aircraft),
        "aircraft splices": list(way.aircraft_splices),
        "device": way.device,
        "device ohms": way.device_ohms,
        "aircraft ohms": way.aircraft_ohms,
        "aircraft volts": way.aircraft_volts,
        "not known": way.unknown,
    }


def _fed(fed: Fed) -> dict[str, Any]:
    return {
        "breaker": fed.ref,
        "rating": fed.rating,
        "loads": [_load(load, peak=True) for load in fed.loads],
        "before": fed.before,
        "after": fed.after,
        "share": fed.share,
        "peak": fed.peak,
        "not known": fed.unknown,
    }


def _stub(stub: Stub) -> dict[str, Any]:
    return {
        "pin": str(stub.pin),
        "circuit": stub.circuit,
        "steps": _ids(stub.steps),
        "metres": stub.metres,
        "listens": stub.listens,
        "receivers before": stub.receivers,
        "receivers added": stub.added,
        "receivers after": stub.receivers_after,
        "receivers allowed": stub.most,
        "share": stub.share,
        "not known": stub.unknown,
    }


def _checks(report: Report) -> dict[str, Any]:
    """What the checks find, with value and limit where a finding has them."""
    return {
        "stop": report.count(Severity.STOP),
        "caution": report.count(Severity.CAUTION),
        "note": report.count(Severity.NOTE),
        "not checked": [f"{one.check}: {one.place.label}: {one.missing}" for one in report.not_checked],
        "findings": [
            {
                "check": finding.check,
                "severity": (finding.severity or Severity.NOTE).word.lower(),
                "headline": finding.headline,
                "value": finding.value,
                "limit": finding.limit,
                "source": str(finding.source or ""),
                "counts": not finding.follows and not finding.waived,
            }
            for finding in report.findings
        ],
    }
