"""Files and folders written whole or not at all.

New bytes go into a temporary neighbour that is flushed to the disk and renamed into place. A run that is killed leaves
the old content or the new, and perhaps its temporary neighbour, which the next run into the same place clears away.
Runs beside each other are kept apart by a lock on the folder they write into; the system lets go of it when a run ends
in whatever way. Where a system knows no such lock, nothing is cleared away, and what is written is whole all the same.
"""

from __future__ import annotations

import errno
import hashlib
import os
import re
import secrets
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

try:
    import fcntl
except ImportError:  # a system without locks on folders
    fcntl = None  # type: ignore[assignment]

PATIENCE = 30.0
"""How long a run waits for another that writes into the same folder, seconds; writing takes about one (own rule)."""
_NO_LOCKS = (errno.ENOTSUP, errno.EINVAL, errno.ENOLCK, errno.ENOSYS, errno.EBADF)
_BUSY = (errno.EAGAIN, errno.EACCES)
_HERE, _EXCHANGE = -100, 2
"""``AT_FDCWD`` and ``RENAME_EXCHANGE`` of Linux, renameat2(2)."""


def write_whole(path: Path, data: bytes) -> None:
    """Write ``data`` to ``path``: a reader sees the old file or the new one, never a part of it.

    Whatever goes wrong, the target is whole (``python -m tests.crash --whole`` kills and fails every step). Raises
    ``OSError``, which names ``path`` and not the temporary file.
    """
    try:
        if path.is_dir():
            raise IsADirectoryError(errno.EISDIR, "this is a folder", str(path))
        with locked(path.parent, together=True) as alone:
            if alone:
                sweep(path)
            _write_whole(path, data)
    except OSError as error:
        raise OSError(error.errno or errno.EIO, error.strerror or str(error), str(path)) from None


def write_new(path: Path, data: bytes) -> None:
    """Write a file that is not there yet into a folder that no other run knows, and flush it to the disk.

    Its folder is flushed by ``settle`` when all its files are written. Raises ``OSError``, also when it is there.
    """
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    try:
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
    finally:
        os.close(handle)


def _write_whole(path: Path, data: bytes) -> None:
    fresh = beside(path, ".tmp")
    try:
        write_new(fresh, data)
        os.replace(fresh, path)
    except BaseException:
        with suppress(OSError):
            fresh.unlink()
        raise
    settle(path.parent)


# -- names beside the target -------------------------------------------------------------------------------------------


def beside(path: Path, suffix: str) -> Path:
    """A name that nothing has, in the folder of ``path``, for what is to take its place."""
    return path.parent / f"{_stem(path)}{secrets.token_hex(6)}{suffix}"


def left_behind(path: Path, suffix: str) -> list[Path]:
    """What earlier runs into ``path`` left under names of ``beside``, in the order of their names."""
    ours = re.compile(rf"{re.escape(_stem(path))}[0-9a-f]{{12}}{re.escape(suffix)}")
    with suppress(OSError), os.scandir(path.parent) as entries:
        return sorted(path.parent / entry.name for entry in entries if ours.fullmatch(entry.name))
    return []


def _stem(path: Path) -> str:
    """The same for the same target, and short however long its name is."""
    return f".harnesscheck-{hashlib.sha256(os.fsencode(path.name)).hexdigest()[:12]}-"


def sweep(path: Path) -> None:
    """Clear away what killed runs into ``path`` left behind, a folder only when no run holds its lock.

    Only under a lock held alone: then nobody writes one of the files.
    """
    for stale in left_behind(path, ".tmp"):
        if stale.is_dir() and not stale.is_symlink():
            if not _in_use(stale):
                shutil.rmtree(stale, ignore_errors=True)
        else:
            with suppress(OSError):
                stale.unlink()


def _in_use(folder: Path) -> bool:
    """Whether a run holds the lock of a folder that it fills; also True where that cannot be known."""
    if fcntl is None:
        return True
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return True
    try:
        return not _try(handle, fcntl.LOCK_EX)
    finally:
        os.close(handle)


# -- the lock ----------------------------------------------------------------------------------------------------------


@contextmanager
def locked(folder: Path, *, together: bool = False) -> Iterator[bool]:
    """Hold the lock on a folder: alone, or ``together`` with others that write other things into it.

    Yields True while nobody else holds it (with ``together``: when nobody did at the start). Yields False where there
    are no locks. Raises ``OSError`` (``EBUSY``) when another run does not let go within ``PATIENCE`` seconds.
    """
    try:
        handle = os.open(folder, os.O_RDONLY)
    except PermissionError:  # a folder that one may write into but not list, or a system that opens no folders
        yield False
        return
    try:
        yield _taken(handle, folder, together)
    finally:
        os.close(handle)


def _taken(handle: int, folder: Path, together: bool) -> bool:
    if fcntl is None:
        return False
    first = _try(handle, fcntl.LOCK_EX)
    if first is None or (first and not together):
        return bool(first)
    if first:
        return True  # kept alone while writing one file: as short, and nobody slips in between
    wanted = fcntl.LOCK_SH if together else fcntl.LOCK_EX
    until = time.monotonic() + PATIENCE
    while not _try(handle, wanted):
        if time.monotonic() > until:
            raise OSError(errno.EBUSY, "another run of harnesscheck is writing in this folder", str(folder))
        time.sleep(0.02)
    return not together


def _try(handle: int, kind: int) -> bool | None:
    """True when the lock was had, False when somebody else has it, None where there are no locks."""
    try:
        fcntl.flock(handle, kind | fcntl.LOCK_NB)
    except OSError as error:
        if error.errno in _BUSY:
            return False
        if error.errno in _NO_LOCKS:
            return None
        raise
    return True


# -- the disk ----------------------------------------------------------------------------------------------------------


def settle(folder: Path) -> None:
    """Flush the entries of a folder to the disk, so that a rename outlasts a loss of power; where that is possible."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except PermissionError:
        return
    try:
        os.fsync(handle)
    except OSError as error:
        if error.errno not in _NO_LOCKS:
            raise
    finally:
        os.close(handle)


def exchange(one: Path, two: Path) -> bool:
    """Let two existing folders change their names in one step. False where the system cannot; raises ``OSError``."""
    import ctypes

    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError, TypeError):
        return False
    if call(_HERE, os.fsencode(one), _HERE, os.fsencode(two), _EXCHANGE) == 0:
        return True
    number = ctypes.get_errno()
    if number in (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM):
        return False
    raise OSError(number, os.strerror(number), str(two))
