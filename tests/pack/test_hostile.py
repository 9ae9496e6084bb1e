"""Names that look like markup, formulas, escapes or other writing come out as text in every format.

Control characters and marks that turn the direction of writing never get as far: the reader refuses them.
"""

from __future__ import annotations

import json
import re
import shutil
import unicodedata
from pathlib import Path

import pytest
import reading
from conftest import DEMO, written
from reading import squeezed

from harnesscheck import api, paper
from harnesscheck.fault import InputError
from harnesscheck.pack.kit_page import SCRIPT
from harnesscheck.paper.blocks import Column, Content, Facts, Heading, Stamp, Table, Words
from harnesscheck.paper.metrics import shown

MARKUP = [
    "<script>alert(1)</script>", "</script><script>alert(1)</script>", "<img src=x onerror=alert(1)>",
    "<svg onload=alert(1)>", "<svg><script href='data:,alert(1)'/></svg>", '"><script>alert(1)</script>',
    "' onmouseover='alert(1)", '" autofocus onfocus="alert(1)', "<a href='javascript:alert(1)'>x</a>",
    "javascript:alert(1)", "data:text/html,<script>alert(1)</script>", "<iframe src=//example.invalid>",
    "<style>@import 'http://example.invalid/x.css'</style>", "<!-- ", "-->", "<![CDATA[ x ]]>", "]]>",
    "<?xml version='1.0'?>",
    "<!DOCTYPE x [<!ENTITY a 'b'>]>", "&lt;b&gt;", "&amp;", "&#60;", "&x;", "&", "<", ">", "<28V>", "</text>", "</svg>",
    "<br>", "{{7*7}}", "${7*7}", "<%= 7*7 %>",
]  # fmt: skip
FORMULAS = [
    "=1+1", "+28V", "-SIG", "@SUM(A1)", "=cmd|' /C calc'!A0", '=HYPERLINK("http://example.invalid","x")', "{=1+1}",
    "=1+1;2", "1-2", "007", "1E5", "1:2", "TRUE", "NO", "2024-01-02", "0x1A", "1,5", "'quoted", "''", "%0A", "#REF!",
    "$A$1", "=", "+", "-", "@", "1/2", "00", "1_0", "NaN", "null", "A1", "R1C1",
]  # fmt: skip
ESCAPES = [
    r"\x1b[31m", r"\u202e", r"\n", r"\N", "\\", "\\\\", r"\input{x}", "$x^2$", "#set page(fill: red)", "#image(\"x\")",
    "*bold*", "_under_", "`code`", "[link](x)", "| a | b |", "%s %d %n", "{0}", "%(x)s", "~", "^", "``quoted''", '"',
    "'",
    "a,b", "a;b", "a  b", "/etc/passwd", "../../x", "&&P of &N", "&L&G",
]  # fmt: skip
WRITING = ["שלום עולם", "مرحبا", "P14-3 שלום A", "Ω µ ° ± é ß", "漢字", "Ελληνικά", "кабель", "A\u0301", "🛩", "ﬁ"]
LONG = ["x" * 390, "word " * 75 + "end", "W" * 120]
STRINGS = [*MARKUP, *FORMULAS, *ESCAPES, *WRITING, *LONG]


def test_there_are_a_hundred() -> None:
    assert len(set(STRINGS)) >= 100


CONTENT = Content(
    "hostile",
    STRINGS[0],
    (
        Heading(STRINGS[1]),
        Table("names", (Column("no"), Column("name")), tuple((str(n), text) for n, text in enumerate(STRINGS))),
        Facts(tuple((text[:40], text) for text in STRINGS)),
        *(Words(text) for text in STRINGS),
    ),
    decisions=tuple(STRINGS),
)
STAMP = Stamp(STRINGS[5], STRINGS[2], STRINGS[3], STRINGS[4], "0000-0000-0000", "harnesscheck")


def test_csv_gives_every_string_back() -> None:
    rows = reading.csv_tables(paper.write(CONTENT, "csv", STAMP))[""]
    # The guard adds one apostrophe, also before a name that begins with one; the reader takes one off.
    assert [row["name"] for row in rows] == STRINGS


def test_the_workbook_gives_every_string_back_as_text() -> None:
    sheets = reading.xlsx_tables(paper.write(CONTENT, "xlsx", STAMP))
    assert [row[1] for row in sheets["names"][1:]] == STRINGS
    cells = [cell for row in sheets["Title block"] for cell in row]
    assert all(cells.count(text) >= 3 for text in STRINGS)


def test_the_workbook_has_no_formula_and_no_outside_link(tmp_path: Path) -> None:
    import zipfile

    (tmp_path / "x.xlsx").write_bytes(paper.write(CONTENT, "xlsx", STAMP))
    with zipfile.ZipFile(tmp_path / "x.xlsx") as archive:
        for name in archive.namelist():
            text = archive.read(name)
            assert b"<f>" not in text and b"<f " not in text, name
            assert b'TargetMode="External"' not in text, name


def test_pages_show_every_string() -> None:
    """On paper a character without a glyph, or one that would not show, is printed as U+XXXX."""
    drawn = squeezed("".join(reading.svg_texts(paper.write(CONTENT, "svg", STAMP))))
    printed = squeezed("".join(reading.pdf_pages(paper.write(CONTENT, "pdf", STAMP))))
    for text in STRINGS:
        wanted = squeezed(shown(text))
        assert drawn.count(wanted) >= 4, text
        if not any("\u0590" <= c <= "\u06ff" or c == "\u0301" for c in text):
            assert unhyphened(wanted) in unhyphened(printed), text


