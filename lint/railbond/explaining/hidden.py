"""What a short hides: two rails do not carry opposite legs while metal joins them already.

Such a finding is not so of the plan as it stands. It is looked for all the same, as it stays once the short is mended.
"""

from __future__ import annotations

from collections.abc import Callable

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Literal, Setting
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
    if _way(facts, one, other, lambda literal: stands.get(literal[0]) == literal[1]) is not None:
        return True
    free = facts.graph.positions.keys() - stands.keys()
    way = _way(facts, one, other, lambda literal: stands.get(literal[0], literal[1]) == literal[1]) if left else None
    switch = next((name for name, _ in way or () if name in free), None)
    return switch is not None and all(
        _joined(facts, one, other, stands | {switch: at}, left - 1) for at in facts.graph.positions[switch]
    )


def _way(facts: Facts, one: int, other: int, may: Callable[[Literal], bool]) -> list[Literal] | None:
    """The switches, as they stand, on a shortest way from one component to another over such as may be passed."""
    ties = facts.proof.ties
    if one != other and other not in ties:
        return None
    came: dict[int, tuple[int, Setting]] = {one: (one, frozenset())}
    queue = [one]
    for here in queue:
        if here == other:
            return _switches(came, here)
        for there, setting in ties.get(here, ()):
            if there not in came and all(map(may, setting)):
                came[there] = here, setting
                queue.append(there)
    return None


def _switches(came: dict[int, tuple[int, Setting]], end: int) -> list[Literal]:
    """Those passed on the way that was come by."""
    way: list[Setting] = []
    while came[end][0] != end:
        end, setting = came[end]
        way.append(setting)
    return [literal for setting in reversed(way) for literal in setting]
