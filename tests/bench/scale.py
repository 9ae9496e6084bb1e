"""How reading, nets, checks, DC solve, cut list and pack grow with the number of wires.

Run it by hand from the checkout; pytest does not collect it::

    python -m tests.bench.scale                    # 1,000 and 10,000 wires
    python -m tests.bench.scale 1000 10000 100000  # ten minutes and 1.5 GB on the machine of the day
    python -m tests.bench.scale --pack             # the kit pack too
    python -m tests.bench.scale 1000 --only-pack

Every size runs in a process of its own, in processor time. Each figure is put against a floor measured in the same
process, in turns with it, and both are the least of several runs: a busy machine slows the two alike. Reading stands
against the bare C event stream of the same files, nets against scipy's connected components of the same integer
arrays, the solve against scipy's factorisation of the same matrix, the whole check (reading included) against reading.
The growth exponent is log(time ratio) / log(size ratio) between neighbouring sizes. The peak of memory is that of a
further process that reads one job, checks and solves it and writes report and cut list. The project's own targets at
100,000 wires: reading at most 2.5 times the event stream, the whole check at most 3 times the reading, exponents at
most 1.1, peak memory under 1.5 GB; a figure that misses its target is marked. The floor's own exponent stands beside
each: memory beyond the caches makes both slower per wire.

The pack has a process of its own for time and peak. Its floor is Typst alone: as many pages of 60 plain lines as the
book has, each set twice, for the sheet and for the book, as a pack sets them; 200 are timed, and their time is taken
times the pages. Pictures, drawings, ring-out and writing to the disk are what a pack does beyond that.
"""

from __future__ import annotations

import argparse
import gc
import json
import math
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from harnesscheck.finding import Report
from harnesscheck.job import Job
from tests.bench.big_job import write

PAGES = 200
"""Plain pages that are timed as the floor of a pack."""
TARGETS = {"read / events": 2.5, "whole check / read": 3.0}
MOST_EXPONENT = 1.1
MOST_MEGABYTES = 1500.0


def in_turns(works: list[Callable[[], Any]], times: int) -> tuple[list[float], list[Any]]:
    """The least processor times of several pieces of work done in turns, and what each returned last.

    What a run returned is let go outside the measured time, and before the next one, so that it counts for no other.
    """
    best = [math.inf] * len(works)
    results: list[Any] = [None] * len(works)
    for turn in range(times):
        for number, work in enumerate(works):
            gc.collect()
            start = time.process_time()
            result = work()
            best[number] = min(best[number], time.process_time() - start)
            if turn == times - 1 and not isinstance(result, (Job, Report)):
                results[number] = result
            del result
    return best, results


def least(work: Callable[[], Any], times: int = 1) -> float:
    """The least processor time of a few runs."""
    return in_turns([work], times)[0][0]


def events(folder: Path) -> None:
    """The least that any reader of these files has to do."""
    from _ruamel_yaml import CParser
    from ruamel.yaml.events import StreamEndEvent

    for path in sorted(folder.glob("*.yaml")):
        parser = CParser(path.read_text("utf-8"))
        while type(parser.get_event()) is not StreamEndEvent:
            pass


