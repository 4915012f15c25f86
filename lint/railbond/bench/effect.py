"""How the metal of a layout hangs together differently once a mistake is made, in one setting."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations
from typing import Protocol


class Homes(Protocol):
    """The component of each atom."""

    def __getitem__(self, atom: int, /) -> int: ...


class Effect:
    """`parts` are what a mistake cuts off. All else of a component, its rest, is named by the component.

    A part is named by a negative number and a rest by its component's, which is never negative.
    """

    def __init__(self, home: Homes, parts: list[set[int]], made: Iterable[tuple[int, int]]) -> None:
        self._home = home
        self.parts = {-1 - index: part for index, part in enumerate(parts)}
        self._part = {atom: name for name, part in self.parts.items() for atom in part}
        self._group: dict[int, int] = {}
        for one, other in made:
            self._join(self.part(one), self.part(other))

    def part(self, atom: int) -> int:
        """The part, or the rest of a component, that an atom is in."""
        return self._part.get(atom, self._home[atom])

    def sees(self, one: int, other: int) -> bool:
        """Whether a probe from one atom to another reads otherwise than it should."""
        here, there = self._home[one], self._home[other]
        return (here == there) != (self.root(self._part.get(one, here)) == self.root(self._part.get(other, there)))

    def joined(self, one: int, other: int) -> bool:
        """Whether a probe beeps once the mistake is made."""
        return self.root(self.part(one)) == self.root(self.part(other))

    def home(self, part: int) -> int:
        """The component that a part or a rest belongs to without the mistake."""
        return self._home[next(iter(self.parts[part]))] if part < 0 else part

    def root(self, part: int) -> int:
        """What stands for all that a part hangs together with."""
        while part in self._group:
            part = self._group[part]
        return part

    def _join(self, one: int, other: int) -> None:
        one, other = self.root(one), self.root(other)
        if one != other:
            self._group[one] = other

    def touched(self) -> set[int]:
        """Every part and rest that the mistake concerns."""
        names = {*self.parts, *self._group, *self._group.values()}
        return names | {self.home(name) for name in names}

    def split(self) -> Iterator[tuple[int, int]]:
        """Pairs of parts that should hang together and do not."""
        if self.parts:
            yield from ((one[0], two[0]) for one, two in self._pairs() if one[1] == two[1] and one[2] != two[2])

    def merged(self) -> Iterator[tuple[int, int]]:
        """Pairs of parts that should not hang together and do."""
        if self._group:
            yield from ((one[0], two[0]) for one, two in self._pairs() if one[1] != two[1] and one[2] == two[2])

    def _pairs(self) -> Iterator[tuple[tuple[int, int, int], tuple[int, int, int]]]:
        """Every two parts, each with its home and its root."""
        return combinations([(one, self.home(one), self.root(one)) for one in sorted(self.touched())], 2)

    def __bool__(self) -> bool:
        """Whether any probe at all could see it. What is only cut off, or only joins what is apart, always shows."""
        if not self.parts or not self._group:
            return bool(self.parts or self._group)
        return next(self.split(), None) is not None or next(self.merged(), None) is not None
