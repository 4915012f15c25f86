"""The rails, metal by metal: each as a line of the picture in the ink of what it carries."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from railbond.layout.model import EndAt, Layout, Piece
from railbond.layout.template import OTHER_SIDE

from .course import Course
from .scale import GAUGE, TRIM
from .scene import LaidTrack

HALF = GAUGE / 2


class Stroke(NamedTuple):
    """A rail's line: the piece and metal that it is, and its path. `kind` is `rail`, `frog` or `plastic`.

    A blade has the positions in which it is `shut`, and its path `away` from the rail beside it in all others.
    """

    piece: str
    metal: int
    path: str
    kind: str = "rail"
    shut: tuple[str, ...] = ()
    away: str = ""


class Cuts:
    """Which rails are cut at which ends, looking out of them; those of `apart` are shown elsewhere."""

    def __init__(self, layout: Layout, apart: Iterable[EndAt] = ()) -> None:
        hidden = set(apart)
        self.at: set[tuple[EndAt, str]] = set()
        for meeting in layout.meetings:
            for side in meeting.gaps:
                both = {(meeting.one, str(side)), (meeting.other, str(OTHER_SIDE[side]))}
                self.at |= {one for one in both if one[0] not in hidden}

    def trim(self, end: EndAt, side: str) -> float:
        """How much of a rail is left out at an end, so that the cut shows."""
        return TRIM if (end, side) in self.at else 0.0


def aside(side: str) -> float:
    """How far to the left of a course the rail on that side lies."""
    return HALF if side == "left" else -HALF


def place(piece: Piece, stretch: LaidTrack, meters: float) -> float:
    """Where a place of a plain piece, meters from its start, lies on its course."""
    share = meters / (piece.template.length or 1)
    return stretch.start + (stretch.stop - stretch.start) * (share if stretch.along else 1 - share)


def on_stretch(piece: Piece, stretch: LaidTrack, cuts: Cuts) -> Iterator[Stroke]:
    """The rails of plain track, in as many strokes as it has stretches of rail."""
    length = piece.template.length
    ends = list(piece.template.ends)
    for index, metal in enumerate(piece.template.metals):
        side = "left" if metal.words.startswith("left") else "right"
        first = TRIM if metal.start > 0 else cuts.trim(EndAt(piece.name, ends[0]), OTHER_SIDE[side])
        last = TRIM if metal.stop < length else cuts.trim(EndAt(piece.name, ends[1]), side)
        start, stop = place(piece, stretch, metal.start), place(piece, stretch, metal.stop)
        if stretch.along:
            path = stretch.course.path(start + first, stop - last, aside(side))
        else:
            path = stretch.course.path(stop + last, start - first, -aside(side))
        yield Stroke(piece.name, index, path)


def on_link(
    layout: Layout, one: EndAt, other: EndAt, course: Course, cuts: Cuts, whole: bool = False
) -> Iterator[Stroke]:
    """The rails between two pieces that meet but are drawn apart: half the way each piece's own; of a piece at whose
    end track stops (both are that end), all the way to the stop. `whole`: only the rails that are not cut there."""
    halves = ((one, 0.0, 1.0, True),) if one == other else ((one, 0.0, 0.5, True), (other, 0.5, 1.0, False))
    for at, start, stop, out in halves:
        end = layout.pieces[at.piece].template.ends[at.end]
        for side in ("left", "right"):
            first, last = (0, cuts.trim(at, side)) if out else (cuts.trim(at, side), 0)
            if whole and first + last:
                continue
            path = course.path(
                course.length * start + first, course.length * stop - last, aside(side) * (1 if out else -1)
            )
            yield Stroke(at.piece, end.side(side), path)
