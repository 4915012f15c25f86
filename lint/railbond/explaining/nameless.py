"""Names that nothing bears, by what is missing: the bus run to a terminal, the one leg or end that is left."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from railbond.fixes.fix_edits import beside, is_single
from railbond.fixes.wires_nearby import idle_wires
from railbond.layout.misread import ends_named
from railbond.layout.model import Fault
from railbond.layout.terminals import WHAT
from trackplan.amend import parts_of, set_word
from trackplan.edit import add_line, replace
from trackplan.span import Word
from trackplan.statements import Block, Bus, Feeder, Statement

from .meant import stem
from .slip import HandSlip
from .wires import local_name

MOST_SOURCES = 4
"""Supplies and terminals from which a forgotten run may come, those first that feed nothing."""

FEWEST_LINES = 2
"""Lines that name a block before it is one that was forgotten, and no slip of the pen."""

USED = 1.0
"""How much further off, in steps, one is that feeds something already."""


def nameless_slips(facts: Facts) -> Iterator[HandSlip]:
    """For every name that nothing bears, what may be missing."""
    for fault in facts.layout.faults:
        if fault.rule == "unknown-name":
            yield from _run_forgotten(facts, fault)
            yield from _block_forgotten(facts, fault)
            yield from _of_few(facts, fault)
            yield from _other_points(facts, fault)
    yield from _without_a_leg(facts)


def _typed(facts: Facts, fault: Fault) -> str:
    return facts.sources[fault.at.path].part(fault.at.start, fault.at.end)


def _run_forgotten(facts: Facts, fault: Fault) -> Iterator[HandSlip]:
    """Wires come from a terminal that no run leads to."""
    name = _typed(facts, fault).partition(".")[0]
    lines = sum(isinstance(one, Feeder) and one.supply.partition(".")[0] == name for one in facts.statements)
    if fault.lacks != WHAT or not (facts.layout.runs or lines > 1):
        return
    idle = idle_wires(facts)
    others = (one for one in _wires(facts) if one not in idle)
    sources = [*idle, *sorted(others, key=lambda one: not _goes_on(local_name(one), name))]
    known = [one for one in map(local_name, sources) if one != name]
    for far, source in enumerate(known[:MOST_SOURCES]):
        words, said = f"lay a bus run from {source} to {name}", f"no bus run leads to {name}"
        edits = (add_line(beside(facts, Bus, fault.at), f"bus {source} -> {name}"),)
        used = USED * (source not in map(local_name, idle))
        yield HandSlip("run forgotten", fault.at, edits, words, said, (name, source), far + used)


def _goes_on(one: str, other: str) -> bool:
    """Whether a run may go on from one terminal to another by their numbers: from `P2` to `P3`."""
    first, then = one.removeprefix(stem(one)), other.removeprefix(stem(other))
    return stem(one) == stem(other) and bool(first and then) and int(then) - int(first) == 1


def _block_forgotten(facts: Facts, fault: Fault) -> Iterator[HandSlip]:
    """A run begins at a name that another line has too, or a drop at one where drops come from blocks themselves: one
    like all others."""
    name, blocks = _typed(facts, fault), list(of_kind(facts, Block))
    named = [one for one in facts.statements if name in _words_of(one)]
    likes = {(one.district, tuple(one.others or ())) for one in blocks}
    if fault.lacks != WHAT or len(likes) != 1:
        return
    begins_a_run = len(named) >= FEWEST_LINES and any(isinstance(one, Bus) and one.supply == name for one in named)
    if begins_a_run or _hang_on_blocks(facts, {str(one.name) for one in blocks} | {name}):
        (district, others), near = likes.pop(), beside(facts, Block, fault.at)
        edits = (add_line(near, f"block {name} in {' or '.join((district, *others))}"),)
        words, said = (
            f"write that {name} is a block in {' or '.join((district, *others))}",
            f"no line says what {name} is",
        )
        yield HandSlip("block forgotten", fault.at, edits, words, said, (name,))


def _hang_on_blocks(facts: Facts, blocks: set[str]) -> bool:
    """Whether all pairs of wires of a plan, and no runs, come from such blocks."""
    pairs = [str(one.supply) for one in facts.statements if isinstance(one, Feeder) and not is_single(one)]
    return len(pairs) > len(blocks) // 2 and set(pairs) <= blocks and not facts.layout.runs


def _other_points(facts: Facts, fault: Fault) -> Iterator[HandSlip]:
    """Contacts of points that never stand so: those that lead to the track which the wires go to."""
    feeders = (one for one in of_kind(facts, Feeder) if one.at.holds(fault.at))
    for one in feeders:
        if one.contacts is None:
            continue
        word, position = one.contacts
        piece = one.rail.partition(".")[0]
        for meeting in facts.layout.meetings if position == _typed(facts, fault) else ():
            for here, there in ((meeting.one, meeting.other), (meeting.other, meeting.one)):
                if local_name(there.piece) == piece and here.end == position and local_name(here.piece) != word:
                    name = local_name(here.piece)
                    words = f"solder the wires to {piece} to contacts that {name} moves"
                    said = f"the contacts of the wires to {piece} move with {word} in place of {name}"
                    yield HandSlip("mover", one.at, (set_word(one, word, name),), words, said, (piece, name))


def _without_a_leg(facts: Facts) -> Iterator[HandSlip]:
    """A single wire from both legs of a supply: the one or the other."""
    told = [one.at for one in facts.layout.faults if one.rule == "impossible"]
    feeders = [one for one in facts.statements if isinstance(one, Feeder)] if told else []
    for one in (feeder for feeder in feeders if any(feeder.at.holds(at) for at in told)):
        whole = next((name for name in _wires(facts) if local_name(name) == one.supply), "")
        for leg in facts.layout.legs_of(whole) if whole and is_single(one) else ():
            words, said = f"solder the wire to {one.rail} to {one.supply}.{leg}", f"the wire to {one.rail} names no leg"
            edits = (set_word(one, one.supply, f"{one.supply}.{leg}"),)
            yield HandSlip("name", one.at, edits, words, said, (one.rail.partition(".")[0],))


def _words_of(statement: Statement) -> set[str]:
    """The names that a statement says."""
    return {str(part) for part in parts_of(tuple(statement[1:])) if isinstance(part, Word)}


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
