"""Random circuits and random pins, class by class. Values are invented; part of them leaves no room for a tap."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tests.jumper.pairs import Draft, File

WORDS = ("GPS", "AHRS", "ADC", "EFIS", "RADIO", "ENGINE", "FUEL", "STALL", "GEAR", "FLAP", "OAT", "OIL P", "WING EQPT")

# -- the airframe ------------------------------------------------------------------------------------------------------


def airframe(draft: Draft, most: int) -> None:
    """Circuits until ``most`` cavities are taken, at least one of them a supply in most airframes."""
    if not draft.amiss(0.1):
        _power(draft)
        _ground(draft)
    kinds = [maker for maker, weight in _MAKERS for _ in range(weight)]
    while len(draft.circuits) < most:
        draft.rng.choice(kinds)(draft)
    while len(draft.circuits) > max(most, 3):
        gone = draft.circuits.pop()
        if "breaker" in gone.said:
            draft.breakers.pop(gone.said["breaker"], None)
    names = {circuit.name for circuit in draft.circuits}
    for circuit in draft.circuits:  # nothing refers to what was cut off
        if circuit.said.get("returns") not in (None, *names, *draft.grounds):
            del circuit.said["returns"]
        if circuit.said.get("redundant") not in (None, *names):
            del circuit.said["redundant"]
    for circuit in draft.circuits:
        if draft.amiss(0.06):
            circuit.said.pop("signal", None)  # nobody has said what it is
            circuit.said = {"note": "of unknown purpose"}
            circuit.start = ""


def _word(draft: Draft) -> str:
    return draft.rng.choice(WORDS)


def _power(draft: Draft) -> None:
    rng = draft.rng
    number = len(draft.breakers) + 1
    breaker = f"CB{number}"
    rating = rng.choice((2, 3, 5, 5, 5))
    draft.breakers[breaker] = {"name": f"FEED {number}", "rating": f"{rating} A", "bus": "BUS1"}
    if draft.chance(0.6):
        draft.breakers[breaker]["resistance"] = "30 mohm"
    back = next((c.name for c in draft.circuits if c.signal == "ground"), None)
    load = None if draft.amiss(0.1) else round(draft.pick((0, 0.1, 0.2), (0.4, 0.6, 0.75, 0.9), 0.7) * rating, 2)
    draft.add(
        f"{_word(draft)} PWR", f"{breaker}-load", signal="power", supply=f"{draft.volts} V", breaker=breaker,
        load=None if load is None else f"{load:g} A", returns=back if load else None,
    )  # fmt: skip


def _ground(draft: Draft) -> None:
    stud = f"GS{len(draft.grounds) + 1}"
    draft.grounds[stud] = {
        "name": "frame stud",
        "returns": "dc",
        "terminals": "1",
        "bond": draft.pick(("1.5 mohm",), ("8 mohm",), 0.15),
    }
    for circuit in reversed(draft.circuits):
        if circuit.signal == "power" and "load" in circuit.said and "returns" not in circuit.said:
            name = circuit.name.replace("PWR", "RTN")
            made = draft.add(name, stud, signal="ground")
            if circuit.said["load"] != "0 A":
                circuit.said["returns"] = made.name
            return
    draft.add(f"{_word(draft)} RTN", stud, signal="ground")


def _pair(draft: Draft, signal: str, letters: str, shield: bool, **said: Any) -> None:
    name = f"{_word(draft)} {signal.upper()}"
    if any(c.said.get("pair") == name for c in draft.circuits):
        name += f" {len(draft.circuits)}"
    for letter in letters:
        draft.add(f"{name} {letter}", signal=signal, line=letter, pair=name, **said)
        said = {}
    if shield:
        stud = next((g for g, entry in draft.grounds.items() if entry["returns"] == "signal"), None)
        if stud is None:
            stud = f"GS{len(draft.grounds) + 1}"
            draft.grounds[stud] = {"name": "shield stud", "returns": "signal", "terminals": "0", "bond": "1.5 mohm"}
        ends = draft.rng.choice(("one", "both"))
        draft.add(f"{name} SHIELD", stud, signal="shield", shields=name, shield_ends=ends)


def _can(draft: Draft) -> None:
    rng = draft.rng
    rate, longest = rng.choice((("250 kbit/s", 200), ("500 kbit/s", 90), ("1 Mbit/s", 26 if draft.amiss(0.5) else 20)))
    _pair(
        draft, "can", "HL", draft.chance(0.6), rate=rate, bus_length=f"{rng.randrange(2, longest)} m",
        topology="star" if draft.amiss(0.1) else "line", receivers=draft.pick((2, 3, 4, 8), (29, 30)),
        terminators=draft.pick((2,), (1, 3), 0.2), terminator="120 ohm",
    )  # fmt: skip


def _rs485(draft: Draft) -> None:
    _pair(
        draft, "rs485", "AB", draft.chance(0.6), edge="1 us", topology="line", drivers=1, terminators=2,
        receivers=draft.pick((1, 4, 20), (31, 32)), terminator="120 ohm",
    )  # fmt: skip


def _rs422(draft: Draft) -> None:
    _pair(
        draft, "rs422", "AB", draft.chance(0.6), edge="1 us", topology="line", drivers=draft.pick((1,), (0,)),
        receivers=draft.pick((1, 4), (9, 10)), terminators=1, terminator="120 ohm",
    )  # fmt: skip


def _arinc429(draft: Draft) -> None:
    most = draft.rng.choice((None, 20))
    _pair(
        draft, "arinc429", "AB", True, drivers=draft.pick((1,), (0,)), receivers=draft.pick((1, 3), (4, 5)),
        most_receivers=most,
    )  # fmt: skip


def _rs232(draft: Draft) -> None:
    rng = draft.rng
    word = _word(draft)
    count = draft.pick((1,), (2, 3))
    drivers = None if draft.amiss(0.1) else draft.pick((1,), (0,))
    draft.add(
        f"{word} TX", signal="rs232", drivers=drivers, receivers=count,
        input_resistance=rng.choice(("5 kohm", "12 kohm")), bus_length=f"{draft.pick((2, 4, 8), (25,))} m",
    )  # fmt: skip
    draft.add(f"{word} SIG GND", signal="signal ground")


def _nmea0183(draft: Draft) -> None:
    word = _word(draft)
    draft.add(f"{word} NMEA", signal="nmea0183", drivers=1, receivers=draft.pick((1,), (3, 4)),
              driver_current=draft.pick((None, "15 mA"), ("4 mA",)))  # fmt: skip
    draft.add(f"{word} NMEA RTN", signal="signal ground")


def _discrete(draft: Draft) -> None:
    if draft.chance(0.5):
        draft.add(f"{_word(draft)} SW", signal="discrete", kind="ground", pull_up="10 kohm", drivers=1,
                  pull_up_supply=f"{draft.volts} V")  # fmt: skip
        return
    draft.add(f"{_word(draft)} SW", signal="discrete", kind="supply", drivers=1, rating="1 A",
              load=f"{draft.pick((0, 0.5), (1.0,)):g} A")  # fmt: skip


def _analogue(draft: Draft) -> None:
    word = _word(draft)
    resistive = draft.chance(0.3)
    draft.add(
        f"{word} SIG", signal="analogue", kind="resistive" if resistive else "voltage", drivers=1,
        source_resistance=draft.pick(("100 ohm", "240 ohm"), ("1 kohm",)),
        pull_up="200 ohm" if resistive else "none", pull_up_supply="5 V" if resistive else None,
    )  # fmt: skip
    draft.add(f"{word} RTN", signal="signal ground")


def _pulse(draft: Draft) -> None:
    draft.add(f"{_word(draft)} PULSE", signal="pulse", drivers=1, receivers=1, pull_up="2.2 kohm", pull_up_supply="5 V")


def _audio(draft: Draft) -> None:
    word = _word(draft)
    kind = draft.pick(("phones", "line"), ("mic",))
    draft.add(f"{word} AUDIO HI", signal="audio", kind=kind, drivers=1, receivers=draft.rng.choice((1, 2)))
    draft.add(f"{word} AUDIO LO", signal="signal ground")


def _lighting(draft: Draft) -> None:
    number = len(draft.breakers) + 1
    stud = f"GS{len(draft.grounds) + 1}"
    draft.breakers[f"CB{number}"] = {"name": f"LT {number}", "rating": "3 A", "bus": "BUS1", "resistance": "30 mohm"}
    draft.grounds[stud] = {"name": "lamp stud", "returns": "dc", "terminals": "1", "bond": "1.5 mohm"}
    draft.add(f"{_word(draft)} DIM", f"CB{number}-load", signal="lighting", supply=f"{draft.volts} V", rating="1 A",
              breaker=f"CB{number}", load=f"{draft.pick((0.2, 0.5), (0.9, 1.0)):g} A", returns=stud)  # fmt: skip


def _thermocouple(draft: Draft) -> None:
    name = f"EGT {len(draft.circuits)}"
    for letter in "+-":
        draft.add(f"{name} {letter}", signal="thermocouple", line=letter, alloy="K", pair=name)


def _never(draft: Draft) -> None:
    signal = draft.rng.choice(("ethernet", "rf", "video", "ignition"))
    if signal == "ethernet":
        _pair(draft, "ethernet", "+-", False)
    else:
        draft.add(f"{_word(draft)} {signal.upper()}", signal=signal, drivers=1, receivers=1)


def _redundant(draft: Draft) -> None:
    word = _word(draft)
    other = f"{word} B SW"
    draft.add(f"{word} A SW", signal="discrete", kind="ground", drivers=1, redundant=other)
    draft.add(other, signal="discrete", kind="ground", drivers=1)


_MAKERS: tuple[tuple[Callable[[Draft], None], int], ...] = (
    (_power, 4), (_ground, 3), (_can, 4), (_rs485, 2), (_rs422, 2), (_arinc429, 2), (_rs232, 4), (_nmea0183, 1),
    (_discrete, 4), (_analogue, 4), (_pulse, 2), (_audio, 2), (_lighting, 2), (_thermocouple, 1), (_never, 1),
    (_redundant, 1),
)  # fmt: skip

# -- the equipment -----------------------------------------------------------------------------------------------------


def equipment(draft: Draft, units: int, most: int | None) -> list[list[File]]:
    """The pins of each unit. ``returns`` names a pin by its number in the list."""
    return [_unit(draft, most if most is not None else draft.rng.randrange(2, 13)) for _ in range(units)]


def _unit(draft: Draft, most: int) -> list[File]:
    pins: list[File] = []
    if not draft.amiss(0.2):
        _wants_power(draft, pins)
    never = {"thermocouple", "ethernet", "rf", "video", "ignition"} if draft.chance(1 - draft.trouble) else set()
    there = sorted({c.signal for c in draft.circuits} & set(_WANTS) - never)
    every = sorted(_WANTS)
    while len(pins) < most:
        # No more pins of a class than there are circuits of it, unless something is to be amiss.
        left = [kind for kind in there if _asked(pins, kind) < sum(c.signal == kind for c in draft.circuits)]
        if pins and not left and not draft.amiss(0.5):
            break
        kind = draft.rng.choice(left if left and not draft.amiss(0.15) else every)
        _WANTS[kind](draft, pins, kind)
    if draft.chance(0.3):
        pins.append({"function": "FACTORY TEST", "signal": "none", "connect": "no"})
    return pins


def _asked(pins: list[File], kind: str) -> int:
    return 0 if kind in ("power", "ground") and len(pins) < 6 else sum(pin["signal"] == kind for pin in pins)


def _name(draft: Draft, signal: str, line: str = "", other: str = "") -> str:
    """A function: the very name of a circuit of the class in some, another spelling of it, or a word of its own."""
    fits = [c.name for c in draft.circuits if c.signal == signal and (not line or c.said.get("line", line) == line)]
    if fits and draft.chance(0.3):
        found = draft.rng.choice(fits)
        return found.replace(" ", "_").title() if draft.chance(0.3) else found
    return other or f"{signal.upper()} {line}".strip()


def _optional(draft: Draft) -> File:
    return {"required": "no"} if draft.chance(0.2) else {}


def _wants_power(draft: Draft, pins: list[File], signal: str = "power") -> None:
    current = draft.pick((0.1, 0.2, 0.3), (0.9, 1.5, 3.0), 0.6)
    supply = draft.pick(("9 V to 32 V", "10 V to 32 V"), ("10 V to 16 V", "22 V to 32 V"))
    pin: File = {"function": _name(draft, signal, "", "POWER"), "signal": "power", "direction": "in", "supply": supply}
    pin |= {"current": f"{current:g} A", "peak": f"{current * 1.5:g} A", "load": "power"}
    if draft.chance(0.7):
        pin["returns"] = str(len(pins) + 1)
    pins += [pin, {"function": _name(draft, "ground", "", "POWER RETURN"), "signal": "ground"}]


def _wants_ground(draft: Draft, pins: list[File], signal: str) -> None:
    pins.append({"function": _name(draft, "ground", "", "CHASSIS"), "signal": "ground", **_optional(draft)})


def _wants_pair(draft: Draft, pins: list[File], signal: str) -> None:
    rng = draft.rng
    letters = {"can": "HL", "thermocouple": "+-", "ethernet": "+-"}.get(signal, "AB")
    ways = {"can": ("both",), "rs485": ("both",), "ethernet": ("both",), "thermocouple": ("in",)}
    way = rng.choice(ways[signal]) if signal in ways else draft.pick(("in",), ("out",))
    may = _optional(draft)
    for letter in letters:
        pin: File = {"function": _name(draft, signal, letter), "signal": signal, "line": letter, "direction": way}
        if signal in ("can", "rs485", "rs422") and letter == letters[0]:
            state = draft.pick(("off", "none"), ("fitted",))
            pin |= {"terminator": "none"} if state == "none" else {"terminator": "120 ohm", "terminator state": state}
        pins.append(pin | may)
    if draft.chance(0.5) and signal not in ("ethernet", "thermocouple"):
        pins.append({"function": f"{signal.upper()} SHIELD", "signal": "shield", "required": "no",
                     "grounded": draft.pick(("no",), ("yes",))})  # fmt: skip


def _wants_serial(draft: Draft, pins: list[File], signal: str) -> None:
    word = {"rs232": "SERIAL", "nmea0183": "NMEA"}[signal]
    ways = draft.pick((("in",), ("in", "out")), (("out",),))
    for way in ways:
        pin: File = {"function": _name(draft, signal, "", f"{word} {'RX' if way == 'in' else 'TX'}"), "signal": signal,
                     "direction": way}  # fmt: skip
        if way == "in":
            pin["input resistance"] = draft.pick(("50 kohm",), ("5 kohm",), 0.5)
            pin["current"] = "2 mA"
        pins.append(pin | ({"required": "no"} if way == "out" and not draft.amiss(0.3) else {}))
    pins.append({"function": _name(draft, "signal ground", "", f"{word} GND"), "signal": "signal ground"})


def _wants_line(draft: Draft, pins: list[File], signal: str) -> None:
    way = "out" if draft.amiss(0.2) else "in"
    pin: File = {"function": _name(draft, signal), "signal": signal, "direction": way}
    if signal == "discrete":
        pin |= {"isolated": draft.pick(("yes",), ("no",)), "input resistance": "47 kohm", "current": "10 mA"}
    elif signal == "analogue":
        pin |= {"input resistance": draft.pick(("1 Mohm",), ("100 kohm", "10 kohm")), "pull-up": "none"}
        if draft.amiss(0.25):
            pin |= {"pull-up": "1 kohm", "pull-up supply": "5 V"}
    elif signal == "pulse":
        pin["pull-up"] = draft.pick(("none",), ("2.2 kohm",))
    pins.append(pin | _optional(draft))
    if signal in ("analogue", "audio"):
        pins.append({"function": _name(draft, "signal ground", "", f"{signal.upper()} RTN"), "signal": "signal ground"})


def _wants_lamp(draft: Draft, pins: list[File], signal: str) -> None:
    back = next((str(n) for n, pin in enumerate(pins) if pin["signal"] == "ground"), None)
    pin: File = {"function": "LAMP DIM", "signal": "lighting", "direction": "in", "supply": "0 V to 32 V"}
    pin |= {"current": "20 mA", **_optional(draft)}
    if back is None:
        pins += [pin | {"returns": str(len(pins) + 1)}, {"function": "LAMP RETURN", "signal": "ground"}]
    else:
        pins.append(pin | {"returns": back})


def _wants_second(draft: Draft, pins: list[File], signal: str) -> None:
    _wants_power(draft, pins)


_WANTS: dict[str, Callable[[Draft, list[File], str], None]] = {
    "power": _wants_second, "ground": _wants_ground, "can": _wants_pair, "rs485": _wants_pair, "rs422": _wants_pair,
    "arinc429": _wants_pair, "thermocouple": _wants_pair, "ethernet": _wants_pair, "rs232": _wants_serial,
    "nmea0183": _wants_serial, "discrete": _wants_line, "analogue": _wants_line, "pulse": _wants_line,
    "audio": _wants_line, "video": _wants_line, "rf": _wants_line, "ignition": _wants_line, "lighting": _wants_lamp,
}  # fmt: skip
