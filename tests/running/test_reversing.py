"""Reversers' sections: how long they are, where their cuts lie, and what two trains ask of them."""

from __future__ import annotations

import pytest

from running.plans import POWER, mended, running_of, told

LOOP = """\
reverser R1    in main
segment  lead  stop -> T1.points            90 cm
turnout  T1    left   number 6  isolated-frog
segment  out   T1.through -> A              30 cm
segment  loop  A -> B                       2 m
segment  back  B -> T1.diverging            40 cm
frog     T1    switched from stock rails
feeder   main -> lead
feeder   R1 -> loop at 1 m
"""


def loop(*lines: str) -> str:
    return POWER + LOOP + "".join(f"{line}\n" for line in lines)


AT_FROG = "gap T1.through both rails", "gap T1.diverging both rails"
AT_JOINTS = "gap A both rails", "gap B both rails", "feeder main -> out", "feeder main -> back crossed"


@pytest.mark.parametrize(
    ("gaps", "meters"),
    [
        (AT_FROG, 2.7),
        (AT_JOINTS, 2.0),
        (("gap A both rails", "gap T1.diverging both rails", "feeder main -> out"), 2.4),
        (("gap T1.through both rails", "gap loop at 1.5 m both rails", "feeder main -> loop at 1.8 m crossed"), 1.8),
    ],
)
def test_a_section_is_as_long_as_the_track_from_cut_to_cut(gaps: tuple[str, ...], meters: float) -> None:
    (sections,) = running_of(loop(*gaps)).sections.values()
    assert {way.length for way in sections.conflicting} == {round(meters * 1e6)}


@pytest.mark.parametrize(("train", "fits"), [("2.71 m", False), ("2.7 m", True), ("4 m metal-wheels 30 cm", True)])
def test_a_train_fits_or_it_does_not(train: str, fits: bool) -> None:
    assert bool(told(loop(*AT_FROG, f"train longest {train}"), "reverser-short-of-train")) != fits


def test_where_no_train_is_told_the_longest_engine_counts() -> None:
    cuts = "gap loop at 80 cm both rails", "gap loop at 1.1 m both rails"
    engines = "engine long left 0 40 cm right 0 40 cm 1 A", "engine short left 0 20 cm right 0 20 cm 1 A"
    text = loop(*cuts, "feeder main -> out", "feeder main -> back crossed", *engines)
    (finding,) = told(text, "reverser-short-of-train")
    assert finding.names == ("R1", "long")
    assert not told(text + "limit stall-time 10 ms\ntrain t 20 cm\n", "reverser-short-of-train")


@pytest.mark.parametrize("fix", [0, 1])
def test_the_fixes_make_it_fit(fix: int) -> None:
    """The cuts of one joint moved out to the frog, or a shorter train."""
    text = loop(*AT_JOINTS, "train longest 2.2 m")
    (finding,) = told(text, "reverser-short-of-train")
    after = mended(text, finding, fix)
    assert not told(after, "reverser-short-of-train")
    assert not [one for one in ("opposed-at-gap", "legs-joined", "unfed-rail", "impossible") if told(after, one)]


def test_both_ends_are_moved_where_one_is_not_enough() -> None:
    text = loop(*AT_JOINTS, "train longest 2.6 m")
    (finding,) = told(text, "reverser-short-of-train")
    assert "becomes 2.7 m long" in finding.fixes[0].changes
    assert not told(mended(text, finding), "reverser-short-of-train")


def test_where_no_gap_can_move_the_loop_is_laid_longer_before_the_train_is_shortened() -> None:
    (finding,) = told(loop(*AT_JOINTS, "train longest 5 m"), "reverser-short-of-train")
    assert [fix.words.split()[0] for fix in finding.fixes] == ["lay", "keep"]


def test_ends_that_ask_for_the_same_polarity_are_bridged_without_harm() -> None:
    """A reverser on plain track: a train may be as long as it likes."""
    line = (
        "reverser R1 in main", "segment a stop -> J 1 m", "segment b J -> K 1 m", "segment c K -> stop 1 m",
        "gap J both rails", "gap K both rails", "feeder main -> a", "feeder R1 -> b", "feeder main -> c", "train t 3 m",
    )  # fmt: skip
    (sections,) = running_of(POWER + "\n".join(line)).sections.values()
    assert [way.length for way in sections.throughs] and not sections.conflicting


@pytest.mark.parametrize(("place", "told_apart"), [("5 mm", False), ("10 mm", False), ("11 mm", True), ("30 cm", True)])
def test_gaps_apart(place: str, told_apart: bool) -> None:
    other = "gap A left rail" if place == "30 cm" else f"gap out at {place} left rail"
    text = loop("gap T1.through stock rail", other, "gap T1.diverging both rails", "train longest 1 m")
    assert bool(told(text, "gaps-apart")) == told_apart
    if told_apart:
        (finding,) = told(text, "gaps-apart")
        assert not told(mended(text, finding), "gaps-apart")
        assert not told(mended(text, finding), "reversing-gap-one-rail")


BONE = """\
reverser R1    in main
turnout  T1    left   number 6  isolated-frog
turnout  T2    left   number 6  isolated-frog
segment  line  T1.points -> T2.points       4 m
segment  west  T1.through -> T1.diverging   4 m
segment  east  T2.through -> T2.diverging   4 m
frog     T1    switched from stock rails
frog     T2    switched from stock rails
gap      T1.through    both rails
gap      T1.diverging  both rails
gap      T2.through    both rails
gap      T2.diverging  both rails
feeder   main -> line
"""


def test_one_reverser_for_two_loops() -> None:
    text = POWER + BONE + "feeder R1 -> west\nfeeder R1 -> east\ntrain t 1 m\n"
    (finding,) = told(text, "reverser-shared")
    after = mended(text, finding)
    assert not told(after, "reverser-shared") and not told(after, "reverser-short-of-train")


def test_two_reversers_for_two_loops_and_one_of_one_loop_are_fine() -> None:
    apart = POWER + BONE + "reverser R2 in main\nfeeder R1 -> west\nfeeder R2 -> east\ntrain t 1 m\n"
    assert not told(apart, "reverser-shared") and not told(loop(*AT_FROG, "train t 1 m"), "reverser-shared")


def test_two_stretches_of_one_section_are_not_apart() -> None:
    """A passing siding within the section: two ways through, one section; the shorter way counts."""
    siding = (
        "reverser R1 in main", "segment lead stop -> T1.points 90 cm", "turnout T1 left number 6 isolated-frog",
        "segment out T1.through -> T2.points 30 cm", "turnout T2 left number 6 isolated-frog",
        "segment near T2.through -> T3.through 1 m", "segment far T2.diverging -> T3.diverging 1.2 m",
        "turnout T3 right number 6 isolated-frog", "segment back T3.points -> T1.diverging 40 cm",
        "gap T1.through both rails", "gap T1.diverging both rails", "feeder main -> lead", "feeder R1 -> out",
        "feeder R1 -> near", "feeder R1 -> far", "train t 10 m",
        *(f"frog {name} switched from stock rails" for name in ("T1", "T2", "T3")),
    )  # fmt: skip
    text = POWER + "\n".join(siding) + "\n"
    assert not told(text, "reverser-shared")
    run = running_of(text)
    (finding,) = told(text, "reverser-short-of-train")
    turnouts = 2 * (run.track.size("T2").lead + run.track.size("T2").heel)
    assert run.sections["R1"].conflicting[0].length == 1_700_000 + turnouts
    assert finding.names == ("R1", "t")
