"""What a jumper does to the aircraft's copper, from the text of the files alone: the independent half of a comparison.

Uses nothing of harnesscheck: the YAML is read as text by ruamel.yaml, cavities come from the corpus' own table of
inserts, and pieces of copper are networkx' connected components. Written from the meaning of the files
(docs/file-format.md): wires and mated contacts join, breakers and equipment do not; mated cavities of one name touch
unless a half is known not to have the cavity, or is stated to have no contact there.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any

import networkx as nx
from ruamel.yaml import YAML

from tests.corpus import tables

File = dict[str, Any]


def read(path: Path) -> File:
    """One file, every scalar as text."""
    return _read(path.read_text(encoding="utf-8"))


@lru_cache(maxsize=64)
def _read(text: str) -> File:
    found: File = YAML(typ="base").load(text)
    return found


def ref(point: str) -> str:
    """``P14`` of ``P14-3``."""
    return point.partition("-")[0]


def insert(part: str) -> tuple[str, ...] | None:
    """Cavity names of a part number, from the corpus' own table; None when it does not tell."""
    try:
        return tables.INSERTS[tables.insert_of(part)].cavities
    except (KeyError, StopIteration, IndexError):
        return None


@dataclass
class Half:
    """One connector half of any of the files."""

    ref: str
    of: str
    names: tuple[str, ...] | None
    said: dict[str, Any] = field(default_factory=dict)
    mates: str = ""
    ends: set[str] = field(default_factory=set)
    """Cavities at which a wire of its own file ends."""

    def has(self, name: str) -> bool:
        """True unless it is known not to have a cavity."""
        return self.names is None or name in self.names or name in self.said or name in self.ends

    def bare(self, name: str) -> bool:
        """True where no contact is stated."""
        said = self.said.get(name)
        return isinstance(said, dict) and said.get("contact") == "none"

    def all(self) -> list[str]:
        """Every cavity that it is known to have."""
        return [*self.said, *self.ends, *(self.names or ())]


