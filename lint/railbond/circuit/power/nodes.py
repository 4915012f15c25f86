"""The nodes of a network, by conductor and place, with those that are one metal merged."""

from __future__ import annotations

Place = float | str | None
"""Where on a conductor: meters along a segment, an end's name, or None for the middle of anything else."""


class Nodes:
    """Gives a node to each place that is asked for. `numbers` counts what is left after merging from 0."""

    def __init__(self) -> None:
        self._made: dict[tuple[int, Place], int] = {}
        self._parent: list[int] = []

    def at(self, conductor: int, place: Place = None) -> int:
        """The node of a place, made where there is none yet."""
        fresh = len(self._parent)
        node = self._made.setdefault((conductor, place), fresh)
        if node == fresh:
            self._parent.append(node)
        return node

    def merge(self, one: int, other: int) -> None:
        """Makes two nodes one: there is no resistance between them."""
        self._parent[self._find(other)] = self._find(one)

    def _find(self, node: int) -> int:
        parent = self._parent
        while parent[node] != node:
            parent[node] = node = parent[parent[node]]
        return node

    def numbers(self) -> tuple[list[int], dict[tuple[int, Place], int]]:
        """The number of each node that `at` gave, and of each place."""
        numbers: dict[int, int] = {}
        new = [numbers.setdefault(self._find(node), len(numbers)) for node in range(len(self._parent))]
        return new, {key: new[node] for key, node in self._made.items()}
