"""What git tracks of the repository that we are in: its plans, and their texts as they are staged."""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import NamedTuple

from .reach import SUFFIX


class Tracked(NamedTuple):
    """The plans that git tracks, as paths from the folder we are in, and the repository's top folder. `unstaged` are
    those of which the text on disk is another than the one that is staged."""

    top: str
    plans: tuple[str, ...]
    unstaged: frozenset[str]

    def staged(self, paths: Iterable[str]) -> dict[str, bytes]:
        """The text as it is staged of each of these plans that on disk has another."""
        return {path: text for path in paths if path in self.unstaged and (text := self._blob(path)) is not None}

    def _blob(self, path: str) -> bytes | None:
        name = os.path.relpath(os.path.abspath(path), self.top).replace(os.sep, "/")
        return _git("cat-file", "blob", f":{name}")


def tracked_here() -> Tracked | None:
    """What is tracked where we are; None where there is no repository, or no git."""
    where = _git("rev-parse", "--show-cdup")
    if where is None:
        return None
    up = os.fsdecode(where.removesuffix(b"\n"))
    plans = _paths(up, _git("ls-files", "-z", "--full-name", "--", f":/*{SUFFIX}"))
    unstaged = _paths(up, _git("diff-files", "-z", "--name-only", "--", f":/*{SUFFIX}"))
    return Tracked(os.path.abspath(up or os.curdir), tuple(plans), frozenset(unstaged))


def _paths(up: str, listed: bytes | None) -> list[str]:
    names = os.fsdecode(listed or b"").split("\0")
    return list(dict.fromkeys(os.path.relpath(os.path.join(up or os.curdir, name)) for name in names if name))


def _git(*words: str) -> bytes | None:
    """What git says; None where it refuses or is not there."""
    import subprocess

    try:
        done = subprocess.run(["git", *words], capture_output=True, check=False, stdin=subprocess.DEVNULL)
    except OSError:
        return None
    return done.stdout if done.returncode == 0 else None
