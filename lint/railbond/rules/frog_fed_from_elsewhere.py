"""A frog whose supply is not that of the rails on either side of it."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import carries
from railbond.circuit.facts import Facts
from railbond.circuit.frog_supplies import Elsewhere, FrogSupplies, clash
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found, Happens, Level, Step
from railbond.layout.model import Piece
from trackplan.amend import set_statement, set_word
from trackplan.edit import Edit
from trackplan.statements import FrogAutomatic, FrogSwitched

from .rule import Rule

LEVELS: dict[str, tuple[Level, Happens]] = {
    "systems": ("error", "short"),
    "cabs": ("error", "short"),
    "reverser": ("error", "short"),
    "boosters": ("error", "short"),
    "breakers": ("warning", "dead rail"),
    "detectors": ("warning", "on paper"),
}
CLASHES = {
    "systems": "every wheel on the frog ties analog and digital power together, which may destroy both",
    "cabs": "every wheel on the frog ties two cabs together: set against one another, they are a short",
    "reverser": (
        "every wheel on the frog ties the reverser to another supply: it turns its polarity under the train, and with "
        "wheels at a gap of the section as well it can suit only one of the two"
    ),
    "boosters": "every wheel on the frog ties two boosters together, and out of step they short",
    "breakers": "a short on the frog, or a wheel across it, opens the wrong breaker and takes another district down",
    "detectors": "a detector does not see the wheels on the frog, or the wrong one does",
}


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each line that feeds a frog from elsewhere, by the worst that comes of it."""
    found: dict[str, list[tuple[str, Elsewhere]]] = {}
    for one in FrogSupplies(facts).elsewhere():
        found.setdefault(one.feed.name, []).append((clash(facts, one.frog, one.rails), one))
    order = list(LEVELS)
    for own in found.values():
        yield _finding(facts, *min(own, key=lambda one: order.index(one[0])), [one for _, one in own])


def _finding(facts: Facts, kind: str, worst: Elsewhere, every: list[Elsewhere]) -> Found:
    piece, when = facts.layout.pieces[worst.feed.piece], setting_words(worst.setting)
    level, happens = LEVELS[kind]
    whose = f"{piece.name}'s frog" if worst.feed.name == piece.name else f"the frog {worst.feed.name}"
    return Found(
        worst.feed.statement.at,
        f"{whose} is fed from {worst.frog.supply}, and the rails on both sides of it from {worst.rails.supply}: "
        f"{CLASHES[kind]}.",
        (*_steps(facts, worst),), when, tuple(_fixes(facts, piece, every)),
        (piece.name, worst.frog.supply, worst.rails.supply), level, happens,
        (carries(facts, worst.door, worst.rails, worst.setting),),
    )  # fmt: skip


def _steps(facts: Facts, one: Elsewhere) -> Iterator[Step]:
    how = "its automatic unit hangs on" if one.feed.kind == "automatic" else "its contacts bring it"
    named = one.frog.supply if one.feed.kind == "automatic" else facts.leg(one.frog)
    yield Step(one.feed.statement.at, f"with {setting_words(one.setting)} {how} {named}")
    yield from facts.witness.from_source(one.door, one.rails, one.setting)


def _fixes(facts: Facts, piece: Piece, every: list[Elsewhere]) -> Iterator[Fix]:
    feed, supplies = every[0].feed, sorted({one.rails.supply for one in every})
    edits = tuple(_moved(facts, piece, every))
    if edits:
        wires = "unit" if feed.kind == "automatic" else "wires"
        there = dict.fromkeys(edit.text.partition(".")[0] for edit in edits)
        yield Fix(f"move the {wires} of {feed.name}'s frog to {' and '.join(there)}", edits)
    if piece.template.has_points and isinstance(feed.statement, FrogSwitched):
        own = set_statement(feed.statement, f"frog {feed.statement.turnout}  switched from stock rails")
        yield Fix(f"feed {feed.name}'s frog from its own stock rails through those contacts", (own,))
    if len(supplies) + (every[0].frog.supply not in supplies) > 1 and piece.template.aligned:
        why = f"the tracks over it are fed from {every[0].frog.supply} and {' and '.join(supplies)}"
        bare = set_statement(feed.statement, f'frog {feed.statement.turnout}  unpowered because "{why}"')
        words = f"leave the frog of {feed.name} without a wire, or give both tracks over it one supply"
        yield Fix(words, (bare,), plain=False, changes=f"{feed.name}'s frog is dead")


