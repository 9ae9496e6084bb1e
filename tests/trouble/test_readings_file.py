"""Readings files: what is read, what is refused with its place, and what the commands make of them."""

from __future__ import annotations

import io
import json
import math
import shutil
from pathlib import Path

import pytest

from harnesscheck.cli import main
from harnesscheck.fault import InputError
from harnesscheck.trouble.readings import load, value_of

DEMO = Path(__file__).parents[2] / "harnesses" / "ice-probe"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A copy of the demo as the current folder."""
    shutil.copytree(DEMO, tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    return tmp_path / "job"


@pytest.mark.parametrize(
    ("typed", "unit", "expected"),
    [
        ("0.3", "", (0.3, "", "")),
        ("0.3", "ohm", (0.3, "ohm", "")),
        ("60 ohm", "", (60.0, "ohm", "")),
        ("1.2k", "", (1200.0, "ohm", "")),
        ("1.2", "kohm", (1200.0, "ohm", "")),
        ("OL", "Mohm", (math.inf, "ohm", "")),
        ("open", "", (math.inf, "ohm", "")),
        (">20 Mohm", "", (2e7, "ohm", ">")),
        ("13.9 V", "", (13.9, "V", "")),
        ("-0.02", "V", (-0.02, "V", "")),
        (".5", "ohm", (0.5, "ohm", "")),
    ],
)
def test_values(typed: str, unit: str, expected: tuple[float, str, str]) -> None:
    assert value_of(typed, unit) == expected


@pytest.mark.parametrize("typed", ["0,3", "0.3.1", "beep", "12 furlong", "1e5", "nan", "-5 ohm", "3 4"])
def test_values_that_are_refused(typed: str) -> None:
    assert isinstance(value_of(typed), str)


SAME = {
    "r.csv": 'who,A\narticle,bench\n\nreading,value,unit,verdict,note\nBC1,0.1,ohm,,\nBS1,OL,,good,"nulled, dry"\n',
    "r.json": '{"who": "A", "article": "bench", "readings": [{"reading": "BC1", "value": "0.1", "unit": "ohm"},\n'
    ' {"reading": "BS1", "value": "OL", "verdict": "good", "note": "nulled, dry"}]}\n',
    "r.yaml": "who: A\narticle: bench\nreadings:\n  - {reading: BC1, value: 0.1, unit: ohm}\n"
    "  - {reading: BS1, value: OL, verdict: good, note: 'nulled, dry'}\n",
}


@pytest.mark.parametrize("name", SAME)
def test_three_forms_say_the_same(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_text(SAME[name], encoding="utf-8")
    found = load(path, name)
    assert found.head == {"who": "A", "article": "bench"}
    rows = [(r.id, r.value, r.unit, r.verdict, r.note) for r in found.rows]
    assert rows == [("BC1", 0.1, "ohm", None, ""), ("BS1", math.inf, "ohm", True, "nulled, dry")]


BAD = [
    ("r.csv", "reading,value\nBC1,beep\n", 2, 5, "neither a number nor OL"),
    ("r.csv", "reading,value\nBC1,0,3\n", 2, 7, "more cells than columns"),
    ("r.csv", "reading,valeu\nBC1,0.3\n", 1, 9, "unknown column 'valeu'"),
    ("r.csv", "reading,value,unit\nBC1,0.3,furlong\n", 2, 5, "unit 'furlong'"),
    ("r.csv", "artcle,bench\nreading,value\nBC1,0.3\n", 1, 1, "unknown key 'artcle'"),
    ("r.csv", "article,bnech\nreading,value\nBC1,0.3\n", 1, 9, "article cannot be 'bnech'"),
    ("r.csv", 'reading,note\nBC1,"dry\n', 2, 5, "quote opened here"),
    ("r.csv", "reading,value\n,0.3\n", 2, 1, "names no reading"),
    ("r.csv", "reading,verdict\nBC1,fine\n", 2, 5, "unknown verdict 'fine'"),
    ("r.csv", "BC1,0.3\n", 1, 1, "unknown key 'BC1'"),
    ("r.csv", "reading,value\nBC1,0.3\u200b\n", 2, 8, "hidden or control character"),
    ("r.json", '{"readings": {"BC1": "0.3"}}', 1, 14, "readings is a list"),
    ("r.json", '{"readings": ["BC1"]}', 1, 15, "a row is a mapping"),
    ("r.json", '{"readings": [{"reading": "BC1", "value": ["0.3"]}]}', 1, 43, "value is plain text"),
    ("r.json", '{"readings": [{"id": "BC1", "value": "0.3"}]}', 1, 16, "unknown key 'id'"),
    ("r.json", '{"who": "A"}', 1, 1, "holds no readings"),
    ("r.json", '{"readings": [{"reading": "BC1"', 1, 15, "not closed"),
    ("r.yaml", "kind: jumper\nreadings: []\n", 1, 1, "this is a file of kind 'jumper'"),
    ("r.csv", "", 1, 1, "empty"),
]


@pytest.mark.parametrize(("name", "text", "line", "column", "words"), BAD)
def test_faults_have_their_place(
    name: str, text: str, line: int, column: int, words: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as found:
        load(path, name)
    assert any((f.line, f.column) == (line, column) and words in f.message for f in found.value.faults), str(
        found.value
    )
    assert all(f.remedy for f in found.value.faults)
    for command in ("readings", "diagnose"):
        assert main([command, "jumper.yaml", name]) == 2
        assert words in capsys.readouterr().err


def test_missing_folder_and_not_text(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "bytes.csv").write_bytes(b"reading,value\nBC1,\xff\n")
    (folder / "wide.csv").write_bytes("reading,value\n".encode("utf-16"))
    (folder / "room.csv").mkdir()
    for name in ("none.csv", "none.json", "room.csv", "bytes.csv", "wide.csv"):
        assert main(["readings", "jumper.yaml", name]) == 2, name
        assert "do:" in capsys.readouterr().err


def test_each_row_has_its_verdict(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "r.csv").write_text(
        "article,bench\npack id,P-1\nreading,value,unit,verdict\nBC1,0.1,ohm,\nBC2,OL,,\nBC4,0.1,kohm,\nBC5,12,V,\n"
        "BC99,0.1,,\nBS1,>2M,,\nBC6,,,wrong\nBC7,0.1,,wrong\n"
    )
    assert main(["readings", "jumper.yaml", "r.csv", "--format", "json", "--pack", "P-2"]) == 1
    said = json.loads(capsys.readouterr().out)
    verdicts = {row["reading"]: (row["verdict"], row["remark"]) for row in said["rows"]}
    assert verdicts["BC1"] == ("good", "")
    assert verdicts["BC2"] == ("wrong", "")
    assert verdicts["BC3"][0] == "not read"
    assert verdicts["BC4"] == ("wrong", "a thousandth of it would be good: look at the unit of the meter")
    assert verdicts["BC5"] == ("wrong", "typed in V, but this reading is in ohm")
    assert verdicts["BC99"][0] == "no such reading"
    assert verdicts["BS1"] == ("unclear", "the limit lies beyond the range of the meter: use another range")
    assert verdicts["BC6"] == ("wrong", "by hand: no value typed")
    assert verdicts["BC7"] == ("good", "called wrong by hand")
    assert said["papers"] == ["these readings carry pack id P-1, not P-2: other papers"]
    assert main(["readings", "jumper.yaml", "r.csv"]) == 1
    assert "BC99   no such reading" in capsys.readouterr().out


def test_a_changed_job_file_is_noticed(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    import hashlib

    own = hashlib.sha256((folder / "jumper.yaml").read_bytes()).hexdigest()
    for said, status in ((own, 0), (own[:16].upper(), 0), ("0" * 64, 1)):
        (folder / "r.csv").write_text(f"article,bench\nfile hash,{said}\nreading,value\nBC1,0.1\n")
        assert main(["readings", "jumper.yaml", "r.csv"]) == status
        assert ("has changed since" in capsys.readouterr().out) is (status == 1)


def test_every_file_of_the_job_counts(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A length in the airframe file changes limits though the jumper file stays as it is."""
    from hashlib import sha256

    names = ("airframe.yaml", "ice-probe.yaml", "jumper.yaml", "shop-parts.yaml")
    said = "; ".join(f"{name} {sha256((folder / name).read_bytes()).hexdigest()[:16]}" for name in names)
    (folder / "r.csv").write_text(f"article,bench\nfiles,{said}\nreading,value\nBC1,0.1\n")
    assert main(["readings", "jumper.yaml", "r.csv"]) == 0
    airframe = folder / "airframe.yaml"
    airframe.write_text(
        airframe.read_text(encoding="utf-8").replace("length: 2.6 m", "length: 2.7 m"), encoding="utf-8"
    )
    capsys.readouterr()
    assert main(["readings", "jumper.yaml", "r.csv"]) == 1
    assert capsys.readouterr().out.startswith("airframe.yaml has changed since the list was made")
    main(["diagnose", "jumper.yaml", "r.csv"])
    assert "airframe.yaml has changed" in capsys.readouterr().err
    more, less = f"{said}; old.yaml 0123456789abcdef", said.partition("; ")[2]
    for wrong, words in (("airframe.yaml", "cannot be read"), (more, "old.yaml belonged"),
                         (less, "airframe.yaml belongs")):  # fmt: skip
        (folder / "r.csv").write_text(f"article,bench\nfiles,{wrong}\nreading,value\nBC1,0.1\n")
        assert main(["readings", "jumper.yaml", "r.csv"]) == 1
        assert words in capsys.readouterr().out


