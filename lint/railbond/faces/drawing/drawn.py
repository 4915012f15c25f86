"""A drawing that is done, as one SVG file without script and without anything from outside."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from html import escape
from typing import NamedTuple

from .shapes import Box
from .style import style

COLUMN = 680.0
"""How wide text above and below a drawing is at most."""


class PaperWindow(NamedTuple):
    """A rectangle of the drawing's plane: its west and top edges, its width and its height."""

    west: float
    top: float
    width: float
    height: float


class Drawn(NamedTuple):
    """Bits of SVG one above the other, the frame round them, and where something lies. `words` tell it to those who do
    not see it."""

    marks: Sequence[str]
    frame: PaperWindow
    title: str
    words: Sequence[str]
    taken: Callable[[], Sequence[Box]]

    @property
    def body(self) -> str:
        """All its marks."""
        return "\n".join(self.marks)


def whole(drawing: Drawn, styled: bool = True, name: str = "", size: float = 1.0) -> str:
    """The drawing in one piece, so many times its full size; under its `name` all its marks can be shown once more."""
    body = named(drawing, name) if name else drawing.body
    return f"{opened(drawing, styled, size)}{body}</svg>\n"


def opened(drawing: Drawn, styled: bool = True, size: float = 1.0) -> str:
    """Its SVG up to the first mark."""
    width, height = (size * one for one in drawing.frame[2:])
    return (
        f'<svg class="rb" xmlns="http://www.w3.org/2000/svg" role="img" viewBox="{view(drawing.frame)}"'
        f' width="{width:.0f}" height="{height:.0f}">{told(drawing)}{sheet_style(styled)}{ground(drawing.frame)}'
    )


def named(drawing: Drawn, name: str) -> str:
    """The drawing as one element that `<use>` can show."""
    return f'<g id="{name}" class="rb">{drawing.body}</g>'


def told(drawing: Drawn, more: str = "") -> str:
    """Its title and all its words, which screen readers tell."""
    return f"<title>{escape(drawing.title + more)}</title><desc>{escape(chr(10).join(drawing.words))}</desc>"


def sheet_style(styled: bool) -> str:
    return f"<style>{style()}</style>" if styled else ""


def ground(frame: PaperWindow) -> str:
    west, top, width, height = frame
    return f'<rect class="ground" x="{west:.0f}" y="{top:.0f}" width="{width:.0f}" height="{height:.0f}"/>'


def view(frame: PaperWindow) -> str:
    """A frame as a `viewBox`."""
    return " ".join(f"{one:.0f}" for one in frame)
