"""A drawing on paper: one sheet where its letters stay large enough, else tiles that overlap and leave nothing out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from drawing.samples import LADDER, LEFT, POWER, facts
from oracle.plans import big_yard
from railbond.command import main
from railbond.faces.drawing.course import Point
from railbond.faces.drawing.drawn import Drawn, PaperWindow
from railbond.faces.drawing.picture import PictureChoice, drawing
from railbond.faces.drawing.shapes import Box
from railbond.faces.drawing.sheets import (
    FULL,
    LEAST,
    OVERLAP,
    PAPERS,
    POINT,
    TitleBlock,
    column,
    laid_out,
    sheets,
)
from railbond.faces.drawing.style import SIZES
from railbond.findings import Finding

LONG = POWER + "segment s0 stop -> T1.points 1 m\n" + "".join(
    f"turnout T{n} left number 6 isolated-frog\nsegment spur{n} T{n}.diverging -> stop 1 m\n"
    f"segment s{n} T{n}.through -> {f'T{n + 1}.points' if n < 24 else 'stop'} 1 m\n"
    for n in range(1, 25)
)  # fmt: skip
BLOCK = TitleBlock("2026-05-01", "plan.trackplan (revision 1a2b3c4)")


def drawn(text: str, paper: str) -> Drawn:
    return drawing(facts(text), (), None, PictureChoice("Long line", column=column(PAPERS[paper])))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("text", [LEFT, LADDER, LONG], ids=["small", "ladder", "long"])
def test_no_letter_is_printed_too_small(text: str, paper: str) -> None:
    found = laid_out(drawn(text, paper), PAPERS[paper])
    assert found.scale * min(SIZES.values()) >= LEAST * POINT


@pytest.mark.parametrize("paper", PAPERS)
def test_tiles_hold_everything_and_overlap(paper: str) -> None:
    one = drawn(LONG, paper)
    found = laid_out(one, PAPERS[paper])
    assert len(found.frames) > 1
    west, top, width, height = one.frame
    for box in one.taken():  # the title's is as wide as its column
        x, y = min(max(box.x, west), west + width), min(max(box.y, top), top + height)
        assert any(
            frame.west <= x <= frame.west + frame.width and frame.top <= y <= frame.top + frame.height
            for frame in found.frames
        )
    for here, there in zip(found.frames, found.frames[1:], strict=False):
        if here.top == there.top and there.west < here.west + here.width:
            assert here.west + here.width - there.west >= OVERLAP / FULL - 1


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_no_sheet_shows_only_what_others_show(paper: str) -> None:
    """A broad drawing with a list below that no longer fits: the list comes on one more sheet, and not the drawing
    once more on a whole row of them."""
    plan = facts(big_yard(20))
    lines = [Finding("unfed-rail", "error", "dead rail", one.at, "No wire. " * 40) for one in plan.statements[:9]]
    one = drawing(plan, lines, None, PictureChoice("Yard", column=column(PAPERS[paper])))
    frames = laid_out(one, PAPERS[paper]).frames
    assert len(frames) > 2
    for number, frame in enumerate(frames):
        others = frames[:number] + frames[number + 1 :]
        own = (point for box in one.taken() for point in _points(box) if _holds(frame, point))
        assert any(not any(_holds(other, point) for other in others) for point in own)


def _points(box: Box) -> Iterator[Point]:
    """Points of a box, near one another."""
    west, east, top, low = box.edges
    across, down = (max(int(length / 16), 1) for length in (box.width, box.height))
    for step in range(across + 1):
        for rise in range(down + 1):
            yield west + (east - west) * step / across, top + (low - top) * rise / down


def _holds(frame: PaperWindow, point: Point) -> bool:
    return 0 <= point[0] - frame.west <= frame.width and 0 <= point[1] - frame.top <= frame.height


def test_what_fits_takes_one_sheet_which_may_lie_on_its_side() -> None:
    (sheet,) = sheets(drawn(LEFT, "letter"), BLOCK, PAPERS["letter"])
    assert 'width="279.4mm" height="215.9mm"' in sheet and "sheet 1 of 1" in sheet
    assert "2026-05-01" in sheet and "revision 1a2b3c4" in sheet and ">Long line<" in sheet


def test_each_tile_is_a_file_with_its_number(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "long.trackplan").write_text(LONG)
    out = tmp_path / "long.svg"
    assert main(["draw", str(tmp_path / "long.trackplan"), "--paper", "a4", "-o", str(out)]) == 0
    files = sorted(tmp_path.glob("long-*.svg"))
    assert len(files) > 1 and not out.exists() and f"{len(files)} sheets" in capsys.readouterr().out
    for number, file in enumerate(files, 1):
        assert re.search(rf"sheet {number} of {len(files)}\b", file.read_text())


def test_many_sheets_need_names(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "long.trackplan").write_text(LONG)
    assert main(["draw", str(tmp_path / "long.trackplan"), "--paper", "a4"]) == 2
    assert "-o FILE.svg" in capsys.readouterr().err
