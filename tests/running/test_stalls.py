"""Stalls worked out by hand."""

from __future__ import annotations

import pytest

from running.plans import POWER, mended, one_turnout, running_of, told

FROG = "number 6 dead-frog dead 28 mm"


def lengths(text: str) -> dict[str, float]:
    """Millimeters that each engine stands still for, at its worst."""
    found: dict[str, float] = {}
    for by_name in running_of(text).stalls.values():
        for name, one in by_name.items():
            found[name] = max(found.get(name, 0), one.length / 1000)
    return found


@pytest.mark.parametrize(("wheels", "stall"), [("0 18", 10), ("0 27.9", 0.1), ("0 28", 0), ("0 10 60", 0), ("0", 28)])
def test_a_side_stalls_for_what_its_pickups_fall_short_of_the_frog(wheels: str, stall: float) -> None:
    engine = f"engine e left {wheels} mm right {wheels} mm 0.3 A"
    assert lengths(one_turnout(FROG, engine)) == ({"e": stall} if stall else {})


def test_each_side_counts_by_itself() -> None:
    """The left side bridges the frog, the right does not: it stalls only where the frog is under its right wheels."""
    text = one_turnout(FROG, "engine e left 0 40 mm right 12 30 mm 0.3 A")
    (by_name,) = running_of(text).stalls.values()
    assert (by_name["e"].sides, by_name["e"].length) == (("right",), 10_000)


def test_two_frogs_stop_an_engine_that_either_lets_pass() -> None:
    """Points to points, the frogs lie two leads apart, 4·G·n = 395.64 mm between their points; an engine with two
    wheels a side just that far apart has both on dead frogs at once."""
    track = (
        "segment a stop -> T1.through 1 m", "segment b stop -> T1.diverging 1 m", f"turnout T1 left {FROG}",
        "joint T1.points -> T2.points", f"turnout T2 left {FROG}",
        "segment c T2.through -> stop 1 m", "segment d T2.diverging -> stop 1 m",
        *(f"feeder main -> {one}" for one in "abcd"),
    )  # fmt: skip
    engines = "engine e left 0 395 mm right 0 395 mm 0.3 A", "engine f left 0 30 mm right 0 30 mm 0.3 A"
    text = POWER + "\n".join((*track, *engines))
    stalls = running_of(text).stalls
    assert {frozenset(cause): set(by_name) for cause, by_name in stalls.items()} == {frozenset(("T1", "T2")): {"e"}}
    (finding,) = told(text, "stalls")
    assert "T1 and T2" in finding.message
    assert not told(mended(text, finding), "stalls")


def test_a_capacitor_carries_it_at_its_crawl() -> None:
    """10 mm of stall: 500 ms at 20 mm/s are just enough, 400 ms are not."""
    engine = "engine e left 0 18 mm right 0 18 mm 0.3 A capacitor {} ms crawls 20 mm/s"
    assert lengths(one_turnout(FROG, engine.format(500))) == {}
    assert lengths(one_turnout(FROG, engine.format(400))) == {"e": 10}


def test_limits_for_crawling_and_for_flywheels() -> None:
    engine = "engine e left 0 18 mm right 0 18 mm 0.3 A"
    assert lengths(one_turnout(FROG, engine, "limit stall-time 500 ms")) == {}
    assert lengths(one_turnout(FROG, engine, "limit stall-time 500 ms", "limit crawl-speed 10 mm/s")) == {"e": 10}


def test_a_cut_is_bridged_unless_the_plan_gives_it_a_length() -> None:
    """Both rails cut opposite each other, an engine of one axle: it stands on the 3 mm of insulation."""
    track = "segment a stop -> J 1 m\nsegment b J -> stop 1 m\ngap J both rails\nfeeder main -> a\nfeeder main -> b\n"
    engine = "engine e left 0 mm right 0 mm 0.3 A\n"
    assert lengths(POWER + track + engine) == {}
    assert lengths(POWER + track + engine + "limit gap-length 3 mm\n") == {"e": 3}


def test_an_engine_cannot_stand_beyond_the_end_of_track() -> None:
    """A dead stretch behind the last 30 mm of a siding: the wheels of an engine of 40 mm are never all on it."""
    lines = (
        "segment a stop -> stop 1 m", "gap a at 97 cm left rail",
        "feeder main.red -> a.left at 20 cm", "feeder main.black -> a.right at 20 cm",
        'accept unfed-rail at a because "it parks here"', "engine e left 0 {} mm right 0 {} mm 0.3 A",
    )  # fmt: skip
    stub = POWER + "\n".join(lines)
    assert lengths(stub.format(40, 40)) == {}
    assert lengths(stub.format(20, 20)) == {"e": 10}


