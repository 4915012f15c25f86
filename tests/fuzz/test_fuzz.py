"""A little of the fuzzing, always of the same texts; `python tests/fuzz` tries as many others as you like."""

from __future__ import annotations

import pytest

from fuzz.kills import killed
from fuzz.pairs import KINDS, pair
from fuzz.running import LONGEST, Failure, TooLong, at_most, run, tried
from fuzz.targets import TARGETS
from fuzz.texts import SEEDS, anything

FIRST = 1
EACH, PAIRS, KILLS = 6, 4, 5
SLOW = {"mend", "inspect", "sarif", "page", "wire", "wiring", "accept", "lines"}
"""Targets of which fewer texts are tried here."""


@pytest.mark.parametrize("name", TARGETS)
def test_nothing_breaks(name: str) -> None:
    failures: list[Failure] = []
    number = EACH // 4 if name in SLOW else EACH
    run(name, TARGETS[name], anything, range(FIRST, FIRST + number), failures.append)
    assert not failures, f"{failures[0].what}\nseed {failures[0].seed}:\n{failures[0].text}"


@pytest.mark.parametrize("kind", KINDS)
def test_a_plan_said_in_two_ways_has_the_same_findings(kind: str) -> None:
    for seed in range(FIRST, FIRST + PAIRS):
        failure = pair(kind, seed)
        assert failure is None, f"{failure.what}\nseed {seed}:\n{failure.text}"


def test_a_program_that_is_killed_loses_nothing() -> None:
    failures: list[Failure] = []
    killed(range(FIRST, FIRST + KILLS), failures.append)
    assert not failures, failures[0].what


KEPT = {path.stem: path.read_text(encoding="utf-8") for path in sorted(SEEDS.glob("*.trackplan"))}


@pytest.mark.parametrize("seed", KEPT)
@pytest.mark.parametrize(
    "name", ["inspection", "tidy", "sarif", "draw", "server codeAction", "meter", "diagnose", "wiring", "live page"]
)
def test_what_was_found_once_stays_mended(name: str, seed: str) -> None:
    failure = tried(name, TARGETS[name], KEPT[seed], 0)
    assert failure is None, failure.what


def test_what_takes_too_long_is_ended_and_told() -> None:
    def forever(text: str, dice: object) -> None:
        while True:
            try:
                sum(range(1000))
            except Exception:
                continue

    failure = tried("forever", forever, "", 0, longest=0.05)
    assert failure and "TooLong" in failure.kind
    with at_most(LONGEST):
        pass
    with pytest.raises(TooLong), at_most(0.01):
        forever("", None)
