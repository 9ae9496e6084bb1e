"""Why there is no plan: what the checks found in the layout that came nearest, and what a person may decide."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.jumper.deciding import Decision, limit, waiver
from harnesscheck.jumper.design import BY, Result
from harnesscheck.jumper.trunk import Block, Draft

BOTH = ("long-stub", "splice-near-connector")
"""Rules that exclude each other where a branch must be short: what is decided is where the splice sits."""


@dataclass(frozen=True, slots=True)
class No:
    """Why there is no plan, and what would do."""

    what: str
    remedy: str
    tried: tuple[tuple[str, str], ...] = ()
    decision: Decision | None = None
    """What a person would write down to live with it; None where it is put right and not decided."""


def excluded(draft: Draft) -> list[Block]:
    """Blocks whose branch would have to be shorter than a splice may sit from a connector."""
    return [block for block in draft.blocks if block.reach is not None and block.reach < draft.margin]


def stopped(draft: Draft, result: Result) -> tuple[No, ...]:
    """Why no layout passes: what the checks found in the one that came nearest."""
    if not result.failed:
        return (No("there is no way to lay the jumper", "state more about the pair and the equipment"),)
    checks = [{finding.check for finding in tried.faults} for tried in result.failed]
    nearest_one = min(result.failed, key=lambda tried: (sum(f.check in BY for f in tried.faults), len(tried.faults)))
    lasting = nearest_one.faults
    if any(f.check in BY for f in lasting):
        lasting = tuple(f for f in lasting if f.check in set.intersection(*checks)) or lasting
    apart = excluded(draft)
    noes = [
        No(f"{each.headline} [{each.check}]", each.remedy, (),
           None if apart and each.check in BOTH else waiver(each))
        for each in lasting
    ]  # fmt: skip
    for block in apart:
        names = " and ".join(line.name for line in block.lines)
        noes.append(
            No(
                f"{names}: the branch may be {block.reach} mm long and a splice keeps {draft.margin} mm from "
                "a connector: both cannot be kept",
                "a person decides how near a splice may sit, and writes it down",
                (),
                limit("splice-near-connector", f"a length below {block.reach} mm; the rule: {draft.margin} mm"),
            )
        )
    return tuple(noes)
