"""Data of ``test_bad_files.py``: bad maps, readings, parts, as-found files, fleets and evidence; marks by hand."""

from __future__ import annotations

from bad_input_lists import LISTS, Bad
from bad_input_rows import MARK as M

MAP = ("import list.csv --map {0}", "import list.csv --map {0} -o out.yaml")
READINGS = ("readings jumper.yaml {0}", "diagnose jumper.yaml {0}", "diagnose jumper.yaml {0} --format json")
PARTS = ("check jumper.yaml", "parts show X-1 --parts {0}", "sheet cut-list jumper.yaml -o out.csv")
FOUND = ("check {0}", "check jumper.yaml --on {0}", "draw {0} -o out.svg")
FLEET = ("fleet {0} airframe.yaml", "fleet {0} airframe.yaml -o out.csv")
PROOF = ("recheck {0}",)


def shop(name: str, text: str, says: str, do: str) -> Bad:
    """A bad parts file of the shop."""
    return Bad(name, "shop-parts.yaml", text, PARTS, says, do, more=True)


def lines(said: str) -> str:
    """A parts file with one part."""
    return f"kind: parts\nsources: {{}}\nparts:\n  X-1:\n{said}"


FACT = "by: tester, date: 2026-11-20, document: D-1"
KIND = "    kind: contact\n    facts:\n"
SHOP = [
    Bad(
        "parts file of another kind",
        "shop-parts.yaml",
        f"kind: {M}part\nparts: {{}}\n",
        PARTS[:1],
        "unknown kind of file 'part'",
        "did you mean parts?",
    ),
    shop("no kind of part", lines("    facts: []\n").replace("  X-1", f"  {M}X-1"), "X-1 has no kind", "write one of"),
    shop("unknown kind of part", lines(f"    kind: {M}conact\n    facts: []\n"), "'conact' is not known", "'contact'"),
    shop("no facts", lines(f"    kind: contact\n    facts: {M}[]\n"), "X-1 has no facts", "write 'facts:'"),
    shop("no status", lines(f"{KIND}      - {M}{{gender: pin}}\n"), "has no status", "confirmed"),
    shop(
        "unknown status",
        lines(f"{KIND}      - {{status: {M}certain, gender: pin}}\n"),
        "'certain' is not known",
        "confirmed",
    ),
    shop(
        "confirmed by nobody",
        lines(f"{KIND}      - {M}{{status: shop-confirmed, {FACT[12:]}, gender: pin}}\n"),
        "lacks by",
        "add document",
    ),
    shop(
        "no such day",
        lines(f"{KIND}      - {{status: shop-confirmed, {FACT}, gender: pin}}\n").replace(
            "2026-11-20", f"{M}2026-02-30"
        ),
        "'2026-02-30' cannot be read",
        "2031-05-24",
    ),
    shop(
        "comma in a depth",
        lines(f"{KIND}      - {{status: from memory, well depth: {M}'0,141 in'}}\n"),
        "cannot be read",
        "comma",
    ),
    shop(
        "gauge the wrong way",
        lines(f"{KIND}      - {{status: from memory, gauge: {M}22-28}}\n"),
        "gauge cannot be",
        "28 AWG to",
    ),
    shop(
        "field misspelt",
        lines(f"{KIND}      - {{status: from memory, {M}gendre: pin}}\n"),
        "no field of a contact",
        "'gender'",
    ),
    shop(
        "source that is not listed",
        lines(f"{KIND}      - {{status: confirmed, source: {M}S9 p1, gender: pin}}\n"),
        "'S9' is not listed",
        "list it there",
    ),
    shop(
        "a list in a list",
        lines(f"{KIND}      - {{status: from memory, bands: {M}[[a]]}}\n"),
        "bands is nested",
        "texts only",
    ),
]


def mapped(name: str, text: str, says: str, do: str, at: str = "") -> Bad:
    """A bad map file."""
    return Bad(name, "map.yaml", text, MAP, says, do, at)


