"""Findings, harnesses and checks made up for the tests of what becomes of a finding."""

from __future__ import annotations

from collections.abc import Iterator
from types import ModuleType, SimpleNamespace
from typing import Any

import pytest

from harnesscheck import checks
from harnesscheck.decision import Override, Waiver
from harnesscheck.document import Document
from harnesscheck.finding import Answer, Finding, NotChecked, Severity
from harnesscheck.harness import Harness, Kind
from harnesscheck.parts.loader import open_drawer
from harnesscheck.place import Place
from harnesscheck.source import Source, Status

STOP, CAUTION, NOTE = Severity.STOP, Severity.CAUTION, Severity.NOTE
SOURCE = Source("invented for the test", Status.STATED)
MEMORY = Source("invented for the test", Status.MEMORY)


def finding(label: str = "W1", severity: Severity | None = STOP, check: str = "", **more: Any) -> Finding:
    return Finding(headline=more.pop("headline", "h"), place=Place(label), severity=severity, check=check, **more)


def missing(label: str = "W1") -> NotChecked:
    return NotChecked(place=Place(label), missing="m", check="c")


def harness(**more: Any) -> Harness:
    return Harness(more.pop("kind", Kind.INSTALLED), "t", open_drawer(), **more)


def waiver(check: str, at: str, reason: str = "r") -> Waiver:
    return Waiver(check, at, reason, "b", "d", Place(at, Document("j.yaml", "\ntyped so"), 2, 3))


def override(check: str, value: str = "3 A", by: str = "b") -> Override:
    return Override(check, value, "r", by, Place("limits"))


def pretend(monkeypatch: pytest.MonkeyPatch, **answers: Any) -> None:
    """Put checks of our own in place of the real ones: name and what they answer, or an exception."""

    def module(name: str) -> ModuleType:
        found: Any = SimpleNamespace(SEVERITY=STOP, SOURCE=SOURCE, LIMIT="3 A", **answers[name].get("extra", {}))

        def check(one: Harness) -> Iterator[Answer]:
            given = answers[name]["gives"]
            for answer in given(one) if callable(given) else given:
                if isinstance(answer, Exception):
                    raise answer
                yield answer

        found.check = check
        return found  # type: ignore[no-any-return]

    monkeypatch.setattr(checks, "names", lambda: sorted(answers))
    monkeypatch.setattr(checks, "module", module)
