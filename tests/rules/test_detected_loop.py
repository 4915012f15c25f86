"""A detector between the breaker and the auto-reverser of a loop: the reverser is in the block that it detects."""

from __future__ import annotations

import pytest

from layout.plans import POWER, faults, sound
from railbond.bench.diagnosis import Diagnosis
from railbond.bench.observation import Resolver
from railbond.doorway import enter
from railbond.findings import Finding
from railbond.mend.overlay import Overlay
from railbond.mend.rounds import mend
from railbond.rules import all_rules
from trackplan.seen import read_seen
from trackplan.span import Source

LOOP = """\
booster B1 15 V 5 A
district main from B1 trips 4 A
block loop in main
reverser R1 in loop trips 3 A
segment lead stop -> T1.points 1 m
turnout T1 left number 6 isolated-frog
segment ball T1.through -> T1.diverging 4 m
gap T1.through both rails
gap T1.diverging both rails
frog T1 automatic main
feeder main -> lead 22 AWG 20 cm
feeder R1 -> ball 22 AWG 20 cm
"""
ALL = tuple(rule.name for rule in all_rules())
STRAIGHT = """\
booster B1 15 V 5 A
district main from B1
block far in main
reverser R1 in far
segment west stop -> J 1.5 m
segment east J -> stop 1.5 m
gap J both rails
feeder main -> west
feeder R1.red -> east.left
feeder R1.black -> east.right
"""


def told(text: str) -> dict[str, Finding]:
    return {one.rule: one for one in enter("plan", {"plan": text}.__getitem__).proven.findings}


@pytest.mark.parametrize("text", [LOOP, LOOP.replace("block loop in main\n", "") + "block loop in main\n"])
def test_a_loop_behind_a_detector_is_sound(text: str) -> None:
    assert not told(text)


@pytest.mark.parametrize(
    ("right", "wrong", "rule"),
    [
        ("gap T1.through both rails\n", "", "districts-joined"),
        ("gap T1.through both rails", "gap T1.through left rail", "reversing-gap-one-rail"),
        ("feeder R1 -> ball", "feeder loop -> ball", "reversing-without-reverser"),
        ("trips 3 A", "trips 5 A", "breaker-trips-first"),
        ("feeder R1 -> ball 22 AWG 20 cm\n", "", "reversing-without-reverser"),
    ],
)
def test_what_is_wrong_with_any_loop_is_told_of_it(right: str, wrong: str, rule: str) -> None:
    assert right in LOOP
    assert rule in told(LOOP.replace(right, wrong))


def test_its_reverser_is_in_the_district_of_the_block() -> None:
    plan = sound(f"{POWER}reverser R1 in spot\nblock spot in main\n")
    assert list(plan.supplies) == ["main", "R1", "spot"]
    one = plan.supplies["R1"]
    assert (one.district, one.detector, one.booster, one.hangs_on) == ("main", "spot", "B1", {"main", "spot"})


@pytest.mark.parametrize(
    "lines",
    [
        "district other from B1\nblock spot in main or other\nreverser R1 in spot\n",
        "cab C1 12 V 1 A\nblock spot in C1\nreverser R1 in spot\n",
        "reverser R2 in main\nreverser R1 in R2\n",
    ],
)
def test_nothing_else_may_come_before_a_reverser(lines: str) -> None:
    assert [fault.rule for fault in faults(POWER + lines)] == ["unknown-name"]


def test_a_detector_behind_a_reverser_is_put_before_it() -> None:
    """What hangs on the block is moved to the reverser then, as in any loop."""
    turned = LOOP.replace("loop in main", "loop in R1").replace("R1 in loop", "R1 in main")
    text = turned.replace("R1 -> ball", "loop -> ball")
    assert [fault.rule for fault in faults(text)] == ["impossible"]
    overlay = Overlay(["plan"], {"plan": text}.__getitem__)
    mend(overlay, ALL)
    assert overlay.open_text("plan") == LOOP


def test_two_detectors_behind_a_reverser_are_not_mended_by_guess() -> None:
    text = f"{POWER}reverser R1 in main\nblock a in R1\nblock b in R1\nsegment s stop -> stop 1 m\nfeeder main -> s\n"
    found = [one for one in enter("plan", {"plan": text}.__getitem__).proven.findings if one.rule == "impossible"]
    assert len(found) == 2
    for one in found:
        assert any(fix.words.startswith("one detector before R1 sees its whole section") for fix in one.fixes)
        assert not any("R1 in a" in edit.text or "R1 in b" in edit.text for fix in one.fixes for edit in fix.edits)


def test_an_idle_one_is_taken_out_and_its_block_feeds_the_track() -> None:
    finding = told(STRAIGHT)["reverser-idle"]
    assert "so a plain block does" in finding.message
    text = STRAIGHT
    for edit in sorted(finding.fixes[0].edits, key=lambda one: -one.at.start):
        text = text[: edit.at.start] + edit.text + text[edit.at.end :]
    assert text == STRAIGHT.replace("reverser R1 in far\n", "").replace("R1.", "far.")
    assert not told(text)


@pytest.mark.parametrize(
    ("seen", "mistake"),
    [
        ("detector of loop never on", "the wire from R1.red to ball's left rail"),
        ("detector of loop always on", "ball's left rail is not cut"),
    ],
)
def test_the_detector_sees_what_the_reverser_feeds(seen: str, mistake: str) -> None:
    diagnosis = Diagnosis(enter("plan", {"plan": LOOP}.__getitem__).facts)
    ((asked,), _) = read_seen(Source("seen", seen))
    observation = Resolver(diagnosis.facts, diagnosis.points).resolve(asked)
    assert observation
    causes = diagnosis.causes([observation])
    assert any(one.mistake.words.startswith(mistake) for one in causes if not one.misses)
