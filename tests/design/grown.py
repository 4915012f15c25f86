"""Railroads grown from several kinds: a line on which one thing follows another, as a person adds to a layout."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from .tracks import RandomTrack

Grow = Callable[[RandomTrack, str], list[str]]
"""Something that begins at an end, and the ends that it leaves open."""


def siding(track: RandomTrack, end: str) -> list[str]:
    """A passing track."""
    one, other = track.turnout(), track.turnout()
    track.chain(end, f"{one}.points")
    track.chain(f"{one}.through", f"{other}.{track.rng.choice(('through', 'diverging'))}", 0.5, 3)
    last = next(way for way in ("through", "diverging") if not track.is_taken(f"{other}.{way}"))
    track.chain(f"{one}.diverging", f"{other}.{last}", 0.5, 3)
    return [f"{other}.points"]


def spur(track: RandomTrack, end: str) -> list[str]:
    """An industry behind a turnout of any kind, or two behind a three-way."""
    kind = track.rng.random()
    if kind < 0.2:
        name = track.name("W")
        shape = track.rng.choice(("symmetrical", "staggered left", "staggered right"))
        track.lines.append(f"three-way {name} {shape} number 6 {track.solid()}")
        ends = [f"{name}.{way}" for way in ("left", "through", "right")]
    elif kind < 0.3:
        name = track.name("S")
        track.lines.append(f"stub {name} {track.rng.choice(('left', 'right'))} live-frog")
        ends = [f"{name}.through", f"{name}.diverging"]
    elif kind < 0.45:
        name = track.name("Y")
        track.lines.append(f"turnout {name} wye number 6 {track.build()}")
        ends = [f"{name}.left", f"{name}.right"]
    else:
        name = track.turnout(track.rng.choice(("left", "right", "curved left", "curved right")))
        ends = [f"{name}.through", f"{name}.diverging"]
    track.chain(end, f"{name}.points")
    return ends


def loop(track: RandomTrack, end: str) -> list[str]:
    """A balloon loop."""
    neck = track.turnout()
    track.chain(end, f"{neck}.points")
    track.chain(f"{neck}.through", f"{neck}.diverging", 2, 6)
    return []


def triangle(track: RandomTrack, end: str) -> list[str]:
    """A wye."""
    one, other, tail = track.turnout("left"), track.turnout("right"), track.turnout("wye")
    track.chain(end, f"{one}.points")
    track.chain(f"{one}.through", f"{other}.through", 1, 3)
    track.chain(f"{one}.diverging", f"{tail}.left", 0.8, 2)
    track.chain(f"{other}.diverging", f"{tail}.right", 0.8, 2)
    return [f"{other}.points", f"{tail}.points"]


def slip(track: RandomTrack, end: str) -> list[str]:
    """A slip, a crossing or a scissors, or a gauntlet."""
    name, build = track.name("D"), track.solid()
    kinds = (f"slip {name} double number 6", f"slip {name} single number 6", f"crossing {name} 30 degrees",
             f"scissors {name} number 6", f"gauntlet {name} 60 cm number 8")  # fmt: skip
    track.lines.append(f"{track.rng.choice(kinds)} {build}")
    track.chain(end, f"{name}.a1")
    return [f"{name}.b1", f"{name}.a2", f"{name}.b2"]


def table(track: RandomTrack, end: str) -> list[str]:
    """A turntable with tracks all round, or over half of its pit."""
    name, rng = track.name("TT"), track.rng
    angles = sorted(rng.sample(range(20, 360 if rng.random() < 0.3 else 170, 15), rng.randrange(2, 6)))
    track.lines += [f"turntable {name} 30 cm", f"approach-track {name}.lead at 0 degrees"]
    track.chain(end, f"{name}.lead", 0.4, 1)
    for number, angle in enumerate(angles):
        track.lines.append(f"approach-track {name}.s{number} at {angle} degrees")
        track.segment(f"{name}.s{number}", "stop", 0.3, 0.6)
    return []


def yard(track: RandomTrack, end: str) -> list[str]:
    """A ladder."""
    track.ladder(end, track.rng.randrange(2, 6))
    return []


GROWS: tuple[Grow, ...] = (siding, siding, spur, spur, spur, loop, triangle, slip, table, yard)


def grown(rng: Random, steps: int) -> str:
    """A plan of bare track, of so many things, with what else a plan may tell: boosters, blocks, trains, engines."""
    track = RandomTrack(rng)
    track.lines.append(rng.choice(("scale HO", "scale N", "scale O")))
    first = track.name("j")
    ends = [first, first]
    for _ in range(steps):
        if not ends:
            break
        end = ends.pop(rng.randrange(len(ends)))
        ends += rng.choice(GROWS)(track, end)
    rng.shuffle(ends)
    while len(ends) > 1 and rng.random() < 0.3:
        track.chain(ends.pop(), ends.pop(), 1, 4)
    for end in ends:
        track.chain(end, "stop", 0.4, 2)
    return "\n".join(['plan "Grown"', *track.lines, *told(track)]) + "\n"


def told(track: RandomTrack) -> list[str]:
    """What is known besides the track."""
    rng, lines = track.rng, list[str]()
    boosters = rng.choice((0, 0, 1, 2, 3))
    lines += [f"booster B{number} {rng.choice((14, 15, 16))} V {rng.choice((3, 5, 8))} A" for number in range(boosters)]
    if rng.random() < 0.3:
        lines += [f"block b{number} in main" for number in range(rng.randrange(1, 4))]
    if rng.random() < 0.5:
        lines.append(f"train longest {rng.uniform(0.6, 2.5):.1f} m")
    if rng.random() < 0.5:
        lines.append("engine switcher left 0 31 62 mm right 0 31 62 mm 0.4 A")
    if rng.random() < 0.3:
        lines.append("engine road-engine left 0 31 120 151 mm right 0 31 120 151 mm 0.6 A")
    if rng.random() < 0.2:
        lines.append(f"limit feeder-spacing {rng.choice((1, 1.5, 3))} m")
    return lines
