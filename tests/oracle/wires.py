"""Which source reaches which rail by wire: supplies, bus runs, drops and the wires of frogs."""

from __future__ import annotations

from collections.abc import Iterator

from trackplan.statements import (
    Block,
    Bus,
    District,
    Feeder,
    FrogAutomatic,
    FrogFromStockRails,
    FrogSwitched,
    Reverser,
    Segment,
    Statement,
)

from .rails import ALWAYS, ROUTES, Bond, Condition, Conductor, Feed, Source
from .track import Cuts
from .turnouts import WANTS, F

Leg = tuple[str, int]


class Wires:
    """All wires of a plan. Legs are numbered 0 (the + leg of what is in phase) and 1."""

    def __init__(self, statements: list[Statement], cuts: Cuts) -> None:
        self.statements = statements
        self.cuts = cuts
        self.segments = {str(one.name): one for one in statements if isinstance(one, Segment)}
        self.words: dict[str, tuple[str, str]] = {}
        self.reached: dict[Leg, set[Source]] = {}
        for one in statements:
            if isinstance(one, District):
                legs = one.legs or ("red", "black")
                self._supply(str(one.name), (str(legs[0]), str(legs[1])), "fixed")
        for one in statements:
            if isinstance(one, Block | Reverser):
                kind = "fixed" if isinstance(one, Block) else "reverser"
                self._supply(str(one.name), self.words[one.district], kind)
        self._plugs()
        self._run()

    def _supply(self, name: str, legs: tuple[str, str], kind: str) -> None:
        self.words[name] = legs
        for leg in (0, 1):
            self.reached[name, leg] = {Source(name, leg, kind)}

    def _plugs(self) -> None:
        """A module without a district takes its power from a name that is nobody's: its bus plug."""
        runs = [one for one in self.statements if isinstance(one, Bus)]
        fed = {str(run.terminal) for run in runs}
        taken = [str(run.supply) for run in runs] or [
            str(one.supply).partition(".")[0] for one in self.statements if isinstance(one, Feeder)
        ]
        if not any(isinstance(one, District) for one in self.statements):
            for name in dict.fromkeys(taken):
                if name not in fed:
                    self._supply(name, ("red", "black"), "fixed")

    def _run(self) -> None:
        """Power spreads along every bus run, both ways, until nothing new is reached."""
        runs = [one for one in self.statements if isinstance(one, Bus)]
        before = -1
        while before != (before := sum(map(len, self.reached.values())) + len(self.words)):
            for run in runs:
                if run.supply in self.words:
                    self.words.setdefault(str(run.terminal), self.words[run.supply])
                for leg in (0, 1):
                    far = 1 - leg if run.crossed else leg
                    near_end = self.reached.setdefault((str(run.supply), leg), set())
                    far_end = self.reached.setdefault((str(run.terminal), far), set())
                    near_end |= far_end
                    far_end |= near_end

    def leg(self, word: str) -> Leg:
        """The wire that `P1.red` names."""
        name, _, leg = word.rpartition(".")
        return name, self.words[name].index(leg)

    def drops(self) -> Iterator[Feed]:
        for one in self.statements:
            if isinstance(one, Feeder):
                if str(one.rail) in self.segments:
                    yield from self._pair(one)
                else:
                    yield from self._feeds(self._metal(one), self.leg(str(one.supply)))

    def _pair(self, feeder: Feeder) -> Iterator[Feed]:
        place = self._place(feeder, str(feeder.rail))
        for leg, side in enumerate(("right", "left") if feeder.crossed else ("left", "right")):
            rail = self.cuts.rail(str(feeder.rail), side, place)
            yield from self._feeds(rail, (str(feeder.supply), leg))

    def _metal(self, feeder: Feeder) -> Conductor:
        """The one rail of `west.left`, `T1.through.stock` or (a wye's) `T1.left.frog`."""
        piece, *words = str(feeder.rail).split(".")
        if piece in self.segments:
            return self.cuts.rail(piece, words[0], self._place(feeder, piece))
        route = {"left": "through", "right": "diverging"}.get(words[0], words[0])
        return piece, f"{route} {words[1]} rail"

    def _place(self, feeder: Feeder, segment: str) -> float:
        return float(self.segments[segment].length / 2 if feeder.place is None else feeder.place)

    def _feeds(self, metal: Conductor, leg: Leg, when: Condition = ALWAYS) -> Iterator[Feed]:
        for source in sorted(self.reached.get(leg, ())):
            yield Feed(metal, source, when)

    def frogs(self) -> Iterator[Feed | Bond]:
        """What each frog's own wires bring: a feed or bond through contacts, or a unit's own power."""
        for one in self.statements:
            if isinstance(one, FrogSwitched):
                mover = str(one.mover or one.turnout)
                for route, word in zip(ROUTES, (one.through, one.diverging), strict=True):
                    yield from self._feeds((str(one.turnout), F), self.leg(str(word)), frozenset({(mover, route)}))
            elif isinstance(one, FrogFromStockRails):
                name = str(one.turnout)
                for route in ROUTES:
                    yield Bond((name, F), (name, WANTS[route]), frozenset({(name, route)}))
            elif isinstance(one, FrogAutomatic):
                yield Feed((str(one.turnout), F), Source(f"{one.turnout} frog unit", 0, "frog unit"))
