"""A stretch between analog and digital track that the longest train bridges from end to end."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.running import measure
from railbond.findings import Fix, Found, Step
from trackplan.amend import set_word
from trackplan.typed import TYPE_CHECKING

from .reverser_short_of_train import Longest, longest_metal
from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.running.reversing import Through
    from railbond.circuit.running.stretches import Stretches


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each stretch, by the shortest way through it."""
    analog = any(source.kind == "analog" for source in facts.graph.sources.values())
    longest = longest_metal(facts.layout) if analog else None
    if longest is None:
        return
    from railbond.circuit.running.answers import running
    from railbond.circuit.running.stretches import Stretches

    stretches = Stretches(facts.wiring, facts.proof, running(facts).track, frozenset(facts.lone_frogs))
    told: set[frozenset[str]] = set()
    for way in stretches.conflicting:
        places = frozenset((stretches.place(way.into), stretches.place(way.out)))
        if way.length < longest.length and places not in told:
            told.add(places)
            yield _finding(facts, stretches, way, longest)


def _finding(facts: Facts, stretches: Stretches, way: Through, longest: Longest) -> Found:
    ends = sorted((stretches.place(way.into), stretches.place(way.out)))
    pieces = [facts.layout.pieces[leg.piece] for leg in way.legs]
    return Found(
        pieces[0].statement.at,
        f"from {ends[0]} to {ends[1]}, between analog and digital track, there are {measure(way.length)}, and "
        f"{longest.name} {longest.words} {measure(longest.length)}: it can bridge both gaps at once and tie the two "
        "systems together.",
        (
            *(Step(piece.statement.at, f"the stretch runs over {piece.name}") for piece in pieces),
            Step(longest.at, f"{longest.name} {longest.words} {measure(longest.length)}"),
        ),
        "", tuple(_fixes(way, longest)), (*dict.fromkeys(piece.name for piece in pieces), longest.name),
    )  # fmt: skip


def _fixes(way: Through, longest: Longest) -> Iterator[Fix]:
    if longest.statement and longest.part:
        centimeters = max(way.length // 10_000, 1)
        yield Fix(
            f"keep the metal wheels of {longest.name} within {centimeters} cm: a shorter train, or plastic wheels on "
            "its cars (`metal-wheels` tells how far its metal ones reach); or move the gaps apart",
            (set_word(longest.statement, longest.part, f"{centimeters} cm"),),
            plain=False, changes=f"{longest.name} is shorter",
        )  # fmt: skip


_PLAN = """\
plan     "Old yard, new main line"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
cab      hand  12 V  1 A
block    lock  in hand or main
segment  line  stop -> J  3 m
segment  lent  J -> K     {length}
segment  yard  K -> stop  1.5 m
gap      J  both rails
gap      K  both rails
feeder   main -> line
feeder   lock -> lent
feeder   hand -> yard
train    freight  1.8 m
"""

RULE = Rule(
    name="analog-stretch-short",
    level="warning",
    happens="short",
    turn=13,
    cause=False,
    find=find,
    when="there is an analog cab",
    summary="The stretch between analog and digital track is shorter than the longest train.",
    railroad=(
        "While the stretch is lent to one system, a wheel at its far end bridges it to the other. A train that fits "
        "into it can stop there while the toggle is thrown; one that is longer ties booster and cab together, "
        "whichever way the toggle stands."
    ),
    meter="With a tape along the track from gap to gap; and the longest train, from its first to its last metal wheel.",
    mend=(
        "Move the gaps apart, so that the whole train fits between them; or run shorter trains, or trains with plastic "
        "wheels behind the engine, which `metal-wheels` tells of a train."
    ),
    caution="Never try whether a train gets over: the supplies may burn out before a breaker trips.",
    fails=_PLAN.format(length="1.5 m"),
    passes=_PLAN.format(length="2 m"),
)
RULES = (RULE,)
