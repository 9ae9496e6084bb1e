"""Pages made from the program itself: every command from its parser, known limits from the pages of the checks."""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterator
from inspect import cleandoc
from pathlib import Path

from harnesscheck import commands
from harnesscheck.cli import build_parser

ROOT = Path(__file__).parent.parent
PAGES = ROOT / "tests" / "checks"
STATUS = """\
Exit status of every command: 0 nothing to stop for, 1 findings, 2 input that cannot be read or bad usage, 130
interrupted. With status 2 nothing is written. `-h` after any command shows what stands here.
"""


def command_page() -> Iterator[str]:
    """The reference of every command, from its parser: all options with their words, and its examples."""
    yield "# The commands\n"
    yield STATUS
    parsers = _sub_parsers(build_parser())
    for name, parser in parsers.items():
        yield f"* [`{name}`](#{name}): {parser.description}"
    yield ""
    for name, parser in parsers.items():
        yield f"## {name}\n\n{parser.description}\n"
        rest = cleandoc(commands.module(name).__doc__ or "").partition("\n")[2].strip()
        if rest:
            yield f"{rest}\n"
        questions = _sub_parsers(parser)
        yield from _arguments(f"harnesscheck {name}", parser, bool(questions))
        for question, inner in questions.items():
            yield f"### {name} {question}\n\n{inner.description}\n"
            yield from _arguments(f"harnesscheck {name} {question}", inner, False)
        yield "```sh"
        yield from (f"harnesscheck {example}" for example in commands.module(name).EXAMPLES)
        yield "```\n"


def _sub_parsers(parser: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            return dict(action.choices)
    return {}


def _arguments(call: str, parser: argparse.ArgumentParser, group: bool) -> Iterator[str]:
    """A line with what follows the command, then a table of it. Not argparse's own: that differs between Pythons."""
    listed = [a for a in parser._actions if a.dest != "help" and not isinstance(a, argparse._SubParsersAction)]
    places = [a for a in listed if not a.option_strings]
    options = [a for a in listed if a.option_strings]
    words = [_placed(a) for a in places] + ["QUESTION"] * group + (["[options]"] if options else [])
    yield f"`{' '.join([call, *words])}`\n"
    if listed:
        yield "| | |"
        yield "|---|---|"
        for action in (*places, *options):
            shown = ", ".join(f"`{flag}{_value(action)}`" for flag in action.option_strings) or f"`{_placed(action)}`"
            yield f"| {shown} | {_help(action)} |"
        yield ""


def _placed(action: argparse.Action) -> str:
    name = str(action.metavar or action.dest)
    return {"+": f"{name}...", "*": f"[{name}...]", "?": f"[{name}]"}.get(str(action.nargs), name)


def _value(action: argparse.Action) -> str:
    if action.nargs == 0:
        return ""
    return f" {action.metavar or action.dest.upper()}"


def _help(action: argparse.Action) -> str:
    said = (action.help or "") % {"default": action.default, "dest": action.dest}
    choices = ", ".join(str(choice) for choice in action.choices or ())
    need = "required" if action.required and action.option_strings else ""
    return "; ".join(part for part in (said, f"one of: {choices}" if choices else "", need) if part).replace("|", "\\|")


def limits_page() -> Iterator[str]:
    """What the program does not do: the section of DEVELOPERS.md, and the known limits of every check."""
    yield "# Known limits\n"
    yield "A check that says nothing about a thing has not necessarily looked at it. What could not be looked at in a"
    yield "job is listed by `harnesscheck check` as *not checked*; what no job makes it look at stands here.\n"
    yield "## Of the whole program\n"
    own = _section(ROOT / "DEVELOPERS.md", "Where we fall short")
    yield f"{own}\n"
    yield "## Of each check\n"
    for page in sorted(PAGES.glob("*.md")):
        yield f"### {page.stem}\n\n{_section(page, 'Known limits')}\n"


def _section(page: Path, heading: str) -> str:
    """The text under one heading of a page. Raises ``ValueError`` when it has none: a gap must not go unseen."""
    text = page.read_text(encoding="utf-8")
    found = re.search(rf"^## {heading}\n+(.*?)(?=^## |\Z)", text, re.MULTILINE | re.DOTALL)
    if found is None or not found[1].strip():
        raise ValueError(f"{page}: no section {heading!r}")
    return found[1].strip()
