"""A scissors crossover: two parallel tracks and both crossovers between them, which cross in the middle.

Track b lies to the left of track a, both looked along from their ends 1 to their ends 2, here to the right:

    b1 ----- S-b1 ======= through ======= S-b2 ----- b2
                 \\                      /
                   `. x.b1        x.a2 .'
                     `------ S-x -----'
                   .' x.a1        x.b2 `.
                 /                      \\
    a1 ----- S-a1 ======= through ======= S-a2 ----- a2

The statement stands for four turnouts and a crossing, named after it: of `scissors S`, S-a1 and S-b2 are left-hand
turnouts, S-b1 and S-a2 right-hand ones, S-x is the crossing of the two diagonals. Its track a leads from S-a1 to
S-b2, its track b from S-b1 to S-a2. The ends of the whole, such as S.a1, are the points of the turnout there. What is
bonded, cut, gapped or fed is a part's: `frog S-a1 switched from stock rails`, `gap S-a1.diverging frog rail`.

All four turnouts have the build that is told; the crossing is a dead-frog one with dead-frog turnouts and else an
isolated-frog one. Its angle, unless told, is twice that of the turnouts' frogs, which is 2 atan(1 / 2n) for a
number n."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan, degrees

from railbond.layout.template import Expansion
from trackplan.quantities import Angle
from trackplan.span import Word
from trackplan.statements import Crossing, Joint, Scissors, Statement, Turnout

HANDS = {"a1": "left", "b1": "right", "a2": "right", "b2": "left"}
JOINTS = (
    ("a1.through", "a2.through"),
    ("b1.through", "b2.through"),
    ("a1.diverging", "x.a1"),
    ("x.a2", "b2.diverging"),
    ("b1.diverging", "x.b1"),
    ("x.b2", "a2.diverging"),
)
ASSUMED_NUMBER = 6.0


def expand(statement: Scissors) -> Expansion:
    """The turnouts, the crossing and the joints, all told at the line of the scissors, and what its ends are."""
    ends = {end: f"{statement.name}-{end}.points" for end in HANDS}
    return Expansion((*_turnouts(statement), _crossing(statement), *_joints(statement)), ends)


def _turnouts(statement: Scissors) -> Iterator[Statement]:
    for end, hand in HANDS.items():
        name, side = _word(statement, f"-{end}"), Word(hand, statement.name.start, statement.name.end)
        yield Turnout(statement.at, name, side, statement.number, statement.build, statement.dead)


def _crossing(statement: Scissors) -> Statement:
    number = float(statement.number or ASSUMED_NUMBER)
    angle = statement.angle or Angle(2 * degrees(2 * atan(1 / (2 * number))))
    build = statement.build
    if build != "dead-frog":
        build = Word("isolated-frog", build.start, build.end)
    return Crossing(statement.at, _word(statement, "-x"), angle, build, statement.dead)


def _joints(statement: Scissors) -> Iterator[Statement]:
    for one, other in JOINTS:
        yield Joint(statement.at, _word(statement, f"-{one}"), _word(statement, f"-{other}"))


def _word(statement: Scissors, tail: str) -> Word:
    """A name of a part; its place is that of the scissors' own name."""
    return Word(f"{statement.name}{tail}", statement.name.start, statement.name.end)
