"""What a list says and nobody understood stays said: by the file made of the list, and by every job that uses it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from harnesscheck import api, exchange, sheets
from harnesscheck.cli import main
from harnesscheck.document import parse
from harnesscheck.fault import InputError
from harnesscheck.formats import spreadsheet
from harnesscheck.formats._lists.build import as_yaml
from harnesscheck.job import Job
from harnesscheck.pack import folder
from tests.importing import shops

CASES = sorted(p for p in (Path(__file__).parent / "cases").iterdir() if p.suffix != ".yaml")
HIDDEN = str.maketrans("\ufe0f\u202f\u3164", "   ")
LIST = """Wire,From,Pin,To,Pin,Gauge,Color
W1,P1,1,J2,1,22,white
W2,P1,2,J2,??,22,white
W3,P1,3,J2,3,22,mauve-ish
"""


def said(job: Job) -> list[tuple[str, str, str, str, bool]]:
    """What is left out of a job: cell, words, why, what to do, and whether it is a whole row."""
    return [(u.at, u.place.label, u.reason, u.remedy, u.row) for u in job.unread]


def agree(path: Path, folder: Path) -> int:
    """The list and the file made of it are silent about nothing. Returns how much was left out."""
    imported = spreadsheet.understood(path, str(path))
    wanted = [*imported.account.left, *imported.account.values]
    try:
        job = api.load(path)
    except InputError:
        return 0  # not even a wire or a cavity: there is no file
    (folder / "made.yaml").write_text(as_yaml(imported.draft), encoding="utf-8")
    again = api.load(folder / "made.yaml")
    assert said(job) == said(again)
    assert [(u.at, u.row) for u in again.unread] == [
        (imported.document.where(left.line, left.column).rpartition("/")[2], n < len(imported.account.left))
        for n, left in enumerate(wanted)
    ]
    for kept, left in zip(again.unread, wanted, strict=True):
        plain = left.reason.replace(str(path), path.name).translate(HIDDEN)
        assert kept.reason == " ".join(plain.split())[:300]
    one, two = api.check(job), api.check(again)
    rows = [sum(f.check == "unread-row" for f in report.findings) for report in (one, two)]
    values = [sum(n.check == "unread-row" for n in report.not_checked) for report in (one, two)]
    assert rows == [len(imported.account.left)] * 2
    assert values == [len(imported.account.values)] * 2
    return len(wanted)


def test_every_family(tmp_path: Path) -> None:
    assert sum(agree(path, tmp_path) for path in CASES) > 20


@pytest.mark.parametrize("shop", shops.every(), ids=lambda shop: shop.name)
def test_every_shop(shop: shops.Shop, tmp_path: Path) -> None:
    agree(shops.written(shop, tmp_path), tmp_path)


@pytest.fixture
def made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "list.csv").write_text(LIST, encoding="utf-8")
    assert main(["import", "list.csv", "-o", "out.yaml"]) == 1
    capsys.readouterr()
    return tmp_path / "out.yaml"


def test_until_the_entry_is_deleted(made: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "out.yaml"]) == 1
    out = capsys.readouterr().out
    assert "this row was not understood" in out and "list.csv!A3: '??' cannot be a cavity name" in out
    assert "unread-row: Color 'mauve-ish': not a colour" in out
    assert "The list that the airframe file was made of holds 2 rows or values more, not understood." in out
    kept = [line for line in made.read_text(encoding="utf-8").splitlines() if "what: row" not in line]
    made.write_text("\n".join(kept) + "\n", encoding="utf-8")
    report = api.check(api.load(made))
    assert [f.check for f in report.findings] == [] and sum(n.check == "unread-row" for n in report.not_checked) == 1
    kept = [line for line in kept if "mauve" not in line and not line.startswith("not understood:")]
    made.write_text("\n".join(kept) + "\n", encoding="utf-8")
    assert not any(n.check == "unread-row" for n in api.check(api.load(made)).not_checked)


def test_a_jumper_and_an_aircraft_of_that_type_say_it_too(made: Path) -> None:
    """The installed harness is checked, and the list is three files away."""
    text = made.read_text(encoding="utf-8").replace("  P1: {}", "  P1: {mates: J2}")
    made.write_text(text, encoding="utf-8")
    made.with_name("kit.yaml").write_text(
        "kind: jumper\ntitle: kit\nairframe: out.yaml\nopens: P1/J2\n"
        "connectors: {J11: {mates: P1}, P11: {mates: J2}}\nwires: {X1: {from: J11-1, to: P11-1}}\n",
        encoding="utf-8",
    )
    made.with_name("found.yaml").write_text(
        "kind: as-found\nairframe: out.yaml\naircraft: demo 1\nby: demo\ndate: 2026-11-20\n", encoding="utf-8"
    )
    airframe = api.load(made)
    for job in (api.load(made.with_name("kit.yaml")), api.load(made.with_name("found.yaml"))):
        assert said(job) == said(airframe) and len(job.unread) == 2
        report = api.check(job)
        assert [f.place.where().split(":")[0] for f in report.findings if f.check == "unread-row"] == [str(made)]
        assert any(n.check == "unread-row" for n in report.not_checked)


@pytest.mark.parametrize("name", ["back.csv", "back.xlsx"])
def test_an_export_keeps_it(made: Path, name: str) -> None:
    for source in (made, made.with_name("list.csv")):
        back = made.with_name(name)
        back.write_bytes(exchange.write(api.load(source), name))
        assert said(api.load(back)) == said(api.load(made))


def test_a_new_job_keeps_it(made: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", "job", "--list", "list.csv", "--opens", "P1/J2", "--equipment-pins", "1:power,2:ground"]) == 0
    assert "2 rows or values of the list were not understood" in capsys.readouterr().out
    assert said(api.load(made.parent / "job" / "airframe.yaml")) == said(api.load(made))


def test_hidden_characters_do_not_spoil_the_file(tmp_path: Path) -> None:
    """A variation selector or a narrow blank in a row that is not understood: the file must still be readable."""
    path = tmp_path / "odd.csv"
    path.write_text(LIST.replace("??", "?\ufe0f\u202f?\u3164"), encoding="utf-8")
    imported = spreadsheet.understood(path, path.name)
    assert parse(as_yaml(imported.draft), "made.yaml").root["not understood"]
    assert agree(path, tmp_path) == 2


ASKED = (
    ("trace", "out.yaml", "P1-1"),
    ("sheet", "ring-out", "out.yaml"),
    ("sheet", "wiring-diagram", "out.yaml", "-o", "out.svg"),
    ("readings", "out.yaml", "typed.csv"),
    ("export", "out.yaml", "-o", "out.json"),
)


@pytest.mark.parametrize("asked", ASKED, ids=lambda a: a[0])
def test_no_answer_passes_over_it(asked: tuple[str, ...], made: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Whoever asks for a trace or a sheet may never have run a check: the rows left out are said there too."""
    made.with_name("typed.csv").write_text("reading,value\n", encoding="utf-8")
    main(list(asked))
    told = "out.yaml: 2 rows or values of the list were not understood and not counted here"
    assert told in capsys.readouterr().err


def test_every_page_carries_it(made: Path) -> None:
    """In the foot of a page beside the cautions; one row left is said as one."""
    job = api.load(made)
    for form in ("text", "html"):
        assert "2 rows or values of the list were not understood" in sheets.render("ring-out", job, form).decode()
    drawn = re.sub(r"<[^>]*>", " ", sheets.render("wiring-diagram", job, "svg").decode())
    assert "2 rows or values of the list were not" in " ".join(drawn.split())
    assert "2 rows or values of the list were not understood" in sheets.stamp(job).warning
    kept = [line for line in made.read_text(encoding="utf-8").splitlines() if "what: row" not in line]
    made.write_text("\n".join(kept) + "\n", encoding="utf-8")
    job = api.load(made)
    stamp = folder.stamp(job, api.check(job), "0" * 8)
    assert stamp.warning == sheets.stamp(job).warning
    assert stamp.warning.startswith("1 row or value of the list was not understood")
