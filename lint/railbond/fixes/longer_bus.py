"""New drops as they are soldered in practice: short, from a terminal under their rail to which the bus is led on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from statistics import median

from railbond.circuit.facts import Facts
from railbond.circuit.power.copper import SHORT
from railbond.layout.limits import limit
from trackplan.quantities import WireSize, amount
from trackplan.record import NamedTuple
from trackplan.statements import Bus, Feeder

USUAL_DROP = 0.3
"""Meters from a terminal under the benchwork up to the rail (common practice: a foot at most)."""
USUAL_BUS = {True: "14 AWG", False: "2.5 mm2"}
"""What a bus run is at least, by whether sizes are told in AWG."""


class LongerBus(NamedTuple):
    """A new drop, and the bus run to the terminal that it comes from; None for a drop that is short already."""

    drop: Feeder
    terminal: str
    meters: float
    """Of the drop."""
    run: float
    """Meters of the bus run."""
    size: str


def led_on(facts: Facts, drops: Iterable[Feeder]) -> Iterator[LongerBus | Feeder]:
    """Each new drop that would be long with the bus run that makes it short; short ones as they are."""
    taken = {str(getattr(one, name)) for one in facts.statements for name in ("name", "terminal") if hasattr(one, name)}
    meters = min(_usual(facts), SHORT)
    for drop in drops:
        known = drop.supply in facts.layout.terminals or drop.supply in facts.layout.supplies
        if drop.length is None or drop.size is None or drop.length <= SHORT or not known:
            yield drop
            continue
        terminal = next(name for number in range(1, len(taken) + 2) if (name := f"P{number}") not in taken)
        taken.add(terminal)
        run = -(-(float(drop.length) - meters) * 10 // 1) / 10
        yield LongerBus(drop, terminal, meters, run, _size(facts, drop, drop.size))


def _usual(facts: Facts) -> float:
    """How long the drops of a plan are."""
    own = [float(one.length) for one in facts.statements if isinstance(one, Feeder) and one.length is not None]
    return median(own) if own else limit(facts.layout, "feeder-length") or USUAL_DROP


def _size(facts: Facts, drop: Feeder, least: WireSize) -> str:
    """The size of the run that it goes on from, unless the drop, or what is usual, is thicker."""
    runs = [run.statement for run in facts.layout.runs if run.terminal == drop.supply]
    own = [one.size for one in runs if isinstance(one, Bus) and one.size is not None]
    name = USUAL_BUS[not least.metric]
    usual = WireSize(amount("SIZE", name), name)
    return max([*own, least, usual], key=float).text
