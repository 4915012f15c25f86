"""The reversing sections: the fewest, each as long as the longest train where there is track for it."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.signed_graph import Part
from railbond.fixes.reversers import free_reverser
from railbond.fixes.section import Section, is_plain
from railbond.fixes.section_supplies import reverser_for, wired_parts
from railbond.fixes.sections import Turn, turns

from .best_section import best_section
from .cutting import between, cuts
from .draft import Draft, WrittenLine, in_words
from .lengths import Lengths

LATER = 0.75
"""A reverser must act before the breaker in front of it: at that share of its current."""


def reversing_sections(draft: Draft, lengths: Lengths) -> dict[Part, str]:
    """Writes the cuts and reversers that turning track asks for; each part of a section with its reverser."""
    facts = draft.facts
    found = {part: name for part, name in _marked(facts)}
    for turn in turns(facts) if _has_digital_power(facts) else ():
        section = best_section(facts, turn)
        if section is None:
            continue
        taken = {name for part, name in found.items() if part not in section.parts}
        own = reverser_for(facts, section)
        name = own if own and own not in taken else free_reverser(facts, taken)
        draft.write(*_lines(facts, turn, section, name, lengths))
        found |= dict.fromkeys(section.parts, name)
    return found


def _has_digital_power(facts: Facts) -> bool:
    """Whether there is a supply behind which an auto-reverser works: throttles have none."""
    return any(one.kind in ("district", "plug") for one in facts.layout.supplies.values())


def _marked(facts: Facts) -> Iterator[tuple[Part, str]]:
    """Parts that a reverser feeds already."""
    for part, wire in wired_parts(facts):
        for name in facts.supply_of_wire.get(wire, ()):
            if facts.layout.supplies[name].kind == "reverser":
                yield part, name


def _lines(facts: Facts, turn: Turn, section: Section, name: str, lengths: Lengths) -> Iterator[WrittenLine]:
    longest = max((float(train.length) for train in facts.layout.trains), default=0.0)
    others = len(turn.sections) - (section in turn.sections)
    long = f", {lengths.about(section.length)}" + (f" for a train of {lengths.about(longest)}" if longest else "")
    chosen = f"the best of {others + 1} places{long}" if others else f"the only place found{long}"
    pieces = list(dict.fromkeys(part for part, _ in sorted(section.parts, key=lambda one: not is_plain(facts, one))))
    where = in_words(pieces[:3] + (["more"] if len(pieces) > 3 else []))
    if name not in facts.layout.supplies:
        district = _district(facts)
        trips = facts.layout.supplies[district].statement if district in facts.layout.supplies else None
        amperes = getattr(trips, "trips", None)
        more = f"  trips {int(float(amperes) * LATER * 10) / 10:g} A" if amperes else ""
        why = f"the track turns back on itself; the section that turns its polarity is {where}: {chosen}"
        yield WrittenLine(f"reverser {name}  in {district.rpartition('.')[2]}{more}", why, name)
    for seam in section.ends:
        for text in cuts(facts, seam, (0, 1)):
            why = f"{_district(facts)} and {name} part here, {between(seam)}; {name}'s section is {where}: {chosen}"
            yield WrittenLine(text, why, pieces[0])


def _district(facts: Facts) -> str:
    """The district that a reverser stands behind: the plan's first, or a module's plug."""
    supplies = facts.layout.supplies.values()
    return next((one.name for one in supplies if one.kind in ("district", "plug")), "plug")
