"""Mass and moment change: each item with its mass, arm and moment, before and after.

A mass nobody has stated is not in any sum, and the sheet says so. Where the mass of a wire is not known, the copper in
it is computed as a lower limit. Arms are metres from the datum, aft positive; the arm of an item is that of its zone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from harnesscheck.connector import Origin
from harnesscheck.formulas.wire_mass import COPPER_SOURCE, copper_mass
from harnesscheck.harness import Harness, Kind
from harnesscheck.job import Job
from harnesscheck.paper.blocks import Block, Cell, Column, Content, Facts, Heading, Table, Words
from harnesscheck.paper.cautions import decisions
from harnesscheck.sheets import Wish, not_needed
from harnesscheck.sheets._counts import kit
from harnesscheck.sheets._say import UNKNOWN, UNSAID
from harnesscheck.sheets._steps import aircraft_facts
from harnesscheck.sheets.cut_list import Row, rows

PART = 9
NONE = "an airframe or equipment file alone changes no mass"
SOURCE = "AC 43.13-1B chapter 10: item, weight, arm, moment; the equipment list is brought up to date with it"
COLUMNS = (
    Column("item"),
    Column("mass kg", right=True),
    Column("arm m", right=True),
    Column("moment kg m", right=True),
    Column("where it comes from"),
)


@dataclass(frozen=True, slots=True)
class Item:
    """One line; None is not known."""

    name: str
    mass: float | None
    arm: float | None
    source: str

    @property
    def moment(self) -> float | None:
        """Kilogram metres."""
        return None if self.mass is None or self.arm is None else self.mass * self.arm


def not_applicable(job: Job, wish: Wish) -> str:
    """Why the job has no such sheet; empty when it has one."""
    return "" if job.subject.kind is Kind.INSTALLED else NONE


def content(job: Job, wish: Wish) -> Content:
    """The mass and moment change of one installation."""
    harness = job.subject
    title = "Mass and moment change"
    why = not_applicable(job, wish)
    if why:
        return not_needed("weight-balance", title, why)
    found = items(harness)
    missing = [item.name for item in found if item.moment is None]
    blocks: list[Block] = [
        aircraft_facts(harness),
        Heading("What is fitted"),
        Table("items", COLUMNS, (*(_cells(item) for item in found), _total(found)), totals=1),
    ]
    if missing:
        blocks.append(Words(f"NOT IN THE SUM, mass or arm not known: {', '.join(missing)}.", strong=True))
    copper = list(_copper(harness))
    if copper and harness.mass is None:
        blocks += [Heading("Copper in the wires, a lower limit"), Facts(tuple(copper)), Words(f"{COPPER_SOURCE}.")]
    blocks += [Heading("Aircraft"), *_aircraft(harness, found, bool(missing))]
    blocks += [
        Heading("As weighed"),
        Facts(
            (
                ("finished kit", "__________ g   scales __________   by ______________"),
                ("equipment", "__________ g"),
                ("taken out of the aircraft", "__________ g at __________ m"),
            )
        ),
        Words(f"{SOURCE}. Moment = mass x arm."),
    ]
    return Content("weight-balance", title, tuple(blocks), False, tuple(decisions(harness)))


def items(harness: Harness) -> list[Item]:
    """Every new thing with its mass and arm, as far as they are stated or in the drawer."""
    found = []
    arm, where = kit_arm(harness)
    if harness.mass is not None:
        found.append(Item("kit, as weighed", harness.mass, arm, f"stated in the job file; arm: {where}"))
    else:
        cut = [row for row in rows(harness) if row.number]
        for kind in dict.fromkeys(row.type for row in cut):
            mass, source = _wire_mass(harness, kind, [row for row in cut if row.type == kind])
            found.append(Item(f"wire {kind}", mass, arm, f"{source}; arm: {where}"))
        one = kit(harness)
        pieces = sum(1 for c in harness.connectors.values() if c.origin is Origin.JUMPER)
        found.append(Item(f"{pieces} connectors with backshells", None, arm, f"mass {UNSAID}"))
        found.append(Item(f"{one.pieces} contacts, plugs and splices, and sleeves", None, arm, f"mass {UNSAID}"))
    for device in harness.devices.values():
        zone, arm = device_arm(harness, device.ref)
        source = "stated in the equipment file" if device.mass is not None else f"mass {UNSAID}"
        found.append(Item(f"{device.ref} {device.name}".rstrip(), device.mass, arm, f"{source}; arm: {zone}"))
    return found


def kit_arm(harness: Harness) -> tuple[float | None, str]:
    """Arm of the kit: the mean of the zones of its connectors, which is where its mass is."""
    zones = [c.zone for c in harness.connectors.values() if c.origin is Origin.JUMPER]
    arms = [harness.zones[z].arm if z is not None and z in harness.zones else None for z in zones]
    stated = [arm for arm in arms if arm is not None]
    if not stated or len(stated) < len(arms):
        return None, f"{UNSAID} for a zone of the kit"
    named = ", ".join(dict.fromkeys(z for z in zones if z))
    return sum(stated) / len(stated), f"mean of the kit's connectors ({named}), common practice"


def device_arm(harness: Harness, ref: str) -> tuple[str, float | None]:
    """Zone and arm of an equipment unit: those of the plug that is mated with it."""
    for connector in harness.connectors.values():
        if connector.origin is Origin.EQUIPMENT and connector.ref.startswith(ref):
            mate = harness.connectors.get(harness.mate_of(connector.ref) or "")
            zone = connector.zone or (mate.zone if mate else None)
            if zone:
                return f"zone {zone}", harness.zones[zone].arm if zone in harness.zones else None
    return f"zone {UNSAID}", None


def _wire_mass(harness: Harness, kind: str, own: list[Row]) -> tuple[float | None, str]:
    record = harness.part("wire", kind)
    per_metre = record.quantity("weight") if record else None
    source = record.source("weight") if record else None
    if per_metre is None:
        return None, f"mass per length {UNKNOWN}"
    if any(row.cut is None for row in own):
        return None, f"a length is {UNSAID}"
    metres = math.fsum(row.cut.total for row in own if row.cut)
    return per_metre * metres, f"{metres:.3f} m x {per_metre * 1000:.2f} g/m, {source}"


def _copper(harness: Harness) -> Iterator[tuple[str, str]]:
    """Type of wire and the copper in it; a cable has its cores counted, its shield not."""
    for row in rows(harness):
        if row.number and row.cut is None:
            return
    listed = [row for row in rows(harness) if row.number]
    for kind in dict.fromkeys(row.type for row in listed):
        own = [row for row in listed if row.type == kind]
        record = harness.part("cable", kind)
        cores = (record.whole("cores") if record else None) or 1
        size = harness.drawer.get("conductor", own[0].gauge)
        area = size.quantity("area") if size else None
        metres = math.fsum(row.cut.total for row in own if row.cut)
        if area is None:
            yield kind, f"{UNKNOWN}: conductor area of {own[0].gauge} not in the drawer"
        else:
            words = f"{cores} cores, shield not counted" if cores > 1 else "conductor"
            yield kind, f"{copper_mass(area * cores, metres) * 1000:.1f} g in {metres:.3f} m ({words})"


def _cells(item: Item) -> tuple[str | Cell, ...]:
    mass = f"{item.mass:.3f}" if item.mass is not None else UNKNOWN
    arm = f"{item.arm:.3f}" if item.arm is not None else UNKNOWN
    moment = f"{item.moment:.3f}" if item.moment is not None else UNKNOWN
    return item.name, mass, arm, moment, item.source


def sums(found: list[Item]) -> tuple[float, float]:
    """Mass and moment of the items whose mass and arm are both known."""
    known = [(item.mass, item.moment) for item in found if item.mass is not None and item.moment is not None]
    return math.fsum(mass for mass, _ in known), math.fsum(moment for _, moment in known)


def _total(found: list[Item]) -> tuple[str | Cell, ...]:
    mass, moment = sums(found)
    return Cell("sum of what is known", strong=True), f"{mass:.3f}", "", f"{moment:.3f}", ""


def _aircraft(harness: Harness, found: list[Item], missing: bool) -> Iterator[Block]:
    craft = harness.aircraft
    if craft is None or craft.mass is None or craft.arm is None:
        yield Words(f"Empty mass and centre of gravity {UNSAID}: give aircraft: mass and arm in the airframe file.")
        return
    mass, moment = sums(found)
    total, moments = craft.mass + mass, craft.mass * craft.arm + moment
    at_least = "at least " if missing else ""
    yield Facts(
        (
            ("before", f"{craft.mass:.2f} kg at {craft.arm:.4f} m, moment {craft.mass * craft.arm:.3f} kg m"),
            ("change", f"{at_least}{mass:.3f} kg, moment {moment:.3f} kg m"),
            ("after", f"{at_least}{total:.3f} kg at {moments / total:.4f} m, moment {moments:.3f} kg m"),
            ("shift of the centre of gravity", f"{1000 * (moments / total - craft.arm):+.1f} mm (aft positive)"),
        )
    )
    if missing:
        yield Words("Masses are missing, so the line after is not the new empty mass: weigh and fill in below.")
