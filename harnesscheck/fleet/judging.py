"""Which differences of an aircraft from its type matter to a kit.

**A difference matters to the kit** when putting it alone into the type's file, or taking it alone out of the
aircraft's, changes at least one of these for the kit in the aircraft:

* an answer of the checks: a finding (with its value and limit), or a thing that could not be checked;
* the copper: what is one piece of copper with a cavity of the opened pair or with a pin of the new equipment;
* the parts that the kit mates with: number, insert, contacts and plugs of the opened halves.

Cut lengths are a matter of the kit's own file: where an aircraft asks for another length, that is a finding. Both
directions are tried because two differences may only tell together (a wire taken out, and its cavity called spare), or
hide each other. A difference that changes none of these does not matter: everything that is checked says the same.
Where the kit in the aircraft has all in all the same answers, copper and parts as in the type, no difference matters.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from harnesscheck import api
from harnesscheck.document import Block, Document, read
from harnesscheck.fault import InputError
from harnesscheck.finding import Report, Severity
from harnesscheck.fleet.differences import Difference
from harnesscheck.formats import harness_yaml
from harnesscheck.formats._kit import Kit
from harnesscheck.harness import Harness
from harnesscheck.job import Job

MOST = 40
"""Differences judged one by one; an aircraft with more is another type."""
KEPT = 2_000
"""Answers remembered for differences that come again on other aircraft."""
Key = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What is said of the kit in one aircraft; two outcomes are compared by ``keys``."""

    report: Report
    keys: frozenset[Key]


class Bench:
    """A kit laid out to be tried in many aircraft: everything that does not depend on the aircraft is read once."""

    def __init__(self, path: Path, name: str) -> None:
        """Raises ``InputError`` when the kit cannot be read, or does not go into the airframe it was made for."""
        self._files: dict[Path, Document] = {}
        self.kit: Kit = harness_yaml.kit(path, name, self.read)
        self.job = self.kit.fit()
        api.decided(self.job)
        assert self.kit.airframe is not None
        self.type_file = self.kit.airframe
        self.type = outcome(self.job)
        self._alone: dict[tuple[Key, str], frozenset[Key] | None] = {}

    def read(self, path: Path, name: str) -> Document:
        """Read a file once, under the name it was first called by."""
        place = path.resolve()
        if place not in self._files:
            self._files[place] = read(path, name)
        return self._files[place]

    def texts(self) -> Iterator[str]:
        """The text of every file of the kit and its type, for telling whether they have changed."""
        for place in sorted(self._files):
            yield from (str(place), *self._files[place].lines)

    def tried(self, frame: Document) -> frozenset[Key] | None:
        """What is said of the kit in one aircraft; None when the file does not make sense by itself."""
        try:
            return outcome(self.kit.fit(frame)).keys
        except InputError:
            return None

    def alone(self, one: Difference, aircraft: Document) -> frozenset[Key] | None:
        """The type with one difference."""
        key = (one.path, one.now)
        known = self._alone
        if key not in known:
            if len(known) >= KEPT:
                known = self._alone = {}
            known[key] = self.tried(patched(self.type_file, aircraft, one.path))

        return known[key]


def outcome(job: Job) -> Outcome:
    """Check a job and put down what can be compared."""
    report = api.check(job)
    keys: set[Key] = set()
    for f in report.findings:
        severity = (f.severity or Severity.NOTE).word.lower()
        keys.add(("finding", f.check, severity, f.headline, f.value, f.limit, f.follows, f.waived))
    keys.update(("not checked", n.check, n.place.label, n.missing) for n in report.not_checked)
    keys.update(_copper(job.subject))
    keys.update(_parts(job.subject))
    return Outcome(report, frozenset(keys))


def _copper(harness: Harness) -> Iterator[Key]:
    opened = [harness.connectors[ref] for ref in harness.opened]
    points = [cavity.point for connector in opened for cavity in connector.cavities.values()]
    members = harness.nets.members()
    for point in (*points, *(pin.point for pin in harness.pins())):
        number = harness.nets.of(point)
        net = members[number] if number is not None else [point]
        yield ("copper", str(point), *sorted(map(str, net)))


