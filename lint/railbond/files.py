"""Plans on disk: which ones are meant, and their text. What stands in the way is kept, to be told."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from stat import S_ISREG
from typing import BinaryIO, NamedTuple

SUFFIX = ".trackplan"
BYTE_ORDER_MARK = b"\xef\xbb\xbf"
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
    """Reads each file once. `given` holds texts that do not come from disk, by the path they stand for."""

    def __init__(self, given: dict[str, bytes] | None = None) -> None:
        self.troubles: list[Trouble] = []
        self._texts: dict[str, str] = {}
        for path, content in (given or {}).items():
            self._texts[os.path.normpath(path)] = self._decoded(path, content)

    def open_text(self, path: str) -> str:
        """The text of a file without its byte order mark; raises OSError where there is none to be had."""
        if path not in self._texts:
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
                    yield plan

    def trouble(self, path: str, error: OSError, what: str = "cannot be read") -> None:
        """Keeps the reason why a file cannot be read, or what else could not be done."""
        self.troubles.append(Trouble(path, None, f"{what}: {error.strerror or error}"))

    def _below(self, folder: str) -> Iterator[str]:
        found = False
        for at, folders, names in os.walk(folder, onerror=lambda error: self.trouble(error.filename, error)):
            folders[:] = sorted(name for name in folders if not name.startswith("."))
            for name in sorted(names):
                if name.endswith(SUFFIX) and not name.startswith("."):
                    found = True
                    yield os.path.normpath(os.path.join(at, name))
        if not found:
            self.troubles.append(Trouble(folder, None, f"holds no plan: no file there ends in {SUFFIX}"))

    def _decoded(self, path: str, content: bytes) -> str:
        content = content.removeprefix(BYTE_ORDER_MARK)
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
