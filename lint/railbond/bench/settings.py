"""How the points must stand so that every mistake shows: few settings, and few points thrown between them.

The first setting has every switch in its first position. A mistake that does not show there is tried with the few
switches around it thrown, fewest first; what such mistakes ask for is laid together into as few settings as go.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import combinations, product
from typing import NamedTuple

from railbond.circuit.graph import Literal, RailGraph

from .components import FullSetting
from .continuity import KEPT, Continuity
from .effect import Effect
from .mistake import Mistake
from .vicinity import Vicinity

MOST_TRIES = 400
"""Settings in which one mistake is tried before it is called not proven."""
IN_ALL, FOR_EACH = 12_000, 10
"""Settings in which all mistakes together are tried, and how many more for each: what goes beyond is not proven either.
Sound plans ask for hardly more than one setting for each; where supplies are joined, every switch may matter."""


class Wish(NamedTuple):
    """A mistake, and the fewest switches to throw so that it shows."""

    mistake: Mistake
    thrown: dict[str, str]


class Settings:
    """The settings of a sheet, each with the `effects` of those mistakes that show in it, by their numbers. `unseen`
    are those that show in none at all, `unproven` those not tried in all."""

    def __init__(self, metal: Continuity, mistakes: list[Mistake], sound: bool = True) -> None:
        self.metal = metal
        self.graph: RailGraph = metal.graph
        self.first: dict[str, str] = {switch: stands[0] for switch, stands in self.graph.positions.items()}
        self._thrown = lru_cache(KEPT // (len(self.first) + 1))(self._made)
        self.unseen: list[int] = []
        self.unproven: list[int] = []
        self.stands: list[dict[str, str]] = [self.first]
        self._vicinity = Vicinity(metal, sound)
        self._tries = IN_ALL
        at_first = self._effects(mistakes, self.first)
        self._lay_together(self._wishes(mistakes, at_first))
        self.effects: list[dict[int, Effect]] = [at_first]
        self.effects += (self._effects(mistakes, stand) for stand in self.stands[1:])
        self._leave_out()

    def _effects(self, mistakes: list[Mistake], stand: dict[str, str]) -> dict[int, Effect]:
        """What those mistakes that show in a setting do, by their numbers."""
        effects = ((number, self.metal.effect(one, stand)) for number, one in enumerate(mistakes))
        return {number: effect for number, effect in effects if effect}

    def _wishes(self, mistakes: list[Mistake], shown: dict[int, Effect]) -> list[Wish]:
        """What the mistakes that the first setting does not show ask for."""
        found = []
        for number, mistake in enumerate(mistakes):
            wish = None if number in shown else self._shown_by(number, mistake)
            if wish is not None:
                found.append(wish)
        return found

    def _shown_by(self, number: int, mistake: Mistake) -> Wish | None:
        """The fewest switches to throw that make a mistake show; None, and noted, where there are none."""
        if not mistake.made and self.metal.held_otherwise(mistake.lost):
            self.unseen.append(number)
            return None
        for tries, thrown in enumerate(self._throws(self._vicinity.switches(mistake))):
            if self.metal.effect(mistake, self._thrown(*thrown)):
                return Wish(mistake, dict(thrown))
            self._tries -= 1
            if tries == MOST_TRIES or (self._tries < 0 and tries >= FOR_EACH):
                self.unproven.append(number)
                return None
        self.unseen.append(number)
        return None

    def _made(self, *thrown: Literal) -> FullSetting:
        """The first setting with some switches thrown. The last ones are kept, since mistakes close by ask for the
        same."""
        return self.first | dict(thrown)

    def _throws(self, around: Iterable[str]) -> Iterator[tuple[Literal, ...]]:
        """What to throw, fewest switches first; those further away are looked for once the nearer ones are tried."""
        switches = []
        for switch in around:
            switches.append(switch)
            yield from (((switch, at),) for at in self._others(switch))
        for many in range(2, len(switches) + 1):
            for some in combinations(switches, many):
                yield from (tuple(zip(some, at, strict=True)) for at in product(*map(self._others, some)))

    def _others(self, switch: str) -> tuple[str, ...]:
        return self.graph.positions[switch][1:]

    def _lay_together(self, wishes: list[Wish]) -> None:
        """One setting after another, each for as many wishes as agree; the first wish of each is sure to be met."""
        while wishes:
            first = wishes[0]
            stand = self._agreed(first.thrown, wishes)
            if not self.metal.effect(first.mistake, stand):
                stand = self._agreed(self._held(first), wishes)
            self.stands.append(stand)
            wishes = [one for one in wishes[1:] if not self.metal.effect(one.mistake, stand)]

    def _held(self, wish: Wish) -> dict[str, str]:
        """All switches that matter to a mistake, as they stand when it shows."""
        return {switch: self.first[switch] for switch in self._vicinity.switches(wish.mistake)} | wish.thrown

    def _agreed(self, held: dict[str, str], wishes: list[Wish]) -> dict[str, str]:
        """The first setting with `held` thrown, and all else that the wishes ask for and that does not contradict."""
        thrown = dict(held)
        for wish in wishes:
            if all(thrown.get(switch, stands) == stands for switch, stands in wish.thrown.items()):
                thrown |= wish.thrown
        return self.first | thrown

    def _leave_out(self) -> None:
        """Drops settings that show nothing which the others do not show."""
        shows = [set(effects) for effects in self.effects]
        for index in reversed(range(len(self.stands))):
            rest = [shown for other, shown in enumerate(shows) if other != index]
            if rest and shows[index] <= set().union(*rest):
                del self.stands[index], self.effects[index], shows[index]
