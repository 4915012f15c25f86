"""Where each node lies from west to east, so that every track has room for what is on it.

On each lane the nodes and the lines that leave them keep the order that `lanes` found, with at least so much room
between them as they need.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Mapping
from functools import cmp_to_key

from .extents import Extent
from .lanes import Lanes
from .net import Net
from .scale import CLEAR
from .settling import settle


def spread(
    net: Net,
    lanes: Lanes,
    extents: Mapping[int, Extent],
    room: Callable[[int], int],
    rows: Mapping[int, list[int]] | None = None,
) -> dict[int, int]:
    """How far east each node lies. `extents` is what each takes up, and `room` what an eastward dart's track needs.
    `rows` are the nodes of each lane, unless they keep the order of `lanes`. Raises ValueError where they cannot."""
    index = {node: place for place, node in enumerate(lanes.order)}
    rows = rows or rows_of(lanes.order, extents)
    least, pulls = [], []
    joined = _joined(net, lanes)
    for lane, row in rows.items():
        for one, other in zip(row, row[1:], strict=False):
            dart = joined.get((one, other, lane))
            free = CLEAR if dart is None else room(dart)
            far = extents[one][lane][1] - extents[other][lane][0] + free
            least.append((index[one], index[other], far))
            if dart is not None:
                pulls.append((index[one], index[other], 1))
    places = settle(len(index), least, pulls)
    return {node: places[place] for node, place in index.items()}


def rows_of(order: list[int], extents: Mapping[int, Extent]) -> dict[int, list[int]]:
    """The nodes of each lane from west to east, in that order."""
    rows: defaultdict[int, list[int]] = defaultdict(list)
    for node in order:
        for lane in extents[node]:
            rows[lane].append(node)
    return rows


def sorted_rows(
    order: list[int],
    extents: Mapping[int, Extent],
    east: Mapping[int, int],
    home: Mapping[int, int],
    first: Collection[tuple[int, int]] = (),
) -> dict[int, list[int]]:
    """The nodes of each lane as they would lie if each lay so far east. Two nodes that share several lanes have one
    order in all of them, that in the lane of one of their pieces (`home`) where they can. `first` are pairs of which
    the first lies west of the second whatever else is said."""

    at = {
        node: {lane: 2 * east[node] + first + last for lane, (first, last) in extents[node].items()} for node in order
    }

    def compare(one: int, other: int) -> int:
        if (one, other) in first or (other, one) in first:
            return -1 if (one, other) in first else 1
        homes = [lane for lane in (home[one], home[other]) if lane in extents[one] and lane in extents[other]]
        lanes = homes or sorted(extents[one].keys() & extents[other].keys())[:1]
        return sum(at[one][lane] - at[other][lane] for lane in lanes)

    return {lane: sorted(row, key=cmp_to_key(compare)) for lane, row in rows_of(order, extents).items()}


def _joined(net: Net, lanes: Lanes) -> dict[tuple[int, int, int], int]:
    return {(net.at[dart], net.at[dart ^ 1], lane): dart for dart, lane in lanes.of.items()}
