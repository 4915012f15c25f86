"""What a short hides: two rails do not carry opposite legs while metal joins them already.

Such a finding is not so of the plan as it stands. It is looked for all the same, as it stays once the short is mended.
"""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Literal
from railbond.circuit.keeping import once
from railbond.findings import Claim, Finding

MOST_SWITCHES = 6
"""Switches that are tried in all their positions to see whether two rails are one metal however they stand."""


def is_hidden(facts: Facts, finding: Finding) -> bool:
    """Whether a finding says of rails that they are opposed, and the short that is there joins them in every such
    setting."""
    opposed = [one for one in finding.claims if one.says == "opposed"]
    return bool(facts.shorts and opposed) and any(_is_one_metal(facts, one) for one in opposed)


def _is_one_metal(facts: Facts, claim: Claim) -> bool:
    one, other = (facts.proof.component[_numbers(facts)[name]] for name in claim.of)
    if len(facts.proof.ties.get(other, ())) < len(facts.proof.ties.get(one, ())):
        one, other = other, one
    return _joined(facts, one, other, dict(claim.positions), MOST_SWITCHES)


@once
def _numbers(facts: Facts) -> dict[str, int]:
    """The conductor of each name, the first where several have it."""
    return {name: conductor for conductor, name in reversed(list(enumerate(facts.graph.names)))}


def _joined(facts: Facts, one: int, other: int, stands: dict[str, str], left: int) -> bool:
    """Whether metal joins two components, whichever way those switches stand of which it is not said."""
    if _way(facts, one, other, stands, freely=False) is not None:
        return True
    way = _way(facts, one, other, stands, freely=True) if left else None
    switch = next((name for name, _ in way or () if name not in stands), None)
    return switch is not None and all(
        _joined(facts, one, other, stands | {switch: at}, left - 1) for at in facts.graph.positions[switch]
    )


def _way(facts: Facts, one: int, other: int, stands: dict[str, str], freely: bool) -> list[Literal] | None:
    """The switches, as they stand, on a shortest way from one component to another; those of which it is not said how
    they stand are passed only `freely`."""
    if one == other:
        return []

    def ties(here: int) -> Iterator[tuple[int, Literal]]:
        for there, literal in _literals(facts).get(here, ()):
            if stands.get(literal[0], literal[1] if freely else None) == literal[1]:
                yield there, literal

    last = dict(reversed(list(ties(other))))  # so that nothing is followed beyond what is tied to thousands
    came: dict[int, tuple[int, Literal]] = {one: (one, ("", ""))}
    queue = [one] if last else []
    for here in queue:
        if here in last:
            came[other] = here, last[here]
            return _switches(came, other)
        for there, literal in ties(here):
            if there not in came:
                came[there] = here, literal
                queue.append(there)
    return None


@once
def _literals(facts: Facts) -> dict[int, list[tuple[int, Literal]]]:
    """The ties of each component, each with the switch that makes it and how that stands."""
    ties = facts.proof.ties.items()
    return {one: [(other, literal) for other, setting in found for literal in setting] for one, found in ties}


def _switches(came: dict[int, tuple[int, Literal]], end: int) -> list[Literal]:
    """Those passed on the way that was come by."""
    way: list[Literal] = []
    while came[end][0] != end:
        end, literal = came[end]
        way.append(literal)
    return way[::-1]
