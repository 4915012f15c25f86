"""A metal frog that no wire reaches."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Fix, Found, Step
from railbond.fixes.fix_edits import line_after, local
from trackplan.statements import FrogAutomatic, FrogFromStockRails, FrogUnpowered

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """Frogs that stand alone, have no source in any setting and are not left dead on purpose."""
    for frog, name in facts.graph.frogs.items():
        feed = facts.layout.frogs.get(name)
        left_dead = feed is not None and isinstance(feed.statement, FrogUnpowered)
        if frog in facts.frog_units and not left_dead and not facts.proof.reachable(frog):
            yield _finding(facts, name, frog)


def _finding(facts: Facts, name: str, frog: int) -> Found:
    piece = facts.layout.pieces[name]
    component = facts.always.component[frog]
    whole = [c for c in facts.frog_units if facts.always.component[c] == component]
    what = "the frog with its frog rails" if len(whole) > 1 else "the metal frog"
    return Found(
        piece.statement.at,
        f"{what} of {name} is cut off on every side and no wire feeds it: a short engine stalls on it.",
        (Step(piece.statement.at, f"nothing reaches {what} of {name} in any setting"),),
        "",
        _fixes(facts, name),
        (name,),
    )


def _fixes(facts: Facts, name: str) -> tuple[Fix, ...]:
    piece = facts.layout.pieces[name]
    near, own = piece.statement, local(piece)
    switched = line_after(facts, FrogFromStockRails, near, f"frog {own}  switched from stock rails")
    aligned = piece.template.aligned
    contacts = "a toggle that is set for the track that is run" if aligned else "contacts that move with the points"
    words = f"feed {own}'s frog from its {'own' if aligned else 'stock'} rails through {contacts}"
    fixes = [Fix(words, (switched,), plain=not aligned, changes=f"{own} gets a toggle to set" if aligned else "")]
    supply = next((n for n, one in facts.layout.supplies.items() if one.kind in ("district", "plug")), None)
    if supply:
        unit = line_after(facts, FrogAutomatic, near, f"frog {own}  automatic {supply.rpartition('.')[2]}")
        changes = f"an automatic frog unit is added at {own}"
        fixes.append(Fix(f"feed {own}'s frog from an automatic frog unit", (unit,), plain=False, changes=changes))
    return tuple(reversed(fixes) if aligned else fixes)


RULE = Rule(
    name="unfed-frog",
    level="warning",
    happens="stall",
    turn=10,
    cause=False,
    find=find,
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
