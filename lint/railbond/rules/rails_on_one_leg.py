"""Track both rails of which have power, and never from opposite legs: there are no volts between them."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import carries, of_metal
from railbond.circuit.entering import track_volts
from railbond.circuit.facts import Facts
from railbond.circuit.track_pairs import Pair, Place
from railbond.findings import Fix, Found, Step
from railbond.fixes.wire_names import wire_at
from railbond.layout.model import Drop
from railbond.layout.order import by_name
from trackplan.amend import drop_clause, set_word
from trackplan.span import Span

from .rule import Rule

SIDES = ("left", "right")


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each wire that leaves track without volts, or for each such piece where no wire is to blame.

    Where metal joins both legs nothing can be said of volts.
    """
    if facts.shorts:
        return
    volts = track_volts(facts)
    places: dict[Span, list[tuple[Place, Drop | None]]] = {}
    for place in volts.never:
        drop = _wrong(facts, place.pair)
        at = drop.statement.at if drop else facts.layout.pieces[place.piece].statement.at
        places.setdefault(at, []).append((place, drop))
    for at, own in places.items():
        yield _finding(facts, at, [place for place, _ in own], own[0][1])


def _wrong(facts: Facts, pair: Pair) -> Drop | None:
    """The single wire to one of the rails that is most likely on the wrong leg: the one whose move lets wheels roll on
    to what lies beyond; of two alike in this, by habit the first leg is on the left rail; then the last by name."""
    found: list[tuple[bool, int, Drop]] = []
    for number, drop in enumerate(sorted(facts.layout.drops, key=lambda drop: by_name(drop.statement.rail))):
        metal = facts.metal[facts.wiring.metal(drop.piece, drop.metal)]
        own = [side for side in (0, 1) if facts.metal[pair[side]] == metal]
        if own and drop.statement.crossed is None and "." in drop.statement.rail:
            found.append((drop.wire.leg != own[0], number, drop))
    if len(found) < 2:
        return found[0][2] if found else None
    return max(found, key=lambda one: (-_clashes(facts, pair, one[2]), *one[:2]))[2]


def _clashes(facts: Facts, pair: Pair, drop: Drop) -> int:
    """How much is shorted or opposed once a wire is moved."""
    fix = next(_fixes(facts, pair, drop), None)
    moved = fix and facts.in_trial().tried(fix.edits) or facts
    return len(moved.shorts) + len(moved.opposed)


def _finding(facts: Facts, at: Span, places: list[Place], drop: Drop | None) -> Found:
    names = list(dict.fromkeys(place.piece for place in places))
    what = " and ".join(names) if len(names) < 4 else f"{names[0]}, {names[1]} and {len(names) - 2} more pieces"
    carried = [_carried(facts, rail) for rail in places[0].pair]
    same = f"both rails of {what} carry {carried[0]}"
    if carried[0] != carried[1]:
        same = f"the left rail of {what} carries {carried[0]} and the right one {carried[1]}"
    how = "but never at one time" if _opposed(facts, places[0].pair) else "in every setting"
    return Found(
        at,
        f"{same}, {how}: there are no volts between them, and nothing can run there. No breaker trips.",
        tuple(step for side, rail in enumerate(places[0].pair) for step in _steps(facts, side, rail)),
        "", tuple(_fixes(facts, places[0].pair, drop)), tuple(names),
        claims=tuple(of_metal(facts, "no volts", place.pair) for place in places),
    )  # fmt: skip


def _opposed(facts: Facts, pair: Pair) -> bool:
    """Whether the two rails carry opposite legs, each in settings of its own."""
    left, right = (facts.proof.reachable(rail) for rail in pair)
    return any(one.source.opposes(other.source) for one in left for other in right)


def _carried(facts: Facts, rail: int) -> str:
    return " or ".join(dict.fromkeys(facts.leg(way.source) for way in facts.proof.reachable(rail)))


def _steps(facts: Facts, side: int, rail: int) -> Iterator[Step]:
    way = facts.proof.reachable(rail)[0]
    path = facts.witness.from_source(rail, way.source, way.setting)
    yield from path or [
        Step(
            None, f"the {SIDES[side]} rail is {facts.leg(way.source)}", (carries(facts, rail, way.source, way.setting),)
        )
    ]


def _fixes(facts: Facts, pair: Pair, drop: Drop | None) -> Iterator[Fix]:
    """The wire moved to the other leg of what feeds the other rail; of rails that have power at different times, its
    contacts taken out."""
    if drop is None:
        return
    feeder = drop.statement
    if _opposed(facts, pair):
        if feeder.contacts is not None:
            edit = drop_clause(facts.sources[feeder.at.path], feeder, feeder.contacts, "through")
            yield Fix(f"take the contacts out of the wire to {feeder.rail}", (edit,))
        return
    metal = facts.metal[facts.wiring.metal(drop.piece, drop.metal)]
    other = pair[1] if facts.metal[pair[0]] == metal else pair[0]
    source = facts.proof.reachable(other)[0].source
    wanted = wire_at(facts, other, source._replace(leg=1 - source.leg), source)
    yield Fix(
        f"move the wire to {feeder.rail} from {feeder.supply} to {wanted}", (set_word(feeder, feeder.supply, wanted),)
    )


_PLAN = """\
plan     "Ice house"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  ice   stop -> stop  1.5 m
feeder   main.red -> ice.left
feeder   main.{leg} -> ice.right
"""

RULE = Rule(
    name="rails-on-one-leg",
    level="error",
    happens="dead rail",
    turn=7,
    cause=True,
    find=find,
    when="track without volts",
    of_graph="proof",
    summary="Both rails of a track carry the same leg, so that there are no volts between them.",
    railroad=(
        "An engine takes its power from one rail and gives it back to the other. Where both hang on the same wire of "
        "the bus, or on wires of two supplies that have nothing to do with one another, no current flows: the engine "
        "stands, and no breaker trips. It is what comes of two drops in one screw."
    ),
    meter=(
        "Power on: a voltmeter from rail to rail reads nothing, though from either rail to a rail of live track beside "
        "it it may read track voltage."
    ),
    mend="Move one of the two drops to the other wire of the same supply.",
    caution="Unplug the supply before you move a wire.",
    fails=_PLAN.format(leg="red"),
    passes=_PLAN.format(leg="black"),
)
RULES = (RULE,)
