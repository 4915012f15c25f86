"""Which switches could matter to a mistake: those of the metal around it that has no supply of its own.

As in the proof of a plan, metal that a supply reaches through bonds that always hold ends every path. What a mistake
cuts off from its supply is metal without one, and the switches at it matter.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from .continuity import Continuity
from .mistake import Mistake

Part = tuple[str, int]
"""Metal that always hangs together: `cut` off by the mistake, or the `rest` of what hung together without it."""

Around = tuple[dict[str, None], list[int]]
"""The switches at a part, and the atoms beyond them."""


class Vicinity:
    """The surroundings of mistakes. Where a plan is not `sound`, but joins supplies, they end nowhere."""

    def __init__(self, metal: Continuity, sound: bool = True) -> None:
        self.metal = metal
        self._label = metal.components({})
        self._members: dict[int, list[int]] = {}
        self._whole: dict[int, Around] = {}
        for atom in metal.atoms:
            self._members.setdefault(self._label[atom], []).append(atom)
        self._toggle = self._toggles()
        self._fed = {metal.atom[one] for one, source in metal.graph.sources.items() if source.kind != "unit"}
        self._fed = (self._fed | self._toggle.keys()) if sound else set()

    def _toggles(self) -> dict[int, str]:
        """The atoms of the legs that a toggle connects to supplies, each with its toggle."""
        graph, wires = self.metal.graph, wires_of(self.metal)
        legs = [bond for bond in graph.bonds if bond.when and {bond.one, bond.other} <= wires]
        found: dict[int, str] = {}
        for bond in legs:
            for end in (bond.one, bond.other):
                if bond.when and end not in graph.sources and graph.names[end].startswith(f"{bond.when[0]}."):
                    found[self.metal.atom[end]] = bond.when[0]
        return found

    def switches(self, mistake: Mistake) -> Iterator[str]:
        """The switches that matter to a mistake, those at it first; each is looked for when it is asked for."""
        cut = self.metal.cut_off(mistake.lost)
        place = {atom: ("cut", number) for number, part in enumerate(cut) for atom in part}
        bonds = [*(self.metal.graph.bonds[number] for number in mistake.lost), *mistake.made]
        found = {bond.when[0]: None for bond in bonds if bond.when}
        yield from filter(self._has_choice, found)
        queue = [self.metal.atom[end] for bond in bonds for end in (bond.one, bond.other)]
        seen: set[Part] = set()
        for atom in queue:
            part = place.get(atom, ("rest", self._label[atom]))
            if part not in seen:
                seen.add(part)
                switches, beyond = self._at(part, cut, place)
                new = [one for one in switches if one not in found]
                found |= switches
                queue += beyond
                yield from filter(self._has_choice, new)

    def _has_choice(self, switch: str) -> bool:
        return len(self.metal.graph.positions.get(switch, ())) > 1

    def _at(self, part: Part, cut: list[set[int]], place: Mapping[int, Part]) -> Around:
        """What is around a part. Of metal that the mistake leaves whole it is the same for every mistake."""
        kind, number = part
        if kind == "cut":
            return self._around(cut[number])
        members = self._members[number]
        if any(self._label[next(iter(one))] == number for one in cut):
            return self._around([atom for atom in members if atom not in place])
        if number not in self._whole:
            self._whole[number] = self._around(members)
        return self._whole[number]

    def _around(self, atoms: Iterable[int]) -> Around:
        """The switches at some metal, and what lies beyond them; of fed metal, its toggle alone."""
        fed = self._fed.intersection(atoms)
        if fed:
            return {self._toggle[atom]: None for atom in fed if atom in self._toggle}, []
        ties = [(there, when) for atom in atoms for _, there, when in self.metal.ties.get(atom, ()) if when]
        return {when[0]: None for _, when in ties}, [there for there, _ in ties]


def wires_of(metal: Continuity) -> set[int]:
    """The conductors that are no rail and no frog: wires, terminals and devices."""
    graph = metal.graph
    return set(range(len(graph.names))) - set(graph.rails) - set(graph.frogs)
