"""Read finished documents back: nothing here knows the model, or the code that wrote them."""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from xml.etree import ElementTree as ET

Rows = list[dict[str, str]]
SVG = "{http://www.w3.org/2000/svg}"
VOID = {"meta", "input", "br", "hr", "img", "link"}


def csv_tables(data: bytes) -> dict[str, Rows]:
    """Tables of a CSV file, by the name in their first column; one that stands alone has the name ''."""
    found: dict[str, Rows] = {}
    for row in csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")):
        # The leading apostrophe guards against formulas; the project's own reader takes it off again.
        plain = {key: value.removeprefix("'") for key, value in row.items()}
        found.setdefault(plain.pop("table", ""), []).append(plain)
    return found


def xlsx_tables(data: bytes) -> dict[str, list[list[str]]]:
    """Every worksheet as rows of text. Fails when a cell is anything but text."""
    import python_calamine

    book = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(data))
    found = {}
    for name in book.sheet_names:
        rows = book.get_sheet_by_name(name).to_python(skip_empty_area=False)
        assert all(isinstance(cell, str) for row in rows for cell in row), name
        found[name] = [[str(cell) for cell in row] for row in rows]
    return found


def pdf_pages(data: bytes) -> list[str]:
    """The text of each page."""
    import pypdfium2

    document = pypdfium2.PdfDocument(data)
    return [page.get_textpage().get_text_range() for page in document]


def svg_texts(data: bytes) -> list[str]:
    """The lines of lettering, in document order."""
    return [element.text or "" for element in ET.fromstring(data).iter(f"{SVG}text")]


def squeezed(text: str) -> str:
    """Without blanks: where a cell was wrapped does not matter."""
    return re.sub(r"\s+", "", text)


@dataclass
class Node:
    """One element of a page."""

    tag: str
    attributes: dict[str, str]
    parent: Node | None = None
    children: list[Node] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """All text below."""
        return "".join(self.words)

    def all(self, tag: str) -> list[Node]:
        """Every element below of one tag."""
        found = []
        for child in self.children:
            found += [child] if child.tag == tag else []
            found += child.all(tag)
        return found


class _Tree(HTMLParser):
    """A page as a tree, by the standard library's own parser."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = self.here = Node("", {})

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        node = Node(tag, {key: value or "" for key, value in attrs}, self.here)
        self.here.children.append(node)
        if tag not in VOID:
            self.here = node

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.here.children.append(Node(tag, {key: value or "" for key, value in attrs}, self.here))

    def handle_endtag(self, tag: str) -> None:
        assert self.here.tag == tag, f"{tag} ends inside {self.here.tag}"
        assert self.here.parent is not None
        self.here = self.here.parent

    def handle_data(self, data: str) -> None:
        node: Node | None = self.here
        while node is not None:
            node.words.append(data)
            node = node.parent


def html(data: bytes) -> Node:
    """The tree of a page."""
    parser = _Tree()
    parser.feed(data.decode("utf-8"))
    parser.close()
    return parser.root


def html_tables(root: Node) -> dict[str, Rows]:
    """Tables of a page by name; totals are left out, as in the files for a machine."""
    found: dict[str, Rows] = {}
    for table in root.all("table"):
        head = [cell.text for cell in table.all("th")]
        rows = [row for row in table.all("tr") if row.all("td") and row.attributes.get("class") != "total"]
        found[table.attributes["data-table"]] = [
            dict(zip(head, [cell.text for cell in row.all("td")], strict=True)) for row in rows
        ]
    return found
