"""A flow of least cost from places that have too much to those that have too little, by one shortest way after another.

Ways are found after Dijkstra over costs that earlier ways have reduced (J. Edmonds and R. M. Karp, 1972, from memory).
"""

from __future__ import annotations

from heapq import heappop, heappush

ENDLESS = 1 << 30


class Flow:
    """Arcs come in pairs, `2n` there and `2n + 1` back. No cost is below 0."""

    def __init__(self, count: int) -> None:
        self.out: list[list[int]] = [[] for _ in range(count)]
        self.to: list[int] = []
        self.room: list[int] = []
        self.cost: list[int] = []
        self.keys: list[tuple[int, int]] = []

    def arc(self, one: int, other: int, cost: int, key: tuple[int, int], room: int = ENDLESS, runs: int = 0) -> None:
        """An arc that takes up to `room`, each unit at `cost`; of what costs nothing so much may run already."""
        for here, there, price, free in ((one, other, cost, room - runs), (other, one, -cost, runs)):
            self.out[here].append(len(self.to))
            self.to.append(there)
            self.cost.append(price)
            self.room.append(free)
        self.keys.append(key)

    def run(self, excess: list[int]) -> tuple[int, list[tuple[tuple[int, int], int]]]:
        """What the flow costs, and how much runs over each arc; `excess` is what each place must give away.

        Raises ValueError where what one place has cannot reach those that lack it.
        """
        left, height = list(excess), [0] * len(self.out)
        total = 0
        while any(one > 0 for one in left):
            start = {place for place, amount in enumerate(left) if amount > 0}
            goal, came = self._way(start, left, height)
            amount = -left[goal]
            here = goal
            while here not in start or came[here] >= 0:
                amount = min(amount, self.room[came[here]])
                here = self.to[came[here] ^ 1]
            amount = min(amount, left[here])
            left[here] -= amount
            left[goal] += amount
            here = goal
            while came[here] >= 0:
                self.room[came[here]] -= amount
                self.room[came[here] ^ 1] += amount
                total += amount * self.cost[came[here]]
                here = self.to[came[here] ^ 1]
        return total, [(key, self.room[2 * n + 1]) for n, key in enumerate(self.keys) if self.room[2 * n + 1]]

    def _way(self, start: set[int], left: list[int], height: list[int]) -> tuple[int, dict[int, int]]:
        """The nearest place that lacks something, and the arc by which each place on the way was reached."""
        out, to, room, cost = self.out, self.to, self.room, self.cost
        far = dict.fromkeys(start, 0)
        came = dict.fromkeys(start, -1)
        done: set[int] = set()
        queue = [(0, place) for place in start]
        while queue:
            way, here = heappop(queue)
            if here in done:
                continue
            done.add(here)
            if left[here] < 0:
                for place in done:
                    height[place] += far[place] - way
                return here, came
            from_here = way + height[here]
            for arc in out[here]:
                if room[arc] and (there := to[arc]) not in done:
                    next_way = from_here + cost[arc] - height[there]
                    if next_way < far.get(there, ENDLESS):
                        far[there], came[there] = next_way, arc
                        heappush(queue, (next_way, there))
        raise ValueError("what is too much in one place cannot reach another")
