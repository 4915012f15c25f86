"""A drawing on sheets of paper: scaled to one, or tiled over several that overlap, each with its title block.

It is one sheet where no letter is then lower than `LEAST` points; the tiles of several show the drawing at full size.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from typing import NamedTuple

from .drawn import COLUMN, Drawn, PaperWindow, ground, sheet_style, told, view
from .letters import wide
from .style import SIZES
from .tiles import tiles

POINT = 25.4 / 72
"""Millimeters."""
LEAST = 7.0
"""Points: the least height of letters in print."""
FULL = 25.4 / 96
"""Millimeters for a unit of a drawing at its full size."""
LARGEST = 1.4 * FULL
EDGE, BLOCK, OVERLAP = 8.0, 11.0, 12.0
"""Millimeters: round a sheet, of its title block, and of the strip that two sheets both have."""


class Paper(NamedTuple):
    """A sheet of paper, upright, in millimeters. `turns` says that it may lie on its side."""

    width: float
    height: float
    turns: bool = True

    def turned(self) -> Paper:
        return Paper(self.height, self.width, self.turns)


PAPERS = {"a4": Paper(210, 297), "letter": Paper(215.9, 279.4), "phone": Paper(70, 140)}
"""The papers that can be asked for; ISO 216 and ANSI/ASME Y14.1, and a phone's screen."""


def column(paper: Paper) -> float:
    """How wide text below a drawing may be, so that it need not be tiled."""
    return min(_room(paper)[0] / FULL - 60, COLUMN)


class TitleBlock(NamedTuple):
    """What is said at the foot of a sheet beside the plan's title: the day, and the plan's file with its version."""

    date: str
    file: str


class Sheets(NamedTuple):
    """On which paper, at how many millimeters a unit, and the frame of each sheet, row by row."""

    paper: Paper
    scale: float
    frames: list[PaperWindow]


def laid_out(drawing: Drawn, paper: Paper) -> Sheets:
    """How a drawing lies on paper: on one sheet where its letters stay large enough, else on as few as can be."""
    ways = [paper, paper.turned()] if paper.turns else [paper]
    whole = max((_whole(drawing.frame, one) for one in ways), key=lambda one: one.scale)
    if whole.scale * min(SIZES.values()) >= LEAST * POINT:
        return whole
    return min((_tiled(drawing, one) for one in ways), key=lambda one: len(one.frames))


def _room(paper: Paper) -> tuple[float, float]:
    return paper.width - 2 * EDGE, paper.height - 2 * EDGE - BLOCK


def _whole(frame: PaperWindow, paper: Paper) -> Sheets:
    width, height = _room(paper)
    scale = min(width / frame.width, height / frame.height, LARGEST)
    return Sheets(paper, scale, [frame])


def _tiled(drawing: Drawn, paper: Paper) -> Sheets:
    width, height = (one / FULL for one in _room(paper))
    return Sheets(paper, FULL, tiles(drawing.frame, (width, height), OVERLAP / FULL, drawing.taken()))


def sheets(drawing: Drawn, block: TitleBlock, paper: Paper, shared: str = "", styled: bool = True) -> list[str]:
    """Each sheet as one SVG file. With `shared`, the name of an element of the page that they stand in, they show that
    element as it is at the time."""
    found = laid_out(drawing, paper)
    count = len(found.frames)
    return [
        _sheet(
            drawing, found, frame, (number, count), _block(drawing, block, found.paper, number, count), shared, styled
        )
        for number, frame in enumerate(found.frames, 1)
    ]


def printed_sheets(drawing: Drawn, block: TitleBlock, paper: Paper, shared: str) -> str:
    """The sheets of a page that is shown on a screen: they are there in print only, and show the element `shared`."""
    lies = "lies" if laid_out(drawing, paper).paper != paper else "stands"
    found = (f'<div class="{lies}">{one}</div>' for one in sheets(drawing, block, paper, shared, styled=False))
    return f'<div class="sheets" aria-hidden="true">{"".join(found)}</div>'


