"""A day of typing does not grow: what the store holds of a plan goes when the plan has changed."""

from __future__ import annotations

import gc
import os
import tracemalloc
from itertools import pairwise
from random import Random
from types import SimpleNamespace
from weakref import ref

import pytest

from benchmark.railroads import main_line
from editor.documents import YARD, Documents
from railbond.editor.railroad import shown_railroad
from railbond.recalling import MOST_WORKED
from railbond.steady import SteadyFile
from trackplan.read import forget

KEYS = 40
THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
HOUR = 60
"""Keys that change what is drawn, of each of twelve hours."""


def objects_after(documents: Documents, keys: range) -> int:
    """Things that are alive once so many keys have been typed, and each was answered; lines that were read are kept up
    to a number, and left out."""
    for key in keys:
        documents.put("yard", YARD.replace("3 m", f"{3 + key} m").replace("# ", f"# {key} "))
        view = documents.view
        assert view.plan.inspection.sources and view.plan.facts.proof
    forget()
    gc.collect()
    return len(gc.get_objects())


def test_typing_leaves_nothing_behind() -> None:
    """What other tests have left to be filled once, such as a cache, may grow in one stretch; a leak grows in each."""
    documents = Documents(yard=YARD)
    alive = [objects_after(documents, range(start * KEYS, (start + 2) * KEYS)) for start in range(0, 8, 2)]
    grown = [later - before for before, later in pairwise(alive)]
    assert min(grown) < KEYS, f"less than one thing for every other key: {grown}"


@pytest.mark.parametrize("typed", ["4 m", "4", "9000 m"])
def test_a_plan_that_was_typed_over_goes_at_once(typed: str) -> None:
    """With all that was worked out of it, sound or faulty, but for the facts of the last two, of which one may be
    what stands there again with the next key: while somebody types nobody looks for waste."""
    documents = Documents(yard=YARD.replace("3 m", typed))
    plan = documents.view.plan
    assert plan.inspection.sources and plan.facts.proof
    gone = [ref(one) for one in (plan, plan.opened, plan.facts, plan.facts.proof)]
    del plan
    gc.collect()
    gc.disable()
    try:
        for meters in range(5, 5 + MOST_WORKED):
            documents.put("yard", YARD.replace("3 m", f"{meters} m"))
            assert documents.view.plan.inspection.sources
        taken_over = documents.view.plan.facts.proof  # of a plan in which the length of a run is another
        assert [one() for one in gone if one() is not taken_over] == [None] * (4 - (gone[3]() is not None))
    finally:
        gc.enable()


def test_the_texts_before_go_key_by_key() -> None:
    """Those with room that a plan is inspected by, too, while nobody looks for waste."""
    documents = Documents(yard=YARD)
    assert documents.view.plan.inspection.sources
    gc.collect()
    others = _steady_files()
    gc.disable()
    try:
        for key in range(6):
            documents.put("yard", YARD.replace("3 m", f"{4 + key} m"))
            assert documents.view.plan.inspection.sources
        assert _steady_files() - others <= 1
    finally:
        gc.enable()


def _steady_files() -> int:
    return sum(isinstance(one, SteadyFile) for one in gc.get_objects())


@pytest.mark.skipif(not THOROUGH, reason="a day of typing takes minutes: it is part of the thorough profile")
def test_a_day_of_pictures_levels_off() -> None:
    """What is kept for the next picture goes with those before it: in megabytes, of a plan in which track, wires and
    names are typed at all day."""
    dice, lines, taken = Random(1), main_line(8).splitlines(), list[int]()
    documents = Documents(line="")
    tracemalloc.start()
    for key in range(12 * HOUR):
        documents.put("line", "\n".join(typed_at(line, dice) if dice.random() < 0.02 else line for line in lines))
        shown_railroad(documents.view, SimpleNamespace(page=False, has=None))
        if key % HOUR == HOUR - 1:
            forget()
            gc.collect()
            taken.append(tracemalloc.get_traced_memory()[0] // 1_000_000)
    tracemalloc.stop()
    assert max(taken[6:]) <= max(taken[:6]) + 4, f"megabytes after each {HOUR} keys: {taken}"


def typed_at(line: str, dice: Random) -> str:
    """One line as somebody leaves it: another name or length, a wire turned round, a turnout turned."""
    kind, *words = line.split()
    if kind == "segment" and dice.random() < 0.5:
        return " ".join([kind, f"{words[0]}{dice.randrange(10**6)}", *words[1:]])
    if kind == "segment":
        return " ".join([kind, *words[:-2], f"{dice.randint(20, 300)} cm"])
    return f"{line} crossed" if kind == "feeder" else line.replace(" left ", " right ")
