"""Proof before offering: what is offered, what is not, and where the trials end."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from benchmark.start import SOUND, spoilt
from fuzz.texts import SEEDS
from house.files import ROOTS
from mend.holding import PLAN, Plans
from oracle.plans import big_layout
from railbond.circuit.effort import OutOfEffort, at_most, spend, spent
from railbond.doorway import enter
from railbond.findings import Finding, Fix
from railbond.inspection import Inspection
from railbond.mend import overlay as desks
from railbond.mend import proving
from railbond.mend.difference import moved_to
from railbond.mend.overlay import Overlay
from railbond.mend.proving import BATCHES, LEAST, OVERDRAFT, WHOLE, proven
from trackplan.edit import Edit, replace
from trackplan.span import Source, Span

TEXT = """\
booster  B1    15 V  5 A   # old but good
district main  from B1  trips 4 A
segment  west  stop -> J  1.5 m
segment  east  J -> stop  1.5 m
feeder   main -> west
feeder   main -> east  crossed
"""


def place(text: str, words: str) -> Span:
    start = text.index(words)
    return Span(PLAN, start, start + len(words))


def legs_joined() -> Finding:
    return next(one for one in Plans(TEXT).inspected().findings if one.rule == "legs-joined")


def attempt(*edits: Edit, text: str = TEXT) -> bool:
    """Whether edits mend the short of the plan."""
    job = legs_joined(), Fix("as the test says", edits)
    return Overlay([PLAN], {PLAN: text}.__getitem__).attempt(PLAN, [job]) is not None


def test_a_fix_that_cures_is_made() -> None:
    assert attempt(replace(place(TEXT, "  crossed"), ""))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("1.5 m\nfeeder", "1.5 m\nfeeder"),
        ("  # old but good", ""),
        ("feeder   main -> east  crossed", "feeder   main -> esat"),
        ("feeder   main -> east  crossed", "feeder   man -> east"),
        ("J -> stop", "K -> stop"),
    ],
    ids=["nothing changes", "a comment is lost", "does not fit", "no such wire", "a loose end"],
)
def test_a_fix_that_does_harm_is_not(old: str, new: str) -> None:
    assert not attempt(replace(place(TEXT, old), new))


def test_edits_that_overlap_are_not_made() -> None:
    assert not attempt(replace(place(TEXT, "east  crossed"), "east"), replace(place(TEXT, "  crossed"), ""))


def test_only_what_is_proven_is_offered(monkeypatch: pytest.MonkeyPatch) -> None:
    finding = legs_joined()
    good, bad = finding.fixes[0], Fix("paint the rails", (replace(place(TEXT, "1.5 m"), "1.6 m"),))
    words = Fix("look again", ())
    told = finding._replace(fixes=(bad, good, words))
    inspection = Inspection({PLAN: Source(PLAN, TEXT)}, [told], {told: ()})
    (offered,) = proven(PLAN, inspection, {PLAN: TEXT}.__getitem__).findings
    assert [fix.words for fix in offered.fixes] == [good.words, "look again"]
    assert [fix.proven for fix in offered.fixes] == ["alone", ""]


def test_where_the_budget_ends_fixes_are_proven_together() -> None:
    text = TEXT + "segment  far  stop -> stop  1 m\n"
    found = Plans(text).proven(budget=0).findings
    assert {one.fixes[0].proven for one in found} == {"together"}
    assert {fix.proven for one in found for fix in one.fixes[1:]} <= {"untried"}


def test_a_trial_that_takes_too_much_is_given_up_and_its_fix_is_offered_untried(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(proving, "OVERDRAFT", 1.0)
    monkeypatch.setattr(proving, "BATCHES", 0)
    found = Plans(TEXT).proven(budget=1).findings
    assert {fix.proven for one in found for fix in one.fixes if fix.edits} == {"untried"}
    assert len(found[0].fixes) == len(legs_joined().fixes)


def test_within_what_is_bounded_less_can_be_asked_for_but_not_more() -> None:
    with pytest.raises(OutOfEffort), at_most(10), at_most(100):
        spend(11)
    with at_most(100):
        with pytest.raises(OutOfEffort), at_most(10):
            spend(11)
        spend(50)


@pytest.mark.parametrize("seed", ["seven-sidings-as-sold", "random-61", "kilometers"])
def test_inspection_and_trials_together_are_bounded(seed: str) -> None:
    """In steps, which are the same on every machine; about a second and a half."""
    text = (SEEDS / f"{seed}.trackplan").read_text()
    before = spent()
    assert enter(PLAN, {PLAN: text}.__getitem__).proven.findings
    assert spent() - before < WHOLE + LEAST + OVERDRAFT


def test_a_large_plan_with_many_faults_costs_a_few_inspections(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its fixes are offered all the same, and say that they were not tried."""
    text = "\n".join(line for line in big_layout(40).split("\n") if not line.startswith(("bond", "frog")))
    made = []
    inspect = desks.inspect
    monkeypatch.setattr(desks, "inspect", lambda gathered, **more: made.append(gathered) or inspect(gathered, **more))
    findings = Plans(text).proven(budget=0).findings
    assert 1 <= len(made) <= BATCHES * (1 + desks.MOST_UNCOVERED)
    assert len(findings) > 20 and all(one.fixes for one in findings if one.rule == "fed-through-points")


