"""An engine that hangs on one pickup wheel for a long way: a speck of dirt there stops it."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.running import measure
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found, Step
from trackplan.typed import TYPE_CHECKING

from .rule import Rule
from .stalls import TELL_DEAD_METAL

if TYPE_CHECKING:
    from railbond.circuit.running.pickups import Pickups
    from railbond.circuit.running.stalling import StallAt


def find(facts: Facts) -> Iterator[Found]:
    """At most one finding for each engine: that a side has one wheel at all, else its longest way on one."""
    if not facts.layout.engines:
        return
    from railbond.circuit.running.answers import running

    for engine in running(facts).engines:
        lone = [side for side, firm in (("left", engine.firm_left), ("right", engine.firm_right)) if len(firm) < 2]
        if lone:
            yield _everywhere(engine, lone)
        elif engine.name in running(facts).single_wheels:
            yield _somewhere(facts, running(facts).single_wheels[engine.name])


def _everywhere(engine: Pickups, sides: list[str]) -> Found:
    at = engine.statement.at
    return Found(
        at,
        f"{engine.name} has fewer than two wheels that bear weight and pick up on its {' and its '.join(sides)}: any "
        "speck of dirt under that wheel stops it, wherever it is.",
        (Step(at, "its pickups are told here"),), "", (), (engine.name,),
    )  # fmt: skip


def _somewhere(facts: Facts, trouble: StallAt) -> Found:
    from railbond.fixes.running_words import route_words, stretch_words

    engine, pieces = trouble.engine, sorted(trouble.dead)
    steps = tuple(Step(facts.layout.pieces[name].statement.at, f"{name} has dead metal") for name in pieces)
    return Found(
        engine.statement.at,
        f"{engine.name} hangs on a single pickup wheel for {measure(trouble.length)} on {' and '.join(pieces)}: going "
        f"{route_words(trouble.window)}, its foremost pickup from {stretch_words(trouble)}, a speck of dirt stops it.",
        steps, setting_words(trouble.setting), tuple(_fixes(facts, pieces)), (engine.name, *pieces),
    )  # fmt: skip


def _fixes(facts: Facts, names: list[str]) -> Iterator[Fix]:
    """Through contacts, or by units, which suit a train against the points too."""
    from railbond.fixes.running_words import can_be_fed, feed_frogs, feed_words

    frogs = [facts.layout.pieces[name] for name in names]
    if not all(can_be_fed(facts, piece) for piece in frogs):
        return
    for contacts in (True, False) if any(piece.template.has_points for piece in frogs) else (False,):
        edits = feed_frogs(facts, frogs, contacts)
        words = "; ".join(feed_words(facts, piece, contacts) for piece in frogs)
        yield Fix(words, edits, plain=False, changes=f"{' and '.join(names)} is rebuilt: its frog carries power")


_PLAN = """\
plan      "Two axles"
scale     HO
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
segment   lead  stop -> T1.points     90 cm
turnout   T1    left  number 6  {build}  dead 28 mm
segment   line  T1.through -> stop    90 cm
segment   dock  T1.diverging -> stop  90 cm
{frog}feeder    main -> lead
feeder    main -> line
feeder    main -> dock
engine    shunter  left 0 36 mm  right 0 36 mm  0.3 A
"""

RULE = Rule(
    name="single-wheel",
    level="note",
    happens="stall",
    turn=13,
    cause=False,
    after=TELL_DEAD_METAL,
    find=find,
    when="an engine on one wheel",
    summary="An engine hangs on one pickup wheel for longer than `limit single-wheel` (25 mm unless said).",
    railroad=(
        "While the other wheels of that side cross dead metal, one wheel alone brings the power. On clean rail the "
        "engine runs; a speck of dirt, a low joint or a wheel that rocks off the rail stops it. Wheels told as "
        "`unweighted` do not count here: they touch too lightly to be trusted. The one longest stretch of each engine "
        "is told."
    ),
    meter="By eye: let the engine crawl over the place with a dirty wheel or a scrap of paper under its lone wheel.",
    mend="Feed the frog, add pickups (a tender, the other axles), add weight, keep rails and wheels clean.",
    fails=_PLAN.format(build="dead-frog", frog=""),
    passes=_PLAN.format(build="isolated-frog", frog="frog      T1  switched  from stock rails\n"),
)
RULES = (RULE,)
