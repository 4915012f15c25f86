"""The fewest stretches of track to set apart so that nothing turns back on itself.

Track is drawn together into *chains*, runs of plain track between the pieces at which it branches. They are the
edges of a small signed graph, and every odd cycle of it must lose one. To find the fewest is hard in general (taking
edges away until a signed graph is balanced; where all edges are -, edge bipartization), so it is done block by block
(no cycle leaves its block of doubly connected track), and in a block all sets of one choice, then of two, and so on
are tried: each must hold a choice that touches the odd cycle which is left. That is exact; a block that outruns
the budget gets the cheapest choice for one odd cycle after the other, which may be more than it needs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from trackplan.record import NamedTuple

from .doubly_connected import blocks_of_edges
from .signed_graph import Part, Seam, SpanningForest, beyond

BUDGET = 100_000
"""Chains walked over in the search of one block."""

Tree = dict[Part, tuple[bool, int | None]]
"""For each part reached whether it lies against the root, and the chain that leads back there."""


class Chain(NamedTuple):
    """Plain parts in a row, the seams before, between and behind them, and the branching parts at its two ends (the
    same as a seam's far side; for track that ends, its last part). `turns`: left is right at the other end."""

    parts: tuple[Part, ...]
    seams: tuple[Seam, ...]
    ends: tuple[Part, Part]
    turns: bool


class Choice(NamedTuple):
    """Something that may be set apart: the chains that it takes out of the graph, and what it costs."""

    chains: frozenset[int]
    cost: tuple[float, ...]


def chains(forest: SpanningForest, is_plain: Callable[[Part], bool]) -> list[Chain]:
    """Every chain that leads from one branching part to one, in the order of the parts."""
    found, seen = [], set[int]()
    for part, seams in forest.ties.items():
        for seam in seams:
            if not is_plain(part) and id(seam) not in seen:
                chain = _follow(forest, part, seam, is_plain)
                seen.update(map(id, chain.seams))
                found += [chain] if not is_plain(chain.ends[1]) else []
    return found


def _follow(forest: SpanningForest, start: Part, seam: Seam, is_plain: Callable[[Part], bool]) -> Chain:
    parts, seams, here = list[Part](), [seam], beyond(seam, start)
    while is_plain(here):
        ahead = [one for one in forest.ties[here] if one is not seams[-1]]
        if not ahead:
            break
        parts.append(here)
        seams.append(ahead[0])
        here = beyond(ahead[0], here)
    return Chain(tuple(parts), tuple(seams), (start, here), sum(one.turns for one in seams) % 2 == 1)


def blocks(found: Sequence[Chain]) -> list[list[int]]:
    """The chains by blocks, those that hold an odd cycle only. A chain that ends where it begins is a block."""
    block_of = blocks_of_edges(chain.ends for chain in found if chain.ends[0] != chain.ends[1])
    by_block: dict[object, list[int]] = {}
    for index, chain in enumerate(found):
        loop = chain.ends[0] == chain.ends[1]
        by_block.setdefault((index,) if loop else block_of[frozenset(chain.ends)], []).append(index)
    return [block for block in by_block.values() if Ties(found, block).odd_cycle()]


class Ties:
    """The chains of a block by the parts at which they end, to be asked for an odd cycle again and again."""

    def __init__(self, found: Sequence[Chain], block: Sequence[int]) -> None:
        self.found, self.block = found, block
        self.at: dict[Part, list[tuple[int, Part, bool]]] = {}
        for index in block:
            one, other = found[index].ends
            self.at.setdefault(one, []).append((index, other, found[index].turns))
            if other != one:
                self.at.setdefault(other, []).append((index, one, found[index].turns))

    def odd_cycle(self, without: frozenset[int] = frozenset()) -> list[int]:
        """The chains of an odd cycle that has none of those, in the order in which one walks round it; empty when there
        is none."""
        tree: Tree = {}
        for index in self.block:
            for root in self.found[index].ends if index not in without else ():
                if root not in tree and (closing := self._grow(root, tree, without)) is not None:
                    return _closed(self.found, tree, closing)
        return []

    def _grow(self, root: Part, tree: Tree, without: frozenset[int]) -> int | None:
        """Spreads from a root; stops at the first chain that closes an odd cycle with the tree."""
        tree[root] = False, None
        queue = [root]
        for here in queue:
            lies = tree[here][0]
            for index, there, turns in self.at[here]:
                if index in without:
                    continue
                if there not in tree:
                    tree[there] = lies != turns, index
                    queue.append(there)
                elif tree[there][0] != (lies != turns):
                    return index
        return None


def _closed(found: Sequence[Chain], tree: Tree, closing: int) -> list[int]:
    """The cycle that a chain closes with the tree."""
    one, other = (_to_root(found, tree, end) for end in found[closing].ends)
    while one and other and one[-1] == other[-1]:
        one.pop()
        other.pop()
    return [closing, *other, *reversed(one)]


def _to_root(found: Sequence[Chain], tree: Tree, part: Part) -> list[int]:
    way: list[int] = []
    while (above := tree[part][1]) is not None:
        way.append(above)
        part = _far_end(found[above], part)
    return way


def _far_end(chain: Chain, near: Part) -> Part:
    return chain.ends[1] if chain.ends[0] == near else chain.ends[0]


def fewest(found: Sequence[Chain], block: Sequence[int], choices: Sequence[Choice]) -> list[Choice]:
    """The fewest choices that leave no odd cycle in a block, of those the cheapest; they do not touch each other."""
    search = _Search(found, block, choices)
    for size in range(1, len(choices) + 1):
        sets = list(search.sets(size))
        if search.steps > BUDGET:
            break
        if sets:
            return list(min(sets, key=total))
    return search.greedy()


def total(chosen: Iterable[Choice]) -> tuple[float, ...]:
    """The costs of choices, added up place by place."""
    return tuple(map(sum, zip(*(one.cost for one in chosen), strict=True)))


class _Search:
    def __init__(self, found: Sequence[Chain], block: Sequence[int], choices: Sequence[Choice]) -> None:
        self.ties, self.block = Ties(found, block), block
        self.choices = sorted(choices, key=lambda one: one.cost)
        self.steps = 0

    def sets(self, size: int, chosen: tuple[Choice, ...] = ()) -> Iterator[tuple[Choice, ...]]:
        """Every set of `size` more choices that leaves no odd cycle."""
        self.steps += len(self.block)
        cycle = set(self._cycle(chosen))
        if not cycle:
            yield chosen
        elif size and self.steps <= BUDGET:
            for choice in self._touching(cycle, chosen):
                yield from self.sets(size - 1, (*chosen, choice))

    def greedy(self) -> list[Choice]:
        """The cheapest choice for one odd cycle after the other, and then without those that were not needed."""
        chosen: tuple[Choice, ...] = ()
        while cycle := self._cycle(chosen):
            choice = next(self._touching(set(cycle), chosen), None)
            if choice is None:
                break
            chosen = (*chosen, choice)
        for choice in chosen:
            rest = tuple(one for one in chosen if one is not choice)
            chosen = chosen if self._cycle(rest) else rest
        return list(chosen)

    def _cycle(self, chosen: Sequence[Choice]) -> list[int]:
        return self.ties.odd_cycle(frozenset[int]().union(*(one.chains for one in chosen)))

    def _touching(self, cycle: set[int], chosen: Sequence[Choice]) -> Iterator[Choice]:
        taken = frozenset[int]().union(*(one.chains for one in chosen))
        return (one for one in self.choices if one.chains & cycle and not one.chains & taken)
