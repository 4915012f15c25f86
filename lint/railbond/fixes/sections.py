"""Where reversing sections go on track that turns back on itself: as few as can be, and each where it does best.

Best is, in this order: long enough for the longest train; where the gaps are cut already; on track that nothing
feeds, while a reverser feeds nothing; with no turnout in it, which a train would hold; and then the longest.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from itertools import islice

from railbond.circuit.balance import Chain, Choice, Ties, blocks, chains, fewest
from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.signed_graph import Part, Seam, beyond
from trackplan.record import NamedTuple

from .section import Section, is_plain, part_length
from .section_supplies import fed_parts, reverser_for, spare_reversers
from .wide_sections import wide_sections


class Turn(NamedTuple):
    """An odd cycle, in the order in which one walks round it, and the sections that would cure it, the best first."""

    cycle: list[Seam]
    sections: list[Section]


MOST_NAMED = 6
"""Sections named for one turn."""

MOST_PARTS = 40
"""Parts that a section with a turnout in it may have."""


@once
def turns(facts: Facts) -> list[Turn]:
    """One turn for each reverser that the track needs."""
    return [turn for block in _blocks(facts) for turn in block.turns()]


def sections_for(facts: Facts, names: Set[str]) -> Iterator[Section]:
    """The first section of every turn that may be meant for one of some reversers: one that they feed a part of, or
    any, where one feeds nothing. What hangs on a block by one turnout is as near to that as a section may go."""
    fed = {part for name in names for part in fed_parts(facts).get(name, ())}
    near = {there for part in fed for there in reached(facts, part, ())}
    is_spare = not names.isdisjoint(spare_reversers(facts))
    found, odd = _chains(facts)
    for block in odd:
        chains_ = [found[index] for index in block]
        if is_spare or any(not (fed.isdisjoint(one.parts) and near.isdisjoint(one.ends)) for one in chains_):
            made = _Block(facts, found, block)
            yield from map(made.best, made.chosen)


@once
def _blocks(facts: Facts) -> list[_Block]:
    found, odd = _chains(facts)
    return [_Block(facts, found, block) for block in odd]


@once
def _chains(facts: Facts) -> tuple[list[Chain], list[list[int]]]:
    """All chains, and those of each block that holds an odd cycle, by their places."""
    if not facts.turning.forest.odd:
        return [], []
    found = chains(facts.turning.forest, lambda part: is_plain(facts, part))
    return found, blocks(found)


class _Block:
    """The sections of one block of chains, by the set of chains that they take out, each with its cost."""

    def __init__(self, facts: Facts, found: list[Chain], block: list[int]) -> None:
        self.facts, self.found, self.block, self.ties = facts, found, block, Ties(found, block)
        self.sections: dict[frozenset[int], list[tuple[tuple[float, ...], Section]]] = {}
        for index in block:
            for section in self._stretches(found[index]):
                self._add(frozenset({index}), section)
        self.at: dict[Part, list[int]] = {}
        """The chains of the block that end at each part."""
        for index in block:
            for part in dict.fromkeys(found[index].ends):
                self.at.setdefault(part, []).append(index)
        for part, own in self.at.items():
            if behind := self._behind(part, own):
                self._add(frozenset(own), behind)
        self.choices, self.chosen = self._least()

    def _add(self, own: frozenset[int], section: Section) -> None:
        """Takes a section into account, unless it holds no track on which a train could stand."""
        if section.length > 0:
            self.sections.setdefault(own, []).append((cost(self.facts, section), section))

    def best(self, choice: Choice) -> Section:
        """The best of the sections that take out the same chains."""
        return self.sections[choice.chains][0][1]

    def turns(self) -> Iterator[Turn]:
        for choice in self.chosen:
            others = frozenset[int]().union(*(one.chains for one in self.chosen if one is not choice))
            cycle = self.ties.odd_cycle(others)
            named = (
                section for one in self._instead(choice, others, cycle) for _, section in self.sections[one.chains]
            )
            yield Turn(self._walk(cycle), list(islice(named, MOST_NAMED)))
        if not self.chosen:
            yield Turn(self._walk(self.ties.odd_cycle()), [])

    def _instead(self, choice: Choice, others: frozenset[int], cycle: Sequence[int]) -> Iterator[Choice]:
        """A choice, and what else cures the same beside the other chains that are taken out, the best first."""
        yield choice
        free = [one for one in self.choices if one != choice and not one.chains & others]
        touching = [one for one in free if not one.chains.isdisjoint(cycle)] if cycle else free
        touching.sort(key=lambda one: one.cost)
        yield from (one for one in touching if not self.ties.odd_cycle(others | one.chains))

    def _least(self) -> tuple[list[Choice], list[Choice]]:
        """The same as `_fewest`; with sections over several chains where single ones are too many or too short."""
        choices, chosen = self._fewest()
        if len(chosen) > 1 or any(choice.cost[0] for choice in chosen):
            for own, section in wide_sections(self.facts, self.found, self.at, longest_train(self.facts)):
                self._add(own, section)
            choices, chosen = self._fewest()
            long_enough = fewest(self.found, self.block, [one for one in choices if not one.cost[0]])
            chosen = long_enough if self._is_cured(long_enough) else chosen
        return choices, chosen

    def _is_cured(self, chosen: list[Choice]) -> bool:
        """Whether nothing turns any more with these sections set apart."""
        taken = frozenset[int]().union(*(one.chains for one in chosen))
        return bool(chosen) and not self.ties.odd_cycle(taken)

    def _fewest(self) -> tuple[list[Choice], list[Choice]]:
        """What may be set apart, by its best section; and the fewest of it that leave nothing that turns back."""
        for same in self.sections.values():
            same.sort(key=lambda one: one[0])
        choices = [Choice(own, same[0][0]) for own, same in self.sections.items()]
        return choices, fewest(self.found, self.block, choices)

    def _stretches(self, chain: Chain) -> Iterator[Section]:
        """A chain's track from any seam to any other that gaps mark; and the whole."""
        last = len(chain.seams) - 1
        marks = [at for at, seam in enumerate(chain.seams) if at in (0, last) or is_marked(self.facts, seam)]
        for start in marks:
            for stop in marks:
                if start < stop:
                    parts = chain.parts[start:stop]
                    length = sum(part_length(self.facts, part) for part in parts)
                    yield Section(parts, (chain.seams[start], chain.seams[stop]), length)

    def _behind(self, part: Part, own: Sequence[int]) -> Section | None:
        """A turnout with all the track that hangs on the block by it alone: the tail of a wye."""
        ends = tuple(
            seam
            for index in sorted(own)
            for seam in {id(one): one for one in (self.found[index].seams[0], self.found[index].seams[-1])}.values()
            if part in (seam.one, seam.other)
        )
        parts = reached(self.facts, part, ends)
        if len(parts) > MOST_PARTS or not _at_edges(self.facts).isdisjoint(name for name, _ in parts):
            return None
        if any(seam.one in parts and seam.other in parts for seam in self.facts.turning.forest.odd):
            return None
        return Section(tuple(parts), ends, tail_length(self.facts, part, parts, ends))

    def _walk(self, cycle: list[int]) -> list[Seam]:
        """The seams of a cycle of chains, one after the other."""
        if not cycle:
            return []
        first, second = self.found[cycle[0]], self.found[cycle[1 % len(cycle)]]
        here = first.ends[0] if first.ends[1] in second.ends else first.ends[1]
        seams: list[Seam] = []
        for index in cycle:
            chain = self.found[index]
            ahead = chain.ends[0] == here
            seams += chain.seams if ahead else chain.seams[::-1]
            here = chain.ends[1] if ahead else chain.ends[0]
        return seams


