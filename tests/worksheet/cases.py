"""One table of typed values and what each means, for the Python verdict and for the page's script.

The expected words follow from the limits by arithmetic that can be done in the head: 0.2 is not more than 0.25.
"""

from __future__ import annotations

from harnesscheck.ringout.reading import Reading


def _reading(unit: str, low: float | None, high: float | None) -> Reading:
    return Reading(
        id="X1", article="bench", kind="volts" if unit == "V" else "ohms", a=(), b=(), expected=None, low=low,
        high=high, unit=unit, why="",
    )  # fmt: skip


READINGS = {
    "through": _reading("ohm", None, 0.25),
    "apart": _reading("ohm", 10e6, None),
    "bus": _reading("ohm", 55.0, 65.0),
    "written": _reading("ohm", None, None),
    "supply": _reading("V", 26.5, 28.6),
    "nothing": _reading("V", -0.1, 0.1),
    "at most": _reading("V", None, 28.6),
}
CASES = [
    ("through", "", "ohm", "not read"), ("through", "   ", "ohm", "not read"),
    ("through", "0.2", "ohm", "good"), ("through", "0.25", "ohm", "good"), ("through", "0.26", "ohm", "wrong"),
    ("through", ".2", "ohm", "good"), ("through", "0.", "ohm", "good"), ("through", "1.", "ohm", "wrong"),
    ("through", " 0.2 ", "ohm", "good"), ("through", "0.2 ohm", "kohm", "good"), ("through", "200 mohm", "ohm", "good"),
    ("through", "0.2", "kohm", "wrong"), ("through", "OL", "ohm", "wrong"), ("through", "open", "Mohm", "wrong"),
    ("through", "0", "ohm", "good"), ("through", "-0.2", "ohm", "good"), ("through", "-0.6", "ohm", "not understood"),
    ("through", "0,2", "ohm", "not understood"), ("through", "0.2x", "ohm", "not understood"),
    ("through", "good", "ohm", "not understood"), ("through", "0.2 V", "ohm", "not understood"),
    ("through", "1e-3", "ohm", "not understood"), ("through", "0x1", "ohm", "not understood"),
    ("through", "0.2 constructor", "ohm", "not understood"), ("through", "1 2", "ohm", "not understood"),
    ("through", "nan", "ohm", "not understood"), ("through", "<0.2", "ohm", "good"),
    ("through", "<0.5", "ohm", "unclear"), ("through", ">0.3", "ohm", "wrong"), ("through", ">0.2", "ohm", "unclear"),
    ("through", "1234567890123", "ohm", "not understood"), ("through", "0.1234567891", "ohm", "not understood"),
    ("apart", "OL", "ohm", "good"), ("apart", "O.L", "ohm", "good"), ("apart", "ol", "Mohm", "good"),
    ("apart", "0L", "ohm", "good"), ("apart", "inf", "ohm", "good"), ("apart", "---", "ohm", "good"),
    ("apart", ">", "ohm", "good"), ("apart", "10", "Mohm", "good"), ("apart", "10 M", "ohm", "good"),
    ("apart", "9.99", "Mohm", "wrong"), ("apart", "30", "ohm", "wrong"), ("apart", "30M\u03a9", "ohm", "good"),
    ("apart", "20000", "kohm", "good"), ("apart", ">20M", "ohm", "good"), ("apart", "> 20", "Mohm", "good"),
    ("apart", "<1", "kohm", "wrong"), ("apart", "<20", "Mohm", "unclear"), ("apart", ">5", "Mohm", "unclear"),
    ("apart", "0", "ohm", "wrong"), ("apart", "12.0.0", "Mohm", "not understood"),
    ("bus", "60.1", "ohm", "good"), ("bus", "55", "ohm", "good"), ("bus", "65", "ohm", "good"),
    ("bus", "65.1", "ohm", "wrong"), ("bus", "40", "ohm", "wrong"), ("bus", "120", "ohm", "wrong"),
    ("bus", "0.06", "kohm", "good"), ("bus", "OL", "ohm", "wrong"), ("bus", ">60", "ohm", "unclear"),
    ("bus", "<50", "ohm", "wrong"), ("bus", ">100", "ohm", "wrong"),
    ("written", "1.2", "kohm", "noted"), ("written", "OL", "ohm", "noted"), ("written", "?", "ohm", "not understood"),
    ("supply", "27.9", "V", "good"), ("supply", "26.49", "V", "wrong"), ("supply", "27900", "mV", "good"),
    ("supply", "27.9 ohm", "V", "not understood"), ("supply", "OL", "V", "not understood"),
    ("supply", "-27.9", "V", "wrong"), ("supply", "+27.9", "V", "good"),
    ("nothing", "0", "V", "good"), ("nothing", "-0.05", "V", "good"), ("nothing", "12.1", "V", "wrong"),
    ("nothing", "90", "mV", "good"), ("nothing", "-110", "mV", "wrong"), ("nothing", "<0.1", "V", "unclear"),
    ("at most", "28", "V", "good"), ("at most", "28.7", "V", "wrong"), ("at most", "<20", "V", "good"),
]  # fmt: skip
"""Reading, typed, unit beside it, verdict."""
