"""Modules that are each right at home, and are coupled, plugged in or parted wrongly on the day.

Nothing is to be rewired in any of them. Where two edges do not fit, one module is turned, is coupled by its other end,
or gets a crossed plug: told at the line that couples them, to both owners. A wrong bus or cut is told at its own line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.explaining.couplings import couple_slips
from railbond.explaining.search import Explained, key
from railbond.explaining.slip import HandSlip
from railbond.explaining.symptoms import Symptoms, symptoms
from railbond.explaining.telling import told
from railbond.explaining.wires import run_slips
from railbond.findings import LEVELS, Finding, Fix
from trackplan.statements import AnyOrder, Bus, Couple

from .day_slips import day_slips
from .meet_facts import MeetFacts

MOST_SLIPS = 3
"""Couplings that may be wrong at once."""

MOST_TRIED = 80
"""Couplings and plugs that are tried the other way round; each builds the whole anew."""

DO_NOT_FIT = "do not fit as they are coupled"

SHORT = "legs-joined"

OF_THE_DAY = ("gap", "crosswise")
"""Kinds of slips at a coupling, a cut that was forgotten and tracks crosswise, that are nobody's module."""

Ask = Callable[[Facts], list[Finding]]


class Disagreement(NamedTuple):
    """The finding, for the owners of both modules, and what else goes away with it."""

    finding: Finding
    gone: tuple[Finding, ...]


def is_between(couple: Couple, finding: Finding) -> bool:
    """Whether a finding is that the two edges of a coupling do not fit."""
    return finding.message.startswith(f"{couple.one} and {couple.other} {DO_NOT_FIT}")


class _Undone(NamedTuple):
    slip: HandSlip
    facts: MeetFacts
    left: Symptoms


def disagreements(whole: MeetFacts, ask: Ask) -> tuple[list[Disagreement], MeetFacts]:
    """Lines of the meet that explain what is electrically wrong with the whole; and the whole with them put right."""
    found: list[Disagreement] = []
    while len(found) < MOST_SLIPS and not (before := symptoms(whole)).none and not before.faults:
        undone = sorted(_undone(whole, before), key=lambda one: (not one.left.none, sum(one.left), -one.slip.weight))
        if not undone or not (undone[0].left.none or _is_of_a_couple(whole, undone[0].slip)):
            break
        one = _told(whole, undone, ask)
        if one is None:
            break
        found.append(one)
        whole = undone[0].facts
    return found, whole


def _undone(whole: MeetFacts, before: Symptoms) -> Iterator[_Undone]:
    """The slips at couplings and plugs that make less wrong than before."""
    own = {path for scope in whole.scopes[:1] for path in scope.paths}
    wishes = {one.at for one in whole.meet.gathered.statements if isinstance(one, AnyOrder)}
    lines = (one for one in whole.statements if one.at.path in own and one.at not in wishes)
    tried = chain(day_slips(whole) if before.mingled else (), (slip for one in lines for slip in _slips(whole, one)))
    for slip, _ in zip(tried, range(MOST_TRIED), strict=False):
        revised = whole.tried(slip.edits)
        if revised is None:
            continue
        left = symptoms(revised)
        if left.is_less(before):
            yield _Undone(slip, revised, left)


def _slips(whole: MeetFacts, statement: object) -> Iterator[HandSlip]:
    if isinstance(statement, Couple) and statement.at.start < statement.at.end:
        yield from couple_slips(whole, statement)
    elif isinstance(statement, Bus) and statement.at.start < statement.at.end:
        yield from (slip for slip in run_slips(whole, statement) if slip.kind in ("run", "uncrossed"))


def _is_of_a_couple(whole: MeetFacts, slip: HandSlip) -> bool:
    return any(isinstance(one, Couple) and one.at == slip.at for one in whole.statements)


def _told(whole: MeetFacts, undone: list[_Undone], ask: Ask) -> Disagreement | None:
    best, now = undone[0], {key(one) for one in ask(undone[0].facts)}
    gone = tuple(one for one in ask(whole) if key(one) not in now and one.level != "note")
    if not gone:
        return None
    couple = next((one for one in whole.statements if isinstance(one, Couple) and one.at == best.slip.at), None)
    if couple is None or best.slip.kind in OF_THE_DAY:
        as_good = tuple(one.slip for one in undone[1:] if one.left == best.left)
        return Disagreement(told(Explained(best.slip, gone, as_good[:MOST_SLIPS]), whole), gone)
    main = max(gone, key=lambda one: (LEVELS.index(one.level), one.rule == SHORT))
    others = tuple(one._replace(fixes=(), why=()) for one in gone if one is not main)
    modules = str(couple.one).rpartition(".")[0], str(couple.other).rpartition(".")[0]
    finding = main._replace(
        at=couple.at,
        message=f"{_disagree(whole, couple)} So {_effect(main)}",
        fixes=tuple(_ways_out(whole, undone, couple, modules)),
        names=tuple(dict.fromkeys((str(couple.one), str(couple.other), *main.names))),
        also=tuple(one for one in others if one.rule != SHORT),
    )
    return Disagreement(finding, gone)


def _effect(main: Finding) -> str:
    """What happens, without a word about wires: none of a module's is wrong."""
    if main.rule != SHORT:
        return main.message
    return "the two legs meet in both rails, and the supply is shorted with no train on the track."


def _disagree(whole: MeetFacts, couple: Couple) -> str:
    """What is wrong between the two edges, in words."""
    edges = [whole.layout.edges.get(str(name)) for name in (couple.one, couple.other)]
    legs = {str(edge.statement.left) for edge in edges if edge and edge.statement.left is not None}
    both = f"looking out of either, the left rail carries {legs.pop()}" if len(legs) == 1 else "left meets right"
    return f"{couple.one} and {couple.other} {DO_NOT_FIT}, though each module is right at home: {both}."


def _ways_out(whole: MeetFacts, undone: list[_Undone], couple: Couple, modules: tuple[str, str]) -> Iterator[Fix]:
    """The module turned, or coupled by its other end, whichever cures; and a crossed plug."""
    cured = [one.slip for one in undone if one.left == undone[0].left]
    yield from (Fix(slip.words, slip.edits, proven="alone") for slip in cured if slip.at == couple.at)
    plugs = [slip for slip in cured if not _is_of_a_couple(whole, slip)]
    for slip in plugs:
        yield Fix(f"use a crossed plug: {slip.words}", slip.edits, proven="alone")
    if not plugs:
        other = modules[1]
        yield Fix(f"use a crossed plug: swap the two wires where {other} gets its power on the day, outside of it", ())
