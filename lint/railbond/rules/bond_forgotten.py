"""The one turnout of a plan that is not bonded as others are."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.odd_lines import needs_none, unbonded
from railbond.findings import Fix, Found, Step
from railbond.fixes.fix_edits import bond_words, line_after, local
from railbond.layout.model import Piece
from trackplan.amend import set_word
from trackplan.statements import ClosureBond

from .rule import Rule

MOST_STEPS = 3


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each file at most."""
    for piece in unbonded(facts):
        own = [one for one in facts.layout.pieces.values() if one.statement.at.path == piece.statement.at.path]
        bonds = [one for other in own for one in other.work if isinstance(one, ClosureBond)]
        like = "others are" if len(bonds) > 1 else f"{bonds[0].turnout} is"
        yield Found(
            piece.statement.at,
            f"{piece.name} is not bonded, and {like}: but for its blades, its closure rails get power only over the "
            "joiners beyond its frog.",
            tuple(Step(one.at, f"{one.turnout} is bonded") for one in bonds[:MOST_STEPS]),
            "",
            (*_moved(facts, piece), _bonded(facts, piece)),
            (piece.name,),
        )


def _bonded(facts: Facts, piece: Piece) -> Fix:
    line = line_after(facts, ClosureBond, piece.statement, f"bond {local(piece)}  closure rails to stock rails")
    return Fix(bond_words(piece, f" of {piece.name}"), (line,))


def _moved(facts: Facts, piece: Piece) -> Iterator[Fix]:
    """The bond at a turnout that needs none, as that of this one."""
    for other in facts.layout.pieces.values():
        for one in other.work if needs_none(other) and other.statement.at.path == piece.statement.at.path else ():
            if isinstance(one, ClosureBond):
                edit = set_word(one, one.turnout, local(piece))
                yield Fix(f"bond {piece.name} in place of {other.name}, which needs none", (edit,))


_PLAN = """\
plan     "Two ends of a siding"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  west  stop -> T1.points                90 cm
turnout  T1    left   number 6  dead-frog
segment  line  T1.through -> T2.through         1.5 m
segment  pass  T1.diverging -> T2.diverging     1.5 m
turnout  T2    right  number 6  dead-frog
segment  east  T2.points -> stop                90 cm
bond     T1    closure rails to stock rails
{bond}feeder   main -> west
feeder   main -> line
feeder   main -> pass
feeder   main -> east
"""

RULE = Rule(
    name="bond-forgotten",
    level="warning",
    happens="dead rail",
    turn=11,
    cause=False,
    find=find,
    when="a turnout lacks its bond",
    summary="The one plastic-frog turnout without a bond where others have theirs.",
    railroad=(
        "It runs at first. Its closure rails hang on the joiners beyond the frog alone: one that loosens or tarnishes "
        "leaves them dead, where the other turnouts run on by their bonds."
    ),
    meter=(
        "All supplies unplugged: lift the blades off their stock rails with slips of paper, and put a meter from a "
        "closure rail to the stock rail beside it. It beeps over the track beyond, too: take its joiners off first."
    ),
    mend="Solder each closure rail to the stock rail beside it, or say why this turnout needs no bond.",
    fails=_PLAN.format(bond=""),
    passes=_PLAN.format(bond="bond     T2    closure rails to stock rails\n"),
)
RULES = (RULE,)
