"""Slips of the teachers' plans: of home, club and module layouts in as many hands, written from README alone.

The first run told 40 of 50 slips in the five layouts of `SEEN`, and had the right mend first for 36; in the five of
`UNSEEN` 45 and 38. Of the latter only totals were looked at since. What is left in the seen ones cannot be known: a
module whose plug's run is left out has a plug of another name, and a gap beside a frog that is cut around parts
nothing.
"""

from __future__ import annotations

import pytest

from corpus.counting import accusations, assert_undone, outcomes
from corpus.reading import TEACHERS, corpus

SEEN = {"brickyard_lane": (10, 10), "paper_mill_module": (9, 9), "twin_loops": (9, 9), "two_throttles": (10, 10),
    "union_pass": (10, 10)}  # fmt: skip
UNSEEN = {"city_throat": (10, 9), "depot_blocks": (10, 9), "fishing_harbor": (10, 10), "folded_dogbone": (9, 8),
    "roundhouse": (10, 9)}  # fmt: skip
"""How many of ten slips are told, and mended first as the person would, at least."""


@pytest.mark.parametrize("name", {**SEEN, **UNSEEN})
def test_as_many_are_told_and_mended_as_were_reached(name: str) -> None:
    layout = corpus(TEACHERS / name)
    every = list(outcomes([layout]))
    assert not accusations(layout)
    told, first = {**SEEN, **UNSEEN}[name]
    assert (sum(one.told for one in every) >= told) and (sum(one.first for one in every) >= first)


MENDED = [
    # what too many tracks name, by what the lines beside say
    ("paper_mill_module", "s-east ends at the other edge"),
    ("union_pass", "u2 ends at the other track's joint"),
    # a unit by the track alongside, a run that no hall has, a size by the other runs
    ("brickyard_lane", "siding in inches"),
    ("paper_mill_module", "a run of 90 m"),
    ("union_pass", "a bus of 22 AWG"),
    # the one bond that is missing, the one drop that is soldered where another is
    ("brickyard_lane", "T2 without its bond"),
    ("paper_mill_module", "the pulp track's drop in place of the paper track's"),
    # a block that drops hang on and no line tells, a cut at the end beside
    ("two_throttles", "block east"),
    ("union_pass", "the crossing's second cut on the up side"),
]


@pytest.mark.parametrize(("layout", "words"), MENDED, ids=lambda text: text.replace(" ", "-"))
def test_a_slip_is_told_and_its_first_mend_undoes_it(layout: str, words: str) -> None:
    assert_undone(TEACHERS / layout, words)
