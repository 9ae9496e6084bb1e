"""Two surroundings that have nothing in common; the long form is ``python -m tests.determinism --whole``."""

from __future__ import annotations

from tests.determinism.surroundings import Surroundings, differences, render


def test_the_same_bytes_in_two_surroundings() -> None:
    one = render(Surroundings(seed="0", locale="C.UTF-8", zone="UTC"), "few")
    two = render(Surroundings(seed="4711", locale="C", zone="Pacific/Kiritimati"), "few")
    assert len(one) > 50
    assert differences(one, two) == []


def test_a_difference_is_seen() -> None:
    assert differences({"a": "1", "b": "2"}, {"a": "1", "b": "3"}) == ["b"]
    assert differences({"a": "1"}, {"a": "1", "c": "2"}) == ["c"]


def test_the_surroundings_reach_the_process(tmp_path) -> None:
    """The hash seed does change the order of a set: else the comparison would compare nothing."""
    import subprocess
    import sys

    code = "print(list({str(n) for n in range(50)}))"
    outs = {
        subprocess.run([sys.executable, "-c", code], env={"PYTHONHASHSEED": seed}, capture_output=True).stdout
        for seed in ("0", "4711")
    }
    assert len(outs) == 2
