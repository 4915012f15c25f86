"""New drops as they are soldered in practice: short, from a terminal under their rail to which the bus is led on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.power.copper import SHORT
from railbond.layout.limits import limit
from trackplan.quantities import WireSize, amount
from trackplan.record import NamedTuple
from trackplan.statements import Bus, Feeder

USUAL_DROP = 0.3
"""Meters from a terminal under the benchwork up to the rail (common practice: a foot at most)."""
USUAL_BUS = {True: "14 AWG", False: "2.5 mm2"}
"""What a bus run is at least, by whether sizes are told in AWG (common practice)."""


class SolderedDrop(NamedTuple):
    """A new drop as it is soldered, `meters` long. Where the way is further, `terminal` is a new one to which `run`
    meters of bus of a size are led on; empty for a drop from where its line says."""

    drop: Feeder
    meters: float
    terminal: str = ""
    run: float = 0.0
    size: str = ""


def led_on(facts: Facts, drops: Iterable[Feeder]) -> Iterator[SolderedDrop]:
    """New drops, each that would be long with the bus run that makes it short."""
    drops = list(drops)
    if not drops:
        return
    taken = {str(getattr(one, name)) for one in facts.statements for name in ("name", "terminal") if hasattr(one, name)}
    short = min(_usual(facts), SHORT)
    for drop in drops:
        meters = float(drop.length or 0.0)
        known = drop.supply in facts.layout.terminals or drop.supply in facts.layout.supplies
        if drop.size is None or meters <= SHORT or not known:
            yield SolderedDrop(drop, meters)
            continue
        terminal = next(name for number in range(1, len(taken) + 2) if (name := f"P{number}") not in taken)
        taken.add(terminal)
        run = -(-(meters - short) * 10 // 1) / 10
        yield SolderedDrop(drop, short, terminal, run, _size(facts, drop, drop.size))


def _usual(facts: Facts) -> float:
    """How long the drops of a plan are."""
    own = [float(one.length) for one in facts.statements if isinstance(one, Feeder) and one.length is not None]
    if own:
        from statistics import median  # which brings fractions, decimals and chance with it

        return median(own)
    return limit(facts.layout, "feeder-length") or USUAL_DROP


def _size(facts: Facts, drop: Feeder, least: WireSize) -> str:
    """The size of the run that it goes on from, unless the drop, or what is usual, is thicker."""
    runs = [run.statement for run in facts.layout.runs if run.terminal == drop.supply]
    own = [one.size for one in runs if isinstance(one, Bus) and one.size is not None]
    name = USUAL_BUS[not least.metric]
    usual = WireSize(amount("SIZE", name), name)
    return max([*own, least, usual], key=float).text
