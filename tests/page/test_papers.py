"""Schedule and bench sheet in a real browser: one line first, boxes to tick, and on a phone what the meter must do."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from page.browser import SIZES, Tab, browser, violations
from railbond.command import main

PLAN = Path(__file__).parents[2] / "example_plans" / "station_throat.trackplan"


@pytest.fixture(scope="module")
def running() -> Iterator[Any]:
    with browser() as one:
        yield one


def opened(running: Any, folder: Path, command: str, size: str = "narrow") -> Tab:
    file = folder / f"{command}.html"
    assert main([command, str(PLAN), "--as", "page", "-o", str(file)]) == 0
    return Tab(running, file, size)


@pytest.fixture(autouse=True)
def narrow(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(SIZES, "narrow", (360, 740))


@pytest.mark.parametrize("command", ["meter", "schedule"])
@pytest.mark.parametrize("size", ["narrow", "laptop"])
def test_it_is_accessible_and_never_wider_than_its_screen(
    running: Any, tmp_path: Path, command: str, size: str
) -> None:
    tab = opened(running, tmp_path, command, size)
    assert violations(tab) == [] and tab.errors == []
    assert tab.page.evaluate("document.documentElement.scrollWidth") <= SIZES[size][0]
    tab.close()


@pytest.mark.parametrize(
    ("command", "said"),
    [("meter", r"\d+ probes: \d+ must beep, \d+ must be silent\."), ("schedule", r"\d+ jobs to do: .*drops")],
)
def test_one_line_says_how_much_there_is(running: Any, tmp_path: Path, command: str, said: str) -> None:
    tab = opened(running, tmp_path, command)
    verdict = tab.page.inner_text(".verdict")
    assert re.match(said, verdict)
    whole, *parts = map(int, re.findall(r"\d+", verdict))
    assert whole == sum(parts), "what is counted makes up the whole"
    assert re.search(
        r"As of \d{4}-\d\d-\d\d; .*station_throat\.trackplan, (revision|written)", tab.page.inner_text(".at")
    )
    tab.close()


def test_on_a_phone_the_meter_comes_first(running: Any, tmp_path: Path) -> None:
    tab = opened(running, tmp_path, "meter")
    rows = tab.page.locator("main section").first.locator("tbody tr").all()
    assert rows
    for row in rows:
        first = row.locator("td.first")
        assert re.match("must (beep|be SILENT)", first.inner_text())
        tops = [cell.bounding_box()["y"] for cell in row.locator("td:not(.box)").all()]
        assert first.bounding_box()["y"] == min(tops)
    box = rows[0].bounding_box()
    assert box and box["y"] < 740, "the first reading is on the first screen"
    tab.close()


def test_it_shows_where_to_probe(running: Any, tmp_path: Path) -> None:
    """Each rail of special trackwork that a probe touches is named in a small picture, over nothing else."""
    tab = opened(running, tmp_path, "meter", "laptop")
    asked = {cell.inner_text() for cell in tab.page.locator("td.strong").all()}
    named = set(tab.page.locator(".drawn text").all_text_contents())
    assert {"T1.frog", "D.frog-1", "D.frog-2"} <= named and named <= asked
    covered = (Path(__file__).parents[1] / "drawing" / "covered.js").read_text(encoding="utf-8")
    for svg in tab.page.locator(".drawn svg").all():
        assert svg.evaluate(covered) == []
    tops = {round(one.bounding_box()["y"]) for one in tab.page.locator(".drawn").all()}
    assert len(tops) == 1, "side by side, so that all are seen at once"
    tab.close()


def test_the_schedule_shows_where_a_piece_has_the_metals_that_its_jobs_name(running: Any, tmp_path: Path) -> None:
    """In a picture from the piece's own template, for a slip and a three-way as for turnouts."""
    tab = opened(running, tmp_path, "schedule")
    shown = tab.page.locator(".drawn", has_text="Where to find the metals of")
    heads = [one.locator("h2, h3").first.inner_text() for one in shown.all()]
    assert heads == ["Where to find the metals of D", "Where to find the metals of W1"]
    words = [set(one.locator("svg text").all_text_contents()) for one in shown.all()]
    assert words == [{"frog 1", "frog 2"}, {"frog C0", "frog C1", "frog C2"}]
    covered = (Path(__file__).parents[1] / "drawing" / "covered.js").read_text(encoding="utf-8")
    assert all(svg.evaluate(covered) == [] for svg in shown.locator("svg").all())
    tab.close()


def test_on_a_phone_the_names_of_a_turnouts_rails_can_be_read(running: Any, tmp_path: Path) -> None:
    """As large as letters of 8 points; the picture is moved sideways, and on paper it is as wide as the page."""
    tab = opened(running, tmp_path, "schedule")
    words = tab.page.locator(".drawn", has_text="The rails of T1").locator("svg text").first
    high = words.evaluate("one => one.getScreenCTM().a * parseFloat(getComputedStyle(one).fontSize)")
    assert high >= 8 * 96 / 72
    tab.page.emulate_media(media="print")
    box = tab.page.locator(".drawn", has_text="The rails of T1").locator("svg").bounding_box()
    assert box and box["x"] + box["width"] <= 360
    tab.close()


def test_on_paper_nothing_is_folded(running: Any, tmp_path: Path) -> None:
    tab = opened(running, tmp_path, "meter")
    assert tab.page.locator("details:not([open])").count() == 2
    tab.page.emulate_media(media="print")
    tab.page.wait_for_function("!document.querySelector('details:not([open])')")
    tab.close()
