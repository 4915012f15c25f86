"""A mend never takes away what was right: drops, runs, bonds, jumpers and units stay, whatever slip is mended."""

from __future__ import annotations

import os

import pytest

from mend.taking import faulty_and_mended, taken_away
from trackplan.statements import Gap

THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
SEEDS = range(600) if THOROUGH else range(20, 34)
MOST_CUTS_MOVED = 0.03
"""Share of the plans in which a right cut may be moved: where one wire to a stretch hangs on the next one's supply, the
cut between them parts nothing, and might as well have been made at the wrong end."""

PLAN = """\
booster  B1    15 V  5 A
district main  from B1
segment  west  stop -> J  1 m
segment  east  J -> stop  1 m
gap      J     both rails
feeder   main -> west
feeder   main -> east
"""


@pytest.mark.parametrize(
    ("faulty", "mended", "lost"),
    [
        (PLAN, PLAN, 0),
        (PLAN, PLAN.replace("feeder   main -> east\n", ""), 1),
        (PLAN, PLAN.replace("gap      J     both", "gap      west.start  both"), 1),
        (PLAN, PLAN.replace("main -> east", "main -> east  crossed"), 0),
        (PLAN.replace("-> east", "-> east  crossed"), PLAN.replace("feeder   main -> east\n", ""), 0),
    ],
)
def test_what_is_taken_away(faulty: str, mended: str, lost: int) -> None:
    """Only of what stood there as in the sound plan; a wire that is swapped is still there."""
    assert len(taken_away(PLAN, faulty, mended)) == lost


def test_mends_take_away_nothing_that_was_right() -> None:
    tried = {seed: faulty_and_mended(seed) for seed in SEEDS}
    lost = {seed: taken_away(*texts) for seed, texts in tried.items()}
    assert sum(faulty != mended for _, faulty, mended in tried.values()) > len(SEEDS) / 2
    assert not [(seed, one) for seed, own in lost.items() for one in own if not isinstance(one, Gap)]
    assert sum(map(bool, lost.values())) <= MOST_CUTS_MOVED * len(SEEDS), lost
