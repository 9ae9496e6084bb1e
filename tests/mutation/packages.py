"""Which files are mutated together, and which tests are asked about them."""

from __future__ import annotations

import ast
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]


@dataclass(frozen=True)
class Package:
    """Files, or functions of files, and tests."""

    files: tuple[str, ...]
    """Patterns below ``harnesscheck/``; ``cli.py::main,_silence`` takes only these functions of a file; an
    empty name is what stands outside of functions."""
    tests: tuple[str, ...]
    """Below ``tests/``, or examples in docstrings below ``harnesscheck/``; not what is slow for what it can tell."""


_CHECKS = (
    "test_check_hand_*.py",
    "test_check_helpers.py",
    "test_check_words.py",
    "test_check_pages.py",
    "test_check_cases.py",
    "test_incidents.py",
    "test_harnesses.py",
    "corpus/test_corpus.py",
    "mutation/test_exit_path.py",
    "mutation/test_exit_decisions.py",
)

PACKAGES = {
    "path": Package(
        (
            "finding.py",
            "source.py",
            "decision.py",
            "checks/__init__.py::run,_decisions_fit,_waived,_fitting,_cavities,_each,_answers",
            "checks/_several.py",
            "api.py::check,_with_unread,decided,_decided,_no_such_check",
            "report/_words.py",
            "commands/check.py::run",
            "commands/watch.py::run,_look",
            "commands/pack.py::run",
            "commands/prove.py::run",
            "commands/verify.py::run",
            "commands/recheck.py::run",
            "commands/_common.py::,load,usage,colour",
            "cli.py::main",
        ),
        ("mutation/test_exit_path.py", "mutation/test_exit_decisions.py", "mutation/test_exit_commands.py"),
    ),
    "checks": Package(("checks/*.py",), _CHECKS),
    "formulas": Package(("formulas/*.py",), ("formulas", "harnesscheck/formulas")),
    "jumper": Package(
        ("jumper/*.py", "jumper/rules/*.py"),
        (
            "jumper/test_hand_*.py",
            "jumper/test_kit_arithmetic.py",
            "jumper/test_stock_by_hand.py",
            "jumper/test_slots_and_rules.py",
            "jumper/test_choice.py",
            "jumper/test_tap.py",
            "jumper/test_plan_jobs.py",
            "harnesscheck/jumper",
        ),
    ),
    "trouble": Package(
        ("trouble/*.py",),
        (
            "trouble/test_hand_*.py",
            "trouble/test_rank_by_hand.py",
            "trouble/test_ask_by_hand.py",
            "trouble/test_say.py",
            "trouble/test_symptoms.py",
            "trouble/test_desk_by_hand.py",
            "trouble/test_network_of_links.py",
            "trouble/test_networks_by_force.py",
            "trouble/test_readings_rows.py",
            "trouble/test_worked.py",
            "trouble/test_readings_file.py",
            "trouble/test_diagnosis.py",
            "harnesscheck/trouble",
        ),
    ),
    "readers": Package(
        ("formats/**/*.py", "document.py", "plainlines.py", "block.py"),
        (
            "formats/test_hand_*.py",
            "test_typed_values.py",
            "test_plain_lines.py",
            "test_refusals.py",
            "test_bad_input.py",
            "test_bad_files.py",
            "test_typos.py",
            "test_decisions.py",
            "test_editor_schema.py",
            "test_stowed.py",
            "exchange",
            "fleet/test_as_found.py",
            "harnesscheck/formats",
            "importing",
            "test_job_files.py",
            "test_signal_keys.py",
            "test_paper_keys.py",
            "test_shop_parts.py",
            "test_check_cases.py",
        ),
    ),
}


def files(name: str) -> dict[str, set[str] | None]:
    """The files of a package, each with the functions that belong to it; None for all of it."""
    found: dict[str, set[str] | None] = {}
    for pattern in PACKAGES[name].files:
        path, _, functions = pattern.partition("::")
        listed = sorted((ROOT / "harnesscheck").glob(path))
        if not listed:
            raise FileNotFoundError(f"{name}: no file {path}")
        for file in listed:
            one = str(file.relative_to(ROOT))
            found[one] = set(functions.split(",")) if functions else None
            _known(one, found[one])
    return found


def tests(name: str) -> list[str]:
    """The tests of a package, as pytest takes them."""
    return [test if test.startswith("harnesscheck/") else f"tests/{test}" for test in PACKAGES[name].tests]


def test_files(name: str) -> list[str]:
    """The same, folders of tests and patterns file by file."""
    found: list[str] = []
    for test in tests(name):
        if "*" in test:
            found += sorted(str(file.relative_to(ROOT)) for file in ROOT.glob(test))
            continue
        inside = sorted((ROOT / test).rglob("test_*.py")) if test.startswith("tests/") else []
        found += [str(file.relative_to(ROOT)) for file in inside] or [test]
    return found


def _known(file: str, functions: set[str] | None) -> None:
    """Raises ``LookupError`` when a function is named that the file does not have."""
    tree = ast.parse((ROOT / file).read_text(encoding="utf-8"))
    there = {node.name for node in tree.body if isinstance(node, ast.FunctionDef | ast.ClassDef)}
    missing = (functions or set()) - there - {""}
    if missing:
        raise LookupError(f"{file} has no {', '.join(sorted(missing))}")
