"""Frog rails of opposite phases that begin so near the point of the frog that a wheel touches both."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.running import measure
from railbond.circuit.witness import setting_words
from railbond.findings import Fix, Found, Step
from railbond.layout.model import Piece
from railbond.layout.said import said
from trackplan.amend import add_clause, set_word
from trackplan.edit import Edit
from trackplan.typed import TYPE_CHECKING

from .rule import Rule

if TYPE_CHECKING:
    from railbond.circuit.running.bridges import Bridge


def find(facts: Facts) -> Iterator[Found]:
    """One finding for all turnouts alike whose `dead` length is told, where the plan has engines; an estimate does
    not make a finding."""
    if not facts.layout.engines:
        return
    from railbond.circuit.running.answers import running

    alike: dict[object, list[Bridge]] = {}
    for one in (one for one in running(facts).bridges if one.size.told):
        build = facts.layout.pieces[one.piece].template.shape.build
        alike.setdefault((build, one.size, one.margin), []).append(one)
    for group in alike.values():
        yield _finding(facts, group)


def _finding(facts: Facts, group: list[Bridge]) -> Found:
    from railbond.circuit.running.answers import running

    first, names = group[0], [one.piece for one in group]
    wheel = running(facts).wheel
    code = f"code {wheel.code}" if wheel.code else "usual"
    return Found(
        facts.layout.pieces[names[0]].statement.at,
        f"a wheel of {code} width can touch both frog rails of {_listed(names)} for {measure(first.length)} behind the "
        f"point: its tread of {measure(wheel.tread * 25_400)} reaches {measure(-first.margin)} beyond the head of the "
        f"other rail where they begin, about {measure(first.size.clear)} behind the point, and the two carry opposite "
        "legs.",
        tuple(Step(facts.layout.pieces[name].statement.at, f"{name}'s frog rails differ in leg") for name in names),
        setting_words(first.setting), tuple(_fixes(facts, group)), tuple(names),
    )  # fmt: skip


def _listed(names: list[str]) -> str:
    return ", ".join(names) if len(names) < 4 else f"{names[0]}, {names[1]} and {len(names) - 2} more turnouts"


def _fixes(facts: Facts, group: list[Bridge]) -> Iterator[Fix]:
    from railbond.circuit.running.answers import running
    from railbond.circuit.running.bridges import dead_to_clear

    run, edits = running(facts), list[Edit]()
    for one in group:
        piece = facts.layout.pieces[one.piece]
        dead = dead_to_clear(one.size, run.wheel, run.track.code(one.piece))
        edits += _dead(piece, f"{-(-dead // 100) / 10:g} mm")
    yield Fix(
        f"paint the heads of both frog rails with clear lacquer for the first {measure(group[0].length)} from where "
        "they begin, as is common practice, or cut them back that far",
        tuple(edits), plain=False, changes="the frog is dead for that much longer",
    )  # fmt: skip


def _dead(piece: Piece, length: str) -> tuple[Edit, ...]:
    if dead := said(piece, "dead"):
        return (set_word(piece.statement, dead, length),)
    return (add_clause(piece.statement, "dead", f"dead {length}"),)


_PLAN = """\
plan      "Plastic frog"
scale     HO
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
segment   lead  stop -> T1.points     90 cm
turnout   T1    left  number 6  dead-frog{dead}
segment   line  T1.through -> stop    90 cm
segment   dock  T1.diverging -> stop  90 cm
feeder    main -> lead
feeder    main -> line
feeder    main -> dock
engine    mogul  left 0 25 49 mm  right 0 25 49 mm  0.4 A
"""

RULE = Rule(
    name="frog-rails-bridged",
    level="note",
    happens="short",
    turn=13,
    cause=False,
    find=find,
    when="a frog's length is told",
    summary="A wheel is wide enough to touch both frog rails, which carry opposite legs, at once.",
    railroad=(
        "Behind a frog the rails of the two routes run side by side and carry opposite legs, unless both are one metal "
        "with a live frog. A wheel is wider than its rail: where the two begin too near the point, its tread lies on "
        "both for a moment and shorts the district, with a spark and a stutter, the more so with wheels that stand a "
        "little out of gauge. A fast train rolls on; a slow one trips the breaker.\n\n"
        "The tread is that of the usual wheel of RP-25 for the scale unless `limit wheel-code` says otherwise. The "
        "rule asks only about turnouts whose `dead` length the plan gives; how much of it lies behind the point is an "
        "estimate. For the others `railbond choose` tells the clearance that the standards leave."
    ),
    meter=(
        "By eye, with the power off: put a wheelset on the frog rails and look against the light whether its tread "
        "reaches the other rail; or with a meter from rail to rail while the wheelset rolls over."
    ),
    mend=(
        "Clear lacquer on the heads of both rails for the few millimeters cures it until it wears off. For good: cut "
        "the rails back, set the wheels to gauge, or use narrower wheels, or a turnout with a live frog."
    ),
    fails=_PLAN.format(dead="  dead 22 mm"),
    passes=_PLAN.format(dead="  dead 27.5 mm"),
)
RULES = (RULE,)
