"""Where a reversing section goes on a stretch of track that turns back on itself, and the edits that make it."""

from __future__ import annotations

from typing import NamedTuple

from railbond.circuit.facts import Facts
from railbond.circuit.forest import Part, Seam
from trackplan.edit import Edit, add_line, replace
from trackplan.span import Span
from trackplan.statements import Feeder, Reverser, where

from .mends import beside, local, seam_edits


class Section(NamedTuple):
    """Parts of plain track in a row, the two seams at their ends, and their length in metres along the track."""

    parts: tuple[Part, ...]
    ends: tuple[Seam, Seam]
    length: float


def sections(facts: Facts, cycle: list[Seam]) -> list[Section]:
    """The stretches of plain track between the turnouts of an odd cycle, the longest first."""
    parts = _walk(cycle)
    plain = [not facts.layout.pieces[part[0]].template.positions for part in parts]
    if all(plain):
        return []
    first = plain.index(False)
    order = [(first + 1 + step) % len(parts) for step in range(len(parts))]
    found, run = [], list[int]()
    for index in order:
        if plain[index]:
            run.append(index)
        elif run:
            found.append(_section(facts, parts, cycle, run))
            run = []
    return sorted(found, key=lambda one: -one.length)


def _walk(cycle: list[Seam]) -> list[Part]:
    """The part behind each seam of a cycle: part i lies between seam i and the next."""
    if len(cycle) == 1:
        return [cycle[0].one]
    parts: list[Part] = []
    for seam, after in zip(cycle, [*cycle[1:], cycle[0]], strict=True):
        shared = {seam.one, seam.other} & {after.one, after.other}
        parts.append(next(iter(shared - set(parts)), next(iter(shared))))
    return parts


def _section(facts: Facts, parts: list[Part], cycle: list[Seam], run: list[int]) -> Section:
    chosen = tuple(parts[index] for index in run)
    ends = cycle[run[0]], cycle[(run[-1] + 1) % len(cycle)]
    return Section(chosen, ends, sum(part_length(facts, part) for part in chosen))


def part_length(facts: Facts, part: Part) -> float:
    """Metres of a segment's part; nothing for other trackwork."""
    piece = facts.layout.pieces[part[0]]
    if piece.template.positions:
        return 0.0
    length = max(metal.stop for metal in piece.template.metals)
    marks = [0.0, *(link.offset for link in piece.template.links), length]
    return marks[part[1] + 1] - marks[part[1]]


def reverse(facts: Facts, section: Section) -> tuple[str, tuple[Edit, ...]]:
    """The new reverser's name, and the edits that gap the section and feed it from that reverser."""
    name = _new_name(facts)
    edits = [edit for seam in section.ends for edit in seam_edits(facts, seam, (0, 1))]
    feeders = _feeders(facts, section)
    near = facts.layout.pieces[section.parts[0][0]].statement.at
    district, after = _district(facts, section, near)
    edits.append(add_line(beside(facts, Reverser, after), f"reverser {name}  in {district}"))
    if not feeders:
        longest = max(section.parts, key=lambda part: part_length(facts, part))
        segment = local(facts.layout.pieces[longest[0]])
        edits.append(add_line(beside(facts, Feeder, near), f"feeder {name} -> {segment}"))
    for feeder in feeders:
        supply = feeder.supply
        leg = f".{supply.rpartition('.')[2]}" if "." in feeder.rail else ""
        edits.append(replace(where(feeder, supply), name + leg))
    return name, tuple(edits)


def _feeders(facts: Facts, section: Section) -> list[Feeder]:
    """The feeders whose drops land on the section."""
    from railbond.circuit.polarity import part_side

    found = {
        drop.statement.at: drop.statement
        for drop in facts.layout.drops
        if part_side(facts.wiring, drop.piece, drop.metal)[0] in section.parts
    }
    return list(found.values())


def _district(facts: Facts, section: Section, near: Span) -> tuple[str, Span]:
    """The district that the section belongs to by its feeders, else the plan's first; and where it is declared."""
    fed = [name for one in _feeders(facts, section) for name in _supplies(facts, one)]
    for name in [*fed, *facts.layout.supplies]:
        supply = facts.layout.supplies[name]
        if supply.kind in ("district", "plug"):
            return name.rpartition(".")[2], supply.statement.at
        if supply.district is not None:
            return supply.district.rpartition(".")[2], supply.statement.at
    return "main", near


def _supplies(facts: Facts, feeder: Feeder) -> list[str]:
    drops = (drop for drop in facts.layout.drops if drop.statement is feeder)
    return sorted({name for drop in drops for name in facts.supply_of_wire.get(drop.wire.name, ())})


def _new_name(facts: Facts) -> str:
    taken = {str(getattr(one, "name", "")) for one in facts.statements}
    return next(f"R{number}" for number in range(1, len(taken) + 2) if f"R{number}" not in taken)
