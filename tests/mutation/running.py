"""Run tests against mutants: each in a forked child of a process that has everything imported.

Which test reaches which line, and how long it takes, is recorded once (``reach``). A mutant is tried on the tests
that reach its lines, those first that have killed its neighbours; the first failure ends it. A test that takes ten
times as long as it should counts as a failure (an endless loop). Tests beyond the mutant's budget are not run: a mutant
they alone would kill counts as a survivor, so the rate is never too good for it.
"""

from __future__ import annotations

import json
import math
import os
import resource
import select
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

import pytest
from _pytest.runner import runtestprotocol

from tests.mutation.mutants import Mutant
from tests.mutation.patch import Live, install

QUIET = (
    "-q",
    "-p",
    "no:cacheprovider",
    "--tb=no",
    "-o",
    "tmp_path_retention_policy=none",
    "-o",
    "addopts=",
    "--doctest-modules",
)
MEMORY = 3 << 30


def quiet() -> list[str]:
    """Options of pytest: say nothing, and write into a folder of this process alone, which the caller removes."""
    return [*QUIET, "--basetemp", str(_scratch(os.getpid()))]


def _scratch(process: int) -> Path:
    return Path(tempfile.gettempdir()) / f"mutation-{process}"


def ended(process: int) -> int:
    """Wait for a child and clear away what its tests wrote. Returns its status as ``os.waitpid`` gives it."""
    status = os.waitpid(process, 0)[1]
    shutil.rmtree(_scratch(process), ignore_errors=True)
    return status


@dataclass
class Reach:
    """What the tests reach: seconds of CPU of each test, and the tests of each line of each file."""

    seconds: dict[str, float] = field(default_factory=dict)
    lines: dict[str, dict[int, list[str]]] = field(default_factory=dict)
    modules: list[str] = field(default_factory=list)

    def add(self, other: Reach) -> None:
        """Take over what other tests reach."""
        self.seconds.update(other.seconds)
        for file, lines in other.lines.items():
            mine = self.lines.setdefault(file, {})
            for line, tests in lines.items():
                mine[line] = [*mine.get(line, ()), *tests]
        self.modules = sorted({*self.modules, *other.modules})

    def only(self, file: str) -> Reach:
        """What the tests of one file, or of a folder's docstrings, reach."""
        mine = {test: seconds for test, seconds in self.seconds.items() if test.startswith((f"{file}::", f"{file}/"))}
        lines = {
            of: {line: kept for line, tests in by_line.items() if (kept := [t for t in tests if t in mine])}
            for of, by_line in self.lines.items()
        }
        return Reach(mine, lines, self.modules)

    def tests(self, mutant: Mutant) -> set[str]:
        """The tests that run the mutant's lines; for what runs at import any test."""
        by_line = self.lines.get(mutant.file, {})
        if mutant.warm:
            span = range(mutant.line, mutant.last + 1)
            return {test for line in span for test in by_line.get(line, ())}
        return set(self.seconds)


@dataclass
class Outcome:
    """What became of a mutant."""

    mutant: Mutant
    killed: bool
    by: str = ""
    tests: int = 0
    of: int = 0
    """Tests that reach it; more than ``tests`` when the budget ended."""

    def row(self) -> str:
        """One line of the record."""
        return json.dumps(asdict(self))


class Order:
    """Which tests come first: those that killed in the same function or file, that carry its name, fast ones."""

    def __init__(self, reach: Reach) -> None:
        self.reach = reach
        self.kills: dict[tuple[str, str], Counter[str]] = {}

    def of(self, mutant: Mutant, budget: float) -> tuple[list[str], int]:
        """The tests to run, and how many there would be without a budget."""
        every = self.reach.tests(mutant)
        near = self.kills.get((mutant.file, mutant.within), Counter())
        far = self.kills.get((mutant.file, ""), Counter())
        stem = Path(mutant.file).stem
        names = (stem, stem.replace("_", "-"))
        inside = {} if mutant.warm else self.reach.lines.get(mutant.file, {})
        same_file = {test for tests in inside.values() for test in tests}

        def rank(test: str) -> tuple[float, float]:
            named = any(name in test for name in names)
            score = 4.0 * min(near[test], 5) + min(far[test], 5) + 3.0 * named + 2.0 * (test in same_file)
            return -score, self.reach.seconds[test]

        chosen, spent = [], 0.0
        for test in sorted(every, key=lambda t: (rank(t), t)):
            spent += self.reach.seconds[test]
            if spent > budget and chosen:
                break
            chosen.append(test)
        return chosen, len(every)

    def note(self, outcome: Outcome) -> None:
        """Remember who killed."""
        if outcome.killed and outcome.by:
            test = outcome.by.removeprefix("too long in ")
            self.kills.setdefault((outcome.mutant.file, outcome.mutant.within), Counter())[test] += 1
            self.kills.setdefault((outcome.mutant.file, ""), Counter())[test] += 1


