"""The command line: thin. Each command imports what it needs when it runs, so that help starts at once.

Exit status: 0 nothing to stop for, 1 findings (``stop`` or ``caution``; with ``--strict`` also notes and things not
checked), 2 input that cannot be read, or bad usage, 130 interrupted.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

if TYPE_CHECKING:
    from harnesscheck.job import Job

OK, FOUND, UNREADABLE, INTERRUPTED = 0, 1, 2, 130

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
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True, parser_class=_Parser)

    def command(name: str, summary: str, *examples: str) -> argparse.ArgumentParser:
        epilog = "examples:\n" + "\n".join(f"  harnesscheck {e}" for e in examples)
        return commands.add_parser(
            name, help=summary, description=summary, epilog=epilog, formatter_class=argparse.RawDescriptionHelpFormatter
        )

    one = command("check", "find every wiring fault in a job", "check jumper.yaml", "check --format json jumper.yaml")
    one.add_argument("files", nargs="+", metavar="FILE", help="jumper, airframe or equipment file")
    one.add_argument("--only", action="append", metavar="CHECK", help="run this check only (may be repeated)")
    one.add_argument("--strict", action="store_true", help="notes and things not checked count as findings too")
    _format(one)

    one = command(
        "draw", "draw the wiring diagram", "draw jumper.yaml -o diagram.svg", "draw jumper.yaml -o diagram.png"
    )
    one.add_argument("file", metavar="FILE")
    one.add_argument("-o", "--out", required=True, metavar="OUT", help="file to write, .svg or .png")

    one = command(
        "sheet", "write or show one sheet", "sheet cut-list jumper.yaml", "sheet cut-list jumper.yaml -o cut.csv"
    )
    one.add_argument("name", metavar="NAME", help="see: harnesscheck list")
    one.add_argument("file", metavar="FILE")
    one.add_argument("-o", "--out", metavar="OUT", help="file to write; without it a text sheet is shown")

    one = command("trace", "follow the copper from one cavity", "trace jumper.yaml P14-3", "trace jumper.yaml A12J1-1")
    one.add_argument("file", metavar="FILE")
    one.add_argument("point", metavar="CAVITY", help="like P14-3, or SP1, GS3, CB7-load")
    _format(one)

    one = command(
        "explain",
        "what a check looks for, why, its source, and what to do",
        "explain wrong-mate",
        "explain pin-collision",
    )
    one.add_argument("check", metavar="CHECK")

    one = command("list", "list the checks and the sheets", "list", "list --format json")
    _format(one)

    one = command(
        "parts", "ask the parts drawer", "parts find sealing plug 22D", "parts show M39029/58-360",
        "parts fit jumper.yaml --cavity P115-1", "parts fit --connector D38999/26WA35SN --wire M22759/16-22-9",
    )  # fmt: skip
    questions = one.add_subparsers(dest="question", metavar="QUESTION", required=True, parser_class=_Parser)
    ask = questions.add_parser("find", help="parts that hold every word", description="parts that hold every word")
    ask.add_argument("words", nargs="+", metavar="WORD")
    ask.add_argument("--parts", metavar="FILE", help="the shop's own parts file")
    _format(ask)
    ask = questions.add_parser("show", help="every value with its source", description="every value with its source")
    ask.add_argument("part", metavar="PART")
    ask.add_argument("--parts", metavar="FILE", help="the shop's own parts file")
    _format(ask)
    ask = questions.add_parser("fit", help="what fits a cavity", description="contacts, plugs and tools that fit")
    ask.add_argument("file", nargs="?", metavar="FILE", help="jumper or airframe file, for --cavity")
    ask.add_argument("--cavity", metavar="CAVITY", help="like P14-3")
    ask.add_argument("--connector", metavar="PART", help="part number of the connector, instead of FILE and --cavity")
    ask.add_argument("--wire", metavar="TYPE", help="wire part number; default: the wire at the cavity")

    one = command("demo", "run the whole job on the packaged demo", "demo", "demo -o my-demo")
    one.add_argument(
        "-o", "--out", default="harnesscheck-demo", metavar="DIR", help="folder to write (default: %(default)s)"
    )
    return parser


def _format(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--format", choices=("text", "json"), default="text", help="default: text")


def _version() -> str:
    from harnesscheck import __version__

    return f"harnesscheck {__version__}"


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit status."""
    reconfigure = getattr(sys.stdout, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(errors="backslashreplace")  # an ASCII terminal shows other letters as escapes instead of failing
    try:
        arguments = build_parser().parse_args(argv)
    except SystemExit as stop:
        return int(stop.code or 0)
    from harnesscheck.fault import InputError, quoted

    try:
        status = _COMMANDS[arguments.command](arguments)
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


def _load(file: str) -> Job:
    from harnesscheck import api

    return api.load(file)


def _colour() -> bool:
    """Colour only on a terminal that wants it (NO_COLOR, TERM=dumb and pipes get none)."""
    return (
        sys.stdout is not None
        and sys.stdout.isatty()
        and not os.environ.get("NO_COLOR")
        and os.environ.get("TERM") != "dumb"
    )


def _check(arguments: argparse.Namespace) -> int:
    import json

    from harnesscheck import api, checks, report
    from harnesscheck.fault import Fault, InputError

    for name in arguments.only or ():
        if name not in checks.names():
            raise InputError([_unknown("check", name, checks.names())])
    results, faults = [], list[Fault]()
    for file in arguments.files:
        try:
            results.append((file, api.check(_load(file), arguments.only)))
        except InputError as error:
            faults.extend(error.faults)
    if faults:
        raise InputError(faults)
    if arguments.format == "json":
        data = [report.as_data(result, file) for file, result in results]
        print(json.dumps(data[0] if len(data) == 1 else data, indent=2))
    else:
        print("\n".join(report.as_text(result, _colour()) for _, result in results), end="")
    found = any(not r.clear or (arguments.strict and (r.findings or r.not_checked)) for _, r in results)
    return FOUND if found else OK


def _draw(arguments: argparse.Namespace) -> int:
    from harnesscheck import api

    job = _load(arguments.file)
    print(f"wrote {api.draw(job, arguments.out)}")
    return OK


def _sheet(arguments: argparse.Namespace) -> int:
    from harnesscheck import api, sheets
    from harnesscheck.fault import InputError

    if arguments.name not in sheets.names():
        raise InputError([_unknown("sheet", arguments.name, sheets.names())])
    job = _load(arguments.file)
    if arguments.out:
        print(f"wrote {api.sheet(job, arguments.name, arguments.out)}")
    elif "text" in sheets.forms(arguments.name):
        print(sheets.render(arguments.name, job, "text").decode("utf-8"), end="")
    else:
        raise InputError(
            [_usage(f"sheet {arguments.name} is a picture", f"say where to write it: -o {arguments.name}.svg")]
        )
    return OK


def _trace(arguments: argparse.Namespace) -> int:
    import json

    from harnesscheck import tracing

    job = _load(arguments.file)
    result = tracing.trace(job.subject, arguments.point)
    print(
        json.dumps(result.as_data(), indent=2) if arguments.format == "json" else result.as_text(),
        end="\n" if arguments.format == "json" else "",
    )
    return OK


def _explain(arguments: argparse.Namespace) -> int:
    from harnesscheck import checks
    from harnesscheck.fault import InputError

    if arguments.check not in checks.names():
        raise InputError([_unknown("check", arguments.check, checks.names())])
    print(f"{arguments.check}\n\n{checks.explain(arguments.check)}")
    return OK


def _list(arguments: argparse.Namespace) -> int:
    import json

    from harnesscheck import checks, sheets

    found = {
        "checks": {name: checks.title(name) for name in checks.names()},
        "sheets": {name: sheets.title(name) for name in sheets.names()},
    }
    if arguments.format == "json":
        print(json.dumps(found, indent=2))
        return OK
    for what, listed in found.items():
        print(f"{what}:")
        for name, title in listed.items():
            print(f"  {name:<28}{title}")
    print("\nharnesscheck explain CHECK shows a check's page; harnesscheck sheet NAME FILE writes a sheet.")
    return OK


def _parts(arguments: argparse.Namespace) -> int:
    import json

    from harnesscheck import lookup
    from harnesscheck.document import read
    from harnesscheck.fault import InputError
    from harnesscheck.parts import open_drawer

    if arguments.question == "fit":
        return _fit(arguments)
    drawer = open_drawer(read(Path(arguments.parts)) if arguments.parts else None)
    if arguments.question == "show":
        found = lookup.show(drawer, arguments.part)
    else:
        found = lookup.find(drawer, arguments.words)
        if not found:
            raise InputError([_usage(f"no part holds {' '.join(arguments.words)!r}", "try fewer or other words")])
    if arguments.format == "json":
        print(json.dumps([lookup.part_data(part) for part in found], indent=2))
    elif arguments.question == "show":
        print("\n".join(lookup.lines(lookup.page(part)) for part in found), end="")
    else:
        for part in found[: lookup.MOST]:
            print(f"{part.number:<24}{part.kind}")
        if len(found) > lookup.MOST:
            print(f"and {len(found) - lookup.MOST} more: give another word")
    return OK


def _fit(arguments: argparse.Namespace) -> int:
    from harnesscheck import lookup
    from harnesscheck.fault import InputError
    from harnesscheck.parts import open_drawer

    names = ("family", "insert", "gender")
    wire = arguments.wire
    if arguments.connector:
        drawer = open_drawer()
        record = drawer.get("connector", arguments.connector)
        if record is None:
            near = drawer.suggest("connector", arguments.connector)
            remedy = f"did you mean {near[0]}?" if near else "give FILE and --cavity instead"
            raise InputError([_usage(f"there is no connector {arguments.connector!r} in the drawer", remedy)])
        facts = {name: fact for name in names if (fact := record.fact(name)) is not None}
    elif arguments.file and arguments.cavity:
        harness = _load(arguments.file).subject
        connector, _, at_cavity = lookup.cavity_connector(harness, arguments.cavity)
        drawer, wire = harness.drawer, wire or at_cavity
        facts = {name: fact for name in names if (fact := connector.fact(name)) is not None}
    else:
        raise InputError(
            [_usage("parts fit needs a cavity or a connector", "give FILE --cavity P14-3, or --connector PART")]
        )
    verdicts, plugs = lookup.fitting(drawer, facts, wire)
    print(lookup.lines(lookup.fit_page(facts, verdicts, plugs, wire)), end="")
    return OK


def _demo(arguments: argparse.Namespace) -> int:
    from harnesscheck import demo

    return OK if demo.run(Path(arguments.out), _colour()) else FOUND


def _unknown(what: str, name: str, known: list[str]) -> Fault:
    from harnesscheck.fault import nearest, short

    return _usage(f"there is no {what} {short(name)}", nearest(name, known) or "see: harnesscheck list")


def _usage(message: str, remedy: str) -> Fault:
    from harnesscheck.fault import Fault

    return Fault("command line", 1, 1, message, "", remedy)


if TYPE_CHECKING:
    from harnesscheck.fault import Fault

_COMMANDS = {
    "check": _check,
    "draw": _draw,
    "sheet": _sheet,
    "trace": _trace,
    "explain": _explain,
    "list": _list,
    "parts": _parts,
    "demo": _demo,
}
