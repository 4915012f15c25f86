"""What no wiring of this track can cost less than, of the lines that were written.

Exact are the supplies, the reversers and the cuts at their ends (the fewest sections, two ends of two rails each), the
work at turnouts as it was chosen, and the drops where track closes no ring. Of bus runs only that much counts as the
two drops that lie furthest apart cannot do without.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Bus, Feeder, Gap, Reverser, Statement

from .bill import cost, price
from .bus_runs import FIRST
from .covering import Covering
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


def lower_bound(lines: list[WrittenLine], covered: Covering, costs: WiringCosts) -> LowerBound:
    """The bound for lines of which the drops come from a covering."""
    own = statements(lines)
    pairs = [one for one in own if isinstance(one, Feeder) and "." not in one.rail]
    singles = [one for one in own if isinstance(one, Feeder) and "." in one.rail]
    gaps, reversers = ([one for one in own if isinstance(one, kind)] for kind in (Gap, Reverser))
    runs = [one for one in own if isinstance(one, Bus)]
    sources = {str(one.supply) for one in runs} - {str(one.terminal) for one in runs}
    counted = [one for one in own if not isinstance(one, Feeder | Gap | Bus)]
    least = min(covered.least, len(pairs))
    cuts = min(cost(gaps, costs), costs.cut * END_CUTS * len(reversers))
    total = cost(counted, costs) + cuts + 2 * costs.drop * least + sum(price(one, costs) for one in singles)
    first = costs.bus * FIRST * min(len(sources), len(pairs))
    return LowerBound(total + first, least == len(pairs) and cuts == cost(gaps, costs))
