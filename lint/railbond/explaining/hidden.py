"""What a short hides: two rails do not carry opposite legs while metal joins them already.

Such a finding is not so of the plan as it stands. It is looked for all the same, as it stays once the short is mended.
"""

from __future__ import annotations

from railbond.circuit.facts import Facts
from railbond.circuit.graph import Literal, joined
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
    stands = dict(claim.positions)
    return _may_be_joined(facts, one, other, stands) and _joined(facts, one, other, stands, MOST_SWITCHES)


def _may_be_joined(facts: Facts, one: int, other: int, stands: dict[str, str]) -> bool:
    """Whether those switches, with all the others in their first positions, or all in their last, and with more ties
    than there then are, join two components: where they do not, these are no one metal."""
    ties = _ties(facts, stands)
    for number in _in_first_and_last(facts):
        if number[other] not in _reached(number[one], [(number[here], number[there]) for here, there in ties]):
            return False
    return True


def _ties(facts: Facts, stands: dict[str, str]) -> list[tuple[int, int]]:
    """The components that those switches tie to one another."""
    return [tie for switch in stands.items() for tie in _by_literal(facts).get(switch, ())]


def _reached(one: int, ties: list[tuple[int, int]]) -> set[int]:
    """What hangs together with a component by a few ties."""
    reached = {one}
    while more := {end for tie in ties if not reached.isdisjoint(tie) for end in tie} - reached:
        reached |= more
    return reached


@once
def _in_first_and_last(facts: Facts) -> list[list[int]]:
    """For each component a number that it shares with all that are joined to it with every switch in its first
    position, and the same with every switch in its last."""
    positions, known = facts.graph.positions, _by_literal(facts)
    found = []
    for place in (0, -1):
        ties = (known.get((name, stand[place]), ()) for name, stand in positions.items())
        found.append(joined(len(facts.graph.names), (tie for own in ties for tie in own)))
    return found


@once
def _numbers(facts: Facts) -> dict[str, int]:
    """The conductor of each name, the first where several have it."""
    return {name: conductor for conductor, name in reversed(list(enumerate(facts.graph.names)))}


def _joined(facts: Facts, one: int, other: int, stands: dict[str, str], left: int) -> bool:
    """Whether metal joins two components, whichever way those switches stand of which it is not said."""
    if other in _reached(one, _ties(facts, stands)):
        return True
    way = _way(facts, one, other, stands) if left else None
    switch = next((name for name, _ in way or () if name not in stands), None)
    return switch is not None and all(
        _joined(facts, one, other, stands | {switch: at}, left - 1) for at in facts.graph.positions[switch]
    )


@once
def _by_literal(facts: Facts) -> dict[Literal, list[tuple[int, int]]]:
    """The components that a switch ties to one another as it stands."""
    found: dict[Literal, list[tuple[int, int]]] = {}
    for one, ties in _literals(facts).items():
        for other, literal in ties:
            found.setdefault(literal, []).append((one, other))
    return found


def _way(facts: Facts, one: int, other: int, stands: dict[str, str]) -> list[Literal] | None:
    """The switches, as they stand, on a shortest way from one component to another, whatever is not said of them."""
    known = _literals(facts)
    last = {there: literal for there, literal in reversed(known.get(other, [])) if _may(stands, literal)}
    came: dict[int, tuple[int, Literal]] = {one: (one, ("", ""))}
    queue = [one] if last else []
    for here in queue:
        if here in last:  # so that nothing is followed beyond what is tied to thousands
            came[other] = here, last[here]
            return _switches(came, other)
        for there, literal in known.get(here, ()):
            if there not in came and _may(stands, literal):
                came[there] = here, literal
                queue.append(there)
    return None


def _may(stands: dict[str, str], literal: Literal) -> bool:
    """Whether a switch may stand so."""
    return stands.get(*literal) == literal[1]


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
