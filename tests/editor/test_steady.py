"""A steady text says what its file does, row by row, and what was not typed at stays where it was in it."""

from __future__ import annotations

from random import Random

import pytest

from editor.test_recalling import plan, session
from railbond.steady import SteadyFile
from trackplan.read import read
from trackplan.span import Source

LINES = [f"segment s{number}  a{number} -> b{number}  1 m  # of {number}\n" for number in range(100)]


def steady(text: str, before: SteadyFile | None = None) -> SteadyFile:
    return SteadyFile(read(Source("plan", text)), before)


@pytest.mark.parametrize("number", range(12))
def test_it_reads_as_the_file_does(number: int) -> None:
    dice, before = Random(number), None
    for text in session(plan(number), dice, 30):
        text = text.replace("\n", "\r\n") if number % 5 == 4 else text
        if read(Source("plan", text)).broken:
            continue
        now = steady(text, before)
        put, known = now.steady.source.text, now.reading
        assert put.replace(" ", "") == text.replace(" ", "") and len(put) == now.steady.source.size
        source, whole = now.steady.source, Source("plan", put)
        assert ([*source.starts], source.newline) == (whole.starts, whole.newline) and "text" not in vars(source)
        for _ in range(20):
            start = dice.randrange(len(put) + 1)
            end = min(start + dice.choice((0, 1, 30, 900)), len(put))
            assert source.part(start, end) == put[start:end] and source.line_of(start) == whole.line_of(start)
        again = read(whole)
        assert [one[1:] for one in again.statements] == [one[1:] for one in now.steady.statements]
        assert [now.span(one.at) for one in now.steady.statements] == [one.at for one in known.statements]
        rows = [(now.steady.source.line_column(one.at.start)) for one in now.steady.statements]
        assert rows == [known.source.line_column(one.at.start) for one in known.statements]
        before = now


@pytest.mark.parametrize(
    ("at", "line", "changed"),
    [
        (50, "segment s50  a50 -> b50  1.25 m  # of 50\n", 1),
        (50, "segment s50  a50 -> b50  1 m  # of 50, and more words\n", 0),
        (50, "segment s50  a50 -> b50  1 m\n# a row of words\n\n", 0),
        (50, f"{LINES[50]}feeder main -> s50\n", 1),
        (50, "", 0),
        (0, "segment s0  a0 -> b0  12.5 m  # of 0\n", 1),
        (99, f"{LINES[99]}feeder main -> s99", 1),
    ],
)
def test_only_what_is_typed_at_is_another_object(at: int, line: str, changed: int) -> None:
    before = steady("".join(LINES))
    now = steady("".join([*LINES[:at], line, *LINES[at + 1 :]]), before)
    known = set(map(id, before.steady.statements))
    assert sum(id(one) not in known for one in now.steady.statements) == changed


def test_a_line_that_grows_keeps_its_stretch() -> None:
    before, text = steady("".join(LINES)), "".join(LINES)
    for more in range(1, 20):
        now = steady(text.replace("s50  ", f"s50{' ' * more}"), before)
        assert now.steady.statements[50].at == before.steady.statements[50].at
        before = now


def test_where_a_line_finds_no_room_all_are_placed_anew() -> None:
    before = steady("".join(LINES))
    now = steady("".join([*LINES[:50], *("feeder main -> s50 at 10 cm\n" for _ in range(20)), *LINES[50:]]), before)
    known = set(map(id, before.steady.statements))
    assert not any(id(one) in known for one in now.steady.statements)
