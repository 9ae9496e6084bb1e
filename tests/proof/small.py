"""A job small enough to change every single value of its evidence: four contacts, three taps. All invented."""

from __future__ import annotations

AIRFRAME = """\
kind: airframe
title: small
buses: {BUS1: {supply: 14 V}}
breakers: {CB1: {rating: 5 A, bus: BUS1, resistance: 40 mohm}}
grounds: {GS1: {bond: 2 mohm}}
circuits:
  PWR: {signal: power, supply: 14 V, breaker: CB1, load: 0.5 A, peak: 1 A, returns: RTN}
  RTN: {signal: ground}
  DATA: {signal: rs232, receivers: 1, most receivers: 2}
connectors:
  P1: {family: D-sub, gender: pin, mates: J1, cavities: {1: PWR, 2: RTN, 3: DATA, 4: spare}}
  J1: {family: D-sub, gender: socket, cavities: {4: spare}}
wires:
  P10A20: {from: CB1-load, to: J1-1, gauge: 20 AWG, length: 2 m}
  P11A20N: {from: GS1, to: J1-2, gauge: 20 AWG, length: 1 m}
"""
UNIT = """\
kind: equipment
title: small unit
connectors:
  J1:
    family: D-sub
    gender: pin
    pins:
      1: {function: POWER, signal: power, direction: in, supply: 10 V to 32 V, current: 0.5 A, peak: 2 A, returns: 2}
      2: {function: RETURN, signal: ground}
      3: {function: RX, signal: rs232, direction: in}
"""
JUMPER = """\
kind: jumper
title: small jumper
revision: A
airframe: airframe.yaml
equipment: {A1: unit.yaml}
opens: P1/J1
connectors:
  J3: {family: D-sub, gender: socket, mates: P1}
  P3: {family: D-sub, gender: pin, mates: J1}
  P4: {family: D-sub, gender: socket, mates: A1J1}
splices: {SP1: {}, SP2: {}, SP3: {}}
wires:
  K1A: {from: J3-1, to: SP1, gauge: 20 AWG, length: 100 mm}
  K1B: {from: SP1, to: P3-1, gauge: 20 AWG, length: 200 mm}
  K1C: {from: SP1, to: P4-1, gauge: 20 AWG, length: 400 mm}
  K2A: {from: J3-2, to: SP2, gauge: 20 AWG, length: 100 mm}
  K2B: {from: SP2, to: P3-2, gauge: 20 AWG, length: 200 mm}
  K2C: {from: SP2, to: P4-2, gauge: 20 AWG, length: 400 mm}
  K3A: {from: J3-3, to: SP3, gauge: 22 AWG, length: 100 mm}
  K3B: {from: SP3, to: P3-3, gauge: 22 AWG, length: 200 mm}
  K3C: {from: SP3, to: P4-3, gauge: 22 AWG, length: 400 mm}
  K4: {from: J3-4, to: P3-4, gauge: 22 AWG, length: 300 mm}
taps: {A1J1-1: PWR, A1J1-2: RTN, A1J1-3: DATA}
"""
TEXTS = {"airframe.yaml": AIRFRAME, "unit.yaml": UNIT, "jumper.yaml": JUMPER}


def changed(file: str, *changes: tuple[str, str]) -> dict[str, str]:
    """The job with some text of one file replaced."""
    text = TEXTS[file]
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return {**TEXTS, file: text}
