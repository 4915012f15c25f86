"""Track shared out among several supplies: where to part it, with few cuts and in shares of like length."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part, Seam, beyond
from railbond.circuit.wiring import common_groups
from railbond.fixes.section import part_length
from railbond.layout.model import Wire

from .calling import akin, named_after, with_switches
from .cutting import between, cuts
from .draft import Draft, WrittenLine
from .orientation import Orientation
from .territory import Parts, idle, length_of, one_frog, regions, wired

KERNELS = (0.45, 0.35, 0.25)
"""The share of a region's length around each of two far places that stays in one piece: as much as costs no more cuts
than less would."""


def divided(draft: Draft, sections: dict[Part, str]) -> dict[Part, str]:
    """Parts the track among the supplies that feed none yet; each part of a share with its supply."""
    found: dict[Part, str] = {}
    for supply in _waiting(draft.facts):
        facts = draft.facts
        free = [
            own for own in regions(facts, sections) if not own & sections.keys() and not _is_block(facts, own, found)
        ]
        bare = [own for own in free if not wired(facts, own)]
        whole = next((own for own in free if named_after(facts, supply, own)), next(iter(bare or free), None))
        if whole is None:
            continue
        share, seams = _share(facts, whole, supply)
        untold = [own for own in bare if not own & found.keys()]
        if len(untold) > 1 and not seams:
            share, seams = untold[-1], []
        lines = [line for seam in seams for line in _cuts(facts, seam, supply, share)]
        if not share or (seams and not lines):
            continue
        draft.write(*lines)
        found |= dict.fromkeys(share, supply)
    return found


def _is_block(facts: Facts, parts: Parts, found: dict[Part, str]) -> bool:
    """Whether some track is that of a block by now."""
    return any(facts.layout.supplies[found[part]].kind == "block" for part in parts & found.keys())


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
        named = with_switches(facts, supply, named, whole)
        return named, [seam for seam in facts.turning.seams if (seam.one in named) != (seam.other in named)]
    own, others = _akin(facts, supply, whole)
    rest = [part for part in _order(facts, whole, min(sorted(own or others or whole))) if part not in own | others]
    if (own and others) or ((own or others) and rest):
        far = others if own and others else rest[-1:]
        share, seams = _parted(facts, whole, own or others, far)
        return (share if own else whole - share), seams
    halves = [_half(facts, whole, kernel) for kernel in KERNELS]
    share, seams = min(halves, key=lambda one: (not one[0], len(one[1])))
    return (whole - share if share and _is_swapped(facts, share, whole - share) else share), seams


def _akin(facts: Facts, supply: str, whole: Parts) -> tuple[Parts, Parts]:
    """The track of a region that is called after a supply, and that which is called after others."""
    kin = {name: akin(facts, name, whole) for name in facts.layout.supplies}
    others = frozenset[Part]().union(*(parts for name, parts in kin.items() if name != supply))
    return kin[supply] - others, others - kin[supply]


def _is_swapped(facts: Facts, share: Parts, rest: Parts) -> bool:
    """Whether a supply should rather have the rest: by the wires that are there, or else because the track that the
    plan tells first belongs to the supply that it tells first."""
    if wires := len(wired(facts, share)) - len(wired(facts, rest)):
        return wires > 0
    first = next(name for name in facts.layout.pieces if any(part[0] == name for part in rest | share))
    return first in {name for name, _ in share}


def _half(facts: Facts, whole: Parts, kernel: float) -> tuple[Parts, list[Seam]]:
    """About half of a region."""
    first, last = _ends(facts, whole)
    one = list(_kernel(facts, whole, first, kernel))
    other = [part for part in _kernel(facts, whole, last, kernel) if part not in one]
    return _parted(facts, whole, one, other)


def _parted(facts: Facts, whole: Parts, one: Iterable[Part], other: Iterable[Part]) -> tuple[Parts, list[Seam]]:
    """The cheapest cut between some parts and others, as near to the first as can be, and what lies on their side."""
    import networkx as nx

    graph = nx.DiGraph()
    own = [seam for seam in facts.turning.seams if seam.one in whole and seam.other in whole]
    for seam in own:
        for edge in ((seam.one, seam.other), (seam.other, seam.one)):
            before = graph.get_edge_data(*edge, {"capacity": 0.0})["capacity"]
            graph.add_edge(*edge, capacity=before + 1.0)
    graph.add_edges_from((part, mate) for part in whole for mate in one_frog(facts, part[0]))  # never parted
    graph.add_edges_from((part, "one") for part in one)  # what is told as the sink's side is the least there is
    graph.add_edges_from(("other", part) for part in other)
    try:
        share = frozenset(nx.minimum_cut(graph, "other", "one")[1][1]) & whole
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


def _kernel(facts: Facts, whole: Parts, end: Part, share: float) -> Iterator[Part]:
    most, sum_ = share * length_of(facts, whole), 0.0
    for part in _order(facts, whole, end):
        sum_ += part_length(facts, part)
        if sum_ > most and part != end:
            return
        yield part


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
