"""May this aircraft get the kit? Four answers, each with its reasons.

* *fits as it is*: the kit in this aircraft has nothing to stop for and nothing that could not be checked.
* *fits with change*: every finding is about a thing of the kit, and one that a change of the kit puts right.
* *must not get it*: at least one finding lies deeper, or the pair or a circuit that the kit needs is not there.
* *not known*: something could not be checked, or a file could not be read. Missing data never passes.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from harnesscheck.document import Document
from harnesscheck.finding import Finding, Report, Severity

CURES = {
    "bundle-tight-in-passage": "thinner bundle, or another way through",
    "duplicate-wire-mark": "other wire mark",
    "exchangeable-plugs": "other keying or marking of the plug",
    "excess-voltage-drop": "thicker or shorter wire",
    "long-stub": "shorter stub",
    "missing-site-tool": "pack the tool",
    "missing-slack": "more slack",
    "missing-spare-contacts": "pack spare contacts",
    "missing-wire-mark": "mark the wire",
    "mixed-contact-finish": "other contact",
    "over-ampacity": "thicker wire",
    "overfull-splice": "other splice",
    "plug-larger-than-passage": "smaller plug, or plug shipped loose",
    "same-marking-on-both-halves": "other marking of the kit's half",
    "several-splices-in-one-segment": "splices put elsewhere",
    "splice-near-connector": "splice put elsewhere",
    "terminator-not-at-end": "terminator switched on or off",
    "thin-wire-behind-breaker": "thicker wire",
    "tight-bend": "thinner bundle, or another way",
    "unplugged-cavity": "sealing plug",
    "unsealed-connector-in-wet-zone": "sealed connector",
    "unsealed-splice-in-wet-zone": "sealed splice",
    "unstaggered-splices": "splices put elsewhere",
    "wire-below-circuit-voltage": "other wire type",
    "wire-below-zone-temperature": "other wire type",
    "wire-outside-crimp-barrel": "other contact or gauge",
    "wire-outside-seal-range": "other wire, or a sleeve",
    "wire-shorter-than-route": "longer stub",
    "wrong-contact-family": "other contact",
    "wrong-contact-gender": "other contact",
    "wrong-mate": "other plug or receptacle",
    "wrong-sealing-plug": "other sealing plug",
    "wrong-terminator-count": "terminator switched on or off",
}
"""Checks whose finding another part, length or mark of the kit puts right, and which. Common practice of the bench."""


class Verdict(StrEnum):
    """The four answers."""

    FITS = "fits as it is"
    CHANGE = "fits with change"
    NOT = "must not get it"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What is said of one aircraft. Plain text only: a row travels between processes."""

    file: str
    aircraft: str = ""
    """Registration or serial number; for a type's own file, its title."""
    found: str = ""
    """When and by whom the aircraft was looked at."""
    verdict: Verdict
    changes: tuple[str, ...] = ()
    """What has to be changed on the kit, and why."""
    reasons: tuple[str, ...] = ()
    """Why it must not get the kit."""
    missing: tuple[str, ...] = ()
    """What is not known."""
    matter: tuple[str, ...] = ()
    """Differences from the type that matter to the kit, each with what it changes."""
    no_matter: tuple[str, ...] = ()
    """Differences from the type that do not, each with the reason."""


def verdict(report: Report, kit: Document) -> tuple[Verdict, list[str], list[str], list[str]]:
    """The verdict on one aircraft, with what to change, why it must not get the kit, and what is not known."""
    changes, reasons, broken = list[str](), list[str](), list[str]()
    for finding in report.primary:
        if finding.severity not in (Severity.STOP, Severity.CAUTION):
            continue
        if finding.source is not None and finding.source.document == "harnesscheck itself":
            broken.append(finding.headline)
            continue
        cure = CURES.get(finding.check)
        if cure and _of_the_kit(finding, kit):
            changes.append(f"{cure}: {finding.headline} [{finding.check}]; {finding.remedy}")
        else:
            reasons.append(_said(finding))
    missing = broken + list(grouped((n.check, n.place.label, n.missing) for n in report.not_checked))
    if reasons:
        return Verdict.NOT, changes, reasons, missing
    if missing:
        return Verdict.UNKNOWN, changes, reasons, missing
    if changes:
        return Verdict.CHANGE, changes, reasons, missing
    return Verdict.FITS, changes, reasons, missing


def grouped(items: Iterable[tuple[str, str, str]]) -> Iterable[str]:
    """``check: P14-1, P14-2: what is missing``, one line for each check and what it misses."""
    together: dict[tuple[str, str], list[str]] = {}
    for check, label, missing in items:
        together.setdefault((check, missing), []).append(label)
    for (check, missing), labels in together.items():
        named = list(dict.fromkeys(labels))
        more = f" and {len(named) - 5} more" if len(named) > 5 else ""
        yield f"{check}: {', '.join(named[:5])}{more}: {missing}"


_ANYWHERE = ("terminator-not-at-end", "wrong-terminator-count")
"""Checks whose finding stands at the bus, and which the kit can put right at its own unit."""


def _of_the_kit(finding: Finding, kit: Document) -> bool:
    """True when the finding is about a thing of the kit: a thin wire of the aircraft is no change of the kit."""
    places = (finding.place, *finding.others) if finding.check in _ANYWHERE else (finding.place,)
    return any(place.document is kit for place in places)


def _said(finding: Finding) -> str:
    word = finding.severity.word.lower() if finding.severity else ""
    return f"{word}: {finding.headline} [{finding.check}]"
