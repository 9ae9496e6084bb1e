"""A jumper file with its airframe and its box: what is made of it, and what each refusal says, counted in the files."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck.circuit import SIGNALS, Tap
from harnesscheck.connector import Origin
from harnesscheck.document import parse, read
from harnesscheck.formats import harness_yaml
from harnesscheck.place import Point
from tests.formats.marked import check_job, expected, refused, same, written

AIR = """kind: airframe
title: nose
circuits: {AUX: {}, CAN H: {}}
connectors:
  P1: {mates: J1, cavities: {1: AUX, 2: CAN H}}
  J1: {cavities: {1: AUX, 2: CAN H}}
  P2: {mates: J2}
  J2: {}
wires: {W7: {from: P1-1, to: P2-1}}
cables: {C7: {}}
"""
BOX = """kind: equipment
title: probe
connectors:
  J1: {pins: {1: {function: f, signal: power}, 2: {function: g, signal: can}}}
"""
KIT = """kind: jumper
title: kit
airframe: airframe.yaml
equipment: {A9: box.yaml}
opens: P1/J1
connectors:
  P101: {mates: J1}
  J101: {mates: P1}
  P102: {mates: A9J1}
wires: {W1: {from: P101-1, to: J101-1}}
taps: {A9J1-1: AUX}
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def files(kit: str = KIT, air: str = AIR, box: str = BOX, **more: str) -> dict[str, str]:
    return {"jumper.yaml": kit, "airframe.yaml": air, "box.yaml": box, **more}


def swapped(text: str, *pairs: tuple[str, str]) -> str:
    for old, new in pairs:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def test_what_a_kit_becomes(folder: Path) -> None:
    more = (
        "allowances: {connector: 30 mm, round up to: 10 mm}\nmass: 0.5 kg\neffectivity: all\nrevision: B\nnote: n\n"
        "kit: {spare contacts: {C: 2}, site tools: [T]}\nlabour: {crimp: 2 min}\n"
        "stock:\n  M22759/16-22-9: {reel: 100 m, remnants: [2 m, 3 m]}\n"
        "revisions: [{letter: A, text: first, date: 2026-01-02, by: b}]\n"
    )
    box = BOX + "mass: 2 kg\ncommissioning:\n  rate: {set: 500 kbit/s, how: menu 3}\n  address: {set: '7'}\n"
    written(folder, files(KIT + more, box=box))
    job = hc.load("jumper.yaml")
    jumper, airframe = job.jumper, job.airframe
    assert jumper is not None and airframe is not None
    assert (jumper.title, jumper.revision, jumper.note, jumper.kind) == ("kit", "B", "n", "jumper")
    assert jumper.opens == (("P1", "J1"),)
    assert [(m.a, m.b, m.place.where()) for m in jumper.mates] == [
        ("P101", "J1", "jumper.yaml:7:10"),
        ("J101", "P1", "jumper.yaml:8:10"),
        ("P102", "A9J1", "jumper.yaml:9:10"),
    ]
    (tap,) = jumper.taps.values()
    assert tap == Tap(Point("A9J1", "1"), "AUX", tap.place) and tap.place.where() == "jumper.yaml:11:8"
    assert jumper.allowances == {"connector": 0.03, "round up to": 0.01}
    assert (jumper.spare_contacts, jumper.site_tools, jumper.mass) == ({"C": 2}, ("T",), 0.5)
    assert (jumper.effectivity, dict(jumper.labour)) == ("all", {"crimp": 120.0})
    (stock,) = jumper.stock.values()
    assert (stock.type, stock.reel, stock.remnants, stock.place.where()) == (
        "M22759/16-22-9", 100.0, (2.0, 3.0), "jumper.yaml:20:3",
    )  # fmt: skip
    (revision,) = jumper.revisions
    assert (revision.letter, revision.text, revision.date, revision.by) == ("A", "first", "2026-01-02", "b")
    assert {w.origin for w in jumper.wires.values()} == {Origin.JUMPER}
    (box,) = job.equipment
    assert list(box.connectors) == ["A9J1"] and box.connectors["A9J1"].place.where() == "box.yaml:4:3"
    assert [(p.ref, p.name, p.place.label, p.place.where()) for p in box.devices.values()] == [
        ("A9", "probe", "A9", "box.yaml:1:1"),
    ]
    (device,) = box.devices.values()
    assert device.mass == 2.0
    assert [(s.name, s.value, s.how, s.place.label, s.place.where()) for s in device.settings] == [
        ("rate", "500 kbit/s", "menu 3", "rate", "box.yaml:7:3"),
        ("address", "7", "", "address", "box.yaml:8:3"),
    ]
    assert [f.name for f in job.files] == ["airframe.yaml", "box.yaml", "jumper.yaml"]
    assert (job.name, job.path, job.kits) == ("jumper.yaml", Path("jumper.yaml"), (jumper,))
    # In a jumper a cavity that no line and no wire names is spare; none is guessed in the airframe.
    assert {c.point.cavity: c.use for c in jumper.connectors["P101"].cavities.values()} == {"1": "live"}


