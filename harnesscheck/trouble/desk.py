"""One article at the support desk: its readings, everything that can be wrong with it, and what has been read."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from harnesscheck.connector import Origin
from harnesscheck.electrics.wiring import wiring
from harnesscheck.job import Job
from harnesscheck.place import Point
from harnesscheck.ringout import plan as ringout
from harnesscheck.ringout.article import Article, article
from harnesscheck.ringout.link import STRUCTURE
from harnesscheck.ringout.live import volts
from harnesscheck.ringout.reading import Reading
from harnesscheck.trouble.ask import Asker, groups
from harnesscheck.trouble.faults import PRIORS, Plan, Trouble, universe
from harnesscheck.trouble.network import Network, network
from harnesscheck.trouble.predict import Asked, Predictor
from harnesscheck.trouble.rank import Ranker, Ranking, Taken
from harnesscheck.trouble.readings import ReadingsFile, Row
from harnesscheck.trouble.setup import plan_of
from harnesscheck.trouble.symptoms import factors, named, understood

IDLE = 60.0
"""Ohms between a quiet bus and what holds it: two terminators (common practice)."""


def listed(
    job: Job, name: str, mode: str = ringout.MODES[0], tied: bool = False, staying: bool = True
) -> tuple[Article, list[Reading]]:
    """An article and all its readings: the ring-out's, and the volts of the power-up. ``staying``: as ``article``."""
    under = article(job, name, staying)
    found = list(ringout.plan(under, mode, tied).readings)
    if name == "installed":
        found += volts(job)
    return under, found


@dataclass
class Desk:
    """An article with its faults, ready for readings. Make it with ``desk(job, article)``."""

    name: str
    readings: list[Reading]
    """Those that can be right or wrong, in the order of the list."""
    unused: list[Reading]
    """Those whose right value nobody knows: they are only written down."""
    plan: Plan
    troubles: list[Trouble]
    ranker: Ranker
    asker: Asker
    taken: list[Taken] = field(default_factory=list)
    heard: list[str] = field(default_factory=list)
    """What was understood of the symptom."""

    def number(self, ident: str) -> int | None:
        """The number of a reading by its id."""
        return self._numbers.get(ident)

    def __post_init__(self) -> None:
        """Index the ids."""
        self._numbers = {reading.id: number for number, reading in enumerate(self.readings)}

    def take(self, rows: Iterable[Row]) -> list[Row]:
        """Take over readings; returns the rows that are no readings of this article."""
        left = []
        for row in rows:
            number = self.number(row.id)
            if number is None:
                left.append(row)
                continue
            reading = self.readings[number]
            word, _ = verdict(reading, row)
            if row.value is None or row.beyond or (row.unit and row.unit != reading.unit):
                if row.unit and row.unit != reading.unit:
                    left.append(row)  # volts for ohms tell nothing of the wiring
                elif word in ("good", "wrong"):
                    self.taken.append(Taken(number, None, word == "good"))
            else:
                self.taken.append(Taken(number, row.value))
        return left

    def rank(self) -> Ranking:
        """The suspects after everything that was taken."""
        return self.ranker.rank(self.taken)

    @property
    def unseen(self) -> list[Trouble]:
        """Faults that no reading of the article can see."""
        return [t for t, leader in zip(self.troubles, self.ranker.classes, strict=True) if leader < 0]

    def alike(self, trouble: Trouble) -> list[Trouble]:
        """The other faults that no reading tells from this one."""
        classes = self.ranker.classes
        own = classes[self.troubles.index(trouble)]
        return [t for t, c in zip(self.troubles, classes, strict=True) if c == own and t is not trouble]

    def asked(self, number: int) -> Asked:
        """A reading of the list, or one that was offered beside it."""
        return self.readings[number] if number < len(self.readings) else self.ranker.predictor.readings[number]


def desk(
    job: Job, name: str, mode: str = ringout.MODES[0], tied: bool = False, symptom: str = "",
    plugs: bool = True, staying: bool = True,
) -> Desk:  # fmt: skip
    """Everything about one article of a job. ``plugs`` False: no shorting plugs and loop-back leads are at hand.

    ``staying`` False: every other unit, sensor and switch of the aircraft is unplugged as well.
    Raises ``KeyError`` when the job has no such article.
    """
    under, every = listed(job, name, mode, tied, staying)
    readings = [r for r in every if r.expected is not None or r.judged]
    unused = [r for r in every if r.expected is None and not r.judged]
    net = network(under, _buses(job) if name == "installed" else None)
    _idle(under, net, [r for r in readings if r.kind == "volts"])
    plan = plan_of(job.subject, dict.fromkeys(point.ref for point in net.faces))
    troubles = universe(net, plan)
    closed = [n for number, n in enumerate(under.nets) if number not in under.open_nets]
    more: list[Asked] = list(groups(closed)) if plugs else []
    predictor = Predictor(net, [*readings, *more])
    bands = [(-math.inf if r.low is None else r.low, math.inf if r.high is None else r.high) for r in readings]
    bands += [(1e6, math.inf)] * len(more)
    stubs = _stubs(job)
    weights = factors(symptom, troubles, plan, stubs) if symptom else {}
    heard = [s.says for s in understood(symptom)] + [f"it is about {name}" for name in named(symptom, plan)]
    ranker = Ranker(predictor, troubles, bands, weights, PRIORS)
    asker = Asker(ranker, range(len(predictor.readings)), plugs=plugs)
    return Desk(name, readings, unused, plan, troubles, ranker, asker, heard=heard if symptom else [])


