"""Slips of the veterans' plans: of home and display layouts of many kinds, each with its own mend first."""

from __future__ import annotations

import pytest

from corpus.counting import assert_undone, first_mend
from corpus.reading import VETERANS

MENDED = [
    # both pairs of a segment that is cut between them on one booster
    ("interchange_at_the_tower", "wrong bus"),
    # a unit, a point, a build that no other line has
    ("wye_of_live_frogs", "section short"),
    ("museum_throat", "thin drops"),
    ("two_towns", "build"),
    ("logging_stubs", "rails of metal"),
    # what its like has: the breaker of the other booster, the route at the far end of a track
    ("museum_throat", "breaker above"),
    ("staging_in_the_loop", "E2 ends"),
    # what feeds nothing: a booster, a block that was passed by
    ("museum_throat", "district on wrong booster"),
    ("two_towns", "feeder cab"),
    # a block whose line is missing, and contacts of points that never stand so
    ("detection_in_one_leg", "block forgotten"),
    ("trolley_display", "contacts of sprung"),
    # a leg that one cab calls otherwise, and a length by what it loses behind two turnouts
    ("shelf_with_two_throttles", "legs misspelled"),
    ("shelf_with_two_throttles", "wrong unit"),
    # what the like lines have: a size, a setting, a way to be cut, a place in a row, a side, the leg of the other cuts
    ("interchange_at_the_tower", "thin"),
    ("staging_in_the_loop", "reverser order"),
    ("wye_of_live_frogs", "cut forgotten"),
    ("back_shop", "place twice"),
    ("back_shop", "far-side forgotten"),
    ("detection_in_one_leg", "wrong common"),
    # a frog of 20 cm, the hands of two turnouts beside one another, the order of a piece's ends
    ("dockside", "dead length unit"),
    ("trolley_display", "ends crossed"),
    ("dockside", "ends exchanged"),
    # a line pasted twice, a bond at a turnout that needs none, the stretch that is told last
    ("interchange_at_the_tower", "line twice"),
    ("dockside", "bond of other"),
    ("detection_in_one_leg", "siding on block"),
    ("two_towns", "block wires"),
]


@pytest.mark.parametrize(("layout", "words"), MENDED, ids=lambda text: text.replace(" ", "-"))
def test_a_slip_is_told_and_its_first_mend_undoes_it(layout: str, words: str) -> None:
    assert_undone(VETERANS / layout, words)


SAID = [
    # a unit reverses digital power: on a throttle contacts do its work
    ("trolley_display", "frog unit on pack", "feed the frog of barn from its own stock rails through contacts"),
    # a run goes on from the terminal before
    ("creamery_module", "bus forgotten", "lay a bus run from MB1 to MB2"),
]


@pytest.mark.parametrize(("layout", "words", "mend"), SAID, ids=lambda text: text.replace(" ", "-"))
def test_the_first_mend_is_said_so(layout: str, words: str, mend: str) -> None:
    assert mend in first_mend(VETERANS / layout, words)
