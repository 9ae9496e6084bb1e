"""An unused cavity of a sealed connector has no sealing plug.

What
    Every cavity of a connector with a wire sealing grommet that carries no wire must hold a sealing plug, and the
    plug must be the one for the size of the cavity.

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

from harnesscheck.checks._words import Tally, cavities, cure, many, no_names, several, weakest, why_unknown
from harnesscheck.connector import NONE, Cavity, Connector, Origin, Use
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-234")
FOLLOWS = ("wrong-mate",)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every unused cavity of every connector that is sealed, or may be."""
    good = Tally("unused cavities")
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
        open_, plugged = [], dict[str, list[Cavity]]()
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
                plugged.setdefault(cavity.plug, []).append(cavity)
        if open_:
            yield _open(harness, connector, open_)
        for number, listed in plugged.items():
            answer = _misfit(harness, connector, number, listed)
            if isinstance(answer, Source):
                good.add(len(listed), answer)
            else:
                yield answer
    yield from good.passed()


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


def _misfit(harness: Harness, connector: Connector, number: str, listed: list[Cavity]) -> Answer | Source:
    """What is wrong with a stated plug; the source when it is made for the cavity size."""
    plug, insert = harness.part("sealing plug", number), harness.part("insert", connector.says("insert"))
    sizes, size = plug.fact("size") if plug else None, insert.fact("cavity size") if insert else None
    if plug is None or sizes is None or size is None:
        if plug is None:
            missing = f"sealing plug {number} is not in the parts drawer"
        else:
            what = f"sealing plug {number}" if sizes is None else f"the cavities of {connector.ref}"
            missing = f"the size of {what} is not known"
        return NotChecked(place=listed[0].place, missing=missing, remedy="add it to the shop's parts file")
    fits = sizes.value if isinstance(sizes.value, tuple) else (str(sizes.value),)
    source = weakest(sizes, size)
    assert source is not None
    if size.value in fits:
        return source
    return Finding(
        headline=f"{cavities(c.point for c in listed)}: sealing plug {number} is for size {several(fits)} cavities, "
        f"these are size {size.value}",
        place=listed[0].place,
        others=(*(c.place for c in listed[1:]), connector.place),
        value=f"plug for size {several(fits)}",
        limit=f"plug for size {size.value}",
        source=source,
        remedy=f"take the sealing plug for size {size.value} cavities",
    )
