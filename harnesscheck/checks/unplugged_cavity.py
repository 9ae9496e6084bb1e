"""An unused cavity of a sealed connector has no sealing plug.

What
    Every cavity of a connector with a wire sealing grommet that carries no wire must hold a sealing plug.

Why it matters
    The empty hole in the grommet lets water in. It creeps between the contacts, the readings drift, and months later
    the pins are green. On a test bench nothing shows.

Source
    AC 43.13-1B Chg 1, par. 11-234: all cavities are filled, unwired ones are plugged.

What to do
    Put the sealing plug for the cavity size into every unused cavity and list it: plugs: for the whole connector, or
    plug: for one cavity. Write plug: none only if you have seen that the cavity is closed in another way.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._words import cavities
from harnesscheck.connector import NONE, Cavity, Connector, Use
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-234")


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every unused cavity of every connector that is sealed, or may be."""
    good = 0
    for connector in harness.connectors.values():
        sealed = connector.fact("sealed")
        if sealed is not None and sealed.value == "no":
            continue
        if connector.origin == "equipment":
            continue  # the back of the maker's receptacle is inside the box
        unused = [c for c in connector.cavities.values() if c.use is not Use.LIVE and not harness.wires_at(c.point)]
        if sealed is None:
            if connector.origin == "jumper":
                yield NotChecked(
                    place=connector.place,
                    missing="whether the connector is sealed is not known",
                    remedy="give part: or sealed:",
                )
            continue
        if connector.names is None:
            yield NotChecked(
                place=connector.place,
                missing="the insert arrangement is not known, so unused cavities cannot be counted",
            )
        open_ = [c for c in unused if c.plug == NONE or (c.plug is None and c.use is Use.SPARE)]
        unsaid = [c for c in unused if c.plug is None and c.use is Use.UNKNOWN]
        good += len(unused) - len(open_) - len(unsaid)
        for cavity in unsaid:
            yield NotChecked(
                place=cavity.place,
                missing="nobody has said what sits in this cavity",
                remedy="call it spare and give plug:",
            )
        if open_:
            yield _finding(harness, connector, open_)
    yield Passed(good, "unused cavities")


def _finding(harness: Harness, connector: Connector, open_: list[Cavity]) -> Finding:
    record = harness.part("insert", connector.says("insert"))
    size = record.text("cavity size") if record else None
    plural = "cavities" if len(open_) > 1 else "cavity"
    return Finding(
        headline=f"{cavities(c.point for c in open_)}: unused and not plugged, the connector is sealed",
        place=open_[0].place,
        others=(*(c.place for c in open_[1:]), connector.place),
        value=f"{len(open_)} open {plural}",
        limit="a sealing plug in every unused cavity",
        remedy=f"add the sealing plug for size {size} cavities" if size else "add the sealing plug for the cavity size",
    )
