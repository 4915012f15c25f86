"""Three-ways, crossings, slips and tables as they are bought or laid by hand (common practice)."""

from __future__ import annotations

from .bench import Thing

LEFT, RIGHT = "left", "right"


def three_way(shape: str, build: str) -> Thing:
    """Looking from the points. The inner rail of the left route is a right-hand rail, and the other way round."""
    made = Thing(tuple(_three_way_metals()), positions=("left", "through", "right"))
    made.machines = (("left",), ("through", "right")), (("right",), ("through", "left"))
    for side, other in ((LEFT, RIGHT), (RIGHT, LEFT)):
        inner = [f"{side} {rail} rail" for rail in ("closure", "middle", "frog")]
        straight = [f"through {side} closure rail", f"through {side} frog rail"]
        if build == "dead-frog":
            made.one_metal(*inner)
            made.one_metal(*straight)
        else:
            for rail in inner:
                made.one_metal(rail, f"{other} stock rail")
            for rail in straight:
                made.one_metal(rail, f"{side} stock rail")
        made.touch(f"through {side} closure rail", f"{side} stock rail", "through", other)
        first = shape == f"staggered {side}"
        made.touch(inner[0], f"{other} stock rail" if first else f"through {other} closure rail", side)
    if build != "dead-frog":
        made.frogs = ("frog C0", "frog C1", "frog C2")
        made.metals += made.frogs
    made.ends = {
        "points": ("right stock rail", "left stock rail"),
        "left": ("left stock rail", "left frog rail"),
        "through": ("through left frog rail", "through right frog rail"),
        "right": ("right frog rail", "right stock rail"),
    }
    return made


def _three_way_metals() -> list[str]:
    rails = [f"{side} {rail} rail" for side in (LEFT, RIGHT) for rail in ("stock", "closure", "middle", "frog")]
    return rails + [f"through {side} {rail} rail" for side in (LEFT, RIGHT) for rail in ("closure", "frog")]


def crossing(build: str) -> Thing:
    """Track b crosses a from a's left to its right. Jumpers lead each rail past the rails that it crosses."""
    plastic = build == "dead-frog"
    made = Thing((), positions=() if plastic else ("a", "b"), frogs=() if plastic else ("frog 1", "frog 2"))
    for track in "ab":
        for side in (LEFT, RIGHT):
            parts = ("near", "middle", "far") if plastic or track == "b" else ("near", "far")
            rails = [f"{part} {track} {side} rail" for part in parts]
            made.metals += tuple(rails)
            made.one_metal(*rails)
        made.ends[f"{track}1"] = f"near {track} right rail", f"near {track} left rail"
        made.ends[f"{track}2"] = f"far {track} left rail", f"far {track} right rail"
    made.metals += made.frogs
    return made


def gauntlet(build: str) -> Thing:
    """Two tracks within one another: the left rail of a and the right rail of b cross twice, the others run through."""
    plastic = build == "dead-frog"
    made = Thing((), positions=() if plastic else ("a", "b"), frogs=() if plastic else ("frog 1", "frog 2"))
    for track, inner in (("a", "left"), ("b", "right")):
        rails = [f"{part} {track} {inner} rail" for part in ("near", "middle", "far")]
        outer = f"{track} {'right' if inner == 'left' else 'left'} rail"
        made.metals += (*rails, outer)
        made.one_metal(*rails)
        near, far = {inner: rails[0]}, {inner: rails[2]}
        made.ends[f"{track}1"] = near.get("right", outer), near.get("left", outer)
        made.ends[f"{track}2"] = far.get("left", outer), far.get("right", outer)
    made.metals += made.frogs
    return made


def slip(kind: str, build: str) -> Thing:
    """Stock rails of one side are one conductor. Points at ends 1 choose the exit, those at ends 2 the entry."""
    double = kind == "double"
    made = Thing((), positions=("a", "b", "a-b", "b-a") if double else ("a", "b", "a-b"))
    at_b1, at_a2 = ("left outer rail",) * 2 if double else ("b1 left rail", "a2 left rail")
    left = tuple(
        dict.fromkeys((at_b1, at_a2, "a1 left rail", "a left middle rail", "b left middle rail", "b2 left rail"))
    )
    right = "right outer rail", "b1 right rail", "b right middle rail", "a right middle rail", "a2 right rail"
    made.one_metal(*left)
    made.one_metal(*right)
    made.machines = (
        (("a", "b-a") if double else ("a",), ("b", "a-b")),
        (("a", "a-b"), ("b", "b-a") if double else ("b",)),
    )
    movable = {"a-b left slip rail": LEFT, "a right closure rail": RIGHT, "b right closure rail": RIGHT}
    if double:
        movable |= {"a left closure rail": LEFT, "b left closure rail": LEFT, "b-a right slip rail": RIGHT}
    for rail, side in movable.items() if build != "dead-frog" else ():
        made.one_metal(rail, "right outer rail" if side == RIGHT else at_b1)
    _slip_blades(made, double)
    made.frogs = () if build == "dead-frog" else ("frog 1", "frog 2")
    made.metals = (*left, *right, *movable, *made.frogs)
    made.ends = {
        "a1": ("right outer rail", "a1 left rail"),
        "b1": ("b1 right rail", at_b1),
        "a2": (at_a2, "a2 right rail"),
        "b2": ("b2 left rail", "right outer rail"),
    }
    return made


def _slip_blades(made: Thing, double: bool) -> None:
    to_a2, to_b2, from_a1, from_b1 = ("a", "b-a"), ("b", "a-b"), ("a", "a-b"), ("b", "b-a")
    made.touch("a right closure rail", "right outer rail", *to_a2)
    made.touch("a-b left slip rail", "a left middle rail", *to_b2)
    made.touch("b right closure rail", "right outer rail", *from_b1)
    made.touch("a-b left slip rail", "b left middle rail", *from_a1)
    if double:
        made.touch("b left closure rail", "left outer rail", *to_b2)
        made.touch("b-a right slip rail", "b right middle rail", *to_a2)
        made.touch("a left closure rail", "left outer rail", *from_a1)
        made.touch("b-a right slip rail", "a right middle rail", *from_b1)


def table() -> Thing:
    """A bridge that nothing but wheels join to the tracks round its pit; each track is added as it is laid."""
    return Thing(("bridge left rail", "bridge right rail"))


def add_track(made: Thing, track: str) -> None:
    left, right = f"{track} left rail", f"{track} right rail"
    made.metals += (left, right)
    made.ends[track] = left, right
