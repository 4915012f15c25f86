"""A text that is read again after a keystroke reads as one that was never read before."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import settings

from editor.test_recalling import plan, session
from trackplan.read import read
from trackplan.reread import Rereader, shared_end, shared_start
from trackplan.span import Source

SESSIONS = max(1, settings().max_examples // 20)
"""Of each beginning: a few, and a hundred and fifty in the thorough profile."""
EDITS = 40
ODD = (
    "\r\n",
    "\r",
    "construction x\n piece\nend\n",
    "\ufeff",
    "end\n",
    "\n \n",
    "\t",
    "\u2028",
    "\x0b",
    "# c\r",
    "\n\n",
)
LINES = ("x", "x", "# c", " y", "feeder main -> a", "", "segment a  b -> c  1 m", 'include "x"')


def beginning(number: int, dice: Random) -> str:
    """A plan with the line ends of any machine, or a few lines of which many are alike."""
    if number % 3 == 0:
        return "\n".join(dice.choices(LINES, k=dice.randrange(12)))
    return plan(number) if number % 3 == 1 else plan(number).replace("\n", "\r\n")


@pytest.mark.parametrize("number", range(6))
def test_what_is_taken_over_is_what_is_read(number: int) -> None:
    for again in range(SESSIONS):
        dice, rereader = Random(number * 1000 + again), Rereader()
        for text in session(beginning(number, dice), dice, EDITS):
            if dice.random() < 0.3:
                at = dice.randrange(len(text) + 1)
                text = text[:at] + dice.choice(ODD) + text[at:]
            again_read, anew = rereader.read(Source("plan", text)), read(Source("plan", text))
            assert again_read[1:] == anew[1:], repr(text)
            assert all(one is other for one, other in zip(again_read.lines, anew.lines, strict=True))


def test_only_what_is_typed_in_is_read() -> None:
    """The statements above are the same objects, and those below are the same but for their places."""
    lines = [f"segment s{number}  a{number} -> b{number}  1 m\n" for number in range(100)]
    rereader = Rereader()
    before = rereader.read(Source("plan", "".join(lines)))
    lines[50] = "segment s50  a50 -> b50  2 m  # longer\n"
    after = rereader.read(Source("plan", "".join(lines)))
    assert all(one is other for one, other in zip(after.statements[:49], before.statements[:49], strict=True))
    assert all(one is other for one, other in zip(after.lines[51:], before.lines[51:], strict=True))
    assert after.lines[50] is not before.lines[50]


def test_whoever_adds_to_what_was_read_changes_it_for_nobody_else() -> None:
    rereader = Rereader()
    rereader.read(Source("plan", "x\n")).broken.clear()
    assert len(rereader.read(Source("plan", "x\n")).broken) == 1


@pytest.mark.parametrize(
    ("one", "other", "start", "end"),
    [
        ("", "", 0, 0),
        ("abc", "abc", 3, 3),
        ("abc", "axc", 1, 1),
        ("aa", "aaa", 2, 2),
        ("ab", "", 0, 0),
        ("xa", "a", 0, 1),
    ],
)
def test_what_two_texts_share(one: str, other: str, start: int, end: int) -> None:
    assert (shared_start(one, other), shared_end(one, other)) == (start, end)
