"""What a customer says (``new unit dead``, ``bus errors after install``, ``old radio quit``), as weights of faults."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from harnesscheck.trouble.faults import Plan, Trouble

WEIGHT = 8.0
"""How much likelier a fault becomes that fits what was said: opinion."""
LEAST = 4
"""Letters from which a word may hold a typing slip."""


@dataclass(frozen=True, slots=True)
class Symptom:
    """Words that somebody uses, and the faults that would make them say so."""

    says: str
    """What was understood."""
    words: tuple[tuple[str, ...], ...]
    """Each group must be found, by any of its words."""
    signals: frozenset[str] = frozenset()
    """Signal classes whose copper is suspected; empty: any."""
    kinds: frozenset[str] = frozenset()
    """Kinds of fault that are suspected; empty: any."""
    unless: tuple[str, ...] = ()
    """Words that tell it is about something else, unless ``new`` is said as well."""
    where: str = ""
    """``unit``: on a stub of the new unit; ``through``: on a line of the aircraft that runs through the kit."""


_DEAD = ("dead", "nothing", "dark", "blank", "off", "power", "start", "starts", "on", "boot", "alive", "quit")
_OLD = ("old", "other", "existing", "before")
_PLAIN = frozenset({"can", "bus", "pwr", "rtn", "sig", "gnd", "the", "not", "new", "out", "all", "for"})
"""Words of circuit names that are said of any circuit, or are plain English."""
_BUS = frozenset({"can", "rs485", "rs422", "arinc429"})
_ERRORS = ("error", "errors", "fail", "fails", "failure", "fault", "lost", "timeout", "flag", "drops", "bad", "down",
           "no")  # fmt: skip
_QUIT = ("quit", "quits", "stopped", "dead", "lost", "gone", "died", "fails", "failed", "out", "inop", "stops")
SYMPTOMS = (
    Symptom("the new unit is dead", (("new", "unit", "box", "probe", "sensor", "display"), _DEAD),
            frozenset({"power", "ground"}), unless=_OLD, where="unit"),
    Symptom("errors on a bus", (("bus", "can", "data", "network", "comm", "communication"), (*_ERRORS, "noise")), _BUS),
    Symptom("serial data is missing", (("serial", "rs232", "data", "position", "gps"), (*_ERRORS, "missing", "none")),
            frozenset({"rs232", "nmea0183", "rs422", "arinc429"})),
    Symptom("something that worked before has quit", ((*_OLD, "radio", "light", "warning", "transponder",
            "autopilot"), _QUIT), where="through"),
    Symptom("a breaker trips", (("breaker", "fuse", "cb"), ("trips", "trip", "tripped", "pops", "popped", "blows",
            "blown", "blow", "out")), kinds=frozenset({"short to ground", "short between neighbours", "short to power",
            "pair exchanged", "swapped contacts", "shifted row"})),
    Symptom("it comes and goes", (("intermittent", "sometimes", "wiggle", "vibration", "comes", "occasional", "random",
            "bumps", "flickers"),), kinds=frozenset({"high resistance", "contact open", "ground contact open",
            "short between neighbours"})),
    Symptom("a reading is wrong or wanders", (("reading", "reads", "value", "indication", "gauge", "temperature",
            "erratic", "jumps", "drifts"), ("wrong", "high", "low", "erratic", "jumps", "off", "drifts", "noisy",
            "reading", "reads")), frozenset({"analogue", "signal ground", "thermocouple", "pulse", "ground"})),
    Symptom("it resets or is weak under load", (("resets", "reset", "reboots", "restarts", "brownout", "dim", "weak",
            "voltage"),), frozenset({"power", "ground"}), frozenset({"high resistance"})),
    Symptom("noise in the audio", (("noise", "hum", "whine", "buzz", "hiss"),), frozenset({"audio", "shield", "ground",
            "signal ground"})),
    Symptom("everything is wrong at once", (("everything", "all", "nothing"), ("wrong", "works", "dead", "work",
            "crazy")), kinds=frozenset({"mirrored", "shifted row", "wrong way round", "ground contact open"})),
)  # fmt: skip
_KNOWN = frozenset(word for symptom in SYMPTOMS for group in symptom.words for word in group)
"""Words that mean what they say: none of them is a typing slip of another."""


def understood(text: str) -> list[Symptom]:
    """The symptoms that a text speaks of; words may hold a typing slip.

    >>> [s.says for s in understood("New unti is daed")]
    ['the new unit is dead']
    >>> [s.says for s in understood("the transponder quit")]       # quit is a word of its own, and no slip of unit
    ['something that worked before has quit']
    """
    words = re.findall(r"[a-z0-9]+", text.casefold())
    return [
        s for s in SYMPTOMS if all(any(_heard(word, group) for word in words) for group in s.words)
        and ("new" in words or not set(words) & set(s.unless))
    ]  # fmt: skip


def _heard(word: str, known: Sequence[str]) -> bool:
    if word in known:
        return True
    if word in _KNOWN or len(word) < LEAST:
        return False
    return bool(get_close_matches(word, [k for k in known if len(k) >= LEAST], cutoff=0.75))


def named(text: str, plan: Plan) -> list[str]:
    """Circuits of the harness that a text names: whole, by a word of three letters, or one of more with a slip."""
    words = set(re.findall(r"[a-z0-9]+", text.casefold()))
    found = []
    for name in dict.fromkeys(plan.names.values()):
        own = [w for w in re.findall(r"[a-z0-9]+", name.casefold()) if len(w) >= LEAST]
        short = {w for w in re.findall(r"[a-z0-9]+", name.casefold()) if len(w) == LEAST - 1} - _PLAIN
        if _said(name, text) or short & words or any(get_close_matches(w, words, cutoff=0.85) for w in own):
            found.append(name)
    return found


def _said(name: str, text: str) -> bool:
    """True when a text holds a name as whole words, not inside another word."""
    return re.search(rf"(?<![a-z0-9]){re.escape(name.casefold())}(?![a-z0-9])", text.casefold()) is not None


def factors(text: str, troubles: Sequence[Trouble], plan: Plan, stubs: frozenset[str]) -> dict[int, float]:
    """Weight of each fault by what was said; ``stubs`` are the connectors that lead to new units."""
    heard, circuits = understood(text), set(named(text, plan))
    found: dict[int, float] = {}
    for number, trouble in enumerate(troubles):
        points = plan.reached(trouble)
        weight = 1.0
        for symptom in heard:
            fits = not symptom.kinds or trouble.kind in symptom.kinds
            fits &= not symptom.signals or any(plan.signals.get(p) in symptom.signals for p in points)
            if symptom.where:
                on_stub = any(p.ref in stubs for p in points)
                fits &= on_stub if symptom.where == "unit" else not on_stub
            weight *= WEIGHT if fits else 1.0
        if circuits and any(plan.names.get(p) in circuits for p in points):
            weight *= WEIGHT
        if weight != 1.0:
            found[number] = weight
    return found
