"""Modules that are each right at home, and are coupled, plugged in or parted wrongly on the day: nothing is to be
rewired in any of them, and the line of the meet that is wrong is looked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.explaining.couplings import couple_slips
from railbond.explaining.runs import run_slips
from railbond.explaining.search import Explained, key
from railbond.explaining.slip import HandSlip
from railbond.explaining.symptoms import Symptoms, symptoms
from railbond.explaining.telling import told
from railbond.findings import Finding
from trackplan.statements import AnyOrder, Bus, Couple

from .day_slips import day_slips
from .meet_facts import MeetFacts
from .misfit import is_of_a_couple, misfit

MOST_SLIPS = 3
"""Couplings that may be wrong at once."""

MOST_TRIED = 80
"""Couplings and plugs that are tried the other way round; each builds the whole anew."""

OF_THE_DAY = ("gap", "crosswise")
"""Kinds of slips at a coupling, a cut that was forgotten and tracks crosswise, that are nobody's module."""

Ask = Callable[[Facts], list[Finding]]


class Disagreement(NamedTuple):
    """The finding, for the owners of both modules, and what else goes away with it."""

    finding: Finding
    gone: tuple[Finding, ...]


class _Undone(NamedTuple):
    slip: HandSlip
    facts: MeetFacts
    left: Symptoms


def disagreements(whole: MeetFacts, ask: Ask) -> tuple[list[Disagreement], MeetFacts]:
    """Lines of the meet that explain what is electrically wrong with the whole; and the whole with them put right."""
    found: list[Disagreement] = []
    while len(found) < MOST_SLIPS and not (before := symptoms(whole)).none and not before.faults:
        undone = sorted(_undone(whole, before), key=lambda one: (not one.left.none, sum(one.left), -one.slip.weight))
        if not undone or not (undone[0].left.none or is_of_a_couple(whole, undone[0].slip)):
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


def _told(whole: MeetFacts, undone: list[_Undone], ask: Ask) -> Disagreement | None:
    best, now = undone[0], {key(one) for one in ask(undone[0].facts)}
    gone = tuple(one for one in ask(whole) if key(one) not in now and one.level != "note")
    if not gone:
        return None
    couple = next((one for one in whole.statements if isinstance(one, Couple) and one.at == best.slip.at), None)
    if couple is None or best.slip.kind in OF_THE_DAY:
        as_good = tuple(one.slip for one in undone[1:] if one.left == best.left)
        return Disagreement(told(Explained(best.slip, gone, as_good[:MOST_SLIPS]), whole), gone)
    cured = [one.slip for one in undone if one.left == best.left]
    return Disagreement(misfit(whole, couple, gone, cured), gone)
