"""A pack too large for one book, one workbook and one page: nothing is lost, and every part is of the pack.

The limits are set so low that the demo's pack meets them; its ordinary pack is what the parts are compared with.
"""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
import reading
from conftest import DEMO, written

from harnesscheck import api, pack, worksheet
from harnesscheck.output import left_behind
from harnesscheck.pack import documents, folder, kit_page
from harnesscheck.paper.blocks import Column, Content, Table, Words
from harnesscheck.paper.portions import portions, weight
from harnesscheck.sheets import Wish
from tests.crash.__main__ import small

VOLUME = 5


@pytest.fixture(scope="module")
def parted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's pack in many parts; pictures of sheets of one page only."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(documents, "VOLUME", VOLUME)
        patch.setattr(documents, "ORDINARY", 10_000_000)  # so that every page counts for one
        patch.setattr(documents, "PICTURED", 1)
        patch.setattr(documents, "LISTED", 60)
        patch.setattr(kit_page, "MOST", 150_000)
        patch.setattr(kit_page, "ROWS", 20)
        patch.setattr(folder, "MOST_READINGS", 10)
        return written(tmp_path_factory.mktemp("parted") / "demo")


def said(place: Path) -> dict:
    return json.loads((place / "manifest.json").read_text())


def texts(file: Path) -> list[str]:
    return [reading.squeezed(page) for page in reading.pdf_pages(file.read_bytes())]


def test_the_volumes_are_the_pages_of_the_one_book(parted: Path, demo_pack: Path) -> None:
    """All but the cover, which lists the volumes; each page says its sheet and number, so these run on."""
    cover = said(demo_pack)["sheets"][0]["pages"]
    volumes = sorted(parted.glob("book-*.pdf"))
    assert not (parted / "book.pdf").exists() and len(volumes) > 5
    first, *pages = [texts(file) for file in volumes]
    assert [page for volume in pages for page in volume] == texts(demo_pack / "book.pdf")[cover:]
    assert all(len(volume) <= VOLUME for volume in pages)
    assert len(first) == said(parted)["sheets"][0]["pages"]
    listed = "".join(first)
    assert all(volume.name in listed for volume in volumes)
    assert [s["pages"] for s in said(parted)["sheets"][1:]] == [s["pages"] for s in said(demo_pack)["sheets"][1:]]


def test_the_parts_of_a_sheet_are_the_sheet(parted: Path, demo_pack: Path) -> None:
    several = 0
    for whole in sorted((demo_pack / "sheets").glob("*.pdf"))[1:]:
        parts = sorted((parted / "sheets").glob(f"{whole.stem}-part-*.pdf")) or [parted / "sheets" / whole.name]
        assert [page for part in parts for page in texts(part)] == texts(whole), whole.name
        drawn = [line for part in parts for line in reading.svg_texts(part.with_suffix(".svg").read_bytes())]
        assert drawn == reading.svg_texts(whole.with_suffix(".svg").read_bytes()), whole.name
        several += len(parts) > 1
        if len(parts) > 1:  # typeset once for both
            volumes = {file.read_bytes() for file in parted.glob("book-*.pdf")}
            assert all(part.read_bytes() in volumes for part in parts)
    assert several > 2


def test_every_row_stands_in_one_of_the_workbooks_and_on_one_of_the_pages(parted: Path, demo_pack: Path) -> None:
    def cells(place: Path) -> Counter[tuple[str, ...]]:
        books = [reading.xlsx_tables(file.read_bytes()) for file in sorted(place.glob("workbook*.xlsx"))]
        return Counter(tuple(row) for book in books for name, rows in book.items() if name != "Title block"
                       for row in rows[1:])  # fmt: skip

    def rows(place: Path) -> Counter[str]:
        pages = [reading.html(file.read_bytes()) for file in sorted(place.glob("kit*.html"))]
        return Counter(row.text for page in pages for row in page.all("tr") if row.all("td"))

    assert len(list(parted.glob("workbook-*.xlsx"))) > 3 and len(list(parted.glob("kit-*.html"))) > 3
    for count in (cells, rows):
        lost, more = count(demo_pack) - count(parted), count(parted) - count(demo_pack)
        # The cover counts its own pages, names the volumes, and says what is not made.
        assert sum(lost.values()) <= 3, lost
        assert sum(more.values()) <= 3 + len(list(parted.glob("book-*.pdf"))) + len(not_made(parted)), more


def not_made(place: Path) -> list[str]:
    page = reading.html((place / "kit.html").read_bytes())
    return [" ".join(row.values()) for row in reading.html_tables(page)["not-in-this-pack"]]


