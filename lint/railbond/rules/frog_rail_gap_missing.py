"""A live frog that is joined to rails of the other polarity because its frog rail is not gapped."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import carries, joined
from railbond.circuit.facts import Facts
from railbond.circuit.frog_exits import Exit, doors, exits
from railbond.circuit.graph import Bond, Setting, SupplyLeg, agree
from railbond.circuit.proof import Proof
from railbond.circuit.witness import setting_words
from railbond.findings import Claim, Fix, Found, Step
from railbond.fixes.fix_edits import convert, gap_edits, places_of

from .rule import Rule

Met = tuple[Setting, SupplyLeg, SupplyLeg]
"""The setting in which two legs meet, and the legs."""


def find(facts: Facts) -> Iterator[Found]:
    """First with every such frog taken away at once, so that one fault does not blame its neighbor; then singly."""
    if not (facts.shorts or facts.opposed):
        return
    found = list(exits(facts))
    taken = frozenset[int]().union(*(one.unit for one in found))
    told = list(_faulty(facts, found, taken))
    for one in found if not told else ():
        told += _faulty(facts, [one], one.unit)
    yield from told


def _faulty(facts: Facts, found: list[Exit], taken: frozenset[int]) -> Iterator[Found]:
    """The exits whose rail beyond carries one phase where another door of the frog carries the other."""
    proof = Proof(facts.graph, lambda bond: bond.one not in taken and bond.other not in taken)
    for one in found:
        for outer, door in doors(facts, one):
            met = _clash(proof, one.beyond, outer, door)
            if met is not None:
                yield _finding(facts, one, outer, door, met)
                break


def _clash(proof: Proof, beyond: int, outer: int, door: Bond) -> Met | None:
    when = frozenset((door.when,)) if door.when else frozenset()
    found = (
        (setting, here.source, there.source)
        for here in proof.reachable(beyond)
        for there in proof.reachable(outer)
        if here.source.opposes(there.source) and agree(setting := here.setting | there.setting | when)
    )
    return min(found, key=lambda one: len(one[0]), default=None)


def _finding(facts: Facts, one: Exit, outer_rail: int, door: Bond, met: Met) -> Found:
    setting, here, there = met
    claims: tuple[Claim, ...] = (joined(facts, here, there, setting),)
    if door.kind == "wheel":
        claims = carries(facts, one.beyond, here, setting), carries(facts, outer_rail, there, setting)
    name, edits = one.piece.name, gap_edits(facts, one.meeting, (one.side,))
    place, when = places_of(edits), f"with {setting_words(setting)} " if setting else ""
    beyond = facts.graph.names[one.beyond]
    outer = facts.graph.names[outer_rail]
    tied = f"a wheel joins it to {outer}" if door.kind == "wheel" else f"it is tied to {outer}"
    gap = Fix(f"cut {place}, or put an insulated joiner there", edits)
    fixes = (gap, *convert(facts, one.piece)) if not one.piece.work else (gap,)
    return Found(
        one.meeting.at,
        f"{place} is not gapped: {when}the frog joins {beyond} to "
        f"{outer}, which carries the other leg, and the supply is shorted.",
        (
            Step(one.piece.statement.at, f"{name}'s frog and its frog rails are one metal"),
            Step(
                door.at,
                tied + (f" with {setting_words([door.when])}" if door.when else ""),
            ),
            Step(one.meeting.at, f"without a gap it runs on into {beyond}, which carries the other leg"),
        ),
        setting_words(setting),
        fixes,
        (name, f"{name}.{one.end}", one.meeting.other.piece),
        claims=claims,
    )


RULE = Rule(
    name="frog-rail-gap-missing",
    level="error",
    happens="short",
    turn=4,
    cause=True,
    find=find,
    when="legs meet or are opposed",
    of_graph="whether",
    summary="A live frog's rail runs on without a gap into track of the other polarity.",
    railroad=(
        "A live frog changes its polarity with the points. A frog rail that runs on without a gap carries that "
        "polarity into track which is fed the other way: throw the points and the breaker trips."
    ),
    meter=(
        "Supply unplugged, points thrown to one side and then to the other: probe between the two rails just "
        "beyond the frog. It must beep in neither position; where it beeps in one, that frog rail is not gapped."
    ),
    mend=(
        "Put an insulated joiner in, or cut the rail beyond the frog, on each frog rail that leads to fed track. "
        "Or rebuild the turnout: cut around the frog, bond the closure rails to their stock rails, feed the frog "
        "by itself."
    ),
    fails="""\
plan     "Mill spur"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  live-frog
segment  line  T1.through -> stop     90 cm
segment  mill  T1.diverging -> stop   90 cm
gap      T1.through    frog rail
frog     T1    switched from stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> mill
accept   open-point-opposed  at T1 because "its blades are hinged wide open"
accept   set-against at T1 because "a signal guards it"
""",
    passes="""\
plan     "Mill spur"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  live-frog
segment  line  T1.through -> stop     90 cm
segment  mill  T1.diverging -> stop   90 cm
gap      T1.through    frog rail
gap      T1.diverging  frog rail
frog     T1    switched from stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> mill
accept   open-point-opposed  at T1 because "its blades are hinged wide open"
accept   set-against at T1 because "a signal guards it"
""",
)
RULES = (RULE,)
