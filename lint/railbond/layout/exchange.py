"""Feeders that came into a plan whose layout is known, or went, wherever among its lines."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile
from operator import is_

from trackplan.record import NamedTuple
from trackplan.statements import Feeder, Statement

from .additions import is_supplied
from .desk import Desk
from .doubts import is_long_for_a_drop
from .model import Fault, Layout
from .redraft import Redraft

MOST = 30
"""Feeders that come or go, beyond which a layout is made anew."""


class Exchange(NamedTuple):
    """Feeders in the place of others, and the nearest feeder above them that stays."""

    gone: list[Feeder]
    come: list[Feeder]
    above: Feeder | None


def exchanged(old: Sequence[Statement], new: Sequence[Statement]) -> Exchange | None:
    """How some statements differ from others, where there are more feeders now in one place, or fewer; None where there
    is no such place, or something else differs too. What is added to a plan in the head lies at no place of it."""
    if len(old) == len(new):
        return None
    above = sum(1 for _ in takewhile(bool, map(is_, old, new)))
    most = min(len(old), len(new)) - above
    below = min(sum(1 for _ in takewhile(bool, map(is_, reversed(old), reversed(new)))), most)
    gone, come = old[above : len(old) - below], new[above : len(new) - below]
    feeders = [one for one in (*gone, *come) if isinstance(one, Feeder) and one.at.start < one.at.end]
    if len(feeders) < len(gone) + len(come) or len(feeders) > MOST:
        return None
    stays = next((one for one in reversed(old[:above]) if isinstance(one, Feeder)), None)
    return Exchange(feeders[: len(gone)], feeders[len(gone) :], stays)


def are_of_feeders(faults: Sequence[Fault], statements: Sequence[Statement]) -> bool:
    """Whether no more is wrong than how some feeders are soldered, which hangs on these and on their track alone."""
    if not faults:
        return True
    if len(faults) > MOST or any(fault.rule != "impossible" for fault in faults):
        return False
    lines = [one.at for one in statements if isinstance(one, Feeder) and one.at.start < one.at.end]
    return all(any(line.holds(fault.at) for line in lines) for fault in faults)


def with_exchange(before: Layout, desk: Desk, exchange: Exchange, faults: Sequence[Fault] | None) -> Layout | None:
    """The layout of the plan as it is then. None where anything else is wrong with it than some `faults` of feeders, or
    anything new: what is told of that hangs on the whole plan."""
    redraft, went = Redraft(before, desk), set(map(id, exchange.gone))
    if faults is None or any(supply.kind == "plug" for supply in before.supplies.values()):
        return None
    if not all(is_supplied(redraft, one.supply) and not is_long_for_a_drop(one) for one in exchange.come):
        return None
    new = [drop for one in exchange.come for drop in redraft.soldered(one).drops]
    if redraft.names.faults:
        return None
    drops = [drop for drop in before.drops if id(drop.statement) not in went]
    place = max((at for at, drop in enumerate(drops, 1) if drop.statement is exchange.above), default=0)
    redraft.layout = before._replace(drops=[*drops[:place], *new, *drops[place:]])
    lines = [one.at for one in exchange.gone]
    return redraft.done([fault for fault in faults if not any(line.holds(fault.at) for line in lines)])
