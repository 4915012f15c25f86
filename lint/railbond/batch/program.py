"""What tells one state of the program from another, so that no answer outlives what it rests on."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from importlib.util import find_spec
from typing import TYPE_CHECKING

from railbond import __version__
from railbond.rules import askable
from railbond.rules.plugins import points
from railbond.rules.rule import Rule

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

FORMAT = 4
"""Of answers that are kept."""

OWN = ("railbond", "trackplan")


def program() -> str:
    """The number of the program, that of Python and of the form in which answers are kept, the age and size of all its
    own files wherever they are installed, and every plug-in's files by their content."""
    stamp = sha256(f"{FORMAT} {__version__} {sys.version}".encode())
    for package in (*OWN, "networkx"):
        for top in _packages(package):
            whole = package in OWN  # a library is told by its own first file, which carries its number
            for path in _files(top) if whole else [os.path.join(top, "__init__.py")]:
                status = os.stat(path)
                stamp.update(f"{path} {status.st_mtime_ns} {status.st_size}\n".encode("utf-8", "surrogateescape"))
    for said in _plug_ins():
        stamp.update(f"{said}\n".encode("utf-8", "surrogateescape"))
    return stamp.hexdigest()


def _plug_ins() -> Iterator[str]:
    """What the plug-ins say of themselves, those too that cannot be used, and every file of theirs with its content."""
    found: set[str] = set()
    said: list[EntryPoint] = []
    with suppress(Exception):  # why is in the rule that stands in for them all
        said = points()
    for point in said:
        yield f"{point.name} = {point.value} {point.dist and point.dist.version}"
        found |= _of_distribution(point) or _of_module(point.value.partition(":")[0])
    for rule in (one for one in askable() if isinstance(one, Rule)):
        yield f"{rule.name}: {rule.summary}"
        name = str(getattr(rule.find, "__module__", ""))
        if name.partition(".")[0] not in (*OWN, *sys.stdlib_module_names) and not found & _files_of(name):
            found |= _of_module(name)
    for path in sorted(found):
        with suppress(OSError), open(path, "rb") as file:
            yield f"{path} {sha256(file.read()).hexdigest()}"


def _of_distribution(point: EntryPoint) -> set[str]:
    """The files that were installed with a plug-in; none where the code itself is not among them, as where it is
    installed for editing."""
    listed = point.dist.files if point.dist else None
    files = {os.path.realpath(str(one.locate())) for one in listed or () if not str(one).endswith(".pyc")}
    return files if _files_of(point.value.partition(":")[0]) & files else set()


def _of_module(name: str) -> set[str]:
    """All of the package that a module is in; of a module that is in none what lies beside it, and code below that."""
    top = name.partition(".")[0]
    found = {path for folder in _packages(top) for path in _files(folder)}
    for file in () if found else _files_of(top):
        folder = os.path.dirname(file)
        found |= {path for path in _files(folder) if path.endswith(".py") or os.path.dirname(path) == folder}
    return found


def _packages(name: str) -> list[str]:
    """The folders of a package."""
    with suppress(ImportError, ValueError):
        spec = find_spec(name)
        return list(spec.submodule_search_locations or ()) if spec else []
    return []


def _files_of(name: str) -> set[str]:
    """The file of the outermost module of a dotted name, if there is such a module."""
    with suppress(ImportError, ValueError):
        spec = find_spec(name.partition(".")[0])
        return {os.path.realpath(spec.origin)} if spec and spec.has_location and spec.origin else set()
    return set()


def _files(top: str) -> list[str]:
    """All files of a folder but those that Python or a tool has put there for itself."""
    found = list[str]()
    for at, folders, names in os.walk(top):
        folders[:] = [name for name in folders if not name.startswith(".")]
        found += (os.path.join(at, name) for name in names if not name.endswith(".pyc"))
    return sorted(found)
