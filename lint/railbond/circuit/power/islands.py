"""Rails and frogs that are fed only while points or contacts stand so, each in the least settings that feed it.

In such a setting the ties that hold join an island, fed by nothing else, to nodes of the frame: its doors. What the
doors see of their supply is put in the frame's place as a small network that cannot be told from it, and the island
is solved with that.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from railbond.circuit.graph import Setting
from railbond.circuit.proof import Proof
from trackplan.record import NamedTuple, new

from .elimination import Elimination, Link, Told
from .field import Frame, Reach
from .network import Rail, SwitchedTie

LEAST_OHMS = 1e-6
"""What has no resistance where it must be divided by: a contact, where the plan says so, or a supply's own leg."""
BUDGET = 500_000
"""Nodes that all islands together may ask for, in all their settings; what is left is named in `left_out`."""

Beside = dict[int, list[tuple[int, float]]]
"""The neighbors of each node, with the ohms in between."""


class Feeding:
    """The part of an island that some doors feed in a setting, solved."""

    def __init__(
        self, frame: Frame, doors: list[int], beside: Beside, fed: list[int], known: dict[Told, Elimination]
    ) -> None:
        """What is the same network as one that is `known` is not solved again."""
        self.frame = frame
        self.doors = doors
        self.beside = beside
        self.number = {node: place for place, node in enumerate(fed)}
        links = [
            (self.number[node], self.number[other], 1 / ohms)
            for node in fed for other, ohms in beside.get(node, ()) if node < other
        ]  # fmt: skip
        between, leaks = self._frame_as_seen()
        told = len(fed), (*links, *between), tuple(leaks.items())
        if told not in known:
            known[told] = Elimination(told[0], told[1], leaks)
        self.solution = known[told]

    def _frame_as_seen(self) -> tuple[list[Link], dict[int, float]]:
        """Conductances between the doors and from them to ground, as the frame has them."""
        if len(self.doors) == 1:
            return [], {self.number[self.doors[0]]: 1 / self._transfer(self.doors[0], self.doors[0])}
        seen = [[self._transfer(one, other) for other in self.doors] for one in self.doors]
        inverse = inverted(seen)
        places = [self.number[door] for door in self.doors]
        pairs = combinations(range(len(places)), 2)
        links = [(places[one], places[other], max(-inverse[one][other], 0.0)) for one, other in pairs]
        return links, {place: max(sum(row), 0.0) for place, row in zip(places, inverse, strict=True)}

    def _transfer(self, one: int, other: int) -> float:
        """A door at a supply's leg itself is taken for one with next to no resistance."""
        return self.frame.transfer(one, other) or (LEAST_OHMS if one == other else 0.0)

    def resistances(self, rail: Rail) -> tuple[float, float, float]:
        """The rail's two nodes, each by itself, and the transfer resistance between them."""
        one, other = self.number[rail.one], self.number[rail.other]
        own = self.solution.own
        return own[one], own[other], self.solution.transfer(one, other)

    def voltages(self, amperes: dict[int, float]) -> dict[int, float]:
        """Volts lost at every node of the part while these currents are drawn."""
        drawn = {self.number[node]: flow for node, flow in amperes.items()}
        volts = self.solution.voltages(drawn)
        return {node: volts[place] for node, place in self.number.items()}

    def through(self, volts: dict[int, float]) -> dict[int, float]:
        """What then comes through each door from the frame."""
        inner = {door: [step for step in self.beside[door] if step[0] not in self.doors] for door in self.doors}
        return {door: sum((volts[far] - volts[door]) / ohms for far, ohms in steps) for door, steps in inner.items()}


class _Island(NamedTuple):
    """The groups without a supply that hang together in some setting or other, with the ties at them, and what feeds
    them in each setting that was asked for."""

    groups: dict[int, None]
    ties: list[SwitchedTie]
    solved: dict[Setting, list[Feeding]]


