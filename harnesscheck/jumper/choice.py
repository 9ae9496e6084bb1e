"""Which circuit each pin of the new equipment taps, with the reasons, or why none will do and what would.

Every choice is put to the checks on trial (see ``trial``), so that what is chosen here is what the checks let pass,
and what is refused is refused by them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from harnesscheck.connector import Use
from harnesscheck.decision import Override
from harnesscheck.harness import Harness
from harnesscheck.jumper import demand, rules
from harnesscheck.jumper.search import search
from harnesscheck.jumper.slots import Slot, fill
from harnesscheck.jumper.trial import Court
from harnesscheck.jumper.why import Story
from harnesscheck.place import Point, split_point


@dataclass(frozen=True, slots=True)
class Tapped:
    """One pin, the circuit it taps, and why."""

    pin: Point
    circuit: str
    cavity: str
    """Cavity of the opened pair that carries the circuit."""
    reasons: tuple[str, ...]
    others: tuple[tuple[str, str], ...] = ()
    """Other circuits of the class: why each came second or will not do."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """A pin that nothing at the opened pair serves."""

    pin: Point
    reason: str
    remedy: str
    """What would do."""
    tried: tuple[tuple[str, str], ...] = ()
    """Circuit, and why it will not do."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """The taps, the pins left open, and the refusals; with a refusal there is no plan."""

    taps: tuple[Tapped, ...]
    left: tuple[tuple[Point, str], ...] = ()
    refusals: tuple[Refusal, ...] = ()


def choose(
    airframe: Harness,
    boxes: Sequence[Harness],
    opened: tuple[str, str],
    use: Mapping[Point, str] | None = None,
    overrides: Mapping[str, Override] | None = None,
) -> Chosen:
    """The circuits to tap for every pin of the equipment.

    ``opened`` is the mated pair as typed. ``use`` is what a person asks for: equipment pin to a cavity of the pair
    (``P14-3``) or to a circuit name. ``overrides`` are the limits that a person has set for the jumper to be.
    """
    wanted, left = demand.wants(boxes)
    court = Court(airframe, boxes, opened, overrides or {})
    site = rules.Site(airframe, opened, court.cavities)
    asked, places, bad = _asked(site, use or {}, {want.point for want in wanted}, dict(left))
    slots = [s for number, group in enumerate(demand.groups(wanted)) for s in _slots(number, group, wanted, asked)]
    for slot in slots:
        fill(slot, site, court, asked)
    story = Story(site, court, search(slots, site, court, asked), asked)
    taps, refusals = [], list(bad)
    for slot, one in story.chosen:
        for number, want in enumerate(slot.wants):
            if one is not None:
                name = one.circuits[number]
                cavity = places.get(want.point, site.cavities[name][0])
                others = story.others(slot, one, number)
                taps.append(Tapped(want.point, name, cavity, story.reasons(slot, one, number), others))
            elif slot.required and want.point not in {refusal.pin for refusal in bad}:
                refusals.append(Refusal(want.point, *story.refusal(slot, number)))
            elif not slot.required:
                reason = story.refusal(slot, number)[0]
                left.append((want.point, f"{want.pin.function} is not required, and {reason}"))
    order = {pin.point: number for number, pin in enumerate(pin for box in boxes for pin in box.pins())}
    return Chosen(
        tuple(sorted(taps, key=lambda tap: order[tap.pin])),
        tuple(sorted(left, key=lambda each: order[each[0]])),
        tuple(sorted(refusals, key=lambda refusal: order.get(refusal.pin, -1))),
    )


def _slots(number: int, group: demand.Group, wanted: list[demand.Want], asked: Mapping[Point, str]) -> list[Slot]:
    """The pins of a group; those of a pair are one slot, and so are those that the maker has joined inside."""
    with_ = demand.bound([want for want in wanted if want.unit == group.wants[0].unit])
    slots: list[Slot] = []
    done: set[Point] = set()
    for want in group.wants:
        if want.point not in done:
            wants = with_[want.point]
            done |= {each.point for each in wants}
            must = any(each.pin.required or each.point in asked for each in wants)
            slots.append(Slot(wants, must, number))
    return slots


def _asked(
    site: rules.Site, use: Mapping[Point, str], wanted: set[Point], stays: Mapping[Point, str]
) -> tuple[dict[Point, str], dict[Point, str], list[Refusal]]:
    """What a person asks for: circuit by pin, cavity by pin where one is named, and what of it cannot be."""
    asked: dict[Point, str] = {}
    places: dict[Point, str] = {}
    bad: list[Refusal] = []
    for pin, said in use.items():
        name, cavity, why = _circuit(site, said)
        if pin in stays:
            bad.append(Refusal(pin, f"{said} is asked for it, but {stays[pin]}", "leave it open"))
        elif pin not in wanted:
            bad.append(Refusal(pin, "the equipment has no such pin", "name a pin that the equipment file lists"))
        elif not name:
            bad.append(Refusal(pin, why, f"name a cavity of {site.pair} or a circuit that it carries"))
        else:
            asked[pin] = name
            places |= {pin: cavity} if cavity else {}
    return asked, places, bad


def _circuit(site: rules.Site, said: str) -> tuple[str, str, str]:
    """Circuit and cavity that a person means, or why there is none."""
    for name in (said, *site.cavities):
        if name in site.cavities and demand.plain(name) == demand.plain(said):
            return name, "", ""
    point = split_point(said)
    if point is None or point.ref not in site.opened:
        return "", "", f"{said} is asked for it, but no circuit of that name runs through {site.pair}"
    for name, cavities in site.cavities.items():
        if point.cavity in cavities:
            return name, point.cavity, ""
    known = [found for ref in site.opened if (found := site.airframe.cavity(Point(ref, point.cavity))) is not None]
    if not known:
        return "", "", f"{said} is asked for it, but {point.ref} has no such cavity that is listed"
    if all(cavity.use is Use.SPARE for cavity in known):
        return "", "", f"{said} is asked for it, but it is a spare and carries nothing"
    return "", "", f"{said} is asked for it, but nobody has said what it carries"
