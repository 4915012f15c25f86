"""A gauntlet track: two tracks that lie within one another without points, as over a narrow bridge.

Track b lies to the left of track a, both looked along from their ends 1 to their ends 2, here to the right:

    b1  left --------.                                    .-------- left  b2
                      `----------------------------------'
        right ---.                                          .------ right
                  `.       == middle b right rail ==      .'
            frog 1  >                                    <  frog 2
                  .'       == middle a left rail ===      `.
    a1  left ----'                                          `------ left  a2
                      .----------------------------------.
        right -------'                                    `-------- right

The right rail of b and the left rail of a cross at frog 1 and again at frog 2, so that between them each track's rails
lie as far to the side of the other's as a wheel needs. A train stays on its track: nothing moves. The outer rails, the
left one of b and the right one of a, run through. Each of the others is one conductor all the way, led by jumpers past
the frogs that it crosses; `near`, `middle` and `far` are its stretches before, between and behind them.

In a dead-frog gauntlet both frogs are plastic. In an isolated-frog one they stand alone, and both want the same: the
polarity of a's left rail for a train on a, of b's right rail for one on b. So one feed does for both. With contacts,
`through LEG` is what they get for track a and `diverging LEG` for track b. The routes `a` and `b` are chosen by a
toggle, or, with `frog ... switched with T1 ...`, by other points that are set for one of them.

    gauntlet  G1  60 cm  number 8  isolated-frog
    frog      G1  automatic P1

The length is that from frog to frog."""

from __future__ import annotations

from functools import lru_cache

from railbond.layout.shape import Outline, Place, Shape, Size
from railbond.layout.template import Impossible, Template
from trackplan.statements import Gauntlet, Statement

from .drawing import Drawing

FORMS = {
    "gauntlet-dead-frog": "gauntlet G1  60 cm  dead-frog",
    "gauntlet-isolated-frog": "gauntlet G1  60 cm  isolated-frog",
}
PARTS = {"a": 0, "b": 1}
CROSSING = {"a": "a left", "b": "b right"}
"""The rail of each track that crosses one of the other's."""
STRETCHES = ("near", "middle", "far")
OUTLINE = Outline(("a1", "b1"), ("a2", "b2"), (("a1", "a2"), ("b1", "b2")))


def template(statement: Gauntlet, work: tuple[Statement, ...], cuts: tuple[tuple[float, str], ...]) -> Template:
    """The gauntlet as built; there are no closure rails or jumpers to work on."""
    if work:
        raise Impossible("a gauntlet track has no points: there is no closure rail to bond and no jumper to cut")
    shape = Shape.told(statement, places=_places, outline=OUTLINE)
    return _template(str(statement.build) == "isolated-frog")._replace(shape=shape)


@lru_cache(maxsize=2)
def _template(metal: bool) -> Template:
    drawing = Drawing(*(PARTS if metal else ()), parts=2, aligned=metal)
    for rail in CROSSING.values():
        drawing.rails(*(f"{part} {rail} rail" for part in STRETCHES))
        drawing.tie(*(f"{part} {rail} rail" for part in STRETCHES))
    drawing.rails("a right rail", "b left rail")
    wants = {track: f"near {rail} rail" for track, rail in CROSSING.items()}
    for number, behind in enumerate(STRETCHES[1:] if metal else (), start=1):
        drawing.frog(f"frog {number}", wants, {track: f"{behind} {rail} rail" for track, rail in CROSSING.items()})
    for track, rail in CROSSING.items():
        stretches = [f"{part} {rail} rail" for part in STRETCHES]
        frogs = [["frog 1"], ["frog 2"]] if metal else [[], []]
        route = track if metal else None
        drawing.rolls(route, stretches[0], *frogs[0], stretches[1], *frogs[1], stretches[2])
    _ends(drawing)
    return drawing.template()


def _ends(drawing: Drawing) -> None:
    """Looking out of an end 1 one looks back along the track."""
    for track, part in PARTS.items():
        route = track if drawing.positions else ()
        for number, stretch in (("1", "near"), ("2", "far")):
            crossing, outer = f"{stretch} {CROSSING[track]} rail", "a right rail" if track == "a" else "b left rail"
            left, right = (crossing, outer) if (track == "a") == (number == "2") else (outer, crossing)
            drawing.end(f"{track}{number}", left, right, leaves=number == "2", route=route, part=part)


def _places(size: Size, ends: tuple[str, str], side: str, frogs: int) -> tuple[int, list[Place]]:
    """Both frogs with their throats toward the middle, their points as far apart as the plan says."""
    length = size.length + 2 * size.heel
    first = size.heel - size.clear, size.heel + size.throat
    return length, [first, (length - first[1], length - first[0])]
