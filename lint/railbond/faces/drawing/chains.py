"""Shares the course of a strand among the plain pieces on it, and notes where each of their ends lies."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import reduce

from railbond.layout.model import EndAt, Layout

from .course import Course
from .net import Strand
from .scene import LaidEnd, LaidTrack, Scene

Half = tuple[Strand, Course]
"""A strand, or a part of one that was cut, on its course."""


def put_chain(scene: Scene, layout: Layout, rooms: Mapping[str, float], halves: Sequence[Half]) -> None:
    """Puts the plain pieces of a strand into the scene; of one that was cut, those of both its parts."""
    course = reduce(Course.joined, [one for _, one in halves])
    strand = halves[0][0]
    whole = _shared(rooms, halves)
    scene.joints[strand.start] = LaidEnd(course, 0 if whole else course.length / 2, True)
    for entered, (start, stop) in whole.items():
        ends = layout.pieces[entered.piece].template.ends
        far = next(end for end in ends if end != entered.end)
        scene.stretches[entered.piece] = LaidTrack(course, start, stop, not ends[entered.end].leaves)
        scene.joints[entered] = LaidEnd(course, start, False)
        scene.joints[EndAt(entered.piece, far)] = LaidEnd(course, stop, True)
    if strand.last != strand.start:
        scene.joints[strand.last] = LaidEnd(course, course.length if whole else course.length / 2, False)
    if not whole:
        scene.links.append((strand.start, strand.last, course))


def _shared(rooms: Mapping[str, float], halves: Sequence[Half]) -> dict[EndAt, tuple[float, float]]:
    """From where to where on the course each piece lies, by the end that is entered."""
    found: dict[EndAt, tuple[float, float]] = {}
    place = 0.0
    for strand, course in halves:
        need = [rooms[entered.piece] / (2 if entered.piece == strand.halved else 1) for entered in strand.chain]
        for entered, room in zip(strand.chain, need, strict=True):
            start, place = place, place + course.length * room / sum(need)
            found[entered] = found.get(entered, (start, start))[0], place
    return found
