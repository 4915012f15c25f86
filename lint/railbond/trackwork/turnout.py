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
the through one and the `right` for the diverging one, so it is drawn as a right-hand turnout.
"""

from __future__ import annotations

from functools import lru_cache

from railbond.layout.template import Impossible, Side, Template
from trackplan.statements import Bond, Cut, Statement, Turnout

from .drawing import Drawing

KINDS = (Turnout,)


def template(statement: Turnout, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The turnout as built and worked on. Raises `Impossible` where the work asks for metal that is not there."""
    bonded = any(isinstance(one, Bond) for one in work)
    cut = frozenset(str(one.what) for one in work if isinstance(one, Cut))
    return _template(str(statement.hand), str(statement.build), bonded, cut)


@lru_cache(maxsize=256)
def _template(hand: str, build: str, bonded: bool, cut: frozenset[str]) -> Template:
    _refuse(build, cut)
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
    _ends(drawing, one, other, mirrored=hand != "left")
    return drawing.template()


def _refuse(build: str, cut: frozenset[str]) -> None:
    if cut and build != "live-frog":
        raise Impossible(f"only a live-frog turnout has jumpers and rails at its frog to cut; this one is {build}")
    if "around frog" in cut and len(cut) > 1:
        raise Impossible("a frog cut around on both sides keeps its jumpers; cut around it or cut jumpers, not both")


def _route(drawing: Drawing, route: str, opposite: str, build: str, bonded: bool, cut: frozenset[str]) -> None:
    """One route's closure rail, frog rail and blade. The rail it runs beside is the other route's stock rail."""
    closure, rail, beside = f"{route} closure rail", f"{route} frog rail", f"{opposite} stock rail"
    drawing.blade(closure, beside, touches=route, opens=opposite)
    if build == "dead-frog":
        drawing.tie(closure, rail)
        drawing.rolls(route, closure, rail)
    else:
        drawing.rolls(route, closure, "frog", rail)
    if build == "isolated-frog":
        drawing.tie(closure, beside)
        drawing.tie(rail, beside)
    if build == "live-frog":
        _jumpers(drawing, closure, rail, cut)
    if bonded:
        drawing.tie(closure, beside, kind="bond")


def _jumpers(drawing: Drawing, closure: str, rail: str, cut: frozenset[str]) -> None:
    if "around frog" in cut:
        drawing.tie(closure, rail)
        return
    if "closure jumpers" not in cut:
        drawing.tie(closure, "frog")
    if "frog rails" not in cut:
        drawing.tie("frog", rail)


def _ends(drawing: Drawing, one: str, other: str, mirrored: bool) -> None:
    """Ends as seen looking out of them; the mirror image swaps left and right."""

    def end(name: str, left: str, right: str, route: str = "", frog: Side = "left", stock: Side = "right") -> None:
        rails: dict[str, Side] = {"frog rail": frog, "stock rail": stock} if route else {}
        if mirrored:
            left, right = right, left
            rails = {word: "left" if side == "right" else "right" for word, side in rails.items()}
        drawing.end(name, left, right, leaves=bool(route), route=route, rails=rails)

    end("points", f"{one} stock rail", f"{other} stock rail")
    end(one, f"{one} frog rail", f"{one} stock rail", one)
    end(other, f"{other} stock rail", f"{other} frog rail", other, frog="right", stock="left")
