"""Which plans read a file: those that include it, and the meets that couple it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from trackplan.gather import beside, normal
from trackplan.read import logical_lines, read_line
from trackplan.statements import Include, Module

_NAMES_FILES = re.compile(r"(?:include|module)\b")


class Uses(NamedTuple):
    """The files that a file includes, and the module plans that it names, by their normal paths."""

    includes: frozenset[str]
    modules: frozenset[str]

    @property
    def all(self) -> frozenset[str]:
        return self.includes | self.modules


NONE = Uses(frozenset(), frozenset())


def uses(path: str, text: str) -> Uses:
    """The files that the text of a plan names; only the lines that do are read."""
    if not any(text.startswith(word) or f"\n{word}" in text for word in ("include", "module")):
        return NONE
    found = [read_line(line) for _, line in logical_lines(text) if _NAMES_FILES.match(line)]
    return Uses(
        frozenset(beside(path, one.file) for one in found if isinstance(one, Include)),
        frozenset(beside(path, one.file) for one in found if isinstance(one, Module)),
    )


def roots(changed: Iterable[str], known: Mapping[str, Uses]) -> list[str]:
    """The plans to inspect where files have changed, in the order in which they are found.

    `known` tells what every plan uses. A file that others include is inspected within them, not by itself; a plan
    that a meet couples is inspected by itself and within the meet.
    """
    including, coupling = _users(known, 0), _users(known, 1)
    queue = list(dict.fromkeys(map(normal, changed)))
    seen = set(queue)
    for path in queue:
        for user in (*including.get(path, ()), *coupling.get(path, ())):
            if user not in seen:
                seen.add(user)
                queue.append(user)
    found = [path for path in queue if not including.get(path)]
    return found or queue  # files that include each other in a circle


def _users(known: Mapping[str, Uses], kind: int) -> dict[str, list[str]]:
    users: dict[str, list[str]] = {}
    for path in sorted(known):
        for file in known[path][kind]:
            users.setdefault(file, []).append(path)
    return users
