"""A reverser and cuts that a plan has are moved, not added to: the first mend is tried again and held to an oracle.

Where the trains fit is told by the plans' own lengths: the tail of a wye with its turnout, the returning track of a
folded dog bone with the crossover's turnout (three places at which it ends), a balloon loop of two pieces.
"""

from __future__ import annotations

from typing import NamedTuple

import pytest

from mend.holding import comments
from mend.likeness import statements
from mend.moved_plans import ON_THE_CROSSOVER, ON_THE_SPUR, SHORT_LEG, SHORT_LEG_OF_A_WYE_WITH_A_LONG_TAIL
from oracle.brute import Brute
from oracle.plan_model import model
from oracle.reversing import reverses
from railbond.findings import Finding
from railbond.inspection import inspect
from railbond.mend.proving import proven
from trackplan.edit import apply
from trackplan.gather import gather
from trackplan.span import Source


class Case(NamedTuple):
    """A plan, the rule that tells, and the lines that the first mend leaves, gaps and what is fed from the reverser."""

    text: str
    rule: str
    gaps: set[str]
    fed: set[str]


CASES = {
    "a side of a wye": Case(
        SHORT_LEG,
        "reverser-short-of-train",
        {"A.through", "leg1.start"},
        {"R1 -> west crossed"},
    ),
    "a wye's tail with its turnout and its frog": Case(
        SHORT_LEG_OF_A_WYE_WITH_A_LONG_TAIL,
        "reverser-short-of-train",
        {"legw.finish", "C.right"},
        {"P2 -> neck", "P2 -> tail", "C switched left P2.red right P2.black"},
    ),
    "a loop of two pieces": Case(
        ON_THE_SPUR,
        "reversing-without-reverser",
        {"T1.through", "T1.diverging"},
        {"P2 -> rise", "P2 -> fall"},
    ),
    "the middle of a folded dog bone, with three ends": Case(
        ON_THE_CROSSOVER,
        "reverser-short-of-train",
        {"X2.diverging", "X2.through", "loope.finish"},
        {"R1 -> eb1"},
    ),
}


def found(text: str) -> list[Finding]:
    given = {"plan.trackplan": text}.__getitem__
    return list(proven("plan.trackplan", inspect(gather("plan.trackplan", given)), given).findings)


def said(text: str) -> list[str]:
    return [" ".join(line.partition("#")[0].split()) for line in text.splitlines()]


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_what_is_there_is_moved(case: Case) -> None:
    (told,) = [one for one in found(case.text) if one.rule == case.rule]
    mended = apply(Source("plan.trackplan", case.text), told.fixes[0].edits)
    assert [one for one in found(mended) if one.level != "note"] == []
    assert comments(mended) == comments(case.text)
    lines = said(mended)
    assert sum(line.startswith("reverser") for line in lines) == 1
    assert {line.split()[1] for line in lines if line.startswith("gap")} == case.gaps
    assert {line.partition(" ")[2] for line in lines if {"R1", "P2"} & wires(line)} == case.fed


def wires(line: str) -> set[str]:
    """The wires from which a feeder or a frog's contacts take their power."""
    return {word.partition(".")[0] for word in line.split()} if line.startswith(("feeder", "frog")) else set()


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_by_walking_every_setting(case: Case) -> None:
    """The oracle finds nothing joined, opposed, dead or turning once the first mend is made, and did before or not."""
    (told,) = [one for one in found(case.text) if one.rule == case.rule]
    brute = Brute(model(statements(apply(Source("plan.trackplan", case.text), told.fixes[0].edits))))
    assert not reverses(brute)
    assert not brute.ever_legs_joined | brute.ever_districts_joined | brute.never_fed
    assert not brute.opposed_passes()


def test_a_cut_that_still_parts_something_stays() -> None:
    """The spur is a block of its own: its cut is not free for the loop."""
    text = ON_THE_SPUR.replace("reverser R1 in main trips 3 A", "reverser R1 in main\nblock pit in main")
    text = text.replace("P2 -> spur", "pit -> spur").replace("bus R1 -> P2 3 m 14 AWG\n", "")
    (told,) = [one for one in found(text) if one.rule == "reversing-without-reverser"]
    mended = said(apply(Source("plan.trackplan", text), told.fixes[0].edits))
    assert {line.split()[1] for line in mended if line.startswith("gap")} == {
        "S.diverging",
        "T1.through",
        "T1.diverging",
    }


def test_a_crossover_is_short_by_nature() -> None:
    """20 cm between two turnouts is no slip for the 200 cm that other lines have."""
    (told,) = [one for one in found(ON_THE_CROSSOVER) if one.level == "warning"]
    assert all("slip" not in told.message and "200 cm" not in fix.words for fix in told.fixes)