def forked(work: Callable[[Callable[[str], None]], None], wall: float) -> tuple[str, bool]:
    """Run ``work`` in a child; returns the last thing it said, and whether it ended of itself."""
    read, write = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(read)
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))

            def say(word: str) -> None:
                os.write(write, (word + "\n").encode())

            work(say)
        except BaseException as error:
            os.write(write, f"broke {type(error).__name__}: {error}\n".encode())
        finally:
            os._exit(0)
    os.close(write)
    timer = time.monotonic() + wall
    words = b""
    with os.fdopen(read, "rb", buffering=0) as pipe:
        while True:
            left = timer - time.monotonic()
            ready = select.select([pipe], [], [], max(left, 0))[0]
            if not ready:
                os.kill(child, signal.SIGKILL)
                break
            piece = pipe.read(65536)
            if not piece:
                break
            words += piece
    status = ended(child)
    said = words.decode().splitlines()
    return (said[-1] if said else ""), os.WIFEXITED(status)


def _one(mutant: Mutant, tests: list[str], of: int, said: str, ended: bool) -> Outcome:
    kind, _, test = said.partition(" ")
    if kind == "failed":
        return Outcome(mutant, True, test, len(tests), of)
    if kind == "start" and not ended:
        return Outcome(mutant, True, f"too long in {test}", len(tests), of)
    if kind == "broke":
        return Outcome(mutant, True, f"broke: {test}", len(tests), of)
    return Outcome(mutant, False, "" if kind == "passed" else said, len(tests), of)


def _limited(seconds: float) -> None:
    """The process ends by SIGPROF when a test takes far longer than it should."""
    signal.signal(signal.SIGPROF, signal.SIG_DFL)
    signal.setitimer(signal.ITIMER_PROF, 10 * seconds + 2)


class Steady:
    """A plug-in of pytest: random tests try the same examples every time, and do not look for the smallest one."""

    def pytest_sessionstart(self) -> None:
        """Before any test is collected."""
        from hypothesis import Phase, settings

        settings.register_profile(
            "mutation", derandomize=True, database=None, deadline=None, phases=(Phase.explicit, Phase.generate)
        )
        settings.load_profile("mutation")


