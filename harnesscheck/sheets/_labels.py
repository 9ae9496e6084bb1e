"""The words on a diagram: what stands on a wire, at a cavity, over a connector, beside a stud or breaker."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

from harnesscheck.connector import NONE, Connector, Origin, Use
from harnesscheck.device import Breaker, Pin
from harnesscheck.harness import Harness
from harnesscheck.paper import metrics
from harnesscheck.paper.svg import TEXT
from harnesscheck.place import Point
from harnesscheck.wire import Wire

UNSTATED = "not stated"


@dataclass
class Index:
    """Where on the diagram things stand. While the sheets are still being planned nothing is known: room is kept."""

    wires: dict[str, str] = field(default_factory=dict)
    """Wire id to its place, like ``sheet 2, C4``."""
    halves: dict[str, list[int]] = field(default_factory=dict)
    """Connector half to the numbers of the sheets that show it; empty while planning."""

    def wire(self, name: str) -> str:
        """Where a wire is drawn."""
        return self.wires.get(name, "sheet 88, H16" if not self.halves else "")

    def others(self, ref: str, here: int) -> str:
        """``also on sheets 2, 4 to 7``; empty when a half stands on one sheet only."""
        if not self.halves:
            return "also on sheets 88 to 88"
        numbers = [number for number in self.halves.get(ref, ()) if number != here]
        runs: list[list[int]] = []
        for number in numbers:
            if runs and number == runs[-1][-1] + 1:
                runs[-1].append(number)
            else:
                runs.append([number])
        said = [f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs]
        return f"also on sheet{'s' * (len(numbers) > 1)} {', '.join(said)}" if numbers else ""


class Labels:
    """Words for one sheet. What does not fit its place is cut there and written out in a numbered note."""

    def __init__(self, harness: Harness, index: Index | None = None) -> None:
        self.harness = harness
        self.index = index or Index()
        self.notes: list[str] = []
        self._numbered: dict[str, int] = {}

    def fit(self, text: str, room: float, about: str = "") -> str:
        """``text`` when it fits ``room`` mm; else its beginning and the number of the note that has all of it."""
        if metrics.width(text, TEXT) <= room:
            return text
        tail = f"... [{self.note(f'{about}: {text}' if about else text)}]"
        keep = len(text)
        while keep > 1 and metrics.width(text[:keep].rstrip() + tail, TEXT) > room:
            keep -= 1
        return text[:keep].rstrip() + tail

    def note(self, text: str) -> int:
        """The number of the note that says ``text``."""
        if text not in self._numbered:
            self.notes.append(text)
            self._numbered[text] = len(self.notes)
        return self._numbered[text]

    def short_end(self, point: Point, room: float, with_bus: bool = False) -> str:
        """``end`` when it fits ``room`` mm, else the reference and the number of the note with the rest."""
        text = self.end(point)
        breaker = self.harness.breakers.get(point.ref)
        if with_bus and breaker is not None and point.cavity != "line":
            text += f"  {breaker.bus or f'bus {UNSTATED}'}"
        if metrics.width(text, TEXT) <= room or text == point.ref:
            return self.fit(text, room)
        return self.fit(f"{point.ref} [{self.note(text)}]", room)

    # -- wires -------------------------------------------------------------------------------------------------

    def wire(self, wire: Wire) -> str:
        """``P501A20  20 AWG  9 white``; what nobody has stated is a question mark."""
        gauge = str(wire.gauge) if wire.gauge is not None else "gauge ?"
        return f"{wire.id}  {gauge}  {self.colour(wire)}"

    def colour(self, wire: Wire) -> str:
        """Colour digits and words, ``96 white/blue``; ``drain`` or ``shield`` for those."""
        if wire.is_shield:
            return str(wire.core)
        typed = wire.colour
        if typed is None:
            return "colour ?"
        if typed.isdigit():
            words = [self._word(digit) for digit in typed]
            return f"{typed} {'/'.join(word for word in words if word)}" if all(words) else typed
        pieces = typed.replace("-", "/").split("/")
        digits = [self._digits.get(piece.strip().lower(), "") for piece in pieces]
        return f"{''.join(digits)} {typed}" if all(digits) else typed

    def _word(self, digit: str) -> str:
        part = self.harness.drawer.get("colour", digit)
        return (part.text("word") or "") if part else ""

    @cached_property
    def _digits(self) -> dict[str, str]:
        return {self._word(digit): digit for digit in "0123456789" if self._word(digit)}

    def cable(self, name: str) -> str:
        """``C501A  M27500-22TG2T14``."""
        cable = self.harness.cables.get(name)
        return f"{name}  {cable.type if cable and cable.type else 'type ' + UNSTATED}"

    def shielded(self, name: str) -> bool:
        """True when the cable is known to have a shield: a wire of it says so, or its part number."""
        if any(wire.cable == name and wire.is_shield for wire in self.harness.wires.values()):
            return True
        cable = self.harness.cables.get(name)
        part = self.harness.part("cable", cable.type) if cable else None
        means = part.text("shield") if part else None
        return means is not None and means != "no shield"

    def shield_end(self, name: str) -> str:
        """Where the shield of a cable goes that is not joined to a drain beside it: a shield never just stops."""
        drains = [wire.id for wire in self.harness.wires.values() if wire.cable == name and wire.is_shield]
        if drains:
            return f"shield by {', '.join(drains)}"
        cable = self.harness.cables.get(name)
        # All wires of the kit are listed; of the airframe only those that somebody knows.
        return "shield floating" if cable and cable.origin is Origin.JUMPER else "shield ends ?"

    def twisted(self, name: str) -> bool:
        """True when the cable is known to be twisted: two or more cores of a catalogued aircraft cable.

        The cores of such a cable are laid up with a twist (M27500; from memory).
        """
        cable = self.harness.cables.get(name)
        part = self.harness.part("cable", cable.type) if cable else None
        cores = part.whole("cores") if part else None
        return cores is not None and cores > 1

    # -- connectors --------------------------------------------------------------------------------------------

    def inside(self, ref: str, cavity: str) -> str:
        """What stands at a cavity that has no wire in the field: its circuit, or spare with its plug, or unknown."""
        found = self.harness.connectors[ref].cavities.get(cavity)
        circuit = self.circuit(ref, cavity)
        if circuit:
            return circuit
        half = self.harness.connectors[ref]
        if half.origin is Origin.JUMPER and (found is None or found.use is not Use.SPARE):
            return f"no wire{self._plug(found.plug if found else None)}"
        if found is None:
            return "no such cavity" if half.names is not None else f"? use {UNSTATED}"
        if found.use is Use.SPARE:
            return f"SPARE{self._plug(found.plug)}"
        return f"? use {UNSTATED}{self._plug(found.plug)}"

    @staticmethod
    def _plug(plug: str | None) -> str:
        return "" if plug is None or plug == NONE else f", sealing plug {plug}"

    def beyond(self, ref: str, cavity: str) -> str:
        """Circuit or signal name at a cavity, for the side away from the field."""
        pin = self.pin(Point(ref, cavity))
        return self.function(pin) if pin else self.inside(ref, cavity)

    def circuit(self, ref: str, cavity: str) -> str:
        """The circuit at a cavity: stated there, or at the cavity it was mated with in the airframe as found."""
        found = self.harness.connectors[ref].cavities.get(cavity)
        if found is not None and (found.circuit or found.use is Use.SPARE):
            return found.circuit or ""
        as_found = self.harness.before or self.harness
        mate = as_found.mate_of(ref)
        other = as_found.cavity(Point(mate, cavity)) if mate else None
        return (other.circuit or "") if other is not None and other.contact != NONE else ""

    def unmated(self, ref: str, cavity: str) -> str:
        """The circuit at a wired cavity of a half that is mated with nothing, to stand behind its contact."""
        return self.fit(self.circuit(ref, cavity), 60.0, f"{ref}-{cavity}")

    def is_empty(self, ref: str, cavity: str) -> bool:
        """True when a cavity is known to carry nothing: stated spare, or of the jumper, whose wires are all listed."""
        half = self.harness.connectors[ref]
        found = half.cavities.get(cavity)
        return half.origin is Origin.JUMPER or (found is not None and found.use is Use.SPARE)

    def is_live(self, ref: str, cavity: str) -> bool:
        """True when something is stated to be joined to a cavity, so that a line leaves it."""
        found = self.harness.connectors[ref].cavities.get(cavity)
        return bool(self.circuit(ref, cavity) or (found and found.use is Use.LIVE))

    @cached_property
    def _pins(self) -> dict[Point, Pin]:
        return {pin.point: pin for pin in self.harness.pins()}

    def pin(self, point: Point) -> Pin | None:
        """The equipment pin at a cavity."""
        return self._pins.get(point)

    @staticmethod
    def function(pin: Pin) -> str:
        """``POWER  in, 10 V to 32 V, 0.9 A, peak 2.2 A``."""
        words: list[str] = []
        if not pin.connect:
            words.append("do not connect")
        elif pin.direction:
            words.append({"both": "in and out"}.get(pin.direction, pin.direction))
        if pin.supply is not None:
            words.append(f"{pin.supply.low:g} V to {pin.supply.high:g} V")
        if pin.current is not None:
            words.append(f"{pin.current:g} A")
        if pin.peak is not None:
            words.append(f"peak {pin.peak:g} A")
        if not pin.required and pin.connect:
            words.append("optional")
        return f"{pin.function}   {', '.join(words)}" if words else pin.function

    def heading(self, ref: str) -> list[str]:
        """The lines under the reference over a connector half: part number, name."""
        half = self.harness.connectors[ref]
        return [half.part or f"part number {UNSTATED}", *([half.name] if half.name else [])]

    def unit(self, ref: str) -> str:
        """``A12  Heated-stub ice probe`` when the connector belongs to an equipment unit."""
        for device in self.harness.devices.values():
            if any(pin.point.ref == ref for pin in device.pins):
                # An equipment file on its own gives its unit no designator.
                ref = "" if device.ref == "equipment" else device.ref
                return "  ".join(word for word in (ref, device.name) if word) or "equipment"
        return ""

    @staticmethod
    def on_site(half: Connector) -> bool:
        """True when the shell is shipped loose and fitted on the aircraft."""
        return half.fitted == "aircraft"

    # -- ends --------------------------------------------------------------------------------------------------

    def end(self, point: Point) -> str:
        """What stands beside the end of a wire that is no cavity: ``CB7 WING EQPT 7.5 A``, ``GS3 ...``, ``J20-4``."""
        harness = self.harness
        if point.ref in harness.breakers:
            return self.breaker(harness.breakers[point.ref], point.cavity)
        if point.ref in harness.grounds:
            return f"{point.ref}  {harness.grounds[point.ref].name}".rstrip()
        if point.ref in harness.buses:
            return self.bus(point.ref)
        return f"to {point}" if point.ref in harness.splices else str(point)

    @staticmethod
    def breaker(breaker: Breaker, side: str) -> str:
        """``CB7  WING EQPT  7.5 A``."""
        rating = f"{breaker.rating:g} A" if breaker.rating is not None else "rating ?"
        words = [breaker.ref + (" line side" if side == "line" else ""), breaker.name, rating]
        return "  ".join(word for word in words if word)

    def bus(self, ref: str) -> str:
        """``BUS1  main bus  14 V``."""
        bus = self.harness.buses.get(ref)
        if bus is None:
            return ref
        words = [ref, bus.name, f"{bus.volts:g} V" if bus.volts is not None else "volts ?"]
        return "  ".join(word for word in words if word)
