"""Which circuit the planner taps and what it says of it. Expected values follow from the files in each test."""

from pathlib import Path

import pytest

import harnesscheck as hc
from harnesscheck.jumper import demand, rules
from harnesscheck.jumper.choice import choose
from tests.jumper.asking import ask

JOBS = sorted(path.parent.name for path in Path("harnesses").glob("*/jumper.yaml"))
POWER = "A PWR: {signal: power, supply: 14 V, breaker: CB1, load: %s, returns: A RTN}\nA RTN: {signal: ground}\n"
FEED = "{function: POWER, signal: power, direction: in, supply: 9 V to 32 V, current: 1 A, returns: 2}\n"
BACK = "{function: RETURN, signal: ground}\n"
TALK = "GPS TX: {signal: rs232, drivers: 1, receivers: 1, input resistance: 12 kohm, bus length: 2 m}\n"
HEAR = "{function: RX, signal: rs232, direction: in, input resistance: 50 kohm}\n"
SAY = "{function: TX, signal: rs232, direction: out%s}\n"
CAN = """{0} H: {{signal: can, line: H, pair: {0}, rate: 500 kbit/s, bus length: 5 m, topology: line, receivers: {1},
 terminators: 2, terminator: 120 ohm}}
{0} L: {{signal: can, line: L, pair: {0}}}
"""
NODE = """{function: CAN H, signal: can, line: H, direction: both, terminator: 120 ohm, terminator state: %s}
{function: CAN L, signal: can, line: L, direction: both}
"""


def can(name: str, receivers: int = 3) -> str:
    return CAN.format(name, receivers).replace(",\n ", ", ")


@pytest.mark.parametrize("name", JOBS)
def test_what_a_fabricator_tapped_by_hand_is_chosen(name: str) -> None:
    job = hc.load(f"harnesses/{name}/jumper.yaml")
    assert job.airframe and job.jumper and job.jumper.opens
    chosen = choose(job.airframe, job.equipment, job.jumper.opens[0], None, job.jumper.overrides)
    assert not chosen.refusals
    assert {tap.pin: tap.circuit for tap in chosen.taps} == {p: tap.circuit for p, tap in job.jumper.taps.items()}


def test_every_signal_class_has_a_rule() -> None:
    from harnesscheck.circuit import SIGNALS

    assert {signal for signal in SIGNALS if signal != "none"} == set(rules.signals())


def test_the_same_name_comes_first_whatever_is_typed_between_its_letters() -> None:
    lines = (
        "X SW: {signal: discrete, kind: ground, drivers: 1}\nGear_Down: {signal: discrete, kind: ground, drivers: 1}"
    )
    answer = ask(lines, "{function: GEAR DOWN, signal: discrete, direction: in, isolated: yes}")
    assert answer.taps == {"A1J1-1": "Gear_Down"}
    assert answer.tap("A1J1-1").reasons[0] == "pin and circuit have the same name"
    assert answer.tap("A1J1-1").others == (("X SW", "would do, but its name is not that of the pin"),)


def test_the_least_loaded_breaker_comes_first() -> None:
    """CB1: (2 + 1) / 5 = 60 %; CB2: (0.5 + 1) / 3 = 50 %."""
    other = "B PWR: {signal: power, supply: 14 V, breaker: CB2, load: 0.5 A, returns: A RTN}"
    answer = ask(POWER % "2 A" + other, FEED + BACK)
    assert answer.taps == {"A1J1-1": "B PWR", "A1J1-2": "A RTN"}
    assert "with 1 A more 1.5 A, 50% of its rating" in answer.tap("A1J1-1").reasons[1]
    assert "60% of its rating" in dict(answer.tap("A1J1-1").others)["A PWR"]


@pytest.mark.parametrize(("load", "fits"), [("3 A", True), ("3.01 A", False)])
def test_a_breaker_is_filled_to_80_per_cent(load: str, fits: bool) -> None:
    """Of 5 A that is 4 A (common practice, as the check says), 1 A of them new."""
    answer = ask(POWER % load, FEED + BACK)
    assert bool(answer.taps) is fits or answer.chosen.refusals
    if not fits:
        refusal = answer.refused("A1J1-1")
        assert "80 %" in refusal.reason and "CB1" in refusal.reason
        assert "move a load" in refusal.remedy and "breaker of its own" in refusal.remedy