def test_power_that_hangs_on_points_off_the_route() -> None:
    """A rail of z has power only while the blade of T2 touches: an engine that stays on z is dead with T2 through."""
    lines = (
        "segment x stop -> T2.points 1 m", "turnout T2 left number 6 dead-frog dead 28 mm",
        "segment y T2.through -> stop 1 m", "segment z T2.diverging -> stop 1 m",
        *(f"feeder main -> {one}" for one in "xy"), "engine e left 0 60 mm right 0 60 mm 0.3 A",
    )  # fmt: skip
    text = POWER + "\n".join(lines) + "\n"
    assert told(text, "fed-through-points") and not told(text, "stalls")
    (finding,) = told(text + 'accept fed-through-points at z because "it is a storage track"\n', "stalls")
    assert finding.setting == "T2 straight" and "z" in finding.names


def test_what_is_told_as_unfed_is_not_told_again() -> None:
    text = one_turnout("number 6 isolated-frog dead 28 mm", "engine e left 0 18 mm right 0 18 mm 0.3 A")
    assert told(text, "unfed-frog") and not told(text, "stalls")
    assert told(text + 'accept unfed-frog at T1 because "all engines are long"\n', "stalls")


@pytest.mark.parametrize("fix", [0, 1])
def test_each_fix_cures_and_brings_no_other_finding(fix: int) -> None:
    text = one_turnout(FROG, "engine e left 0 18 mm right 0 18 mm 0.3 A", "engine f left 0 9 mm right 0 50 mm 0.3 A")
    (finding,) = told(text, "stalls")
    assert "e for" in finding.message and finding.names == ("T1", "f", "e")
    assert not told(mended(text, finding, fix), "stalls")


def test_a_frog_left_dead_on_purpose_is_fed_by_the_fix() -> None:
    text = one_turnout(
        "number 6 isolated-frog dead 28 mm", 'frog T1 unpowered because "no contacts"',
        "engine e left 0 18 mm right 0 18 mm 0.3 A",
    )  # fmt: skip
    (finding,) = told(text, "stalls")
    assert "frog T1  switched from stock rails" in mended(text, finding)
    assert not told(mended(text, finding), "stalls")


def test_it_is_accepted_at_the_turnout_or_at_the_engine() -> None:
    text = one_turnout(FROG, "engine e left 0 18 mm right 0 18 mm 0.3 A")
    for name in ("T1", "e"):
        assert not told(text + f'accept stalls at {name} because "it is pushed"\n', "stalls")


def test_the_longest_way_on_one_wheel_is_told_once_for_each_engine() -> None:
    engines = "engine e left 0 40 mm right 0 40 mm 0.3 A", "engine f left 0 40 80 mm right 0 40 80 mm 0.3 A"
    text = one_turnout(FROG, *engines)
    (finding,) = told(text, "single-wheel")
    assert finding.names[0] == "e" and "28 mm" in finding.message
    light = text.replace("80 mm 0.3 A", "80 mm 0.3 A unweighted 0 mm")
    assert [one.names[0] for one in told(light, "single-wheel")] == ["e", "f"]
    assert not told(text + "limit single-wheel 28 mm\n", "single-wheel")


def test_a_plan_without_engines_says_nothing() -> None:
    text = one_turnout("number 6 dead-frog dead 22 mm")
    assert not any(told(text, rule) for rule in ("stalls", "single-wheel", "frog-rails-bridged", "gaps-apart"))


def test_ways_that_are_not_followed_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    """Beyond T1 lies another turnout: with one way followed over T1, the others are told as not looked at."""
    text = one_turnout(FROG, "engine e left 0 18 mm right 0 18 mm 0.3 A")
    text = text.replace("-> stop 90 cm", "-> T2.points 5 cm", 1)
    text += "turnout T2 left number 6 isolated-frog\nfrog T2 switched from stock rails\n"
    text += "segment x T2.through -> stop 1 m\nsegment y T2.diverging -> stop 1 m\nfeeder main -> x\nfeeder main -> y\n"
    assert not [one for one in told(text, "stalls") if one.level == "note"]
    monkeypatch.setattr("railbond.circuit.running.walking.MOST_WINDOWS", 1)
    (note,) = [one for one in told(text, "stalls") if one.level == "note"]
    assert note.names == ("T1",) and "not all were looked at" in note.message
