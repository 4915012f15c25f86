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
    told = [(_kind(one) if one.old and one.new else (), one) for one in changes]
    kinds: dict[tuple[object, ...], list[LineChange]] = {}
    for kind, one in told:
        kinds.setdefault(kind, []).append(one)
    many = {kind: iter(alike[:SHOWN]) for kind, alike in kinds.items() if kind and len(alike) > 2 * SHOWN}
    for kind, one in told:
        if kind not in many:
            yield one
        elif next(many[kind], None):
            yield one
            if one is kinds[kind][SHOWN - 1]:
                yield Likewise(one.path, tuple(other.line for other in kinds[kind][SHOWN:]))


def _kind(change: LineChange) -> tuple[object, ...]:
    """What changes are alike by: the file, the keywords, and the words that go and that come, each as often."""
    old, new = " ".join(change.old).split(), " ".join(change.new).split()
    gone, come = (_without(one, other) for one, other in ((old, new), (new, old)))
    return change.path, len(change.old), *old[:1], *new[:1], gone, come


def _without(words: Iterable[str], others: Iterable[str]) -> tuple[str, ...]:
    """The words that others do not have as often."""
    rest, left = list(others), list[str]()
    for word in words:
        if word in rest:
            rest.remove(word)
        else:
            left.append(word)
    return tuple(left)
