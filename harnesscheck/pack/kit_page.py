"""``kit.html``: the whole pack on one page that works without a network, on a phone and on a desk.

The page's own policy lets nothing run but the script below, whose hash it carries. Without the script everything can
be read; with it a name typed in the box, or a wire tapped in a drawing, is shown wherever it stands.
"""

from __future__ import annotations

from xml.etree import ElementTree as ET

from harnesscheck.pack.book import Book, Sheet
from harnesscheck.paper import as_html
from harnesscheck.paper.strips import name as safe

STYLE = """
nav ol { columns: 20rem; padding-left: 0; list-style: none; } nav a { display: inline-block; padding: 0.15rem 0; }
#search { position: sticky; top: 0; background: #fff; padding: 0.6rem 0; z-index: 2; border-bottom: 1px solid #666; }
#search input { font: inherit; padding: 0.4rem 0.6rem; width: min(100%, 22rem); box-sizing: border-box; }
#search button { font: inherit; padding: 0.4rem 0.8rem; }
tr.hit td { background: #ffe9a8; } tr.away { display: none; }
svg a.hit polyline, svg a.hit path, svg a.hit circle { stroke: #b00000; stroke-width: 14; }
svg a.hit text { fill: #b00000; } svg a { cursor: pointer; }
.noscript { font-style: italic; } section { scroll-margin-top: 4rem; } tr { scroll-margin-top: 6rem; }
@media (min-width: 60rem) { svg { max-width: 100%; height: auto; } }
@media print { #search { display: none; } }
"""

SCRIPT = """
(function () {
  'use strict';
  var box = document.getElementById('search'), input = document.getElementById('find');
  var said = document.getElementById('found');
  var rows = Array.from(document.querySelectorAll('tbody tr'));
  var drawn = Array.from(document.querySelectorAll('svg a[data-name]'));
  var words = rows.map(function (row) { return row.textContent.toLowerCase(); });
  function show() {
    var text = input.value.trim().toLowerCase(), hits = 0;
    rows.forEach(function (row, i) {
      var hit = text !== '' && words[i].indexOf(text) >= 0;
      row.classList.toggle('away', text !== '' && !hit);
      if (hit) { hits += 1; }
    });
    drawn.forEach(function (link) {
      var hit = text !== '' && link.dataset.name.toLowerCase().indexOf(text) >= 0;
      link.classList.toggle('hit', hit);
    });
    said.textContent = text === '' ? '' : hits + (hits === 1 ? ' row' : ' rows');
  }
  function mark() {
    var name = decodeURIComponent(location.hash.slice(1));
    drawn.forEach(function (link) { link.classList.toggle('hit', name !== '' && link.dataset.name === name); });
    rows.forEach(function (row) { row.classList.toggle('hit', name !== '' && row.id === name); });
  }
  box.hidden = false;
  input.addEventListener('input', show);
  document.getElementById('clear').addEventListener('click', function () { input.value = ''; show(); mark(); });
  window.addEventListener('hashchange', function () {
    if (input.value !== '') { input.value = ''; show(); }
    mark();
    var at = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (at) { at.scrollIntoView(); }
  });
  rows.forEach(function (row) {
    if (!row.id) { return; }
    row.addEventListener('click', function () { history.replaceState(null, '', '#' + row.id); mark(); });
  });
  mark();
}());
"""


def page(book: Book) -> bytes:
    """The page."""
    parts = [as_html.head(book.stamp), _search(), _contents(book)]
    taken: set[str] = set()
    for sheet in book.sheets:
        part = _section(sheet, book)
        _once(part, taken)
        parts.append(part)
    known = taken
    for part in parts:
        for link in part.iter("a"):
            # A link whose end is not in this pack is only text.
            if link.get("href", "").partition("#")[2] not in known:
                link.attrib.pop("href", None)
    return as_html.page(f"{book.stamp.title}: kit pack {book.stamp.pack}", parts, STYLE, SCRIPT)


def _search() -> ET.Element:
    box = ET.Element("div", {"id": "search", "hidden": "hidden", "role": "search"})
    as_html.say(ET.SubElement(box, "label", {"for": "find"}), "Find a wire, cavity or part: ")
    ET.SubElement(box, "input", {"id": "find", "type": "search", "autocomplete": "off", "placeholder": "P14-3"})
    as_html.say(ET.SubElement(box, "button", {"id": "clear", "type": "button"}), "show all")
    ET.SubElement(box, "output", {"id": "found", "for": "find"})
    return box


def _contents(book: Book) -> ET.Element:
    nav = ET.Element("nav")
    as_html.say(ET.SubElement(nav, "h2"), "Sheets")
    listed = ET.SubElement(nav, "ol")
    for sheet in book.sheets:
        link = ET.SubElement(ET.SubElement(listed, "li"), "a", {"href": f"#sheet-{safe(sheet.name)}"})
        as_html.say(link, f"{sheet.number}  {sheet.title}")
    return nav


def _section(sheet: Sheet, book: Book) -> ET.Element:
    if sheet.content is not None:
        return as_html.section(sheet.content, book.stamp)
    part = ET.Element("section", {"id": f"sheet-{safe(sheet.name)}"})
    as_html.say(ET.SubElement(part, "h2"), f"{sheet.number} {sheet.title}")
    for number, drawing in enumerate(sheet.pages, 1):
        ET.SubElement(part, "div", {"class": "wide"}).append(as_html.inline(drawing, f"{sheet.name}.{number}"))
    return part


def _once(part: ET.Element, taken: set[str]) -> None:
    """An id stands once in a page: the first to have it keeps it."""
    for element in part.iter():
        name = element.get("id")
        if name is None:
            continue
        if name in taken:
            del element.attrib["id"]
        taken.add(name)
