"""A reverser's section that the longest train bridges from end to end."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.running import measure
from railbond.findings import Fix, Found, Step
from railbond.layout.model import Layout
from trackplan.amend import set_word
from trackplan.quantities import Length
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import Train, where
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.running.reversing import Sections, Through


class Longest(NamedTuple):
    """What of the plan's trains bridges the most: its name, micrometers, where it says so, and that in words."""

    name: str
    length: int
    at: Span
    words: str
    statement: Train | None = None
    part: Length | None = None


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each section, by its shortest way through."""
    reversers = any(one.kind == "reverser" for one in facts.layout.supplies.values())
    longest = longest_metal(facts.layout) if reversers else None
    if longest is None:
        return
    from railbond.circuit.running.answers import running

    for sections in running(facts).sections.values():
        for apart in sections.apart:
            ways = [way for way in sections.conflicting if way.into in apart]
            if ways and ways[0].length < longest.length:
                yield _finding(facts, sections, ways[0], longest)


def longest_metal(layout: Layout) -> Longest | None:
    """The longest row of metal wheels: of the plan's trains, or of its engines where it names no train."""
    from railbond.circuit.running import micrometers
    from railbond.circuit.running.pickups import pickups

    trains = [
        Longest(str(one.name), micrometers(part), where(one, part), words, one, part)
        for one in layout.trains
        for part, words in [(one.metal, "has metal wheels over") if one.metal else (one.length, "is as long as")]
    ]
    engines = [Longest(one.name, one.span, one.statement.at, "picks up over") for one in pickups(layout) if not trains]
    return max((*trains, *engines), key=lambda one: one.length, default=None)


def _finding(facts: Facts, sections: Sections, way: Through, longest: Longest) -> Found:
    reverser = sections.reverser
    ends = sections.place(way.into), sections.place(way.out)
    at = facts.layout.supplies[reverser].statement.at
    return Found(
        at,
        f"the section of {reverser} is {measure(way.length)} long from {ends[0]} to {ends[1]}, and {longest.name} "
        f"{longest.words} {measure(longest.length)}: it can bridge both ends at once, which ask {reverser} for "
        "opposite polarities.",
        (
            *_over(facts, way),
            Step(longest.at, f"{longest.name} {longest.words} {measure(longest.length)}"),
        ),
        "", tuple(_fixes(facts, sections, way, longest)), (reverser, longest.name),
    )  # fmt: skip


def _over(facts: Facts, way: Through) -> Iterator[Step]:
    for leg in way.legs:
        yield Step(facts.layout.pieces[leg.piece].statement.at, f"the section runs over {leg.piece}")


def _fixes(facts: Facts, sections: Sections, way: Through, longest: Longest) -> Iterator[Fix]:
    from railbond.fixes.longer_section import laid_longer, longer
    from railbond.fixes.section_elsewhere import elsewhere

    moved = [fix] if (fix := longer(facts, sections, way, longest.length)) else []
    moved += elsewhere(facts, sections.reverser, longest.length / 1e6) if facts.with_fixes and not moved else []
    yield from moved
    if not moved and (laid := laid_longer(facts, way, longest.length)):
        yield laid
    if longest.statement and longest.part:
        centimeters = max(way.length // 10_000, 1)
        words = f"{centimeters / 100:g} m" if centimeters >= 100 else f"{centimeters} cm"
        yield Fix(
            f"keep the metal wheels of {longest.name} within {words}: a shorter train, or plastic wheels on its cars "
            f"(`metal-wheels` tells how far its metal ones reach)",
            (set_word(longest.statement, longest.part, words),),
            plain=False, changes=f"{longest.name} is shorter",
        )  # fmt: skip


_PLAN = """\
plan      "Balloon"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
reverser  R1    in main
segment   lead  stop -> T1.points  90 cm
turnout   T1    left  number 6  dead-frog
segment   out   T1.through -> A    30 cm
segment   loop  A -> B             1.4 m
segment   back  B -> T1.diverging  30 cm
bond      T1  closure rails to stock rails
{gaps}
feeder    main -> lead
feeder    {out} -> out
feeder    R1 -> loop
feeder    main -> back  crossed
train     longest  1.6 m
"""

RULE = Rule(
    name="reverser-short-of-train",
    level="warning",
    happens="short",
    turn=13,
    cause=False,
    find=find,
    when="there is a reverser",
    summary="A reverser's section is shorter than the longest train.",
    railroad=(
        "While wheels bridge the cuts at one end of the section, the reverser has turned to suit that end. If other "
        "metal wheels of the same train bridge the far end, which wants the opposite, it cannot suit both: it chatters "
        "and the breaker trips, with the train half in and half out. It takes metal wheels at both ends at the same "
        "moment, so with plastic wheels on the cars the engine's length counts. The same happens when a second train "
        "is at the other end."
    ),
    meter="With a tape along the track from cut to cut; and the longest train, from its first to its last metal wheel.",
    mend=(
        "Move the cuts apart, so that the whole train fits between them; or run shorter trains, or trains with plastic "
        "wheels behind the engine, which `metal-wheels` tells of a train."
    ),
    fails=_PLAN.format(gaps="gap       A  both rails\ngap       B  both rails", out="main"),
    passes=_PLAN.format(gaps="gap       T1.through  both rails\ngap       B           both rails", out="R1"),
)
RULES = (RULE,)
