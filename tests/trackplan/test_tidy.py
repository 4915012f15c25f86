"""The layout of a plan's text."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis.strategies import text

from plan_texts import plans
from trackplan import tidy as tidying
from trackplan.comments import QUOTED_OR_COMMENT, comment_lines, without_comments, without_last_comments
from trackplan.read import read
from trackplan.span import Source
from trackplan.tidy import TidyError, tidy

LAID_OUT = """\
plan      "Quarry Junction"
scale     HO

# power
booster   B1          15 V  5 A
district  main        from B1  trips 4 A  legs red black
bus       main -> P1  3 m  14 AWG
bus       P1 -> P2    2 m  14 AWG

# track: the arrow is the looking direction, so left and right are read along it
segment   west    W -> T1.points            90 cm
turnout   T1      left   number 6  isolated-frog
segment   middle  T1.through -> T2.through  2.4 m
turnout   T2      right            live-frog
endplate  W       left black

# cuts, bonds and frogs
gap       T2.diverging            frog rail
gap       siding        at 20 cm  both rails
bond      T2  closure rails to stock rails
cut       T2  closure jumpers
frog      T1  switched   through P1.red  diverging P1.black
frog      T2  automatic  P2
frog      T3  switched   from stock rails

feeder    P1 -> west  at 20 cm  22 AWG  20 cm  # by the door
feeder    P2 -> east            22 AWG  20 cm
feeder    P2 -> spur                           # under the shelf
                                               # where it is dark

engine    switcher  left 0 31 62 mm  right 0 31 62 mm  0.4 A
train     longest   2.4 m
limit     feeder-spacing  2 m
accept    feeders-too-far-apart  at siding  because "its  joiners"
"""


def laid_out(text: str) -> str:
    return tidy(Source("x.trackplan", text))


def squeezed(text: str) -> str:
    """A text with one blank for each run of them, outside quotes and at a line's start."""
    lines = []
    for line in text.split("\n"):
        bare = line.lstrip()
        parts = bare.split('"')
        parts[::2] = [" ".join(part.split(" ")) if " " not in part.strip() else joined(part) for part in parts[::2]]
        lines.append(line[: len(line) - len(bare)] + '"'.join(parts))
    return "\n".join(lines)


def joined(text: str) -> str:
    while "  " in text:
        text = text.replace("  ", " ")
    return text


def test_what_is_laid_out_stays() -> None:
    assert laid_out(LAID_OUT) == LAID_OUT


def test_squeezed_text_comes_back() -> None:
    assert squeezed(LAID_OUT) != LAID_OUT
    assert laid_out(squeezed(LAID_OUT)) == LAID_OUT


@pytest.mark.parametrize(
    ("text", "new"),
    [
        ("", ""),
        ("\n\n", ""),
        ("  \n\nscale   HO\n\n \n\nscale  N\n\n\n", "scale  HO\n\nscale  N\n"),
        ("scale HO", "scale  HO"),
        (
            "construction C\n rail  a b\n  positions x   y\n      z # last\nend\n",
            "construction  C\n              rail       a b\n              positions  x y\n                         z"
            "  # last\nend\n",
        ),
        ("# one\r scale HO", "# one\r scale HO"),
        ("\n\n\ufeff", "\n\ufeff"),
        ("\n segment \n \r segment", " segment \n\r segment"),
        ("\n segment \r \n segment", " segment \r \n segment"),
        ("scale\tHO\r\ntrain  a   1m\r\n", "scale  HO\r\ntrain  a  1m\r\n"),
        ("\ufeffscale    HO\n", "\ufeffscale  HO\n"),
        ("bus a->b 1 m", "bus  a -> b  1 m"),
        ("gap a left\u00a0 rail", "gap  a  left rail"),
        ('plan "a  #  b" # c  d  ', 'plan  "a  #  b"  # c  d'),
        ("train a\n 1 m\n      metal-wheels   30 cm", "train  a\n       1 m\n       metal-wheels 30 cm"),
        ("train a\n\n  # why\n 1 m", "train  a\n\n  # why\n       1 m"),
        ("tunrout   T1  \ntrain   a   1 m", "tunrout   T1  \ntrain  a  1 m"),
        ("#  note  \nscale   HO\n   #  note", "#  note\nscale  HO\n   #  note"),
        ("bus a -> b 3 m\nbus long -> b 10 m 14 AWG", "bus  a -> b     3 m\nbus  long -> b  10 m  14 AWG"),
    ],
)
def test_layout(text: str, new: str) -> None:
    assert laid_out(text) == new


