"""The changes of a mend; of many lines in which the same words take the place of the same, all but a few by number."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from trackplan.record import NamedTuple

from .patch import LineChange

SHOWN = 3
"""Changes of a kind that are shown in full where there are more than twice as many."""


class Likewise(NamedTuple):
    """Lines of a file in which the same words change as in those shown before."""

    path: str
    lines: tuple[int, ...]


def in_short(changes: Iterable[LineChange]) -> Iterator[LineChange | Likewise]:
    """The changes in their order; behind the first of many of a kind the lines of the others. Where a whole line comes
    or goes, it is shown: no word of it says what is alike."""
    kinds: dict[object, list[LineChange]] = {}
    for number, change in enumerate(changes):
        kinds.setdefault(_kind(change) if change.old and change.new else number, []).append(change)
    for alike in kinds.values():
        few = alike[:SHOWN] if len(alike) > 2 * SHOWN else alike
        yield from few
        if len(few) < len(alike):
            yield Likewise(alike[0].path, tuple(one.line for one in alike[SHOWN:]))


def _kind(change: LineChange) -> tuple[object, ...]:
    """What changes are alike by: the file, the keywords, and the words that go and that come."""
    old, new = " ".join(change.old).split(), " ".join(change.new).split()
    gone, come = (tuple(word for word in one if word not in other) for one, other in ((old, new), (new, old)))
    return change.path, len(change.old), *old[:1], *new[:1], gone, come
