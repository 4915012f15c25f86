"""All words and marks stand out from their ground as WCAG 2 asks at level AA: 1.4.3 for text, 1.4.11 for marks."""

from __future__ import annotations

import re

import pytest

from railbond.faces.drawing.ink import INKS
from railbond.faces.drawing.style import DARK, LIGHT, RULES, TINTS

GROUNDS = ("paper", *(f"tint{number}" for number in range(1, TINTS + 1)))
MARKS = {*re.findall(r"stroke:var\(--([\w-]+)\)", RULES), *INKS} - {"core", "paper"}
WORDS = ("words", "quiet", *(f"name{number}" for number in range(1, TINTS + 1)))


def luminance(color: str) -> float:
    """WCAG 2, relative luminance."""
    parts = [int(color[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_measure_itself() -> None:
    """Black on white is 21 to 1, and #777777 on white just misses AA (WebAIM's example)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("scheme", [LIGHT, DARK], ids=["light", "dark"])
def test_words_and_marks_stand_out(scheme: dict[str, str]) -> None:
    for ground in GROUNDS:
        for mark in MARKS:
            assert contrast(scheme[mark], scheme[ground]) >= 3, (mark, ground)
        for words in WORDS:
            assert contrast(scheme[words], scheme[ground]) >= 4.5, (words, ground)
    for level in ("error", "warning", "note"):
        assert contrast(scheme["flagged"], scheme[level]) >= 4.5, level
    for ink in set(INKS) - {"dead", "one"}:
        assert contrast(scheme["core"], scheme[ink]) >= 3, f"the pattern of {ink}"
