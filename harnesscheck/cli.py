"""The command line: thin. Each command imports what it needs when it runs, so that help starts at once.

Exit status: 0 nothing to stop for, 1 findings (``stop`` or ``caution``; with ``--strict`` also notes and things not
checked), 2 input that cannot be read, or bad usage, 130 interrupted.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from inspect import cleandoc
from pathlib import Path
from typing import NoReturn

from harnesscheck import commands
from harnesscheck.commands._common import INTERRUPTED, UNREADABLE

_MAIN = """\
examples:
  harnesscheck demo -o my-demo           the whole job on an invented example
  harnesscheck check jumper.yaml         every fault, before copper is cut
  harnesscheck trace jumper.yaml P14-3   where a cavity leads
"""


class _Parser(argparse.ArgumentParser):
    """argparse, with errors that end in what to do."""

    def error(self, message: str) -> NoReturn:
        """Print the fault and how to get help; exit 2."""
        import re

        from harnesscheck.fault import nearest, quoted

        remedy = f"see {self.prog} --help"
        wrong = re.match(r"argument (\S+): invalid choice: '(.*)' \(choose from (.*)\)", message, re.DOTALL)
        if wrong:
            choices = [word.strip(" '") for word in wrong[3].split(",")]
            message = f"{wrong[1]} cannot be {wrong[2][:40]!r}; it is one of: {', '.join(choices)}"
            remedy = nearest(wrong[2][:40], choices) or remedy
        self.exit(UNREADABLE, f"{self.prog}: {quoted(message)}\n  do: {remedy}\n")


def build_parser() -> argparse.ArgumentParser:
    """The whole command line, one sub-parser a question."""
    parser = _Parser(
        prog="harnesscheck",
        description="Check, draw and list the wiring of an inline jumper for a retrofit sensor.",
        epilog=_MAIN,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=_version())
    parser.set_defaults(main=main)  # for a command that runs the program itself
    choices = parser.add_subparsers(dest="command", metavar="COMMAND", required=True, parser_class=_Parser)

    for name in commands.names():
        module = commands.module(name)
        summary = cleandoc(module.__doc__ or "").partition("\n")[0]
        epilog = "examples:\n" + "\n".join(f"  harnesscheck {example}" for example in module.EXAMPLES)
        one = choices.add_parser(
            name,
            help=summary[0].lower() + summary[1:].rstrip("."),
            description=summary,
            epilog=epilog,
            formatter_class=argparse.RawDescriptionHelpFormatter,
        )
        module.options(one)
    return parser


def _version() -> str:
    from harnesscheck import __version__

    return f"harnesscheck {__version__}"


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit status."""
    reconfigure = getattr(sys.stdout, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="backslashreplace")  # an ASCII terminal shows other letters as escapes instead of failing
    try:
        parser = build_parser()
        arguments = parser.parse_args(argv, argparse.Namespace(whole=parser))
    except SystemExit as stop:
        return int(stop.code or 0)
    from harnesscheck.fault import InputError, quoted

    try:
        status = int(commands.module(arguments.command).run(arguments))
        if sys.stdout is not None:
            sys.stdout.flush()
        return status
    except InputError as error:
        count = len(error.faults)
        print(error, file=sys.stderr)
        print(
            f"harnesscheck: {count} {'fault' if count == 1 else 'faults'} in the input; nothing was written",
            file=sys.stderr,
        )
        return UNREADABLE
    except BrokenPipeError:
        _silence()
        return UNREADABLE
    except OSError as error:
        what = quoted(str(error.filename)) if error.filename else "the output"
        print(f"harnesscheck: cannot write {what}: {error.strerror}", file=sys.stderr)
        print(f"  do: {_write_remedy(error)}", file=sys.stderr)
        if not error.filename:
            _silence()
        return UNREADABLE
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:  # a fault of ours: said in words, and never taken for a clean answer
        at = _innermost(error)
        print(
            f"harnesscheck itself broke down: {type(error).__name__} {at}: {quoted(str(error))[:300]}", file=sys.stderr
        )
        print("  do: make no use of this run; report the line above with your files", file=sys.stderr)
        return UNREADABLE


def _innermost(error: BaseException) -> str:
    """``in cli.py line 12`` for the innermost place of an exception."""
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    return f"in {Path(trace.tb_frame.f_code.co_filename).name} line {trace.tb_lineno}" if trace else ""


def _silence() -> None:
    """The reader of our output went away: point stdout elsewhere, so that the interpreter's own flush stays quiet."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _write_remedy(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "make that folder first, or choose another place with -o"
    if isinstance(error, IsADirectoryError):
        return "name a file in that folder with -o"
    if isinstance(error, PermissionError):
        return "choose a place with -o where you may write"
    return "choose another place with -o, or make room"
