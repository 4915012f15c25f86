"""Analog and digital power joined through metal, with no wheel on the track."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond
from railbond.circuit.questions import Clash
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found
from railbond.fixes.candidates import CandidateFix
from railbond.layout.model import CommonRail
from trackplan.amend import drop_clause

from .districts_joined import feeding
from .rule import Rule

PARTS_WITH_THE_POINTS = ("touch", "contact")


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each analog and digital supply that meet."""
    told: set[frozenset[str]] = set()
    for clash in facts.aliens:
        pair = frozenset((clash.one.supply, clash.other.supply))
        if pair not in told:
            told.add(pair)
            yield _finding(facts, clash)


def _finding(facts: Facts, clash: Clash) -> Found:
    from railbond.fixes.candidates import curing, moved_wires
    from railbond.fixes.fix_edits import places_of
    from railbond.fixes.parting import boundary_at, boundary_edits, fewest_boundaries

    start = next(c for c, source in facts.graph.sources.items() if source == clash.one)
    path = facts.witness.path_to(start, clash.other, clash.setting) or []
    one, other = feeding(facts, start, path) if path else (clash.one.supply, clash.other.supply)
    boundaries = fewest_boundaries(facts, one, other) if one in facts.layout.supplies else []
    edits = boundary_edits(facts, boundaries)
    candidates = [*_commons(facts, path), *moved_wires(facts, path, (one, other))]
    fixes = [Fix(f"gap {places_of(edits)}: the two systems part there", edits)] if edits else []
    fixes += [
        candidate.fix for candidate in curing(facts, candidates, lambda tried: len(tried.aliens) < len(facts.aliens))
    ]
    told_at = [boundary_at(facts, boundary) for boundary in boundaries]
    told_at += [bond.at for bond, _ in path if bond.at]
    pieces = [name for _, there in path if (name := facts.piece_of(there))]
    return Found(
        next(iter([*told_at, facts.statements[0].at])),
        _message(facts, clash, path),
        tuple(facts.witness.steps(start, path)), setting_words(clash.setting), tuple(fixes),
        tuple(dict.fromkeys([*pieces, clash.one.supply, clash.other.supply])),
    )  # fmt: skip


def _message(facts: Facts, clash: Clash, path: list[tuple[Bond, int]]) -> str:
    analog, digital = sorted((clash.one, clash.other), key=lambda source: source.kind != "analog")
    how = "a switch" if any(bond.kind in PARTS_WITH_THE_POINTS for bond, _ in path) else "metal"
    return (
        f"analog {facts.leg(analog)} and digital {facts.leg(digital)} are joined through {how}: each supply feeds into "
        "the other, and one of them, or an engine's decoder, burns out."
    )


def _commons(facts: Facts, path: list[tuple[Bond, int]]) -> Iterator[CandidateFix]:
    """The analog supplies taken out of a common rail that they share with digital ones."""
    lines = {bond.at for bond, _ in path}
    for common in facts.layout.commons:
        if common.statement.at in lines:
            yield without(facts, common, {wire.name for wire in common.legs if _is_analog(facts, wire.name)})


def _is_analog(facts: Facts, supply: str) -> bool:
    behind = facts.layout.supplies[supply].district or supply
    return facts.layout.supplies[behind].kind == "cab"


def without(facts: Facts, common: CommonRail, supplies: set[str]) -> CandidateFix:
    """A common rail without some of the supplies that share it; none at all where one alone would be left."""
    from railbond.fixes.fix_edits import taken_out

    statement = common.statement
    shared = [word for wire, word in zip(common.legs, statement.supplies, strict=False) if wire.name in supplies]
    named = " and ".join(shared)
    if len(statement.supplies) - len(shared) < 2:
        words = f"take the common wire of {' and '.join(statement.supplies)} apart"
        return CandidateFix(statement.at, Fix(words, (taken_out(facts, statement),)), ())
    source = facts.sources[statement.at.path]
    edits = tuple(drop_clause(source, statement, word) for word in shared)
    return CandidateFix(
        statement.at, Fix(f"give {named} a return wire of its own, off the common rail", edits), (*shared,)
    )


_PLAN = """\
plan     "Old yard, new main line"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
cab      hand  12 V  1 A
block    lock  in hand or main
segment  line  stop -> J  3 m
segment  lent  J -> K     2.4 m
segment  yard  K -> stop  1.5 m
{gaps}
feeder   main -> line
feeder   lock -> lent
feeder   hand -> yard
"""

RULE = Rule(
    name="analog-meets-digital",
    level="error",
    happens="short",
    turn=1,
    cause=True,
    find=find,
    when="systems meet",
    of_graph="proof",
    summary="Analog and digital power are joined through metal or a switch.",
    railroad=(
        "A booster puts its full track voltage, changing over many thousand times a second, into the cab; the cab puts "
        "its own into the booster. Whichever is weaker burns out, and an engine that stands there may run away at full "
        "speed or lose its decoder or its motor."
    ),
    meter=(
        "Both supplies unplugged, every toggle thrown both ways: a meter from each wire of the cab to each wire of the "
        "booster. It must never beep."
    ),
    mend=(
        "Gap both rails, and share no common wire between the two. A toggle that lends a stretch to either must "
        "break both wires, and break before it makes."
    ),
    caution="Unplug both supplies before you look for the place; never try whether they get along.",
    fails=_PLAN.format(gaps="gap      K  both rails\ngap      J  left rail"),
    passes=_PLAN.format(gaps="gap      K  both rails\ngap      J  both rails"),
)
RULES = (RULE,)
