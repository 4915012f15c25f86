"""Every kind of statement reads as the type that language.md gives it."""

from __future__ import annotations

from typing import Any, get_args

import pytest
from hypothesis import given

from plan_texts import statement_lines
from trackplan.read import Reading, read
from trackplan.span import Source
from trackplan.statements import Statement

INCH = 0.0254

# A line, the type it reads as, and the type's fields in their order; quantities in SI units.
LINES: list[tuple[str, str, list[Any]]] = [
    ('plan "Quarry Junction"', "Plan", ["Quarry Junction"]),
    ("scale HO", "Scale", ["HO"]),
    ('include "club.trackplan"', "Include", ["club.trackplan"]),
    ('module quarry "quarry.trackplan"', "Module", ["quarry", "quarry.trackplan"]),
    ('module quarry "quarry.trackplan" owner "Ann B"', "Module", ["quarry", "quarry.trackplan", "Ann B"]),
    ("couple quarry.E -> loop.W", "Couple", ["quarry.E", "loop.W"]),
    ("any order of a b c between d and e", "AnyOrder", [("a", "b", "c"), "d", "e"]),
    ("booster B1 15 V 5 A", "Booster", ["B1", 15, 5]),
    ("booster B1 15 V 5 A 50 mohm", "Booster", ["B1", 15, 5, 0.05]),
    ("district main from B1", "District", ["main", "B1", None, None]),
    ("district main from B1 trips 4 A", "District", ["main", "B1", 4, None]),
    ("district main from B1 legs red black", "District", ["main", "B1", None, ("red", "black")]),
    ("district main from B1 trips 4 A legs A B", "District", ["main", "B1", 4, ("A", "B")]),
    ("block yard in main", "Block", ["yard", "main"]),
    ("cab cab1 12 V 1 A", "Cab", ["cab1", 12, 1]),
    ("cab cab1 12 V 1 A legs plus minus", "Cab", ["cab1", 12, 1, ("plus", "minus")]),
    ("block yard in cab1 or cab2 or main", "Block", ["yard", "cab1", ("cab2", "main")]),
    ("common black of main yard mill", "Common", ["black", ("main", "yard", "mill")]),
    ("reverser R in main", "Reverser", ["R", "main", None]),
    ("reverser R in main trips 800 mA", "Reverser", ["R", "main", 0.8]),
    ("bus main -> P1", "Bus", ["main", "P1", None, None, None]),
    ("bus main -> P1 3 m", "Bus", ["main", "P1", 3, None, None]),
    ("bus main -> P1 1.5 mm2", "Bus", ["main", "P1", None, 1.5, None]),
    ("bus main -> P1 3 m 1.5 mm2 crossed", "Bus", ["main", "P1", 3, 1.5, "crossed"]),
    ("bus quarry.P2 -> loop.P1 crossed", "Bus", ["quarry.P2", "loop.P1", None, None, "crossed"]),
    ("feeder P1 -> west", "Feeder", ["P1", "west", None, None, None, None]),
    ("feeder P1 -> west crossed", "Feeder", ["P1", "west", None, None, None, "crossed"]),
    ("feeder P1 -> west at 0 cm", "Feeder", ["P1", "west", 0, None, None, None]),
    ("feeder P1 -> west 1 mm2", "Feeder", ["P1", "west", None, 1, None, None]),
    ("feeder P1 -> west at 20 cm 1 mm2 1 m crossed", "Feeder", ["P1", "west", 0.2, 1, 1, "crossed"]),
    ("feeder P1.red -> west.left at 1 in", "Feeder", ["P1.red", "west.left", INCH, None, None, None]),
    ("feeder P1.red -> T1.through.stock", "Feeder", ["P1.red", "T1.through.stock", None, None, None, None]),
    ("feeder P1 -> TT.bridge split at 0 degrees", "Feeder", ["P1", "TT.bridge", None, None, None, None, 0]),
    (
        "feeder P1 -> spur at 1 m 1 mm2 1 m crossed through contacts of T1 left",
        "Feeder",
        ["P1", "spur", 1, 1, 1, "crossed", None, ("T1", "left")],
    ),
    (
        "feeder P1 -> spur through contacts of TT lead-turned",
        "Feeder",
        ["P1", "spur", None, None, None, None, None, ("TT", "lead-turned")],
    ),
    ("turntable TT 11 in", "Turntable", ["TT", round(11 * INCH, 6)]),
    ("transfer-table TB 30 cm", "TransferTable", ["TB", 0.3]),
    ("approach-track TT.lead at 0 degrees", "ApproachTrack", ["TT.lead", 0]),
    ("approach-track TB.shed at 40 cm far-side", "ApproachTrack", ["TB.shed", 0.4, "far-side"]),
    ("lamp siding.finish 20 mA", "Lamp", ["siding.finish", 0.02]),
    ("segment west W -> T1.points 90 cm", "Segment", ["west", "W", "T1.points", 0.9, None]),
    ("segment west W->stop 90 cm code 83", "Segment", ["west", "W", "stop", 0.9, 83]),
    ("segment spur stop -> T1.left 90 cm", "Segment", ["spur", "stop", "T1.left", 0.9, None]),
    ("segment west W -> stop 90 cm code 83 brass", "Segment", ["west", "W", "stop", 0.9, 83, "brass"]),
    ("rails code 100", "Rails", [100, None]),
    ("rails code 100 nickel-silver", "Rails", [100, "nickel-silver"]),
    ("solder T1.points", "Solder", ["T1.points"]),
    ("turnout T1 left number 6 isolated-frog", "Turnout", ["T1", "left", 6, "isolated-frog"]),
    ("turnout T1 left dead-frog dead 22 mm", "Turnout", ["T1", "left", None, "dead-frog", 0.022]),
    ("turnout T1 right dead-frog", "Turnout", ["T1", "right", None, "dead-frog"]),
    ("turnout T1 wye number 4.5 live-frog", "Turnout", ["T1", "wye", 4.5, "live-frog"]),
    ("turnout T1 curved left live-frog", "Turnout", ["T1", "left", None, "live-frog"]),
    ("turnout T1 left movable-frog sprung through", "Turnout", ["T1", "left", None, "movable-frog", None, "through"]),
    ("turnout T1 left sprung-frog dead 1 cm", "Turnout", ["T1", "left", None, "sprung-frog", 0.01]),
    ("stub S1 left number 5 live-frog", "Stub", ["S1", "left", 5, "live-frog"]),
    ("three-way W1 symmetrical number 6 dead-frog", "ThreeWay", ["W1", "symmetrical", 6, "dead-frog"]),
    ("three-way W1 staggered  left isolated-frog", "ThreeWay", ["W1", "staggered left", None, "isolated-frog"]),
    ("crossing X1 90 degrees isolated-frog", "Crossing", ["X1", 90, "isolated-frog"]),
    ("slip D1 double number 8 isolated-frog", "Slip", ["D1", "double", 8, "isolated-frog"]),
    ("slip D1 single dead-frog dead 2 cm", "Slip", ["D1", "single", None, "dead-frog", 0.02]),
    ("scissors C1 number 6 live-frog", "Scissors", ["C1", 6, "live-frog"]),
    ("scissors C1 dead-frog 30 degrees", "Scissors", ["C1", None, "dead-frog", 30]),
    ("gauntlet G1 60 cm number 8 isolated-frog", "Gauntlet", ["G1", 0.6, 8, "isolated-frog"]),
    (
        'construction C1 positions a b aligned rail x "the y" frog F when a wants x onto "the y" leg diverging end',
        "Construction",
        ["C1", ((("a", "b"), "aligned"), (("x", "the y"),), ("F", ((("a",), "x", "the y", "diverging"),)))],
    ),
    (
        "construction C1 tie x y z when a b touching pass x y when a blade x beside y touches a open b end",
        "Construction",
        ["C1", ((("x", "y", "z"), ("a", "b"), "touching"), (("x", "y"), ("a",)), ("x", "y", ("a",), ("b",)))],
    ),
    (
        "construction C1 frog F opening left left frog x right stock y leaves when left right part 2\nend",
        "Construction",
        ["C1", (("F", None), ("left", ("frog", "x"), ("stock", "y"), "leaves", ("left", "right"), 2))],
    ),
    ("joint T1.points -> T2.points", "Joint", ["T1.points", "T2.points"]),
    ("gap T1.points left rail", "Gap", ["T1.points", None, "left rail"]),
    ("gap siding.start right  rail", "Gap", ["siding.start", None, "right rail"]),
    ("gap siding at 1 m both rails", "Gap", ["siding", 1, "both rails"]),
    ("gap T2.through frog rail", "Gap", ["T2.through", None, "frog rail"]),
    ("gap T2.through stock rail", "Gap", ["T2.through", None, "stock rail"]),
    ("endplate W", "Endplate", ["W", None]),
    ("endplate W left black", "Endplate", ["W", "black"]),
    ("bond T2 closure rails to stock rails", "ClosureBond", ["T2"]),
    ("cut T2 closure jumpers", "Cut", ["T2", "closure jumpers"]),
    ("cut T2 around frog", "Cut", ["T2", "around frog"]),
    ("cut T2 frog rails", "Cut", ["T2", "frog rails"]),
    ("frog T1 switched through P1.red diverging P1.black", "FrogSwitched", ["T1", None, "P1.red", "P1.black"]),
    ("frog T1 switched with T2 through a.r diverging a.b", "FrogSwitched", ["T1", "T2", "a.r", "a.b"]),
    ("frog T1 switched from stock rails", "FrogFromStockRails", ["T1"]),
    ("frog T2 automatic P2", "FrogAutomatic", ["T2", "P2"]),
    ("frog T2 automatic P2 trips 2 A", "FrogAutomatic", ["T2", "P2", 2]),
    ('frog T2 unpowered because "an inch long"', "FrogUnpowered", ["T2", "an inch long"]),
    ("engine e left 0 31 62 mm right 5 cm 0.4 A", "Engine", ["e", (0, 0.031, 0.062), (0.05,), 0.4]),
    (
        "engine e left 0 mm right 5 cm 4 A unweighted 0 2 cm capacitor 300 ms crawls 20 mm/s",
        "Engine",
        ["e", (0,), (0.05,), 4, (0, 0.02), 0.3, 0.02],
    ),
    ("train longest 2.4 m", "Train", ["longest", 2.4]),
    ("train longest 2.4 m metal-wheels 30 cm", "Train", ["longest", 2.4, 0.3]),
    ("limit feeder-spacing 2 m", "Limit", ["feeder-spacing", 2]),
    ("limit voltage-drop 5 %", "Limit", ["voltage-drop", 0.05]),
    (
        'accept feeders-too-far-apart at siding because "soldered"',
        "Accept",
        ["feeders-too-far-apart", "siding", "soldered"],
    ),
    ("accept unfed-frog at quarry.T1", "Accept", ["unfed-frog", "quarry.T1", None]),
]