def test_a_jumper_declares_its_empty_cavities_spare(folder: Path) -> None:
    kit = swapped(KIT, ("P101: {mates: J1}", "P101: {mates: J1, insert: 9-35, plugs: G, cavities: {3: unknown}}"))
    written(folder, files(kit))
    jumper = hc.load("jumper.yaml").jumper
    assert jumper is not None
    assert [(c.use, c.plug) for c in jumper.connectors["P101"].cavities.values()] == [
        ("live", None), ("spare", "G"), ("unknown", None), ("spare", "G"), ("spare", "G"), ("spare", "G"),
    ]  # fmt: skip


# -- what the kit and the aircraft say of each other -------------------------------------------------------------------

PAIRS = [
    ("§wing", "opens 'wing' does not name a mated pair", "write both halves, like P14/J14"),
    ("§P1-J1", "opens 'P1-J1' does not name a mated pair", "did you mean P1/J1?"),
    ("§P1/J1/P2", "opens 'P1/J1/P2' does not name a mated pair", "did you mean P1/J1?"),
    ("§P1/J2", "P1/J2 is not a mated pair of the airframe", "did you mean P1/J1 or P2/J2?"),
    ("§XY8/Z9Q", "XY8/Z9Q is not a mated pair of the airframe", "the mated pairs are: P1/J1, P2/J2"),
]


@pytest.mark.parametrize(("opens", "message", "remedy"), PAIRS)
def test_the_pair_to_open(opens: str, message: str, remedy: str, folder: Path) -> None:
    check_job(folder, files(KIT.replace("opens: P1/J1", f"opens: {opens}")), (message, remedy))


def test_an_airframe_without_mates_says_where_to_state_them(folder: Path) -> None:
    air = swapped(AIR, ("mates: J1, ", ""), ("{mates: J2}", "{}"))
    check_job(
        folder,
        files(KIT.replace("opens: P1/J1", "opens: §XY8/Z9Q"), air),
        ("XY8/Z9Q is not a mated pair of the airframe", "say mates: at a connector of the airframe"),
    )


@pytest.mark.parametrize("opens", ["P1/J1", "J1/P1", " P1 / J1 ", "'P1/ J1'"])
def test_spellings_of_the_pair(opens: str, folder: Path) -> None:
    written(folder, files(KIT.replace("opens: P1/J1", f"opens: {opens}")))
    jumper = hc.load("jumper.yaml").jumper
    assert jumper is not None
    assert jumper.opens == ((("J1", "P1") if opens == "J1/P1" else ("P1", "J1")),)


def test_a_kit_is_plugged_only_into_what_is_free(folder: Path) -> None:
    check_job(
        folder,
        files(swapped(KIT, ("P101: {mates: J1}", "P101: {mates: §J2}"), ("J101: {mates: P1}", "J101: {mates: §P2}"))),
        ("J2 stays mated with P2 in the aircraft, so P101 cannot be plugged into it",
         "mate with P1 or J1, or correct opens:"),
        ("P2 stays mated with J2 in the aircraft, so J101 cannot be plugged into it",
         "mate with P1 or J1, or correct opens:"),
    )  # fmt: skip


def test_a_half_that_nothing_is_plugged_into_takes_a_kit(folder: Path) -> None:
    air = swapped(AIR, ("  J2: {}\n", "  J2: {}\n  J3: {}\n"))
    written(folder, files(swapped(KIT, ("P101: {mates: J1}", "P101: {mates: J3}")), air))
    jumper = hc.load("jumper.yaml").jumper
    assert jumper is not None and jumper.mates[0].b == "J3"


