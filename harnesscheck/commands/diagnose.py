"""Rank what can be wrong from readings and symptoms, and name the next best reading."""

from __future__ import annotations

import argparse
import sys
from typing import TYPE_CHECKING

from harnesscheck.commands._common import FOUND, OK, add_format, add_on, load, usage

if TYPE_CHECKING:
    from harnesscheck.trouble.desk import Desk

EXAMPLES = (
    "diagnose jumper.yaml readings.csv",
    'diagnose jumper.yaml --article installed --symptom "new unit dead"',
    "diagnose jumper.yaml readings.csv --format json",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="jumper or airframe file")
    parser.add_argument("readings", metavar="READINGS", nargs="?", help="CSV, JSON or YAML file; none: from nothing")
    parser.add_argument("--symptom", metavar="WORDS", default="", help='what the customer says, like "new unit dead"')
    parser.add_argument("--article", choices=("bench", "installed", "aircraft"),
                        help="default: what the readings say, else the jumper on the bench")  # fmt: skip
    parser.add_argument(
        "--ask", action="store_true", help="ask for one reading after the other, until one suspect is left"
    )
    parser.add_argument("--probes", action="store_true", help="two probes only: no shorting plugs, no loop-back leads")
    add_format(parser)
    add_on(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status: 1 when a reading is wrong."""
    import json
    from pathlib import Path

    from harnesscheck.fault import InputError, quoted
    from harnesscheck.ringout.article import articles
    from harnesscheck.trouble import papers, readings, say
    from harnesscheck.trouble.desk import best_article, desk

    job = load(arguments.file, arguments.on)
    names = articles(job)
    if not names:
        raise InputError([usage("this file has nothing to ring out", "name a jumper or an airframe file")])
    file = readings.load(Path(arguments.readings), arguments.readings) if arguments.readings else None
    article = best_article(file, names, arguments.article)
    if article not in names:
        raise InputError([usage(f"this job has no article {article}", f"it has: {', '.join(names)}")])
    head = file.head if file else {}
    here = desk(job, article, head.get("mode") or "first article", file is not None and file.tied, arguments.symptom,
                not arguments.probes, file is None or file.staying)  # fmt: skip
    for line in papers.differences(job, file) if file else ():
        print(quoted(line), file=sys.stderr)
    left = here.take(file.rows) if file else []
    if arguments.symptom and not here.heard:
        from harnesscheck.trouble.symptoms import SYMPTOMS

        print(quoted(f"not understood: {arguments.symptom}; the faults keep their plain weights"), file=sys.stderr)
        print(f"  do: say it in such words: {'; '.join(s.says for s in SYMPTOMS)}", file=sys.stderr)
    for row in left:
        print(
            quoted(f"left out: {row.id} (line {row.line}) is no reading of this list that can be judged"),
            file=sys.stderr,
        )
    if arguments.ask:
        _ask(here)
    ranking = here.rank()
    question = None if here.asker.settled(ranking) else here.asker.next(ranking, here.taken)
    if arguments.format == "json":
        print(json.dumps(say.data(here, ranking, question), indent=2))
    else:
        print(say.text(here, ranking, question), end="")
    return FOUND if ranking.wrong else OK


def _ask(here: Desk) -> None:
    """One reading after the other from the standard input: a value, ``skip``, or ``stop``."""
    from harnesscheck.fault import quoted
    from harnesscheck.trouble import say
    from harnesscheck.trouble.rank import Taken
    from harnesscheck.trouble.readings import VERDICTS, value_of

    skipped: list[Taken] = []
    while True:
        ranking = here.rank()
        if here.asker.settled(ranking):
            return
        question = here.asker.next(ranking, [*here.taken, *skipped])
        if question is None:
            return
        print(quoted(say.asked(here, question.number)))
        unit = "V" if here.ranker.predictor.hot[question.number] else "ohm"
        while True:
            print(f"  {unit}, OL, good, wrong, skip or stop? ", end="", flush=True)
            typed = sys.stdin.readline()
            word = typed.strip().lower()
            if not typed or word in ("stop", "quit", "q"):
                print()
                return
            if word in ("skip", ""):
                skipped.append(Taken(question.number))
                break
            if word in VERDICTS:
                here.taken.append(Taken(question.number, None, VERDICTS[word]))
                break
            said = value_of(typed)
            if isinstance(said, str):
                print(quoted(f"  {said}"))
            elif said[1] and said[1] != unit and said[0] != float("inf"):
                print(f"  this reading is in {unit}")
            else:
                here.taken.append(Taken(question.number, said[0]))
                break
        top = here.rank().suspects
        if top:
            words = " AND ".join(t.says for t in top[0].troubles[0])
            print(quoted(f"  now {100 * top[0].probability:.0f} %: {words}"))
