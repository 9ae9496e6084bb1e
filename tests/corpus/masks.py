"""What one fault may take from another: written by hand, each with its reason.

``MAY_FOLLOW``: a fault whose own finding may be listed under the finding of another check.
``MAY_HIDE``: of two faults in one job, the check of the first may keep the check of the second silent.
"""

from __future__ import annotations

MAY_FOLLOW: dict[str, frozenset[str]] = {
    # The second stud is a piece of the aircraft that was apart before: that it is joined at all is said first.
    "dc-return-on-ac-stud": frozenset({"broken-through-circuit"}),
    # The tap is declared, so the pin that gets no shield is said first.
    "shield-of-a-stub-not-wired": frozenset({"pin-map-mismatch"}),
    # The return of the supply at the ground of a sensor: by how much that matters is said first.
    "stub-from-wrong-splice": frozenset({"shared-sensor-return"}),
    # A plug that is fitted on the bench does not go through the hole either, and that is the graver of the two.
    "bundle-that-does-not-pass": frozenset({"plug-larger-than-passage"}),
    # Without the drain the other drain is alone in its splice.
    "shield-of-a-trunk-cable-not-wired": frozenset({"dead-end-wire"}),
}

MAY_HIDE: dict[tuple[str, str], str] = {}
"""(check that speaks, check that may stay silent about its own fault) to the reason."""

OPEN: dict[str, str] = {
    "live-wire-onto-spare-cavity": "a waiver of the spare's note waives the stop as well",
    "wire-back-into-the-same-half": "a waiver of the spare's note waives the stop as well",
    "drain-in-a-cable-without-shield": "a listed drain counts as a shield whatever the cable type says",
}
"""Faults that a check is known to be silent about: to be mended, not to be lived with."""
