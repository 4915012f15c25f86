"""Frogs that change polarity with the points, and so short a train that runs into points set against it."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import of_metal, rolls
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Roll, Setting
from railbond.circuit.questions import against, against_reverser
from railbond.circuit.witness import setting_words
from railbond.findings import Claim, Fix, Found, Step
from trackplan.record import NamedTuple

from .rule import Rule

NAMED = 6
"""Turnouts that are named before the rest is counted."""


class Meets(NamedTuple):
    """Where a train that runs into points set against it meets the other polarity, and how they stand then."""

    roll: Roll
    setting: Setting


def find(facts: Facts) -> Iterator[Found]:
    """One finding for all turnouts whose frog or frog rails have the wrong polarity for a train that comes from the
    frog end while the points are set against it; one more for each at which it is accepted."""
    told = _told(facts)
    accepted = {str(one.place) for one in facts.layout.acceptances if one.rule == RULE.name}
    alone = [name for name in told if accepted & {name, name.rpartition(".")[2]}]
    for names in ([name for name in told if name not in alone], *([name] for name in alone)):
        if names:
            yield _finding(facts, {name: told[name] for name in names})


def _told(facts: Facts) -> dict[str, Meets]:
    proper = {(roll.one, roll.other) for roll, _ in facts.opposed}
    told: dict[str, Meets] = {}
    component, rolls = facts.proof.component, facts.graph.rolls
    needing = (one for one in rolls if one.needs and component[one.one] != component[one.other])
    counting = [one for one in needing if _counts(facts, one)]
    for roll in counting:
        if (roll.one, roll.other) in proper or (len(roll.needs) == 1 and roll.needs[0][0] in told):
            continue
        if (setting := against(facts.proof, roll)) is not None:
            told.setdefault(_against_whom(roll, setting), Meets(roll, setting))
    for left, right in _gapped_pairs(counting):
        if (setting := against_reverser(facts.proof, left, right)) is not None:
            told.setdefault(_against_whom(left, setting), Meets(left, setting))
    return {name: told[name] for name in facts.wiring.first if name in told}


def _counts(facts: Facts, roll: Roll) -> bool:
    """A wheel that comes from the frog end: at a joint or gap, or from a frog rail onto the frog."""
    return roll.meeting is not None or (roll.one in facts.graph.frogs and _is_onto_frog_rail(facts, roll))


def _is_onto_frog_rail(facts: Facts, roll: Roll) -> bool:
    name = facts.graph.frogs[roll.one]
    rail = roll.other - facts.wiring.first[name]
    return any([rail in frog.rails.values() for frog in facts.layout.pieces[name].template.frogs])


def _gapped_pairs(counting: list[Roll]) -> list[tuple[Roll, Roll]]:
    """The left and right rolls of every meeting at which a turnout's points matter and both rails are gapped."""
    pairs: dict[int, list[Roll]] = {}
    for roll in counting:
        if roll.meeting is not None:
            pairs.setdefault(roll.meeting, []).append(roll)
    return [(rolls[0], rolls[1]) for rolls in pairs.values() if len(rolls) == 2]


def _against_whom(roll: Roll, setting: Setting) -> str:
    stands = dict(setting)
    return next(switch for switch, good in roll.needs if stands.get(switch) not in (None, *good))


def _finding(facts: Facts, told: dict[str, Meets]) -> Found:
    names = list(told)
    name, (roll, setting) = next(iter(told.items()))
    what = names[0] if len(names) == 1 else f"any of {_listed(names)}"
    return Found(
        facts.layout.pieces[name].statement.at,
        f"a train that runs into {what} from the frog end, with the points set against it, shorts the supply well "
        f"before it comes to the blades: with {setting_words(setting)}, {_clash(facts, roll)}.",
        tuple(_steps(facts, told)), setting_words(setting), _fixes(facts, names) if facts.with_fixes else (),
        tuple(names),
        claims=tuple(claim for one in told.values() for claim in _claims(facts, one)),
    )  # fmt: skip


def _listed(names: list[str]) -> str:
    """The names; the last of many by their number alone, for the lines to change name them all."""
    *first, last = [*names[:NAMED], f"{len(names) - NAMED} more"] if len(names) > NAMED + 1 else names
    return f"{', '.join(first)} and {last}" if first else last


