"""Rails that get their power only through the touch of a blade against its stock rail."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import of_metal
from railbond.circuit.facts import Facts
from railbond.circuit.regions import regions, track_words
from railbond.findings import Fix, Found, Step
from railbond.fixes.feeding import feed
from railbond.fixes.fix_edits import bond_words, line_after, local
from railbond.layout.model import Piece
from railbond.layout.template import Template
from trackplan.edit import Edit
from trackplan.statements import ClosureBond, FrogFromStockRails

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each stretch of track that dirt between blade and stock rail leaves dead."""
    for conductors in regions(facts, touch_fed_rails(facts)):
        yield _finding(facts, conductors)
    for name in dict.fromkeys(facts.graph.frogs[frog] for frog in touch_fed_frogs(facts)):
        yield _movable_point(facts, facts.layout.pieces[name])


def touch_fed_rails(facts: Facts) -> list[int]:
    """Rails with power in some setting that lose it in all once no blade touches its stock rail."""
    rails = (rail for rail in facts.untouched.dead(facts.graph.rails) if rail not in facts.frog_units)
    return list(filter(facts.proof.reachable, rails))


def touch_fed_frogs(facts: Facts) -> list[int]:
    """The same for frogs that stand alone: a movable point has power only from the closure rail that it touches."""
    frogs = (frog for frog in facts.untouched.dead(facts.graph.frogs) if frog in facts.frog_units)
    return list(filter(facts.proof.reachable, frogs))


def _movable_point(facts: Facts, piece: Piece) -> Found:
    at = piece.statement.at
    edit, words = _fed_frog(facts, piece)
    return Found(
        at,
        f"the movable frog point of {piece.name} gets power only where it touches a closure rail: a speck of dirt "
        "there leaves it dead.",
        (Step(at, f"the only way in is the touch of {piece.name}'s frog point"),),
        "", (Fix(words, (edit,)),), (piece.name,),
    )  # fmt: skip


def _finding(facts: Facts, conductors: list[int]) -> Found:
    pieces = [facts.layout.pieces[name] for name in dict.fromkeys(map(facts.piece_of, conductors))]
    turnouts = [piece for piece in pieces if piece.template.blades] or pieces
    names = " and ".join(piece.name for piece in turnouts[:3])
    gets, them = ("gets", "it") if len(conductors) == 1 else ("get", "them")
    return Found(
        turnouts[0].statement.at,
        f"{track_words(facts, conductors)} {gets} power only where a blade of {names} touches its stock rail: a speck "
        f"of dirt there leaves {them} dead.",
        tuple(
            Step(piece.statement.at, f"the only way in is the touch of {piece.name}'s blades") for piece in turnouts[:6]
        ),
        "",
        _fixes(facts, conductors, turnouts),
        tuple(piece.name for piece in (*turnouts, *pieces)),
        claims=(of_metal(facts, "touch", conductors),),
    )


def _fixes(facts: Facts, conductors: list[int], turnouts: list[Piece]) -> tuple[Fix, ...]:
    """Each turnout mended by its own kind; a feeder beyond as the other way, first where only that track has none."""
    edits: list[Edit] = []
    words: list[str] = []
    for piece in turnouts:
        if mend := _mend(facts, piece):
            edits.append(mend[0])
            words.append(mend[1])
    own = (Fix("; ".join(words), tuple(edits)),) if edits else ()
    other = feed(facts, conductors) if facts.with_fixes else None
    if not other or not _cures(facts, other):
        return own
    return (other, *own) if _is_only_one_bare(facts, conductors) else (*own, other)


def _is_only_one_bare(facts: Facts, conductors: list[int]) -> bool:
    """Whether all plain track has wires of its own, but for one piece with some of these rails."""
    soldered = {drop.piece for drop in facts.layout.drops}
    bare = [name for name, piece in facts.layout.pieces.items() if piece.template.is_plain and name not in soldered]
    return len(bare) == 1 and bare[0] in map(facts.piece_of, conductors)


def _mend(facts: Facts, piece: Piece) -> tuple[Edit, str] | None:
    """The frog fed where the blades are one metal with it, else the closure rails bonded; a construction has no such
    words, but for the feed of its frog."""
    name, near = local(piece), piece.statement
    if _is_one_metal(piece.template) and not facts.layout.feeds(piece.name):
        return _fed_frog(facts, piece, ", and with it its blades,")
    if not piece.template.shape.build:
        return None
    line = line_after(facts, ClosureBond, near, f"bond {name}  closure rails to stock rails")
    return line, bond_words(piece, f" of {name}")


def _is_one_metal(template: Template) -> bool:
    """Whether a frog is one metal with a rail that touches another."""
    touching = {metal for tie in template.ties if tie.kind == "touch" for metal in (tie.one, tie.other)}
    built = ({tie.one, tie.other} for tie in template.ties if tie.kind == "build")
    frogs = {frog.metal for frog in template.frogs}
    return any(pair & frogs and pair & touching - frogs for pair in built)


def _fed_frog(facts: Facts, piece: Piece, besides: str = "") -> tuple[Edit, str]:
    line = f"frog {local(piece)}  switched from stock rails"
    words = f"feed {local(piece)}'s frog{besides} through contacts that move with the points"
    return line_after(facts, FrogFromStockRails, piece.statement, line), words


def _cures(facts: Facts, fix: Fix) -> bool:
    tried = facts.tried(fix.edits)
    return tried is not None and not tried.shorts and not touch_fed_rails(tried)


RULE = Rule(
    name="fed-through-points",
    level="warning",
    happens="dead rail",
    turn=10,
    cause=False,
    find=find,
    when="metal is fed by touch",
    of_graph="proof",
    summary="Rails that get power only through the touch of a blade.",
    railroad=(
        "It works on the day the track is laid. Paint, ballast glue, oil and dirt creep between blade and stock "
        "rail, and one day the engine dies on the closure rails, or on the whole siding behind them."
    ),
    meter=(
        "Slip a piece of paper between the blade and its stock rail, power on: what goes dead beyond the points "
        "was fed by that touch alone."
    ),
    mend=(
        "Solder each closure rail to the stock rail beside it (never on a live frog whose jumpers are whole: that "
        "is a short), or feed the rails beyond by wires of their own."
    ),
    fails="""\
plan     "Freight house"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points       90 cm
turnout  T1    left  number 6  dead-frog
segment  line  T1.through -> stop      90 cm
segment  house T1.diverging -> stop    90 cm
gap      T1.through    frog rail
gap      T1.diverging  frog rail
feeder   main -> lead
feeder   main -> line
feeder   main -> house
""",
    passes="""\
plan     "Freight house"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points       90 cm
turnout  T1    left  number 6  dead-frog
segment  line  T1.through -> stop      90 cm
segment  house T1.diverging -> stop    90 cm
gap      T1.through    frog rail
gap      T1.diverging  frog rail
bond     T1    closure rails to stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> house
""",
)
RULES = (RULE,)
