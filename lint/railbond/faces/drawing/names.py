"""The names in the picture: of pieces, and of the districts whose bands lie below the track."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from railbond.circuit.facts import Facts

from .label_room import Box, LabelRoom, wide
from .markup import text
from .rails import supply_of
from .scale import GAUGE, LARGE, NAME
from .scene import LaidTrack, Scene

HALF = GAUGE / 2


def turnout_names(facts: Facts, scene: Scene, shelf: LabelRoom) -> Iterator[str]:
    """The name of each piece that is no plain track, beside where its routes part."""
    for name, cell in scene.cells.items():
        words = short(name)
        (x, y), width = cell.at, wide(words, NAME)
        box = shelf.put(
            Box(x + dx, y + dy, width, NAME)
            for far in (HALF + 13, HALF + 19)
            for dx in (0, 12, -12, 24, -24)
            for dy in (far, -far)
        )
        yield text(box.x, box.y, words, "turnout")


def plain_names(facts: Facts, scene: Scene, shelf: LabelRoom) -> Iterator[str]:
    """The name of each plain piece, beside its middle."""
    for name, stretch in scene.stretches.items():
        box = shelf.put(_beside(stretch, wide(short(name), NAME), NAME))
        yield text(box.x, box.y, short(name), "name")


def _beside(stretch: LaidTrack, width: float, height: float) -> Iterator[Box]:
    """Places for a label along plain track: above it and below it, from the middle outwards."""
    for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
        x, y = stretch.course.at(stretch.start + (stretch.stop - stretch.start) * share)
        for far in (HALF + 11, HALF + 16):
            yield Box(x, y - far, width, height)
            yield Box(x, y + far, width, height)
            yield Box(x + width / 2 + far, y, width, height)
            yield Box(x - width / 2 - far, y, width, height)


def module_names(facts: Facts, scene: Scene, shelf: LabelRoom) -> Iterator[str]:
    """The name of each module of a meet, above or below its longest track."""
    longest: dict[str, LaidTrack] = {}
    for name, stretch in scene.stretches.items():
        module = name.rpartition(".")[0]
        if module and (module not in longest or _length(stretch) > _length(longest[module])):
            longest[module] = stretch
    for module, stretch in longest.items():
        box = shelf.put(_far_beside(stretch, wide(module, LARGE)))
        yield text(box.x, box.y, module, "module")


def _length(stretch: LaidTrack) -> float:
    return stretch.stop - stretch.start


def _far_beside(stretch: LaidTrack, width: float) -> Iterator[Box]:
    for far in (HALF + 30, HALF + 40, HALF + 52):
        for share in (0.5, 0.3, 0.7):
            x, y = stretch.course.at(stretch.start + (stretch.stop - stretch.start) * share)
            yield Box(x, y - far, width, LARGE + 2)
            yield Box(x, y + far, width, LARGE + 2)


def district_names(facts: Facts, scene: Scene, tint: Mapping[str, int], shelf: LabelRoom) -> Iterator[str]:
    """The name of each supply, once for every part of the track that hangs together on it."""
    for supply, pieces in _regions(facts, scene):
        longest = max(pieces, key=lambda name: _length(scene.stretches[name]))
        kind = facts.layout.supplies[supply].kind if supply in facts.layout.supplies else "district"
        words = f"{kind} {short(supply)}"
        box = shelf.put(_beside(scene.stretches[longest], wide(words, NAME) * 1.08, NAME))
        yield text(box.x, box.y, words, f"district name{tint[supply]}")


def _regions(facts: Facts, scene: Scene) -> Iterator[tuple[str, list[str]]]:
    """The plain pieces that meet one another and have one supply."""
    beside: dict[str, list[str]] = {}
    for meeting in facts.layout.meetings:
        beside.setdefault(meeting.one.piece, []).append(meeting.other.piece)
        beside.setdefault(meeting.other.piece, []).append(meeting.one.piece)
    supply = {name: supply_of(facts, name) for name in facts.layout.pieces}
    seen: set[str] = set()
    for name in scene.stretches:
        if name not in seen and supply[name]:
            seen.add(name)
            queue = [name]
            for here in queue:
                fresh = {one for one in beside.get(here, ()) if one not in seen and supply[one] == supply[name]}
                seen |= fresh
                queue += sorted(fresh)
            yield supply[name], [one for one in queue if one in scene.stretches]


def short(name: str) -> str:
    """A name without that of its module."""
    return name.rpartition(".")[2]