def unhyphened(text: str) -> str:
    """Readers of PDF files take a hyphen at the end of a line for a broken word, and a ligature for its letters."""
    return re.sub("[-\x02\ufffe]", "", unicodedata.normalize("NFKC", text))


def test_right_to_left_letters_reach_the_paper() -> None:
    """Readers of PDF files give them back in the order of reading or of printing, so only the letters are compared."""
    printed = set("".join(reading.pdf_pages(paper.write(CONTENT, "pdf", STAMP))))
    assert set("שלום") <= printed


def test_the_page_shows_every_string_and_runs_none() -> None:
    root = reading.html(paper.write(CONTENT, "html", STAMP))
    assert [row["name"] for row in reading.html_tables(root)["names"]] == STRINGS
    assert [node.text for node in root.all("dd")][-len(STRINGS) :] == STRINGS
    assert not root.all("script")
    harmless(root)


def harmless(root: reading.Node) -> None:
    """No event handlers, no scheme but a place in the page itself."""
    stack = [root]
    while stack:
        node = stack.pop()
        stack += node.children
        assert node.tag not in ("iframe", "object", "embed", "img", "base", "form")
        for key, value in node.attributes.items():
            assert not key.startswith("on"), (node.tag, key)
            if key in ("href", "src", "xlink:href"):
                assert value.startswith("#"), (node.tag, value)


def test_a_terminal_gets_no_escapes() -> None:
    text = paper.write(CONTENT, "text", STAMP).decode("utf-8")
    assert all(line.isprintable() for line in text.splitlines())
    for string in STRINGS:
        if string.isprintable() and string.isascii() and "\\" not in string:
            assert string in text


# -- a whole job of them ----------------------------------------------------------------------------------------------


def test_a_pack_of_a_job_full_of_them(tmp_path: Path, blank_pictures: None) -> None:
    shutil.copytree(DEMO.parent, tmp_path / "job")
    file = tmp_path / "job" / "jumper.yaml"
    text = file.read_text(encoding="utf-8")
    entries = "".join(
        f"  - {{letter: {json.dumps(str(n))}, text: {json.dumps(s, ensure_ascii=False)}, date: '-', by: '-'}}\n"
        for n, s in enumerate(STRINGS)
    )
    lines = [
        line for line in text.splitlines(keepends=True) if not line.startswith(("title:", "note:", "effectivity:"))
    ]
    text = "".join(lines)
    start = text.index("revisions:")
    end = text.index("\n", text.index("}", start)) + 1
    text = text[:start] + "revisions:\n" + entries + text[end:]
    text += f"title: {json.dumps(MARKUP[0])}\nnote: {json.dumps(MARKUP[3])}\neffectivity: {json.dumps(FORMULAS[4])}\n"
    file.write_text(text, encoding="utf-8")
    folder = written(tmp_path / "pack", file)

    root = reading.html((folder / "kit.html").read_bytes())
    # The reader takes a run of blanks at the ends away and turns line ends into blanks.
    wanted = [s.strip() for s in STRINGS]
    assert [row["what changed"] for row in reading.html_tables(root)["revisions"]] == wanted
    assert [node.text for node in root.all("script")] == [SCRIPT]
    harmless(root)
    sheets = reading.xlsx_tables((folder / "workbook.xlsx").read_bytes())
    assert [row[1] for row in sheets["1 revisions"][1:]] == wanted
    rows = reading.csv_tables((folder / "lists" / "01-cover.csv").read_bytes())["revisions"]
    assert [row["what changed"] for row in rows] == wanted
    book = squeezed("".join(reading.pdf_pages((folder / "book.pdf").read_bytes())))
    assert book.count(squeezed(MARKUP[0])) > 20
    for path in (folder / "sheets").glob("*.svg"):
        assert "script" not in {node.tag for node in reading.html(path.read_bytes()).all("script")}
        assert squeezed(MARKUP[0]) in squeezed("".join(reading.svg_texts(path.read_bytes())))


@pytest.mark.parametrize(
    "text", ["\x00", "\x07", "\x1b[31m", "\x7f", "\x85", "\u200b", "\u202e", "\u2066", "\ufeff", "\u2028"]
)
def test_the_reader_refuses_what_cannot_be_seen(tmp_path: Path, text: str) -> None:
    shutil.copytree(DEMO.parent, tmp_path / "job")
    file = tmp_path / "job" / "jumper.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("title: ", f"title: a{text}b ", 1), encoding="utf-8")
    with pytest.raises(InputError, match="hidden or control character"):
        api.load(file)


def test_the_reader_refuses_a_text_of_500_characters(tmp_path: Path) -> None:
    shutil.copytree(DEMO.parent, tmp_path / "job")
    file = tmp_path / "job" / "jumper.yaml"
    file.write_text(file.read_text(encoding="utf-8").replace("title: ", f"title: {'x' * 500} ", 1), encoding="utf-8")
    with pytest.raises(InputError, match="too long"):
        api.load(file)
    # Were one to come from elsewhere, it would be broken into lines and not lost.
    content = Content("long", "long", (Table("t", (Column("a"), Column("b")), (("y" * 500, "z " * 250),)),))
    drawn = squeezed("".join(reading.svg_texts(paper.write(content, "svg", STAMP))))
    assert "y" * 500 in drawn and "z" * 250 in drawn
