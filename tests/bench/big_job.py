"""Writes a job of many wires, for the benchmarks: a large retrofit, invented.

The aircraft has islands of mated pairs of 50-way D-sub connectors in line; the kit adds an island of its own, made
alike, to the free end of each, and opens one more pair. Circuits, breakers, loads and ground studs are spread over all
of it, so that a check has as much to look at per wire in a large job as in a small one. The last half of each island is
open, which ``dead-end-wire`` says.

    python -m tests.bench.big_job 10000 FOLDER
"""

from __future__ import annotations

import sys
from pathlib import Path

WAYS = 50
PAIRS = 4
NOTE = "invented for the benchmark"


def _half(ref: str, gender: str, names: list[str], mates: str = "") -> list[str]:
    part, contact = ("M24308/4-5", "M39029/64-369") if gender == "pin" else ("M24308/2-5", "M39029/63-368")
    lines = [f"  {ref}:", f"    part: {part}", f"    contacts: {contact}", f"    zone: bay {ref[1:]}"]
    lines += [f"    marking: {ref}"]
    if mates:
        lines.append(f"    mates: {mates}")
    lines.append("    cavities:")
    lines += [f"      {cavity}: {names[cavity - 1]}" for cavity in range(1, WAYS + 1)]
    return lines


def _names(number: int) -> list[str]:
    """The circuits of one island: a feed, its return, and lines of several kinds."""
    return [f"C{number} {'PWR' if way == 0 else 'RTN' if way == 1 else f'LINE {way}'}" for way in range(WAYS)]


def _island(number: int, who: str) -> tuple[list[str], list[str]]:
    """Connectors and wires of one island, fed from the left: every live half has sockets.

    It begins with the half ``P<who>0``, which plugs into what feeds it, and ends with ``J<who>9``.
    """
    names = _names(number)
    connectors: list[str] = []
    for pair in range(1, PAIRS):
        plug, box = f"P{who}{pair}", f"J{who}{pair}"
        connectors += _half(plug, "pin", names, box) + _half(box, "socket", names)
    wires: list[str] = []
    for section in range(PAIRS):
        end = f"J{who}{section + 1}" if section < PAIRS - 1 else f"J{who}9"
        wires += _section(f"W{who}X{section}Y", f"P{who}{section}", end)
    return connectors, wires


def _section(mark: str, a: str, b: str) -> list[str]:
    """The wires of one bundle from half to half."""
    return [
        f"  {mark}{way}: {{from: {a}-{way}, to: {b}-{way}, type: M22759/16-{20 if way <= 2 else 22}-9, "
        f"length: {400 + way} mm, bundle: {a}}}"
        for way in range(1, WAYS + 1)
    ]


def write(folder: Path, wires: int) -> Path:
    """Write a job of about ``wires`` wires, half of them new. Returns the path of the jumper file."""
    islands = max(1, round(wires / (2 * WAYS * PAIRS + 2)))
    folder.mkdir(parents=True, exist_ok=True)
    air = ["kind: airframe", "title: Large aircraft", "revision: A", f"note: {NOTE}", "parts: shop-parts.yaml"]
    air += ["buses:", "  BUS1: {name: main bus, supply: 28 V}"]
    air += ["sources:"]
    air += ["  ALT1: {kind: generator, bus: BUS1, supply: 28 V, low: 27 V, high: 29 V, rating: 9000 A}"]
    air += ["breakers:"]
    air += [f"  CB{n}: {{name: FEED {n}, rating: 5 A, bus: BUS1, resistance: 40 mohm}}" for n in range(islands)]
    air += ["grounds:"]
    air += [f"  GS{n}: {{name: stud {n}, returns: dc, terminals: 1, bond: 1 mohm}}" for n in range(islands)]
    air += ["circuits:"]
    kit_connectors: list[str] = []
    kit_wires: list[str] = []
    connectors: list[str] = []
    copper: list[str] = []
    for number in range(islands):
        names = _names(number)
        air += [f"  {names[0]}: {{signal: power, supply: 28 V, breaker: CB{number}, load: 0.6 A, returns: {names[1]}}}"]
        air += [f"  {names[1]}: {{signal: ground}}"]
        air += [f"  {name}: {{signal: discrete}}" for name in names[2:]]
        # breaker -> JnF|Pna0 .. Jna9|Pnk0 .. Jnk9 (the kit's)
        copper += [f"  F{number}F20: {{from: CB{number}-load, to: J{number}F-1, type: M22759/16-20-9, length: 1 m}}"]
        copper += [f"  F{number}G20: {{from: GS{number}, to: J{number}F-2, type: M22759/16-20-9, length: 1 m}}"]
        connectors += _half(f"J{number}F", "socket", names) + _half(f"P{number}a0", "pin", names, f"J{number}F")
        found, laid = _island(number, f"{number}a")
        connectors += [*found, *_half(f"J{number}a9", "socket", names)]
        copper += laid
        found, laid = _island(number, f"{number}k")
        kit_connectors += found
        kit_connectors += _half(f"P{number}k0", "pin", names, f"J{number}a9")
        kit_connectors += _half(f"J{number}k9", "socket", names)
        kit_wires += laid
    # the pair that the kit opens
    names = _names(islands)
    air += [f"  {name}: {{signal: discrete}}" for name in names]
    connectors += _half("P0", "pin", names, "J0") + _half("J0", "socket", names)
    kit_connectors += _half("J900000", "socket", names, "P0") + _half("P900000", "pin", names, "J0")
    kit_wires += _section("T", "J900000", "P900000")
    halves = [line.strip(" :") for line in (*connectors, *kit_connectors) if line.startswith("  ") and line[2] in "PJ"]
    bays = sorted({ref[1:] for ref in halves})
    air += ["zones:"]
    air += [f"  bay {ref}: {{wet: no, ambient: -20 C to 55 C, altitude: 10000 ft}}" for ref in bays]
    air += ["connectors:", *connectors, "wires:", *copper]
    kit = ["kind: jumper", "title: Large kit", "revision: A", f"note: {NOTE}", "airframe: airframe.yaml"]
    kit += ["parts: shop-parts.yaml", "opens: P0/J0", "connectors:", *kit_connectors, "wires:", *kit_wires]
    kit += ["allowances: {connector: 40 mm, splice: 10 mm, round up to: 5 mm}"]
    shop = Path(__file__).parent.parent.parent / "harnesses" / "ice-probe" / "shop-parts.yaml"
    (folder / "shop-parts.yaml").write_bytes(shop.read_bytes())
    (folder / "airframe.yaml").write_text("\n".join(air) + "\n")
    (folder / "jumper.yaml").write_text("\n".join(kit) + "\n")
    return folder / "jumper.yaml"


if __name__ == "__main__":
    print(write(Path(sys.argv[2]), int(sys.argv[1])))
