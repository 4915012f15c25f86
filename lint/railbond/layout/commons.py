"""Common rails: which legs of the plan's supplies are one wire."""

from __future__ import annotations

from trackplan.span import Word
from trackplan.statements import Common

from .kinds import Kinds
from .model import CommonRail, Wire
from .names import Names, listed
from .power import Power


def common_rails(kinds: Kinds, names: Names, power: Power) -> list[CommonRail]:
    """Every common rail of which at least two supplies can be told."""
    found = []
    for one in kinds.of(Common):
        wires = (_leg(one, word, names, power) for word in one.supplies)
        legs = tuple(dict.fromkeys(wire for wire in wires if wire))
        if len(legs) > 1:
            found.append(CommonRail(legs, one))
        elif len(set(one.supplies)) == 1:
            message = f"a common rail needs two supplies to share it, and only `{one.supplies[0]}` is named"
            names.fault("impossible", one, one.supplies[1], message)
    return found


def _leg(common: Common, word: Word, names: Names, power: Power) -> Wire | None:
    name = power.pair(common, word)
    supply = power.supplies.get(name)
    if supply is None:
        message = f"`{word}` is a bus terminal: expected the district, block or cab that feeds it"
        names.fault("impossible", common, word, message)
    elif common.leg not in supply.legs:
        message = f"`{word}` has no leg `{common.leg}`; its legs are {listed(supply.legs)}"
        names.misspelt(common, common.leg, message, names.near(common.leg, supply.legs))
    else:
        return Wire(name, supply.legs.index(common.leg))
    return None
