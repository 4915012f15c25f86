"""Writes a whole file beside its place and renames it there, so that nobody ever finds half of one."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from contextlib import suppress
from itertools import count
from stat import S_ISDIR, S_ISREG
from typing import BinaryIO

from .reach import SUFFIX


class Kept(OSError):
    """The file at that place is not to be written over."""


def write(path: str, text: str, read: Iterable[str] = ()) -> None:
    """Writes an answer to the file that `-o` names. Line ends stay as they are; what UTF-8 has no
    bytes for is spelled out.

    Raises `Kept` for what is called as plans are, by itself or by what it leads to, and for a file of `read`; OSError
    where it cannot be written. Whatever stood there is then as it was. A device or a pipe is written to as it is.
    """
    content = text.encode("utf-8", "backslashreplace")
    there = _status(path)
    if there and S_ISDIR(there.st_mode):
        raise IsADirectoryError(0, "is a folder", path)
    if there and not S_ISREG(there.st_mode):
        with open(path, "wb") as device:
            device.write(content)
        return
    real = os.path.realpath(path)
    is_plan = any(name.lower().endswith(SUFFIX) for name in (path, real))
    if is_plan or (there and any(_is_same(there, other) for other in read)):
        raise Kept(0, "is a plan, or a file that was read: take another name", path)
    if there and not os.access(path, os.W_OK):
        raise PermissionError(0, "is write-protected", path)
    put(real, content, there)


def _status(path: str) -> os.stat_result | None:
    try:
        return os.stat(path)
    except FileNotFoundError:
        return None


def _is_same(there: os.stat_result, other: str) -> bool:
    """Whether a path leads to the same file, by whatever name."""
    status = None
    with suppress(OSError, ValueError):
        status = os.stat(other)
    return status is not None and os.path.samestat(there, status)


def put(path: str, content: bytes, like: os.stat_result | None, check: Callable[[], object] = lambda: None) -> None:
    """Puts bytes at a place, which is no symbolic link; with the mode, owner and attributes of what stood there.

    `check` is called once more before what stands there is replaced, and raises where it must stay.
    """
    beside = open_beside(path)
    try:
        fill(beside, content, path, like)
        check()
        os.replace(beside.name, path)
    finally:
        with suppress(FileNotFoundError):
            os.unlink(beside.name)
    settle(os.path.dirname(path))


def open_beside(path: str) -> BinaryIO:
    """A new file in the same folder. What an earlier run has left there does not stand in the way."""
    folder = os.path.dirname(path)
    for number in count():
        with suppress(FileExistsError):
            return open(os.path.join(folder, f".railbond-{os.getpid()}-{number}.new"), "xb")
    raise AssertionError("there is always another number")


def fill(new: BinaryIO, content: bytes, path: str, like: os.stat_result | None) -> None:
    """Writes a new file, to the disk itself; as far as the system lets us it is then like the one it will replace."""
    with new:
        new.write(content)
        new.flush()
        os.fsync(new.fileno())
        if like and hasattr(os, "fchown"):
            with suppress(OSError):
                os.fchown(new.fileno(), like.st_uid, like.st_gid)
    if like:
        os.chmod(new.name, like.st_mode & 0o7777)
        _copy_attributes(path, new.name)


def _copy_attributes(old: str, new: str) -> None:
    """Extended attributes, where the system has such."""
    if not hasattr(os, "listxattr"):
        return
    with suppress(OSError):
        for name in os.listxattr(old):
            with suppress(OSError):
                os.setxattr(new, name, os.getxattr(old, name))


def settle(folder: str) -> None:
    """Brings the renaming to disk too, where the system can."""
    with suppress(OSError):
        number = os.open(folder or ".", os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)
