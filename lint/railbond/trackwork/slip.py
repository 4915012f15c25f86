"""A slip: a crossing with points, so that a train may also curve from track a to track b, or (double) from b to a.

Ends and tracks are those of a crossing, and both tracks are looked along from their ends 1 to their ends 2. A double
slip, its rails by the numbers below:

    b1  left --------------- 1 ------------------------ left  a2
                    ======= b left =     = a left =====
        right - 2 .         = slip a-b =        . 6 --- right
                   `frog 1           frog 2    '
        left -- 3 '         = slip b-a =        ` 7 --- left
                    ======= a right =   = b right =====
    a1  right -------------- 8 ------------------------ right b2

- 1 `left outer rail`, from b1 to a2, and 8 `right outer rail`, from a1 to b2, are the curved stock rails;
- 2 `b1 right rail` and 3 `a1 left rail` run to frog 1, 6 `a2 right rail` and 7 `b2 left rail` from frog 2;
- `a left middle rail` and `b right middle rail` run on behind frog 1, `b left middle rail` and `a right middle rail`
  lead to frog 2.

All of these of one side are one conductor, by jumpers. Blades stand at both ends, between the two frogs. Those of
end 1 choose the exit: set for a2, the a right closure touches the right outer rail and the b-a right slip rail
touches the b right middle rail; set for b2, the b left closure touches the left outer rail and the a-b left slip
rail the a left middle rail. Those of end 2 choose the entry in the same way: from a1, the a left closure touches
the left outer rail and the a-b left slip rail the b left middle rail; from b1, the b right closure touches the
right outer rail and the b-a right slip rail the a right middle rail. So the four positions are a (a1 to a2), b (b1
to b2), a-b (a1 to b2) and b-a (b1 to a2), and each frog's polarity hangs on the points at the other end.

A single slip has only the curve a-b. Its left outer rail is two, `b1 left rail` and `a2 left rail`, which cross the
middle rails at a fixed frog, and in place of the a left and b left closures those middle rails run through.

Frog 1 wants the left polarity while a train comes from a1 and the right one while it comes from b1; frog 2 the
right one while it leaves by a2, the left one while it leaves by b2. The two obtuse frogs in the middle join rails
of one side. In an isolated-frog slip each closure and slip rail takes the polarity of the stock rail beside it; in
a dead-frog slip each stands alone, unless `bond ... closure rails to stock rails`. With contacts, `through LEG` is
the left polarity and `diverging LEG` the right one, for both frogs."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from railbond.layout.shape import Shape
from railbond.layout.template import Impossible, Template
from trackplan.statements import Slip, Statement

from .branching import work_done
from .crossing import OUTLINE, places
from .drawing import Drawing

FORMS = {
    "single-slip-dead-frog": "slip D1  single  dead-frog",
    "single-slip-isolated-frog": "slip D1  single  isolated-frog",
    "double-slip-dead-frog": "slip D1  double  dead-frog",
    "double-slip-isolated-frog": "slip D1  double  isolated-frog",
}
OUTER = ("left outer rail", "right outer rail")
LEG = {"left": 0, "right": 1}
EXITS = {"a2": ("a", "b-a"), "b2": ("b", "a-b")}
ENTRIES = {"a1": ("a", "a-b"), "b1": ("b", "b-a")}
MACHINES = {"points at ends 1": tuple(EXITS.values()), "points at ends 2": tuple(ENTRIES.values())}

Rolls = dict[str, tuple[tuple[str, ...], tuple[str, ...]]]


def template(statement: Slip, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The slip as built and worked on. Raises `Impossible` for cuts: no live frog hangs on its closure rails."""
    bonded, cut = work_done(work)
    if cut:
        raise Impossible("a slip's frogs are not one metal with its closure rails: there is nothing to cut")
    shape = Shape.told(statement, places=places, outline=OUTLINE)
    return _template(statement.slips == "double", str(statement.build), bonded)._replace(shape=shape)


@lru_cache(maxsize=16)
def _template(double: bool, build: str, bonded: bool) -> Template:
    drawing = Drawing("a", "b", "a-b", *(("b-a",) if double else ()))
    _stock(drawing, double)
    for closures in _closures(double).values():
        drawing.rails(*closures)
    if build != "dead-frog":
        _frogs(drawing)
    _blades(drawing, double)
    for route, rails in _rolls(double).items():
        for rail in rails:
            drawing.rolls(route, *(name for name in rail if build != "dead-frog" or not name.startswith("frog")))
    for side, stock in (("left", _left(double)[0]), ("right", OUTER[1])):
        for closure in _closures(double)[side]:
            if build != "dead-frog":
                drawing.tie(closure, stock)
            if bonded:
                drawing.tie(closure, stock, kind="bond")
    _ends(drawing, double)
    return drawing.template()


def _left(double: bool) -> tuple[str, str]:
    """The left rails at b1 and at a2."""
    return (OUTER[0], OUTER[0]) if double else ("b1 left rail", "a2 left rail")


