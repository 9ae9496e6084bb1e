"""``python -m tests.exchange --whole 1000``: that many random jobs to CSV and XLSX and back; some minutes."""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

import harnesscheck as hc
from tests.exchange import trips


def main() -> int:
    """Read the command line and print the figures. Returns the exit status."""
    parser = argparse.ArgumentParser(prog="python -m tests.exchange", description=__doc__)
    parser.add_argument("--whole", type=int, default=25, metavar="N", help="random jobs (default 25)")
    parser.add_argument("--first", type=int, default=0, metavar="N", help="number of the first of them")
    said = parser.parse_args()
    start, seen, lost = time.perf_counter(), Counter[str](), 0
    with tempfile.TemporaryDirectory() as room:
        for number in range(said.first, said.first + said.whole):
            folder = Path(room) / str(number)
            folder.mkdir()
            files = trips.random_files(number)
            try:
                found = list(trips.differences(files, folder))
            except hc.InputError as error:
                found = [f"refused: {error}"]
            seen.update(name for name, text in files.items() if "kind: parts" not in text)
            for line in found:
                print(f"{number}: {line}")
            lost += bool(found)
    count = sum(seen.values())
    print(
        f"{said.whole} random jobs, {count} files, each by way of .csv, .xlsx and .yaml: {lost} jobs came back another"
    )
    print(f"{time.perf_counter() - start:.0f} s")
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
