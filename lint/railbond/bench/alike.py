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
        self._metal, always = metal, metal.components({})
        self._always = [always[atom] for atom in metal.atom]
        """For each conductor the metal that always hangs together with it."""
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
        if mistake.lost not in self._lost:
            self._lost[mistake.lost] = self._without(mistake.lost)
        lost = self._lost[mistake.lost]
        at = self._always if isinstance(lost, frozenset) else self._metal.atom
        return lost, tuple([(at[bond.one], at[bond.other], bond.when) for bond in mistake.made])

    def _without(self, lost: tuple[int, ...]) -> tuple[int, ...] | frozenset[int]:
        """Some bonds, or where all is held in another way the metal at which they are, whichever bonds of it."""
        if not self._metal.held_otherwise(lost):
            return lost
        return frozenset(self._always[self._metal.graph.bonds[number].one] for number in lost)

    def those(self, classes: Iterable[int], mistakes: Sequence[Mistake]) -> list[Mistake]:
        """All mistakes of these classes, in their own order."""
        wanted = set(classes)
        return [mistake for mistake, number in zip(mistakes, self.number, strict=True) if number in wanted]
