"""Resistances to the supply, in every setting, against the whole matrix of each."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from power.dense import Dense, every_setting
from power.wired import power_of, wired_plans
from railbond.circuit.power.islands import LEAST_OHMS
from railbond.circuit.power.quadratic import at, resistance
from railbond.circuit.power.solved import SolvedNetwork
from railbond.circuit.power.spots import Spot


def contact_of(power: SolvedNetwork) -> float:
    return max(power.network.materials.contact, LEAST_OHMS)


def nodes(spot: Spot) -> tuple[int, int]:
    return spot.sides[0].rail.one, spot.sides[1].rail.one


@settings(max_examples=25)
@given(wired_plans(3))
def test_no_setting_is_worse_than_what_is_told(text: str) -> None:
    """Rayleigh: the frame, or the least setting that feeds a place, is the worst for it."""
    power = power_of(text)
    for setting in every_setting(power.network):
        dense = Dense(power.network, setting, contact_of(power))
        for spot in power.spots:
            if dense.opposed(*nodes(spot)):
                here = sum(dense.at(side.rail, spot.meters) for side in spot.sides)
                assert here <= spot.ohms * (1 + 1e-6)


@settings(max_examples=25)
@given(wired_plans(4))
def test_the_least_setting_is_exact(text: str) -> None:
    """With the ties that the setting asks for, and none that only shorten what is fed already."""
    power = power_of(text)
    for spot in power.spots:
        dense = Dense(power.network, spot.setting, contact_of(power), beyond=True)
        assert dense.opposed(*nodes(spot))
        assert spot.ohms == pytest.approx(sum(dense.at(side.rail, spot.meters) for side in spot.sides), rel=1e-4)


@given(wired_plans())
def test_no_place_of_a_stretch_is_worse(text: str) -> None:
    for spot in power_of(text).spots:
        start = max(side.rail.start for side in spot.sides)
        stop = min(side.rail.stop for side in spot.sides)
        told = [resistance(side.rail, side.reach, 0.0) for side in spot.sides]
        for step in range(33):
            meters = start + (stop - start) * step / 32
            assert sum(at(one, meters) for one in told) <= spot.ohms * (1 + 1e-9)


@settings(max_examples=25)
@given(wired_plans(3))
def test_every_fed_segment_is_told(text: str) -> None:
    """No setting feeds a segment both legs of one supply that has no spot."""
    power = power_of(text)
    told = {spot.piece for spot in power.spots}
    whole = {name for name, piece in power.layout.pieces.items() if len(piece.template.metals) == 2}
    rails = {name: [power.network.rails[power.wiring.first[name] + side][0].one for side in (0, 1)] for name in whole}
    for setting in every_setting(power.network):
        dense = Dense(power.network, setting, contact_of(power))
        assert {name for name, pair in rails.items() if dense.opposed(*pair)} <= told
