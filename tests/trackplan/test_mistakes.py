"""Each likely mistake: the words that it is told at (between ⟦ and ⟧), what is told, and what was meant."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plan_texts import statement_lines
from trackplan.read import read
from trackplan.span import Source
from trackplan.statements import Broken
from trackplan.tables import KEYWORDS, STATES

LENGTH = "expected a length with its unit, such as `90 cm`"
BUILD = "expected the build (`dead-frog`, `live-frog`, `isolated-frog`, `movable-frog` or `sprung-frog`)"
HAND = "expected the hand (`left`, `right` or `wye`)"
RAIL = "expected the rail (`left rail`, `right rail`, `both rails`, `frog rail` or `stock rail`)"
KIND = "expected the kind of statement, such as `segment`, `turnout` or `feeder`"
TITLE = 'expected the title in quotes, such as `"Quarry Junction"`'
REASON = 'expected the reason in quotes, such as `"its joiners are soldered"`'
STRAIGHT = 'expected straight double quotes, such as `"Quarry Junction"`'
CODE_OR_END = "expected `code`, or the end of the line"
SIZE_OR_END = "expected a wire size, such as `14 AWG`, or `crossed`, or the end of the line"

MISTAKES: list[tuple[str, str, str | None]] = [
    # numbers and units
    ("segment west W -> T1 ⟦90⟧", f"`90` has no unit: {LENGTH}", None),
    ("segment west W -> T1 ⟦90⟧ code 83", f"`90` has no unit: {LENGTH}", None),
    ("segment west W -> T1 ⟦90 CM⟧", f"`CM` is not a unit that fits here: {LENGTH}", "90 cm"),
    ("segment west W -> T1 ⟦90 inches⟧", f"`inches` is not a unit that fits here: {LENGTH}", "90 in"),
    ("segment west W -> T1 ⟦90 furlongs⟧", f"`furlongs` is not a unit that fits here: {LENGTH}", None),
    ("segment west W -> T1 ⟦3' 6\"⟧", "feet and inches are typed as words, such as `3 ft 6 in`", "3 ft 6 in"),
    ("segment west W -> T1 ⟦6.5”⟧", "feet and inches are typed as words, such as `3 ft 6 in`", "6.5 in"),
    ("segment west W -> T1 ⟦1,5 m⟧", f"`1,5` has a comma, and decimals are typed with a point: {LENGTH}", "1.5 m"),
    ("segment west W -> T1 ⟦1,500 mm⟧", f"`1,500` has a comma, and decimals are typed with a point: {LENGTH}", None),
    ("segment west W -> T1 ⟦-5 m⟧", f"`-5` is less than nothing: {LENGTH}", None),
    ("segment west W -> T1 ⟦.5 m⟧", f"`.5` is not a plain number: {LENGTH}", "0.5 m"),
    ("segment west W -> T1 ⟦1/2 m⟧", f"`1/2` is not a plain number: {LENGTH}", None),
    ("segment west W -> T1 ⟦0 m⟧", "`0 m` is nothing: expected more than zero", None),
    ("segment west W -> T1 ⟦1e999⟧ m", f"`e999` is not a unit that fits here: {LENGTH}", None),
    ("segment west W -> T1 ⟦nan⟧ m", f"{LENGTH}, not `nan`", None),
    ("segment west W -> T1 ⟦99999999 m⟧", "`99999999 m` is more than any plan can mean", None),
    ("segment west W -> T1 ⟦3 ft 14 in⟧", "`14 in` after feet is a foot or more", None),
    ("turnout T1 left number ⟦0⟧ live-frog", "`0` is nothing: expected more than zero", None),
    ("booster B1 ⟦15⟧ 5 A", "`15` has no unit: expected a voltage, such as `15 V`", "15 V"),
    ("booster B1 ⟦15 volts⟧ 5 A", "`volts` is not a unit that fits here: expected a voltage, such as `15 V`", "15 V"),
    ("booster B1 ⟦5 A 15 V⟧", "the parts stand in another order here: write `15 V 5 A`", "15 V 5 A"),
    ("district d from B1 trips ⟦4⟧ legs a b", "`4` has no unit: expected a current, such as `4 A`", None),
    ("bus main -> P1 3 m ⟦14⟧", f"`14` has no unit: {SIZE_OR_END}", None),
    ("bus main -> P1 3 m ⟦14 gauge⟧", f"`gauge` is not a unit that fits here: {SIZE_OR_END}", "14 AWG"),
    ("bus main -> P1 3 m ⟦AWG 14⟧", f"a unit stands after its number: {SIZE_OR_END}", "14 AWG"),
    ("bus main -> P1 3 m ⟦22.5 AWG⟧", "`22.5 AWG` is no wire: sizes are 4/0 to 1/0 and whole numbers up to 40", None),
    ("gap west at ⟦20⟧ left rail", "`20` has no unit: expected the distance from its start, such as `20 cm`", None),
    (
        "engine e left 0 31 62 ⟦right⟧ 0 31 mm 0.4 A",
        "expected the unit after the last number of the list, such as `0 31 62 mm`, not `right`",
        None,
    ),
    (
        "engine e left 0 ⟦3 ft 6 in⟧ right 0 mm 0.4 A",
        "`3 ft 6 in` ends a list, where one unit serves all, such as `0 31 62 mm`",
        None,
    ),
    # constructions
    ("⟦end⟧", "`end` closes a `construction`, and none is open here", None),
    (
        "construction C1\n  rail a ⟦(⟧\nend",
        "the character `(` means nothing in a plan: expected what more it is made of (`positions`, `rail`, `frog`, "
        "`joined`, `pass`, `blade` or `opening`), or the name of a rail, in quotes where it is more than one "
        "word, or `end`",
        None,
    ),
    (
        "construction C1\n  opening p left a right b ⟦enter⟧\nend",
        "expected whether the looking direction `enters` or `leaves` here, not `enter`",
        "enters",
    ),
    # arrows
    ('segment west W ⟦T1.points⟧ 90 cm', 'an arrow `->` is missing before `T1.points`', '-> T1.points'),
    ("segment west W ⟦=>⟧ T1 90 cm", "expected an arrow, typed `->`, not `=>`", "->"),
    ("segment west W⟦→⟧T1 90 cm", "expected an arrow, typed `->`, not `→`", "->"),
    ("segment west W ⟦- >⟧ T1 90 cm", "expected an arrow, typed `->`, not `- >`", "->"),
    ("segment west W ⟦to⟧ T1 90 cm", "expected an arrow, typed `->`, not `to`", "->"),
    ("bus main ⟦--⟧ P1", "expected an arrow, typed `->`, not `--`", "->"),
    # names
    ("segment ⟦2nd⟧ W -> T1 90 cm", "names start with a letter, `2nd` does not: expected a name for the segment", None),
    (
        "turnout ⟦7⟧ left live-frog",
        "names start with a letter, `7` does not: expected a name for the turnout (such as `T7`)",
        "T7",
    ),
    ("turnout ⟦left⟧ number 6 live-frog", "a name for the turnout is missing before `left`", None),
    ("reverser ⟦in⟧ main", "a name for the reverser is missing before `in`", None),
    ("bond ⟦closure⟧ rails to stock rails", "the name of a turnout is missing before `closure`", None),
    ('train ⟦"longest"⟧ 2 m', "names stand without quotes: expected a name for the train", "longest"),
    (
        "segment west W -> T1⟦.⟧ 90 cm",
        "expected a name right before and right after the point, such as `T1.points`",
        None,
    ),
    ("train a⟦\u0301⟧ 2 m", f"the character U+0301 means nothing in a plan: {LENGTH}", None),
    # keywords
    ("⟦tunrout⟧ T1 left live-frog", f"{KIND}, not `tunrout`", "turnout"),
    ('⟦Segment⟧ west W -> T1 90 cm', 'the words of the language are in small letters: write `segment`', 'segment'),
    ("⟦T1⟧ left live-frog", "what it is comes first: write `turnout T1 …`", "turnout T1"),
    ("⟦T1⟧ left", f"{KIND}, not `T1`", None),
    ("turnout T1 ⟦number⟧ 6 live-frog", f"{HAND}, not `number`", None),
    ('turnout T1 ⟦LEFT⟧ live-frog', 'the words of the language are in small letters: write `left`', 'left'),
    ("turnout T1 left number 6 ⟦insulated-frog⟧", f"{BUILD}, not `insulated-frog`", "isolated-frog"),
    ("turnout T1 left number 6 ⟦dcc⟧", f"{BUILD}, not `dcc`", None),
    ("turnout T1 left number 6 ⟦Live Frog⟧", f"{BUILD}, with its hyphen", "live-frog"),
    ('turnout T1 left ⟦6⟧ live-frog', '`number` is missing before `6`', 'number 6'),
    ("turnout T1 left number ⟦6⟧", f"the line ends too soon: after `6`, {BUILD}", None),
    ("gap ⟦T1.through⟧", f"the line ends too soon: after `T1.through`, {RAIL}, or `at`", None),
    ("gap T1.through ⟦frog⟧", f"the line ends too soon: after `frog`, {RAIL}", "frog rail"),
    ("gap T1.through both ⟦rail⟧", "expected `rails`, not `rail`", "rails"),
    ("bond T2 closure ⟦rail⟧ to stock rails", "expected `rails to stock rails`, not `rail`", "rails"),
    (
        "bond ⟦T2⟧",
        "the line ends too soon: after `T2`, expected `closure rails to stock rails`",
        "T2 closure rails to stock rails",
    ),
    (
        "cut T2 ⟦jumpers⟧",
        "expected what to cut (`closure jumpers`, `around frog`, `around frog without jumpers` or `frog rails`), not "
        "`jumpers`",
        None,
    ),
    (
        "frog ⟦T1⟧",
        "the line ends too soon: after `T1`, expected `automatic`, `switched` or `unpowered because`",
        None,
    ),
    ("district main ⟦form⟧ B1", "expected `from`, not `form`", "from"),
    ('block yard ⟦main⟧', '`in` is missing before `main`', 'in main'),
    ('accept unfed-frog ⟦T1⟧', '`at` is missing before `T1`', 'at T1'),
    ('feeder P1 -> west ⟦20 cm⟧', '`at` is missing before `20 cm`', 'at 20 cm'),
    ('segment west W -> T1 90 cm ⟦83⟧', '`code` is missing before `83`', 'code 83'),
    ("segment west W -> T1 90 cm ⟦please⟧", f"{CODE_OR_END}, not `please`", None),
    ("joint a -> b ⟦->⟧ c", "expected nothing more on this line, not `->`", None),
    # quotes
    ("plan ⟦Quarry Junction⟧", f"{TITLE}, not `Quarry`", '"Quarry Junction"'),
    ('plan ⟦"Quarry⟧', 'this quote is never closed: expected another `"` on the same line', '"Quarry"'),
    ("plan ⟦“Quarry Junction”⟧", STRAIGHT, '"Quarry Junction"'),
    ("plan ⟦'Quarry Junction'⟧", STRAIGHT, '"Quarry Junction"'),
    (
        "include ⟦club.trackplan⟧",
        'expected a file name in quotes, such as `"club.trackplan"`, not `club.trackplan`',
        '"club.trackplan"',
    ),
    ("accept unfed-frog at T1 because ⟦no reason⟧", f"{REASON}, not `no`", '"no reason"'),
    ("accept unfed-frog at T1 ⟦because⟧", f"the line ends too soon: after `because`, {REASON}", None),
    # lines
    (
        "segment west W -> T1 90 cm ⟦turnout⟧ T1 left live-frog",
        "one statement a line: start `turnout` on a line of its own",
        None,
    ),
    (
        "segment west W -> T1 90 cm\n  ⟦turnout⟧ T1 left live-frog",
        "an indented line goes on with the statement above it: start `turnout` at the left edge",
        None,
    ),
    (
        "  ⟦segment west W -> T1 90 cm⟧",
        "an indented line goes on with the statement above, and there is none: start at the left edge",
        None,
    ),
    ('joint a -> b⟦;⟧', 'the parts of a statement stand with blanks between them, without commas or colons', ' '),
    ("train a⟦\0⟧b 2 m", f"the character U+0000 means nothing in a plan: {LENGTH}", None),
    ("⟦" + "x" * 10_001 + "⟧", "this line is longer than 10,000 characters, more than any statement needs", None),
]  # fmt: skip


@pytest.mark.parametrize(("marked", "message", "meant"), MISTAKES, ids=[one[0][:60] for one in MISTAKES])
def test_mistake(marked: str, message: str, meant: str | None) -> None:
    before, place, _ = re.split("[⟦⟧]", marked)
    assert told(re.sub("[⟦⟧]", "", marked)) == [(len(before), place, message, meant)]


def told(text: str) -> list[tuple[int, str, str, str | None]]:
    broken = read(Source("x.trackplan", text)).broken
    return [(one.at.start, text[one.at.start : one.at.end], one.message, one.meant) for one in broken]


MENDED = [one for one in MISTAKES if one[2] is not None]


@pytest.mark.parametrize(("marked", "message", "meant"), MENDED, ids=[one[0][:60] for one in MENDED])
def test_what_was_meant_reads(marked: str, message: str, meant: str) -> None:
    mended = re.sub("⟦.*⟧", meant.replace("\\", r"\\"), marked)
    assert told(mended) == []


def test_every_broken_line_is_told_once_and_the_others_are_read() -> None:
    text = "tunrout T1\ntrain long 2 m\nplan Quarry\n\n  # why\ntrain short 1\n  m # really\nbooster B1 15 5\n"
    reading = read(Source("x.trackplan", text))
    assert [text[one.at.start : one.at.end] for one in reading.broken] == ["tunrout", "Quarry", "15"]
    assert [text[one.at.start : one.at.end] for one in reading.statements] == ["train long 2 m", "train short 1\n  m"]


TERMINALS = {symbol for state in STATES for symbol in state if symbol[0] != "<"} - KEYWORDS - {"->"}


@given(statement_lines(), statement_lines(), st.data())
def test_messages_speak_no_parser_words(one: str, other: str, data: st.DataObject) -> None:
    """A line cut short, and one that goes on as another does, anywhere."""
    cut, on = data.draw(st.integers(0, len(one))), data.draw(st.integers(0, len(other)))
    for text in (one[:cut], one[:cut] + other[on:]):
        for broken in read(Source("x.trackplan", text)).broken:
            assert speaks_plainly(broken), broken
            assert text[broken.at.start : broken.at.end].strip(), broken


def speaks_plainly(broken: Broken) -> bool:
    prose = re.sub(r"`[^`]*`", "", broken.message)
    return not re.search(r"[<>$_{}]|None|" + "|".join(TERMINALS), prose)
