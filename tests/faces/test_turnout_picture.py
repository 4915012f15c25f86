"""The drawing of a turnout on the printed schedule names every metal, on the side on which it lies."""

from __future__ import annotations

import re

import pytest

from railbond.bench.job import Job
from railbond.faces.turnout_picture import pictures, svg
from railbond.trackwork import template_for
from trackplan.read import read
from trackplan.span import Source

TEXT = re.compile(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>([^<]+)</text>')


def metals(hand: str, build: str) -> set[str]:
    (statement,) = read(Source("p", f"turnout T1 {hand} {build}\n")).statements
    return {metal.words for metal in template_for(statement, (), ()).metals}


@pytest.mark.parametrize("build", ["dead-frog", "live-frog", "isolated-frog", "movable-frog", "sprung-frog"])
@pytest.mark.parametrize("hand", ["left", "right", "wye"])
def test_every_metal_is_named(hand: str, build: str) -> None:
    named = {words for _, _, words in TEXT.findall(svg(hand, build))}
    assert metals(hand, build) <= named and named - metals(hand, build) <= {
        "points", "through", "diverging", "left", "right", "frog, of plastic"
    }  # fmt: skip
    assert ("frog, of plastic" in named) == (build == "dead-frog")


@pytest.mark.parametrize(("hand", "side"), [("left", "diverging"), ("right", "through"), ("wye", "left")])
def test_the_upper_rail_is_the_left_one_seen_from_the_points(hand: str, side: str) -> None:
    """Of a left-hand turnout the diverging stock rail, of a right-hand one the through one, of a wye the left one."""
    heights = {words: float(y) for _, y, words in TEXT.findall(svg(hand, "live-frog"))}
    stocks = {words: y for words, y in heights.items() if words.endswith("stock rail")}
    assert min(stocks, key=stocks.__getitem__) == f"{side} stock rail"
    closures = {words: y for words, y in heights.items() if words.endswith("closure rail")}
    assert min(closures, key=closures.__getitem__) != f"{side} closure rail", "it lies inside the other's stock rail"


def test_turnouts_alike_have_one_drawing() -> None:
    jobs = [
        Job("lay", "T1", note="turnout T1 left number 6 live-frog"),
        Job("lay", "T2", note="turnout T2 left live-frog dead 20 mm"),
        Job(
            "lay", "S-a1", note="turnout S-a1 right number 6 isolated-frog, part of: scissors S number 6 isolated-frog"
        ),
        Job("lay", "T3", note="turnout T3 curved left number 6 dead-frog"),
        Job("drop", "west"),
        Job("lay", "west", note="segment west stop -> T1.points 1 m"),
    ]
    heads = [head for head, _ in pictures(jobs)]
    assert heads == [
        "The rails of T1, T2: left live-frog",
        "The rails of S-a1: right isolated-frog",
        "The rails of T3: left dead-frog",
    ]
