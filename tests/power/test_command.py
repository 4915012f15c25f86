"""`railbond power`: the table of what a plan's wires and rails can bear."""

from __future__ import annotations

from pathlib import Path

import pytest

from power.wired import facts_of
from railbond import command

PLAN = """\
scale HO
booster B1 15 V 5 A
district main from B1 trips 4 A
bus main -> P1 5 m 14 AWG
segment line stop -> stop 3 m
feeder P1 -> line at 0 cm 22 AWG 20 cm
engine mallet left 0 31 mm right 0 31 mm 0.5 A
"""


@pytest.fixture
def told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):
    """What the command says of a plan, its lines joined, and its exit status."""
    monkeypatch.chdir(tmp_path)

    def tell(text: str) -> tuple[int, str]:
        Path("a.trackplan").write_text(text)
        status = command.main(["power", "a.trackplan"])
        return status, " ".join(capsys.readouterr().out.split())

    return tell


def test_the_row_of_a_district(told) -> None:
    """By hand: the loop is 2·(5 m of 14 AWG + 20 cm of 22 AWG + 3 m of rail) = 0.759 Ω, so 15 V draw 19.8 A."""
    status, text = told(PLAN)
    assert status == 0
    assert "main 0.5 A 0.38 V, 2.5 % 19.8 A 5 A" in text
    assert "worst at line.finish, where the loop has 0.76 Ω" in text
    assert "10 m of 14 AWG, 40 cm of 22 AWG; 186 g of copper" in text


def test_how_far_it_may_grow(told) -> None:
    """A drop of 5 % with 0.5 A allows 1.5 Ω: 0.741 Ω more, which are 3.4 m of track or 44 m of 14 AWG and back."""
    _, text = told(PLAN)
    assert "3.4 m of track" in text and "or 44.7 m more bus of 14 AWG, voltage-drop is met" in text
    _, text = told(PLAN.replace("0.5 A", "2.5 A"))
    assert "nothing" in text and "voltage-drop is met already" in text


def test_without_engines_it_tells_the_drop_of_an_ampere(told) -> None:
    _, text = told(PLAN.replace("engine", "#"))
    assert "main not told 0.76 V an ampere 19.8 A 5 A 10.2 m of track" in text
    assert "short-will-not-trip is met" in text


def test_what_is_taken_for_granted_is_said(told) -> None:
    _, text = told(PLAN)
    assert "nickel-silver rail of code 83, 109 mΩ a meter of rail (an estimate)" in text
    assert "20 mΩ a joiner, copper at 20 °C" in text
    _, text = told(PLAN + "rails code 100 brass\nlimit temperature 40 C\nlimit joiner-resistance 5 mohm\n")
    assert "brass" not in text and "°C" not in text and "joiner" not in text.split("Taken for")[1]


def test_without_sizes_no_number_is_invented(told) -> None:
    status, text = told(PLAN.replace(" 5 m 14 AWG", "").replace(" 22 AWG 20 cm", ""))
    assert status == 0
    assert text.startswith("Nothing to tell: no wire's size or length is told") and "Ω" not in text
    _, text = told(PLAN.replace(" 22 AWG 20 cm", ""))
    assert text == "main: not worked out, for some of its wires have no size or no length."


def test_a_plan_that_is_not_there() -> None:
    assert command.main(["power", "nowhere.trackplan"]) == 2


@pytest.mark.parametrize("inches", [3, 6, 7, 12, 14, 17, 23, 120])
def test_a_wire_at_the_very_end_of_track_told_in_inches(told, inches: int) -> None:
    """An inch is no whole number in binary: the end and the wire on it must still be one place, with no sliver of rail
    between them, on which a way back to the supply would go to and fro for ever."""
    text = PLAN.replace("stop -> stop 3 m", f"stop -> J {inches} in").replace("at 0 cm", f"at {inches} in")
    status, words = told(f"{text}segment mine J -> stop 6 m\n")
    assert status == 0
    assert "worst at mine.finish" in words
    assert {metal.stop for metal in facts_of(text).layout.pieces["line"].template.metals} == {
        drop.place for drop in facts_of(text).layout.drops
    }
