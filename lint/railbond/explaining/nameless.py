"""Names that nothing bears, by what is missing: the bus run to a terminal, the one leg or end that is left."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.fixes.fix_edits import beside, is_single
from railbond.fixes.wires_around import idle_wires
from railbond.layout.misread import ends_named
from railbond.layout.model import Fault
from railbond.layout.terminals import WHAT
from trackplan.amend import set_word
from trackplan.edit import add_line, replace
from trackplan.span import Span
from trackplan.statements import Bus, Feeder

from .slip import HandSlip
from .wires import local_name

MOST_SOURCES = 4
"""Supplies and terminals from which a forgotten run may come, those first that feed nothing."""

USED = 1.0
"""How much further off, in steps, one is that feeds something already."""


def nameless_slips(facts: Facts) -> Iterator[HandSlip]:
    """For every name that nothing bears, what may be missing."""
    for fault in facts.layout.faults:
        if fault.rule == "unknown-name":
            yield from _run_forgotten(facts, fault)
            yield from _of_few(facts, fault)
    yield from _without_a_leg(facts)


def _typed(facts: Facts, fault: Fault) -> str:
    return facts.sources[fault.at.path].part(fault.at.start, fault.at.end)


def _run_forgotten(facts: Facts, fault: Fault) -> Iterator[HandSlip]:
    """Wires come from a terminal that no run leads to."""
    name = _typed(facts, fault).partition(".")[0]
    lines = sum(isinstance(one, Feeder) and one.supply.partition(".")[0] == name for one in facts.statements)
    if not fault.message.startswith(f"no {WHAT} ") or not (facts.layout.runs or lines > 1):
        return
    idle = idle_wires(facts)
    sources = [*idle, *(one for one in _wires(facts) if one not in idle)]
    known = [one for one in map(local_name, sources) if one != name]
    for far, source in enumerate(known[:MOST_SOURCES]):
        words, said = f"lay a bus run from {source} to {name}", f"no bus run leads to {name}"
        edits = (add_line(beside(facts, Bus, fault.at), f"bus {source} -> {name}"),)
        used = USED * (source not in map(local_name, idle))
        yield HandSlip("run forgotten", fault.at, edits, words, said, (name, source), far + used)


def _without_a_leg(facts: Facts) -> Iterator[HandSlip]:
    """A single wire from both legs of a supply: the one or the other."""
    told = [one.at for one in facts.layout.faults if one.rule == "impossible"]
    feeders = [one for one in facts.statements if isinstance(one, Feeder)] if told else []
    for one in (feeder for feeder in feeders if any(_holds(feeder, at) for at in told)):
        whole = next((name for name in _wires(facts) if local_name(name) == one.supply), "")
        for leg in facts.layout.legs_of(whole) if whole and is_single(one) else ():
            words, said = f"solder the wire to {one.rail} to {one.supply}.{leg}", f"the wire to {one.rail} names no leg"
            edits = (set_word(one, one.supply, f"{one.supply}.{leg}"),)
            yield HandSlip("name", one.at, edits, words, said, (one.rail.partition(".")[0],))


def _holds(statement: Feeder, at: Span) -> bool:
    own = statement.at
    return own.path == at.path and own.start <= at.start and at.end <= own.end


def _wires(facts: Facts) -> list[str]:
    return [*facts.layout.supplies, *facts.layout.terminals]


def _of_few(facts: Facts, fault: Fault) -> Iterator[HandSlip]:
    """A supply has two legs, and a piece few ends: whichever fits, an end only where no other line names it."""
    typed = _typed(facts, fault)
    head, dot, tail = typed.rpartition(".")
    whole = next((one for one in _wires(facts) if local_name(one) == head), "")
    legs = facts.layout.legs_of(whole) if whole else ()
    piece = next((one for name, one in facts.layout.pieces.items() if local_name(name) == head), None)
    named = {str(word) for _, word in ends_named(facts.statements)}
    ends = [end for end in piece.template.ends if f"{head}.{end}" not in named] if piece else ()
    for other in (*legs, *ends) if dot and tail not in legs else ():
        name = f"{head}.{other}"
        words, said = f"write `{name}` here", f"`{typed}` is a slip for `{name}`"
        yield HandSlip("name", fault.at, (replace(fault.at, name),), words, said, (*fault.names, head), USED)
