"""Check a file of readings against what the list expects."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from harnesscheck.commands._common import FOUND, OK, add_format, add_on, load, usage

if TYPE_CHECKING:
    from harnesscheck.job import Job
    from harnesscheck.ringout.reading import Reading
    from harnesscheck.trouble.readings import ReadingsFile

EXAMPLES = (
    "readings jumper.yaml readings.csv",
    "readings jumper.yaml readings.csv --pack HC-1A2B-3C4D --format json",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("file", metavar="FILE", help="jumper or airframe file")
    parser.add_argument("readings", metavar="READINGS", help="CSV, JSON or YAML: reading, value, unit, verdict, note")
    parser.add_argument("--pack", metavar="ID", help="the pack id that the readings must belong to")
    add_format(parser)
    add_on(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status: 1 when a reading is wrong, or belongs to other papers."""
    import json
    from pathlib import Path

    from harnesscheck.fault import quoted
    from harnesscheck.ringout.reading import band
    from harnesscheck.trouble import papers, readings, say
    from harnesscheck.trouble.desk import verdicts

    job = load(arguments.file, arguments.on)
    file = readings.load(Path(arguments.readings), arguments.readings)
    wanted = expected(job, file)
    rows = list(verdicts(wanted, file.rows))
    strange = papers.differences(job, file, arguments.pack)
    count: dict[str, int] = {}
    for _, _, verdict, _ in rows:
        count[verdict] = count.get(verdict, 0) + 1
    if arguments.format == "json":
        listed = [
            {
                "reading": row.id if row else reading.id if reading else "", "typed": row.typed if row else "",
                "accept": band(reading) if reading else "", "verdict": verdict, "remark": remark,
            }
            for row, reading, verdict, remark in rows
        ]  # fmt: skip
        print(json.dumps({"head": file.head, "rows": listed, "papers": strange, "count": count}, indent=2))
    else:
        for line in strange:
            print(quoted(line))
        for row, reading, verdict, remark in rows:
            ident = row.id if row else reading.id if reading else ""
            typed = (say.value(row.value, row.unit or (reading.unit if reading else "ohm"))
                     if row and row.value is not None else "")  # fmt: skip
            words = [f"{ident:<7}{verdict:<17}{typed:<12}", band(reading) if reading else ""]
            if row is not None and reading is None:
                words.append(f"line {row.line}: {_near(row.id, wanted)}")
            print(quoted("  ".join(w for w in (*words, remark) if w.strip()).rstrip()))
        print("; ".join(f"{number} {verdict}" for verdict, number in sorted(count.items())))
    bad = strange or count.get("wrong") or count.get("no such reading")
    return FOUND if bad else OK


def expected(job: Job, file: ReadingsFile) -> list[Reading]:
    """The readings that the rows can belong to: those of the article of the head, else of all articles named."""
    from harnesscheck.fault import InputError
    from harnesscheck.ringout.article import articles
    from harnesscheck.trouble.desk import listed

    names = articles(job)
    if not names:
        raise InputError([usage("this file has nothing to ring out", "name a jumper or an airframe file")])
    said = file.head.get("article")
    if said and said not in names:
        raise InputError(
            [file.document.fault(1, 1, f"this job has no article {said!r}", f"it has: {', '.join(names)}")]
        )
    first = {row.id[:1] for row in file.rows}
    chosen = [said] if said else [name for name in names if name[0].upper() in first] or [names[0]]
    mode = file.head.get("mode") or "first article"
    return [r for name in chosen for r in listed(job, name, mode, file.tied, file.staying)[1]]


def _near(ident: str, wanted: list[Reading]) -> str:
    from harnesscheck.fault import nearest

    return nearest(ident, [reading.id for reading in wanted]) or "no reading of this list has that id"
