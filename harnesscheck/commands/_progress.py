"""A progress bar on the standard error stream, on a terminal only."""

from __future__ import annotations

import os
import sys
from types import TracebackType

WIDTH = 30


class Bar:
    """Call it with what is done and what there is; nothing is shown unless a person looks on.

    No bar with NO_COLOR, TERM=dumb or a stream that is no terminal: the bar lives by overwriting its line.
    """

    def __init__(self, what: str) -> None:
        stream = sys.stderr
        plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb"
        self.stream = stream if stream is not None and stream.isatty() and not plain else None
        self.what = what

    def __call__(self, done: int, every: int) -> None:
        """Show how far it is."""
        if self.stream is not None:
            full = WIDTH * done // max(every, 1)
            self.stream.write(f"\r[{'#' * full}{' ' * (WIDTH - full)}] {done} of {every} {self.what}")
            self.stream.flush()

    def __enter__(self) -> Bar:
        """Nothing to do yet."""
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        """Clear the line."""
        if self.stream is not None:
            self.stream.write("\r\x1b[K")
            self.stream.flush()
