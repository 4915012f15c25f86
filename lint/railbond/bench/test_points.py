"""The places that a probe can touch: how the plan and the papers name them, and in which order one comes by."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.layout.model import Piece
from railbond.layout.template import rail_names

from .removable import Screws


class TestPoints:
    """Names of conductors as a plan would write them (`P1.red`, `west.left`, `T1.through.stock`, `T1.frog`)."""

    def __init__(self, facts: Facts, screws: Screws | None = None) -> None:
        """`screws` adds the ends of wires."""
        self.facts = facts
        self.bare = screws.bare if screws else {}
        self.name: dict[int, str] = {}
        self.order: dict[int, float] = {}
        """How far along the way around the layout each conductor is."""
        for place, piece in enumerate(_way(facts)):
            for metal, name in enumerate(_names(facts.layout.pieces[piece])):
                conductor = facts.wiring.metal(piece, metal)
                self.name[conductor], self.order[conductor] = name, place
        self._wires()
        for conductor, name in self.bare.items():
            self.name[conductor], self.order[conductor] = name, 0.0
        self.conductor = {name: conductor for conductor, name in self.name.items()}

    def _wires(self) -> None:
        """Terminals come just before the first of their drops, and supplies before their terminals."""
        layout, wiring, names = self.facts.layout, self.facts.wiring, self.facts.graph.names
        first: dict[str, float] = {}
        for drop in layout.drops:
            here = self.order[wiring.metal(drop.piece, drop.metal)] - 0.5
            first[drop.wire.name] = min(here, first.get(drop.wire.name, here))
        for run in reversed(layout.runs):
            here = first.get(run.terminal, 0.0) - 0.01
            first[run.source] = min(here, first.get(run.source, here))
        for name, base in wiring.wires.items():
            for conductor in (base, base + 1):
                self.name[conductor], self.order[conductor] = names[conductor], first.get(name, -1.0)
        self._units()

    def _units(self) -> None:
        """Automatic frog units: by the piece or the frog that they feed, and from the second on by number."""
        count: dict[str, int] = {}
        for conductor, source in self.facts.graph.sources.items():
            if source.kind == "unit":
                fed = source.supply.rpartition(" ")[2]
                count[fed] = count.get(fed, 0) + 1
                self.name[conductor] = f"{fed}.unit" + (f"-{count[fed]}" if count[fed] > 1 else "")
                self.order[conductor] = self.order[self.facts.wiring.first[self.facts.layout.frogs[fed].piece]]

    def rank(self, conductor: int) -> tuple[int, int]:
        """How handy a conductor is to touch: terminals, then plain track, then stock rails, then the rest."""
        if conductor in self.bare:
            return 4, conductor
        piece = self.facts.piece_of(conductor)
        if not piece:
            return 0, conductor
        if self.facts.layout.pieces[piece].template.length:
            return 1, conductor
        return (2 if "stock" in self.name[conductor] else 3), conductor


def _names(piece: Piece) -> Iterator[str]:
    """The name of each metal of a piece; a stretch of a cut segment by a place in its middle."""
    template = piece.template
    known = {metal: words for words, metal in rail_names(template).items()}
    for number, metal in enumerate(template.metals):
        if template.length:
            side = metal.words.partition(" ")[0]
            place = f" at {(metal.start + metal.stop) * 50:.4g} cm" if template.links else ""
            yield f"{piece.name}.{side}{place}"
        else:
            own = metal.words.removesuffix(" rail").replace(" ", "-")
            yield f"{piece.name}.{known.get(number, own)}"


def _way(facts: Facts) -> list[str]:
    """The pieces in the order in which a person comes by who follows the track."""
    found: dict[str, None] = {}
    for start in facts.layout.pieces:
        waiting = [start]
        while waiting:
            here = waiting.pop()
            if here not in found:
                found[here] = None
                others = [name for name, _, _ in facts.neighbors.get(here, ())]
                waiting += [name for name in reversed(dict.fromkeys(others)) if name not in found]
    return list(found)
