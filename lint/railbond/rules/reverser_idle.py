"""A reverser that guards nothing: the track would be sound with a plain district in its place."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.findings import Claim, Fix, Found, Step
from railbond.layout.model import Supply
from trackplan.amend import set_statement, take_out
from trackplan.edit import Edit
from trackplan.statements import District, FrogSwitched, Reverser

from .rule import Rule

MOST_COMPARED = 10_000
"""Statements of the plans that are read to see which way round the wires of all idle reversers go."""


def find(facts: Facts) -> Iterator[Found]:
    """Reversers without which no track turns back on itself."""
    supplies = facts.layout.supplies.items()
    reversers = {name: supply for name, supply in supplies if supply.kind == "reverser"}
    needed = facts.turning.needed_reversers() if reversers else set()
    left = MOST_COMPARED
    for name, supply in reversers.items():
        if name not in needed:
            left -= len(facts.statements)
            yield _finding(facts, name, supply, compare=left > 0)


def _finding(facts: Facts, name: str, supply: Supply, compare: bool) -> Found:
    fix = _plain_district(facts, supply, compare) if facts.with_fixes else None
    does = "block" if supply.detector else "district"
    return Found(
        supply.statement.at,
        f"reverser {name} is not needed: the track it feeds does not turn back on itself, so a plain {does} does.",
        (Step(supply.statement.at, f"without {name}, left and right rails still agree all over the layout"),),
        "",
        (fix,) if fix else (),
        (name,),
        claims=(Claim("idle", (name,)),),
    )


def _plain_district(facts: Facts, supply: Supply, compare: bool) -> Fix | None:
    """The reverser's statement as a district of the same name, its wires turned if the track around asks for it; with
    nothing to `compare`, not turned."""
    statement = supply.statement
    parent = facts.layout.supplies.get(supply.district or "")
    if supply.detector:
        return _block_alone(facts, supply)
    if not isinstance(statement, Reverser) or parent is None or not isinstance(parent.statement, District):
        return None
    trips = f"  trips {statement.trips.text}" if statement.trips else ""
    legs = parent.statement.legs
    named = f"  legs {legs[0]} {legs[1]}" if legs else ""
    line = set_statement(statement, f"district {statement.name}  from {parent.statement.booster}{trips}{named}")
    edits: tuple[Edit, ...] = (line,)
    if compare:
        made = ((way, facts.tried(way)) for way in (edits, (*edits, *_turned(facts, supply.name))))
        tried = [(_faults(there), way) for way, there in made if there]
        edits = min(tried, key=lambda one: one[0])[1] if tried else ()
    if not edits:
        return None
    words = f"take the auto-reverser out and feed {statement.name} as a plain district of its own"
    return Fix(words, edits, plain=False, changes=f"{statement.name} no longer turns its polarity")


def _block_alone(facts: Facts, supply: Supply) -> Fix | None:
    """A reverser between a block and its track taken out, where that shorts nothing."""
    from railbond.fixes.section_elsewhere import as_its_district

    edits = (take_out(facts.sources[supply.statement.at.path], supply.statement), *as_its_district(facts, supply.name))
    tried = facts.tried(edits)
    if tried is None or _faults(tried) > _faults(facts):
        return None
    words = f"take the auto-reverser out and feed its section from {supply.detector}"
    return Fix(words, edits, plain=False, changes=f"what {supply.name} fed no longer turns its polarity")


def _turned(facts: Facts, name: str) -> Iterator[Edit]:
    """Every wire that goes from the reverser itself, swapped."""
    from railbond.fixes.fix_edits import swapped_contacts, uncrossed

    for run in facts.layout.runs:
        if run.source == name:
            yield from uncrossed(facts, run.statement)
    for feeder in {
        id(drop.statement): drop.statement for drop in facts.layout.drops if drop.wire.name == name
    }.values():
        yield from uncrossed(facts, feeder)
    for feed in facts.layout.frogs.values():
        if isinstance(feed.statement, FrogSwitched) and {wire.name for wire in feed.contacts.values()} == {name}:
            yield from swapped_contacts(feed.statement)


def _faults(facts: Facts) -> int:
    return len(facts.shorts) + len(facts.opposed)


RULE = Rule(
    name="reverser-idle",
    level="note",
    happens="on paper",
    turn=11,
    cause=False,
    find=find,
    when="there is a reverser",
    of_graph="proof",
    summary="A reverser whose section does not turn back on itself.",
    railroad="Nothing goes wrong. The reverser costs money, and its section is one more place where a train can hang.",
    meter="With a crayon follow one rail out of the section and back in by any way: it comes back as itself.",
    mend="Feed the section from a plain district, or move the reverser to the loop or wye that needs it.",
    fails="""\
plan     "Straight on"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
reverser R1    in main
segment  west  stop -> J  1.5 m
segment  east  J -> stop  1.5 m
gap      J     both rails
feeder   main -> west
feeder   R1 -> east
""",
    passes="""\
plan     "Straight on"
booster  B1    15 V  5 A
district main  from B1  trips 4 A
district R1    from B1
segment  west  stop -> J  1.5 m
segment  east  J -> stop  1.5 m
gap      J     both rails
feeder   main -> west
feeder   R1 -> east
""",
)
RULES = (RULE,)
