"""Plain track, turnouts and stubs as they are bought or laid by hand, from the trade's own knowledge (common practice).

Seen from the points. The stock rails are the two outer rails. A closure rail with its blade lies inside the stock
rail of the other route and leads to the frog; beyond the frog its route goes on as a frog rail.
"""

from __future__ import annotations

from .bench import Thing

Pair = tuple[str, str]


def segment(meters: float) -> Thing:
    """Two rails. Looking out of its start one looks back."""
    made = Thing(("left rail", "right rail"), length=meters)
    made.ends = {"start": ("right rail", "left rail"), "finish": ("left rail", "right rail")}
    return made


def turnout(hand: str, build: str, sprung: str = "", jumpered: bool = False) -> Thing:
    """`jumpered`: under a live frog a wire leads from each closure rail to its own frog rail, as under many."""
    main, side = ("left", "right") if hand == "wye" else ("through", "diverging")
    metals = [f"{route} {rail}" for route in (main, side) for rail in ("stock rail", "closure rail", "frog rail")]
    plastic = build == "dead-frog"
    made = Thing((*metals, *(() if plastic else ("frog",))), frogs=() if plastic else ("frog",))
    made.positions = (sprung,) if sprung else (main, side)
    for route, other in ((main, side), (side, main)):
        closure, rail, stock = f"{route} closure rail", f"{route} frog rail", f"{other} stock rail"
        made.touch(closure, stock, route)
        _frog(made, closure, rail, stock, route, build, jumpered)
    made.ends = _ends(main, side, f"{main} stock rail", f"{side} stock rail", hand == "left")
    return made


def _frog(made: Thing, closure: str, rail: str, stock: str, route: str, build: str, jumpered: bool) -> None:
    if build == "dead-frog":
        made.one_metal(closure, rail)
    elif build == "live-frog":
        made.one_metal(closure, "frog", rail)
        if jumpered:
            made.one_metal(closure, rail)
    else:
        made.one_metal(closure, stock, rail)
    if build == "movable-frog":
        made.touch("frog", closure, route)


def _ends(main: str, side: str, straight: str, curved: str, left_hand: bool) -> dict[str, Pair]:
    """Looking out of each end. The diverging track of a left-hand turnout lies left of the through one, seen from
    the points; a right-hand one is its mirror image."""
    seen = {
        "points": (straight, curved),
        main: (f"{main} frog rail", straight),
        side: (curved, f"{side} frog rail"),
    }
    return seen if left_hand else {end: (right, left) for end, (left, right) in seen.items()}


def stub(hand: str, build: str, jumpered: bool = False) -> Thing:
    """Two rails are moved from lead to lead. The diverging lead's outer rail is on the side of the hand."""
    near, far = ("left", "right") if hand == "left" else ("right", "left")
    leads = [f"{route} {rail}" for route in ("through", "diverging") for rail in ("outer lead", "inner lead")]
    rails = ["through frog rail", "diverging frog rail"]
    frogs = () if build == "dead-frog" else ("frog",)
    made = Thing((f"{near} moving rail", f"{far} moving rail", *leads, *rails, *frogs), frogs=frogs)
    made.positions = ("through", "diverging")
    for moving, route, other in ((near, "through", "diverging"), (far, "diverging", "through")):
        made.touch(f"{moving} moving rail", f"{route} inner lead", route)
        made.touch(f"{moving} moving rail", f"{other} outer lead", other)
        inner, rail = f"{route} inner lead", f"{route} frog rail"
        _frog(made, inner, rail, f"{other} outer lead", route, build, jumpered)
    made.ends = _ends("through", "diverging", "through outer lead", "diverging outer lead", hand == "left")
    made.ends["points"] = ("right moving rail", "left moving rail")
    return made
