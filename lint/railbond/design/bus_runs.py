"""Bus runs along the benchwork: a terminal near every drop, each fed from the one before it by the shortest way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from railbond.circuit.facts import Facts

from .covering import DropSite
from .drops import NewDrop
from .side_by_side import ties
from .track_map import Node, TrackMap, node_at

NEAR = 0.6
"""Meters along the track from which a drop is still led to a terminal."""
FIRST = 1.0
"""Meters of the first run, from the booster to the track: the plan does not tell where it stands."""


class BusTerminal(NamedTuple):
    """A bus terminal: its name, the run that feeds it (empty: it is there already), and the drops that it serves, each
    with the meters from it to there."""

    name: str
    source: str
    length: float
    drops: list[tuple[NewDrop, float]]


def terminals(facts: Facts, drops: list[NewDrop], taken: set[str]) -> list[BusTerminal]:
    """Terminals for new drops, supply by supply, those that the plan has first."""
    found: list[BusTerminal] = []
    marks: dict[str, list[float]] = {}
    for drop in drops:
        marks.setdefault(drop.site.piece, []).append(drop.site.place)
    for own in facts.layout.drops:
        if own.place is not None:
            marks.setdefault(own.piece, []).append(own.place)
    track = TrackMap(facts, "ways", marks)
    track.tie(ties(facts, track, (node_at(facts, name, place) for name, places in marks.items() for place in places)))
    for supply in dict.fromkeys(drop.supply for drop in drops):
        of_it = [drop for drop in drops if drop.supply == supply]
        found += _Bus(facts, track, supply, of_it, taken).terminals()
    return in_order(facts, found)


def in_order(facts: Facts, found: list[BusTerminal]) -> list[BusTerminal]:
    """The new terminals numbered along the track, as the plan tells it, and each run told behind the one that feeds it,
    arm by arm."""
    order = {name: number for number, name in enumerate(facts.layout.pieces)}
    new = sorted(
        (one for one in found if one.source),
        key=lambda one: min((order[drop.site.piece], drop.site.place) for drop, _ in one.drops),
    )
    numbers = sorted((one.name for one in new), key=lambda name: int(name[1:]))
    called = {one.name: name for one, name in zip(new, numbers, strict=True)}
    new = [one._replace(name=called[one.name], source=called.get(one.source, one.source)) for one in new]
    behind: dict[str, list[BusTerminal]] = {}
    for one in new:
        behind.setdefault(one.source, []).append(one)
    told = [one for one in found if not one.source]
    queue = [one for one in reversed(new) if one.source not in {own.name for own in new}]
    while queue:
        told.append(queue.pop())
        queue += reversed(behind.get(told[-1].name, ()))
    return told


class _IdleRun(NamedTuple):
    """A terminal to which a run leads and from which nothing goes, and how many meters short of a place it ends."""

    name: str
    missing: float


class _Bus:
    """The terminals of one supply."""

    def __init__(self, facts: Facts, track: TrackMap, supply: str, drops: list[NewDrop], taken: set[str]) -> None:
        self.facts, self.track, self.supply, self.drops, self.taken = facts, track, supply, drops, taken

    def terminals(self) -> list[BusTerminal]:
        groups = self._groups()
        places = {_node(self.facts, key): name for key, name in self._known().items()}
        starts: dict[Node, str] = dict(places)
        names: dict[Node, str] = {}
        for key in groups:
            names[_node(self.facts, key)] = ""
        order = self._tree({**dict.fromkeys(names, ""), **starts})
        found = []
        by_node = {_node(self.facts, key): own for key, own in groups.items()}
        called: dict[Node, str] = dict(starts)
        spare = [] if starts else self._idle()
        waiting = {node: run for run, node in self._meant(starts, by_node).items()}
        for node, above, meters in order:
            if node in by_node:
                run = waiting.get(node)
                own = called.get(node) or (spare.pop(0) if above is None and spare else "")
                if run and run.missing <= NEAR:
                    own, by_node[node] = run.name, [(drop, far + run.missing) for drop, far in by_node[node]]
                called[node] = own or self._name()
                source = "" if own else run.name if run else called[above] if above else self.supply
                length = run.missing if run else meters if above else FIRST
                found.append(BusTerminal(called[node], source, length, by_node[node]))
        return found

    def _meant(self, starts: dict[Node, str], wanted: Iterable[Node]) -> dict[_IdleRun, Node]:
        """For each run that ends at an idle terminal the place without one that it comes nearest to."""
        found: dict[_IdleRun, Node] = {}
        idle = set(self._idle())
        for run in self.facts.layout.runs:
            meters = float(run.statement.length or 0.0)
            if run.terminal in idle and meters:
                begin = {node: 0.0 for node, name in starts.items() if name == run.source}
                far = self.track.distances(begin)
                free = [node for node in wanted if node not in starts and node not in found.values() and node in far]
                near = min(free, key=lambda node: abs(far[node] - meters), default=None)
                if near is not None and far[near] + NEAR >= meters:
                    found[_IdleRun(run.terminal, max(far[near] - meters, 0.0))] = near
        return found

    def _idle(self) -> list[str]:
        """Terminals of this supply from which no wire goes."""
        used = {drop.wire.name for drop in self.facts.layout.drops} | {run.source for run in self.facts.layout.runs}
        return [name for name in self.facts.layout.terminals if name not in used and self._is_own(name)]

    def _is_own(self, wire: str) -> bool:
        """Whether a wire comes from this supply alone."""
        return self.facts.supply_of_wire.get(wire, frozenset()) == frozenset({self.supply})

    def _known(self) -> dict[DropSite, str]:
        """Places at which terminals of this supply, or it itself, have a drop already."""
        found = {}
        for drop in self.facts.layout.drops:
            if drop.place is not None and self._is_own(drop.wire.name):
                found[DropSite(drop.piece, drop.place)] = drop.wire.name
        return found

    def _name(self) -> str:
        name = next(f"P{number}" for number in range(1, len(self.taken) + 2) if f"P{number}" not in self.taken)
        self.taken.add(name)
        return name

    def _groups(self) -> dict[DropSite, list[tuple[NewDrop, float]]]:
        """Drops by the place of their terminal: the first of those that lie near one another."""
        groups: dict[DropSite, list[tuple[NewDrop, float]]] = {}
        near = self.track.nearest({_node(self.facts, site): 0.0 for site in self._known()}, NEAR)
        sites = {_node(self.facts, site): site for site in self._known()}
        homes: dict[Node, DropSite] = {}
        for drop in self.drops:
            here = _node(self.facts, drop.site)
            if here in near and near[here][1] in sites:
                key = sites[near[here][1]]
                groups.setdefault(key, []).append((drop, near[here][0]))
                homes.setdefault(_node(self.facts, key), key)
                continue
            reach = self.track.distances({here: 0.0}, NEAR)
            home = next((homes[node] for node in reach if node in homes), None)
            if home is None:
                groups[drop.site], homes[here] = [(drop, 0.0)], drop.site
            else:
                groups[home].append((drop, reach[_node(self.facts, home)]))
        return groups

    def _tree(self, places: dict[Node, str]) -> list[tuple[Node, Node | None, float]]:
        """The shortest runs that tie all places together, from the middle outwards; those there are, are tied."""
        edges = sorted(self._neighbors(places))
        tied: dict[Node | None, Node | None] = {node: None if name else node for node, name in places.items()}
        ties: dict[Node, list[tuple[Node, float]]] = {}
        for meters, one, other in edges:
            first, second = _first(tied, one), _first(tied, other)
            if first != second:
                tied[second if first is None else first] = first if first is None else second
                ties.setdefault(one, []).append((other, meters))
                ties.setdefault(other, []).append((one, meters))
        return self._outwards(places, ties)

    def _neighbors(self, places: dict[Node, str]) -> Iterator[tuple[float, Node, Node]]:
        """Places next to one another along the track, and how far apart: the edges of a least tree are among them."""
        near = self.track.nearest(dict.fromkeys(places, 0.0))
        for stretch in self.track.stretches:
            if stretch.one in near and stretch.other in near:
                (here, one), (there, other) = near[stretch.one], near[stretch.other]
                if one != other:
                    yield here + stretch.length + there, min(one, other), max(one, other)

    def _outwards(
        self, places: dict[Node, str], ties: dict[Node, list[tuple[Node, float]]]
    ) -> list[tuple[Node, Node | None, float]]:
        known = [node for node, name in places.items() if name]
        order: list[tuple[Node, Node | None, float]] = [(node, None, 0.0) for node in known]
        seen = set(known)
        for root in [*known, *places]:
            if root not in seen:
                start = _middle(root, ties)
                order.append((start, None, FIRST))
                seen.add(start)
            queue = [node for node, _, _ in order]
            for here in queue:
                for there, meters in ties.get(here, ()):
                    if there not in seen:
                        seen.add(there)
                        order.append((there, here, meters))
                        queue.append(there)
        return order


def _middle(root: Node, ties: dict[Node, list[tuple[Node, float]]]) -> Node:
    """The place of a tree from which the furthest other one is nearest."""
    one = _far(root, ties)[-1]
    way = _far(one[0], ties)
    best = {node: meters for node, meters in way}
    end = way[-1][0]
    back = dict(_far(end, ties))
    return min(best, key=lambda node: max(best[node], back[node]))


def _first(tied: dict[Node | None, Node | None], node: Node | None) -> Node | None:
    """What stands for all that is tied to a place; None for what is there already."""
    way = []
    while node is not None and tied[node] != node:
        way.append(node)
        node = tied[node]
    tied.update(dict.fromkeys(way, node))
    return node


def _far(root: Node, ties: dict[Node, list[tuple[Node, float]]]) -> list[tuple[Node, float]]:
    """All places of a tree by their distance from one."""
    found = {root: 0.0}
    queue = [root]
    for here in queue:
        for there, meters in ties.get(here, ()):
            if there not in found:
                found[there] = found[here] + meters
                queue.append(there)
    return sorted(found.items(), key=lambda one: one[1])


def _node(facts: Facts, site: DropSite) -> Node:
    return node_at(facts, site.piece, site.place)
