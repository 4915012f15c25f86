"""Common rails: which legs of the plan's supplies are one wire."""

from __future__ import annotations

from trackplan.span import Word
from trackplan.statements import Common

from .model import CommonRail, Supply, Wire
from .names import Names, listed
from .symbols import SymbolTable
from .terminals import Terminals


def common_rails(symbols: SymbolTable, names: Names, power: Terminals) -> list[CommonRail]:
    """Every common rail of which at least two supplies can be told."""
    found = []
    for one in symbols.of(Common):
        named = [(word, supply) for word in one.supplies if (supply := _supply(one, word, names, power))]
        lacking = [(word, supply) for word, supply in named if one.leg not in supply.legs]
        if lacking:
            _tell_no_leg(one, *lacking[0], names)
        wires = (Wire(each.name, each.legs.index(one.leg)) for _, each in named if one.leg in each.legs)
        legs = tuple(dict.fromkeys(wires))
        if len(legs) > 1:
            found.append(CommonRail(legs, one))
        elif len(set(one.supplies)) == 1:
            message = f"a common rail needs two supplies to share it, and only `{one.supplies[0]}` is named"
            names.fault("impossible", one, one.supplies[1], message)
    return found


def _supply(common: Common, word: Word, names: Names, power: Terminals) -> Supply | None:
    supply = power.supplies.get(power.pair(common, word))
    if supply is None:
        message = f"`{word}` is a bus terminal: expected the district, block or cab that feeds it"
        names.fault("impossible", common, word, message)
    return supply


def _tell_no_leg(common: Common, word: Word, supply: Supply, names: Names) -> None:
    message = f"`{word}` has no leg `{common.leg}`; its legs are {listed(supply.legs)}"
    names.misspelled(common, common.leg, message, names.near(common.leg, supply.legs))
