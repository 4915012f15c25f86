"""A module's edge: whether each rail there carries the leg that the neighbor is promised, and any at all."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from railbond.circuit.claims import carries
from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Step
from railbond.fixes.fix_edits import uncrossed
from railbond.fixes.swaps import swap_words, swapped
from railbond.layout.model import Edge
from trackplan.amend import set_word
from trackplan.edit import Edit
from trackplan.statements import Bus, Feeder

from .rule import Rule


def find_crossed(facts: Facts) -> Iterator[Found]:
    """The first edge by name whose left rail, looking out, carries the other leg: what mends it mends most others."""
    by_name = sorted(facts.layout.edges.values(), key=lambda edge: edge.name)
    edges = (edge for edge in by_name if edge.end and edge.left is not None)
    crossed = (edge for edge in edges if _legs(facts, edge) == {1 - (edge.left or 0)})
    yield from (_crossed(facts, edge) for edge in islice(crossed, 1))


def _legs(facts: Facts, edge: Edge) -> set[int]:
    """The legs of fixed supplies that the left rail carries, and none where it is a reverser's in some setting."""
    assert edge.end is not None
    sources = [way.source for way in facts.proof.reachable(facts.wiring.rail(edge.end, "left"))]
    return set() if any(one.kind != "fixed" for one in sources) else {one.leg for one in sources}


def _crossed(facts: Facts, edge: Edge) -> Found:
    assert edge.end is not None and edge.left is not None
    plate, conductor = edge.statement, facts.wiring.rail(edge.end, "left")
    way = facts.proof.reachable(conductor)[0]
    legs = facts.layout.legs_of(way.source.supply)
    promised, carried = legs[edge.left], legs[1 - edge.left]
    why = facts.witness.from_source(conductor, way.source, way.setting)
    return Found(
        plate.at,
        f"looking out of the edge {plate.name}, the left rail carries {carried} where {promised} is promised: "
        "coupled to a neighbor, the two legs meet.",
        tuple(why),
        "",
        tuple(dict.fromkeys(_fixes(facts, edge, carried))),
        (edge.name, edge.end.piece),
        claims=(carries(facts, conductor, way.source, way.setting),),
    )


def _fixes(facts: Facts, edge: Edge, carried: str) -> Iterator[Fix]:
    """The wires that the others outvote; those crossed by the plan's own word; the only pair to the track at the edge,
    for other modules may hang on the terminal; all that leave the module's supplies; or the promise."""
    agreed = swapped(facts, facts.swaps) if facts.swaps else None
    if agreed and (tried := facts.tried(agreed.edits)) and _keeps(tried, edge):
        yield agreed
    own = [one for one in (*_first_wires(facts), *_feeders(facts)) if one.at.path == edge.statement.at.path]
    crossed = [one for one in own if one.crossed is not None]
    first = [one for one in own if one in _first_wires(facts)]
    for wires in filter(None, (crossed, _only_wire(facts, edge), first)):
        edits: list[Edit] = [edit for one in dict.fromkeys(wires) for edit in uncrossed(facts, one)]
        yield Fix(swap_words(facts, dict.fromkeys(wires)), tuple(edits))
    if edge.statement.left is not None:
        others = (one for one in facts.layout.edges.values() if one.end and one.left is not None and one != edge)
        agreed_elsewhere = any(_keeps(facts, one) for one in others)
        yield Fix(
            f"promise {carried} at {edge.statement.name} instead, and tell the neighbor",
            (set_word(edge.statement, edge.statement.left, carried),),
            plain=agreed_elsewhere,
            changes="" if agreed_elsewhere else f"the edge {edge.statement.name} no longer keeps to what was agreed",
        )


def _only_wire(facts: Facts, edge: Edge) -> list[Bus | Feeder]:
    """The feeder to the track that reaches an edge, where no other wire goes there."""
    votes = facts.polarity.votes
    here = {vote.stretch for vote in votes if vote.statement is edge.statement}
    wires = [vote.statement for vote in votes if vote.stretch in here and vote.wire]
    return [one for one in wires if isinstance(one, Feeder)] if len(wires) == 1 else []