def reached(facts: Facts, start: Part, barred: tuple[Seam, ...]) -> dict[Part, None]:
    """The parts that hang together with one without the barred seams, as far as a section may go."""
    parts, stop = {start: None}, set(map(id, barred))
    queue = [start]
    for here in queue:
        for seam in facts.turning.forest.ties.get(here, ()):
            there = beyond(seam, here)
            if id(seam) not in stop and there not in parts and len(queue) <= MOST_PARTS:
                parts[there] = None
                queue.append(there)
    return parts


def tail_length(facts: Facts, turnout: Part, parts: dict[Part, None], ends: tuple[Seam, ...]) -> float:
    """The plain track that follows a turnout directly, in meters, where its section holds more than that."""
    seen, length, here = {turnout}, 0.0, turnout
    while True:
        ahead = [beyond(seam, here) for seam in facts.turning.forest.ties.get(here, ()) if seam not in ends]
        here = next((one for one in ahead if one in parts and one not in seen and is_plain(facts, one)), turnout)
        if here == turnout:
            return length
        seen.add(here)
        length += part_length(facts, here)


def longest_train(facts: Facts) -> float:
    """Meters; nothing where the plan names no train."""
    return max((float(train.length) for train in facts.layout.trains), default=0.0)


def cost(facts: Facts, section: Section) -> tuple[float, ...]:
    """How good a section is: the less the better, place by place."""
    longest = longest_train(facts)
    unmarked = sum(not is_marked(facts, seam) for seam in section.ends)
    uncut = sum(not cut for seam in section.ends for cut in seam.gapped)
    waiting = reverser_for(facts, section) is not None
    held = sum(not is_plain(facts, part) for part in section.parts)
    return section.length < longest, unmarked > 0, not waiting, held, -section.length, uncut


def is_marked(facts: Facts, seam: Seam) -> bool:
    """Whether a seam is gapped, or half gapped where a live frog does not ask for it."""
    if not any(seam.gapped):
        return False
    gapped = {rail for rails, cut in zip(seam.rails, seam.gapped, strict=True) if cut for rail in rails}
    return all(seam.gapped) or not any(facts.proof.component[rail] in _frogs(facts) for rail in gapped)


@once
def _at_edges(facts: Facts) -> set[str]:
    """The pieces that reach the endplates of a module."""
    return {edge.end.piece for edge in facts.layout.edges.values() if edge.end}


@once
def _frogs(facts: Facts) -> set[int]:
    """The components of frogs."""
    return {facts.proof.component[frog] for frog in facts.graph.frogs}
