"""A sheet as a part of an HTML page that needs nothing from outside itself.

Built as an element tree, never by pasting text, so a name such as ``<script>`` stays a name.
"""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable, Sequence
from xml.etree import ElementTree as ET

from harnesscheck.paper import svg
from harnesscheck.paper.blocks import (
    NO_PACK,
    Block,
    Cell,
    Content,
    Facts,
    Figure,
    Heading,
    Stamp,
    Table,
    Words,
)  # fmt: skip
from harnesscheck.paper.cautions import CAUTIONS
from harnesscheck.paper.strips import name as safe
from harnesscheck.paper.svg import Canvas, clean

SUFFIX = ".html"
HOLE = "\x01"
"""Tag where text is put in: a character that no text of ours can hold, see ``svg.clean``."""
STYLE = """
:root { color-scheme: light; }
body { margin: 0 auto; padding: 0.5rem 1rem 4rem; max-width: 75rem; color: #000; background: #fff;
  font: 1rem/1.45 system-ui, 'DejaVu Sans', sans-serif; }
h1 { font-size: 1.5rem; } h2 { font-size: 1.3rem; margin-top: 2.5rem; border-top: 3px solid #000; padding-top: 0.5rem; }
h3 { font-size: 1.1rem; } table { border-collapse: collapse; font-size: 0.9rem; }
.wide { overflow-x: auto; max-width: 100%; margin: 0.5rem 0 1rem; }
caption { text-align: left; font-weight: bold; padding: 0.3rem 0; }
th, td { border: 1px solid #666; padding: 0.2rem 0.45rem; text-align: left; vertical-align: top; }
th { border-bottom: 2px solid #000; } td.right, th.right { text-align: right; } td.write { min-width: 5rem; }
tr.total td { border-top: 2px solid #000; font-weight: bold; } tr:target td, :target > h3 { background: #ffe9a8; }
td, dd, p { overflow-wrap: break-word; } td { max-width: 24rem; }
dl { display: grid; grid-template-columns: minmax(6rem, max-content) 1fr; gap: 0.15rem 1rem; } dd { margin: 0; }
.caution { border: 2px solid #000; padding: 0.5rem 0.8rem; } .strong { font-weight: bold; } a { color: #00409c; }
figure { margin: 1rem 0; } svg { display: block; max-width: none; }
"""


def write(content: Content, stamp: Stamp) -> bytes:
    """The sheet as a page of its own."""
    return page(stamp.title, [head(stamp), section(content, stamp)])


def page(title: str, parts: Sequence[ET.Element], style: str = "", script: str = "") -> bytes:
    """A whole page. Nothing but the style and the script given here may run: the page's own policy says so."""
    root = _root(title, parts, style, script)
    return f"<!DOCTYPE html>\n{text(root)}\n".encode()


def page_of_texts(title: str, parts: Sequence[ET.Element], texts: Iterable[str], style: str, script: str) -> bytes:
    """The same page when what follows ``parts`` has been written as text already."""
    hole = ET.Element(HOLE)
    before, after = text(_root(title, [*parts, hole], style, script)).split(text(hole))
    return f"<!DOCTYPE html>\n{before}{''.join(texts)}{after}\n".encode()


def text(element: ET.Element) -> str:
    """An element as it is written in a page."""
    return ET.tostring(element, encoding="unicode", method="html")


def _root(title: str, parts: Sequence[ET.Element], style: str, script: str) -> ET.Element:
    root = ET.Element("html", {"lang": "en"})
    top = ET.SubElement(root, "head")
    ET.SubElement(top, "meta", {"charset": "utf-8"})
    policy = f"default-src 'none'; style-src {_hash(STYLE + style)}"
    policy += f"; script-src {_hash(script)}" if script else ""
    policy += "; base-uri 'none'; form-action 'none'"
    ET.SubElement(top, "meta", {"http-equiv": "Content-Security-Policy", "content": policy})
    ET.SubElement(top, "meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"})
    say(ET.SubElement(top, "title"), title)
    ET.SubElement(top, "style").text = STYLE + style
    body = ET.SubElement(root, "body")
    body.extend(parts)
    if script:
        ET.SubElement(body, "script").text = script
    return root


def _hash(text: str) -> str:
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii") + "'"


def say(element: ET.Element, text: str) -> ET.Element:
    """Give an element its text."""
    element.text = clean(text)
    return element


