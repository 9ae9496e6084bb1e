"""The pages of docs/: every example runs, every link leads somewhere, every command and option is told.

In a page a ``sh`` block is run line by line in a fresh folder (``exit=1`` after the fence is the status of its last
line), a ``text`` block holds lines of what the block before has printed, a ``diff FILE`` block changes a file, blocks
``csv FILE`` and ``yaml FILE`` write one, and Python examples run as doctests in a copy of the demo. ``console`` blocks
are the only commands that are not run.
"""

from __future__ import annotations

import doctest
import importlib.util
import re
import shlex
import shutil
from pathlib import Path

import pages as literate
import pytest

from harnesscheck import commands
from harnesscheck.cli import build_parser, main
from harnesscheck.document import parse

ROOT = Path(__file__).parent.parent
DOCS = ROOT / "docs"
DEMO = ROOT / "harnesses" / "ice-probe"
WRITTEN = sorted(page.name for page in DOCS.glob("*.md"))
BLOCK = re.compile(r"^```(\w+) ?([^\n]*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
KINDS = {"sh", "console", "text", "diff", "yaml", "python", "csv"}


STARTED = ["demo", "-o", "first-job"]


@pytest.fixture(scope="module")
def demo_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What ``harnesscheck demo -o first-job`` writes."""
    folder = tmp_path_factory.mktemp("demo") / "first-job"
    assert main(["demo", "-o", str(folder)]) == 0
    return folder


def blocks(page: str) -> list[tuple[str, str, str]]:
    """Kind, words after it, and text of each fenced block of a page."""
    return BLOCK.findall((DOCS / page).read_text(encoding="utf-8"))


@pytest.mark.parametrize("page", [page for page in WRITTEN if page != "commands.md"])  # its examples are run below
def test_every_shell_example_runs(
    page: str,
    demo_folder: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    printed = ""
    for kind, words, body in blocks(page):
        assert kind in KINDS, kind
        if kind == "sh":
            printed, status, lines = "", 0, body.splitlines()
            for line in lines:
                program, *arguments = shlex.split(line)
                if program == "cd":
                    monkeypatch.chdir(Path.cwd() / arguments[0])
                    continue
                assert program == "harnesscheck", f"{page}: {line}"
                if arguments == STARTED and page != "fabricator.md":
                    shutil.copytree(demo_folder, arguments[2])  # it has run once; that takes a second each time
                    continue
                status = main(arguments)
                out, err = capsys.readouterr()
                printed += out + err
                expected = int(words.removeprefix("exit=") or 0) if line == lines[-1] else 0
                assert status == expected, f"{page}: {line}\n{out}{err}"
        elif kind in ("csv", "yaml") and words:
            Path(words).write_text(body)
        elif kind == "text":
            for line in body.splitlines():
                assert line in printed, f"{page}: {line!r} was not printed:\n{printed}"
        elif kind == "diff":
            file = Path(words)
            file.write_text(literate.changed(file.read_text(), body.splitlines(), page))


@pytest.mark.parametrize("page", WRITTEN)
def test_every_yaml_example_can_be_read(page: str) -> None:
    for kind, _, body in blocks(page):
        if kind == "yaml" and not all(line.startswith("#") for line in body.splitlines()):
            parse(body, page)


@pytest.mark.parametrize("page", [name for name in WRITTEN if ">>>" in (DOCS / name).read_text(encoding="utf-8")])
def test_every_python_example_runs(page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(DEMO, tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    result = doctest.testfile(str(DOCS / page), module_relative=False)
    assert result.attempted > 0
    assert result.failed == 0


NEEDED = {"list.csv": "wire,from,to,gauge\nW1,P1-1,P2-1,22 AWG\nW2,P1-2,P2-2,22 AWG\n"}
"""What examples name that is not in the demo."""
MADE_BEFORE = {
    "recheck": ("prove jumper.yaml -o evidence.json",),
    "verify": ("pack jumper.yaml -o kit-pack", "pack jumper.yaml -o ../from-the-post/kit-pack"),
}
"""What examples name that another command makes."""


@pytest.mark.parametrize("name", commands.names())
def test_the_examples_of_every_command_run(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(DEMO, tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    for file, text in NEEDED.items():
        Path(file).write_text(text)
    for before in MADE_BEFORE.get(name, ()):
        assert main(shlex.split(before)) == 0
    examples = commands.module(name).EXAMPLES
    assert len(examples) >= 2
    for example in examples:
        assert example.split()[0] == name
        assert main(shlex.split(example)) in (0, 1), f"{example}\n{capsys.readouterr().err}"


def test_every_command_and_option_is_told() -> None:
    page = (DOCS / "commands.md").read_text(encoding="utf-8")
    told = dict(re.findall(r"^## (\S+)\n(.*?)(?=^## |\Z)", page, re.MULTILINE | re.DOTALL))
    assert sorted(told) == commands.names()
    shells = build_parser()._subparsers
    assert shells is not None
    parsers = shells._group_actions[0].choices
    assert parsers is not None
    for name, parser in dict(parsers).items():
        for line in parser.format_help().splitlines():
            for flag in re.findall(r"--[a-z-]+", line):
                assert flag in told[name] or flag == "--help", (name, flag)
        for example in commands.module(name).EXAMPLES:
            assert f"\nharnesscheck {example}\n" in told[name]
    rows = [line for line in page.splitlines() if line.startswith("| `")]
    assert len(rows) > 30
    assert not [row for row in rows if row.endswith("|  |")], "an option without a word of help"


def slug(heading: str) -> str:
    """The anchor of a heading, as viewers of Markdown make it."""
    return re.sub(r"[^\w\- ]", "", heading.strip().lower()).replace(" ", "-")


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", *(f"docs/{name}" for name in WRITTEN)])
def test_every_link_leads_somewhere(page: str) -> None:
    text = re.sub(r"^```.*?^```$", "", (ROOT / page).read_text(encoding="utf-8"), flags=re.MULTILINE | re.DOTALL)
    for target in re.findall(r"\]\(([^)\s]+)\)", re.sub(r"\]\n\(", "](", text)):
        if re.match(r"[a-z]+:", target):
            continue
        file, _, anchor = target.partition("#")
        found = (ROOT / page).parent / file if file else ROOT / page
        assert found.exists(), f"{page}: {target}"
        if anchor:
            headings = re.findall(r"^#+ (.*)$", found.read_text(encoding="utf-8"), re.MULTILINE)
            assert anchor in map(slug, headings), f"{page}: {target}"


def test_the_test_of_links_sees_a_dead_one(tmp_path: Path) -> None:
    assert slug("Where values come from") == "where-values-come-from"
    assert slug("`kind: airframe`") == "kind-airframe"
    for text in ("[a](none.md)", "[a](#none)"):
        page = tmp_path / "page.md"
        page.write_text(text)
        with pytest.raises(AssertionError):
            test_every_link_leads_somewhere(str(page))


def test_the_site_holds_every_page() -> None:
    settings = (DOCS / "site" / "mkdocs.yml").read_text(encoding="utf-8")
    listed = re.findall(r"([\w-]+\.md)$", settings, re.MULTILINE)
    assert sorted(listed) == WRITTEN
    for name in WRITTEN:
        if name != "index.md":
            assert f"({name})" in (DOCS / "index.md").read_text(encoding="utf-8")


# -- hooks -----------------------------------------------------------------------------------------------------------


def test_the_hooks_run_on_the_demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    hooks = parse(
        (ROOT / ".pre-commit-hooks.yaml").read_text().replace("\n", "\n  ").join(["hooks:\n  ", "\n"]), "h"
    ).root
    found = {hook["id"]: hook for hook in hooks["hooks"]}
    assert sorted(found) == ["harnesscheck-check", "harnesscheck-format"]
    shutil.copytree(DEMO, tmp_path / "job")
    monkeypatch.chdir(tmp_path / "job")
    files = sorted(path.name for path in Path().iterdir())

    def run(hook: dict[str, str]) -> int:
        # As the hook runner does it: entry, then args, then the files that match.
        program, *words = shlex.split(hook["entry"])
        assert program == "harnesscheck" and hook["language"] == "python"
        names = [f for f in files if re.search(hook["files"], f)]
        assert names
        return main([*words, *hook.get("args", []), *([] if hook.get("pass_filenames") == "false" else names)])

    assert [run(hook) for hook in found.values()] == [0, 0]
    good = Path("airframe.yaml").read_text()
    # A change of the airframe must be checked together with the jumper: alone it would pass.
    assert good.count("6: AOA TX") == 1
    Path("airframe.yaml").write_text(good.replace("      5: {circuit: CAN SHIELD, grounded: no}", "      5:   AOA TX"))
    assert run(found["harnesscheck-check"]) == 1
    before = Path("airframe.yaml").read_text()
    assert run(found["harnesscheck-format"]) == 0
    assert Path("airframe.yaml").read_text() == before.replace("5:   AOA", "5: AOA")


def test_the_site_renders_every_fence() -> None:
    """A fence with a second word is running text to the renderer of the site: the hook leaves none."""
    spec = importlib.util.spec_from_file_location("fences", DOCS / "site" / "fences.py")
    assert spec is not None and spec.loader is not None
    hook = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(hook)
    found = 0
    for page in WRITTEN:
        text = (DOCS / page).read_text(encoding="utf-8")
        found += len(re.findall(r"(?m)^```\w+ ", text))
        assert not re.findall(r"(?m)^```\w+ ", hook.on_page_markdown(text, page=None)), page
    assert found > 10
    assert hook.on_page_markdown("```yaml a.yaml\nb: c\n```\n") == "File `a.yaml`:\n\n```yaml\nb: c\n```\n"
