"""Slips of the advisers' plans, of kinds that the other plans have not, each with its own mend first."""

from __future__ import annotations

import pytest

from corpus.counting import assert_undone, first_mend
from corpus.reading import ADVISERS

MENDED = [
    # a wire on metal that turns with the frog belongs behind the gap, or nowhere
    ("power_routed_yard", "one wire too many, at S1's frog rail"),
    ("power_routed_yard", "y1's red wire, on S1's side of the gap"),
    ("oval_of_live_frogs", "the siding's black wire went to T1's frog rail"),
    # two single wires at a turnout are exchanged more easily than its hand is mistaken
    ("power_routed_yard", "the two single ones to S2's stock rails"),
    # one of two single wires was forgotten: the arrow is right
    ("balloon_cut_inside", "one single wire of the entrance"),
    # wires and cuts on the wrong side of one another within a segment
    ("staging_cut_in_the_middle", "the east booster's drop, before the cut"),
    ("staging_cut_in_the_middle", "the cut lies beyond the drop"),
    # what is cut off from one booster's track belongs to the other's
    ("staging_cut_in_the_middle", "the far half of track one"),
    # a terminal that would serve nothing, a block of the track's name, a reverser that feeds nothing
    ("three_boosters", "a mountain drop on the city"),
    ("signaled_siding", "the siding on the detector of the main"),
    ("signaled_siding", "the siding on the district"),
    ("loop_at_each_end", "all three drops of the east loop on the west reverser"),
    # one common rail of a district and its detected blocks
    ("signaled_siding", "that of the detectors"),
    # work that its build has not, where every other turnout is of one that has
    ("oval_of_live_frogs", "T1 is written as an isolated-frog one"),
    # a unit, a leg, an end
    ("bus_around_the_walls", "12 ft for 12 in"),
    ("staging_by_single_wires", "S2 without its leg"),
    ("staging_by_single_wires", "blue for red"),
    ("staging_by_single_wires", "straight for through"),
    ("power_routed_yard", "blk for black at the contacts"),
]


@pytest.mark.parametrize(("layout", "words"), MENDED, ids=lambda text: text.replace(" ", "-"))
def test_a_slip_is_told_and_its_first_mend_undoes_it(layout: str, words: str) -> None:
    assert_undone(ADVISERS / layout, words)


SAID = [
    # supplies of which none feeds anything are not passed over for those of another booster
    ("crossing_of_two_companies", "both of the tram", "solder a feeder: X1 to t-north"),
    # a terminal that is named in three lines lacks its run, not its name
    ("loop_at_each_end", "that to w1", "lay a bus run from arW to w1"),
    # no unit trips at 3 mA
    ("branch_of_frog_units", "a frog unit that trips at 3 A", "set the automatic frog unit of t3 to 1 A"),
    # a crossing has no points to feed it by
    ("double_junction", "the two tracks of the diamond are confused", "put trackwork whose frogs are all plastic"),
    # a single wire has no fellow to be swapped with
    (
        "power_routed_yard",
        "both stock rails of S2 on red",
        "move the wire to S2.diverging.stock from Y1.red to Y1.black",
    ),
    # of two lines that name one end it is said which
    ("shed_behind_a_three_way", "coal is joined where ash is", "write `W.left` for `W.right` at coal"),
    ("staging_cut_in_the_middle", "the cut of track two", "cut the other rail of two at 1.8 m too"),
]


@pytest.mark.parametrize(("layout", "words", "mend"), SAID, ids=lambda text: text.replace(" ", "-"))
def test_the_first_mend_is_said_so(layout: str, words: str, mend: str) -> None:
    assert mend in first_mend(ADVISERS / layout, words)
