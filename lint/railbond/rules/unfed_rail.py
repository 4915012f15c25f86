"""Rails that no wire reaches in any setting of the turnouts."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import of_metal
from railbond.circuit.facts import Facts
from railbond.circuit.regions import regions, track_words
from railbond.findings import Fix, Found, Step
from railbond.fixes.feeding import feed
from railbond.layout.model import Edge

from .rule import Rule

SIDES = ("left", "right")


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each stretch of track with unfed rails, however many pieces it runs over; and one in all for a
    plan that no wire is laid in yet."""
    if facts.layout.unwired:
        yield from _unwired(facts)
        return
    for conductors in regions(facts, unfed_rails(facts)):
        if not edges_of(facts, conductors):
            yield finding(facts, conductors)


def _unwired(facts: Facts) -> Iterator[Found]:
    conductors = unfed_rails(facts)
    if conductors and not facts.layout.edges:
        found = finding(facts, conductors)
        words = Fix("lay the wires: `railbond wire` writes the cuts, drops and frog wires that a plan has not yet", ())
        said = "nothing is wired yet: the plan has no wire to any rail, so nothing can run."
        yield found._replace(message=said, fixes=(*found.fixes, words))


def edges_of(facts: Facts, conductors: list[int]) -> list[Edge]:
    """The endplates that a stretch of track reaches: where there are any, `endplate-unfed` tells it."""
    found = set(conductors)
    reached = [edge for edge in facts.layout.edges.values() if edge.end]
    return [edge for edge in reached if edge.end and found & {facts.wiring.rail(edge.end, side) for side in SIDES}]


def unfed_rails(facts: Facts) -> list[int]:
    """Rails without a source in every setting; the frog rails of a frog that stands alone count with their frog."""
    return [rail for rail in facts.proof.dead(facts.graph.rails) if rail not in facts.frog_units]


def finding(facts: Facts, conductors: list[int]) -> Found:
    """What is told of a stretch of track without power."""
    pieces = list(dict.fromkeys(facts.piece_of(conductor) for conductor in conductors))
    fix = feed(facts, conductors) if facts.with_fixes else None
    at = facts.layout.pieces[pieces[0]].statement.at
    track = track_words(facts, conductors).replace("both rails of ", "either rail of ")
    return Found(
        at,
        f"no wire reaches {track} in any setting of the turnouts: an engine stops there.",
        tuple(
            Step(facts.layout.pieces[name].statement.at, f"{name} gets nothing over its joints") for name in pieces[:6]
        ),
        "",
        (fix,) if fix else (),
        tuple(pieces),
        claims=(of_metal(facts, "dead", conductors),),
    )


RULE = Rule(
    name="unfed-rail",
    level="error",
    happens="dead rail",
    turn=10,
    cause=False,
    find=find,
    when="a rail is unfed",
    of_graph="proof",
    summary="A rail that no wire reaches in any setting of the turnouts.",
    railroad="The engine stops as soon as all its wheels on one side stand on the dead rail.",
    meter=(
        "Power on: a voltmeter or a lamp across the two rails, along the whole stretch and with the points thrown "
        "both ways. It stays dark."
    ),
    mend="Solder a feeder to the rail, from the leg that the rail carries on both sides of it.",
    fails="""\
plan     "Forgotten spur"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> J  1.5 m
segment  spur  J -> stop  1.5 m
gap      J     both rails
feeder   main -> line
""",
    passes="""\
plan     "Forgotten spur"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> J  1.5 m
segment  spur  J -> stop  1.5 m
gap      J     both rails
feeder   main -> line
feeder   main -> spur
""",
)
RULES = (RULE,)
