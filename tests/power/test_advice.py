"""What is told of volts and of the network at a bus's end agrees with the standard and with its own physics."""

from __future__ import annotations

import re

import pytest

from railbond.inspection import inspect
from railbond.layout.limits import LIMITS
from railbond.rules.bus_too_long import NETWORK
from trackplan.gather import gather

HALVES = (58e-6, 100e-6)
"""Seconds of half a bit, NMRA S-9.1: a one and the shortest zero."""
PLAN = "scale {}\nbooster B1 {} V 5 A\ndistrict main from B1 trips 3 A\nsegment a stop -> stop 1 m\nfeeder main -> a\n"


def told(scale: str, volts: float) -> str:
    text = PLAN.format(scale, volts)
    return " ".join(one.message for one in inspect(gather("p", lambda path: text)).findings if "V at" in one.message)


@pytest.mark.parametrize(
    ("scale", "volts", "says"),
    [
        ("HO", 23, "decoders must stand 27 V, so few burn at once"),  # NMRA S-9.1 table 3: at most 22 V at the track
        ("HO", 28, "decoders need stand no more than 27 V, and burn out"),
        ("N", 23, "decoders must stand 24 V, so few burn at once"),
        ("N", 25, "burn out"),
        ("HO", 7, "may not start"),
    ],
)
def test_what_too_many_volts_do_is_what_the_standard_says(scale: str, volts: float, says: str) -> None:
    assert says in told(scale, volts)


def test_what_the_standard_allows_is_left_alone() -> None:
    assert told("HO", 22) == told("N", 8.5) == ""


@pytest.mark.parametrize(("volts", "least", "most"), [(15, 0.449, 0.78), (22, 0.96, 1.68)])
def test_the_resistor_at_a_buss_end_stands_what_it_takes(volts: float, least: float, most: float) -> None:
    """Each edge turns C (2V)²/2 into heat in the resistor that charges the capacitor, two edges a period."""
    microfarads = float(re.search(r"([\d.]+) µF", NETWORK)[1])  # type: ignore[index]
    taken = [2 * (microfarads * 1e-6 * (2 * volts) ** 2 / 2) / (2 * half) for half in HALVES]
    assert least <= min(taken) and max(taken) <= most
    assert float(re.search(r"(\d+) W", NETWORK)[1]) > 1.5 * max(taken)  # type: ignore[index]
    assert float(re.search(r"(\d+) V", NETWORK)[1]) >= 2 * volts  # type: ignore[index]


@pytest.mark.parametrize("bound", LIMITS.values(), ids=LIMITS)
def test_every_limit_says_where_it_comes_from(bound) -> None:
    kinds = ("common practice", "estimate", "the careful side", "no usual value", "the plan's", "(IEC", "RP-25")
    assert any(kind in bound.source for kind in kinds)
    assert (bound.unless_said is None) == bound.source.startswith(("no usual value", "the plan's", "the scale's"))


FAR = """\
scale     HO
booster   B1    15 V  5 A
district  main  from B1  trips 4 A
bus       main -> P1  6 m  16 AWG
segment   mine  stop -> stop  9 m
feeder    P1 -> mine  at 50 cm  {size}  80 cm
engine    mallet  left 0 31 62 mm  right 0 31 62 mm  2 A
"""
THICK = re.compile(r"\b(?:16|14|12|10) AWG|\b(?:1|1\.5|2\.5|4|6) mm2")


@pytest.mark.parametrize("size", ["24 AWG", "0.34 mm2"])
def test_nobody_solders_more_than_18_awg_to_a_rail(size: str) -> None:
    """Drops are 18 to 24 AWG, or 0.25 to 0.75 mm² (common practice): more of them, or a thicker bus, do the rest."""
    found = inspect(gather("plan", lambda _: FAR.format(size=size))).findings
    fixes = [fix for one in found if one.rule in ("voltage-drop", "short-will-not-trip") for fix in one.fixes]
    assert fixes
    drops = [words for fix in fixes for words in fix.words.split("; ") if "feeder" in words]
    assert not [words for words in drops if THICK.search(words)]
