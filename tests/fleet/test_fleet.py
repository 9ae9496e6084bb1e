"""One kit against many aircraft: verdicts, differences, executors, and what is lost when a worker dies."""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
from collections.abc import Callable, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import pytest

from harnesscheck import checks, fleet
from harnesscheck.cli import main
from harnesscheck.commands._progress import Bar
from harnesscheck.fault import InputError
from harnesscheck.fleet import working as running
from harnesscheck.fleet.verdicts import CURES, Verdict

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe"
HEAD = "kind: as-found\nairframe: ../airframe.yaml\naircraft: {}\nby: tester\ndate: 2026-11-20\n"
MEASURED = "wires: {P107A20: {length: 2700 mm}}\n"
FLEET = {
    "same": "",
    "measured": MEASURED,
    # 400 mm in the type; 410 mm from end to end: the drawing of the demo says so (60 mm + 350 mm)
    "long-way": "routes: {leading edge run: {length: 460 mm}}\ncircuits: {NAV LT PWR: {load: 2.0 A}}\n",
    "crossed": "connectors: {P14: {cavities: {3: CAN L, 4: {circuit: CAN H}}},"
    " J14: {cavities: {3: CAN L, 4: {circuit: CAN H}}}}\n",
    "other-plug": "connectors: {P14: {part: M24308/4-3}}\n",
    "not-measured": "wires: {P107A20: {length: unknown}}\n",
    "typo": "wires: {P107A02: {length: 2 m}}\n",
    "no-disconnect": "connectors: {P14: {mates: unknown}}\n",
    "clash": "added: {wires: {R506A22: {from: CB9-load, to: GS3, type: M22759/16-22-9}}}\n",
}
EXPECTED = {
    "same": Verdict.FITS,
    "measured": Verdict.FITS,
    "long-way": Verdict.CHANGE,
    "crossed": Verdict.NOT,
    "other-plug": Verdict.CHANGE,
    "not-measured": Verdict.UNKNOWN,
    "typo": Verdict.UNKNOWN,
    "no-disconnect": Verdict.NOT,
    "clash": Verdict.UNKNOWN,
}
"""Decided by hand from the meaning of the four verdicts."""


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("fleet")
    for file in DEMO.glob("*.yaml"):
        shutil.copy(file, folder)
    (folder / "aircraft").mkdir()
    for name, text in FLEET.items():
        (folder / "aircraft" / f"{name}.yaml").write_text(HEAD.format(name) + text)
    return folder


@pytest.fixture(scope="module")
def found(job: Path) -> dict[str, fleet.Row]:
    with ThreadPoolExecutor(1) as pool:
        rows = fleet.run(job / "jumper.yaml", [job / "aircraft" / f"{name}.yaml" for name in FLEET], pool).rows
    return {Path(row.file).stem: row for row in rows}


@pytest.mark.parametrize("name", FLEET)
def test_verdict(name: str, found: dict[str, fleet.Row]) -> None:
    row = found[name]
    assert row.verdict is EXPECTED[name], row
    assert bool(row.changes) or row.verdict is not Verdict.CHANGE
    assert bool(row.reasons) == (row.verdict is Verdict.NOT)
    assert bool(row.missing) or row.verdict is not Verdict.UNKNOWN


def test_reasons_name_the_thing(found: dict[str, fleet.Row]) -> None:
    assert found["long-way"].changes[0].startswith("longer stub: 3 wires do not reach")
    assert "make P501C22 50 mm longer" in found["long-way"].changes[0]  # 460 mm less 410 mm
    assert found["other-plug"].changes[0].startswith("other plug or receptacle: J114 and P14 do not mate")
    assert "P107A20" in found["not-measured"].missing[0]
    assert "did you mean P107A20?" in found["typo"].missing[0]
    assert "P14/J14 is not a mated pair" in found["no-disconnect"].reasons[0]
    assert "names clash" in found["clash"].missing[0] and "R506A22" in found["clash"].missing[0]
    assert "exchanged" in found["crossed"].reasons[0]


def test_differences_that_matter_are_told_from_those_that_do_not(found: dict[str, fleet.Row]) -> None:
    assert found["same"].matter == found["same"].no_matter == ()
    assert found["measured"].matter == ()
    assert found["measured"].no_matter[0].startswith("wire P107A20: length 2700 mm (type: 2.6 m): changes no answer")
    assert found["long-way"].matter == (
        "route leading edge run: length 460 mm (type: 400 mm): stop wire-shorter-than-route",
    )
    assert found["long-way"].no_matter[0].startswith("circuit NAV LT PWR: load 2.0 A (type: 1.9 A)")
    # Four lines say one thing together: the pair is exchanged on both sides.
    assert len(found["crossed"].matter) == 4 and not found["crossed"].no_matter
    assert "other parts at P14" in found["other-plug"].matter[0]


