"""What each rail carries, as the picture shows it: in one setting, or in all of them at once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Bond, SupplyLeg

INKS = {
    "one": "the first leg",
    "two": "the second leg",
    "turns-one": "a reverser's first leg",
    "turns-two": "a reverser's second leg",
    "either": "now the one leg, now the other: with the points",
    "unit": "corrected by an automatic frog unit",
    "short": "both legs: a short",
    "dead": "no power",
}
"""Every ink, in the legend's order, and what it says."""


def inks(facts: Facts, setting: Mapping[str, str] | None) -> list[str]:
    """The ink of each conductor; without a setting that of what it carries however the points stand.

    Metal that carries both legs has the ink of the source that is nearest by the number of bonds, so that a short shows
    where the two meet.
    """
    if setting is not None:
        return _nearest(facts, lambda bond: setting.get(bond.when[0]) == bond.when[1] if bond.when else True)
    found = [_ways(facts, conductor) for conductor in range(len(facts.graph.names))]
    if "short" in found:
        nearest = _nearest(facts, lambda bond: bond.when is None)
        found = [near if ink == "short" else ink for ink, near in zip(found, nearest, strict=True)]
    return found


def _ways(facts: Facts, conductor: int) -> str:
    ways = facts.proof.reachable(conductor)
    always = [way.source for way in ways if not way.setting]
    return _ink(always) if always else _ink([way.source for way in ways], "either")


def _nearest(facts: Facts, holds: Callable[[Bond], bool]) -> list[str]:
    """The ink of the sources that are fewest bonds away; a short where those of two conductors in contact differ."""
    graph = facts.graph
    held = [bond for bond in graph.bonds if holds(bond)]
    beside: list[list[int]] = [[] for _ in graph.names]
    for bond in held:
        beside[bond.one].append(bond.other)
        beside[bond.other].append(bond.one)
    near: list[set[SupplyLeg]] = [set() for _ in graph.names]
    for units in (False, True):  # a unit gives what nothing else reaches its polarity
        own = {at: one for at, one in graph.sources.items() if (one.kind == "unit") == units and not near[at]}
        _reach(own, near, beside)
    found = [_ink(sources) for sources in near]
    clash = {one for bond in held for one in (bond.one, bond.other) if _clash(near[bond.one], near[bond.other])}
    return ["short" if conductor in clash else ink for conductor, ink in enumerate(found)]


def _reach(own: Mapping[int, SupplyLeg], near: list[set[SupplyLeg]], beside: list[list[int]]) -> None:
    """Lets sources reach, bond by bond, what none has reached."""
    for conductor, source in own.items():
        near[conductor] = {source}
    edge = list(own)
    while edge:
        reached: dict[int, set[SupplyLeg]] = {}
        for here in edge:
            for there in beside[here]:
                if not near[there]:
                    reached.setdefault(there, set()).update(near[here])
        for there, sources in reached.items():
            near[there] = sources
        edge = list(reached)


def _clash(one: set[SupplyLeg], other: set[SupplyLeg]) -> bool:
    return any(here.opposes(there) for here in one for there in other)


def _ink(sources: Iterable[SupplyLeg], several: str = "short") -> str:
    """The ink of what reaches a conductor; `several` where it is both legs."""
    kinds = {_kind(source) for source in sources}
    if not kinds:
        return "dead"
    fed = kinds - {"unit"} or kinds
    return several if len(fed) > 1 else fed.pop()


def _kind(source: SupplyLeg) -> str:
    if source.kind == "unit":
        return "unit"
    leg = "two" if source.leg else "one"
    return f"turns-{leg}" if source.kind == "reverser" else leg
