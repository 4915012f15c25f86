"""Bits of SVG."""

from __future__ import annotations

from html import escape
from math import cos, sin

from .course import Course, Point
from .shapes import Box
from .style import MIDDLE, SIZES


def text(x: float, y: float, words: str, kind: str, anchor: str = "middle") -> str:
    """A line of text whose middle lies at `y`."""
    y += MIDDLE * SIZES.get(kind.partition(" ")[0], 12.0)
    return f'<text class="{kind}" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(words)}</text>'


def pill(box: Box, words: str, kind: str) -> str:
    """Words in a box with round ends."""
    corner = (
        f'<rect class="{kind}" x="{box.x - box.width / 2:.1f}" y="{box.y - box.height / 2:.1f}"'
        f' width="{box.width:.1f}" height="{box.height:.1f}" rx="{box.height / 2:.1f}"/>'
    )
    return corner + text(box.x, box.y, words, f"{kind}-words")


def line(one: Point, other: Point, kind: str) -> str:
    return f'<path class="{kind}" d="M{one[0]:.1f} {one[1]:.1f}L{other[0]:.1f} {other[1]:.1f}"/>'


def dot(at: Point, radius: float, kind: str) -> str:
    return f'<circle class="{kind}" cx="{at[0]:.1f}" cy="{at[1]:.1f}" r="{radius:g}"/>'


def bar(course: Course, along: float, aside: float, half: float, kind: str) -> str:
    """A short stroke across a course, so far to its left."""
    return line(course.at(along, aside - half), course.at(along, aside + half), kind)


def beyond(at: Point, heading: float, along: float, left: float) -> Point:
    """A point so far ahead, and so far to the left, of one that looks along a heading."""
    return (
        at[0] + cos(heading) * along + sin(heading) * left,
        at[1] + sin(heading) * along - cos(heading) * left,
    )
