"""What each rail carries, as the picture shows it: in one setting, or in all of them at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Source

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
    """The ink of each conductor; without a setting that of what it carries however the points stand."""
    if setting is None:
        return [_ways(facts, conductor) for conductor in range(len(facts.graph.names))]
    return _then(facts, setting)


def _ways(facts: Facts, conductor: int) -> str:
    ways = facts.proof.ways(conductor)
    always = [way.source for way in ways if not way.setting]
    return _ink(always) if always else _ink([way.source for way in ways], "either")


def _then(facts: Facts, setting: Mapping[str, str]) -> list[str]:
    """What reaches each conductor through the bonds that hold in a setting."""
    from railbond.circuit.proof import Proof

    graph = facts.graph
    held = [
        bond._replace(when=None) for bond in graph.bonds if bond.when is None or setting[bond.when[0]] == bond.when[1]
    ]
    lump = Proof(graph._replace(bonds=held)).lump
    sources: dict[int, set[Source]] = {}
    for conductor, source in graph.sources.items():
        sources.setdefault(lump[conductor], set()).add(source)
    return [_ink(sources.get(one, ())) for one in lump]


def _ink(sources: Iterable[Source], several: str = "short") -> str:
    """The ink of what reaches a conductor; `several` where it is both legs."""
    kinds = {_kind(source) for source in sources}
    if not kinds:
        return "dead"
    fed = kinds - {"unit"} or kinds
    return several if len(fed) > 1 else fed.pop()


def _kind(source: Source) -> str:
    if source.kind == "unit":
        return "unit"
    leg = "two" if source.leg else "one"
    return f"turns-{leg}" if source.kind == "reverser" else leg
