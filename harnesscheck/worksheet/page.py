"""Builds the page as an element tree: readable without its script, judged and kept with it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from xml.etree import ElementTree as ET

from harnesscheck.faces import Side
from harnesscheck.fault import Fault, InputError
from harnesscheck.harness import Harness
from harnesscheck.job import Job
from harnesscheck.paper import as_html
from harnesscheck.paper.blocks import Stamp
from harnesscheck.paper.cautions import CAUTIONS, decisions
from harnesscheck.paper.svg import Canvas, identifier
from harnesscheck.place import Point
from harnesscheck.ringout.article import articles
from harnesscheck.ringout.reading import Reading, band, computed
from harnesscheck.ringout.rest import Rest
from harnesscheck.sheets import Wish, _faces_draw, ring_out
from harnesscheck.sheets._readings import FOLLOWING, following, points
from harnesscheck.trouble import readings as file
from harnesscheck.trouble.papers import files_of
from harnesscheck.worksheet.groups import Group, groups
from harnesscheck.worksheet.judge import UNREAD
from harnesscheck.worksheet.script import SCRIPT
from harnesscheck.worksheet.style import STYLE


class TooManyError(ValueError):
    """More readings than a page is wanted for; the first argument says how many."""


UNITS = {"ohm": ("ohm", "kohm", "Mohm"), "V": ("V", "mV")}
FIELDS = (
    ("who", "Read by", "name"),
    ("meter", "Meter, make and model", "off"),
    ("meter id", "Meter number (calibration)", "off"),
    ("date", "Date", "off"),
    ("note", "Kit serial, aircraft, anything else", "off"),
)
LISTED = 3
"""Points of one lead that are named in the line; more are counted there and named in the open row."""


def page(job: Job, wish: Wish, stamp: Stamp, most: int | None = None) -> bytes:
    """The whole page. Raises ``InputError`` for a mode that ring-out has not, or a job with nothing to read;
    ``TooManyError`` for more than ``most`` readings.
    """
    made = groups(job, wish)
    count = sum(len(group.readings) for group in made)
    if most is not None and count > most:
        raise TooManyError(count)
    if not made:
        why = ring_out.not_applicable(job, wish)
        said, remedy = (why, "name a jumper or airframe file") if why else (
            f"this job has no article {wish.mode}", f"it has: {', '.join(articles(job))}")  # fmt: skip
        raise InputError([Fault(job.name, 1, 1, f"there is nothing to read: {said}", "", remedy)])
    parts = [_bar(count), as_html.head(stamp), _about(job)]
    parts += [_contents(made), _fields()]
    parts += [_group(group) for group in made]
    parts += [_save(), _faces(made), _foot(stamp), _data(job, wish, stamp, made)]
    return as_html.page(f"{stamp.title}: worksheet", parts, STYLE, SCRIPT)


def _add(parent: ET.Element, tag: str, text: str = "", **named: str) -> ET.Element:
    """A new element; underscores in names become dashes, one at the end is dropped."""
    made = ET.SubElement(parent, tag, {key.rstrip("_").replace("_", "-"): value for key, value in named.items()})
    return as_html.say(made, text) if text else made


def _bar(count: int) -> ET.Element:
    bar = ET.Element("div", {"id": "bar", "hidden": "hidden"})
    _add(bar, "progress", id="progress", max=str(count or 1), value="0", aria_label="readings taken")
    _add(bar, "output", id="count", aria_live="polite")
    _add(bar, "button", "next to read", id="onward", type="button")
    _add(bar, "a", "save", href="#save", class_="button")
    return bar


def _about(job: Job) -> ET.Element:
    part = ET.Element("div")
    for said in decisions(job.subject):
        _add(part, "p", f"Decided in writing: {said}")
    _add(part, "noscript", "The script of this page does not run here: write the readings on paper.")
    _add(part, "p", "This browser keeps nothing: save the file before you close the page.", id="unkept",
         hidden="hidden", class_="warn")  # fmt: skip
    return part


def _contents(made: list[Group]) -> ET.Element:
    nav = ET.Element("nav")
    for group in made:
        link = _add(nav, "a", href=f"#group-{group.name}", class_="button", data_group=group.name)
        _add(link, "span", group.title)
        _add(link, "span", f"{len(group.readings)} readings", class_="tally")
    return nav


def _fields() -> ET.Element:
    box = ET.Element("section", {"id": "who"})
    _add(box, "h2", "Who reads, with what")
    for key, title, hint in FIELDS:
        name = f"head-{key.replace(' ', '-')}"
        line = _add(box, "p", class_="field")
        _add(line, "label", title, for_=name)
        _add(line, "input", id=name, type="date" if key == "date" else "text", data_head=key, autocomplete=hint)
    return box


# -- rows --------------------------------------------------------------------------------------------------------------


def _group(group: Group) -> ET.Element:
    part = ET.Element("section", {"id": f"group-{group.name}", "class": "group"})
    _add(part, "h2", group.title)
    for words in group.words:
        _add(part, "p", words, class_="before")
    for reading in group.readings:
        part.append(_row(reading, group))
    return part


def _row(reading: Reading, group: Group) -> ET.Element:
    row = ET.Element("article", {"class": "row", "id": identifier("reading", reading.id), "data-id": reading.id})
    top = _add(row, "p", class_="top")
    _add(top, "span", reading.id, class_="no")
    _add(top, "span", UNREAD, class_="verdict")
    for letter, listed in (("A", reading.a), ("B", reading.b)):
        line = _add(row, "p", class_="lead")
        _add(line, "b", letter, class_=letter.lower())
        lifted = group.walking and reading.kind == "isolation" and reading.judged
        _add(line, "span", _lead(listed, lifted and letter == "A", lifted and letter == "B"))
        if len(listed) > LISTED:
            _add(row, "p", FOLLOWING if following(listed) else points(listed), class_="more all")
    line = _add(row, "p", class_="accept")
    _add(line, "strong", band(reading))
    _add(line, "span", f"computed {computed(reading)}" if computed(reading) else "not computed", class_="computed")
    _add(row, "p", "; ".join(word for word in (reading.why, reading.unknown) if word), class_="why")
    row.append(_typed(reading))
    _add(row, "p", class_="said", role="status")
    _add(row, "div", class_="more faces")
    note = identifier("note", reading.id)
    line = _add(row, "p", class_="more field")
    _add(line, "label", "Note", for_=note)
    _add(line, "input", id=note, type="text", class_="note", autocomplete="off", enterkeyhint="next")
    return row


def _lead(listed: Sequence[Point], lifted: bool, rest: bool) -> str:
    if lifted:
        return f"{points(listed)}, lifted off"
    if len(listed) <= LISTED:
        return points(listed) + (", still tied" if rest and len(listed) > 1 else "")
    return f"the other {len(listed)} points, still tied" if rest else f"{len(listed)} points, tied together"


def _typed(reading: Reading) -> ET.Element:
    line = ET.Element("p", {"class": "type"})
    name = identifier("value", reading.id)
    _add(line, "label", f"reading {reading.id}", for_=name, class_="unseen")
    _add(line, "input", id=name, type="text", inputmode="decimal", class_="value", autocomplete="off",
         enterkeyhint="next", autocapitalize="off", spellcheck="false")  # fmt: skip
    unit = identifier("unit", reading.id)
    _add(line, "label", f"unit of reading {reading.id}", for_=unit, class_="unseen")
    chosen = _add(line, "select", id=unit, class_="unit")
    for word in UNITS[reading.unit]:
        _add(chosen, "option", word, value=word)
    if reading.unit == "ohm":
        _add(line, "button", "OL", type="button", class_="ol", title="open line, beyond the meter's range")
    _add(line, "button", "next", type="button", class_="next")
    return line


def _faces(made: list[Group]) -> ET.Element:
    """One face of every connector that is probed; the script moves it into the open row."""
    shelf = ET.Element("section", {"id": "shelf"})
    _add(shelf, "h2", "Faces")
    seen: set[str] = set()
    walked: set[int] = set()
    for group in made:
        for reading in group.readings:
            rest = isinstance(reading.b, Rest) and id(reading.b.whole)
            for point in (*reading.a, *(() if rest in walked else reading.b)):
                if point.ref not in seen and point.ref in group.harness.connectors:
                    seen.add(point.ref)
                    shelf.append(_face(group.harness, point.ref))
            if rest:
                walked.add(rest)  # the first line of a walk names all its points
    return shelf


def _face(harness: Harness, ref: str) -> ET.Element:
    box = ET.Element("figure", {"class": "face", "data-ref": ref})
    half = harness.connectors[ref]
    figure = _faces_draw.face(harness, half, Side.MATING, {})
    if figure is None:
        _add(box, "figcaption", f"{ref}: {_faces_draw.why_unknown(harness, half)}", class_="unknown")
        return box
    drawing = Canvas(figure.width, figure.height)
    figure.draw(drawing)
    picture = as_html.inline(drawing, figure.name)
    for link in picture.iter("a"):
        link.attrib.pop("href", None)  # a cavity is looked at here, it leads nowhere
    box.append(picture)
    _add(box, "figcaption", figure.caption)
    return box


# -- the end -----------------------------------------------------------------------------------------------------------


def _save() -> ET.Element:
    part = ET.Element("section", {"id": "save"})
    _add(part, "h2", "Save the readings")
    _add(part, "p", id="left", role="status")
    line = _add(part, "p", class_="buttons")
    for name, text in (("csv", "save as CSV"), ("json", "save as JSON"), ("text", "show as text, to copy")):
        _add(line, "button", text, id=f"save-{name}", type="button")
    _add(part, "p", id="saved", role="status")
    _add(part, "textarea", id="out", readonly="readonly", rows="10", hidden="hidden", aria_label="the readings file")
    line = _add(part, "p", class_="buttons apart")
    _add(line, "button", "begin again: clear all readings", id="clear", type="button")
    asked = _add(part, "div", id="sure", hidden="hidden", role="alertdialog", aria_labelledby="sure-words")
    _add(asked, "p", "Clear all readings and notes? What is not saved is lost.", id="sure-words")
    _add(asked, "button", "no, keep them", id="keep", type="button")
    _add(asked, "button", "yes, clear them", id="cleared", type="button", class_="danger")
    return part


def _foot(stamp: Stamp) -> ET.Element:
    foot = ET.Element("footer", {"id": "cautions"})
    for caution in (*([stamp.warning] if stamp.warning else []), *CAUTIONS):
        _add(foot, "p", caution)
    return foot


def _data(job: Job, wish: Wish, stamp: Stamp, made: list[Group]) -> ET.Element:
    """What the script needs. ``<`` is escaped, so that no name can end the element."""
    data: dict[str, object] = {
        "head": _head(job, wish, stamp),
        "keys": list(file.HEAD),
        "rows": list(file.ROW),
        "units": {word: list(meant) for word, meant in file.UNITS.items()},
        "open": list(file.OPEN_WORDS),
        "stem": job.path.stem,
        "groups": [{"name": group.name, "readings": [_reading(r) for r in group.readings]} for group in made],
    }
    text = json.dumps(data, sort_keys=True, ensure_ascii=True, separators=(",", ":"))
    data["key"] = hashlib.sha256(text.encode("ascii")).hexdigest()
    block = ET.Element("script", {"type": "application/json", "id": "data"})
    block.text = json.dumps(data, sort_keys=True, ensure_ascii=True, separators=(",", ":")).replace("<", "\\u003c")
    return block


def _head(job: Job, wish: Wish, stamp: Stamp) -> Mapping[str, str]:
    mode, tied, staying, _ = ring_out.chosen(job, wish)
    said = {"kind": "readings", "mode": mode, "groups": "tied" if tied else "single", "pack id": stamp.pack,
            "other units": file.PLUGGED if staying else file.UNPLUGGED, "files": files_of(job),
            "title": stamp.title}  # fmt: skip
    return {key: value for key, value in said.items() if value}


def _reading(reading: Reading) -> dict[str, object]:
    return {
        "id": reading.id, "article": reading.article, "unit": reading.unit, "low": reading.low, "high": reading.high,
        "a": list(_names(reading.a)), "b": list(_names(() if following(reading.b) else reading.b)),
    }  # fmt: skip


def _names(listed: Sequence[Point]) -> Iterator[list[str]]:
    return ([point.ref, str(point)] for point in listed)