def test_ids_of_the_kit_are_its_own(folder: Path) -> None:
    kit = swapped(
        KIT, ("W1: {from: P101-1, to: J101-1}", "§W7: {from: P101-1, to: J101-1}, §C7: {from: P101-2, to: J101-2}")
    )
    kit += "cables: {W7X: {}, C8: {}}\nlimits:\n  §long-stub: {value: 1 m, reason: r, by: b}\n"
    kit += "  two-drivers: {value: a, reason: r, by: b}\n"
    limit = "limits: {long-stub: {value: 2 m, reason: r, by: b}}\n"
    check_job(
        folder,
        files(kit, AIR + limit),
        ("wire W7 is used twice: first at airframe.yaml:9:9", "give the wire or cable of the kit another name"),
        ("wire C7 is used twice: first at airframe.yaml:10:10", "give the wire or cable of the kit another name"),
        ("the limit long-stub is set twice: first at airframe.yaml:11:10", "keep one of the two"),
    )
    kit = KIT + "cables: {§W7: {}, §C7: {}}\n"
    check_job(
        folder,
        files(kit),
        ("cable W7 is used twice: first at airframe.yaml:9:9", "give the wire or cable of the kit another name"),
        ("cable C7 is used twice: first at airframe.yaml:10:10", "give the wire or cable of the kit another name"),
    )
    kit = KIT + "limits: {§long-stub: {value: 1 m, reason: r, by: b}}\n"
    check_job(
        folder,
        files(kit, box=BOX + limit),
        ("the limit long-stub is set twice: first at box.yaml:5:10", "keep one of the two"),
    )


def test_pins_of_the_unit_that_was_meant_come_first(folder: Path) -> None:
    kit = swapped(KIT, ("{A9: box.yaml}", "{A9: box.yaml, A8: box.yaml}"), ("A9J1-1: AUX", "§A9J1-7: AUX"))
    said = ("A9J1-7 is not a pin that an equipment file lists", "did you mean A9J1-1 or A9J1-2?")
    check_job(folder, files(kit), said)


TAPS = [
    ("A9J1-1: §aux", "the airframe has no circuit 'aux'", "did you mean AUX? (capital and small letters differ)"),
    ("A9J1-1: §zzzzzz", "the airframe has no circuit 'zzzzzz'", "its circuits are: AUX, CAN H"),
    ("§A9J1-3: AUX", "A9J1-3 is not a pin that an equipment file lists", "did you mean A9J1-1 or A9J1-2?"),
    ("§P102-vwxyz: AUX", "P102-vwxyz is not a pin that an equipment file lists", "the pins are: A9J1-1, A9J1-2"),
    ("§A9J2-1: AUX", "nothing is called 'A9J2' (connector)", "did you mean A9J1?"),
]


@pytest.mark.parametrize(("tap", "message", "remedy"), TAPS)
def test_a_tap_joins_a_listed_pin_to_a_listed_circuit(tap: str, message: str, remedy: str, folder: Path) -> None:
    check_job(folder, files(KIT.replace("taps: {A9J1-1: AUX}", f"taps: {{{tap}}}")), (message, remedy))


def test_a_box_without_a_pin_list_is_tapped_at_any_cavity(folder: Path) -> None:
    box = swapped(BOX, ("  J1: ", "  J2: {}\n  J1: "))
    written(folder, files(KIT.replace("taps: {A9J1-1: AUX}", "taps: {A9J2-7: AUX}"), box=box))
    jumper = hc.load("jumper.yaml").jumper
    assert jumper is not None and list(jumper.taps) == [Point("A9J2", "7")]
    check_job(
        folder,
        files(KIT.replace("taps: {A9J1-1: AUX}", "taps: {§A9J2: AUX}"), box=box),
        ("A9J2 is not a pin that an equipment file lists", "did you mean A9J1-2?"),
    )


def test_of_many_pins_and_circuits_fifteen_are_listed(folder: Path) -> None:
    pins = ", ".join(f"{n}: {{function: f, signal: none}}" for n in range(10, 30))
    box = f"kind: equipment\ntitle: b\nconnectors:\n  J1: {{pins: {{{pins}}}}}\n"
    circuits = ", ".join(f"qq{n}: {{}}" for n in range(10, 28))
    air = AIR.replace("circuits: {AUX: {}, CAN H: {}}", f"circuits: {{AUX: {{}}, CAN H: {{}}, {circuits}}}")
    check_job(
        folder,
        files(
            KIT.replace("taps: {A9J1-1: AUX}", "taps: {§P102-zzzzzzzzz: §eeee}"),
            air,
            box,
        ),
        (
            "P102-zzzzzzzzz is not a pin that an equipment file lists",
            "the pins are: " + ", ".join(f"A9J1-{n}" for n in range(10, 25)),
        ),
        (
            "the airframe has no circuit 'eeee'",
            "its circuits are: AUX, CAN H, " + ", ".join(f"qq{n}" for n in range(10, 23)),
        ),
    )


