"""Every page's job twice in one aircraft, and beside another job: two kits on two links, with names of their own.

Expected: what the author of the page counted, twice, or added to what is found in the other job alone. Nothing of one
link may hide, excuse or repeat what is wrong with the other. The exceptions are named below, each with the reason.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
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
        found |= set(re.findall(r"\b(?:\d+|[A-Za-z]): (?:\{circuit: )?([A-Z][A-Z0-9 +-]+)(?=[,}\n])", text))
        for key, flow, lines in sections(text):
            if key in NAMED:
                found |= {*entries(flow), *(one[1] for line in lines if (one := re.match(r"  (\S[^:]*):", line)))}
    return found


def other_names(files: dict[str, str]) -> Callable[[str], str]:
    """Makes of a line of the aircraft or of the kit the line of a twin: every name with a Z behind it."""
    known = sorted(names((files["airframe.yaml"], files["jumper.yaml"])), key=len, reverse=True)
    one = re.compile(rf'(?<![\w.:"-])({"|".join(map(re.escape, known))})(?=J\d|(?!\w|\.yaml)(?:[-/,:}}\]\s]|$))')
    return lambda line: one.sub(r"\1Z", line)


def twin(files: dict[str, str]) -> tuple[list[Section], str]:
    """The same aircraft under other names, and the kit for it."""
    renamed = other_names(files)
    air = [
        (key, renamed(flow), [*map(renamed, lines)]) if key in NAMED else (key, flow, lines)
        for key, flow, lines in sections(files["airframe.yaml"])
    ]
    kit = []
    for key, flow, lines in sections(files["jumper.yaml"]):
        kit += [f"{key}: {flow if key in ('title', 'kind', 'airframe') else renamed(flow)}", *map(renamed, lines)]
    return air, "\n".join(kit) + "\n"


def block(flow: str, lines: list[str]) -> list[str]:
    """``{A: {x: 1}, B: {}}`` as lines of their own."""
    found, depth = [""], 0
    for mark in flow[1:-1]:
        depth += {"{": 1, "[": 1, "}": -1, "]": -1}.get(mark, 0)
        if mark == "," and not depth:
            found.append("")
        else:
            found[-1] += mark
    return [*lines, *(f"  {entry.strip()}" for entry in found if entry.strip())]


def one_aircraft(first: list[Section], second: list[Section]) -> str:
    """What both have, in one file. Where one lists its circuits, those that the other only names are listed too."""
    whole = {key: (flow, lines) for key, flow, lines in first}
    for key, flow, lines in second:
        if key in NAMED and key in whole:
            whole[key] = ("", [*block(*whole[key]), *block(flow, lines)])
        elif key not in whole:
            whole[key] = (flow, lines)
    if "circuits" in whole:
        listed = block(*whole["circuits"])
        named = re.findall(r"\b(?:\d+|[A-Za-z]): (?:\{circuit: )?([A-Z][A-Z0-9 +-]+Z?)(?=[,}\n])", text_of(whole))
        said = {line.split(":")[0].strip() for line in listed if line.startswith("  ") and line[2] != " "}
        whole["circuits"] = ("", [*listed, *(f"  {name}: {{}}" for name in dict.fromkeys(named) if name not in said)])
    return text_of(whole)


def text_of(whole: dict[str, tuple[str, list[str]]]) -> str:
    return "".join(f"{line}\n" for key, (flow, lines) in whole.items() for line in (f"{key}: {flow}", *lines))


def both(first: dict[str, str], second: dict[str, str]) -> dict[str, str]:
    """The job of ``first``, and that of ``second`` under other names, in one aircraft."""
    air, kit = twin(second)
    files = {"jumper2.yaml": kit, **{file: text for file, text in second.items() if file != "jumper.yaml"}}
    own = {file: f"one-{file}" for file in first if file not in ("airframe.yaml", "jumper.yaml")}
    jumper = first["jumper.yaml"]
    for file, name in own.items():
        jumper = jumper.replace(file, name)
        files[name] = first[file]
    return {**files, "jumper.yaml": jumper, "airframe.yaml": one_aircraft(sections(first["airframe.yaml"]), air)}


def counted(counts: str) -> Counter[str]:
    """``1 stop, 2 passed`` by severity; nothing for other words."""
    return Counter({word: int(number) for number, word in re.findall(r"(\d+) ([a-z ]+)", counts)})


def test_both() -> None:
    air = "kind: airframe\nconnectors:\n  P1: {mates: J1, cavities: {1: LAMP}}\n  J1: {}\ncircuits: {LAMP: {}}\n"
    kit = (
        "kind: jumper\nequipment: {A9: box.yaml}\nopens: P1/J1\nconnectors:\n  J101: {mates: P1}\n  P9: {mates: A9J1}\n"
    )
    files = both(
        {"airframe.yaml": air, "jumper.yaml": kit, "box.yaml": "a"}, {"airframe.yaml": air, "jumper.yaml": kit}
    )
    assert files["airframe.yaml"].splitlines() == [
        "kind: airframe", "connectors: ", "  P1: {mates: J1, cavities: {1: LAMP}}", "  J1: {}",
        "  P1Z: {mates: J1Z, cavities: {1: LAMPZ}}", "  J1Z: {}", "circuits: ", "  LAMP: {}", "  LAMPZ: {}",
    ]  # fmt: skip
    assert files["jumper2.yaml"].splitlines()[1:] == [
        "equipment: {A9Z: box.yaml}", "opens: P1Z/J1Z", "connectors: ", "  J101Z: {mates: P1Z}",
        "  P9Z: {mates: A9ZJ1}",
    ]  # fmt: skip
    assert "{A9: one-box.yaml}" in files["jumper.yaml"]
    assert files["one-box.yaml"] == "a"
    assert counted("1 stop, 12 not checked") == {"stop": 1, "not checked": 12}
    assert counted("nothing to look at") == {}


def answered(files: dict[str, str], check: str, folder: Path, *kits: str) -> Counter[str]:
    """Write the files into an empty working directory and run one check on the kits."""
    for old in folder.iterdir():
        old.unlink()
    for file, text in files.items():
        (folder / file).write_text(text, encoding="utf-8")
    return counted(pages.counted(hc.check(api.together(kits) if len(kits) > 1 else hc.load(kits[0]), only=[check])))


@pytest.mark.parametrize("name", [name for name in checks.names() if "" not in NOT_TWICE.get(name, ())])
def test_two_kits_of_one_kind_are_twice_one(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for answer in pages.answers(FOLDER / f"{name}.md"):
        if "jumper.yaml" in answer.files and answer.heading not in NOT_TWICE.get(name, ()):
            one = counted(answer.counts)
            found = answered(both(answer.files, answer.files), name, tmp_path, "jumper.yaml", "jumper2.yaml")
            assert found == one + one, answer.heading


BESIDE = ("long-stub", "over-ampacity", "wrong-shield-ends")
"""A bus, a feed and a shield that lie beside the job of a page."""
NOT_BESIDE = {
    "breaker-trip-band": ONE_WIRE,
    "colour-clash": ONE_WIRE,
    "duplicate-wire-mark": "the marks of the two kits are the same",
    "exchangeable-plugs": "of a connector whose zone is not stated nobody knows what is near it",
    "over-ampacity": ONE_WIRE,
    "unstaggered-splices": ONE_WIRE,
}
"""And a limit that was set in writing for one kit does not hold for what lies beside it."""


@pytest.mark.parametrize("name", [name for name in checks.names() if name not in NOT_BESIDE])
def test_what_lies_beside_is_no_matter(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The counts of a page and those of another job, added."""
    monkeypatch.chdir(tmp_path)
    jobs = [pages.answers(FOLDER / f"{page}.md")[0].files for page in BESIDE]
    alone = [answered(files, name, tmp_path, "jumper.yaml") for files in jobs]
    for number, answer in enumerate(pages.answers(FOLDER / f"{name}.md")[:7]):
        if "jumper.yaml" in answer.files and "in writing" not in answer.heading:
            files, more = jobs[number % len(jobs)], alone[number % len(jobs)]
            found = answered(both(files, answer.files), name, tmp_path, "jumper.yaml", "jumper2.yaml")
            assert found == more + counted(answer.counts), answer.heading
