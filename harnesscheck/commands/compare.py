"""Compare two revisions of a job, or the design and what was built: differences, circuits, the shortest rework."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from harnesscheck.commands._common import FOUND, OK, add_format, load, usage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from harnesscheck.job import Job
    from harnesscheck.place import Point
    from harnesscheck.rework.compare import Comparison
    from harnesscheck.rework.moves import Rework

EXAMPLES = (
    "compare jumper.yaml jumper.yaml",
    "compare jumper.yaml jumper.yaml -o rework.pdf",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    parser.add_argument("before", metavar="A", help="the revision before, or the design")
    parser.add_argument("after", metavar="B", help="the revision now, or the file of what was built")
    parser.add_argument("-o", "--out", metavar="OUT", help="the rework sheet, like rework.pdf or rework.csv")
    add_format(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status: 0 the same, 1 different."""
    import json
    import sys

    from harnesscheck import api, sheets
    from harnesscheck.fault import InputError, quoted
    from harnesscheck.rework.compare import compare
    from harnesscheck.rework.shortest import of_aircraft, shortest

    old, new = load(arguments.before), load(arguments.after)
    if old.subject.kind is not new.subject.kind:
        said = f"A is read as {_kind(old)}, B as {_kind(new)}"
        raise InputError([usage(said, "compare two files of one kind: two jumper files, or two airframe files")])
    found = compare(old.subject, new.subject, old.equipment, new.equipment)
    kit = shortest(old.subject, new.subject, found.names)
    aircraft = of_aircraft(old.subject, new.subject, found.names)
    as_json = arguments.format == "json"
    if as_json:
        text = json.dumps(_data(old, new, found, kit, aircraft), indent=2)
    else:
        text = "\n".join(quoted(line) for line in _lines(old, new, found, kit, aircraft))
    if arguments.out:
        written = api.sheet(new, "rework", arguments.out, sheets.Wish(previous=old))
        print(f"wrote {written}", file=sys.stderr if as_json else sys.stdout)
    print(text)
    return FOUND if found.differences or found.parted or found.joined else OK


def _kind(job: Job) -> str:
    return {"installed": "a jumper file"}.get(job.subject.kind.value, f"an {job.subject.kind.value} file")


def _lines(old: Job, new: Job, found: Comparison, kit: Rework, aircraft: Rework | None) -> Iterator[str]:
    from harnesscheck.rework.compare import sentences

    for word, job in (("before", old), ("now", new)):
        yield f"{word:<7} {job.name}: {job.subject.title}, revision {job.subject.revision or 'not stated'}"
    yield ""
    if not found.differences and not found.parted and not found.joined:
        yield "The same: nothing that the files say differs."
        return
    yield f"{len(found.primary)} differ{'s' if len(found.primary) == 1 else ''}"
    for one in found.primary:
        yield from (f"  {line}" for line in sentences(one))
        for other in found.differences:
            if other.follows == one.label:
                yield from (f"    with it, {line}" for line in sentences(other))
    shown = {one.label for one in found.primary}
    for other in found.differences:
        if other.follows and other.follows not in shown:
            yield from (f"  {line}" for line in sentences(other))
    yield ""
    yield "Circuits that changed" if found.parted or found.joined else "No circuit changed."
    for verb, several in (("parted", found.parted), ("joined", found.joined)):
        job, bare = (old if verb == "parted" else new), 0
        for net in several:
            if not _used(job, net):
                bare += 1
                continue
            names = _named(old, found, net)
            yield f"  {verb}{', circuit ' if names else ''}{' with '.join(names)}:"
            yield from (f"    {' '.join(part)}" for part in net)
        if bare:
            yield f"  {verb}: {bare} besides, of cavities without wire or circuit"
    yield ""
    yield from _rework("Shortest rework", kit)
    if aircraft is not None:
        yield "Besides, wiring of the aircraft is stated otherwise; where the aircraft itself is to be changed:"
        yield from _rework("Shortest rework in the aircraft", aircraft)


def _used(job: Job, net: tuple[tuple[str, ...], ...]) -> bool:
    """True when a wire or a circuit is on one of the points."""
    harness = job.subject
    points = _points(net)
    return bool(harness.circuits_at(points)) or any(harness.wires_at(p) for p in points)


def _points(net: tuple[tuple[str, ...], ...]) -> list[Point]:
    from harnesscheck.place import split_point

    return [point for part in net for name in part if (point := split_point(name)) is not None]


def _named(old: Job, found: Comparison, net: tuple[tuple[str, ...], ...]) -> list[str]:
    """The circuits that were on the points before."""
    harness, now = old.subject, {now: was for (space, was), now in found.names.items() if space == "ref"}
    points = [point._replace(ref=now.get(point.ref, point.ref)) for point in _points(net)]
    reached = [one for p in points if p in harness.nets for one in (p, *(s.end for s in harness.trace(p)))]
    return list(harness.circuits_at(reached))


def _rework(title: str, found: Rework) -> Iterator[str]:
    from harnesscheck.sheets.rework import sum_words

    steps = list(_steps(found))
    yield f"{title}: {sum_words(found)}"
    yield from (f"  {number}. {step}" for number, step in enumerate(steps, 1))


def _steps(found: Rework) -> Iterator[str]:
    from harnesscheck.sheets.rework import groups

    changed = [move for move in found.moves if found.operations(move)]
    if changed:
        for _, _, steps in groups(found, changed):
            yield from (f"{step.text} ({step.limit})" if step.limit else step.text for step in steps)


def _data(old: Job, new: Job, found: Comparison, kit: Rework, aircraft: Rework | None) -> dict[str, Any]:
    from harnesscheck.rework.compare import sentences, words

    data: dict[str, Any] = {
        "before": {"file": old.name, "title": old.subject.title, "revision": old.subject.revision},
        "now": {"file": new.name, "title": new.subject.title, "revision": new.subject.revision},
        "same": not (found.differences or found.parted or found.joined),
        "differences": [
            {
                "verb": one.verb, "what": one.what, "name": one.name, "was": one.was,
                "whose": "kit" if one.ours else "aircraft", "comes of": one.follows,
                "fields": [{"field": words(f.name), "before": f.before, "now": f.after} for f in one.fields],
                "words": list(sentences(one)),
            }
            for one in found.differences
        ],
        "circuits": {
            verb: [{"circuits": _named(old, found, net), "parts": net} for net in several]
            for verb, several in (("parted", found.parted), ("joined", found.joined))
        },
    }  # fmt: skip
    for name, rework in (("rework", kit), ("rework in the aircraft", aircraft)):
        if rework is not None:
            counts = dict(sorted(rework.total.items()))
            data[name] = {"operations": counts, "proved": rework.proved, "steps": list(_steps(rework))}
    return data
