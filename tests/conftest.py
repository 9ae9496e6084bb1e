"""Options of the tests."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    """``--rewrite`` makes the printed answers again that are kept as text (pages of checks, expected.txt)."""
    parser.addoption("--rewrite", action="store_true", help="write the printed answers anew instead of comparing")


@pytest.fixture
def rewrite(request: pytest.FixtureRequest) -> bool:
    """Whether printed answers are to be written anew."""
    return bool(request.config.getoption("--rewrite"))
