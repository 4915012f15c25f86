"""Wheels that touch both frog rails."""

from __future__ import annotations

import pytest

from running.plans import mended, one_turnout, running_of, told

ENGINE = "engine e left 0 60 mm right 0 60 mm 0.3 A"


@pytest.mark.parametrize(
    ("turnout", "more", "bridged"),
    [
        ("number 6 dead-frog dead 22 mm", (), True),
        ("number 6 dead-frog dead 22 mm", ("limit wheel-code 88",), True),
        ("number 6 dead-frog dead 24 mm", ("limit wheel-code 88",), False),
        ("number 6 dead-frog dead 28 mm", (), False),
        ("number 6 dead-frog", (), False),
        ("number 6 isolated-frog dead 22 mm", ("frog T1 switched from stock rails",), True),
        ("number 6 live-frog dead 22 mm", ("gap T1.through frog rail", "gap T1.diverging frog rail"), False),
    ],
)
def test_which_frogs_a_wheel_bridges(turnout: str, more: tuple[str, ...], bridged: bool) -> None:
    """One piece of metal with the frog (live-frog) is never bridged, nor is a finding made of an estimate."""
    assert bool(told(one_turnout(turnout, ENGINE, *more), "frog-rails-bridged")) == bridged


def test_turnouts_alike_are_told_once_and_mended_together() -> None:
    text = one_turnout("number 6 dead-frog dead 22 mm", ENGINE)
    text = text.replace("T1.through -> stop", "T1.through -> T2.through")
    text += "turnout T2 right number 6 dead-frog dead 22 mm\nsegment y T2.points -> stop 1 m\n"
    text += "segment x T2.diverging -> stop 1 m\nfeeder main -> x\nfeeder main -> y crossed\n"
    (finding,) = told(text, "frog-rails-bridged")
    assert finding.names == ("T1", "T2")
    assert not told(mended(text, finding), "frog-rails-bridged")


def test_by_how_much() -> None:
    """A third of 21 mm lies before the point and two thirds behind, as 1 to 2 in 6·(.050 to .100) inch: 14 mm, where
    the heads' near edges are 14/6 - 1.016 mm from the gauge line; the tread of code 110 is 2.032 mm (derived)."""
    (bridge,) = running_of(one_turnout("number 6 dead-frog dead 21 mm", ENGINE)).bridges
    assert bridge.margin == pytest.approx((14 / 6 - 1.016 - 2.032) * 1000, abs=1)
    assert bridge.length == pytest.approx(-6 * bridge.margin, abs=3)
