"""What a person may decide, in the lines to fill in, and why there is no plan: made-up findings and layouts."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from harnesscheck import checks
from harnesscheck.fault import Fault
from harnesscheck.finding import Finding, Severity
from harnesscheck.jumper.cost import Cost
from harnesscheck.jumper.deciding import Decision, block, in_decided_file, limit, line_in, waiver
from harnesscheck.jumper.design import Layout, Result, Tried
from harnesscheck.jumper.kit import Kit
from harnesscheck.jumper.stopping import BOTH, No, excluded, stopped
from harnesscheck.jumper.trunk import Setting
from harnesscheck.place import Place


def finding(check: str, headline: str = "h", severity: Severity = Severity.CAUTION, limit: str = "") -> Finding:
    return Finding(
        headline=headline, place=Place("P14-3"), check=check, severity=severity, limit=limit, remedy=f"mend {check}"
    )


# -- deciding -------------------------------------------------------------------------------------------------------

LIMITED, UNLIMITED = "long-stub", "energised-pins"
WHY = ("    reason:    # why it does no harm here", "    by:        # who decides")


def test_the_lines_of_a_decision() -> None:
    assert checks.has_limit(LIMITED) and not checks.has_limit(UNLIMITED)
    assert limit("long-stub", "below 1 m") == Decision(
        "limits", ("  long-stub:", "    value:     # below 1 m", WHY[0], WHY[1])
    )
    assert waiver(finding(LIMITED, limit="0.3 m")) == limit(LIMITED, "the rule: 0.3 m")
    assert waiver(finding(LIMITED)) == limit(LIMITED, "with its unit")
    assert waiver(finding(UNLIMITED, limit="x", severity=Severity.NOTE)) == Decision(
        "waivers",
        ("  - check: energised-pins", "    at: P14-3", *WHY, "    date:      # today, like 2026-11-20"),
    )
    for check in (LIMITED, UNLIMITED):
        assert waiver(finding(check, severity=Severity.STOP)) is None


def test_a_file_of_decisions() -> None:
    """Limits first, each check once with what is said of it first; each waiver once."""
    one, two = limit("long-stub", "a"), limit("bundle-tight-in-passage", "b")
    first, second = waiver(finding(UNLIMITED)), waiver(finding("no-return"))
    assert first is not None and second is not None
    said = block([first, one, second, limit("long-stub", "c"), two, first])
    assert said == ["limits:", *one.lines, *two.lines, "waivers:", *first.lines, *second.lines]
    assert block([first]) == ["waivers:", *first.lines] and block([one]) == ["limits:", *one.lines] and block([]) == []


def test_a_fault_in_the_file_of_decisions(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    Path("his.yaml").write_text("limits:\n  a: 1  \n  b: 2\n", encoding="utf-8")

    def fault(text: str, file: str = "plan.yaml") -> Fault:
        return Fault(file, 40, 3, "odd", text, "do")

    assert [line_in("his.yaml", fault(text)) for text in ("limits:", "  a: 1", "  b: 2   ", "b: 2")] == [1, 2, 3, None]
    assert in_decided_file(fault("  b: 2"), "plan.yaml", "his.yaml") == Fault("his.yaml", 3, 3, "odd", "  b: 2", "do")
    for same in (fault("  c: 3"), fault("  b: 2", "air.yaml")):
        assert in_decided_file(same, "plan.yaml", "his.yaml") is same


# -- no plan --------------------------------------------------------------------------------------------------------


def branch(reach: int | None, *names: str) -> Any:
    return SimpleNamespace(reach=reach, lines=[SimpleNamespace(name=name) for name in names])


def draft(*blocks: Any, margin: int = 305) -> Any:
    return SimpleNamespace(blocks=list(blocks), margin=margin)


def result(*failed: list[Finding]) -> Result:
    kit = Kit(("P1", "J1"), (), (), (), (), {})
    return Result(None, None, (), tuple(
        Tried(Layout(Setting((n,)), kit, Cost(0, 0, 0, 0, 0)), tuple(found)) for n, found in enumerate(failed)
    ))  # fmt: skip


def test_branches_that_must_be_shorter_than_a_splice_may_sit() -> None:
    short, same, free = branch(300, "A"), branch(305, "B"), branch(None, "C")
    assert excluded(draft(same, short, free)) == [short] and excluded(draft()) == []
    assert excluded(draft(branch(0, "A"), margin=5)) != []


def test_nothing_was_laid_out() -> None:
    assert stopped(draft(branch(300, "A")), Result(None, None)) == (
        No("there is no way to lay the jumper", "state more about the pair and the equipment"),
    )


def told(found: tuple[No, ...]) -> list[tuple[str, bool]]:
    return [(no.what, no.decision is not None) for no in found]


def test_what_was_found_in_the_layout_that_came_nearest() -> None:
    """Fewest findings that another layout may take away, then fewest of all; of such ones those that all have."""
    stays, drop = finding("long-stub", "too long"), finding("excess-voltage-drop", "drops")
    other, splice = finding("bundle-tight-in-passage", "bends"), finding("overfull-splice", "full")
    assert stopped(draft(), result([stays])) == (
        No("too long [long-stub]", "mend long-stub", (), limit("long-stub", "with its unit")),
    )
    assert told(stopped(draft(), result([drop], [stays, other]))) == [
        ("too long [long-stub]", True), ("bends [bundle-tight-in-passage]", True),
    ]  # fmt: skip
    assert told(stopped(draft(), result([stays, other], [other]))) == told(stopped(draft(), result([other])))
    assert told(stopped(draft(), result([drop, splice], [drop, stays]))) == [("drops [excess-voltage-drop]", True)]
    nearest = told(stopped(draft(), result([drop, splice], [drop], [splice])))
    assert [what for what, _ in nearest] == ["drops [excess-voltage-drop]"], "none that all have: what the nearest has"
    both = told(stopped(draft(), result([drop, stays], [drop, stays, splice])))
    assert [what for what, _ in both] == ["drops [excess-voltage-drop]", "too long [long-stub]"]
    assert told(stopped(draft(), result([finding("energised-pins", "live", Severity.STOP)]))) == [
        ("live [energised-pins]", False)
    ]


def test_rules_that_exclude_each_other() -> None:
    """What is decided is where the splice sits, so the two findings themselves offer nothing to decide."""
    assert BOTH == ("long-stub", "splice-near-connector")
    found = [
        finding("long-stub", "too long"),
        finding("splice-near-connector", "near"),
        finding("bundle-tight-in-passage", "bends"),
    ]
    said = stopped(draft(branch(300, "CAN H", "CAN L"), branch(None, "X"), branch(200, "Y")), result(found))
    assert [no.what for no in said] == [
        "too long [long-stub]", "near [splice-near-connector]", "bends [bundle-tight-in-passage]",
        "CAN H and CAN L: the branch may be 300 mm long and a splice keeps 305 mm from a connector: "
        "both cannot be kept",
        "Y: the branch may be 200 mm long and a splice keeps 305 mm from a connector: both cannot be kept",
    ]  # fmt: skip
    assert [no.decision for no in said] == [
        None, None, waiver(found[2]), limit("splice-near-connector", "a length below 300 mm; the rule: 305 mm"),
        limit("splice-near-connector", "a length below 200 mm; the rule: 305 mm"),
    ]  # fmt: skip
    assert said[3].remedy == "a person decides how near a splice may sit, and writes it down"
    assert all(no.tried == () for no in said)
    free = stopped(draft(branch(None, "X")), result(found))
    assert [no.decision for no in free] == [waiver(each) for each in found]