def print_style(paper: Paper) -> str:
    """The style of such a page: each sheet is a page of paper for itself."""
    return (
        f"@page lies{{size:{paper.height:g}mm {paper.width:g}mm;margin:0}}"
        f"@page stands{{size:{paper.width:g}mm {paper.height:g}mm;margin:0}}"
        ".sheets{display:none}@media print{.sheets{display:block}.sheets>div{break-before:page;break-after:page}"
        ".sheets>.lies{page:lies}.sheets>.stands{page:stands}.sheets svg.sheet{display:block}}"
    )


def _sheet(
    drawing: Drawn, found: Sheets, frame: PaperWindow, place: tuple[int, int], block: str, shared: str, styled: bool
) -> str:
    """A sheet in millimeters, with its part of the drawing in a window of its own."""
    paper, scale = found.paper, found.scale
    width, height = frame.width * scale, frame.height * scale
    left = EDGE + (paper.width - 2 * EDGE - width) / 2
    body = f'<use href="#{shared}"/>' if shared else f"{ground(drawing.frame)}{drawing.body}"
    more = f", sheet {place[0]} of {place[1]}" if place[1] > 1 else ""
    return (
        f'<svg class="rb sheet" xmlns="http://www.w3.org/2000/svg" role="img" width="{paper.width:g}mm"'
        f' height="{paper.height:g}mm" viewBox="0 0 {paper.width:g} {paper.height:g}">'
        f"{told(drawing, more)}{sheet_style(styled)}"
        f'<rect class="ground" width="{paper.width:g}" height="{paper.height:g}"/>'
        f'<svg x="{left:.2f}" y="{EDGE:g}" width="{width:.2f}" height="{height:.2f}"'
        f' viewBox="{view(frame)}">{body}</svg>'
        f"{''.join(_joins(found, frame))}{block}</svg>\n"
    )


def _joins(found: Sheets, frame: PaperWindow) -> Iterator[str]:
    """Where the next sheets begin that overlap this one: a fine broken line."""
    paper, scale = found.paper, found.scale
    left = EDGE + (paper.width - 2 * EDGE - frame.width * scale) / 2
    for other in found.frames:
        x, y = left + (other.west - frame.west) * scale, EDGE + (other.top - frame.top) * scale
        if other.top == frame.top and frame.west < other.west < frame.west + frame.width:
            yield _mark(f"M{x:.2f} {EDGE:g}v{frame.height * scale:.2f}")
        if other.west == frame.west and frame.top < other.top < frame.top + frame.height:
            yield _mark(f"M{left:.2f} {y:.2f}h{frame.width * scale:.2f}")


def _mark(path: str) -> str:
    return f'<path class="sheet-edge" d="{path}"/>'


def _block(drawing: Drawn, block: TitleBlock, paper: Paper, number: int, count: int) -> str:
    """The title block: the plan, its file and version, the day, and which sheet of how many this is."""
    top, width = paper.height - EDGE - BLOCK + 2, paper.width - 2 * EDGE
    sheet = f"sheet {number} of {count}"
    size = 3.0 if paper.width > 100 else 2.5
    right = wide(sheet, size) + 3
    title = _cut(drawing.title, size * 1.15 * 1.1, width - right - 4)
    return (
        f'<path class="sheet-rule" d="M{EDGE:g} {top:g}h{width:g}"/>'
        + _line(EDGE, top + 4, size * 1.15, title, "sheet-title")
        + _line(paper.width - EDGE, top + 4, size, sheet, "sheet-words", "end")
        + _line(EDGE, top + 8, size, _cut(f"{block.date}   {block.file}", size, width), "sheet-words")
    )


def _line(x: float, y: float, size: float, words: str, kind: str, anchor: str = "start") -> str:
    return (
        f'<text class="{kind}" x="{x:g}" y="{y:g}" font-size="{size:g}" text-anchor="{anchor}"'
        f' xml:space="preserve">{escape(words)}</text>'
    )


def _cut(words: str, size: float, room: float) -> str:
    """As much of the words as there is room for."""
    if wide(words, size) <= room:
        return words
    while words and wide(f"{words}…", size) > room:
        words = words[:-1]
    return f"{words}…"
