"""The layout that is chosen, against every layout of the same space, weighed by plain sums of its own."""

from __future__ import annotations

from itertools import permutations, product
from pathlib import Path

import pytest

from harnesscheck.jumper import design, laying, planning
from harnesscheck.jumper.cost import COPPER, WEIGHTS
from harnesscheck.jumper.design import Space
from harnesscheck.jumper.kit import Kit
from harnesscheck.jumper.trunk import Setting
from harnesscheck.parts import Drawer
from tests.jumper.jobs import JOBS, Job

SMALL = [job for job in JOBS if job.name not in ("signal-logger",)]
"""Jobs with up to four things to splice."""
FIRM = {"wire": ("temperature", "volts", "od"), "cable": ("spec",), "splice": ("cma", "sealed"), "contact": ("gauge",)}


def weighed(drawer: Drawer, kit: Kit) -> float:
    """The weighted sum, wire by wire; the areas of AC 43.13-1B Table 11-9 are those of the drawer."""
    mass = length = 0.0
    numbers: set[tuple[str, str]] = set()
    for lead in kit.leads():
        sheath = next((each for each in kit.sheaths if each.id == lead.cable), None)
        long = (sheath.length if sheath else lead.length) / 1000
        length += 0 if sheath else long
        if lead.core != "drain":
            record = drawer.get("conductor", str(lead.gauge))
            assert record is not None
            mass += long * (record.quantity("area") or 0) * COPPER
        numbers |= {("wire", lead.type)} if lead.type else set()
    length += sum(sheath.length for sheath in kit.sheaths) / 1000
    numbers |= {("cable", each.type) for each in kit.sheaths if each.type}
    numbers |= {("splice", each.part) for each in kit.joints if each.part}
    for half in kit.halves:
        wired = [end.cavity for lead in kit.leads() for end in (lead.a, lead.b) if end.ref == half.ref]
        numbers |= {("connector", half.part)} if half.part else set()
        numbers |= {("contact", c) for c in (half.contact(name) for name in wired) if c}
        numbers |= {("sealing plug", half.plugs)} if half.plugs else set()
    soft = 0
    for kind, number in numbers:
        if kind in FIRM:
            part = drawer.get(kind, number)
            facts = [part.fact(name) if part else None for name in FIRM[kind]]
            soft += not all(fact is not None and fact.firm for fact in facts)
    amounts = {"splices": len(kit.joints), "mass": mass, "length": length, "parts": len(numbers), "unconfirmed": soft}
    return sum(WEIGHTS[name] * amount for name, amount in amounts.items())


@pytest.mark.parametrize("job", SMALL, ids=lambda job: job.name)
def test_nothing_cheaper_passes(job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(job.copied(tmp_path))
    seen: list[Space] = []
    judged = []

    def search(space: Space, judge: object, tries: int) -> design.Result:
        seen.append(space)
        judged.append(judge)
        return design.search(space, judge, tries)  # type: ignore[arg-type]

    monkeypatch.setattr(planning, "search", search)
    made = planning.plan(job.asked())
    assert made.result is not None and made.result.best is not None
    best, (space,), (judge,) = made.result.best, seen, judged
    drawer = space.draft.drawer
    worth = (best.setting.loose, round(weighed(drawer, best.kit), 6))
    assert worth[1] == pytest.approx(best.cost.total, abs=1e-6)
    wires, splices, cables, thick, loose, _ = space.levels
    count = len(space.draft.blocks)
    assert 2 <= count <= design.WHOLE
    cheaper = looked = 0
    for order in permutations(range(count)):
        for wire, splice, cable, thicker in product(wires, splices, cables, thick):
            kit = laying.lay(space.draft, Setting(order, wire, splice, cable, thicker))
            looked += 1
            for each in loose:
                if (each, round(weighed(drawer, kit), 6)) < worth:
                    cheaper += 1
                    setting = Setting(order, wire, splice, cable, thicker, each)
                    assert design.faults(judge(space.layout(setting))), f"cheaper, and it passes: {setting}"
    assert looked >= 2
    if job.decided:  # a plug that does not pass the holes: every layout with the shell on was cheaper by the order
        assert cheaper
