"""The page of threats: thirty rows, each with a test that exists; and no call to a network."""

from __future__ import annotations

import re
import shutil
import socket
from pathlib import Path

import pytest

from harnesscheck.cli import main

ROOT = Path(__file__).parents[1]
ROWS = re.findall(r"(?m)^\| (\d+) \| .+ \| .+ \| `(\S+)::(\w+)` \|$", (ROOT / "docs" / "threats.md").read_text("utf-8"))


def test_there_are_thirty() -> None:
    assert [int(number) for number, _, _ in ROWS] == list(range(1, 31))


@pytest.mark.parametrize(("number", "file", "name"), ROWS, ids=[row[0] for row in ROWS])
def test_the_test_of_a_threat_exists(number: str, file: str, name: str) -> None:
    assert re.search(rf"(?m)^def {name}\(", (ROOT / file).read_text("utf-8")), (number, file, name)


def test_the_demo_needs_no_network(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise AssertionError("the program opens a socket")

    shutil.copytree(ROOT / "harnesses" / "ice-probe", tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    for name in ("socket", "create_connection", "getaddrinfo"):
        monkeypatch.setattr(socket, name, refuse)
    with pytest.raises(AssertionError):
        socket.create_connection(("127.0.0.1", 9))
    for line in ("check jumper.yaml", "draw jumper.yaml -o d.svg", "sheet cut-list jumper.yaml -o c.pdf",
                 "diagnose jumper.yaml readings.csv", "export jumper.yaml -o e.xlsx", "import e.xlsx"):  # fmt: skip
        assert main(line.split(" ")) in (0, 1), line
