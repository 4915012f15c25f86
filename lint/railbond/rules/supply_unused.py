"""A supply that feeds nothing, while another feeds two stretches of track that somebody cut apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.unused import unused
from railbond.findings import Claim, Found, Step
from railbond.fixes.territories import FedStretch, likely, moved_to, stretches
from railbond.layout.model import Supply

from .rule import Rule

MOST_FIXES = 3


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each supply without use, where some other of its plan has two stretches or more to itself."""
    idle = unused(facts)
    found = stretches(facts) if idle else []
    counts = Counter((one.supply, one.track) for one in found)
    twice = [one for one in found if counts[one.supply, one.track] > 1]
    for supply in idle if twice else ():
        yield _finding(facts, supply, likely(facts, supply, twice))


def _finding(facts: Facts, supply: Supply, own: list[FedStretch]) -> Found:
    first = own[0]
    both = [one for one in own if (one.supply, one.track) == (first.supply, first.track)]
    named = " and ".join(one.words for one in both[:2])
    return Found(
        supply.statement.at,
        f"{_kind(supply)} {supply.name} feeds nothing, while {first.supply} feeds both {named}, which are cut apart: "
        f"probably one of them was meant for {supply.name}.",
        tuple(Step(one.at, f"{one.words} hang{'s' * (len(one.pieces) == 1)} on {one.supply}") for one in both[:2]),
        "",
        tuple(moved_to(facts, supply, own[:MOST_FIXES])) if facts.with_fixes else (),
        (supply.name, first.supply, *sorted(piece for one in both[:2] for piece in one.pieces[:1])),
        claims=(Claim("unused", (supply.name,)),),
    )


def _kind(supply: Supply) -> str:
    return {"reverser": "reverser", "cab": "cab", "block": "block"}.get(supply.kind, "district")


_PLAN = """\
plan     "Two detected tracks"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
block    west  in main
block    east  in main
segment  w-main  stop -> J  1.5 m
segment  e-main  J -> stop  1.5 m
gap      J     both rails
feeder   west -> w-main
feeder   {supply} -> e-main
"""

RULE = Rule(
    name="supply-unused",
    level="warning",
    happens="on paper",
    turn=11,
    cause=False,
    find=find,
    when="a supply is unused",
    of_graph="whether",
    summary="A supply that feeds nothing, while another feeds two stretches that are cut apart.",
    railroad=(
        "Trains run. But a detector that no wire leaves sees none of them, a breaker of its own guards nothing, and "
        "what was cut apart is still one block, one booster's load, one engine's track."
    ),
    meter=(
        "All supplies unplugged: a meter from the rail on one side of the cut to the rail of the same side beyond it. "
        "It beeps, by way of the wires; between two blocks it must not."
    ),
    mend="Move the wires of the one stretch to the supply that was meant for it, or take the supply out of the plan.",
    fails=_PLAN.format(supply="west"),
    passes=_PLAN.format(supply="east"),
)
RULES = (RULE,)
