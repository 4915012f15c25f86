"""One automatic frog unit for frogs that want opposite polarities at one time."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.sharing import Apart, apart, shared
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found, Step
from railbond.fixes.fix_edits import beside
from railbond.fixes.frog_feeds import frog_words, needs_words
from railbond.layout.model import FrogFeed, Piece
from trackplan.amend import set_statement, set_word
from trackplan.edit import Edit, add_line
from trackplan.statements import FrogAutomatic, FrogFromStockRails

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each line that feeds frogs from one unit which cannot suit all of them."""
    for feed in facts.layout.frogs.values():
        if isinstance(feed.statement, FrogAutomatic) and len(feed.frogs) > 1:
            piece = facts.layout.pieces[feed.piece]
            if pairs := apart(facts.wiring, facts.proof, piece):
                yield _finding(facts, piece, feed, pairs)


def _finding(facts: Facts, piece: Piece, feed: FrogFeed, pairs: list[Apart]) -> Found:
    first, when = pairs[0], setting_words(pairs[0].setting)
    one, other = (piece.template.metals[piece.template.frogs[n].metal].words for n in (first.one, first.other))
    return Found(
        feed.statement.at,
        f"one automatic frog unit feeds {one} and {other} of {piece.name}, and with {when} a train needs opposite "
        "polarities of them: whichever the unit gives, the wheels on the other frog are a short.",
        tuple(_steps(facts, piece, first)),
        when, tuple(_fixes(facts, piece, feed, pairs)) if facts.with_fixes else (), (piece.name,),
    )  # fmt: skip


def _steps(facts: Facts, piece: Piece, pair: Apart) -> Iterator[Step]:
    for number, rail in zip((pair.one, pair.other), pair.rails, strict=True):
        words = piece.template.metals[piece.template.frogs[number].metal].words
        ways = (way for way in facts.proof.reachable(rail) if way.setting <= pair.setting)
        leg = next((facts.leg(way.source) for way in ways), "")
        yield Step(piece.statement.at, f"{words} is met from {facts.graph.names[rail]}, which carries {leg}")


def _fixes(facts: Facts, piece: Piece, feed: FrogFeed, pairs: list[Apart]) -> Iterator[Fix]:
    fewest = len(shared(pairs, list(feed.frogs)))
    words = frog_words(piece, list(feed.frogs), together=False)
    what = needs_words(len(words))
    spare = f"; {needs_words(fewest)} would do" if fewest < len(words) else ""
    yield Fix(
        f"give {' and '.join(words)} a unit each{spare}", _one_each(facts, feed, words), plain=False,
        changes=f"{piece.name} has {what}",
    )  # fmt: skip
    if piece.template.has_points:
        edit = set_statement(feed.statement, f"frog {feed.statement.turnout}  switched from stock rails")
        contacts = "contacts that move with the points at its other end"
        changes = f"{piece.name}'s unit goes, and its points get contacts"
        yield Fix(f"feed each frog of {piece.name} through {contacts}", (edit,), plain=False, changes=changes)


def _one_each(facts: Facts, feed: FrogFeed, words: list[str]) -> tuple[Edit, ...]:
    """The line for the first frog, and one more like it for each of the others."""
    statement = feed.statement
    assert isinstance(statement, FrogAutomatic)
    trips = f"  trips {statement.trips.text}" if statement.trips is not None else ""
    after = beside(facts, FrogFromStockRails, statement.at)
    lines = (f"frog {word}  automatic {statement.supply}{trips}" for word in words[1:])
    return (set_word(statement, statement.turnout, words[0]), *(add_line(after, line) for line in lines))


_PLAN = """\
plan     "Station throat"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  in1   stop -> D1.a1  1.5 m
segment  in2   stop -> D1.b1  1.5 m
slip     D1    double  number 6  isolated-frog
segment  out1  D1.a2 -> stop  2 m
segment  out2  D1.b2 -> stop  2 m
feeder   main -> in1
feeder   main -> in2
feeder   main -> out1
feeder   main -> out2
"""

RULE = Rule(
    name="frogs-share-unit",
    level="error",
    happens="short",
    turn=6,
    cause=False,
    find=find,
    summary="One automatic unit feeds frogs that want opposite polarities at one time.",
    railroad=(
        "A unit corrects its polarity when a wheel asks for the other one. On the straight routes of a slip, or on "
        "either track of a crossing, a train touches both frogs one after the other, and one wants the left rail's "
        "polarity and the other the right rail's. The unit flips under every wheel, and with wheels on both frogs at "
        "once it has no right answer: the breaker opens, or the unit flutters until it does."
    ),
    meter=(
        "Power off and unplugged: a meter that beeps, from one frog to the other. If it beeps, they hang on one wire. "
        "Then a voltmeter, power on, points set for a straight route: between the rails that lead to the two frogs "
        "there is track voltage (on digital power that is alternating: use the range for AC volts)."
    ),
    mend=(
        "Give each frog a unit of its own, or a changeover contact of its own that moves with the points at the other "
        "end. Frogs that always want the same, such as the two of a gauntlet track, may share one."
    ),
    caution="Unplug the supply before a wire is moved, and keep soldering short: plastic ties melt.",
    fails=_PLAN + "frog     D1    automatic main\n",
    passes=_PLAN + "frog     D1.1  automatic main\nfrog     D1.2  automatic main\n",
)
RULES = (RULE,)
