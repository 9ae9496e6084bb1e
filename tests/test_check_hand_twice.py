"""Every page's job twice in one aircraft: two kits of one kind on two links, with names of their own.

Expected: what the author of the page counted, twice. Nothing of one link may hide, excuse or repeat what is wrong with
the other. The exceptions are named below, each with the reason why it is not twice as much.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

import pages
import pytest

import harnesscheck as hc
from harnesscheck import api, checks

FOLDER = Path(__file__).parent / "checks"
ONE_WIRE = "wires of both kits, whose place or bundle is not stated, may lie side by side"
ONE_LIST = "named in one answer"
NO_PAIR = "of two pairs without names nobody can say which conductors belong together"
NOT_TWICE: dict[str, dict[str, str]] = {
    "breaker-trip-band": {"Another trip point, set in writing": ONE_WIRE},
    "broken-through-circuit": {"A spare not led through": ONE_LIST},
    "colour-clash": {"": ONE_WIRE},
    "copper-in-alloy-run": {"": NO_PAIR},
    "duplicate-wire-mark": {"": "the marks of the two kits are the same"},
    "exchangeable-plugs": {"The key is not known": ONE_LIST, "The zone is not known": ONE_LIST},
    "missing-wire-mark": {"Two without a mark": ONE_LIST, "Short enough to go without": ONE_LIST},
    "over-ampacity": {"A contact is too small": ONE_WIRE},
    "split-pair": {"Known as a pair without a name": NO_PAIR, "Which is H and which is L is not stated": NO_PAIR},
    "unstaggered-splices": {"": ONE_WIRE},
}
NAMED = ("zones", "routes", "connectors", "grounds", "buses", "sources", "loads", "breakers", "circuits", "wires",
         "splices", "cables", "equipment")  # fmt: skip
Section = tuple[str, str, list[str]]


def sections(text: str) -> list[Section]:
    """Top-level key, what stands on its line, and the lines below it."""
    found: list[Section] = []
    for line in text.splitlines():
        key = re.match(r"([a-z][\w ]*):(.*)", line)
        if key:
            found.append((key[1], key[2].strip(), []))
        elif line.strip() and not line.startswith("#"):
            found[-1][2].append(line)
    return found


def entries(flow: str) -> Iterator[str]:
    """The keys of ``{A: {x: 1}, B: {}}``, without those further inside."""
    depth = 0
    for mark in re.finditer(r"[{}]|(?<=[{,])\s*([^{},:]+):", flow):
        depth += {"{": 1, "}": -1}.get(mark[0], 0)
        if depth == 1 and mark[1]:
            yield mark[1].strip()


def names(texts: Iterable[str]) -> set[str]:
    """Everything that the files name, bundles and pairs too."""
    found: set[str] = set()
    for text in texts:
        found |= {name.strip() for name in re.findall(r"(?:bundle|pair): ([\w ]+)", text)}
        for key, flow, lines in sections(text):
            if key in NAMED:
                found |= {*entries(flow), *(one[1] for line in lines if (one := re.match(r"  (\S[^:]*):", line)))}
    return found


def twin(files: dict[str, str]) -> dict[str, str]:
    """The files with everything of the aircraft in them twice, and a second kit for the twin."""
    known = sorted(names((files["airframe.yaml"], files["jumper.yaml"])), key=len, reverse=True)
    other = re.compile(rf'(?<![\w.:"-])({"|".join(map(re.escape, known))})(?=J\d|(?!\w|\.yaml)(?:[-/,:}}\]\s]|$))')

    def renamed(line: str) -> str:
        return other.sub(r"\1Z", line)

    air, kit = [], []
    for key, flow, lines in sections(files["airframe.yaml"]):
        if key in NAMED and flow.strip("{} "):
            air.append(f"{key}: {{{flow[1:-1]}, {renamed(flow[1:-1])}}}")
        else:
            air += [f"{key}: {flow}", *lines, *(map(renamed, lines) if key in NAMED else ())]
    for key, flow, lines in sections(files["jumper.yaml"]):
        kit += [f"{key}: {flow if key in ('title', 'kind', 'airframe') else renamed(flow)}", *map(renamed, lines)]
    both = {"airframe.yaml": "\n".join(air) + "\n", "jumper2.yaml": "\n".join(kit) + "\n"}
    return {**files, **both}


def twice(counts: str) -> str:
    return re.sub(r"\d+", lambda number: str(2 * int(number[0])), counts)


def test_twin() -> None:
    air = "kind: airframe\nconnectors:\n  P1: {mates: J1, cavities: {1: LAMP}}\n  J1: {}\ncircuits: {LAMP: {}}\n"
    kit = (
        "kind: jumper\nequipment: {A9: box.yaml}\nopens: P1/J1\nconnectors:\n  J101: {mates: P1}\n  P9: {mates: A9J1}\n"
    )
    files = twin({"airframe.yaml": air, "jumper.yaml": kit})
    assert files["airframe.yaml"].splitlines()[4:] == [
        "  P1Z: {mates: J1Z, cavities: {1: LAMPZ}}", "  J1Z: {}", "circuits: {LAMP: {}, LAMPZ: {}}",
    ]  # fmt: skip
    assert files["jumper2.yaml"].splitlines()[1:] == [
        "equipment: {A9Z: box.yaml}", "opens: P1Z/J1Z", "connectors: ", "  J101Z: {mates: P1Z}",
        "  P9Z: {mates: A9ZJ1}",
    ]  # fmt: skip
    assert twice("1 stop, 12 passed") == "2 stop, 24 passed"


@pytest.mark.parametrize("name", [name for name in checks.names() if "" not in NOT_TWICE.get(name, ())])
def test_two_kits_of_one_kind_are_twice_one(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for answer in pages.answers(FOLDER / f"{name}.md"):
        if "jumper.yaml" not in answer.files or answer.heading in NOT_TWICE.get(name, ()):
            continue
        for old in tmp_path.iterdir():
            old.unlink()
        answer.files = twin(answer.files)
        pages.write(answer, tmp_path)
        report = hc.check(api.together(["jumper.yaml", "jumper2.yaml"]), only=[name])
        assert pages.counted(report) == twice(answer.counts), answer.heading
