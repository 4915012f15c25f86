"""Track that has no volts in any setting in which a train comes onto it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from railbond.circuit.claims import of_metal
from railbond.circuit.entering import TrackVolts, track_volts
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Setting
from railbond.circuit.plain_track import Gate, PlainStretch
from railbond.circuit.witness import setting_words
from railbond.findings import Claim, Fix, Found, Step
from railbond.layout.model import Drop
from trackplan.amend import drop_clause, set_word
from trackplan.statements import Feeder

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each stretch of track that is dead whenever it is entered, or in some of the settings in which a
    train rolls onto it from live track."""
    volts = track_volts(facts)
    for stretch in volts.doubtful:
        if volts.dead_when_entered(stretch):
            yield _finding(facts, volts, stretch)
        elif found := _sometimes(volts, stretch):
            yield _stops(facts, stretch, *found)


def _sometimes(volts: TrackVolts, stretch: PlainStretch) -> tuple[Gate, Setting] | None:
    asked = ((gate, volts.stops_at(gate)) for gate in stretch.gates)
    return next(((gate, setting) for gate, setting in asked if setting is not None), None)


def _finding(facts: Facts, volts: TrackVolts, stretch: PlainStretch) -> Found:
    names, drop = _names(stretch), _contact(facts, stretch)
    gate = next(gate for gate in stretch.gates if volts.ways(gate))
    fed = next(setting for place in stretch.places if (setting := volts.ever(place.pair)) is not None)
    entered = " or ".join(dict.fromkeys(_stands(gate) for gate in stretch.gates if gate.ways)) or "in any setting"
    at = drop.statement.at if drop else facts.layout.pieces[names[0]].statement.at
    only = "only " if drop is None or drop.when is None or len(drop.when[1]) == 1 else ""
    return Found(
        at,
        f"{' and '.join(names)} has power {only}with {setting_words(fed)}, and a train can come onto it only with "
        f"{entered}: whenever it is run it is dead, and the engine stops as it rolls on.",
        (
            _came(facts, gate, entered),
            Step(at, f"power comes with {setting_words(fed)}"),
        ),
        entered, tuple(_fixes(facts, stretch, drop)), (*names, gate.end.piece),
        claims=tuple(_without_volts(facts, volts, stretch)),
    )  # fmt: skip


def _stops(facts: Facts, stretch: PlainStretch, gate: Gate, setting: Setting) -> Found:
    names, drop, when = _names(stretch), _contact(facts, stretch), setting_words(setting)
    at = drop.statement.at if drop else facts.layout.pieces[names[0]].statement.at
    return Found(
        at,
        f"with {when} a train rolls from live track at {gate.end} onto {' and '.join(names)}, and there are no volts "
        "there: its engine stops.",
        (_came(facts, gate, _stands(gate)),), when, tuple(_fixes(facts, stretch, drop)), (*names, gate.end.piece),
        "warning", claims=(of_metal(facts, "no volts", gate.inside, setting),),
    )  # fmt: skip


def _without_volts(facts: Facts, volts: TrackVolts, stretch: PlainStretch) -> Iterator[Claim]:
    """That there are none on the stretch in each way on which a train comes from live track."""
    for way in (way for gate in stretch.gates for way in volts.ways(gate)):
        stands = frozenset((switch, positions[0]) for switch, positions in way)
        yield from (of_metal(facts, "no volts", place.pair, stands) for place in stretch.places)


def _came(facts: Facts, gate: Gate, stands: str) -> Step:
    return Step(facts.layout.pieces[gate.end.piece].statement.at, f"a train comes from {gate.end} with {stands}")


def _names(stretch: PlainStretch) -> list[str]:
    return list(dict.fromkeys(place.piece for place in stretch.places))


def _stands(gate: Gate) -> str:
    return " or ".join(setting_words(way) for way in gate.ways if way) or "any points as they are"


def _contact(facts: Facts, stretch: PlainStretch) -> Drop | None:
    """The first drop to the stretch that has power through contacts only."""
    names = {place.piece for place in stretch.places}
    return next((drop for drop in facts.layout.drops if drop.when and drop.piece in names), None)