def _stubs(job: Job) -> frozenset[str]:
    """The halves of the kit that new units are plugged into."""
    harness = job.subject
    return frozenset(
        ref for ref, half in harness.connectors.items()
        if half.origin is Origin.JUMPER and (other := harness.mate_of(ref)) is not None
        and harness.connectors[other].origin is Origin.EQUIPMENT
    )  # fmt: skip


def _buses(job: Job) -> dict[str, float]:
    net = wiring(job.subject)
    return {bus: held for bus in job.subject.buses if (held := net.bus_volts(bus)) is not None}


def _idle(under: Article, net: Network, readings: Sequence[Reading]) -> None:
    """Lines that something beyond the listed wiring holds at a voltage: give them that source, where it is expected."""
    fed = {under.labels[Point(ref, end)] for ref in under.harness.breakers for end in ("line", "load")
           if Point(ref, end) in under.labels}  # fmt: skip
    done: set[int] = set()
    for reading in readings:
        label = under.labels.get(reading.a[0])
        if not reading.expected or label is None or label in fed or label in done:
            continue
        for point in under.unlisted:
            if under.labels.get(point) == label:
                done.add(label)
                source = Point("supply", str(point))
                net.add("breaker", f"what holds {point}", source, point, IDLE, new=False)
                net.fixed[net.node(source)] = reading.expected
                net.fixed[net.node(STRUCTURE)] = 0.0
                break


def best_article(file: ReadingsFile | None, names: Sequence[str], wished: str | None) -> str:
    """The article that is meant: the one wished for, that of the head, that of most rows, else the first."""
    if wished:
        return wished
    if file is not None:
        if file.head.get("article"):
            return file.head["article"]
        first = {name[0].upper(): name for name in names}
        count = Counter(first[row.id[0]] for row in file.rows if row.id[:1] in first)
        if count:
            return max(count, key=lambda name: (count[name], -list(names).index(name)))
    return names[0]


def verdicts(readings: Sequence[Reading], rows: Sequence[Row]) -> Iterator[tuple[Row | None, Reading | None, str, str]]:
    """Each row with its reading, a verdict (good, wrong, written down, no such reading, not read), and a remark."""
    by_id = {reading.id: reading for reading in readings}
    read: set[str] = set()
    for row in rows:
        reading = by_id.get(row.id)
        if reading is None:
            yield row, None, "no such reading", ""
            continue
        read.add(row.id)
        yield row, reading, *verdict(reading, row)
    for reading in readings:
        if reading.id not in read:
            yield None, reading, "not read", ""


def verdict(reading: Reading, row: Row) -> tuple[str, str]:
    """``good``, ``wrong``, ``not read`` or ``written down``, with a remark where one helps."""
    if row.value is None:
        if row.verdict is None:
            return "not read", ""
        return ("good" if row.verdict else "wrong"), "by hand: no value typed"
    unit = row.unit or reading.unit
    if unit != reading.unit:
        return "wrong", f"typed in {unit}, but this reading is in {reading.unit}"
    good = reading.accepts(row.value)
    if good is None:
        return "written down", reading.unknown
    if row.beyond:
        beyond = row.beyond == ">"
        least, most = (row.value, math.inf) if beyond else (0.0 if unit == "ohm" else -math.inf, row.value)
        low, high = reading.low, reading.high
        if (high is not None and least >= high) or (low is not None and most <= low):
            return "wrong", ""
        if not ((low is None or least >= low) and (high is None or most <= high)):
            return "unclear", "the limit lies beyond the range of the meter: use another range"
        return "good", ""
    remark = ""
    if not good:
        remark = _slip(reading, row.value)
    if row.verdict is not None and row.verdict is not good:
        remark = "; ".join(w for w in (remark, f"called {'good' if row.verdict else 'wrong'} by hand") if w)
    return ("good" if good else "wrong"), remark


def _slip(reading: Reading, value: float) -> str:
    """A unit slip: a thousand times off is inside the limits."""
    for factor, said in ((1e-3, "a thousandth"), (1e3, "a thousand times"), (1e6, "a million times")):
        meant = value * factor
        if reading.unit == "ohm" and reading.accepts(meant) and (meant > value or _plausible(reading, meant)):
            return f"{said} of it would be good: look at the unit of the meter"
    return ""


def _plausible(reading: Reading, meant: float) -> bool:
    """False for a high value whose thousandth is nothing: 2 ohm where 0.5 is the limit is a bad contact, and no slip.

    A tenth of the limit is the least that anybody reads off a meter as its own figure: common practice.
    """
    return reading.high is not None and (reading.low is not None or meant >= 0.1 * reading.high)