@given(plans())
def test_layout_changes_nothing_but_blanks(text: str) -> None:
    new = laid_out(text)
    assert laid_out(new) == new
    assert "".join(new.split()) == "".join(text.split())
    before, after = read(Source("x", text)), read(Source("x", new))
    assert [(type(one), one[1:]) for one in after.statements] == [(type(one), one[1:]) for one in before.statements]
    assert comments(new) == comments(text)
    assert "\n\n\n" not in new.replace("\r\n", "\n")


def comments(text: str) -> list[str]:
    return [one.rstrip() for one in QUOTED_OR_COMMENT.findall(text) if one[0] == "#"]


@pytest.mark.parametrize("damage", [lambda text: text + "x", lambda text: text.replace("1", "2"), lambda text: ""])
def test_a_layout_that_would_say_something_else_is_refused(damage: object, monkeypatch: pytest.MonkeyPatch) -> None:
    right = tidying.lay_out
    monkeypatch.setattr(tidying, "lay_out", lambda source: damage(right(source)))  # type: ignore[operator]
    with pytest.raises(TidyError):
        laid_out("train a 1 m # note")


@pytest.mark.parametrize("typed", ['plan"Slate mine"\n', 'plan   "Slate mine"\n'])
def test_a_text_right_behind_its_keyword_is_set_apart(typed: str) -> None:
    assert tidy(Source("p", typed)) == 'plan  "Slate mine"\n'


@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_comment_lines_in_a_row_are_one_piece_of_work(newline: str) -> None:
    """Blanks behind them go, each line ends as it did, and a thousand of them are one row."""
    text = "".join(f"{line}{newline}" for line in ["# above", *["  # word  \t"] * 1000, "segment a stop -> stop  1 m"])
    assert len(list(tidying.rows_of(read(Source("plan", text)), ""))) == 2
    assert laid_out(text).split(newline) == ["# above", *["  # word"] * 1000, "segment  a  stop -> stop  1 m", ""]


def test_a_comment_below_one_beside_a_line_stays_below_it() -> None:
    text = "segment a stop -> stop 1 m  # one\n   # two\n# three\n   # four\n"
    new = "segment  a  stop -> stop  1 m  # one\n                               # two\n# three\n   # four\n"
    assert laid_out(text) == new


@given(text('a"# \n\r\x0c\x85'))
def test_comments_are_taken_out_character_by_character(line: str) -> None:
    found = QUOTED_OR_COMMENT.sub(lambda one: one[0] if one[0][0] == '"' else " " * len(one[0]), line)
    assert without_comments(line) == found.rstrip()


@given(text('a"# \n\x0c\x85'))
def test_only_lines_of_nothing_but_a_comment_go_at_the_end(lines: str) -> None:
    kept = without_last_comments(lines)
    left = lines[len(kept) :].split("\n")
    assert lines.startswith(kept) and without_comments(kept) == without_comments(lines)
    assert not left[0] or not kept
    assert all(not line.strip() or line.lstrip().startswith("#") for line in left)


@given(text("a# \n\r\t\x0c\x1c\x85"))
def test_blanks_behind_comment_lines_go_line_by_line(lines: str) -> None:
    found, end, _ = comment_lines(lines, 0)
    parts = re.split(r"(\r\n|\r|\n)", lines[:end])
    assert found == "".join(part if part in ("\r\n", "\r", "\n") else part.rstrip() for part in parts)
