"""A gap with analog power on one side and digital on the other: every wheel that passes ties them together."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.across import across
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Roll, Setting, SupplyLeg
from railbond.circuit.proof import Reachable
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found, Step
from railbond.fixes.candidates import CandidateFix
from railbond.layout.model import FrogFeed
from trackplan.amend import add_clause, set_word
from trackplan.edit import Edit, add_line
from trackplan.span import Span
from trackplan.statements import Block, Feeder

from .rule import Rule

Bridged = tuple[Roll, Setting]


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each joint, cut or table at which a wheel always ties the two systems."""
    if all(source.kind != "analog" for source in facts.graph.sources.values()):
        return
    told: dict[object, Bridged] = {}
    for roll, setting in bridged(facts):
        place = roll.meeting if roll.meeting is not None else (facts.piece_of(roll.one), facts.piece_of(roll.other))
        told.setdefault(place, (roll, setting))
    units: dict[Span, FrogFeed] = {}
    for roll, setting in told.values():
        if feed := _unit_on_a_cab(facts, roll):
            units.setdefault(feed.statement.at, feed)
        else:
            yield _finding(facts, roll, setting)
    yield from (_of_unit(facts, feed) for feed in units.values())


def bridged(facts: Facts) -> Iterator[Bridged]:
    """Every pass from one system onto the other, in its least setting.

    Not one that a switch can make safe by lending the track on one side to the other's system: whoever runs the train
    sets it first, as he sets points.
    """
    for roll in facts.graph.rolls:
        if facts.proof.component[roll.one] != facts.proof.component[roll.other]:
            setting = across(facts.proof, roll.one, roll.other, SupplyLeg.is_alien_to, roll.needs)
            if setting is not None and across(facts.proof, roll.one, roll.other, _alike, roll.needs) is None:
                yield roll, setting


def _unit_on_a_cab(facts: Facts, roll: Roll) -> FrogFeed | None:
    """The automatic unit of a frog that a wheel rolls onto, where that hangs on a cab itself."""
    supplies = facts.layout.supplies
    for feed in facts.layout.feeds(facts.piece_of(roll.one)) if roll.meeting is None else ():
        behind = [supplies[name] for name in facts.supply_of_wire.get(feed.supply or "", ())]
        cabs = [name for one in behind for name in (one.choices or (one.district or one.name,))]
        if cabs and all(name in supplies and supplies[name].kind == "cab" for name in cabs):
            return feed
    return None


def _of_unit(facts: Facts, feed: FrogFeed) -> Found:
    from railbond.fixes.candidates import curing
    from railbond.fixes.fix_edits import rewritten_frog

    words = f"feed the frog of {feed.piece} from its own stock rails through contacts that move with its points"
    changes = f"contacts at {feed.piece} in the place of its unit"
    fix = Fix(words, rewritten_frog(facts, feed), False, changes)
    has_points = facts.layout.pieces[feed.piece].template.has_points
    candidates = [CandidateFix(feed.statement.at, fix, ())] if has_points else []
    cured = curing(facts, candidates, lambda tried: _is_better(facts, tried))
    return Found(
        feed.statement.at,
        f"the automatic frog unit of {feed.piece} hangs on {feed.supply}, which is analog: such a unit works on "
        "digital power only, and turns nothing on that of a throttle.",
        (), "", tuple(one.fix for one in cured), (feed.piece,),
    )  # fmt: skip


def _alike(one: SupplyLeg, other: SupplyLeg) -> bool:
    return not one.is_alien_to(other)


def _finding(facts: Facts, roll: Roll, setting: Setting) -> Found:
    from railbond.fixes.candidates import curing

    (analog, own), (digital, there) = _sides(facts, roll, setting)
    names = [facts.graph.names[conductor] for conductor in (analog, digital)]
    why = [Step(roll.at, f"here a wheel rolls between {names[0]} and {names[1]}")]
    why += facts.witness.from_source(analog, own.source, setting)
    why += facts.witness.from_source(digital, there.source, setting)
    candidates = curing(facts, _cures(facts, analog, own, there), lambda tried: _is_better(facts, tried))
    pieces = dict.fromkeys(facts.piece_of(conductor) for conductor in (analog, digital))
    return Found(
        roll.at or facts.statements[0].at,
        f"{names[0]} is analog ({facts.leg(own.source)}) and {names[1]} digital ({facts.leg(there.source)}): the gap "
        "keeps them apart only until the first wheel, or an engine that picks up on both sides, bridges it.",
        tuple(why), setting_words(setting), tuple(candidate.fix for candidate in candidates), tuple(pieces),
    )  # fmt: skip


def _sides(facts: Facts, roll: Roll, setting: Setting) -> tuple[tuple[int, Reachable], tuple[int, Reachable]]:
    """The analog conductor with its way, and the digital one."""
    found: dict[bool, tuple[int, Reachable]] = {}
    for conductor in (roll.one, roll.other):
        for way in facts.proof.reachable(conductor):
            if way.setting <= setting:
                found.setdefault(way.source.kind == "analog", (conductor, way))
    return found[True], found[False]


