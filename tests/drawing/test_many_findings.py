"""A picture with many findings: their numbers stand within their marks, and their list is no tower."""

from __future__ import annotations

import re

import pytest

from drawing.samples import POWER, facts
from railbond.faces.drawing.flags import flag
from railbond.faces.drawing.letters import wide
from railbond.faces.drawing.picture import PictureChoice, draw
from railbond.inspection import examine
from railbond.rules import all_rules

LETTERS = 12
"""Height of a number's letters."""


def edges(path: str) -> list[tuple[float, float]]:
    """The corners of a mark's path of relative steps."""
    first, *steps = re.findall(r"[Mlhvz][^Mlhvz]*", path)
    x, y = map(float, re.findall(r"-?[\d.]+", first))
    corners = [(x, y)]
    for step in steps:
        by = [float(one) for one in re.findall(r"-?[\d.]+", step)]
        x, y = x + (by[0] if step[0] in "lh" else 0), y + (by[-1] if step[0] in "lv" else 0)
        corners.append((x, y))
    return corners


def width_at(corners: list[tuple[float, float]], y: float) -> float:
    """How wide a convex mark is at a height."""
    crossed = [
        a + (c - a) * (y - b) / (d - b)
        for (a, b), (c, d) in zip(corners, corners[1:] + corners[:1], strict=True)
        if (b - y) * (d - y) <= 0 and b != d
    ]
    return max(crossed) - min(crossed)


@pytest.mark.parametrize("level", ("error", "warning", "note"))
@pytest.mark.parametrize("number", (7, 42, 108, 1502, 12345))
def test_a_number_stands_within_its_mark(level: str, number: int) -> None:
    drawn = flag(0, 0, number, level)
    path = re.search(r'd="([^"]*)"', drawn)
    assert path
    assert width_at(edges(path[1]), 3 if level == "warning" else 0) >= wide(str(number), LETTERS, bold=True)


def plan(turnouts: int) -> str:
    """Spurs one after another along a main line, no frog of them fed."""
    lines = ["segment a0 stop -> T1.points 1 m", "feeder main -> a0"]
    for one in range(1, turnouts + 1):
        lines += [
            f"turnout T{one} right number 6 isolated-frog",
            f"segment a{one} T{one}.through -> {f'T{one + 1}.points' if one < turnouts else 'stop'} 1 m",
            f"segment b{one} T{one}.diverging -> stop 60 cm",
        ]
    return POWER + "\n".join([*lines, ""])


def size(svg: str) -> tuple[float, float]:
    box = re.search(r'viewBox="\S+ \S+ (\S+) (\S+)"', svg)
    assert box
    return float(box[1]), float(box[2])


def test_a_long_list_stands_in_columns() -> None:
    findings = examine(facts(plan(40)), all_rules())
    assert len(findings) > 40
    one = size(draw(facts(plan(40)), findings, None, PictureChoice(columns=False)))
    several = size(draw(facts(plan(40)), findings))
    assert several[1] < 0.6 * one[1]
    assert several[0] == one[0] > 1400


def test_all_of_a_long_list_is_told_in_its_order() -> None:
    findings = examine(facts(plan(40)), all_rules())
    svg = draw(facts(plan(40)), findings)
    listed = [int(one) for one in re.findall(r'data-f="(\d+)"', svg[svg.index('class="said"') - 400 :])]
    assert listed[-len(findings) :] == list(range(1, len(findings) + 1))
