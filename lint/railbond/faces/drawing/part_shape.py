"""What the layout of one part of a drawing hangs on, and nothing else: its net numbered from 0, its pieces named by
their places in it. Two parts of one shape are laid out alike, whatever their track is called."""

from __future__ import annotations

from typing import NamedTuple

from .net import Kind, Net, Node, Strand

Darts = tuple[int, ...]


class NodeShape(NamedTuple):
    """A node; of its name only what is written beside it counts, and only where something is."""

    kind: Kind
    written: str
    west: Darts
    east: Darts
    straight: tuple[tuple[int, int], ...]
    even: bool


class StrandShape(NamedTuple):
    """A strand's darts, the room that each piece on it needs, and that of the piece which lies in two rows."""

    darts: Darts
    rooms: tuple[float, ...]
    halved: float


class PartShape(NamedTuple):
    """A part's own net as plain values, that can be known again."""

    nodes: tuple[NodeShape, ...]
    at: Darts
    strands: tuple[StrandShape, ...]
    piece: tuple[tuple[int, str], ...]
    crossovers: tuple[tuple[int, int], ...]
    leads: tuple[tuple[int, str, int], ...]
    tall: tuple[tuple[str, int], ...]
    apexes: tuple[str, ...]
    level: tuple[tuple[str, int], ...]
    scissors: tuple[tuple[str, int], ...]
    aside: tuple[tuple[str, int], ...]

    def net(self) -> Net:
        """The net of this part alone; its strands have no pieces."""
        nodes = [
            Node(one.kind, one.written, list(one.west), list(one.east), list(one.straight), one.even)
            for one in self.nodes
        ]
        return Net(
            nodes, list(self.at), dict(self.piece), crossovers=dict(self.crossovers), tall=dict(self.tall),
            apexes=set(self.apexes), leads={dart: (piece, up) for dart, piece, up in self.leads},
            level=dict(self.level), scissors=dict(self.scissors), aside=dict(self.aside),
        )  # fmt: skip


class PartNumbers:
    """How the nodes, darts and pieces of one part are numbered: in their own order, so that what is the first of two
    stays so."""

    def __init__(self, net: Net, nodes: list[int], strands: list[Strand]) -> None:
        self.nodes = sorted(nodes)
        self.darts = sorted(dart for strand in strands for one in strand.darts for dart in (one, one ^ 1))
        self.node = {node: number for number, node in enumerate(self.nodes)}
        self.dart = {dart: number for number, dart in enumerate(self.darts)}
        self.name: dict[str, str] = {}
        for dart in self.darts:
            if piece := net.piece.get(dart):
                self.name.setdefault(piece, self._named(net, piece))

    def _named(self, net: Net, piece: str) -> str:
        """The five pieces of a scissors crossover keep the ends of their names, by which they are known."""
        if piece not in net.aside:
            return str(len(self.name))
        stem, _, part = piece.rpartition("-")
        return f"{self.node[net.scissors[stem]]}.-{part}"


def shape_of(net: Net, rooms: dict[str, float], numbers: PartNumbers, strands: list[Strand]) -> PartShape:
    """The shape of one part."""
    dart, node, name = numbers.dart, numbers.node, numbers.name
    return PartShape(
        tuple(_node(net.nodes[one], dart) for one in numbers.nodes),
        tuple(node[net.at[one]] for one in numbers.darts),
        tuple(_strand(one, rooms, dart) for one in strands),
        tuple((dart[one], name[net.piece[one]]) for one in numbers.darts if one in net.piece),
        tuple((dart[one], up) for one, up in net.crossovers.items() if one in dart),
        tuple((dart[one], name[piece], up) for one, (piece, up) in net.leads.items() if one in dart),
        tuple((own, net.tall[piece]) for piece, own in name.items() if piece in net.tall),
        tuple(own for piece, own in name.items() if piece in net.apexes),
        tuple((own, dart[net.level[piece]]) for piece, own in name.items() if piece in net.level),
        tuple((f"{node[one]}.", node[one]) for one in net.scissors.values() if one in node),
        tuple((own, net.aside[piece]) for piece, own in name.items() if piece in net.aside),
    )


def _node(node: Node, dart: dict[int, int]) -> NodeShape:
    return NodeShape(
        node.kind,
        node.name.rpartition(".")[2] if node.kind in ("edge", "fold") else "",
        tuple(dart[one] for one in node.west),
        tuple(dart[one] for one in node.east),
        tuple((dart[one], dart[other]) for one, other in node.straight),
        node.even,
    )


def _strand(strand: Strand, rooms: dict[str, float], dart: dict[int, int]) -> StrandShape:
    own = tuple(rooms[entered.piece] for entered in strand.chain)
    return StrandShape(tuple(dart[one] for one in strand.darts), own, rooms[strand.halved] if strand.half else 0.0)
