"""One reverser for two sections that lie apart: two trains can ask it for opposite polarities."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.unused import unused
from railbond.findings import Fix, Found, Step
from trackplan.amend import set_word
from trackplan.edit import add_line
from trackplan.statements import Feeder, Reverser
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.running.reversing import BoundaryCrossing, Sections


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each reverser with more than one section, where the plan has trains or engines."""
    reversers = any(one.kind == "reverser" for one in facts.layout.supplies.values())
    if not reversers or not (facts.layout.engines or facts.layout.trains):
        return
    from railbond.circuit.running.answers import running

    for sections in running(facts).sections.values():
        if len(sections.apart) > 1 and _clash(sections):
            yield _finding(facts, sections)


def _clash(sections: Sections) -> bool:
    """Whether cuts of two sections ask for different polarities."""
    first, *others = sections.apart
    return any(sections.disagree(one, other) for one in first for group in others for other in group)


def _finding(facts: Facts, sections: Sections) -> Found:
    named = [" and ".join(dict.fromkeys(sections.place(one) for one in group)) for group in sections.apart]
    supply = facts.layout.supplies[sections.reverser]
    fix = _idle_one(facts, sections) or _one_more(facts, sections)
    return Found(
        supply.statement.at,
        f"{sections.reverser} feeds {len(named)} sections that lie apart, bounded by {'; by '.join(named)}: two "
        "trains, one at the edge of each, can ask it for opposite polarities at once, and it suits only one of them.",
        tuple(Step(facts.layout.pieces[group[0].leg.piece].statement.at, f"one section begins at {words}")
              for group, words in zip(sections.apart, named, strict=True)),
        "", (fix,) if fix else (), (sections.reverser,),
    )  # fmt: skip


def _idle_one(facts: Facts, sections: Sections) -> Fix | None:
    """One of the sections on a reverser that feeds nothing yet."""
    from railbond.fixes.territories import likely, moved_to, stretches

    idle = next((one for one in unused(facts) if one.kind == "reverser"), None)
    own = [one for one in stretches(facts) if one.supply == sections.reverser] if idle else []
    return next(moved_to(facts, idle, likely(facts, idle, own)), None) if idle else None


def _one_more(facts: Facts, sections: Sections) -> Fix | None:
    """The feeders of the second section moved to a reverser of its own, where each has them for itself."""
    from railbond.fixes.fix_edits import beside
    from railbond.fixes.reversers import new_name
    from railbond.fixes.running_words import wires_of

    supply = facts.layout.supplies[sections.reverser].statement
    feeders = [_feeders(facts, sections, group) for group in sections.apart]
    shared = [one for one in feeders[1] if any(one in other for i, other in enumerate(feeders) if i != 1)]
    wires = {wire.rpartition(".")[2] for wire in wires_of(facts, sections.reverser)}
    if not isinstance(supply, Reverser) or shared or not {_wire(one) for one in feeders[1]} <= wires:
        return None
    name = new_name(facts)
    trips = f"  trips {supply.trips.text}" if supply.trips else ""
    line = add_line(beside(facts, Reverser, supply.at), f"reverser {name}  in {supply.district}{trips}")
    moved = [set_word(one, one.supply, name + one.supply[len(_wire(one)) :]) for one in feeders[1]]
    segments = ", ".join(dict.fromkeys(one.rail.partition(".")[0] for one in feeders[1]))
    return Fix(
        f"wire a second auto-reverser, {name}, and feed {segments} from it",
        (line, *moved), plain=False, changes=f"{segments} turns by itself",
    )  # fmt: skip


def _wire(feeder: Feeder) -> str:
    """The supply or terminal that a feeder comes from, without its leg."""
    return feeder.supply.rpartition(".")[0] if "." in feeder.rail else str(feeder.supply)


def _feeders(facts: Facts, sections: Sections, group: list[BoundaryCrossing]) -> list[Feeder]:
    """The reverser's feeders on the track between a section's edges."""
    pieces = {one.leg.piece for one in group}
    pieces |= {leg.piece for way in sections.throughs if way.into in group for leg in way.legs}
    found = {}
    for drop in facts.layout.drops:
        if drop.piece in pieces and sections.reverser in facts.supply_of_wire.get(drop.wire.name, ()):
            found[drop.statement.at] = drop.statement
    return list(found.values())


_PLAN = """\
plan      "Dog bone"
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
reverser  R1    in main
{more}turnout   T1    left  number 6  dead-frog
turnout   T2    left  number 6  dead-frog
segment   line  T1.points -> T2.points      4 m
segment   west  T1.through -> T1.diverging  4 m
segment   east  T2.through -> T2.diverging  4 m
bond      T1  closure rails to stock rails
bond      T2  closure rails to stock rails
gap       T1.through    both rails
gap       T1.diverging  both rails
gap       T2.through    both rails
gap       T2.diverging  both rails
feeder    main -> line
feeder    R1 -> west
feeder    {east} -> east
train     longest  1.6 m
"""

RULE = Rule(
    name="reverser-shared",
    level="warning",
    happens="short",
    turn=13,
    cause=False,
    find=find,
    when="there is a reverser",
    summary="One reverser feeds two sections that lie apart.",
    railroad=(
        "A reverser has one polarity for all that it feeds. With a train at the edge of each of its sections, one may "
        "want it turned while the other wants it as it is: it turns to and fro, both trains stop, and the breaker may "
        "trip. It works only as long as no two trains are at edges at the same time."
    ),
    meter="By eye: follow the wires from the reverser. They go to two stretches of track with other track between.",
    mend="Give each section a reverser of its own.",
    fails=_PLAN.format(more="", east="R1"),
    passes=_PLAN.format(more="reverser  R2    in main\n", east="R2"),
)
RULES = (RULE,)
