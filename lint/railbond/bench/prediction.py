"""What would be seen if a mistake had been made."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Literal, SupplyLeg

from .components import FullSetting
from .continuity import Continuity
from .effect import Effect
from .mistake import Mistake
from .observation import Observation

NOTHING = Mistake("none", "nothing is wrong with the wiring that these mistakes could explain")
ASKED = {
    "runs": "_runs", "wheel": "_wheel", "backwards": "_backwards", "dim": "_dim", "always-on": "_always_on",
    "never-on": "_never_on",
}  # fmt: skip
"""What answers each kind of question about trains, lamps and detectors."""
Powered = dict[int, list[SupplyLeg]]
"""The supplies of what hangs together, by what stands for it."""


class Prediction:
    """Answers the questions of observations, for any mistake."""

    def __init__(self, facts: Facts, metal: Continuity) -> None:
        self.facts, self.metal = facts, metal
        self._effects: dict[tuple[object, frozenset[Literal]], Effect] = {}
        self._usual: dict[frozenset[Literal], dict[int, list[tuple[int, SupplyLeg]]]] = {}
        self._shorts: dict[tuple[frozenset[Literal], str], frozenset[int]] = {}
        self._sources = [(metal.atom[one], source) for one, source in facts.graph.sources.items()]

    def effect(self, mistake: Mistake, stand: FullSetting) -> Effect:
        """A mistake's effect in a setting, worked out once."""
        key = (mistake.lost, mistake.made), self.metal.key(stand)
        if key not in self._effects:
            self._effects[key] = self.metal.effect(mistake, stand)
        return self._effects[key]

    def answer(self, mistake: Mistake, asked: Observation) -> bool:
        """What would be seen."""
        effect, atom = self.effect(mistake, asked.stand), self.metal.atom
        if asked.kind == "beeps":
            return effect.joined(atom[asked.ends[0]], atom[asked.ends[1]])
        if asked.kind == "trips":
            return self._trips(effect, asked)
        return getattr(self, ASKED[asked.kind])(mistake, effect, asked)  # type: ignore[no-any-return]

    def usual(self, stand: FullSetting) -> dict[int, list[tuple[int, SupplyLeg]]]:
        """The supplies of each component as the plan has it, each with its atom."""
        key = self.metal.key(stand)
        if key not in self._usual:
            home, found = self.metal.components(stand), dict[int, list[tuple[int, SupplyLeg]]]()
            for atom, source in self._sources:
                found.setdefault(home[atom], []).append((atom, source))
            self._usual[key] = found
        return self._usual[key]

    def _trips(self, effect: Effect, asked: Observation) -> bool:
        """Whether both legs meet somewhere; what the mistake does not concern is as the plan has it."""
        touched = {effect.home(part) for part in effect.touched()}
        if not touched.issuperset(self._shorted(asked.stand, asked.supply)):
            return True
        usual = self.usual(asked.stand)
        found: Powered = {}
        for home in touched:
            for atom, source in usual.get(home, ()):
                found.setdefault(effect.root(effect.part(atom)), []).append(source)
        return any(self._short(one, asked.supply) for one in found.values())

    def _shorted(self, stand: FullSetting, supply: str) -> frozenset[int]:
        """The components in which both legs meet as the plan has it: none, in a sound plan."""
        key = self.metal.key(stand), supply
        if key not in self._shorts:
            usual = self.usual(stand).items()
            here = (home for home, sources in usual if self._short([source for _, source in sources], supply))
            self._shorts[key] = frozenset(here)
        return self._shorts[key]

    def supplies(self, effect: Effect, atom: int, stand: FullSetting) -> list[SupplyLeg]:
        """The supplies that some metal hangs together with."""
        root = effect.root(effect.part(atom))
        touched = effect.touched() or {root}
        homes = {effect.home(part) for part in touched if effect.root(part) == root} | {effect.home(effect.part(atom))}
        usual = self.usual(stand)
        near = (one for home in homes for one in usual.get(home, ()))
        return [source for there, source in near if effect.root(effect.part(there)) == root]

    def _runs(self, _: Mistake, effect: Effect, asked: Observation) -> bool:
        """A train comes over: all its way has power."""
        return all(self.supplies(effect, self.metal.atom[one], asked.stand) for one in asked.route)

    def _wheel(self, _: Mistake, effect: Effect, asked: Observation) -> bool:
        """Some wheel rolls from one leg onto the other, or the way is shorted as it is."""
        sources = [self.supplies(effect, self.metal.atom[one], asked.stand) for one in asked.route]
        steps = zip(sources[::2], sources[1::2], strict=True)
        return any(self._short([*one, *other], "") for one, other in steps)

    def _backwards(self, _: Mistake, effect: Effect, asked: Observation) -> bool:
        """Both rails carry the leg that the plan gives the other one."""
        plan = self.effect(NOTHING, asked.stand)
        now, meant = (
            [legs(self.supplies(one, self.metal.atom[end], asked.stand)) for end in asked.route]
            for one in (effect, plan)
        )
        return now == meant[::-1] and now[0] != now[1] and len(now[0]) == len(now[1]) == 1

    def _dim(self, mistake: Mistake, effect: Effect, asked: Observation) -> bool:
        """It has power, but some wire, bond or joiner that brought it there is gone: it comes by a longer way."""
        if not mistake.lost or not self._runs(mistake, effect, asked):
            return False
        bonds = self.metal.graph.bonds
        zone = {self._zones[one] for one in asked.route}
        fed = {end for bond in bonds if bond.kind == "wire" and not zone.isdisjoint(map(self._zones.get, bond[:2]))
               for end in bond[:2]}  # fmt: skip
        return any(not {self._zones[end] for end in bonds[n][:2]}.isdisjoint(zone) or bonds[n].other in fed
                   for n in mistake.lost)  # fmt: skip

    @cached_property
    def _zones(self) -> dict[int, int]:
        """What hangs together by rails alone, without a wire."""
        near: dict[int, list[int]] = {one: [] for one in range(len(self.metal.graph.names))}
        for bond in self.metal.graph.bonds:
            if bond.when is None and bond.kind in ("build", "bond", "joint"):
                near[bond.one].append(bond.other)
                near[bond.other].append(bond.one)
        found: dict[int, int] = {}
        for start in near:
            queue = [] if start in found else [start]
            for here in queue:
                found[here] = start
                queue += [
                    there for there in near[here] if there not in found and found.setdefault(there, start) == start
                ]
        return found

    def _always_on(self, _: Mistake, effect: Effect, asked: Observation) -> bool:
        """Metal of a block hangs on another supply of the same leg as well: what that one feeds is counted too."""
        seen = {asked.supply, *self._behind(asked.supply)}
        mine = (atom for atom, source in self._sources if source.supply in seen)
        return any(one.supply not in seen for atom in mine for one in self.supplies(effect, atom, asked.stand))

    def _never_on(self, _: Mistake, effect: Effect, asked: Observation) -> bool:
        """A rail that the plan hangs on a block hangs on it no more, or on another supply beside it."""
        plan, seen = self.effect(NOTHING, asked.stand), {asked.supply, *self._behind(asked.supply)}
        for atom in {self.metal.atom[rail] for rail in self.facts.graph.rails}:
            meant = {one.supply for one in self.supplies(plan, atom, asked.stand)}
            if seen & meant and {one.supply for one in self.supplies(effect, atom, asked.stand)} != meant:
                return True
        return False

    def _short(self, sources: list[SupplyLeg], supply: str) -> bool:
        """Whether both legs meet, those of one supply (or of what hangs on it) where it is named."""
        if len(sources) < 2:
            return False
        pairs = ((one, other) for index, one in enumerate(sources) for other in sources[:index] if one.opposes(other))
        return any(not supply or {supply, *self._behind(supply)} & {one.supply, other.supply} for one, other in pairs)

    def _behind(self, supply: str) -> list[str]:
        return [one.name for one in self.facts.layout.supplies.values() if supply in {one.district, *one.hangs_on}]


def legs(sources: Iterable[SupplyLeg]) -> set[int]:
    """Which legs there are among some supplies."""
    return {one.leg for one in sources if one.kind != "unit"}
