"""Track without volts, ever or whenever it is entered: plans as people write them, and every setting walked."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from hypothesis import settings as tried
from hypothesis import strategies as st

from railbond.circuit.entering import TrackVolts
from railbond.circuit.facts import Facts
from railbond.circuit.graph import Setting
from railbond.circuit.plain_track import Gate, PlainStretch
from railbond.circuit.track_pairs import Pair
from railbond.inspection import examine
from railbond.rules import all_rules
from trackwork.mixed import mixed_plans
from trackwork.settings import Potentials, potentials, settings
from trackwork.walking import facts_of, found_in

POWER = "booster B1 15 V 5 A\ndistrict main from B1\n"
ONE_LEG, ENTERED = "rails-on-one-leg", "dead-when-entered"
# A spur whose wires go through contacts of the turnout that leads to it.
SPUR = (
    POWER
    + """\
bus main -> P1
segment line stop -> T1.points 1.2 m
turnout T1 right isolated-frog
segment lead T1.through -> stop 80 cm
segment fuel T1.diverging -> stop 60 cm
gap T1.diverging both rails
frog T1 switched from stock rails
feeder P1 -> line
feeder P1 -> lead
"""
)
# A roundhouse: two bays, each with power while the bridge stands at it.
HOUSE = (
    POWER
    + """\
turntable TT 30 cm
approach-track TT.lead at 0 degrees
approach-track TT.bay1 at 120 degrees
approach-track TT.bay2 at 140 degrees
segment lead stop -> TT.lead 1 m
segment bay1 TT.bay1 -> stop 30 cm
segment bay2 TT.bay2 -> stop 30 cm
feeder main -> lead
feeder main -> TT.bridge split at 60 degrees
"""
)
# A passing siding behind two turnouts.
SIDING = (
    POWER
    + """\
