"""Which wires and cables take a route, and how thick they are over the insulation or jacket."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from harnesscheck.checks._areas import weakest
from harnesscheck.checks._ours import ours
from harnesscheck.formulas.bundle import HANDBOOK, bundle_diameter, ratio
from harnesscheck.harness import Harness
from harnesscheck.place import Place
from harnesscheck.source import Source
from harnesscheck.wire import Cable, Wire
from harnesscheck.zone import Route


@dataclass(frozen=True, slots=True)
class Strand:
    """One wire or cable as it lies in a bundle; ``diameter`` is its greatest, metres, and None when not known."""

    name: str
    kind: str
    """Part number, for the person who reads the answer."""
    place: Place
    diameter: float | None = None
    source: Source | None = None


def routes_of(harness: Harness, wire: Wire) -> list[str]:
    """The route a wire states; else those of the connectors of the kit at its ends, which it must follow."""
    if wire.route is not None:
        return [wire.route]
    ends = (harness.connectors.get(point.ref) for point in (wire.a, wire.b))
    return list(dict.fromkeys(end.route for end in ends if end is not None and ours(harness, end) and end.route))


def on_routes(harness: Harness) -> list[tuple[Route, list[Wire]]]:
    """Every route that the kit uses, with all the wires stated to take it, the aircraft's own among them."""
    taken: dict[str, list[Wire]] = {}
    for wire in harness.wires.values():
        if wire.route is None and not ours(harness, wire):
            continue
        for name in routes_of(harness, wire):
            taken.setdefault(name, []).append(wire)
    return [
        (harness.routes[name], wires)
        for name, wires in taken.items()
        if name in harness.routes and any(ours(harness, wire) for wire in wires)
    ]


def strands(harness: Harness, wires: Iterable[Wire]) -> list[Strand]:
    """The wires as they lie in a bundle: every cable once, in place of its cores and its shield."""
    found: dict[str, Strand] = {}
    for wire in wires:
        cable = harness.cables.get(wire.cable or "")
        name = cable.id if cable else wire.id
        if name not in found:
            found[name] = _cable(harness, cable) if cable else _wire(harness, wire)
    return list(found.values())


def bundle(known: Iterable[Strand]) -> tuple[float, Source | None]:
    """Estimated diameter of the strands tied together, metres, with the weakest source it rests on."""
    listed = [strand for strand in known if strand.diameter is not None]
    sources = [strand.source for strand in listed]
    diameter = bundle_diameter([strand.diameter for strand in listed if strand.diameter is not None])
    return diameter, weakest(sources) if len(listed) == 1 else weakest([*sources, HANDBOOK])


def _wire(harness: Harness, wire: Wire) -> Strand:
    record = harness.part("wire", wire.type)
    span = record.span("od") if record else None
    kind = wire.type or "type not stated"
    if record is None or span is None:
        return Strand(wire.id, kind, wire.place)
    return Strand(wire.id, kind, wire.place, span.high, record.source("od"))


def _cable(harness: Harness, cable: Cable) -> Strand:
    kind = cable.type or "type not stated"
    unknown = Strand(cable.id, kind, cable.place)
    record = harness.part("cable", cable.type)
    cores, gauge = (record.text("cores"), record.text("gauge")) if record else (None, None)
    if record is None or cores is None or gauge is None:
        return unknown
    core = f"{record.text('spec')}-{gauge.removesuffix(' AWG')}"
    basis = record.source("spec")
    size = harness.part("cable size", f"{core} x {cores}")
    bare = (record.text("shield"), record.text("jacket")) == ("no shield", "no jacket")
    span = size.span("od") if size and not bare else None
    if size is not None and span is not None:
        return Strand(cable.id, kind, cable.place, span.high, weakest((size.source("od"), basis)))
    wire = harness.part("wire", core)
    span = wire.span("od") if wire and bare else None
    if wire is None or span is None:
        return unknown
    return Strand(cable.id, kind, cable.place, span.high * ratio(int(cores)), weakest((wire.source("od"), basis)))
