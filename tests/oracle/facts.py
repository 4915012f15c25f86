"""All that brute force finds in a plan, by name, for tests that ask whether there is anything at all."""

from __future__ import annotations

from .brute import Brute
from .plan_model import model_of
from .reversing import reverses


def errors(plan: str) -> dict[str, object]:
    """What no plan may have, and metal frogs without power; only what is there."""
    brute = Brute(model_of(plan))
    return only_there(
        {
            "legs joined": brute.ever_legs_joined,
            "districts joined": brute.ever_districts_joined,
            "opposed passes": brute.opposed_passes(),
            "never fed": brute.never_fed,
            "unfed frogs": brute.unfed_frogs,
            "reverses": reverses(brute),
        }
    )


def warnings(plan: str) -> dict[str, object]:
    """What takes a train against the points, a wheel's back or dirt to do harm; only what is there."""
    brute = Brute(model_of(plan))
    return only_there(
        {
            "set against": brute.set_against,
            "open points": brute.open_points,
            "fed through points": brute.fed_through_points,
        }
    )


def troubles(plan: str) -> dict[str, object]:
    return errors(plan) | warnings(plan)


def only_there(found: dict[str, object]) -> dict[str, object]:
    return {name: things for name, things in found.items() if things}