segment west stop -> T1.points 1 m
turnout T1 left isolated-frog
segment main1 T1.through -> T2.through 1 m
segment side T1.diverging -> T2.diverging 1 m
turnout T2 right isolated-frog
segment east T2.points -> stop 1 m
gap T1.diverging both rails
gap T2.diverging both rails
frog T1 switched from stock rails
frog T2 switched from stock rails
feeder main -> west
feeder main -> main1
feeder main -> east
"""
)


def told(text: str) -> list[tuple[str, str]]:
    return [(one.rule, one.level) for one in found_in(text)]


@pytest.mark.parametrize(
    ("lines", "found"),
    [
        ("feeder P1 -> fuel through contacts of T1 diverging", []),
        ("feeder P1 -> fuel", []),
        ("feeder P1 -> fuel through contacts of T1 through", [(ENTERED, "error")]),
        ("feeder P1.red -> fuel.left\nfeeder P1.red -> fuel.right", [(ONE_LEG, "error")]),
        ("feeder P1.black -> fuel.left\nfeeder P1.black -> fuel.right", [(ONE_LEG, "error")]),
        ("feeder P1.red -> fuel.left through contacts of T1 diverging\n"
         "feeder P1.black -> fuel.right through contacts of T1 through", [(ONE_LEG, "error")]),
        ("feeder P1.red -> fuel.left\nfeeder P1.black -> fuel.right through contacts of T1 diverging", []),
        ("feeder P1.red -> fuel.left\nfeeder P1.black -> fuel.right through contacts of T1 through",
         [(ENTERED, "error")]),
    ],
)  # fmt: skip
def test_a_spur(lines: str, found: list[tuple[str, str]]) -> None:
    assert told(f"{SPUR}{lines}\n") == found


@pytest.mark.parametrize(
    ("bay1", "bay2", "rules"),
    [
        ("bay1", "bay2", []),
        ("bay2", "bay2", [ENTERED]),
        ("bay2", "bay1", [ENTERED, ENTERED]),
        ("lead", "bay2", [ENTERED]),
    ],
)
def test_the_bays_of_a_roundhouse(bay1: str, bay2: str, rules: list[str]) -> None:
    text = f"{HOUSE}feeder main -> bay1 through contacts of TT {bay1}\n"
    text += f"feeder main -> bay2 through contacts of TT {bay2}\n"
    found = told(text)
    assert [rule for rule, _ in found if rule in (ONE_LEG, ENTERED)] == rules


def test_a_siding_that_has_power_for_one_end_only_is_a_warning() -> None:
    assert told(SIDING + "feeder main -> side\n") == []
    assert told(SIDING + "feeder main -> side through contacts of T1 diverging\n") == [(ENTERED, "warning")]
    assert told(SIDING + "feeder main -> side through contacts of T1 through\n") == [(ENTERED, "warning")]


def test_the_mend_sets_the_contacts_right() -> None:
    facts = facts_of(SPUR + "feeder P1 -> fuel through contacts of T1 through\n")
    found = next(one for one in examine(facts, all_rules()) if one.rule == ENTERED)
    (edit,) = found.fixes[0].edits
    assert edit.text == "diverging" and {one.level for one in examine(facts.revised([edit]), all_rules())} <= {"note"}


@pytest.mark.parametrize(("left", "right"), [("A.red", "B.black"), ("A.red", "A.red"), ("A.red", "B.red")])
def test_two_cabs_make_no_circuit(left: str, right: str) -> None:
    text = "cab A 12 V 1 A\ncab B 12 V 1 A\nsegment west stop -> stop 1 m\n"
    assert told(f"{text}feeder {left} -> west.left\nfeeder {right} -> west.right\n") == [(ONE_LEG, "error")]
    if left != right:
        common = f"common {right[2:]} of A B\n"
        assert told(f"{text}{common}feeder A.{left[2:]} -> west.left\nfeeder A.{right[2:]} -> west.right\n") == (
            [] if left[2:] != right[2:] else [(ONE_LEG, "error")]
        )


def random_yard(rng: Random) -> str:
    """A ladder of turnouts whose tracks are cut off, and fed by all sorts of wires, some through contacts."""
    lines, count = [POWER, "segment t0 stop -> T1.points 1 m", "feeder main -> t0"], rng.randrange(1, 5)
    for number in range(1, count + 1):
        ahead = f"T{number + 1}.points" if number < count else "stop"
        lines += [f"turnout T{number} left isolated-frog", f"frog T{number} switched from stock rails"]
        lines += [
            f"segment t{number} T{number}.through -> {ahead} 1 m",
            f"segment s{number} T{number}.diverging -> stop 1 m",
        ]
        if rng.random() < 0.7:
            lines.append(f"gap T{number}.diverging {rng.choice(('both rails', 'frog rail', 'both rails'))}")
        for side, usual in (("left", "red"), ("right", "black")):
            leg = usual if rng.random() < 0.8 else rng.choice(("red", "black"))
            mover = f"T{rng.randrange(1, count + 1)} {rng.choice(('through', 'diverging'))}"
            contacts = f" through contacts of {mover}" if rng.random() < 0.5 else ""
            if rng.random() < 0.9:
                lines.append(f"feeder main.{leg} -> s{number}.{side}{contacts}")
    return "\n".join(lines) + "\n"


@given(st.builds(random_yard, st.randoms(use_true_random=False)))
@tried(max_examples=60)
def test_every_setting_walked(text: str) -> None:
    facts = facts_of(text)
    volts = TrackVolts(facts.wiring, facts.proof)
    if facts.shorts:
        return
    walked = [(setting, potentials(facts.graph, setting)) for setting in settings(facts.graph)]
    for place in volts.places:
        ever = any(driven(carried, place.pair) for _, carried in walked)
        fed = all(any(carried[rail] for _, carried in walked) for rail in place.pair)
        assert (place in volts.never) == (fed and not ever)
    for stretch in volts.stretches:
        assert volts.dead_when_entered(stretch) == is_dead(stretch, walked)
        for gate in stretch.gates:
            assert (volts.stops_at(gate) is not None) == stops(gate, walked)


@given(st.one_of(st.builds(random_yard, st.randoms(use_true_random=False)), mixed_plans()))
@tried(max_examples=60)
def test_what_stops_a_train_lies_on_doubtful_track(text: str) -> None:
    facts = facts_of(text)
    volts = TrackVolts(facts.wiring, facts.proof)
    told = [one for one in volts.stretches if volts.dead_when_entered(one) or any(map(volts.stops_at, one.gates))]
    doubtful = [one.places for one in volts.doubtful]
    assert [one for one in doubtful if one in [found.places for found in told]] == [one.places for one in told]


def test_the_yards_hold_every_answer() -> None:
    found = set[str]()
    for seed in range(80):
        facts: Facts = facts_of(random_yard(Random(seed)))
        volts = TrackVolts(facts.wiring, facts.proof)
        found |= {"never"} if volts.never else {"volts"}
        found |= {"dead" if volts.dead_when_entered(one) else "entered" for one in volts.stretches}
        found |= {"stops" if volts.stops_at(gate) else "rolls" for one in volts.stretches for gate in one.gates}
    assert found == {"never", "volts", "dead", "entered", "stops", "rolls"}


Walked = list[tuple[Setting, Potentials]]


def driven(carried: Potentials, pair: Pair) -> bool:
    return any(
        mine.opposes(theirs) or "unit" in (mine.kind, theirs.kind)
        for mine in carried[pair[0]]
        for theirs in carried[pair[1]]
    )


def set_for(gate: Gate, setting: Setting) -> bool:
    """Whether a train comes to a gate of a ladder: to what lies beyond a frog over every turnout before it, set
    through; out of the points it comes from one leg or the other, whichever way those stand."""
    name, end = gate.end
    stands, before = dict(setting), [f"T{number}" for number in range(1, int(name[1:]))]
    return end == "points" or (stands[name] == end and all(stands[one] == "through" for one in before))


def is_dead(stretch: PlainStretch, walked: Walked) -> bool:
    """By the definition: there are volts in some setting, and in none in which a train comes from live track."""
    if stretch.is_open or not any(driven(c, place.pair) for _, c in walked for place in stretch.places):
        return False
    live = [gate for gate in stretch.gates if any(set_for(gate, s) and driven(c, gate.outside) for s, c in walked)]
    volts = [(s, any(driven(c, place.pair) for place in stretch.places)) for s, c in walked]
    return bool(live) and not any(set_for(gate, s) and there for gate in live for s, there in volts)


LEAD = """\
segment line stop -> T1.points 1 m
turnout T1 left isolated-frog
segment main2 T1.through -> stop 1 m
segment lead T1.diverging -> T2.points 60 cm
turnout T2 left isolated-frog
segment y1 T2.through -> stop 1 m
segment y2 T2.diverging -> stop 1 m
gap T2.diverging both rails
frog T1 switched from stock rails
frog T2 switched from stock rails
feeder main -> line
feeder main -> main2
feeder main -> lead
feeder main -> y1
"""


@pytest.mark.parametrize(
    ("contacts", "level", "mended"),
    [
        ("T2 diverging", "", ""),
        ("T1 diverging", "", ""),
        ("T1 through", "error", "diverging"),
        ("T2 through", "error", "diverging"),
    ],
)
def test_the_whole_way_counts_not_only_the_last_points(contacts: str, level: str, mended: str) -> None:
    """An engine house behind two turnouts: a train comes to it only over both of them diverging."""
    text = f"{POWER}{LEAD}feeder main -> y2 through contacts of {contacts}\n"
    assert told(text) == ([(ENTERED, level)] if level else [])
    for found in (one for one in examine(facts_of(text), all_rules()) if one.rule == ENTERED):
        assert [edit.text for edit in found.fixes[0].edits] == [mended]


def test_contacts_of_points_that_no_way_hangs_on_are_moved_to_those_that_it_passes() -> None:
    aside = "turnout T9 left dead-frog\nsegment a stop -> T9.points 1 m\nsegment b T9.through -> stop 1 m\n"
    aside += "segment c T9.diverging -> stop 1 m\nbond T9 closure rails to stock rails\n"
    aside += "feeder main -> a\nfeeder main -> b\nfeeder main -> c\n"
    text = f"{POWER}{LEAD}{aside}feeder main -> y2 through contacts of T9 diverging\n"
    (found,) = (one for one in examine(facts_of(text), all_rules()) if one.rule == ENTERED)
    assert found.level == "warning" and [edit.text for edit in found.fixes[0].edits] == ["T2", "diverging"]
    assert told(text.replace("T9 diverging\n", "T2 diverging\n")) == []


def test_all_round_a_loop_is_a_way_too() -> None:
    """An oval with a passing siding that has power for one end only: no track of it ends anywhere."""
    oval = """\
