"""A turnout, left-hand, right-hand or wye. A left-hand one, looking from the points to the frog:

    points                                                     diverging
    --- diverging stock ----------------------------------------- left
        \\-- through closure --\\         /-- diverging frog rail -- right
                               >  frog  <
        /-- diverging closure -/         \\-- through frog rail ---- left
    --- through stock ------------------------------------------- right
    points                                                       through

Each closure rail and its blade lie beside the stock rail that is drawn next to it; set through, the through closure
touches the diverging stock rail. A right-hand turnout is the mirror image. In a wye the `left` route stands for
the through one and the `right` for the diverging one, so it is drawn as a right-hand turnout. A curved turnout has
the same rails; its outer curve is the through route.

In a dead-frog turnout the frog is plastic and each closure rail is one metal with its frog rail. A live frog is one
metal with both closure rails and both frog rails. An isolated frog stands alone, and each closure and frog rail takes
the polarity of the stock rail beside it. The point of a movable-frog turnout moves with the blades and touches the
closure rail of the route that is set: all else is as with an isolated frog, and dirt at that touch counts. A sprung
frog is an isolated one whose wing rail, a part of it, is held by a spring so that a wheel on the through route
does not drop.

Points that are `sprung through` stand through by themselves; a train from the diverging route trails through
them and pushes the blades aside as it goes. Both routes belong to the one position there is.
"""

from __future__ import annotations

from functools import lru_cache

from railbond.layout.shape import Shape
from railbond.layout.template import Impossible, Template
from trackplan.statements import Statement, Turnout

from .branching import ends, jumpers, outline, refuse_cuts, work_done
from .drawing import Drawing
from .springing import sprung_to

FORMS = {
    "dead-frog": "turnout T1  left  dead-frog",
    "live-frog": "turnout T1  left  live-frog",
    "isolated-frog": "turnout T1  left  isolated-frog",
    "movable-frog": "turnout T1  left  movable-frog",
    "sprung-frog": "turnout T1  left  sprung-frog",
    "wye": "turnout T1  wye  live-frog",
    "spring-switch": "turnout T1  left  isolated-frog  sprung through",
}


def template(statement: Turnout, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The turnout as built and worked on. Raises `Impossible` where the work asks for metal that is not there."""
    made = _template(str(statement.hand), str(statement.build), *work_done(work))
    shape = Shape.told(statement, outline=outline(statement.hand))
    if statement.sprung is None:
        return made._replace(shape=shape)
    if statement.sprung not in made.positions:
        raise Impossible(f"this turnout's routes are {' and '.join(made.positions)}, not {statement.sprung}")
    faced = {"points": str(statement.sprung)}
    return sprung_to(made, str(statement.sprung))._replace(shape=shape._replace(faced=faced))


@lru_cache(maxsize=256)
def _template(hand: str, build: str, bonded: bool, cut: frozenset[str]) -> Template:
    refuse_cuts(build, cut)
    one, other = ("left", "right") if hand == "wye" else ("through", "diverging")
    drawing = Drawing(one, other)
    for route in (one, other):
        drawing.rails(f"{route} stock rail", f"{route} closure rail", f"{route} frog rail")
    if build != "dead-frog":
        drawing.frog(
            "frog",
            wants={one: f"{other} stock rail", other: f"{one} stock rail"},
            rails={route: f"{route} frog rail" for route in (one, other)},
        )
    for route, opposite in ((one, other), (other, one)):
        _route(drawing, route, opposite, build, bonded, cut)
    points, through, diverging = (
        (f"{one} stock rail", f"{other} stock rail"),
        (f"{one} frog rail", f"{one} stock rail"),
        (f"{other} stock rail", f"{other} frog rail"),
    )
    ends(drawing, (one, other), points, through, diverging, mirrored=hand != "left")
    return drawing.template()


def _route(drawing: Drawing, route: str, opposite: str, build: str, bonded: bool, cut: frozenset[str]) -> None:
    """One route's closure rail, frog rail and blade. The rail it runs beside is the other route's stock rail."""
    closure, rail, beside = f"{route} closure rail", f"{route} frog rail", f"{opposite} stock rail"
    drawing.blade(closure, beside, touches=route, opens=opposite)
    if build == "dead-frog":
        drawing.tie(closure, rail)
        drawing.rolls(route, beside, closure, rail)
    else:
        drawing.rolls(route, beside, closure, "frog", rail)
    if build in ("isolated-frog", "movable-frog", "sprung-frog"):
        drawing.tie(closure, beside)
        drawing.tie(rail, beside)
    if build == "movable-frog":
        drawing.tie("frog", closure, kind="touch", when=route)
    if build == "live-frog":
        jumpers(drawing, closure, rail, cut)
    if bonded:
        drawing.tie(closure, beside, kind="bond")
