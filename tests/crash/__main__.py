"""``python -m tests.crash``: kill and fail what writes; ``--whole`` takes some minutes, without it some seconds.

Ends with status 1 when anything was torn, mixed, lost or left behind.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
from collections import Counter
from pathlib import Path

from harnesscheck import api
from harnesscheck.pack import folder as writing
from harnesscheck.pack import ident, manifest
from harnesscheck.sheets import Wish
from tests.crash import beside, failures, kills

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe" / "jumper.yaml"
BAD = ("torn", "mixed", "broke down", "not cleared away", "left behind", "then ", "whole, but", "old one", "named ")
"""What must not be counted; ``none`` (no folder at all) is bad too where the system moves folders in one step."""


def small(number: int) -> kills.Files:
    """A pack of a few files: the steps are the same, only fewer."""
    basis = {"inputs": [], "number": number}
    pack = ident.pack_id(basis)
    files = {"lists/a.csv": bytes([65 + number]) * 2000, "b.svg": f"<svg>pack id {pack}</svg>".encode()}
    return {**files, manifest.FILE: manifest.build(pack, basis, {"title": "invented"}, files)}


def real(kits: int) -> kills.Files:
    """The files of the demo's pack, pictures and all."""
    job = api.load(DEMO)
    report, wish = api.check(job), Wish(kits)
    basis = ident.basis(job, wish, report)
    pack = ident.pack_id(basis)
    book = writing.assemble(job, wish, report, writing.stamp(job, report, pack))
    files = dict(writing._documents(book))
    return {**files, manifest.FILE: manifest.build(pack, basis, writing._about(book), files)}


def bad(seen: Counter[str], none: bool = False) -> int:
    """How many of the counted things must not be."""
    wrong = sum(number for name, number in seen.items() if any(word in name for word in BAD))
    return wrong if none else wrong + seen["none"]


def main() -> int:
    """Read the command line. Returns the exit status."""
    parser = argparse.ArgumentParser(prog="python -m tests.crash", description=__doc__)
    parser.add_argument("--whole", action="store_true", help="1000 kills and the demo's whole pack")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--kills", type=int, help="how many kills: half of one file, half of a pack")
    said = parser.parse_args()
    number = said.kills or (1000 if said.whole else 10)
    rng = random.Random(said.seed)
    little = small(0), small(1)
    many = 20 if said.whole else 4
    memory = "/dev/shm" if Path("/dev/shm").is_dir() else None
    wrong = 0

    def show(name: str, seen: Counter[str], none: bool = False) -> None:
        nonlocal wrong
        wrong += bad(seen, none)
        counts = ", ".join(f"{word} {count}" for word, count in seen.items() if count)
        print(f"{'BAD ' if bad(seen, none) else 'good'} {name}: {counts}", flush=True)

    # The short form runs in memory where it can: there a flush costs nothing, and the steps are the same. So do the
    # whole pack's kills: a disk would be busy for an hour with them.
    with (
        tempfile.TemporaryDirectory(dir=None if said.whole else memory) as folder,
        tempfile.TemporaryDirectory(dir=memory) as quick,
    ):
        rooms = (Path(folder, str(at)) for at in range(1000))

        def room() -> Path:
            made = next(rooms)
            made.mkdir()
            return made

        print(f"seed {said.seed}")
        show("one file, killed at random", kills.random_file_kills(room(), number // 2, rng))
        packs, part = little, number - number // 2
        if said.whole:
            packs, part = (real(1), real(2)), number // 5
            show("a small pack, killed at random", kills.random_pack_kills(room(), little, number * 3 // 10, rng))
            print(f"the demo's pack: {len(packs[0])} files, {sum(map(len, packs[0].values()))} bytes")
        Path(quick, "kills").mkdir()
        show("a pack, killed at random", kills.random_pack_kills(Path(quick, "kills"), packs, part, rng))
        for exchange in (True, False):
            how = "one move" if exchange else "two moves"
            seen = kills.kill_at_every_step(room(), *little, exchange=exchange)
            show(f"a pack in {how}, killed before every step", seen, none=not exchange)
            for forever in (False, True):
                tail = "each step and all after it failed" if forever else "each step failed once"
                seen = failures.pack_steps(room(), *little, exchange=exchange, forever=forever)
                show(f"a pack in {how}, {tail}", seen, none=not exchange and forever)
            seen = beside.packs_at_once(room(), little, many, 10 if said.whole else 2, exchange=exchange)
            show(f"{many} packs at once in {how}", seen)
        for forever in (False, True):
            tail = "each step and all after it failed" if forever else "each step failed once"
            show(f"one file, {tail}", failures.file_steps(room(), forever=forever))
        show(f"{many} runs at once into one file", beside.files_at_once(room(), many, 10 if said.whole else 2))
    print("nothing torn, mixed, lost or left behind" if not wrong else f"{wrong} things that must not be")
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main())
