"""An engine whose pickups all stand on dead metal for a stretch."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.running import measure
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found, Step
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

TELL_DEAD_METAL = ("unfed-rail", "unfed-frog", "fed-through-points")
"""Rules that tell dead metal. What they have told is not told again by its engines."""

LONGEST_KEEP_ALIVE = 5.0
"""Seconds: what large ones hold (common practice)."""

if TYPE_CHECKING:
    from railbond.circuit.graph import Setting
    from railbond.circuit.running.geometry import Leg
    from railbond.circuit.running.pickups import Pickups
    from railbond.circuit.running.stalling import StallAt


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each stretch of dead metal, or each group of them, on which some engine stalls."""
    if not facts.layout.engines:
        return
    from railbond.circuit.running.answers import running

    for cause, by_name in running(facts).stalls.items():
        yield _finding(facts, sorted(cause), sorted(by_name.values(), key=lambda one: -one.length))
    for name in sorted(running(facts).track.cut_short):
        yield _not_followed(facts, name)


def _not_followed(facts: Facts, name: str) -> Found:
    at = facts.layout.pieces[name].statement.at
    message = f"more ways lead over {name} within an engine's length than could be followed: not all were looked at."
    return Found(at, message, names=(name,), level="note", happens="on paper")


def _finding(facts: Facts, pieces: list[str], stalls: list[StallAt]) -> Found:
    from railbond.fixes.running_words import route_words, stretch_words

    worst = stalls[0]
    fixes = tuple(_fixes(facts, pieces, stalls)) if facts.with_fixes else ()
    others = [f"{one.engine.name} for {measure(one.length)}" for one in stalls[1:]]
    also = f"; so do {', '.join(others)}" if others[1:] else f"; so does {others[0]}" if others else ""
    return Found(
        facts.layout.pieces[pieces[0]].statement.at,
        f"{worst.engine.name} stalls on {' and '.join(pieces)}: going {route_words(worst.window)}, all its "
        f"{' and '.join(worst.sides)} pickups are on dead metal for {measure(worst.length)}, its foremost one from "
        f"{stretch_words(worst)}{also}.",
        tuple(_reason(facts, pieces, stalls)), setting_words(worst.setting), fixes,
        (*pieces, *(one.engine.name for one in stalls)),
    )  # fmt: skip


def _reason(facts: Facts, pieces: list[str], stalls: list[StallAt]) -> Iterator[Step]:
    for leg in stalls[0].window.legs:
        if leg.piece in pieces:
            words = dead_words(facts, leg, stalls[0].setting)
            yield Step(facts.layout.pieces[leg.piece].statement.at, words)
    for one in stalls:
        yield Step(one.engine.statement.at, _pickup_words(one.engine))


def dead_words(facts: Facts, leg: Leg, setting: Setting) -> str:
    """`T1's frog is dead for 22 mm`, with the estimate shown as one."""
    from railbond.circuit.running.answers import running

    run = running(facts)
    whole = run.ground.dead_length(leg, setting)
    what = f"a rail of {leg.piece}" if run.ground.dead_length(leg, setting, "rail") else f"{leg.piece}'s frog"
    size = run.track.size(leg.piece)
    if leg.position is None or size.told:
        return f"{what} is dead for {measure(whole)}"
    return f"{what} is dead for about {measure(whole)}, as estimated for a frog of number {size.number:g}"


def _pickup_words(engine: Pickups) -> str:
    left, right = (measure(wheels[-1] - wheels[0]) for wheels in (engine.left, engine.right))
    reach = left if left == right else f"{left} on the left and {right} on the right"
    coast = f" and rolls on for {measure(engine.coast)} without power" if engine.coast else ""
    return f"{engine.name} picks up over {reach}{coast}"


def _fixes(facts: Facts, pieces: list[str], stalls: list[StallAt]) -> Iterator[Fix]:
    from railbond.fixes.feeding import feed
    from railbond.fixes.running_words import can_be_fed, feed_frogs, feed_words

    frogs = [facts.layout.pieces[name] for name in pieces]
    if all(can_be_fed(facts, piece) for piece in frogs):
        edits = feed_frogs(facts, frogs)
        words = "; ".join(feed_words(facts, piece) for piece in frogs)
        named = " and ".join(pieces)
        yield Fix(words, edits, plain=False, changes=f"{named} is rebuilt: its frog carries power")
    elif rails := _dead_rails(facts, pieces, stalls[0]):
        yield from filter(None, [feed(facts, rails)])
    yield from _capacitor(stalls)


