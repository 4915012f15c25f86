"""Mistakes that no reading in any setting tells apart: they lose and join the same metal.

Where other bonds hold everything together that a lost bond held, whatever the setting, only what the mistake joins
counts, and of that only which metal always hangs together. A wire led to the wrong supply reads the same for every
drop of a district, so of many thousand mistakes few are different ones.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from .continuity import Continuity
from .mistake import Mistake


class Alike:
    """`firsts` is one mistake of each class, in order, `number` the class of each mistake, and `many` how many
    mistakes each class has. `metal` is a layout of which nothing is taken off."""

    def __init__(self, metal: Continuity, mistakes: Iterable[Mistake]) -> None:
        self._metal, self._always = metal, metal.components({})
        self.firsts: list[Mistake] = []
        self.number: list[int] = []
        self._lost: dict[tuple[int, ...], tuple[int, ...] | frozenset[int]] = {}
        known: dict[object, int] = {}
        for mistake in mistakes:
            number = known.setdefault(self._change(mistake), len(self.firsts))
            if number == len(self.firsts):
                self.firsts.append(mistake)
            self.number.append(number)
        self.many = Counter(self.number)

    def _change(self, mistake: Mistake) -> object:
        """What a mistake changes, whatever the setting."""
        metal, always = self._metal, self._always
        made = [(metal.atom[bond.one], metal.atom[bond.other], bond.when) for bond in mistake.made]
        if mistake.lost not in self._lost:
            self._lost[mistake.lost] = self._without(mistake.lost)
        lost = self._lost[mistake.lost]
        if isinstance(lost, frozenset):
            return lost, tuple((always[one], always[other], when) for one, other, when in made)
        return lost, tuple(made)

    def _without(self, lost: tuple[int, ...]) -> tuple[int, ...] | frozenset[int]:
        """Some bonds, or where all is held in another way the metal at which they are, whichever bonds of it."""
        if not self._metal.held_otherwise(lost):
            return lost
        ends = (self._metal.graph.bonds[number].one for number in lost)
        return frozenset(self._always[self._metal.atom[end]] for end in ends)

    def those(self, classes: Iterable[int], mistakes: Sequence[Mistake]) -> list[Mistake]:
        """All mistakes of these classes, in their own order."""
        wanted = set(classes)
        return [mistake for mistake, number in zip(mistakes, self.number, strict=True) if number in wanted]