def _stock(drawing: Drawing, double: bool) -> None:
    """All stock rails of one side are one conductor."""
    left = dict.fromkeys((*_left(double), "a1 left rail", "a left middle rail", "b left middle rail", "b2 left rail"))
    right = (OUTER[1], "b1 right rail", "b right middle rail", "a right middle rail", "a2 right rail")
    for names in (left, right):
        drawing.rails(*names)
        drawing.tie(*names)


def _closures(double: bool) -> dict[str, tuple[str, ...]]:
    if not double:
        return {"left": ("a-b left slip rail",), "right": ("a right closure rail", "b right closure rail")}
    return {
        side: (f"a {side} closure rail", f"b {side} closure rail", f"{slip} {side} slip rail")
        for side, slip in (("left", "a-b"), ("right", "b-a"))
    }


def _frogs(drawing: Drawing) -> None:
    """Frog 1 by where a train comes from, frog 2 by where it goes."""
    one = {"a": "left", "a-b": "left", "b": "right", "b-a": "right"}
    other = {"a": "right", "b-a": "right", "b": "left", "a-b": "left"}
    middles = {"left": "a left middle rail", "right": "b right middle rail"}
    _frog(drawing, "frog 1", one, {"left": "a1 left rail", "right": "b1 right rail"}, middles)
    beyond = {"left": "b2 left rail", "right": "a2 right rail"}
    _frog(drawing, "frog 2", other, {"left": "b left middle rail", "right": "a right middle rail"}, beyond)


def _frog(drawing: Drawing, name: str, sides: dict[str, str], wants: dict[str, str], behind: dict[str, str]) -> None:
    sides = {position: sides[position] for position in drawing.positions}
    drawing.frog(
        name,
        {position: wants[side] for position, side in sides.items()},
        {position: behind[side] for position, side in sides.items()},
        {position: LEG[side] for position, side in sides.items()},
    )


def _blades(drawing: Drawing, double: bool) -> None:
    """Each blade, the rail it lies beside, and the way out or in that it is set for; it is open for the others."""
    _blade(drawing, "a right closure rail", OUTER[1], EXITS, "a2")
    _blade(drawing, "a-b left slip rail", "a left middle rail", EXITS, "b2")
    _blade(drawing, "b right closure rail", OUTER[1], ENTRIES, "b1")
    _blade(drawing, "a-b left slip rail", "b left middle rail", ENTRIES, "a1")
    if double:
        _blade(drawing, "b left closure rail", OUTER[0], EXITS, "b2")
        _blade(drawing, "b-a right slip rail", "b right middle rail", EXITS, "a2")
        _blade(drawing, "a left closure rail", OUTER[0], ENTRIES, "a1")
        _blade(drawing, "b-a right slip rail", "a right middle rail", ENTRIES, "b1")


def _blade(drawing: Drawing, closure: str, stock: str, ways: Mapping[str, tuple[str, ...]], way: str) -> None:
    touches = tuple(position for position in ways[way] if position in drawing.positions)
    drawing.blade(closure, stock, touches, tuple(one for one in drawing.positions if one not in touches))


def _rolls(double: bool) -> Rolls:
    """The left and the right rail of each route, metal by metal."""
    b1_left, a2_left = _left(double)
    a_left = ("a left closure rail",) if double else ()
    b_left = ("b left closure rail",) if double else ()
    from_a1 = "a1 left rail", "frog 1", "a left middle rail"
    from_b1 = "b1 right rail", "frog 1", "b right middle rail"
    to_a2 = "a right middle rail", "frog 2", "a2 right rail"
    to_b2 = "b left middle rail", "frog 2", "b2 left rail"
    rolls: Rolls = {
        "a": ((*from_a1, *a_left, a2_left), (OUTER[1], "a right closure rail", *to_a2)),
        "b": ((b1_left, *b_left, *to_b2), (*from_b1, "b right closure rail", OUTER[1])),
        "a-b": ((*from_a1, "a-b left slip rail", *to_b2), (OUTER[1],)),
    }
    if double:
        rolls["b-a"] = ((OUTER[0],), (*from_b1, "b-a right slip rail", *to_a2))
    return rolls


def _ends(drawing: Drawing, double: bool) -> None:
    """Looking out of an end 1 one looks back along the track. A train passes an end in the positions that use it."""
    b1_left, a2_left = _left(double)
    uses = {"a1": ("a", "a-b"), "b1": ("b", "b-a"), "a2": ("a", "b-a"), "b2": ("b", "a-b")}
    routes = {end: tuple(one for one in own if one in drawing.positions) for end, own in uses.items()}
    drawing.end("a1", OUTER[1], "a1 left rail", leaves=False, route=routes["a1"])
    drawing.end("a2", a2_left, "a2 right rail", leaves=True, route=routes["a2"])
    drawing.end("b1", "b1 right rail", b1_left, leaves=False, route=routes["b1"])
    drawing.end("b2", "b2 left rail", OUTER[1], leaves=True, route=routes["b2"])
