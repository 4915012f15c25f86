"""Which supply feeds which track: by the wires that are there, by sections and cuts, and else by what lies around."""

from __future__ import annotations

from collections.abc import Iterable

from railbond.circuit.balance import beyond
from railbond.circuit.facts import Facts
from railbond.circuit.polarity import part_of
from railbond.circuit.signed_graph import Part
from railbond.fixes.sections import is_marked, part_length

Parts = frozenset[Part]


def regions(facts: Facts) -> list[Parts]:
    """Track that hangs together where no cut marks a boundary, the longest first."""
    left = {(name, part): None for name, piece in facts.layout.pieces.items() for part in range(piece.template.parts)}
    found = []
    while left:
        start = next(iter(left))
        own, queue = {start}, [start]
        for here in queue:
            for seam in facts.turning.seams_at.get(here, ()):
                if not is_marked(facts, seam) and (there := beyond(seam, here)) not in own:
                    own.add(there)
                    queue.append(there)
        for part in own:
            left.pop(part, None)
        found.append(frozenset(own))
    return sorted(found, key=lambda own: -length_of(facts, own))


def length_of(facts: Facts, parts: Iterable[Part]) -> float:
    """Meters of plain track."""
    return sum(part_length(facts, part) for part in parts)


def wired(facts: Facts, parts: Parts) -> list[str]:
    """The supplies whose wires reach some parts, those with the most wires first."""
    counts: dict[str, int] = {}
    for drop in facts.layout.drops:
        if part_of(facts.wiring, drop) in parts:
            for name in facts.supply_of_wire.get(drop.wire.name, ()):
                counts[name] = counts.get(name, 0) + 1
    return sorted(counts, key=lambda name: -counts[name])


def idle(facts: Facts) -> list[str]:
    """Fixed supplies that feed no rail yet, and are not only there for blocks or reversers behind them."""
    used = {name for drop in facts.layout.drops for name in facts.supply_of_wire.get(drop.wire.name, ())}
    behind = {
        choice
        for one in facts.layout.supplies.values()
        for choice in (*one.choices, one.district or "")
        if choice != one.name
    }
    supplies = facts.layout.supplies.values()
    return [one.name for one in supplies if one.kind != "reverser" and one.name not in used | behind]


def territory(facts: Facts, sections: dict[Part, str]) -> dict[Part, str]:
    """The supply of every part. `sections` holds that of the reversing sections that are chosen."""
    found: dict[Part, str] = {}
    waiting: list[Parts] = []
    for parts in regions(facts):
        own = [sections[part] for part in parts if part in sections] or wired(facts, parts)
        if own:
            found |= dict.fromkeys(parts, own[0])
        else:
            waiting.append(parts)
    spare = idle(facts)
    for parts in waiting:
        supply = _called(spare, parts) or _around(facts, parts, found) or next(iter(spare), "") or _first(facts)
        spare = [name for name in spare if name != supply]
        found |= dict.fromkeys(parts, supply)
    return found


def _called(spare: list[str], parts: Parts) -> str:
    """An idle block that is called as a piece of this track is."""
    names = {name for name, _ in parts}
    return next((name for name in spare if name in names), "")


def _around(facts: Facts, parts: Parts, found: dict[Part, str]) -> str:
    """The fixed supply on the other side of a boundary."""
    for part in sorted(parts):
        for seam in facts.turning.seams_at.get(part, ()):
            name = found.get(beyond(seam, part), "")
            if name and facts.layout.supplies[name].kind != "reverser":
                return name
    return ""


def _first(facts: Facts) -> str:
    supplies = facts.layout.supplies.values()
    kinds = ("district", "plug", "block", "cab")
    return next((one.name for kind in kinds for one in supplies if one.kind == kind), "")
