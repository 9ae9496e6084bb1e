"""Workbooks for the tests: written by an independent library, or by hand where the content is meant to be bad."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path
from typing import Any

ODS = "urn:oasis:names:tc:opendocument:xmlns:"


def xlsx(
    path: Path,
    sheets: dict[str, list[list[Any]]],
    merged: dict[str, list[tuple[int, int, int, int, str]]] | None = None,
    struck: frozenset[tuple[str, int]] = frozenset(),
) -> Path:
    """A workbook; numbers become number cells, ``date`` objects date cells; rows in ``struck`` are struck through."""
    import datetime

    import xlsxwriter

    book = xlsxwriter.Workbook(str(path))
    gone, dated = book.add_format({"font_strikeout": True}), book.add_format({"num_format": "d-mmm"})
    for name, rows in sheets.items():
        sheet = book.add_worksheet(name)
        for r, row in enumerate(rows):
            for c, value in enumerate(row):
                form = gone if (name, r) in struck else None
                if isinstance(value, datetime.date):
                    sheet.write_datetime(r, c, datetime.datetime.combine(value, datetime.time()), dated)
                elif isinstance(value, int | float):
                    sheet.write_number(r, c, value, form)
                elif value:
                    sheet.write_string(r, c, value, form)
        for one in (merged or {}).get(name, ()):
            sheet.merge_range(*one)
    book.close()
    return path


def ods(path: Path, rows: list[list[Any]], struck: int = -1, name: str = "Wires") -> Path:
    """A small OpenDocument sheet, written by hand; the row ``struck`` is struck through."""
    lines = []
    for number, row in enumerate(rows):
        style = ' table:style-name="gone"' if number == struck else ""
        cells = "".join(
            f'<table:table-cell{style} office:value-type="float" office:value="{value}"/>'
            if isinstance(value, float)
            else f'<table:table-cell{style} office:value-type="string"><text:p>{value}</text:p></table:table-cell>'
            for value in row
        )
        lines.append(f"<table:table-row>{cells}</table:table-row>")
    spaces = " ".join(f'xmlns:{n}="{ODS}{n}:1.0"' for n in ("office", "table", "text", "style"))
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content {spaces} office:version="1.2">'
        '<office:automatic-styles><style:style style:name="gone" style:family="table-cell">'
        '<style:text-properties style:text-line-through-style="solid"/></style:style></office:automatic-styles>'
        f'<office:body><office:spreadsheet><table:table table:name="{name}">{"".join(lines)}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    return packed(path, {
        "mimetype": "application/vnd.oasis.opendocument.spreadsheet",
        "content.xml": content,
        "META-INF/manifest.xml": '<?xml version="1.0"?><manifest:manifest '
        f'xmlns:manifest="{ODS}manifest:1.0"><manifest:file-entry manifest:full-path="/" '
        'manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/></manifest:manifest>',
    })  # fmt: skip


def packed(path: Path, parts: dict[str, str | bytes]) -> Path:
    """A zip archive of the given parts."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    return path


def with_part(path: Path, name: str, change: Any) -> Path:
    """The same workbook with one part changed by a function of its text."""
    data = path.read_bytes()
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        parts = {n: archive.read(n) for n in archive.namelist()}
    parts[name] = change(parts[name].decode()).encode()
    return packed(path, dict(parts))


def kept(path: Path, sheets: dict[str, list[list[Any]]], orders: dict[str, list[str]]) -> Path:
    """A workbook as people leave it: ``merge A1:B2``, ``hide row 3``, ``hide column E``, ``hide sheet`` by sheet."""
    if path.suffix == ".ods":
        (rows,) = sheets.values()
        return ods(path, rows, name=next(iter(sheets)))
    import datetime

    import xlsxwriter

    book = xlsxwriter.Workbook(str(path))
    dated = book.add_format({"num_format": "d-mmm"})
    for name, rows in sheets.items():
        sheet = book.add_worksheet(name)
        for r, row in enumerate(rows):
            for c, value in enumerate(row):
                if isinstance(value, datetime.date):
                    sheet.write_datetime(r, c, datetime.datetime.combine(value, datetime.time()), dated)
                elif isinstance(value, float):
                    sheet.write_number(r, c, value)
                elif value:
                    sheet.write_string(r, c, value)
        for order in orders[name]:
            match order.split():
                case ["merge", *ranges]:
                    for one in ranges:
                        first, _, _ = one.partition(":")
                        column, line = ord(first[0]) - 65, int(first[1:]) - 1
                        value = rows[line][column]
                        sheet.merge_range(one, value)
                case ["hide", "row", number]:
                    sheet.set_row(int(number) - 1, None, None, {"hidden": True})
                case ["hide", "column", letter]:
                    sheet.set_column(f"{letter}:{letter}", None, None, {"hidden": True})
                case ["hide", "sheet"]:
                    sheet.hide()
    book.close()
    return path
