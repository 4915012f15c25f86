"""Plans from which wiring is taken away: all of it, or a part chosen at random."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from railbond.circuit.facts import Facts
from trackplan.gather import gather
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import (
    Accept,
    Bus,
    ClosureBond,
    Cut,
    District,
    Feeder,
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    FrogUnpowered,
    Gap,
    Reverser,
    Statement,
)

WIRING = (
    Accept, Bus, ClosureBond, Cut, District, Feeder, FrogAutomatic, FrogFromStockRails, FrogSwitched, FrogUnpowered,
    Gap, Reverser,
)  # fmt: skip
"""What a plan has besides track, boosters, cabs, blocks, common rails, engines and judgments."""


def bare(text: str) -> str:
    """A plan without any of its wiring."""
    source = Source("plan", text)
    return without(text, [one for one in read(source).statements if isinstance(one, WIRING)])


def thinned(path: str, text: str, open_text: Callable[[str], str], rng: Random, share: float = 0.5) -> str:
    """A plan without a share of its wiring, and without what then names something that is gone."""
    source = Source(path, text)
    wiring = [one for one in read(source).statements if isinstance(one, WIRING)]
    text = without(text, rng.sample(wiring, round(len(wiring) * share)))
    while True:
        statements = [one for one in read(Source(path, text)).statements if isinstance(one, WIRING)]
        faults = _faults(path, text, open_text)
        gone = [one for one in statements if any(one.at.start <= at <= one.at.end for at in faults)]
        if not gone:
            return text
        text = without(text, gone)


def _faults(path: str, text: str, open_text: Callable[[str], str]) -> list[int]:
    gathered = gather(path, lambda one: text if one == path else open_text(one))
    facts = Facts(gathered.statements, gathered.sources, gathered.broken)
    return [one.at.start for one in facts.layout.faults if one.at.path == path and one.rule == "unknown-name"]


def without(text: str, statements: list[Statement]) -> str:
    """A text without the lines of some statements."""
    source = Source("plan", text)
    gone = {line for one in statements for line in range(source.line_of(one.at.start), source.line_of(one.at.end) + 1)}
    return "".join(line for number, line in enumerate(text.splitlines(keepends=True)) if number not in gone)
