"""Types of the values in a YAML file: each arrives as text and is typed, or refused with a sentence for the person."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from harnesscheck import units
from harnesscheck.circuit import SIGNALS
from harnesscheck.place import CAVITY, REFERENCE, Point, split_point
from harnesscheck.units import Gauge, Range

_WIRE_ID = re.compile(r"[!-~]{1,40}")
_CIRCUIT = re.compile(r"[!-~](?:[ -~]{0,48}[!-~])?")
_PART = re.compile(r"[!-~](?:[ -~]{0,58}[!-~])?")


class Typed:
    """A field read from text by ``convert``, which raises ``ValueError`` with a sentence for the person."""

    def __init__(self, convert: Callable[[str], Any], example: str) -> None:
        self.convert = convert
        self.example = example

    def __call__(self, value: Any) -> Any:
        """Type one text value."""
        if not isinstance(value, str):
            raise ValueError(f"one value is expected here, like {self.example}")
        if not value:
            raise ValueError(f"the value is missing, like {self.example}")
        return self.convert(value)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """Validate by calling this object; what it returns is the typed value."""
        return core_schema.no_info_plain_validator_function(self)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """In the file every value is text."""
        return {"type": "string", "examples": [self.example]}


def _matching(pattern: re.Pattern[str], what: str, longest: int) -> Callable[[str], str]:
    def convert(text: str) -> str:
        if len(text) <= longest and pattern.fullmatch(text):
            return text
        raise ValueError(what)

    return convert


def _one_of(words: tuple[str, ...]) -> Callable[[str], str]:
    def convert(text: str) -> str:
        if text in words:
            return text
        raise UnknownWordError(text, words)

    return convert


class UnknownWordError(ValueError):
    """A word that is not one of the accepted ones; the reader adds the nearest."""

    def __init__(self, word: str, words: tuple[str, ...]) -> None:
        super().__init__(f"{word!r} is not one of: {', '.join(words)}")
        self.word = word
        self.words = words


def _point(text: str) -> Point:
    point = split_point(text)
    if point is None:
        raise ValueError("write an end as P14-3 (reference, dash, cavity) or SP1")
    return point


def _distance(text: str) -> tuple[float, str]:
    far, said, ref = text.partition(" from ")
    if not said or not REFERENCE.fullmatch(ref):
        raise ValueError("write a place along the bundle as 90 mm from J114")
    return units.length(far), ref


def _count(text: str) -> int:
    if re.fullmatch(r"[0-9]{1,4}", text):
        return int(text)
    raise ValueError("write a whole number")


def _colour(text: str) -> str:
    if re.fullmatch(r"[0-9]{1,4}|[A-Za-z][A-Za-z /-]{0,30}", text):
        return text
    raise ValueError("write a colour as digits (9, 96) or as a word (white)")


def _prose(text: str) -> str:
    if len(text) <= 400:
        return text
    raise ValueError("keep a text under 400 characters")


Yes = Annotated[bool, Typed(lambda t: {"yes": True, "no": False}[_one_of(("yes", "no"))(t)], "yes")]
Ref = Annotated[
    str, Typed(_matching(REFERENCE, "write a reference as a letter, then letters and digits, like P14", 31), "P14")
]
WireId = Annotated[str, Typed(_matching(_WIRE_ID, "write a wire id without blanks, like P501A20", 40), "P501A20")]
Part = Annotated[
    str, Typed(_matching(_PART, "write a part number in plain characters, like M39029/58-360", 60), "M39029/58-360")
]
CircuitName = Annotated[
    str, Typed(_matching(_CIRCUIT, "write a circuit name in plain characters, like CAN H", 50), "CAN H")
]
CavityName = Annotated[str, Typed(_matching(CAVITY, "write a cavity as marked on the insert, like 3 or A", 32), "3")]
End = Annotated[Point, Typed(_point, "P14-3")]
Length = Annotated[float, Typed(units.length, "320 mm")]
GaugeText = Annotated[Gauge, Typed(units.gauge, "22 AWG")]
Amps = Annotated[float, Typed(units.current, "5 A")]
Volts = Annotated[float, Typed(units.voltage, "14 V")]
VoltRange = Annotated[Range, Typed(units.voltage_range, "9 V to 32 V")]
TempRange = Annotated[Range, Typed(units.temperature_range, "-40 C to 60 C")]
Colour = Annotated[str, Typed(_colour, "9")]
Prose = Annotated[str, Typed(_prose, "a few words")]
Signal = Annotated[str, Typed(_one_of(tuple(SIGNALS)), "power")]
Line = Annotated[str, Typed(_one_of(("H", "L", "A", "B", "+", "-")), "H")]
Gender = Annotated[str, Typed(_one_of(("pin", "socket")), "socket")]
Use = Annotated[str, Typed(_one_of(("live", "spare", "unknown")), "spare")]
Direction = Annotated[str, Typed(_one_of(("in", "out", "both")), "in")]
Core = Annotated[str, Typed(_colour, "white")]
Returns = Annotated[str, Typed(_one_of(("dc", "ac", "signal")), "dc")]
Ends = Annotated[str, Typed(_one_of(("both", "one", "none")), "both")]
Along = Annotated[tuple[float, str], Typed(_distance, "90 mm from J114")]
Count = Annotated[int, Typed(_count, "2")]
Fitted = Annotated[str, Typed(_one_of(("bench", "aircraft")), "bench")]
