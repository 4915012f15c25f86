"""Random plans as text, for tests and benchmarks: wild ones, sound ones, and sound ones with seeded faults.

The strategies hand hypothesis the dice, so that what fails is shrunk; `random_…` functions take any `Random`.
"""

from __future__ import annotations

from random import Random

from hypothesis import strategies as st

from .faults import Fault, seed_faults
from .growing import grown, yard
from .sketch import Sketch
from .wiring import Wiring
from .writing import Writer

__all__ = [
    "Fault",
    "big_layout",
    "big_yard",
    "faulty_plans",
    "plan_text",
    "random_sound",
    "random_wild",
    "seed_faults",
    "sound_plans",
    "wild_plans",
]


def plan_text(sketch: Sketch, quiet: bool = True, slips: int = 0) -> str:
    """Wires a sketch and writes it down; linear in its size. See `Wiring` for `quiet` and `slips`."""
    return Writer(Wiring(sketch, quiet, slips)).text()


def random_sound(rng: Random, turnouts: int, quiet: bool = True) -> str:
    """A plan without an error, and when `quiet` without a warning, of so many turnouts."""
    return plan_text(grown(rng, turnouts), quiet)


def random_wild(rng: Random, turnouts: int) -> str:
    """A plan that is well formed and electrically anything, from nearly sound to hopeless."""
    return plan_text(grown(rng, turnouts), quiet=False, slips=rng.choice((3, 10, 30)))


def big_yard(turnouts: int, seed: int = 1) -> str:
    """A sound yard: one ladder of so many turnouts, a track at each."""
    return plan_text(yard(Random(seed), turnouts))


def big_layout(turnouts: int, seed: int = 1) -> str:
    """A sound layout of so many turnouts, of everything that track is made of."""
    rng = Random(seed)
    return plan_text(grown(rng, turnouts))


def _dice() -> st.SearchStrategy[Random]:
    return st.randoms(use_true_random=False)


def wild_plans(max_turnouts: int = 8) -> st.SearchStrategy[str]:
    return st.builds(random_wild, _dice(), st.integers(0, max_turnouts))


def sound_plans(max_turnouts: int = 8, quiet: bool = True) -> st.SearchStrategy[str]:
    return st.builds(random_sound, _dice(), st.integers(0, max_turnouts), st.just(quiet))


@st.composite
def faulty_plans(draw: st.DrawFn, max_turnouts: int = 8, faults: int = 3) -> tuple[str, str, list[Fault]]:
    """A sound plan, the same with one to `faults` faults, and what they are."""
    plan = draw(sound_plans(max_turnouts))
    broken, made = seed_faults(plan, draw(st.integers(1, faults)), draw(_dice()))
    return plan, broken, made
