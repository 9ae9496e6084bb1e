"""Types of the values in a YAML file: each arrives as text and is typed, or refused with a sentence for the person."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from harnesscheck import units
from harnesscheck.circuit import KINDS, SIGNALS
from harnesscheck.device import PHASES
from harnesscheck.fault import nearest
from harnesscheck.formulas.labour import RATES
from harnesscheck.place import CAVITY, REFERENCE, STOWED, Point, split_point
from harnesscheck.units import Gauge, Range

_WIRE_ID = re.compile(r"[!-~]{1,40}")
_CIRCUIT = re.compile(r"[!-~](?:[ -~]{0,48}[!-~])?")
_PART = re.compile(r"[!-~](?:[ -~]{0,58}[!-~])?")


MOST_KEPT = 2000
"""Typed texts kept for each type; every one of them is a frozen value."""


class RefusedError(ValueError):
    """A value that is not accepted: what is wrong, what to write instead; ``plain`` asks for plain ASCII letters."""

    def __init__(self, message: str, remedy: str, plain: bool = False) -> None:
        super().__init__(message)
        self.message = message
        self.remedy = remedy
        self.plain = plain


class Typed:
    """A field read from text by ``convert``, which raises ``RefusedError`` or another ``ValueError``."""

    def __init__(self, convert: Callable[[str], Any], example: str) -> None:
        self.convert = convert
        self.example = example
        self.seen: dict[str, Any] = {}

    def __call__(self, value: Any) -> Any:
        """Type one text value. A large file says the same few things over and over, so what was typed once is kept."""
        try:
            found = self.seen.get(value)
        except TypeError:  # a list or a block has no hash
            found = None
        if found is None:
            if not isinstance(value, str):
                raise RefusedError("one value is expected here, not a list or a block", f"write it like {self.example}")
            if not value.strip():
                raise RefusedError("the value is missing", f"write one, like {self.example}, or remove the key")
            found = self.convert(value)
            if len(self.seen) < MOST_KEPT:
                self.seen[value] = found
        return found

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Validate by calling this object; what it returns is the typed value."""
        return core_schema.no_info_plain_validator_function(self)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """What an editor may accept: to it ``2`` is a number, while in our files every value is text."""
        words = getattr(self.convert, "words", None)
        if words:
            return {"enum": list(words)}
        return {"type": ["string", "number"], "examples": [self.example]}


def _matching(pattern: re.Pattern[str], what: str, remedy: str, longest: int) -> Callable[[str], str]:
    def convert(text: str) -> str:
        if len(text) > longest:
            raise RefusedError(f"{what} has at most {longest} characters", f"shorten it; {remedy}")
        if pattern.fullmatch(text):
            return text
        raise RefusedError(f"this is not {what}", remedy, plain=True)

    return convert


def _one_of(words: tuple[str, ...]) -> Callable[[str], str]:
    def convert(text: str) -> str:
        if text in words:
            return text
        raise UnknownWordError(text, words)

    convert.words = words  # type: ignore[attr-defined]
    return convert


class UnknownWordError(ValueError):
    """A word that is not one of the accepted ones; the reader adds the nearest."""

    def __init__(self, word: str, words: tuple[str, ...]) -> None:
        super().__init__(f"not one of: {', '.join(words)}")
        self.word = word
        self.words = words


def _point(text: str) -> Point:
    if text == "stowed":
        return STOWED
    point = split_point(text)
    if point is None:
        raise RefusedError("this is not a wire end", "write it as P14-3 (reference, dash, cavity) or SP1", plain=True)
    return point


def _distance(text: str) -> tuple[float, str]:
    far, said, ref = text.partition(" from ")
    if not said or not REFERENCE.fullmatch(ref):
        raise RefusedError("this is not a place along the bundle", "write it as 90 mm from J114", plain=True)
    return units.length(far), ref


def _count(text: str) -> int:
    if re.fullmatch(r"[0-9]{1,4}", text):
        return int(text)
    raise RefusedError("this is not a whole number from 0 to 9999", "write it like 2")


def _share(text: str) -> float:
    """A share of a whole: ``0.75`` or ``75 %``."""
    percent = re.fullmatch(r"([0-9]{1,3}(?:\.[0-9]{1,6})?) ?%", text)
    plain = re.fullmatch(r"[01](?:\.[0-9]{1,6})?|\.[0-9]{1,6}", text)
    value = float(percent[1]) / 100 if percent else float(text) if plain else 0.0
    if 0 < value <= 1:
        return value
    raise RefusedError("this is not a share above 0 and up to 1", "write it like 0.75 or 75 %")


def _rating(text: str) -> float:
    """What a breaker, a switch or a source is built for: of nothing no share can be taken."""
    value = units.current(text)
    if value > 0:
        return value
    raise RefusedError("a rating of nothing is none", "write the current it is built for, like 5 A, or leave it out")


def _colour(text: str) -> str:
    if re.fullmatch(r"[0-9]{1,4}|[A-Za-z][A-Za-z /-]{0,30}", text):
        return text
    raise RefusedError("this is not a colour", "write digits (9, 96) or a word (white)", plain=True)


def _core(text: str) -> str:
    """A colour, ``shield`` or ``drain``: a slip in these two would make a colour of them, and a core of the shield."""
    if text not in ("shield", "drain") and (meant := nearest(text, ("shield", "drain"))):
        raise RefusedError("this is neither a colour nor shield nor drain", f"{meant} A braid is called shield")
    return _colour(text)


