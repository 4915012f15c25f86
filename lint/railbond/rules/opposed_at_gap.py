"""A wheel that rolls from one polarity onto the other along a route that is set."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from railbond.circuit.bus_tree import Swap
from railbond.circuit.claims import carries, rolls
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Roll, Setting
from railbond.circuit.rewire import is_tied_as_before
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found, Step
from railbond.fixes.bridge_fixes import bridge_cures
from railbond.fixes.candidates import CandidateFix, curing
from railbond.fixes.fix_edits import convert, rewritten_frog
from railbond.fixes.plastic_frogs import plastic_frogs
from railbond.fixes.swaps import swapped, target
from railbond.fixes.trailing_fixes import trailing_cures
from railbond.layout.model import FrogFeed
from trackplan.statements import Bus, Feeder, FrogSwitched

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each feeder, run or frog feed that explains such passes; else one for them all."""
    if not facts.opposed:
        return
    single = _curing(facts, _cures(facts)) or _curing(facts, _all_at_once(facts))
    besides = _of_crossings(facts, single)
    candidates = [(candidate, *(one for one in besides if one.names == candidate.names)) for candidate in single]
    candidates = candidates or list(bridge_cures(facts)) or trailing_cures(facts)
    candidates = candidates or [(candidate,) for candidate in _curing(facts, _conversions(facts))]
    candidates = candidates or [(candidate,) for candidate in _curing(facts, plastic_frogs(facts))]
    found = [_finding(facts, *_explained(facts, one[0]), one) for one in candidates]
    yield from found or [_finding(facts, *min(facts.opposed, key=partial(_by_names, facts)), ())]


def _curing(facts: Facts, candidates: Iterator[CandidateFix | None]) -> list[CandidateFix]:
    return curing(facts, candidates, lambda tried: len(tried.opposed) < len(facts.opposed))


def _cures(facts: Facts) -> Iterator[CandidateFix | None]:
    for group in _together(facts):
        yield _swapped(facts, group)
    for feed in _frogs(facts):
        if is_tied_as_before(facts, feed, feed._replace(kind="stock rails")):
            yield None
            continue
        if facts.layout.pieces[feed.piece].template.aligned:
            words = f"feed {_whose(feed)} from its own rails through a toggle that is set for the track that is run"
            changes = f"{feed.piece} gets a toggle to set"
        else:
            words, changes = f"feed {_whose(feed)} from its own stock rails through contacts that its points move", ""
        fix = Fix(words, rewritten_frog(facts, feed), plain=not changes, changes=changes)
        yield CandidateFix(feed.statement.at, fix, (feed.piece,))


def _of_crossings(facts: Facts, found: list[CandidateFix]) -> list[CandidateFix]:
    """For crossings among the mends, whose tracks other points may not tell apart, what needs no contacts."""
    if not any(_is_crossing(facts, one.names[0]) for one in found):
        return []
    return [*(one for several in trailing_cures(facts) for one in several), *_curing(facts, plastic_frogs(facts))]


def _is_crossing(facts: Facts, name: str) -> bool:
    return name in facts.layout.pieces and facts.layout.pieces[name].template.aligned


def _all_at_once(facts: Facts) -> Iterator[CandidateFix]:
    """Every swap that the polarity of the track asks for, frogs' contacts too: half a stretch is no cure."""
    if facts.swaps:
        yield _swapped(facts, facts.swaps)


def _conversions(facts: Facts) -> Iterator[CandidateFix]:
    """Live frogs rebuilt so that the rails beyond them, up to a gap further out, no longer change with the points."""
    for name in _at_frogs(facts):
        piece = facts.layout.pieces[name]
        yield from (CandidateFix(piece.statement.at, fix, (name,)) for fix in convert(facts, piece))


def _swapped(facts: Facts, wires: Sequence[Swap]) -> CandidateFix:
    names = (str(one.turnout if isinstance(one, FrogSwitched) else target(one)).split(".")[0] for one in wires)
    return CandidateFix(wires[0].at, swapped(facts, wires), tuple(names))


def _together(facts: Facts) -> list[list[Feeder | Bus]]:
    """The feeders and runs to swap, those that feed the same metal together: swapping one alone would short it."""
    components = {
        drop.statement.at: facts.proof.component[facts.wiring.metal(drop.piece, drop.metal)]
        for drop in reversed(facts.layout.drops)
    }
    groups: dict[object, list[Feeder | Bus]] = {}
    for statement in facts.swaps:
        if isinstance(statement, FrogSwitched):
            continue
        groups.setdefault(components.get(statement.at, statement.at), []).append(statement)
    return list(groups.values())


