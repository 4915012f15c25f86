"""From a layout to its net: turnouts and the like are nodes, and plain track between them makes strands."""

from __future__ import annotations

from math import ceil

from railbond.layout.model import EndAt, Layout, Piece

from .net import Kind, Net, Node, Strand
from .pit_size import lanes_of, reach
from .scissored import PLACES, inner_joints, scissors


def skeleton(layout: Layout) -> Net:
    """The net of all track of a layout, as its plan draws it: no node is turned yet."""
    return _Walk(layout).net


def plain(piece: Piece) -> bool:
    """Whether a piece is nothing but track that goes on from one end to another."""
    return bool(piece.template.length)


class _Walk:
    """Follows the track from node to node. `port` is the dart that leaves a node by each end of its piece."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.net = Net()
        self.beyond: dict[EndAt, EndAt] = {}
        for meeting in layout.meetings:
            self.beyond[meeting.one], self.beyond[meeting.other] = meeting.other, meeting.one
        self.edges = {edge.end: edge.name for edge in layout.edges.values() if edge.end}
        self.stops = set(layout.stops)
        self.seen: set[str] = set()
        self.port: dict[EndAt, int] = {}
        joined = [piece for piece in layout.pieces.values() if not plain(piece)]
        self.node: dict[str, int] = {}
        self.inner: set[EndAt] = set()
        for stem in scissors(layout):
            self._assemble(stem)
        for piece in joined:
            if piece.name not in self.node:
                self.node[piece.name] = self.net.add(Node("piece", piece.name))
        for piece in joined:
            self._strands_of(piece)
        for piece in layout.pieces.values():
            if plain(piece) and piece.name not in self.seen:
                self._plain(piece)
        for piece in joined:
            if piece.name not in self.net.aside:
                self._lay(piece)
        for stem in self.net.scissors:
            self._lay_scissors(stem)

    def _assemble(self, stem: str) -> None:
        """One node for the five pieces of a scissors crossover."""
        self.net.scissors[stem] = node = self.net.add(Node("piece", stem))
        self.node |= {f"{stem}-{part}": node for part in PLACES}
        self.net.aside |= {f"{stem}-{part}": place for part, place in PLACES.items()}
        self.inner |= {end for pair in inner_joints(stem) for end in pair}

    def _strands_of(self, piece: Piece) -> None:
        for end in piece.template.ends:
            start = EndAt(piece.name, end)
            if start not in self.port and start not in self.inner:
                there = self.beyond.get(start)
                chain, last = self._follow(there) if there else ((), start)
                self._strand(chain, start, last)

    def _follow(self, entered: EndAt) -> tuple[tuple[EndAt, ...], EndAt]:
        """The plain pieces from one on, each by the end entered, and what comes last: the end of a node's piece,
        or the end past which there is nothing (in a ring: nothing new)."""
        chain = []
        here: EndAt | None = entered
        last = entered
        while here and here.piece not in self.node and here.piece not in self.seen:
            self.seen.add(here.piece)
            chain.append(here)
            last = self._far(here)
            here = self.beyond.get(last)
        return tuple(chain), here if here and here.piece in self.node else last

    def _far(self, entered: EndAt) -> EndAt:
        ends = self.layout.pieces[entered.piece].template.ends
        return EndAt(entered.piece, next(end for end in ends if end != entered.end))

    def _plain(self, piece: Piece) -> None:
        """Track without any turnout: from its one end to the other, or round in a ring."""
        first, second = (EndAt(piece.name, end) for end in piece.template.ends)
        back, last = self._follow(second)
        self.seen -= {entered.piece for entered in back}
        if last in self.beyond:
            chain, last = self._follow(first)
            self._ring(chain)
        else:
            chain, far = self._follow(last)
            self._strand(chain, last, far)

    def _strand(self, chain: tuple[EndAt, ...], start: EndAt, last: EndAt) -> None:
        """A strand between two ends, each that of a node's piece or one past which there is nothing."""
        one = self.node.get(start.piece)
        other = self.node.get(last.piece) if last != start else None
        one = self._terminal(start) if one is None else one
        other = self._terminal(last) if other is None else other
        dart = self.net.pair(one, other)
        for end, leaving in ((start, dart), (last, dart ^ 1)):
            node = self.net.nodes[self.net.at[leaving]]
            if node.kind == "piece":
                self.port[end] = leaving
            else:
                (node.east if leaving == dart else node.west).append(leaving)
        self.net.strands.append(Strand([dart], chain, start, last))

    def _ring(self, chain: tuple[EndAt, ...]) -> None:
        node = self.net.add(Node("ring", chain[0].piece))
        dart = self.net.pair(node, node)
        self.net.nodes[node].east, self.net.nodes[node].west = [dart], [dart ^ 1]
        self.net.nodes[node].straight = [(dart ^ 1, dart)]
        self.net.strands.append(Strand([dart], chain, chain[0], self._far(chain[-1])))

    def _terminal(self, end: EndAt) -> int:
        kind: Kind = "edge" if end in self.edges else "stop" if end in self.stops else "loose"
        return self.net.add(Node(kind, self.edges.get(end, str(end))))

    def _lay(self, piece: Piece) -> None:
        """Puts the darts of a piece's node where its outline has them."""
        node, drawn = self.net.nodes[self.node[piece.name]], piece.template.outline
        dart = {end: self.port[EndAt(piece.name, end)] for end in piece.template.ends}
        self.net.piece |= dict.fromkeys(dart.values(), piece.name)
        node.west = [dart[end] for end in drawn.west]
        node.east = [dart[end] for end in drawn.east]
        node.straight = [(dart[one], dart[other]) for one, other in drawn.straight]
        node.even = drawn.even
        if drawn.tall:
            self.net.tall[piece.name] = reach(piece)
            if piece.template.bridge and node.around:
                self._keep_free(self.node[piece.name], piece.name, lanes_of(piece))

    def _keep_free(self, number: int, name: str, lanes: int) -> None:
        """Above and below the tracks of a table as many lanes as its pit is high, in which no other track may lie."""
        node = self.net.nodes[number]
        side = max(node.west, node.east, key=len)
        spare = ceil((lanes - len(side)) / 2)
        for place in [*[0] * spare, *[len(side) + spare] * spare]:
            end = self.net.add(Node("room", ""))
            dart = self.net.pair(number, end)
            side.insert(place, dart)
            (self.net.nodes[end].east if side is node.west else self.net.nodes[end].west).append(dart ^ 1)
            self.net.piece[dart] = name
            self.net.strands.append(Strand([dart], (), EndAt(name, ""), EndAt(name, "")))

    def _lay_scissors(self, stem: str) -> None:
        node = self.net.nodes[self.node[f"{stem}-x"]]
        dart = {part: self.port[EndAt(f"{stem}-{part}", "points")] for part in PLACES if part != "x"}
        self.net.piece |= {one: f"{stem}-{part}" for part, one in dart.items()}
        node.west, node.east = [dart["a1"], dart["b1"]], [dart["a2"], dart["b2"]]
        node.straight = [(dart["a1"], dart["a2"]), (dart["b1"], dart["b2"])]
