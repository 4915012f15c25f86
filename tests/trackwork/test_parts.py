"""What is told in short of a piece, and of where two meet, is what its template says at length."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

import pytest

from oracle.plans import random_wild
from railbond.circuit.polarity import lies_in, part_side
from railbond.circuit.turning import seams
from railbond.layout.template import Template
from trackwork.mixed import random_mixed
from trackwork.walking import facts_of


@pytest.mark.parametrize("plan", [random_mixed, lambda rng: random_wild(rng, 8)])
@pytest.mark.parametrize("seed", range(20))
def test_parts_and_lengths(plan: Callable[[Random], str], seed: int) -> None:
    wiring = facts_of(plan(Random(seed))).wiring
    for name, piece in wiring.layout.pieces.items():
        metals = piece.template.metals
        assert piece.template.length == max(metal.stop for metal in metals)
        for metal in range(len(metals)):
            assert lies_in(wiring, name, metal) == part_side(wiring, name, metal)[0]
    for seam in seams(wiring):
        if seam.meeting:
            sides = ("left", "right") if wiring.end(seam.meeting.one).leaves else ("right", "left")
            assert seam.rails == tuple(wiring.across(seam.meeting, side) for side in sides)
            assert seam.gapped == tuple(side in seam.meeting.gaps for side in sides)


def test_a_segment_is_as_long_as_its_rails() -> None:
    """Also where it is cut, and where only one rail is."""
    plan = "segment a stop -> stop 2 m\ngap a at 50 cm left rail\ngap a at 150 cm both rails\n"
    template: Template = facts_of(plan).layout.pieces["a"].template
    assert len(template.metals) == 5 and template.length == 2
