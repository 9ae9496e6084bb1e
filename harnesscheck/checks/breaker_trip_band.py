"""Between its rating and its trip point a breaker lets through more than the wire behind it may carry.

What
    A thermal breaker may carry up to 140 % of its rating for an hour before it opens. Every new wire behind a breaker
    is compared with that current: what it may carry in its bundle, at its altitude and ambient, must be as much. For a
    fuse the same share is taken. A wire that may not even carry the rating is a caution; one that may, and not the
    140 %, a note: Table 11-3 allows it, and the trip curve of the breaker decides.

Why it matters
    A half-seized motor or a chafed lamp draws 130 %. The breaker holds, and the thin tap wire cooks its bundle for an
    hour.

Source
    AC 43.13-1B Chg 1, par. 11-47 and 11-48: the wire carries more than the protector, including its trip curve. 140 %
    within an hour: a third-party page on aircraft breakers (others say 130 % and 135 %: the highest is used because it
    is the hardest on the wire). Ampacity as in over-ampacity.

What to do
    Take a thicker wire or a smaller breaker, lead it outside the bundle, or fuse the tap where it leaves the feeder.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from harnesscheck.checks._ampacity import carries
from harnesscheck.checks._limits import Limit, limit
from harnesscheck.checks._power import amps, live, unknown
from harnesscheck.checks._supply import coppers
from harnesscheck.checks._words import several
from harnesscheck.electrics.doubt import unsure as unsure_wires
from harnesscheck.electrics.elements import Gap
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.formulas.protection import TRIP_BAND, TRIP_BAND_SOURCE, held
from harnesscheck.harness import Harness
from harnesscheck.source import Source
from harnesscheck.units import UnitError

SEVERITY = Severity.CAUTION
SOURCE: Source = TRIP_BAND_SOURCE
FOLLOWS = (
    "pin-collision",
    "broken-through-circuit",
    "thin-wire-behind-breaker",
    "over-ampacity",
    "wire-below-zone-temperature",
    "double-feed",
)


def _percent(text: str) -> float:
    number, mark, rest = text.partition(" %")
    if not mark or rest or not number.isascii() or not number.isdecimal() or int(number) < 100:
        raise UnitError("write a share of the rating of 100 % or more, like 140 %")
    return int(number) / 100


LIMIT = Limit(TRIP_BAND, "140 %", TRIP_BAND_SOURCE, _percent)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every new wire behind a breaker; one finding for each breaker."""
    net = live(harness)
    if net is None:
        return
    band = limit(harness, "breaker-trip-band", LIMIT)
    loads, unsure = net.amps("on"), frozenset(unsure_wires(net, "on"))
    good = 0
    missing: dict[Gap, None] = {}
    for here in coppers(harness):
        rated = [breaker for breaker in here.breakers if breaker.rating is not None]
        if not rated or not here.new:
            continue
        most = held(math.fsum(breaker.rating or 0.0 for breaker in rated), band.value)
        names = several(f"{b.ref} ({b.rating:g} A)" for b in rated) + (" lets" if len(rated) == 1 else " let")
        wrong, thinner = [], []
        for wire in here.new:
            found = carries(harness, wire, loads, unsure, most)
            if isinstance(found, Gap):
                missing[found] = None
            elif found.worst >= most:
                good += 1
            elif found.best < most:
                wrong.append((found.best, wire, found))
            else:
                thinner.append((wire, found))
        if wrong:
            least, wire, found = min(wrong, key=lambda each: each[0])
            yield Finding(
                headline=f"{names} {amps(most)} flow for an hour, and {wire.id} ({wire.gauge}) may carry {amps(least)}",
                place=wire.place,
                others=(*(w.place for _, w, _ in wrong if w is not wire), *(b.place for b in rated)),
                value=f"{several(w.id for _, w, _ in wrong)}: {amps(least)} ({found.words})",
                limit=f"{amps(most)}, {band.text} of the rating",
                source=band.source,
                severity=None if least < most / band.value else Severity.NOTE,
                remedy="take a thicker wire or a smaller breaker, lead it outside the bundle, or fuse the tap",
            )
        for wire, found in thinner:
            yield NotChecked(
                place=wire.place,
                missing=f"{found.missing} {wire.id} may carry {amps(found.worst)}, and {names} {amps(most)} flow",
                remedy="give bundle: for the wires that are tied together",
            )
    yield from unknown(missing, "trip band of the breaker")
    yield Passed(good, "new wires behind a breaker")
