"""The bench sheet shows every mistake that any probe could show, tells what it cannot, and is near the fewest."""

from __future__ import annotations

from collections.abc import Callable
from math import prod
from pathlib import Path
from random import Random

import pytest

from bench.readings import RIGHT, facts, facts_at, labels, settings, shows
from oracle.plans import random_sound, random_wild
from railbond.bench.checks import checks
from railbond.bench.continuity import Continuity
from railbond.bench.cover import seen
from railbond.bench.jobs import tasks
from railbond.bench.mistakes import mistakes
from railbond.bench.sheet import Sheet, fewest_throws, sheet_of
from railbond.circuit.facts import Facts
from railbond.faces.meter_words import tried_before

EXAMPLES = sorted((Path(__file__).parents[2] / "example_plans").glob("*.trackplan"))
MOST_SETTINGS = 64
"""Settings up to which all are walked by plain search."""


def told_apart(sheet: Sheet, mistake: int) -> bool:
    """Whether a reading of the sheet is another than expected, all metal spread over anew."""
    graph = sheet.points.facts.graph
    for stand in sheet.stands:
        wrong = labels(graph, sheet.mistakes[mistake], stand.setting)
        if any((wrong[probe.one] == wrong[probe.other]) != probe.beeps for probe in stand.probes):
            return True
    return False


def check(plan: Facts) -> tuple[int, int]:
    """How many mistakes the sheet shows, of how many there are."""
    sheet = sheet_of(plan)
    hidden = {(one.lost, one.made) for one, _ in sheet.unseen}
    unproven = {(one.lost, one.made) for one in sheet.unproven}
    count = prod(map(len, plan.graph.positions.values()))
    every = list(settings(plan.graph)) if count <= MOST_SETTINGS else []
    shown = 0
    for number, mistake in enumerate(sheet.mistakes):
        key = mistake.lost, mistake.made
        if key not in unproven:
            assert told_apart(sheet, number) == (key not in hidden), mistake.words
        if key in hidden:
            assert not any(shows(plan.graph, mistake, setting) for setting in every), mistake.words
        shown += key not in hidden and key not in unproven
    expected(sheet)
    return shown, len(sheet.mistakes)


def expected(sheet: Sheet) -> None:
    """Every reading that the sheet tells to expect is that of the plan, and the bound is one."""
    graph = sheet.points.facts.graph
    for stand in sheet.stands:
        right = labels(graph, RIGHT, stand.setting)
        assert all((right[probe.one] == right[probe.other]) == probe.beeps for probe in stand.probes)
        assert set(stand.setting) == set(graph.positions)
    assert sheet.fewest <= len(sheet.probes)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_mistake_of_every_example_shows_or_cannot(path: Path) -> None:
    shown, all_of_them = check(facts_at(str(path)))
    assert 2 * shown >= all_of_them


@pytest.mark.parametrize("seed", [*range(6), 110, 132, 142, 202])
def test_every_mistake_of_random_plans_shows_or_cannot(seed: int) -> None:
    rng = Random(seed)
    check(facts(random_sound(rng, rng.randint(1, 6))))


@pytest.mark.parametrize("seed", [1, 3, 129, 131, 141, 175])
def test_plans_that_are_wrong_themselves_have_sheets_too(seed: int) -> None:
    rng = Random(seed)
    check(facts(random_wild(rng, rng.randint(1, 6))))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_probe_could_be_left_out(path: Path) -> None:
    sheet = sheet_of(facts_at(str(path)))
    for probe in sheet.probes:
        others = [one for one in sheet.probes if one != probe]
        alone = [
            number
            for number in range(len(sheet.mistakes))
            if sheet.bench.shows(probe, number) and not any(sheet.bench.shows(one, number) for one in others)
        ]
        assert alone, sheet.points.name[probe.one]


