"""Which file is read as what, the files that a file names, and what every harness takes from the head of its file."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck.document import Document, parse, read
from harnesscheck.formats import harness_yaml
from harnesscheck.formats._overlay import Overlaid
from harnesscheck.formats._reader import Reader, input_files, wrong_kind
from harnesscheck.parts import open_drawer
from tests.formats.marked import airframe, check_airframe, check_job, expected, places, refused, same, written


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


SAYS_NOT = "this file does not say what it is"
NOT_KNOWN = "write airframe, as-found, equipment or jumper"


@pytest.mark.parametrize(
    ("text", "message", "remedy"),
    [
        ("§title: t\nwires: {}\n", SAYS_NOT, "add 'kind: equipment'"),
        ("# first\n\n§title: t\n", SAYS_NOT, "add 'kind: equipment'"),
        ("title: t\nkind: §{a: b}\n", SAYS_NOT, "add 'kind: equipment'"),
        ("title: t\n§knid: jumper\n", "unknown key 'knid'", "did you mean kind?"),
        ("§Kind: jumper\n", "unknown key 'Kind'", "did you mean kind? (capital and small letters differ)"),
        ("§kit: {}\n", SAYS_NOT, "add 'kind: equipment'"),  # a key of a jumper file, and no slip for another
        ("kit: {}\n§kin: jumper\n", "unknown key 'kin'", "did you mean kind?"),
        (
            "title: t\nkind: §parts\n",
            "this is a parts file",
            "name the jumper, airframe or equipment file that uses it",
        ),
        ("kind: §jumpr\n", "unknown kind of file 'jumpr'", "did you mean jumper?"),
        ("kin: a\nkind: §jumpr\n", "unknown kind of file 'jumpr'", "did you mean jumper?"),
        ("kind: §zzzz\n", "unknown kind of file 'zzzz'", NOT_KNOWN),
        (
            "kind: §\u0430irframe\n",
            "unknown kind of file '\u0430irframe'",
            "U+0430 (cyrillic small letter a) at character 1 is not a plain letter: type it again",
        ),
    ],
)
def test_a_file_that_does_not_say_what_it_is(text: str, message: str, remedy: str) -> None:
    plain, ((line, column),) = places(text)
    fault = wrong_kind(parse(plain, "x.yaml"), "equipment")
    assert (fault.file, fault.line, fault.column) == ("x.yaml", line, column)
    assert (fault.message, fault.remedy) == (message, remedy)


PARTS = "name the parts file here"
AIR = "kind: airframe\ntitle: t\n"
ASFOUND = "kind: as-found\nairframe: {}\naircraft: LN-T\nby: b\ndate: 2026-01-02\n"


@pytest.mark.parametrize(
    ("other", "at", "message", "remedy"),
    [
        ("kind: airframe\ntitle: t\n", "here", "parts 'o.yaml': this is an airframe file, not a parts file", PARTS),
        ("kind: equipment\ntitle: t\n", "here", "parts 'o.yaml': this is an equipment file, not a parts file", PARTS),
        ("kind: jumper\ntitle: t\n", "here", "parts 'o.yaml': this is a jumper file, not a parts file", PARTS),
        ("kind: as-found\nby: t\n", "here", "parts 'o.yaml': this is an as-found file, not a parts file", PARTS),
        ("kind: §part\n", "there", "unknown kind of file 'part'", "did you mean parts?"),
        ("§title: t\n", "there", SAYS_NOT, "add 'kind: parts'"),
        ("kind: §[a]\n", "there", SAYS_NOT, "add 'kind: parts'"),
        ("a: §*b\n", "there", "alias *b", "write the value out: aliases are not read"),
    ],
)  # fmt: skip
def test_a_named_file_of_another_kind(other: str, at: str, message: str, remedy: str, folder: Path) -> None:
    main = AIR + f"parts: {'§' if at == 'here' else ''}o.yaml\n"
    check_job(folder, {"a.yaml": main, "o.yaml": other}, (message, remedy), main="a.yaml")


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("none.yaml", "there is no such file"),
        ("../up.yaml", "a path may not leave the folder of the file you named"),
        ("sub", "there is no such file"),
        ("sub\\o.yaml", "a path is written with forward slashes"),
        ("/etc/hosts", "a path is relative to the file that names it"),
    ],
)
def test_a_path_that_leads_to_no_file(typed: str, said: str, folder: Path) -> None:
    (folder / "sub").mkdir()
    shown = repr(typed)
    check_job(
        folder,
        {"a.yaml": AIR + f"parts: §{typed}\n"},
        (f"parts {shown}: {said}", "name a file in this folder or below it"),
        main="a.yaml",
    )


def test_a_path_is_followed_from_the_file_that_names_it(folder: Path) -> None:
    (folder / "job" / "sub").mkdir(parents=True)
    (folder / "job" / "a.yaml").write_text(AIR + "parts: '  sub/../sub/p.yaml '\n")
    (folder / "job" / "sub" / "p.yaml").write_text("kind: parts\nparts: {}\n")
    asked = []

    def reading(path: Path, name: str) -> Document:
        asked.append((path.relative_to(folder.resolve()).as_posix(), name))
        return read(path, name)

    reader = Reader(read(Path("job/a.yaml")), folder / "job", read=reading)
    found = reader.named("parts", "parts")
    assert found is not None and asked == [("job/sub/p.yaml", "job/sub/p.yaml")]
    assert (reader.documents, reader.faults) == ([reader.document, found], [])
    # What is no text, or missing, is for the schema to say.
    for text in ("title: t\n", "parts: {a: b}\n", "parts: ' '\n", "parts: [a]\n"):
        other = Reader(parse(text, "a.yaml", folder / "a.yaml"), folder)
        assert other.named("parts", "parts") is None and other.named("parts", "parts", "x") is None
        assert (other.faults, len(other.documents)) == ([], 1)


def test_a_file_named_in_a_block(folder: Path) -> None:
    text, ((line, column),) = places("equipment: {A1: b.yaml, A2: §c.yaml}\n")
    reader = Reader(parse(text, "a.yaml", folder / "a.yaml"), folder)
    assert reader.named("equipment", "equipment", "A2") is None
    (fault,) = reader.faults
    assert (fault.line, fault.column) == (line, column)
    assert fault.message == "equipment A2 'c.yaml': there is no such file"


PART = "kind: parts\nparts:\n  {}:\n    kind: contact\n    facts:\n      - {{status: from memory, gender: {}}}\n"


def test_of_several_parts_files_the_first_counts_and_each_is_read_once(folder: Path) -> None:
    """Two shop files state one thing of one contact; the same file twice is one file."""
    for name, gender in (("one", "pin"), ("two", "socket")):
        (folder / f"{name}.yaml").write_text(PART.format("X", gender))
    one, two = (read(folder / f"{name}.yaml") for name in ("one", "two"))
    reader = Reader(parse("a: b\n", "a.yaml", folder / "a.yaml"), folder)
    drawers = [reader.drawer_of(named) for named in ([one, two], [one, two, read(folder / "one.yaml")], [two, one], [])]
    found = [part.text("gender") if (part := drawer.get("contact", "X")) else None for drawer in drawers]
    alone = [open_drawer(*named).get("contact", "X") for named in ((one, two), (two, one))]
    assert found == [alone[0] and alone[0].text("gender"), found[0], alone[1] and alone[1].text("gender"), None]
    assert not reader.faults


def test_a_faulty_parts_file_is_said_and_the_rest_is_looked_at_as_well(folder: Path) -> None:
    files = {
        "a.yaml": AIR + "parts: p.yaml\nconnectors: {P1: {mates: §P9}}\n",
        "p.yaml": "kind: parts\nparts:\n  X:\n    kind: §contakt\n    facts: []\n",
    }
    written(folder, files)
    found = refused(lambda: hc.load("a.yaml"))
    assert [fault[:3] for fault in found] == [fault[:3] for fault in expected(files, ("", ""), ("", ""))]


def test_files_of_a_job_by_name(folder: Path) -> None:
    """Relative to the folder of the file asked for, sorted, those laid over each other both."""
    base, over, part = folder / "type.yaml", folder / "sub" / "tail.yaml", folder / "z.yaml"
    over.parent.mkdir()
    for file, text in ((base, AIR), (over, ASFOUND.format("../type.yaml")), (part, "kind: parts\n")):
        file.write_text(text)
    laid = Overlaid(read(base), read(over))
    found = input_files(over, [laid, read(part), parse("a: b\n", "x.yaml")])
    sums = [hashlib.sha256(file.read_bytes()).hexdigest() for file in (base, part, over)]
    assert [(f.name, f.sha256) for f in found] == list(
        zip(["../type.yaml", "../z.yaml", "tail.yaml"], sums, strict=True)
    )


def test_the_head_of_a_file() -> None:
    harness = airframe(
        "revision: C\nnote: n\naircraft: {type: T, serials: s, mass: 900 kg, arm: 2.1 m}\n"
        "limits:\n  long-stub: {value: 1 m, reason: r, by: b}\nwaivers:\n"
        "  - {check: long-stub, at: P1, reason: r, by: b, date: d}\n"
        "  - {check: two-drivers, at: P2, reason: s, by: c, date: e}\n"
        "not understood:\n  - {at: list!A1, what: row, words: w, why: y, remedy: m}\n"
        "  - {at: list!A2, what: value, why: z}\n"
    )
    assert (harness.kind, harness.title, harness.revision, harness.note) == ("airframe", "t", "C", "n")
    assert (harness.place.label, harness.place.where(), harness.as_found) == ("airframe", "a.yaml:1:1", None)
    (limit,) = harness.overrides.values()
    assert (limit.check, limit.value, limit.reason, limit.by) == ("long-stub", "1 m", "r", "b")
    assert (limit.place.label, limit.place.where()) == ("long-stub", "a.yaml:7:3")
    assert [(w.check, w.at, w.reason, w.by, w.date, w.place.label, w.place.where()) for w in harness.waivers] == [
        ("long-stub", "P1", "r", "b", "d", "P1", "a.yaml:9:5"),
        ("two-drivers", "P2", "s", "c", "e", "P2", "a.yaml:10:5"),
    ]
    craft = harness.aircraft
    assert craft is not None and (craft.type, craft.serials, craft.mass, craft.arm) == ("T", "s", 900.0, 2.1)
    assert (craft.place.label, craft.place.where()) == ("aircraft", "a.yaml:5:1")
    unread = [(u.place.label, u.place.where(), u.reason, u.remedy, u.row, u.at) for u in harness.unread]
    assert unread == [
        ("w", "a.yaml:12:5", "y", "m", True, "list!A1"),
        ("", "a.yaml:13:5", "z", "", False, "list!A2"),
    ]
    bare = airframe("")
    assert (bare.revision, bare.note, bare.aircraft, bare.unread, bare.waivers, dict(bare.overrides)) == (
        "", "", None, (), (), {},
    )  # fmt: skip


def test_sixty_characters_of_a_list_name_the_place() -> None:
    text = "not understood:\n  - {{at: a, what: row, words: {}, why: y}}\n"
    assert [airframe(text.format("x" * n)).unread[0].place.label for n in (60, 61)] == ["x" * 60] * 2


def test_a_name_is_taken_by_each_section_of_references() -> None:
    for section, kind in (
        ("connectors", "connector"),
        ("splices", "splice"),
        ("grounds", "ground"),
        ("breakers", "breaker"),
        ("buses", "bus"),
    ):
        check_airframe(
            f"{section}: {{X1: {{}}}}\nsources: {{§X1: {{kind: battery}}}}\n",
            (f"X1 is used twice: first as {kind} at a.yaml:3:{len(section) + 4}", "give one of the two another name"),
        )


# -- the formats of YAML files -----------------------------------------------------------------------------------------


def test_names_of_files() -> None:
    assert [harness_yaml.reads(Path(name)) for name in ("a.yaml", "a.yml", "A.YAML", "a.json", "yaml")] == [
        True, True, True, False, False,
    ]  # fmt: skip


BOX = "kind: equipment\ntitle: b\nconnectors: {J1: {pins: {1: {function: f, signal: power}}}}\n"
KIT = (
    "kind: jumper\ntitle: k\nairframe: air.yaml\nequipment: {A9: box.yaml}\nopens: P1/J1\n"
    "connectors: {P101: {mates: J1}, J101: {mates: P1}}\n"
)
FRAME = AIR + "connectors: {P1: {mates: J1}, J1: {}}\n"


@pytest.fixture
def job(folder: Path) -> Path:
    written(
        folder, {"air.yaml": FRAME, "box.yaml": BOX, "kit.yaml": KIT, "tails/t.yaml": ASFOUND.format("../air.yaml")}
    )
    return folder


def test_a_box_alone(job: Path) -> None:
    found = harness_yaml.load(Path("box.yaml"), "name")
    (box,) = found.equipment
    assert (found.subject, found.name, found.path, found.airframe) == (box, "name", Path("box.yaml"), None)
    assert [file.name for file in found.files] == ["box.yaml"]
    assert list(box.devices) == ["equipment"] and list(box.connectors) == ["J1"]
    (pin,) = box.devices["equipment"].pins
    assert (str(pin.point), box.devices["equipment"].place.label) == ("J1-1", "")


def test_an_airframe_alone_and_as_found(job: Path) -> None:
    found = harness_yaml.load(Path("air.yaml"), "name")
    assert (found.subject, found.name, found.path) == (found.airframe, "name", Path("air.yaml"))
    assert [file.name for file in found.files] == ["air.yaml"]
    tail = harness_yaml.load(Path("tails/t.yaml"), "tails/t.yaml")
    assert [file.name for file in tail.files] == ["../air.yaml", "t.yaml"]
    there = tail.subject.as_found
    assert there is not None and (there.aircraft, there.by, there.date) == ("LN-T", "b", "2026-01-02")
    assert (there.place.label, there.place.where()) == ("LN-T", "tails/t.yaml:3:11")
    assert tail.subject.title == "t, LN-T as found" and tail.subject.place.where() == "air.yaml:1:1"
    assert harness_yaml.airframe(read(Path("air.yaml"))).title == "t"


def test_a_kit_on_another_aircraft(job: Path) -> None:
    on = (Path("tails/t.yaml"), "tails/t.yaml")
    found = harness_yaml.load(Path("kit.yaml"), "kit.yaml", on)
    assert found.airframe is not None and found.airframe.as_found is not None
    assert harness_yaml.load(Path("kit.yaml"), "kit.yaml", None).airframe.as_found is None  # type: ignore[union-attr]
    both = harness_yaml.together([(Path("kit.yaml"), "kit.yaml")], on)
    assert both.airframe is not None and both.airframe.as_found is not None
    alone = harness_yaml.together([(Path("kit.yaml"), "kit.yaml")])
    assert alone.airframe is not None and alone.airframe.as_found is None


def test_what_is_wrong_with_an_as_found_file(job: Path) -> None:
    good = ASFOUND.format("../air.yaml")
    do = "name a file in this folder or below it"
    none = ("airframe '../none.yaml': there is no such file", do)
    up = ("airframe '../../air.yaml': a path may not leave the folder of the file you named", do)
    wire = ("the type's file has no wire 'W1'", "put it under added: wires: when this aircraft has one more")
    for text, said in (
        ("§" + good.replace("by: b\n", ""), ("this file has no 'by'", "add 'by: ...'")),
        (good.replace("../air", "§../none"), none),
        (good.replace("../air", "§../../air"), up),
        (good + "wires: {§W1: none}\n", wire),
    ):
        check_job(job, {"tails/t.yaml": text}, said, main="tails/t.yaml")


@pytest.mark.parametrize(
    ("name", "kind"), [("air", "an airframe"), ("box", "an equipment"), ("tails/t", "an as-found")]
)
def test_only_a_kit_is_put_on_an_aircraft(name: str, kind: str, job: Path) -> None:
    said = (f"{name}.yaml", 1, 7, f"this is {kind} file: only a kit is put on an aircraft", "name the jumper file")
    read_it = lambda: harness_yaml.load(Path(f"{name}.yaml"), f"{name}.yaml", (Path("air.yaml"), "air.yaml"))  # noqa: E731
    assert refused(read_it) == [said]


def test_files_of_another_kind_than_is_asked_for(job: Path) -> None:
    (job / "odd.yaml").write_text("title: t\n")
    path = lambda name: (Path(name), name)  # noqa: E731
    say = "name an airframe or as-found file here"
    assert refused(lambda: harness_yaml.frame(*path("kit.yaml"))) == [("kit.yaml", 1, 7, "this is a jumper file", say)]
    assert refused(lambda: harness_yaml.frame(*path("box.yaml"))) == [
        ("box.yaml", 1, 7, "this is an equipment file", say)
    ]
    assert refused(lambda: harness_yaml.frame(*path("odd.yaml"))) == [
        ("odd.yaml", 1, 1, SAYS_NOT, "add 'kind: airframe'")
    ]
    say = "name the jumper file of the kit"
    assert refused(lambda: harness_yaml.kit(*path("air.yaml"))) == [("air.yaml", 1, 7, "this is an airframe file", say)]
    assert refused(lambda: harness_yaml.kit(*path("odd.yaml"))) == [("odd.yaml", 1, 1, SAYS_NOT, "add 'kind: jumper'")]
    assert refused(lambda: harness_yaml.load(*path("odd.yaml"))) == [("odd.yaml", 1, 1, SAYS_NOT, "add 'kind: jumper'")]
    assert harness_yaml.kit(*path("kit.yaml")).document.name == "kit.yaml"
    assert harness_yaml.frame(*path("air.yaml")).name == "air.yaml"


def test_text_that_is_not_written_yet_is_read_as_the_file_would_be(job: Path) -> None:
    text = KIT.replace("title: k", "title: p\u00e4per")
    found = harness_yaml.load(Path("new.yaml"), "new.yaml", text=text)
    assert found.jumper is not None and found.jumper.title == "p\u00e4per"
    sums = {file.name: file.sha256 for file in found.files}
    assert sums["new.yaml"] == hashlib.sha256(text.encode()).hexdigest()
    assert not Path("new.yaml").exists()


def test_faults_of_a_box_and_of_an_airframe_alone(job: Path) -> None:
    files = {"box.yaml": BOX.replace("{function: f,", "{function: f, loops: §9,")}
    check_job(job, files, ("J1 has no other pin '9'", "the pins are: "), main="box.yaml")
    files = {"air.yaml": FRAME.replace("J1: {}", "J2: {mates: §J2}, J1: {}")}
    check_job(job, files, ("J2 cannot mate with itself", "one half mates with one other"), main="air.yaml")
    files = {"air.yaml": "kind: airframe\nconnectors: {}\n"}
    written(job, files)
    assert refused(lambda: hc.load("air.yaml"))[0][3] == "this file has no 'title'"
    written(job, {"box.yaml": "kind: equipment\n"})
    same([fault[3] for fault in refused(lambda: hc.load("box.yaml"))], ["this file has no 'title'"])