MAPS = [
    mapped("no such map", "", "this file is empty", "start it with what it is", ":1:1"),
    mapped("map of no kind", "columns: {A: id}\n", "does not say that it is a map", "add 'kind: list map'", ":1:1"),
    mapped("unknown key in a map", f"kind: list map\n{M}colums: {{A: id}}\n", "unknown key 'colums'", "columns?"),
    mapped("unknown field", f"kind: list map\ncolumns: {{A: {M}form}}\n", "there is no field 'form'", "from?"),
    mapped("columns as a list", f"kind: list map\ncolumns: {M}[A]\n", "columns is written as a block", "import.md"),
    mapped("column of a list", f"kind: list map\ncolumns: {M}{{A: [id]}}\n", "something that is no text", "import.md"),
    mapped("row that is none", f"kind: list map\nheader row: {M}three\n", "not the number of a row", "like 3"),
    mapped("row of seven digits", f"kind: list map\nheader row: {M}1000000\n", "not the number of a row", "like 3"),
    mapped("digits of another script", f"kind: list map\nheader row: {M}\u0663\n", "not the number of a row", "like 3"),
    mapped("unit of gauge", f"kind: list map\ngauge unit: {M}awg\n", "gauge unit 'awg' is not known", "AWG or mm2"),
    mapped("dash", f"kind: list map\ndash: {M}maybe\n", "dash 'maybe' is not known", "yes or no"),
    mapped("tag in a map", f"kind: list map\ncolumns: {M}!!python/name:os.system {{}}\n", "tag tag:yaml.org", "remove"),
    Bad(
        "sheet that is not there", "map.yaml", "kind: list map\nsheet: Kabel\n", MAP, "no sheet 'Kabel'", "correct", "*"
    ),
]


def read(name: str, file: str, text: str | bytes, says: str, do: str, at: str = "") -> Bad:
    """A bad readings file."""
    return Bad(name, file, text, READINGS, says, do, at)


READ = [
    read("empty readings", "r.csv", "", "empty", "", ":1:1"),
    read("readings: a word", "r.csv", f"reading,value\nBC1,{M}beep\n", "neither a number nor OL", "1.2 kohm"),
    read("readings: decimal comma", "r.csv", f"reading,value\nBC1,0,{M}3\n", "more cells than columns", "a point"),
    read("readings: comma in quotes", "r.csv", f'reading,value\nBC1,{M}"0,3"\n', "a decimal comma", "0.3"),
    read("readings: column", "r.csv", f"reading,{M}valeu\nBC1,0.3\n", "unknown column 'valeu'", "value?"),
    read("readings: unit", "r.csv", f"reading,value,unit\nBC1,{M}3,furlong\n", "unit 'furlong'", "0.3"),
    read("readings: key", "r.csv", f"{M}artcle,bench\nreading,value\nBC1,3\n", "unknown key 'artcle'", "article?"),
    read("readings: article", "r.csv", f"article,{M}bnech\nreading,value\nBC1,3\n", "cannot be 'bnech'", "bench?"),
    read("readings: quote", "r.csv", f'reading,note\nBC1,{M}"dry\n', "quote opened here", "close it"),
    read("readings: no id", "r.csv", f"reading,value\n{M},0.3\n", "names no reading", "BC1"),
    read("readings: verdict", "r.csv", f"reading,verdict\nBC1,{M}fine\n", "unknown verdict 'fine'", "good or wrong"),
    read("readings: hidden", "r.csv", f"reading,value\nBC1,3{M}\u200b\n", "U+200B", "type the text again"),
    read("readings: below zero", "r.csv", f"reading,value,unit\nBC1,{M}-5,ohm\n", "not below zero", "0.3"),
    read("readings: bytes", "r.csv", b"reading,value\nBC1,\xff\n", "byte 0xff is not UTF-8", "as UTF-8", ":2:5"),
    read("readings: mapping", "r.json", f'{{"readings": {M}{{"BC1": "0.3"}}}}', "readings is a list", "a row"),
    read("readings: row", "r.json", f'{{"readings": [{M}"BC1"]}}', "a row is a mapping", "{reading: BC1"),
    read(
        "readings: list",
        "r.json",
        f'{{"readings": [{{"reading": "B", "value": {M}["1"]}}]}}',
        "plain text",
        "one value",
    ),
    read(
        "readings: key of a row", "r.json", f'{{"readings": [{{{M}"id": "B"}}]}}', "unknown key 'id'", "keys of a row"
    ),
    read("readings: none", "r.json", f'{M}{{"who": "A"}}', "holds no readings", "add 'readings:'"),
    read("readings: cut", "r.json", f'{{"readings": [{M}{{"reading": "BC1"', "is not closed", "add the }"),
    read(
        "readings: kind", "r.yaml", f"{M}kind: jumper\nreadings: []\n", "file of kind 'jumper'", "name a readings file"
    ),
    read("readings: twice", "r.yaml", f"who: a\n{M}who: b\nreadings: []\n", "given twice", "keep one"),
    read("readings: alias", "r.yaml", f"who: {M}&a x\nreadings: []\n", "anchor &a", "remove the anchor"),
    Bad("no such readings", "none.csv", "", READINGS, "does not exist", "give the path", ":1:1"),
]

