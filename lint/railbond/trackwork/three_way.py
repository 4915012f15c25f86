"""A three-way turnout: three routes from one end, left, through and right. Looking from the points:

    points                                                                        left
    ------------ left stock ------------------------------------------------------ left
        \\=== through left closure ==.                       .- left frog rail ---- right
         \\== right closure ==.       `.                   .'
                               `.       `.               .'
                                 `.    .' C1 `- through left frog rail ----------- left
                              C0   `..'                                               through
                                 .' `.  C2 .- through right frog rail ------------ right
          /== left closure ====.'     `. .'
        /=== through right closure ====.' `. - right frog rail -------------------- left
    ------------ right stock ----------------------------------------------------- right
    points                                                                        right

The left closure is the left route's right rail and the right closure the right route's left rail: they cross at
frog C0, nearest the points, and go on as `left middle` and `right middle` rails. The left middle crosses the
through left closure at C1, the right middle the through right closure at C2.

Symmetrical: two blades lie on either side. The through left closure touches the left stock rail for the routes
through and right; for the right route the right closure touches the through left closure besides. The other side is
its mirror image. Staggered left: the points of the left route come first, so the left closure lies beside the right
stock rail itself and touches that for the left route; the second points stand through then. Staggered right is the
mirror image.

In a dead-frog turnout each closure is one metal with what goes on from it. In an isolated-frog one the three frogs
stand alone, and the rest takes the polarity of the stock rail of its side: the through left closure, the right
closure and what goes on from them that of the left one, their opposites that of the right one. C0 and C1 want the
right polarity for the left route; C0 and C2 the left one for the right route; set through, C1 wants the left one
and C2 the right one. With contacts, `through LEG` is the left polarity and `diverging LEG` the right one; those of
C0 and C1 move with the left route's points and those of C2 with the right one's."""

from __future__ import annotations

from functools import lru_cache
from math import sqrt

from railbond.layout.shape import Outline, Place, Shape, Size
from railbond.layout.template import OTHER_SIDE, Impossible, Side, Template
from trackplan.statements import Statement, ThreeWay

from .branching import work_done
from .drawing import Drawing

FORMS = {
    "three-way-dead-frog": "three-way W1  symmetrical  dead-frog",
    "three-way-isolated-frog": "three-way W1  symmetrical  isolated-frog",
    "three-way-staggered": "three-way W1  staggered left  isolated-frog",
}
SIDES: tuple[Side, Side] = ("left", "right")
FROGS = {"left": "frog C1", "right": "frog C2"}
LEG = {"left": 0, "right": 1}
MACHINES = {
    "left points": (("left",), ("through", "right")),
    "right points": (("right",), ("through", "left")),
}
OUTLINE = Outline(("points",), ("right", "through", "left"), (("points", "through"),))


def template(statement: ThreeWay, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The turnout as built and worked on. Raises `Impossible` for cuts: no live frog hangs on its closure rails."""
    bonded, cut = work_done(work)
    if cut:
        raise Impossible("the frogs of a three-way turnout are not one metal with its closure rails: nothing to cut")
    shape = Shape.told(statement, places=_places, outline=OUTLINE)
    return _template(str(statement.shape), str(statement.build), bonded)._replace(shape=shape)


@lru_cache(maxsize=16)
def _template(shape: str, build: str, bonded: bool) -> Template:
    drawing = Drawing("left", "through", "right")
    for side in SIDES:
        drawing.rails(f"{side} stock rail", *_rails(side), *_rails(side, through=True))
    if build != "dead-frog":
        _frogs(drawing)
    for side in SIDES:
        for through in (False, True):
            _tied(drawing, _rails(side, through), f"{_polarity(side, through)} stock rail", build, bonded)
    for side in SIDES:
        _blades(drawing, side, first=shape == f"staggered {side}")
        _rolls(drawing, side, build, first=shape == f"staggered {side}")
    _ends(drawing)
    return drawing.template()


def _rails(side: str, through: bool = False) -> tuple[str, ...]:
    """A closure rail and what goes on from it: the inner rail of a side's route, or the through route's rail there."""
    if through:
        return f"through {side} closure rail", f"through {side} frog rail"
    return f"{side} closure rail", f"{side} middle rail", f"{side} frog rail"


def _polarity(side: Side, through: bool) -> Side:
    """Whose stock rail's polarity they take: a route's inner rail is the other side's."""
    return side if through else OTHER_SIDE[side]


def _frogs(drawing: Drawing) -> None:
    inner: dict[str, str] = {side: f"{OTHER_SIDE[side]} stock rail" for side in SIDES}
    legs: dict[str, int] = {side: LEG[OTHER_SIDE[side]] for side in SIDES}
    drawing.frog("frog C0", inner, {side: f"{side} middle rail" for side in SIDES}, legs)
    for side, name in FROGS.items():
        wants = {side: inner[side], "through": f"{side} stock rail"}
        behind = {side: f"{side} frog rail", "through": f"through {side} frog rail"}
        drawing.frog(name, wants, behind, {side: legs[side], "through": LEG[side]})


def _tied(drawing: Drawing, rails: tuple[str, ...], stock: str, build: str, bonded: bool) -> None:
    if build == "dead-frog":
        drawing.tie(*rails)
    else:
        for rail in rails:
            drawing.tie(rail, stock)
    if bonded:
        drawing.tie(rails[0], stock, kind="bond")


def _blades(drawing: Drawing, side: Side, first: bool) -> None:
    """The blade of a side's route, at the other side, and the through one beside that side's stock rail.

    `first` says that the points are staggered and this route's come first.
    """
    other = OTHER_SIDE[side]
    closure, through, stock = f"{side} closure rail", f"through {other} closure rail", f"{other} stock rail"
    if first:
        drawing.blade(closure, stock, touches=side, opens=("through", other))
    else:
        drawing.blade(closure, through, touches=side, opens="through")
    drawing.blade(through, stock, touches=("through", side), opens=other)


def _rolls(drawing: Drawing, side: Side, build: str, first: bool) -> None:
    """The inner rail of a side's route, and the through route's rail on that side."""
    other = OTHER_SIDE[side]
    closure, middle, rail = _rails(side)
    between = () if first else (f"through {other} closure rail",)
    c0, c1 = ((), ()) if build == "dead-frog" else (("frog C0",), (FROGS[side],))
    drawing.rolls(side, f"{other} stock rail", *between, closure, *c0, middle, *c1, rail)
    closure, rail = _rails(side, through=True)
    drawing.rolls("through", f"{side} stock rail", closure, *c1, rail)


def _ends(drawing: Drawing) -> None:
    """The rails of each end, looking out of it."""
    drawing.end("points", "right stock rail", "left stock rail", leaves=False)
    left: dict[str, Side] = {"stock rail": "left", "frog rail": "right"}
    drawing.end("left", "left stock rail", "left frog rail", leaves=True, route="left", rails=left)
    drawing.end("through", "through left frog rail", "through right frog rail", leaves=True, route="through")
    right: dict[str, Side] = {"frog rail": "left", "stock rail": "right"}
    drawing.end("right", "right frog rail", "right stock rail", leaves=True, route="right", rails=right)


def _places(size: Size, ends: tuple[str, str], side: str, frogs: int) -> tuple[int, list[Place]]:
    """On circular curves the outer routes cross at lead/√2 (derived); the other frogs lie at the end of the lead."""
    points = [round(size.lead / sqrt(2)), size.lead]
    return size.lead + size.heel, [size.around(point) for point in points[len(points) - frogs :]]
