"""What hangs together in a setting of the switches, told by the difference to a setting whose answer is known.

Most metal hangs together in every setting: a *block*. Switches, and wires that may be taken off, join blocks. Where
few switches stand otherwise than in the setting that was worked out before, only the components at them are anew.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from railbond.circuit.graph import Literal

FullSetting = Mapping[str, str]
"""How every switch stands."""
Ends = tuple[int, int]
NONE: Mapping[int, int] = {}
NEAR = 4
"""Where no more than one in so many switches differs, the difference is told."""


class Components:
    """What hangs together in one setting: the first atom of each atom's component. Most metal hangs together in every
    setting, and is told by its block; `changed` are the blocks of which `joined` does not tell what they hang
    together with."""

    def __init__(self, blocks: list[int], joined: dict[int, int], changed: Mapping[int, int] = NONE) -> None:
        self._blocks, self._joined, self._changed = blocks, joined, changed

    def __getitem__(self, atom: int) -> int:
        block = self._blocks[atom]
        home = self._changed.get(block)
        return self._joined.get(block, block) if home is None else home


class Blocks:
    """The blocks of a rail graph, and what joins them in a setting. `always` joins atoms in every setting, `switched`
    while a switch stands so, and `removable` bonds, by number, until they are taken off."""

    def __init__(
        self, atoms: int, always: Iterable[Ends], switched: Mapping[Literal, list[Ends]], removable: Mapping[int, Ends]
    ) -> None:
        parent = list(range(atoms))
        for one, other in always:
            join(parent, one, other)
        self._block = block = [root(parent, one) for one in range(atoms)]
        self._switched = {when: list({(block[a], block[b]) for a, b in pairs}) for when, pairs in switched.items()}
        self._removable = {number: (block[one], block[other]) for number, (one, other) in removable.items()}
        self._at: dict[int, list[tuple[Literal, Ends]]] = {}
        for when, pairs in self._switched.items():
            for pair in pairs:
                for end in pair:
                    self._at.setdefault(end, []).append((when, pair))
        self._known: FullSetting = {}
        self._joined: dict[int, int] = {}
        self._members: dict[int, list[int]] = {}

    def components(self, stand: FullSetting, gone: Collection[int]) -> Components:
        """The components in a setting with some bonds taken off."""
        if self._removable:
            wires = (pair for number, pair in self._removable.items() if number not in gone)
            return Components(self._block, united([*self._closed(stand), *wires]))
        differing = {switch for switch, _ in stand.items() ^ self._known.items()}
        if len(differing) * NEAR > len(self._known):
            self._know(stand)
            return Components(self._block, self._joined)
        anew, joined = self._anew(stand, differing), self._joined
        changed = {block: home for block, home in anew.items() if joined.get(block, block) != home}
        return Components(self._block, joined, changed)

    def _closed(self, stand: FullSetting) -> list[Ends]:
        return [pair for literal in stand.items() for pair in self._switched.get(literal, ())]

    def _know(self, stand: FullSetting) -> None:
        """Works out a setting in full, and keeps it: others are told by what differs."""
        self._known, self._joined, self._members = dict(stand), united(self._closed(stand)), {}
        for block, home in self._joined.items():
            self._members.setdefault(home, []).append(block)

    def _anew(self, stand: FullSetting, differing: Collection[str]) -> dict[int, int]:
        """The component of each block that hung together, or does now, with one at the switches that differ."""
        literals = ((switch, at[switch]) for at in (self._known, stand) for switch in differing if switch in at)
        touched = {end for literal in literals for pair in self._switched.get(literal, ()) for end in pair}
        homes = {self._joined.get(block, block) for block in touched}
        blocks = [block for home in homes for block in self._members.get(home, (home,))]
        pairs = [pair for block in blocks for (switch, at), pair in self._at.get(block, ()) if stand.get(switch) == at]
        return dict(zip(blocks, blocks, strict=True)) | united(pairs)


def united(pairs: Iterable[Ends]) -> dict[int, int]:
    """The first of each group that pairs make."""
    pairs = list(pairs)
    parent = {one: one for pair in pairs for one in pair}
    for one, other in pairs:
        join(parent, one, other)
    return {one: root(parent, one) for one in parent}


def root(parent: list[int] | dict[int, int], one: int) -> int:
    """The first of a group; the ways there get shorter."""
    while parent[one] != one:
        parent[one] = one = parent[parent[one]]
    return one


def join(parent: list[int] | dict[int, int], one: int, other: int) -> None:
    """Makes two groups one. Each is named by its first."""
    one, other = root(parent, one), root(parent, other)
    parent[max(one, other)] = min(one, other)
