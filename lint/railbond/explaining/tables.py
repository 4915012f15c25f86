"""Tracks that come to a table's pit at another place, or on another side of it, than all their like."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise

from railbond.circuit.by_kind import of_kind
from railbond.circuit.facts import Facts
from railbond.layout.model import Fault
from trackplan.amend import add_clause, drop_clause, set_word
from trackplan.statements import ApproachTrack

from .slip import HandSlip

FEWEST = 2
"""Tracks of one name, but for their numbers, by which another is judged."""


def place_slips(facts: Facts, track: ApproachTrack) -> Iterator[HandSlip]:
    """The place that the numbers of a track and its like ask for, where something is told of it."""
    if not any(_is_of(track, one) for one in facts.layout.faults):
        return
    own, places = _number(str(track.track)), _typed_places(facts, track)
    unit = re.sub(r"[0-9.]", "", track.place.text).strip()
    steps = {
        round((there - here) / (one - other), 6) for (other, here), (one, there) in pairwise(sorted(places.items()))
    }
    if own is None or len(places) < FEWEST or len(steps) != 1 or own in places:
        return
    first, place = min(places.items())
    text = f"{place + (own - first) * steps.pop():g} {unit}"
    words, said = f"write `{text}` for `{track.place.text}`", f"{track.place.text} is a slip for {text}"
    yield HandSlip("unit", track.at, (set_word(track, track.place, text),), words, said, (str(track.track),))


def side_slips(facts: Facts, table: str) -> Iterator[HandSlip]:
    """The other side of a transfer table, where all tracks of nearly the same name have it."""
    tracks = [one for one in of_kind(facts, ApproachTrack) if str(one.track).partition(".")[0] == table]
    for one in tracks:
        sides = [other.far is not None for other in _its_like(tracks, one)]
        if len(sides) < FEWEST or len(set(sides)) > 1 or sides[0] == (one.far is not None):
            continue
        if one.far is None:
            edit, side = add_clause(one, "far", "far-side"), "the far side"
        else:
            edit, side = drop_clause(facts.sources[one.at.path], one, one.far, "far-side"), "the near side"
        words, said = f"{one.track} comes to the pit from {side}", f"{one.track} is told of the other side"
        yield HandSlip("side", one.at, (edit,), words, said, (table, str(one.track)))


def _is_of(track: ApproachTrack, fault: Fault) -> bool:
    return fault.rule == "impossible" and track.at.holds(fault.at)


def _its_like(tracks: list[ApproachTrack], own: ApproachTrack) -> list[ApproachTrack]:
    stem = str(own.track).rstrip("0123456789")
    return [one for one in tracks if one.at != own.at and str(one.track).rstrip("0123456789") == stem]


def _typed_places(facts: Facts, track: ApproachTrack) -> dict[int, float]:
    """By their numbers the places of its like, as typed, as far as all have one unit."""
    like = _its_like(list(of_kind(facts, ApproachTrack)), track)
    typed = [re.fullmatch(r"([0-9.]+) ?(\D+)", one.place.text) for one in (track, *like)]
    if not all(typed) or len({one[2] for one in typed if one}) != 1:
        return {}
    numbered = ((_number(str(one.track)), float(place[1])) for one, place in zip(like, typed[1:], strict=True) if place)
    return {number: place for number, place in numbered if number is not None}


def _number(name: str) -> int | None:
    digits = re.search(r"\d+$", name)
    return int(digits[0]) if digits else None
