"""Where a new feeder goes, which wire it comes from, and which way round the track asks for it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from functools import cached_property

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.polarity import Polarity, part_side
from railbond.findings import Fix
from railbond.layout.model import Piece
from railbond.layout.supplies import LEGS
from railbond.layout.template import rail_names
from trackplan.edit import Edit, add_line
from trackplan.statements import Booster, District, Feeder

from .fix_edits import beside, length_words, local
from .rings import best_ring
from .wires_around import supplies_beside, wire_around
from .wires_nearby import is_reversing


def feed(facts: Facts, conductors: Iterable[int], wire: str = "") -> Fix | None:
    """A feeder for every component among the conductors, to the longest rails that the language can name.

    It comes from `wire` where one is named, else from that of the track around: what lies beside a rail of another
    supply than the rest, as beyond a gap, from that.
    """
    wanted = list(conductors)
    groups = [] if wire else _by_supply(facts, wanted)
    if len(groups) > 1:
        return _together([fix for own in groups if (fix := feed(facts, own, wire_around(facts, own)))])
    fix = _Feeding(facts, wanted, wire).fix()
    if fix is None or not any(piece.template.bridge for piece in facts.layout.pieces.values()):
        return fix
    return min((fix, _Feeding(facts, wanted, wire, turned=True).fix()), key=lambda one: _opposed(facts, one))


def _by_supply(facts: Facts, conductors: list[int]) -> list[list[int]]:
    """The conductors by the supply of the rails beside them; those that have none beside them belong together."""
    of_component: dict[int, list[int]] = {}
    for one in conductors:
        of_component.setdefault(facts.proof.component[one], []).append(one)
    found: dict[frozenset[str], list[int]] = {}
    for own in of_component.values():
        found.setdefault(supplies_beside(facts, own), []).extend(own)
    return list(found.values())


def _together(fixes: list[Fix]) -> Fix | None:
    lines = tuple(edit for fix in fixes for edit in fix.edits)
    return Fix(f"solder a feeder: {'; '.join(edit.says for edit in lines)}", lines) if lines else None


def _opposed(facts: Facts, fix: Fix | None) -> int:
    """How many passes of wheels go from leg to leg once a feeder is laid: over a pit no metal tells which way round."""
    tried = facts.tried(fix.edits) if fix else None
    return len(tried.opposed) if tried else MANY


MANY = 1_000_000
"""More passes than there are."""


@once
def _metals_of(facts: Facts) -> dict[int, list[tuple[Piece, int]]]:
    """The metals of each component that hangs together in every setting, but for frogs: piece and number."""
    found: dict[int, list[tuple[Piece, int]]] = {}
    for piece in facts.wiring.pieces:
        for index, metal in enumerate(piece.template.metals):
            if not metal.frog:
                component = facts.proof.component[facts.wiring.metal(piece.name, index)]
                found.setdefault(component, []).append((piece, index))
    return found


class _Feeding:
    def __init__(self, facts: Facts, conductors: list[int], wire: str, turned: bool = False) -> None:
        self.turned = turned
        self.facts = facts
        self.conductors = conductors
        self.wanted = dict.fromkeys(facts.proof.component[conductor] for conductor in conductors)
        self.wire = wire or wire_around(facts, conductors)
        self.fed: set[int] = set()

    def fix(self) -> Fix | None:
        lines = [one for piece, metal in self._by_length() if (one := self._line(piece, metal))]
        if not lines:
            return None
        words = "; ".join(edit.says for edit in lines)
        return Fix(f"solder a feeder: {words}", (*self._opening(), *lines))

    def _opening(self) -> tuple[Edit, ...]:
        """Lines for a first supply where the plan has none."""
        if self.wire:
            return ()
        at, lines = self.facts.statements[0].at, ("booster B1  15 V  5 A", "district main  from B1")
        kinds = zip((Booster, District), lines, strict=True)
        return tuple(add_line(beside(self.facts, kind, at), line) for kind, line in kinds)

    def _by_length(self) -> list[tuple[Piece, int]]:
        """Every metal of the wanted components, in the order in which a wire is best soldered to them."""
        metals = _metals_of(self.facts)
        order = {name: number for number, name in enumerate(self.facts.layout.pieces)} if len(self.wanted) > 1 else {}
        found = [one for component in self.wanted for one in metals.get(component, ())]
        found.sort(key=lambda one: (order.get(one[0].name, 0), one[1]))
        return sorted(found, key=_named_and_long)

    def _lump(self, piece: Piece, metal: int) -> int:
        return self.facts.proof.component[self.facts.wiring.metal(piece.name, metal)]

    def _line(self, piece: Piece, metal: int) -> Edit | None:
        """A pair of drops where both rails want one at the same place, else a single drop; None where no name fits."""
        if self._lump(piece, metal) in self.fed:
            return None
        lay = self._drops if piece.template.is_plain else self._drop
        text = self._bridge(piece) if metal in (piece.template.bridge or ()) else lay(piece, metal)
        if not text:
            return None
        says = " ".join(text.split()).replace("->", "to")
        return add_line(beside(self.facts, Feeder, piece.statement.at), f"feeder {text}", says)

    def _bridge(self, piece: Piece) -> str:
        """A pair to a table's bridge, with a split ring where it is turned and no reverser turns its polarity."""
        self.fed |= {self._lump(piece, metal) for metal in piece.template.bridge or ()}
        ring = None if is_reversing(self.facts, self.wire) else best_ring(self.facts, piece)
        turned = f"{'  crossed' * ring.crossed}  split at {ring.angle:g} degrees" if ring else "  crossed" * self.turned
        return f"{self.wire_words} -> {local(piece)}.bridge{self._size}{turned}"

    def _drop(self, piece: Piece, metal: int) -> str | None:
        """One drop to a turnout's rail."""
        rail = _rail_name(piece, metal)
        if rail is None:
            return None
        self.fed.add(self._lump(piece, metal))
        return f"{self._leg(piece, metal)} -> {local(piece)}.{rail}{self._size}"

    def _drops(self, piece: Piece, metal: int) -> str:
        """One or two drops to a segment's rails."""
        stretch = piece.template.metals[metal]
        place = f" at {length_words((stretch.start + stretch.stop) / 2)}" if piece.template.links else ""
        mate = self._mate(piece, metal)
        if mate is None and self._is_bare(piece):
            mate = self._opposite(piece, metal)
        self.fed.add(self._lump(piece, metal))
        if mate is None:
            return f"{self._leg(piece, metal)} -> {local(piece)}.{stretch.words.split()[0]}{place}{self._size}"
        self.fed.add(self._lump(piece, mate))
        left = metal if stretch.words == "left rail" else mate
        crossed = "  crossed" if self._phase(piece, left) else ""
        return f"{self.wire_words} -> {local(piece)}{place}{self._size}{crossed}"

    def _is_bare(self, piece: Piece) -> bool:
        """Whether no wire goes to a piece of a common rail: there a pair is soldered too, though one of it would do."""
        layout = self.facts.layout
        return bool(layout.commons) and all(drop.piece != piece.name for drop in layout.drops)

    def _opposite(self, piece: Piece, metal: int) -> int | None:
        """The rail beside another, where nothing is cut."""
        rails = range(len(piece.template.metals))
        return next((one for one in rails if one != metal), None) if len(rails) == 2 else None

    def _mate(self, piece: Piece, metal: int) -> int | None:
        """The other rail at the middle of a stretch, if that wants a feeder too."""
        stretch = piece.template.metals[metal]
        middle = (stretch.start + stretch.stop) / 2
        for index, other in enumerate(piece.template.metals):
            if other.words != stretch.words and other.start < middle < other.stop:
                component = self._lump(piece, index)
                return (
                    index
                    if component in self.wanted and component not in self.fed | {self._lump(piece, metal)}
                    else None
                )
        return None

    @cached_property
    def polarity(self) -> Polarity:
        return self.facts.polarity

    @cached_property
    def _size(self) -> str:
        return usual_size(self.facts, self.wire)

    @property
    def wire_words(self) -> str:
        return self.wire.rpartition(".")[2] or "main"

    def _phase(self, piece: Piece, metal: int) -> int:
        """Which leg a rail asks for; in a plan without a supply the first part's left rail takes the first one."""
        if self.wire:
            return self.polarity.leg(self.wire, piece.name, metal) ^ self.turned
        part, left = part_side(self.facts.wiring, piece.name, metal)
        return left == self.facts.turning.forest.signs[part][1]

    def _leg(self, piece: Piece, metal: int) -> str:
        """The wire with the leg that a rail asks for: `P1.red`."""
        legs = self.facts.layout.legs_of(self.wire) if self.wire else LEGS
        return f"{self.wire_words}.{legs[self._phase(piece, metal)]}"


def _named_and_long(rail: tuple[Piece, int]) -> tuple[float, bool]:
    """Long rails before short ones, and those at a piece's end before what lies within it."""
    piece, index = rail
    metal = piece.template.metals[index]
    return metal.start - metal.stop, "." not in (_rail_name(piece, index) or "")


def usual_size(facts: Facts, wire: str) -> str:
    """Size and length as most feeders have them, those of the same terminal first; nothing where none has."""
    counts = _sizes(facts).get(wire) or _sizes(facts).get("")
    return "  {}  {}".format(*max(counts, key=counts.__getitem__)) if counts else ""


@once
def _sizes(facts: Facts) -> dict[str, Counter[tuple[str, str]]]:
    """How many feeders of each size and length each wire has; all of them under no name."""
    found = defaultdict[str, Counter[tuple[str, str]]](Counter)
    for drop in facts.layout.drops:
        one = drop.statement
        if one.size and one.length:
            for name in ("", drop.wire.name):
                found[name][one.size.text, one.length.text] += 1
    return dict(found)


def _rail_name(piece: Piece, metal: int) -> str | None:
    """`through.frog`: how the language names a rail of a piece without length."""
    return next((words for words, index in rail_names(piece.template).items() if index == metal), None)
