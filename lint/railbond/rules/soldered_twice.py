"""Two drops at one place of a track, of which one was mostly meant for another."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from railbond.circuit.facts import Facts
from railbond.circuit.odd_lines import soldered_twice
from railbond.findings import Fix, Found, Step
from railbond.fixes.fix_edits import local, taken_out
from railbond.layout.model import Piece
from trackplan.amend import set_word
from trackplan.statements import Feeder

from .rule import Rule

MOST_MOVED = 2
"""Tracks without wires for which the later line may have been meant."""


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each line that solders where an earlier one does."""
    for first, one in soldered_twice(facts):
        name = str(one.rail).partition(".")[0]
        where = f" at {one.place.text}" if one.place is not None else ", and neither tells a place"
        yield Found(
            one.at,
            f"two lines solder to {one.rail}{where}: nobody drills two holes at one place.",
            (Step(first.at, "this line does so, too"),),
            "",
            (*islice(_moved(facts, one), MOST_MOVED), _off(facts, one)),
            (name,),
        )


def _moved(facts: Facts, one: Feeder) -> Iterator[Fix]:
    """The later one to plain track without wires that is long enough, the nearest in the text first."""
    name, dot, rail = str(one.rail).partition(".")
    wired = {drop.piece for drop in facts.layout.drops}
    own = next((piece for piece in facts.layout.pieces.values() if local(piece) == name), None)
    bare = [piece for piece in facts.layout.pieces.values() if piece.name not in wired and _has(piece, one)]
    for piece in sorted(bare, key=lambda piece: abs(piece.statement.at.start - own.statement.at.start)) if own else ():
        edit = set_word(one, one.rail, f"{local(piece)}{dot}{rail}")
        yield Fix(f"solder the wires of the later line to {piece.name}, which has none", (edit,))


def _has(piece: Piece, one: Feeder) -> bool:
    at = piece.statement.at
    return piece.template.is_plain and at.path == one.at.path and (one.place or 0.0) <= piece.template.length


def _off(facts: Facts, one: Feeder) -> Fix:
    return Fix("take the later line out", (taken_out(facts, one),), plain=False, changes="there is one drop less")


_PLAN = """\
plan     "Two stub tracks"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead   stop -> T1.points      60 cm
turnout  T1     left  number 6  isolated-frog
segment  pulp   T1.through -> stop     70 cm
segment  paper  T1.diverging -> stop   70 cm
frog     T1     switched  from stock rails
feeder   main -> lead   at 30 cm
feeder   main -> pulp   at 35 cm
feeder   main -> {track}  at 35 cm
"""

RULE = Rule(
    name="soldered-twice",
    level="warning",
    happens="on paper",
    turn=11,
    cause=False,
    find=find,
    when="a place is told twice",
    summary="Two lines that solder drops at one place.",
    railroad="The second drop adds nothing there, and the track that it was meant for hangs on its joiners.",
    meter="By eye: count the drops under each track, and look for the one that has none.",
    mend="Solder one of the two to the track that it was meant for, or take its line out.",
    fails=_PLAN.format(track="pulp "),
    passes=_PLAN.format(track="paper"),
)
RULES = (RULE,)
