"""What the club at Pell River asks of its modules: no turnout with a dead frog."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Step
from railbond.rules.rule import Rule
from trackplan.edit import replace
from trackplan.statements import Turnout, where


def find(facts: Facts) -> Iterator[Found]:
    """Every turnout that was built with a dead frog."""
    for name, piece in facts.layout.pieces.items():
        turnout = piece.statement
        if isinstance(turnout, Turnout) and turnout.build == "dead-frog":
            build = where(turnout, turnout.build)
            fix = Fix(
                f"build {name} with an isolated frog, and feed it",
                (replace(build, "isolated-frog"),),
                plain=False,
                changes=f"{name} is another turnout then",
            )
            message = f"{name} has a dead frog, and the club's short engines stall on it."
            why = (Step(build, f"{name} is built with a dead frog"),)
            yield Found(build, message, why, "", (fix,), (name,))


_PLAN = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points     90 cm
turnout  T1    left  number 6  {}
segment  line  T1.through -> stop    90 cm
segment  dock  T1.diverging -> stop  90 cm
feeder   main -> lead
feeder   main -> line
feeder   main -> dock
"""

RULE = Rule(
    name="club-dead-frog",
    level="warning",
    happens="stall",
    turn=50,
    cause=False,
    find=find,
    summary="A turnout with a dead frog, which the club does not have on its modules.",
    railroad="A short engine that creeps over the frog stands still with all its wheels of one side on plastic.",
    meter="Power on: a lamp from the frog to either rail stays dark in both positions of the points.",
    mend="Build in a turnout with a metal frog, and feed the frog.",
    fails=_PLAN.format("dead-frog"),
    passes=_PLAN.format("isolated-frog") + "frog     T1    switched from stock rails\n",
)
RULES = (RULE,)
