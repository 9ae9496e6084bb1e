"""A ranking in words that can be read out on the telephone, and as plain data."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from harnesscheck.fault import quoted
from harnesscheck.place import Point
from harnesscheck.ringout.article import TITLES
from harnesscheck.ringout.reading import Reading
from harnesscheck.trouble.ask import Question, Series
from harnesscheck.trouble.desk import Desk
from harnesscheck.trouble.faults import Trouble
from harnesscheck.trouble.predict import Asked
from harnesscheck.trouble.rank import Ranking, Suspect, Taken

SHOWN = 5
LEAST_SHOWN = 0.005
MEMBERS = 6
"""Faults listed of one class that no reading can tell apart."""
CAUTION = (
    "The shares rest on priors that are opinion. Look at the place and see the fault before anything is cut or "
    "replaced; then take all readings of the list again."
)


def value(number: float, unit: str) -> str:
    """``0.025 ohm``, ``12.1 kohm``, ``open``, ``13.9 V``."""
    if math.isinf(number):
        return "open"
    if unit == "V":
        return f"{number:.2f} V"
    for size, name in ((1e6, "Mohm"), (1e3, "kohm")):
        if number >= size:
            return f"{number / size:.3g} {name}"
    return f"{number:.2f} ohm" if number < 10 else f"{number:.1f} ohm"


def accept(reading: Reading) -> str:
    """What is accepted, in words."""
    low, high, unit = reading.low, reading.high, reading.unit
    if low is not None and high is not None:
        return f"{value(low, unit).removesuffix(' ' + unit)} to {value(high, unit)}"
    if low is not None:
        return f"more than {value(low, unit)}"
    if high is None:
        return "written down only"
    # As the lists print it: never more than what is judged, or paper and program would give two verdicts.
    return (
        f"at most {math.floor(high * 1000 + 1e-9) / 1000:.3f} ohm"
        if unit == "ohm" and high < 10
        else f"at most {value(high, unit)}"
    )


def points(listed: Sequence[Point], most: int = 12) -> str:
    """Points, a long list cut short."""
    more = f" and {len(listed) - most} more" if len(listed) > most else ""
    return ", ".join(map(str, listed[:most])) + more


def asked(desk: Desk, number: int) -> str:
    """A reading as an instruction."""
    reading: Asked = desk.asked(number)
    if isinstance(reading, Reading):
        what = {"volts": "volts, power on", "isolation": "ohms, to be open"}.get(reading.kind, "ohms")
        return f"{reading.id}: {what}: {points(reading.a)} to {points(reading.b)} ({accept(reading)}; {reading.why})"
    if isinstance(reading, Series):
        leads = "; ".join(f"{a} to {b}" for a, b in reading.leads)
        good = value(desk.ranker.predictor.healthy[number], "ohm")
        return f"in series: ohms: {reading.a[0]} to {reading.b[0]} (about {good}), with loop-back leads {leads}"
    return (
        f"two groups: ohms, to be open: tie {points(reading.a, 99)}; tie {points(reading.b, 99)}; read one to the other"
    )


def name(desk: Desk, number: int) -> str:
    """The id of a reading."""
    return desk.readings[number].id if number < len(desk.readings) else f"extra {number - len(desk.readings) + 1}"


def text(desk: Desk, ranking: Ranking, question: Question | None) -> str:
    """The whole answer."""
    return "\n".join(quoted(line) for line in _lines(desk, ranking, question)) + "\n"


def _lines(desk: Desk, ranking: Ranking, question: Question | None) -> Iterator[str]:
    read = {one.number for one in desk.taken}
    extra = sum(number >= len(desk.readings) for number in read)
    beside = f", {extra} beside the list" if extra else ""
    yield (f"{TITLES[desk.name]}: {len(read) - extra} of {len(desk.readings)} readings taken{beside}, "
           f"{len(ranking.wrong)} wrong")  # fmt: skip
    if desk.heard:
        yield f"understood: {'; '.join(desk.heard)}"
    for one in desk.taken:
        if one.number in ranking.wrong:
            yield f"  wrong: {name(desk, one.number)} {_shown(desk, one)} ({_accepted(desk, one.number)})"
    yield ""
    yield from _suspects(desk, ranking)
    yield from remarks(desk, ranking)
    yield ""
    yield from ending(desk, ranking, question)
    yield CAUTION


def _suspects(desk: Desk, ranking: Ranking) -> Iterator[str]:
    blocks = [(s.probability, list(_suspect(desk, s, bool(ranking.wrong)))) for s in ranking.suspects[:SHOWN]]
    designed = "the wiring under test is as designed: look at the unit, its configuration, the drawing"
    blocks.append((ranking.nothing, [f"{_share(ranking.nothing)}  {designed}"]))
    if desk.unseen:
        likely = "; ".join(t.says for t in ranking.hidden_first)
        words = f"a fault that shows in no reading here ({len(desk.unseen)} such): {likely}"
        blocks.append((ranking.hidden, [f"{_share(ranking.hidden)}  {words}"]))
    unknown = f"{_share(ranking.unknown)}  something else: three faults or more, or a drawing that is wrong"
    blocks.append((ranking.unknown, [unknown]))
    for share, lines in sorted(blocks, key=lambda block: -block[0]):
        if share >= LEAST_SHOWN:
            yield from lines


def _share(probability: float) -> str:
    return f"{100 * probability:4.0f} %" if probability >= 0.01 else " < 1 %"


def _suspect(desk: Desk, suspect: Suspect, wrong: bool) -> Iterator[str]:
    first, *others = suspect.troubles
    yield f"{_share(suspect.probability)}  {' AND '.join(t.says for t in first)}"
    for trouble in first:
        yield f"        look at {trouble.look}"
        if len(first) > 1 and (alike := desk.alike(trouble)):
            more = f", and {len(alike) - 3} more" if len(alike) > 3 else ""
            yield f"          or, no reading tells it apart: {'; '.join(t.says for t in alike[:3])}{more}"
    if others:
        more = f", and {len(others) - MEMBERS} more" if len(others) > MEMBERS else ""
        words = "; ".join(" AND ".join(t.says for t in one) for one in others[:MEMBERS])
        yield f"        no reading tells it from: {words}{more}"
    if wrong:
        yield f"        explains {_ids(desk, suspect.explains) or 'no wrong reading'}"
    if suspect.contradicts:
        yield f"        against it: {_ids(desk, suspect.contradicts)}"


def _ids(desk: Desk, numbers: Iterable[int]) -> str:
    listed = [name(desk, n) for n in numbers]
    return ", ".join(listed[:12]) + (f" and {len(listed) - 12} more" if len(listed) > 12 else "")


def remarks(desk: Desk, ranking: Ranking) -> Iterator[str]:
    """What does not fit together."""
    by_number: dict[int, list[Taken]] = {}
    for one in desk.taken:
        by_number.setdefault(one.number, []).append(one)
    healthy = desk.ranker.predictor.healthy
    for number, group in by_number.items():
        verdicts = {desk.ranker.fits(one, healthy[number]) for one in group}
        if len(verdicts) == 2:
            yield f"{name(desk, number)} was read well and badly: it comes and goes; move the bundle while reading"
    best = ranking.suspects[0] if ranking.suspects else None
    if not ranking.wrong or best is None:
        return
    left = [n for n in ranking.wrong if n not in best.explains]
    if left and best.probability > 0.005:
        single = len(left) == 1
        do, it = ("does", "it") if single else ("do", "them")
        yield (
            f"No single or double fault explains all readings: {_ids(desk, left)} {do} not fit the likeliest suspect; "
            f"read {it} again"
        )
    elif ranking.unknown > 0.5:
        yield "No single or double fault explains all readings: take them again, then compare the drawing"
    against = [n for n in best.contradicts if n not in ranking.wrong]
    if against:
        yield f"{_ids(desk, against)} would be wrong with the likeliest suspect, and was read as good: read it again"


def ending(desk: Desk, ranking: Ranking, question: Question | None) -> Iterator[str]:
    """The next reading, or that there is none."""
    if desk.asker.settled(ranking):
        if ranking.suspects and ranking.suspects[0].probability > ranking.nothing + ranking.hidden:
            yield "One suspect is left: no further reading is needed."
        else:
            yield "These readings show no fault."
    elif question is None:
        yield "No further reading tells the suspects apart: go and look, likeliest first."
    else:
        yield f"next reading ({question.gain:.2f} bit, {question.minutes:.1f} min): {asked(desk, question.number)}"


def _shown(desk: Desk, one: Taken) -> str:
    if one.value is None:
        return "called wrong by hand"
    return value(one.value, "V" if desk.ranker.predictor.hot[one.number] else "ohm")


def _accepted(desk: Desk, number: int) -> str:
    return accept(desk.readings[number]) if number < len(desk.readings) else "extra reading"


def data(desk: Desk, ranking: Ranking, question: Question | None) -> dict[str, Any]:
    """The same as plain data."""
    return {
        "article": desk.name,
        "taken": len({one.number for one in desk.taken}),
        "readings": len(desk.readings),
        "wrong": [name(desk, n) for n in ranking.wrong],
        "understood": desk.heard,
        "as designed": round(ranking.nothing, 6),
        "shows in no reading": round(ranking.hidden, 6),
        "something else": round(ranking.unknown, 6),
        "suspects": [
            {
                "probability": round(s.probability, 6),
                "faults": [[_trouble(t) for t in one] for one in s.troubles],
                "explains": [name(desk, n) for n in s.explains],
                "against": [name(desk, n) for n in s.contradicts],
            }
            for s in ranking.suspects[:20] if s.probability >= 0.001
        ],
        "remarks": list(remarks(desk, ranking)),
        "faults that show in no reading": len(desk.unseen),
        "next": None if question is None else {
            "reading": name(desk, question.number), "bits": round(question.gain, 3), "minutes": question.minutes,
            "words": asked(desk, question.number),
        },
        "settled": desk.asker.settled(ranking),
        "caution": CAUTION,
    }  # fmt: skip


def _trouble(trouble: Trouble) -> dict[str, Any]:
    return {
        "kind": trouble.kind, "says": trouble.says, "look at": trouble.look,
        "points": [str(p) for p in trouble.points], "wires": list(trouble.wires),
    }  # fmt: skip
