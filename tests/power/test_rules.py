"""What the rules about power find, at which number, and that their mends mend."""

from __future__ import annotations

from random import Random

import pytest

from oracle.plans import random_sound
from power.wired import facts_of, wired
from railbond.circuit.power.least_copper import least_copper
from railbond.findings import Finding
from railbond.inspection import examine
from railbond.rules import all_rules
from trackplan.edit import apply

POWER = {
    "short-will-not-trip", "voltage-drop", "wire-too-thin", "breaker-over-booster", "breaker-trips-first",
    "district-overloaded", "power-on-trips", "track-voltage-wrong", "feeders-too-far-apart", "bus-too-long",
    "wires-unknown",
}  # fmt: skip
HEAD = "scale HO\nbooster B1 15 V 5 A\ndistrict main from B1 trips 4 A\n"


def found(text: str, *names: str) -> list[Finding]:
    """The findings of the named rules, or of all about power."""
    rules = tuple(rule for rule in all_rules() if rule.name in (names or POWER))
    return examine(facts_of(text), rules)


def mended(text: str, finding: Finding, nth: int = 0) -> str:
    source = facts_of(text).sources["plan.trackplan"]
    return apply(source, finding.fixes[nth].edits)


def only(text: str, name: str) -> Finding:
    (finding,) = found(text, name)
    return finding


# tripping

# 15 V against 4 A and a quarter more: the loop may have 15 / 5 = 3 Ω.
FAR = HEAD + "bus main -> P1 {bus} m 20 AWG\nsegment line stop -> stop 1 m\nfeeder P1 -> line at 50 cm 20 AWG 20 cm\n"


def test_a_short_trips_up_to_the_last_ohm() -> None:
    """20 AWG has 33.3 mΩ a meter, rail 109 mΩ: 2·(x + 0.2)·0.0333 + 2·0.5·0.1088 = 3 Ω at 43.2 m."""
    assert found(FAR.format(bus=43.1), "short-will-not-trip") == []
    finding = only(FAR.format(bus=43.3), "short-will-not-trip")
    assert "draws only 4.99 A" in finding.message and "it takes 5 A (4 A and 25 %)" in finding.message


def test_the_margin_is_a_limit() -> None:
    assert found(FAR.format(bus=43.3) + "limit trip-margin 10 %\n", "short-will-not-trip") == []
    assert found(FAR.format(bus=30) + "limit trip-margin 100 %\n", "short-will-not-trip")


def test_the_boosters_own_resistance_counts() -> None:
    text = FAR.format(bus=40)
    assert found(text, "short-will-not-trip") == []
    assert found(text.replace("15 V 5 A", "15 V 5 A 500 mohm"), "short-will-not-trip")


def test_without_a_breaker_the_booster_must_trip() -> None:
    text = FAR.format(bus=38).replace(" trips 4 A", "")
    finding = only(text, "short-will-not-trip")
    assert "B1's breaker" in finding.message and "6.25 A (5 A and 25 %)" in finding.message


def test_a_reversers_section_must_open_the_breaker_before_it() -> None:
    text = FAR.format(bus=43.3).replace("bus main", "reverser R in main trips 1 A\nbus R")
    assert only(text, "short-will-not-trip").names == ("line", "R")


def test_the_chain_adds_up() -> None:
    finding = only(FAR.format(bus=60), "short-will-not-trip")
    shares = [step.text.rpartition(", ")[2] for step in finding.why if step.text.endswith("%")]
    assert sum(float(share.rstrip(" %")) for share in shares) == pytest.approx(100, abs=0.3)
    assert finding.why[-1].text.startswith("taken for what the plan does not say: nickel-silver rail of code 83")


def test_the_thinnest_bus_that_cures_is_offered() -> None:
    """20 to 18 AWG takes 37 % off the bus; 60 m of 20 AWG are 4.0 Ω, of 18 AWG 2.5 Ω, and 18 AWG is enough."""
    text = FAR.format(bus=60)
    finding = only(text, "short-will-not-trip")
    assert "60 m 18 AWG" in mended(text, finding)
    assert found(mended(text, finding), "short-will-not-trip") == []


