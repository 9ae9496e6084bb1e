"""The two conductors of a pair do not stand side by side on a connector.

What
    On each connector of the kit, each conductor of a pair must have its partner on a neighbouring cavity. Neighbours
    are cavities no further apart than 1.35 times the smallest pitch of the face.

Why it matters
    Between the contacts the pair has no twist. The wider the loop that the two conductors open there, the more it
    picks up and the worse the step in the impedance; a supply contact between the two does the rest. Where the
    aircraft or the equipment has fixed the cavities there is nothing to change: know it, and keep the twist close.

Source
    Common practice; no document with a distance was seen. Positions from the parts drawer with their source: D-sub
    pitches are second hand, 38999 positions measured on the catalogue drawing.

What to do
    Where both halves belong to the kit, give the pair two cavities side by side, and its shield the next one. Where
    the other half dictates the cavities, keep the conductors twisted right up to the rear of the connector.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._pairs import new_connectors, pairs
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.faces import NEAR, Face, face
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.place import Place, Point
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = Source("the conductors of a pair on neighbouring contacts", Status.COMMON)
FOLLOWS = ("unknown-cavity", "pin-map-mismatch", "broken-through-circuit")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every pair on every new connector; halves with the same fault are one finding."""
    good = 0
    faces: dict[str, Face | None] = {}
    unknown: dict[str, list[str]] = {}
    far: dict[tuple[str, str, str, bool], list[tuple[str, Face, float]]] = {}
    places: dict[str, Place] = {}
    known, _ = pairs(harness)
    for pair in known:
        for ref in sorted(new_connectors(harness)):
            cavities = [[p for p in member.reach.points if p.ref == ref] for member in pair.members]
            if not all(cavities):
                continue
            connector = harness.connectors[ref]
            shown = faces.setdefault(ref, face(harness, connector))
            if shown is None:
                unknown.setdefault(ref, []).append(str(pair))
                continue
            for one, two, distance in _distances(shown, cavities):
                if distance <= NEAR:
                    good += 1
                else:
                    key = (str(pair), one, two, _dictated(harness, ref))
                    far.setdefault(key, []).append((ref, shown, distance))
                    places[f"{ref}-{one}"] = _place(harness, Point(ref, one))
    for ref, names in unknown.items():
        yield NotChecked(
            place=harness.connectors[ref].place,
            missing=f"where the cavities stand on the face of {ref} is not known (for the pair {several(names)})",
            remedy="look at the insert: the two belong side by side",
        )
    for (name, one, two, dictated), listed in far.items():
        yield _finding(name, one, two, dictated, listed, places)
    yield Passed(good, "pairs side by side")


def _distances(shown: Face, cavities: list[list[Point]]) -> Iterator[tuple[str, str, float]]:
    """Each cavity of the first conductor with the nearest cavity of each other one; the face must show both."""
    for point in cavities[0]:
        for others in cavities[1:]:
            found = [(d, p.cavity) for p in others if (d := shown.apart(point.cavity, p.cavity)) is not None]
            if found:
                distance, other = min(found)
                yield point.cavity, other, distance


def _dictated(harness: Harness, ref: str) -> bool:
    """True when the half that this one plugs into is not the kit's own."""
    mate = harness.connectors.get(harness.mate_of(ref) or "")
    return mate is not None and mate.origin is not Origin.JUMPER


def _place(harness: Harness, point: Point) -> Place:
    for wire in harness.wires_at(point):
        return Place(str(point), wire.document, wire.line, wire.column)
    return harness.connectors[point.ref].place


def _finding(
    name: str, one: str, two: str, dictated: bool, listed: list[tuple[str, Face, float]], places: dict[str, Place]
) -> Finding:
    refs = [ref for ref, _, _ in listed]
    _, shown, distance = max(listed, key=lambda found: found[2])
    if dictated:
        why = "; the other half dictates it"
        remedy = "nothing to change in the kit; keep the two twisted right up to the rear of the connector"
    else:
        why, remedy = "", "give them two cavities side by side on both halves, and the shield the next one"
    return Finding(
        headline=f"{name} stand apart on {several(refs)}: cavities {one} and {two}{why}",
        place=places[f"{refs[0]}-{one}"],
        others=tuple(Place(f"{ref}-{cavity}") for ref in refs for cavity in (one, two)),
        severity=Severity.NOTE if dictated else Severity.CAUTION,
        value=f"{distance:.1f} x the smallest pitch apart",
        limit=f"neighbours: at most {NEAR:g} x the smallest pitch",
        source=shown.source,
        remedy=remedy,
    )