def test_names_of_the_kit_are_not_those_of_the_aircraft(folder: Path) -> None:
    kit = swapped(KIT, ("  P102: {mates: A9J1}\n", "  P102: {mates: A9J1}\n  §P2: {}\n")) + "splices: {§J2: {}}\n"
    check_job(
        folder,
        files(kit),
        ("P2 is used twice: first as connector at airframe.yaml:7:3", "give one of the two another name"),
        ("J2 is used twice: first as connector at airframe.yaml:8:3", "give one of the two another name"),
    )


def test_zones_of_the_kit_are_those_of_the_airframe_and_pins_are_for_boxes(folder: Path) -> None:
    kit = swapped(
        KIT, ("P102: {mates: A9J1}", "P102: {mates: A9J1, zone: §nosw, §pins: {1: {function: f, signal: none}}}")
    )
    check_job(
        folder,
        files(kit, AIR + "zones: {nose: {}}\n"),
        ("there is no zone 'nosw'", "did you mean nose?"),
        ("pins: belongs in an equipment file", "list the circuits under cavities:"),
    )


def test_a_box_does_not_know_what_it_is_mated_with(folder: Path) -> None:
    box = swapped(BOX, ("  J1: {", "  J1: {mates: §P102, "))
    said = ("the equipment file does not know what it is mated with", "put mates: into the jumper file")
    check_job(folder, files(box=box), said)


def test_one_limit_in_two_files_that_are_not_the_kit(folder: Path) -> None:
    limit = "limits: {long-stub: {value: 2 m, reason: r, by: b}}\n"
    check_job(
        folder,
        files(swapped(KIT, ("opens: P1", "opens: §P1")), AIR + limit, BOX + limit),
        ("the jumper cannot be installed: long-stub is used twice", "use each name once in a job"),
    )


# -- several kits ------------------------------------------------------------------------------------------------------

OTHER = (
    KIT.replace("A9", "A8").replace("P1/J1", "P2/J2").replace("{mates: P1}", "{mates: P2}")
    .replace("{mates: J1}", "{mates: J2}")
    .replace("101", "201").replace("102", "202").replace("W1:", "W2:")
)  # fmt: skip


def together(folder: Path, found: dict[str, str]) -> hc.Job:
    written(folder, found)
    return harness_yaml.together([(Path(name), name) for name in ("jumper.yaml", "other.yaml")])


def test_two_kits_in_one_aircraft(folder: Path) -> None:
    job = together(folder, {**files(), "other.yaml": OTHER})
    assert [kit.opens for kit in job.kits] == [(("P1", "J1"),), (("P2", "J2"),)]
    assert job.jumper is job.kits[1]
    assert [list(box.connectors) for box in job.equipment] == [["A9J1"], ["A8J1"]]
    assert [file.name for file in job.files] == ["airframe.yaml", "box.yaml", "jumper.yaml", "other.yaml"]
    assert job.name == "other.yaml"


def test_kits_that_clash(folder: Path) -> None:
    found = {**files(), "second.yaml": AIR + "\n# another\n"}
    found["other.yaml"] = (
        OTHER.replace("A8: ", "§A9: ").replace("A8J1", "A9J1").replace("opens: P2/J2", "opens: §J1/ P1")
        .replace("airframe: airframe", "airframe: §second")
    )  # fmt: skip
    same(
        refused(lambda: together(folder, found)),
        expected(
            found,
            (
                "airframe 'second.yaml' says something else than airframe.yaml, which jumper.yaml names",
                "name one airframe file in both kits, or check each kit alone",
            ),
            ("unit A9 is in two kits: first at jumper.yaml:4:13", "give the unit of one kit another designator"),
            (
                "J1/ P1 is opened by two kits: first at jumper.yaml:5:1",
                "make one kit of the two, with the taps of both in it",
            ),
        ),
    )


