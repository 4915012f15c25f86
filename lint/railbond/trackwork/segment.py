"""Plain track: two rails, in as many stretches as the cuts within it make.

Seen along the arrow, from `start` to `finish`:

    start   ==== left 0 ====|gap|==== left 1 ====   finish
            ========== right 0 ==================
            |---- part 0 ---|------ part 1 ------|

Looking out of `start` one looks against the arrow, so its left rail there is the segment's right one.
"""

from __future__ import annotations

from functools import lru_cache

from railbond.layout.shape import Shape
from railbond.layout.template import End, Link, Metal, Pass, Template
from trackplan.statements import Segment, Statement

KINDS = (Segment,)


def template(statement: Segment, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """A segment of its length in meters, cut at `cuts`: meters from its start, and left or right along its arrow.
    Its length is told in micrometers as all places on it are: no sliver of rail is left behind a wire at its end."""
    length = float(statement.length)
    made = _template(round(length, 6) or length, tuple((round(at, 6), side) for at, side in cuts))
    return made._replace(shape=Shape.told(statement))


@lru_cache(maxsize=4096)
def _template(length: float, cuts: tuple[tuple[float, str], ...]) -> Template:
    left = _stretches("left rail", length, [at for at, side in cuts if side == "left"])
    right = _stretches("right rail", length, [at for at, side in cuts if side == "right"])
    metals = (*left, *right)
    count, last = len(left), len(metals) - 1
    follow = [(i, i + 1) for i in range(last) if i + 1 != count]
    links = _links(metals, count, sorted({at for at, _ in cuts}))
    return Template(
        metals,
        (),
        tuple(Pass(one, other, None) for one, other in follow),
        {
            "start": End(count, 0, leaves=False, part=0),
            "finish": End(count - 1, last, leaves=True, part=len(links)),
        },
        parts=len(links) + 1,
        links=links,
    )


def _stretches(words: str, length: float, cuts: list[float]) -> list[Metal]:
    marks = [0.0, *sorted(set(cuts)), length]
    return [Metal(words, start=start, stop=stop) for start, stop in zip(marks, marks[1:], strict=False)]


def _links(metals: tuple[Metal, ...], count: int, places: list[float]) -> tuple[Link, ...]:
    """One link at each place where a rail is cut; a rail that is whole there is the same metal on both sides."""
    links = []
    for part, place in enumerate(places):
        before = (_at(metals[:count], place, before=True), count + _at(metals[count:], place, before=True))
        after = (_at(metals[:count], place, before=False), count + _at(metals[count:], place, before=False))
        links.append(Link(part, part + 1, before, after, place))
    return tuple(links)


def _at(stretches: tuple[Metal, ...], place: float, before: bool) -> int:
    """The stretch that lies just before, or just after, a place."""
    for index, metal in enumerate(stretches):
        if metal.start < place < metal.stop or place == (metal.stop if before else metal.start):
            return index
    raise ValueError(f"no rail at {place} m")
