"""Files written whole or not at all."""

from __future__ import annotations

import errno
import os
import tempfile
from pathlib import Path


def write_whole(path: Path, data: bytes) -> None:
    """Write ``data`` to ``path``: a reader sees the old file or the new one, never a part of it.

    A temporary file in the same folder is flushed to the disk and renamed over the target (measured in the project's
    facts: plain writing left 51 of 60 killed runs with a torn file, this way none). Raises ``OSError``, which names
    ``path`` and not the temporary file.
    """
    try:
        if path.is_dir():
            raise IsADirectoryError(errno.EISDIR, "this is a folder", str(path))
        _write_whole(path, data)
    except OSError as error:
        raise OSError(error.errno or errno.EIO, error.strerror or str(error), str(path)) from None


def _write_whole(path: Path, data: bytes) -> None:
    handle, temporary = tempfile.mkstemp(prefix=f".{path.name[:80]}.", suffix=".tmp", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(temporary, 0o666 & ~_umask())
        os.replace(temporary, path)
    except BaseException:
        Path(temporary).unlink(missing_ok=True)
        raise


def _umask() -> int:
    """The process's file mode mask; there is no way to read it without setting it."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
