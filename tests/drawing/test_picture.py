"""What the picture shows of rails, cuts, wires, frogs and findings, and how."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from math import hypot
from random import Random

import pytest

from drawing.samples import BALLOON, LEFT, OVER, PLANE, POWER, SIDING, facts
from oracle.plans import random_wild
from railbond.faces.drawing.fault_places import places
from railbond.faces.drawing.ink import INKS, inks
from railbond.faces.drawing.picture import draw, rooms
from railbond.faces.drawing.rails import strokes
from railbond.faces.drawing.staging import stage
from railbond.faces.drawing.strokes import Stroke
from railbond.faces.drawing.style import DARK, LIGHT, RULES, style
from railbond.findings import Finding
from railbond.inspection import examine
from railbond.rules import all_rules

SVG = "{http://www.w3.org/2000/svg}"


def picture(text: str, setting: dict[str, str] | None = None) -> ET.Element:
    plan = facts(text)
    return ET.fromstring(draw(plan, examine(facts(text), all_rules()), setting))


def of(root: ET.Element, kind: str) -> list[ET.Element]:
    """Everything of a class."""
    return [one for one in root.iter() if kind in one.get("class", "").split()]


def words(root: ET.Element) -> set[str]:
    return {"".join(one.itertext()) for one in root.iter(f"{SVG}text")}


@pytest.mark.parametrize("text", [*PLANE.values(), OVER, "", 'plan "Nothing yet"\n'])
def test_it_is_one_file_of_its_own(text: str) -> None:
    root = picture(text)
    assert not list(root.iter(f"{SVG}script")) and not list(root.iter(f"{SVG}image"))
    assert "href" not in ET.tostring(root, "unicode") and "url(" not in style()


def test_names_and_the_title_are_there_as_they_are_typed() -> None:
    assert {"west", "middle", "siding", "east", "T1", "T2", "W", "Siding & <more>", "district main"} <= words(
        picture(SIDING)
    )


def test_each_leg_has_its_color_and_its_pattern() -> None:
    """No two inks differ by color alone: each has its own core, dashes or width."""
    patterns = {}
    for ink in INKS:
        found = re.findall(rf"\.rb \.(?:core|rail)\.{ink}\{{(.*?)\}}", RULES)
        patterns[ink] = (tuple(sorted(found)), ink in ("one", "dead"))
    assert len({patterns[ink] for ink in patterns}) == len(INKS)
    assert len({LIGHT[ink] for ink in INKS}) == len({DARK[ink] for ink in INKS}) == len(INKS)


@pytest.mark.parametrize("colors", [LIGHT, DARK])
def test_everything_stands_out_from_the_paper(colors: dict[str, str]) -> None:
    """WCAG 2: 3 to 1 for lines (1.4.11) and 4.5 to 1 for words (1.4.3), from memory."""
    grounds = [colors["paper"], *(colors[name] for name in colors if name.startswith("tint"))]
    for ink in INKS:
        assert min(contrast(colors[ink], ground) for ground in grounds) >= 3
    for name in ("words", "quiet", *(one for one in colors if one.startswith("name"))):
        assert contrast(colors[name], colors["paper"]) >= 4.5
    for level in ("error", "warning", "note"):
        assert contrast(colors[level], colors["flagged"]) >= 4.5


def contrast(one: str, other: str) -> float:
    """WCAG 2's contrast ratio (its formula from memory)."""
    bright = sorted(_luminance(color) + 0.05 for color in (one, other))
    return bright[1] / bright[0]


