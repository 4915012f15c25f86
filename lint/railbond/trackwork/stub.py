"""A stub turnout, left-hand or right-hand: no blades, but two rails that move to the leads of the route that is set.

A left-hand one, looking from the points to the frog, its moving rails set through:

    points                                                              diverging
                            ==== diverging outer lead ----------------- left
    === left moving rail ======= through inner lead --\\    /-- diverging frog rail -- right
                                                        frog
                            ==== diverging inner lead -/    \\-- through frog rail ---- left
    === right moving rail ====== through outer lead ------------------- right
    points                                                              through

Set through, the left moving rail butts against the through inner lead and the right one against the through outer
lead; set diverging, the left one butts against the diverging outer lead and the right one against the diverging
inner lead. The inner leads cross at the frog; the outer leads run through, and are what `stock rail` means at their
ends. A right-hand turnout is the mirror image.

In a dead-frog stub each inner lead is one metal with its frog rail. A live frog is one metal with both inner leads
and both frog rails; what is said of a turnout's closure rails goes for the inner leads. An isolated frog stands
alone, and each inner lead and frog rail is tied to the outer lead of its side. `bond ... closure rails to stock
rails` is here a flexible jumper from each moving rail to the outer lead of its side."""

from __future__ import annotations

from functools import lru_cache

from railbond.layout.shape import Shape
from railbond.layout.template import Template
from trackplan.statements import Statement, Stub

from .branching import ends, jumpers, outline, refuse_cuts, work_done
from .drawing import Drawing

FORMS = {
    "stub-dead-frog": "stub S1  left  dead-frog",
    "stub-live-frog": "stub S1  left  live-frog",
    "stub-isolated-frog": "stub S1  left  isolated-frog",
}

ROUTES = ("through", "diverging")


def template(statement: Stub, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The stub turnout as built and worked on. Raises `Impossible` where there is no such metal."""
    made = _template(str(statement.hand), str(statement.build), *work_done(work))
    return made._replace(shape=Shape.told(statement, outline=outline(statement.hand)))


@lru_cache(maxsize=64)
def _template(hand: str, build: str, bonded: bool, cut: frozenset[str]) -> Template:
    refuse_cuts(build, cut)
    near, far = ("left", "right") if hand == "left" else ("right", "left")
    drawing = Drawing(*ROUTES)
    drawing.rails(f"{near} moving rail", f"{far} moving rail")
    for route in ROUTES:
        drawing.rails(f"{route} outer lead", f"{route} inner lead", f"{route} frog rail")
    if build != "dead-frog":
        drawing.frog(
            "frog",
            wants={"through": f"{near} moving rail", "diverging": f"{far} moving rail"},
            rails={route: f"{route} frog rail" for route in ROUTES},
        )
    _side(drawing, f"{near} moving rail", "through", "diverging", build, bonded, cut)
    _side(drawing, f"{far} moving rail", "diverging", "through", build, bonded, cut)
    ends(
        drawing,
        ROUTES,
        points=(f"{far} moving rail", f"{near} moving rail"),
        through=("through frog rail", "through outer lead"),
        diverging=("diverging outer lead", "diverging frog rail"),
        mirrored=hand == "right",
    )
    return drawing.template()


def _side(
    drawing: Drawing, moving: str, inwards: str, outwards: str, build: str, bonded: bool, cut: frozenset[str]
) -> None:
    """A moving rail, the inner lead that it meets in one position and the outer lead that it meets in the other."""
    inner, rail, outer = f"{inwards} inner lead", f"{inwards} frog rail", f"{outwards} outer lead"
    drawing.tie(moving, inner, kind="touch", when=inwards)
    drawing.tie(moving, outer, kind="touch", when=outwards)
    drawing.rolls(outwards, moving, outer)
    drawing.rolls(inwards, moving, inner, *(() if build == "dead-frog" else ("frog",)), rail)
    if build == "dead-frog":
        drawing.tie(inner, rail)
    elif build == "live-frog":
        jumpers(drawing, inner, rail, cut)
    else:
        drawing.tie(inner, outer)
        drawing.tie(rail, outer)
    if bonded:
        drawing.tie(moving, outer, kind="bond")
