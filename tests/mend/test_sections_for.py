"""The sections that may be meant for some reversers are found without looking at all others of a plan."""

from __future__ import annotations

from random import Random

from hypothesis import settings

from circuit.test_difference import facts_of
from mend.test_sections import WYE
from oracle.plans import big_layout
from railbond.circuit.facts import Facts
from railbond.fixes.section import Section
from railbond.fixes.section_supplies import reverser_for
from railbond.fixes.sections import sections_for
from trackplan.edit import add_line

RANDOM = max(12, settings().max_examples // 50)


def joined_somewhere(number: int, turnouts: int) -> Facts:
    """A plan one of whose reversers is joined to its district, so that nothing parts any section."""
    dice = Random(number)
    facts = facts_of(big_layout(turnouts, number))
    reversers = [name for name, one in facts.layout.supplies.items() if one.kind == "reverser"]
    feeders = [drop.statement for drop in facts.layout.drops if drop.wire.name not in reversers]
    edit = add_line(feeders[0].at, f"feeder {dice.choice(reversers or ['main'])} -> {dice.choice(feeders).rail}")
    return facts.revised((edit,))


def told(facts: Facts, found: list[Section]) -> set[str]:
    return {name for section in found if (name := reverser_for(facts, section))}


def test_the_sections_for_a_reverser_are_those_of_all_that_are_meant_for_it() -> None:
    seen = fewer = 0
    for number in range(RANDOM):
        facts = joined_somewhere(number, 20 + 6 * number)
        reversers = {name for name, one in facts.layout.supplies.items() if one.kind == "reverser"}
        every = list(sections_for(facts, reversers))
        for name in reversers:
            own = list(sections_for(facts, {name}))
            assert told(facts, own) & {name} == told(facts, every) & {name}
            seen += name in told(facts, every)
            fewer += len(own) < len(every)
    assert seen > 20 and fewer > 20, (seen, fewer)


def test_the_tail_of_a_wye_hangs_on_what_turns() -> None:
    facts = facts_of(WYE.format(tail="2 m") + "reverser R1 in main\nfeeder R1 -> tail\n")
    assert told(facts, list(sections_for(facts, {"R1"}))) == {"R1"}
