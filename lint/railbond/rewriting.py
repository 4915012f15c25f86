"""Plans written back to disk: a file is only ever replaced whole, and only if nobody else has changed it meanwhile."""

from __future__ import annotations

import os
from contextlib import suppress

from .files import BYTE_ORDER_MARK
from .writing import put


class Changed(OSError):
    """The file on disk is not what was read."""


def rewrite(path: str, before: str, after: str) -> None:
    """Puts `after` in the place of `before`, the file's text as it was read without its byte order mark.

    The new text is written beside the file, brought to disk and renamed over it: its mode, its attributes and its mark
    are kept, and a symbolic link goes on pointing to it. Raises `Changed` where the file holds something else by now,
    and OSError where it cannot be written; the file is then as it was.
    """
    path = os.path.realpath(path)
    mark = require(path, before)
    if not os.access(path, os.W_OK):
        raise PermissionError(0, "is write-protected", path)
    put(path, mark + after.encode(), os.stat(path), lambda: require(path, before))


def names_lost(path: str) -> int:
    """How many other names of a file (hard links) go on leading to the text as it was, once it is rewritten."""
    with suppress(OSError):
        return os.stat(path).st_nlink - 1
    return 0


def require(path: str, before: str) -> bytes:
    """The byte order mark of a file that still holds `before` behind it. Raises `Changed` where it does not."""
    content = None
    with suppress(FileNotFoundError), open(path, "rb") as file:
        content = file.read()
    mark = BYTE_ORDER_MARK if content and content.startswith(BYTE_ORDER_MARK) else b""
    if content != mark + before.encode():
        raise Changed(0, "was changed meanwhile and is left as it is", path)
    return mark
