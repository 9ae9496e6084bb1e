"""What was understood of a list, as a person reads it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from harnesscheck.fault import quoted
from harnesscheck.formats._lists.account import Left
from harnesscheck.formats._lists.reader import Imported


def shown(imported: Imported) -> str:
    """Tables, remarks, what was not understood, and the account of all rows."""
    draft, account = imported.draft, imported.account
    lines = ["Understood:", *(f"  {quoted(said)}" for said in draft.understood or ["nothing"])]
    lines += [f"  {len(draft.wires)} wires, {len(draft.pins)} cavities, {len(draft.connectors)} connectors"
              f"{_points(imported)}"]  # fmt: skip
    renamed = [f"{typed} is written {ref}" for ref, typed in draft.names.items()]
    remarks = [*draft.remarks, *([f"references hold letters and digits only: {', '.join(renamed)}"] if renamed else [])]
    if remarks:
        lines += ["", "Note:", *(f"  {quoted(said)}" for said in remarks)]
    for title, listed in (
        ("Not understood, and not taken:", account.left),
        ("Values not understood (their rows were taken without them):", account.values),
        ("Retired in the list, and not taken:", account.retired),
    ):
        if listed:
            lines += ["", title, *_listed(imported, listed)]
    lines += ["", account.line()]
    return "\n".join(lines) + "\n"


def _points(imported: Imported) -> str:
    said = ""
    for kind in ("splices", "grounds", "breakers"):
        refs = [imported.draft.names.get(r, r) for r, k in imported.draft.points.items() if k == kind]
        if refs:
            said += f", {'ground studs' if kind == 'grounds' else kind}: {', '.join(refs)}"
    return said


def _listed(imported: Imported, listed: Iterable[Left]) -> Iterator[str]:
    for left in sorted(listed, key=lambda one: (one.line, one.column)):
        yield f"  {quoted(imported.document.where(left.line, left.column))}: {quoted(left.text)}"
        yield f"      {quoted(left.reason)}" + (f"; do: {quoted(left.remedy)}" if left.remedy else "")


def map_text(imported: Imported) -> str:
    """A map file with what was understood of the first table, for a person to correct."""
    from harnesscheck.formats._lists.build import scalar
    from harnesscheck.formats._lists.mapping import FIELDS
    from harnesscheck.formats._lists.source import letters

    table = next((t for t in imported.draft.tables if t.top is not None), None)
    sheet = table.sheet if table else imported.document.sheets[0]
    lines = ["# How to read this shop's lists: correct the columns, delete what you do not need.", "kind: list map"]
    if sheet.name:
        lines.append(f"sheet: {scalar(sheet.name)}")
    lines.append(f"header row: {table.top.number if table and table.top else 1}")
    lines.append(f"# fields: {', '.join(FIELDS)}")
    lines.append("columns:")
    width = len(table.heads) if table else max(len(row.cells) for row in sheet.rows)
    for index in range(width):
        head = table.heads[index] if table else None
        named = next((n for n, h in FIELDS.items() if head and (h.field, h.side) == (head.field, head.side)), "")
        named = named or (f"{head.side}" if head and head.side and head.field == "ref" else "")
        title = "".join(c if c.isprintable() else " " for c in table.title(index)) if table else ""
        lines.append(f"  {letters(index + 1)}: {named or 'ignore'}" + (f"  # {title}" if title else ""))
    lines += [
        "# connector: P14",
        "# gauge unit: AWG",
        "# length unit: mm",
        "# splices: [J1, JS2]",
        "# grounds: [FRAME]",
    ]
    return "\n".join(lines) + "\n"