def test_the_same_value_in_another_unit_is_no_difference(job: Path, tmp_path: Path) -> None:
    text = HEAD.format("u").replace("../airframe", "airframe") + "wires: {P107A20: {length: 2600 mm}}\n"
    for file in DEMO.glob("*.yaml"):
        shutil.copy(file, tmp_path)
    (tmp_path / "u.yaml").write_text(text)
    (row,) = fleet.run(tmp_path / "jumper.yaml", [tmp_path / "u.yaml"], ThreadPoolExecutor(1)).rows
    assert (row.verdict, row.matter, row.no_matter) == (Verdict.FITS, (), ())


def test_cures_are_checks() -> None:
    assert set(CURES) <= set(checks.names())


# -- executors -------------------------------------------------------------------------------------------------


class Lazy(Executor):
    """An executor of another sort: it works when a result is asked for, in the order of asking."""

    def __init__(self, fail: Callable[[Sequence[Any]], bool] = lambda files: False) -> None:
        self.fail = fail
        self.sizes: list[int] = []

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        self.sizes.append(len(args[1]))
        future: Future[Any] = Future()
        if self.fail(args[1]):
            future.set_exception(OSError("the node went away"))
        else:
            future.set_result(fn(*args, **kwargs))
        return future


def files(job: Path) -> list[Path]:
    return [job / "aircraft" / f"{name}.yaml" for name in FLEET]


def test_every_executor_gives_the_same(job: Path, found: dict[str, fleet.Row]) -> None:
    wanted = tuple(found.values())
    steps: list[tuple[int, int]] = []
    lazy = Lazy()
    assert fleet.run(job / "jumper.yaml", files(job), lazy, 2, lambda a, b: steps.append((a, b))).rows == wanted
    assert lazy.sizes == [2, 2, 2, 2, 1]
    assert steps[-1] == (9, 9) and [done for done, _ in steps] == sorted(done for done, _ in steps)
    with ProcessPoolExecutor(2, get_context("spawn")) as pool:
        assert fleet.run(job / "jumper.yaml", files(job), pool, 3).rows == wanted
    assert fleet.run(job / "jumper.yaml", files(job)).rows == wanted


def test_a_chunk_that_is_lost_is_tried_again_one_by_one(job: Path, found: dict[str, fleet.Row]) -> None:
    lazy = Lazy(lambda listed: any("measured" in name for _, name in listed))
    rows = {Path(row.file).stem: row for row in fleet.run(job / "jumper.yaml", files(job), lazy, 4).rows}
    lost = {name for name in FLEET if "measured" in name}
    for name in FLEET:
        if name in lost:
            assert rows[name].verdict is Verdict.UNKNOWN and "was lost (OSError)" in rows[name].missing[0]
        else:
            assert rows[name] == found[name]


def test_an_executor_that_takes_nothing_loses_the_rows_and_says_so(job: Path) -> None:
    pool = ThreadPoolExecutor(1)
    pool.shutdown()
    rows = fleet.run(job / "jumper.yaml", files(job), pool).rows
    assert {row.verdict for row in rows} == {Verdict.UNKNOWN}
    assert all("was lost" in row.missing[0] for row in rows)


def dying(token: running.Token, listed: Sequence[tuple[str, str]]) -> list[fleet.Row]:
    """A worker that the system kills at one aircraft."""
    if any("crossed" in name for _, name in listed):
        os._exit(9)
    return running.look_at(token, listed)


