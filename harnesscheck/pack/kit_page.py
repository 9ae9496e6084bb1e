"""``kit.html``: the whole pack on one page that works without a network, on a phone and on a desk.

A pack that is too much for one page has several; then ``kit.html`` holds cover and contents, and finds a name in the
others. The page's own policy lets nothing run but the script below, whose hash it carries. Without the script
everything can be read; with it a name typed in the box, or a wire tapped in a drawing, is shown wherever it stands.
"""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Iterator, Sequence
from xml.etree import ElementTree as ET

from harnesscheck.pack.book import Book, Sheet
from harnesscheck.paper import as_html
from harnesscheck.paper.blocks import Content
from harnesscheck.paper.portions import portions
from harnesscheck.paper.strips import name as safe
from harnesscheck.paper.svg import Canvas

FILE = "kit.html"
MOST = 20_000_000
"""Bytes of one page: a telephone of some years ago still opens it within seconds (common practice, not measured)."""
ROWS = 2_000
"""Rows of a section; a longer sheet has several, so that it can go on in the next page."""
MARK = "\x01"
"""Stands before the end of a link until all is there: no text of ours can hold it, see ``svg.clean``."""
_LINK = re.compile(rf' href="{MARK}([^"]*)"')
NAMED = ("tr", "h3", "section")
"""What of a page a search by name leads to."""

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

FINDER = """
(function () {
  'use strict';
  var where = JSON.parse(document.getElementById('where').textContent), names = [], file = {};
  Object.keys(where).forEach(function (page) {
    where[page].forEach(function (name) { names.push(name); file[name] = page; });
  });
  var list = document.getElementById('elsewhere'), input = document.getElementById('find');
  function go() {
    var name = decodeURIComponent(location.hash.slice(1));
    if (Object.prototype.hasOwnProperty.call(file, name)) { location.replace(file[name] + '#' + name); }
  }
  input.addEventListener('input', function () {
    var text = input.value.trim().toLowerCase(), hits = [];
    for (var i = 0; text !== '' && i < names.length && hits.length < 100; i += 1) {
      if (names[i].toLowerCase().indexOf(text) >= 0) { hits.push(names[i]); }
    }
    list.textContent = '';
    hits.forEach(function (name) {
      var item = document.createElement('li'), link = document.createElement('a');
      link.href = file[name] + '#' + name; link.textContent = name;
      item.appendChild(link); list.appendChild(item);
    });
  });
  document.getElementById('clear').addEventListener('click', function () { list.textContent = ''; });
  window.addEventListener('hashchange', go);
  go();
}());
"""


