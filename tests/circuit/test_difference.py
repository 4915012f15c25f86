"""A layout and a rail graph that are told from those before a change are those that would be made anew."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from hypothesis import settings

from benchmark.start import SOUND, spoilt
from oracle.plans import random_sound, random_wild, seed_faults
from railbond.circuit.facts import Facts
from railbond.circuit.questions import opposed
from railbond.doorway import enter
from railbond.explaining.catalog import of_line
from railbond.explaining.slip import HandSlip
from railbond.explaining.symptoms import symptoms
from railbond.fixes.fix_edits import rewritten_frog
from railbond.layout.difference import rewired
from railbond.layout.model import FrogFeed
from trackplan.amend import parts_of, set_statement, set_word
from trackplan.edit import Edit
from trackplan.quantities import Quantity
from trackplan.statements import Feeder, FrogFromStockRails, FrogSwitched, Segment, Statement

EXAMPLES = Path(__file__).parents[2] / "example_plans"
RANDOM = max(9, settings().max_examples // 100)
"""Random plans of either kind: thirty in the thorough profile."""
NAMES = ("car_shops", "engine_terminal", "hand_throttle_branch", "station_throat", "quarry_crossing", "mill_branch")


def plans() -> Iterator[str]:
    yield spoilt(SOUND.read_text(encoding="utf-8"))
    yield from ((EXAMPLES / f"{name}.trackplan").read_text(encoding="utf-8") for name in NAMES)
    for number in range(RANDOM):
        yield random_wild(Random(number), 5)
        yield seed_faults(random_sound(Random(number), 6), 2, Random(number))[0]


def facts_of(text: str) -> Facts:
    engines = (EXAMPLES / "engines.trackplan").read_text(encoding="utf-8")
    return enter("plan", {"plan": text, "engines.trackplan": engines}.__getitem__).facts


def changes(facts: Facts, dice: Random) -> Iterator[Facts]:
    """The plan with some of the slips of each line undone."""
    for statement in facts.statements:
        slips = list(of_line(facts, statement)) if statement.at.end > statement.at.start else []
        slips = dice.sample(slips, min(2, len(slips)))
        for slip in (*slips, *other_numbers(statement, dice)):
            try:
                yield facts.revised(slip.edits)
            except ValueError:
                continue


def other_numbers(statement: Statement, dice: Random) -> Iterator[HandSlip]:
    """A number of a line, such as its length, its place or a size, in another unit or a digit longer."""
    numbers = [one for one in parts_of(tuple(statement[1:])) if isinstance(one, Quantity) and one.text]
    if numbers:
        one = dice.choice(numbers)
        text = dice.choice(
            (f"1{one.text}", one.text.replace("cm", "mm"), one.text.replace(" m", " cm"), "3 m", "20 AWG")
        )
        yield HandSlip("unit", statement.at, (set_word(statement, one, text),), "", "", ())


def test_wires_that_change_make_the_layout_and_the_graph_that_they_would_make_anew() -> None:
    told = seen = 0
    for text in plans():
        for changed in changes(facts_of(text), Random(seen)):
            seen += 1
            known = changed.before
            assert known
            if rewired(known.layout, known.statements, changed.statements) is None:
                continue
            told += 1
            anew = Facts(changed.statements, changed.sources, changed.broken, changed.as_read, changed.made)
            assert changed.layout._replace(desk=None) == anew.layout._replace(desk=None)
            assert changed.graph == anew.graph
            assert changed.wiring[2:] == anew.wiring[2:]
            assert changed.proof.component == anew.proof.component
            assert changed.untouched.component == anew.untouched.component
            assert symptoms(changed) == symptoms(anew)
            assert changed.turning.seams == anew.turning.seams
    assert told > seen / 4


def test_track_of_another_length_has_the_graph_that_it_had() -> None:
    """And what hangs on that alone is not worked out again; what is soldered in the midst of the track moves along."""
    facts = facts_of(re.sub(" at +[0-9.]+ c?m", "", SOUND.read_text(encoding="utf-8")))
    told = 0
    for one in (one for one in facts.statements if isinstance(one, Segment)):
        changed = facts.revised((set_word(one, one.length, "1234 mm"),))
        anew = Facts(changed.statements, changed.sources)
        assert changed.layout._replace(desk=None) == anew.layout._replace(desk=None)
        assert changed.graph is facts.graph and changed.graph == anew.graph
        assert changed.proof is facts.proof and changed.shorts is facts.shorts
        assert changed.layout.pieces[str(one.name)].template.length == 1.234
        told += changed.layout.drops != facts.layout.drops
    assert told


def test_what_is_wrong_with_a_wire_itself_goes_with_it_and_nothing_else_does() -> None:
    text = SOUND.read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if line.startswith("feeder")]
    for line in lines[:2]:
        text = text.replace(line, f"{line.split(' at ')[0].split('  2')[0]}  at 99 m")
    facts = facts_of(text)
    assert len(facts.layout.faults) == 2
    feeder = next(one for one in facts.statements if isinstance(one, Feeder))
    assert feeder.place
    changed = facts.revised((set_word(feeder, feeder.place, "9 cm"),))
    assert rewired(facts.layout, facts.statements, changed.statements)
    assert changed.layout.faults == Facts(changed.statements, changed.sources).layout.faults == facts.layout.faults[1:]
    still = facts.revised((set_word(feeder, feeder.place, "98 m"),))
    assert rewired(facts.layout, facts.statements, still.statements)
    assert still.layout.faults == Facts(still.statements, still.sources).layout.faults


def test_a_drop_whose_length_was_in_doubt_is_laid_out_anew() -> None:
    facts = facts_of(SOUND.read_text(encoding="utf-8").replace("22 AWG  20 cm", "22 AWG  20 m", 1))
    feeder = next(one for one in facts.statements if isinstance(one, Feeder))
    assert feeder.length and len(facts.layout.faults) == 1
    changed = facts.revised((set_word(feeder, feeder.length, "20 cm"),))
    assert rewired(facts.layout, facts.statements, changed.statements) is None and not changed.layout.faults


def test_contacts_that_hang_on_other_wires_are_told_too() -> None:
    """Each frog through contacts from its own stock rails, and those of stock rails from wires."""
    told = seen = 0
    for text in plans():
        facts = facts_of(text)
        for feed in facts.layout.frogs.values():
            one = feed.statement
            if not isinstance(one, FrogSwitched | FrogFromStockRails) or "/" in one.at.path or facts.layout.faults:
                continue
            is_wired = isinstance(one, FrogSwitched)
            changed = facts.revised(rewritten_frog(facts, feed) if is_wired else _from_wires(facts, feed))
            seen += 1
            told += rewired(facts.layout, facts.statements, changed.statements) is not None
            anew = Facts(changed.statements, changed.sources, changed.broken, changed.as_read, changed.made)
            assert changed.layout._replace(desk=None) == anew.layout._replace(desk=None)
            assert changed.graph == anew.graph
    assert told > seen / 2 > 20


def _from_wires(facts: Facts, feed: FrogFeed) -> tuple[Edit, ...]:
    supply = next(iter(facts.layout.supplies.values()))
    red, black = (f"{supply.name}.{leg}" for leg in supply.legs)
    return (set_statement(feed.statement, f"frog {feed.statement.turnout}  switched through {red}  diverging {black}"),)


def test_passes_of_lumps_are_those_that_each_pass_by_itself_is() -> None:
    found = 0
    for text in plans():
        facts = facts_of(text)
        asked = ((roll, opposed(facts.proof, roll.one, roll.other, roll.needs)) for roll in facts.graph.rolls)
        alone = tuple((roll, setting) for roll, setting in asked if setting is not None)
        assert facts.opposed == alone
        found += len(alone)
    assert found > 20


def test_a_change_of_a_change_is_told_too() -> None:
    facts = facts_of(SOUND.read_text(encoding="utf-8"))
    for number, feeder in enumerate(one for one in facts.statements if isinstance(one, Feeder)):
        if number < 4:
            swap = next(slip for slip in of_line(facts, feeder) if slip.kind in ("swapped", "uncrossed"))
            facts = facts.revised(swap.edits)
    assert facts.before and rewired(facts.before.layout, facts.before.statements, facts.statements)
    assert facts.graph == Facts(facts.statements, facts.sources).graph


@pytest.mark.parametrize("word", ["P9", "P1.green"])
def test_a_wire_to_nowhere_is_told_by_the_whole_plan(word: str) -> None:
    text = SOUND.read_text(encoding="utf-8")
    line = "feeder    P1 -> west "
    facts = facts_of(text)
    feeder = next(one for one in facts.statements if isinstance(one, Feeder))
    wrong = next(
        one for one in facts_of(text.replace(line, line.replace("P1", word))).statements if type(one) is Feeder
    )
    new = tuple(wrong if one is feeder else one for one in facts.statements)
    assert rewired(facts.layout, facts.statements, new) is None
    assert not facts.layout.faults