def test_units_share_what_a_breaker_has_left() -> None:
    """CB1 has 4 A - 2.5 A = 1.5 A left, CB2 2.4 A - 1 A = 1.4 A: one unit of 1 A each, and no third."""
    other = "B PWR: {signal: power, supply: 14 V, breaker: CB2, load: 1 A, returns: A RTN}"
    two = ask(POWER % "2.5 A" + other, [FEED + BACK] * 2)
    assert sorted(two.taps[f"A{n}J1-1"] for n in (1, 2)) == ["A PWR", "B PWR"]
    three = ask(POWER % "2.5 A" + other, [FEED + BACK] * 3)
    assert len([r for r in three.chosen.refusals if r.pin.cavity == "1"]) == 1


def test_a_supply_outside_the_range_is_refused() -> None:
    answer = ask(POWER % "0 A", FEED.replace("9 V to 32 V", "22 V to 32 V") + BACK)
    assert "has 14 V" in answer.refused("A1J1-1").reason and "converter" in answer.refused("A1J1-1").remedy


def test_a_supply_return_never_goes_to_a_signal_ground() -> None:
    lines = "A PWR: {signal: power, supply: 14 V, breaker: CB1, load: 0 A}\nSIG GND: {signal: signal ground}"
    answer = ask(lines, FEED + BACK)
    assert "A1J1-2" not in answer.taps
    assert answer.refused("A1J1-2").reason == "no ground circuit runs through P14/J14"
    assert "ground stud" in answer.refused("A1J1-2").remedy


def test_a_talker_is_refused_where_one_talks() -> None:
    refusal = ask(TALK, SAY % "").refused("A1J1-1")
    assert "both drive GPS TX" in refusal.reason and "leave the transmit pin open" in refusal.remedy


def test_a_talker_is_refused_where_nobody_has_said_who_talks() -> None:
    refusal = ask(TALK.replace("drivers: 1, ", ""), SAY % "").refused("A1J1-1")
    assert "not known who drives it" in refusal.reason


def test_a_talker_takes_the_line_that_is_free() -> None:
    free = TALK.replace("GPS TX", "SPARE RX").replace("drivers: 1", "drivers: 0")
    assert ask(TALK + free, HEAR + SAY % "").taps == {"A1J1-1": "GPS TX", "A1J1-2": "SPARE RX"}


def test_a_listener_does_not_take_a_line_on_which_nobody_talks() -> None:
    refusal = ask(TALK.replace("drivers: 1", "drivers: 0"), HEAR).refused("A1J1-1")
    assert "nobody talks" in refusal.reason


def test_two_new_units_may_be_each_others_talker_and_listener() -> None:
    answer = ask(TALK.replace("drivers: 1", "drivers: 0"), [SAY % "", HEAR])
    assert answer.taps == {"A1J1-1": "GPS TX", "A2J1-1": "GPS TX"}


def test_a_pin_that_need_not_be_served_is_left_with_the_reason() -> None:
    answer = ask(TALK, HEAR + SAY % ", required: no")
    assert answer.taps == {"A1J1-1": "GPS TX"} and not answer.chosen.refusals
    assert answer.left["A1J1-2"].startswith("TX is not required, and GPS TX, the only rs232 circuit")


def test_a_circuit_of_unknown_class_is_never_chosen_unasked() -> None:
    lines = "MYSTERY: {note: of unknown purpose}"
    refusal = ask(lines, HEAR).refused("A1J1-1")
    assert refusal.reason == (
        "no rs232 circuit runs through P14/J14; not known: what MYSTERY is (signal: is not given)"
    )
    answer = ask(lines, HEAR, {"A1J1-1": "MYSTERY"})
    assert answer.taps == {"A1J1-1": "MYSTERY"}
    assert "asked for by a person" in answer.tap("A1J1-1").reasons
    assert "not known: the signal class of circuit MYSTERY is not stated" in answer.tap("A1J1-1").reasons


def test_what_a_person_asks_for_comes_first_by_circuit_or_by_cavity() -> None:
    other = TALK.replace("GPS TX", "RX")
    assert ask(TALK + other, HEAR).taps == {"A1J1-1": "RX"}
    for said in ("GPS TX", "gps_tx", "P14-1", "J14-1"):
        answer = ask(TALK + other, HEAR, {"A1J1-1": said})
        assert answer.taps == {"A1J1-1": "GPS TX"}, said
    assert answer.tap("A1J1-1").cavity == "1"