def _parts(harness: Harness) -> Iterator[Key]:
    for ref in harness.opened:
        connector = harness.connectors[ref]
        yield "part", ref, str(connector.part), *(f"{n} {f.value}" for n, f in sorted(connector.facts.items()))
        for cavity in connector.cavities.values():
            yield "part", str(cavity.point), str(cavity.contact), str(cavity.plug), str(cavity.gauge)


def patched(document: Document, other: Document, path: Sequence[str]) -> Document:
    """``document`` with what ``other`` says at ``path``: set, or taken out when it says nothing there."""
    result = Document(document.name, "", document.path)
    result.root = _patched(document.root, other.root, path)
    return result


def _patched(one: Block, two: Block, path: Sequence[str]) -> Block:
    key, *rest = path
    copy = Block(one.line, one.column)
    copy.update(one)
    copy.marks.update(one.marks)
    if rest and isinstance(two.get(key), Block):
        mine = one.get(key)
        copy[key] = _patched(mine if isinstance(mine, Block) else Block(1, 1), two[key], rest)
        copy.marks.setdefault(key, two.marks[key])
    elif key in two:
        copy[key], copy.marks[key] = two[key], two.marks[key]
    else:
        copy.pop(key, None)
        copy.marks.pop(key, None)
    return copy


def judge(bench: Bench, aircraft: Document, found: Sequence[Difference], here: Outcome) -> tuple[list[str], list[str]]:
    """The differences that matter, each with what it changes, and those that do not, each with the reason."""
    total = here.keys ^ bench.type.keys
    if not total:
        return [], [f"{one.said}: changes no answer of the checks, no copper and no part at the kit" for one in found]
    if len(found) > MOST:
        return [f"{len(found)} differences: another type, not judged one by one", *(one.said for one in found)], []
    effects = [_effect(bench.type.keys, bench.alone(one, aircraft)) for one in found]
    known = [effect.all for effect in effects if effect is not None]
    if len(known) < len(found) or not total <= frozenset().union(*known):
        for number, one in enumerate(found):
            if not effects[number]:  # alone it says nothing, or makes no sense: what is the aircraft without it?
                without = bench.tried(patched(aircraft, bench.type_file, one.path))
                effects[number] = _effect(without, here.keys) or effects[number]
    told = frozenset[Key]().union(*(effect.all for effect in effects if effect))
    if not total <= told:  # something is changed by several together: none of them is called harmless
        effects = [effect or None for effect in effects]
    matter, no_matter = [], []
    for one, effect in zip(found, effects, strict=True):
        if effect is None:
            matter.append(f"{one.said}: belongs together with the other differences")
        elif effect:
            matter.append(f"{one.said}: {'; '.join(effect.said(total))}")
        else:
            no_matter.append(f"{one.said}: changes no answer of the checks, no copper and no part at the kit")
    return matter, no_matter


@dataclass(frozen=True, slots=True)
class Effect:
    """What is said with a difference and not without it, and the other way round. False when there is neither."""

    more: frozenset[Key]
    less: frozenset[Key]

    def __bool__(self) -> bool:
        return bool(self.more or self.less)

    @property
    def all(self) -> frozenset[Key]:
        """Both."""
        return self.more | self.less

    def said(self, total: frozenset[Key]) -> list[str]:
        """In a few words; what the other differences undo again is left out, unless nothing else is left."""
        kept = self.all & total or self.all
        words = []
        for kind, said in (("finding", "{0[2]} {0[1]}"), ("not checked", "{0[1]} not checked")):
            words += [said.format(key) for key in sorted(kept & self.more) if key[0] == kind]
        for kind, said in (("finding", "no more {0[1]}"), ("not checked", "{0[1]} can be checked")):
            words += [said.format(key) for key in sorted(kept & self.less) if key[0] == kind]
        words = list(dict.fromkeys(words))
        words = [*words[:4], *([f"and {len(words) - 4} more answers"] if len(words) > 4 else [])]
        for kind, head in (("copper", "other copper at"), ("part", "other parts at")):
            places = sorted({key[1] for key in kept if key[0] == kind})
            if places:
                more = f" and {len(places) - 4} more" if len(places) > 4 else ""
                words.append(f"{head} {', '.join(places[:4])}{more}")
        return words


def _effect(without: frozenset[Key] | None, having: frozenset[Key] | None) -> Effect | None:
    return None if without is None or having is None else Effect(having - without, without - having)
