"""Diameter of a bundle of round wires, and the smallest bend it should take."""

from __future__ import annotations

import math
from collections.abc import Sequence

from harnesscheck.source import Source, Status

PACKING = Source(
    "circle packing in a circle, table of best known packings",
    Status.CONFIRMED,
    paragraph="n = 1 to 20 as published; n = 21 to 37 computed by this project",
)
HANDBOOK = Source("", Status.MEMORY, paragraph="handbook rule: 1.2 times the root of the sum of the squared diameters")
"""The factor stands on two generic formula pages (range 1.15 to 1.45 there); no standard was found that gives it."""

RATIOS = (
    1.0, 2.0, 2.1547, 2.4142, 2.7013, 3.0, 3.0, 3.3048, 3.6131, 3.8130,
    3.9238, 4.0296, 4.2361, 4.3284, 4.5214, 4.6154, 4.7920, 4.8637, 4.8637, 5.1223,
    5.2523, 5.4397, 5.5452, 5.6517, 5.7528, 5.8282, 5.9064, 6.0149, 6.1386, 6.1977,
    6.2915, 6.4295, 6.4867, 6.6110, 6.6972, 6.7468, 6.7588,
)  # fmt: skip
"""Diameter of the smallest circle around n equal circles, over the diameter of one (first entry: n = 1)."""

FACTOR = 1.2


def ratio(count: int) -> float:
    """Bundle diameter over wire diameter for ``count`` equal wires: the larger of packing table and handbook rule.

    Range: 1 and above; above 37 the handbook rule alone. The handbook rule is up to 15 per cent too small for two to
    six wires and three to eight per cent generous from twelve on (source: the packing table itself).

    >>> ratio(2), ratio(7) == 1.2 * 7 ** 0.5
    (2.0, True)
    """
    if count < 1:
        raise ValueError("a bundle has at least one wire")
    if count == 1:
        return 1.0
    handbook = FACTOR * math.sqrt(count)
    return max(RATIOS[count - 1], handbook) if count <= len(RATIOS) else handbook


def bundle_diameter(diameters: Sequence[float]) -> float:
    """Diameter of a laced bundle of round wires, in the unit of ``diameters`` (each above zero, at least one).

    The largest of three: the handbook rule 1.2 x sqrt(sum d^2); the two largest side by side; and, for every k, the
    packing of k wires as thick as the k-th largest, which no bundle can beat. One wire is its own bundle.
    Source: ``PACKING``, ``HANDBOOK``. An estimate: lacing, sleeves and splices are not in it.

    >>> round(bundle_diameter([2.0] * 24), 2)     # handbook rule: 1.2 x sqrt(24) x 2.0
    11.76
    >>> bundle_diameter([3.0, 1.0])               # two circles side by side
    4.0
    """
    thick = sorted(diameters, reverse=True)
    if not thick or thick[-1] <= 0:
        raise ValueError("a bundle has at least one wire, and every diameter is above zero")
    if len(thick) == 1:
        return thick[0]
    handbook = FACTOR * math.sqrt(math.fsum(d * d for d in thick))
    packed = max(RATIOS[k] * d for k, d in enumerate(thick[: len(RATIOS)]))
    return max(handbook, packed, thick[0] + thick[1])