class Oracle:
    """One job folder."""

    def __init__(self, file: Path) -> None:
        self.jumper = read(file)
        self.airframe = read(file.parent / self.jumper["airframe"])
        self.units = {u: read(file.parent / path) for u, path in (self.jumper.get("equipment") or {}).items()}
        self.opened = set(self.jumper["opens"].replace(" ", "").split("/"))
        self.halves: dict[str, Half] = {}
        for of, prefix, content in self._files():
            for name, entry in (content.get("connectors") or {}).items():
                said = {**(entry.get("cavities") or {}), **(entry.get("pins") or {})}
                half = Half(prefix + name, of, self._names(entry), said, entry.get("mates", ""))
                half.ends = {p.partition("-")[2] for _, *ends in self._wires(content) for p in ends if ref(p) == name}
                self.halves[prefix + name] = half

    def _files(self) -> Iterator[tuple[str, str, File]]:
        yield "airframe", "", self.airframe
        yield "jumper", "", self.jumper
        for unit, content in self.units.items():
            yield "equipment", unit, content

    def _names(self, entry: File) -> tuple[str, ...] | None:
        if entry.get("insert") in tables.INSERTS:
            return tables.INSERTS[entry["insert"]].cavities
        return insert(entry.get("part", ""))

    @staticmethod
    def _wires(content: File) -> Iterator[tuple[str, str, str]]:
        for name, entry in (content.get("wires") or {}).items():
            ends = (entry["from"], entry["to"])
            one, two = (f"stowed end of {name}" if end == "stowed" else end for end in ends)
            yield name, one, two

    def _mates(self, content: File, prefix: str = "") -> Iterator[tuple[Half, Half]]:
        for name, entry in (content.get("connectors") or {}).items():
            if entry.get("mates"):
                yield self.halves[prefix + name], self.halves[entry["mates"]]

    @staticmethod
    def contacts(one: Half, two: Half, more: Iterable[str] = ()) -> Iterator[tuple[str, str]]:
        """Cavities that touch when two halves are mated."""
        for name in dict.fromkeys([*one.all(), *two.all(), *more]):
            if one.has(name) and two.has(name) and not one.bare(name) and not two.bare(name):
                yield f"{one.ref}-{name}", f"{two.ref}-{name}"

    # -- copper ----------------------------------------------------------------------------------------------------

    @cached_property
    def before(self) -> nx.Graph[str]:
        """The aircraft as found; nodes are its own points."""
        graph: nx.Graph[str] = nx.Graph()
        for half in self.halves.values():
            if half.of == "airframe":
                graph.add_nodes_from(f"{half.ref}-{name}" for name in half.all())
        for key in ("splices", "grounds", "buses"):
            graph.add_nodes_from(self.airframe.get(key) or ())
        for name in self.airframe.get("breakers") or ():
            graph.add_nodes_from((f"{name}-line", f"{name}-load"))
        graph.add_edges_from((a, b) for _, a, b in self._wires(self.airframe))
        for one, two in self._mates(self.airframe):
            # What the kit's halves are known to have, the aircraft's halves have as well: they fit each other.
            kit = [n for h in self.halves.values() if h.of == "jumper" and h.mates in self.opened for n in h.all()]
            kit += [p.partition("-")[2] for _, *ends in self._wires(self.jumper) for p in ends if ref(p) in self.opened]
            graph.add_edges_from(self.contacts(one, two, kit if {one.ref, two.ref} == self.opened else ()))
        return graph

    @cached_property
    def kit(self) -> nx.Graph[str]:
        """The kit's own copper and the contacts it makes."""
        graph: nx.Graph[str] = nx.Graph()
        graph.add_edges_from((a, b) for _, a, b in self._wires(self.jumper))
        for one, two in self._mates(self.jumper):
            graph.add_edges_from(self.contacts(one, two))
        for half in self.halves.values():
            for name, pin in half.said.items() if half.of == "equipment" else ():
                if pin.get("loops"):
                    graph.add_edge(f"{half.ref}-{name}", f"{half.ref}-{pin['loops']}")
        return graph

    @cached_property
    def after(self) -> nx.Graph[str]:
        """Everything, with the opened pair apart."""
        graph: nx.Graph[str] = nx.Graph()
        graph.add_nodes_from(self.before)
        graph.add_edges_from((a, b) for _, a, b in self._wires(self.airframe))
        for one, two in self._mates(self.airframe):
            if {one.ref, two.ref} != self.opened:
                graph.add_edges_from(self.contacts(one, two))
        graph.add_edges_from(self.kit.edges)
        return graph

    # -- what the statement must say -------------------------------------------------------------------------------

    def use(self, points: Iterable[str]) -> str:
        """``live``, ``spare`` or ``unknown``."""
        found = {self._use(point) for point in points}
        return next(word for word in ("live", "spare", "unknown") if word in found)

    def _use(self, point: str) -> str:
        half = self.halves.get(ref(point))
        if half is None:
            return "live"
        name = point.partition("-")[2]
        said = half.said.get(name)
        typed = said if isinstance(said, str) else (said or {}).get("use", "live" if said else None)
        if typed in ("spare", "unknown"):
            return "live" if name in half.ends else str(typed)
        return "live" if typed is not None or name in half.ends else "unknown"

    @cached_property
    def nets(self) -> tuple[list[set[str]], list[set[str]]]:
        """Nets of the aircraft that are parted (spares left out), and groups of its points that are joined."""
        new = {p: n for n, piece in enumerate(nx.connected_components(self.after)) for p in piece}
        old = {p: n for n, piece in enumerate(nx.connected_components(self.before)) for p in piece}
        parted = [
            piece
            for piece in nx.connected_components(self.before)
            if len({new[p] for p in piece}) > 1 and self.use(piece) != "spare"
        ]
        own = set(self.before)
        joined = [
            piece & own for piece in nx.connected_components(self.after) if len({old[p] for p in piece & own}) > 1
        ]
        return parted, joined

    @cached_property
    def not_led(self) -> list[str]:
        """Cavities of the opened pair, spares left out, that the kit alone does not lead to the same name."""
        one, two = (self.halves[r] for r in sorted(self.opened))
        missing = []
        for name in sorted({p.partition("-")[2] for p in self.before if ref(p) == one.ref}):
            a, b = f"{one.ref}-{name}", f"{two.ref}-{name}"
            if not self.before.has_edge(a, b):
                continue
            away = set(self.before) - {a, b}
            alone = self.kit.subgraph(set(self.kit) - away)
            led = a in alone and b in alone and nx.has_path(alone, a, b)
            if not led and self.use(nx.node_connected_component(self.before, a)) != "spare":
                missing.append(a)
        return missing

    @cached_property
    def wrong_taps(self) -> list[str]:
        """Pins on the aircraft that nobody declares, and declared taps that are not made."""
        terminals = {*(self.airframe.get("grounds") or ()), *(self.airframe.get("buses") or ())}
        terminals |= {f"{b}-{end}" for b in self.airframe.get("breakers") or () for end in ("line", "load")}
        taps = self.jumper.get("taps") or {}
        wrong = []
        for point in sorted(self.after):
            half = self.halves.get(ref(point))
            if half is None or half.of != "equipment" or point in taps:
                continue
            piece = nx.node_connected_component(self.after, point)
            alone = self.kit.subgraph(set(self.kit) - (set(self.before) - terminals)) if point in self.kit else None
            direct = alone is not None and bool(nx.node_connected_component(alone, point) & terminals)
            if piece & set(self.before) and not direct:
                wrong.append(point)
        for pin, circuit in taps.items():
            piece = nx.node_connected_component(self.after, pin) if pin in self.after else {pin}
            if circuit not in {self._circuit(p) for p in piece & set(self.before)}:
                wrong.append(pin)
        return wrong

    def _circuit(self, point: str) -> str | None:
        half = self.halves.get(ref(point))
        said = half.said.get(point.partition("-")[2]) if half else None
        return str(said.get("circuit")) if isinstance(said, dict) else said

    @property
    def claims(self) -> dict[str, bool]:
        """The three claims about copper."""
        parted, joined = self.nets
        return {"nets": not parted and not joined, "ways": not self.not_led, "taps": not self.wrong_taps}