@pytest.mark.parametrize(("said", "id_of_can"), [("plugged in", "IR1"), ("unplugged", "")])
def test_other_units_plugged_in_or_unplugged(
    said: str, id_of_can: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With every unit unplugged there is no terminator to read through, and every net is apart from every other."""
    from harnesscheck import api
    from harnesscheck.ringout.article import article
    from harnesscheck.ringout.plan import plan

    (folder / "r.csv").write_text(f"article,installed\nother units,{said}\nreading,value\nIC1,0.1\nIS1,OL\n")
    main(["readings", "jumper.yaml", "r.csv", "--format", "json"])
    rows = {row["reading"]: row for row in json.loads(capsys.readouterr().out)["rows"]}
    under = article(api.load("jumper.yaml"), "installed", said == "plugged in")
    assert {r.id for r in plan(under).readings} == {ident for ident in rows if not ident.startswith("IV")}
    assert ("IR1" in rows) == bool(id_of_can)
    assert rows["IS1"]["verdict"] == ("written down" if id_of_can else "good")
    assert main(["diagnose", "jumper.yaml", "r.csv", "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["readings"] >= (12 if said == "unplugged" else 8)
    (folder / "r.csv").write_text("other units,out\nreading,value\nIC1,0.1\n")
    assert main(["readings", "jumper.yaml", "r.csv"]) == 2
    assert "other units cannot be 'out'" in capsys.readouterr().err


def test_the_demo_readings_lead_to_the_fault(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The demo's readings are those of an open contact at J114-3: both readings from it are open."""
    assert main(["readings", "jumper.yaml", "readings.csv"]) == 1
    assert "32 good; 2 wrong" in capsys.readouterr().out
    assert main(["diagnose", "jumper.yaml", "readings.csv", "--format", "json"]) == 1
    said = json.loads(capsys.readouterr().out)
    first = said["suspects"][0]
    assert first["probability"] > 0.9 and said["settled"]
    assert "the contact at J114-3 (CAN H) is open" in [one[0]["says"] for one in first["faults"]]
    assert len(first["explains"]) == 2 and not first["against"]
    assert main(["diagnose", "jumper.yaml", "readings.csv"]) == 1
    text = capsys.readouterr().out
    assert "look at J114, cavity 3" in text and "opinion" in text


def test_the_examples_in_the_help_run(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    import shlex

    for command in ("readings", "diagnose"):
        assert main([command, "--help"]) == 0
        lines = capsys.readouterr().out.partition("examples:\n")[2].split("\n")
        lines = [line.strip() for line in lines if line.strip()]
        assert len(lines) >= 2
        for line in lines:
            assert main(shlex.split(line)[1:]) in (0, 1), line
        capsys.readouterr()


def test_asking_on_a_terminal(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Nonsense is asked again, ``skip`` goes on, ``stop`` ends with the ranking."""
    monkeypatch.setattr("sys.stdin", io.StringIO("beep\n0.1\nskip\n5 V\nOL\nstop\n"))
    assert main(["diagnose", "jumper.yaml", "--ask", "--probes"]) in (0, 1)
    out = capsys.readouterr().out
    assert "this is neither a number nor OL" in out and "this reading is in ohm" in out
    assert out.count("skip or stop?") == 6
    assert "2 of 34 readings taken" in out


def test_asking_ends_by_itself_at_the_fault(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Answers come from a simulated jumper whose contact at J114-3 is open."""
    from random import Random

    from harnesscheck import api
    from harnesscheck.trouble.desk import desk
    from tests.trouble import plant
    from tests.trouble.asking import _one

    job = api.load("jumper.yaml")
    here = desk(job, "bench", plugs=False)
    number = next(n for n, t in enumerate(here.troubles) if t.says == "the contact at J114-3 (CAN H) is open")
    bad = plant.broken(job, plant.bench(job.jumper), here.troubles[number], Random(1))  # type: ignore[arg-type]
    count, hit = _one(here, bad, number, Random(1))
    assert hit and count < len(here.readings)


def test_nothing_to_ring_out(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for command in (["readings", "ice-probe.yaml", "readings.csv"], ["diagnose", "ice-probe.yaml"]):
        assert main(command) == 2
        assert "nothing to ring out" in capsys.readouterr().err
    assert main(["diagnose", "airframe.yaml", "--article", "bench"]) == 2
    assert "no article bench" in capsys.readouterr().err


def test_output_is_the_same_twice(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shown = []
    for _ in range(2):
        main(["diagnose", "jumper.yaml", "--article", "installed", "--symptom", "old radio quit"])
        shown.append(capsys.readouterr().out)
    assert shown[0] == shown[1] and "something that worked before has quit" in shown[0]
