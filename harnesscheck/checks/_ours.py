"""Which wiring a check answers for: in an installed harness what the kit brings, in any other harness all of it."""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.connector import Connector, Origin
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Point
from harnesscheck.splice import Splice
from harnesscheck.wire import Cable, Wire


def ours(harness: Harness, thing: Connector | Splice | Wire | Cable) -> bool:
    """True for what the kit brings; true for everything when there is no kit, as in an airframe file alone."""
    return thing.origin is Origin.JUMPER or harness.kind is not Kind.INSTALLED


def our_splices(harness: Harness) -> Iterator[Splice]:
    """Splices that the kit brings, and those of the aircraft that a wire of the kit is led into."""
    for splice in harness.splices.values():
        if ours(harness, splice) or any(ours(harness, wire) for wire in harness.wires_at(Point(splice.ref))):
            yield splice
