"""The wiring as a graph (GraphML 1.0) for programs that draw or analyse networks."""

from __future__ import annotations

from xml.etree import ElementTree

from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.place import Point

SUFFIX = ".graphml"
ABOUT = "points as nodes; wires and mated contacts as edges"

_NAMESPACE = "http://graphml.graphdrawing.org/xmlns"
_NODE = {"kind": "string", "connector": "string", "cavity": "string", "circuit": "string", "net": "int",
         "origin": "string"}  # fmt: skip
_EDGE = {"kind": "string", "id": "string", "gauge": "string", "length": "double", "type": "string", "colour": "string",
         "cable": "string", "core": "string", "origin": "string"}  # fmt: skip


def write(job: Job) -> bytes:
    """The harness with the jumper in; ``length`` is in metres, what is not known has no ``data``.

    A node is an electrical point: a cavity, a splice, a ground stud, a bus, a terminal of a breaker. An edge is a wire
    (from end A to end B), a leg of a splice (a wire that ends in one), or a mated pair of contacts. Breakers and
    equipment join nothing: they are no copper.
    """
    harness = job.subject
    top = ElementTree.Element("graphml", {"xmlns": _NAMESPACE})
    for domain, keys in (("node", _NODE), ("edge", _EDGE)):
        for name, kind in keys.items():
            ElementTree.SubElement(
                top, "key", {"id": f"{domain}-{name}", "for": domain, "attr.name": name, "attr.type": kind}
            )
    graph = ElementTree.SubElement(top, "graph", {"id": "harness", "edgedefault": "undirected"})
    ElementTree.SubElement(graph, "desc").text = harness.title
    for point in harness.points:
        _data(ElementTree.SubElement(graph, "node", {"id": str(point)}), "node", _of_point(harness, point))
    for wire in harness.wires.values():
        leg = any(end.ref in harness.splices for end in (wire.a, wire.b))
        ends = {"source": str(wire.a), "target": str(wire.b)}
        said = {
            "kind": "splice leg" if leg else "wire", "id": wire.id, "gauge": str(wire.gauge) if wire.gauge else None,
            "length": None if wire.length is None else repr(wire.length), "type": wire.type, "colour": wire.colour,
            "cable": wire.cable, "core": wire.core, "origin": str(wire.origin),
        }  # fmt: skip
        _data(ElementTree.SubElement(graph, "edge", {"id": f"wire {wire.id}", **ends}), "edge", said)
    for a, b in harness.mated_points:
        ends = {"source": str(a), "target": str(b)}
        _data(ElementTree.SubElement(graph, "edge", {"id": f"mate {a}/{b}", **ends}), "edge", {"kind": "mate"})
    ElementTree.indent(top, " ")
    data: bytes = ElementTree.tostring(top, encoding="utf-8", xml_declaration=True)
    return data + b"\n"


def _of_point(harness: Harness, point: Point) -> dict[str, str | None]:
    kinds = {"cavity": harness.connectors, "splice": harness.splices, "ground stud": harness.grounds,
             "bus": harness.buses, "breaker terminal": harness.breakers}  # fmt: skip
    kind = next((kind for kind, listed in kinds.items() if point.ref in listed), "stowed end")
    cavity, owner = harness.cavity(point), kinds.get(kind, {}).get(point.ref)
    return {
        "kind": kind, "connector": point.ref if kind == "cavity" else None, "cavity": point.cavity or None,
        "circuit": cavity.circuit if cavity else None, "net": str(harness.nets.of(point)),
        "origin": str(owner.origin) if owner is not None else None,  # type: ignore[attr-defined]
    }  # fmt: skip


def _data(element: ElementTree.Element, domain: str, said: dict[str, str | None]) -> None:
    for name, value in said.items():
        if value is not None:
            ElementTree.SubElement(element, "data", {"key": f"{domain}-{name}"}).text = value
