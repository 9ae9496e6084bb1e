"""What one fault may take from another: written by hand, each with its reason.

``MAY_FOLLOW``: a fault whose own finding may be listed under the finding of another check.
``MAY_HIDE``: of two faults in one job, the check of the first may keep the check of the second silent.
"""

from __future__ import annotations

MAY_FOLLOW: dict[str, frozenset[str]] = {
    # A hole too small for the bundle is too small for the plug at its end, and that is said first.
    "bundle-that-does-not-pass": frozenset({"plug-larger-than-passage"}),
    # The second stud is a piece of the aircraft that was apart before: that it is joined at all is said first.
    "dc-return-on-ac-stud": frozenset({"broken-through-circuit"}),
    # The tap is declared, so the pin that gets no shield is said first.
    "shield-of-a-stub-not-wired": frozenset({"pin-map-mismatch"}),
    # The return of the supply at the ground of a sensor: by how much that matters is said first.
    "stub-from-wrong-splice": frozenset({"shared-sensor-return"}),
    "swap-at-tap": frozenset({"shared-sensor-return"}),
    # Without the drain the other drain is alone in its splice.
    "shield-of-a-trunk-cable-not-wired": frozenset({"dead-end-wire"}),
}

MAY_HIDE: dict[tuple[str, str], str] = {
    ("pin-map-mismatch", "thin-wire-behind-breaker"): "the thin stub hangs on another circuit, which has no breaker",
    ("pin-map-mismatch", "pair-apart"): "the pin is no longer on the pair",
    ("unknown-cavity", "thin-wire-behind-breaker"): "the wire no longer reaches the cavity that names the breaker",
    ("dead-end-wire", "shared-sensor-return"): "nothing is plugged in, so the supply has no return at all: no-return",
    ("mirrored-pin-map", "no-tee-class"): "the unit is led to another circuit, so nothing is teed into that line",
}
"""(check that speaks, check that may stay silent about its own fault) to the reason."""

MAY_ASK: dict[tuple[str, str], str] = {
    ("unknown-cavity", "supply-outside-range"): "the stub ends in the air: which bus feeds the unit is not known",
    ("unknown-cavity", "excess-voltage-drop"): "the stub ends in the air: no wire leads from the breaker to the unit",
    ("broken-through-circuit", "excess-voltage-drop"): "feed or return leads elsewhere: there is no way to solve",
    ("broken-through-circuit", "supply-outside-range"): "feed or return leads elsewhere: there is no way to solve",
    ("broken-through-circuit", "missing-isolation-diode"): "the line is joined to another: what hangs on it is open",
    ("ribbon-order-pin-map", "supply-outside-range"): "the unit is led elsewhere: which bus feeds it is not known",
    ("mirrored-pin-map", "supply-outside-range"): "the unit is led elsewhere: which bus feeds it is not known",
    ("ribbon-order-pin-map", "wrong-terminator-count"): "the lines of the bus are joined to others: see mixed copper",
    ("broken-through-circuit", "no-tee-class"): "the line is joined to another: what hangs on it is open",
}
"""(check that speaks, check that may answer *not checked* instead of reporting its own fault) to the reason."""

OPEN: dict[str, str] = {}
"""Faults that a check is known to be silent about: to be mended, not to be lived with."""
