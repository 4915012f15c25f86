"""A crossing: track a from a1 to a2, and track b that crosses it from its left to its right, from b1 to b2.

Both are looked along from their ends 1 to their ends 2, here to the right:

    b1  left -----------.       .---------- left  a2
                         `.   .'
                           `.'  obtuse frog
        right ----.       .' `.       .---- right
                   `.   .'     `.   .'
             frog 1  `.'         `.'  frog 2
                     .'`.       .' `.
        left ------'     `.   .'     `----- left
                           `.'  obtuse frog
                         .'  `.
    a1  right ---------'       `----------- right b2

The left rail of a crosses the right rail of b at frog 1, nearest the ends 1, and the right rail of a the left rail
of b at frog 2: these are the acute ones, where opposite rails meet. At the two obtuse frogs in the middle rails of
one side meet, left with left and right with right. Each rail is one conductor all the way, led by jumpers past the
frogs that it crosses; `near`, `middle` and `far` are its stretches before, between and behind them.

In a dead-frog crossing all four frogs are plastic. In an isolated-frog one the two acute frogs stand alone: frog 1
wants the polarity of a's left rail for a train on a, of b's right rail for one on b; frog 2 that of a's right or
b's left. Each obtuse frog is one metal with the rail of track a that it lies in. With contacts, `through LEG` is
what frog 1 gets for track a and frog 2 for track b, and `diverging LEG` the other.

The acute frogs lie G·n on either side of the middle for a gauge G and a frog of number n, their throats toward it, and
each obtuse frog G/4n beyond the middle as seen from the acute frog of its rail (derived). A rail is broken there by
the other rail's head and two flangeways.

There are no points: the routes `a` and `b` are chosen by a toggle, or, with `frog ... switched with T1 ...`, by other
points. Frog 1 then gets the wire after `through` while T1 stands for its first position, frog 2 the other one, and
both are exchanged in its second. Which track is run with which position is what the track tells: where T1 leads to
an end of a while it stands diverging, a is run then. Where no track leads from T1 to the crossing, a is run while T1
stands for its first position, b for its second.
"""

from __future__ import annotations

from functools import lru_cache

from railbond.layout.shape import Outline, Place, Shape, Size
from railbond.layout.template import Impossible, Template
from trackplan.statements import Crossing, Statement

from .drawing import Drawing

FORMS = {
    "crossing-dead-frog": "crossing X1  30 degrees  dead-frog",
    "crossing-isolated-frog": "crossing X1  30 degrees  isolated-frog",
}
PARTS = {"a": 0, "b": 1}
OUTLINE = Outline(("a1", "b1"), ("b2", "a2"), (("a1", "a2"),))


def template(statement: Crossing, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The crossing as built; there are no closure rails or jumpers to work on."""
    if work:
        raise Impossible("a crossing has no points: there is no closure rail to bond and no jumper to cut")
    shape = Shape.told(statement, places=places, outline=OUTLINE)
    return (_dead() if statement.build == "dead-frog" else _isolated())._replace(shape=shape)


@lru_cache(maxsize=1)
def _dead() -> Template:
    drawing = Drawing(parts=2)
    for track in PARTS:
        for side in ("left", "right"):
            stretches = [f"{part} {track} {side} rail" for part in ("near", "middle", "far")]
            drawing.rails(*stretches)
            drawing.tie(*stretches)
            drawing.rolls(None, *stretches)
        _ends(drawing, track)
    return drawing.template()


@lru_cache(maxsize=1)
def _isolated() -> Template:
    drawing = Drawing("a", "b", parts=2, aligned=True)
    for rail in ("a left", "a right", "b left", "b right"):
        stretches = [f"{part} {rail} rail" for part in _stretches(rail)]
        drawing.rails(*stretches)
        drawing.tie(*stretches)
    one = {"a": "near a left rail", "b": "near b right rail"}
    other = {"a": "near a right rail", "b": "near b left rail"}
    drawing.frog("frog 1", one, {"a": "far a left rail", "b": "middle b right rail"}, {"a": 0, "b": 1})
    drawing.frog("frog 2", other, {"a": "far a right rail", "b": "far b left rail"}, {"a": 1, "b": 0})
    drawing.rolls("a", "near a left rail", "frog 1", "far a left rail")
    drawing.rolls("a", "near a right rail", "frog 2", "far a right rail")
    drawing.rolls("b", "near b right rail", "frog 1", "middle b right rail", "near a right rail", "far b right rail")
    drawing.rolls("b", "near b left rail", "far a left rail", "middle b left rail", "frog 2", "far b left rail")
    for track in PARTS:
        _ends(drawing, track)
    return drawing.template()


def _stretches(rail: str) -> tuple[str, ...]:
    """The obtuse frogs are metal of track a's rails, which have no middle stretch of their own."""
    return ("near", "far") if rail[0] == "a" else ("near", "middle", "far")


def _ends(drawing: Drawing, track: str) -> None:
    """Looking out of an end 1 one looks back along the track."""
    route = track if drawing.positions else ()
    left, right = f"{track} left rail", f"{track} right rail"
    drawing.end(f"{track}1", f"near {right}", f"near {left}", leaves=False, route=route, part=PARTS[track])
    drawing.end(f"{track}2", f"far {left}", f"far {right}", leaves=True, route=route, part=PARTS[track])


def places(size: Size, ends: tuple[str, str], side: str, frogs: int) -> tuple[int, list[Place]]:
    """On a straight rail its acute frog and its obtuse one, the latter if it is of metal; on the inner rail of a slip's
    curve both acute ones."""
    acute_first = (ends[0][0] == "a") == (side == "left")
    found = _on_curve(size) if ends[0][0] != ends[1][0] else _on_straight(size, acute_first)
    return _length(size), sorted(found[:frogs])


def _length(size: Size) -> int:
    return 2 * (size.run + size.heel)


def _on_curve(size: Size) -> list[Place]:
    start, stop = size.heel - size.clear, size.heel + size.throat
    return [(start, stop), (_length(size) - stop, _length(size) - start)]


def _on_straight(size: Size, acute_first: bool) -> list[Place]:
    off = round(size.gauge / (4 * size.number)) * (1 if acute_first else -1)
    middle = size.run + size.heel + off
    obtuse = middle - size.obtuse // 2, middle + size.obtuse // 2
    return [_on_curve(size)[0 if acute_first else 1], obtuse]
