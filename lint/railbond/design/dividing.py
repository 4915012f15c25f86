"""Track shared out among several supplies: where to part it, with few cuts and in shares of like length."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.balance import beyond
from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part, Seam
from railbond.circuit.wiring import common_groups
from railbond.fixes.section import part_length
from railbond.layout.model import Wire

from .cutting import between, cuts
from .draft import Draft, WrittenLine
from .orientation import Orientation
from .territory import Parts, idle, length_of, named_after, one_frog, regions, wired

KERNEL = 0.25
"""The share of a region's length around each of two far places that stays in one piece."""


def divided(draft: Draft, sections: dict[Part, str]) -> dict[Part, str]:
    """Parts the track among the supplies that feed none yet; each part of a share with its supply."""
    found: dict[Part, str] = {}
    for supply in _waiting(draft.facts):
        facts = draft.facts
        free = [own for own in regions(facts, sections) if not own & sections.keys() and not own & found.keys()]
        bare = [own for own in free if not wired(facts, own)]
        whole = next((own for own in free if named_after(facts, supply, own)), next(iter(bare or free), None))
        if whole is None:
            continue
        share, seams = _share(facts, whole, supply)
        if len(bare) > 1 and not seams:
            share, seams = bare[-1], []
        lines = [line for seam in seams for line in _cuts(facts, seam, supply, share)]
        if not share or (seams and not lines):
            continue
        draft.write(*lines)
        found |= dict.fromkeys(share, supply)
    return found


def _waiting(facts: Facts) -> list[str]:
    """The supplies that want track, without the one that feeds the rest: their district where blocks are called after
    track, or there is one block only."""
    spare = idle(facts)
    every = frozenset(part for own in regions(facts) for part in own)
    if [name for name in spare if facts.layout.supplies[name].kind != "block"] == [] and (
        len(spare) == 1 or any(named_after(facts, name, every) for name in spare)
    ):
        return sorted(spare, key=lambda name: not named_after(facts, name, every))
    feeding = {name for drop in facts.layout.drops for name in facts.supply_of_wire.get(drop.wire.name, ())}
    fixed = [name for name in feeding if facts.layout.supplies[name].kind != "reverser"]
    return spare if fixed else spare[1:]


def _share(facts: Facts, whole: Parts, supply: str) -> tuple[Parts, list[Seam]]:
    """A share of a region for a supply, and the seams at which it is parted: a piece of its name, a single plain piece
    for a block, or about half."""
    named = named_after(facts, supply, whole)
    if not named and facts.layout.supplies[supply].kind == "block" and not facts.layout.supplies[supply].choices:
        named = frozenset({max(sorted(whole), key=lambda part: part_length(facts, part))})
    if named:
        return named, [seam for seam in facts.turning.seams if (seam.one in named) != (seam.other in named)]
    return _half(facts, whole)


def _half(facts: Facts, whole: Parts) -> tuple[Parts, list[Seam]]:
    """The cheapest cut between what lies around two far places."""
    import networkx as nx

    first, second = _ends(facts, whole)
    graph = nx.DiGraph()
    own = [seam for seam in facts.turning.seams if seam.one in whole and seam.other in whole]
    for seam in own:
        for edge in ((seam.one, seam.other), (seam.other, seam.one)):
            before = graph.get_edge_data(*edge, {"capacity": 0.0})["capacity"]
            graph.add_edge(*edge, capacity=before + 1.0)
    graph.add_edges_from((part, mate) for part in whole for mate in one_frog(facts, part[0]))  # never parted
    for end, names in ((first, ("one", None)), (second, (None, "other"))):
        for part in _kernel(facts, whole, end, own):
            graph.add_edge(*((names[0], part) if names[0] else (part, names[1])))
    try:
        share = frozenset(nx.minimum_cut(graph, "one", "other")[1][1]) & whole
    except (nx.NetworkXUnbounded, nx.NetworkXError):
        return frozenset(), []
    return share, [seam for seam in own if (seam.one in share) != (seam.other in share)]


def _ends(facts: Facts, whole: Parts) -> tuple[Part, Part]:
    """Two parts that lie far apart."""
    start = min(sorted(whole))
    first = _order(facts, whole, start)[-1]
    return first, _order(facts, whole, first)[-1]


def _order(facts: Facts, whole: Parts, start: Part) -> list[Part]:
    """The parts of a region outwards from one, by the pieces in between."""
    order = {start: None}
    queue = [start]
    for here in queue:
        ahead = [beyond(seam, here) for seam in facts.turning.seams_at.get(here, ())]
        for there in (*ahead, *one_frog(facts, here[0])):
            if there in whole and there not in order:
                order[there] = None
                queue.append(there)
    return queue


def _kernel(facts: Facts, whole: Parts, end: Part, own: list[Seam]) -> Iterator[Part]:
    most, sum_ = KERNEL * length_of(facts, whole), 0.0
    for part in _order(facts, whole, end):
        yield part
        sum_ += part_length(facts, part)
        if sum_ >= most:
            return


def _cuts(facts: Facts, seam: Seam, supply: str, share: Parts) -> Iterator[WrittenLine]:
    """Both rails at a boundary, or the one that is not common."""
    rails = _apart(facts, seam, supply)
    one = ", in the rail that is not common" if len(rails) == 1 else ""
    for text in cuts(facts, seam, rails):
        yield WrittenLine(text, f"the track of {supply} begins here, {between(seam)}{one}", supply)


def _apart(facts: Facts, seam: Seam, supply: str) -> tuple[int, ...]:
    groups = common_groups(facts.layout)
    shared = [leg for leg in (0, 1) if groups.get(Wire(supply, leg)) or _cab_common(facts, supply, leg)]
    if len(shared) != 1:
        return (0, 1)
    orientation = Orientation(facts, {})
    rails = [facts.piece_of(rail[0]) for rail in seam.rails]
    legs = [
        orientation.leg(supply, name, rail[0] - facts.wiring.first[name])
        for name, rail in zip(rails, seam.rails, strict=True)
    ]
    return tuple(index for index in (0, 1) if legs[index] != shared[0]) or (0, 1)


def _cab_common(facts: Facts, supply: str, leg: int) -> bool:
    """Whether all cabs that a block may be connected to share that leg."""
    choices = facts.layout.supplies[supply].choices
    groups = common_groups(facts.layout)
    return len(choices) > 1 and len({groups.get(Wire(choice, leg), choice) for choice in choices}) == 1