def test_a_faulty_kit_does_not_hide_that_others_clash(folder: Path) -> None:
    found = {**files(KIT.replace("opens: P1/J1\n", "")), "other.yaml": OTHER, "third.yaml": OTHER.replace("A8", "A7")}
    written(folder, found)
    kits = [(Path(name), name) for name in ("jumper.yaml", "other.yaml", "third.yaml")]
    said = [(fault[0], fault[3]) for fault in refused(lambda: harness_yaml.together(kits))]
    assert said == [("third.yaml", "P2/J2 is opened by two kits: first at other.yaml:5:1")]


def test_a_second_kit_is_held_against_the_first_and_its_box(folder: Path) -> None:
    limits = "limits: {§long-stub: {value: 1 m, reason: r, by: b}, long-bus: {value: 1 m, reason: r, by: b}}\n"
    first = "limits: {long-bus: {value: 1 m, reason: r, by: b}}\n"
    found = {**files(KIT + first), "box8.yaml": BOX}
    found["box.yaml"] = BOX + "limits: {long-stub: {value: 1 m, reason: r, by: b}}\n"
    found["other.yaml"] = OTHER.replace("box.yaml", "box8.yaml").replace("W2:", "§W1:") + limits
    same(
        refused(lambda: together(folder, found)),
        expected(
            found,
            ("wire W1 is used twice: first at jumper.yaml:10:9", "give the wire or cable of the kit another name"),
            ("the limit long-stub is set twice: first at box.yaml:5:10", "keep one of the two"),
        ),
    )


def test_a_kit_with_a_fault_is_not_compared_with_another(folder: Path) -> None:
    found = {**files(KIT.replace("opens: P1/J1\n", "§opens: \n").replace("§opens", "opens")), "other.yaml": OTHER}
    (fault,) = refused(lambda: together(folder, found))
    assert fault[:4] == ("jumper.yaml", 5, 7, "opens: the value is missing")
    found = {**files(KIT.replace("airframe: airframe.yaml", "airframe: none.yaml")), "other.yaml": OTHER}
    (fault,) = refused(lambda: together(folder, found))
    assert fault[:4] == ("jumper.yaml", 3, 11, "airframe 'none.yaml': there is no such file")


# -- files that cannot be had ------------------------------------------------------------------------------------------


def test_faults_of_all_files_of_a_kit_come_together(folder: Path) -> None:
    """Without its airframe, and without one of its boxes, a kit is still looked at as far as that goes."""
    no_file, name = "there is no such file", "name a file in this folder or below it"
    box = BOX.replace("signal: can", "signal: §cam")
    said = ("signal 'cam': not one of: " + ", ".join(SIGNALS), "did you mean can?")
    kit = KIT.replace("airframe: airframe.yaml", "airframe: §none.yaml")
    check_job(folder, files(kit, box=box), said, (f"airframe 'none.yaml': {no_file}", name))
    kit = KIT.replace("{A9: box.yaml}", "{A9: box.yaml, A8: §none.yaml}")
    check_job(folder, files(kit, box=box), said, (f"equipment A8 'none.yaml': {no_file}", name))


def test_a_kit_is_put_on_one_aircraft_after_another(folder: Path) -> None:
    """With a reader that remembers, its files are read and its drawer is opened once."""
    part = "kind: parts\nparts:\n  X:\n    kind: contact\n    facts: [{status: from memory, gender: pin}]\n"
    written(folder, {**files(KIT + "parts: p.yaml\n"), "p.yaml": part, "other.yaml": AIR.replace("nose", "tail")})
    kit = harness_yaml.kit(Path("jumper.yaml"), "jumper.yaml", cache(read))
    drawers = []
    for name, title in (("airframe.yaml", "nose"), ("other.yaml", "tail"), ("airframe.yaml", "nose")):
        job = kit.fit(harness_yaml.frame(Path(name), name))
        assert job.airframe is not None and job.airframe.title == title
        assert [file.name for file in job.files] == sorted([name, "box.yaml", "jumper.yaml", "p.yaml"])
        found = job.subject.drawer.get("contact", "X")
        assert found is not None and found.text("gender") == "pin"
        drawers.append(job.subject.drawer)
    assert drawers[0] is drawers[1] is drawers[2]
    again = kit.fit()
    assert again.airframe is not None and again.airframe.title == "nose"


def test_a_frame_without_a_file_lies_in_the_folder_of_the_kit(folder: Path) -> None:
    written(folder, files())
    kit = harness_yaml.kit(Path("jumper.yaml"), "jumper.yaml")
    job = kit.fit(parse(AIR.replace("nose", "typed"), "typed.yaml"))
    assert job.airframe is not None and job.airframe.title == "typed"
