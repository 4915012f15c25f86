"""A plan with everything that it includes. Pure: whoever calls says how a file is opened."""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Iterator

from .read import Reading, read
from .record import NamedTuple
from .span import Source
from .statements import Broken, Include, Statement, where

Reader = Callable[[Source], Reading]

MOST_FILES = 1000


class GatheredPlan(NamedTuple):
    """The readings of a plan and of the files it includes, by path, the plan itself first."""

    root: str
    readings: dict[str, Reading]

    @property
    def statements(self) -> list[Statement]:
        """All statements, file by file in the order in which they are included."""
        return [statement for reading in self.readings.values() for statement in reading.statements]

    @property
    def sources(self) -> dict[str, Source]:
        return {path: reading.source for path, reading in self.readings.items()}

    @property
    def broken(self) -> list[Broken]:
        """All broken lines, and the includes that brought nothing."""
        return [broken for reading in self.readings.values() for broken in reading.broken]


def gather(path: str, open_text: Callable[[str], str], read: Reader = read) -> GatheredPlan:
    """Reads a plan and what it includes. `open_text` gives a file's text or raises OSError; `read` reads it.

    That error goes on to the caller for the plan itself; for an include it is told as a broken line.
    """
    readings: dict[str, Reading] = {}
    includer = {normal(path): ""}
    waiting = [Source(path, open_text(path))]
    for source in waiting:  # grows by what is included
        reading = read(source)
        for include in includes(reading):
            file = beside(source.path, include.file)
            told = refuse(file, normal(source.path), includer)
            if not told:
                told = open_include(file, open_text, waiting)
            if told:
                reading.broken.append(Broken(where(include, include.file), told))
            else:
                includer[file] = normal(source.path)
        readings[source.path] = reading._replace(broken=sorted(reading.broken))
    return GatheredPlan(path, readings)


def includes(reading: Reading) -> Iterator[Include]:
    return (statement for statement in reading.statements if type(statement) is Include)


def beside(path: str, file: str) -> str:
    """The path of a file that a plan names: relative to the plan's own folder, whichever slash is typed."""
    folder = posixpath.dirname(path.replace("\\", "/"))
    return normal(posixpath.join(folder, file.replace("\\", "/")))


def normal(path: str) -> str:
    return posixpath.normpath(path.replace("\\", "/"))


def refuse(file: str, path: str, includer: dict[str, str]) -> str:
    """Why a file is not read once more; empty where it is."""
    if file not in includer:
        return "" if len(includer) < MOST_FILES else f"more than {MOST_FILES:,} files are included"
    while path and path != file:
        path = includer[path]
    if path:
        return f"`{file}` includes this file in turn: files cannot include each other in a circle"
    return f"`{file}` is included already: once is enough"


def open_include(file: str, open_text: Callable[[str], str], waiting: list[Source]) -> str:
    """Puts a file in the queue of those to read, or says why it cannot be opened."""
    try:
        waiting.append(Source(file, open_text(file)))
    except FileNotFoundError:
        return f"there is no file `{file}`"
    except (OSError, ValueError) as error:
        return f"`{file}` cannot be read: {getattr(error, 'strerror', None) or error}"
    return ""
