"""Slips of the newcomers that each hang on one thing that speaks for one mend rather than another."""

from __future__ import annotations

import pytest

from corpus.counting import assert_undone
from corpus.reading import NEWCOMERS

MENDED = [
    # of a run and of drops on a supply that has two stretches to itself, the drops are no later lines
    ("double_slip_throat", "bus from the other booster"),
    # a supply left off the common rail, where all cuts are in the other rail
    ("attic_common_rail", "common without the mine"),
    ("attic_common_rail", "common forgotten"),
    # a cut in a turnout's wrong end, two joints from where it should be
    ("attic_common_rail", "cut at the wrong turnout"),
    # of two mends that do for a stub behind dead-frog points, the drop that all other track has
    ("attic_common_rail", "m3 forgotten"),
    # a terminal that would serve nothing speaks for the run, the cut, or its own drop
    ("bridge_on_a_reverser", "bus of the reverser"),
    ("double_slip_throat", "gap forgotten"),
    ("double_slip_throat", "gap at the other end"),
    ("double_slip_throat", "down forgotten"),
    # the other frog of the same slip
    ("double_slip_throat", "frog on arrivals"),
    # two supplies within a hand's breadth of one another: the cut lies between, where its like has it
    ("crossover_each_way", "cut one piece too far"),
    # one wrong digit, and a size unlike all others
    ("measured_branch", "bus size"),
    ("measured_branch", "breaker"),
    ("works_transfer_table", "volts"),
    ("quarry_balloon_siding", "train 10"),
    # wires that fit the neighbor's: what the module promises is wrong
    ("spring_meet", "edge's promise"),
    ("saturday_meet", "both promise"),
]


@pytest.mark.parametrize(("layout", "words"), MENDED, ids=lambda text: text.replace(" ", "-"))
def test_a_slip_is_told_and_its_first_mend_undoes_it(layout: str, words: str) -> None:
    assert_undone(NEWCOMERS / layout, words)