def _fixes(facts: Facts, stretch: PlainStretch, drop: Drop | None) -> Iterator[Fix]:
    """The contacts of the other position, or none; of track that no contacts feed, a feeder of its own."""
    from railbond.fixes.feeding import feed

    feeder = drop.statement if drop else None
    if drop is None or feeder is None or feeder.contacts is None or drop.when is None:
        yield from _one_supply(facts, stretch)
        if fix := feed(facts, [rail for place in stretch.places for rail in place.pair]):
            yield fix
        return
    yield from _other_positions(stretch, feeder, drop.when[0])
    edit = drop_clause(facts.sources[feeder.at.path], feeder, feeder.contacts, "through")
    name, changes = drop.piece, f"{drop.piece} has power at all times"
    yield Fix(f"take the contacts out of the wires to {name}", (edit,), plain=False, changes=changes)


def _one_supply(facts: Facts, stretch: PlainStretch) -> Iterator[Fix]:
    """Where the two rails hang on wires of two supplies: one wire moved, first to the supply that feeds more track."""
    names = {place.piece for place in stretch.places}
    own = [drop for drop in facts.layout.drops if drop.piece in names and not drop.when]
    if len(own) != 2 or own[0].wire.name == own[1].wire.name or own[0].statement.at == own[1].statement.at:
        return
    used = Counter(drop.wire.name for drop in facts.layout.drops)
    for keep, move in sorted((own, own[::-1]), key=lambda pair: -used[pair[0].wire.name]):
        leg = facts.layout.legs_of(keep.wire.name)[1 - keep.wire.leg]
        typed = str(keep.statement.supply).rpartition(".")[0] or str(keep.statement.supply)
        feeder = move.statement
        words = f"move the wire to {feeder.rail} from {feeder.supply} to {typed}.{leg}"
        yield Fix(words, (set_word(feeder, feeder.supply, f"{typed}.{leg}"),))


def _other_positions(stretch: PlainStretch, feeder: Feeder, mover: str) -> Iterator[Fix]:
    """The contacts in the positions of their points in which a train comes onto the stretch; where no way hangs on
    those, contacts of the points that it passes last."""
    assert feeder.contacts is not None
    word, position = feeder.contacts
    entered = {gate.end.end for gate in stretch.gates if gate.end.piece == mover and gate.at_table}
    if not entered:
        entered = {at for gate in stretch.gates for way in gate.ways for switch, at in way if switch == mover}
    for other in sorted(entered):
        if other != position:
            words = f"move the wires to {feeder.rail} to the contacts that close with {mover} {other}"
            yield Fix(words, (set_word(feeder, position, other),))
    for gate in stretch.gates if not entered else ():
        last = gate.end.piece
        for other in dict.fromkeys(at for way in gate.ways for switch, at in sorted(way) if switch == last):
            words = f"move the wires to {feeder.rail} to the contacts that close with {last} {other}"
            name = last.removeprefix(mover.removesuffix(word))
            yield Fix(words, (set_word(feeder, word, name), set_word(feeder, position, other)))


_PLAN = """\
plan      "Fuel spur"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
segment   line  stop -> T1.points     1.2 m
turnout   T1    right  number 6  isolated-frog
segment   lead  T1.through -> stop    80 cm
segment   fuel  T1.diverging -> stop  60 cm
gap       T1.diverging  both rails
frog      T1    switched from stock rails
feeder    main -> line
feeder    main -> lead
feeder    main -> fuel  through contacts of T1 {position}
"""

RULE = Rule(
    name="dead-when-entered",
    level="error",
    happens="dead rail",
    turn=10,
    cause=False,
    find=find,
    when="points feed track",
    of_graph="proof",
    summary="Track that has no volts while the points are set for a train to come onto it.",
    railroad=(
        "A spur or a table's bay is often made dead on purpose while no train can reach it: its wires go through "
        "contacts of the points. On the wrong throw of those contacts it is the other way round: live while nothing "
        "can come, and dead as soon as the points are set for it. The engine stops on the first rail. Where that is so "
        "in some of the settings only, such as from the far end of a siding, it is a warning."
    ),
    meter=(
        "Power on, points set for the track: a voltmeter from rail to rail reads nothing, and track voltage as soon as "
        "the points are thrown away from it."
    ),
    mend="Move the wires to the other throw of the contacts; or, where the track may always be live, leave them out.",
    caution="Unplug the supply before you move a wire.",
    fails=_PLAN.format(position="through"),
    passes=_PLAN.format(position="diverging"),
)
RULES = (RULE,)
