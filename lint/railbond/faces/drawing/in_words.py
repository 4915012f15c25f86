"""The picture in words, as a screen reader tells it: piece by piece from west to east, then what was found."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence

from railbond.circuit.facts import Facts
from railbond.faces.places import counted
from railbond.findings import Finding
from railbond.layout.model import EndAt

from .legend import ink_words
from .scene import Scene
from .wires import fed_metals, frog_words


def in_words(facts: Facts, scene: Scene, ink: Sequence[str], findings: Sequence[Finding]) -> list[str]:
    """One sentence for each piece, in the order in which the picture has them, and for each finding its number."""
    words = ink_words(facts)
    beyond = _beyond(facts)
    fed: dict[str, list[str]] = {}
    for drop in facts.layout.drops:
        fed.setdefault(drop.piece, []).append(drop.wire.name)
    lines = [_counts(facts, findings)]
    for name in _westmost_first(scene):
        lines.append(
            f"{name}: {'; '.join(_of(facts, name, beyond, fed, [words[one] for one in _inks(facts, name, ink)]))}."
        )
    lines += [f"{number}, {one.level}: {one.message}" for number, one in enumerate(findings, 1)]
    return lines


def _counts(facts: Facts, findings: Sequence[Finding]) -> str:
    plain = sum(one.template.is_plain for one in facts.layout.pieces.values())
    special = len(facts.layout.pieces) - plain
    found = counted(len(findings), "finding") if findings else "nothing found"
    looking = "Left and right of a track are as one looks from its start to its finish"
    return f"{counted(plain, 'length')} of track, {counted(special, 'piece')} of special trackwork, {found}. {looking}."


def _westmost_first(scene: Scene) -> list[str]:
    """The pieces row by row, each row from west to east."""
    west = {name: one.course.at((one.start + one.stop) / 2) for name, one in scene.stretches.items()}
    west |= {name: cell.at for name, cell in scene.cells.items()}
    return sorted(west, key=lambda name: (bisect_right(scene.rows, west[name][1] + 1), west[name], name))


def _beyond(facts: Facts) -> dict[EndAt, str]:
    """What lies behind each end."""
    found = {end: "the end of track" for end in facts.layout.stops}
    found |= {edge.end: f"the edge {name}" for name, edge in facts.layout.edges.items() if edge.end}
    for meeting in facts.layout.meetings:
        cut = f" over a cut in {'both rails' if len(meeting.gaps) > 1 else 'one rail'}" if meeting.gaps else ""
        found[meeting.one], found[meeting.other] = f"{meeting.other}{cut}", f"{meeting.one}{cut}"
    return found


def _of(
    facts: Facts, name: str, beyond: dict[EndAt, str], fed: dict[str, list[str]], carried: Sequence[str]
) -> Iterator[str]:
    template = facts.layout.pieces[name].template
    ends = (f"{end} to {beyond.get(EndAt(name, end), 'nothing')}" for end in template.ends)
    yield ", ".join(ends)
    if template.is_plain and len(carried) == 2:
        yield f"left rail {carried[0]}, right rail {carried[1]}"
    feeds = fed_metals(facts.layout, name)
    frogs = dict.fromkeys(frog_words(feeds.get(frog.metal), True) for frog in template.frogs)
    if frogs:
        yield f"frog: {', '.join(frogs)}"
    if name in fed:
        yield f"wires from {', '.join(dict.fromkeys(fed[name]))}"


def _inks(facts: Facts, name: str, ink: Sequence[str]) -> list[str]:
    return [ink[facts.wiring.metal(name, metal)] for metal in range(len(facts.layout.pieces[name].template.metals))]