def head(stamp: Stamp) -> ET.Element:
    """Title block and cautions."""
    top = ET.Element("header")
    say(ET.SubElement(top, "h1"), stamp.title)
    pairs = [
        ("Revision", stamp.revision or "not stated"), ("File", stamp.file), ("Pack id", stamp.pack or NO_PACK),
        ("Made with", stamp.tool),
    ]  # fmt: skip
    top.append(_facts(Facts(tuple(([("Note", stamp.note)] if stamp.note else []) + pairs))))
    box = ET.SubElement(top, "div", {"class": "caution"})
    for caution in (*([stamp.warning] if stamp.warning else []), *CAUTIONS):
        say(ET.SubElement(box, "p"), caution)
    return top


def section(content: Content, stamp: Stamp) -> ET.Element:
    """One sheet."""
    part = ET.Element("section", {"id": f"sheet-{safe(content.name)}"})
    say(ET.SubElement(part, "h2"), f"{stamp.numbers.get(content.name, '')} {content.title}".strip())
    for block in content.blocks:
        part.extend(_block(block))
    if content.decisions:
        say(ET.SubElement(part, "h3"), "Decided in writing for this job")
        for said in content.decisions:
            say(ET.SubElement(part, "p"), said)
    return part


def _block(block: Block) -> list[ET.Element]:
    if isinstance(block, Heading):
        return [say(ET.Element("h3", {"id": safe(block.anchor)} if block.anchor else {}), block.text)]
    if isinstance(block, Words):
        return [say(ET.Element("p", {"class": "strong"} if block.strong else {}), block.text)]
    if isinstance(block, Facts):
        return [_facts(block)]
    if isinstance(block, Table):
        return [_table(block)]
    if isinstance(block, Figure):
        return [_figure(block)]
    return []


def _facts(block: Facts) -> ET.Element:
    listed = ET.Element("dl")
    for key, value in block.pairs:
        say(ET.SubElement(listed, "dt"), key)
        say(ET.SubElement(listed, "dd"), value)
    return listed


def _table(table: Table) -> ET.Element:
    box = ET.Element("div", {"class": "wide"})
    made = ET.SubElement(box, "table", {"data-table": safe(table.name)})
    if table.title:
        say(ET.SubElement(made, "caption"), table.title)
    if not table.rows:
        say(ET.SubElement(box, "p"), "none")
        return box
    line = ET.SubElement(ET.SubElement(made, "thead"), "tr")
    for column in table.columns:
        say(ET.SubElement(line, "th", {"scope": "col", **({"class": "right"} if column.right else {})}), column.title)
    body = ET.SubElement(made, "tbody")
    for number, row in enumerate(table.rows):
        line = ET.SubElement(body, "tr", {"class": "total"} if number >= len(table.rows) - table.totals else {})
        for column, cell in zip(table.columns, row, strict=True):
            looks = [key for key, on in (("right", column.right), ("write", column.blank)) if on]
            _cell(line, cell, " ".join(looks))
    return box


def _cell(line: ET.Element, cell: str | Cell, looks: str) -> None:
    made = ET.SubElement(line, "td", {"class": looks} if looks else {})
    if isinstance(cell, str):
        say(made, cell)
        return
    if cell.anchor and not line.get("id"):
        line.set("id", safe(cell.anchor))
    if cell.strong:
        made.set("class", f"{looks} strong".strip())
    say(ET.SubElement(made, "a", {"href": f"#{safe(cell.link)}"}) if cell.link else made, cell.text)


def _figure(block: Figure) -> ET.Element:
    box = ET.Element("figure")
    drawing = Canvas(block.width, block.height)
    block.draw(drawing)
    ET.SubElement(box, "div", {"class": "wide"}).append(inline(drawing, block.name))
    say(ET.SubElement(box, "figcaption"), block.caption)
    return box


def inline(drawing: Canvas, name: str) -> ET.Element:
    """A drawing in a page: its ids begin with ``name``, so that the row of a list owns the plain id.

    A thing drawn leads to the row of the same name when it is tapped.
    """
    root = ET.fromstring(svg.svg([drawing], name))  # noqa: S314, our own text a line above
    for element in list(root.iter()):
        element.tag = element.tag.partition("}")[2] or element.tag
    root.set("xmlns", svg.NAMESPACE)
    root.set("role", "img")
    for parent in list(root.iter()):
        target = parent.get("href", "").partition("#")[2]
        if target:
            parent.set("href", f"#{target}")
            parent.set("data-name", target)
        for place, child in enumerate(list(parent)):
            owner = child.get("id")
            if owner is None:
                continue
            child.set("id", f"{safe(name)}.{owner}")
            target = owner.removeprefix("drawn-").partition(".")[0]
            if not owner.startswith("sheet-") and parent.tag != "a" and child.find(".//a") is None:
                link = ET.Element("a", {"href": f"#{target}", "data-name": target})
                parent[place] = link
                link.append(child)
    return root
