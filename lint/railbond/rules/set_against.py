"""Frog rails that change polarity with the points, and so short a train that runs into points set against it."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Roll, Setting
from railbond.circuit.questions import against, against_reverser
from railbond.circuit.witness import setting_words
from railbond.findings import Found, Step
from railbond.fixes.fix_edits import convert

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each turnout whose frog rail opposes the track beyond it when the points stand against it.

    Asked of joints and gaps only: a frog that stands alone also takes the other polarity then, but a wheel gets that
    far only with its flange already in the points.
    """
    proper = {(roll.one, roll.other) for roll, _ in facts.opposed}
    told: dict[str, tuple[Roll, Setting]] = {}
    for roll in facts.graph.rolls:
        if (
            roll.meeting is None
            or not roll.needs
            or facts.proof.component[roll.one] == facts.proof.component[roll.other]
        ):
            continue
        if (roll.one, roll.other) not in proper and (setting := against(facts.proof, roll)) is not None:
            told.setdefault(_against_whom(roll, setting), (roll, setting))
    for left, right in _gapped_pairs(facts):
        if (setting := against_reverser(facts.proof, left, right)) is not None:
            told.setdefault(_against_whom(left, setting), (left, setting))
    for name, (roll, setting) in told.items():
        yield _finding(facts, name, roll, setting)


def _gapped_pairs(facts: Facts) -> list[tuple[Roll, Roll]]:
    """The left and right rolls of every meeting at which a turnout's points matter and both rails are gapped."""
    pairs: dict[int, list[Roll]] = {}
    for roll in facts.graph.rolls:
        if (
            roll.meeting is not None
            and roll.needs
            and facts.proof.component[roll.one] != facts.proof.component[roll.other]
        ):
            pairs.setdefault(roll.meeting, []).append(roll)
    return [(rolls[0], rolls[1]) for rolls in pairs.values() if len(rolls) == 2]


def _against_whom(roll: Roll, setting: Setting) -> str:
    stands = dict(setting)
    return next(switch for switch, good in roll.needs if stands.get(switch) not in (None, *good))


def _finding(facts: Facts, name: str, roll: Roll, setting: Setting) -> Found:
    piece = facts.layout.pieces[name]
    one, other = facts.graph.names[roll.one], facts.graph.names[roll.other]
    assert roll.meeting is not None
    meeting = facts.layout.meetings[roll.meeting]
    return Found(
        piece.statement.at,
        f"a train that runs into {name} while its points are set against it shorts the supply at the gap, before it "
        f"comes near the points: with {setting_words(setting)}, {_clash(facts, roll, one, other)}.",
        (
            Step(piece.statement.at, f"{name}'s frog and its frog rails are one metal and change polarity together"),
            Step(meeting.at, f"here a wheel rolls from {one} onto {other}"),
        ),
        setting_words(setting),
        convert(facts, piece),
        (name,),
    )


def _clash(facts: Facts, roll: Roll, one: str, other: str) -> str:
    supplies = {name for c in (roll.one, roll.other) for name, kind in facts.turning.supplies(c) if kind == "reverser"}
    if supplies:
        return f"both rails there carry one leg, and {min(supplies)} can suit only one of them, whichever way it turns"
    return f"{one} and {other} carry opposite legs"


RULE = Rule(
    name="set-against",
    level="note",
    happens="short",
    turn=10,
    cause=False,
    find=find,
    summary="A train that runs into points set against it shorts at the frog rail's gap.",
    railroad=(
        "Everything runs while the points are set for the train. Run out of the siding against the points, and "
        "the first wheel over the gap bridges both legs: the whole district stops, not just the train that was "
        "wrong."
    ),
    meter=(
        "Power on, no train: points set for one route, a voltmeter across the gap in the other route's frog rail. "
        "If it reads track voltage, a train against the points is a short."
    ),
    mend=(
        "Cut the rails on both sides of the frog and solder each closure rail to the stock rail beside it: then "
        "the frog rails keep their own polarity and only the short frog changes. Or accept it, where signals "
        "guard the points."
    ),
    fails="""\
plan     "Team track"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  live-frog
segment  line  T1.through -> stop     90 cm
segment  team  T1.diverging -> stop   90 cm
bond     T1    closure rails to stock rails
cut      T1    closure jumpers
gap      T1.through    frog rail
gap      T1.diverging  frog rail
frog     T1    switched from stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> team
""",
    passes="""\
plan     "Team track"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  live-frog
segment  line  T1.through -> stop     90 cm
segment  team  T1.diverging -> stop   90 cm
bond     T1    closure rails to stock rails
cut      T1    around frog
gap      T1.through    frog rail
gap      T1.diverging  frog rail
frog     T1    switched from stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> team
""",
)
RULES = (RULE,)
