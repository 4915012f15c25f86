"""Both legs of the supply joined through metal, with no train on the track."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from railbond.circuit.claims import joined
from railbond.circuit.drops_by import drops_at
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Setting, SupplyLeg
from railbond.circuit.keeping import once
from railbond.circuit.questions import Clash
from railbond.circuit.reach_without import ReachWithout
from railbond.circuit.witness import setting_words
from railbond.findings import Claim, Fix, Found, Step
from railbond.fixes.fix_edits import is_single, uncrossed
from railbond.fixes.swaps import swap_words, target
from railbond.layout.model import Wire
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.statements import Bus, Feeder, FrogSwitched
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

if TYPE_CHECKING:
    from railbond.fixes.candidates import CandidateFix

Ends = dict[Span, list[tuple[int, int]]]


def find(facts: Facts) -> Iterator[Found]:
    """Feeders and bus runs that are the wrong way round; where none explains a short, whatever single edit cures it."""
    if not facts.shorts:
        return
    wires = [statement for statement in facts.swaps if not isinstance(statement, FrogSwitched)]
    crossed = [one for statement in wires if (one := crossed_over(facts, statement))]
    yield from crossed or _unexplained(facts)


def crossed_over(facts: Facts, statement: Feeder | Bus) -> Found | None:
    """The finding for a feeder or run that brings one leg where the other one already is; None if it does not."""
    wires = [wire for ends in _ends(facts, statement) if (wire := _wired(facts, *ends, statement.at))]
    for setting in dict.fromkeys([frozenset[tuple[str, str]](), *(clash.setting for clash in facts.shorts)]):
        for one in wires:
            if one.reach.is_to_any(one.opposed, setting):
                path = facts.witness.path(one.rail, one.opposed, setting, statement.at) or []
                ends = facts.graph.names[one.own], facts.graph.names[one.rail]
                steps = [Step(statement.at, f"{ends[0]} goes to {ends[1]}", (Claim("tied", ends),))]
                met = facts.graph.sources[path[-1][1] if path else one.rail]
                claim = joined(facts, one.source, met, setting)
                return _finding(facts, statement, setting, steps + facts.witness.steps(one.rail, path), claim)
    return None


class _Wired(NamedTuple):
    """A wire of a statement: the conductor it comes from and that it goes to; and, without the statement, its source,
    what opposes that, and what it reaches."""

    own: int
    rail: int
    source: SupplyLeg
    opposed: Callable[[int], bool]
    reach: ReachWithout


def _wired(facts: Facts, own: int, rail: int, barred: Span) -> _Wired | None:
    """None for a wire without a source, which it is that it comes from by the shortest way."""
    sources = facts.graph.sources
    path = facts.witness.path(own, sources.__contains__, frozenset(), barred)
    if path is None:
        return None
    source = sources[path[-1][1] if path else own]

    def is_opposed(conductor: int) -> bool:
        return conductor in sources and sources[conductor].opposes(source)

    return _Wired(own, rail, source, is_opposed, ReachWithout(facts.witness, rail, barred))


def _ends(facts: Facts, statement: Feeder | Bus) -> list[tuple[int, int]]:
    """For each wire of the statement, the conductor it comes from and the one it goes to."""
    wiring, drops = facts.wiring, drops_at(facts).get(statement.at, ()) if isinstance(statement, Feeder) else ()
    ends = [(wiring.wire(drop.wire), wiring.metal(drop.piece, drop.metal)) for drop in drops]
    return ends + _runs_by_line(facts).get(statement.at, [])


@once
def _runs_by_line(facts: Facts) -> Ends:
    """The same for all runs."""
    wiring = facts.wiring
    runs: Ends = {}
    for run in facts.layout.runs:
        for leg in (0, 1):
            far = Wire(run.terminal, 1 - leg if run.crossed else leg)
            runs.setdefault(run.statement.at, []).append((wiring.wire(Wire(run.source, leg)), wiring.wire(far)))
    return runs


def _finding(facts: Facts, statement: Feeder | Bus, setting: Setting, steps: list[Step], claim: Claim) -> Found:
    single = isinstance(statement, Feeder) and is_single(statement)
    what = "wire" if single else "feeder" if isinstance(statement, Feeder) else "bus run"
    where, wrong = target(statement), "comes from the wrong leg" if single else "is the wrong way round"
    words = swap_words(facts, (statement,)) if single else f"swap the two wires of the {what} to {where}"
    return Found(
        statement.at,
        f"the {what} to {where} {wrong}: it brings one leg to metal that already carries the other. "
        "The supply is shorted with no train on the track.",
        tuple(steps),
        setting_words(setting),
        (Fix(words, uncrossed(facts, statement)),),
        (where.split(".")[0], str(statement.supply).split(".")[0]),
        claims=(claim,),
    )


def _unexplained(facts: Facts) -> Iterator[Found]:
    """The first short that remains, with the single edits that cure it."""
    from railbond.fixes.candidates import curing, on_path

    clash = facts.shorts[0]
    start = next(c for c, source in facts.graph.sources.items() if source == clash.one)
    path = facts.witness.path_to(start, clash.other, clash.setting) or []
    candidates = curing(facts, on_path(facts, start, path), lambda tried: len(tried.shorts) < len(facts.shorts))
    yield _short(facts, clash, facts.witness.steps(start, path), candidates)


def _short(facts: Facts, clash: Clash, steps: list[Step], candidates: list[CandidateFix]) -> Found:
    middle = steps[len(steps) // 2].at if steps else None
    at = candidates[0].at if candidates else middle or facts.statements[0].at
    return Found(
        at,
        f"leg {facts.leg(clash.one)} and leg {facts.leg(clash.other)} are joined through metal: "
        "the supply is shorted with no train on the track.",
        tuple(steps),
        setting_words(clash.setting),
        tuple(candidate.fix for candidate in candidates),
        tuple(dict.fromkeys(name for candidate in candidates for name in candidate.names)) or (clash.one.supply,),
        claims=(joined(facts, clash.one, clash.other, clash.setting),),
    )


RULE = Rule(
    name="legs-joined",
    level="error",
    happens="short",
    turn=7,
    cause=True,
    find=find,
    when="legs meet",
    of_graph="proof",
    summary="Both legs of the supply meet through metal.",
    railroad=(
        "Two wires or rails that carry opposite legs are joined by metal, in every setting of the turnouts or in "
        "the one that is named. The supply is shorted: its breaker trips as soon as power is switched on, or the "
        "moment the points move, with no train anywhere near."
    ),
    meter=(
        "Supply unplugged, engines off the track: a meter set to beep, one probe on each rail, beeps all along the "
        "stretch. Take off one feeder after the other; the beep stops when the crossed one is off."
    ),
    mend="Swap the two drops of the feeder that is crossed, or cut the rail at the joint that should have been gapped.",
    caution=(
        "Do not look for a short by holding the power on: thin wire and engine trucks get hot enough to burn and "
        "melt before some breakers act."
    ),
    fails="""\
plan     "Quarry spur"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  west  stop -> J  1.5 m
segment  east  J -> stop  1.5 m
feeder   main -> west
feeder   main -> east  crossed
""",
    passes="""\
plan     "Quarry spur"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  west  stop -> J  1.5 m
segment  east  J -> stop  1.5 m
feeder   main -> west
feeder   main -> east
""",
)
RULES = (RULE,)
