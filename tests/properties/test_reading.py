"""What is typed arrives unchanged: names as text, quantities as exact numbers.

Oracles: the text that was typed; ``fractions.Fraction`` arithmetic from the definitions of the units.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

import harnesscheck as hc
from harnesscheck import units
from harnesscheck.document import parse

PRINTABLE = "".join(chr(n) for n in range(0x21, 0x7F))


def names(longest: int, blanks: bool) -> st.SearchStrategy[str]:
    """Legal names after docs/file-format.md: printable ASCII; blanks inside only, and only where they are legal."""
    inner = PRINTABLE + (" " if blanks else "")
    return st.one_of(
        st.text(PRINTABLE, min_size=1, max_size=1),
        st.builds(
            lambda first, middle, last: first + middle + last,
            st.sampled_from(PRINTABLE),
            st.text(inner, max_size=longest - 2),
            st.sampled_from(PRINTABLE),
        ),
        st.sampled_from(
            ["NO", "07", "1:2", "~", "null", "1E5", ".5", "+28V", "-1", "0x1A", "3.10", "<<", "---", "..."]
        ),
    )


def written(name: str, style: str) -> str:
    """A YAML text that stands for ``name``: in double quotes (JSON is YAML), in single quotes, or bare where legal."""
    if style == "single":
        return "'" + name.replace("'", "''") + "'"
    bare = all(c.isalnum() or c in "._+/~$=()^;<" for c in name) and name not in ("<<",) and not name.startswith("...")
    return name if style == "bare" and bare else json.dumps(name)


STYLES = st.sampled_from(["double", "single", "bare"])


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("texts")


@settings(max_examples=500)
@given(cavity=names(32, True), wire=names(40, False), circuit=names(50, True), style=STYLES)
def test_legal_names_survive_reading(cavity: str, wire: str, circuit: str, style: str, folder: Path) -> None:
    assume(circuit.casefold() not in ("spare", "unknown"))
    end = written(f"P1-{cavity}", style)
    (folder / "a.yaml").write_text(
        f"kind: airframe\ntitle: t\ncircuits:\n  {written(circuit, style)}: {{}}\n"
        f"connectors:\n  P1:\n    cavities:\n      {written(cavity, style)}: {written(circuit, style)}\n  P2: {{}}\n"
        f"wires:\n  {written(wire, style)}: {{from: {end}, to: P2-1}}\n"
    )
    harness = hc.load(folder / "a.yaml").subject
    assert list(harness.circuits) == [circuit]
    (found,) = harness.connectors["P1"].cavities.values()
    assert (found.point.cavity, found.circuit) == (cavity, circuit)
    (only,) = harness.wires.values()
    assert (only.id, only.a.ref, only.a.cavity) == (wire, "P1", cavity)


@settings(max_examples=300)
@given(
    keys=st.lists(st.text(PRINTABLE + " ", min_size=1, max_size=12), min_size=1, max_size=8, unique=True), style=STYLES
)
def test_every_key_and_value_has_the_place_where_it_was_typed(keys: list[str], style: str) -> None:
    lines = [f"  {written(key, style)}: {written(key, 'double')}" for key in keys]
    document = parse("top:\n" + "\n".join(lines) + "\n", "f")
    block = document.root["top"]
    assert list(block) == keys and list(block.values()) == keys
    for number, key in enumerate(keys, 2):
        # By the way the line is built: two blanks, the key, a colon and a blank, the value.
        assert block.marks[key] == (number, 3, number, 3 + len(written(key, style)) + 2)


@settings(max_examples=500)
@given(st.text(max_size=80))
@example("a: 'b")
@example("{a: [b, {c: d}]}")
@example("? - a\n: b")
@example("\x85\u2028")
def test_any_text_is_read_or_refused(text: str) -> None:
    """No other exception, for any text whatever; what is read has a place for each key."""
    try:
        document = parse(text.encode("utf-8", "surrogatepass"), "f")
    except hc.InputError as error:
        assert error.faults
        for fault in error.faults:
            assert fault.line >= 1 and fault.column >= 1 and fault.message and fault.remedy
            assert all(c == "\n" or c.isprintable() for c in str(fault))
    else:
        assert set(document.root) == set(document.root.marks)


# -- quantities --------------------------------------------------------------------------------------------------------

# Definitions: 1 in = 25.4 mm and 1 ft = 12 in exactly (international yard and pound agreement, 1959).
MM = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": Fraction(254, 10), "ft": Fraction(3048, 10)}
decimals = st.builds(
    lambda whole, part: f"{whole}.{part}" if part else str(whole),
    st.integers(0, 999_999),
    st.one_of(st.just(""), st.text("0123456789", min_size=1, max_size=6)),
)


@settings(max_examples=500)
@given(number=decimals, unit=st.sampled_from(sorted(MM)), blank=st.sampled_from(["", " "]))
def test_lengths_against_fractions(number: str, unit: str, blank: str) -> None:
    exact = Fraction(number) * MM[unit] / 1000
    if exact == 0:
        with pytest.raises(units.UnitError):
            units.length(f"{number}{blank}{unit}")
    else:
        assert units.length(f"{number}{blank}{unit}") == float(exact)


@settings(max_examples=300)
@given(feet=st.integers(0, 9999), inches=decimals)
def test_feet_and_inches_against_fractions(feet: int, inches: str) -> None:
    exact = (Fraction(feet) * 12 + Fraction(inches)) * Fraction(254, 10_000)
    assume(exact > 0)
    assert units.length(f"{feet} ft {inches} in") == float(exact)


@settings(max_examples=300)
@given(number=decimals, unit=st.sampled_from(["A", "mA"]))
def test_currents_against_fractions(number: str, unit: str) -> None:
    assert units.current(f"{number} {unit}") == float(Fraction(number) / (1000 if unit == "mA" else 1))


@settings(max_examples=300)
@given(number=decimals, unit=st.sampled_from(["V", "mV", "kV"]), sign=st.sampled_from(["", "-", "+"]))
def test_voltages_against_fractions(number: str, unit: str, sign: str) -> None:
    exact = Fraction(sign + number) * {"V": Fraction(1), "mV": Fraction(1, 1000), "kV": Fraction(1000)}[unit]
    assert units.voltage(f"{sign}{number} {unit}") == float(exact)


@pytest.mark.parametrize("number", range(1, 41))
def test_gauge_numbers(number: int) -> None:
    assert units.gauge(f"{number} AWG") == units.gauge(f"{number}AWG") == units.Gauge(awg=number)
    assert units.gauge(str(units.gauge(f"{number} AWG"))).awg == number


# B&S/AWG notation (common practice): 0 = 1/0, 00 = 2/0, 000 = 3/0, 0000 = 4/0; in a formula they count 0, -1, -2, -3.
@pytest.mark.parametrize(
    ("zeros", "slash", "number"), [("0", "1/0", 0), ("00", "2/0", -1), ("000", "3/0", -2), ("0000", "4/0", -3)]
)
def test_large_gauges_in_both_spellings(zeros: str, slash: str, number: int) -> None:
    assert units.gauge(f"{zeros} AWG") == units.gauge(f"{slash} AWG") == units.Gauge(awg=number)
    assert str(units.gauge(f"{zeros} AWG")) == f"{slash} AWG"


@settings(max_examples=200)
@given(number=decimals)
def test_areas_keep_their_number(number: str) -> None:
    assume(0 < Fraction(number) < 1000)
    assert units.gauge(f"{number} mm2") == units.gauge(f"{number} mm²") == units.Gauge(mm2=float(Fraction(number)))


@settings(max_examples=100)
@given(tenths=st.lists(st.integers(1, 99_999), min_size=3, max_size=3))
def test_millimetres_and_inches_make_the_same_model(tenths: list[int], folder: Path) -> None:
    """A length of n/10 in is n x 2.54 mm exactly; both texts hold the whole number, so nothing is rounded."""

    def job(lengths: list[str]) -> list[float | None]:
        wires = "".join(f"  W{i}: {{from: P1-{i}, to: P2-{i}, length: {one}}}\n" for i, one in enumerate(lengths))
        (folder / "a.yaml").write_text(
            f"kind: airframe\ntitle: t\nconnectors:\n  P1: {{}}\n  P2: {{}}\nwires:\n{wires}"
        )
        return [wire.length for wire in hc.load(folder / "a.yaml").subject.wires.values()]

    inches = [f"{n // 10}.{n % 10} in" for n in tenths]
    millimetres = [f"{n * 254 // 100}.{n * 254 % 100:02} mm" for n in tenths]
    assert job(inches) == job(millimetres)


@settings(max_examples=500)
@given(st.text(max_size=20))
@example("1,5 mm")
@example("60")
@example("\u0666\u0660 mm")
@example("1e3 mm")
@example("nan mm")
def test_any_other_text_is_refused_with_a_remedy(text: str) -> None:
    for read in (units.length, units.gauge, units.current, units.voltage, units.voltage_range, units.gauge_range):
        try:
            read(text)
        except units.UnitError as error:
            assert error.message and error.remedy
        else:
            assert any(c in "0123456789" for c in text) and any(c.isalpha() for c in text)
