"""Grounds of different classes are joined: power return with signal ground, or DC return with AC return.

What
    For every piece of copper to which the jumper adds something, what is said of its ground is compared: the class
    of its studs (returns: dc, ac or signal), of its circuits (ground is a supply return, signal ground is the return of
    a sensor or data line) and of the equipment pins on it. Copper that was mixed in the airframe already is a note,
    unless the jumper leads a ground of the new unit to it.
    Shields are not looked at here.

Why it matters
    The supply current of the new unit runs through the ground of a sensor and lifts it by its own voltage drop. Seven
    amperes in three feet of 22 AWG return are a third of a volt: ten psi on a sensor that gives 5 V at 150 psi.
    Nothing is broken, the reading is wrong, and it moves with the load.

Source
    AC 43.13-1B Chg 1, par. 11-186a (AC returns, DC returns and all others are kept apart), 11-186e (shared grounds
    only where shown harmless), 11-186f (no signal ground through a power return).

What to do
    Lead the supply return of the unit to the return of its own supply, and the signal ground to the signal ground.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._supply import Copper, coppers
from harnesscheck.checks._words import several
from harnesscheck.connector import Origin
from harnesscheck.finding import Answer, Finding, NotChecked, Passed, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.place import Place
from harnesscheck.source import Source, Status

SEVERITY = Severity.CAUTION
SOURCE = Source("AC 43.13-1B", Status.CONFIRMED, "Chg 1", "par. 11-186a, e and f")
FOLLOWS = (
    "shared-sensor-return",
    "pin-collision",
    "mirrored-pin-map",
    "shifted-pin-map",
    "ribbon-order-pin-map",
    "broken-through-circuit",
    "pin-map-mismatch",
)

_WORDS = {"dc": "DC return", "ac": "AC return", "signal": "signal ground", "return": "supply return"}
_CLASS = {"ground": "return", "signal ground": "signal"}
_APART = (("dc", "ac"), ("signal", "dc"), ("signal", "ac"), ("signal", "return"))

Said = dict[str, list[tuple[str, Place]]]
"""Class of ground to what says so."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every piece of copper with a ground on it that the jumper touches; one finding for each."""
    if harness.kind is not Kind.INSTALLED:
        return
    good = 0
    for here in coppers(harness):
        said = _said(here)
        touched = any(wire.origin is Origin.JUMPER for wire in here.wires)
        if not touched or not (said or here.grounds):
            continue
        clash = next(((a, b) for a, b in _APART if a in said and b in said), None)
        if clash:
            yield _finding(harness, here, said, clash)
            continue
        unknown = [ground for ground in here.grounds if ground.returns is None]
        studs = {ground.ref for ground in here.grounds}
        new = any(wire.a.ref in studs or wire.b.ref in studs for wire in here.new)
        if unknown and (new or any(pin.signal in _CLASS for pin in here.pins)):
            for ground in unknown:
                yield NotChecked(
                    place=ground.place,
                    missing="which class of ground it is, is not stated",
                    remedy="give returns: dc, ac or signal",
                )
        elif said:
            good += 1
    yield Passed(good, "grounds that the jumper touches")


def _said(here: Copper) -> Said:
    said: Said = {}
    for ground in here.grounds:
        if ground.returns is not None:
            said.setdefault(ground.returns, []).append((f"stud {ground.ref}", ground.place))
    for circuit in here.circuits.values():
        if circuit.signal in _CLASS:
            said.setdefault(_CLASS[circuit.signal], []).append((circuit.name, circuit.place))
    for pin in here.pins:
        if pin.signal in _CLASS:
            said.setdefault(_CLASS[pin.signal], []).append((f"{pin.point} ({pin.function})", pin.place))
    return said


def _finding(harness: Harness, here: Copper, said: Said, clash: tuple[str, str]) -> Finding:
    one, other = ((_WORDS[name], said[name]) for name in clash)
    added = any(_CLASS.get(pin.signal) in clash for pin in here.pins)
    before = not added and _before(harness, here, clash)
    places = [place for _, named in (one, other) for _, place in named]
    wire = next(w for w in here.wires if w.origin is Origin.JUMPER)
    pins = [Place(str(p.point), p.place.document, p.place.line, p.place.column) for p in here.pins]
    first, second = (f"{word} ({several((name for name, _ in named), 3)})" for word, named in (one, other))
    return Finding(
        headline=f"{first} and {second} are one piece of copper" + (", as in the airframe before" if before else ""),
        place=wire.place,
        others=(*places, *pins),
        value=f"{one[0]} joined with {other[0]}",
        limit="AC returns, DC returns and all other grounds kept apart",
        severity=Severity.NOTE if before else None,
        remedy="ask whoever designed the airframe wiring whether it is meant so"
        if before
        else "lead supply returns to the return of their own supply, and signal grounds to the signal ground",
    )


def _before(harness: Harness, here: Copper, clash: tuple[str, str]) -> bool:
    """True when the airframe as found joins the two classes already, on the studs or circuits that are here."""
    assert harness.before is not None  # an installed harness
    refs, names = {g.ref for g in here.grounds}, set(here.circuits)
    for old in coppers(harness.before):
        if refs & {g.ref for g in old.grounds} or names & set(old.circuits):
            said = _said(old)
            if clash[0] in said and clash[1] in said:
                return True
    return False
