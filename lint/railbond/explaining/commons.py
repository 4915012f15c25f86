"""A common return that was forgotten: one wire for one leg of several supplies."""

from __future__ import annotations

from collections.abc import Iterator

from railbond.circuit.facts import Facts
from railbond.fixes.fix_edits import beside
from railbond.layout.model import Supply
from trackplan.amend import set_word
from trackplan.edit import add_line
from trackplan.statements import Common, Gap

from .slip import HandSlip
from .wires import local_name

ALL_CUT_SO = -14.0
"""How much nearer, in steps, a common leg is to be wrong where all cuts are in one rail, which parts no other."""


def common_slips(facts: Facts) -> Iterator[HandSlip]:
    """Every leg that the plan's cabs, or a booster's blocks, might share, and do not; a supply that a common rail
    leaves out."""
    cabs = [one for one in facts.layout.supplies.values() if one.kind == "cab"]
    if len(cabs) > 1 and not facts.layout.commons:
        own = [one for one in facts.layout.supplies.values() if one.kind == "block" and not one.choices]
        for far, leg in enumerate(reversed(cabs[0].legs)):
            yield from _declared(facts, leg, cabs, far)
            if own:
                yield from _declared(facts, leg, [*cabs, *own], far)
    if not cabs and not facts.layout.commons and _cuts_one_rail(facts):
        for own in _by_booster(facts):
            for far, leg in enumerate(reversed(own[0].legs)):
                yield from _declared(facts, leg, own, far)
    for common in facts.layout.commons:
        yield from _other_leg(facts, common.statement)
        shared = {wire.name for wire in common.legs}
        missing = [name for name in facts.layout.supplies if name not in shared]
        for name in missing:
            last = common.statement.supplies[-1]
            edit = set_word(common.statement, last, f"{last} {local_name(name)}")
            words = f"put {local_name(name)} on the common {common.statement.leg} wire"
            said = f"{local_name(name)} is not on the common {common.statement.leg} wire"
            yield HandSlip("common", common.statement.at, (edit,), words, said, (name,))


def _other_leg(facts: Facts, common: Common) -> Iterator[HandSlip]:
    """The common wire is another leg than is said: likely where the plan cuts no more than one rail anywhere."""
    supplies = {local_name(name): one for name, one in facts.layout.supplies.items()}
    legs = [set(supplies[name].legs) for name in map(str, common.supplies) if name in supplies]
    for leg in sorted(set.intersection(*legs) - {str(common.leg)}) if legs else ():
        words, said = f"tie the {leg} wires together in place of the {common.leg} ones", f"the common leg is {leg}"
        far = ALL_CUT_SO * _cuts_one_rail(facts)
        yield HandSlip("common", common.at, (set_word(common, common.leg, leg),), words, said, (str(common.leg),), far)


def _cuts_one_rail(facts: Facts) -> bool:
    """Whether all cuts of a plan are in one rail, as beside a common one."""
    gaps = [one for one in facts.statements if isinstance(one, Gap)]
    return bool(gaps) and all(one.rail != "both rails" for one in gaps)


def _by_booster(facts: Facts) -> list[list[Supply]]:
    """The districts and detected blocks of each booster that has any of these."""
    found: dict[str | None, list[Supply]] = {}
    for one in facts.layout.supplies.values():
        if one.kind in ("district", "block") and not one.choices:
            found.setdefault(one.booster, []).append(one)
    return [own for own in found.values() if any(one.kind == "block" for one in own)]


def _declared(facts: Facts, leg: str, cabs: list[Supply], far: int) -> Iterator[HandSlip]:
    if all(leg in cab.legs for cab in cabs):
        names = [local_name(cab.name) for cab in cabs]
        last = cabs[-1].statement.at
        edits = (add_line(beside(facts, Common, last), f"common {leg} of {' '.join(names)}"),)
        words = f"tie the {leg} wires of {' and '.join(names)} together: one common rail"
        said = f"the {leg} wires of {' and '.join(names)} are not said to be one"
        yield HandSlip("common", last, edits, words, said, tuple(cab.name for cab in cabs), far)
