"""Rails that run on further than the owner wants before the next wire."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice, pairwise

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Step
from railbond.fixes.fix_edits import beside, length_words, local
from railbond.fixes.power_words import along_words, meters
from railbond.layout.limits import limit
from railbond.layout.model import Piece
from railbond.layout.template import rail_names
from trackplan.edit import add_line
from trackplan.statements import Feeder
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.power.distances import Far

MOST_FEEDERS = 20
"""Feeders that are written as lines for one segment."""


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each segment with such a place, and for each turnout that has one and meets no such segment."""
    most, pieces = limit(facts.layout, "feeder-spacing") or 0.0, facts.power.far_apart
    if not pieces:
        return
    from railbond.circuit.power.nearby import furthest_around

    found = {far.piece: far for far in furthest_around(facts.power, pieces) if far.distance > most}
    told = {name for name in found if facts.layout.pieces[name].template.length}
    beside_told = told.union(*(facts.power.met.get(name, ()) for name in told))
    for name, far in found.items():
        if name in told or name not in beside_told:
            yield _finding(facts, far, most)


def _finding(facts: Facts, far: Far, most: float) -> Found:
    piece = facts.layout.pieces[far.piece]
    name, wire = local(piece), far.drop.statement
    place = f", {along_words(piece, far.meters)}," if piece.template.metals[0].stop else ""
    fix = _fix(facts, far, piece, most) if facts.with_fixes else None
    return Found(
        piece.statement.at,
        f"the rail of {name}{place} lies {meters(far.distance)} from the nearest soldered wire along the metal; "
        f"{meters(most)} is the limit.",
        (Step(wire.at, f"the nearest wire is the feeder to {wire.rail}"),), "", (fix,) if fix else (), (far.piece,),
    )  # fmt: skip


def _fix(facts: Facts, far: Far, piece: Piece, most: float) -> Fix | None:
    """As few more feeders as bring every place of a segment near enough, from the wire that the nearest comes from; in
    words alone where nobody would solder so many."""
    places = [round(place, 2) for place in islice(_places(facts, far, piece, most), MOST_FEEDERS + 1)]
    if len(places) > MOST_FEEDERS:
        return Fix(f"solder a feeder to {local(piece)} every {meters(2 * most)}, or set a limit that can be kept", ())
    lines = [_line(facts, far, piece, place) for place in places] or list(_turnout_lines(facts, far, piece))
    if not lines:
        return None
    after = beside(facts, Feeder, piece.statement.at)
    where_ = f" at {' and '.join(map(length_words, places))}" if places else ""
    words = f"solder {'a feeder' if len(lines) == 1 else f'{len(lines)} feeders'} to {local(piece)}{where_}"
    return Fix(words, tuple(add_line(after, line) for line in lines))


def _places(facts: Facts, far: Far, piece: Piece, most: float) -> Iterator[float]:
    """Where to solder on the rail that is furthest from its wires, evenly between what is soldered there already."""
    metal = piece.template.metals[far.conductor - facts.wiring.first[piece.name]]
    own = [drop.place for drop in facts.layout.drops if facts.wiring.metal(drop.piece, drop.metal) == far.conductor]
    marks = [metal.start, *sorted(place for place in own if place is not None), metal.stop]
    for number, (start, stop) in enumerate(pairwise(marks)):
        free = (number == 0) + (number == len(marks) - 2)
        reach = stop - start
        count = max(_up(round((reach / most - 2 + free) / 2, 9)), 0) if reach else 0
        step = reach / (count + 1 - free / 2) if count else 0.0
        first = start + (step / 2 if number == 0 else step)
        yield from (first + step * index for index in range(count))


def _up(number: float) -> int:
    """The whole number at or above this one."""
    return int(-(-number // 1))


def _line(facts: Facts, far: Far, piece: Piece, place: float) -> str:
    """A pair of drops, each to the rail of its own leg."""
    left = next(
        index for index, metal in enumerate(piece.template.metals)
        if metal.words == "left rail" and metal.start <= place <= metal.stop
    )  # fmt: skip
    wire = far.drop.wire.name
    crossed = "  crossed" if facts.polarity.leg(wire, piece.name, left) else ""
    return f"feeder {wire.rpartition('.')[2]} -> {local(piece)}  at {length_words(place)}{_wire(facts, far)}{crossed}"


def _turnout_lines(facts: Facts, far: Far, piece: Piece) -> Iterator[str]:
    """One drop to each stock rail of a turnout."""
    wire = far.drop.wire.name
    legs = facts.layout.legs_of(wire)
    for rail, metal in rail_names(piece.template).items():
        if rail.endswith("stock"):
            leg = legs[facts.polarity.leg(wire, piece.name, metal)]
            yield f"feeder {wire.rpartition('.')[2]}.{leg} -> {local(piece)}.{rail}{_wire(facts, far)}"


def _wire(facts: Facts, far: Far) -> str:
    """Size and length as those of the nearest wire, longer by the way along the track and as thick as that asks for;
    nothing where it has none."""
    from railbond.circuit.power.copper import SHORT, enough

    wire = far.drop.statement
    if not wire.size or not wire.length:
        return ""
    length = _up((wire.length + far.distance) * 10) / 10
    guards = [facts.power.guards.get(name) for name in facts.power.supplies_of(far.drop.wire.name)]
    passes = max((float(guard.passes) for guard in guards if guard), default=0.0)
    return f"  {enough(wire.size, length <= SHORT, passes).text}  {length_words(length)}"


_PLAN = """\
plan     "One wire for the whole line"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> J  3 m
segment  spur  J -> stop  2.5 m
feeder   main -> line  at 1.5 m
{more}"""

RULE = Rule(
    name="feeders-too-far-apart",
    level="note",
    happens="stall",
    turn=21,
    cause=False,
    find=find,
    when="rail far from a feeder",
    summary="A place of a rail is further from any soldered wire than the limit.",
    railroad=(
        "The current comes by joiners. They loosen and tarnish with the years: the train slows down there, stutters, "
        "and one day stands."
    ),
    meter="Supply off: a meter set to ohms from the rail to its terminal reads more with every joiner in between.",
    mend="One more pair of drops; or solder the joiners and accept it with that reason.",
    fails=_PLAN.format(more=""),
    passes=_PLAN.format(more="feeder   main -> spur\n"),
)
RULES = (RULE,)
