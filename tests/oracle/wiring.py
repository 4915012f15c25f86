"""A sketch made into a plan: gaps, turnout work, frogs and wires, right by construction or with slips."""

from __future__ import annotations

from collections import defaultdict
from typing import NamedTuple

from .growing import FROG_ENDS
from .sketch import Node, Sketch, Turnout
from .zones import Supply, Zones

Row = list[str]
SIDES = ("left", "right")
BARE = "around frog without jumpers"


class Terminal(NamedTuple):
    """A place to solder drops to. `crossed`: its bus run swaps the legs."""

    name: str
    supply: Supply
    crossed: bool


class Wiring:
    """All that a plan says beyond its track. `slips`: how many in a hundred decisions go wrong.

    `quiet`: only turnouts that forgive everything; otherwise live frogs as they come are used too, no
    short where their frog rails are gapped, but want care.
    """

    def __init__(self, sketch: Sketch, quiet: bool, slips: int) -> None:
        self.sketch, self.rng, self.quiet, self.slips = sketch, sketch.rng, quiet, slips
        self.zones = Zones(sketch, self.slip)
        self.gaps: dict[tuple[str, str], set[str]] = defaultdict(set)
        self.inner: list[Row] = []
        self.work: list[Row] = []
        self.frogs: list[Row] = []
        self.buses: list[Row] = []
        self.feeders: list[Row] = []
        self.terminals: dict[str, Terminal] = {}
        self.uses: dict[str, int] = defaultdict(int)
        self._cut_boundaries()
        self.styles = {name: self._style(one) for name, one in sketch.turnouts.items()}
        for name, style in self.styles.items():
            if style in ("delivered", "unit"):
                self._cut_frog_rails(name)
        for name in sketch.turnouts:
            self._turnout(name)
        self._bond_by_habit()
        for name in sketch.segments:
            self._segment(name)

    def slip(self) -> bool:
        return self.slips > 0 and self.sketch.chance(self.slips)

    # cuts

    def _cut_boundaries(self) -> None:
        for edge in self.zones.edges:
            differ = self.zones.differ(edge) and not self.slip()
            if edge.ends and differ:
                self.gaps[edge.ends] |= {self.rng.choice(SIDES)} if self.slip() else set(SIDES)
            elif edge.at is not None:
                rails = "both rails" if differ else self.rng.choice(("both rails", "left rail", "right rail"))
                self.inner.append(["gap", edge.one[0], f"at {edge.at} cm", rails])

    def cut(self, end: str, side: str) -> None:
        """Gaps the rail on one side, looking out of an end, once."""
        other = self.sketch.meets.get(end)
        if other:
            key = (end, other) if end <= other else (other, end)
            self.gaps[key].add(side if key[0] == end else flip(side))

    def _cut_frog_rails(self, name: str) -> None:
        for route in FROG_ENDS:
            if not self.slip():
                self.cut(self.sketch.end(name, route), frog_side(self.sketch.turnouts[name], route))

    def _flows(self, end: str) -> bool:
        """Whether a turnout's end goes on, uncut, in a segment."""
        other = self.sketch.meets.get(end, "")
        gapped = self.gaps.get((end, other)) or self.gaps.get((other, end))
        return self.sketch.piece(other) in self.sketch.segments and not gapped

    # wires

    def terminal(self, supply: Supply) -> Terminal:
        """The terminal in use for a supply; after every few wires a new one, on its own bus run."""
        nth = self.uses[supply.name]
        self.uses[supply.name] += 1
        if nth % 5 == 0 or supply.name not in self.terminals:
            name, crossed = f"P{len(self.buses) + 1}", self.sketch.chance(7)
            self.terminals[supply.name] = Terminal(name, supply, crossed)
            run = f"{self.rng.randrange(1, 7)} m"
            self.buses.append(["bus", f"{supply.name} -> {name}", run, "14 AWG", "crossed" if crossed else ""])
        return self.terminals[supply.name]

    def supply(self, node: Node) -> Supply:
        return self.rng.choice(list(self.zones.supplies.values())) if self.slip() else self.zones.at(node)

    def wire(self, node: Node, leg: int) -> str:
        """The words for the wire that a leg of a node's supply is."""
        terminal = self.terminal(self.supply(node))
        return f"{terminal.name}.{terminal.supply.legs[leg ^ terminal.crossed ^ self.slip()]}"

    def _segment(self, name: str) -> None:
        stretches = self.sketch.stretches(name)
        for nth, (start, stop) in enumerate(stretches):
            if not self.slip():
                at = (start + stop) // 2
                place = f"at {at} cm" if len(stretches) > 1 or self.sketch.chance(50) else ""
                self._feed((name, nth), place)

    def _feed(self, node: Node, place: str) -> None:
        """Two drops, or at times the same as two lines of one drop each."""
        left_leg = int(self.zones.way[node] < 0)
        if self.sketch.chance(15):
            for side, leg in (("left", left_leg), ("right", 1 - left_leg)):
                if not self.slip():
                    self._drop(f"{self.wire(node, leg)} -> {node[0]}.{side}", place)
            return
        terminal = self.terminal(self.supply(node))
        crossed = left_leg ^ terminal.crossed ^ self.slip()
        self._drop(f"{terminal.name} -> {node[0]}", place, "crossed" if crossed else "")

    def _drop(self, wire: str, place: str, crossed: str = "") -> None:
        self.feeders.append(["feeder", wire, place, "22 AWG 20 cm" if self.quiet or place else "", crossed])

    # turnouts

    def leg(self, name: str, stock: str) -> int:
        """The leg that a turnout's through or diverging stock rail is on; `way` tells the left one's."""
        on_left = stock == ("diverging" if self.sketch.turnouts[name].hand == "left" else "through")
        return int(on_left != (self.zones.way[name, 0] > 0))

    def _style(self, turnout: Turnout) -> str:
        if turnout.build != "live-frog" or self.quiet:
            return "around frog" if turnout.build == "live-frog" else ""
        return self.rng.choice(("around frog", BARE, "delivered", "unit", "frog rails"))

    def _turnout(self, name: str) -> None:
        self._feed_stock(name)
        style, build = self.styles[name], self.sketch.turnouts[name].build
        words = "closure jumpers" if style == "unit" else style
        if words not in ("", "delivered") and not self.slip():
            self.work.append(["cut", name, words])
        if self._bonded(name) != self.slip() and build != "isolated-frog":
            self.work.append(["bond", name, "closure rails to stock rails"])
        lone = style in ("", "around frog", BARE, "unit")
        if build != "dead-frog" and (lone or self.sketch.chance(50)) != self.slip():
            self._frog(name)
        if style in ("frog rails", BARE):
            self._feed_frog_rails(name)

    def _bonded(self, name: str) -> bool:
        """Closure rails that nothing else would feed are bonded; others may be, where it does no harm."""
        style, build = self.styles[name], self.sketch.turnouts[name].build
        if style in ("unit", BARE):
            return True
        if build == "dead-frog" or style == "around frog":
            fed = all(self._flows(self.sketch.end(name, route)) for route in FROG_ENDS)
            return not fed or self.sketch.chance(30)
        return False

    def _bond_by_habit(self) -> None:
        """Where one turnout of plastic frogs is bonded, a quiet plan has all of them bonded, as people do it."""
        plastic = [name for name, one in self.sketch.turnouts.items() if one.build == "dead-frog"]
        bonded = {one[1] for one in self.work if one[0] == "bond"}
        for name in plastic if self.quiet and bonded.intersection(plastic) else ():
            if name not in bonded:
                self.work.append(["bond", name, "closure rails to stock rails"])

    def _feed_stock(self, name: str) -> None:
        """Stock rails that do not go on in a fed segment at the points get wires of their own."""
        if not self._flows(f"{name}.points"):
            for route in FROG_ENDS:
                if not self.slip():
                    end = self.sketch.end(name, route)
                    self._drop(f"{self.wire((name, 0), self.leg(name, route))} -> {end}.stock", "")

    def _feed_frog_rails(self, name: str) -> None:
        for route, wanted in zip(FROG_ENDS, FROG_ENDS[::-1], strict=True):
            end = self.sketch.end(name, route)
            if not self._flows(end) and not self.slip():
                self._drop(f"{self.wire((name, 0), self.leg(name, wanted))} -> {end}.frog", "")

    def _frog(self, name: str) -> None:
        """Through wants what the diverging stock rail carries, diverging what the through one does."""
        kind = self.rng.randrange(100)
        if self.slips and kind < 5:
            self.frogs.append(["frog", name, 'unpowered because "nothing short runs here"'])
        elif kind < 25:
            self.frogs.append(["frog", name, "switched from stock rails"])
        elif kind < 45:
            self.frogs.append(["frog", name, f"automatic {self.terminal(self.supply((name, 0))).name}"])
        else:
            mover = f"with {self.rng.choice(list(self.sketch.turnouts))} " if self.slip() else ""
            legs = self.leg(name, "diverging"), self.leg(name, "through")
            through, diverging = (self.wire((name, 0), leg) for leg in legs)
            self.frogs.append(["frog", name, f"switched {mover}through {through} diverging {diverging}"])


def frog_side(turnout: Turnout, route: str) -> str:
    """The side, looking out of a route's end, on which its frog rail comes out."""
    return "left" if (turnout.hand == "left") == (route == "through") else "right"


def flip(side: str) -> str:
    return "right" if side == "left" else "left"
