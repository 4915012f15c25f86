"""Which supply feeds which piece of a sketch, and which way round: districts, blocks, reversing sections."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Callable
from typing import NamedTuple

from .growing import FROG_ENDS
from .sketch import Edge, Node, Sketch

MAIN = "main"


class Supply(NamedTuple):
    """`kind`: district, block or reverser. `legs`: the two words for its wires, the + leg first."""

    name: str
    kind: str
    district: str
    legs: tuple[str, str]


class Zones:
    """The supply of every node, and its `way`: +1 where the left rail, looking along it, is on leg 0.

    `skip` decides for each loop that turns whether its reverser is forgotten.
    """

    def __init__(self, sketch: Sketch, skip: Callable[[], bool] = lambda: False) -> None:
        self.sketch = sketch
        self.rng = sketch.rng
        self.supplies: dict[str, Supply] = {}
        self.of: dict[Node, str] = {}
        legs = ("red", "black") if sketch.chance(80) else ("brown", "yellow")
        self.add(Supply(MAIN, "district", MAIN, legs))
        for edge in self._turning():
            if not skip():
                self._reverse(edge)
        self.edges = list(sketch.edges())
        self._divide()
        self.way = self.colored([edge for edge in self.edges if not self.turns_between(edge)])[0]

    def add(self, supply: Supply) -> str:
        self.supplies[supply.name] = supply
        return supply.name

    def at(self, node: Node) -> Supply:
        return self.supplies[self.of.get(node, MAIN)]

    def differ(self, edge: Edge) -> bool:
        return self.at(edge.one) != self.at(edge.other)

    def turns_between(self, edge: Edge) -> bool:
        """Whether polarity need not be the same across an edge: a reverser on one side of it."""
        return self.differ(edge) and "reverser" in (self.at(edge.one).kind, self.at(edge.other).kind)

    def nodes(self) -> list[Node]:
        stretches = [node for name in self.sketch.segments for node in self._nodes(name)]
        return stretches + [(name, 0) for name in self.sketch.turnouts]

    def colored(self, edges: list[Edge]) -> tuple[dict[Node, int], list[Edge]]:
        """A way round for every node, spread from neighbor to neighbor, and the edges where none fits."""
        near: dict[Node, list[tuple[Node, int]]] = defaultdict(list)
        for edge in edges:
            sign = -1 if edge.turns else 1
            near[edge.one].append((edge.other, sign))
            near[edge.other].append((edge.one, sign))
        way: dict[Node, int] = {}
        for first in self.nodes():
            if first not in way:
                way[first] = self.rng.choice((1, -1))
                waiting = deque([first])
                while waiting:
                    here = waiting.popleft()
                    for there, sign in near[here]:
                        if there not in way:
                            way[there] = way[here] * sign
                            waiting.append(there)
        return way, [one for one in edges if way[one.one] * way[one.other] != (-1 if one.turns else 1)]

    # sections that reverse

    def _turning(self) -> list[Edge]:
        """Where loops that turn close, always at a segment: a joint of two turnouts there is given one first."""
        while True:
            clashes = self.colored(list(self.sketch.edges()))[1]
            joints = [one.ends for one in clashes if one.ends and not self._segments(one)]
            if not joints:
                return clashes
            for ends in joints:
                self.sketch.link(*ends)

    def _segments(self, edge: Edge) -> list[str]:
        return [name for name, _ in (edge.one, edge.other) if name in self.sketch.segments]

    def _reverse(self, edge: Edge) -> None:
        """Gives a reverser to the run of track that closes a turning loop, or to a turnout at its end."""
        first = self._segments(edge)[0]
        names, outside = self._run(first)
        beyond = [self.sketch.piece(end) for end in outside]
        if any(self.at((name, 0)).kind == "reverser" for name in beyond):
            return
        name = self._reverser()
        tail = self._tail(self.rng.choice(outside)) if outside and self.sketch.chance(30) else []
        if tail:
            self.of |= dict.fromkeys(tail, name)
        elif len(names) == 1 and first not in self.sketch.cuts and self.sketch.segments[first] >= 90:
            self._middle(first, name)
        else:
            self.of |= {node: name for one in names for node in self._nodes(one)}

    def _reverser(self) -> str:
        """A new one. So far there is only the main district beside the reversers."""
        return self.add(Supply(f"R{len(self.supplies)}", "reverser", MAIN, self.supplies[MAIN].legs))

    def _nodes(self, segment: str) -> list[Node]:
        return [(segment, nth) for nth, _ in enumerate(self.sketch.stretches(segment))]

    def _middle(self, segment: str, reverser: str) -> None:
        """Gaps within the segment, near its ends, at times; otherwise at its joints."""
        if self.sketch.chance(40):
            self.sketch.cuts[segment] = [20, self.sketch.segments[segment] - 20]
            self.of[segment, 1] = reverser
        else:
            self.of[segment, 0] = reverser

    def _run(self, segment: str) -> tuple[list[str], list[str]]:
        """The segments that follow each other without a turnout, and the turnouts' ends that bound them."""
        names, outside = [segment], list[str]()
        for end in (f"{segment}.start", f"{segment}.finish"):
            beyond = self.sketch.meets.get(end)
            while beyond and self.sketch.piece(beyond) in self.sketch.segments:
                if self.sketch.piece(beyond) in names:
                    return names, outside
                names.append(self.sketch.piece(beyond))
                beyond = self.sketch.meets.get(opposite(beyond))
            outside += [beyond] if beyond else []
        return names, outside

    def _tail(self, frog_end: str) -> list[Node]:
        """A turnout and the track ahead of its points, if that ends and both routes lead to fixed track."""
        name = self.sketch.piece(frog_end)
        ahead = self.sketch.meets.get(f"{name}.points", "")
        if self.sketch.piece(ahead) not in self.sketch.segments or frog_end.endswith(".points"):
            return []
        names, outside = self._run(self.sketch.piece(ahead))
        doors = [self.sketch.meets.get(self.sketch.end(name, route)) for route in FROG_ENDS]
        if outside != [f"{name}.points"] or not all(doors):
            return []
        if any(self.at(self.sketch.node(door)).kind == "reverser" for door in doors if door):
            return []
        return [(name, 0), *(node for one in names for node in self._nodes(one))]

    # districts and blocks

    def _divide(self) -> None:
        """At times a second district, at times a detected block or two."""
        near: dict[Node, list[Node]] = defaultdict(list)
        for edge in self.edges:
            near[edge.one].append(edge.other)
            near[edge.other].append(edge.one)
        if self.sketch.chance(30):
            legs = self.supplies[MAIN].legs if self.sketch.chance(60) else ("blue", "white")
            yard = self.add(Supply("yard", "district", "yard", legs))
            self._spread(yard, near)
            if yard not in self.of.values():
                del self.supplies[yard]
        for segment in self.rng.sample(sorted(self.sketch.segments), min(2, len(self.sketch.segments))):
            nodes = self._nodes(segment)
            if self.sketch.chance(20) and all(self.at(node).kind == "district" for node in nodes):
                district = self.at(nodes[0])
                block = Supply(f"{segment}-block", "block", district.name, district.legs)
                self.of |= dict.fromkeys(nodes, self.add(block))

    def _spread(self, name: str, near: dict[Node, list[Node]]) -> None:
        """Hands a neighborhood of fixed track over to a supply."""
        waiting, left = deque([self.rng.choice(self.nodes())]), len(near) // 3 + 1
        while waiting and left:
            node = waiting.popleft()
            if self.of.get(node, MAIN) == MAIN:
                self.of[node] = name
                left -= 1
                waiting += near[node]


def opposite(end: str) -> str:
    name, _, word = end.rpartition(".")
    return f"{name}.{'finish' if word == 'start' else 'start'}"
