"""A bound that no place's resistance exceeds, found without solving anything, so that sound plans stay fast.

Whatever else is joined to it, the resistance between two points is at most that of any one way between them
(Rayleigh). So each metal is reached by some way from its supply: by a drop of its own, counted with the longest way
along it to the nearest one, else from a neighbor, counted with its whole length. Metal that some settings feed only
is counted from the worst of what it touches.
"""

from __future__ import annotations

from collections.abc import Container
from itertools import pairwise

from railbond.circuit.proof import Proof
from railbond.circuit.wiring import Wiring
from railbond.layout.model import Drop, Piece

from .materials import Materials
from .since import SinceBefore
from .wires import Statement, length_of, size_of

Legs = dict[tuple[str, int], float]


def bounds(wiring: Wiring, proof: Proof, materials: Materials) -> dict[str, float] | None:
    """Ohms for each supply, both legs together, that no place's loop exceeds; None where no such way is at hand."""
    layout = wiring.layout
    if layout.commons or any(supply.choices for supply in layout.supplies.values()):
        return None
    return None if any(drop.when for drop in layout.drops) else _Bound(wiring, proof, materials).legs_together()


def rise(changed: SinceBefore, before: Wiring, after: Wiring, materials: Materials) -> float:
    """Ohms by which no place's bound has risen: each of the ways that are counted has every wire and every metal in it
    at most once."""
    wires: list[tuple[Statement, Statement]] = [(old.statement, new.statement) for old, new in changed.drops]
    wires += [(old.statement, new.statement) for old, new in changed.runs]
    more = [_wire(after, materials, new) - _wire(before, materials, old) for old, new in wires]
    for old, new in changed.pieces.values():
        metals = zip(old.template.metals, new.template.metals, strict=True)
        lengths = ((was.stop - was.start, now.stop - now.start) for was, now in metals)
        more += [materials.rail(new) * now - materials.rail(old) * was for was, now in lengths]
    were, are = (_soldered(wiring, changed.pieces, materials) for wiring in (before, after))
    more += [are[at] - were[at] for at in are.keys() & were.keys()]
    return sum(one for one in more if one > 0)


def _soldered(wiring: Wiring, pieces: Container[str], materials: Materials) -> dict[int, float]:
    """For each metal of some pieces to which wires are soldered at places, the ohms to the nearest of these."""
    own: dict[int, list[Drop]] = {}
    for drop in wiring.layout.drops:
        if drop.piece in pieces:
            own.setdefault(wiring.metal(drop.piece, drop.metal), []).append(drop)
    ways = ((conductor, _to_nearest(wiring, materials, drops)) for conductor, drops in own.items())
    return {conductor: way for conductor, way in ways if way is not None}


def _wire(wiring: Wiring, materials: Materials, wire: Statement) -> float:
    size, length = size_of(wiring.layout, wire), length_of(wiring.layout, wire)
    return materials.wire(size, length) if size and length is not None else float("inf")


def _to_nearest(wiring: Wiring, materials: Materials, drops: list[Drop]) -> float | None:
    """Ohms of the longest way along a metal to the nearest of its drops; None where these have no places."""
    places = [drop.place for drop in drops if drop.place is not None]
    if not places:
        return None
    piece = wiring.layout.pieces[drops[0].piece]
    _, _, start, stop = piece.template.metals[drops[0].metal]
    if len(places) == 1:
        return materials.rail(piece) * max(places[0] - start, stop - places[0])
    places.sort()
    between = max(other - one for one, other in pairwise(places))
    return materials.rail(piece) * max(places[0] - start, stop - places[-1], between / 2)


