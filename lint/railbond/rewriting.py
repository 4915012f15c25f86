"""Plans written back to disk: a file is only ever replaced whole, and only if nobody else has changed it meanwhile."""

from __future__ import annotations

import os
from contextlib import suppress
from typing import BinaryIO

from .files import BYTE_ORDER_MARK


class Changed(OSError):
    """The file on disk is not what was read."""


def rewrite(path: str, before: str, after: str) -> None:
    """Puts `after` in the place of `before`, the file's text as it was read without its byte order mark.

    The new text is written beside the file, brought to disk and renamed over it: its mode and its mark are kept, and a
    symbolic link goes on pointing to it. Raises `Changed` where the file holds something else by now, and OSError
    where it cannot be written; the file is then as it was.
    """
    path = os.path.realpath(path)
    mark = require(path, before)
    if not os.access(path, os.W_OK):
        raise PermissionError(0, "is write-protected", path)
    beside = f"{path}.{os.getpid()}.new"
    new = open(beside, "xb")  # noqa: SIM115 - it must not be taken away unless it is ours
    try:
        _fill(new, mark + after.encode(), os.stat(path))
        require(path, before)
        os.replace(beside, path)
    finally:
        with suppress(FileNotFoundError):
            os.unlink(beside)
    _settle(os.path.dirname(path))


def require(path: str, before: str) -> bytes:
    """The byte order mark of a file that still holds `before` behind it. Raises `Changed` where it does not."""
    content = None
    with suppress(FileNotFoundError), open(path, "rb") as file:
        content = file.read()
    mark = BYTE_ORDER_MARK if content and content.startswith(BYTE_ORDER_MARK) else b""
    if content != mark + before.encode():
        raise Changed(0, "was changed meanwhile and is left as it is", path)
    return mark


def _fill(new: BinaryIO, content: bytes, like: os.stat_result) -> None:
    """Writes a new file, to the disk itself, and gives it another one's mode and, if we may, its owner."""
    with new:
        new.write(content)
        new.flush()
        os.fsync(new.fileno())
        if hasattr(os, "fchown"):
            with suppress(OSError):
                os.fchown(new.fileno(), like.st_uid, like.st_gid)
    os.chmod(new.name, like.st_mode & 0o7777)


def _settle(folder: str) -> None:
    """Brings the renaming to disk too, where the system can."""
    with suppress(OSError):
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)