def _prose(text: str) -> str:
    if len(text) <= 400:
        return re.sub(r"\s*[\n\t]\s*", " ", text.strip())
    raise RefusedError("this text is too long", "keep a text under 400 characters")


_plain_circuit = _matching(_CIRCUIT, "a circuit name", "write it in plain characters, like CAN H", 50)


def _circuit(text: str) -> str:
    """A circuit name; the words of the format may not be one, or ``Spare`` would be one circuit in three cavities."""
    if text.casefold() in ("spare", "unknown"):
        raise RefusedError(
            "this word says what a cavity is used for, it is no circuit name",
            f"write {text.casefold()} in small letters in the cavity's line, or give the circuit another name",
        )
    return _plain_circuit(text)


_yes_or_no = _one_of(("yes", "no"))


def _yes(text: str) -> bool:
    return _yes_or_no(text) == "yes"


_yes.words = ("yes", "no")  # type: ignore[attr-defined]

Yes = Annotated[bool, Typed(_yes, "yes")]
Ref = Annotated[
    str, Typed(_matching(REFERENCE, "a reference", "write a letter, then letters and digits, like P14", 31), "P14")
]
WireId = Annotated[str, Typed(_matching(_WIRE_ID, "a wire id", "write it without blanks, like P501A20", 40), "P501A20")]
Part = Annotated[
    str,
    Typed(_matching(_PART, "a part number", "write it in plain characters, like M39029/58-360", 60), "M39029/58-360"),
]
CircuitName = Annotated[str, Typed(_circuit, "CAN H")]
CavityName = Annotated[
    str, Typed(_matching(CAVITY, "a cavity name", "write it as marked on the insert, like 3 or A", 32), "3")
]
End = Annotated[Point, Typed(_point, "P14-3")]
Length = Annotated[float, Typed(units.length, "320 mm")]
LengthOrNone = Annotated[float, Typed(units.length_or_none, "1.2 m")]
GaugeText = Annotated[Gauge, Typed(units.gauge, "22 AWG")]
Amps = Annotated[float, Typed(units.current, "5 A")]
Rating = Annotated[float, Typed(_rating, "5 A")]
Volts = Annotated[float, Typed(units.voltage, "14 V")]
VoltRange = Annotated[Range, Typed(units.voltage_range, "9 V to 32 V")]
Ohms = Annotated[float, Typed(units.resistance, "2.5 mohm")]
Charge = Annotated[float, Typed(units.charge, "18 Ah")]
Share = Annotated[float, Typed(_share, "0.75")]
Supplies = Annotated[str, Typed(_one_of(("alternator", "generator", "battery")), "alternator")]
Duty = Annotated[str, Typed(_one_of(("continuous", "intermittent")), "continuous")]
LoadKind = Annotated[str, Typed(_one_of(("current", "resistance", "power")), "power")]
Phase = Annotated[str, Typed(_one_of(PHASES), "cruise")]
TempRange = Annotated[Range, Typed(units.temperature_range, "-40 C to 60 C")]
Colour = Annotated[str, Typed(_colour, "9")]
Prose = Annotated[str, Typed(_prose, "a few words")]
Signal = Annotated[str, Typed(_one_of(tuple(SIGNALS)), "power")]
Line = Annotated[str, Typed(_one_of(("H", "L", "A", "B", "+", "-")), "H")]
Gender = Annotated[str, Typed(_one_of(("pin", "socket")), "socket")]
Style = Annotated[str, Typed(_one_of(("plug", "receptacle")), "plug")]
Use = Annotated[str, Typed(_one_of(("live", "spare", "unknown")), "spare")]
Direction = Annotated[str, Typed(_one_of(("in", "out", "both")), "in")]
Core = Annotated[str, Typed(_core, "white")]
Returns = Annotated[str, Typed(_one_of(("dc", "ac", "signal")), "dc")]
Ends = Annotated[str, Typed(_one_of(("both", "one", "none")), "both")]
Along = Annotated[tuple[float, str], Typed(_distance, "90 mm from J114")]
Count = Annotated[int, Typed(_count, "2")]
OhmsOrNone = Annotated[float, Typed(units.ohms_or_none, "10 kohm")]
Rate = Annotated[float, Typed(units.rate, "500 kbit/s")]
Time = Annotated[float, Typed(units.time, "50 ns")]
Ratio = Annotated[float, Typed(units.ratio, "0.125")]
Sort = Annotated[str, Typed(_one_of(tuple(dict.fromkeys(k for kinds in KINDS.values() for k in kinds))), "voltage")]
Topology = Annotated[str, Typed(_one_of(("line", "star")), "line")]
TerminatorState = Annotated[str, Typed(_one_of(("fitted", "off", "none")), "fitted")]
Alloy = Annotated[str, Typed(_one_of(("K", "J", "T", "E", "N", "R", "S", "B")), "K")]
WireAlloy = Annotated[str, Typed(_one_of(("K", "J", "T", "E", "N", "R", "S", "B", "none")), "K")]
Fitted = Annotated[str, Typed(_one_of(("bench", "aircraft")), "bench")]
Mass = Annotated[float, Typed(units.mass, "0.32 kg")]
Station = Annotated[float, Typed(units.station, "2.1 m")]
Duration = Annotated[float, Typed(units.duration, "2 min")]
Task = Annotated[str, Typed(_one_of(tuple(RATES)), "crimp")]