class _Bound:
    """`whole` is each metal's ohms from end to end, and `reached` for each conductor what no place of it exceeds, or
    None; by their numbers, of which those of metals come first."""

    def __init__(self, wiring: Wiring, proof: Proof, materials: Materials) -> None:
        self.wiring, self.proof, self.materials = wiring, proof, materials
        self.whole = self._whole()
        self.reached: list[float | None] = [None] * len(wiring.graph.names)
        for conductor, source in wiring.graph.sources.items():
            if source.kind != "unit":
                self.reached[conductor] = 0.0
        self._run_wires()
        self._solder_drops()
        self._touch(self._cross_joints())

    def legs_together(self) -> dict[str, float] | None:
        legs: Legs = {}
        for component, ohms in self._by_component().items():
            for source, _ in self.proof.reachable_of(component):
                if source.kind != "unit":
                    if ohms is None:
                        return None
                    leg = source.supply, source.leg
                    legs[leg] = max(legs.get(leg, 0.0), ohms)
        return {name: legs.get((name, 0), 0.0) + legs.get((name, 1), 0.0) for name, _ in legs}

    def _by_component(self) -> dict[int, float | None]:
        """What no place of each component exceeds; None where one of its metals is not reached."""
        worst: dict[int, float | None] = {}
        component, reached = self.proof.component, self.reached
        for conductor in (*self.wiring.graph.rails, *self.wiring.graph.frogs):
            own, ohms = component[conductor], reached[conductor]
            known = worst.get(own, 0.0)
            if ohms is None or (known is not None and ohms >= known):
                worst[own] = ohms
        return worst

    def _whole(self) -> list[float]:
        """Worked out once for all pieces of one template."""
        found: list[float] = []
        known: dict[int, list[float]] = {}
        for piece in self.wiring.pieces:
            own = known.get(id(piece.template))
            if own is None:
                own = known[id(piece.template)] = self._metals(piece)
            found += own
        return found

    def _metals(self, piece: Piece) -> list[float]:
        ohms = self.materials.rail(piece)
        across = 0.0 if piece.template.length else 2 * self.materials.half_length(piece)
        return [ohms * (metal.stop - metal.start or across) for metal in piece.template.metals]

    def _wire(self, wire: Statement) -> float:
        return _wire(self.wiring, self.materials, wire)

    def _run_wires(self) -> None:
        beside: dict[int, list[tuple[int, float]]] = {}
        for run in self.wiring.layout.runs:
            ohms = self._wire(run.statement)
            for leg in (0, 1):
                one = self.wiring.wires[run.source] + leg
                other = self.wiring.wires[run.terminal] + (1 - leg if run.crossed else leg)
                beside.setdefault(one, []).append((other, ohms))
                beside.setdefault(other, []).append((one, ohms))
        self._spread(beside)

    def _spread(self, beside: dict[int, list[tuple[int, float]]]) -> None:
        """Reaches what lies beside what is reached, by the fewest steps."""
        reached = self.reached
        queue = [(one, known) for one in beside if (known := reached[one]) is not None]
        for here, known in queue:
            for there, ohms in beside.get(here, ()):
                if reached[there] is None:
                    reached[there] = more = known + ohms
                    queue.append((there, more))

    def _solder_drops(self) -> None:
        own: dict[int, list[Drop]] = {}
        furthest: dict[int, float] = {}
        wires, first, ohms, last = self.wiring.wires, self.wiring.first, 0.0, None
        for drop in self.wiring.layout.drops:
            (name, leg), piece, metal, _, statement, _ = drop
            reached = self.reached[wires[name] + leg]
            if reached is not None:
                if statement is not last:  # both wires of a pair are as long and as thick
                    ohms, last = self._wire(statement), statement
                conductor = first[piece] + metal
                if conductor in own:
                    own[conductor].append(drop)
                    furthest[conductor] = max(furthest[conductor], reached + ohms)
                else:
                    own[conductor], furthest[conductor] = [drop], reached + ohms
        for conductor, drops in own.items():
            way = _to_nearest(self.wiring, self.materials, drops)
            self.reached[conductor] = furthest[conductor] + (self.whole[conductor] if way is None else way)

    def _cross_joints(self) -> list[tuple[int, int]]:
        """Goes on along metal, and gives what touches in some setting only."""
        beside: dict[int, list[tuple[int, float]]] = {}
        touching: list[tuple[int, int]] = []
        reached, whole, joiner = self.reached, self.whole, self.materials.joiner
        for one, other, when, kind, _ in self.wiring.graph.bonds:
            if when is not None:
                touching.append((one, other))
            elif kind in ("joint", "build", "bond"):
                over = joiner if kind == "joint" else 0.0
                if reached[other] is None:
                    beside.setdefault(one, []).append((other, over + whole[other]))
                if reached[one] is None:
                    beside.setdefault(other, []).append((one, over + whole[one]))
        self._spread(beside)
        return touching

    def _touch(self, touching: list[tuple[int, int]]) -> None:
        """Metal that only blades and contacts feed: a component of it is counted whole, from the worst that it touches.
        Where it touches another such component, no way is at hand."""
        component, components = self.proof.component, dict[int, list[int]]()
        for conductor, known in enumerate(self.reached[: len(self.whole)]):
            if known is None:
                components.setdefault(component[conductor], []).append(conductor)
        worst: dict[int, float] = {}
        for one, other in touching if components else ():
            if (own := component[one]) != (beyond := component[other]):
                for lump, there in ((own, other), (beyond, one)):
                    if lump in components:
                        known = self.reached[there]
                        worst[lump] = max(worst.get(lump, 0.0), float("inf") if known is None else known)
        for lump, ohms in worst.items():
            whole = sum([self.whole[one] + 2 * self.materials.joiner for one in components[lump]])
            for one in components[lump]:
                self.reached[one] = ohms + self.materials.contact + whole
