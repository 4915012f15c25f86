"""The worst place of small plans, worked out by hand."""

from __future__ import annotations

import pytest

from power.wired import power_of
from railbond.circuit.power.chain import chain
from railbond.circuit.power.copper import resistivity
from railbond.circuit.power.rail import rail_resistivity
from railbond.circuit.power.solved import SolvedNetwork
from railbond.circuit.power.spots import Spot
from trackplan.quantities import WireSize, amount

HEAD = "scale HO\nbooster B1 15 V 5 A\ndistrict main from B1 trips 4 A\n"
RAIL = rail_resistivity(83, "nickel-silver")


def wire(text: str, meters: float) -> float:
    return resistivity(WireSize(amount("SIZE", text), text)) * meters


def only(power: SolvedNetwork) -> Spot:
    (spot,) = power.spots
    return spot


def test_one_feeder_at_one_end() -> None:
    spot = only(power_of(HEAD + "segment a stop -> stop 3 m\nfeeder main -> a at 0 cm 22 AWG 20 cm\n"))
    assert (spot.piece, spot.meters) == ("a", 3)
    assert spot.ohms == pytest.approx(2 * (wire("22 AWG", 0.2) + 3 * RAIL))


def test_a_feeder_at_each_end() -> None:
    """The closed form: each rail is the two ways in parallel, a parabola with its top in the middle."""
    feeders = "feeder main -> a at 0 m 22 AWG 20 cm\nfeeder main -> a at 4 m 22 AWG 20 cm\n"
    spot = only(power_of(HEAD + "segment a stop -> stop 4 m\n" + feeders))
    half = wire("22 AWG", 0.2) + 2 * RAIL
    assert spot.meters == pytest.approx(2)
    assert spot.ohms == pytest.approx(2 * half / 2)


def test_unequal_feeders_move_the_top() -> None:
    feeders = "feeder main -> a at 0 m 22 AWG 20 cm\nfeeder main -> a at 4 m 22 AWG 2 m\n"
    spot = only(power_of(HEAD + "segment a stop -> stop 4 m\n" + feeders))
    near, far, whole = wire("22 AWG", 0.2), wire("22 AWG", 2), 4 * RAIL
    ways = (near + spot.meters * RAIL, far + (4 - spot.meters) * RAIL)
    assert ways[0] == pytest.approx(ways[1])
    assert spot.ohms == pytest.approx(2 * ways[0] / 2)
    assert spot.ohms == pytest.approx((near + far + whole) / 2)


def test_bus_joiner_and_solder() -> None:
    text = HEAD + (
        "bus main -> P1 5 m 14 AWG\nbus P1 -> P2 3 m 2x 14 AWG\nsegment a stop -> J 1 m\nsegment b J -> stop 2 m\n"
        "feeder P2 -> a at 50 cm 22 AWG 20 cm\n"
    )
    each = wire("14 AWG", 5) + wire("14 AWG", 3) / 2 + wire("22 AWG", 0.2) + 2.5 * RAIL
    worst = {spot.piece: spot for spot in power_of(text).spots}
    assert worst["b"].ohms == pytest.approx(2 * (each + 0.020))
    assert worst["b"].meters == 2
    soldered = {spot.piece: spot for spot in power_of(text + "solder J\n").spots}
    assert soldered["b"].ohms == pytest.approx(2 * each)
    loose = {spot.piece: spot for spot in power_of(text + "limit joiner-resistance 1 ohm\n").spots}
    assert loose["b"].ohms == pytest.approx(2 * (each + 1))


def test_one_rail_cut_away_is_fed_by_itself() -> None:
    """The left rail is gapped at 1 m; beyond it has a drop of its own, and each side's worst place is found."""
    text = HEAD + (
        "segment a stop -> stop 3 m\ngap a at 1 m left rail\nfeeder main -> a at 0 m 22 AWG 20 cm\n"
        "feeder main.red -> a.left at 3 m 22 AWG 20 cm\n"
    )
    spot = only(power_of(text))
    assert spot.meters in (pytest.approx(1), pytest.approx(3))
    drops = 2 * wire("22 AWG", 0.2)
    assert spot.ohms == pytest.approx(drops + 3 * RAIL)  # 1 m: 1 + 2 from either side; 3 m: 0 + 3


