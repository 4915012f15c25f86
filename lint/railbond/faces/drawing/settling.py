"""Places on a line: each at least so far behind some others, and as near as can be to those it is tied to."""

from __future__ import annotations

from collections import defaultdict

from .flow import Flow

Least = tuple[int, int, int]
"""The second place lies at least so far behind the first."""

Pull = tuple[int, int, int]
"""The second place lies behind the first, and each step between them costs so much."""

LARGEST = 160
"""Places that are drawn together exactly; of more, each goes as near as it can, one by one."""
SWEEPS = 4


def settle(count: int, least: list[Least], pulls: list[Pull]) -> list[int]:
    """The places of least cost, from 0. A pull's second place must lie behind its first by some chain of `least`."""
    front = _longest(count, least)
    if not pulls:
        return front
    if count > LARGEST:
        return _eased(front, least, pulls)
    return _longest(count, least + _tight(count, least, pulls, front))


def _eased(place: list[int], least: list[Least], pulls: list[Pull]) -> list[int]:
    """Each place by itself moved to where it costs least, the last first and then the first first."""
    before: list[list[tuple[int, int]]] = [[] for _ in place]
    after: list[list[tuple[int, int]]] = [[] for _ in place]
    drawn: list[list[int]] = [[] for _ in place]
    for one, other, far in least:
        after[one].append((other, far))
        before[other].append((one, far))
    for one, other, weight in pulls:
        drawn[one] += [other] * weight
        drawn[other] += [one] * weight
    for sweep in range(SWEEPS):
        for here in sorted(range(len(place)), key=place.__getitem__, reverse=sweep % 2 == 0):
            if near := sorted(place[there] for there in drawn[here]):
                low = max((place[one] + far for one, far in before[here]), default=0)
                high = min((place[one] - far for one, far in after[here]), default=max(place))
                wanted = near[len(near) // 2] if sweep % 2 == 0 else near[(len(near) - 1) // 2]
                place[here] = max(low, min(high, wanted))
    first = min(place, default=0)
    return [one - first for one in place]


def _longest(count: int, least: list[Least]) -> list[int]:
    """The foremost places; Bellman and Ford's way, over those that moved. Raises ValueError where there are none."""
    after: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    for one, other, far in least:
        after[one].append((other, far))
    place = [0] * count
    moved = list(range(count))
    for _ in range(count + 1):
        if not moved:
            return place
        again: dict[int, None] = {}
        for one in moved:
            for other, far in after[one]:
                if place[other] < place[one] + far:
                    place[other] = place[one] + far
                    again[other] = None
        moved = list(again)
    raise ValueError("no places fit: some lie behind themselves")


def _tight(count: int, least: list[Least], pulls: list[Pull], front: list[int]) -> list[Least]:
    """What must not lie further apart than it has to: where the dual of the least cost, a flow of greatest length,
    runs (complementary slackness)."""
    flow = Flow(count)
    waiting: defaultdict[tuple[int, int], int] = defaultdict(int)
    for one, other, weight in pulls:
        waiting[one, other] += weight
    for index, (one, other, far) in enumerate(least):
        slack = front[other] - front[one] - far
        flow.arc(one, other, slack, (index, 1), runs=0 if slack else waiting.pop((one, other), 0))
    excess = [0] * count
    for (one, other), weight in waiting.items():
        excess[one] += weight
        excess[other] -= weight
    return [(least[index][1], least[index][0], -least[index][2]) for (index, _), _ in flow.run(excess)[1]]
