"""Plans on disk: which ones are meant, and their text. What stands in the way is kept, to be told."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from errno import ENOENT
from stat import S_ISREG

from trackplan.record import NamedTuple
from trackplan.typed import TYPE_CHECKING

from .reach import SUFFIX, FolderBounds

if TYPE_CHECKING:
    from typing import BinaryIO

    from trackplan.span import Source

BYTE_ORDER_MARK = b"\xef\xbb\xbf"
TWO_BYTES = b"\xff\xfe", b"\xfe\xff"
"""How a text begins of which every character takes two bytes (the byte order marks of UTF-16)."""
SETTINGS = ("railbond.toml", "pyproject.toml")
LARGEST = 64 * 1024 * 1024


class Trouble(NamedTuple):
    """A file that could not be read as it should be; `line` from 1, where one is to blame."""

    path: str
    line: int | None
    message: str

    def __str__(self) -> str:
        """As the GNU Coding Standards have it: `file:line: message`."""
        place = f"{self.path}:{self.line}" if self.line else self.path
        return f"{place}: {self.message}"


class Files:
    """Reads each file once. `given` holds texts that do not come from disk, by the path they stand for; `reach` tells
    how far the plans that are named may lead to others."""

    def __init__(self, given: Mapping[str, bytes] | None = None, reach: FolderBounds | None = None) -> None:
        self.troubles: list[Trouble] = []
        self.reach = reach or FolderBounds()
        self._texts: dict[str, str] = {}
        self._settings: dict[str, Source | None] = {}
        for path, content in (given or {}).items():
            self._texts[os.path.normpath(path)] = self._decoded(path, content)
            self.reach.named(os.path.normpath(path))

    @property
    def read(self) -> list[str]:
        """The paths of all that was read."""
        return list(self._texts)

    def open_text(self, path: str) -> str:
        """The text of a file without its byte order mark; raises OSError where there is none to be had.

        What was not named, by `plans` or as the first that was asked for, must be a plan within reach.
        """
        if path not in self._texts:
            self.reach.require(path)
            self._texts[path] = self._decoded(path, _content(path))
        return self._texts[path]

    def plans(self, paths: Iterable[str]) -> Iterator[str]:
        """The files meant by `paths`, each once: a folder stands for the plans in it and below, by name."""
        seen: set[str] = set()
        for path in map(os.path.normpath, paths):
            folder = path not in self._texts and os.path.isdir(path)
            for plan in self._below(path) if folder else [path]:
                real = os.path.realpath(plan)
                if real not in seen:
                    seen.add(real)
                    self.reach.named(plan)
                    yield plan

    def settings_file(self, plan: str) -> Source | None:
        """The nearest settings file of a plan, in its folder or above; None where there is none."""
        folder = os.path.dirname(os.path.abspath(plan))
        if folder not in self._settings:
            self._settings[folder] = self._nearest(folder)
        return self._settings[folder]

    def _nearest(self, folder: str) -> Source | None:
        from trackplan.span import Source

        found = nearest_settings(folder)
        if found is None:
            return None
        path = os.path.relpath(found)
        self._texts[path] = self._decoded(path, _content(path))
        return Source(path, self._texts[path])

    def trouble(self, path: str, error: OSError, what: str = "cannot be read") -> None:
        """Keeps the reason why a file cannot be read, or what else could not be done."""
        self.troubles.append(Trouble(path, None, f"{what}: {error.strerror or error}"))

    def _below(self, folder: str) -> Iterator[str]:
        found = False
        self.reach.allow(folder)
        for at, folders, names in os.walk(folder, onerror=lambda error: self.trouble(error.filename, error)):
            folders[:] = sorted(name for name in folders if not name.startswith("."))
            for name in sorted(names):
                if name.endswith(SUFFIX) and not name.startswith("."):
                    found = True
                    plan = os.path.normpath(os.path.join(at, name))
                    if self._may_be_opened(plan):
                        yield plan
        if not found:
            self.troubles.append(Trouble(folder, None, f"holds no plan: no file there ends in {SUFFIX}"))

    def _may_be_opened(self, plan: str) -> bool:
        """Whether what was found in a folder leads out of it, as a symbolic link may."""
        try:
            if os.path.islink(plan):
                self.reach.require_within(plan)
        except OSError as error:
            self.trouble(plan, error)
            return False
        return True

    def _decoded(self, path: str, content: bytes) -> str:
        content = content.removeprefix(BYTE_ORDER_MARK)
        if content.startswith(TWO_BYTES):
            self.troubles.append(Trouble(path, None, "is UTF-16, two bytes a character; save the file as UTF-8"))
            return content.decode("utf-16", errors="replace")
        try:
            return content.decode()
        except UnicodeDecodeError as error:
            line = content.count(b"\n", 0, error.start) + 1
            odd = f"holds the byte 0x{content[error.start]:02x}, which is not UTF-8; save the file as UTF-8"
            self.troubles.append(Trouble(path, line, odd))
            return content.decode(errors="replace")


def _content(path: str) -> bytes:
    """The bytes of a plain file of a plan's size; a device or a pipe could go on for ever."""
    if not S_ISREG(os.stat(path).st_mode):
        raise OSError(0, "not a plain file", path)
    with open(path, "rb") as file:
        return bounded(file, path)


def bounded(file: BinaryIO, path: str) -> bytes:
    """All that is left of a file, which must not be more than a plan can hold."""
    content = file.read(LARGEST + 1)
    if len(content) > LARGEST:
        raise OSError(0, "too large to be a plan", path)
    return content


def nearest_settings(folder: str) -> str | None:
    """The settings file that counts for a folder: the nearest one, there or above."""
    while True:
        for name in SETTINGS:
            path = os.path.join(folder, name)
            if os.path.isfile(path) and (name == SETTINGS[0] or _has_table(path)):
                return path
        above = os.path.dirname(folder)
        if above == folder:
            return None
        folder = above


def _has_table(path: str) -> bool:
    """Whether a `pyproject.toml` speaks of us at all; to read it whole would load a module that nobody else needs."""
    try:
        return b"tool.railbond" in _content(path)
    except OSError:
        return False


def reopening(sources: Mapping[str, Source]) -> Callable[[str], str]:
    """Opens texts that have been read before, and no others."""

    def open_text(path: str) -> str:
        if path not in sources:
            raise FileNotFoundError(ENOENT, "was not there to be read", path)
        return sources[path].text

    return open_text
