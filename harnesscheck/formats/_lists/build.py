"""From the draft to one of our airframe files: a ``Block`` with the places of the cells, and the same as YAML text."""

from __future__ import annotations

import json
import re
from typing import Any

from harnesscheck.characters import hidden
from harnesscheck.document import Block, Items
from harnesscheck.formats._lists.account import SPARE, UNREAD, WIRE, Left
from harnesscheck.formats._lists.draft import Draft, DraftPin, DraftWire, Mark
from harnesscheck.formats._unread import KEY as UNREAD_KEY

_PLAIN = re.compile(r"[A-Za-z0-9+./_][A-Za-z0-9+./_()=' -]*(?<! )")


def finish(draft: Draft, stem: str) -> None:
    """Settle what only the whole list can tell, then hang everything into the document."""
    _spares_with_wires(draft)
    root = Block(1, 1)
    _put(root, "kind", "airframe", (1, 1))
    _put(root, "title", re.sub(r"[^ -~]", "_", stem) or "list", (1, 1))
    connectors = _section(root, "connectors")
    pins: dict[str, list[tuple[str, DraftPin]]] = {}
    for (owner, name), told_pin in draft.pins.items():
        pins.setdefault(owner, []).append((name, told_pin))
    for ref, told in draft.connectors.items():
        mark = draft.marks.get(ref, (1, 1))
        block = Block(*mark)
        if ref in draft.names:
            _put(block, "name", draft.names[ref][:390].replace("\n", " "), mark)
        for key in ("part", "gender", "note"):
            if key in told:
                _put(block, key, *told[key])
        if ref in draft.mated:
            _put(block, "mates", draft.mated[ref], mark)
        cavities = Block(*mark)
        for cavity, pin in pins.get(ref, ()):
            entry = Block(*pin.mark)
            for key, (text, at) in pin.values.items():
                _put(entry, key, text, at)
            if entry:
                _put(cavities, cavity, entry, pin.mark)
        if cavities:
            _put(block, "cavities", cavities, mark)
        _put(connectors, ref, block, mark)
    wires = _section(root, "wires")
    for wire in draft.wires:
        block = Block(*wire.mark)
        _put(block, "from", "-".join(filter(None, wire.a)), wire.ends[0])
        _put(block, "to", "-".join(filter(None, wire.b)), wire.ends[1])
        for key, (text, at) in wire.values.items():
            _put(block, key, text, at)
        _put(wires, wire.id, block, wire.mark)
    for kind in ("splices", "grounds", "breakers"):
        section = _section(root, kind)
        for ref, own in draft.points.items():
            if own == kind:
                block = Block(*draft.marks.get(ref, (1, 1)))
                if ref in draft.names:
                    key = "note" if kind == "splices" else "name"
                    _put(block, key, draft.names[ref][:390].replace("\n", " "), draft.marks.get(ref, (1, 1)))
                _put(section, ref, block, draft.marks.get(ref, (1, 1)))
    draft.document.root = root
    _keep_unread(draft, root)


def _keep_unread(draft: Draft, root: Block) -> None:
    """What was not understood goes with the file: whoever checks that has not seen the list."""
    listed = Items(1, 1)
    for what, found in (("row", draft.account.left), ("value", draft.account.values)):
        for left in found:
            mark = (left.line, left.column)
            entry = Block(*mark)
            said = {"at": _where(draft, mark), "what": what, "words": _flat(left.text)}
            # Other cells are named as the file says its own: by the name of the list, wherever it lay.
            said["why"] = _flat(left.reason.replace(draft.document.name, _shown(draft)))
            said["remedy"] = _flat(left.remedy)
            for key, text in said.items():
                if text:
                    _put(entry, key, text, mark)
            listed.append(entry)
            listed.marks.append(mark)
    if listed:
        _put(root, UNREAD_KEY, listed, (1, 1))


def _spares_with_wires(draft: Draft) -> None:
    """A cavity that one row calls spare and another wires: the wire stays, and the contradiction is listed."""
    ended: dict[tuple[str, str], DraftWire] = {}
    for wire in draft.wires:
        ended.setdefault(wire.a, wire)
        ended.setdefault(wire.b, wire)
    for point, pin in draft.pins.items():
        use, found = pin.values.get("use"), ended.get(point)
        if use is None or found is None:
            continue
        del pin.values["use"]
        if use[0] == "spare":
            line = pin.line
            reason = f"{point[0]}-{point[1]} is called spare here, and wire {found.id} ends in it"
            reason += f" ({draft.document.where(*found.mark)})"
            draft.account.left.append(Left(*pin.mark, draft.document.line(line), reason, "correct one of the two rows"))
            if draft.account.rows.get(line) in (SPARE, WIRE):
                draft.account.rows[line] = UNREAD


def _section(root: Block, name: str) -> Block:
    block = Block(1, 1)
    _put(root, name, block, (1, 1))
    return block


def _put(block: Block, key: str, value: Any, mark: Mark) -> None:
    block[key] = value
    block.marks[key] = (*mark, *mark)


def as_yaml(draft: Draft) -> str:
    """The file as text: one wire a line, each with the cell that it comes from."""
    root = draft.document.root
    lines = [
        f"# Made from {_shown(draft)} by harnesscheck import.",
        "kind: airframe",
        f"title: {scalar(root['title'])}",
    ]
    for left in draft.account.retired:
        lines.append(f"# not taken: {_where(draft, (left.line, left.column))}: {_flat(left.text)}: {left.reason}")
    if UNREAD_KEY in root:
        lines += ["", "# What the list says and this file does not hold. Write it below, then delete its line here."]
        lines += [f"{UNREAD_KEY}:", *(f"  - {_flow(entry)}" for entry in root[UNREAD_KEY])]
    for section in ("connectors", "wires", "splices", "grounds", "breakers"):
        entries = root[section]
        if not entries:
            continue
        lines += ["", f"{section}:"]
        for name, entry in entries.items():
            cell = _where(draft, entries.marks[name][:2])
            cavities = entry.get("cavities")
            if cavities is None:
                lines.append(f"  {scalar(name)}: {_flow(entry)}  # {cell}")
                continue
            lines.append(f"  {scalar(name)}:  # {cell}")
            lines += [f"    {key}: {scalar(value)}" for key, value in entry.items() if key != "cavities"]
            lines.append("    cavities:")
            for cavity, said in cavities.items():
                lines.append(f"      {scalar(cavity)}: {_flow(said)}  # {_where(draft, cavities.marks[cavity][:2])}")
    return "\n".join(lines) + "\n"


def _shown(draft: Draft) -> str:
    return _flat(draft.document.name.replace("\\", "/").rpartition("/")[2])


def _where(draft: Draft, mark: Mark) -> str:
    return _flat(draft.document.where(*mark).replace("\\", "/").rpartition("/")[2])


def _flat(text: str) -> str:
    """Text for a comment or a value: one line, nothing hidden."""
    return " ".join("".join(" " if hidden(c) else c for c in text).split())[:300]


def _flow(block: Block) -> str:
    return "{" + ", ".join(f"{key}: {scalar(value)}" for key, value in block.items()) + "}"


def scalar(text: str) -> str:
    """Plain where YAML reads it back as it stands, else in quotes."""
    if _PLAIN.fullmatch(text) and " #" not in text and ": " not in text and len(text) < 200:
        return text
    return json.dumps(text, ensure_ascii=False)
