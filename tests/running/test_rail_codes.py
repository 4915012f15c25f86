"""The code of the rail and the angle of a crossing in the geometry of frogs, by the published dimensions."""

from __future__ import annotations

import pytest

from running.plans import one_turnout, running_of, told

INCH = 25_400
ENGINE = "engine e left 0 60 mm right 0 60 mm 0.3 A"
# Head widths in inches, NMRA RP-15.1; flangeway .050 for HO, S-3.2; number 6 and .020 of clearance between the heads.
HEADS = {100: 0.045, 83: 0.040, 70: 0.035, 55: 0.028}


@pytest.mark.parametrize(("code", "head"), HEADS.items())
@pytest.mark.parametrize("where", ["rails", "segment"])
def test_the_rails_code_counts_for_frogs_too(code: int, head: float, where: str) -> None:
    """Whether the plan tells it of all its rail, or of the track that meets the turnout."""
    text = one_turnout("number 6 dead-frog", ENGINE)
    if where == "rails":
        text = f"rails code {code} nickel-silver\n{text}"
    else:
        lines = text.splitlines()
        text = (
            "\n".join(f"{one} code {code} nickel-silver" if one.startswith("segment") else one for one in lines) + "\n"
        )
    assert running_of(text).track.size("T1").dead == pytest.approx(6 * (0.050 + 2 * head + 0.020) * INCH, abs=2)


def test_wider_rail_heads_are_bridged_sooner() -> None:
    """A wheel clears the other frog rail from 6·(tread .080 + head) behind the point on; a third of what is dead lies
    before it (derived): 27 mm do for code 83 and not for code 100."""
    text = one_turnout("number 6 dead-frog dead 27.5 mm", ENGINE)
    found = {code: bool(told(f"rails code {code}\n{text}", "frog-rails-bridged")) for code in (70, 100)}
    assert found == {70: False, 100: True}


@pytest.mark.parametrize(("angle", "inches"), [(90, 0.150), (30, 0.300), (60, 0.150 / 3**0.5 * 2)])
def test_a_crossing_is_dead_over_what_its_angle_says(angle: int, inches: float) -> None:
    """(.050 + 2·.040 + .020) inch across the rail, and 1/sin of the angle along it: 3.8 mm at a right angle."""
    text = f"""\
scale HO
booster B1 15 V 5 A
district main from B1
segment a0 stop -> X.a1 1 m
segment b0 stop -> X.b1 1 m
crossing X {angle} degrees dead-frog
segment a9 X.a2 -> stop 1 m
segment b9 X.b2 -> stop 1 m
feeder main -> a0
feeder main -> a9
feeder main -> b0
feeder main -> b9
{ENGINE}
"""
    assert running_of(text).track.size("X").dead == pytest.approx(inches * INCH, abs=2)
