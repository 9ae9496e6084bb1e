"""What the files of a clean job say about its signal lines: drivers, receivers, terminators, rates, pull-ups, loads.

Called when a job is laid out. Values are invented, typed from the documents that the checks name, and apart from them.
"""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tests.corpus.build import Build, Line, Run

RATES = {
    "can": ("250 kbit/s",), "rs485": ("115.2 kbit/s", "9600 bit/s"), "rs422": ("38.4 kbit/s", "9600 bit/s"),
    "rs232": ("9600 bit/s", "19.2 kbit/s"), "arinc429": ("12.5 kbit/s", "100 kbit/s"),
}  # fmt: skip
"""Classes whose units agree on a rate."""
BUSES = ("can", "rs485", "rs422")
"""Classes that run as one line and are terminated."""


def state(build: Build) -> None:
    """Complete circuits, cavities and pins of every signal line."""
    draw = Random(f"rates of {build.name}")  # of its own, so that jobs stay what they were
    for run in build.runs:
        signal = run.lines[0].signal
        units = {plug for line in run.lines for plug, _ in line.taps}
        if signal in BUSES and len(units) > 1:
            # Several units at one splice would be a star on these; ARINC 429 takes it.
            _becomes(build, run, "arinc429")
            signal = "arinc429"
        circuit, pin = _circuit(build, signal), _pin(build, signal)
        if signal in RATES:
            rate = circuit.get("rate") or draw.choice(RATES[signal])
            circuit, pin = {**circuit, "rate": rate}, {**pin, "rate": rate}
        if signal == "can":
            circuit["stub length"] = draw.choice(("none", "0.6 m", "1.8 m"))
        for line in run.lines:
            if line.signal == "shield" or line.name not in build.air["circuits"]:
                continue
            build.air["circuits"][line.name].update(circuit)
            for tapping in pins_of(build, line):
                tapping.update(pin)
        if signal in BUSES and units:
            _terminated(build, run)
            if signal == "can":
                # No splice within 12 in of a connector and no stub above 0.3 m: both at once cannot be had.
                build.jump.setdefault("limits", {})["long-stub"] = {
                    "value": "3 m", "reason": "the bus maker allows it at this rate", "by": "corpus fabricator",
                }  # fmt: skip


def _circuit(build: Build, signal: str) -> dict[str, str]:
    rng = build.rng
    old = str(rng.randrange(1, 3))
    if signal == "can":
        said = {"rate": "250 kbit/s", "bus length": f"{rng.randrange(3, 30)} m", "receivers": str(rng.randrange(1, 9))}
        return {**said, "topology": "line", "terminators": "2", "terminator": "120 ohm"}
    if signal in ("rs422", "rs485"):
        ends = "1" if signal == "rs422" else "2"
        said = {"edge": "1 us", "receivers": old, "topology": "line", "terminators": ends, "terminator": "120 ohm"}
        return {**said, "drivers": "1"}
    if signal == "arinc429":
        return {"drivers": "1", "receivers": "1"}
    if signal == "rs232":
        return {"drivers": "1", "receivers": "1", "input resistance": "5 kohm", "bus length": "4 m"}
    if signal == "analogue":
        return {"kind": "voltage", "drivers": "1", "source resistance": "100 ohm", "pull-up": "none"}
    if signal == "pulse":
        return {"drivers": "1", "receivers": "1", "pull-up": "2.2 kohm", "pull-up supply": "5 V"}
    if signal == "audio":
        return {"kind": "phones", "drivers": "1", "receivers": "1"}
    return {"kind": "ground"} if signal == "discrete" else {}


def _pin(build: Build, signal: str) -> dict[str, str]:
    if signal in BUSES:
        off = {"terminator": "120 ohm", "terminator state": "off"}
        return {**(off if build.chance(0.5) else {"terminator": "none"}), "direction": _way(signal)}
    said = {
        "rs232": {"input resistance": "50 kohm"},
        "analogue": {"input resistance": "1 Mohm", "pull-up": "none"},
        "pulse": {"pull-up": "none"},
        "discrete": {"isolated": "yes"},
        "audio": {},
        "arinc429": {},
    }.get(signal)
    return {} if said is None else {**said, "direction": "in"}


def _way(signal: str) -> str:
    return "in" if signal == "rs422" else "both"


def pins_of(build: Build, line: Line) -> list[dict[str, Any]]:
    """The pins of the equipment that tap a line."""
    found = []
    for plug, cavity in line.taps:
        mates = build.jump["connectors"][plug]["mates"]
        for unit, path in build.jump["equipment"].items():
            for ref, entry in build.boxes[path]["connectors"].items():
                if unit + ref == mates:
                    found.append(entry["pins"][cavity])
    return found


def _becomes(build: Build, run: Run, signal: str) -> None:
    for line in run.lines:
        if line.signal == "shield":
            continue
        letter = {"H": "A", "L": "B"}.get(line.fields["line"], line.fields["line"])
        build.air["circuits"][line.name] |= {"signal": signal, "line": letter}
        for pin in pins_of(build, line):
            pin |= {"signal": signal, "line": letter, "direction": "in"}


def _terminated(build: Build, run: Run) -> None:
    """Both halves of the opened pair say that the trunk ends in a terminator; for TIA-422 the far one."""
    line = run.lines[0]
    halves = build.jump["opens"].split("/")
    for number, half in enumerate(halves):
        cavities = build.air["connectors"][half]["cavities"]
        said = cavities.get(line.cavity, line.name)  # the pin map of this half may be unknown otherwise
        entry = said if isinstance(said, dict) else {"circuit": said}
        one_side = line.signal == "rs422" and number == 0
        cavities[line.cavity] = {**entry, "terminated": "no" if one_side else "yes"}
