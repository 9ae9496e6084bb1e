"""Two connector halves of one joint carry the same marking.

What
    The identification bands of the halves that meet at a joint must differ: both halves of each mated pair, and at the
    opened connector all four halves that then hang side by side. A half of the kit without marking: carries its
    reference. Capital and small letters and blanks count as the same.

Why it matters
    In a report of 2000 a modification of six wires was pinned wrong because the plug carried the same marking on both
    halves; the fault was found later, in service. A wire list that says "cavity 4 of WR1" cannot be followed when two
    halves are called WR1.

Source
    Aviation Safety Reporting System, report ACN 468392 (2000).

What to do
    Give each half its own band: reference and side, such as WR1 WING and WR1 FUSELAGE. Read the bands in the aircraft
    and state them under marking:, or marking: none where there is no band.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import several
from harnesscheck.connector import NONE, Connector, Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = Source("ASRS report", Status.CONFIRMED, paragraph="ACN 468392")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at the halves of each joint that the kit makes, and at existing pairs whose bands are stated."""
    good = 0
    for joint in _joints(harness):
        new = any(half.origin is Origin.JUMPER for half in joint)
        called: dict[str, list[Connector]] = {}
        for half in joint:
            said = _marking(half)
            if said is not None:
                called.setdefault(" ".join(said.casefold().split()), []).append(half)
            elif new and half.origin is Origin.AIRFRAME:
                yield NotChecked(
                    place=half.place,
                    missing="what the identification band of this half says is not stated",
                    remedy="read it in the aircraft and give marking:, or marking: none",
                )
        for halves in called.values():
            if len(halves) == 1:
                good += 1
            elif new or _marking(halves[0]) != NONE:
                yield _finding(halves)
    yield Passed(good, "connector halves")


def _joints(harness: Harness) -> list[list[Connector]]:
    """Halves that lie side by side: the opened pair with what is plugged into it, and every other mated pair."""
    joints = [{*pair, *(mate for ref in pair if (mate := harness.mate_of(ref)) is not None)} for pair in harness.opens]
    opened = set[str]().union(*joints)
    pairs = [(mate.a, mate.b) for mate in harness.mates if not mate.refs & opened]
    groups = [[ref for ref in harness.connectors if ref in joint] for joint in joints]
    groups += [[a, b] for a, b in pairs]
    return [[harness.connectors[ref] for ref in group if ref in harness.connectors] for group in groups]


def _marking(half: Connector) -> str | None:
    """What the band says; a half of the kit is marked with its reference. None when nobody has said."""
    return half.ref if half.marking is None and half.origin is Origin.JUMPER else half.marking


def _finding(halves: list[Connector]) -> Finding:
    refs = several(half.ref for half in halves)
    said = str(_marking(halves[0]))
    new = [half for half in halves if half.origin is Origin.JUMPER]
    both = "both" if len(halves) == 2 else "all"
    bare = said.casefold() == NONE
    return Finding(
        headline=f"{refs} have no marking, and they meet at one joint"
        if bare
        else f"{refs} are {both} marked {said}, and they meet at one joint",
        place=(new or halves)[0].place,
        others=tuple(half.place for half in halves),
        value="no marking" if bare else f"marking {said}",
        limit="a marking of its own on each half",
        remedy=f"give each of {refs} a band of its own that names the side"
        + ("" if new else "; they are in the aircraft, so tag them when the kit is fitted"),
    )