def test_one_more_drop_where_that_is_less_copper() -> None:
    """A short one, from a terminal to which the bus is led on in its own size: common practice, for nobody hangs
    fifteen meters of thin wire from a rail."""
    text = HEAD + "bus main -> P1 2 m 12 AWG\nsegment line stop -> stop 16 m\nfeeder P1 -> line at 1 m 20 AWG 20 cm\n"
    finding = only(text, "short-will-not-trip")
    assert finding.fixes[0].words == (
        "lead the bus on from P1 to a terminal under line, 15 m of 12 AWG; "
        "solder a feeder from there to line at 15.95 m, 20 cm of 20 AWG"
    )
    assert [edit.text for edit in finding.fixes[0].edits] == [
        "bus P1 -> P2  15 m  12 AWG", "feeder P2 -> line  at 15.95 m  20 AWG  20 cm"
    ]  # fmt: skip
    assert found(mended(text, finding), "short-will-not-trip", "wire-too-thin") == []


@pytest.mark.parametrize(("size", "bus"), [("0.5 mm2", "2.5 mm2"), ("22 AWG", "14 AWG")])
def test_a_bus_of_no_size_is_led_on_in_what_is_usual(size: str, bus: str) -> None:
    text = HEAD + f"segment line stop -> stop 16 m\nfeeder main -> line at 1 m {size} 20 cm\n"
    run = only(text, "short-will-not-trip").fixes[0].edits[0].text
    assert run == f"bus main -> P1  15 m  {bus}"


def test_a_lower_trip_is_the_last_resort_and_says_so() -> None:
    text = FAR.format(bus=60)
    last = only(text, "short-will-not-trip").fixes[-1]
    assert (last.plain, last.changes) == (False, "main then feeds fewer trains")
    assert found(mended(text, only(text, "short-will-not-trip"), -1), "short-will-not-trip") == []


# voltage drop


def test_the_load_is_the_limit_or_all_engines_but_no_more_than_the_breaker_passes() -> None:
    text = FAR.format(bus=10) + "engine a left 0 9 mm right 0 9 mm 0.4 A\nengine b left 0 9 mm right 0 9 mm 0.5 A\n"
    assert found(text, "voltage-drop") == []  # 0.79 Ω at 0.9 A: 0.71 V of 0.75 V
    assert "a load of 1 A" in only(text + "limit running-load 1 A\n", "voltage-drop").message
    assert "a load of 4 A" in only(text + "limit running-load 9 A\n", "voltage-drop").message
    assert found(text + "limit running-load 1 A\nlimit voltage-drop 6 %\n", "voltage-drop") == []
    assert found(FAR.format(bus=30), "voltage-drop") == []  # no engine, no load


# thin wires


@pytest.mark.parametrize(
    ("amps", "size", "thin"),
    [(7, "22 AWG", False), (8, "22 AWG", True), (8, "20 AWG", False), (8, "2x 22 AWG", False), (12, "20 AWG", True)],
)
def test_short_drops(amps: int, size: str, thin: bool) -> None:
    """Chassis wiring: 22 AWG 7 A, 20 AWG 11 A (Handbook of Electronic Tables and Formulas, seen)."""
    head = f"booster B1 15 V {amps} A\ndistrict main from B1\nsegment a stop -> stop 1 m\n"
    text = head + f"feeder main -> a {size} 20 cm\n"
    assert bool(found(text, "wire-too-thin")) == thin


def test_a_long_drop_is_a_run() -> None:
    text = HEAD + "segment a stop -> stop 1 m\nfeeder main -> a 22 AWG {}\n"
    assert found(text.format("1 m"), "wire-too-thin") == []
    finding = only(text.format("1.1 m"), "wire-too-thin")
    assert "as a run" in finding.message
    assert found(mended(text.format("1.1 m"), finding), "wire-too-thin") == []


def test_one_finding_for_a_size_that_a_limit_gives_to_all() -> None:
    text = HEAD.replace("trips 4 A", "").replace("5 A", "9 A") + (
        "limit feeder-size 22 AWG\nlimit feeder-length 20 cm\nsegment a stop -> J 1 m\nsegment b J -> stop 1 m\n"
        "feeder main -> a\nfeeder main -> b\n"
    )
    finding = only(text, "wire-too-thin")
    assert "limit feeder-size 20 AWG" in mended(text, finding)
    assert found(mended(text, finding), "wire-too-thin") == []


# breakers


def test_a_frog_unit_that_is_slower_than_its_breaker() -> None:
    text = HEAD + (
        "segment a stop -> T1.points 1 m\nturnout T1 left number 6 isolated-frog\njoint T1.through -> stop\n"
        "joint T1.diverging -> stop\nfrog T1 automatic main trips {} A\nfeeder main -> a\n"
    )
    assert found(text.format(2), "breaker-trips-first") == []
    finding = only(text.format(4), "breaker-trips-first")
    assert finding.names[0] == "T1" and "trips 3 A" in mended(text.format(4), finding)


