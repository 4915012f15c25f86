"""Single edits that might cure a short, swapped wires among them, and the trial that tells which of them do."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from railbond.circuit.effort import is_scarce, is_spent
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond
from railbond.circuit.rewire import count_as_tried
from railbond.findings import Fix
from railbond.layout.model import Drop
from trackplan.amend import drop_clause
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import Bus, Cut, Feeder, FrogSwitched

from .fix_edits import gap_edits, is_fed_besides, line_after, local, moved, places_of, taken_out
from .swaps import swapped, target

MOST_TRIED = 24
"""Edits tried for one fault; a short's path is seldom longer."""


FEWEST_TRIED = 3
"""The same in a plan of so many faults that there is no time for all of them."""

ONE_TRIED = 1
"""The same where there is no time left at all."""


class CandidateFix(NamedTuple):
    """A mend, the line of the plan at which the fault is best told, and the names it can be accepted at."""

    at: Span
    fix: Fix
    names: tuple[str, ...]


def curing(
    facts: Facts, candidates: Iterable[CandidateFix | None], is_cured: Callable[[Facts], bool]
) -> list[CandidateFix]:
    """Those of the mends, each once, that cure the fault when tried on the plan in memory. None stands for one of which
    it is known that nothing comes of it."""
    good: dict[Fix, CandidateFix] = {}
    for number, candidate in enumerate(candidates):
        if number >= (ONE_TRIED if is_spent() else FEWEST_TRIED if is_scarce() else MOST_TRIED):
            break
        if candidate is None:
            count_as_tried(facts)
            continue
        tried = facts.tried(candidate.fix.edits)
        if tried is not None and is_cured(tried) and len(tried.layout.faults) <= len(facts.layout.faults):
            good.setdefault(candidate.fix, candidate)
    return list(good.values())


def on_path(facts: Facts, start: int, path: list[tuple[Bond, int]]) -> Iterator[CandidateFix]:
    """Every single edit that takes a bond of a path away or turns it round, the likeliest first."""
    order = {"bond": 0, "contact": 1, "wire": 2, "joint": 3}
    here, bonds = start, []
    for bond, there in path:
        bonds.append((bond, here, there))
        here = there
    for bond, one, other in sorted(bonds, key=lambda step: order.get(step[0].kind, 9)):
        yield from _of_bond(facts, bond, one, other)


def _of_bond(facts: Facts, bond: Bond, one: int, other: int) -> Iterator[CandidateFix]:
    if bond.kind == "bond":
        yield from _uncut_jumpers(facts, bond)
    if bond.kind == "contact":
        yield from _other_mover(facts, bond)
    if bond.kind in ("wire", "contact"):
        yield from _wire(facts, bond)
    if bond.kind == "joint":
        yield from _joint(facts, bond, one)


def _uncut_jumpers(facts: Facts, bond: Bond) -> Iterator[CandidateFix]:
    for piece in facts.layout.pieces.values():
        if any(work.at == bond.at for work in piece.work):
            name = local(piece)
            from .cut_metal import cuts_as_elsewhere

            what, metal = next(one for one in cuts_as_elsewhere(facts) if one[0] != "frog rails")
            edit = line_after(facts, Cut, piece.statement, f"cut {name}  {what}")
            yield CandidateFix(piece.statement.at, Fix(f"cut {metal.format(name)}", (edit,)), (piece.name,))


def _other_mover(facts: Facts, bond: Bond) -> Iterator[CandidateFix]:
    for name, feed in facts.layout.frogs.items():
        statement = feed.statement
        if statement.at == bond.at and isinstance(statement, FrogSwitched) and statement.mover is not None:
            edit = drop_clause(facts.sources[statement.at.path], statement, statement.mover, "with")
            words = f"feed the frog of {name} through contacts that its own points move"
            yield CandidateFix(statement.at, Fix(words, (edit,)), (name,))


def _wire(facts: Facts, bond: Bond) -> Iterator[CandidateFix]:
    for statement in facts.statements:
        if statement.at == bond.at and isinstance(statement, Feeder | Bus):
            names = (target(statement).split(".")[0],)
            swap = swapped(facts, (statement,))
            yield CandidateFix(statement.at, swap, names)
            if isinstance(statement, Feeder) and is_fed_besides(facts, statement):
                take = Fix(f"take the wire to {target(statement)} off", (taken_out(facts, statement),))
                yield CandidateFix(statement.at, take, names)


def _joint(facts: Facts, bond: Bond, one: int) -> Iterator[CandidateFix]:
    for meeting in facts.layout.meetings:
        if meeting.at != bond.at:
            continue
        for side in ("left", "right"):
            if {bond.one, bond.other} == set(facts.wiring.across(meeting, side)):
                edits = gap_edits(facts, meeting, (side,))
                words = f"cut {places_of(edits)}, or put an insulated joiner there"
                yield CandidateFix(meeting.at, Fix(words, edits), (meeting.one.piece, meeting.other.piece))


def moved_wires(facts: Facts, path: list[tuple[Bond, int]], supplies: tuple[str, str]) -> Iterator[CandidateFix]:
    """Each feeder on a path from one supply to another moved to that other one; a bus run that ties them taken off."""
    lines = {bond.at for bond, _ in path if bond.kind == "wire"}
    for feeder in {drop.statement.at: drop.statement for drop in facts.layout.drops}.values():
        if feeder.at in lines:
            yield from _to_other_supply(facts, feeder, supplies)
    for run in facts.layout.runs:
        if run.statement.at in lines and len(facts.supply_of_wire.get(run.terminal, ())) > 1:
            words = f"take the bus run from {run.source} to {run.terminal} off"
            yield CandidateFix(run.statement.at, Fix(words, (taken_out(facts, run.statement),)), (run.terminal,))


def _to_other_supply(facts: Facts, feeder: Feeder, supplies: tuple[str, str]) -> Iterator[CandidateFix]:
    own = frozenset(name for drop in facts.layout.drops if drop.statement is feeder for name in _behind(facts, drop))
    for supply in supplies:
        if supply not in own:
            wires = [drop.wire.name for drop in facts.layout.drops if _behind(facts, drop) == {supply}]
            wire = (wires or [supply])[0]
            words = f"move the wire to {feeder.rail} from {feeder.supply} to {wire}"
            yield CandidateFix(feeder.at, Fix(words, moved(facts, feeder, wire)), (feeder.rail.split(".")[0],))


def _behind(facts: Facts, drop: Drop) -> frozenset[str]:
    return facts.supply_of_wire.get(drop.wire.name, frozenset())
