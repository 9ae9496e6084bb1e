"""The search: every way to lay the jumper that its rules allow, the cheapest first, until one passes all checks.

The space: order of the splices along the trunk, wire specification, splice part, cable, how much thicker the branches
of supplies are than they must be, and whether the plug is shipped loose. Up to ``WHOLE`` blocks every order is tried;
above, orders are improved by exchanging two neighbours until no exchange helps, which finds a good order and not
surely the best.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import islice, permutations, product

from harnesscheck.checks._words import several
from harnesscheck.finding import Finding, Report, Severity
from harnesscheck.jumper import cost as costs
from harnesscheck.jumper import laying
from harnesscheck.jumper.cost import Cost
from harnesscheck.jumper.kit import Kit
from harnesscheck.jumper.trunk import Draft, Setting

WHOLE = 4
"""Blocks up to which every order along the trunk is tried."""
WIRES, SPLICES, CABLES, THICKER = 3, 2, 2, 3
"""How many of each list are looked at, from the best suited on."""
TRIES = 40
"""Layouts that are put to the checks before the planner gives up."""
SURE = 6
"""Layouts that must all have the same finding before it is held that none is without it."""
RUNNERS_UP = 3
BY: dict[str, tuple[str, ...]] = {
    "plug-larger-than-passage": ("loose",),
    "excess-voltage-drop": ("thicker", "wire", "order"),
    "over-ampacity": ("thicker", "apart", "wire"),
    "breaker-trip-band": ("thicker", "apart", "wire"),
    "overfull-splice": ("splice", "thicker", "wire"),
    "unsealed-splice-in-wet-zone": ("splice",),
    "wire-outside-seal-range": ("wire", "cable", "thicker"),
    "wire-below-zone-temperature": ("wire", "cable"),
}
"""Check to the parts of a setting of which one has to change for its finding to go away."""


@dataclass(frozen=True, slots=True)
class Layout:
    """One setting, its kit and what it costs."""

    setting: Setting
    kit: Kit
    cost: Cost


@dataclass(frozen=True, slots=True)
class Tried:
    """A layout that the checks did not let pass."""

    layout: Layout
    faults: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Result:
    """What the search has found: the best layout that passes, those that follow by cost, and those that failed."""

    best: Layout | None
    report: Report | None
    runners_up: tuple[Layout, ...] = ()
    failed: tuple[Tried, ...] = ()
    looked_at: int = 0


def faults(report: Report) -> tuple[Finding, ...]:
    """What a plan may not have: stops and cautions that nobody has decided upon."""
    return tuple(f for f in report.primary if f.severity in (Severity.STOP, Severity.CAUTION))


def rank_specs(draft: Draft) -> list[str]:
    """Wire specifications that suit every single wire of the kit, the firmest first; else the one that suits most."""
    ranks: dict[str, list[int]] = {spec: [0, 0] for spec in draft.stock.specs}
    base = Setting(tuple(range(len(draft.blocks))))
    for line in draft.singles:
        if line.signal == "thermocouple":
            continue
        volts = (line.circuit.supply if line.circuit else None) or 0.0
        trunk = [(draft.first, line.cavity), (draft.second, line.cavity)]
        demands = [(draft.gauge(line), trunk)]
        demands += [(draft.branch(line, pin, base), [(draft.plugs[pin.ref], pin.cavity)]) for pin in line.taps]
        for size, ends in demands:
            known = {choice.number.rpartition("-")[0]: choice.doubts for choice in draft.stock.wires(size, ends, volts)}
            for spec, rank in ranks.items():
                rank[0] += spec not in known
                rank[1] += known.get(spec, 0)
    own = draft.stock.habit[0]
    listed = sorted(ranks, key=lambda spec: (ranks[spec][0], ranks[spec][1], spec != own))
    whole = [spec for spec in listed if not ranks[spec][0]]
    return (whole or listed[:1])[:WIRES]


class Space:
    """The alternatives of one draft, and what each costs. Layouts are made once."""

    def __init__(self, draft: Draft, least: str | None = None) -> None:
        self.draft, self.least = draft, least
        draft.specs = rank_specs(draft)
        self._made: dict[Setting, Layout] = {}
        self._costs: dict[Setting, Cost] = {}

    @property
    def levels(self) -> tuple[range, range, range, range, tuple[bool, ...], tuple[bool, ...]]:
        """Choices of wire, splice, cable and thickness; whether a plug may go loose, and feeds in their own bundle."""
        draft = self.draft
        splices = max((self._parts(n) for n in range(len(draft.blocks))), default=1)
        cables = CABLES if draft.bundles else 1
        fed = any(line.taps and (line.supply or line.signal == "ground") for line in draft.lines)
        holes = any(
            way.route in draft.airframe.routes and draft.airframe.routes[way.route].passages
            for way in draft.ways.values()
            if way.route
        )
        thick = min(THICKER, draft.spread()) if fed else 1
        return (
            range(max(1, len(draft.specs))), range(max(1, min(SPLICES, splices))), range(cables),
            range(max(1, thick)), (False, True) if holes else (False,), (False, True) if fed else (False,),
        )  # fmt: skip

    def _parts(self, number: int) -> int:
        """How many splice parts the drawer has for the plainest line of a block."""
        draft, block = self.draft, self.draft.blocks[number]
        if block.bundle is not None:
            return SPLICES
        line, base = block.lines[0], Setting((number,))
        size = draft.gauge(line)
        sizes = [size, size, *(draft.branch(line, pin, base) for pin in line.taps)]
        return len(draft.stock.splices(sizes, draft.wet))

    def layout(self, setting: Setting) -> Layout:
        """The layout of one setting. Raises ``TooShortError``."""
        if setting not in self._made:
            self._made[setting] = Layout(setting, laying.lay(self.draft, setting), self.cost(setting))
        return self._made[setting]

    def cost(self, setting: Setting) -> Cost:
        """What a setting costs. Where a plug is finished and what is tied together changes no part and no length."""
        plain = replace(setting, loose=False, apart=False)
        if plain not in self._costs:
            self._costs[plain] = costs.of_kit(self.draft.drawer, laying.lay(self.draft, plain))
        return self._costs[plain]

    def key(self, setting: Setting) -> tuple[object, ...]:
        """What settings are ordered by: a plug finished at the bench before a loose one, then cost."""
        cost = self.cost(setting)
        choices = (setting.order, setting.wire, setting.splice, setting.cable, setting.apart)
        return (setting.loose, *cost.key(self.least), *choices)

    def settings(self) -> list[Setting]:
        """Every setting, the cheapest first."""
        wires, splices, cables, thick, loose, apart = self.levels
        found: list[Setting] = []
        for splice, thicker in product(splices, thick):
            for order in self._orders(splice, thicker):
                for wire, cable, each, own in product(wires, cables, loose, apart):
                    found.append(Setting(order, wire, splice, cable, thicker, each, own))
        return sorted(found, key=self.key)

    def _orders(self, splice: int, thicker: int) -> list[tuple[int, ...]]:
        """Orders worth looking at for one choice of splices and thickness: they alone set places and lengths."""
        count = len(self.draft.blocks)

        def key(order: tuple[int, ...]) -> tuple[object, ...]:
            return self.key(Setting(order, splice=splice, thicker=thicker))

        if count <= WHOLE:
            return sorted(permutations(range(count)), key=key)[:3]
        best = tuple(sorted(range(count), key=lambda n: (self.draft.blocks[n].reach is not None, n)))
        improved = True
        while improved:
            improved = False
            for place in range(count - 1):
                other = (*best[:place], best[place + 1], best[place], *best[place + 2 :])
                if key(other) < key(best):
                    best, improved = other, True
        return [best]


def search(space: Space, judge: Callable[[Layout], Report], tries: int = TRIES) -> Result:
    """Put the layouts to the checks, the cheapest first, until one passes.

    After a finding that only another choice of certain parts of the setting can take away, layouts with the same
    choice there are passed over. Where a finding stays whatever is chosen, the search ends.
    """
    listed = space.settings()
    failed: list[Tried] = []
    barred: set[tuple[tuple[str, ...], tuple[object, ...]]] = set()
    for number, setting in enumerate(listed):
        if any(_values(setting, parts) == values for parts, values in barred):
            continue
        layout = space.layout(setting)
        report = judge(layout)
        wrong = faults(report)
        if not wrong:
            following = (space.layout(each) for each in listed[number + 1 :])
            others = tuple(islice(_unlike(layout, following), RUNNERS_UP))
            return Result(layout, report, others, tuple(failed), len(listed))
        failed.append(Tried(layout, wrong))
        barred |= {(parts, _values(setting, parts)) for f in wrong if (parts := BY.get(f.check)) is not None}
        lasting = [f for f in wrong if f.check not in BY]
        if len(failed) >= tries or (lasting and len(failed) > SURE and _lasting(failed)):
            break
    return Result(None, None, (), tuple(failed), len(listed))


def _values(setting: Setting, parts: tuple[str, ...]) -> tuple[object, ...]:
    return tuple(getattr(setting, part) for part in parts)


def _lasting(failed: list[Tried]) -> bool:
    """True when the last layouts, which differ, all had one and the same finding that no choice takes away."""
    last = [{f.check for f in tried.faults if f.check not in BY} for tried in failed[-SURE:]]
    return bool(set.intersection(*last)) and len({tried.layout.setting for tried in failed[-SURE:]}) == SURE


def _unlike(best: Layout, others: Iterator[Layout]) -> Iterator[Layout]:
    """Layouts that differ from the best in more than nothing, each difference once."""
    seen: set[str] = set()
    for other in others:
        words = difference(best, other) if other.setting.apart == best.setting.apart else ""
        if words and words not in seen:
            seen.add(words)
            yield other


def difference(best: Layout, other: Layout) -> str:
    """In words: what another layout does differently."""
    words = []
    if other.setting.order != best.setting.order:
        words.append(f"splices in the order {several(_order(other.kit))}")
    mine, theirs = _types(best.kit), _types(other.kit)
    for instead in sorted(theirs - mine):
        words.append(f"with {instead}")
    for without in sorted(mine - theirs):
        words.append(f"without {without}")
    if other.setting.loose and not best.setting.loose:
        words.append("plug finished in the aircraft")
    return ", ".join(words)


def _order(kit: Kit) -> list[str]:
    """The circuits in the order of their splices."""
    return [section.title.removesuffix(", tapped") for section in kit.sections if section.title.endswith(", tapped")]


def _types(kit: Kit) -> set[str]:
    return {
        *(lead.type for lead in kit.leads() if lead.type),
        *(sheath.type for sheath in kit.sheaths if sheath.type),
        *(joint.part for joint in kit.joints if joint.part),
    }
