"""The pages ``requirements.md`` and ``known-problems.md``, for whoever must judge whether the program suits a purpose.

Numbers are kept in ``requirements.yaml``: a check keeps its number for good, a new one gets the next, and the number of
one that is gone is never given again.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from harnesscheck import checks

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent
NUMBERS = HERE / "requirements.yaml"
_NUMBER = re.compile(r"^R-(\d{3}): ([a-z-]+)$", re.MULTILINE)
_COMMENT = """\
# Numbers of the requirements: one a check, for good. docs/make_pages.py adds new checks at the end; nothing is ever
# renumbered or taken out.
"""
EFFECTS = (
    (
        "DC solve",
        "volts and currents come out a little too good where these matter; leave a margin, measure at power-up;"
        " after a collapse put that feed right and check again",
    ),
    ("No sourced bound", "measure the breaker or the bond, state it, and check again"),
    ("Main feeders", "check the drop from source to bus by hand"),
    ("Protocol, parity", "a jumper found clean may still carry a line that does not talk: try it on the ground"),
    ("Metric wire", "for wire thinner than 26 AWG keep a margin in drop and current"),
    ("ring-out takes other units", "unplug the units, or write the reading down before and after the kit is fitted"),
    ("do-no-harm statement bounds", "the maker's sheet says what a line bears; evidence is as true as what was typed"),
    ("A pack of a large job", "print the volumes one by one; look for a name in kit.html; take the PDF for a picture"),
    ("The planner tries every order", "a plan may be a little dearer than the best; a home run is designed by hand"),
    ("Whether a difference of an aircraft", "take all differences of an aircraft that must not get the kit into view"),
    ("Of several kits", "make the papers of each kit for itself, and check all together"),
    ("`format` leaves a file", "move the comment to a line of its own"),
    ("Of random mutants", "none known: a slip in a rarer branch may have gone unnoticed"),
    ("`watch` looks", "run check again after a change in a spreadsheet"),
    (
        "Strip lengths",
        "such a value never stops a job; check it against the maker's sheet, and confirm it for the shop",
    ),
    ("SVG or PNG", "print from the PDF"),
)
"""What a known problem means for the user, by the words it holds; the problems stand in ``DEVELOPERS.md``."""
Definitions = dict[str, ast.stmt]
UNSAID = "not judged yet: take it that a fault of this kind is not reported, and look yourself"


def numbers() -> dict[str, int]:
    """Check to number, as kept; those without one get the next ones, in the order of their names."""
    text = NUMBERS.read_text(encoding="utf-8") if NUMBERS.exists() else ""
    kept = {name: int(number) for number, name in _NUMBER.findall(text)}
    for name in checks.names():
        kept.setdefault(name, max(kept.values(), default=0) + 1)
    return kept


def numbers_text() -> str:
    """``requirements.yaml`` as it must be."""
    return _COMMENT + "".join(f"R-{number:03d}: {name}\n" for name, number in numbers().items())


def requirements() -> Iterator[str]:
    """The page of the requirements."""
    yield "# Requirements\n"
    yield (
        "One a check. *The tool shall report* means: one primary finding that names the thing, with file, line and\n"
        "column; *shall say not checked* means: never silence where something it needs is not known. Both are\n"
        "proved on the user's own machine by `harnesscheck selftest`. No qualification is claimed.\n"
    )
    for name, number in numbers().items():
        yield from _requirement(name, number) if name in checks.names() else _withdrawn(name, number)


def _withdrawn(name: str, number: int) -> Iterator[str]:
    yield f"## R-{number:03d} {name}\n\nWithdrawn: the program has no such check any more.\n"


def _requirement(name: str, number: int) -> Iterator[str]:
    module = checks.module(name)
    title = checks.title(name).rstrip(".")
    yield f"## R-{number:03d} {name}\n"
    yield f"The tool shall report (severity {module.SEVERITY.word.lower()}): **{title}.**"
    yield "Where it cannot look it shall say *not checked*, and why.\n"
    yield f"{_what(name)}\n"
    yield f"* module: [{name.replace('-', '_')}.py](../harnesscheck/checks/{name.replace('-', '_')}.py)"
    yield f"* tests, good, faulty and with data missing: [{name}.md](../tests/checks/{name}.md)"
    yield f"* a faulty job: [harnesses/faulty/{name}](../harnesses/faulty/{name}/jumper.yaml)"
    seeded = ", ".join(f"[{fault}](../tests/corpus/{home})" for fault, home in corpus().get(name, ()))
    yield f"* seeded faults: {seeded or 'none'}"
    yield f"* source: {module.SOURCE}\n"


def _what(name: str) -> str:
    """The paragraph under *What* in the page of a check."""
    text = checks.explain(name).partition("\nWhat\n")[2].partition("\nWhy it matters\n")[0]
    return "\n".join(line.strip() for line in text.strip("\n").split("\n"))


# -- the corpus --------------------------------------------------------------------------------------------------------


@cache
def corpus() -> dict[str, list[tuple[str, str]]]:
    """Check to the seeded faults that may lead to it, with the file of each, read off the sources of the corpus."""
    found: dict[str, list[tuple[str, str]]] = {}
    for file in sorted((ROOT / "tests" / "corpus").glob("fault_*.py")):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        functions: Definitions = {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}
        constants = {
            target.id: node
            for node in tree.body
            if isinstance(node, ast.Assign)
            for target in node.targets
            if isinstance(target, ast.Name)
        }
        for function in list(functions.values()):
            if isinstance(function, ast.FunctionDef) and any(
                isinstance(d, ast.Name) and d.id == "fault" for d in function.decorator_list
            ):
                for check in sorted(_named(function, functions | constants)):
                    found.setdefault(check, []).append((function.name.replace("_", "-"), file.name))
    return found


def _named(function: ast.FunctionDef, definitions: Definitions) -> set[str]:
    """The checks that an injector names, itself or through the helpers and constants of its file."""
    todo: list[ast.stmt] = [function]
    seen, names = {function.name}, set[str]()
    while todo:
        for node in ast.walk(todo.pop()):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                names |= set(node.value.split("|")) & set(checks.names())
            elif isinstance(node, ast.Name) and node.id in definitions and node.id not in seen:
                seen.add(node.id)
                todo.append(definitions[node.id])
    return names


# -- known problems ----------------------------------------------------------------------------------------------------


def known_problems() -> Iterator[str]:
    """The page of the known problems."""
    yield "# Known problems\n"
    yield (
        "What the program does not do, and what that means for you. The effect of every known limit of a check is the\n"
        "same: what it is said not to look at is never reported. Look yourself.\n"
    )
    yield "## Of the program\n\n| problem | effect |\n|---|---|"
    for problem in shortfalls():
        effect = next((said for words, said in EFFECTS if words in problem), UNSAID)
        yield f"| {problem} | {effect} |"
    yield "\n## Of the checks\n"
    for name, number in numbers().items():
        if name in checks.names():
            yield f"### {name} (R-{number:03d})\n\n{_limits(name)}\n"


def shortfalls() -> list[str]:
    """The points under *Where we fall short* in ``DEVELOPERS.md``."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = text.partition("\n## Where we fall short\n")[2].partition("\n## ")[0]
    return [" ".join(point.split()) for point in re.split(r"^\* ", section, flags=re.MULTILINE)[1:]]


def _limits(name: str) -> str:
    page = (ROOT / "tests" / "checks" / f"{name}.md").read_text(encoding="utf-8")
    return page.partition("\n## Known limits\n")[2].partition("\n## ")[0].strip()
