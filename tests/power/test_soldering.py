"""Where a new pair of drops goes: clear of ends, cuts and of what is soldered there; and how large a plan is tried."""

from __future__ import annotations

import pytest

from power.wired import facts_of
from railbond.circuit.power import least_copper as least
from railbond.circuit.power.soldering import APART, Soldering
from railbond.circuit.power.spots import Spot

LINE = """\
booster B1 15 V 5 A
district main from B1 trips 4 A
bus main -> P1 1 m 14 AWG
segment line stop -> stop 4 m
{more}
feeder P1 -> line at {at} m 22 AWG 20 cm
"""


def offered(meters: float, at: float = 1.0, more: str = "") -> list[float]:
    """Where on the line drops are offered for a spot."""
    facts = facts_of(LINE.format(at=at, more=more))
    (spot,) = (one for one in facts.power.spots if one.piece == "line")
    assert isinstance(spot, Spot)
    targets = Soldering(facts.power, "P1").places(spot._replace(meters=meters, end=""))
    return [round(place, 3) for rails in targets for _, _, place in rails if place is not None]


@pytest.mark.parametrize(
    ("meters", "place"),
    [(2.0, 2.0), (0.0, APART), (4.0, 4 - APART), (1 + APART, 1 + APART), (1 - APART, 1 - APART)],
    ids=["in the middle", "at the start", "at the end", "just behind a drop", "just before it"],
)
def test_both_rails_at_the_spot_or_as_near_as_there_is_room(meters: float, place: float) -> None:
    assert offered(meters) == [place, place]


@pytest.mark.parametrize("meters", [1.0, 1 + 0.8 * APART, 1 - 0.8 * APART])
def test_nothing_where_a_drop_is_soldered(meters: float) -> None:
    assert offered(meters) == []


@pytest.mark.parametrize("meters", [3.0, 3 + 0.8 * APART, 3 - 0.8 * APART])
def test_nothing_at_a_cut(meters: float) -> None:
    cut = "gap line at 3 m both rails\nfeeder P1 -> line at 3.5 m 22 AWG 20 cm"
    assert offered(meters, more=cut) == []
    assert offered(2.94, more=cut) == [2.94, 2.94]


def test_each_wire_comes_from_the_leg_that_its_rail_carries() -> None:
    for crossed in ("", " crossed"):
        facts = facts_of(LINE.format(at=1.0, more="").rstrip() + crossed + "\n")
        (spot,) = (one for one in facts.power.spots if one.piece == "line")
        new = Soldering(facts.power, "P1")
        (rails,) = new.places(spot._replace(meters=3.0, end=""))
        drops = new.drops(rails, facts.layout.runs[0].statement.size, 0.2)  # type: ignore[arg-type]
        assert [drop.wire.leg for drop, _, _ in drops] == ([1, 0] if crossed else [0, 1])
        assert {str(drop.statement.crossed or "") for drop, _, _ in drops} == {crossed.strip()}


THIN = "\n".join(f"segment s{n} J{n} -> J{n + 1} 9 m" for n in range(6))
FAR = f"""\
booster B1 15 V 5 A
district main from B1 trips 4 A
bus main -> P1 1 m 22 AWG
segment s stop -> J0 1 m
{THIN}
segment t J6 -> stop 1 m
feeder P1 -> s 26 AWG 20 cm
"""


def steps(monkeypatch: pytest.MonkeyPatch, large: int) -> int:
    """How many networks are solved on the way to the least copper, where a plan is large from so many nodes on."""
    solved = []
    power = facts_of(FAR).power
    changed = type(power).changed
    monkeypatch.setattr(least, "LARGE", large)
    monkeypatch.setattr(type(power), "changed", lambda self, to, of: solved.append(to) or changed(self, to, of))
    least.least_copper(power, "main", 0.05)
    return len(solved)


def test_a_large_plan_is_solved_a_few_times_only(monkeypatch: pytest.MonkeyPatch) -> None:
    size = facts_of(FAR).power.network.size
    with monkeypatch.context() as patch:
        small = steps(patch, size + 1)
    with monkeypatch.context() as patch:
        large = steps(patch, size)
    assert large <= 4 < small
