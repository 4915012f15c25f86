"""Plans inspected until somebody stops it: what is known by then is told all the same, and none of it called proven."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from railbond.doorway import Opened
from railbond.files import Files, Trouble
from railbond.inspection import Inspection

from ._working import Working

STATUS = 130
"""The exit status of what was stopped with Ctrl-C, as shells have it."""

UNFINISHED = "was not inspected to its end: it was stopped"

Told = Iterable[tuple[str, Inspection]]


def until_stopped(told: Told, plans: Sequence[str], files: Files, work: Working) -> tuple[dict[str, Inspection], bool]:
    """What was found in each plan, and whether none is left; one that is left is a trouble. Where nothing is known at
    all, KeyboardInterrupt is raised again. `work` shows how far it is."""
    found: dict[str, Inspection] = {}
    try:
        for plan, inspection in told:
            found[plan] = inspection
            if len(plans) > 1:
                work.done(len(found), len(plans))
    except KeyboardInterrupt:
        if not found:
            raise
        for plan in plans:
            if plan not in found:
                _tell(plan, files)
        return found, False
    return found, True


def as_far_as_it_gets(one: Opened, files: Files) -> Iterator[tuple[str, Inspection]]:
    """A plan's inspection; where that is stopped what was found by then, if anything was, before it is raised again."""
    try:
        found = one.proven
    except KeyboardInterrupt:
        if one.so_far:
            _tell(one.root, files)
            yield one.root, one.so_far
        raise
    yield one.root, found


def _tell(plan: str, files: Files) -> None:
    files.troubles.append(Trouble(plan, None, UNFINISHED))