def _moved(facts: Facts, piece: Piece, every: list[Elsewhere]) -> Iterator[Edit]:
    """Each wire in the place of which another is right, moved to what feeds the rail whose polarity the frog wants."""
    from railbond.fixes.wire_names import wire_at

    statement = every[0].feed.statement
    if isinstance(statement, FrogAutomatic):
        wire, _, _ = wire_at(facts, every[0].door, every[0].rails).rpartition(".")
        yield set_word(statement, statement.supply, wire)
    elif isinstance(statement, FrogSwitched):
        words = (statement.through, statement.diverging)
        told: dict[int, Edit] = {}
        for one in every:
            frog = piece.template.frogs[one.number]
            wanted = facts.wiring.metal(piece.name, frog.wants[one.position])
            ways = [way for way in facts.proof.reachable(wanted) if way.setting <= one.setting]
            leg = frog.legs[one.position]
            for way in ways[:1]:
                told.setdefault(leg, set_word(statement, words[leg], wire_at(facts, wanted, way.source)))
        yield from told.values()


_PLAN = """\
plan      "Wye with a tail"
scale     HO
booster   B1    15 V  5 A
district  main  from B1  trips 4 A  legs red black
reverser  R1    in main  trips 3 A
segment   west  stop -> JW.points              2 m
turnout   JW    left  number 6  isolated-frog
segment   top   JW.through -> JE.through       1.2 m
turnout   JE    right  number 6  isolated-frog
segment   east  JE.points -> stop              2 m
segment   legw  JW.diverging -> JN.left        1.2 m
segment   lege  JE.diverging -> JN.right       1.2 m
turnout   JN    wye  number 6  isolated-frog
segment   tail  JN.points -> stop              2.2 m
gap       JN.left   both rails
gap       JN.right  both rails
frog      JW    switched from stock rails
frog      JE    switched from stock rails
frog      JN    switched  through {supply}.red  diverging {supply}.black
feeder    main -> west
feeder    main -> top
feeder    main -> east
feeder    main -> legw
feeder    main -> lege  crossed
feeder    R1 -> tail
"""

RULE = Rule(
    name="frog-fed-from-elsewhere",
    level="error",
    happens="short",
    turn=6,
    cause=False,
    find=find,
    when="several supplies",
    of_graph="proof",
    summary="A frog is fed from another supply than the rails on both sides of it.",
    railroad=(
        "A wheel on a frog ties the frog to the rails before and behind it. Where they come from two boosters, two "
        "cabs, or a reverser and another supply, the two are joined under every wheel: a reverser flips for no reason, "
        "and flips back, until it gives up. That is an error. Where they are two districts or blocks of one booster, a "
        "short at the frog opens the wrong breaker, or a detector does not see the wheels on it: a warning. At a "
        "boundary, where the two sides differ anyway, the supply of either is right."
    ),
    meter=(
        "All supplies unplugged, points set for one route: a meter that beeps, from the frog to the terminals of the "
        "section or district that its rails belong to. Silence at both wires means that the frog hangs on another."
    ),
    mend="Move the frog's wires to the supply of its rails, or feed it from its own stock rails through the contacts.",
    caution="Unplug every supply before a wire is moved from one terminal to another.",
    fails=_PLAN.format(supply="main"),
    passes=_PLAN.format(supply="R1"),
)
RULES = (RULE,)
