"""``python -m tests.determinism --whole``: the same bytes over 20 hash seeds, locales, time zones and Python versions.

``--form all`` adds every picture, which takes minutes a process. Another Python is found by its name on the path, or by
``OTHER_PYTHON3_12=/path/to/python``; it needs the program's libraries. Ends with status 1 when anything differs.
"""

from __future__ import annotations

import argparse
import sys

from tests.determinism.surroundings import (
    LOCALES,
    ZONES,
    Surroundings,
    differences,
    installed_locales,
    other_pythons,
    plain,
    render,
)  # fmt: skip


def main() -> int:
    """Read the command line. Returns the exit status."""
    parser = argparse.ArgumentParser(prog="python -m tests.determinism", description=__doc__)
    parser.add_argument("--whole", action="store_true", help="20 hash seeds instead of 2")
    parser.add_argument("--form", choices=("few", "most", "all"), default="most")
    said = parser.parse_args()
    first = Surroundings()
    there = installed_locales()
    pythons, not_tried = other_pythons()
    places = [Surroundings(seed=str(seed)) for seed in range(1, 20 if said.whole else 2)]
    places += [Surroundings(locale=name, seed="random") for name in LOCALES if plain(name) in there]
    places += [Surroundings(zone=zone, seed="random") for zone in ZONES]
    places += [Surroundings(python=path) for path in pythons]
    not_tried += [f"locale {name}: not installed" for name in LOCALES if plain(name) not in there]
    basis = render(first, said.form)
    print(f"{len(basis)} outputs with {first}", flush=True)
    wrong = 0
    for where in places:
        try:
            different = differences(basis, render(where, said.form))
        except RuntimeError as error:
            different = [str(error)]
        wrong += bool(different)
        print(f"{'DIFFERENT' if different else 'the same '} {where} {', '.join(different[:5])}".rstrip(), flush=True)
    for name in not_tried:
        print(f"not tried {name}")
    print(f"{len(places) - wrong} of {len(places)} surroundings give the same {len(basis)} outputs, byte for byte")
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main())