def read_text(text: str) -> Reading:
    return read(Source("x.trackplan", text))


@pytest.mark.parametrize(("line", "kind", "fields"), LINES, ids=[line for line, *_ in LINES])
def test_statement(line: str, kind: str, fields: list[Any]) -> None:
    reading = read_text(line)
    (statement,) = reading.statements
    assert not reading.broken
    assert type(statement).__name__ == kind
    assert without_last_nones([as_told(value) for value in statement[1:]]) == without_last_nones(fields)


def as_told(value: Any) -> Any:
    """A value as the table writes it: numbers rounded to a micrometer, milliamp or the like."""
    if isinstance(value, tuple):
        return tuple(as_told(one) for one in value)
    return round(float(value), 6) if isinstance(value, float) else value


def without_last_nones(fields: list[Any]) -> list[Any]:
    """Parts that may be left out at the end of a statement come and go; the table need not name them all."""
    while fields and fields[-1] is None:
        fields = fields[:-1]
    return fields


def test_every_kind_is_tried() -> None:
    assert {kind for _, kind, _ in LINES} == {kind.__name__ for kind in get_args(Statement)}


@given(statement_lines())
def test_every_form_reads(line: str) -> None:
    reading = read_text(line)
    assert not reading.broken
    keyword = line.split()[0].replace("-", "")
    assert [keyword in type(one).__name__.lower() for one in reading.statements] == [True]