def one(wires: int) -> dict[str, float]:
    """All figures of one size, seconds of processor time and megabytes."""
    import numpy as np
    from scipy.sparse import coo_array, csc_array
    from scipy.sparse.csgraph import connected_components
    from scipy.sparse.linalg import splu

    import harnesscheck as hc
    from harnesscheck import report, sheets
    from harnesscheck.circuit import Nets, label_components
    from harnesscheck.electrics.wiring import wiring

    folder = Path(tempfile.mkdtemp(prefix="big-job-"))
    jumper = write(folder, wires)
    hc.check(hc.load(write(folder / "small", 200)))  # imports, caches, the parts drawer
    figures: dict[str, float] = {}
    times = 3 if wires <= 10_000 else 2
    works: list[Callable[[], Any]] = [
        lambda: events(folder),
        lambda: hc.load(jumper),
        lambda: hc.check(hc.load(jumper)),
    ]
    (figures["events"], figures["read"], figures["check"]), _ = in_turns(works, times)
    job = hc.load(jumper)
    result = hc.check(job)
    harness = job.subject
    net = wiring(harness)
    figures["report"] = least(lambda: report.as_text(result), times)
    figures["cut list"] = least(lambda: sheets.render("cut-list", job, "csv"), times)
    figures["solve"] = least(lambda: wiring_anew(net), times)
    points, pairs = harness.points, [*((w.a, w.b) for w in harness.wires.values()), *harness.mated_points]
    index = {point: number for number, point in enumerate(points)}
    ends = np.array([(index[a], index[b]) for a, b in pairs])
    graph = coo_array((np.ones(len(ends), bool), (ends[:, 0], ends[:, 1])), (len(points),) * 2)
    matrix = laplacian(net)
    works = [
        lambda: connected_components(graph, directed=False),
        lambda: Nets(points, pairs),
        lambda: label_components(len(points), ends[:, 0].tolist(), ends[:, 1].tolist()),
        lambda: splu(csc_array(matrix)),
    ]
    times_of, ((count, _), nets, _, _) = in_turns(works, times)
    for name, seconds in zip(
        ("components by scipy", "nets", "labels", "factorisation by scipy"), times_of, strict=True
    ):
        figures[name] = seconds
    if nets.count != count:
        raise SystemExit(f"{nets.count} nets, and scipy finds {count}")
    return figures


def packed(wires: int) -> dict[str, float]:
    """Seconds, pages, floor and peak of memory of a process that makes one pack."""
    import harnesscheck as hc
    from harnesscheck import pack, sheets

    folder = Path(tempfile.mkdtemp(prefix="big-job-"))
    try:
        job = hc.load(write(folder, wires))
        result = hc.check(job)
        start = time.process_time()
        written = pack.write(job, result, folder / "pack", sheets.Wish())
        seconds = time.process_time() - start
        megabytes = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    finally:
        shutil.rmtree(folder)
    floor = min(least(lambda turn=turn: plain_pages(turn)) for turn in range(3)) / PAGES * written.pages * 2
    return {"pack": seconds, "pages": float(written.pages), "plain pages": floor, "pack megabytes": megabytes}


def plain_pages(turn: int) -> None:
    """Typst alone: pages of plain lines with the font of the sheets; other words each turn, for it remembers."""
    import typst

    from harnesscheck.paper import metrics

    lines = [f'#set text(font: "{metrics.FAMILY}", size: 9pt)', "#set page(margin: 8mm)"]
    for page in range(PAGES):
        words = [f"line {line} of page {page}, turn {turn}" for line in range(60)]
        lines.append(" \\\n".join(words) + "\n#pagebreak()")
    fonts = [str(Path(metrics.font_path()).parent)]
    typst.compile("\n".join(lines).encode(), font_paths=fonts, ignore_system_fonts=True, format="pdf")


def peak(wires: int) -> float:
    """The peak of memory of a process that reads one job, checks it and makes report, DC solve and cut list; MB."""
    import harnesscheck as hc
    from harnesscheck import report, sheets
    from harnesscheck.electrics.wiring import wiring

    job = hc.load(write(Path(tempfile.mkdtemp(prefix="big-job-")), wires))
    report.as_text(hc.check(job))
    wiring(job.subject).flow("steady")
    sheets.render("cut-list", job, "csv")
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def wiring_anew(net: Any) -> Any:
    """The DC solve of the installed harness once more, elements and all."""
    return type(net)(net.harness).flow("steady")


def laplacian(net: Any) -> Any:
    """The conductance matrix of the same elements, one node grounded; elements without ohms count as 1 milliohm."""
    import numpy as np
    from scipy.sparse import coo_array, eye_array

    index: dict[Any, int] = {}
    rows, columns, values = [], [], []
    for element in net.elements:
        a, b = (index.setdefault(end, len(index)) for end in (element.a, element.b))
        conductance = 1.0 / max(element.ohms or 0.001, 1e-6)
        rows += [a, b, a, b]
        columns += [a, b, b, a]
        values += [conductance, conductance, -conductance, -conductance]
    size = len(index)
    return coo_array((np.array(values), (rows, columns)), (size, size)) + 1e-9 * eye_array(size)