@pytest.mark.parametrize(
    ("pin", "said", "reason"),
    [
        ("A1J1-1", "P14-2", "A RTN is asked for, and will not do"),
        ("A1J1-1", "P14-9", "P14-9 is asked for it, but it is a spare and carries nothing"),
        ("A1J1-1", "P14-77", "P14-77 is asked for it, but P14 has no such cavity that is listed"),
        ("A1J1-1", "CAN H", "CAN H is asked for it, but no circuit of that name runs through P14/J14"),
        ("A1J1-8", "P14-1", "the equipment has no such pin"),
        ("A1J1-3", "P14-1", "P14-1 is asked for it, but TEST: the maker says that nothing may be connected"),
    ],
)
def test_what_a_person_asks_for_is_judged_all_the_same(pin: str, said: str, reason: str) -> None:
    pins = FEED + BACK + "{function: TEST, signal: none, connect: no}"
    answer = ask(POWER % "0 A", pins, {pin: said}, more="9: spare")
    assert answer.refused(pin).reason.startswith(reason)


def test_both_conductors_of_a_pair_are_of_one_pair() -> None:
    answer = ask(can("CAN 1", 30) + can("CAN 2"), NODE % "off")
    assert answer.taps == {"A1J1-1": "CAN 2 H", "A1J1-2": "CAN 2 L"}
    assert "more than 30" in dict(answer.tap("A1J1-1").others)["CAN 1 H"]


def test_a_terminator_that_is_fitted_is_to_be_switched_off() -> None:
    refusal = ask(can("CAN"), NODE % "fitted").refused("A1J1-1")
    assert "terminator" in refusal.reason
    assert "terminator inside the unit off" in refusal.remedy or "those of new units off" in refusal.remedy


def test_pins_that_the_maker_has_joined_are_on_one_bus() -> None:
    both = (NODE % "none" + NODE % "none").splitlines()
    pins = [line.replace("}", f", loops: {n}}}") for n, line in zip((3, 4, 1, 2), both, strict=True)]
    pins = [line.replace("terminator: 120 ohm", "terminator: none") for line in pins]
    answer = ask(can("CAN 1") + can("CAN 2"), "\n".join(pins))
    assert set(answer.taps.values()) in ({"CAN 1 H", "CAN 1 L"}, {"CAN 2 H", "CAN 2 L"})
    assert len(answer.taps) == 4


def test_the_return_of_the_same_line_is_taken() -> None:
    sensor = "{0} SIG: {{signal: analogue, kind: voltage, source resistance: 100 ohm, pull-up: none, drivers: 1{1}}}\n"
    ground = "{0} RTN: {{signal: signal ground}}\n"
    lines = ground.format("OIL") + sensor.format("OAT", "") + ground.format("OAT")
    pins = "{function: IN, signal: analogue, direction: in, input resistance: 1 Mohm, pull-up: none}\n"
    pins += "{function: IN RTN, signal: signal ground}\n"
    assert ask(lines, pins).taps["A1J1-2"] == "OAT RTN"
    said = ask(lines, pins).tap("A1J1-2")
    assert "taken for the return of OAT SIG by its name: no file says so" in said.reasons
    stated = lines.replace("drivers: 1}", "drivers: 1, returns: OIL RTN}")
    assert ask(stated, pins).taps["A1J1-2"] == "OIL RTN"


def test_a_line_that_cannot_be_teed_is_refused_with_what_would_do() -> None:
    refusal = ask("CAMERA: {signal: video}", "{function: VIDEO, signal: video, direction: in}").refused("A1J1-1")
    assert "cannot be teed" in refusal.reason and "loop-through" in refusal.remedy


def test_redundant_circuits_do_not_both_lead_to_the_new_unit() -> None:
    lines = "HOOK A: {signal: discrete, kind: ground, redundant: HOOK B}\nHOOK B: {signal: discrete, kind: ground}"
    pin = "{function: HOOK %s, signal: discrete, direction: in, isolated: yes}\n"
    answer = ask(lines, pin % "A" + pin % "B")
    assert len(answer.chosen.refusals) == 1
    assert "HOOK B, which takes over for it" in dict(answer.chosen.refusals[0].tried)["HOOK B"]


def test_names_are_compared_as_people_type_them() -> None:
    assert demand.plain("CAN_H") == demand.plain("can h") != demand.plain("CAN L")
    assert demand.words("GPS SIG GND") == demand.words("GPS TX") == {"gps"}