class Pages:
    """The page of a kit, or the pages of a large one: sheets are added one by one and kept on the disk as text.

    Links are set when all is there: one whose end is in no page of the pack is only text.
    """

    def __init__(self, book: Book) -> None:
        self._book = book
        self._kept = tempfile.TemporaryFile()  # noqa: SIM115, lives as long as the pages
        self._parts: list[tuple[Sheet, int, int]] = []
        """Sheet of each section, where its text begins, and its length."""
        self._at: dict[str, int] = {}
        """Number of the section that has a name."""
        self._found: dict[int, list[str]] = {}
        """The names of each section that a search leads to."""

    def add(self, sheet: Sheet, content: Content) -> None:
        """A sheet that is made of blocks."""
        for portion in portions(content, ROWS):
            self._keep(sheet, as_html.section(portion, self._book.stamp))

    def draw(self, sheet: Sheet, start: int, drawings: Sequence[Canvas]) -> None:
        """Pages of a drawing, from page number ``start`` on."""
        part = ET.Element("section", {"id": f"sheet-{safe(sheet.name)}"})
        more = ", continued" if start > 1 else ""
        as_html.say(ET.SubElement(part, "h2"), f"{sheet.number} {sheet.title}{more}")
        for number, drawing in enumerate(drawings, start):
            ET.SubElement(part, "div", {"class": "wide"}).append(as_html.inline(drawing, f"{sheet.name}.{number}"))
        self._keep(sheet, part)

    def _keep(self, sheet: Sheet, part: ET.Element) -> None:
        here = len(self._parts)
        for element in part.iter():
            name = element.get("id")
            if name is not None and name in self._at:
                del element.attrib["id"]  # an id stands once in a pack: the first to have it keeps it
            elif name is not None:
                self._at[name] = here
                if element.tag in NAMED:
                    self._found.setdefault(here, []).append(name)
            if element.tag == "a" and "href" in element.attrib:
                element.set("href", f"{MARK}{element.get('href', '').partition('#')[2]}")
        data = as_html.text(part).encode("utf-8")
        self._parts.append((sheet, self._kept.tell(), len(data)))
        self._kept.write(data)

    def files(self) -> Iterator[tuple[str, bytes]]:
        """Name and bytes of each page; nothing can be added any more."""
        on = self._shared_out()
        pages = max(on.values(), default=0) + 1
        name = [FILE, *(f"kit-{number:03d}.html" for number in range(2, pages + 1))]
        for number in range(pages):
            texts = (self._text(part, number, on, name) for part in sorted(on, key=self._order) if on[part] == number)
            yield name[number], self._page(number, texts, on, name)
        self._kept.close()

    def _order(self, part: int) -> tuple[bool, int]:
        """The cover, made last, comes first."""
        return self._parts[part][0] is not self._book.cover, part

    def _shared_out(self) -> dict[int, int]:
        """Section to page: all on one, or cover and contents on the first and the others as they come."""
        if sum(length for *_, length in self._parts) <= MOST:
            return dict.fromkeys(range(len(self._parts)), 0)
        on: dict[int, int] = {}
        page, used = 1, 0
        for part, (sheet, _, length) in enumerate(self._parts):
            if sheet is self._book.cover:
                on[part] = 0
                continue
            if used and used + length > MOST:
                page, used = page + 1, 0
            on[part] = page
            used += length
        return on

    def _text(self, part: int, page: int, on: dict[int, int], name: list[str]) -> str:
        _, start, length = self._parts[part]
        self._kept.seek(start)

        def link(found: re.Match[str]) -> str:
            target = found[1]
            if target not in self._at:
                return ""
            there = on[self._at[target]]
            return f' href="{"" if there == page else name[there]}#{target}"'

        return _LINK.sub(link, self._kept.read(length).decode("utf-8"))

    def _page(self, number: int, texts: Iterator[str], on: dict[int, int], name: list[str]) -> bytes:
        stamp = self._book.stamp
        several = len(name) > 1
        top = [as_html.head(stamp), _search(), self._contents(number, on, name)]
        if several:
            words = f"Page {number + 1} of {len(name)} of this kit; the box finds "
            words += "a name in all of them." if not number else f"what stands on this page, {FILE} what is on others."
            top.insert(1, as_html.say(ET.Element("p", {"class": "strong"}), words))
        script = SCRIPT
        if several and not number:
            top.insert(3, ET.Element("ol", {"id": "elsewhere"}))
            where = {name[page]: [one for part in on if on[part] == page for one in self._found.get(part, ())]
                     for page in range(1, len(name))}  # fmt: skip
            block = ET.Element("script", {"type": "application/json", "id": "where"})
            block.text = json.dumps(where, ensure_ascii=True, separators=(",", ":")).replace("<", "\\u003c")
            top.append(block)
            script = f"{SCRIPT}{FINDER}"
        title = f"{stamp.title}: kit pack {stamp.pack}" + (f", page {number + 1} of {len(name)}" if several else "")
        return as_html.page_of_texts(title, top, texts, STYLE, script)

    def _contents(self, number: int, on: dict[int, int], name: list[str]) -> ET.Element:
        nav = ET.Element("nav")
        as_html.say(ET.SubElement(nav, "h2"), "Sheets")
        listed = ET.SubElement(nav, "ol")
        for sheet in self._book.sheets:
            target = f"sheet-{safe(sheet.name)}"
            there = on[self._at[target]]
            file = "" if there == number else name[there]
            link = ET.SubElement(ET.SubElement(listed, "li"), "a", {"href": f"{file}#{target}"})
            as_html.say(link, f"{sheet.number}  {sheet.title}")
        return nav


def _search() -> ET.Element:
    box = ET.Element("div", {"id": "search", "hidden": "hidden", "role": "search"})
    as_html.say(ET.SubElement(box, "label", {"for": "find"}), "Find a wire, cavity or part: ")
    ET.SubElement(box, "input", {"id": "find", "type": "search", "autocomplete": "off", "placeholder": "P14-3"})
    as_html.say(ET.SubElement(box, "button", {"id": "clear", "type": "button"}), "show all")
    ET.SubElement(box, "output", {"id": "found", "for": "find"})
    return box
