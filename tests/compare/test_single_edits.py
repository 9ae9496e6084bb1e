"""One edit of the demo's text is one difference: the edit that was made, and nothing else. Backwards it is the mirror.

``python tests/compare/test_single_edits.py N`` tries N random edits instead of the few that run each time.
"""

from __future__ import annotations

import json
import shutil
import sys
from itertools import combinations
from pathlib import Path
from random import Random

import edits
import networkx
import pytest

from harnesscheck import api
from harnesscheck.cli import main
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.rework.compare import Comparison, Difference, compare, words

FEW = 40
BASE = api.load(edits.DEMO / edits.J)
LISTED = edits.listed()


def edited(edit: edits.Edit, folder: Path) -> Job:
    shutil.copytree(edits.DEMO, folder, dirs_exist_ok=True)
    (folder / edit.file).write_text(edit.text, encoding="utf-8")
    return api.load(folder / edits.J)


def both(one: Job, two: Job) -> Comparison:
    return compare(one.subject, two.subject, one.equipment, two.equipment)


def some(seed: int) -> edits.Edit:
    chance = Random(seed)
    return edits.RANDOM[seed % len(edits.RANDOM)](chance)


def judge(edit: edits.Edit, folder: Path) -> None:
    job = edited(edit, folder)
    found = both(BASE, job)
    told = [(d.verb, d.what, d.name, d.was) for d in found.primary]
    assert told == [(edit.verb, edit.what, edit.name, edit.was)], (edit.file, found.primary)
    one = found.primary[0]
    if edit.fields is not None:
        assert {words(f.name): (f.before, f.after) for f in one.fields} == edit.fields
    for other in found.differences:
        assert not other.follows or other.follows == one.label
    back = both(job, BASE)
    assert sorted(map(repr, back.differences)) == sorted(repr(mirrored(d)) for d in found.differences)
    assert back.names == {(space, now): was for (space, was), now in found.names.items()}
    if not found.names:
        assert (back.parted, back.joined) == (found.joined, found.parted)
        assert pairs(found.parted) == apart(BASE.subject, job.subject)
        assert pairs(found.joined) == apart(job.subject, BASE.subject)
    else:
        assert not found.parted and not found.joined, "another name parts nothing"


def mirrored(one: Difference) -> Difference:
    """The same difference seen from the other side."""
    verb = {"added": "removed", "removed": "added"}.get(one.verb, one.verb)
    fields = tuple(type(f)(f.name, f.after, f.before) for f in one.fields)
    name, was = (one.was, one.name) if one.verb == "renamed" else (one.name, "")
    return Difference(verb, one.what, name, fields, was, one.ours, one.follows)


def pairs(nets: tuple[tuple[tuple[str, ...], ...], ...]) -> set[frozenset[str]]:
    """Pairs of points that were together and are not now."""
    return {frozenset((a, b)) for net in nets for one, two in combinations(net, 2) for a in one for b in two}


def apart(old: Harness, new: Harness) -> set[frozenset[str]]:
    """The same with networkx, over the points of things that both have."""
    graphs = [networkx.Graph(), networkx.Graph()]
    for graph, harness in zip(graphs, (old, new), strict=True):
        graph.add_nodes_from(str(p) for p in harness.points if p.ref)
        for wire in harness.wires.values():
            if wire.a.ref and wire.b.ref:
                graph.add_edge(str(wire.a), str(wire.b))
        graph.add_edges_from((str(a), str(b)) for a, b in harness.mated_points)
    refs = set.intersection(*({name.partition("-")[0] for name in graph} for graph in graphs))
    for graph in graphs:
        graph.add_nodes_from([n for other in graphs for n in list(other) if n.partition("-")[0] in refs])
    before, after = graphs
    near = {n: set(net) for net in networkx.connected_components(after) for n in net}
    return {
        frozenset(pair)
        for net in networkx.connected_components(before)
        for pair in combinations(sorted(n for n in net if n.partition("-")[0] in refs), 2)
        if pair[1] not in near[pair[0]]
    }


@pytest.mark.parametrize("number", range(len(LISTED)))
def test_one_of_each_sort(number: int, tmp_path: Path) -> None:
    judge(LISTED[number], tmp_path)


@pytest.mark.parametrize("seed", range(FEW))
def test_random_edits(seed: int, tmp_path: Path) -> None:
    judge(some(seed), tmp_path)


def test_a_file_against_itself(capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("ice-probe", "signal-logger"):
        for file in sorted((edits.DEMO.parent / name).glob("*.yaml")):
            if "kind: parts" in file.read_text(encoding="utf-8"):
                continue
            job = api.load(file)
            found = both(job, api.load(file))
            assert not (found.differences or found.names or found.parted or found.joined)
            assert main(["compare", str(file), str(file)]) == 0
            assert "The same" in capsys.readouterr().out


if __name__ == "__main__":
    import tempfile

    for seed in range(int(sys.argv[1])):
        with tempfile.TemporaryDirectory() as folder:
            judge(some(seed), Path(folder))
    print(json.dumps({"edits": int(sys.argv[1]), "wrong": 0}))
