"""A run of a train as text: how to set the points, and what is met on the way, foot by foot."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from railbond.circuit.plain_words import stands
from railbond.circuit.running import measure
from railbond.circuit.running.journey import DEAD, SIDES

if TYPE_CHECKING:
    from railbond.circuit.running.journey import Journey, Sight
    from railbond.circuit.running.pickups import Pickups


def told(journey: Journey, engines: Iterable[Pickups], places: Iterable[str]) -> str:
    """A run from place to place with its table of stretches, and where each engine would stall on it."""
    lines = [f"{' to '.join(places)}: {_summary(journey)}", *_points(journey), "", *_table(journey)]
    for engine in engines:
        lines += _stalls(journey, engine)
    return "\n".join(lines)


def _summary(journey: Journey) -> str:
    """How far it is, whether the train reverses, and whether it comes back facing the other way."""
    run = journey.run
    reversing = f"reversing on {' and '.join(run.reversals)}" if run.reversals else "no reversing"
    turned = "; the train comes back facing the other way" if run.turns else ""
    return f"{measure(run.length)} of track, {reversing}{turned}"


def _points(journey: Journey) -> Iterator[str]:
    """How to set the points; those that must be thrown under way, with where the train is by then."""
    first: dict[str, str] = {}
    for leg in journey.run.legs:
        if leg.position and leg.piece not in first:
            first[leg.piece] = leg.position
    if first:
        yield f"  set    {', '.join(stands(journey.facts, *one) for one in first.items())}"
    now = dict(first)
    for number, leg in enumerate(journey.run.legs):
        if leg.position and now[leg.piece] != leg.position:
            now[leg.piece] = leg.position
            how, here = stands(journey.facts, leg.piece, leg.position), journey.run.legs[number - 1].piece
            yield f"  set    {how} while the train is on {here}"


def _table(journey: Journey) -> Iterator[str]:
    rows = list(_rows(journey))
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    for row in rows:
        cells = [row[0].rjust(widths[0]), *(cell.ljust(width) for cell, width in zip(row[1:], widths[1:], strict=True))]
        yield f"  {'  '.join(cells)}".rstrip()


def _rows(journey: Journey) -> Iterator[tuple[str, str, str, str, str]]:
    yield "at", "on", "left rail", "right rail", "what happens"
    before: Sight | None = None
    for sight in journey.sights:
        leg = journey.run.legs[sight.leg]
        new = before is None or before.leg != sight.leg
        name = f"{leg.piece} ({leg.position})" if leg.position else leg.piece
        notes = "; ".join(_notes(journey, before, sight))
        yield measure(sight.start), name if new else "", sight.left, sight.right, notes
        before = sight


def _notes(journey: Journey, before: Sight | None, sight: Sight) -> Iterator[str]:
    if before is None:
        if journey.without_volts(sight):
            yield "no volts between the rails: the train stands still"
        return
    if _reverses(journey, before, sight):
        yield "the train stops and goes back"
        return
    leg = journey.run.legs[sight.leg]
    if before.leg != sight.leg and leg.position is None and journey.facts.layout.pieces[leg.piece].template.bridge:
        yield f"the bridge moves to {leg.leave}"
    if sight.cut:
        yield "both rails cut" if len(sight.cut) == 2 else f"{sight.cut[0]} rail cut"
    for side in SIDES:
        if getattr(sight, side) == DEAD and getattr(before, side) != DEAD:
            yield f"{side} rail dead for {measure(sight.stop - sight.start)}"
    if journey.without_volts(sight) and not journey.without_volts(before):
        yield f"no volts between the rails for {measure(sight.stop - sight.start)}: the train stands still"
    yield from _supply(before, sight)
    if sight in journey.turning:
        yield f"{journey.turning[sight]} turns its polarity under the train"
    if journey.opposed(before, sight):
        yield "opposite legs meet: a wheel here is a short"


def _reverses(journey: Journey, before: Sight, sight: Sight) -> bool:
    one, other = journey.run.rides[before.leg], journey.run.rides[sight.leg]
    return one.nose_leads != other.nose_leads


def _supply(before: Sight, sight: Sight) -> Iterator[str]:
    """The supply that the train comes into, where both its rails say so."""
    one, other = ({words.split(".")[0] for words in (at.left, at.right) if words != DEAD} for at in (before, sight))
    if one and other and one != other:
        yield f"into {' and '.join(sorted(other))}"


def _stalls(journey: Journey, engine: Pickups) -> Iterator[str]:
    stalls = journey.stalls(engine)
    if not stalls:
        yield f"  {engine.name} runs it without a stall"
    for place, ride in stalls:
        leg = journey.run.legs[ride]
        yield f"  {engine.name} stalls at {measure(place.start)}, on {leg.piece}, for {measure(place.length)}"