class Loop(Steady):
    """A plug-in of pytest: instead of running the tests once, run them on each mutant."""

    def __init__(
        self,
        root: Path,
        reach: Reach,
        mutants: Sequence[Mutant],
        budget: float,
        done: Callable[[Outcome], None],
        until: float = math.inf,
    ) -> None:
        self.root, self.reach, self.mutants, self.budget, self.done = root, reach, mutants, budget, done
        self.until = until

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """The loop over the mutants."""
        items = {item.nodeid: item for item in session.items}
        _import(self.reach.modules)
        fastest = sorted((t for t in items if t in self.reach.seconds), key=lambda t: self.reach.seconds[t])
        for test in fastest[:: max(1, len(fastest) // 5)][:5]:  # what is cached between runs is cached before the fork
            runtestprotocol(items[test], log=False, nextitem=None)
        live, order = Live(self.root), Order(self.reach)
        for mutant in self.mutants:
            if time.monotonic() > self.until:
                break
            tests, of = order.of(mutant, self.budget)
            tests = [test for test in tests if test in items]
            if not tests:
                self.done(Outcome(mutant, False, "no test reaches it"))
                continue
            wall = 60 + 20 * sum(self.reach.seconds[test] for test in tests)
            run = [items[test] for test in tests]
            said, ended = forked(lambda say, m=mutant, r=run: self._try(say, live, m, r), wall)  # type: ignore[misc]
            outcome = _one(mutant, tests, of, said, ended)
            order.note(outcome)
            self.done(outcome)
        return True

    def _try(self, say: Callable[[str], None], live: Live, mutant: Mutant, run: list[Any]) -> None:
        try:
            if not live.put(mutant):
                say("not put")
                return
        except Exception as error:  # what cannot even be imported is noticed
            say(f"failed at import: {error}".replace("\n", " "))
            return
        for number, item in enumerate(run):
            say(f"start {item.nodeid}")
            live.forget()
            _limited(self.reach.seconds.get(item.nodeid, 1.0))
            following = run[number + 1] if number + 1 < len(run) else None
            if any(report.failed for report in runtestprotocol(item, log=False, nextitem=following)):
                say(f"failed {item.nodeid}")
                return
        say("passed")


class Recorder(Steady):
    """A plug-in of pytest: which test reaches which line, in what time."""

    def __init__(self, root: Path, files: Iterable[str]) -> None:
        import coverage

        self.root, self.reach = root, Reach()
        self.files = sorted(files)
        self.coverage = coverage.Coverage(
            data_file=None, include=[str(root / f) for f in self.files], config_file=False
        )
        self.live: Live | None = None
        self.bad: list[str] = []

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtest_protocol(self, item: pytest.Item, nextitem: pytest.Item | None) -> bool:
        """Run one test under its own name."""
        if self.live is None:
            self.live = Live(self.root)
        self.live.forget()
        self.coverage.switch_context(item.nodeid)
        start = time.process_time()
        reports = runtestprotocol(item, log=False, nextitem=nextitem)
        self.coverage.switch_context("")
        if any(r.failed for r in reports):
            self.bad.append(item.nodeid)
        elif not any(r.skipped for r in reports):
            self.reach.seconds[item.nodeid] = time.process_time() - start
        return True

    def pytest_sessionfinish(self) -> None:
        """Collect what was reached."""
        self.coverage.stop()
        data = self.coverage.get_data()
        for file in self.files:
            lines = data.contexts_by_lineno(str(self.root / file))
            self.reach.lines[file] = {
                line: [t for t in tests if t in self.reach.seconds] for line, tests in lines.items() if line
            }
        self.reach.modules = sorted(m for m in sys.modules if not m.startswith(("tests", "_pytest", "coverage")))


def _import(modules: Iterable[str]) -> None:
    import importlib

    for name in modules:
        if name.split(".")[0] in (
            "numpy",
            "scipy",
            "pydantic",
            "networkx",
            "harnesscheck",
            "ruamel",
            "python_calamine",
        ):
            try:
                importlib.import_module(name)
            except ImportError:
                continue


def record(root: Path, tests: Sequence[str], files: Iterable[str]) -> Reach:
    """Run the tests once in this process. Raises ``RuntimeError`` when one of them fails."""
    recorder = Recorder(root, files)
    recorder.coverage.start()
    pytest.main([*quiet(), *tests], plugins=[recorder])
    if recorder.bad:
        raise RuntimeError(f"these tests fail without any change: {recorder.bad}")
    return recorder.reach


class Chosen(Steady):
    """A plug-in of pytest: of what it collects only the tests that are asked for, in their order."""

    def __init__(self, tests: list[str], say: Callable[[str], None]) -> None:
        self.tests, self.say = tests, say

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Leave the others out."""
        number = {test: place for place, test in enumerate(self.tests)}
        items[:] = sorted((i for i in items if i.nodeid in number), key=lambda i: number[i.nodeid])

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """The first failure is enough."""
        if report.failed:
            self.say(f"failed {report.nodeid}")
            os._exit(0)

    def pytest_collectreport(self, report: pytest.CollectReport) -> None:
        """A module that can no longer be imported has been noticed."""
        if report.failed:
            self.say(f"failed {report.nodeid}")
            os._exit(0)


def cold(root: Path, mutant: Mutant, tests: list[str], of: int, seconds: float) -> Outcome:
    """Try a mutant that runs at import: the child imports the program anew, with the change."""

    def work(say: Callable[[str], None]) -> None:
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, 1)
        os.dup2(null, 2)
        install(root, mutant)
        say("start all")
        _limited(seconds + 3)
        files = list(dict.fromkeys(test.partition("::")[0] for test in tests))
        # Plain asserts: to rewrite them pytest would load what is named for its docstrings itself, without the change.
        status = pytest.main([*quiet(), "--assert=plain", *files], plugins=[Chosen(tests, say)])
        say("passed" if status in (0, 5) else f"failed with status {status}")

    said, ended = forked(work, 60 + 20 * seconds)
    return _one(mutant, tests, of, said, ended)
