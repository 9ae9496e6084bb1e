"""Where the splices sit along the trunk, and how long it has to be for them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from harnesscheck.jumper.kit import STEP
from harnesscheck.jumper.trunk import Block, Draft, Setting

LEAST_MARGIN = 30
"""Millimetres between a splice and a connector below which no jumper is planned. Common practice: one sleeve."""


BARE_TRUNK = 200
"""Millimetres of a trunk without a splice. Common practice: enough to mate both halves one beside the other."""
Spot = tuple[int, str]
"""A place along the trunk: number of the block, and the cavity of the line that is spliced there."""


class TooShortError(ValueError):
    """The trunk that a person asks for does not hold the splices; ``least`` is one that does, millimetres."""

    def __init__(self, least: int) -> None:
        super().__init__(f"the splices need a trunk of {least} mm")
        self.least = least


@dataclass(frozen=True, slots=True)
class Stations:
    """Where the splices sit: spot to millimetres from the first half, and the length of the trunk."""

    at: dict[Spot, int]
    trunk: int
    margin: int


def stations(draft: Draft, setting: Setting, rooms: Mapping[Spot, int]) -> Stations:
    """Splices in the order of the setting, each as near to the first half as margin, stagger and reach allow."""
    listed = [(number, draft.blocks[number]) for number in setting.order]
    margin = draft.margin
    if draft.trunk is not None:
        spans = [rooms[number, line.cavity] for number, block in listed for line in block.lines]
        span = sum(max(a, b) for a, b in pairwise(spans))
        margin = min(margin, (draft.trunk - span) // 2 // STEP * STEP)
        if margin < LEAST_MARGIN:
            raise TooShortError(-(-(span + 2 * LEAST_MARGIN) // STEP) * STEP)
    at: dict[Spot, int] = {}
    last: tuple[int, int] | None = None
    for number, block in listed:
        for line in block.lines:
            own = rooms[number, line.cavity]
            here = margin if last is None else last[0] + max(last[1], own)
            if block.reach is not None:
                here = max(here, _least(draft, block, block.reach))
            at[number, line.cavity], last = here, (here, own)
    length = BARE_TRUNK if last is None else last[0] + margin
    return Stations(at, length if draft.trunk is None else max(length, draft.trunk), margin)


def _least(draft: Draft, block: Block, reach: int) -> int:
    """How far out the first splice of a block must sit for its branches to stay within their reach."""
    ways = [draft.ways[pin.ref].length for line in block.lines for pin in block.taps(line)]
    return -(-(max(ways) - reach) // STEP) * STEP
