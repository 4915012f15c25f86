"""A workbench: lengths of metal, what joins them, and what stands in which position when.

Nothing here knows the project. Metal is named as the trade names it; a length of plain track also by its place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

Node = tuple[object, ...]
"""A length of metal: the thing that it is part of, and its name there."""
When = tuple[str, frozenset[str]] | None
"""What must stand how; None: always."""


@dataclass
class Thing:
    """What is bought or laid by hand. `ends` tells each end's left and right rail looking out, and `frogs` which
    of its metals are frogs. `joins` are one metal, or touch while it stands so. `machines` move points that can be
    thrown by themselves."""

    metals: tuple[str, ...]
    joins: list[tuple[str, str, frozenset[str] | None]] = field(default_factory=list)
    ends: dict[str, tuple[str, str]] = field(default_factory=dict)
    positions: tuple[str, ...] = ()
    frogs: tuple[str, ...] = ()
    length: float = 0.0
    machines: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = ()

    def one_metal(self, *names: str) -> None:
        self.joins += [(one, other, None) for one, other in zip(names, names[1:], strict=False)]

    def touch(self, one: str, other: str, *positions: str) -> None:
        stands = frozenset(positions) & frozenset(self.positions)
        if stands:
            self.joins.append((one, other, stands))


class Bench:
    """Everything laid and soldered so far."""

    def __init__(self) -> None:
        self.things: dict[str, Thing] = {}
        self.joins: list[tuple[Node, Node, When]] = []
        self.cuts: dict[tuple[str, str], list[float]] = {}
        self.positions: dict[str, tuple[str, ...]] = {}

    def lay(self, name: str, thing: Thing) -> None:
        assert name not in self.things, f"{name} is laid twice"
        self.things[name] = thing
        if thing.positions:
            self.positions[name] = thing.positions
        for one, other, stands in thing.joins:
            self.join((name, one), (name, other), stands and (name, stands))

    def join(self, one: Node, other: Node, when: When = None) -> None:
        self.joins.append((one, other, when))

    def part(self, one: Node, other: Node) -> bool:
        """Takes away whatever always joins two metals directly; whether there was anything."""
        kept = [join for join in self.joins if {join[0], join[1]} != {one, other} or join[2] is not None]
        parted, self.joins = len(kept) < len(self.joins), kept
        return parted

    def saw(self, segment: str, side: str, meters: float) -> None:
        assert 0 < meters < self.things[segment].length
        self.cuts.setdefault((segment, side), []).append(meters)

    def resolved(self, node: Node) -> Node:
        """A place on a length of plain track as the stretch between cuts in which it lies."""
        if len(node) < 3 or not isinstance(node[2], float):
            return node
        cuts = self.cuts.get((str(node[0]), str(node[1])), ())
        return node[0], node[1], sum(cut <= node[2] for cut in cuts)

    def labels(self, setting: Mapping[str, str]) -> dict[Node, int]:
        """What hangs together while everything stands so."""
        near: dict[Node, list[Node]] = {}
        for one, other, when in self.joins:
            one, other = self.resolved(one), self.resolved(other)
            near.setdefault(one, [])
            near.setdefault(other, [])
            if when is None or setting.get(when[0]) in when[1]:
                near[one].append(other)
                near[other].append(one)
        return spread(near)


def spread(near: Mapping[Node, Iterable[Node]]) -> dict[Node, int]:
    """Each node's number, the same for all that hang together."""
    found: dict[Node, int] = {}
    for number, start in enumerate(near):
        if start not in found:
            found[start] = number
            queue = [start]
            for here in queue:
                for there in near[here]:
                    if there not in found:
                        found[there] = number
                        queue.append(there)
    return found


def sides() -> Iterator[str]:
    yield from ("left", "right")
