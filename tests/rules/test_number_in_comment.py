"""A number behind `#` at a line's end: told where the statement lacks it and the comment holds nothing else."""

from __future__ import annotations

import pytest

from railbond.inspection import inspect
from trackplan.edit import apply
from trackplan.gather import gather
from trackplan.span import Source

HEAD = "booster B1 15 V 5 A\ndistrict main from B1\nsegment a stop -> stop 1 m\nfeeder main -> a at 1 cm 22 AWG 5 cm\n"


def told(line: str) -> tuple[str, ...]:
    """The line as the mend has it; nothing where no number is missed."""
    text = HEAD + line
    found = [one for one in inspect(gather("p", lambda path: text)).findings if one.rule == "number-in-comment"]
    return tuple(apply(Source("p", text), fix.edits)[len(HEAD) :] for one in found for fix in one.fixes)


@pytest.mark.parametrize(
    ("line", "mended"),
    [
        ("turnout T1 left live-frog #6\n", "turnout T1 left number 6 live-frog #6\n"),
        ("turnout T1 wye dead-frog  #4.5", "turnout T1 wye number 4.5 dead-frog  #4.5"),
        ("slip D1 double isolated-frog #8\n", "slip D1 double number 8 isolated-frog #8\n"),
        ("feeder main -> a #22\n", "feeder main -> a 22 AWG #22\n"),
        ("bus main -> P1 3 m #14\n", "bus main -> P1 3 m 14 AWG #14\n"),
    ],
)
def test_the_number_is_missed(line: str, mended: str) -> None:
    assert told(line) == (mended,)


@pytest.mark.parametrize(
    "line",
    [
        "turnout T1 left number 6 live-frog #6\n", "turnout T1 left live-frog #2 of two\n",
        "turnout T1 left live-frog # 6 of them\n", "segment b stop -> stop 1 m #6\n",
        "feeder main -> a 22 AWG #22\n", "turnout T1 left live-frog\n#6\n", "turnout T1 left live-frog # No. 6\n",
    ],
)  # fmt: skip
def test_a_remark_is_left_alone(line: str) -> None:
    assert told(line) == ()