@pytest.mark.parametrize("make", [random_sound, random_wild])
def test_what_a_probe_shows_is_what_it_shows_of_all_mistakes_asked_one_by_one(make: Callable[..., str]) -> None:
    """Each probe is asked about those mistakes only that may concern it."""
    for seed in range(12):
        rng = Random(seed)
        bench = sheet_of(facts(make(rng, rng.randint(1, 6)))).bench
        shown = bench.shown()
        asked_by_end = {probe: seen(bench, probe) for probe in shown if probe.beeps}
        for probe, classes in (*shown.items(), *asked_by_end.items()):
            assert classes == {one for one in bench.many if bench.sees(probe, one)}


def test_the_sheet_is_smaller_than_trying_everything_by_itself() -> None:
    sheets = [sheet_of(facts_at(str(path))) for path in EXAMPLES]
    assert sum(len(one.probes) for one in sheets) * 3 < sum(one.naive for one in sheets)


def test_points_are_thrown_only_where_they_must_be() -> None:
    """Frogs alone ask for the other position: every other mistake of the siding shows with all points through."""
    siding = next(path for path in EXAMPLES if path.stem == "passing_siding")
    stands = sheet_of(facts_at(str(siding))).stands
    assert [dict(stand.thrown) for stand in stands] == [
        {"T1": "through", "T2": "through"},
        {"T1": "diverging", "T2": "diverging"},
    ]


def test_settings_go_on_to_the_nearest() -> None:
    stands = [{"A": a, "B": b} for a, b in ("tt", "dd", "td", "dt")]
    assert fewest_throws(stands) == [0, 2, 1, 3]
    assert fewest_throws([]) == []


def test_what_the_schedule_has_tried_is_not_asked_for_again() -> None:
    """Every mistake that is left out of the sheet has its check in the schedule: one tells it when the job is done."""
    plan = facts_at(str(next(path for path in EXAMPLES if path.stem == "passing_siding")))
    tried = [one for one, _ in sheet_of(plan).unseen if tried_before(one)]
    told = checks(plan, tasks(plan))
    lines = {job.at for job in told}
    assert tried and all(one.at in lines for one in tried)
    assert all(kind in " ".join(told.values()) for kind in ("free end", "look through the cut"))


ONE_TRACK = """
booster   B1             15 V  5 A
district  main           from B1  trips 4 A
bus       main -> P1     2 m  14 AWG
segment   west   stop -> stop  1 m
"""


def test_a_second_wire_hides_that_one_is_missing_and_is_named() -> None:
    plan = facts(f"{ONE_TRACK}feeder P1 -> west at 20 cm\nfeeder P1 -> west at 80 cm\n")
    unseen = dict((one.words, why) for one, why in sheet_of(plan).unseen)
    words = "the wire from P1.red to west's left rail at 20 cm is missing or makes no contact"
    assert unseen[words] == "the same two are joined by P1.red - west.left too"
    alone = sheet_of(facts(f"{ONE_TRACK}feeder P1 -> west at 20 cm\n"))
    assert not alone.unseen


def test_what_hides_a_mistake_is_found_in_any_setting() -> None:
    """A bond that only blades could do for is missed in the setting in which they are open."""
    plan = facts(
        """
booster   B1             15 V  5 A
district  main           from B1  trips 4 A
turnout   T1  left  dead-frog
segment   west   stop -> T1.points     1 m
segment   main1  T1.through -> stop    1 m
segment   side   T1.diverging -> stop  1 m
bond      T1  closure rails to stock rails
feeder    main -> west
"""
    )
    sheet = sheet_of(plan)
    kinds = {one.kind for one, _ in sheet.unseen}
    assert "bond forgotten" not in kinds and len(sheet.stands) == 2


@pytest.mark.parametrize("seed", range(6))
def test_whether_a_mistake_shows_is_whether_some_two_parts_read_otherwise(seed: int) -> None:
    known = facts(random_wild(Random(seed), 5))
    every = mistakes(known.wiring)
    metal = Continuity(known.graph, every)
    first = {switch: stands[0] for switch, stands in known.graph.positions.items()}
    for effect in (metal.effect(one, first) for one in every):
        pairs = [(one, two) for one in effect.touched() for two in effect.touched()]
        read = [(effect.home(one) == effect.home(two)) != (effect.root(one) == effect.root(two)) for one, two in pairs]
        assert bool(effect) == any(read)
        assert any(read) == bool([*effect.split(), *effect.merged()])
