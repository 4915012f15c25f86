"""Which of the sections that would cure a turn is the one that a person would choose.

A train over a section makes its reverser act, so the section is not the line that all trains take: of a wye it is the
tail, the shortest stub that holds the train, and of loops within loops it is all that lies behind the way in (common
practice). Gaps, wires and reversers that are there go first.
"""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part, Seam, SpanningForest, beyond
from railbond.fixes.section import Section, is_plain, part_length
from railbond.fixes.sections import MOST_PARTS, Turn, cost, longest_train, reached, turns

from .territory import wired

WAITING = 3
"""Places of a section's cost that hang on what the plan has already."""
LEAST_STUBS = 3
"""Dead ends of a wye: its tail, and two for the line."""


def best_section(facts: Facts, turn: Turn) -> Section | None:
    """The section for a turn, if there is any."""
    free = [one for one in turn.sections if not _fixed_wires(facts, one)] or turn.sections
    if not free:
        return None
    first = free[0]
    alike = [one for one in free if cost(facts, one)[:WAITING] == cost(facts, first)[:WAITING]]
    tails = [one for one in alike if _is_tail(facts, one)]
    if tails:
        return min(tails, key=lambda one: one.length)
    inner = [one for one in alike if not _is_way_in(facts, one)]
    behind = _behind(facts, first) if not inner and len(turns(facts)) == 1 else None
    return next(iter(inner), behind or first)


def _fixed_wires(facts: Facts, section: Section) -> bool:
    """Whether a supply that is no reverser has wires to a section."""
    own = wired(facts, frozenset(section.parts))
    return any(facts.layout.supplies[name].kind != "reverser" for name in own)


def _stubs(facts: Facts, parts: set[Part]) -> int:
    """How many tracks end among some parts: at a bumper or a module's edge."""
    edges = [edge.end.piece for edge in facts.layout.edges.values() if edge.end]
    ends = [part for part in parts if is_plain(facts, part) and len(facts.turning.seams_at.get(part, ())) < 2]
    return len(set(ends) | {part for part in parts if part[0] in edges})


def _around(facts: Facts, section: Section) -> set[Part]:
    """The track that a section is part of, without it."""
    seen, queue = set(section.parts), list(section.parts)
    for here in queue:
        new = [beyond(seam, here) for seam in facts.turning.seams_at.get(here, ())]
        new = [one for one in dict.fromkeys(new) if one not in seen]
        seen.update(new)
        queue += new
    return seen - set(section.parts)


def _is_tail(facts: Facts, section: Section) -> bool:
    """Whether a section is a stub of track that has more of them."""
    own = _stubs(facts, set(section.parts))
    return own == 1 and own + _stubs(facts, _around(facts, section)) >= LEAST_STUBS


def _is_way_in(facts: Facts, section: Section) -> bool:
    """Whether all other track is reached through a section only."""
    return _stubs(facts, set(section.parts)) > 0 and not _stubs(facts, _around(facts, section))


def _behind(facts: Facts, section: Section) -> Section | None:
    """All that lies behind a way in, with the same cuts, if it can be one section that a train fits in."""
    first = next(part for seam in section.ends for part in (seam.one, seam.other) if part not in section.parts)
    parts = reached(facts, first, section.ends)
    seams = [seam for part in parts for seam in facts.turning.seams_at.get(part, ()) if seam not in section.ends]
    inside = [seam for seam in {id(one): one for one in seams}.values() if {seam.one, seam.other} <= parts.keys()]
    if len(parts) > MOST_PARTS or SpanningForest(list(parts), inside).odd or not parts.keys().isdisjoint(section.parts):
        return None
    length = _shortest(facts, parts, section.ends)
    return Section(tuple(parts), section.ends, length) if length >= longest_train(facts) else None


def _shortest(facts: Facts, parts: dict[Part, None], ends: tuple[Seam, ...]) -> float:
    """Meters of plain track on the shortest way from one end to another."""
    import networkx as nx

    graph = nx.DiGraph()
    for part in parts:
        for seam in facts.turning.seams_at.get(part, ()):
            if (there := beyond(seam, part)) in parts:
                graph.add_edge(part, there, weight=part_length(facts, there))
    doors = [next(part for part in (seam.one, seam.other) if part in parts) for seam in ends]
    if len(doors) < 2 or doors[0] not in graph or doors[-1] not in graph:
        return 0.0
    return part_length(facts, doors[0]) + float(nx.shortest_path_length(graph, doors[0], doors[-1], "weight"))
