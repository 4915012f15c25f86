"""What would be seen if a mistake had been made."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.graph import SupplyLeg

from .continuity import Continuity, FullSetting
from .effect import Effect
from .mistake import Mistake
from .observation import Observation


class Prediction:
    """Answers the questions of observations, for any mistake."""

    def __init__(self, facts: Facts, metal: Continuity) -> None:
        self.facts, self.metal = facts, metal
        self._effects: dict[tuple[object, frozenset[tuple[str, str]]], Effect] = {}
        self._sources: dict[int, list[SupplyLeg]] = {}
        for conductor, source in facts.graph.sources.items():
            self._sources.setdefault(metal.atom[conductor], []).append(source)

    def effect(self, mistake: Mistake, stand: FullSetting) -> Effect:
        """A mistake's effect in a setting, worked out once."""
        key = (mistake.lost, mistake.made), frozenset(stand.items())
        if key not in self._effects:
            self._effects[key] = self.metal.effect(mistake, stand)
        return self._effects[key]

    def answer(self, mistake: Mistake, asked: Observation) -> bool:
        """What would be seen."""
        effect, atom = self.effect(mistake, asked.stand), self.metal.atom
        if asked.kind == "beeps":
            return effect.joined(atom[asked.ends[0]], atom[asked.ends[1]])
        powered = self._powered(effect)
        if asked.kind == "trips":
            return any(self._short(sources, asked.supply) for sources in powered.values())
        return all(effect.root(effect.part(atom[one])) in powered for one in asked.route)

    def _powered(self, effect: Effect) -> dict[int, list[SupplyLeg]]:
        """The sources of all metal that has any, by what the metal hangs together with."""
        found: dict[int, list[SupplyLeg]] = {}
        for atom, sources in self._sources.items():
            found.setdefault(effect.root(effect.part(atom)), []).extend(sources)
        return found

    def _short(self, sources: list[SupplyLeg], supply: str) -> bool:
        """Whether both legs meet, those of one supply (or of what hangs on it) where it is named."""
        pairs = ((one, other) for index, one in enumerate(sources) for other in sources[:index] if one.opposes(other))
        return any(not supply or {supply, *self._behind(supply)} & {one.supply, other.supply} for one, other in pairs)

    def _behind(self, supply: str) -> list[str]:
        return [one.name for one in self.facts.layout.supplies.values() if one.district == supply]