segment far T1.points -> T2.points 3 m
turnout T1 left isolated-frog
turnout T2 right isolated-frog
segment near T1.through -> T2.through 1 m
segment side T1.diverging -> T2.diverging 1 m
gap T1.diverging both rails
gap T2.diverging both rails
frog T1 switched from stock rails
frog T2 switched from stock rails
feeder main -> far
feeder main -> near crossed
"""
    assert told(f"{POWER}{oval}feeder main -> side crossed\n") == []
    contacts = "feeder main -> side crossed through contacts of T1 diverging\n"
    assert told(f"{POWER}{oval}{contacts}") == [(ENTERED, "warning")]


def stops(gate: Gate, walked: Walked) -> bool:
    ever = any(driven(carried, gate.inside) for _, carried in walked)
    return ever and any(set_for(gate, s) and driven(c, gate.outside) and not driven(c, gate.inside) for s, c in walked)


def first_mend(text: str, rule: str) -> list[str]:
    """The lines that the first mend of a rule's finding writes; the plan is sound with them."""
    facts = facts_of(text)
    (found,) = (one for one in examine(facts, all_rules()) if one.rule == rule)
    edits = found.fixes[0].edits
    assert {one.level for one in examine(facts.revised(edits), all_rules())} <= {"note"}
    return [edit.text for edit in edits]


