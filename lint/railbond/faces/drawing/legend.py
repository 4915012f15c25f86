"""What is written around the picture: its title, what its lines and marks mean, and its findings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.faces.places import line_at
from railbond.findings import Finding
from trackplan.statements import Couple

from .flags import flag
from .ink import INKS
from .letters import wide, wrapped
from .marks import fold_mark, lamp_mark, parapet
from .markup import line, pill, text
from .rails import CORED
from .scale import SMALL
from .scene import Scene
from .shapes import Box

ROW = 24.0
KEY = 44.0
"""How long a sample of a rail is."""


def ink_words(facts: Facts) -> dict[str, str]:
    """What each ink says, with the legs called as the plan calls them."""
    legs = {supply.legs for supply in facts.layout.supplies.values()}
    if len(legs) != 1:
        return dict(INKS)
    one, two = next(iter(legs))
    return INKS | {
        "one": f"{one} leg", "two": f"{two} leg",
        "turns-one": f"a reverser's {one} leg", "turns-two": f"a reverser's {two} leg",
    }  # fmt: skip


def legend(facts: Facts, used: set[str], marks: Sequence[str], width: float, top: float) -> tuple[list[str], float]:
    """Samples of the inks and marks that the picture uses, row by row; and where they end."""
    words = ink_words(facts)
    keys = [(ink, words[ink]) for ink in INKS if ink in used]
    keys += [(mark, MARKS[mark]) for mark in MARKS if mark in marks]
    out, x, y = [], 0.0, top
    for key, said in keys:
        room = KEY + 10 + wide(said, SMALL) + 26
        if x and x + room > width:
            x, y = 0.0, y + ROW
        out += [*_sample(key, x, y), text(x + KEY + 10, y, said, "said", "start")]
        x += room
    return out, y + ROW


MARKS = {
    "cut": "a rail is cut",
    "plastic": "plastic frog",
    "supply": "wires to the rails, and where they come from",
    "frog-feed": "how a frog is fed",
    "buffer": "end of track",
    "loose": "an end that nothing is joined to",
    "plate": "a module's edge",
    "fold": "track goes on at the same letter",
    "coupling": "two modules are coupled",
    "lamp": "a lamp at a buffer stop",
    "ring": "where a turntable's ring is split",
    "bridge": "one track passes over the other",
}


TALL = 1000.0
"""A list of findings that is higher than this is told in columns."""
COLUMNS_APART = 40.0


def used_marks(facts: Facts, scene: Scene) -> list[str]:
    """The marks that the picture of a scene uses."""
    layout, kinds = facts.layout, {one.kind for one in scene.terminals}
    cells = [layout.pieces[name].template for name in scene.cells]
    has = {
        "cut": any(m.gaps for m in layout.meetings) or any(p.template.links for p in layout.pieces.values()),
        "plastic": any(not one.frogs and not one.bridge for one in cells),
        "supply": bool(layout.drops), "frog-feed": any(one.frogs for one in cells),
        "buffer": "stop" in kinds, "loose": "loose" in kinds, "plate": "edge" in kinds, "fold": "fold" in kinds,
        "bridge": bool(scene.bridges),
        "lamp": bool(layout.lamps), "ring": any(one.statement.split is not None for one in layout.drops),
        "coupling": any(isinstance(one, Couple) for one in facts.statements),
    }  # fmt: skip
    return [mark for mark, there in has.items() if there]


def mark_samples() -> Iterator[tuple[str, str, str]]:
    """Every mark, a picture of it as SVG, and what it says, for a legend beside the picture."""
    for mark, said in MARKS.items():
        shapes = "".join(_sample(mark, 0, 11))
        yield mark, f'<svg class="rb" viewBox="-2 -2 48 26" width="48" height="26">{shapes}</svg>', said


def _sample(key: str, x: float, y: float) -> Iterator[str]:
    if key in INKS:
        yield line((x, y), (x + KEY, y), f"rail {key}")
        if key in CORED:
            yield line((x, y), (x + KEY, y), f"core rail-core {key}")
    elif key == "cut":
        yield line((x, y), (x + KEY / 2 - 3.5, y), "rail dead-end")
        yield line((x, y), (x + KEY / 2 - 3.5, y), "joint")
        yield line((x + KEY / 2 + 3.5, y), (x + KEY, y), "joint")
        for step in (-3.5, 3.5):
            yield line((x + KEY / 2 + step, y - 5), (x + KEY / 2 + step, y + 5), "cut")
    elif key == "plastic":
        yield line((x + 12, y), (x + KEY - 12, y), "plastic")
    elif key in ("buffer", "loose"):
        yield line((x + KEY / 2, y - 9), (x + KEY / 2, y + 9), key)
    elif key == "fold":
        yield fold_mark(x + KEY / 2 - 14, y, 1, "A")
    elif key == "coupling":
        yield line((x + KEY / 2, y - 11), (x + KEY / 2, y + 11), "coupling")
    elif key == "lamp":
        yield lamp_mark(x + KEY / 2, y)
    elif key == "ring":
        yield f'<circle class="ring" cx="{x + KEY / 2:.1f}" cy="{y:.1f}" r="6"/>'
        yield from (line((x + KEY / 2 + side * 4, y), (x + KEY / 2 + side * 9, y), "split") for side in (-1, 1))
    elif key == "bridge":
        yield from (parapet(x + KEY / 2, y + side * 6, side) for side in (-1, 1))
    else:
        yield pill(Box(x + KEY / 2, y, KEY, 17), {"supply": "P1", "frog-feed": "auto", "plate": "W"}[key], key)


def listed(
    facts: Facts, findings: Sequence[Finding], first: int, width: float, top: float, room: float = 0.0
) -> tuple[list[str], float, float]:
    """The findings by number, each with its place in the plan; how wide they are, and where they end. A long list
    stands in columns of one `width` side by side, as many as there is `room` for."""
    told = [_told(facts, finding, number, width) for number, finding in enumerate(findings, first)]
    whole = sum(one.height for one in told)
    columns = max(min(int((room + COLUMNS_APART) // (width + COLUMNS_APART)), ceil(whole / TALL)), 1)
    out: list[str] = []
    column, x, y, low = 1, 0.0, top, top
    for one in told:
        if column < columns and y + one.height / 2 > top + whole / columns:
            column, x, y = column + 1, x + width + COLUMNS_APART, top
        out.append(flag(x + 12, y + 4, one.number, one.level))
        for index, (words, kind) in enumerate(one.lines):
            out.append(text(x + 36, y + index * 17, words, kind, "start"))
        y += one.height
        low = max(low, y)
    return out, x + width, low


class ListedFinding(NamedTuple):
    """A finding's number and level, its lines with what they are, and how high it stands in the list."""

    number: int
    level: str
    lines: list[tuple[str, str]]
    height: float


def _told(facts: Facts, finding: Finding, number: int, width: float) -> ListedFinding:
    happens = "" if finding.happens == "on paper" else f"{finding.happens}: "
    head = wrapped(f"{finding.level}: {happens}{finding.message}", SMALL, width - 40)
    when = [f"when {finding.setting}"] if finding.setting else []
    where = wrapped("; ".join([*when, line_at(finding.at, facts.sources)]), SMALL, width - 40)
    lines = [*((one, "said") for one in head), *((one, "where") for one in where)]
    return ListedFinding(number, finding.level, lines, max(len(lines) * 17 + 12.0, 34.0))
