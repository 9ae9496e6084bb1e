"""The pack as a whole: complete, one id throughout, the same bytes again, written whole or not at all."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import reading
from conftest import DEMO, written

from harnesscheck import api, cli, pack
from harnesscheck.fault import InputError
from harnesscheck.pack import folder as writing
from harnesscheck.pack import ident
from harnesscheck.pack import manifest as manifests
from harnesscheck.report import CAUTIONS
from harnesscheck.sheets import Wish
from harnesscheck.version import __version__

ROOT = Path(__file__).parents[2]
PARTS = range(1, 16)
"""The fifteen things a complete kit pack holds."""


def manifest(folder: Path) -> dict:
    return json.loads((folder / "manifest.json").read_text())


def files(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


def test_each_of_the_fifteen_things_is_there_or_says_why_not(demo_pack: Path) -> None:
    said = manifest(demo_pack)
    there = {int(sheet["number"].split(".")[0]) for sheet in said["sheets"]}
    absent = {entry["part"]: entry["because"] for entry in said["not applicable"]}
    assert there | set(absent) == set(PARTS)
    assert all(len(why.split()) >= 3 for why in absent.values())
    cover = reading.squeezed(" ".join(reading.pdf_pages((demo_pack / "sheets" / "01-cover.pdf").read_bytes())))
    for sheet in said["sheets"]:
        assert reading.squeezed(sheet["title"]) in cover
    for why in absent.values():
        assert reading.squeezed(why) in cover


def test_the_book_holds_every_page_of_every_sheet_in_order(demo_pack: Path) -> None:
    said = manifest(demo_pack)
    book = reading.pdf_pages((demo_pack / "book.pdf").read_bytes())
    assert len(book) == sum(sheet["pages"] for sheet in said["sheets"])
    at = 0
    for sheet in said["sheets"]:
        single = next((demo_pack / "sheets").glob(f"[0-9]*-{sheet['name']}.pdf"))
        for page in reading.pdf_pages(single.read_bytes()):
            assert book[at] == page, sheet["name"]
            at += 1


def test_every_document_carries_the_pack_id_and_every_page_the_cautions(demo_pack: Path) -> None:
    pack_id = manifest(demo_pack)["pack id"]
    assert ident.PATTERN.fullmatch(pack_id)
    for name, data in files(demo_pack).items():
        if name.endswith(".pdf"):
            for page in reading.pdf_pages(data):
                flat = reading.squeezed(page)
                assert reading.squeezed(pack_id) in flat, name
                assert all(reading.squeezed(caution) in flat for caution in CAUTIONS), name
                assert re.search(r"\d+of\d+", flat), name
                assert f"harnesscheck{__version__}" in flat, name
        elif name.endswith(".svg"):
            texts = reading.svg_texts(data)
            pages = data.count(b'id="sheet-')
            assert texts.count(pack_id) == pages, name
        elif name.endswith(".html"):
            text = reading.html(data).text
            assert pack_id in text
            assert all(caution in text for caution in CAUTIONS)
        elif name.endswith(".xlsx"):
            cells = [cell for row in reading.xlsx_tables(data)["Title block"] for cell in row]
            assert pack_id in cells
            assert all(caution in cells for caution in CAUTIONS)
        elif name.endswith(".png"):
            assert b"tEXtpack id\0" + pack_id.encode() in data, name
        else:
            assert name.endswith((".csv", "manifest.json"))


def test_the_same_inputs_give_the_same_bytes_wherever_they_lie(demo_pack: Path, tmp_path: Path) -> None:
    """Another process, other hash seeds, another folder, an absolute path, later."""
    copy = tmp_path / "copied" / "job"
    shutil.copytree(DEMO.parent, copy)
    out = tmp_path / "again"
    done = subprocess.run(
        [sys.executable, "-m", "harnesscheck", "pack", str(copy / "jumper.yaml"), "-o", str(out)],
        env={**os.environ, "PYTHONHASHSEED": "77", "PYTHONPATH": str(ROOT), "TZ": "Asia/Tokyo"},
        cwd=tmp_path, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    one, two = files(demo_pack), files(out)
    assert list(one) == list(two)
    assert [name for name in one if one[name] != two[name]] == []


def test_the_pack_id_stands_for_inputs_program_and_options(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(DEMO.parent, tmp_path / "job")
    file = tmp_path / "job" / "jumper.yaml"

    def made(kits: int = 1) -> str:
        job = api.load(file)
        return ident.pack_id(ident.basis(job, Wish(kits), api.check(job)))

    first = made()
    assert made() == first
    assert made(kits=2) != first
    for name in ("jumper.yaml", "airframe.yaml", "ice-probe.yaml", "shop-parts.yaml"):
        kept = (tmp_path / "job" / name).read_bytes()
        (tmp_path / "job" / name).write_bytes(kept + b"# one byte more\n")
        assert made() != first, name
        (tmp_path / "job" / name).write_bytes(kept)
    assert made() == first
    monkeypatch.setattr(ident, "program", lambda: "0" * 64)
    assert made() != first


# -- verify ------------------------------------------------------------------------------------------------------------


def test_verify_finds_every_altered_and_every_missing_file(demo_pack: Path, tmp_path: Path) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(demo_pack, copy)
    assert pack.verify(copy).faults == ()
    whole = {name: data for name, data in files(copy).items() if name != "manifest.json"}
    for name, data in whole.items():
        middle = len(data) // 2
        (copy / name).write_bytes(data[:middle] + bytes([data[middle] ^ 1]) + data[middle + 1 :])
    faults = pack.verify(copy).faults
    assert len(faults) == len(whole)
    assert all(any(name in fault for fault in faults) for name in whole)
    for name in whole:
        (copy / name).unlink()
    assert pack.verify(copy).faults == tuple(f"incomplete: {name} is missing" for name in sorted(whole))


def test_verify_finds_a_manifest_that_was_changed_anywhere(tmp_path: Path) -> None:
    data = manifests.build("0000-0000-0000", {"inputs": []}, {"title": "x"}, {})
    for at in range(len(data)):
        (tmp_path / "manifest.json").write_bytes(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :])
        assert "manifest.json" in pack.verify(tmp_path).faults[0], at
    (tmp_path / "manifest.json").write_bytes(data)
    assert pack.verify(tmp_path).faults == (
        "altered: manifest.json: its pack id 0000-0000-0000 does not belong to the inputs and options it lists",
    )


def test_verify_finds_sheets_of_another_pack(
    demo_pack: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], blank_pictures: None
) -> None:
    other = written(tmp_path / "other", kits=2)
    mine, theirs = manifest(demo_pack)["pack id"], manifest(other)["pack id"]
    assert mine != theirs
    copy = tmp_path / "copy"
    shutil.copytree(demo_pack, copy)
    shared = {name: data for name, data in files(other).items() if name in files(copy) and name != "manifest.json"}
    assert len(shared) > 30
    changed = {name for name, data in shared.items() if (copy / name).read_bytes() != data}
    for name, data in shared.items():
        (copy / name).write_bytes(data)
    faults = set(pack.verify(copy).faults)
    # A machine file carries no id: the manifest tells.
    assert faults == {
        f"altered: {name} is not as it was written"
        if name.endswith(".csv")
        else f"mixed: {name} belongs to pack {theirs}, not to {mine}"
        for name in changed
    }
    assert {Path(name).suffix for name in changed} == {".csv", ".pdf", ".svg", ".png", ".html", ".xlsx"}
    (copy / "old.pdf").write_bytes(shared["book.pdf"])
    assert cli.main(["verify", str(copy)]) == 1
    said = capsys.readouterr().out
    assert f"mixed: old.pdf is not a part of this pack; it belongs to pack {theirs}" in said
    assert "make it again" in said


@pytest.mark.parametrize(
    ("manifest_says", "fault"),
    [
        (b"", "cannot be read as JSON"),
        (b"[" * 100_000, "cannot be read as JSON"),
        (b"{}", "not the manifest of a kit pack"),
        (b'{"kind": "harnesscheck kit pack"}', "parts of it are missing"),
        (
            b'{"kind": "harnesscheck kit pack", "pack id": "x", "pack id stands for": {}, "files": '
            b'[{"name": "../../etc/passwd", "sha256": ""}]}',
            "outside the folder",
        ),
    ],
)
def test_verify_reads_no_broken_manifest(tmp_path: Path, manifest_says: bytes, fault: str) -> None:
    (tmp_path / "manifest.json").write_bytes(manifest_says)
    assert fault in pack.verify(tmp_path).faults[0]
    assert pack.verify(tmp_path / "nowhere").faults


# -- the folder --------------------------------------------------------------------------------------------------------


def small(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str = "one") -> None:
    """A pack of two small files, so that the folder is tested without typesetting."""
    monkeypatch.setattr(writing, "_documents", lambda book: iter([("lists/a.csv", text.encode()), ("b.csv", b"")]))


def test_a_folder_of_other_files_is_left_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    small(tmp_path, monkeypatch)
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "notes.txt").write_text("keep")
    job = api.load(DEMO)
    with pytest.raises(InputError, match="other files than a kit pack"):
        pack.write(job, api.check(job), mine, Wish())
    assert files(mine) == {"notes.txt": b"keep"}
    (mine / "notes.txt").unlink()
    pack.write(job, api.check(job), mine, Wish())  # an empty folder is taken
    (mine / "lists" / "a.csv").write_text("a person's own figures")
    with pytest.raises(InputError, match=r"not as it was written: .*a\.csv"):
        pack.write(job, api.check(job), mine, Wish())
    assert (mine / "lists" / "a.csv").read_text() == "a person's own figures"


def test_a_write_that_fails_leaves_the_old_pack(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    small(tmp_path, monkeypatch)
    job = api.load(DEMO)
    report = api.check(job)
    book = writing.assemble(job, Wish(), report, writing.stamp(job, report, "0000-0000-0000"))
    monkeypatch.setattr(writing, "assemble", lambda *_: book)
    out = tmp_path / "out"
    pack.write(job, report, out, Wish())
    before = files(out)
    small(tmp_path, monkeypatch, "two")
    plain_write, plain_replace = writing.write_new, writing.os.replace
    monkeypatch.setattr(writing, "exchange", lambda *_: False)  # two moves; the one move is in tests/crash
    for failing in range(1, 6):
        count = 0

        def fails(*_: object, failing: int = failing) -> bool:
            nonlocal count
            count += 1
            return count == failing

        def write(path: Path, data: bytes) -> None:
            if fails():
                raise OSError(28, "No space left on device", str(path))
            plain_write(path, data)

        def replace(old: Path, new: Path) -> None:
            if fails():
                raise OSError(28, "No space left on device", str(new))
            plain_replace(old, new)

        with monkeypatch.context() as patch:
            patch.setattr(writing, "write_new", write)
            patch.setattr(writing.os, "replace", replace)
            with pytest.raises(OSError, match="No space"):
                pack.write(job, report, out, Wish())
        assert files(out) == before
        assert [p.name for p in tmp_path.iterdir()] == ["out"]
    pack.write(job, report, out, Wish())
    assert files(out) != before
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_only_a_jumper_file_makes_a_pack(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["pack", str(DEMO.parent / "airframe.yaml"), "-o", str(tmp_path / "x")]) == 2
    assert "made of a jumper file" in capsys.readouterr().err
    assert cli.main(["pack", str(DEMO), "-o", str(tmp_path / "x"), "--kits", "0"]) == 2
    assert list(tmp_path.iterdir()) == []


def test_a_job_that_is_not_clear_says_so_on_every_page(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], blank_pictures: None
) -> None:
    faulty = ROOT / "harnesses" / "faulty" / "pin-collision" / "jumper.yaml"
    assert cli.main(["pack", str(faulty), "-o", str(tmp_path / "x")]) == 1
    assert "STOP, do not build or apply power" in capsys.readouterr().out
    for page in reading.pdf_pages((tmp_path / "x" / "book.pdf").read_bytes()):
        assert reading.squeezed("do not build or apply power") in reading.squeezed(page.lower())