def _is_better(facts: Facts, tried: Facts) -> bool:
    return len(list(bridged(tried))) < len(list(bridged(facts))) and len(tried.aliens) <= len(facts.aliens)


def _cures(facts: Facts, analog: int, own: Reachable, there: Reachable) -> Iterator[CandidateFix]:
    """The analog side lent to either system by a toggle, where the plan has a word for what feeds it."""
    from railbond.fixes.fix_edits import beside

    digital = facts.layout.supplies.get(there.source.supply)
    district = digital and (digital.district or digital.name)
    feeders = _feeders(facts, analog)
    if not district or not feeders or there.source.kind != "fixed":
        return
    name = _free_name(facts)
    edits = [one for feeder in feeders for one in _lent(facts, feeder, name, district)]
    cab = own.source.cab or own.source.supply
    if not all(_own_block(facts, feeder) for feeder in feeders):
        edits.append(add_line(beside(facts, Block, feeders[0].at), f"block {name}  in {cab} or {district}"))
    rails = " and ".join(dict.fromkeys(feeder.rail.partition(".")[0] for feeder in feeders))
    words = (
        f"feed {rails} through a toggle of two poles that connects it either to {cab} or to {district}, and set it to "
        "the side from which the train comes while it passes the gap"
    )
    yield CandidateFix(
        feeders[0].at, Fix(words, tuple(dict.fromkeys(edits)), False, f"{rails} is lent to either system"), ()
    )


def _feeders(facts: Facts, conductor: int) -> list[Feeder]:
    """The feeders of a stretch of track: both its rails, which one pair of drops feeds."""
    component = facts.proof.component
    drops = [(component[facts.wiring.metal(drop.piece, drop.metal)], drop.statement) for drop in facts.layout.drops]
    own = [feeder.at for metal, feeder in drops if metal == component[conductor]]
    components = {metal for metal, feeder in drops if feeder.at in own}
    return list({feeder.at: feeder for metal, feeder in drops if metal in components}.values())


def _lent(facts: Facts, feeder: Feeder, name: str, district: str) -> Iterator[Edit]:
    """What feeds a feeder lent to the district too: a block's own line, or else the feeder moved to a new block."""
    block = _own_block(facts, feeder)
    if block:
        yield add_clause(block, "others", f"or {district}")
    else:
        leg = "" if feeder.supply in facts.layout.supplies else str(feeder.supply).rpartition(".")[2]
        known = feeder.supply.rpartition(".")[0] in facts.layout.supplies
        yield set_word(feeder, feeder.supply, f"{name}.{leg}" if leg and known else name)


def _own_block(facts: Facts, feeder: Feeder) -> Block | None:
    """The block that a feeder hangs on, if it does on one."""
    word = str(feeder.supply)
    supply = facts.layout.supplies.get(word) or facts.layout.supplies.get(word.rpartition(".")[0])
    return supply.statement if supply and isinstance(supply.statement, Block) else None


def _free_name(facts: Facts) -> str:
    taken = {str(getattr(one, "name", "")) for one in facts.statements} | facts.reserved
    return next(name for number in range(1, len(taken) + 2) if (name := f"lent{number}") not in taken)


_PLAN = """\
plan     "Old yard, new main line"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
cab      hand  12 V  1 A
{block}segment  line  stop -> J  3 m
segment  yard  J -> stop  1.5 m
gap      J     both rails
feeder   main -> line
feeder   {hand} -> yard
"""

RULE = Rule(
    name="analog-digital-gap",
    level="error",
    happens="short",
    turn=10,
    cause=False,
    find=find,
    when="there is an analog cab",
    summary="A gap parts analog track from digital track, and a wheel bridges it.",
    railroad=(
        "Nothing happens until an engine rolls over. Its wheels then join the booster to the cab: the cab, the booster "
        "or the decoder burns out, or the engine takes off at full speed."
    ),
    meter=(
        "A meter cannot tell: with no wheel on the gap all is well. Roll one metal wheelset over it with both supplies "
        "unplugged and a meter between their wires: it beeps while the wheel is on the gap."
    ),
    mend=(
        "Put a stretch between them that is longer than the longest train, gapped in both rails at both ends, and lend "
        "it by a toggle or relay to the side where the train is: into it from the one side, throw, out to the other. "
        "Where nothing runs through, lend the whole yard that way. Plastic wheels bridge no gap. A wheelset with a "
        "resistor for detection is no bridge between the two rails, but its metal treads bridge a gap as any others do."
    ),
    caution="Unplug both supplies before you work on it; never try whether they get along.",
    fails=_PLAN.format(block="", hand="hand"),
    passes=_PLAN.format(block="block    lock  in hand or main\n", hand="lock"),
)
RULES = (RULE,)
