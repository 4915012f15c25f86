"""Two supplies that must stay apart, joined through metal."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.forest import Part, Seam
from railbond.circuit.questions import Clash
from railbond.circuit.witness import setting_words
from railbond.findings import Finding, Fix

from .mends import gap_place_words, seam_edits
from .rule import Rule


def find(facts: Facts) -> Iterator[Finding]:
    """One finding for each pair of supplies that mingle, with the fewest seams to gap between them."""
    told: set[frozenset[str]] = set()
    for clash in facts.minglings:
        pair = frozenset((clash.one.supply, clash.other.supply))
        if pair not in told:
            told.add(pair)
            yield _finding(facts, clash)


def _finding(facts: Facts, clash: Clash) -> Finding:
    start = next(c for c, source in facts.graph.sources.items() if source == clash.one)
    path = facts.witness.path(start, lambda c: facts.graph.sources.get(c) == clash.other, clash.setting) or []
    steps = facts.witness.steps(start, path)
    seams = fewest_cuts(facts, clash.one.supply, clash.other.supply)
    edits = tuple(edit for seam in seams for edit in seam_edits(facts, seam, (0, 1)))
    joint = next((seam.meeting.at for seam in seams if seam.meeting), None)
    at = joint or next((step.at for step in steps[1:] if step.at), facts.statements[0].at)
    fix = Fix(f"gap both rails at the boundary: {gap_place_words(edits)}", edits)
    names = [part[0] for seam in seams for part in (seam.one, seam.other)]
    return Finding(
        RULE.name,
        RULE.level,
        RULE.happens,
        at,
        _message(facts, clash),
        tuple(steps),
        setting_words(clash.setting),
        (fix,) if edits else (),
        (*dict.fromkeys(names), clash.one.supply, clash.other.supply),
    )


def _message(facts: Facts, clash: Clash) -> str:
    one, other = clash.one.supply, clash.other.supply
    joined = f"{one} and {other} are joined through metal: {facts.leg(clash.one)} meets {facts.leg(clash.other)}."
    if "reverser" in (clash.one.kind, clash.other.kind):
        return f"{joined} When the reverser turns its polarity, that is a dead short."
    boosters = {facts.layout.supplies[name].booster for name in (one, other)}
    if len(boosters) > 1:
        return f"{joined} Two boosters feed one another, and a short in one takes down both."
    return f"{joined} A short in one takes down both, and a detector in either sees the other's trains."


def fewest_cuts(facts: Facts, one: str, other: str) -> list[Seam]:
    """The fewest seams whose gapping parts the track that one supply feeds from the track the other feeds."""
    import networkx as nx

    fed = _fed(facts)
    graph = nx.DiGraph()
    between: dict[tuple[Part, Part], list[Seam]] = {}
    for seam in facts.turning.seams:
        between.setdefault((seam.one, seam.other), []).append(seam)
    for (here, there), seams in between.items():
        cost = sum(1.0 + 0.001 * sum(not cut for cut in seam.gapped) for seam in seams if not all(seam.gapped))
        if cost:
            for edge in ((here, there), (there, here)):
                before = graph.get_edge_data(*edge, {"capacity": 0.0})["capacity"]
                graph.add_edge(*edge, capacity=before + cost)
    for part, supplies in fed.items():
        if one in supplies:
            graph.add_edge("one", part)
        if other in supplies:
            graph.add_edge(part, "other")
    if "one" not in graph or "other" not in graph:
        return []
    try:
        _, (near, _far) = nx.minimum_cut(graph, "one", "other")
    except nx.NetworkXUnbounded:
        return []
    return [
        seam
        for seam in facts.turning.seams
        if not all(seam.gapped) and (seam.one in near) != (seam.other in near) and {seam.one, seam.other} <= set(graph)
    ]


def _fed(facts: Facts) -> dict[Part, set[str]]:
    """Which supplies' wires reach each part."""
    from railbond.circuit.polarity import part_side

    behind = facts.supply_of_wire
    fed: dict[Part, set[str]] = {}
    for drop in facts.layout.drops:
        part, _ = part_side(facts.wiring, drop.piece, drop.metal)
        fed.setdefault(part, set()).update(behind.get(drop.wire.name, ()))
    return fed


RULE = Rule(
    name="districts-joined",
    level="error",
    happens="short",
    turn=2,
    cause=True,
    find=find,
    summary="Two districts, a block and its district, or a reverser and fixed track are joined through metal.",
    railroad=(
        "Two boosters that are joined feed one another; a short anywhere takes both down, and out of step they "
        "short at once. A detected block that is joined to its neighbour reports trains that are not there, or "
        "misses those that are. A reverser joined to fixed track shorts whenever it turns."
    ),
    meter=(
        "All supplies unplugged: a meter from one district's wire to the other district's wire of the same "
        "colour, at the terminals. It must not beep (a common rail, where one is meant, apart)."
    ),
    mend="Gap both rails at the boundary, opposite each other.",
    fails="""\
plan     "Two boosters"
booster  B1    15 V  5 A
booster  B2    15 V  5 A
district town  from B1  trips 4 A
district hill  from B2  trips 4 A
segment  down  stop -> J  1.5 m
segment  up    J -> stop  1.5 m
feeder   town -> down
feeder   hill -> up
""",
    passes="""\
plan     "Two boosters"
booster  B1    15 V  5 A
booster  B2    15 V  5 A
district town  from B1  trips 4 A
district hill  from B2  trips 4 A
segment  down  stop -> J  1.5 m
segment  up    J -> stop  1.5 m
gap      J     both rails
feeder   town -> down
feeder   hill -> up
""",
)
RULES = (RULE,)
