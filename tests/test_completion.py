"""The completion scripts: a shell reads them and offers our commands."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from harnesscheck import commands
from harnesscheck.cli import main

ASK = """
source "$1"
COMP_WORDS=(harnesscheck {typed}); COMP_CWORD={word}
$(complete -p harnesscheck | sed 's/.*-F \\([^ ]*\\).*/\\1/')
printf '%s\\n' "${{COMPREPLY[@]}}"
"""


@pytest.mark.parametrize("shell", ["bash", "zsh", "tcsh"])
def test_every_command_is_in_the_script(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) == 0
    script = capsys.readouterr().out
    assert all(name in script for name in commands.names())


def test_bash_completes(tmp_path, capsys) -> None:  # type: ignore[no-untyped-def]
    bash = shutil.which("bash")
    if bash is None:
        pytest.skip("there is no bash here")
    main(["completion", "bash"])
    script = tmp_path / "complete.bash"
    script.write_text(capsys.readouterr().out)

    def offered(*typed: str) -> set[str]:
        ask = ASK.format(typed=" ".join(repr(word) for word in typed), word=len(typed))
        done = subprocess.run([bash, "-c", ask, "bash", str(script)], capture_output=True, text=True, timeout=120)
        assert not done.stderr, done.stderr
        return set(done.stdout.split())

    assert offered("che") == {"check"}
    assert {"--only", "--strict", "--format"} <= offered("check", "--")
    assert offered("explai") == {"explain"}