def _dead_rails(facts: Facts, pieces: list[str], stall: StallAt) -> list[int]:
    from railbond.circuit.running.answers import running

    legs = (leg for leg in stall.window.legs if leg.piece in pieces)
    return [rail for leg in legs for rail in running(facts).ground.dead_rails(leg, stall.setting)]


def _capacitor(stalls: list[StallAt]) -> Iterator[Fix]:
    """A capacitor for every engine that stalls, where none needs more than such a thing holds."""
    from railbond.fixes.running_words import kept_alive

    needed = {one.engine: one.length * 1e-6 / one.engine.crawl for one in stalls if one.engine.crawl}
    if len(needed) < len(stalls) or max(needed.values()) > LONGEST_KEEP_ALIVE:
        return
    edits = tuple(edit for engine, seconds in needed.items() for edit in kept_alive(engine.statement, seconds))
    crawl = measure(min(engine.crawl for engine in needed) * 1e6)
    yield Fix(
        f"give {' and '.join(engine.name for engine in needed)} a capacitor that lasts "
        f"{max(needed.values()) * 1000:.0f} ms, at a crawl of {crawl} a second, or more wheels to pick up with",
        edits, plain=False, changes="an engine with a capacitor stops later when the power is cut",
    )  # fmt: skip


_PLAN = """\
plan      "Short wheelbase"
scale     HO
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
segment   lead  stop -> T1.points     90 cm
turnout   T1    left  number 6  {build}  dead 28 mm
segment   line  T1.through -> stop    90 cm
segment   dock  T1.diverging -> stop  90 cm
{frog}feeder    main -> lead
feeder    main -> line
feeder    main -> dock
engine    switcher  left 0 18 mm  right 0 18 mm  0.3 A
"""

RULE = Rule(
    name="stalls",
    level="warning",
    happens="stall",
    turn=13,
    cause=False,
    after=TELL_DEAD_METAL,
    find=find,
    when="an engine stalls",
    summary="An engine at a crawl comes to stand with all pickups of one side on dead metal.",
    railroad=(
        "A wheel on a plastic or unfed frog brings no power. An engine keeps going as long as one wheel on the left "
        "and one on the right stand on live rail; where all of one side are dead at once, it stops dead unless it "
        "rolls on by its flywheel or a capacitor. Short engines do so on long frogs, and longer ones where two dead "
        "frogs lie an engine's length apart.\n\n"
        "Which turnout to buy: a dead frog does where the shortest engine picks up over more than the frog's dead "
        "length; where a frog is longer than that, it must be metal and fed. The dead length grows with the number: in "
        "HO about 15 mm for a number 4, 23 mm for a 6, 30 mm for an 8 (estimates). `railbond choose` tells it turnout "
        "by turnout for the engines of a plan.\n\n"
        "An engine's pickups are told as distances along each rail; those of a tender or a truck as they stand on "
        "straight track. A capacitor is taken to be charged again before the next dead stretch. An engine crawls at "
        "`limit crawl-speed` (20 mm/s unless said), and one with a flywheel rolls on for `limit stall-time`. Wheels "
        "touch both sides of a cut at once; where insulation lies flush with the railhead, `limit gap-length` says how "
        "long it is."
    ),
    meter=(
        "By hand: push the engine over the turnout with the motor free and a meter from its left to its right pickups, "
        "or let it crawl in a dark room with its headlight on: where the light goes out, it stalls."
    ),
    mend=(
        "Feed the frog, if it is metal, through contacts that move with the points or an automatic frog unit. In "
        "the place of a plastic one put a turnout with a metal frog. Or give the engine more pickups, on its tender "
        "too, or a capacitor."
    ),
    caution="A capacitor holds a charge when the power is off: let it run down before you solder at it.",
    fails=_PLAN.format(build="dead-frog", frog=""),
    passes=_PLAN.format(build="isolated-frog", frog="frog      T1  switched  from stock rails\n"),
)
RULES = (RULE,)
