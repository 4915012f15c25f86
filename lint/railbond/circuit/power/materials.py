"""What the metal of a plan is made of: as its lines say, and as is usual where they do not."""

from __future__ import annotations

from railbond.circuit.running import METER
from railbond.circuit.running.frogs import frog_places, size_of
from railbond.circuit.running.standards import standard
from railbond.layout.limits import limit
from railbond.layout.model import Layout, Piece
from trackplan.quantities import WireSize
from trackplan.record import NamedTuple

from .copper import resistivity
from .rail import rail_resistivity

USUAL_METAL = "nickel-silver"


class Materials(NamedTuple):
    """Resistances in ohms; `code` and `metal` are those of rail whose piece does not say its own."""

    celsius: float
    joiner: float
    contact: float
    code: float
    metal: str
    scale: str | None

    def rail(self, piece: Piece) -> float:
        """Ohms of each meter of one rail of a piece."""
        code, metal = piece.template.shape.code or self.code, piece.template.shape.metal or self.metal
        return rail_resistivity(code, metal, self.celsius)

    def half_length(self, piece: Piece) -> float:
        """Meters from the middle of a piece that is no plain track to any of its ends: of a table's bridge, or as
        trains find it too, estimated from the number of its frog."""
        if length := piece.template.shape.length:
            return length / 2
        ends = tuple(piece.template.ends)[:2]
        length, _ = frog_places(piece, size_of(piece, self.scale, self.code), (ends[0], ends[-1]), "left", 0)
        return length / METER / 2

    def wire(self, size: WireSize, length: float) -> float:
        """Ohms of one leg."""
        return resistivity(size, self.celsius) * length


def materials(layout: Layout) -> Materials:
    """What a plan's metal is taken for."""
    names = ("temperature", "joiner-resistance", "contact-resistance")
    celsius, joiner, contact = (limit(layout, name) or 0.0 for name in names)
    rails = layout.rails
    code = float(rails.code) if rails else float(standard(layout.scale).rail_code)
    metal = str((rails and rails.metal) or USUAL_METAL)
    return Materials(celsius, joiner, contact, code, metal, layout.scale)
