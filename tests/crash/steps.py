"""Every call by which the program changes what is on the disk, counted, and one of them made to fail or to kill.

The method is that of fault injection one step at a time: the Nth call fails, N = 1, 2, 3 ... until a run comes through
in which no failure was reached; once with a single failure, once with failing for ever after.
"""

from __future__ import annotations

import errno
import os
import signal
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from typing import Any
from unittest import mock

from harnesscheck.pack import folder

CALLS = ("open", "write", "fsync", "close", "replace", "rename", "mkdir", "unlink", "rmdir")
"""What of ``os`` makes, fills, flushes, moves and removes files; moving in one step is ``folder.exchange``."""
ERRORS = (errno.ENOSPC, errno.EIO)


class Counter:
    """Counts the calls and acts at the chosen one."""

    def __init__(self, at: int, act: Callable[[str], None], forever: bool) -> None:
        self.at, self.act, self.forever = at, act, forever
        self.count = 0
        self.names: list[str] = []

    def step(self, name: str) -> None:
        """One call."""
        self.count += 1
        self.names.append(name)
        if self.count == self.at or (self.forever and self.at and self.count > self.at):
            self.act(name)

    @property
    def reached(self) -> bool:
        """Whether the chosen call was made."""
        return self.count >= self.at


def fail(name: str) -> None:
    """The disk is full."""
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC), f"injected into {name}")


def die(name: str) -> None:
    """As if the power went: nothing after this line runs."""
    os.kill(os.getpid(), signal.SIGKILL)


@contextmanager
def at_step(at: int, act: Callable[[str], None], forever: bool = False) -> Iterator[Counter]:
    """Within it the call number ``at`` (from 1) acts; with ``forever`` every later one too."""
    counter = Counter(at, act, forever)

    def counted(name: str, plain: Callable[..., Any]) -> Callable[..., Any]:
        def call(*words: Any, **keys: Any) -> Any:
            try:
                counter.step(name)
            except OSError:
                if name == "close":  # a close that fails has let go of the file all the same, close(2)
                    plain(*words, **keys)
                raise
            return plain(*words, **keys)

        return call

    with ExitStack() as stack:
        for name in CALLS:
            stack.enter_context(mock.patch.object(os, name, counted(name, getattr(os, name))))
        if folder.exchange is not two_moves:
            stack.enter_context(mock.patch.object(folder, "exchange", counted("exchange", folder.exchange)))
        yield counter


def two_moves(*_: object) -> bool:
    """In place of ``exchange``: a system that cannot let two folders change their names in one step."""
    return False
