"""A wheel that walks over a rail graph, and a plan around one piece to walk in."""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Setting
from railbond.circuit.questions import opposed
from railbond.findings import Finding
from railbond.inspection import examine
from railbond.rules import all_rules
from trackplan.read import read
from trackplan.span import Source

POWER = "booster B1 15 V 5 A\ndistrict main from B1\n"


def facts_of(text: str) -> Facts:
    """The facts of a plan in which nothing is at fault."""
    source = Source("plan.trackplan", text)
    reading = read(source)
    assert not reading.broken, reading.broken
    facts = Facts(reading.statements, {source.path: source})
    assert not facts.layout.faults, facts.layout.faults
    return facts


def found_in(text: str) -> list[Finding]:
    """All that is found in a plan, but for the note that a train may run against points: it goes for every plan with
    contact-fed frogs."""
    return [one for one in examine(facts_of(text), all_rules()) if one.rule != "set-against"]


def around(lines: str, entering: tuple[str, ...], leaving: tuple[str, ...]) -> str:
    """A plan in which a fed segment leads to or from each end, its left rail red along the looking direction."""
    text = POWER + lines + "\n"
    for end in entering:
        text += f"segment to-{_flat(end)} stop -> {end} 1 m\nfeeder main -> to-{_flat(end)}\n"
    for end in leaving:
        text += f"segment from-{_flat(end)} {end} -> stop 1 m\nfeeder main -> from-{_flat(end)}\n"
    return text


def _flat(end: str) -> str:
    return end.replace(".", "-")


def walk(facts: Facts, start: str, setting: Setting) -> list[str]:
    """The metals that a wheel rolls over from a segment's rail on, as the points stand; it must never have a choice."""
    graph = facts.graph
    stands = dict(setting)
    names = {name: conductor for conductor, name in enumerate(graph.names)}
    follow: dict[int, set[int]] = {}
    for roll in graph.rolls:
        if all(stands[switch] in good for switch, good in roll.needs):
            follow.setdefault(roll.one, set()).add(roll.other)
            follow.setdefault(roll.other, set()).add(roll.one)
    here, found = names[start], [start]
    while ahead := follow.get(here, set()) - {names[one] for one in found}:
        assert len(ahead) == 1, (graph.names[here], [graph.names[one] for one in ahead])
        (here,) = ahead
        found.append(graph.names[here])
    return found


def opposed_blades(facts: Facts) -> list[str]:
    """The blades that carry the other leg than the rail beside which they stand open."""
    found = []
    for blade in facts.graph.blades:
        switch, stands = blade.when
        if opposed(facts.proof, blade.closure, blade.stock, ((switch, (stands,)),)) is not None:
            found.append(facts.graph.names[blade.closure])
    return found


def legs(facts: Facts, setting: Setting) -> dict[str, str]:
    """The one leg that each conductor of a piece carries in a setting, empty where it is dead."""
    found = {}
    for conductor in (*facts.graph.rails, *facts.graph.frogs):
        ways = facts.proof.reachable(conductor)
        carried = {way.source.leg for way in ways if way.setting <= setting and way.source.kind == "fixed"}
        assert len(carried) <= 1, facts.graph.names[conductor]
        found[facts.graph.names[conductor]] = "".join(("red", "black")[leg] for leg in carried)
    return found