def main() -> int:
    """Print the tables. Exit status 1 when a target is missed."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("sizes", nargs="*", type=int, default=[1000, 10_000])
    parser.add_argument("--pack", action="store_true", help="the kit pack too")
    parser.add_argument("--only-pack", action="store_true", help="nothing but the kit pack")
    parser.add_argument("--one", type=int, help=argparse.SUPPRESS)
    parser.add_argument("--one-pack", type=int, help=argparse.SUPPRESS)
    parser.add_argument("--peak", type=int, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        print(json.dumps(one(asked.one)))
        return 0
    if asked.one_pack:
        print(json.dumps(packed(asked.one_pack)))
        return 0
    if asked.peak:
        print(peak(asked.peak))
        return 0
    found: dict[int, dict[str, float]] = {}
    for size in asked.sizes:
        found[size] = {}
        if not asked.only_pack:
            found[size] |= json.loads(last_line("--one", size))
            found[size]["megabytes"] = float(last_line("--peak", size))
        if asked.pack or asked.only_pack:
            found[size] |= json.loads(last_line("--one-pack", size))
    return table(asked.sizes, found)


def last_line(option: str, size: int) -> str:
    """What a process of its own says last."""
    command = [sys.executable, "-m", "tests.bench.scale", option, str(size)]
    return subprocess.run(command, stdout=subprocess.PIPE, text=True, check=True).stdout.splitlines()[-1]


def table(sizes: list[int], found: dict[int, dict[str, float]]) -> int:
    """Ratios and exponents of all sizes."""
    missed = 0
    head = "".join(f"{size:>12,}" for size in sizes)
    print(f"{'wires':<34}{head}   growth")
    ratios = {
        "read / events": ("read", "events"),
        "nets / components by scipy": ("nets", "components by scipy"),
        "nets of numbered points / the same": ("labels", "components by scipy"),
        "whole check / read": ("check", "read"),
        "solve / factorisation by scipy": ("solve", "factorisation by scipy"),
        "cut list / read": ("cut list", "read"),
        "pack / plain pages": ("pack", "plain pages"),
    }
    for name, (top, floor) in ratios.items():
        if top not in found[sizes[0]]:
            continue
        values = [found[size][top] / found[size][floor] for size in sizes]
        growth = exponents(sizes, [found[size][top] for size in sizes])
        worst = max(growth, default=0.0)
        late = sizes[-1] >= 100_000 and (values[-1] > TARGETS.get(name, math.inf) or worst > MOST_EXPONENT)
        missed += late
        seconds = "".join(f"{found[size][top]:>12.3f}" for size in sizes)
        print(f"{top + ', s':<34}{seconds}")
        shown = "".join(f"{value:>12.2f}" for value in values)
        own = ", ".join(f"{g:.2f}" for g in exponents(sizes, [found[size][floor] for size in sizes]))
        tail = f"   {', '.join(f'{g:.2f}' for g in growth)} (floor {own})" if growth else ""
        print(f"{name:<34}{shown}{tail}{'   MISSED' if late else ''}")
    counts = {"megabytes": "peak memory, MB", "pages": "pages of the book", "pack megabytes": "peak of the pack, MB"}
    for key, name in counts.items():
        values = [found[size][key] for size in sizes if key in found[size]]
        late = "megabytes" in key and max(values, default=0.0) > MOST_MEGABYTES
        missed += late
        if values:
            print(f"{name:<34}{''.join(f'{value:>12.0f}' for value in values)}{'   MISSED' if late else ''}")
    return 1 if missed else 0


def exponents(sizes: list[int], values: list[float]) -> list[float]:
    """How time grows between neighbouring sizes."""
    pairs = zip(zip(sizes, values, strict=True), zip(sizes[1:], values[1:], strict=True), strict=False)
    return [math.log(v2 / v1) / math.log(s2 / s1) for (s1, v1), (s2, v2) in pairs]


if __name__ == "__main__":
    sys.exit(main())
