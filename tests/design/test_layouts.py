"""Bare and half wired plans as people write them, and what a wirer thinks of the wiring that they get.

Beside each plan in `layouts` lies the plan wired; `RAILBOND_WRITE=1 pytest tests/design/test_layouts.py` writes these
anew: read them, as one who is to solder that, before you commit them.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from random import Random

import pytest

from design.test_wiring import opener, wired
from railbond.inspection import inspect
from trackplan.gather import gather

LAYOUTS = sorted((Path(__file__).parent / "layouts").glob("*.trackplan"))
BUS_SIZES = {"14 AWG", "12 AWG", "2.5 mm2", "4 mm2"}
DROP_SIZES = {"22 AWG", "20 AWG", "18 AWG", "0.5 mm2", "0.75 mm2", "1 mm2"}
"""What is usual under a home layout (common practice)."""
LONGEST_DROP = 1.0
LINES = 60 if os.environ.get("HYPOTHESIS_PROFILE") == "thorough" else 6
layouts = pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)


def sure(text: str, path: Path) -> list[str]:
    """What is found in a plan, notes too."""
    found = inspect(gather(str(path), opener(str(path), text))).findings
    return sorted(f"{one.rule} {one.names}" for one in found)


@layouts
def test_a_layout_is_wired_as_it_is_written_down(path: Path) -> None:
    plan = wired(str(path), path.read_text())
    written = path.with_suffix(".wired")
    if os.environ.get("RAILBOND_WRITE"):
        written.write_text(plan.text)
    assert not plan.left
    assert plan.text == written.read_text()


@layouts
def test_a_layout_that_is_wired_stays_as_it_is_and_needs_each_of_its_lines(path: Path) -> None:
    """Taken out one by one: some of them, or all in the thorough profile."""
    text = path.with_suffix(".wired").read_text()
    assert not wired(str(path), text).lines
    own, before = path.read_text().splitlines(), sure(text, path)
    lines = text.splitlines(keepends=True)
    new = [number for number, line in enumerate(lines) if line.split() and line[0] != "#" and line.rstrip() not in own]
    new = [number for number in new if not lines[number].startswith("bus  plug")]  # without it, P1 itself is the plug
    for number in sorted(Random(7).sample(new, min(LINES, len(new)))):
        assert sure("".join(lines[:number] + lines[number + 1 :]), path) != before, lines[number]


@layouts
def test_terminals_are_numbered_along_the_track_and_wires_are_what_is_sold_for_it(path: Path) -> None:
    own = path.read_text().splitlines()
    new = [line for line in path.with_suffix(".wired").read_text().splitlines() if line not in own]
    feeders = [line.split() for line in new if line.startswith("feeder")]
    runs = {words[3]: words for words in (line.split() for line in new) if words and words[0] == "bus"}
    order = [line.split()[1] for line in own if line.startswith("segment")]
    fed = sorted(((order.index(words[3]), words[1]) for words in feeders if words[3] in order), key=lambda one: one[0])
    numbers = [int(name[1:]) for name in dict.fromkeys(name for _, name in fed) if name in runs]
    assert numbers == sorted(numbers)
    for words in runs.values():
        assert re.search("|".join(BUS_SIZES), " ".join(words)) or "limit" in path.read_text()
    for words in feeders:
        size, *long = re.findall(r"[\d.]+ (?:AWG|mm2|cm|m|in)\b", " ".join(words).partition(" at ")[2])[-2:] or [""]
        assert not long or (size in DROP_SIZES and meters(long[0]) <= LONGEST_DROP), " ".join(words)


def meters(text: str) -> float:
    number, unit = text.split()
    return float(number) * {"m": 1.0, "cm": 0.01, "in": 0.0254}[unit]
