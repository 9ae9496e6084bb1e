"""An unused cavity of a sealed connector has no sealing plug.

What
    Every cavity of a connector with a wire sealing grommet that carries no wire must hold a sealing plug. Whether it
    is the right plug is looked at by wrong-sealing-plug.

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

from harnesscheck.checks._words import cavities, cure, many, no_names, why_unknown
from harnesscheck.connector import NONE, Cavity, Connector, Origin, Use
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-234")
FOLLOWS = (
    "wrong-mate",
    "wrong-sealing-plug",
)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every unused cavity of every connector that is sealed, or may be."""
    good = 0
    for connector in harness.connectors.values():
        sealed = connector.fact("sealed")
        if connector.origin is Origin.EQUIPMENT or (sealed is not None and sealed.value == "no"):
            continue  # the back of the maker's receptacle is inside the box
        if sealed is None:
            yield NotChecked(
                place=connector.place,
                missing=why_unknown(harness, connector, "whether the rear of the connector is sealed"),
                remedy=cure(harness, connector, "sealed:"),
            )
            continue
        if connector.names is None:
            yield NotChecked(
                place=connector.place,
                missing=f"{no_names(harness, connector)}; unused cavities that nobody listed cannot be counted",
                remedy=cure(harness, connector, "insert:"),
            )
        open_: list[Cavity] = []
        for cavity in connector.cavities.values():
            if not _unused(harness, connector, cavity):
                continue
            if cavity.plug == NONE or (cavity.plug is None and cavity.use is not Use.UNKNOWN):
                open_.append(cavity)
            elif cavity.plug is None:
                yield NotChecked(
                    place=cavity.place,
                    missing="nobody has said what sits in this cavity",
                    remedy="call it spare and give plug:, or name the circuit",
                )
            else:
                good += 1
        if open_:
            yield _open(harness, connector, open_)
    yield Passed(good, "unused cavities")


def _unused(harness: Harness, connector: Connector, cavity: Cavity) -> bool:
    """No wire ends here. An airframe file may name a circuit and leave its wire out; a jumper file lists every wire."""
    if harness.wires_at(cavity.point):
        return False
    return connector.origin is Origin.JUMPER or cavity.use is not Use.LIVE


def _open(harness: Harness, connector: Connector, open_: list[Cavity]) -> Finding:
    record = harness.part("insert", connector.says("insert"))
    size = record.text("cavity size") if record else None
    which = f"size {size} cavities" if size else "the cavity size"
    return Finding(
        headline=f"{cavities(c.point for c in open_)}: unused and not plugged, although the connector is sealed",
        place=open_[0].place,
        others=(*(c.place for c in open_[1:]), connector.place),
        value=many(len(open_), "open cavity", "open cavities"),
        limit="a sealing plug in every unused cavity",
        remedy=f"add the sealing plug for {which}, under plugs: or plug:",
    )
