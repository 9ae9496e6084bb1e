"""How much processor time the command line takes to start and to check the demo.

Run it by hand from the checkout; pytest does not collect it::

    python tests/bench/start_and_check.py            # 11 runs of each command
    python tests/bench/start_and_check.py --runs 31  # steadier
    python tests/bench/start_and_check.py --imports  # also the 25 dearest imports of the check

For each command it prints the median of user + system time of the child process, and the ratio to two yardsticks that
do not depend on this project: ``python -c pass`` (the interpreter itself), and reading the four files of the demo with
the C event stream alone (the least that any reader of these files has to do). Ratios travel between machines better
than seconds. The project's own targets, seconds of processor time on the machine of the day: ``--help`` under 0.1,
``check`` of the demo under 0.7. Exit status 1 when a target is missed.
"""

from __future__ import annotations

import argparse
import resource
import statistics
import subprocess
import sys
from pathlib import Path

DEMO = Path(__file__).parent.parent.parent / "harnesses" / "ice-probe"
EVENTS = """
from pathlib import Path
from _ruamel_yaml import CParser
from ruamel.yaml.events import StreamEndEvent
for path in sorted(Path(".").glob("*.yaml")):
    parser = CParser(path.read_text())
    while type(parser.get_event()) is not StreamEndEvent:
        pass
"""
COMMANDS = {
    "python -c pass": (["-c", "pass"], None),
    "events of the demo's files": (["-c", EVENTS], None),
    "harnesscheck --help": (["-m", "harnesscheck", "--help"], 0.1),
    "harnesscheck list": (["-m", "harnesscheck", "list"], None),
    "harnesscheck check (demo)": (["-m", "harnesscheck", "check", "jumper.yaml"], 0.7),
    "harnesscheck trace (demo)": (["-m", "harnesscheck", "trace", "jumper.yaml", "P14-3"], None),
}
"""Arguments of the interpreter, and the target in seconds."""


def seconds(arguments: list[str]) -> float:
    """User + system time of one child."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *arguments], cwd=DEMO, stdout=subprocess.DEVNULL, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def dearest_imports() -> None:
    """What importing costs in a check, dearest first (microseconds, this module alone)."""
    command = [sys.executable, "-X", "importtime", "-m", "harnesscheck", "check", "jumper.yaml"]
    done = subprocess.run(command, cwd=DEMO, capture_output=True, text=True, check=True)
    rows = [line.split("|") for line in done.stderr.splitlines() if line.count("|") == 2 and "self" not in line]
    for row in sorted(rows, key=lambda row: -int(row[0].rpartition(":")[2]))[:25]:
        print(f"  {int(row[0].rpartition(':')[2]):>8} {row[2].strip()}")


def main() -> int:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--runs", type=int, default=11, help="runs of each command (default 11)")
    parser.add_argument("--imports", action="store_true", help="show the dearest imports of the check")
    arguments = parser.parse_args()
    taken: dict[str, list[float]] = {name: [] for name in COMMANDS}
    for _ in range(arguments.runs):  # the commands take turns, so that a busy moment meets all of them
        for name, (command, _) in COMMANDS.items():
            taken[name].append(seconds(command))
    medians = {name: statistics.median(times) for name, times in taken.items()}
    bare, events = list(medians.values())[:2]
    print(f"{'':<30}{'median':>9}{'least':>9}{'x pass':>9}{'x events':>9}")
    missed = False
    for name, (_, target) in COMMANDS.items():
        row = f"{name:<30}{medians[name]:>8.3f}s{min(taken[name]):>8.3f}s"
        row += f"{medians[name] / max(bare, 0.001):>9.1f}{medians[name] / max(events, 0.001):>9.1f}"
        if target is not None:
            late = medians[name] > target
            missed |= late
            row += f"   target {target} s: {'MISSED' if late else 'met'}"
        print(row)
    if arguments.imports:
        dearest_imports()
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
