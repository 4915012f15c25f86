"""What bars a label: the room round a box, and round a line, which may be slanted."""

from __future__ import annotations

from .course import Point

AIR = 1.5
"""Between a label and anything else."""

Slant = tuple[float, float, float, float, float, float]
"""What tells how far a point lies from the middle line of something slanted (two factors and a shift, and the factors
without their signs), and how far its rim does."""
Obstacle = tuple[float, float, float, float, Slant | None]
"""The rectangle round what lies on the paper, with the air that a label keeps from it: its west, east, top and low
edges; and its slant, where it fills that only in part. Plain tuples: there are hundreds for each piece, and each is
asked for thousands of times."""


def round_box(x: float, y: float, width: float, height: float) -> Obstacle:
    """Where the edge of a label may not lie, by the middle of a box and its size."""
    half, high = width / 2 + 2 * AIR, height / 2 + 2 * AIR
    return x - half, x + half, y - high, y + high, None


def round_line(one: Point, other: Point, half: float) -> Obstacle:
    """The same for a line from one point to another, of half a width: where both the edges of the rectangle round it
    and its own middle line part it from a label, it is clear of that (the separating axes of two convex shapes)."""
    (x, y), (u, v) = one, other
    west, east = (x, u) if x < u else (u, x)
    top, low = (y, v) if y < v else (v, y)
    wide, tall, more = east - west, low - top, half + AIR + 1e-9
    slant = None
    if wide > 1e-9 and tall > 1e-9:
        slant = v - y, x - u, (v - y) * x + (x - u) * y, tall, wide, more * (tall + wide)
    return west - more, east + more, top - more, low + more, slant


def round_rails(left: tuple[Point, Point], right: tuple[Point, Point], half: float) -> Obstacle:
    """The same for two rails side by side, each from one point to another and of half a width, and all between them."""
    (x, y), (u, v) = left
    (w, z), (q, r) = right
    west, east, top, low = min(x, u, w, q), max(x, u, w, q), min(y, v, z, r), max(y, v, z, r)
    a, b, more = v - y, x - u, half + AIR + 1e-9
    over, across = abs(a), abs(b)
    slant = None
    if over > 1e-9 and across > 1e-9:
        here, there = a * x + b * y, a * w + b * z
        slant = a, b, (here + there) / 2, over, across, abs(here - there) / 2 + more * (over + across)
    return west - more, east + more, top - more, low + more, slant
