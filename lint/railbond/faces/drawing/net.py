"""Track as a net of nodes and darts.

Every stretch between two nodes is a pair of darts, one leaving each node: darts `2n` and `2n + 1`. A node lies
across the picture: some of its darts leave to the west, the others to the east, each side from bottom to top.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from railbond.layout.model import EndAt

Kind = Literal["piece", "stop", "edge", "loose", "ring", "cap", "bridge", "fold", "room"]


@dataclass
class Node:
    """Where darts leave. `name` is the piece, end or endplate it stands for; a `ring` begins a closed circle,
    a `cap` is where track doubles back, a `bridge` where two tracks cross that do not meet, a `fold` where
    track goes on in another row, at the fold of the same name, and a `room` the end of a lane that is kept free.

    `straight` pairs a western dart with the eastern one that goes straight on from it; in an `even` node another
    pair might do so as well. On each side at most one dart lies above its straight one, and at most one below.
    """

    kind: Kind
    name: str
    west: list[int] = field(default_factory=list)
    east: list[int] = field(default_factory=list)
    straight: list[tuple[int, int]] = field(default_factory=list)
    even: bool = False

    @property
    def around(self) -> list[int]:
        """All darts, counterclockwise from the lowest eastern one."""
        return self.east + self.west[::-1]

    def turn(self) -> None:
        """Turns the node end for end."""
        self.west, self.east = self.east[::-1], self.west[::-1]
        self.straight = [(east, west) for west, east in self.straight]


@dataclass
class Strand:
    """Track from one node to another: the plain pieces on the way, each with the end by which it is entered.

    `darts` lead from node to node. `start` and `last` are the ends at which it begins and stops: those of the
    pieces that are its nodes, or its own where it begins or stops with no piece. Of a strand that was cut, `half` is
    1 for the part that ends at the fold, in the middle of its last piece, and -1 for that which begins there.
    """

    darts: list[int]
    chain: tuple[EndAt, ...]
    start: EndAt
    last: EndAt
    half: int = 0

    @property
    def halved(self) -> str:
        """The piece that lies in two rows; empty where none does."""
        return self.chain[-1 if self.half > 0 else 0].piece if self.half else ""


class Fold(NamedTuple):
    """Where a strand was cut: its letter, and the numbers of its two parts."""

    name: str
    first: int
    second: int


@dataclass
class Net:
    """All nodes and strands. `at` is the node that each dart leaves, and `piece` the piece, if it leaves one.

    `crossovers` are eastward darts between two pieces of one node: 1 where the eastern one lies above, else -1.
    `tall` are the pieces that reach over the lanes of all their ends, and how far to either side, and `apexes`
    those of which both legs lie level and the points leave upwards or downwards. `level` tells of a piece on a
    slope which dart it lies in one lane with, and `leads` of the dart that leads to a ladder its first piece and
    whether that lies above (1) or below (-1). `scissors` are the stems of the names of five pieces that share one
    node, and `aside` how far, in runs, each of their turnouts lies east of it while the node is not turned. `rows`
    tells of the nodes of a part that was folded which part, by its first node, and which row they belong to.
    """

    nodes: list[Node] = field(default_factory=list)
    at: list[int] = field(default_factory=list)
    piece: dict[int, str] = field(default_factory=dict)
    strands: list[Strand] = field(default_factory=list)
    crossovers: dict[int, int] = field(default_factory=dict)
    tall: dict[str, int] = field(default_factory=dict)
    apexes: set[str] = field(default_factory=set)
    leads: dict[int, tuple[str, int]] = field(default_factory=dict)
    level: dict[str, int] = field(default_factory=dict)
    scissors: dict[str, int] = field(default_factory=dict)
    aside: dict[str, int] = field(default_factory=dict)
    folds: list[Fold] = field(default_factory=list)
    rows: dict[int, tuple[int, int]] = field(default_factory=dict)

    def add(self, node: Node) -> int:
        self.nodes.append(node)
        return len(self.nodes) - 1

    def pair(self, one: int, other: int) -> int:
        """A new pair of darts between two nodes, whose sides the caller still has to fill; gives the first."""
        self.at += (one, other)
        return len(self.at) - 2

    def goes_east(self, dart: int) -> bool:
        """Whether a dart leaves its node to the east."""
        return dart in self.nodes[self.at[dart]].east

    def components(self) -> Iterator[tuple[list[int], list[int]]]:
        """The nodes and the strands of each part that hangs together, in the plan's order."""
        beside: list[list[int]] = [[] for _ in self.nodes]
        for dart in (dart for strand in self.strands for dart in strand.darts):
            beside[self.at[dart]].append(self.at[dart ^ 1])
            beside[self.at[dart ^ 1]].append(self.at[dart])
        part = [-1] * len(self.nodes)
        count = 0
        for root in range(len(self.nodes)):
            if part[root] < 0:
                _spread(root, count, beside, part)
                count += 1
        nodes: list[list[int]] = [[] for _ in range(count)]
        strands: list[list[int]] = [[] for _ in range(count)]
        for node, number in enumerate(part):
            nodes[number].append(node)
        for index, strand in enumerate(self.strands):
            strands[part[self.at[strand.darts[0]]]].append(index)
        yield from (both for both in zip(nodes, strands, strict=True) if both[1])


def _spread(root: int, count: int, beside: list[list[int]], part: list[int]) -> None:
    part[root] = count
    queue = [root]
    for here in queue:
        for there in beside[here]:
            if part[there] < 0:
                part[there] = count
                queue.append(there)