class Islands:
    """All that the frame of a network does not feed. `left_out` are conductors for which the budget was too small."""

    def __init__(self, frame: Frame, proof: Proof, budget: int = BUDGET) -> None:
        self.frame = frame
        self.proof = proof
        self.budget = budget
        self.left_out: list[int] = []
        group, rooted = frame.group, {frame.group[node] for node in frame.network.roots.values()}
        self._floats = [one not in rooted for one in group]
        self._beside: Beside = {}
        for one, other, ohms, *_ in frame.network.resistors:
            if self._floats[one]:
                self._beside.setdefault(one, []).append((other, ohms))
                self._beside.setdefault(other, []).append((one, ohms))
        self._ties: dict[int, list[SwitchedTie]] = {}
        for tie in frame.network.ties:
            for node in (tie.one, tie.other):
                if self._floats[node]:
                    self._ties.setdefault(group[node], []).append(tie)
        self._eliminations: dict[Told, Elimination] = {}
        self._known: dict[int, _Island] = {}
        """The island of each group that was asked about."""

    def floats(self, node: int) -> bool:
        """Whether nothing always feeds a node."""
        return self._floats[node]

    def reaches(self, conductor: int, rail: Rail) -> list[Reach]:
        """The rail's reach in each least setting in which its conductor is fed."""
        node, found = rail.one, list[Reach]()
        if self.frame.group[node] not in self._ties:
            return found
        if self.budget < 0:
            self.left_out.append(conductor)
            return found
        for source, setting in self.proof.reachable(conductor):
            for feeding in self._feedings(node, setting) if source.kind != "unit" else ():
                sources = self.frame.sources_at(feeding.doors[0])
                if node in feeding.number and sources and source in sources:
                    found.append(new(Reach, (sources, setting, *feeding.resistances(rail))))
        return found

    def feeding(self, node: int, setting: Setting) -> Feeding | None:
        """What feeds a node in a setting, where that is no part of the frame."""
        return next((one for one in self._feedings(node, setting) if node in one.number), None)

    def _feedings(self, node: int, setting: Setting) -> list[Feeding]:
        """The parts of a node's island that are fed in a setting."""
        group = self.frame.group[node]
        island = self._known.get(group)
        if island is None:
            island = self._island(group)
            self._known.update(dict.fromkeys(island.groups, island))
        if setting not in island.solved:
            island.solved[setting] = list(self._solve(island, setting))
        return island.solved[setting]

    def _island(self, first: int) -> _Island:
        groups, ties = {first: None}, dict[int, SwitchedTie]()
        queue = [first]
        for here in queue:
            for tie in self._ties.get(here, ()):
                ties[id(tie)] = tie
                for node in (tie.one, tie.other):
                    other = self.frame.group[node]
                    if self._floats[node] and other not in groups:
                        groups[other] = None
                        queue.append(other)
        return _Island(groups, list(ties.values()), {})

    def _solve(self, island: _Island, setting: Setting) -> Iterator[Feeding]:
        contact = max(self.frame.network.materials.contact, LEAST_OHMS)
        beside: Beside = {}
        for one, other, when, _ in island.ties:
            if when in setting:
                beside.setdefault(one, []).append((other, contact))
                beside.setdefault(other, []).append((one, contact))
        done: set[int] = set()
        for door in [node for node in beside if self.frame.sources_at(node)]:
            if door not in done:
                fed, doors = self._spread(door, beside)
                done.update(doors)
                self.budget -= len(fed)
                if len({self.frame.sources_at(one) for one in doors}) == 1:
                    yield Feeding(self.frame, doors, self._near(fed, beside), fed, self._eliminations)

    def _spread(self, door: int, ties: Beside) -> tuple[list[int], list[int]]:
        """All nodes fed together with a door, and the doors among them."""
        found = {door: None}
        queue, doors = [door], [door]
        for node in queue:
            for other, _ in self._beyond(node, ties):
                if other not in found and (self._floats[other] or self.frame.sources_at(other)):
                    found[other] = None
                    queue.append(other)
                    if not self._floats[other]:
                        doors.append(other)
        return queue, doors

    def _near(self, fed: list[int], ties: Beside) -> Beside:
        inside = set(fed)
        return {node: [step for step in self._beyond(node, ties) if step[0] in inside] for node in fed}

    def _beyond(self, node: int, ties: Beside) -> list[tuple[int, float]]:
        """What a node is joined to, by ties that hold, and within the island."""
        tied = ties.get(node, [])
        return tied + self._beside[node] if self._floats[node] and node in self._beside else tied


def inverted(matrix: list[list[float]]) -> list[list[float]]:
    """The inverse of a small symmetric matrix with a heavy diagonal (Gauss and Jordan)."""
    size = len(matrix)
    rows = [[*row, *(float(place == column) for column in range(size))] for place, row in enumerate(matrix)]
    for place in range(size):
        pivot = rows[place][place]
        rows[place] = [value / pivot for value in rows[place]]
        for other in range(size):
            if other != place and (factor := rows[other][place]):
                rows[other] = [value - factor * ours for value, ours in zip(rows[other], rows[place], strict=True)]
    return [row[size:] for row in rows]
