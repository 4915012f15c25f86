"""Track without a wire on it: pieces, the ends that meet, and where segments are cut.

Everything random comes from one `random.Random`, so that a plain seed and hypothesis can both be the dice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from random import Random
from typing import NamedTuple

PLACES = (
    *(
        "west",
        "east",
        "north",
        "south",
        "middle",
        "siding",
        "mill",
        "quarry",
        "harbor",
        "depot",
        "creek",
        "bridge",
    ),
    *("tunnel", "curve", "lead", "spur", "dock", "ridge", "orchard", "cannery", "junction", "interchange"),
    *("station", "brewery", "sawmill", "pit", "cutting", "viaduct", "meadow", "summit"),
)

HANDS = ("left", "right", "left", "right", "wye")
BUILDS = ("dead-frog", "live-frog", "isolated-frog")

Node = tuple[str, int]


class Edge(NamedTuple):
    """Two nodes that meet, at two ends or (`at` in cm) within a segment. `turns`: the directions differ."""

    one: Node
    other: Node
    turns: bool
    ends: tuple[str, str] | None
    at: int | None = None


@dataclass
class Turnout:
    hand: str
    number: int
    build: str

    def end(self, route: str) -> str:
        """What the plan calls the end (and the contact) of a route."""
        return {"through": "left", "diverging": "right"}[route] if self.hand == "wye" else route


@dataclass
class Sketch:
    """Lengths are whole centimeters; ends are written as in a plan, `T1.points` or `west.start`."""

    rng: Random
    segments: dict[str, int] = field(default_factory=dict)
    turnouts: dict[str, Turnout] = field(default_factory=dict)
    meets: dict[str, str] = field(default_factory=dict)
    cuts: dict[str, list[int]] = field(default_factory=dict)
    used: dict[str, int] = field(default_factory=dict)

    def chance(self, percent: int) -> bool:
        return self.rng.randrange(100) < percent

    # laying

    def name(self, place: str | None = None) -> str:
        word = place or self.rng.choice(PLACES)
        nth = self.used[word] = self.used.get(word, 0) + 1
        return word if nth == 1 else f"{word}{nth}"

    def segment(self, place: str | None = None) -> tuple[str, str]:
        """A new segment; its two ends, the arrow pointing either way."""
        name = self.name(place)
        self.segments[name] = 30 + 10 * self.rng.randrange(22)
        ends = f"{name}.start", f"{name}.finish"
        return ends if self.chance(70) else ends[::-1]

    def turnout(self, hand: str | None = None) -> str:
        name = f"T{len(self.turnouts) + 1}"
        hand = hand or self.rng.choice(HANDS)
        self.turnouts[name] = Turnout(hand, self.rng.choice((4, 5, 6, 8)), self.rng.choice(BUILDS))
        return name

    def end(self, turnout: str, route: str) -> str:
        return f"{turnout}.{self.turnouts[turnout].end(route)}"

    def meet(self, one: str, other: str) -> None:
        self.meets[one] = other
        self.meets[other] = one

    def link(self, one: str, other: str, direct: int = 0) -> None:
        """Joins two ends by one segment, sometimes two, or (`direct` in a hundred) without any."""
        if self.chance(direct):
            self.meet(one, other)
            return
        for _ in range(2 if self.chance(20) else 1):
            near, far = self.segment()
            self.meet(one, near)
            one = far
        self.meet(one, other)

    def cut(self) -> None:
        """Cuts some segments once, somewhere away from their ends."""
        for name, length in self.segments.items():
            if length >= 60 and self.chance(12):
                self.cuts[name] = [length // 20 * 10]

    # asking

    def piece(self, end: str) -> str:
        return end.rpartition(".")[0]

    def node(self, end: str) -> Node:
        name, _, word = end.rpartition(".")
        return name, len(self.cuts.get(name, [])) if word == "finish" else 0

    def stretches(self, segment: str) -> list[tuple[int, int]]:
        """From where to where, in cm, each stretch between cuts goes."""
        places = [0, *self.cuts.get(segment, []), self.segments[segment]]
        return list(zip(places, places[1:], strict=False))

    def edges(self) -> Iterator[Edge]:
        for one, other in self.meets.items():
            if one <= other:
                turns = leaves(one) == leaves(other)
                yield Edge(self.node(one), self.node(other), turns, (one, other))
        for name, places in self.cuts.items():
            for nth, place in enumerate(places):
                yield Edge((name, nth), (name, nth + 1), False, None, place)

    def loose(self) -> Iterator[str]:
        """Ends that nothing meets."""
        ends = [f"{name}.{word}" for name in self.segments for word in ("start", "finish")]
        for name in self.turnouts:
            ends += f"{name}.points", self.end(name, "through"), self.end(name, "diverging")
        return (end for end in ends if end not in self.meets)


def leaves(end: str) -> bool:
    """Whether a piece's looking direction (the arrow; from the points to the frog) goes out at this end."""
    return not end.endswith((".start", ".points"))
