"""How a well-formed plan's pieces meet: ends, joints, gaps and cuts, resolved in the simplest way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from trackplan.statements import Gap, Joint, Segment, Statement, Turnout

from .rails import ALWAYS, Condition, Conductor, Meeting, Node, Stretch
from .turnouts import ENDS

At = tuple[str, str]
"""A piece and its end."""


class End(NamedTuple):
    """Where a piece can meet another. Rails are seen looking out; `leaves`: the looking direction does so."""

    left: Conductor
    right: Conductor
    leaves: bool
    node: Node
    when: Condition


class Touching(NamedTuple):
    """Two ends that meet. `gaps` names the cut rails by their side looking out of `one`."""

    one: At
    other: At
    gaps: set[str]


class Cuts:
    """Where each segment is cut within: offsets in meters from its start, by side seen along the arrow."""

    def __init__(self, statements: Iterable[Statement]) -> None:
        self.left: dict[str, list[float]] = {}
        self.right: dict[str, list[float]] = {}
        for gap in statements:
            if isinstance(gap, Gap) and gap.offset is not None:
                if gap.rail != "right rail":
                    self.left.setdefault(str(gap.place), []).append(float(gap.offset))
                if gap.rail != "left rail":
                    self.right.setdefault(str(gap.place), []).append(float(gap.offset))

    def places(self, segment: str) -> list[float]:
        return sorted({*self.left.get(segment, []), *self.right.get(segment, [])})

    def rail(self, segment: str, side: str, offset: float) -> Stretch:
        """The stretch of a rail just past an offset (0 is the segment's start)."""
        cuts = (self.left if side == "left" else self.right).get(segment, [])
        return segment, side, sum(cut <= offset for cut in cuts)

    def rails(self, segment: str) -> list[Conductor]:
        last = {side: self.rail(segment, side, float("inf"))[2] for side in ("left", "right")}
        return [(segment, side, nth) for side in ("left", "right") for nth in range(last[side] + 1)]

    def inside(self, segment: str) -> Iterator[Meeting]:
        """The meetings of a segment's own stretches, one at each place where a rail or both are cut."""
        befores = [0.0, *self.places(segment)]
        for nth, (before, cut) in enumerate(zip(befores, befores[1:], strict=False)):
            one = self.rail(segment, "left", before), self.rail(segment, "right", before)
            other = self.rail(segment, "left", cut), self.rail(segment, "right", cut)
            both = all(a != b for a, b in zip(one, other, strict=True))
            yield Meeting((segment, nth), (segment, nth + 1), False, both, one, other)


def segment_ends(segment: Segment, cuts: Cuts) -> dict[At, End]:
    name, last, end = str(segment.name), len(cuts.places(segment.name)), float("inf")
    left, right = cuts.rail(name, "left", 0.0), cuts.rail(name, "right", 0.0)
    far_left, far_right = cuts.rail(name, "left", end), cuts.rail(name, "right", end)
    return {
        (name, "start"): End(right, left, False, (name, 0), ALWAYS),
        (name, "finish"): End(far_left, far_right, True, (name, last), ALWAYS),
    }


def turnout_ends(turnout: Turnout) -> dict[At, End]:
    """A wye's ends are named left and right, and its rails as if they were through and diverging."""
    name, typed = str(turnout.name), {"through": "left", "diverging": "right"}
    found = {}
    for end, (left, right) in ENDS[turnout.hand].items():
        when = ALWAYS if end == "points" else frozenset({(name, end)})
        word = typed.get(end, end) if turnout.hand == "wye" else end
        found[name, word] = End((name, left), (name, right), end != "points", (name, 0), when)
    return found


class Track:
    """All ends of a plan and which of them meet."""

    def __init__(self, statements: list[Statement], cuts: Cuts) -> None:
        self.ends: dict[At, End] = {}
        for one in statements:
            if isinstance(one, Segment):
                self.ends |= segment_ends(one, cuts)
            elif isinstance(one, Turnout):
                self.ends |= turnout_ends(one)
        self.named: dict[str, Touching] = {}
        self.meetings = self._meet(statements)
        for gap in statements:
            if isinstance(gap, Gap) and gap.offset is None:
                self._cut(str(gap.place), str(gap.rail).split()[0])

    def _meet(self, statements: list[Statement]) -> list[Touching]:
        glued: dict[frozenset[At], Touching] = {}
        loose: dict[str, At] = {}
        for one, other in glues(statements):
            if one in self.ends and other in self.ends:
                glued.setdefault(frozenset({one, other}), Touching(one, other, set()))
                continue
            end, name = (one, other[0]) if one in self.ends else (other, one[0])
            if name in loose:
                self.named[name] = glued[frozenset({loose[name], end})] = Touching(loose[name], end, set())
            loose[name] = end
        return list(glued.values())

    def _cut(self, place: str, rail: str) -> None:
        """Notes a gap at an end or joint by the sides it cuts, looking out of the meeting's first end."""
        at = split(place)
        here = self.named.get(place) or next(m for m in self.meetings if at in (m.one, m.other))
        if rail == "both":
            here.gaps.update(("left", "right"))
            return
        asked = [at] if at in self.ends else [here.one, here.other]
        for end in dict.fromkeys([*asked, here.one, here.other]):
            side = self._side(end, rail)
            if side:
                here.gaps.add(side if end == here.one else flip(side))
                return

    def _side(self, at: At, rail: str) -> str | None:
        """The side, looking out of an end, of a rail named there; None where that end has no such word."""
        end = self.ends[at]
        if rail in ("frog", "stock"):
            return next(
                (side for side in ("left", "right") if f" {rail} rail" in getattr(end, side)[1] and at[1] != "points"),
                None,
            )
        if at[1] not in ("start", "finish"):
            return None
        return rail if at[1] == "finish" else flip(rail)


def glues(statements: Iterable[Statement]) -> Iterator[tuple[At, At]]:
    """Every pair of ends, or end and free name, that a statement puts together; `stop` ends nothing."""
    for one in statements:
        if isinstance(one, Segment):
            pairs = [(f"{one.name}.start", one.start), (f"{one.name}.finish", one.finish)]
        elif isinstance(one, Joint):
            pairs = [(one.one, one.other)]
        else:
            continue
        yield from ((split(a), split(b)) for a, b in pairs if "stop" not in (a, b))


def split(reference: str) -> At:
    piece, _, end = str(reference).rpartition(".")
    return (piece, end) if piece else (end, "")


def flip(side: str) -> str:
    return "right" if side == "left" else "left"
