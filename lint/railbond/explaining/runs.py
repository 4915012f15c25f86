"""Slips with bus runs: crossed, or begun at another supply or terminal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import islice

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.fixes.fix_edits import uncrossed
from railbond.fixes.wires_nearby import are_shared, words_of
from railbond.layout.model import Run
from railbond.layout.order import by_name
from trackplan.amend import set_word
from trackplan.statements import Bus

from .meant import LIKE, are_kin
from .slip import HandSlip
from .wires import IDLE, is_beside, local_name

MOST_SOURCES = 170
"""Other supplies and terminals at which a run may have been meant to begin: beyond, each lies further off than more of
these than are ever tried, whatever speaks for it."""

COPIED = 0.2
"""How much nearer, in steps, a slip lies in a line that begins as one before it: it was copied, and not all changed."""


def run_slips(facts: Facts, bus: Bus) -> Iterator[HandSlip]:
    """A bus run that is crossed, or that begins or ends elsewhere."""
    names = (str(bus.terminal),)
    words, said = f"swap the two wires of the bus run at {bus.terminal}", f"the bus run to {bus.terminal} is crossed"
    yield HandSlip("run" if bus.crossed is None else "uncrossed", bus.at, uncrossed(facts, bus), words, said, names)
    run = next((one for one in facts.layout.runs if one.statement.at == bus.at), None)
    if not run:
        return
    kinds, own = (facts.layout.supplies, facts.layout.terminals), (run.source, run.terminal)
    pool = (one for kind in kinds for one in sorted(kind, key=by_name) if is_beside(one, run.source) and one not in own)
    idle = IDLE if _all_behind(facts, run) else 0.0
    own_name, is_shared = _named_behind(facts, run, run.source), _runs_begun(facts)[run.source] > 1
    copied = COPIED * any(one.source == run.source and one.statement.at < bus.at for one in facts.layout.runs)
    for far, wire in enumerate(islice(pool, MOST_SOURCES)):
        name = local_name(wire)
        words = f"begin the bus run to {bus.terminal} at {name}"
        said = f"the bus run to {bus.terminal} begins at {bus.supply} in place of {name}"
        edits = (set_word(bus, bus.supply, name),)
        alike = are_kin(name, str(bus.terminal)) + _named_behind(facts, run, wire) - own_name
        near = copied + LIKE * (alike + (is_shared and _may_lack_one(facts, run, wire)))
        yield HandSlip("source", bus.at, edits, words, said, (*names, name), far / 4 + idle - near)


def _named_behind(facts: Facts, run: Run, wire: str) -> float:
    """Which share of the track that hangs on a run's terminal has a word of a wire's name in its own."""
    own = words_of(wire)
    if not own:
        return 0.0
    behind = _words_behind(facts).get(run.terminal, Counter[frozenset[str]]())
    return sum(times for words, times in behind.items() if are_shared(words, own)) / (sum(behind.values()) or 1)


@once
def _words_behind(facts: Facts) -> dict[str, Counter[frozenset[str]]]:
    """For each wire the words of the track that hangs on it, each with how much track has them: that of a yard has few,
    however long it is."""
    track: dict[str, set[str]] = {}
    for drop in facts.layout.drops:
        track.setdefault(drop.wire.name, set()).add(drop.piece)
    return {wire: Counter(map(words_of, pieces)) for wire, pieces in track.items()}


def _may_lack_one(facts: Facts, run: Run, wire: str) -> bool:
    """Whether no run begins at a supply that is of the kind of the one at which a run does."""
    supplies = facts.layout.supplies
    both = [supplies[name].kind for name in (run.source, wire) if name in supplies]
    return len(both) == 2 and both[0] == both[1] and wire not in _runs_begun(facts)


@once
def _runs_begun(facts: Facts) -> Counter[str]:
    """How many runs begin at each supply and terminal."""
    return Counter(one.source for one in facts.layout.runs)


def _all_behind(facts: Facts, run: Run) -> bool:
    """Whether all that a run's supplies feed hangs on the run's own terminal, or on what that feeds in turn."""
    supplies = facts.supply_of_wire.get(run.source, frozenset())
    behind, size = {run.terminal}, 0
    while len(behind) > size:
        size = len(behind)
        behind |= {one.terminal for one in facts.layout.runs if one.source in behind}
    wires = _words_behind(facts).keys() - behind
    return all(supplies.isdisjoint(facts.supply_of_wire.get(wire, supplies)) for wire in wires)
