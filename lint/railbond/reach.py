"""How far a plan may lead: what it includes or couples stays below the folder of its repository, or below its own where
there is none. A stranger's plan would otherwise have any file of ours read out, line by line, and written to."""

from __future__ import annotations

import os
from collections.abc import Iterable

SUFFIX = ".trackplan"


class OutOfReach(OSError):
    """A file that is not opened for a plan."""

    def __init__(self, path: str, why: str) -> None:
        super().__init__(0, why, path)


class FolderBounds:
    """The folders below which plans may be opened: those of what was named, and `more`."""

    def __init__(self, more: Iterable[str] = ()) -> None:
        self._named: set[str] = set()
        self._folders = {os.path.realpath(folder) for folder in more}
        self._homes: dict[str, str] = {}
        self._only: tuple[str, frozenset[str]] | None = None

    def named(self, path: str) -> None:
        """Takes a plan that was asked for by its name; what it leads to must lie below its home."""
        if path not in self._named:
            self._named.add(path)
            self.allow(self._home(os.path.dirname(os.path.abspath(path))))

    def allow(self, folder: str) -> None:
        """Lets plans lead to all that lies below a folder."""
        self._folders.add(os.path.realpath(folder))

    def only(self, top: str, paths: Iterable[str]) -> None:
        """Lets plans lead, below a folder, to these files alone: the others are not part of what is looked at."""
        self._only = os.path.join(os.path.realpath(top), ""), frozenset(map(os.path.realpath, paths))

    @property
    def extent(self) -> tuple[object, ...]:
        """All that decides what may be opened, but for what was named, which every plan may be asked for by."""
        only = self._only and (self._only[0], sorted(self._only[1]))
        return sorted(self._folders), only

    def require(self, path: str) -> None:
        """Raises OSError where a file is not to be opened. The first that is asked for counts as named."""
        if not _can_be_called(path):
            raise OutOfReach(path, "no file can be called that")
        if not self._named:
            self.named(path)
        if path not in self._named:
            self.require_within(path)

    def require_within(self, path: str) -> None:
        """Raises OSError for what is no plan within reach, whether it was named or not."""
        if not path.endswith(SUFFIX):
            raise OutOfReach(path, f"it is not called *{SUFFIX}")
        real = os.path.realpath(path)
        if not any(real.startswith(os.path.join(folder, "")) for folder in self._folders):
            where = ", ".join(sorted(self._folders))
            raise OutOfReach(path, f"it lies outside of {where}; --reach FOLDER allows more")
        if not real.endswith(SUFFIX):
            raise OutOfReach(path, f"what it leads to is not called *{SUFFIX}")
        if self._only and real.startswith(self._only[0]) and real not in self._only[1] and os.path.exists(real):
            raise OutOfReach(path, "git does not track it: `git add` it, or it is in nobody else's copy")

    def is_outside(self, path: str) -> bool:
        """Whether a file lies beyond the homes of all that was named: what it says is nobody's business here."""
        real = os.path.realpath(path)
        return not any(real.startswith(os.path.join(os.path.realpath(home), "")) for home in self._homes.values())

    def _home(self, folder: str) -> str:
        """The repository that a folder is part of, else the folder itself."""
        if folder not in self._homes:
            self._homes[folder] = repository(folder) or folder
        return self._homes[folder]


def _can_be_called(path: str) -> bool:
    try:
        return "\0" not in path and bool(os.fsencode(path))
    except UnicodeEncodeError:
        return False


def repository(folder: str) -> str | None:
    """The top folder of the repository that a folder is part of."""
    while not os.path.exists(os.path.join(folder, ".git")):
        above = os.path.dirname(folder)
        if above == folder:
            return None
        folder = above
    return folder
