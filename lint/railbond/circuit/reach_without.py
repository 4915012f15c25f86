"""What a conductor reaches without one statement, in one setting after the other."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from trackplan.span import Span

from .graph import Bond, Literal, Setting
from .witness import Witness


class ReachWithout:
    """What hangs together with a conductor, no bond of the `barred` statement used, found once for all settings; only
    what bonds of a setting lead to is looked for in each."""

    def __init__(self, witness: Witness, start: int, barred: Span) -> None:
        self.witness, self.start, self.barred = witness, start, barred

    @cached_property
    def always(self) -> set[int]:
        """What it reaches in every setting."""
        return self._spread([self.start], set(), frozenset())

    @cached_property
    def exits(self) -> dict[Literal, list[int]]:
        """By literal the conductors that are tied to those while it holds."""
        found: dict[Literal, list[int]] = {}
        for here in self.always:
            for bond in self.witness.bonds[here]:
                if bond.when and bond.at != self.barred:
                    found.setdefault(bond.when, []).append(_beyond(bond, here))
        return found

    @cached_property
    def sources(self) -> list[int]:
        """Those of them that are sources."""
        return [here for here in self.witness.graph.sources if here in self.always]

    def is_to_any(self, is_goal: Callable[[int], bool], setting: Setting) -> bool:
        """Whether a source that is a goal is reached in a setting."""
        if any(map(is_goal, self.sources)):
            return True
        first = [there for literal in setting for there in self.exits.get(literal, ())]
        return bool(first) and any(map(is_goal, self._spread(first, self.always, setting)))

    def _spread(self, first: list[int], known: set[int], setting: Setting) -> set[int]:
        """What is reached from some conductors, but for what is known and what lies behind that."""
        seen = set(first) - known
        queue, bonds, barred = list(seen), self.witness.bonds, self.barred
        for here in queue:
            for one, there, when, _, at in bonds[here]:
                if there == here:
                    there = one
                if there in seen or there in known or at == barred:
                    continue
                if when is None or when in setting:
                    seen.add(there)
                    queue.append(there)
        return seen


def _beyond(bond: Bond, here: int) -> int:
    return bond.other if bond.one == here else bond.one