def test_of_two_wires_on_one_leg_the_one_is_moved_that_suits_the_track_beyond() -> None:
    """The tracks of a transfer table run away from its pit: the bridge, seen from there, is fed the other way round."""
    table = f"{POWER}transfer-table TT 40 cm\napproach-track TT.lead at 20 cm\napproach-track TT.bay at 30 cm\n"
    table += "segment lead TT.lead -> stop 60 cm\nsegment bay TT.bay -> stop 60 cm\n"
    table += "feeder main -> lead\nfeeder main -> bay\n"
    assert told(table + "feeder main -> TT.bridge crossed\n") == []
    wires = "feeder main.{0} -> TT.bridge.left\nfeeder main.{0} -> TT.bridge.right\n"
    assert first_mend(table + wires.format("red"), ONE_LEG) == ["main.black"]
    facts = facts_of(table + wires.format("red"))
    (found,) = (one for one in examine(facts, all_rules()) if one.rule == ONE_LEG)
    assert "TT.bridge.left" in found.fixes[0].words


def test_a_bay_behind_a_transfer_table_is_called_by_its_own_name() -> None:
    """On the far side of the pit, where the bridge's place is called after the track across from it."""
    shed = """\
transfer-table TB 40 cm
approach-track TB.lead at 20 cm
approach-track TB.a at 10 cm far-side
approach-track TB.b at 20 cm far-side
segment lead stop -> TB.lead 60 cm
segment a TB.a -> stop 45 cm
segment b TB.b -> stop 45 cm
feeder main -> lead
feeder main -> TB.bridge
feeder main -> a
"""
    assert told(f"{POWER}{shed}feeder main -> b through contacts of TB b\n") == []
    assert first_mend(f"{POWER}{shed}feeder main -> b through contacts of TB a\n", ENTERED) == ["b"]


def test_a_track_between_two_cabs_gets_both_wires_from_one() -> None:
    cabs = """\
cab C1 12 V 1 A
cab C2 12 V 1 A
block A in C1 or C2
segment lead stop -> T1.points 1 m
turnout T1 right isolated-frog
segment main1 T1.through -> stop 1 m
segment spur T1.diverging -> stop 1 m
gap T1.diverging both rails
feeder A -> lead
feeder A -> main1
frog T1 switched from stock rails
feeder C1.red -> spur.left
feeder A.black -> spur.right
"""
    assert told(cabs) == [(ENTERED, "warning")] and first_mend(cabs, ENTERED) == ["A.red"]
