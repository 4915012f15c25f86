"""What a short hides: two rails do not carry opposite legs while metal joins them already.

Such a finding is not so of the plan as it stands. It is looked for all the same, as it stays once the short is mended.
"""

from __future__ import annotations

from itertools import product

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Setting
from railbond.findings import Claim, Finding

MOST_SWITCHES = 6
"""Switches that are tried in all their positions to see whether two rails are one metal however they stand."""


def is_hidden(facts: Facts, finding: Finding) -> bool:
    """Whether a finding says of rails that they are opposed, and the short that is there joins them in every such
    setting."""
    opposed = [one for one in finding.claims if one.says == "opposed"]
    return bool(facts.shorts and opposed) and any(_is_one_metal(facts, one) for one in opposed)


def _is_one_metal(facts: Facts, claim: Claim) -> bool:
    one, other = (facts.graph.names.index(name) for name in claim.of)
    return _joined(facts, one, other, frozenset(claim.positions), MOST_SWITCHES)


def _joined(facts: Facts, one: int, other: int, setting: Setting, left: int) -> bool:
    """Whether metal joins two conductors, whichever way the switches stand that a setting leaves out."""
    if facts.witness.path(one, lambda here: here == other, setting) is not None:
        return True
    free = {name: stands for name, stands in facts.graph.positions.items() if name not in dict(setting)}
    other_ways = setting.union(*(product((name,), stands) for name, stands in free.items()))
    path = facts.witness.path(one, lambda here: here == other, other_ways) if left else None
    switch = next((bond.when[0] for bond, _ in path or () if bond.when and bond.when[0] in free), None)
    return switch is not None and all(
        _joined(facts, one, other, setting | {(switch, stands)}, left - 1) for stands in free[switch]
    )
