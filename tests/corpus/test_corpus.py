"""The corpus itself is in order, and the tool does at least as well on a sample of it as it did before."""

from __future__ import annotations

import pytest

from corpus.counting import accusations, outcomes
from corpus.meaning import alike, carried, said, same
from corpus.reading import ADVISERS, HELD_OUT, NEWCOMERS, PLANS, VETERANS, Corpus, corpora

SEEN, NEW, ADVISED = corpora(PLANS), corpora(NEWCOMERS), corpora(ADVISERS)
LAYOUTS = [*SEEN, *corpora(HELD_OUT), *NEW, *ADVISED, *corpora(VETERANS)]

ACCUSED: set[str] = set()
"""Sound plans that the tool still accuses, though they are right by the trade."""

EVERY = 6
"""Of the slips one in so many is looked at here; `tests/benchmark/slips.py` looks at all."""

FLOOR = {"told": 42, "first": 40, "made": 40}
"""How many of the sample must be told at the right place, have a right first mend, and be made right by `mend`."""

NEW_FLOOR = {"told": 33, "first": 30, "made": 30}
"""The same of the newcomers' plans."""


def named(layout: Corpus) -> str:
    return layout.name


def test_it_is_as_large_as_it_should_be() -> None:
    assert len(SEEN) >= 22 and sum(len(one.slips) for one in SEEN) >= 160
    assert len(corpora(HELD_OUT)) >= 20
    assert len({slip.kind for one in SEEN for slip in one.slips}) >= 15


@pytest.mark.parametrize("layout", LAYOUTS, ids=named)
def test_a_sound_plan_is_not_accused(layout: Corpus) -> None:
    found = accusations(layout)
    assert bool(found) == (layout.name in ACCUSED), [one.message for one in found]


@pytest.mark.parametrize("layout", LAYOUTS, ids=named)
def test_every_slip_changes_the_plan_and_has_a_line_to_be_told_at(layout: Corpus) -> None:
    for slip in layout.slips:
        faulty = layout.with_slip(slip)
        assert said(faulty) != said(layout.texts), slip
        assert not same(layout.root, layout.texts, faulty, faulty), slip
        assert layout.lines_to_tell(slip), slip


@pytest.mark.parametrize(("layouts", "floor"), [(SEEN, FLOOR), (NEW, NEW_FLOOR)], ids=["plans", "newcomers"])
def test_a_sample_of_the_slips_fares_no_worse_than_before(layouts: list[Corpus], floor: dict[str, int]) -> None:
    sample = list(outcomes(one._replace(slips=one.slips[place % EVERY :: EVERY]) for place, one in enumerate(layouts)))
    fared = {what: sum(getattr(one, what) for one in sample) for what in floor}
    missed = "\n".join(one.missed for one in sample if one.missed)
    assert all(fared[what] >= least for what, least in floor.items()), f"{fared} of {len(sample)}\n{missed}"


LOOP = """\
booster  B1  15 V  5 A
district main  from B1
segment  a  stop -> J    1 m
segment  b  J -> stop    1 m
feeder   main -> a
feeder   main -> b
"""


@pytest.mark.parametrize(
    ("changed", "alike_"),
    [
        (LOOP.replace("b  J -> stop", "b  stop -> J").replace("main -> b", "main -> b  crossed"), True),
        (LOOP.replace("feeder   main -> b\n", ""), True),
        (LOOP + "gap J both rails\n", True),
        (LOOP.replace("main -> b", "main -> b  crossed"), False),
        (LOOP.replace("b  J -> stop", "b  stop -> J"), False),
        (LOOP.replace("main -> b", "main.red -> b.left") + "gap J both rails\n", False),
        (LOOP.replace("1 m", "2 m"), False),
    ],
)
def test_what_rails_carry_is_compared_where_they_lie(changed: str, alike_: bool) -> None:
    one, other = (carried("plan", {"plan": text}) for text in (LOOP, changed))
    assert alike(one, other) is alike_


def test_a_slip_that_changes_no_rail_is_only_undone_by_the_same_words() -> None:
    texts = [{"plan": LOOP}, {"plan": LOOP + "train long 2 m\n"}, {"plan": LOOP + "train long 2 cm\n"}]
    assert same("plan", texts[1], texts[1], texts[2])
    assert not same("plan", texts[1], texts[0], texts[2])