def test_links_lead_to_the_page_that_has_the_name(parted: Path, demo_pack: Path) -> None:
    pages = {file.name: reading.html(file.read_bytes()) for file in sorted(parted.glob("kit*.html"))}
    ids = {name: {node.attributes["id"] for node in nodes(page) if "id" in node.attributes}
           for name, page in pages.items()}  # fmt: skip
    away = 0
    for name, page in pages.items():
        for link in page.all("a"):
            file, mark, target = link.attributes.get("href", "").partition("#")
            assert not mark or target in ids[file or name], link.attributes
            away += bool(file)
    assert away > 100
    one = reading.html((demo_pack / "kit.html").read_bytes())
    assert sum(bool(a.attributes.get("href")) for page in pages.values() for a in page.all("section")) == 0
    counted = [sum("href" in a.attributes for s in page.all("section") for a in s.all("a")) for page in pages.values()]
    assert sum(counted) >= sum("href" in a.attributes for s in one.all("section") for a in s.all("a"))
    where = next(s for s in pages["kit.html"].all("script") if s.attributes.get("id") == "where")
    found = json.loads(where.text)
    assert set(found) == set(pages) - {"kit.html"}
    assert all(name in ids[page] for page, names in found.items() for name in names)
    assert any("wire-P501A20" in names for names in found.values())


def nodes(node: reading.Node) -> list[reading.Node]:
    return [node, *(below for child in node.children for below in nodes(child))]


def test_what_is_not_made_is_said_with_its_reason(parted: Path, demo_pack: Path) -> None:
    lines = not_made(parted)
    assert any("worksheet.html" in line and "readings, and one page takes 10" in line for line in lines)
    assert not (parted / "worksheet.html").exists()
    for sheet in said(parted)["sheets"]:
        pictures = list((parted / "sheets").glob(f"[0-9]*-{sheet['name']}*.png"))
        named = [line for line in lines if f"{sheet['title']}: pictures" in line or sheet["name"] == "cover"]
        assert bool(pictures) == (sheet["pages"] == 1) and (pictures or named), sheet
    assert not any("pictures" in line or "worksheet" in line for line in not_made(demo_pack))
    job = api.load(DEMO)
    with pytest.raises(worksheet.TooManyError):
        worksheet.page(job, Wish(), folder.stamp(job, api.check(job), ""), 10)


def test_a_volume_of_another_pack_is_found(parted: Path, demo_pack: Path) -> None:
    assert pack.verify(parted).faults == ()
    volume = parted / "book-003.pdf"
    own = volume.read_bytes()
    volume.write_bytes((demo_pack / "book.pdf").read_bytes())
    assert pack.verify(parted).faults == ("altered: book-003.pdf is not as it was written",)
    volume.unlink()
    assert pack.verify(parted).faults == ("incomplete: book-003.pdf is missing",)
    volume.write_bytes(own)
    assert pack.verify(parted).faults == ()


def test_a_folder_that_is_being_filled_is_not_cleared_away(tmp_path: Path) -> None:
    """Another run into the same place comes and goes while this one is still making its files."""
    place, held = tmp_path / "kit", []

    def slowly() -> Iterator[tuple[str, bytes]]:
        for name, data in small(0).items():
            folder.put(place, small(1))
            held.append(len(left_behind(place, ".tmp")))
            yield name, data

    folder.put(place, slowly())
    assert held == [1] * len(small(0))
    assert {name: (place / name).read_bytes() for name in small(0)} == small(0)
    assert [path.name for path in tmp_path.iterdir()] == ["kit"]


def test_portions_keep_every_row_in_order() -> None:
    rows = tuple((str(number), "x") for number in range(25))
    table = Table("t", (Column("a"), Column("b")), rows, "A table", totals=1)
    content = Content("c", "C", (Words("first"), table, Words("last")), decisions=("decided",))
    assert list(portions(content, 27)) == [content]
    parts = list(portions(content, 10))
    assert all(weight(part) <= 10 for part in parts)
    assert tuple(row for part in parts for one in part.tables for row in one.rows) == rows
    assert [part.title for part in parts] == ["C", *["C, continued"] * (len(parts) - 1)]
    assert [one.totals for part in parts for one in part.tables] == [0, 0, 1]
    assert [bool(part.decisions) for part in parts] == [False] * (len(parts) - 1) + [True]
    assert [b.text for part in parts for b in part.blocks if isinstance(b, Words)] == ["first", "last"]
