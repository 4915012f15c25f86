"""Answers kept between runs, each under a key of everything that it depends on.

A cache can cost time, never an answer: what is missing, broken, unreadable or not ours is worked out anew, and what
cannot be written is not kept. An entry is JSON, which runs nothing, behind a line that tells whether it is whole.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from hashlib import sha256
from time import time
from typing import Any

A_DAY = 86_400.0
A_MONTH = 30 * A_DAY
"""Seconds."""


def folder() -> str:
    """Where answers are kept: in the user's own cache folder."""
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or os.path.expanduser("~\\AppData\\Local")
    else:
        base = os.environ.get("XDG_CACHE_HOME") or os.path.expanduser("~/.cache")
    return os.path.join(base, "railbond", "answers")


class DiskAnswers:
    """Remembers what was asked of the disk, and what it said: a text, or why there was none to be had."""

    def __init__(self, open_text: Callable[[str], str]) -> None:
        self.said: dict[str, str | OSError] = {}
        self._open_text = open_text

    @property
    def texts(self) -> dict[str, str]:
        """Those that were there."""
        return {path: text for path, text in self.said.items() if isinstance(text, str)}

    @property
    def digests(self) -> dict[str, str]:
        """By path what tells one text from another, and one reason from another."""
        return {path: _told_apart(said) for path, said in self.said.items()}

    def open_text(self, path: str) -> str:
        """The text of a file. Raises OSError."""
        try:
            self.said[path] = text = self._open_text(path)
        except OSError as error:
            self.said[path] = error
            raise
        return text

    def is_now(self, path: str, content: str) -> bool:
        """Whether a file has that digest by now, or cannot be had for the same reason as then."""
        with suppress(OSError):
            self.open_text(path)
        return _told_apart(self.said[path]) == content


def _told_apart(said: str | OSError) -> str:
    return _digest(said) if isinstance(said, str) else f"{type(said).__name__}: {said.strerror}"


def _digest(text: str) -> str:
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


class Cache:
    """Answers about plans, by the program, the plan's path and all that was asked of the disk: what every file held
    that was read, and that the others were not there."""

    def __init__(self, at: str | None, program: str) -> None:
        self.at, self.program = at, program

    def get(self, path: str, asked: DiskAnswers) -> dict[str, Any] | None:
        """The answer for a plan, if there is one for the disk as it is now."""
        try:
            name = self._file(path, asked.open_text(path))
            with open(name, encoding="utf-8") as file:
                if not _is_own(os.fstat(file.fileno())):
                    return None
                whole, text = file.readline(), file.read()
            if whole != f"{_digest(text)}\n":
                return None
            entry = json.loads(text)
            os.utime(name)
            now = all(asked.is_now(other, content) for other, content in entry["asked"].items())
            return entry["answer"] if now and isinstance(entry["answer"], dict) else None
        except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
            return None

    def put(self, path: str, asked: DiskAnswers, answer: dict[str, Any]) -> None:
        """Keeps an answer: written beside its place and then moved there, so that no reader finds half of it."""
        if self.at is None:
            return
        file = self._file(path, asked.texts[path])
        try:
            text = json.dumps({"asked": asked.digests, "answer": answer})
            for above in (os.path.dirname(self.at), self.at, os.path.dirname(file)):
                os.makedirs(above, mode=0o700, exist_ok=True)
            number = os.open(f"{file}.{os.getpid()}", os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
            with open(number, "w", encoding="utf-8") as beside:
                beside.write(f"{_digest(text)}\n{text}")
            os.replace(f"{file}.{os.getpid()}", file)
        except (OSError, ValueError):
            self.at = None  # a folder that cannot be written to is not tried again

    def _file(self, path: str, text: str) -> str:
        if self.at is None:
            raise FileNotFoundError(path)
        key = _digest(f"{self.program} {path} {_digest(text)}")
        return os.path.join(self.at, key[:2], f"{key}.json")


def _is_own(status: os.stat_result) -> bool:
    """Whether a file is ours, and nobody else's to write to."""
    return os.name != "posix" or (status.st_uid == os.geteuid() and not status.st_mode & 0o022)


def sweep(at: str, now: float | None = None) -> None:
    """Takes away what nobody has asked for in a month; looks for it once a day."""
    now, mark = time() if now is None else now, os.path.join(at, "swept")
    with suppress(OSError):
        if os.path.exists(mark) and now - os.stat(mark).st_mtime < A_DAY:
            return
        with open(mark, "w"):
            os.utime(mark, (now, now))
        for folder_, _, names in os.walk(at):
            for name in (os.path.join(folder_, one) for one in names):
                with suppress(OSError):  # another process may sweep as well
                    if now - os.stat(name).st_mtime > A_MONTH:
                        os.remove(name)