def test_a_sound_plan_costs_no_trial(monkeypatch: pytest.MonkeyPatch) -> None:
    sound = TEXT.replace("  crossed", "")
    monkeypatch.setattr(desks, "inspect", lambda gathered, **more: pytest.fail("inspected again"))
    assert Plans(sound).proven().findings == []


@pytest.mark.parametrize(
    ("offset", "after"),
    [(0, 0), (4, 4), (5, 5), (6, 5), (8, 11), (9, 12), (10, 17)],
)
def test_places_after_edits(offset: int, after: int) -> None:
    """Five to eight become six characters, and four more are put in at ten."""
    assert moved_to(offset, [(5, 8, "sixsix"), (10, 10, "four")]) == after


HALF = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  yard  stop -> Z  1 m
segment  line  Z -> J     1 m
segment  west  J -> K     1 m
segment  mine  K -> L     1 m
segment  pit   L -> stop  1 m
gap      Z     both rails
gap      J     left rail
feeder   main -> yard
feeder   main -> line
"""


def test_the_same_plan_is_always_told_the_same(tmp_path: Path) -> None:
    """Whatever order Python's sets take in a process: by SARIF, whose fingerprints hang on all names of a finding."""
    faulty, half = Path(__file__).parents[2] / "example_plans" / "faulty", tmp_path / "half.trackplan"
    half.write_text(HALF)
    paths = os.pathsep.join(str(root) for root in ROOTS.values())
    told = set()
    for seed in ("1", "2"):
        done = subprocess.run(
            [sys.executable, "-m", "railbond", "inspect", str(faulty), str(half), "--as", "sarif"],
            capture_output=True, text=True, env={**os.environ, "PYTHONPATH": paths, "PYTHONHASHSEED": seed},
        )  # fmt: skip
        told.add(done.stdout)
    assert len(told) == 1
    assert "west is cut in one rail only at J" in told.pop()


def test_what_an_earlier_edit_wrote_is_known_where_later_ones_have_moved_it() -> None:
    """Two edits of one file, the first of them longer than what it replaces: the second lies further on by then."""
    attempt = desks._Attempt(Overlay([PLAN], {PLAN: TEXT}.__getitem__), PLAN, [legs_joined()])
    assert not attempt._undoes(PLAN, [(0, 2, "eleven more"), (10, 12, "ab")])
    assert not attempt._undoes(PLAN, [(12, 14, "")])
    assert attempt.written[PLAN] == [(0, 11), (17, 19), (12, 12)]
    assert attempt._undoes(PLAN, [(18, 19, "c")])


HIDDEN = """\
Booster B1, 15 V, 5 A
district main from B1
track loop T1.through -> T1.diverging 3 m
turnout T1 left #4 live frog
segment lead stop -> T1.points 2 ft
feeder main -> lead
"""


def test_what_is_meant_is_offered_whatever_it_uncovers() -> None:
    """A line that does not read hides what is wrong with the track; its mend is no worse for letting that be found. And
    the name that the line would have given is not missed, whatever stands behind it."""
    found = enter(PLAN, lambda path: HIDDEN).proven.findings
    assert [(one.rule, one.fixes[0].words) for one in found] == [
        ("syntax", "write `booster B1  15 V  5 A`"),
        ("syntax", "write `segment loop T1.through -> T1.diverging 3 m`"),
        ("syntax", "write `turnout T1 left number 4 live-frog`"),
    ]


def test_a_mend_that_leaves_nothing_comes_before_one_with_which_more_is_found() -> None:
    """One gap ends the short of a turnout that lies as it was sold, but its open blade then still carries the other
    leg; cut and bonded as its neighbor is, it leaves nothing to tell."""
    as_sold = spoilt(SOUND.read_text())
    found = enter(PLAN, lambda path: as_sold).proven.findings
    told = next(one for one in found if one.rule == "frog-rail-gap-missing")
    assert [bool(fix.then) for fix in told.fixes] == [False, True], [fix.words for fix in told.fixes]
    assert told.fixes[0].words.startswith("convert T2: cut the rails")