def test_a_worker_that_dies_costs_one_row(
    job: Path, found: dict[str, fleet.Row], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(running._Work, "sent", lambda self, pool, numbers: pool.submit(
        dying, self.token, [self.files[number] for number in numbers]))  # fmt: skip
    rows = {Path(row.file).stem: row for row in fleet.run(job / "jumper.yaml", files(job), chunk=4).rows}
    assert "was lost (BrokenProcessPool)" in rows["crossed"].missing[0]
    assert {name: row for name, row in rows.items() if name != "crossed"} == {
        name: row for name, row in found.items() if name != "crossed"
    }


def test_a_fault_of_ours_costs_one_row(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = running.look

    def look(bench: Any, path: Path, name: str) -> fleet.Row:
        if "same" in name:
            raise ZeroDivisionError("oops")
        return real(bench, path, name)

    monkeypatch.setattr(running, "look", look)
    rows = fleet.run(job / "jumper.yaml", files(job)[:2], ThreadPoolExecutor(1)).rows
    assert "broke down on this file (ZeroDivisionError: oops)" in rows[0].missing[0]
    assert rows[1].verdict is Verdict.FITS


def test_the_kit_is_read_once_in_a_worker(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    laid_out: list[str] = []
    real = running.Bench
    monkeypatch.setattr(running, "Bench", lambda path, name: laid_out.append(name) or real(path, name))
    running._BENCHES.clear()
    fleet.run(job / "jumper.yaml", files(job), ThreadPoolExecutor(1), 2)
    assert len(laid_out) == 2  # once for the caller, once for the worker


def test_a_kit_changed_on_the_way_is_no_answer(job: Path, tmp_path: Path) -> None:
    shutil.copytree(job, tmp_path / "job")
    kit = tmp_path / "job" / "jumper.yaml"
    token = running.Token(str(kit), "jumper.yaml", "another digest")
    (row,) = running.look_at(token, [(str(tmp_path / "job" / "aircraft" / "same.yaml"), "same.yaml")])
    assert row.verdict is Verdict.UNKNOWN and "a file of the kit was changed" in row.missing[0]


def test_bad_calls(job: Path) -> None:
    with pytest.raises(ValueError, match="at least one aircraft"):
        fleet.run(job / "jumper.yaml", [], chunk=0)
    with pytest.raises(InputError, match="this is an airframe file"):
        fleet.run(job / "airframe.yaml", [])
    assert fleet.run(job / "jumper.yaml", []).rows == ()


# -- the command -----------------------------------------------------------------------------------------------


def test_command(job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.chdir(job)
    assert main(["fleet", "jumper.yaml", "aircraft", "-o", "fleet.csv"]) == 1
    shown = capsys.readouterr()
    assert shown.err == ""  # no bar where no person looks on
    assert "9 aircraft: 2 fit as they are, 2 fit with change, 2 must not get it, 3 not known." in shown.out
    assert "On its own airframe file (airframe.yaml): fits as it is." in shown.out
    assert "Technical help, not approved data" in shown.out
    rows = list(csv.DictReader(io.StringIO((job / "fleet.csv").read_text())))
    assert {Path(row["file"]).stem: row["verdict"] for row in rows} == {n: str(v) for n, v in EXPECTED.items()}
    capsys.readouterr()
    assert main(["fleet", "jumper.yaml", "aircraft/same.yaml", "airframe.yaml", "-o", "fleet.json"]) == 0
    data = json.loads((job / "fleet.json").read_text())
    assert data["totals"] == {"fits as it is": 2, "fits with change": 0, "must not get it": 0, "not known": 0}
    assert main(["fleet", "--strict", "jumper.yaml", "aircraft/long-way.yaml"]) == 1
    assert main(["fleet", "jumper.yaml", "aircraft", "-o", "fleet.pdf"]) == 2
    (job / "empty").mkdir(exist_ok=True)
    assert main(["fleet", "jumper.yaml", "empty"]) == 2
    assert main(["fleet", "nothing.yaml", "aircraft"]) == 2


def test_a_folder_gives_every_file_that_may_be_an_aircraft(job: Path, tmp_path: Path) -> None:
    from harnesscheck.commands.fleet import _files

    for file in DEMO.glob("*.yaml"):
        shutil.copy(file, tmp_path)
    (tmp_path / "broken.yaml").write_text("kind: [")
    assert [Path(name).name for name in _files([str(tmp_path)])] == ["airframe.yaml", "broken.yaml"]


def test_bar_on_a_terminal_only(monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    def drawn(**environment: str) -> str:
        stream = Terminal()
        monkeypatch.setattr("sys.stderr", stream)
        for name in ("NO_COLOR", "TERM"):
            monkeypatch.delenv(name, raising=False)
        for name, value in environment.items():
            monkeypatch.setenv(name, value)
        with Bar("aircraft") as bar:
            bar(1, 2)
        return stream.getvalue()

    assert "[###############               ] 1 of 2 aircraft" in drawn(TERM="xterm")
    assert drawn(TERM="dumb") == drawn(NO_COLOR="1", TERM="xterm") == ""
