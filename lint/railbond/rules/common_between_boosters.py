"""A common rail between two boosters, which not every booster allows."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Found, Step

from .analog_meets_digital import without
from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each common rail that ties boosters together."""
    for common in facts.layout.commons:
        boosters: dict[str, set[str]] = {}
        for wire in common.legs:
            booster = facts.layout.supplies[wire.name].booster
            boosters.setdefault(booster or "", set()).add(wire.name)
        boosters.pop("", None)
        if len(boosters) > 1:
            first, *others = boosters
            candidate = without(facts, common, set[str]().union(*(boosters[name] for name in others)))
            yield Found(
                common.statement.at,
                f"{' and '.join(boosters)} share the common rail {common.statement.leg}: that is well only with "
                "boosters that are made for it.",
                tuple(Step(facts.layout.boosters[name].at, f"{name} feeds {', '.join(sorted(behind))}")
                      for name, behind in boosters.items()),
                "", (candidate.fix._replace(plain=False, changes="the boosters no longer share a rail"),),
                tuple(sorted({wire.name for wire in common.legs})),
            )  # fmt: skip


_PLAN = """\
plan     "Two boosters, one return"
booster  B1    15 V  5 A
booster  B2    15 V  5 A
district town  from B1  trips 4 A
district hill  from B2  trips 4 A
{common}segment  down  stop -> J  1.5 m
segment  up    J -> stop  1.5 m
gap      J     {rails}
feeder   town -> down
feeder   hill -> up
"""

RULE = Rule(
    name="common-between-boosters",
    level="note",
    happens="on paper",
    turn=22,
    cause=False,
    find=find,
    when="there is a common rail",
    summary="A common rail ties two boosters together.",
    railroad=(
        "Some boosters are made to share a rail and need it. In others the output is a bridge whose two legs both "
        "move against its own supply: there a shared rail lets current run from one power supply to the other. They "
        "run hot, trip without a short, or fail to trip at one."
    ),
    meter="Nothing that a meter can tell: read what the boosters' makers say about a common return.",
    mend=(
        "Where the makers do not allow it, gap both rails at the boundary and take the common wire off. Where they ask "
        "for it, accept this note and say so. The power supplies of such boosters must not be tied together elsewhere."
    ),
    fails=_PLAN.format(common="common   black of town hill\n", rails="left rail"),
    passes=_PLAN.format(common="", rails="both rails"),
)
RULES = (RULE,)
