"""Answers kept between runs, each under a key of everything that it depends on.

A cache can cost time, never an answer: what is missing, broken, unreadable or not ours is worked out anew, and what
cannot be written is not kept. An entry is JSON, which runs nothing.
"""

from __future__ import annotations

import json
import os
import sys
from hashlib import sha256
from typing import Any

from railbond import __version__

FORMAT = 1


def folder() -> str:
    """Where answers are kept: in the user's own cache folder."""
    if sys.platform == "win32":
        base = os.environ.get("LOCALAPPDATA") or os.path.expanduser("~\\AppData\\Local")
    else:
        base = os.environ.get("XDG_CACHE_HOME") or os.path.expanduser("~/.cache")
    return os.path.join(base, "railbond", "answers")


def program() -> str:
    """What tells one version of the program from another: its number, and the age and size of all its files."""
    root = os.path.dirname(os.path.dirname(__file__))
    roots = [root, os.path.join(os.path.dirname(os.path.dirname(root)), "grammar", "trackplan")]
    stamp = sha256(f"{FORMAT} {__version__} {sys.version}".encode())
    for top in roots:
        for at, folders, names in os.walk(top):
            folders.sort()
            for name in sorted(name for name in names if name.endswith((".py", ".lark"))):
                status = os.stat(os.path.join(at, name))
                stamp.update(f"{name} {status.st_mtime_ns} {status.st_size}\n".encode())
    return stamp.hexdigest()


def digest(text: str) -> str:
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


class Cache:
    """Answers about plans, by the program, the plan's path and the content of every file that it reads."""

    def __init__(self, at: str | None, program: str) -> None:
        self.at, self.program = at, program

    def get(self, path: str, texts: dict[str, str], read: Any) -> dict[str, Any] | None:
        """The answer for a plan, if there is one for just these contents. `read` gives a file's text, which goes into
        `texts`; it may raise OSError."""
        try:
            texts[path] = read(path)
            with open(self._file(path, texts[path]), encoding="utf-8") as file:
                entry = json.load(file)
            for other, content in entry["contents"].items():
                texts[other] = read(other)
                if digest(texts[other]) != content:
                    return None
            answer = entry["answer"]
            return answer if isinstance(answer, dict) else None
        except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
            return None

    def put(self, path: str, texts: dict[str, str], answer: dict[str, Any]) -> None:
        """Keeps an answer: written beside its place and then moved there, so that no reader finds half of it."""
        if self.at is None:
            return
        entry = {"contents": {other: digest(text) for other, text in texts.items()}, "answer": answer}
        file = self._file(path, texts[path])
        try:
            os.makedirs(os.path.dirname(file), mode=0o700, exist_ok=True)
            with open(f"{file}.{os.getpid()}", "x", encoding="utf-8") as beside:
                json.dump(entry, beside)
            os.replace(beside.name, file)
        except (OSError, ValueError):
            self.at = None  # a folder that cannot be written to is not tried again

    def _file(self, path: str, text: str) -> str:
        if self.at is None:
            raise FileNotFoundError(path)
        key = digest(f"{self.program} {os.path.abspath(path)} {digest(text)}")
        return os.path.join(self.at, key[:2], f"{key}.json")
