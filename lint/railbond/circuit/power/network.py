"""The resistors of a layout, and where its wires and rails have their nodes. `lay` builds it."""

from __future__ import annotations

from collections.abc import Mapping

from railbond.circuit.graph import Literal as Position
from railbond.circuit.wiring import Wiring
from railbond.layout.model import Layout, Wire
from railbond.layout.template import Metal
from trackplan.quantities import WireSize
from trackplan.record import NamedTuple
from trackplan.span import Span
from trackplan.typed import Literal

from .materials import Materials
from .nodes import Place
from .wires import Statement, length_of

Kind = Literal["wire", "rail", "joiner"]


class Resistor(NamedTuple):
    """A length of wire or rail, or a joiner, between two nodes. `at` is the line that it rests on."""

    one: int
    other: int
    ohms: float
    kind: Kind
    at: Span
    wire: Statement | None = None


class Rail(NamedTuple):
    """Rail from one node to another: from `start` to `stop` meters along its piece."""

    one: int
    other: int
    ohms: float
    start: float
    stop: float


class SwitchedTie(NamedTuple):
    """Two nodes in contact while a switch stands so."""

    one: int
    other: int
    when: Position
    at: Span | None


class Network(NamedTuple):
    """`rails` holds the rail of each segment's conductor in the order of its places, and `arms` that of a piece
    without a length from its middle to an end, by conductor and end; `ties` is what holds in some settings only;
    `roots` are the nodes at which a leg of a supply comes in, by its conductor. `size` is the number of nodes.
    """

    wiring: Wiring
    materials: Materials
    size: int
    nodes: dict[tuple[int, Place], int]
    resistors: list[Resistor]
    rails: dict[int, list[Rail]]
    arms: dict[tuple[int, str], Rail]
    ties: list[SwitchedTie]
    roots: dict[int, int]

    def wire(self, wire: Wire) -> int:
        """The node of one leg of a supply or terminal."""
        return self.nodes[self.wiring.wire(wire), None]

    def resized(self, layout: Layout, sizes: Mapping[Statement, WireSize]) -> Network:
        """The same with these wires in these sizes; of what has no length nothing changes."""
        known = ((wire, size, length_of(layout, wire)) for wire, size in sizes.items())
        ohms = {wire: self.materials.wire(size, float(length)) for wire, size, length in known if length}
        resistors = [one._replace(ohms=ohms[one.wire]) if one.wire in ohms else one for one in self.resistors]
        return self._replace(resistors=resistors)

    def middle(self, conductor: int) -> int:
        """The node at the middle of a metal without a length; of a segment's rail, where it begins."""
        rails = self.rails.get(conductor)
        return rails[0].one if rails else self.nodes[conductor, None]


def is_long(metal: Metal) -> bool:
    """Whether a metal is rail along a segment, with places to count."""
    return metal.stop > metal.start
