"""What no wiring of this track can cost less than, with the supplies and the work at turnouts that were chosen.

Counted are the supplies, the work at turnouts, the reversers (the fewest) with two ends of two cut rails each, one run
to each supply's first terminal, and the pairs of drops that the spacing limit asks for wherever the track is cut, or
one to each supply if that is more. Not counted are cuts between the shares of several supplies, and all other runs.
Where track closes rings, one pair less is counted for each of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Bus, Feeder, Gap, Reverser, Statement

from .bill import cost, price
from .draft import WrittenLine
from .wishes import WiringCosts

END_CUTS = 4
"""Rails cut for a section: two ends, both rails."""


class LowerBound(NamedTuple):
    """The least cost, and whether it is exact in all but the bus runs."""

    least: float
    is_exact: bool


def statements(lines: Iterable[WrittenLine]) -> list[Statement]:
    """Written lines as statements."""
    return read(Source("lines", "".join(f"{line.text}\n" for line in lines))).statements


def lower_bound(lines: list[WrittenLine], pairs_needed: int, costs: WiringCosts) -> LowerBound:
    """The bound for lines, of which so many pairs of drops at least are needed."""
    own = statements(lines)
    pairs = [one for one in own if isinstance(one, Feeder) and "." not in one.rail]
    singles = [one for one in own if isinstance(one, Feeder) and "." in one.rail]
    gaps, reversers = ([one for one in own if isinstance(one, kind)] for kind in (Gap, Reverser))
    runs = [one for one in own if isinstance(one, Bus)]
    terminals = {str(one.terminal) for one in runs}
    firsts: dict[str, float] = {}
    for one in runs:
        if str(one.supply) not in terminals:
            firsts[str(one.supply)] = min(price(one, costs), firsts.get(str(one.supply), float("inf")))
    counted = [one for one in own if not isinstance(one, Feeder | Gap | Bus)]
    least = min(pairs_needed, len(pairs))
    cuts = min(cost(gaps, costs), costs.cut * END_CUTS * len(reversers))
    total = cost(counted, costs) + cuts + 2 * costs.drop * least + sum(price(one, costs) for one in singles)
    first = sum(sorted(firsts.values())[: len(pairs)])
    return LowerBound(total + first, least == len(pairs) and cuts == cost(gaps, costs))