# loads


def test_districts_of_one_booster_share_it() -> None:
    engines = "".join(f"engine e{n} left 0 9 mm right 0 9 mm 1 A\n" for n in range(6))
    two = "district yard from B1 trips 4 A\n"
    finding = only(HEAD + two + engines, "district-overloaded")
    assert "draw 6 A, and main and yard may give 5 A together" in finding.message
    other = "booster B2 15 V 3 A\n" + two.replace("B1", "B2")
    assert found(HEAD + other + engines, "district-overloaded") == []


# spacing


def test_acceptance_at_a_segment() -> None:
    text = HEAD + "segment a stop -> J 3 m\nsegment b J -> stop 3 m\nfeeder main -> a at 10 cm\n"
    assert [one.names for one in found(text, "feeders-too-far-apart")] == [("a",), ("b",)]
    accepted = text + 'accept feeders-too-far-apart at a because "its joiners are soldered"\n'
    assert [one.names for one in found(accepted, "feeders-too-far-apart")] == [("b",)]


@pytest.mark.parametrize(("length", "feeders", "far"), [(4, [2], False), (4.1, [2], True), (6, [1, 5], False)])
def test_spacing_along_one_rail(length: float, feeders: list[float], far: bool) -> None:
    lines = "".join(f"feeder main -> a at {place} m\n" for place in feeders)
    assert bool(found(f"{HEAD}segment a stop -> stop {length} m\n{lines}", "feeders-too-far-apart")) == far


def test_each_rail_is_asked_for_itself() -> None:
    text = HEAD + "segment a stop -> stop 4 m\ngap a at 1 m left rail\nfeeder main -> a at 2 m\n"
    assert found(text, "feeders-too-far-apart") == []  # what no wire reaches at all is another rule's
    finding = only(text + "feeder main.red -> a.left at 10 cm\nlimit feeder-spacing 1.5 m\n", "feeders-too-far-apart")
    assert "2 m from the nearest soldered wire" in finding.message


# every mend


def weak(rng: Random, turnouts: int) -> str:
    """A plan whose wires are long and thin, with engines that want too much."""
    text = wired(random_sound(rng, turnouts), rng)
    lines = [
        " ".join([*line.split()[:4], f"{rng.randint(5, 40)} m", rng.choice(("18 AWG", "20 AWG", "1 mm2"))])
        if line.startswith("bus") else line
        for line in text.splitlines()
    ]  # fmt: skip
    lines.append(f"limit running-load {rng.randint(1, 3)} A")
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("seed", range(24))
def test_each_mend_cures_what_it_is_for(seed: int) -> None:
    """By its edits, on the text: the finding is gone, and no other error about power has come."""
    text = weak(Random(seed), seed % 5)
    before = found(text)
    known = {(one.rule, one.names[-1]) for one in before}
    for finding in before:
        for nth in (nth for nth, fix in enumerate(finding.fixes) if fix.edits):
            after = found(mended(text, finding, nth))
            assert (finding.rule, finding.names) not in {(one.rule, one.names) for one in after}
            new = [one.rule for one in after if (one.rule, one.names[-1]) not in known and one.level == "error"]
            assert not new, finding.fixes[nth].words


@pytest.mark.parametrize("seed", range(24))
def test_a_mend_does_what_was_worked_out_for_it(seed: int) -> None:
    """The plan changed in the head and the plan read anew have the same worst place, to the last digits."""
    text = weak(Random(seed), seed % 5)
    for finding in found(text, "short-will-not-trip"):
        power, supply = facts_of(text).power, finding.names[1]
        changes = least_copper(power, supply, power.guards[supply].most_ohms(power.layout))
        if changes:
            told = facts_of(mended(text, finding)).power.worst[supply]
            assert told.ohms == pytest.approx(power.changed(changes, supply).worst[supply].ohms, rel=1e-9)


def test_nearly_every_one_has_a_plain_mend() -> None:
    """Three amperes at the end of forty meters of thin bus want more copper than is sold: that is said in words."""
    plans = [weak(Random(seed), seed % 5) for seed in range(40)]
    fixes = [one.fixes[0] for text in plans for one in found(text, "short-will-not-trip", "voltage-drop")]
    assert all(fix.edits or "copper is not enough" in fix.words for fix in fixes)
    assert sum(fix.plain and bool(fix.edits) for fix in fixes) > 0.95 * len(fixes) > 50
