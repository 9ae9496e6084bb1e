"""The airframe file of a new job from a list of wires: the list as it stands, and blanks for what no list tells."""

from __future__ import annotations

from dataclasses import dataclass

from harnesscheck.commands._common import usage
from harnesscheck.document import Block
from harnesscheck.fault import InputError, nearest
from harnesscheck.formats._lists.build import as_yaml, scalar
from harnesscheck.formats._lists.reader import Imported
from harnesscheck.formats._unread import KEY
from harnesscheck.newjob import EXAMPLES, classes


@dataclass(frozen=True, slots=True)
class Told:
    """What a list gives: the lines of the file, the cavities of the opened pair, and how much was not read."""

    lines: tuple[str, ...]
    cavities: tuple[str, ...]
    left: int


def told(imported: Imported, halves: tuple[str, str], parts: tuple[str, str], aircraft: str) -> Told:
    """The airframe file with the pair mated. Raises ``InputError`` when neither half stands in the list."""
    root = imported.draft.document.root
    connectors = root["connectors"]
    listed = [half for half in halves if half in connectors]
    if not listed:
        remedy = nearest(halves[0], list(connectors)) or f"the list has: {', '.join(list(connectors)[:12])}"
        raise InputError([usage(f"neither {halves[0]} nor {halves[1]} stands in the list", remedy)])
    if aircraft:
        root["title"] = aircraft
    for half, part in zip(halves, parts, strict=True):
        if half not in connectors:
            _put(connectors, half, Block(1, 1))
        if part:
            _put(connectors[half], "part", part)
    if not any("mates" in connectors[half] for half in halves):
        _put(connectors[halves[0]], "mates", halves[1])
    for half in halves:
        block = connectors[half]
        if "cavities" in block:  # behind what is one line each
            block["cavities"] = block.pop("cavities")
    named = [name for half in listed for name in connectors[half].get("cavities", ())]
    named += [cavity for wire in imported.draft.wires for ref, cavity in (wire.a, wire.b) if ref in listed and cavity]
    cavities = tuple(dict.fromkeys(named))
    text = as_yaml(imported.draft).rstrip("\n").splitlines()
    for half in halves:
        if half not in listed:  # no cell of the list says it
            at = next(n for n, line in enumerate(text) if line.startswith(f"  {half}: {{"))
            text[at] = text[at].partition("  # ")[0] + "  # not in the list"
    at = next(n for n, line in enumerate(text) if line.startswith("title:")) + 1
    lines = [*text[:at], "parts: shop-parts.yaml", *text[at:], "", *_blanks(root)]
    return Told(tuple(lines), cavities, len(imported.document.root.get(KEY, ())))


def _blanks(root: Block) -> list[str]:
    """What a list of wires does not tell, to be filled in."""
    named = dict.fromkeys(
        pin["circuit"]
        for entry in root["connectors"].values()
        for pin in entry.get("cavities", {}).values()
        if isinstance(pin, Block) and "circuit" in pin
    )
    lines = [
        "# Fill in what no list of wires tells. Signal classes are:",
        *classes("# "),
        "# Of a supply: {signal: power, supply: 14 V, breaker: CB7, load: 0.6 A, returns: AUX RTN}",
    ]
    if named:
        lines += ["circuits:", *(f"  {scalar(name)}: {{}}" for name in named)]
    return [
        *lines,
        "",
        f"# Of a breaker, in the section breakers: {EXAMPLES['breakers']}",
        "# buses:",
        f"#   {EXAMPLES['buses']}",
        "# sources:",
        f"#   {EXAMPLES['sources']}",
        "# zones:             # then say zone: at each connector",
        f"#   {EXAMPLES['zones']}",
        "# routes:            # from the pair to the new box; the plan takes the length of its branches from it",
        f"#   {EXAMPLES['routes']}",
    ]


def _put(block: Block, key: str, value: object) -> None:
    block[key] = value
    block.marks[key] = (1, 1, 1, 1)
