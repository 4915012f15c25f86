"""What turnouts with blades and without have in common: their ends, and the metal around a live frog."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from railbond.layout.shape import Outline
from railbond.layout.template import OTHER_SIDE, Impossible, Side
from trackplan.statements import ClosureBond, Cut, Statement

from .drawing import Drawing

Pair = tuple[str, str]

OUTLINES = {
    "left": Outline(("points",), ("through", "diverging"), (("points", "through"),)),
    "right": Outline(("points",), ("diverging", "through"), (("points", "through"),)),
    "wye": Outline(("points",), ("right", "left"), (("points", "left"),), even=True),
}
"""How a turnout of each hand is drawn."""


def outline(hand: str) -> Outline:
    """That of a hand, such as `left` or `curved left`."""
    return OUTLINES[hand.rpartition(" ")[2]]


def work_done(work: Iterable[Statement]) -> tuple[bool, frozenset[str]]:
    """Whether closure rails are bonded to stock rails, and the words of what is cut."""
    work = tuple(work)
    return any(isinstance(one, ClosureBond) for one in work), frozenset(
        str(one.what) for one in work if isinstance(one, Cut)
    )


def refuse_cuts(build: str, cut: frozenset[str]) -> None:
    """Raises `Impossible` for cuts that the frog's metal does not allow."""
    if cut and build != "live-frog":
        raise Impossible(f"only a live-frog turnout has jumpers and rails at its frog to cut; this one is {build}")
    if len(cut) > 1 and any(what.startswith("around frog") for what in cut):
        raise Impossible(
            "a frog cut around on both sides keeps its jumpers, or is cut `around frog without jumpers`: say one"
        )


def jumpers(drawing: Drawing, closure: str, rail: str, cut: frozenset[str]) -> None:
    """A live frog's ties to one closure rail and to the frog rail that goes on from it."""
    if "around frog without jumpers" in cut:
        return
    if "around frog" in cut:
        drawing.tie(closure, rail)
        return
    if "closure jumpers" not in cut:
        drawing.tie(closure, "frog")
    if "frog rails" not in cut:
        drawing.tie("frog", rail)


def ends(drawing: Drawing, routes: Pair, points: Pair, through: Pair, diverging: Pair, mirrored: bool) -> None:
    """The three ends of a left-hand turnout, each with its rails left and right looking out; or its mirror image's."""
    one, other = routes
    _end(drawing, "points", points, mirrored)
    _end(drawing, one, through, mirrored, {"frog rail": "left", "stock rail": "right"})
    _end(drawing, other, diverging, mirrored, {"frog rail": "right", "stock rail": "left"})


def _end(drawing: Drawing, name: str, rails: Pair, mirrored: bool, words: Mapping[str, Side] | None = None) -> None:
    left, right = reversed(rails) if mirrored else rails
    sides = {word: OTHER_SIDE[side] if mirrored else side for word, side in (words or {}).items()}
    drawing.end(name, left, right, leaves=bool(words), route=name if words else (), rails=sides)