HEAD_FOUND = "kind: as-found\nairframe: airframe.yaml\naircraft: LN-TST\nby: tester\ndate: 2026-11-20\n"


def seen(name: str, text: str, says: str, do: str) -> Bad:
    """A bad as-found file."""
    return Bad(name, "found.yaml", HEAD_FOUND + text, FOUND, says, do)


AS_FOUND = [
    seen("as-found: wire", f"wires:\n  {M}P107A02: {{length: 2 m}}\n", "no wire 'P107A02'", "P107A20?"),
    seen("as-found: connector", f"connectors:\n  {M}P41: {{part: X}}\n", "no connector 'P41'", "added: connectors:"),
    seen("as-found: key", f"wires:\n  P107A20: {{{M}lenght: 2 m}}\n", "unknown key 'lenght'", "length?"),
    seen("as-found: section", f"{M}wire:\n  P107A20: {{length: 2 m}}\n", "unknown key 'wire'", "wires?"),
    seen(
        "as-found: unit", f"wires:\n  P107A20: {{length:{M} 12}}\n".replace(f":{M} ", f": {M}"), "unit is missing", "mm"
    ),
    seen("as-found: text for a wire", f"wires: {{P107A20: {M}thin}}\n", "the text 'thin'", "keys and values"),
    seen(
        "as-found: there already",
        f"added: {{wires: {{{M}P107A20: {{from: CB7-load, to: GS3}}}}}}\n",
        "already",
        "under wires:",
    ),
    Bad(
        "as-found: outside",
        "found.yaml",
        HEAD_FOUND.replace("airframe.yaml", f"{M}../../airframe.yaml"),
        FOUND[:1],
        "may not leave the folder",
        "name a file",
    ),
    Bad(
        "as-found: head",
        "found.yaml",
        f"{M}kind: as-found\nairframe: airframe.yaml\naircraft: A\nby: t\n",
        FOUND,
        "has no 'date'",
        "add 'date",
    ),
]
FLEETS = [
    Bad("fleet: no kit", "none.yaml", "", FLEET, "does not exist", "give the path", ":1:1"),
    Bad("fleet: broken kit", "kit.yaml", f"kind: {M}jmper\n", FLEET, "unknown kind of file", "jumper?"),
    Bad("fleet: an airframe as kit", "kit.yaml", "kind: airframe\ntitle: t\n", FLEET, "", "", "*"),
    Bad(
        "fleet: nothing in the folder",
        "jumper.yaml",
        "",
        ("fleet jumper.yaml sub", "fleet jumper.yaml sub -o out.csv"),
        "no as-found or airframe file",
        "name the files",
        "*",
    ),
    Bad(
        "fleet: written as text",
        "jumper.yaml",
        "",
        ("fleet jumper.yaml airframe.yaml -o out.txt",),
        "not written as",
        ".csv or .json",
        "*",
    ),
]
EVIDENCE = [
    Bad("evidence: cut", "e.json", '{"a": ', PROOF, "cannot be read as evidence", "make anew", ": "),
    Bad("evidence: none", "none.json", "", PROOF, "cannot be read as evidence", "make anew", ": "),
    Bad("evidence: bytes", "e.json", b"\xff\xfe\x00", PROOF, "cannot be read as evidence", "make anew", ": "),
    Bad("evidence: deep", "e.json", "[" * 100_000, PROOF, "cannot be read as evidence", "make anew", ": "),
]  # fmt: skip
ROWS = [*LISTS, *SHOP, *MAPS, *READ, *AS_FOUND, *FLEETS, *EVIDENCE]
