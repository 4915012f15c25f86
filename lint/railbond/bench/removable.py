"""What can be taken off at the bench and put back, and the rail graph with the ends of wires that this lays bare.

A drop is soldered to its rail and hangs on a screw: between the two is a conductor of its own, which a lead can touch
once the wire is off. A frog's wire hangs on the common of its contacts. Off come the wires of a drop, a frog's wire,
both wires of a bus run, a common wire, and, where nothing else helps, a metal joiner with an insulated one slid in.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from railbond.circuit.graph import Bond, RailGraph
from railbond.circuit.wiring import Wiring
from railbond.layout.model import Drop

from .bonds import Bonds
from .mistake import Mistake
from .wires import drop_place

OFF = "off "
"""What comes before the name of a thing that is off, where it stands among switches in a setting."""


class Removable(NamedTuple):
    """`name` is what one types, `words` what one is told; `numbers` are the bonds that go with it. `bare` are the
    ends of wires that hang free then, `place` where one does it, and `wires` how many (none: a rail's joiner). One wire
    of a pair is `part_of` that."""

    name: str
    words: str
    numbers: frozenset[int]
    place: str
    wires: int
    bare: tuple[int, ...] = ()
    part_of: str = ""


class Screws:
    """A layout's rail graph with the ends of its wires, and all that can be taken off it."""

    def __init__(self, wiring: Wiring) -> None:
        graph = wiring.graph
        self.wiring, self.bonds = wiring, Bonds(wiring)
        self.graph = RailGraph(list(graph.names), list(graph.bonds), *graph[2:])
        self.screw: dict[int, int] = {}
        """For the bond of a drop, by which it is soldered to its rail, the bond at its screw."""
        self.common: dict[tuple[int, ...], int] = {}
        """For the bonds of a frog's contacts the bond by which the frog hangs on their common."""
        self.bare: dict[int, str] = {}
        """The conductors that are ends of wires, as one names them."""
        found = [*self._drops(), *self._frogs(), *self._runs(), *self._commons(), *self._joints()]
        self.removable = {one.name: one for one in found}

    def _end(self, name: str) -> int:
        self.graph.names.append(name)
        self.bare[len(self.graph.names) - 1] = name
        return len(self.graph.names) - 1

    def _bond(self, bond: Bond) -> int:
        self.graph.bonds.append(bond)
        return len(self.graph.bonds) - 1

    def _drops(self) -> Iterator[Removable]:
        feeders: dict[object, list[Drop]] = {}
        for drop in self.wiring.layout.drops:
            feeders.setdefault((drop.statement.at, drop.piece), []).append(drop)
        for drops in feeders.values():
            numbers = [number for drop in drops for number in self._off_screw(drop)]
            ends = [end for end in (self._bare_of(number) for number in numbers) if end >= 0]
            where, at = drop_place(drops[0]), drops[0].wire.name
            what = "wire" if len(drops) == 1 else "two wires"
            rail = f"{self._rail(drops[0])} of " if len(drops) == 1 else ""
            name = self._unused(where if len(drops) > 1 else f"{where} {self._rail(drops[0])}")
            words = f"the {what} to {rail}{where}, at {at}"
            yield Removable(name, words, frozenset(numbers), at, min(len(drops), 2), tuple(ends))
            for drop in drops if len(drops) == 2 and len(numbers) == 2 else ():
                number = self._off_screw(drop)[0]
                single = self._unused(f"{where} {self._rail(drop)}")
                words = f"the wire to the {self._rail(drop)} of {where}, at {at}"
                bare = self._bare_of(number)
                yield Removable(single, words, frozenset((number,)), at, 1, (bare,) if bare >= 0 else (), name)

    def _unused(self, name: str) -> str:
        self._names = getattr(self, "_names", set[str]())
        number = 2
        base = name
        while name in self._names:
            name, number = f"{base} again {number}", number + 1
        self._names.add(name)
        return name

    def _rail(self, drop: Drop) -> str:
        return self.wiring.layout.pieces[drop.piece].template.metals[drop.metal].words

    def _off_screw(self, drop: Drop) -> list[int]:
        """The bonds that hold no longer when a drop is off its screw; one through contacts goes off at those."""
        numbers = self.bonds.of_drop(drop)
        if drop.when or len(numbers) != 1:
            return list(numbers)
        (number,) = numbers
        if number not in self.screw:
            bond = self.graph.bonds[number]
            end = self._end(f"the free end of the wire to {self.graph.names[bond.other]}")
            self.graph.bonds[number] = bond._replace(one=end)
            self.screw[number] = self._bond(bond._replace(other=end))
        return [self.screw[number]]

    def _bare_of(self, number: int) -> int:
        end = self.graph.bonds[number].other
        return end if end in self.bare else -1

    def _frogs(self) -> Iterator[Removable]:
        """Each frog that hangs on contacts or a unit."""
        for feed in self.wiring.layout.frogs.values():
            piece = self.wiring.layout.pieces[feed.piece]
            for frog in piece.template.frogs:
                metal = self.wiring.metal(piece.name, frog.metal)
                words = f"the wire from its contacts to {self.graph.names[metal]}"
                mine = [
                    n for n, one in enumerate(self.graph.bonds) if one.at == feed.statement.at and one.other == metal
                ]
                number = self._common(mine, metal)
                if number >= 0:
                    words = words.replace("contacts", "unit") if feed.kind == "automatic" else words
                    yield Removable(f"{piece.name}.{frog_name(piece.template.metals[frog.metal].words)}", words,
                                    frozenset((number,)), piece.name, 1)  # fmt: skip

    def _common(self, numbers: list[int], metal: int) -> int:
        """The bond from a contact's common to its frog."""
        if not numbers or self.graph.bonds[numbers[0]].kind != "contact":
            return numbers[0] if numbers else -1
        end = self._end(f"the common of the contacts of {self.graph.names[metal]}")
        for number in numbers:
            self.graph.bonds[number] = self.graph.bonds[number]._replace(other=end)
        self.common[tuple(numbers)] = self._bond(Bond(end, metal, None, "wire", self.graph.bonds[numbers[0]].at))
        return self.common[tuple(numbers)]

    def _runs(self) -> Iterator[Removable]:
        for run in self.wiring.layout.runs:
            at = run.statement.at
            numbers = frozenset(n for n, bond in enumerate(self.graph.bonds) if bond.at == at and bond.kind == "wire")
            name = self._unused(run.terminal)
            words = f"both bus wires that come from {run.source} to {run.terminal}"
            yield Removable(name, words, numbers, run.terminal, 2)
            for number in sorted(numbers) if len(numbers) == 2 else ():
                far = self.graph.names[self.graph.bonds[number].other]
                words = f"the bus wire that comes from {run.source} to {far}"
                yield Removable(self._unused(far), words, frozenset((number,)), run.terminal, 1, (), name)

    def _commons(self) -> Iterator[Removable]:
        for number, bond in enumerate(self.graph.bonds):
            if any(bond.at == one.statement.at for one in self.wiring.layout.commons) and bond.kind == "wire":
                one, other = (self.graph.names[end] for end in bond[:2])
                yield Removable(f"common {one}", f"the common wire from {one} to {other}", frozenset((number,)), one, 1)

    def _joints(self) -> Iterator[Removable]:
        for number, bond in enumerate(self.graph.bonds):
            if bond.kind == "joint":
                one, other = (self.graph.names[end].partition(" (")[0] for end in bond[:2])
                words = f"the metal joiner between {one} and {other} (slide an insulated one in)"
                yield Removable(f"joiner {one} | {other}", words, frozenset((number,)), "", 0)

    def as_hands_make_it(self, mistake: Mistake) -> Mistake:
        """A mistake with its bonds where they are on this graph: at the rail, at the screw, or at a common."""
        contacts = next((n for numbers, n in self.common.items() if tuple(mistake.lost) == numbers), None)
        if contacts is not None and not mistake.made:
            return mistake._replace(lost=(contacts,))
        ends = {number: self.graph.bonds[number] for number in mistake.lost}
        plain = {number: self.wiring.graph.bonds[number] for number in mistake.lost}
        lost, made = list(mistake.lost), list(mistake.made)
        for index, number in enumerate(mistake.lost):
            if number in self.screw:
                self._at_its_end(index, number, plain[number], lost, made)
            elif ends[number] != plain[number]:
                made = [
                    one._replace(other=ends[number].other) if one.other == plain[number].other else one for one in made
                ]
        return mistake._replace(lost=tuple(lost), made=tuple(made))

    def _at_its_end(self, index: int, number: int, plain: Bond, lost: list[int], made: list[Bond]) -> None:
        """A drop whose wire comes from elsewhere differs at its screw, one on another rail where it is soldered."""
        if index < len(made) and made[index].other == plain.other:
            lost[index], made[index] = self.screw[number], made[index]._replace(other=self.graph.bonds[number].one)
        elif index < len(made):
            made[index] = made[index]._replace(one=self.graph.bonds[number].one)


def frog_name(words: str) -> str:
    return words.replace(" ", "-")


def off(names: Iterable[str]) -> dict[str, str]:
    """Things that are off, as part of a setting."""
    return {f"{OFF}{name}": "off" for name in names}


def without_parts(names: Iterable[str], removable: Mapping[str, Removable]) -> list[str]:
    """Names of things that are off, without the one wire of a pair that is off as a whole."""
    there = dict.fromkeys(names)
    return [name for name in there if removable[name].part_of not in there]


def what_is_off(setting: Iterable[str]) -> list[str]:
    """The names of what is off in a setting."""
    return [one.removeprefix(OFF) for one in setting if one.startswith(OFF)]