def _keeps(facts: Facts, edge: Edge) -> bool:
    """Whether an edge carries what it promises."""
    now = facts.layout.edges.get(edge.name)
    return now is not None and now.end is not None and _legs(facts, now) == {edge.left}


def _first_wires(facts: Facts) -> list[Bus | Feeder]:
    """The runs and feeders that start at a supply which is no reverser."""
    supplies = facts.layout.supplies
    sources = [(run.source, run.statement) for run in facts.layout.runs]
    sources += [(drop.wire.name, drop.statement) for drop in facts.layout.drops]  # type: ignore[misc]
    fixed = (one for name, one in sources if name in supplies and supplies[name].kind != "reverser")
    return list({one.at: one for one in fixed if isinstance(one, Bus | Feeder)}.values())


def _feeders(facts: Facts) -> list[Bus | Feeder]:
    """The feeders that reach some metal, in the plan's order."""
    return list({one.statement.at: one.statement for one in facts.layout.drops}.values())


def find_unfed(facts: Facts) -> Iterator[Found]:
    """Every stretch of track without power that reaches an edge."""
    from railbond.circuit.regions import regions

    from .unfed_rail import edges_of, finding, unfed_rails

    for conductors in regions(facts, unfed_rails(facts)):
        edges = edges_of(facts, conductors)
        if edges:
            yield _unfed(finding(facts, conductors), edges)


def _unfed(found: Found, edges: list[Edge]) -> Found:
    names = " and ".join(str(edge.statement.name) for edge in edges)
    return found._replace(
        at=edges[0].statement.at,
        message=f"{found.message} It reaches the edge {names}, so the neighbor gets nothing there either.",
        why=(*found.why, *(Step(edge.statement.at, f"{edge.statement.name} is reached") for edge in edges)),
        names=(*(edge.name for edge in edges), *found.names),
    )


_HEAD = """\
plan     "Straight module"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
endplate W
endplate E     left red
"""
_CUT = """\
segment  line  W -> J  1 m
segment  last  J -> E  1 m
gap      J     both rails
feeder   main -> line
"""

CROSSED = Rule(
    name="endplate-crossed",
    level="error",
    happens="short",
    turn=2,
    cause=True,
    find=find_crossed,
    when="the other leg at an edge",
    of_graph="proof",
    summary="A module's edge whose rails carry the legs the other way round than promised.",
    railroad=(
        "Alone, the module runs. Coupled to a neighbor that keeps to what was agreed, red meets black in both rails, "
        "and the breaker trips as soon as the second module is plugged in."
    ),
    meter=(
        "Power on, before coupling: look out of the edge. A voltmeter with its red lead on the left rail and its black "
        "lead on the bus wire of the promised leg must read nothing."
    ),
    mend="Swap the two wires where the module's power comes in, and then check every reverser and frog of the module.",
    fails=_HEAD + "segment  line  W -> E  1 m\nfeeder   main -> line  crossed\n",
    passes=_HEAD + "segment  line  W -> E  1 m\nfeeder   main -> line\n",
)
UNFED = Rule(
    name="endplate-unfed",
    level="error",
    happens="dead rail",
    turn=10,
    cause=False,
    find=find_unfed,
    when="a rail is unfed",
    of_graph="proof",
    summary="Track without power that reaches a module's edge.",
    railroad="The engine stops before it leaves the module, and the neighbor's rails get nothing from here.",
    meter="Power on: a lamp across the two rails at the edge, with the points thrown both ways. It stays dark.",
    mend="Solder a feeder to the track at the edge, or plug the module's bus in.",
    fails=_HEAD + _CUT,
    passes=_HEAD + _CUT + "feeder   main -> last\n",
)
RULES = (CROSSED, UNFED)
