"""The rail graph and what was found in it, as data for a page: what the proof used, and nothing worked out anew."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond, SupplyLeg
from railbond.findings import Finding, Step
from trackplan.span import Source, Span

Json = dict[str, Any]


def electrics(facts: Facts) -> Json:
    """Conductors, bonds, sources and switches. A bond is its two conductors, its kind, how its switch must stand (or
    null) and its place in the plan (or null)."""
    graph = facts.graph
    return {
        "conductors": graph.names,
        "bonds": [[bond.one, bond.other, bond.kind, bond.when, place(facts.sources, bond.at)] for bond in graph.bonds],
        "sources": {str(conductor): _source(facts, one) for conductor, one in graph.sources.items()},
        "switches": {name: list(positions) for name, positions in graph.positions.items()},
    }


def _source(facts: Facts, one: SupplyLeg) -> Json:
    words = one.supply if one.kind == "unit" else facts.leg(one)
    return {"supply": one.supply, "leg": one.leg, "kind": one.kind, "cab": one.cab, "words": words}


def place(sources: Mapping[str, Source], at: Span | None) -> list[Any] | None:
    """A place as a file's path and its line; null where it has none or lies in no text that was read."""
    if at is None or at.path not in sources:
        return None
    return [at.path, sources[at.path].line_of(at.start) + 1]


def told(facts: Facts, findings: Iterable[Finding]) -> list[Json]:
    """The findings: what each says, how the points stand for it, and the metal of each step of its reason."""
    metal = _Metal(facts)
    return [
        {
            "rule": one.rule, "level": one.level, "happens": one.happens, "message": one.message,
            "at": place(facts.sources, one.at), "names": list(one.names), "setting": dict(one.positions),
            "why": [
                {"words": step.text, "at": place(facts.sources, step.at), "metal": metal.of(step)} for step in one.why
            ],
            "mends": [fix.words for fix in one.fixes], "cautions": list(one.cautions),
        }
        for one in findings
    ]  # fmt: skip


class _Metal:
    """Which metal a step of a reason speaks of: what it names, or what its line of the plan bonds."""

    def __init__(self, facts: Facts) -> None:
        self.names = sorted(enumerate(facts.graph.names), key=lambda one: -len(one[1]))
        self.rails = {*facts.graph.rails, *facts.graph.frogs}
        self.by_line: dict[Span, list[Bond]] = {}
        for bond in facts.graph.bonds:
            if bond.at:
                self.by_line.setdefault(bond.at, []).append(bond)

    def of(self, step: Step) -> list[int]:
        text, found = step.text, list[int]()
        for conductor, name in self.names:
            if name and name in text:
                found.append(conductor)
                text = text.replace(name, "\0")
        if not self.rails.intersection(found):  # wires are not drawn, but the metal that they are soldered to is
            bonds = self.by_line.get(step.at, ()) if step.at else ()
            found += sorted({end for bond in bonds for end in (bond.one, bond.other)} - {*found})
        return found
