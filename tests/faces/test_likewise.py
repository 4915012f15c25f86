"""A mend of many lines: what is alike is shown a few times, and --each shows it all."""

from __future__ import annotations

import pytest

from faces.samples import source
from railbond.faces.likewise import SHOWN, Likewise, in_short
from railbond.faces.patch import LineChange
from railbond.faces.text import TextStyle, told
from railbond.findings import Finding, Fix
from trackplan.edit import replace
from trackplan.span import Span


def drop(number: int, old: str = "22 AWG", new: str = "20 AWG") -> LineChange:
    line = f"feeder P1 -> s{number} {{}}"
    return LineChange("plan", number, (line.format(old),), (line.format(new),))


def test_a_few_are_shown_in_full() -> None:
    some = [drop(number) for number in range(1, 2 * SHOWN + 1)]
    assert list(in_short(some)) == some


def test_of_many_the_others_are_told_by_their_lines() -> None:
    many = [drop(number) for number in range(1, 2 * SHOWN + 2)]
    assert list(in_short(many)) == [*many[:SHOWN], Likewise("plan", (4, 5, 6, 7))]


@pytest.mark.parametrize("other", [drop(90, new="18 AWG"), drop(90, old="24 AWG"), drop(90)._replace(path="module")])
def test_another_size_or_file_is_shown(other: LineChange) -> None:
    """Who reads "likewise" does there what was shown."""
    many = [drop(number) for number in range(1, 10)]
    assert list(in_short([*many, other])) == [*many[:SHOWN], Likewise("plan", tuple(range(4, 10))), other]


def test_they_stay_in_their_order() -> None:
    """Also where a number stands twice in a line, as the `20` of `20 AWG 20 cm`."""
    some = [drop(1, "22 AWG 20 cm", "20 AWG 20 cm"), drop(2, "24 AWG"), *(drop(number) for number in range(3, 7))]
    assert list(in_short(some)) == some
    many = [drop(number, *(f"{size} AWG {15 + number % 9} cm" for size in (22, 20))) for number in range(1, 10)]
    assert list(in_short([*many[:2], some[1], *many[2:]])) == [
        *many[:2], some[1], many[2], Likewise("plan", tuple(range(4, 10)))
    ]  # fmt: skip


def test_lines_that_come_or_go_are_shown() -> None:
    come = [LineChange("plan", number, (), (f"cut T{number} around frog",)) for number in range(1, 20)]
    gone = [one._replace(old=one.new, new=()) for one in come]
    assert list(in_short([*come, *gone])) == [*come, *gone]


def test_the_text_says_so_only_where_it_is_to_be_short() -> None:
    text = "".join(f"feeder P1 -> s{number} 22 AWG\n" for number in range(30))
    starts = [at for at in range(len(text)) if text.startswith("22 AWG", at)]
    edits = tuple(replace(Span("plan", at, at + 6), "20 AWG") for at in starts)
    fixes = (Fix("lay 20 AWG", edits),)
    finding = Finding("wire-too-thin", "warning", "heat", edits[0].at, "too thin.", fixes=fixes)
    sources = source(text, "plan")
    whole, short = (told(finding, sources, TextStyle(in_short=one)) for one in (False, True))
    assert whole.count("-> s29 20 AWG") == 1 and "likewise" not in whole
    assert short.count("-> s") == 2 * SHOWN and "-> s29" not in short
    said = " ".join(short.split())
    assert f"and likewise in lines {', '.join(map(str, range(4, 31)))} of" in said and "(--each shows each)" in said
