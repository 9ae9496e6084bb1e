"""Generated jobs of any size for the drawing tests: trunk, taps into several units, shielded pairs, existing wiring."""

from __future__ import annotations

from pathlib import Path

from diagram_bench import job_of

from harnesscheck.job import Job

EVERY = 6
"""One circuit in so many is tapped."""
PINS = 12
"""Pins of one unit that are used."""


def generated(folder: Path, wires: int) -> Job:
    """A job whose drawing has about ``wires`` wires, existing ones included. Invented for the tests."""
    # Per EVERY circuits: EVERY + 2 new wires (one tap) and EVERY / 3 existing ones.
    circuits = max(3, round(wires * EVERY / (EVERY + 2 + EVERY / 3)))
    tapped = [n for n in range(1, circuits + 1) if n % EVERY in (1, 2) and (n // EVERY) % 2 == 0]
    units = -(-len(tapped) // PINS)
    return job_of(folder, _jumper(circuits, tapped, units), _airframe(circuits), _equipment())


def _airframe(circuits: int) -> str:
    lines = ["kind: airframe", "title: Generated airframe", "revision: B"]
    lines += ["buses:", "  BUS1: {name: main bus, supply: 28 V}", "breakers:"]
    fed = [n for n in range(1, circuits + 1) if n % 6 == 1]
    lines += [f"  CB{n}: {{name: FEED {n}, rating: 5 A, bus: BUS1}}" for n in fed]
    lines += ["grounds:", "  GS1: {name: stud at the frame}", "connectors:"]
    for ref, gender, extra in (("P14", "pin", "mates: J14, "), ("J14", "socket", "")):
        lines.append(f"  {ref}: {{name: disconnect, {extra}gender: {gender}, cavities: {{")
        lines += [f"    {n}: CIRCUIT {n}{',' if n < circuits else ''}" for n in range(1, circuits + 1)]
        lines.append("  }}")
    lines.append("wires:")
    lines += [f"  P{2000 + n}A20: {{from: CB{n}-load, to: J14-{n}, type: M22759/16-20-9}}" for n in fed]
    lines += [f"  P{2000 + n}A20N: {{from: GS1, to: J14-{n}, type: M22759/16-20-9}}" for n in range(2, circuits, 6)]
    return "\n".join(lines) + "\n"


def _equipment() -> str:
    pins = ["POWER, signal: power, direction: in", "RETURN, signal: ground"]
    pins += [f"INPUT {n}, signal: discrete, direction: in" for n in range(3, PINS + 1)]
    lines = ["kind: equipment", "title: Unit", "connectors:", "  J1:", "    name: receptacle", "    gender: pin"]
    lines += ["    pins:", *(f"      {n}: {{function: {pin}}}" for n, pin in enumerate(pins, 1))]
    return "\n".join(lines) + "\n"


def _jumper(circuits: int, tapped: list[int], units: int) -> str:
    lines = ["kind: jumper", "title: Generated jumper", "revision: A", "airframe: airframe.yaml", "opens: P14/J14"]
    if units:
        lines += ["equipment:", *(f"  A{20 + unit}: equipment.yaml" for unit in range(units))]
    lines += ["connectors:", "  J114: {name: to the wing, gender: socket, mates: P14}"]
    lines.append("  P114: {name: to the fuselage, gender: pin, mates: J14}")
    lines += [f"  P{120 + unit}: {{name: plug {unit}, gender: socket, mates: A{20 + unit}J1}}" for unit in range(units)]
    if tapped:
        lines += ["splices:", *(f"  SP{n}: {{part: M81824/1-1, at: 90 mm from J114}}" for n in tapped)]
    pairs = [n for n in range(4, circuits, 6) if n not in tapped and n + 1 not in tapped]
    if pairs:
        lines += ["cables:", *(f"  C{n}: {{type: M27500-22TG2T14, length: 300 mm}}" for n in pairs)]
    cores = {n: (f"C{n}", "white") for n in pairs} | {n + 1: (f"C{n}", "blue") for n in pairs}
    lines.append("wires:")
    new = "type: M22759/16-22-9, length: 300 mm"
    for n in range(1, circuits + 1):
        if n in cores:
            cable, core = cores[n]
            lines.append(f"  W{1000 + n}A22: {{from: J114-{n}, to: P114-{n}, cable: {cable}, core: {core}}}")
        elif n not in tapped:
            lines.append(f"  W{1000 + n}A22: {{from: J114-{n}, to: P114-{n}, {new}}}")
        else:
            unit, pin = divmod(tapped.index(n), PINS)
            lines.append(f"  P{1000 + n}A22: {{from: J114-{n}, to: SP{n}, {new}}}")
            lines.append(f"  P{1000 + n}B22: {{from: SP{n}, to: P114-{n}, {new}}}")
            lines.append(f"  P{1000 + n}C22: {{from: SP{n}, to: P{120 + unit}-{pin + 1}, {new}}}")
    return "\n".join(lines) + "\n"
