"""A proof that is told from one before says what one that is made anew says, whoever asks in what order."""

from __future__ import annotations

from itertools import islice
from random import Random

from circuit.test_difference import RANDOM, changes, facts_of, plans
from railbond.circuit.effort import spent
from railbond.circuit.facts import Facts
from railbond.circuit.graph import RailGraph
from railbond.circuit.proof import Proof
from railbond.circuit.rewire import count_as_tried, is_tied_as_before
from railbond.explaining.catalog import of_line
from railbond.fixes.fix_edits import rewritten_frog
from trackplan.edit import Edit
from trackplan.span import Span
from trackplan.statements import Feeder, FrogSwitched

SHARE = min(1.0, RANDOM / 300)
"""Of all slips of all lines: one in thirty, and one in ten in the thorough profile."""


def said(proof: Proof, graph: RailGraph, dice: Random) -> object:
    """All that a proof says, asked in any order."""
    order = dice.sample(range(len(graph.names)), len(graph.names))
    reached = dict(sorted((one, proof.reachable(one)) for one in order))
    return proof.component, proof.sources, proof.ties, reached, proof.unproven, proof.effort


def anew(facts: Facts) -> Facts:
    return Facts(facts.statements, facts.sources, facts.broken, facts.as_read, facts.made)


def test_what_is_told_from_before_is_what_is_so() -> None:
    """And is taken over only where nothing in it has changed; what hangs on it is then taken over, too."""
    same = taken = 0
    for number, text in enumerate(plans()):
        dice, facts = Random(number), facts_of(text)
        said(facts.proof, facts.graph, dice)
        some = [one for one in changes(facts, dice) if dice.random() < SHARE]
        for changed in some:
            for again in (changed, *islice(changes(changed, dice), 2)):
                fresh = anew(again)
                assert said(again.proof, again.graph, dice) == said(fresh.proof, fresh.graph, dice)
                assert (again.shorts, again.minglings, again.aliens) == (fresh.shorts, fresh.minglings, fresh.aliens)
                assert again.opposed == fresh.opposed
                assert (list(again.metal), dict(again.lone_frogs)) == (list(fresh.metal), dict(fresh.lone_frogs))
                dead = [one for one in fresh.graph.rails if not fresh.proof.reachable(one)]
                assert again.proof.dead(again.graph.rails) == dead
                same += again.proof is facts.proof
                taken += again.proof is not facts.proof and bool(again.proof.changed is not None)
    assert same > 10 < taken


def test_effort_hangs_on_the_plan_and_not_on_what_is_known() -> None:
    """A change that is taken back takes as much, whether the plan before it is known or not."""
    for text in plans():
        facts = facts_of(text)
        for feeder in [one for one in facts.statements if isinstance(one, Feeder)][:3]:
            for slip in list(of_line(facts, feeder))[:2]:
                wrong = facts.revised(slip.edits)
                typed = Facts(wrong.statements, facts.sources, before=facts)
                unknown = Facts(wrong.statements, facts.sources)
                mends = [_back(one, facts) for one in (typed, unknown)]
                known, other = ((*_effort(one), one.graph) for one in mends)
                assert known == other
                assert mends[0].graph is facts.graph or mends[0].graph != facts.graph


def test_a_frog_that_is_tied_as_before_need_not_be_tried() -> None:
    """With its contacts from its own rails all is then proven as it was, and that takes the effort that is counted."""
    told = []
    for text in plans():
        facts = facts_of(text)
        assert facts.proof.effort >= 0 <= len(facts.opposed)
        for feed in facts.layout.frogs.values():
            if isinstance(feed.statement, FrogSwitched):
                is_same = is_tied_as_before(facts, feed, feed._replace(kind="stock rails"))
                before = spent()
                made = facts.revised(rewritten_frog(facts, feed))
                assert not is_same or (made.proof is facts.proof and made.opposed is facts.opposed)
                effort = spent() - before
                count_as_tried(facts)
                assert not is_same or round(spent() - before - effort, 6) == round(effort, 6)
                told.append(is_same)
    assert 10 < sum(told) < len(told)


def _back(wrong: Facts, right: Facts) -> Facts:
    """The plan as it was, changed in the head from one that was spoilt and asked."""
    assert wrong.proof
    edit = Edit(Span("plan", 0, 0), "")
    return Facts(right.statements, wrong.sources, (), wrong.statements, (edit,), before=wrong)


def _effort(facts: Facts) -> tuple[float, object]:
    assert facts.wiring
    before = spent()
    found = facts.shorts, facts.opposed, facts.untouched.component, facts.proof.component
    return spent() - before, found
