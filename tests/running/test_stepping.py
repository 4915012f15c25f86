"""Exact intervals against an engine put down every 0.05 mm, on random rails and on random plans."""

from __future__ import annotations

from functools import partial
from itertools import islice, product
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuit.agreement import Answers, brute_of
from oracle.plans import wild_plans
from railbond.circuit.graph import Setting
from railbond.circuit.running.geometry import Leg, Stretch
from railbond.circuit.running.intervals import Intervals, common, united
from railbond.circuit.running.live_rails import LiveRails
from railbond.circuit.running.pickups import Pickups
from railbond.circuit.running.stalling import BEYOND, STALLS, Ground, on_one_wheel, room, stalled
from railbond.circuit.running.walking import WalkedTrack
from railbond.circuit.running.windows import Window
from running.stepping import hangs_on_one, inside, places, stands
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Engine

STATEMENT = read(Source("", "engine e left 0 mm right 0 mm 1 A")).statements[0]
LENGTH = 160_000
EACH = 100


def engine(rng: Random) -> Pickups:
    """One to four wheels a side within 80 mm, some of them light."""
    assert isinstance(STATEMENT, Engine)
    sides = [tuple(sorted(rng.sample(range(0, 80_000, 500), rng.randint(1, 4)))) for _ in range(2)]
    firm = [tuple(wheel for wheel in side if rng.random() < 0.9) for side in sides]
    return Pickups("e", STATEMENT, sides[0], sides[1], firm[0], firm[1], 0, 0.02)


def rail(rng: Random) -> Intervals:
    """A few dead stretches of up to 40 mm."""
    starts = [rng.randrange(0, LENGTH, 10) for _ in range(rng.randint(0, 4))]
    return united((start, start + rng.randrange(0, 40_000, 10)) for start in starts)


@pytest.mark.parametrize("seed", range(20))
def test_random_engines_on_random_rails(seed: int) -> None:
    """Each seed is a hundred engines and rails."""
    rng = Random(seed)
    for _ in range(EACH):
        one, dead = engine(rng), (rail(rng), rail(rng))
        rails = partial(inside, dead[0]), partial(inside, dead[1])
        still, lone = stalled(dead, one), on_one_wheel(dead, one)
        for place in islice(places(rng.randrange(1000), LENGTH), rng.randrange(20), None, 20):
            stood = stands(rails, (one.left, one.right), place)
            hung = hangs_on_one(rails, (one.firm_left, one.firm_right), place)
            assert inside(still, place) == stood
            assert inside(lone, place) == (hung and not stood)


class Stepped:
    """One window of a plan, looked at place by place in every setting that admits its route."""

    def __init__(self, answers: Answers, ground: Ground, text: str) -> None:
        self.answers = answers
        self.wiring = ground.wiring
        self.walks = brute_of(text).walks

    def stands(self, window: Window, one: Pickups, place: float) -> bool:
        return any(
            stands(self._rails(window, walk), (one.left, one.right), place)
            for walk in self.walks
            if all(_plain(walk.setting[switch], at) for switch, at in window.setting)
        )

    def _rails(self, window: Window, walk: object) -> tuple:  # type: ignore[type-arg]
        return tuple(partial(self._dead, window, walk, side) for side in (0, 1))

    def _dead(self, window: Window, walk, side: int, place: float) -> bool:  # type: ignore[no-untyped-def]
        for leg, start in zip(window.legs, window.starts, strict=True):
            for stretch in (leg.left, leg.right)[side]:
                if stretch.start < place - start < stretch.stop:
                    return self._without_power(leg.piece, stretch, walk)
        return False

    def _without_power(self, piece: str, stretch: Stretch, walk) -> bool:  # type: ignore[no-untyped-def]
        if stretch.metal is None:
            return True
        return not walk.potential(self.answers.key[self.wiring.metal(piece, stretch.metal)])


def _plain(route: str, position: str) -> bool:
    return route == {"left": "through", "right": "diverging"}.get(position, position)


@given(wild_plans(max_turnouts=4), st.randoms(use_true_random=False))
def test_random_plans(text: str, rng: Random) -> None:
    """The tool's intervals, from its proof and its choice of settings, against every setting walked."""
    answers = Answers(text)
    track = WalkedTrack(answers.facts.wiring)
    ground = Ground(answers.facts.wiring, track, LiveRails(answers.facts.proof))
    stepped = Stepped(answers, ground, text)
    doubtful = list(ground.doubtful)
    for leg in rng.sample(doubtful, min(3, len(doubtful))):
        one = engine(rng)
        window = rng.choice(list(track.windows(leg, one.span)))
        found = [interval for _, dead in ground.states(window) for interval in stalled(dead, one)]
        for place in rng.sample(list(places(-60_000, leg.length + 60_000)), 60):
            assert inside(found, place) == stepped.stands(window, one, place)


@given(wild_plans(max_turnouts=4))
def test_what_is_not_doubtful_is_never_dead(text: str) -> None:
    answers = Answers(text)
    ground = Ground(answers.facts.wiring, WalkedTrack(answers.facts.wiring), LiveRails(answers.facts.proof))
    doubtful = set(ground.doubtful)
    walks = brute_of(text).walks
    for leg in (leg for legs in ground.track.legs.values() for leg in legs if leg not in doubtful):
        for walk, stretch in product(walks, (*leg.left, *leg.right)):
            if leg.position is None or _plain(walk.setting[leg.piece], leg.position):
                assert stretch.metal is not None
                assert walk.potential(answers.key[ground.wiring.metal(leg.piece, stretch.metal)])


@given(wild_plans(max_turnouts=5), st.randoms(use_true_random=False))
def test_no_way_is_given_up_too_early(text: str, rng: Random) -> None:
    """Ways on which no trouble can lie ahead are not followed: what is found on all of them is found all the same."""
    answers = Answers(text)
    track = WalkedTrack(answers.facts.wiring)
    ground = Ground(answers.facts.wiring, track, LiveRails(answers.facts.proof))
    doubtful = list(ground.doubtful)
    for leg in rng.sample(doubtful, min(2, len(doubtful))):
        one = engine(rng)
        found = {trouble.interval for trouble in ground.troubles_on(leg, [one], STALLS)}
        for window in track.windows(leg, one.span + BEYOND):
            for setting, dead in ground.states(window):
                for interval in common(stalled(dead, one), room(window, one)):
                    middle = (interval.start + interval.stop) / 2
                    if _on_dead(ground, leg, one, middle, setting):
                        assert interval in found


def _on_dead(ground: Ground, leg: Leg, one: Pickups, place: float, setting: Setting) -> bool:
    """Whether one of the wheels that are all on dead metal stands on this leg's."""
    return any(
        stretch.start < place - wheel < stretch.stop and ground.is_dead(leg, stretch, setting)
        for rail, wheels in ((leg.left, one.left), (leg.right, one.right))
        for stretch in rail
        for wheel in wheels
    )
