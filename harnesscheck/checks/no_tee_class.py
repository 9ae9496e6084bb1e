"""A new unit is teed into a kind of line that cannot be teed at all.

What
    Each new unit that joins, by a wire or a splice, a network pair, a radio frequency cable, a video cable, a magneto
    P-lead, a thermocouple or a microphone line. These need a switch, a splitter, a loop-through, an isolator at the
    P-lead, a sensor of their own, or a place at the audio panel. (Two supplies on one resistive sender: see
    second-pull-up.)

Why it matters
    Network and radio cables are made for one load of their own impedance: a tee sends a third of the voltage back. A
    shorted wire on a P-lead stops an ignition. Two instruments on one thermocouple disturb each other through their
    grounds and their broken-wire currents. A second unit on a microphone line takes its level and brings hum.

Source
    Network: point to point by its nature, common practice; reflection is arithmetic. Radio: cable budget of two
    transponder manuals (confirmed). Video: terminate once, at the last device, loop-through manuals (confirmed).
    P-lead and second thermocouple instrument: from memory. Microphone: common practice.

What to do
    Use the device named in the finding. A P-lead tap is made only with the isolator that the maker of the instrument
    names, at the magneto's end.
"""

from __future__ import annotations

from collections.abc import Iterator

from harnesscheck.checks._signals import Bus, Missing, mixed, tapped
from harnesscheck.checks._words import several
from harnesscheck.finding import Answer, Finding, Passed, Severity
from harnesscheck.formulas import matched_line as matched
from harnesscheck.harness import Harness
from harnesscheck.source import Source, Status

SEVERITY = Severity.STOP
SOURCE = Source("lines that are made for one receiver", Status.COMMON)
FOLLOWS = ("pin-map-mismatch", "broken-through-circuit")

_GAMMA = matched.reflection(2, 1)
_TEE = f"a tee reflects {abs(_GAMMA):.0%} of the voltage, return loss {matched.return_loss(_GAMMA):.1f} dB"
NO_TEE: dict[str, tuple[str, str, str, Source]] = {
    "ethernet": (
        "a network pair", _TEE, "lead the pair through, and give the new unit a port of a switch",
        Source("a network link joins two ports", Status.COMMON),
    ),
    "rf": (
        "a radio frequency cable",
        f"VSWR {matched.vswr(_GAMMA):.1f}, each branch {matched.tee_share():.0%} of the power",
        "use a matched splitter or diplexer with its loss counted, or an antenna of its own", matched.CABLE_LOSS_SOURCE,
    ),
    "video": (
        "a video cable", f"two terminated loads leave {matched.video_level(2):.2f} V of 1 V; a plain tee is a stub",
        "lead the cable in and out of the new unit (loop-through), terminated at the last device only",
        matched.VIDEO_SOURCE,
    ),
    "ignition": (
        "a magneto P-lead", "a tapped P-lead; its wire grounded anywhere stops this ignition",
        "take the tap out; tap only through the series isolator of the instrument's maker, at the magneto",
        Source("", Status.MEMORY, paragraph="P-lead tapped through a series isolator only"),
    ),
    "thermocouple": (
        "a thermocouple", "two instruments on one junction",
        "give the new unit a probe of its own, or the reading over a data line from the old one",
        Source("", Status.MEMORY, paragraph="grounds and broken-wire currents of two instruments disturb each other"),
    ),
    "mic": (
        "a microphone line", "two inputs on one microphone",
        "connect it at an input of the audio panel, or take a unit that is made to be paralleled",
        Source("microphone lines end at one input", Status.COMMON),
    ),
}  # fmt: skip
"""Signal class to what it is, what is found, what to do, and the source."""


def check(harness: Harness) -> Iterator[Answer]:
    """Look at every signal that a new unit joins."""
    good = 0
    for bus in tapped(harness):
        kind = bus.signal
        missing = Missing(bus)
        if kind == "audio":
            said = missing.circuit("kind")
            kind = "mic" if said == "mic" else "audio"
        if not bus.circuits and len(bus.units) <= 2:
            good += 1  # from one new unit to another, and nothing of the aircraft
        elif kind in NO_TEE:
            yield _finding(bus, *NO_TEE[kind])
        elif missing:
            yield missing.answer(f"whether {bus.name} may be teed (a microphone line may not)")
        else:
            good += 1
    yield from mixed(harness, {*NO_TEE, "audio"})
    yield Passed(good, "signals that may be teed")


def _finding(bus: Bus, what: str, value: str, remedy: str, source: Source) -> Finding:
    return Finding(
        headline=f"{several(unit.ref for unit in bus.units)} is teed into {bus.name}, {what}, which cannot be teed",
        place=bus.units[0].place,
        others=bus.places,
        value=value,
        limit="no tee on this kind of line",
        source=source,
        remedy=remedy,
    )
