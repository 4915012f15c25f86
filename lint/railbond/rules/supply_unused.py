"""A supply that feeds nothing, while another feeds two stretches of track that somebody cut apart, or one cut off."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from railbond.circuit.unused import boosters_unused, runs_for_nothing, unused
from railbond.findings import Claim, Fix, Found, Step
from railbond.fixes.territories import FedStretch, likely, moved_to, stretches
from railbond.fixes.wires_nearby import share_a_word
from railbond.layout.model import Supply
from trackplan.amend import set_word
from trackplan.span import Span
from trackplan.statements import Booster, District

from .rule import Rule

MOST_FIXES = 3


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each supply without use, where some other of its plan has two stretches or more to itself, or
    the one that it is in has one that cuts part from the rest; and for each booster without a district."""
    idle = unused(facts)
    found = stretches(facts) if idle else []
    counts = Counter((one.supply, one.track) for one in found)
    tracks = Counter(one.track for one in found)
    for supply in idle:
        own = [one for one in found if counts[one.supply, one.track] > 1]
        own += [one for one in found if one.supply in supply.hangs_on and tracks[one.track] > 1 and one not in own]
        if own:
            yield _finding(facts, supply, likely(facts, supply, own))
    for booster in boosters_unused(facts):
        yield _booster(facts, booster)


def _finding(facts: Facts, supply: Supply, own: list[FedStretch]) -> Found:
    first = own[0]
    both = [one for one in own if (one.supply, one.track) == (first.supply, first.track)]
    named = " and ".join(_apart(both[:2]))
    feeds = f"both {named}, which are cut apart" if len(both) > 1 else f"{named}, which is cut off from the rest"
    those = f"one of them was meant for {supply.name}" if len(both) > 1 else f"{supply.name} was meant for it"
    at, what = _idle(facts, supply)
    return Found(
        at,
        f"{what} feeds nothing, while {first.supply} feeds {feeds}: probably {those}.",
        tuple(Step(one.at, f"{one.words} hang{'s' * (len(one.pieces) == 1)} on {one.supply}") for one in both[:2]),
        "",
        tuple(moved_to(facts, supply, own[:MOST_FIXES])) if facts.with_fixes else (),
        (supply.name, first.supply, *sorted(piece for one in both[:2] for piece in one.pieces[:1])),
        claims=(Claim("unused", (supply.name,)),),
    )


def _apart(both: list[FedStretch]) -> list[str]:
    """What each is called: where cut track goes on under its name, by what only the one of them has."""
    told = []
    for one in both:
        own = one.without({piece for other in both if other is not one for piece in other.pieces})
        told.append(own.words if own.drops else one.words)
    return told


def _idle(facts: Facts, supply: Supply) -> tuple[Span, str]:
    """The supply and its line; of one that others are in, only the run of its own."""
    others = (one for one in facts.layout.supplies.values() if one.name != supply.name)
    if any(supply.name in one.hangs_on for one in others):
        run = runs_for_nothing(facts)[supply.name]
        return run.statement.at, f"the run from {supply.name} to {run.terminal}"
    kind = {"reverser": "reverser", "cab": "cab", "block": "block"}.get(supply.kind, "district")
    return supply.statement.at, f"{kind} {supply.name}"


def _booster(facts: Facts, booster: Booster) -> Found:
    """A booster without a district: one of those that share another was mostly meant for it."""
    own = [one for one in facts.layout.supplies.values() if isinstance(one.statement, District)]
    counts = Counter(one.booster for one in own)
    earlier = any(str(one.name) in counts and booster.at < one.at for one in of_kind(facts, Booster))
    shared = sorted((one for one in own if counts[one.booster] > 1), key=lambda one: _unlike(one, booster, earlier))
    first = str(shared[0].booster)
    others = [one for one in own if one.booster == first]
    return Found(
        booster.at,
        f"booster {booster.name} feeds nothing, while {' and '.join(one.name for one in others)} share {first}: "
        f"probably one of them was meant for {booster.name}.",
        tuple(Step(one.statement.at, f"{one.name} is on {first}") for one in others[:2]),
        "",
        tuple(_on(booster, one) for one in shared[:MOST_FIXES]),
        (str(booster.name), first, *(one.name for one in others)),
    )  # fmt: skip


def _on(booster: Booster, district: Supply) -> Fix:
    statement = district.statement
    edits = (set_word(statement, statement.booster, str(booster.name)),) if isinstance(statement, District) else ()
    return Fix(f"put {district.name} on {booster.name} in place of {district.booster}", edits)


def _unlike(district: Supply, booster: Booster, earlier: bool) -> tuple[bool, int]:
    """Of districts on one booster the one with the other's name first, else that which stands as the boosters do: the
    first where the other booster is told earlier, else the last."""
    at = district.statement.at.start
    return not share_a_word(district.name, str(booster.name)), at if earlier else -at


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
