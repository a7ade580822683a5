"""Files that are written whole or not at all, and read only where a plain file stands.

A new file beside the old one, flushed to the disk, then one rename: a kill, a full disk or two writers leave the old
file or the new one, never half of one.
"""

import contextlib
import os
import stat
import tempfile
import time
from pathlib import Path

HALF = ".progress-half-"


class Unwritable(Exception):
    """Why nothing can be written, in words."""


class NotAPlainFile(ValueError):
    """Something other than a plain file stands in the place of the file."""


def read_plain(path, most):
    """Up to `most` bytes of a plain file: never through a link, never from a pipe, never without end.

    Raises NotAPlainFile, OSError.
    """
    found = os.lstat(path)
    if not stat.S_ISREG(found.st_mode):
        raise NotAPlainFile("not a plain file")
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    with open(os.open(path, flags), "rb") as file:
        return file.read(most)


def write_whole(path, data, *, mode=None):
    """Put a file of `data`, bytes, in the place of what stands at `path`, or change nothing. Raises Unwritable.

    mode: its permissions; for its owner alone unless given.
    """
    path, half = Path(path), None
    try:
        handle, half = tempfile.mkstemp(prefix=HALF, dir=path.parent)
        with open(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if mode is not None:
            os.chmod(half, mode)
        _rename(half, path)
    except BaseException as error:  # an interrupt must leave no litter either
        if half is not None:
            with contextlib.suppress(OSError):
                os.unlink(half)
        if not isinstance(error, OSError | ValueError):
            raise
        raise Unwritable(reason(error)) from None
    _settle(path.parent)


def reason(error):
    """What went wrong, as the system says it."""
    return getattr(error, "strerror", None) or str(error) or type(error).__name__


def _rename(half, path):
    """One rename; on Windows a reader of the old file can be in the way for a moment."""
    for _ in range(20 if os.name == "nt" else 0):
        with contextlib.suppress(PermissionError):
            os.replace(half, path)
            return
        time.sleep(0.01)
    os.replace(half, path)


def _settle(folder):
    """Ask the disk to remember the rename too; some platforms cannot, and lose nothing but the newest."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
