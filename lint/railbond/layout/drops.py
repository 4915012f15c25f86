"""The wires soldered to rails: what each feeder puts where.

A fault in a feeder does not undo it: its wires are soldered as nearly as can be told, so that the rail is not
told as dead besides.
"""

from __future__ import annotations

from bisect import bisect_right

from railbond.findings import Step
from trackplan.record import new
from trackplan.statements import Feeder, where

from .contacts import When, contacts_of, halves, tell_no_ring
from .cuts import MICROMETER
from .ends import Ends
from .model import Drop, Piece, Wire
from .names import Names, called, listed
from .symbols import SymbolTable
from .template import Side, Template, rail_names
from .terminals import Terminals


def make_drops(symbols: SymbolTable, names: Names, ends: Ends, power: Terminals) -> list[Drop]:
    """The drops of all feeders, in the plan's order."""
    dropper = Dropper(names, ends, power)
    for feeder in symbols.of(Feeder):
        dropper.when = contacts_of(feeder, names, ends.pieces)
        dropper.solder(feeder, names.whole(feeder.rail))
    return dropper.drops


class Dropper:
    """Solders feeders to metals."""

    def __init__(self, names: Names, ends: Ends, power: Terminals) -> None:
        self.names = names
        self.ends = ends
        self.pieces = ends.pieces
        self.power = power
        self.drops: list[Drop] = []
        self.when: When = None
        self._named: dict[int, dict[str, Side | int]] = {}

    def solder(self, feeder: Feeder, whole: str) -> None:
        """A pair to a segment, or one wire to one rail of a segment or of special trackwork."""
        piece = self._piece(whole)
        if piece is None:
            self._unknown(feeder)
        elif whole == f"{piece.name}.bridge" and piece.template.bridge:
            self._bridge(feeder, piece)
        elif whole == piece.name and piece.template.length:
            self._pair(feeder, piece)
        elif (rail := self._rail(piece, whole[len(piece.name) + 1 :])) is not None:
            self._single(feeder, piece, rail)
        else:
            self._no_such_rail(feeder, piece, whole, self._rails(piece))

    def _piece(self, whole: str) -> Piece | None:
        """The piece to which a rail's name belongs: `T1` for `T1.through.stock`."""
        while whole and whole not in self.pieces:
            whole = whole.rpartition(".")[0]
        return self.pieces.get(whole)

    def _rails(self, piece: Piece) -> dict[str, Side | int]:
        """The rails of a piece that one wire can go to: a segment's by side, others by metal."""
        if piece.template.length:
            return {f"{piece.name}.left": "left", f"{piece.name}.right": "right"}
        return {f"{piece.name}.{words}": metal for words, metal in rail_names(piece.template).items()}

    def _rail(self, piece: Piece, words: str) -> Side | int | None:
        """The one of them that is called so; looked up once for all pieces of one template."""
        known = self._named.get(id(piece.template))
        if known is None:
            known = {whole[len(piece.name) + 1 :]: rail for whole, rail in self._rails(piece).items()}
            self._named[id(piece.template)] = known
        return known.get(words)

    def _pair(self, feeder: Feeder, piece: Piece) -> None:
        tell_no_ring(feeder, self.names)
        name, leg = self.power.locate(feeder, feeder.supply)
        if leg:
            self._mismatch(feeder, f"one wire, `{feeder.supply}`, to both rails", name, piece)
        left, right = self.power.wires(name, feeder.crossed is not None)
        self._on_segment(feeder, piece, (("left", left), ("right", right)))

    def _bridge(self, feeder: Feeder, piece: Piece) -> None:
        """A pair to a table's bridge, which a split ring lays one way in half of the positions."""
        name, leg = self.power.locate(feeder, feeder.supply)
        if leg:
            self._mismatch(feeder, f"one wire, `{feeder.supply}`, to both rails of the bridge", name, piece)
        self._tell_placeless(feeder, piece)
        for crossed, when in halves(feeder, piece, self.names) or [(False, self.when)]:
            legs = (0, 1) if crossed == (feeder.crossed is not None) else (1, 0)
            for metal, wire in zip(piece.template.bridge or (), legs, strict=False):
                self._on_metal(feeder, piece, metal, self.power.wires(name)[wire], when)

    def _single(self, feeder: Feeder, piece: Piece, rail: Side | int) -> None:
        tell_no_ring(feeder, self.names)
        name, leg = self.power.locate(feeder, feeder.supply)
        if feeder.crossed is not None:
            message = "one wire has nothing to be crossed with: name the other leg, or the other rail"
            self.names.fault("impossible", feeder, feeder.crossed, message, name=feeder.rail)
        wire = self._wire(feeder, piece, rail, name, leg)
        if wire and isinstance(rail, str):
            self._on_segment(feeder, piece, ((rail, wire),))
        elif wire and not isinstance(rail, str):
            self._tell_placeless(feeder, piece)
            self._on_metal(feeder, piece, rail, wire, self.when)

    def _wire(self, feeder: Feeder, piece: Piece, rail: Side | int, name: str, leg: str) -> Wire | None:
        """The wire of a single drop; where both are named for one rail, which is told, the one that suits."""
        if leg:
            return self.power.leg(feeder, feeder.supply, name, leg)
        self._mismatch(feeder, f"both wires of `{feeder.supply}` to one rail", name, piece)
        return self.power.wires(name)[rail == "right"] if isinstance(rail, str) else None

    def _on_metal(self, feeder: Feeder, piece: Piece, metal: int, wire: Wire, when: When) -> None:
        self.drops.append(Drop(wire, piece.name, metal, None, feeder, when))

    def _tell_placeless(self, feeder: Feeder, piece: Piece) -> None:
        if feeder.place is not None:
            kind = called(piece.statement)
            message = f"a rail of {kind} has no places to count: leave `at {feeder.place.text}` out"
            self.names.fault("impossible", feeder, feeder.place, message, name=feeder.rail)

    def _on_segment(self, feeder: Feeder, piece: Piece, wires: tuple[tuple[Side, Wire], ...]) -> None:
        """Solders to the stretches of a segment's rails at the feeder's place (at a cut, the next)."""
        place, template = self._place(feeder, piece), piece.template
        metals = [_stretch(template, side, place) for side, _ in wires]
        if template.links and place > 0 and any(template.metals[metal].start == place for metal in metals):
            message = f"`{piece.statement.name}` is cut here: solder the feeder beside the gap"
            self.names.fault("impossible", feeder, feeder.place, message, why=_cuts(piece), name=feeder.rail)
        for metal, (_, wire) in zip(metals, wires, strict=True):
            self.drops.append(new(Drop, (wire, piece.name, metal, place, feeder, self.when)))

    def _place(self, feeder: Feeder, piece: Piece) -> float:
        """Meters from the segment's start: the middle unless said, and never past its end."""
        length = piece.template.length
        if feeder.place is None:
            if piece.template.links:
                self._say_where(feeder, piece)
            return round(length / 2, MICROMETER)
        if feeder.place > length and round(feeder.place, MICROMETER) > round(length, MICROMETER):
            self._past_the_end(feeder, piece)
        return round(min(feeder.place, length), MICROMETER)

    def _past_the_end(self, feeder: Feeder, piece: Piece) -> None:
        name, length = piece.statement.name, piece.statement.length  # type: ignore[union-attr]
        message = f"`{name}` is {length.text} long: expected a place on it"
        why = (Step(where(piece.statement, length), f"the length of `{name}`"),)
        self.names.fault("impossible", feeder, feeder.place, message, why=why, name=feeder.rail)

    def _say_where(self, feeder: Feeder, piece: Piece) -> None:
        example = f"`feeder {feeder.supply} -> {feeder.rail} at 20 cm`"
        message = f"`{piece.statement.name}` is cut within, so say where the feeder goes, such as {example}"
        self.names.fault("impossible", feeder, feeder.rail, message, why=_cuts(piece))

    def _mismatch(self, feeder: Feeder, what: str, name: str, piece: Piece) -> None:
        """Tells that the number of wires is not that of the rails, with both forms that are right."""
        typed, leg = self.names.typed(name), self.power.legs[name][0]
        rail = self.names.typed(next(iter(self._rails(piece))))
        forms = [f"feeder {typed}.{leg} -> {rail}"]
        if piece.template.length or piece.template.bridge:
            bridge = ".bridge" if piece.template.bridge else ""
            forms.insert(0, f"feeder {typed} -> {piece.statement.name}{bridge}")
        message = f"{what} cannot be soldered: expected {listed(forms, 'or')}"
        self.names.fault("impossible", feeder, feeder.rail, message)

    def _no_such_rail(self, feeder: Feeder, piece: Piece, whole: str, rails: dict[str, Side | int]) -> None:
        """Tells that a piece or an end is named where a rail is meant, or a rail that the piece has not."""
        typed = self.names.typed(whole)
        known = [self.names.typed(rail) for rail in rails]
        if whole == piece.name or whole in self.ends.named:
            wanted = [piece.statement.name, *known] if piece.template.length else known
            message = f"a wire is soldered to a rail, and `{typed}` is none: expected {listed(wanted, 'or')}"
            self.names.fault("impossible", feeder, feeder.rail, message)
        elif not self.names.silent(whole):
            near = self.names.near(whole, rails)
            message = f"`{typed}` is no rail to solder to; expected {listed(known, 'or')}"
            self.names.misspelled(feeder, feeder.rail, message, near)
            if near:
                self._single(feeder, piece, rails[near])

    def _unknown(self, feeder: Feeder) -> None:
        name, dot, rest = feeder.rail.partition(".")
        whole, tail = self.names.whole(name), dot + rest
        near = self.names.unknown(feeder, feeder.rail, whole, "segment or turnout", self.pieces, tail)
        if near and not rest:
            self.solder(feeder, near)
        elif near and near + tail in self._rails(self.pieces[near]):
            self._single(feeder, self.pieces[near], self._rails(self.pieces[near])[near + tail])


def _stretch(template: Template, side: Side, place: float) -> int:
    """The metal of a segment's rail at a place. Looking out of its start one looks against its arrow."""
    start, finish = template.ends["start"], template.ends["finish"]
    first, last = (start.right, finish.left) if side == "left" else (start.left, finish.right)
    if first == last:
        return first
    return bisect_right(template.metals, place, first, last + 1, key=lambda metal: metal.start) - 1


def _cuts(piece: Piece) -> tuple[Step, ...]:
    return tuple(Step(where(gap), f"`{piece.statement.name}` is cut here") for gap in piece.work)
