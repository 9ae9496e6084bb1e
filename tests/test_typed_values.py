"""What a value of a YAML file may be: at its limit and just over it, and the words that must not slip through.

The limits are those of the format (harnesscheck/formats/_types.py states them in its messages): a reference has at most
31 characters, a wire id 40, a circuit name 50, a part number 60, a cavity name 32, a text 400; counts end at 9999, and
a share lies above 0 and up to 1.
"""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from harnesscheck.formats import _types
from harnesscheck.place import STOWED, Point


def read(kind: str, text: Any) -> Any:
    return TypeAdapter(getattr(_types, kind)).validate_python(text)


def refusal(kind: str, text: Any) -> Exception:
    """What the type raised, with its ``message`` and ``remedy``."""
    with pytest.raises(ValidationError) as caught:
        read(kind, text)
    (error,) = caught.value.errors()
    cause = error["ctx"]["error"]
    assert isinstance(cause, Exception)
    return cause


@pytest.mark.parametrize(("kind", "most", "what"), [
    ("Ref", 31, "a reference"), ("WireId", 40, "a wire id"), ("CircuitName", 50, "a circuit name"),
    ("Part", 60, "a part number"), ("CavityName", 32, "a cavity name"),
])  # fmt: skip
def test_a_name_may_be_so_long_and_no_longer(kind: str, most: int, what: str) -> None:
    assert read(kind, "P" * most) == "P" * most
    error = refusal(kind, "P" * (most + 1))
    assert str(error) == f"{what} has at most {most} characters"


@pytest.mark.parametrize(("kind", "bad"), [
    ("Ref", "14P"), ("Ref", "P-14"), ("Ref", "P 14"), ("WireId", "W 1"), ("WireId", "W\u00e41"), ("Part", "M39029\t"),
    ("CircuitName", "CAN H "), ("CircuitName", "\u0421AN H"), ("CavityName", " 3"), ("End", "-3"), ("End", "P14-"),
    ("Along", "90 mm"), ("Along", "90 mm from 14J"), ("Colour", "12345"), ("Colour", "w" * 32), ("Colour", "9!"),
])  # fmt: skip
def test_what_is_no_name_place_or_colour(kind: str, bad: str) -> None:
    error = refusal(kind, bad)
    assert str(error).startswith("this is not ")
    assert getattr(error, "remedy", "")
    assert getattr(error, "plain", False), "letters that only look like ASCII are to be pointed out"


@pytest.mark.parametrize("kind", ["CircuitName"])
@pytest.mark.parametrize("word", ["spare", "Spare", "UNKNOWN"])
def test_a_word_of_the_format_is_no_circuit(kind: str, word: str) -> None:
    error: Any = refusal(kind, word)
    assert error.remedy.startswith(f"write {word.casefold()} in small letters")
    assert read(kind, f"{word} 2") == f"{word} 2"


def test_a_rating_is_above_zero() -> None:
    """A current may be 0 A, which is what a pin without a load takes; a breaker for 0 A carries nothing."""
    assert read("Rating", "0.1 A") == 0.1 and read("Amps", "0 A") == 0.0
    for text in ("0 A", "0.0 A", "0 mA"):
        assert "a rating of nothing is none" in str(refusal("Rating", text))


@pytest.mark.parametrize(("text", "value"), [
    ("1", 1.0), ("0.75", 0.75), (".5", 0.5), ("75 %", 0.75), ("100%", 1.0), ("0.5 %", 0.005), ("0.000001", 1e-6),
    ("12.345678 %", 0.12345678),
    ("0", None), ("0 %", None), ("1.01", None), ("100.1 %", None), ("101 %", None), ("1.5", None), ("75", None),
    ("-0.5", None), ("0,5", None), ("0.0000001", None), ("half", None),
])  # fmt: skip
def test_shares(text: str, value: float | None) -> None:
    if value is None:
        assert "above 0 and up to 1" in str(refusal("Share", text))
    else:
        assert read("Share", text) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(("text", "value"), [
    ("0", 0), ("9999", 9999), ("007", 7), ("10000", None), ("-1", None), ("2.0", None), ("two", None), ("\u0662", None),
])  # fmt: skip
def test_counts(text: str, value: int | None) -> None:
    if value is None:
        assert str(refusal("Count", text)) == "this is not a whole number from 0 to 9999"
    else:
        assert read("Count", text) == value


@pytest.mark.parametrize(("text", "value"), [
    ("9", "9"), ("9612", "9612"), ("white/light blue", "white/light blue"), ("w" * 31, "w" * 31),
])  # fmt: skip
def test_colours(text: str, value: str) -> None:
    assert read("Colour", text) == value


@pytest.mark.parametrize(("text", "meant"), [("sheild", "shield"), ("Shield", "shield"), ("drian", "drain")])
def test_a_slip_in_shield_or_drain_is_no_colour(text: str, meant: str) -> None:
    error: Any = refusal("Core", text)
    assert meant in error.remedy
    assert read("Core", meant) == meant
    assert read("Core", "white") == "white"


def test_texts_end_at_four_hundred_characters_and_stand_in_one_line() -> None:
    assert read("Prose", "x" * 400) == "x" * 400
    assert str(refusal("Prose", "x" * 401)) == "this text is too long"
    assert read("Prose", " two \n  lines\tand more ") == "two lines and more"


def test_ends_and_places_along_a_bundle() -> None:
    assert read("End", "P14-a") == Point("P14", "a")
    assert read("End", "SP1") == Point("SP1")
    assert read("End", "stowed") == STOWED
    assert read("Along", "90 mm from J114") == (0.09, "J114")
    assert read("Yes", "yes") is True
    assert read("Yes", "no") is False
    error: Any = refusal("Yes", "y")
    assert error.words == ("yes", "no")


@pytest.mark.parametrize(("given", "words"), [
    (["320 mm"], "one value is expected here"), ({"a": "b"}, "one value is expected here"), (None, "one value"),
    ("", "the value is missing"), ("  ", "the value is missing"),
])  # fmt: skip
def test_no_value_and_more_than_one(given: Any, words: str) -> None:
    for _ in range(2):  # what was refused once is refused again
        assert words in str(refusal("Length", given))
    assert "320 mm" in getattr(refusal("Length", given), "remedy", "")


def test_what_was_typed_once_is_kept_up_to_a_number(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(_types, "MOST_KEPT", 2)
    asked: list[str] = []
    typed = _types.Typed(lambda text: asked.append(text) or text.upper(), "a")
    assert [typed(text) for text in "abcabc"] == list("ABCABC")
    assert asked == ["a", "b", "c", "c"]
