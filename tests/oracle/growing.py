"""Random track, grown from one segment by the motifs that layouts are made of."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

from .sketch import Sketch

Motif = Callable[["Grower", str], None]

FROG_ENDS = ("through", "diverging")


class Grower:
    """Grows track at its open ends until its turnouts are used up."""

    def __init__(self, rng: Random, turnouts: int) -> None:
        self.sketch = Sketch(rng)
        self.rng = rng
        self.left = turnouts
        self.open = list(self.sketch.segment())

    def grow(self) -> Sketch:
        while self.left and self.open:
            end = self.take()
            motif, cost = self.rng.choice([one for one in MOTIFS if self.fits(*one)])
            self.left -= cost
            motif(self, end)
        self.close()
        self.sketch.cut()
        return self.sketch

    def fits(self, motif: Motif, cost: int) -> bool:
        """Whether turnouts are left for a motif, and one that closes the last open end comes last."""
        return cost <= self.left and (motif is not Grower.balloon or bool(self.open) or self.left == 1)

    def take(self) -> str:
        """An open end, out of the list; the last one fills its place, so that a long list costs no more."""
        nth = self.rng.randrange(len(self.open))
        self.open[nth], self.open[-1] = self.open[-1], self.open[nth]
        return self.open.pop()

    def close(self) -> None:
        """Joins some pairs of open ends into loops, and gives some of the rest a segment to end in."""
        while len(self.open) > 1 and self.sketch.chance(40):
            self.sketch.link(self.take(), self.take())
        for end in self.open:
            if self.sketch.piece(end) in self.sketch.turnouts and self.sketch.chance(85):
                self.sketch.meet(end, self.sketch.segment()[0])

    def sides(self) -> tuple[str, str]:
        return FROG_ENDS if self.sketch.chance(50) else FROG_ENDS[::-1]

    def facing(self, end: str) -> None:
        """A train comes to the points first."""
        name = self.sketch.turnout()
        self.sketch.link(end, f"{name}.points", direct=15)
        self.open += [self.sketch.end(name, route) for route in FROG_ENDS]

    def trailing(self, end: str) -> None:
        name = self.sketch.turnout()
        near, other = self.sides()
        self.sketch.link(end, self.sketch.end(name, near), direct=15)
        self.open += [f"{name}.points", self.sketch.end(name, other)]

    def balloon(self, end: str) -> None:
        """Both routes of one turnout are the two ends of a loop."""
        name = self.sketch.turnout()
        self.sketch.link(end, f"{name}.points", direct=10)
        self.sketch.link(self.sketch.end(name, "through"), self.sketch.end(name, "diverging"))

    def siding(self, end: str) -> None:
        """A second track beside the line, joined to it at both ends."""
        west, east = self.sketch.turnout(), self.sketch.turnout()
        self.sketch.link(end, f"{west}.points", direct=10)
        for route in FROG_ENDS:
            self.sketch.link(self.sketch.end(west, route), self.sketch.end(east, route))
        self.open.append(f"{east}.points")

    def triangle(self, end: str) -> None:
        """A wye: three turnouts, each two of them joined frog end to frog end."""
        names = [self.sketch.turnout() for _ in range(3)]
        self.sketch.link(end, f"{names[0]}.points", direct=10)
        for one, other in zip(names, names[1:] + names[:1], strict=True):
            self.sketch.link(self.sketch.end(one, "through"), self.sketch.end(other, "diverging"))
        self.open += [f"{name}.points" for name in names[1:]]

    def crossover(self, end: str) -> None:
        """Two turnouts, diverging end to diverging end, between two tracks that run side by side."""
        one, other = self.sketch.turnout("left"), self.sketch.turnout("left")
        self.sketch.link(end, f"{one}.points", direct=10)
        self.sketch.link(f"{one}.diverging", f"{other}.diverging", direct=70)
        self.open += [f"{one}.through", f"{other}.through"]
        if self.open and self.sketch.chance(50):
            self.sketch.link(self.take(), f"{other}.points")
        else:
            self.open.append(f"{other}.points")

    def ladder(self, end: str) -> None:
        """A yard's lead: track after track turns out of it."""
        for _ in range(3):
            name = self.sketch.turnout()
            self.sketch.link(end, f"{name}.points", direct=40)
            self.sketch.meet(self.sketch.end(name, "diverging"), self.sketch.segment("yard-track")[0])
            end = self.sketch.end(name, "through")
        self.open.append(end)


MOTIFS: list[tuple[Motif, int]] = [
    (Grower.facing, 1),
    (Grower.facing, 1),
    (Grower.trailing, 1),
    (Grower.balloon, 1),
    (Grower.siding, 2),
    (Grower.crossover, 2),
    (Grower.triangle, 3),
    (Grower.ladder, 3),
]


def grown(rng: Random, turnouts: int) -> Sketch:
    """Random track of that many turnouts."""
    return Grower(rng, turnouts).grow()


def yard(rng: Random, turnouts: int) -> Sketch:
    """One long ladder: a lead, a turnout for each track, and a stop at the end of each."""
    sketch = Sketch(rng)
    end = sketch.segment("lead")[0]
    for _ in range(turnouts):
        name = sketch.turnout(rng.choice(("left", "right")))
        sketch.meet(end, f"{name}.points")
        sketch.meet(sketch.end(name, "diverging"), sketch.segment("yard-track")[0])
        end, far = sketch.segment("ladder")[::-1]
        sketch.meet(sketch.end(name, "through"), far)
    return sketch
