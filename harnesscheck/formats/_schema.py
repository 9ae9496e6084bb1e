"""The shape of the three kinds of YAML file, as pydantic models; every value arrives as text and is typed here.

Field descriptions are the hover text and the generated documentation, so they are written for a fabricator.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.dataclasses import dataclass
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
Fitted = Annotated[str, Typed(_one_of(("bench", "aircraft")), "bench")]

_STRICT = ConfigDict(extra="forbid", frozen=True)


def _circuit_or_block(value: Any) -> Any:
    """``1: CAN H`` is short for ``1: {circuit: CAN H}``; ``spare`` and ``unknown`` are said in one word."""
    if not isinstance(value, str):
        return value
    if value in ("spare", "unknown"):
        return {"use": value}
    return {"circuit": value}


class CavityEntry(BaseModel):
    """What sits in one cavity."""

    model_config = _STRICT
    use: Use | None = Field(None, description="live, spare or unknown")
    circuit: CircuitName | None = Field(None, description="name of the circuit this cavity carries")
    signal: Signal | None = Field(None, description="signal class of the circuit")
    gauge: GaugeText | None = Field(None, description="size of the existing wire when the wire itself is not listed")
    breaker: Ref | None = Field(None, description="breaker that feeds the circuit")
    contact: Part | None = Field(None, description="contact part number, or none")
    plug: Part | None = Field(None, description="sealing plug part number, or none")
    note: Prose = Field("", description="free text")


class PinEntry(BaseModel):
    """What the equipment wants on one pin."""

    model_config = _STRICT
    function: Prose = Field(description="the maker's name for the pin")
    signal: Signal = Field(description="signal class")
    line: Line | None = Field(None, description="which conductor of a pair")
    direction: Direction | None = Field(None, description="in, out or both, seen from the equipment")
    supply: VoltRange | None = Field(None, description="volts between which the equipment works")
    current: Amps | None = Field(None, description="typical current")
    peak: Amps | None = Field(None, description="highest current")
    required: Yes = Field(True, description="no: the equipment works without this pin")
    connect: Yes = Field(True, description="no: the maker says nothing may be connected")
    contact: Part | None = Field(None, description="contact part number fitted by the maker")
    note: Prose = Field("", description="free text, printed on the sheets")


class ConnectorEntry(BaseModel):
    """One connector half."""

    model_config = _STRICT
    part: Part | None = Field(None, description="part number of the shell with insert")
    name: Prose = Field("", description="where it is or what it serves")
    zone: Prose | None = Field(None, description="zone of the airframe it sits in")
    mates: Ref | None = Field(None, description="the half it is plugged into")
    mating: Part | None = Field(None, description="mating part number that the equipment maker names")
    family: Part | None = Field(None, description="connector family when the part number is unknown, like D-sub")
    insert: Part | None = Field(None, description="insert arrangement, like DA-15 or 9-35")
    gender: Gender | None = Field(None, description="contacts of this half")
    key: Part | None = Field(None, description="keying position, like N")
    shell: Part | None = Field(None, description="shell size")
    sealed: Yes | None = Field(None, description="yes when the rear has a wire sealing grommet")
    contacts: Part | None = Field(None, description="contact in every cavity in use, unless the cavity says otherwise")
    plugs: Part | None = Field(None, description="sealing plug in every unused cavity, or none")
    fitted: Fitted = Field("bench", description="aircraft: shipped loose, contacts inserted on site")
    note: Prose = Field("", description="free text, printed on the sheets")
    cavities: dict[CavityName, Annotated[CavityEntry, BeforeValidator(_circuit_or_block)]] = Field(
        default_factory=dict, description="the pin map, one line a cavity"
    )
    pins: dict[CavityName, PinEntry] = Field(default_factory=dict, description="equipment only: what each pin wants")


class CircuitEntry(BaseModel):
    """One circuit of the airframe."""

    model_config = _STRICT
    signal: Signal | None = Field(None, description="signal class")
    line: Line | None = Field(None, description="which conductor of a pair")
    supply: Volts | None = Field(None, description="nominal volts")
    breaker: Ref | None = Field(None, description="breaker that feeds it")
    note: Prose = Field("", description="free text, printed on the sheets")


@dataclass(frozen=True, slots=True, config=ConfigDict(extra="forbid"))
class WireEntry:
    """One wire, one line: a slotted dataclass because there may be 100,000 of them."""

    start: End = Field(alias="from", description="end A")
    end: End = Field(alias="to", description="end B")
    type: Part | None = Field(None, description="part number with size and colour, like M22759/16-22-9")
    gauge: GaugeText | None = Field(None, description="size, when the part number does not say it")
    colour: Colour | None = Field(None, description="colour digits or word, when the part number does not say it")
    length: Length | None = Field(None, description="laid length between the rear faces of its ends")
    cable: WireId | None = Field(None, description="cable this conductor belongs to")
    core: Core | None = Field(None, description="which conductor: a colour, shield or drain")
    note: Prose = Field("", description="free text, printed on the sheets")


class CableEntry(BaseModel):
    """One cable or twisted pair."""

    model_config = _STRICT
    type: Part | None = Field(None, description="part number, like M27500-22TG2T14")
    length: Length | None = Field(None, description="laid length between the rear faces of its ends")
    note: Prose = Field("", description="free text, printed on the sheets")


class SpliceEntry(BaseModel):
    """One splice."""

    model_config = _STRICT
    part: Part | None = Field(None, description="splice part number")
    zone: Prose | None = Field(None, description="zone of the airframe it sits in")
    at: Prose = Field("", description="where along the bundle, like 90 mm from J114")
    fitted: Fitted = Field("bench", description="bench or aircraft: where it is made")
    note: Prose = Field("", description="free text, printed on the sheets")


class GroundEntry(BaseModel):
    """One ground stud."""

    model_config = _STRICT
    name: Prose = Field("", description="where it is")
    note: Prose = Field("", description="free text, printed on the sheets")


class BreakerEntry(BaseModel):
    """One breaker or fuse."""

    model_config = _STRICT
    name: Prose = Field("", description="what the panel says")
    rating: Amps | None = Field(None, description="rated current")
    bus: Ref | None = Field(None, description="bus that feeds it")
    note: Prose = Field("", description="free text, printed on the sheets")


class BusEntry(BaseModel):
    """One supply bus."""

    model_config = _STRICT
    name: Prose = Field("", description="what it is called")
    supply: Volts | None = Field(None, description="nominal volts")
    note: Prose = Field("", description="free text, printed on the sheets")


class ZoneEntry(BaseModel):
    """One zone of the airframe."""

    model_config = _STRICT
    wet: Yes | None = Field(None, description="yes when water may reach the connectors")
    ambient: TempRange | None = Field(None, description="coldest to hottest")
    altitude: Length | None = Field(None, description="highest altitude of use")
    note: Prose = Field("", description="free text, printed on the sheets")


class AllowanceEntry(BaseModel):
    """What is added to the laid length when a wire is cut."""

    model_config = _STRICT
    connector: Length | None = Field(None, description="slack at an end in a connector")
    splice: Length | None = Field(None, description="overlap at an end in a splice")
    stud: Length | None = Field(None, description="slack at an end on a stud, bus or breaker")
    round_up_to: Length | None = Field(None, alias="round up to", description="cut lengths are rounded up to this step")


class _File(BaseModel):
    model_config = _STRICT
    title: Prose = Field(description="what this is, for title blocks")
    revision: Prose = Field("", description="revision letter, for title blocks")
    note: Prose = Field("", description="free text, printed on the sheets")
    parts: Prose | None = Field(None, description="the shop's own parts file")
    connectors: dict[Ref, ConnectorEntry] = Field(
        default_factory=dict, description="reference to connector, one block each"
    )


class AirframeFile(_File):
    """What is in the aircraft."""

    kind: Literal["airframe"] = Field(description="says what this file is")
    zones: dict[Prose, ZoneEntry] = Field(default_factory=dict, description="zone name to zone")
    circuits: dict[CircuitName, CircuitEntry] = Field(
        default_factory=dict,
        description="circuit name to circuit; when given, every circuit of the pin maps stands here",
    )
    wires: dict[WireId, WireEntry] = Field(default_factory=dict, description="wire id to wire, one line each")
    cables: dict[WireId, CableEntry] = Field(default_factory=dict, description="cable id to cable")
    splices: dict[Ref, SpliceEntry] = Field(default_factory=dict, description="reference to splice")
    grounds: dict[Ref, GroundEntry] = Field(default_factory=dict, description="reference to ground stud")
    breakers: dict[Ref, BreakerEntry] = Field(default_factory=dict, description="reference to breaker")
    buses: dict[Ref, BusEntry] = Field(default_factory=dict, description="reference to bus")


class EquipmentFile(_File):
    """The new box."""

    kind: Literal["equipment"] = Field(description="says what this file is")


class JumperFile(_File):
    """The kit."""

    kind: Literal["jumper"] = Field(description="says what this file is")
    airframe: Prose = Field(description="path of the airframe file")
    equipment: dict[Ref, Prose] = Field(default_factory=dict, description="unit designator to equipment file")
    opens: Prose = Field(description="the mated pair that is opened, like P14/J14")
    wires: dict[WireId, WireEntry] = Field(default_factory=dict, description="wire id to wire, one line each")
    cables: dict[WireId, CableEntry] = Field(default_factory=dict, description="cable id to cable")
    splices: dict[Ref, SpliceEntry] = Field(default_factory=dict, description="reference to splice")
    taps: dict[End, CircuitName] = Field(default_factory=dict, description="equipment pin to airframe circuit")
    allowances: AllowanceEntry = Field(
        default_factory=AllowanceEntry, description="what is added to the laid length of a wire"
    )


FILES: dict[str, type[_File]] = {"airframe": AirframeFile, "equipment": EquipmentFile, "jumper": JumperFile}
