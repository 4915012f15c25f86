"""How wide text is: an upper bound for the plain sans-serifs that are in use, by one of the widest of them."""

from __future__ import annotations

from functools import lru_cache
from unicodedata import east_asian_width

SHARES = {
    0.29: "'ijl|IJ", 0.34: ",. /:;\\f", 0.42: "-t()[]!r", 0.56: '"*_`sz?cL', 0.62: "kFvxyPaoTYe",
    0.66: "bdghnpquES0123456789${}K", 0.73: "AVBRXZCU", 0.8: "HNDG&OQw", 0.88: "#+<=>^~M", 1.0: "%mW@",
}  # fmt: skip
"""The widths of letters as shares of their height: those of DejaVu Sans, measured, a group of letters by its widest."""
WIDTH = {letter: share for share, letters in SHARES.items() for letter in letters}
BOLD = 1.1
"""How much wider bold text is, all letters together: DejaVu Sans Bold beside DejaVu Sans, measured on plain words."""


def wide(text: str, size: float, bold: bool = False) -> float:
    """How wide a text of that height is at most."""
    return _shares(text) * size * (BOLD if bold else 1.0)


@lru_cache(4096)
def _shares(text: str) -> float:
    return _after(0.0, text)


def _after(before: float, text: str) -> float:
    """How far a text reaches that begins after so much, in shares of its height."""
    return sum((WIDTH.get(letter) or (1.25 if east_asian_width(letter) in "WF" else 0.9) for letter in text), before)


def wrapped(text: str, size: float, room: float) -> list[str]:
    """The text in lines that have room, each of at least one word."""
    lines: list[str] = []
    end = 0.0
    for word in text.split():
        longer = _after(end, f" {word}")
        if lines and longer * size <= room:
            lines[-1] += f" {word}"
            end = longer
        else:
            lines.append(word)
            end = _after(0.0, word)
    return lines
