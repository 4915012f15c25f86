"""The cuts within segments: `gap SEGMENT at LENGTH RAIL`."""

from __future__ import annotations

from collections import defaultdict

from railbond.findings import Step
from trackplan.quantities import Length
from trackplan.statements import Gap, Segment, where

from .names import Names
from .symbols import SymbolTable
from .template import Side

SegmentCut = tuple[float, Side]
"""Meters from the segment's start, and the rail, seen along its arrow."""

CutGaps = dict[SegmentCut, Gap]
"""The gap that made each cut of a segment."""

MICROMETER = 6
"""Decimals to which places along a segment are told apart, in meters."""

RAILS: dict[str, tuple[Side, ...]] = {
    "left rail": ("left",),
    "right rail": ("right",),
    "both rails": ("left", "right"),
}


def segment_cuts(symbols: SymbolTable, names: Names) -> dict[str, CutGaps]:
    """The cuts within every segment, by its whole name."""
    cuts: defaultdict[str, CutGaps] = defaultdict(dict)
    for gap in symbols.of(Gap):
        if gap.offset is not None and (name := _segment(gap, gap.offset, names)):
            _cut(gap, cuts[name], round(float(gap.offset), MICROMETER), names)
    return cuts


def cut_twice(gap: Gap, held: Gap, names: Names) -> None:
    """Tells that the gap `held` cuts the same rail already."""
    why = (Step(where(held), "the same rail is cut here"),)
    message = f"a rail of `{gap.place}` is already cut at this place"
    mend = "take this gap out, or name the other rail"
    names.fault("impossible", gap, gap.rail, message, mend, why=why, name=gap.place)


def _cut(gap: Gap, cuts: CutGaps, place: float, names: Names) -> None:
    sides = RAILS.get(gap.rail, ())
    if not sides:
        message = f"a segment has no {gap.rail}: expected `left rail`, `right rail` or `both rails`"
        names.fault("impossible", gap, gap.rail, message, name=gap.place)
    if held := next((cuts[place, side] for side in sides if (place, side) in cuts), None):
        cut_twice(gap, held, names)
    for side in sides:
        cuts.setdefault((place, side), gap)


def _segment(gap: Gap, offset: Length, names: Names) -> str | None:
    """The segment that is cut; None, and a fault, where there is none or it does not reach so far."""
    head = names.whole(gap.place).rpartition(".")[0]
    if isinstance(names.defined.get(head), Segment):
        whole = f"`gap {names.typed(head)} at {offset.text} {gap.rail}`"
        message = f"`at` counts from a segment's start: expected {whole}, or `{gap.place}` without `at`"
        names.fault("impossible", gap, offset, message, name=gap.place)
        return None
    name = names.find(gap, gap.place, (Segment,), "segment")
    segment = names.defined.get(name or "")
    if isinstance(segment, Segment) and not 0 < round(offset, MICROMETER) < round(segment.length, MICROMETER):
        _too_far(gap, offset, segment, names)
        return None
    return name


def _too_far(gap: Gap, offset: Length, segment: Segment, names: Names) -> None:
    name, length = segment.name, segment.length
    message = (
        f"`{name}` is {length.text} long and cannot be cut at {offset.text};"
        f" a gap at its far end is `gap {name}.finish {gap.rail}`"
    )
    why = (Step(where(segment, length), f"the length of `{name}`"),)
    names.fault("impossible", gap, offset, message, why=why, name=name)
