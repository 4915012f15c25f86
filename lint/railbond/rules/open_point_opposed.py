"""An open blade of the other polarity than the stock rail beside it."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.claims import of_metal
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Open, Setting
from railbond.circuit.questions import opposed
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found, Step
from railbond.fixes.fix_edits import convert, line_after, local
from railbond.layout.model import Piece
from trackplan.edit import Edit
from trackplan.statements import ClosureBond, Cut, FrogFromStockRails

from .rule import Rule


def find(facts: Facts) -> Iterator[Found]:
    """One finding for each turnout with a blade that, standing open, opposes its stock rail."""
    told: set[str] = set()
    for blade in facts.graph.blades:
        switch, position = blade.when
        if blade.piece not in told:
            setting = opposed(facts.proof, blade.closure, blade.stock, ((switch, (position,)),))
            if setting is not None:
                told.add(blade.piece)
                yield _finding(facts, blade, setting)


def _finding(facts: Facts, blade: Open, setting: Setting) -> Found:
    piece = facts.layout.pieces[blade.piece]
    pair = (blade.closure, blade.stock)
    closure, stock = (facts.graph.names[one] for one in pair)
    source = next(way.source for way in facts.proof.reachable(blade.closure) if way.setting <= setting)
    return Found(
        piece.statement.at,
        f"{blade.piece}'s open blade carries the other leg than the stock rail beside it: with "
        f"{setting_words(setting)}, the back of a wheel that brushes the blade, or a derailed one, shorts the "
        "supply.",
        (
            *facts.witness.from_source(blade.closure, source, setting),
            Step(piece.statement.at, f"{closure} stands open beside {stock}, which carries the other leg"),
            *_clearance(facts),
        ),
        setting_words(setting),
        _fixes(facts, piece),
        (blade.piece,),
        claims=(of_metal(facts, "open", pair, setting), of_metal(facts, "opposed", pair, setting)),
    )


def _clearance(facts: Facts) -> Iterator[Step]:
    """What the standards leave between the back of a wheel and the blade, where the plan says its scale."""
    if facts.layout.scale is None:
        return
    from railbond.circuit.running.standards import MICROMETERS_PER_INCH, blade_clearance

    inches = blade_clearance(facts.layout.scale)
    if inches is not None:
        words = f"{inches * MICROMETERS_PER_INCH / 1000:.2f} mm ({inches:.3f} in)"
        yield Step(None, f"in {facts.layout.scale} the standards leave the back of a wheel {words} clear of the blade")


def _fixes(facts: Facts, piece: Piece) -> tuple[Fix, ...]:
    """Closure rails bonded and cut from the frog, the frog fed; or the whole conversion."""
    name = local(piece)
    if piece.template.shape.build != "live-frog":
        return ()
    edits = _missing(facts, piece)
    bonded = Fix(
        f"solder each closure rail of {name} to the stock rail beside it, cut the jumpers between the closure "
        "rails and the frog, and feed the frog through contacts that move with the points",
        edits,
        plain=False,
        changes=f"{name} is rewired: its blades take the stock rails' polarity for good",
    )
    return (bonded, *convert(facts, piece)) if not piece.work else (bonded,)


CUTS_OFF = ("closure jumpers", "around frog", "around frog without jumpers")
"""What parts the closure rails from the frog."""


def _missing(facts: Facts, piece: Piece) -> tuple[Edit, ...]:
    name, near, has = local(piece), piece.statement, {type(one) for one in piece.work}
    cut = any(str(getattr(one, "what", "")) in CUTS_OFF for one in piece.work)
    edits = []
    if ClosureBond not in has:
        edits.append(line_after(facts, ClosureBond, near, f"bond {name}  closure rails to stock rails"))
    if not cut:
        edits.append(line_after(facts, Cut, near, f"cut {name}  closure jumpers"))
    if not facts.layout.feeds(piece.name):
        edits.append(line_after(facts, FrogFromStockRails, near, f"frog {name}  switched from stock rails"))
    return tuple(edits)


RULE = Rule(
    name="open-point-opposed",
    level="warning",
    happens="short",
    turn=10,
    cause=False,
    find=find,
    when="an open point is opposed",
    of_graph="proof",
    summary="An open blade carries the other leg than the stock rail beside it.",
    railroad=(
        "As delivered, both blades of a live-frog turnout take the frog's polarity. The open one then stands a "
        "flangeway from a stock rail of the other leg: a wheel set a little tight in gauge, or a derailment, "
        "shorts the district."
    ),
    meter=(
        "Power on, no train: a voltmeter from the open blade to the stock rail beside it. Track voltage means the "
        "blade is opposed; nothing means that it is bonded."
    ),
    mend="Solder each closure rail to its stock rail, cut the jumpers to the frog, and feed the frog through contacts.",
    fails="""\
plan     "Coal dock"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  live-frog
segment  line  T1.through -> stop     90 cm
segment  dock  T1.diverging -> stop   90 cm
gap      T1.through    frog rail
gap      T1.diverging  frog rail
frog     T1    switched from stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> dock
accept   set-against at T1 because "a signal guards it"
""",
    passes="""\
plan     "Coal dock"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  lead  stop -> T1.points      90 cm
turnout  T1    left  number 6  live-frog
segment  line  T1.through -> stop     90 cm
segment  dock  T1.diverging -> stop   90 cm
bond     T1    closure rails to stock rails
cut      T1    closure jumpers
gap      T1.through    frog rail
gap      T1.diverging  frog rail
frog     T1    switched from stock rails
feeder   main -> lead
feeder   main -> line
feeder   main -> dock
accept   set-against at T1 because "a signal guards it"
""",
)
RULES = (RULE,)
