"""What a run says of each rail, against every setting walked."""

from __future__ import annotations

from random import Random

from hypothesis import given
from hypothesis import strategies as st

from circuit.agreement import Answers, brute_of
from oracle.plans import wild_plans
from railbond.circuit.running.journey import DEAD, MAYBE, Journey
from railbond.circuit.running.routes import Journeying, Ride
from railbond.circuit.running.walking import WalkedTrack

WYE = {"left": "through", "right": "diverging"}


def random_run(track: WalkedTrack, rng: Random) -> Journeying:
    """Up to eight ways in a row."""
    row = [rng.choice([leg for legs in track.legs.values() for leg in legs])]
    while len(row) < 8 and (follow := track.follow(row[-1])):
        row.append(rng.choice(follow))
    return Journeying(tuple(Ride(leg, True) for leg in row))


@given(wild_plans(max_turnouts=4), st.randoms(use_true_random=False))
def test_dead_maybe_dead_and_live_rails(text: str, rng: Random) -> None:
    answers = Answers(text)
    track = WalkedTrack(answers.facts.wiring)
    if not track.legs:
        return
    journey = Journey(answers.facts, track, random_run(track, rng))
    walks = brute_of(text).walks
    for number, leg in enumerate(journey.run.legs):
        stands = {switch: WYE.get(at, at) for switch, at in journey.settings[number]}
        here = [walk for walk in walks if all(walk.setting[switch] == at for switch, at in stands.items())]
        if leg.position:
            assert stands[leg.piece] == WYE.get(leg.position, leg.position)
        for side, rail in enumerate((leg.left, leg.right)):
            for one in rail:
                words = journey.carried(number, side, (one.start + one.stop) / 2)
                if one.metal is None:
                    assert words == DEAD
                    continue
                conductor = answers.key[track.wiring.metal(leg.piece, one.metal)]
                fed = [bool(walk.potential(conductor)) for walk in here]
                assert (words == DEAD, words.endswith(MAYBE)) == (not any(fed), any(fed) and not all(fed))
