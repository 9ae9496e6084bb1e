"""Reckon the evidence of a do-no-harm proof through again, by other means and without the rest of the program.

``python recheck.py evidence.json [--folder JOB]`` needs this one file and Python. It follows the copper by its own
search, adds every number up from its inputs, and refuses what the evidence does not support. Whether the inputs are
true it cannot know. Exit: 0 confirmed; 1 refused, or the evidence says harm; 2 cannot be read.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import math
import re
import sys
from collections import deque
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

LAYOUT, VERSION, VALUES = "do-no-harm evidence", 1, ("metres", "ohm per metre", "ohms")
OWNERS, TERMINALS = ("airframe", "jumper", "equipment"), ("ground", "breaker", "bus")
POINTS = (*TERMINALS, "cavity", "splice", "stowed end")
NO_STUB = (None, "power", "ground", "lighting", "shield", "signal ground", "none")
TOP = """layout=t version=c title=t revision=t opened=t* undeclared=t* joined=c** parted=c* spares_ended=c* changed=t*
    holds=b seal=t"""
ROWS = {
    "files": "name=t sha256=t now=t?",
    "points": "name=t of=t kind=t before=c? after=c",
    "edges": "id=t kind=t of=t from=t to=t before=b after=b",
    "circuits": "name=t signal=t? at=t",
    "pieces": "edge=t metres=n? ohm_per_metre=n? ohms=n? source=t",
    "taps": "pin=t circuit=t made=b",
    "direct": "pin=t steps=t*",
    "ways": """pair=t circuits=t* use=t kit=t*? splices=t* ohms=n? carries=t kit_volts=n? aircraft=t*? device=t
        aircraft_splices=t* device_ohms=n? aircraft_ohms=n? aircraft_volts=n? not_known=t*""",
    "breakers": "breaker=t rating=n? before=n? after=n? share=n? peak=n? not_known=t*",
    "stubs": """pin=t circuit=t steps=t*? metres=n? listens=b? receivers_before=c? receivers_added=c
        receivers_after=c? receivers_allowed=c? share=n? not_known=t*""",
}
FINDING = "check=t severity=t headline=t value=t limit=t source=t counts=b"
TYPES: dict[str, Any] = {"t": str, "b": bool, "c": int, "n": (int, float)}


def keys(text: str) -> dict[str, Any]:
    """Keys with text, boolean, count or number; ``?`` may be null, which says not known; ``*`` is a list."""
    return {key.replace("_", " "): kind for key, kind in (word.split("=") for word in text.split())}


SHAPE: dict[str, Any] = {**keys(TOP), **{name: [keys(text)] for name, text in ROWS.items()}}
SHAPE["ways"][0]["loads"] = [keys("name=t new=b amps=n?")]
SHAPE["breakers"][0]["loads"] = [keys("name=t new=b amps=n? peak=n?")]
SHAPE["splice"] = keys("ohms=n source=t")
SHAPE["claims"] = keys("nets=b ways=b taps=b limits=b? removal=b files=b?")
SHAPE["checks"] = [keys("stop=c caution=c note=c not_checked=t*") | {"findings": [keys(FINDING)]}]
Row = dict[str, Any]


class RefusedError(Exception):
    """The evidence does not support what it claims, or is not of the layout."""


def need(holds: object, fault: str) -> None:
    """Refuse the evidence unless ``holds``."""
    if not holds:
        raise RefusedError(fault)


def conform(value: Any, shape: Any, at: str = "") -> None:
    """Refuse what is not of the layout."""
    if isinstance(shape, dict):
        need(isinstance(value, dict) and value.keys() == shape.keys(), f"{at or 'it'} has not the keys of the layout")
        for key in shape:
            conform(value[key], shape[key], f"{at} {key}".strip())
    elif isinstance(shape, str) and shape.endswith("?"):
        if value is not None:
            conform(value, shape[:-1], at)
    elif isinstance(shape, list) or shape.endswith("*"):
        need(isinstance(value, list), f"{at} is not a list")
        for number, each in enumerate(value, 1):
            conform(each, shape[0] if isinstance(shape, list) else shape[:-1], f"{at} {number}")
    else:
        good = isinstance(value, TYPES[shape]) and isinstance(value, bool) == (shape == "b")
        need(good and (shape in "tb" or (math.isfinite(value) and value >= 0)), f"{at} is not what the layout wants")


def total(values: Iterable[float | None], add: Callable[[list[float]], float] = math.fsum) -> float | None:
    """A sum, or with ``math.prod`` a product; not known when one of the parts is not."""
    parts = list(values)
    return None if None in parts else add([value for value in parts if value is not None])


def same(row: Row, key: str, value: float | None, what: str) -> None:
    """Refuse a number of a row that is not what its inputs give."""
    here = row[key]
    close = here is value if None in (here, value) else math.isclose(here, value or 0, rel_tol=1e-9, abs_tol=1e-12)
    need(close, f"{what}: {key} is {here}, and its inputs give {value}")


def said(row: Row, word: str, what: str, value: object = None) -> None:
    """Refuse a row that does not say of something without a value that it is not known."""
    need(value is not None or any(word in line for line in row["not known"]), f"{what}: {word} is silently not known")


def named(rows: list[Row], key: str) -> dict[str, Row]:
    """Rows by name, each name once."""
    found = {row[key]: row for row in rows}
    need(len(found) == len(rows), f"two rows have the same {key}")
    return found


class Recheck:
    """One run over the evidence. Raises ``RefusedError`` at the first thing that it does not support."""

    def __init__(self, data: Row) -> None:
        conform(data, SHAPE)
        need((data["layout"], data["version"]) == (LAYOUT, VERSION), f"this is no {LAYOUT} of version {VERSION}")
        text = json.dumps({**data, "seal": ""}, sort_keys=True, separators=(",", ":"))
        need(hashlib.sha256(text.encode("ascii")).hexdigest() == data["seal"], "the seal is broken")
        self.data = data
        tables = (("points", "name"), ("edges", "id"), ("pieces", "edge"))
        self.points, self.edges, self.pieces = (named(data[table], key) for table, key in tables)
        self.used, self.measured, self.trunk = set[str](), set[str](), set[str]()
        for step in (self._edges, self._nets, self._ways, self._taps, self._breakers, self._stubs, self._claims):
            step()

    def _edges(self) -> None:
        need(len(set(self.data["opened"])) == len(self.data["opened"]) == 2, "there is no opened pair")
        for name, point in self.points.items():
            need(point["of"] in OWNERS and point["kind"] in POINTS, f"what {name} is, is not said")
            need((point["of"] == "airframe") == (point["before"] is not None), f"{name}: only the aircraft's was there")
        for name, edge in self.edges.items():
            ends, own, mate = (edge["from"], edge["to"]), edge["of"] == "airframe", edge["kind"] == "mate"
            need(all(end in self.points for end in ends), f"{name} ends at no point")
            need(edge["kind"] in ("wire", "mate", "inside") and edge["of"] in OWNERS, f"what {name} is, is not said")
            need(own or (not edge["before"] and edge["after"]), f"{name} is new, and said to have been there")
            owners = {self.points[end]["of"] for end in ends}
            need(not edge["before"] or owners == {"airframe"}, f"{name} was there, and ends at something new")
            need(edge["kind"] != "inside" or owners == {"equipment"}, f"{name} is inside nothing")
            halves, cavities = zip(*(f"{end}-".split("-", 1) for end in ends), strict=True)
            need(not mate or (name == "/".join(ends) and cavities[0] == cavities[1]), f"{name} mates two names")
            parted = mate and own and set(halves) == set(self.data["opened"])
            need(edge["after"] != parted, f"{name}: the opened pair, and nothing else, is parted")

    def search(self, names: list[str], state: str) -> dict[str, int]:
        """Pieces of copper by breadth-first search, numbered in the order of their first point."""
        beside: dict[str, list[str]] = {name: [] for name in names}
        for edge in self.edges.values():
            if edge[state]:
                beside[edge["from"]].append(edge["to"])
                beside[edge["to"]].append(edge["from"])
        number, count = dict[str, int](), 0
        for start in names:
            waiting = deque([] if start in number else [start])
            while waiting:
                here = waiting.popleft()
                if here not in number:
                    number[here] = count
                    waiting.extend(beside[here])
            count += number[start] == count
        return number

    def _nets(self) -> None:
        own = [name for name, point in self.points.items() if point["of"] == "airframe"]
        self.before, self.after = self.search(own, "before"), self.search(list(self.points), "after")
        joined, pieces = dict[int, set[int]](), dict[int, set[int]]()
        for name, point in self.points.items():
            right = point["after"] == self.after[name] and point["before"] == self.before.get(name)
            need(right, f"the net of {name} is not what the wires say")
        for name in own:
            joined.setdefault(self.after[name], set()).add(self.before[name])
            pieces.setdefault(self.before[name], set()).add(self.after[name])
        self.joined = sorted(sorted(nets) for nets in joined.values() if len(nets) > 1)
        self.several = [net for net in sorted(pieces) if len(pieces[net]) > 1]
        self.names, self.signals = dict[int, set[str]](), dict[str, str | None]()
        for circuit in self.data["circuits"]:
            need(circuit["at"] in self.before, f"{circuit['name']} stands at no point of the aircraft")
            self.names.setdefault(self.before[circuit["at"]], set()).add(circuit["name"])
            signal = self.signals.setdefault(circuit["name"], circuit["signal"])
            need(signal == circuit["signal"], f"{circuit['name']} carries two things")

    def follow(self, start: str, steps: list[str], what: str, *, kit: bool) -> list[str]:
        """The points along edges; each must go on from the last, by the kit's copper or by the aircraft's."""
        points = [start]
        for name in steps:
            edge = self.edges.get(name, {"from": "", "to": ""})
            need(points[-1] in (edge["from"], edge["to"]), f"{what}: {name} does not go on from {points[-1]}")
            right = edge["of"] != "airframe" if kit else edge["before"] and edge["after"]
            need(right, f"{what}: {name} is not of the right side")
            points.append(edge["to"] if points[-1] == edge["from"] else edge["from"])
        need(not kit or not self.before.keys() & points[1:-1], f"{what} runs through the aircraft")
        return points

    def ohms(self, points: list[str], steps: list[str], row: Row, splices: str) -> float | None:
        """Resistance of a way from its pieces; what is missing must be said to be."""
        what, parts = row["pair"], list[float | None]()
        passed = {p for p in points if self.points[p]["kind"] == "splice"}
        need(sorted(passed) == sorted(row[splices]), f"{what}: {splices} are not those on the way")
        for name in steps:
            need(name in self.pieces, f"{what}: nothing is said of {name}")
            piece, wire = self.pieces[name], self.edges[name]["kind"] == "wire"
            parts.append(total((piece["metres"], piece["ohm per metre"]), math.prod) if wire else piece["ohms"])
            said(row, name, what, parts[-1])
        self.used.update(steps)
        return total([*parts, self.data["splice"]["ohms"] * len(passed)])

    def _ways(self) -> None:
        ways = named(self.data["ways"], "pair")
        pairs = {name for name, edge in self.edges.items() if edge["before"] and not edge["after"]}
        need(pairs == ways.keys(), "ways are not those of the opened pair")
        for name, way in ways.items():
            self._way(name, way, self.edges[name])
        wired = {self.before[edge["from"]] for edge in self.edges.values() if edge["before"] and edge["kind"] == "wire"}
        wired |= {net for name, net in self.before.items() if self.points[name]["kind"] != "cavity"}
        self.spare = {self.before[self.edges[name]["from"]] for name, way in ways.items() if way["use"] == "spare"}
        need(not self.spare & (wired | self.names.keys()), "something wired or named is called spare")

    def _way(self, what: str, way: Row, pair: Row) -> None:
        names = self.names.get(self.before[pair["from"]], set())
        need(sorted(names) == sorted(way["circuits"]), f"{what}: circuits are not those of its copper")
        need(way["use"] in (("live",) if names else ("live", "spare", "unknown")), f"{what}: wrong use")
        loads, ohms, aircraft = way["loads"], None, None
        signals = {self.signals[name] for name in names}
        carries = "supply" if signals & {"power", "lighting"} else "return" if "ground" in signals else ""
        if way["kit"] is not None:
            points = self.follow(pair["from"], way["kit"], what, kit=True)
            need(points[-1] == pair["to"], f"{what}: the way does not reach {pair['to']}")
            self.trunk.update(points)
            ohms = self.ohms(points, way["kit"], way, "splices")
        else:
            silent = way["splices"] or not (way["use"] == "spare" or way["not known"])
            need(not silent, f"{what}: not said that there is no way")
            carries = ""
        same(way, "ohms", ohms, what)
        need(way["carries"] == carries and (carries or not loads), f"{what}: carries something else")
        for load in loads:
            said(way, load["name"], what, load["amps"])
        new = [load["amps"] for load in loads if load["new"]]
        old = len(loads) > len(new)
        need(old or not carries or way["not known"], f"{what}: not said that its loads are not known")
        same(way, "kit volts", total((ohms, total(load["amps"] for load in loads)), math.prod) if old else None, what)
        if way["aircraft"] is not None:
            need(new, f"{what}: no new load runs through the aircraft")
            aircraft = self._aircraft(way, pair, f"{what} in the aircraft")
        else:
            empty = (way["device"], way["device ohms"], way["aircraft splices"]) == ("", None, [])
            need(empty, f"{what}: a device, and no way to it")
            said(way, "new load", what, None if new else "")
        same(way, "aircraft ohms", aircraft, what)
        same(way, "aircraft volts", total((aircraft, total(new)), math.prod), what)

    def _aircraft(self, way: Row, pair: Row, what: str) -> float | None:
        """Resistance of the aircraft's own way, from either half of the pair to a breaker, bus or stud."""
        steps, device = way["aircraft"], way["device"]
        first = self.edges.get(steps[0], {}) if steps else {}
        start = pair["to"] if pair["to"] in (first.get("from"), first.get("to")) else pair["from"]
        points = self.follow(start, steps, what, kit=False)
        kinds = ("ground",) if way["carries"] == "return" else ("breaker", "bus")
        right = self.points[points[-1]]["kind"] in kinds and points[-1].split("-", 1)[0] == device
        need(right, f"{what}: does not end at {device}, a {' or '.join(kinds)}")
        said(way, device, what, way["device ohms"])
        return total([self.ohms(points, steps, way, "aircraft splices"), way["device ohms"]])

    def _taps(self) -> None:
        reached = {self.after[name] for name in self.before}
        added = {n for n, p in self.points.items() if p["of"] == "equipment" and self.after[n] in reached}
        taps = named(self.data["taps"], "pin")
        at = [(circuit["name"], self.after[circuit["at"]]) for circuit in self.data["circuits"]]
        for pin, tap in taps.items():
            made = (tap["circuit"], self.after.get(pin)) in at
            need(made == tap["made"], f"tap {pin} to {tap['circuit']}: made or not is not what is said")
        ends = [self.edges[way["pair"]][end] for way in self.data["ways"] for end in ("from", "to")]
        nets = {self.after.get(name) for name in (*taps, *ends)}
        need(all(net in nets for _, net in at), "a circuit is neither led through nor tapped")
        direct = named(self.data["direct"], "pin")
        for pin, join in direct.items():
            need(pin in added - taps.keys(), f"{pin} is no pin that is joined without a name")
            end = self.follow(pin, join["steps"], f"the joint of {pin}", kit=True)[-1]
            need(end in self.before and self.points[end]["kind"] in TERMINALS, f"{pin} is led to {end}, no stud")
        left = sorted(added - taps.keys() - direct.keys())
        need(left == sorted(self.data["undeclared"]), f"pins on the aircraft without a tap are {left}")

    def _breakers(self) -> None:
        rows = named(self.data["breakers"], "breaker")
        fed = {load["name"].partition(" ")[0] for row in rows.values() for load in row["loads"] if load["new"]}
        supply = {load["name"] for way in self.data["ways"] for load in way["loads"] if load["new"]}
        need(fed >= supply or "" in rows, "a new load that no breaker feeds")
        for what, row in rows.items():
            loads, rating = row["loads"], row["rating"]
            for load in loads:
                need((load["amps"] is None) == (load["peak"] is None), f"{what}: {load['name']} is half known")
                said(row, load["name"], what, load["amps"])
            need(what or (row["not known"] and rating is None and not loads), "a breaker without a name")
            after, peak = (total(load[key] for load in loads) if what else None for key in ("amps", "peak"))
            before = total(load["amps"] for load in loads if not load["new"]) if what else None
            share = None if after is None or not rating else after / rating
            for key, value in (("before", before), ("after", after), ("peak", peak), ("share", share)):
                same(row, key, value, what)
            said(row, what, what, rating)

    def _stubs(self) -> None:
        made = {(tap["pin"], tap["circuit"]) for tap in self.data["taps"] if tap["made"]}
        signals = {(pin, circuit) for pin, circuit in made if self.signals[circuit] not in NO_STUB}
        stubs, added = named(self.data["stubs"], "pin"), dict[str, int]()
        heard = {row["circuit"] for row in stubs.values() if row["listens"] is not False}
        need(signals == {(pin, row["circuit"]) for pin, row in stubs.items()}, f"stubs are not {sorted(signals)}")
        for pin, row in stubs.items():
            what, circuit, metres, new = f"the stub at {pin}", row["circuit"], None, row["receivers added"]
            if row["steps"] is not None:
                end = self.follow(pin, row["steps"], what, kit=True)[-1]
                need(end in self.trunk, f"{what} does not end on a way through the kit")
                wires = [name for name in row["steps"] if self.edges[name]["kind"] == "wire"]
                each = {name: self.pieces.get(name, {}).get("metres") for name in wires}
                for name, length in each.items():
                    said(row, name, what, length)
                self.measured.update(wires)
                metres = total(each.values())
            before, most = row["receivers before"], row["receivers allowed"]
            same(row, "metres", metres, what)
            same(row, "receivers after", None if before is None else before + new, what)
            same(row, "share", None if before is None or not most else (before + new) / most, what)
            need(bool(new) == (circuit in heard) and new == added.setdefault(circuit, new), f"{what}: wrong count")
            asked = {"branch to": row["steps"], "listens": row["listens"], "receivers": before, "capacitance": None}
            for word, value in asked.items():
                said(row, word, what, value)

    def _claims(self) -> None:
        need(self.pieces.keys() == self.used | self.measured, "a value that nothing uses")
        for name, piece in self.pieces.items():
            fit = VALUES[2:] if self.edges[name]["kind"] != "wire" else VALUES[: 1 + (name in self.used)]
            need(all(piece[key] is None for key in VALUES if key not in fit), f"{name}: a value that nothing uses")
            known = piece["ohms"] is not None or piece["ohm per metre"] is not None
            need(known == bool(piece["source"]), f"{name}: a resistance has a source, and nothing else has")
        need(self.data["splice"]["source"], "the resistance of a splice has no source")
        data, ways = self.data, self.data["ways"]
        ended = [net for net in self.several if net in self.spare]
        parted = [net for net in self.several if net not in self.spare]
        need(self.joined == data["joined"], f"nets that are joined are {self.joined}")
        need((parted, ended) == (data["parted"], data["spares ended"]), f"nets parted are {parted}, spares {ended}")
        bounded = [*data["breakers"], *(row for row in data["stubs"] if row["receivers allowed"] is not None)]
        limits = [None if row["share"] is None else row["share"] <= 1 + 1e-9 for row in bounded]
        files = [None if file["now"] is None else file["now"] == file["sha256"] for file in data["files"]]
        right = {
            "nets": not self.joined and not parted,
            "ways": all(way["kit"] is not None or way["use"] == "spare" for way in ways),
            "taps": not data["undeclared"] and all(tap["made"] for tap in data["taps"]),
            "limits": False if False in limits else None if None in limits else True,
            "removal": all(e["before"] or e["of"] != "airframe" for e in data["edges"]) and not data["changed"],
            "files": False if False in files else None if None in files or not files else True,
        }
        need(data["claims"] == right, f"what is claimed is {data['claims']}, and the evidence says {right}")
        holds = all(right[name] for name in ("nets", "ways", "taps", "removal")) and False not in right.values()
        need(data["holds"] is holds, f"holds is {data['holds']}, and the evidence says {holds}")
        for name, file in named(data["files"], "name").items():
            good = all(re.fullmatch("[0-9a-f]{64}", one) for one in (file["sha256"], file["now"] or file["sha256"]))
            need(name and good, f"{name}: not a SHA-256")
        need(len(data["checks"]) < 2, "the checks are said twice")
        for checks in data["checks"]:
            counted = [one["severity"] for one in checks["findings"] if one["counts"]]
            counts = {word: counted.count(word) for word in ("stop", "caution", "note", *counted)}
            need(counts.items() <= checks.items(), "the findings are counted wrong")

    def verdict(self) -> tuple[int, list[str]]:
        """Exit status, and what to print."""
        data = self.data
        rows = [*data["ways"], *data["breakers"], *data["stubs"]]
        lines = [f"not known: {line}" for line in dict.fromkeys(line for row in rows for line in row["not known"])]
        words = {True: "holds", False: "DOES NOT HOLD", None: "is not known"}
        lines += [f"claim {name} {words[value]}" for name, value in data["claims"].items()]
        lines += [f"checks: {checks['stop']} to stop for" for checks in data["checks"]] or ["checks: not run"]
        if any(checks["stop"] for checks in data["checks"]) or not data["holds"]:
            return 1, [*lines, "RECKONED THROUGH: the evidence is sound, and it says that the jumper does harm."]
        count = f"{len(self.points)} points, {len(self.edges)} wires and contacts, {len(data['ways'])} ways"
        return 0, [*lines, f"CONFIRMED: {count}; the statement holds as far as its inputs are true."]


def main(arguments: list[str] | None = None) -> int:
    """Run from the command line. Returns the exit status."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").partition("\n")[0])
    parser.add_argument("evidence", help="file with the evidence")
    parser.add_argument("--folder", type=Path, help="folder of the job: compare its files as well")
    wanted = parser.parse_args(arguments)
    try:
        run = Recheck(json.loads(Path(wanted.evidence).read_bytes()))
        for file in run.data["files"] if wanted.folder else ():
            path = wanted.folder / file["name"]
            found = hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""
            need(found == file["sha256"], f"{path} is not the file that the evidence was made from")
        status, lines = run.verdict()
    except RefusedError as fault:
        status, lines = 1, [f"REFUSED: {fault}"]
    except (OSError, ValueError, RecursionError) as error:
        print(f"{ascii(wanted.evidence)[1:-1]}: cannot be read as evidence: {error}\n  do: make anew", file=sys.stderr)
        return 2
    print("\n".join(lines))
    return status


if __name__ == "__main__":
    sys.exit(main())
