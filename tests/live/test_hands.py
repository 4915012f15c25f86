"""The page by keyboard alone, and a train by hand: dragged, over gaps and dead metal."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from page.browser import Tab, browser
from railbond.command import main

EXAMPLES = Path(__file__).parents[2] / "example_plans"
FAULTY = EXAMPLES / "faulty"


@pytest.fixture(scope="module")
def running() -> Iterator[Any]:
    with browser() as one:
        yield one


def opened(running: Any, plan: Path, folder: Path) -> Tab:
    file = folder / f"{plan.stem}.html"
    assert main(["draw", str(plan), "-o", str(file)]) == 0
    return Tab(running, file)


def tab_to(tab: Tab, selector: str) -> None:
    """Presses Tab until what is asked for has the focus."""
    for _ in range(120):
        tab.page.keyboard.press("Tab")
        if tab.page.evaluate("(one) => document.activeElement.matches(one)", selector):
            return
    pytest.fail(f"{selector} is never reached by Tab")


def test_everything_is_done_by_keyboard_alone(running: Any, tmp_path: Path) -> None:
    tab = opened(running, FAULTY / "frog-wired-backwards.trackplan", tmp_path)
    setting = "document.documentElement.dataset.setting"
    tab_to(tab, "#search")
    tab.page.keyboard.type("T1")
    tab.page.keyboard.press("Enter")
    assert tab.page.locator("#drawing .found").count() == 1
    tab_to(tab, ".hand")
    before = tab.page.evaluate(setting)
    tab.page.keyboard.press("Enter")
    assert tab.page.evaluate(setting) != before
    tab_to(tab, ".finding")
    tab.page.keyboard.press("Enter")
    first = tab.page.inner_text("#step")
    tab_to(tab, "#next")
    tab.page.keyboard.press("Enter")
    assert tab.page.inner_text("#step") != first and tab.page.locator("path.walked").count() > 0
    tab_to(tab, "[data-switch='T1'] input")
    before = json.loads(tab.page.evaluate(setting))["T1"]
    tab.page.keyboard.press("ArrowRight")
    assert json.loads(tab.page.evaluate(setting))["T1"] != before
    tab_to(tab, "#put")
    tab.page.keyboard.press("Enter")
    said = tab.page.inner_text("#cab")
    for _ in range(9):
        tab.page.keyboard.press("PageUp")
    assert said and tab.page.inner_text("#cab") != said
    tab.close()


def test_a_rail_is_chosen_by_keyboard_by_its_name(running: Any, tmp_path: Path) -> None:
    """What a mouse points at can be asked for by name."""
    tab = opened(running, EXAMPLES / "passing_siding.trackplan", tmp_path)
    tab_to(tab, "#search")
    tab.page.keyboard.type("west")
    tab.page.keyboard.press("Enter")
    said = tab.page.inner_text("#rail")
    assert "west's left rail carries main." in said and "west's right rail carries main." in said
    assert "through lines 7 and 27." in said
    tab.close()


def test_an_engine_stalls_on_a_dead_frog(running: Any, tmp_path: Path) -> None:
    """The plan of the rule: its switcher is shorter than the frog of M1."""
    tab = opened(running, FAULTY / "stalls.trackplan", tmp_path)
    tab.page.select_option("#train", label="dock-switcher")
    tab.page.select_option("#from", "junction")
    tab.page.locator("#put").click()
    said = set()
    for _ in range(140):
        tab.page.keyboard.press("ArrowRight")
        said.add(tab.page.inner_text("#cab"))
    assert any("Stalls" in one for one in said) and any("Runs." in one for one in said), said
    tab.close()


def test_a_train_is_dragged(running: Any, tmp_path: Path) -> None:
    tab = opened(running, EXAMPLES / "passing_siding.trackplan", tmp_path)
    tab.page.locator("#put").click()
    before = tab.page.locator("#drawing .train.nose").bounding_box()
    slider = tab.page.locator("#drive")
    slider.scroll_into_view_if_needed()
    box = slider.bounding_box()
    tab.page.mouse.move(box["x"] + 8, box["y"] + box["height"] / 2)
    tab.page.mouse.down()
    tab.page.mouse.move(box["x"] + box["width"] * 0.3, box["y"] + box["height"] / 2, steps=12)
    tab.page.mouse.up()
    tab.page.locator("#drawing .train.nose").scroll_into_view_if_needed()
    after = tab.page.locator("#drawing .train.nose").bounding_box()
    assert abs(after["x"] - before["x"]) + abs(after["y"] - before["y"]) > 20
    tab.close()


def nose(tab: Tab) -> tuple[float, float]:
    box = tab.page.locator("#drawing .train.nose").bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_a_train_is_dragged_along_the_track_by_its_nose(running: Any, tmp_path: Path) -> None:
    """Through the balloon loop, whose reverser turns; it keeps to the rails however the pointer strays. Points below
    it are thrown by a click still."""
    tab = opened(running, EXAMPLES / "balloon_loop.trackplan", tmp_path)
    tab.page.locator("#put").click()
    x, y = nose(tab)
    tab.page.mouse.move(x, y)
    tab.page.mouse.down()
    tab.page.mouse.move(x + 300, y + 20, steps=10)
    there = nose(tab)
    assert abs(there[0] - x - 300) < 8 and abs(there[1] - y) < 2
    tab.page.mouse.move(x + 100, y, steps=10)
    back = nose(tab)
    assert abs(back[0] - x - 100) < 8 and "Runs." in tab.page.inner_text("#cab")
    tab.page.mouse.up()
    tab.page.mouse.move(x + 400, y)
    assert nose(tab) == back
    before = tab.page.evaluate("document.documentElement.dataset.setting")
    tab.page.locator(".hand").first.click()
    assert tab.page.evaluate("document.documentElement.dataset.setting") != before
    tab.close()


def test_wheels_bridge_a_gap_between_opposed_legs(running: Any, tmp_path: Path) -> None:
    """Both sides of the gap are sound by themselves: only the train that bridges it is a short."""
    tab = opened(running, FAULTY / "opposed-at-gap.trackplan", tmp_path)
    assert tab.page.locator("#drawing .rail.short").count() == 0
    tab.page.locator("#put").click()
    said = set()
    for _ in range(40):
        tab.page.keyboard.press("PageUp")
        said.add(tab.page.inner_text("#cab"))
    assert any("Short" in one for one in said) and any("Runs." in one for one in said), said
    tab.close()


def test_it_prints_on_sheets_as_it_stands(running: Any, tmp_path: Path) -> None:
    """The sheets show the drawing with its points as they are, its train and its title block."""
    tab = opened(running, EXAMPLES / "passing_siding.trackplan", tmp_path)
    tab.page.locator("#put").click()
    tab.page.emulate_media(media="print")
    sheet = tab.page.locator(".sheets svg.sheet").first
    assert sheet.is_visible() and not tab.page.locator("#drawing").is_visible()
    assert "sheet 1 of 1" in sheet.text_content()
    assert tab.page.locator("#track .train.nose").count() == 1
    dark = "(one) => new Promise((done) => done(one.querySelector('use').getBBox().width))"
    assert sheet.evaluate(dark) > 300
    tab.close()
