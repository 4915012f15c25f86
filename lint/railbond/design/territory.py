"""Which supply feeds which track: by the wires that are there, by sections and cuts, and else by what lies around."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from railbond.circuit.facts import Facts
from railbond.circuit.polarity import part_of
from railbond.circuit.signed_graph import Part, beyond
from railbond.fixes.section import part_length
from railbond.fixes.sections import is_marked

Parts = frozenset[Part]
NOWHERE: Mapping[Part, str] = MappingProxyType({})


def regions(facts: Facts, sections: Mapping[Part, str] = NOWHERE) -> list[Parts]:
    """Track that hangs together where no cut marks a boundary, or over a frog that belongs to both of its parts, the
    longest first. `sections` holds the reversing sections."""
    left = {(name, part): None for name, piece in facts.layout.pieces.items() for part in range(piece.template.parts)}
    found = []
    while left:
        start = next(iter(left))
        own, queue = {start}, [start]
        for here in queue:
            ahead = [beyond(seam, here) for seam in facts.turning.seams_at.get(here, ()) if not is_marked(facts, seam)]
            ahead += [one for one in one_frog(facts, here[0]) if sections.get(one) == sections.get(here)]
            new = [one for one in dict.fromkeys(ahead) if one not in own]
            own.update(new)
            queue += new
        for part in own:
            left.pop(part, None)
        found.append(frozenset(own))
    return sorted(found, key=lambda own: -length_of(facts, own))


def one_frog(facts: Facts, name: str) -> list[Part]:
    """The parts of a piece that cross over frogs of metal: one supply must feed them, as it does the frogs."""
    template = facts.layout.pieces[name].template
    return [(name, part) for part in range(template.parts)] if template.frogs and template.parts > 1 else []


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
    supplies = facts.layout.supplies.values()
    behind = frozenset[str]().union(*(one.hangs_on for one in supplies))
    return [one.name for one in supplies if one.kind != "reverser" and one.name not in used | behind]


def territory(facts: Facts, sections: dict[Part, str]) -> dict[Part, str]:
    """The supply of every part. `sections` holds that of the reversing sections that are chosen."""
    found: dict[Part, str] = {}
    waiting: list[Parts] = []
    for parts in regions(facts, sections):
        own = [sections[part] for part in parts if part in sections] or wired(facts, parts)
        if own:
            found |= dict.fromkeys(parts, own[0])
        else:
            waiting.append(parts)
    spare = [name for name in idle(facts) if name not in sections.values()]
    for parts in waiting:
        supply = next(iter(spare), "") or _around(facts, parts, found) or _first(facts)
        spare = [name for name in spare if name != supply]
        found |= dict.fromkeys(parts, supply)
    return found


def _around(facts: Facts, parts: Parts, found: dict[Part, str]) -> str:
    """The fixed supply on the other side of a boundary; where that is a block, the district in which it lies."""
    supplies, beside = facts.layout.supplies, list[str]()
    for part in sorted(parts):
        for seam in facts.turning.seams_at.get(part, ()):
            name = found.get(beyond(seam, part), "")
            if name and supplies[name].kind != "reverser":
                beside.append(name)
    fixed = [name for name in beside if supplies[name].kind != "block" or not supplies[name].district]
    return next(iter([*fixed, *(supplies[name].district or "" for name in beside)]), "")


def _first(facts: Facts) -> str:
    supplies = facts.layout.supplies.values()
    kinds = ("district", "plug", "block", "cab")
    return next((one.name for kind in kinds for one in supplies if one.kind == kind), "")
