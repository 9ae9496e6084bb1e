"""List the checks and the sheets."""

from __future__ import annotations

import argparse

from harnesscheck.commands._common import OK, add_format

EXAMPLES = (
    "list",
    "list --format json",
)


def options(parser: argparse.ArgumentParser) -> None:
    """What may follow the command."""
    add_format(parser)


def run(arguments: argparse.Namespace) -> int:
    """Run the command. Returns the exit status."""
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
