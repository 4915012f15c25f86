"""What track and supplies are called: which track a block is meant for, and which share of it a district."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part, beyond
from railbond.fixes.section import is_plain

Parts = frozenset[Part]
SAY_NOTHING = frozenset(
    {"b", "blk", "block", "booster", "det", "detected", "detector", "district", "power", "section", "supply", "track"}
)
LEAST_LETTERS = 2
"""Letters of an abbreviation: `up1` may be meant for `upper`."""


def words(name: str) -> list[str]:
    """The words of a name, without those that only say what kind of thing it is."""
    every = every_word(name)
    return [word for word in every if word not in SAY_NOTHING] or every


def every_word(name: str) -> list[str]:
    """`westYard-2` as `west`, `yard`, `2`."""
    found = re.findall(r"[A-Z]?[a-z]+|[A-Z]+|\d+", name.rpartition(".")[2])
    return [word.lower() for word in found]


def named_after(facts: Facts, supply: str, parts: Parts) -> Parts:
    """The track after which a block is called, `mill-block` after `mill` or after `mill-1` and `mill-2`, with the
    turnouts that lie between."""
    supplies = facts.layout.supplies
    if supplies[supply].kind != "block":
        return frozenset()
    found = {part for part in parts if _is_called(part, supply)}
    others = [name for name, one in supplies.items() if one.kind == "block" and name != supply]
    parts = frozenset(part for part in parts if part in found or not any(_is_called(part, name) for name in others))
    while found:
        beside = Counter(
            beyond(seam, part) for part in found for seam in facts.turning.seams_at.get(part, ())
        )  # fmt: skip
        more = {part for part, count in beside.items() if count > 1 and part in parts and part not in found}
        if not more:
            break
        found |= more
    return frozenset(found)


def _is_called(part: Part, supply: str) -> bool:
    own = words(supply)
    return words(part[0])[: len(own)] == own


def with_switches(facts: Facts, supply: str, named: Parts, whole: Parts) -> Parts:
    """A block's track with the turnouts that nothing but blocks lies around: each belongs to the block at its points,
    or else to the first one beside it."""
    blocks = [one.name for one in facts.layout.supplies.values() if one.kind == "block"]
    track = {name: named if name == supply else named_after(facts, name, whole) for name in blocks}
    taken = {part: name for name, parts in track.items() for part in parts}
    more = set[Part]()
    for group in _between(facts, whole - taken.keys()):
        beside = list(_beside(facts, group, taken))
        if beside and "" not in beside and beside[0] == supply:
            more |= group
    return named | more


def _between(facts: Facts, parts: Iterable[Part]) -> Iterator[Parts]:
    """Trackwork that hangs together, if there is no plain track among it."""
    left = dict.fromkeys(sorted(parts))
    while left:
        queue = [next(iter(left))]
        left.pop(queue[0])
        for here in queue:
            ahead = [beyond(seam, here) for seam in facts.turning.seams_at.get(here, ())]
            queue += [one for one in dict.fromkeys(ahead) if one in left]
            for one in ahead:
                left.pop(one, None)
        if not any(is_plain(facts, one) for one in queue):
            yield frozenset(queue)


def _beside(facts: Facts, group: Parts, taken: dict[Part, str]) -> Iterator[str]:
    """The blocks around some trackwork, those at points first; nothing for track that is no block's."""
    seams = [(seam, part) for part in sorted(group) for seam in facts.turning.seams_at.get(part, ())]
    for seam, part in sorted(seams, key=lambda one: not _at_points(one[0].meeting, one[1])):
        there = beyond(seam, part)
        if there not in group:
            yield taken.get(there, "")


def _at_points(meeting: object, part: Part) -> bool:
    ends = (getattr(meeting, "one", None), getattr(meeting, "other", None))
    return any(end is not None and end.piece == part[0] and end.end == "points" for end in ends)


def akin(facts: Facts, supply: str, parts: Parts) -> Parts:
    """The track that is called after a supply, or after its booster: `yard-3` after `yard-booster`."""
    booster = getattr(facts.layout.supplies[supply].statement, "booster", "") or ""
    called = {word for name in (supply, str(booster)) for word in words(name)}
    own = {word for word in called - SAY_NOTHING if len(word) >= LEAST_LETTERS and not word.isdigit()}
    return frozenset(part for part in parts if is_plain(facts, part) and _is_meant(words(part[0]), own))


def _is_meant(called: Iterable[str], own: Iterable[str]) -> bool:
    return any(
        len(word) >= LEAST_LETTERS and (other.startswith(word) or word.startswith(other))
        for word in called
        for other in own
    )
