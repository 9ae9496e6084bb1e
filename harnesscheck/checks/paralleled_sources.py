"""Two sources are joined on one audio, sensor, video, pulse, lighting or supply-switching line.

What
    For each such line that a new unit joins and drives (direction: out or both): the drivers of the aircraft
    (drivers:) and the new ones are counted. More than one is a fault, unless the new output is isolated inside
    (isolated: yes: a mixing resistor for audio, a diode for a switched supply). Switch lines to ground
    (kind: ground) may be closed by several units.

Why it matters
    Each output is a low resistance to the other: two radios on one headphone line lose 6 dB and distort, two dimmers
    feed each other, two sensor outputs give neither value.

Source
    Broadcast engineering and homebuilders' articles: outputs are joined through resistors only (confirmed). The level
    is arithmetic: two 10 ohm outputs on 150 ohm lose 5.7 dB; with 470 ohm each into 600 ohm one source arrives 8.9 dB
    down. Dimmers of two kinds are not joined unless the unit takes both (confirmed).

What to do
    Lead each source to an input of its own at the audio panel, or join audio through equal resistors and state
    isolated: yes. Never join two sensor outputs, dimmers or video sources.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, Unit, mixed, tapped
from harnesscheck.checks._words import many, several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import audio_mixing
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = audio_mixing.SOURCE
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")

ONE_SOURCE = frozenset({"analogue", "audio", "video", "lighting", "pulse", "discrete"})
_OTHERS = Source("one source on a line", Status.COMMON)


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every such line that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        if bus.signal not in ONE_SOURCE:
            continue
        missing = Missing(bus)
        new = [unit for unit in bus.units if _drives(unit, missing)]
        if bus.signal == "discrete" and new and missing.circuit("kind") == "ground":
            new = []  # several switches to ground on one line are a logical or
        old = missing.count("drivers") if new else bus.count("drivers") or 0
        if not new and old and old > 1 and not missing:
            continue  # joined in the aircraft before: not the kit's doing, and nothing to call right
        bare = [unit for unit in new if not unit.said("isolated")]
        if bare and old is not None and old + len(new) > 1 and not (bus.signal == "discrete" and missing):
            yield _finding(bus, old, new)
        elif missing:
            yield missing.answer(f"whether {bus.name} has one source")
        else:
            good += 1
    yield from mixed(harness, ONE_SOURCE)
    yield Passed(good, "lines with one source")


def _drives(unit: Unit, missing: Missing) -> bool:
    if unit.talks is None:
        missing.unit(unit, "direction")
    return bool(unit.talks)


def _finding(bus: Bus, old: int, new: list[Unit]) -> Finding:
    audio = bus.signal == "audio"
    loss = audio_mixing.fighting_loss(10, 150)
    example = f"; two 10 ohm outputs on 150 ohm lose {loss:.1f} dB" if audio else ""
    return Finding(
        headline=f"{several(map(str, new))} drives {bus.name} ({bus.signal}), which has "
        + (f"{many(old, 'source')} already" if old else "another new source"),
        place=new[0].place,
        others=bus.places,
        value=f"{old + len(new)} sources, not isolated{example}",
        limit="1 source, or each through its own " + ("resistor" if audio else "diode, where the maker shows it"),
        source=SOURCE if audio else _OTHERS,
        remedy="lead the new source to an input of its own"
        + (", or join the sources through equal resistors" if audio else ""),
    )
