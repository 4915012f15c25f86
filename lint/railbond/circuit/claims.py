"""What findings claim of a plan as it is written, as data beside their words: a test asks a second opinion of each."""

from __future__ import annotations

from collections.abc import Iterable

from railbond.findings import Claim, Says

from .facts import Facts
from .graph import Roll, Setting, SupplyLeg

ALWAYS: Setting = frozenset()


def carries(facts: Facts, conductor: int, source: SupplyLeg, setting: Setting = ALWAYS) -> Claim:
    """In a setting a conductor carries a leg."""
    return Claim("carries", (facts.graph.names[conductor],), (facts.leg(source),), positions(setting))


def feeds(facts: Facts, conductor: int, supply: str) -> Claim:
    """In some setting a supply reaches a conductor."""
    return Claim("feeds", (facts.graph.names[conductor],), (supply,))


def of_metal(facts: Facts, says: Says, conductors: Iterable[int], setting: Setting = ALWAYS) -> Claim:
    """Whatever can be said of some metal by itself."""
    return Claim(says, tuple(facts.graph.names[one] for one in conductors), (), positions(setting))


def joined(facts: Facts, one: SupplyLeg, other: SupplyLeg, setting: Setting) -> Claim:
    """In a setting two legs are one metal."""
    return Claim("joined", (), (facts.leg(one), facts.leg(other)), positions(setting))


def rolls(facts: Facts, roll: Roll, setting: Setting, says: Says = "rolls") -> tuple[Claim, Claim]:
    """In a setting a wheel rolls from one conductor onto another, and they carry opposite legs."""
    claim = of_metal(facts, says, (roll.one, roll.other), setting)
    return claim, Claim("opposed", claim.of, claim.legs, claim.positions)


def positions(setting: Setting) -> tuple[tuple[str, str], ...]:
    """A setting as findings tell it."""
    return tuple(sorted(setting))
