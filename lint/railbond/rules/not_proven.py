"""Islands of turnouts that were too large to finish within the budget."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Step
from railbond.fixes.feeding import feed
from trackplan.amend import set_word
from trackplan.edit import add_line
from trackplan.statements import Statement

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each such island, with the turnouts in it."""
    for component in facts.proof.components():
        facts.proof.reachable_of(component)
    for switches in facts.proof.unproven:
        yield _finding(facts, sorted(switches))


def _finding(facts: Facts, switches: list[str]) -> Found:
    named = ", ".join(switches[:8]) + (f" and {len(switches) - 8} more" if len(switches) > 8 else "")
    at = _statement(facts, switches[0]).at
    fed = feed(facts, _unfed_segments(facts, set(switches)))
    return Found(
        at,
        f"not proven: the rails of {named} hang together through blades and contacts alone, in more ways than "
        "could be looked at. What else is said of them may not be all.",
        tuple(Step(_statement(facts, name).at, f"{name} is one of them") for name in switches[:8]),
        "",
        (fed, _more_steps(facts)) if fed else (_more_steps(facts),),
        tuple(switches),
    )


def _statement(facts: Facts, switch: str) -> Statement:
    """What a switch is: a turnout or other piece, or a block with a toggle."""
    piece = facts.layout.pieces.get(switch)
    return piece.statement if piece else facts.layout.supplies[switch].statement


def _more_steps(facts: Facts) -> Fix:
    """Ten times the budget, in the plan's own `limit proof-steps`."""
    said, steps = facts.layout.limits.get("proof-steps"), f"{facts.budget * 10}"
    line = f"limit proof-steps {steps}"
    edit = set_word(said, said.value, steps) if said else add_line(facts.statements[-1].at, line)
    return Fix(f"let the proof take {steps} steps in one island, and wait for it", (edit,))


def _unfed_segments(facts: Facts, switches: set[str]) -> list[int]:
    """The rails of the segments between the turnouts that no wire reaches by itself."""
    found = []
    for name in sorted(switches):
        for there, _, rail in facts.neighbors.get(name, ()):
            if there not in switches and facts.proof.component[rail] not in facts.proof.sources:
                found.append(rail)
    return found


RULE = Rule(
    name="not-proven",
    level="warning",
    happens="on paper",
    turn=12,
    cause=False,
    find=find,
    when="an island is unproven",
    of_graph="proof",
    summary="An island of turnouts that outran the budget of the proof.",
    railroad=(
        "Nothing is known to be wrong. Many turnouts in a row share power through blades and contacts alone, and "
        "the ways through them are too many to look at one by one."
    ),
    meter="Set the turnouts named one by one and check for shorts with a meter, supply unplugged.",
    mend="Give some of the rails between these turnouts feeders of their own: that breaks the island into small ones.",
    fails="""\
plan     "Impatient owner"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  live-frog
segment  line  T1.through -> stop     90 cm
segment  dock  T1.diverging -> stop   90 cm
bond     T1    closure rails to stock rails
cut      T1    around frog
frog     T1    switched from stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> dock
limit    proof-steps 1
""",
    passes="""\
plan     "Patient owner"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  live-frog
segment  line  T1.through -> stop     90 cm
segment  dock  T1.diverging -> stop   90 cm
bond     T1    closure rails to stock rails
cut      T1    around frog
frog     T1    switched from stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> dock
""",
)
RULES = (RULE,)
