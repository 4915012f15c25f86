"""A reverser on a common rail: the rail that it must turn is another supply's too."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Found, Step

from .analog_meets_digital import without
from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each common rail that a reverser shares."""
    for common in facts.layout.commons:
        supplies = {wire.name for wire in common.legs}
        reversers = {name for name in supplies if facts.layout.supplies[name].kind == "reverser"}
        if reversers:
            candidate = without(facts, common, reversers)
            names = " and ".join(sorted(reversers))
            yield Found(
                common.statement.at,
                f"{names} cannot share a common rail: a reverser swaps its two legs, and puts the other one on the "
                "wire that everybody shares.",
                tuple(Step(facts.layout.supplies[name].statement.at, f"{name} turns its polarity")
                      for name in sorted(reversers)),
                "", (candidate.fix,), tuple(sorted(supplies)),
            )  # fmt: skip


_PLAN = """\
plan      "Balloon on a common rail"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
block     yard  in main
reverser  R1    in main
common    black of main yard{reverser}
segment   shed  stop -> Y          1 m
segment   lead  Y -> T1.points     90 cm
turnout   T1    left  number 6  dead-frog
segment   loop  T1.through -> T1.diverging  4 m
bond      T1  closure rails to stock rails
gap       Y             left rail
gap       T1.through    both rails
gap       T1.diverging  both rails
feeder    yard -> shed
feeder    main -> lead
feeder    R1 -> loop
"""

RULE = Rule(
    name="reverser-on-common",
    level="error",
    happens="short",
    turn=1,
    cause=True,
    find=find,
    when="there is a common rail",
    of_graph="proof",
    summary="An auto-reverser shares a common rail.",
    railroad=(
        "All is well until the reverser turns. Then the leg that the common rail carries everywhere else meets the "
        "other one, through the wire that they share, and everything on the common rail is shorted."
    ),
    meter="Power off: a meter from each output wire of the reverser to the common wire. It must not beep.",
    mend=(
        "Give the reverser two wires of its own and gap both rails at each end of its section. Only supplies that keep "
        "their polarity may share a rail."
    ),
    fails=_PLAN.format(reverser=" R1"),
    passes=_PLAN.format(reverser=""),
)
RULES = (RULE,)
