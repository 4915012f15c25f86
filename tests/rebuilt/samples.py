"""Plans that hold one piece of every kind, in every way to build, cut, bond, gap and feed it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

HEAD = """booster B1 15 V 5 A
district main from B1
block yard in main
turnout T9 left isolated-frog
segment t9a stop -> T9.points 1 m
segment t9b T9.through -> stop 1 m
segment t9c T9.diverging -> stop 1 m
feeder main -> t9a
feeder main -> t9b
feeder yard -> t9c
"""
TURNOUT, WYE, CROSSED = ("points", "through", "diverging"), ("points", "left", "right"), ("a1", "a2", "b1", "b2")
BUILDS, PLAIN = ("dead-frog", "live-frog", "isolated-frog"), ("dead-frog", "isolated-frog")
MOVING = (*BUILDS, "movable-frog", "sprung-frog")
CUTS = ("", "closure jumpers", "around frog", "around frog without jumpers", "frog rails", "closure jumpers+frog rails")
GAPS = ("", "left rail", "right rail", "both rails")
FEEDS = (
    "", "switched through main.red diverging main.black", "switched with T9 through yard.red diverging main.black",
    "switched from stock rails", "automatic yard", 'unpowered because "short"',
)  # fmt: skip

EACH = (
    "1 automatic yard+2 automatic main", "1 switched from stock rails+2 automatic main",
    "2 switched through main.black diverging yard.red", "1 switched with T9 through main.red diverging yard.black",
)  # fmt: skip
"""Feeds for each of several frogs, by its number."""


def kinds() -> Iterator[tuple[str, tuple[str, ...]]]:
    """A line for a piece called X, and its ends."""
    for hand, build in product(("left", "right", "wye", "curved left", "curved right"), MOVING):
        ends = WYE if hand == "wye" else TURNOUT
        yield f"turnout X {hand} number 6 {build}", ends
        for route in ends[1:]:
            yield f"turnout X {hand} {build} sprung {route}", ends
    yield from ((f"stub X {hand} {build}", TURNOUT) for hand, build in product(("left", "right"), BUILDS))
    shapes = "symmetrical", "staggered left", "staggered right"
    for shape, build in product(shapes, PLAIN):
        yield f"three-way X {shape} number 6 {build}", ("points", "left", "through", "right")
    yield from ((f"crossing X 30 degrees {build}", CROSSED) for build in PLAIN)
    yield from ((f"gauntlet X 60 cm number 8 {build}", CROSSED) for build in PLAIN)
    yield from ((f"slip X {slips} number 6 {build}", CROSSED) for slips, build in product(("single", "double"), PLAIN))
    yield from ((f"scissors X number 6 {build}", CROSSED) for build in BUILDS)


def work(line: str) -> Iterator[list[str]]:
    """Everything that may be soldered and sawn at a piece."""
    keyword = line.split()[0]
    bonds = (
        ("", "bond X closure rails to stock rails") if keyword in ("turnout", "stub", "three-way", "slip") else ("",)
    )
    cuts = CUTS if keyword in ("turnout", "stub") and "live-frog" in line else ("",)
    for bond, cut in product(bonds, cuts):
        yield [bond, *(f"cut X {one}" for one in cut.split("+") if one)]


def feeds(line: str) -> tuple[str, ...]:
    if line.startswith("scissors"):
        return ("",)
    if "dead-frog" in line:
        return ("",)
    return (*FEEDS, *EACH) if line.split()[0] in ("slip", "crossing", "three-way", "gauntlet") else FEEDS


def gaps(ends: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    yield from product(GAPS, repeat=len(ends))


def plan(line: str, ends: tuple[str, ...], worked: list[str], feed: str, cut: tuple[str, ...]) -> str:
    """The piece with plain track at each end, fed, and gaps at its ends."""
    fed = [f"frog X.{one}" if one[0].isdigit() else f"frog X {one}" for one in feed.split("+") if one]
    if line.startswith("three-way"):  # its frogs are numbered from 0, as they are called
        fed = [one.replace("X.", "X.C") for one in fed]
    lines = [line, *worked, *fed]
    for number, (end, gap) in enumerate(zip(ends, cut, strict=True)):
        lines.append(f"segment s{number} {'X.' + end + ' -> stop' if number % 2 else 'stop -> X.' + end} 1 m")
        lines.append(f"feeder main -> s{number}")
        if gap:
            lines.append(f"gap s{number}.{'start' if number % 2 else 'finish'} {gap}")
    return HEAD + "\n".join(filter(None, lines)) + "\n"