def _luminance(color: str) -> float:
    parts = [int(color[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_the_contrast_of_black_on_white_is_21() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)


def test_cuts_wires_and_frogs_are_marked() -> None:
    root = picture(SIDING)
    marks = [one for one in of(root, "cut") if one.tag == f"{SVG}path"]
    legend = 2
    assert len(marks) - legend == 2 * (1 + 1 + 2), "two strokes a cut: at two frogs, and in both rails of siding"
    assert len(of(root, "solder")) == 2 * 3 + 1
    assert len(of(root, "frog-dot")) == 2 and not of(root, "plastic")
    assert "no feed" in words(root)


def test_a_plastic_frog_takes_no_wire() -> None:
    root = picture(BALLOON)
    assert of(root, "plastic") and not of(root, "frog-dot") and not of(root, "frog")


def test_findings_are_numbered_in_the_picture_and_below_it() -> None:
    text = LEFT.replace("feeder main -> spur", "feeder main -> spur crossed")
    found = examine(facts(text), all_rules())
    root = picture(text)
    assert found and len(of(root, "flag")) == 2 * len(found)
    assert {str(number) for number in range(1, len(found) + 1)} <= words(root)


def test_a_finding_lies_at_its_line() -> None:
    """The crossed feeder's mark is led from the place where the feeder is soldered."""
    root = picture(LEFT.replace("feeder main -> spur", "feeder main -> spur crossed"))
    spot = of(root, "spot")[0]
    x, y = float(spot.get("cx", "")), float(spot.get("cy", ""))
    solders = [(float(one.get("cx", "")), float(one.get("cy", ""))) for one in of(root, "solder")]
    assert min(abs(x - u) + abs(y - v) for u, v in solders) < 6


def test_a_setting_turns_the_frog() -> None:
    """`electrics.md`: the through route's frog wants the diverging stock rail's polarity, a left-hand turnout's left
    rail's (the first leg); set diverging, that of the other stock rail."""
    frogs = {route: of(picture(LEFT, {"T1": route}), "frog") for route in ("through", "diverging")}
    assert {one.get("class") for one in frogs["through"]} == {"frog one"}
    assert {one.get("class") for one in frogs["diverging"] if "frog" in one.get("class", "").split()} == {"frog two"}
    assert {one.get("class") for one in of(picture(LEFT), "frog")} == {"frog either"}


@pytest.mark.parametrize("seed", range(30))
def test_the_ink_of_a_setting_is_what_the_proof_says(seed: int) -> None:
    plan = facts(random_wild(Random(seed), seed % 7))
    rng = Random(seed)
    setting = {name: rng.choice(each) for name, each in plan.graph.positions.items()}
    found = inks(plan, setting)
    shorted = "short" in found  # then metal has the ink of its nearest source, and the proof follows no path past one
    for conductor, ink in enumerate(found):
        ways = [way.source for way in plan.proof.reachable(conductor) if way.setting <= set(setting.items())]
        fed = {(one.kind, one.leg) for one in ways if one.kind != "unit"}
        assert shorted or not any(one.opposes(other) for one in ways for other in ways)
        assert (ink == "dead") == (not ways)
        if len(fed) == 1 and not shorted:
            kind, leg = fed.pop()
            assert ink == ("turns-" if kind == "reverser" else "") + ("two" if leg else "one")


def test_a_short_shows_where_the_two_legs_meet() -> None:
    """Far from the crossed feeder the rails keep the ink of their own feeders."""
    names = ["stop", *(f"J{n}" for n in range(5)), "stop"]
    pieces = [f"segment s{n} {names[n]} -> {names[n + 1]} 1 m" for n in range(6)]
    feeders = [f"feeder main -> s{n}{' crossed' if n == 5 else ''}" for n in range(6)]
    plan = facts(POWER + "\n".join([*pieces, *feeders]) + "\n")
    found = inks(plan, None)
    rails = {name: {found[plan.wiring.metal(name, metal)] for metal in (0, 1)} for name in plan.layout.pieces}
    assert rails["s0"] == rails["s3"] == {"one", "two"}
    assert rails["s4"] == rails["s5"] == {"short"}


def test_track_between_pieces_of_several_frogs_has_room_for_what_is_said_of_them() -> None:
    """Two three-way turnouts 40 cm apart: every name stands beside what it names, and none is led out by a line."""
    ends = zip("abcde", ("W1.left", "W1.right", "W2.left", "W2.through", "W2.right"), strict=True)
    spurs = "".join(f"segment {name} {end} -> stop 1 m\n" for name, end in ends)
    root = picture(
        f"{POWER}segment lead stop -> W1.points 1 m\nthree-way W1 symmetrical number 6 isolated-frog\n"
        f"segment mid W1.through -> W2.points 40 cm\nthree-way W2 symmetrical number 6 isolated-frog\n{spurs}"
        "frog W1 automatic main\nfrog W2 automatic main\nfeeder main -> lead\nfeeder main -> mid\n"
    )
    assert {"W1", "mid", "W2"} <= words(root) and not of(root, "name-line")


def test_a_supply_that_is_called_what_it_is_is_said_once() -> None:
    root = picture("bus plug -> P1\nsegment line W -> E 1 m\nendplate W left red\nendplate E\nfeeder P1 -> line\n")
    assert "plug" in words(root) and "plug plug" not in words(root)


@pytest.mark.parametrize(
    ("end", "kind", "said"),
    [("stop", "buffer", "end of track"), ("W", "edge", "a module's edge"), ("T9.points", "loose", "nothing is joined")],
)
def test_how_track_ends_is_marked_and_told_below(end: str, kind: str, said: str) -> None:
    root = picture(f"segment b {end} -> stop 1 m\n" + ("endplate W left red\n" if end == "W" else ""))
    assert of(root, kind) and any(said in one for one in words(root))


def test_track_that_stops_at_a_turnouts_end_is_drawn_up_to_its_buffer() -> None:
    """No piece of track lies there: the turnout's own rails go on to where the buffer is drawn."""
    plan = facts(
        POWER
        + """\
bus main -> P 1 m 14 AWG
turnout T left number 6 dead-frog
segment a stop -> T.points 2 m
segment b T.through -> stop 2 m
joint T.diverging -> stop
feeder P -> a
"""
    )
    scene = stage(plan.layout, rooms(plan))
    buffer = next(one for one in scene.terminals if one.name == "T.diverging")
    drawn = [one for one in strokes(plan, scene, {}) if one.piece == "T" and one.kind == "rail"]
    ends = [tuple(map(float, re.findall(r"[-\d.]+", one.path)[-2:])) for one in drawn]
    assert sum(hypot(x - buffer.at[0], y - buffer.at[1]) < 8 for x, y in ends) == 2


def test_a_block_on_a_toggle_is_named_with_what_it_is_thrown_between() -> None:
    """Not as the cab that its toggle stands at first; of a rail that two blocks have in common each has its own."""
    picture = draw(
        facts(
            "cab north 12 V 1 A\ncab south 12 V 1 A\ncommon black of north south\n"
            "block mill in north or south\nblock quarry in north or south\n"
            "segment up stop -> C 1.5 m\nsegment down C -> stop 1.5 m\ngap C left rail\n"
            "feeder mill -> up at 75 cm\nfeeder quarry -> down at 75 cm\n"
        )
    )
    named = re.findall(r'<text class="district name(\d)"[^>]*>([^<]*)<', picture)
    assert [words for _, words in named] == [
        "block mill (toggle: north or south)",
        "block quarry (toggle: north or south)",
    ]
    assert len({tint for tint, _ in named}) == len(set(re.findall(r'class="band (tint\d)"', picture))) == 2


def test_rails_that_meet_without_track_between_meet_in_the_picture() -> None:
    """A hair of white between two turnouts reads as a cut; where there is a cut, it is as wide as any."""
    two = POWER + "turnout T1 left number 6 isolated-frog\nturnout T2 right number 6 isolated-frog\n"
    joined = two + "joint T1.through -> T2.points\ngap T1.through stock rail\n"
    plan = facts(joined)
    scene = stage(plan.layout, rooms(plan))
    drawn = list(strokes(plan, scene, {}))
    ends = {one: plan.layout.pieces[one].template.ends[end] for one, end in (("T1", "through"), ("T2", "points"))}
    near = {}
    for side, other in (("left", "right"), ("right", "left")):
        one, two_ = _tips(drawn, "T1", ends["T1"].side(side)), _tips(drawn, "T2", ends["T2"].side(other))
        near[side] = min(hypot(x - u, y - v) for x, y in one for u, v in two_)
    assert near["left"] < 0.2 and near["right"] > 6


def _tips(drawn: list[Stroke], piece: str, metal: int) -> list[tuple[float, float]]:
    """Where the lines of a metal begin and stop."""
    found = []
    for stroke in drawn:
        if (stroke.piece, stroke.metal) == (piece, metal):
            numbers = [float(one) for one in re.findall(r"-?\d+\.\d+", stroke.path)]
            found += [(numbers[0], numbers[1]), (numbers[-2], numbers[-1])]
    return found


def test_a_finding_lies_where_its_words_measure_to() -> None:
    """So far from an end of plain track, and not at that end."""
    plan = facts(LEFT)
    scene = stage(plan.layout, rooms(plan))
    at = plan.layout.pieces["line"].statement.at
    line = scene.stretches["line"]
    whole = [line.course.at(place)[0] for place in (line.start, line.stop)]
    for words, share in (
        ("20 cm from line.start", 0.2),
        ("30 cm from line.finish", 0.7),
        ("0.1 m from line.start", 0.1),
    ):
        found = Finding("rule", "note", "stall", at, f"the rail of line, {words}, lies far.", names=("line",))
        (point,) = places(plan, scene, [found], {})
        assert point and abs(point[0] - (whole[0] + (whole[1] - whole[0]) * share)) < 1


def test_what_rails_do_not_show_is_said_in_one_pair_of_brackets() -> None:
    special = LEFT.replace("isolated-frog", "movable-frog sprung through")
    assert "T1 (spring: through; movable frog)" in words(picture(special))
    assert "T1 (sprung frog)" in words(picture(LEFT.replace("isolated-frog", "sprung-frog")))
