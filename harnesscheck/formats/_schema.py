"""The shape of the three kinds of YAML file, as pydantic models; every value arrives as text and is typed here.

Field descriptions are the hover text and the generated documentation, so they are written for a fabricator.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError
from pydantic.dataclasses import dataclass

from harnesscheck.formats._as_found import AsFoundFile
from harnesscheck.formats._paper import AircraftEntry, RateTable, RevisionEntry, SettingEntry, StockTable
from harnesscheck.formats._power import BreakerEntry, BusEntry, LoadEntry, SourceEntry
from harnesscheck.formats._types import (
    Alloy,
    Along,
    Amps,
    CavityName,
    CircuitName,
    Colour,
    Core,
    Count,
    Direction,
    Duty,
    End,
    Ends,
    Fitted,
    GaugeText,
    Gender,
    Length,
    LengthOrNone,
    Line,
    LoadKind,
    Mass,
    Ohms,
    OhmsOrNone,
    Part,
    Phase,
    Prose,
    Rate,
    Rating,
    Ratio,
    Ref,
    Returns,
    Signal,
    Sort,
    Station,
    Style,
    TempRange,
    TerminatorState,
    Time,
    Topology,
    Use,
    VoltRange,
    Volts,
    WireAlloy,
    WireId,
    Yes,
)
from harnesscheck.formats._unread import UnreadEntry

_STRICT = ConfigDict(extra="forbid", frozen=True)


def _circuit_or_block(value: Any) -> Any:
    """``1: CAN H`` is short for ``1: {circuit: CAN H}``; ``spare`` and ``unknown`` are said in one word."""
    if not isinstance(value, str):
        return value
    try:
        return _in_one_word(value)
    except ValidationError:
        return {"circuit": value}  # refused again where the refusal gets its place


@lru_cache(maxsize=20_000)
def _in_one_word(value: str) -> CavityEntry:
    """The entry of a cavity said in one word: a circuit has several cavities, so most are asked for again."""
    return CavityEntry(use=value) if value in ("spare", "unknown") else CavityEntry(circuit=value)


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
    grounded: Yes | None = Field(None, description="for a shield: whether it is grounded on the side of this half")
    terminated: Yes | None = Field(None, description="for a bus: whether the trunk on this side ends in a terminator")
    note: Prose = Field("", description="free text")


class PinEntry(BaseModel):
    """What the equipment wants on one pin."""

    model_config = _STRICT
    function: Prose = Field(description="the maker's name for the pin")
    signal: Signal = Field(description="signal class")
    line: Line | None = Field(None, description="which conductor of a pair")
    direction: Direction | None = Field(None, description="in, out or both, seen from the equipment")
    supply: VoltRange | None = Field(None, description="volts between which the equipment works")
    current: Amps | None = Field(None, description="typical current; without it, peak")
    peak: Amps | None = Field(None, description="highest current")
    required: Yes = Field(True, description="no: the equipment works without this pin")
    connect: Yes = Field(True, description="no: the maker says nothing may be connected")
    contact: Part | None = Field(None, description="contact part number fitted by the maker")
    grounded: Yes | None = Field(None, description="for a shield pin: whether the box grounds it inside")
    input_resistance: Ohms | None = Field(None, alias="input resistance", description="of an input, by the data sheet")
    source_resistance: Ohms | None = Field(None, alias="source resistance", description="of an output")
    unit_load: Ratio | None = Field(None, alias="unit load", description="share of the TIA-485 unit load")
    terminator: OhmsOrNone | None = Field(None, description="value of the terminator inside the box, or none")
    terminator_state: TerminatorState | None = Field(
        None, alias="terminator state", description="fitted, off (there, and not connected) or none"
    )
    pull_up: OhmsOrNone | None = Field(None, alias="pull-up", description="pull-up inside the box, or none")
    pull_up_supply: Volts | None = Field(None, alias="pull-up supply", description="volts that the pull-up leads to")
    isolated: Yes | None = Field(
        None, description="yes: a diode (for a source: a resistor) inside keeps the box from holding the line"
    )
    duty: Duty | None = Field(None, description="continuous, or intermittent: two minutes at the most")
    returns: CavityName | None = Field(None, description="pin of this receptacle by which the current comes back")
    load: LoadKind | None = Field(None, description="what it keeps constant: current, resistance or power")
    abnormal: VoltRange | None = Field(None, description="volts it stands without harm, though it may not work")
    rate: Rate | None = Field(None, description="data rate to which the unit is set on this line")
    loops: CavityName | None = Field(
        None, description="pin of this receptacle that the maker has joined to it inside: a bus is led in and out"
    )
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
    style: Style | None = Field(None, description="plug is the free half, receptacle the fixed one")
    key: Part | None = Field(None, description="keying position, like N")
    shell: Part | None = Field(None, description="shell size")
    sealed: Yes | None = Field(None, description="yes when the rear has a wire sealing grommet")
    contacts: Part | None = Field(None, description="contact in every cavity in use, unless the cavity says otherwise")
    plugs: Part | None = Field(None, description="sealing plug in every unused cavity, or none")
    fitted: Fitted = Field("bench", description="aircraft: shipped loose, contacts inserted on site")
    marking: Prose | None = Field(None, description="what the identification band on this half says, or none")
    route: Prose | None = Field(None, description="route by which this half reaches its place")
    note: Prose = Field("", description="free text, printed on the sheets")
    cavities: dict[
        CavityName,
        Annotated[CavityEntry, BeforeValidator(_circuit_or_block, json_schema_input_type=CircuitName | CavityEntry)],
    ] = Field(default_factory=dict, description="the pin map, one line a cavity")
    pins: dict[CavityName, PinEntry] = Field(default_factory=dict, description="equipment only: what each pin wants")


class CircuitEntry(BaseModel):
    """One circuit of the airframe."""

    model_config = _STRICT
    signal: Signal | None = Field(None, description="signal class")
    line: Line | None = Field(None, description="which conductor of a pair")
    supply: Volts | None = Field(None, description="nominal volts")
    breaker: Ref | None = Field(None, description="breaker that feeds it")
    pair: Prose | None = Field(None, description="name of the twisted pair; its partner has the same")
    shields: Prose | None = Field(None, description="for a shield: the pair or circuit it covers")
    shield_ends: Ends | None = Field(None, alias="shield ends", description="for a shield: ends to be grounded")
    redundant: CircuitName | None = Field(None, description="circuit that takes over when this one fails")
    kind: Sort | None = Field(None, description="which sort of its class, like voltage or resistive for analogue")
    rate: Rate | None = Field(None, description="data rate")
    edge: Time | None = Field(None, description="shortest rise time of the driver")
    drivers: Count | None = Field(None, description="units of the aircraft that talk on it")
    receivers: Count | None = Field(None, description="units of the aircraft that listen; on CAN all units on the bus")
    most_receivers: Count | None = Field(None, alias="most receivers", description="by the driver's data sheet")
    unit_load: Ratio | None = Field(None, alias="unit load", description="TIA-485 unit load of each existing receiver")
    input_resistance: Ohms | None = Field(None, alias="input resistance", description="of each existing receiver")
    source_resistance: Ohms | None = Field(
        None, alias="source resistance", description="of the driver or sensor; of a resistive sender the highest"
    )
    driver_current: Amps | None = Field(None, alias="driver current", description="most that the driver can give")
    rating: Rating | None = Field(None, description="of the switch or dimmer that feeds it")
    terminators: Count | None = Field(None, description="terminators on it in the aircraft")
    terminator: Ohms | None = Field(None, description="value of each of these terminators")
    bus_length: Length | None = Field(None, alias="bus length", description="length of the trunk in the aircraft")
    stub_length: LengthOrNone | None = Field(
        None, alias="stub length", description="sum of all stubs of a bus in the aircraft, or none"
    )
    topology: Topology | None = Field(None, description="line or star")
    pull_up: OhmsOrNone | None = Field(None, alias="pull-up", description="pull-up in the aircraft, or none")
    pull_up_supply: Volts | None = Field(None, alias="pull-up supply", description="volts that the pull-up leads to")
    alloy: Alloy | None = Field(None, description="thermocouple type")
    load: Amps | None = Field(
        None, description="current of what hangs on it beyond the opened connector already; without it, peak"
    )
    peak: Amps | None = Field(None, description="highest of that current; without it, load")
    duty: Duty | None = Field(None, description="of that load: continuous, or intermittent (two minutes at the most)")
    phases: list[Phase] | None = Field(None, description="phases of flight in which it is on; without it, all")
    returns: CircuitName | None = Field(None, description="circuit or ground stud by which that current comes back")
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
    mark: Prose | None = Field(None, description="what is printed on the wire, none, or unknown; without it, the id")
    bundle: Prose | None = Field(None, description="bundle the wire is tied into")
    route: Prose | None = Field(None, description="route the wire takes")
    untwisted: Length | None = Field(None, description="longest untwisted end of a core")
    alloy: WireAlloy | None = Field(None, description="thermocouple wire: its type; none for copper")
    note: Prose = Field("", description="free text, printed on the sheets")


class CableEntry(BaseModel):
    """One cable or twisted pair."""

    model_config = _STRICT
    type: Part | None = Field(None, description="part number, like M27500-22TG2T14")
    length: Length | None = Field(None, description="laid length between the rear faces of its ends")
    bundle: Prose | None = Field(None, description="bundle the cable is tied into")
    route: Prose | None = Field(None, description="route the cable takes")
    note: Prose = Field("", description="free text, printed on the sheets")


class SpliceEntry(BaseModel):
    """One splice."""

    model_config = _STRICT
    part: Part | None = Field(None, description="splice part number")
    zone: Prose | None = Field(None, description="zone of the airframe it sits in")
    at: Along | None = Field(None, description="where along the bundle, from the rear face of a connector")
    fitted: Fitted = Field("bench", description="bench or aircraft: where it is made")
    note: Prose = Field("", description="free text, printed on the sheets")


class GroundEntry(BaseModel):
    """One ground stud."""

    model_config = _STRICT
    name: Prose = Field("", description="where it is")
    returns: Returns | None = Field(None, description="ground class: dc, ac or signal")
    terminals: Count | None = Field(None, description="terminals on the stud that are not listed as wires")
    bond: Ohms | None = Field(None, description="from the stud to the ground point of the generator, as measured")
    note: Prose = Field("", description="free text, printed on the sheets")


class ZoneEntry(BaseModel):
    """One zone of the airframe."""

    model_config = _STRICT
    wet: Yes | None = Field(None, description="yes when water may reach the connectors")
    ambient: TempRange | None = Field(None, description="coldest to hottest")
    altitude: Length | None = Field(None, description="highest altitude of use")
    arm: Station | None = Field(None, description="from the datum, aft positive")
    note: Prose = Field("", description="free text, printed on the sheets")


class RouteEntry(BaseModel):
    """One way through the airframe."""

    model_config = _STRICT
    length: Length | None = Field(None, description="from rear face to rear face, slack included")
    passages: dict[Prose, Length] = Field(default_factory=dict, description="passage name to its clear hole")
    bend: Length | None = Field(None, description="smallest bend radius on the way")
    zone: Prose | None = Field(None, description="zone it runs through")


class OverrideEntry(BaseModel):
    """Another limit for one check, in this job."""

    model_config = _STRICT
    value: Prose = Field(description="the limit, with its unit")
    reason: Prose = Field(description="why, in writing")
    by: Prose = Field(description="who decided")


class WaiverEntry(BaseModel):
    """A finding that somebody has decided to live with."""

    model_config = _STRICT
    check: Prose = Field(description="name of the check")
    at: Prose = Field(description="the cavity, wire or reference it is about")
    reason: Prose = Field(description="why, in writing")
    by: Prose = Field(description="who decided")
    date: Prose = Field(description="when, as 2026-11-20")


class KitEntry(BaseModel):
    """What is packed besides the jumper itself."""

    model_config = _STRICT
    spare_contacts: dict[Part, Count] = Field(
        default_factory=dict, alias="spare contacts", description="contact part number to the number of spares"
    )
    site_tools: list[Part] = Field(
        default_factory=list, alias="site tools", description="tools packed for, or at hand of, whoever works on site"
    )


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
    limits: dict[Prose, OverrideEntry] = Field(
        default_factory=dict, description="check name to another limit, with the written reason"
    )
    waivers: list[WaiverEntry] = Field(default_factory=list, description="findings somebody has decided to live with")


class AirframeFile(_File):
    """What is in the aircraft."""

    kind: Literal["airframe"] = Field(description="says what this file is")
    aircraft: AircraftEntry | None = Field(None, description="the aircraft, for the papers")
    zones: dict[Prose, ZoneEntry] = Field(default_factory=dict, description="zone name to zone")
    routes: dict[Prose, RouteEntry] = Field(default_factory=dict, description="route name to route")
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
    sources: dict[Ref, SourceEntry] = Field(
        default_factory=dict, description="reference to alternator, generator or battery"
    )
    loads: dict[Prose, LoadEntry] = Field(
        default_factory=dict, description="name to a load that hangs on none of the circuits listed"
    )
    unread: list[UnreadEntry] = Field(
        default_factory=list,
        alias="not understood",
        description="what the list says that this file was made of, and the file does not hold; delete what is settled",
    )


class EquipmentFile(_File):
    """The new box."""

    kind: Literal["equipment"] = Field(description="says what this file is")
    mass: Mass | None = Field(None, description="of the box, by its maker or as weighed")
    commissioning: dict[Prose, SettingEntry] = Field(
        default_factory=dict, description="name to what is set when the box is put into use"
    )


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
    kit: KitEntry = Field(default_factory=KitEntry, description="what is packed besides the jumper itself")
    allowances: AllowanceEntry = Field(
        default_factory=AllowanceEntry, description="what is added to the laid length of a wire"
    )
    stock: StockTable = Field(default_factory=dict, description="wire or cable type to what lies on the shelf")
    labour: RateTable = Field(default_factory=dict, description="task to the shop's own time for one, for the estimate")
    revisions: list[RevisionEntry] = Field(default_factory=list, description="the revision list, oldest first")
    effectivity: Prose = Field("", description="aircraft the kit is for: type, serial numbers")
    mass: Mass | None = Field(None, description="of one finished kit without equipment, as weighed")


FILES: dict[str, type[BaseModel]] = {
    "airframe": AirframeFile,
    "as-found": AsFoundFile,
    "equipment": EquipmentFile,
    "jumper": JumperFile,
}
