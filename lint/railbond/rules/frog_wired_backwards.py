"""A frog whose two contacts are the wrong way round."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.backwards import backwards
from railbond.circuit.claims import carries
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Setting, SupplyLeg
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found, Step
from railbond.fixes.fix_edits import rewritten_frog, swapped_contacts
from railbond.layout.model import FrogFeed, Piece
from railbond.layout.template import Frog
from trackplan.statements import FrogSwitched

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """Switched frogs with the wrong leg in some position, where swapping the contacts gives the right one in all."""
    for found in backwards(facts):
        yield _finding(facts, *found)


def _finding(
    facts: Facts,
    piece: Piece,
    feed: FrogFeed,
    frog: Frog,
    position: str,
    setting: Setting,
    wanted: SupplyLeg,
    brought: SupplyLeg,
) -> Found:
    assert isinstance(feed.statement, FrogSwitched)
    name, when = piece.name, setting_words(setting)
    rail = piece.template.metals[frog.wants[position]].words
    own, beside = (facts.wiring.metal(name, metal) for metal in (frog.metal, frog.wants[position]))
    return Found(
        feed.statement.at,
        f"the contacts of {name}'s frog are the wrong way round: with {when} the frog gets {facts.leg(brought)} "
        f"where the rails on both sides of it carry {facts.leg(wanted)}. The first wheel onto the frog is a short.",
        (
            _step(facts, piece, when, rail, wanted),
            Step(feed.statement.at, f"with {when} the contacts give the frog {facts.leg(brought)}"),
        ),
        when,
        tuple(_fixes(facts, piece, feed, feed.statement)),
        (name,),
        claims=(carries(facts, own, brought, setting), carries(facts, beside, wanted, setting)),
    )


def _step(facts: Facts, piece: Piece, when: str, rail: str, wanted: SupplyLeg) -> Step:
    how = "a train rolls over" if piece.template.aligned else "the closure rail touches"
    return Step(piece.statement.at, f"with {when} {how} {piece.name}'s {rail}, {facts.leg(wanted)}")


def _fixes(facts: Facts, piece: Piece, feed: FrogFeed, statement: FrogSwitched) -> Iterator[Fix]:
    yield Fix(f"swap the two wires at the contacts of {feed.name}'s frog", swapped_contacts(statement))
    if piece.template.has_points:
        own = rewritten_frog(facts, feed)
        yield Fix(f"feed {feed.name}'s frog from its own stock rails through those contacts", own)


RULE = Rule(
    name="frog-wired-backwards",
    level="error",
    happens="short",
    turn=5,
    cause=True,
    find=find,
    when="contacts are the wrong way round",
    of_graph="proof",
    summary="The contacts that feed a frog are the wrong way round.",
    railroad=(
        "Whichever way the points stand, the frog carries the polarity of the other route. The first wheel that "
        "rolls from the closure rail onto the frog bridges both legs and the breaker trips: always, on both "
        "routes."
    ),
    meter=(
        "Power on and no engine near: a voltmeter from the frog to the rail that leads to it, points set for that "
        "route. It must read nothing. If it reads track voltage on both routes, the contacts are swapped."
    ),
    mend="Swap the two wires at the switch contacts. Nothing else changes.",
    fails="""\
plan     "Dairy siding"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  isolated-frog
segment  main1 T1.through -> stop     90 cm
segment  dairy T1.diverging -> stop   90 cm
frog     T1    switched  through main.black  diverging main.red
feeder   main -> lead
feeder   main -> main1
feeder   main -> dairy
""",
    passes="""\
plan     "Dairy siding"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  isolated-frog
segment  main1 T1.through -> stop     90 cm
segment  dairy T1.diverging -> stop   90 cm
frog     T1    switched  through main.red  diverging main.black
feeder   main -> lead
feeder   main -> main1
feeder   main -> dairy
""",
)
RULES = (RULE,)
