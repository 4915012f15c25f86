"""Two supplies that must stay apart, joined through metal."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import joined
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond
from railbond.circuit.questions import Clash
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found
from railbond.layout.model import Wire

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each pair of supplies that mingle, with the fewest seams to gap between them."""
    told, waiting = set[frozenset[str]](), _ungapped_reversers(facts)
    for clash in facts.minglings:
        pair = frozenset((clash.one.supply, clash.other.supply))
        if pair not in told and not pair & waiting:
            told.add(pair)
            yield _finding(facts, clash)


def _ungapped_reversers(facts: Facts) -> set[str]:
    """The reversers of sections that are gapped at neither end: told as track that turns, that is one fault."""
    from railbond.fixes.section_supplies import reverser_for
    from railbond.fixes.sections import is_marked, sections_for

    sources = (source for clash in facts.minglings for source in (clash.one, clash.other))
    names = {source.supply for source in sources if source.kind == "reverser"}
    found = sections_for(facts, names) if names else ()
    bare = [section for section in found if not any(is_marked(facts, seam) for seam in section.ends)]
    return {name for section in bare if (name := reverser_for(facts, section))}


def _finding(facts: Facts, clash: Clash) -> Found:
    from railbond.fixes.candidates import curing, moved_wires
    from railbond.fixes.fix_edits import places_of
    from railbond.fixes.parting import boundary_at, boundary_edits, fewest_boundaries, shared_leg

    start = next(c for c, source in facts.graph.sources.items() if source == clash.one)
    path = facts.witness.path_to(start, clash.other, clash.setting) or []
    steps = facts.witness.steps(start, path)
    one, other = feeding(facts, start, path)
    boundaries = fewest_boundaries(facts, one, other)
    edits = boundary_edits(facts, boundaries)
    which = ", which is not common to both" if shared_leg(facts, one, other) is not None else ""
    gaps = Fix(f"gap {places_of(edits)}{which}: {one} and {other} part there", edits)
    pair = {clash.one.supply, clash.other.supply}
    wires = moved_wires(facts, path, (one, other)) if facts.with_fixes else ()
    moves = curing(facts, wires, lambda tried: _is_parted(tried, pair))
    fixes = ((gaps,) if edits else ()) + tuple(candidate.fix for candidate in moves)
    files = list(facts.sources)
    told_at = [boundary_at(facts, boundary) for boundary in boundaries]
    told_at.sort(key=lambda at: (files.index(at.path), at.start))  # of ends that are alike none is before another
    told_at += [bond.at for bond, _ in path if bond.kind == "joint" and bond.at]
    names = [part[0] for boundary in boundaries for part, _ in (boundary.one, boundary.other)]
    return Found(
        next(iter([*told_at, *(step.at for step in steps[1:] if step.at), facts.statements[0].at])),
        _message(facts, clash),
        tuple(steps),
        setting_words(clash.setting),
        fixes,
        (*dict.fromkeys([*names, *(name for _, there in path if (name := facts.piece_of(there)))]), one, other),
        claims=(joined(facts, clash.one, clash.other, clash.setting),),
    )


def feeding(facts: Facts, start: int, path: list[tuple[Bond, int]]) -> tuple[str, str]:
    """The supplies at the two ends of the track on a path: those of the path itself, or blocks that toggles tie to
    them."""
    names = {facts.wiring.wire(Wire(name, leg)): name for name in facts.layout.supplies for leg in (0, 1)}
    conductors = [start, *(there for _, there in path)]
    rails = [place for place, one in enumerate(conductors) if facts.piece_of(one)] or [len(conductors) - 1]
    before = [names[one] for one in conductors[: rails[0]] if one in names]
    behind = [names[one] for one in conductors[rails[-1] :] if one in names]
    return before[-1], behind[0]


def _is_parted(facts: Facts, pair: set[str]) -> bool:
    return not any({clash.one.supply, clash.other.supply} == pair for clash in facts.minglings)


def _message(facts: Facts, clash: Clash) -> str:
    one, other = clash.one.supply, clash.other.supply
    joined = f"{one} and {other} are joined through metal: {facts.leg(clash.one)} meets {facts.leg(clash.other)}."
    if "reverser" in (clash.one.kind, clash.other.kind):
        return f"{joined} When the reverser turns its polarity, that is a dead short."
    if clash.one.kind == "analog":
        return f"{joined} Both then drive the same engines, and set against each other they are a short."
    boosters = {facts.layout.supplies[name].booster for name in (one, other)}
    if len(boosters) > 1:
        return f"{joined} Two boosters feed one another, and a short in one takes down both."
    return f"{joined} A short in one takes down both, and a detector in either sees the other's trains."


RULE = Rule(
    name="districts-joined",
    level="error",
    happens="short",
    turn=2,
    cause=True,
    find=find,
    when="supplies mingle",
    of_graph="proof",
    summary="Two districts, a block and its district, or a reverser and fixed track are joined through metal.",
    railroad=(
        "Two boosters that are joined feed one another; a short anywhere takes both down, and out of step they "
        "short at once. A detected block that is joined to its neighbor reports trains that are not there, or "
        "misses those that are. A reverser joined to fixed track shorts whenever it turns."
    ),
    meter=(
        "All supplies unplugged: a meter from one district's wire to the other district's wire of the same "
        "color, at the terminals. It must not beep (a common rail, where one is meant, apart)."
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
