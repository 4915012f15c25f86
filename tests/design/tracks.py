"""Random track without any wiring, of the kinds that people build: what a plan is before anybody thinks of power."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

BUILDS = ("isolated-frog", "isolated-frog", "dead-frog", "live-frog", "movable-frog")


class RandomTrack:
    """Lines of a plan in the making, and names for its pieces."""

    def __init__(self, rng: Random) -> None:
        self.rng, self.lines, self.count = rng, list[str](), 0

    def name(self, kind: str) -> str:
        self.count += 1
        return f"{kind}{self.count}"

    def meters(self, least: float = 0.3, most: float = 3.0) -> str:
        return f"{self.rng.uniform(least, most):.2f} m"

    def segment(self, one: str, other: str, least: float = 0.3, most: float = 3.0) -> str:
        """Plain track, its arrow either way."""
        name, ends = self.name("s"), [one, other]
        if self.rng.random() < 0.5:
            ends.reverse()
        self.lines.append(f"segment {name} {ends[0]} -> {ends[1]} {self.meters(least, most)}")
        return name

    def build(self) -> str:
        return self.rng.choice(BUILDS[:4])

    def solid(self) -> str:
        """A build that trackwork of any kind may have."""
        return self.rng.choice(("isolated-frog", "dead-frog"))

    def is_taken(self, end: str) -> bool:
        """Whether track begins or ends there already."""
        return any(end in line.split() for line in self.lines)

    def turnout(self, hand: str = "") -> str:
        name, hand = self.name("T"), hand or self.rng.choice(("left", "right"))
        number = self.rng.choice((4, 5, 6, 8))
        self.lines.append(f"turnout {name} {hand} number {number} {self.rng.choice(BUILDS)}")
        return name

    def chain(self, one: str, other: str, least: float = 0.5, most: float = 6.0) -> None:
        """Plain track of one to three segments."""
        here = one
        for _ in range(self.rng.randrange(3)):
            joint = self.name("j")
            self.segment(here, joint, least / 2, most / 2)
            here = joint
        self.segment(here, other, least / 2, most / 2)

    def ladder(self, entry: str, tracks: int) -> None:
        """A yard behind an end."""
        here = entry
        for _ in range(tracks - 1):
            turnout = self.turnout()
            self.segment(here, f"{turnout}.points", 0.1, 0.5)
            self.segment(f"{turnout}.diverging", "stop")
            here = f"{turnout}.through"
        self.segment(here, "stop")


def oval(track: RandomTrack) -> None:
    """A ring with passing tracks and spurs."""
    one, other = track.turnout("left"), track.turnout("right")
    track.chain(f"{one}.through", f"{other}.through")
    track.chain(f"{one}.diverging", f"{other}.diverging")
    spur = track.turnout()
    track.chain(f"{other}.points", f"{spur}.points")
    track.chain(f"{spur}.through", f"{one}.points")
    track.chain(f"{spur}.diverging", "stop")


def double_track(track: RandomTrack) -> None:
    """Two lines side by side with crossovers."""
    ends = ["stop", "stop"]
    for _ in range(track.rng.randrange(1, 4)):
        hand = track.rng.choice(("left", "right"))
        one, other = track.turnout(hand), track.turnout(hand)
        track.chain(ends[0], f"{one}.points")
        track.chain(ends[1], f"{other}.through")
        track.segment(f"{one}.diverging", f"{other}.diverging", 0.1, 0.4)
        ends = [f"{one}.through", f"{other}.points"]
    for end in ends:
        track.chain(end, "stop")


def yard(track: RandomTrack) -> None:
    """A lead and a ladder."""
    track.ladder("yard-throat", track.rng.randrange(3, 9))
    track.segment("stop", "yard-throat", 0.5, 2)


def wye(track: RandomTrack) -> None:
    """Three turnouts in a triangle, or a wye turnout at the tail."""
    one, other = track.turnout("left"), track.turnout("right")
    track.chain("stop", f"{one}.points", 1, 4)
    track.chain(f"{one}.through", f"{other}.through", 1, 4)
    track.chain(f"{other}.points", "stop", 1, 4)
    if track.rng.random() < 0.5:
        tail, arms = track.turnout("wye"), ("left", "right")
    else:
        tail, arms = track.turnout("left"), ("through", "diverging")
    track.segment(f"{one}.diverging", f"{tail}.{arms[0]}", 1, 2)
    track.segment(f"{other}.diverging", f"{tail}.{arms[1]}", 1, 2)
    track.segment(f"{tail}.points", "stop", 1.5, 3)


def dog_bone(track: RandomTrack) -> None:
    """A loop at each end."""
    ends = []
    for _ in range(2):
        turnout = track.turnout()
        track.chain(f"{turnout}.through", f"{turnout}.diverging", 3, 8)
        ends.append(f"{turnout}.points")
    track.chain(*ends, 2, 8)


def loops_in_loops(track: RandomTrack) -> None:
    """A balloon loop with a passing track in it, or one within another."""
    neck = track.turnout()
    track.chain("stop", f"{neck}.points")
    one, other = track.turnout("left"), track.turnout("right")
    track.chain(f"{neck}.through", f"{one}.points", 1, 4)
    track.chain(f"{one}.through", f"{other}.through", 1, 4)
    track.chain(f"{one}.diverging", f"{other}.diverging", 1, 4)
    track.chain(f"{other}.points", f"{neck}.diverging", 1, 4)


def terminal(track: RandomTrack) -> None:
    """An engine terminal with a turntable, or shops with a transfer table."""
    lead = track.turnout()
    track.chain("stop", f"{lead}.points")
    table = track.name("TT")
    stalls = track.rng.randrange(2, 7)
    if track.rng.random() < 0.6:
        track.lines += [f"turntable {table} 30 cm", f"approach-track {table}.lead at 0 degrees"]
        track.lines += [f"approach-track {table}.s{n} at {130 + 12 * n} degrees" for n in range(stalls)]
    else:
        track.lines += [f"transfer-table {table} 40 cm", f"approach-track {table}.lead at 20 cm"]
        track.lines += [f"approach-track {table}.s{n} at {10 + 10 * n} cm far-side" for n in range(stalls)]
    track.segment(f"{lead}.through", f"{table}.lead", 0.5, 1.5)
    track.segment(f"{lead}.diverging", "stop")
    for number in range(stalls):
        track.segment(f"{table}.s{number}", "stop", 0.3, 0.6)


def throat(track: RandomTrack) -> None:
    """A station throat with a slip or a scissors, and a three-way turnout."""
    build = track.rng.choice(("isolated-frog", "dead-frog"))
    special = track.name("D")
    kind = track.rng.choice(("slip {} double number 6 {}", "slip {} single number 6 {}", "scissors {} number 6 {}"))
    track.lines.append(kind.format(special, build))
    for end in ("a1", "b1"):
        track.chain("stop", f"{special}.{end}")
    three = track.name("W")
    track.lines.append(f"three-way {three} symmetrical number 6 {build}")
    track.segment(f"{special}.a2", f"{three}.points", 0.2, 0.6)
    for route in ("left", "through", "right"):
        track.chain(f"{three}.{route}", "stop", 1, 3)
    track.ladder(f"{special}.b2", track.rng.randrange(2, 4))


def two_boosters(track: RandomTrack) -> None:
    """A main line that two boosters share."""
    track.lines += ["booster BW 15 V 5 A", "booster BE 15 V 5 A"]
    track.rng.choice((oval, double_track))(track)


def crossing(track: RandomTrack) -> None:
    """Two lines that cross at grade, and a figure eight."""
    cross = track.name("X")
    track.lines.append(f"crossing {cross} 45 degrees {track.rng.choice(('isolated-frog', 'dead-frog'))}")
    if track.rng.random() < 0.5:
        track.chain(f"{cross}.a2", f"{cross}.b1", 2, 6)
        track.chain(f"{cross}.b2", f"{cross}.a1", 2, 6)
        return
    turnout = track.turnout()
    track.chain("stop", f"{turnout}.points")
    track.chain(f"{turnout}.through", f"{cross}.a1")
    track.chain(f"{turnout}.diverging", f"{cross}.b1")
    track.chain(f"{cross}.a2", "stop")
    track.chain(f"{cross}.b2", "stop")


def module(track: RandomTrack) -> None:
    """A module with two edges and a siding."""
    track.lines += ["endplate W left black", "endplate E left red"]
    one, other = track.turnout("left"), track.turnout("right")
    track.segment("W", f"{one}.points", 0.2, 0.5)
    track.segment(f"{one}.through", f"{other}.through", 0.5, 1)
    track.segment(f"{one}.diverging", f"{other}.diverging", 0.5, 1)
    track.segment(f"{other}.points", "E", 0.2, 0.5)


KINDS: dict[str, Callable[[RandomTrack], None]] = {
    one.__name__: one
    for one in (
        oval, double_track, yard, wye, dog_bone, loops_in_loops, terminal, throat, two_boosters, crossing, module,
    )
}  # fmt: skip


def random_track(rng: Random, kind: str) -> str:
    """A plan of bare track of a kind, with engines and a longest train, or not."""
    track = RandomTrack(rng)
    track.lines.append(rng.choice(("scale HO", "scale N", "scale HO")))
    KINDS[kind](track)
    if rng.random() < 0.5:
        track.lines.append(f"train longest {rng.uniform(0.6, 1.5):.1f} m")
    if rng.random() < 0.5:
        track.lines.append("engine switcher left 0 31 62 mm right 0 31 62 mm 0.4 A")
    return "\n".join([f'plan "{kind}"', *track.lines]) + "\n"
