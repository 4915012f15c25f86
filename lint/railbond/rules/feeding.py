"""Where a new feeder goes, and which way round the track asks for it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from railbond.circuit.facts import Facts
from railbond.circuit.polarity import polarities
from railbond.findings import Fix
from railbond.layout.model import Piece
from railbond.layout.template import Metal
from trackplan.edit import Edit, add_line
from trackplan.statements import Booster, District, Feeder, Segment

from .mends import beside, length_words, local


def feed(facts: Facts, conductors: Iterable[int]) -> Fix | None:
    """A feeder for every lump among the conductors, to the longest rails that the language can name."""
    wire, opening = _wire(facts)
    wanted = dict.fromkeys(facts.always.lump[conductor] for conductor in conductors)
    lines, words, fed = [], [], set[int]()
    for piece, metal in _by_length(facts, wanted):
        lump = facts.always.lump[facts.wiring.metal(piece.name, metal)]
        if lump not in fed and (line := _line(facts, piece, metal, wire, wanted, fed)):
            lines.append(add_line(beside(facts, Feeder, piece.statement.at), line))
            words.append(" ".join(line.split()[1:]).replace("->", "to"))
    if not lines:
        return None
    return Fix(f"solder a feeder: {'; '.join(words)}", (*opening, *lines))


def _wire(facts: Facts) -> tuple[tuple[str, tuple[str, str]], tuple[Edit, ...]]:
    """The wire that feeders mostly come from, with its legs; lines for a first supply where there is none."""
    used = Counter(drop.wire.name for drop in facts.layout.drops if _is_plain(facts, drop.wire.name))
    plain = [name for name in (*facts.layout.terminals, *facts.layout.supplies) if _is_plain(facts, name)]
    for name, _ in [*used.most_common(1), *((name, 0) for name in plain)]:
        supply = facts.layout.supplies.get(name)
        return (name.rpartition(".")[2], supply.legs if supply else facts.layout.terminals[name]), ()
    at = facts.statements[0].at
    lines = ("booster B1  15 V  5 A", "district main  from B1")
    kinds = (Booster, District)
    return ("main", ("red", "black")), tuple(
        add_line(beside(facts, kind, at), line) for kind, line in zip(kinds, lines, strict=True)
    )


def _is_plain(facts: Facts, name: str) -> bool:
    supplies = facts.supply_of_wire.get(name, frozenset())
    return bool(supplies) and all(facts.layout.supplies[one].kind in ("district", "plug") for one in supplies)


def _by_length(facts: Facts, wanted: dict[int, None]) -> list[tuple[Piece, int]]:
    """Every metal of the wanted lumps, the longest rails first and turnouts' rails last."""
    found = [
        (piece, index)
        for piece in facts.layout.pieces.values()
        for index, metal in enumerate(piece.template.metals)
        if not metal.frog and facts.always.lump[facts.wiring.metal(piece.name, index)] in wanted
    ]
    return sorted(found, key=lambda one: _length(one[0].template.metals[one[1]]), reverse=True)


def _length(metal: Metal) -> float:
    return metal.stop - metal.start


def _line(
    facts: Facts, piece: Piece, metal: int, wire: tuple[str, tuple[str, str]], wanted: dict[int, None], fed: set[int]
) -> str | None:
    """A pair of drops where both rails want one at the same place, else a single drop; None where no name fits."""
    name, legs = wire
    conductor = facts.wiring.metal(piece.name, metal)
    phase = polarities(facts.turning).get(conductor, metal != 0)
    if not isinstance(piece.statement, Segment):
        rail = _rail_name(piece, metal)
        fed.add(facts.always.lump[conductor])
        return f"feeder {name}.{legs[phase]} -> {local(piece)}.{rail}" if rail else None
    stretch = piece.template.metals[metal]
    place = f" at {length_words((stretch.start + stretch.stop) / 2)}" if piece.template.links else ""
    mate = _mate(facts, piece, metal, wanted, fed)
    fed.add(facts.always.lump[conductor])
    if mate is not None:
        fed.add(mate)
        side_phase = phase if stretch.words == "left rail" else not phase
        return f"feeder {name} -> {local(piece)}{place}{'  crossed' if side_phase else ''}"
    return f"feeder {name}.{legs[phase]} -> {local(piece)}.{stretch.words.split()[0]}{place}"


def _mate(facts: Facts, piece: Piece, metal: int, wanted: dict[int, None], fed: set[int]) -> int | None:
    """The lump of the other rail at the middle of a stretch, if that wants a feeder too."""
    stretch = piece.template.metals[metal]
    middle = (stretch.start + stretch.stop) / 2
    for index, other in enumerate(piece.template.metals):
        if other.words != stretch.words and other.start < middle < other.stop:
            lump = facts.always.lump[facts.wiring.metal(piece.name, index)]
            return lump if lump in wanted and lump not in fed else None
    return None


def _rail_name(piece: Piece, metal: int) -> str | None:
    """`through.frog`: how the language names a turnout's rail."""
    for name, end in piece.template.ends.items():
        for words, side in end.rails.items():
            if end.side(side) == metal:
                return f"{name}.{words.split()[0]}"
    return None
