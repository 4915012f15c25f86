"""A metal frog that no wire reaches."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import of_metal
from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Step
from railbond.fixes.fix_edits import line_after, local
from railbond.fixes.frog_feeds import frog_words, needs_words, unit_lines, unit_wire, units
from railbond.layout.model import Piece
from trackplan.statements import FrogAutomatic, FrogFromStockRails, FrogUnpowered

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """Pieces with frogs that stand alone, have no source in any setting and are not left dead on purpose."""
    for name in dict.fromkeys(facts.graph.frogs.values()):
        piece = facts.layout.pieces[name]
        on_purpose = [feed for feed in facts.layout.feeds(name) if isinstance(feed.statement, FrogUnpowered)]
        left_dead = {frog for feed in on_purpose for frog in feed.frogs}
        own = (frog for frog in range(len(piece.template.frogs)) if frog not in left_dead)
        dead = [frog for frog in own if _is_dead(facts, piece, frog)]
        if dead:
            yield _finding(facts, piece, dead)


def _is_dead(facts: Facts, piece: Piece, frog: int) -> bool:
    metal = facts.wiring.metal(piece.name, piece.template.frogs[frog].metal)
    return metal in facts.frog_units and not facts.proof.reachable(metal)


def _finding(facts: Facts, piece: Piece, frogs: list[int]) -> Found:
    component = facts.proof.component[facts.wiring.metal(piece.name, piece.template.frogs[frogs[0]].metal)]
    whole = [c for c in facts.frog_units if facts.proof.component[c] == component]
    words, every = frog_words(piece, frogs), len(frogs) == len(piece.template.frogs)
    what = "the frog with its frog rails" if len(whole) > 1 else "the metal frog"
    of = f"{what} of {piece.name}"
    if len(piece.template.frogs) > 1:
        of = f"each of the {len(frogs)} metal frogs of {piece.name}" if every else " and ".join(words)
    is_cut = "are each" if len(frogs) > 1 and not every else "is"
    return Found(
        piece.statement.at,
        f"{of} {is_cut} cut off on every side and no wire feeds it: a short engine stalls on it.",
        (Step(piece.statement.at, f"nothing reaches {of} in any setting"),),
        "",
        _fixes(facts, piece, frogs),
        (piece.name,),
        claims=(of_metal(facts, "dead", whole),),
    )


def _fixes(facts: Facts, piece: Piece, frogs: list[int]) -> tuple[Fix, ...]:
    near, own, aligned = piece.statement, local(piece), piece.template.aligned
    named = frog_words(piece, frogs)
    switched = [line_after(facts, FrogFromStockRails, near, f"frog {one}  switched from stock rails") for one in named]
    contacts = "a toggle that is set for the track that is run" if aligned else "contacts that move with the points"
    whose = f"{own}'s frog{'s' * (len(frogs) > 1)}" if named == [own] else " and ".join(named)
    words = f"feed {whose} from its {'own' if aligned else 'stock'} rails through {contacts}"
    changes = f"{own} gets a toggle to set" if aligned else ""
    fixes = [Fix(words, tuple(switched), plain=not aligned, changes=changes)]
    if wire := unit_wire(facts, piece):
        lines = unit_lines(facts, piece, wire, frogs)
        laid = tuple(line_after(facts, FrogAutomatic, near, line) for line in lines)
        count = units(piece, frogs)
        what = needs_words(count)
        changes = f"{what} {'is' if count == 1 else 'are'} added at {own}"
        fixes.append(Fix(f"feed {whose} from {what}", laid, plain=False, changes=changes))
    return tuple(reversed(fixes) if aligned else fixes)


RULE = Rule(
    name="unfed-frog",
    level="warning",
    happens="stall",
    turn=10,
    cause=False,
    find=find,
    when="a frog is unfed",
    of_graph="proof",
    summary="A metal frog that no wire reaches in any setting.",
    railroad=(
        "The frog is dead metal. An engine whose wheels on that side all stand on it, or on dirt beside it, stops "
        "at crawl; a long engine with pickup on every wheel may never notice."
    ),
    meter=(
        "Power on: a voltmeter from the frog to each stock rail, points thrown both ways. It reads nothing to either "
        "in either position."
    ),
    mend=(
        "Feed the frog through contacts that move with the points, or from an automatic frog unit. Where every "
        "engine is long enough, say `frog T1 unpowered because ...` and leave it dead."
    ),
    fails="""\
plan     "Brick works"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points       90 cm
turnout  T1    left  number 6  isolated-frog
segment  line  T1.through -> stop      90 cm
segment  brick T1.diverging -> stop    90 cm
feeder   main -> lead
feeder   main -> line
feeder   main -> brick
""",
    passes="""\
plan     "Brick works"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points       90 cm
turnout  T1    left  number 6  isolated-frog
segment  line  T1.through -> stop      90 cm
segment  brick T1.diverging -> stop    90 cm
frog     T1    switched from stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> brick
""",
)
RULES = (RULE,)
