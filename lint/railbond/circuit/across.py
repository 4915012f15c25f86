"""Settings in which two conductors carry sources of which something can be said, as that they oppose each other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import product

from .graph import Setting, SupplyLeg, agree
from .proof import Proof, Reachable

Numbered = Sequence[tuple[int, SupplyLeg]]

Needs = tuple[tuple[str, tuple[str, ...]], ...]
"""Switches, each with the positions in one of which it must stand."""

ALWAYS: Setting = frozenset()
NONE: Sequence[Setting] = ()
FEW = 4
"""Pairs of ways that are each looked at, one after the other: what most rails ask."""


def across(
    proof: Proof, one: int, other: int, asked: Callable[[SupplyLeg, SupplyLeg], bool], needs: Needs = ()
) -> Setting | None:
    """The least such setting in which two conductors carry sources of which that can be said."""
    pairs = together(proof, one, other, asked)
    return _least(pairs, needs) if pairs else None


def together(proof: Proof, one: int, other: int, asked: Callable[[SupplyLeg, SupplyLeg], bool]) -> Sequence[Setting]:
    """All settings in which two conductors carry sources of which that can be said, each once, whether or not its
    switches agree; what is always so is the last. What hangs together in every setting carries the same, so that of
    each two such lumps it is worked out once."""
    key = proof.component[one], proof.component[other], asked
    found = proof.pairs.get(key)
    if found is None:
        known = proof.before if proof.before and key in proof.before.pairs else None
        if known and all(known.reachable_of(lump) == proof.reachable_of(lump) for lump in key[:2]):
            found = known.pairs[key]
        else:
            found = _pairs(proof.reachable(one), proof.reachable(other), asked)
        proof.pairs[key] = found
    return found


def _least(pairs: Sequence[Setting], needs: Needs) -> Setting | None:
    stands = choices(needs)
    if len(pairs) == len(stands) == 1:
        if not stands[0]:
            return pairs[0] if agree(pairs[0]) else None
        setting = pairs[0] | stands[0]
        return setting if agree(setting) else None
    shortest = min(map(len, stands), default=0)
    least: Setting | None = None
    for pair, choice in product(pairs, stands):
        setting = pair | choice
        if (least is None or len(setting) < len(least)) and agree(setting):
            least = setting
            if len(least) == shortest:
                break
    return least


def _pairs(
    ways: Sequence[Reachable], there: Sequence[Reachable], asked: Callable[[SupplyLeg, SupplyLeg], bool]
) -> Sequence[Setting]:
    """The settings in which two sources reach of which that can be said, each once, in the order of the ways and up to
    the empty one: less than that is nothing."""
    found = (_one_by_one if len(ways) * len(there) <= FEW else _by_groups)(ways, there, asked)
    return found[: found.index(ALWAYS) + 1] if ALWAYS in found else found or NONE


def _one_by_one(
    ways: Sequence[Reachable], there: Sequence[Reachable], asked: Callable[[SupplyLeg, SupplyLeg], bool]
) -> list[Setting]:
    found = [(one | other if other else one) if one else other for a, one in ways for b, other in there if asked(a, b)]
    return list(dict.fromkeys(found)) if len(found) > 1 else found


def _by_groups(
    ways: Sequence[Reachable], there: Sequence[Reachable], asked: Callable[[SupplyLeg, SupplyLeg], bool]
) -> list[Setting]:
    """The same, where settings are few and the sources that reach in one may be many."""
    found: dict[Setting, tuple[int, int]] = {}
    sides = _by_setting(ways), _by_setting(there)
    groups = {other: _by_group(beyond) for other, beyond in sides[1].items()} if asked is SupplyLeg.opposes else {}
    for (one, here), (other, beyond) in product(sides[0].items(), sides[1].items()):
        first = _first_opposed(here, groups[other]) if groups else _first(here, beyond, asked)
        if first and first < found.get(one | other, (len(ways), 0)):
            found[one | other] = first
    return sorted(found, key=found.__getitem__)


def _by_setting(ways: Sequence[Reachable]) -> dict[Setting, list[tuple[int, SupplyLeg]]]:
    """The sources that reach in each setting, numbered in the order of all the ways."""
    found: dict[Setting, list[tuple[int, SupplyLeg]]] = {}
    for number, (source, setting) in enumerate(ways):
        found.setdefault(setting, []).append((number, source))
    return found


def _first(here: Numbered, there: Numbered, asked: Callable[[SupplyLeg, SupplyLeg], bool]) -> tuple[int, int] | None:
    return next(((one, other) for one, a in here for other, b in there if asked(a, b)), None)


def _by_group(there: Numbered) -> dict[tuple[str, int], int]:
    """The first of some sources that is of a group, and of a leg."""
    numbers: dict[tuple[str, int], int] = {}
    for number, source in there:
        for group in source.groups:
            numbers.setdefault((group, source.leg), number)
    return numbers


def _first_opposed(here: Numbered, numbers: dict[tuple[str, int], int]) -> tuple[int, int] | None:
    """The same where it is asked whether they oppose one another, without asking it of each two."""
    for one, source in here:
        if others := [numbers[way] for group in source.groups if (way := (group, 1 - source.leg)) in numbers]:
            return one, min(others)
    return None


@lru_cache(4096)
def choices(needs: Needs) -> list[Setting]:
    """Every way to set points as they are needed: for all rails at the same points."""
    picked = product(*(positions for _, positions in needs))
    return [frozenset(zip((switch for switch, _ in needs), one, strict=True)) for one in picked]
