"""The words of a choice: why this circuit, why not the others, what is not known, and what would do instead."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import islice, product

from harnesscheck.checks._words import several
from harnesscheck.finding import NotChecked
from harnesscheck.jumper import rules
from harnesscheck.jumper.demand import Want, plain
from harnesscheck.jumper.score import Scale, Score, kin, part_behind
from harnesscheck.jumper.slots import CURABLE, Candidate, Slot, against, twice
from harnesscheck.jumper.trial import Court
from harnesscheck.place import Point

Named = tuple[tuple[str, str], ...]
"""Circuit, and what is said of it."""
_MOST_WAYS = 3
_MOST_TRIED = 12


@dataclass
class Story:
    """A finished choice, told pin by pin."""

    site: rules.Site
    court: Court
    chosen: list[tuple[Slot, Candidate | None]]
    asked: Mapping[Point, str]

    @cached_property
    def taps(self) -> dict[Point, str]:
        """Pin to circuit."""
        return {point: name for slot, one in self.chosen for point, name in slot.taps(one).items()}

    @cached_property
    def checks(self) -> tuple[str, ...]:
        """The checks that judge it."""
        return tuple(dict.fromkeys(name for slot, _ in self.chosen for name in rules.names(slot.signal)))

    @cached_property
    def wants(self) -> dict[Point, Want]:
        """Every pin."""
        return {want.point: want for slot, _ in self.chosen for want in slot.wants}

    @cached_property
    def gaps(self) -> dict[Point, list[NotChecked]]:
        """What the checks could not look at with all taps made, by the pin that it is about."""
        found: dict[Point, list[NotChecked]] = {}
        for gap in self.court.verdict(self.taps, self.checks).gaps:
            named = [p for p, name in self.taps.items() if gap.place.label in (str(p), name) or _says(gap, p, name)]
            for point in named[:1] or list(self.taps)[:1]:
                found.setdefault(point, []).append(gap)
        return found

    @cached_property
    def scale(self) -> Scale:
        """For comparing."""
        return Scale(self.site)

    @cached_property
    def best(self) -> Score:
        """What the choice is worth."""
        return self.scale.whole(self.chosen)

    # -- a tap -------------------------------------------------------------------------------------------------

    def reasons(self, slot: Slot, one: Candidate, number: int) -> tuple[str, ...]:
        """Why a pin taps its circuit, and what is not known of it."""
        want, name = slot.wants[number], one.circuits[number]
        what = kind(want)
        rivals = {each.circuits[number] for each in slot.candidates} - {name}
        said = []
        if want.point in self.asked:
            said.append("asked for by a person")
        elif plain(want.pin.function) == plain(name):
            said.append("pin and circuit have the same name")
        elif rivals:
            said.append(f"the best of {len(rivals) + 1} {what} circuits at {self.site.pair} that will do")
        else:
            more = len({names[number] for names, _, _ in slot.barred} - {name})
            said.append(f"the only {what} circuit at {self.site.pair}" + (" that will do" if more else ""))
        said.append(one.words[number])
        said += self._kin(want, name)
        said += [f"not known: {gap.missing}" for gap in self.gaps.get(want.point, ())]
        return tuple(dict.fromkeys(words for words in said if words))

    def _kin(self, back: Want, name: str) -> list[str]:
        """Of a return or a shield: whose it is, and how that is known."""
        by: dict[int, list[str]] = {}
        for point in sorted(back.serves, key=str):
            if point in self.taps:
                line = self.taps[point]
                by.setdefault(kin(self.site, self.site.circuit(name), self.site.circuit(line)), []).append(line)
        word = "shield" if back.signal == "shield" else "return"
        ways = {
            2: f"the {word} of {{}}, as the airframe file says",
            1: f"taken for the {word} of {{}} by its name: no file says so",
            0: f"not known: whether it is the {word} of {{}}; no file says so, and the names do not",
        }
        return [ways[sure].format(several(lines)) for sure, lines in sorted(by.items(), reverse=True)]

    def others(self, slot: Slot, one: Candidate, number: int) -> Named:
        """The other circuits of the class: why each came second or will not do."""
        name = one.circuits[number]
        found = [(c.circuits[number], self._second(slot, c)) for c in slot.candidates if c.circuits[number] != name]
        found += [(names[number], reason) for names, reason, _ in slot.barred if names[number] != name]
        return once(found)

    def _second(self, slot: Slot, other: Candidate) -> str:
        swapped = [(each, other if each is slot else one) for each, one in self.chosen]
        score = self.scale.whole(swapped)
        if on := self._on(slot, other):
            return on
        if score < self.best:
            taps = {point: name for each, one in swapped for point, name in each.taps(one).items()}
            wrong = against(self.court.verdict(taps, self.checks), self.wants)
            if wrong:
                return f"will not do beside the other taps: {self._about(wrong, slot, other)[1]}"
        return f"would do, but {self._behind(slot, other, part_behind(self.best, score))}"

    def _behind(self, slot: Slot, other: Candidate, part: str) -> str:
        """Why a candidate that would do comes after the best."""
        spare = "; ".join(words for words in other.words if words)
        if part == "kin":
            want, name = slot.wants[0], other.circuits[0]
            its = self.site.circuit(name).returns
            if its is not None:
                return f"its current comes back by {its}"
            lines = several(self.taps[point] for point in sorted(want.serves, key=str) if point in self.taps)
            return f"it is less sure that it belongs to {lines}" if lines else "its return is another one"
        return {
            "name": "its name is not that of the pin",
            "unknown": f"more is not known of it: {other.gaps[0].missing}" if other.gaps else "more is not known of it",
            "used": f"it has less to spare: {spare}" if spare else "it has less to spare",
            "far": "its cavity is further from the others of the group",
            "place": "no better, and its cavity comes later",
        }.get(part, "no better")

    def _on(self, slot: Slot, one: Candidate) -> str:
        """That the unit is on the line already, with which pin."""
        for other, its in self.chosen:
            if other is not slot and (name := twice(slot, one, other, its, self.asked)):
                pins = [want.point for want in other.wants if self.taps.get(want.point) == name]
                return f"{several(map(str, pins))} of the same unit is on it already"
        return ""

    # -- a refusal ---------------------------------------------------------------------------------------------

    def refusal(self, slot: Slot, number: int) -> tuple[str, str, Named]:
        """Reason, what would do, and the circuits that were tried, for a pin that is not served."""
        want, rule = slot.wants[number], rules.of(slot.signal)
        tried = [(names[number], reason) for names, reason, _ in slot.barred]
        ways = [remedy for *_, remedy in slot.barred]
        for one in slot.candidates:
            if on := self._on(slot, one):
                tried.append((one.circuits[number], on))
                ways.append(f"if it is meant, ask for it: --use {want.point}={one.circuits[number]}")
                continue
            wrong = self._wrong(slot, one)
            check, reason, remedy = self._about(wrong, slot, one)
            tried.append((one.circuits[number], reason))
            ways.append(rule.INSTEAD.get(check) or remedy)
        named = once(tried)
        return self._reason(slot, number, named), self._ways(ways, rule.OWN, want), named

    def _wrong(self, slot: Slot, one: Candidate) -> list[tuple[str, str, str]]:
        """What stands against a candidate beside the taps that are made, with the rest of its group served as well."""
        rest = [other for other, its in self.chosen if other.group == slot.group and other is not slot and its is None]
        found: list[tuple[str, str, str]] = []
        options: list[list[Candidate | None]] = [[*other.candidates] if other.candidates else [None] for other in rest]
        for its in islice(product(*options), _MOST_TRIED):
            taps = {**self.taps, **slot.taps(one)}
            for other, each in zip(rest, its, strict=True):
                taps |= other.taps(each)
            wrong = against(self.court.verdict(taps, self.checks), self.wants)
            if not found or (wrong and found[0][0] in CURABLE):
                found = wrong
        return found

    def _reason(self, slot: Slot, number: int, tried: Named) -> str:
        want = slot.wants[number]
        what, pair = kind(want), self.site.pair
        if want.point in self.asked and tried:
            return f"{tried[0][0]} is asked for, and will not do: {tried[0][1]}"
        if len(tried) == 1:
            return f"{tried[0][0]}, the only {what} circuit at {pair}, will not do: {tried[0][1]}"
        if tried:
            return f"none of the {len(tried)} {what} circuits at {pair} will do"
        unsaid = [name for name in self.site.cavities if self.site.circuit(name).signal is None]
        reason = f"no {what} circuit runs through {pair}"
        if len(slot.wants) > 1 and slot.signal in {self.site.circuit(name).signal for name in self.site.cavities}:
            reason = f"no pair of {slot.signal} circuits runs through {pair}: a conductor is missing, or pair: differs"
        if unsaid:
            reason += (
                f"; not known: what {several(unsaid)} {'is' if len(unsaid) == 1 else 'are'} (signal: is not given)"
            )
        return reason

    def _ways(self, ways: list[str], own: str, want: Want) -> str:
        """What would do, each once, the home run last."""
        listed = list(dict.fromkeys(way for way in ways if way))
        return "; or ".join([*listed[: _MOST_WAYS - 1], own])

    def _about(self, wrong: list[tuple[str, str, str]], slot: Slot, one: Candidate) -> tuple[str, str, str]:
        """What stands against a candidate: rather what names its circuit or its pins than anything else."""
        if not wrong:
            return "", "it does not go together with the other taps", ""
        names = [*one.circuits, *(str(want.point) for want in slot.wants)]
        return next((each for each in wrong if any(name in each[1] for name in names)), wrong[0])


def kind(want: Want) -> str:
    """``can H``, ``power``."""
    return f"{want.signal} {want.pin.line}" if want.pin.line else want.signal


def once(pairs: list[tuple[str, str]]) -> Named:
    """The first that is said of each circuit."""
    found: dict[str, tuple[str, str]] = {}
    for name, why in pairs:
        found.setdefault(name, (name, why))
    return tuple(found.values())


def _says(gap: NotChecked, point: Point, name: str) -> bool:
    return re.search(rf"(?<![\w-])({re.escape(str(point))}|{re.escape(name)})(?![\w-])", gap.missing) is not None
