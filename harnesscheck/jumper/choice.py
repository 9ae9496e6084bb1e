"""Which circuit each pin of the new equipment taps, with the reasons, or why none will do and what would.

Every choice is put to the checks on trial (see ``trial``), so that what is chosen here is what the checks let pass,
and what is refused is refused by them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from harnesscheck.harness import Harness
from harnesscheck.jumper import demand, rules
from harnesscheck.jumper.search import Found, search
from harnesscheck.jumper.slots import Slot, against, fill
from harnesscheck.jumper.trial import Court
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
    airframe: Harness, boxes: Sequence[Harness], opened: tuple[str, str], use: Mapping[Point, str] | None = None
) -> Chosen:
    """The circuits to tap for every pin of the equipment.

    ``opened`` is the mated pair as typed. ``use`` is what a person asks for: equipment pin to a cavity of the pair
    (``P14-3``) or to a circuit name.
    """
    wanted, left = demand.wants(boxes)
    court = Court(airframe, boxes, opened)
    site = rules.Site(airframe, opened, court.cavities)
    asked, bad = _asked(site, dict(use or {}), {want.point for want in wanted}, left)
    slots = [s for number, group in enumerate(demand.groups(wanted)) for s in _slots(number, group, wanted, asked)]
    for slot in slots:
        fill(slot, site, court, asked)
    found = search(slots, site, court)
    by_point = {want.point: want for want in wanted}
    order = {want.point: number for number, want in enumerate(wanted)}
    taps, refusals = [], list(bad)
    for slot, candidate in sorted(found.chosen, key=lambda each: order[each[0].wants[0].point]):
        for number, want in enumerate(slot.wants):
            if candidate is not None:
                name = candidate.circuits[number]
                taps.append(_tapped(site, slot, number, name, asked, found, court, by_point))
            elif slot.required and want.point not in {refusal.pin for refusal in bad}:
                refusals.append(_refusal(site, slot, number, found, court, by_point))
            elif not slot.required:
                refused = _refusal(site, slot, number, found, court, by_point)
                left.append((want.point, f"{want.pin.function}: not required, and {refused.reason}"))
    every = {pin.point: n for n, pin in enumerate(pin for box in boxes for pin in box.pins())}
    return Chosen(
        tuple(sorted(taps, key=lambda tap: every[tap.pin])),
        tuple(sorted(left, key=lambda each: every[each[0]])),
        tuple(sorted(refusals, key=lambda refusal: every.get(refusal.pin, -1))),
    )


def _slots(number: int, group: demand.Group, wanted: list[demand.Want], asked: Mapping[Point, str]) -> list[Slot]:
    """The pins of a group, those of a pair as one."""
    partner = {}
    for one, two in demand.couples([w for w in wanted if w.unit == group.wants[0].unit]):
        partner[one.point], partner[two.point] = two, one
    slots: list[Slot] = []
    done: set[Point] = set()
    for want in group.wants:
        if want.point in done:
            continue
        other = partner.get(want.point)
        wants = (want, other) if other is not None else (want,)
        done |= {each.point for each in wants}
        slots.append(Slot(wants, any(each.pin.required or each.point in asked for each in wants), number))
    return slots


def _asked(
    site: rules.Site, use: dict[Point, str], wanted: set[Point], left: list[tuple[Point, str]]
) -> tuple[dict[Point, str], list[Refusal]]:
    """What a person asks for as circuit names, and what of it cannot be."""
    asked: dict[Point, str] = {}
    bad: list[Refusal] = []
    stays = dict(left)
    for pin, said in use.items():
        if pin in stays:
            bad.append(Refusal(pin, f"{said} is asked for it, but {stays[pin]}", "leave it open"))
        elif pin not in wanted:
            bad.append(Refusal(pin, "the equipment has no such pin", "name a pin that the equipment file lists"))
        else:
            name, why = _circuit(site, said)
            if name is None:
                bad.append(Refusal(pin, why, f"name a cavity of {site.pair} or a circuit that it carries"))
            else:
                asked[pin] = name
    return asked, bad


def _circuit(site: rules.Site, said: str) -> tuple[str | None, str]:
    for name in site.cavities:
        if demand.plain(name) == demand.plain(said):
            return name, ""
    point = split_point(said)
    if point is not None and point.ref in site.opened:
        for name, cavities in site.cavities.items():
            if point.cavity in cavities:
                return name, ""
        cavity = next((c for r in site.opened if (c := site.airframe.cavity(Point(r, point.cavity)))), None)
        state = "there is no such cavity" if cavity is None else f"it carries no circuit that is named ({cavity.use})"
        return None, f"{said} is asked for it, but {state}"
    return None, f"{said} is asked for it, but no circuit of that name runs through {site.pair}"


def _tapped(
    site: rules.Site, slot: Slot, number: int, name: str, asked: Mapping[Point, str], found: Found, court: Court,
    by_point: Mapping[Point, demand.Want],
) -> Tapped:  # fmt: skip
    want = slot.wants[number]
    candidate = next(c for c in slot.candidates if c.circuits[number] == name)
    rivals = [c for c in slot.candidates if c.circuits[number] != name]
    circuit = site.circuit(name)
    what = f"{circuit.signal or 'unnamed'}{f' {circuit.line}' if circuit.line else ''}"
    reasons = []
    if want.point in asked:
        reasons.append("asked for by a person")
    elif demand.plain(want.pin.function) == demand.plain(name):
        reasons.append("the pin and the circuit have the same name")
    elif not rivals:
        reasons.append(f"the only {what} circuit at {site.pair} that will do")
    else:
        reasons.append(f"the best of {len(rivals) + 1} {what} circuits at {site.pair}")
    reasons += [words for words in (candidate.words[number], found.kin(slot, number)) if words]
    reasons += [f"not known: {gap.missing}" for gap in candidate.gaps]
    others = [(c.circuits[number], found.second(slot, c)) for c in rivals]
    others += [(names[number], reason) for names, reason, _ in slot.barred if names[number] != name]
    return Tapped(want.point, name, site.cavities[name][0], tuple(dict.fromkeys(reasons)), _once(others))


def _once(pairs: list[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    return tuple({name: (name, why) for name, why in reversed(pairs)}.values())[::-1]


def _refusal(
    site: rules.Site, slot: Slot, number: int, found: Found, court: Court, by_point: Mapping[Point, demand.Want]
) -> Refusal:
    want = slot.wants[number]
    rule = rules.of(slot.signal)
    tried = [(names[number], reason) for names, reason, _ in slot.barred]
    remedies = [remedy for *_, remedy in slot.barred]
    for candidate in slot.candidates:
        taps = {**found.taps, **slot.taps(candidate)}
        wrong = against(court.verdict(taps, found.checks), by_point)
        check, reason, remedy = wrong[0] if wrong else ("", "it does not go together with the other taps", "")
        tried.append((candidate.circuits[number], reason))
        remedies.append(rule.INSTEAD.get(check) or remedy)
    what = f"{want.signal}{f' {want.pin.line}' if want.pin.line else ''}"
    if not tried:
        unsaid = [n for n in site.cavities if site.circuit(n).signal is None]
        reason = f"no {what} circuit runs through {site.pair}"
        if unsaid:
            reason += f" (of what class {', '.join(unsaid)} is, is not stated)"
        return Refusal(want.point, reason, rule.OWN)
    once = _once(tried)
    if len(once) == 1:
        reason = f"{once[0][0]}, the only {what} circuit at {site.pair}, will not do: {once[0][1]}"
    else:
        reason = f"none of the {len(once)} {what} circuits at {site.pair} will do"
    ways = list(dict.fromkeys([*(r for r in remedies if r), rule.OWN]))
    return Refusal(want.point, reason, "; or ".join(ways[:3]), once)
