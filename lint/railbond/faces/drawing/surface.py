"""The faces of a net: what lies between its tracks, each as the darts around it with the face on their left."""

from __future__ import annotations

from collections.abc import Iterable

from .net import Net


class Faces:
    """The faces of those strands' darts. `left` is the face on the left of each dart, `around` the darts of each."""

    def __init__(self, net: Net, darts: Iterable[int]) -> None:
        present = list(darts)
        there = set(present)
        after: dict[int, int] = {}
        for node in {net.at[dart] for dart in present}:
            ring = [dart for dart in net.nodes[node].around if dart in there]
            for dart, clockwise in zip(ring, [ring[-1], *ring[:-1]], strict=True):
                after[dart ^ 1] = clockwise
        self.after = after
        self.left: dict[int, int] = {}
        self.around: list[list[int]] = []
        for dart in present:
            if dart not in self.left:
                self.around.append(self._walk(dart, len(self.around)))

    def _walk(self, start: int, face: int) -> list[int]:
        walked, dart = [], start
        while dart not in self.left:
            self.left[dart] = face
            walked.append(dart)
            dart = self.after[dart]
        return walked


def darts_of(net: Net, strands: Iterable[int]) -> list[int]:
    """Both darts of every stretch of these strands."""
    return [dart for index in strands for one in net.strands[index].darts for dart in (one, one ^ 1)]