def _claims(facts: Facts, meets: Meets) -> tuple[Claim, ...]:
    """The wheel that comes from the frog end meets the other leg; where a reverser is there, that it comes so."""
    roll, setting = meets
    if _reversers(facts, roll):
        return (of_metal(facts, "against", (roll.one, roll.other), setting),)
    return rolls(facts, roll, setting, "against")


def _reversers(facts: Facts, roll: Roll) -> set[str]:
    return {name for c in (roll.one, roll.other) for name, kind in facts.turning.supplies(c) if kind == "reverser"}


def _clash(facts: Facts, roll: Roll) -> str:
    one, other = facts.graph.names[roll.one], facts.graph.names[roll.other]
    if supplies := _reversers(facts, roll):
        return f"both rails there carry one leg, and {min(supplies)} can suit only one of them, whichever way it turns"
    return f"{one} and {other} carry opposite legs"


def _steps(facts: Facts, told: dict[str, Meets]) -> Iterator[Step]:
    """Why, once for all turnouts of which it is so in the same way."""
    alike: dict[str, list[str]] = {}
    for name, (roll, _) in told.items():
        alike.setdefault(_reason(facts, name, roll), []).append(name)
    for reason, names in alike.items():
        yield Step(facts.layout.pieces[names[0]].statement.at, f"at {_listed(names)}, {reason}")


def _reason(facts: Facts, name: str, roll: Roll) -> str:
    piece, metal = facts.layout.pieces[name], facts.proof.component
    if roll.meeting is None:
        return "the frog changes polarity with the points, and the rails behind it keep theirs"
    frogs = {metal[facts.wiring.metal(name, frog.metal)] for frog in piece.template.frogs}
    if not frogs.isdisjoint((metal[roll.one], metal[roll.other])):
        return "the frog and its frog rails are one metal and change polarity together"
    if not frogs:
        return "the frog is plastic, and its frog rails have the polarity that the blades bring them"
    return "the frog rails have the polarity that the blades bring them"


def _fixes(facts: Facts, names: list[str]) -> tuple[Fix, ...]:
    """No contact suits a train that comes against the points; a unit that turns to whatever it meets does."""
    from railbond.fixes.fix_edits import JUMPERS
    from railbond.fixes.trailing_fixes import unit_edits

    pieces = [facts.layout.pieces[name] for name in names]
    if not all(piece.template.frogs for piece in pieces):
        return ()
    each = [tuple(unit_edits(facts, piece)) for piece in pieces]
    if not all(each):
        return ()
    edits = tuple(edit for own in each for edit in own)
    live = any(piece.template.shape.build == "live-frog" for piece in pieces)
    cut = f"cut a live frog's rails on both sides of it but {JUMPERS}; solder each closure rail to its stock rail; "
    frogs = f"each of the frogs of {_listed(names)}" if len(names) > 1 else f"the frog of {names[0]}"
    changes = "automatic frog units are added" if len(names) > 1 else f"an automatic frog unit is added at {names[0]}"
    words = f"{cut if live else ''}feed {frogs} from an automatic frog unit"
    return (Fix(words, edits, plain=False, changes=changes),)


RULE = Rule(
    name="set-against",
    level="note",
    happens="short",
    turn=10,
    cause=False,
    find=find,
    when="points may stand against a train",
    of_graph="all",
    of_acceptances=True,
    summary="A train that runs into points set against it meets the other polarity at the frog.",
    railroad=(
        "A frog that is fed through contacts has the polarity of the route for which the points stand. A train that "
        "comes out of the other route, against the points, rolls onto the wrong one: at the gap before the frog rail "
        "where the two are one metal, else at the frog itself, which in HO is some 20 cm before the blades of a number "
        "6. The whole district stops, not just the train that was wrong. That is how contact-fed frogs work, and many "
        "clubs are glad of it, for the points would have derailed the train: so it is told once a plan, as a note."
    ),
    meter=(
        "Power on, no train: points set for one route, a voltmeter from the frog to the frog rail of the other route, "
        "or across the gap there. Track voltage means that a train against the points is a short."
    ),
    mend=(
        "Where it must not be, an automatic frog unit turns to whatever it meets; a live frog is cut from its rails "
        "first. Or accept it, where signals guard the points or the crew is told."
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
frog     T1    automatic main
feeder   main -> lead
feeder   main -> line
feeder   main -> team
""",
)
RULES = (RULE,)