def test_track_behind_points() -> None:
    """A siding fed over a live frog by blade and stock rail alone: worked out with the points set for it."""
    text = HEAD + (
        "segment lead stop -> T1.points 1 m\nturnout T1 left number 6 live-frog\nsegment on T1.through -> stop 1 m\n"
        "segment siding T1.diverging -> stop 1 m\ngap T1.through frog rail\nfeeder main -> lead at 50 cm 22 AWG 20 cm\n"
    )
    power = power_of(text)
    worst = {spot.piece: spot for spot in power.spots}
    spot = worst["siding"]
    assert spot.setting == frozenset({("T1", "diverging")})
    half, drop = power.materials.half_length(power.layout.pieces["T1"]), wire("22 AWG", 0.2)
    assert 0.2 < 2 * half < 0.3  # an HO number 6 turnout is about a span of the hand long (common practice)
    stock = drop + 0.5 * RAIL + 0.020 + 2 * half * RAIL + 0.020 + RAIL
    assert spot.ohms == pytest.approx(2 * stock + 0.050)
    losses = chain(power.frame, power.islands, spot)
    assert sum(loss.ohms for loss in losses) == pytest.approx(spot.ohms)
    name = {piece.statement.at: name for name, piece in power.layout.pieces.items()}
    lost = {(loss.kind, name.get(loss.at)): loss.ohms for loss in losses}
    turnout = 2 * 2 * half * RAIL
    assert lost["rail", "lead"] == pytest.approx(RAIL) and lost["rail", "siding"] == pytest.approx(2 * RAIL)
    assert lost["rail", "T1"] == pytest.approx(turnout) and lost["contact", "siding"] == pytest.approx(0.050)


def test_what_lacks_a_size_is_not_worked_out() -> None:
    text = HEAD + (
        "district yard from B1 trips 2 A\nsegment a stop -> J 1 m\nsegment b J -> stop 1 m\ngap J both rails\n"
        "feeder main -> a 22 AWG 20 cm\nfeeder yard -> b\n"
    )
    power = power_of(text)
    assert power.unknown == {"yard"}
    assert {spot.supply for spot in power.spots} == {"main"}
    assert power_of(text + "limit feeder-size 22 AWG\nlimit feeder-length 20 cm\n").unknown == frozenset()


def test_a_warm_attic() -> None:
    """Copper gains 0.393 % a degree (IEC 60028, seen); 20 K more make 7.9 %. The rail hardly changes."""
    text = HEAD + "bus main -> P1 50 m 14 AWG\nsegment a stop -> stop 10 cm\nfeeder P1 -> a 22 AWG 20 cm\n"
    cold, warm = only(power_of(text)).ohms, only(power_of(text + "limit temperature 40 C\n")).ohms
    assert warm / cold == pytest.approx(1.0786, abs=0.002)
    assert only(power_of(text + "limit temperature 104 F\n")).ohms == pytest.approx(warm)


def test_two_supplies_in_one_metal_are_not_worked_out() -> None:
    text = HEAD + (
        "district yard from B1 trips 2 A\nsegment a stop -> J 1 m\nsegment b J -> stop 1 m\n"
        "feeder main -> a 22 AWG 20 cm\nfeeder yard -> b 22 AWG 20 cm\n"
    )
    assert power_of(text).spots == []


def test_a_drop_through_contacts_counts_while_they_stand_so() -> None:
    """The siding's right rail has power by its drop through T1's contacts, and its left one always."""
    text = HEAD + (
        "segment lead stop -> T1.points 1 m\nturnout T1 left number 6 dead-frog\nsegment on T1.through -> stop 1 m\n"
        "segment siding T1.diverging -> stop 1 m\ngap T1.diverging both rails\nfeeder main -> lead 22 AWG 20 cm\n"
        "feeder main.red -> siding.left at 0 m 22 AWG 20 cm\n"
        "feeder main.black -> siding.right at 0 m 22 AWG 50 cm through contacts of T1 diverging\n"
    )
    worst = {spot.piece: spot for spot in power_of(text).spots}
    assert worst["siding"].setting == frozenset({("T1", "diverging")})
    assert worst["siding"].ohms == pytest.approx(wire("22 AWG", 0.7) + 0.050 + 2 * RAIL)


def test_a_common_rail() -> None:
    """Both districts' black legs are one wire; each loop has its own red drop and the common one."""
    text = HEAD + (
        "district yard from B1 trips 2 A\ncommon black of main yard\nsegment a stop -> J 1 m\nsegment b J -> stop 1 m\n"
        "gap J left rail\nsolder J\nfeeder main -> a at 0 m 22 AWG 20 cm\n"
        "feeder yard.red -> b.left at 0 m 22 AWG 30 cm\n"
    )
    worst = {spot.piece: spot for spot in power_of(text).spots}
    assert (worst["a"].supply, worst["b"].supply) == ("main", "yard")
    assert worst["a"].ohms == pytest.approx(2 * (wire("22 AWG", 0.2) + RAIL))
    assert worst["b"].ohms == pytest.approx(wire("22 AWG", 0.5) + 3 * RAIL)


def test_a_block_behind_a_toggle_is_worked_out_for_each_choice() -> None:
    text = (
        "scale HO\ncab A 12 V 2 A\ncab B 14 V 1 A\nblock yard in A or B\nsegment a stop -> stop 1 m\n"
        "feeder yard -> a at 0 m 22 AWG 20 cm\n"
    )
    power = power_of(text)
    assert {spot.supply: sorted(spot.setting) for spot in power.spots} == {"A": [("yard", "A")], "B": [("yard", "B")]}
    for spot in power.spots:
        assert spot.ohms == pytest.approx(2 * (wire("22 AWG", 0.2) + RAIL + 0.050), rel=1e-4)
    assert (power.guards["A"].volts, float(power.guards["B"].trips)) == (12, 1)
