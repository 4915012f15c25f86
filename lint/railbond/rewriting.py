"""Plans written back to disk: a file is only ever replaced whole, and only if nobody else has changed it meanwhile."""

from __future__ import annotations

import os
from contextlib import suppress

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
    with open(path, "rb") as file:
        content = file.read()
    mark = BYTE_ORDER_MARK if content.startswith(BYTE_ORDER_MARK) else b""
    if content != mark + before.encode():
        raise Changed(0, "was changed meanwhile and is left as it is", path)
    beside = f"{path}.{os.getpid()}.new"
    try:
        _write(beside, mark + after.encode(), os.stat(path).st_mode)
        os.replace(beside, path)
    except OSError:
        with suppress(OSError):
            os.unlink(beside)
        raise


def _write(path: str, content: bytes, mode: int) -> None:
    with open(path, "xb") as file:
        os.chmod(path, mode & 0o7777)
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
