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
        if not metal.held_otherwise(mistake.lost):
            return mistake.lost, tuple(made)
        left = {always[metal.atom[metal.graph.bonds[number].one]] for number in mistake.lost}
        return frozenset(left), tuple((always[one], always[other], when) for one, other, when in made)

    def those(self, classes: Iterable[int], mistakes: Sequence[Mistake]) -> list[Mistake]:
        """All mistakes of these classes, in their own order."""
        wanted = set(classes)
        return [mistake for mistake, number in zip(mistakes, self.number, strict=True) if number in wanted]