def _frogs(facts: Facts) -> list[FrogFeed]:
    """The switched frogs that a wheel reaches or leaves at the wrong polarity, but for those that stock rails feed as
    they are to."""
    feeds = [feed for name in _at_frogs(facts) for feed in facts.layout.feeds(name)]
    return [feed for feed in feeds if isinstance(feed.statement, FrogSwitched)]


def _whose(feed: FrogFeed) -> str:
    """What a feed is for: `T1's frog`, `D1.2`."""
    return f"{feed.piece}'s frog" if feed.name == feed.piece else feed.name


def _at_frogs(facts: Facts) -> list[str]:
    """The turnouts whose frog is one metal with either side of an opposed pass."""
    components = {facts.proof.component[conductor] for roll, _ in facts.opposed for conductor in (roll.one, roll.other)}
    return sorted({name for frog, name in facts.graph.frogs.items() if facts.proof.component[frog] in components})


def _explained(facts: Facts, candidate: CandidateFix) -> tuple[Roll, Setting]:
    """A pass that the cure makes good."""
    tried = facts.tried(candidate.fix.edits)
    left = {(roll.one, roll.other) for roll, _ in tried.opposed} if tried else set()
    cured = (one for one in facts.opposed if (one[0].one, one[0].other) not in left)
    return min(cured, key=partial(_by_names, facts))


def _by_names(facts: Facts, opposed: tuple[Roll, Setting]) -> list[str]:
    """An order of passes in which the order of lines has no say."""
    return sorted(map(facts.piece_of, (opposed[0].one, opposed[0].other)))


def _finding(facts: Facts, roll: Roll, setting: Setting, candidates: tuple[CandidateFix, ...]) -> Found:
    one, other = facts.graph.names[roll.one], facts.graph.names[roll.other]
    ways = [
        (here, there)
        for here in facts.proof.reachable(roll.one)
        for there in facts.proof.reachable(roll.other)
        if here.source.opposes(there.source) and here.setting | there.setting <= setting
    ]
    here, there = ways[0]
    why = [
        Step(
            roll.at,
            f"here a wheel rolls from {one} ({facts.leg(here.source)}) onto {other} ({facts.leg(there.source)})",
            (carries(facts, roll.one, here.source, setting), carries(facts, roll.other, there.source, setting)),
        )
    ]
    why += facts.witness.from_source(roll.one, here.source, setting)
    why += facts.witness.from_source(roll.other, there.source, setting)
    pieces = [name.split("'")[0] for name in (one, other)]
    return Found(
        candidates[0].at if candidates else roll.at or facts.statements[0].at,
        f"{one} and {other} carry opposite legs: the wheel that rolls from one to the other shorts the supply.",
        tuple(why),
        setting_words(setting),
        tuple(candidate.fix for candidate in candidates),
        tuple(dict.fromkeys([name for candidate in candidates for name in candidate.names] + pieces)),
        claims=rolls(facts, roll, setting),
    )


RULE = Rule(
    name="opposed-at-gap",
    level="error",
    happens="short",
    turn=8,
    cause=True,
    find=find,
    when="legs are opposed",
    of_graph="proof",
    summary="The rails on the two sides of a gap carry opposite legs.",
    railroad=(
        "Nothing trips while the track is empty. The first wheel over the gap bridges the two legs, the breaker "
        "trips, and the train stands across the gap and holds the short."
    ),
    meter=(
        "Power on, no train: a voltmeter across the gap, along one rail. It must read nothing; track voltage "
        "there says that the two sides are opposed. A lamp across the gap does as well: it must stay dark."
    ),
    mend=(
        "Swap the two drops of the feeder on one side. Where the track itself turns back on itself no swap can "
        "help: that stretch needs an auto-reverser."
    ),
    caution="A wheel that bridges two gaps welds and pits; do not push an engine through to see whether it gets over.",
    fails="""\
plan     "Block at the mill"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
block    mill  in main
segment  west  stop -> J  1.5 m
segment  yard  J -> stop  1.5 m
gap      J     both rails
feeder   main -> west
feeder   mill -> yard  crossed
""",
    passes="""\
plan     "Block at the mill"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
block    mill  in main
segment  west  stop -> J  1.5 m
segment  yard  J -> stop  1.5 m
gap      J     both rails
feeder   main -> west
feeder   mill -> yard
""",
)
RULES = (RULE,)
