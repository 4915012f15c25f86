"""From a layout to its network of resistors.

A segment's rail is cut into resistors at the places where something is joined to it. A piece that has no length of
its own in the plan (a turnout) is a star for each metal: half its estimated length from the middle to each end, with
all that is tied to the metal at its middle. What has no resistance (solder, ties within a piece) is one node.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from railbond.circuit.graph import Bond
from railbond.circuit.wiring import Wiring
from railbond.layout.model import Drop, EndAt, Piece, Wire
from railbond.layout.template import OTHER_SIDE, Template
from trackplan.quantities import WireSize
from trackplan.record import NamedTuple, new
from trackplan.span import Span

from .materials import materials
from .network import Kind, Network, Rail, Resistor, SwitchedTie, is_long
from .nodes import Nodes, Place
from .wires import NO_CHANGES, Changes, Statement, length_of, size_of


def lay(wiring: Wiring, changes: Changes = NO_CHANGES) -> Network:
    """The network of a layout, with some wires changed or added in the head."""
    laying = _Laying(wiring, changes)
    laying.lay_rails()
    laying.join_pieces()
    laying.tie_metals()
    laying.run_wires()
    return laying.network()


def place_at(wiring: Wiring, at: EndAt, side: str) -> tuple[int, Place]:
    """The conductor and the place on it at an end of a piece, on a side looking out."""
    metal, place = _place(wiring.layout.pieces[at.piece].template, at.end, side)
    return wiring.first[at.piece] + metal, place


def _place(template: Template, name: str, side: str) -> tuple[int, Place]:
    end = template.ends[name]
    number = end.side(side)
    metal = template.metals[number]
    if is_long(metal):
        return number, metal.stop if end.leaves else metal.start
    return number, name


class _Form(NamedTuple):
    """What pieces of one template have in common: the ohms of a meter of rail; half the length of what has no places,
    and the metals that go from its middle to an end; and where the rails of its ends lie."""

    rail: float
    half: float
    arms: list[tuple[int, str]]
    places: dict[tuple[str, str], tuple[int, Place]]


class _Laying:
    """A network in the making: nodes still have their first numbers."""

    def __init__(self, wiring: Wiring, changes: Changes) -> None:
        self.wiring = wiring
        self.layout = wiring.layout
        self.changes = changes
        self.materials = materials(wiring.layout)
        self.forms: dict[int, _Form] = {}
        """Of each template, by its identity."""
        self.nodes = Nodes()
        self.resistors: list[tuple[int, int, float, Kind, Span, Statement | None]] = []
        self.rails: dict[int, list[Rail]] = {}
        self.arms: dict[tuple[int, str], Rail] = {}
        self.ties: list[SwitchedTie] = []

    def _link(self, one: int, other: int, ohms: float, kind: Kind, at: Span, wire: Statement | None = None) -> None:
        if ohms > 0:
            self.resistors.append((one, other, ohms, kind, at, wire))
        else:
            self.nodes.merge(one, other)

    def _rail(self, piece: Piece, one: int, other: int, start: float, stop: float) -> Rail:
        ohms = self._form(piece).rail * (stop - start)
        self._link(one, other, ohms, "rail", piece.statement.at)
        return new(Rail, (one, other, ohms, start, stop))

    def _form(self, piece: Piece) -> _Form:
        template = piece.template
        known = self.forms.get(id(template))
        if known is None:
            ends = template.ends.items()
            metals = ((metal, name) for name, end in ends for metal in (end.left, end.right))
            arms = [arm for arm in metals if not is_long(template.metals[arm[0]])]
            places = {(name, side): _place(template, name, side) for name in template.ends for side in OTHER_SIDE}
            known = _Form(self.materials.rail(piece), self.materials.half_length(piece), arms, places)
            self.forms[id(template)] = known
        return known

    def lay_rails(self) -> None:
        drops, at = self._drop_places(), self.nodes.at
        for piece in self.layout.pieces.values():
            first = self.wiring.first[piece.name]
            for index, metal in enumerate(piece.template.metals, first):
                if metal.stop > metal.start:
                    marks = sorted({metal.start, metal.stop, *drops.get(index, ())})
                    nodes = [at(index, mark) for mark in marks]
                    ends = pairwise(zip(nodes, marks, strict=True))
                    self.rails[index] = [self._rail(piece, a, b, x, y) for (a, x), (b, y) in ends]
                else:
                    at(index)
            form = self._form(piece)
            for number, end in form.arms:  # from the middle of a piece without lengths to its ends
                index = first + number
                self.arms[index, end] = self._rail(piece, at(index), at(index, end), 0.0, form.half)

    def _drop_places(self) -> dict[int, set[float]]:
        places: dict[int, set[float]] = {}
        for drop in (*self.layout.drops, *(drop for drop, _, _ in self.changes.drops)):
            if drop.place is not None:
                places.setdefault(self.wiring.metal(drop.piece, drop.metal), set()).add(drop.place)
        return places

    def join_pieces(self) -> None:
        """Puts a joiner, or solder, between rails that meet and are not gapped."""
        soldered = self.layout.soldered
        for one, other, gaps, at in ((m.one, m.other, m.gaps, m.at) for m in self.layout.meetings):
            ohms = 0.0 if soldered and (one in soldered or other in soldered) else self.materials.joiner
            for side, beyond in OTHER_SIDE.items():
                if side not in gaps:
                    self._link(self._end(one, side), self._end(other, beyond), ohms, "joiner", at)

    def _end(self, at: EndAt, side: str) -> int:
        metal, place = self._form(self.layout.pieces[at.piece]).places[at.end, side]
        return self.nodes.at(self.wiring.first[at.piece] + metal, place)

    def tie_metals(self) -> None:
        """Merges what is always tied within a piece, and notes what is in some positions only."""
        feeders = {drop.statement.at for drop in self.layout.drops if drop.when}
        for bond in self.wiring.graph.bonds:
            if bond.kind in ("build", "bond", "touch", "contact") and bond.at not in feeders:
                self._tie(bond)

    def _tie(self, bond: Bond) -> None:
        one, other = self._middle(bond.one), self._middle(bond.other)
        if bond.when is None:
            self.nodes.merge(one, other)
        else:
            self.ties.append(new(SwitchedTie, (one, other, bond.when, bond.at)))

    def _middle(self, conductor: int) -> int:
        rails = self.rails.get(conductor)
        return rails[0].one if rails else self.nodes.at(conductor)

    def run_wires(self) -> None:
        for one, other, statement, told, length in (*self._runs(), *self._drops()):
            size = self.changes.sizes.get(statement, told)
            if size and length is not None:  # else it is left out, and what it feeds is not worked out
                self._link(one, other, self.materials.wire(size, length), "wire", statement.at, statement)
        for common in self.layout.commons:
            for one, other in pairwise(map(self._wire, common.legs)):
                self.nodes.merge(one, other)
        for conductor in self.wiring.graph.sources:
            self.nodes.at(conductor)

    def _runs(self) -> Iterator[tuple[int, int, Statement, WireSize | None, float | None]]:
        for run in self.layout.runs:
            for leg in (0, 1):
                far = Wire(run.terminal, 1 - leg if run.crossed else leg)
                ends = self._wire(Wire(run.source, leg)), self._wire(far)
                yield *ends, run.statement, size_of(self.layout, run.statement), run.statement.length

    def _drops(self) -> Iterator[tuple[int, int, Statement, WireSize | None, float | None]]:
        for drop in self.layout.drops:
            wire = size_of(self.layout, drop.statement), length_of(self.layout, drop.statement)
            yield self._wire(drop.wire), self._behind_contacts(drop), drop.statement, *wire
        for drop, size, length in self.changes.drops:
            yield self._wire(drop.wire), self._soldered(drop), drop.statement, size, length

    def _behind_contacts(self, drop: Drop) -> int:
        """The end of a drop's wire: the rail itself, or contacts that touch it in some positions only."""
        soldered = self._soldered(drop)
        if drop.when is None:
            return soldered
        mover, positions = drop.when
        place = f"contacts of {drop.statement.at} {positions}"
        end = self.nodes.at(self.wiring.metal(drop.piece, drop.metal), place)
        literals = (self.wiring.literal(mover, position) for position in positions)
        self.ties += [SwitchedTie(end, soldered, when, drop.statement.at) for when in literals]
        return end

    def _wire(self, wire: Wire) -> int:
        return self.nodes.at(self.wiring.wire(wire))

    def _soldered(self, drop: Drop) -> int:
        return self.nodes.at(self.wiring.metal(drop.piece, drop.metal), drop.place)

    def network(self) -> Network:
        """The network, its merged nodes renumbered."""
        numbers, nodes = self.nodes.numbers()
        for rails in self.rails.values():
            rails[:] = [new(Rail, (numbers[one], numbers[other], *rest)) for one, other, *rest in rails]
        arms = {key: new(Rail, (numbers[one], numbers[other], *rest)) for key, (one, other, *rest) in self.arms.items()}
        resistors = [new(Resistor, (numbers[one], numbers[other], *rest)) for one, other, *rest in self.resistors]
        ties = [new(SwitchedTie, (numbers[one], numbers[other], *rest)) for one, other, *rest in self.ties]
        sources = self.wiring.graph.sources
        roots = {conductor: nodes[conductor, None] for conductor, one in sources.items() if one.kind != "unit"}
        size = max(numbers, default=-1) + 1
        return Network(self.wiring, self.materials, size, nodes, resistors, self.rails, arms, ties, roots)
