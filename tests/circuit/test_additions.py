"""A plan with lines added, whose layout and rail graph are told from those before: what would be made anew."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from hypothesis import settings

from circuit.test_difference import facts_of, plans
from railbond.circuit.facts import Facts
from railbond.fixes.making_sections import ways_to_make
from railbond.fixes.sections import turns
from railbond.layout.difference import has_same_metal, rewired
from trackplan.amend import set_word
from trackplan.edit import Edit, add_line
from trackplan.statements import ClosureBond, Feeder, Gap, Reverser

MOST = max(6, settings().max_examples // 50)
"""Changes of each kind in a plan."""


def additions(facts: Facts, dice: Random) -> Iterator[tuple[Edit, ...]]:
    """Cuts at joints, feeders, reversers that nothing needs, and sections with all that they take."""
    near = facts.statements[-1].at
    for meeting in dice.sample(facts.layout.meetings, min(MOST, len(facts.layout.meetings))):
        ends = meeting.one, meeting.other
        rail = dice.choice(("both rails", "left rail", "frog rail", "left rail", "right rail"))
        yield (add_line(near, f"gap {dice.choice((*ends, meeting.name or ends[0]))}  {rail}"),)
        yield tuple(
            add_line(near, f"gap {end}  {one}") for end, one in zip(ends, ("left rail", "frog rail"), strict=True)
        )
    for piece in dice.sample([*facts.layout.pieces.values()], min(3 * MOST, len(facts.layout.pieces))):
        places = dice.sample(("1 mm", "10 cm", "25 cm", "50 cm"), 2)
        rails = dice.choices(("left rail", "right rail", "both rails"), k=2)
        if piece.template.length:
            yield (
                *(add_line(near, f"gap {piece.name} at {at}  {one}") for at, one in zip(places, rails, strict=True)),
            )
        else:
            work = ("bond {}  closure rails to stock rails", "cut {}  around frog", "cut {}  closure jumpers")
            yield (add_line(near, dice.choice(work).format(piece.name)),)
    wires = [one.name for one in facts.layout.supplies.values()] or ["main"]
    for feeder in [one for one in facts.statements if isinstance(one, Feeder)][:MOST]:
        wire = dice.choice((str(feeder.supply), *wires))
        crossed = dice.choice(("", "  crossed"))
        yield (add_line(near, f"reverser R99  in {dice.choice(wires)}"), add_line(near, f"feeder R99 -> {feeder.rail}"))
        yield (add_line(near, f"feeder {wire} -> {feeder.rail}{crossed}"),)
    for turn in turns(facts)[:MOST]:
        yield from (fix.edits for section in turn.sections for fix in ways_to_make(facts, section))


def test_lines_that_are_added_make_the_layout_and_the_graph_that_they_would_make_anew() -> None:
    told: dict[type | None, int] = {}
    tried = anew = recut = 0
    for number, text in enumerate(plans()):
        facts = facts_of(text)
        for edits in additions(facts, Random(number)):
            try:
                changed = facts.revised(edits)
            except ValueError:
                continue
            is_told = rewired(facts.layout, facts.statements, changed.statements) is not None
            kinds = {type(one) for one in changed.statements[len(facts.statements) :]} if is_told else {None}
            told |= {kind: told.get(kind, 0) + 1 for kind in kinds}
            assert_as_anew(changed)
            is_recut = is_told and not has_same_metal(facts.layout, changed.layout)
            recut += is_recut
            tried += is_told and not is_recut
            anew += is_told and not is_recut and changed.wiring.first is not facts.wiring.first
    assert anew * 100 < tried, "the rail graph is told too, but where a cut is moved to where there is no place for it"
    assert min(told.get(kind, 0) for kind in (Gap, Reverser, Feeder, ClosureBond)) > 10 and recut > 50, (told, recut)


def test_a_gap_that_cuts_the_other_rail_too_makes_the_layout_and_the_graph_that_it_would_make_anew() -> None:
    told = 0
    for text in plans():
        facts = facts_of(text)
        for gap in [one for one in facts.statements if isinstance(one, Gap) and one.rail != "both rails"]:
            for rail in ("both rails", "left rail", "right rail"):
                changed = facts.revised((set_word(gap, gap.rail, rail),))
                told += rewired(facts.layout, facts.statements, changed.statements) is not None
                assert_as_anew(changed)
    assert told > 10, told


def assert_as_anew(changed: Facts) -> None:
    anew = Facts(changed.statements, changed.sources, changed.broken, changed.as_read, changed.made)
    assert changed.layout._replace(desk=None) == anew.layout._replace(desk=None)
    assert list(changed.layout.supplies) == list(anew.layout.supplies)
    assert list(changed.layout.acceptable) == list(anew.layout.acceptable)
    assert changed.graph == anew.graph and list(changed.graph.sources) == list(anew.graph.sources)
    assert changed.wiring[2:] == anew.wiring[2:]
    assert changed.proof.component == anew.proof.component
    assert (changed.shorts, changed.minglings, changed.opposed) == (anew.shorts, anew.minglings, anew.opposed)
    assert changed.turning.seams == anew.turning.seams
    assert [seam[:5] for seam in changed.turning.parting] == [seam[:5] for seam in anew.turning.parting]


def test_what_was_added_to_stays_as_it_was() -> None:
    facts = facts_of(next(plans()))
    before = (
        [dict(meeting.gaps) for meeting in facts.layout.meetings],
        list(facts.layout.faults),
        len(facts.graph.bonds),
    )
    near, (one, other, *_) = facts.statements[-1].at, facts.layout.meetings
    for meeting in (one, other):
        assert facts.revised((add_line(near, f"gap {meeting.one}  both rails"),)).graph
        for wrong in ("nowhere", f"{meeting.one.piece}.nowhere"):
            assert facts.revised((add_line(near, f"gap {wrong}  both rails"),)).layout.faults
    assert before[0] == [dict(meeting.gaps) for meeting in facts.layout.meetings]
    assert before[1:] == (list(facts.layout.faults), len(facts.graph.bonds))
