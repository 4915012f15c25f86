"""Which supplies feed a section, and which reverser was meant for it."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.keeping import once
from railbond.circuit.polarity import part_of
from railbond.circuit.signed_graph import Part
from railbond.layout.order import supplies_by_name

from .section import Section
from .wires_around import carries


def reverser_for(facts: Facts, section: Section) -> str | None:
    """A reverser that was meant for a section: it has wires to there only, or, for one without power, to nowhere."""
    fed, parts = fed_parts(facts), _feeding(facts)
    inside = {name for part in section.parts for name in parts.get(part, ())}
    outside = {name for name in inside if not fed[name] <= set(section.parts)}
    own = [name for name in inside - outside if facts.layout.supplies[name].kind == "reverser"]
    if inside:
        return own[0] if len(inside) == len(own) == 1 else None
    return next(iter(spare_reversers(facts)), None) if not carries(facts, section.parts) else None


def spare_reversers(facts: Facts) -> list[str]:
    """The reversers that have a wire to nowhere."""
    used = fed_parts(facts)
    return [name for name, one in supplies_by_name(facts.layout) if one.kind == "reverser" and name not in used]


@once
def fed_parts(facts: Facts) -> dict[str, set[Part]]:
    """For each supply that a wire leads to track from, the parts that it does."""
    found: dict[str, set[Part]] = {}
    for part, wire in wired_parts(facts):
        for name in _behind(facts, wire):
            found.setdefault(name, set()).add(part)
    return found


@once
def _feeding(facts: Facts) -> dict[Part, set[str]]:
    """For each part with wires the supplies that they come from."""
    found: dict[Part, set[str]] = {}
    for name, parts in fed_parts(facts).items():
        for part in parts:
            found.setdefault(part, set()).add(name)
    return found


def _behind(facts: Facts, wire: str) -> frozenset[str]:
    return facts.supply_of_wire.get(wire, frozenset())


def wired_parts(facts: Facts) -> Iterator[tuple[Part, str]]:
    """Every part that a wire goes to, a frog's too, with that wire's name."""
    for drop in facts.layout.drops:
        yield part_of(facts.wiring, drop), drop.wire.name
    for feed in facts.layout.frogs.values():
        for wire in feed.contacts.values():
            yield (feed.piece, 0), wire.name
