"""The page that answers, in a real browser: it must say of every rail what Python says, and be usable by anybody."""

from __future__ import annotations

import json
import os
import random
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from page.browser import SIZES, Tab, browser, violations
from railbond.command import main
from railbond.doorway import Opened, enter
from railbond.faces.drawing.ink import inks
from railbond.faces.live.page import railroad

EXAMPLES = Path(__file__).parents[2] / "example_plans"
THOROUGH = os.environ.get("HYPOTHESIS_PROFILE") == "thorough"
PLANS = sorted(EXAMPLES.rglob("*.trackplan") if THOROUGH else EXAMPLES.glob("*.trackplan"))
SETTINGS = 300 if THOROUGH else 20
FAULTY = EXAMPLES / "faulty" / "frog-wired-backwards.trackplan"

THROW = """(setting) => {
  for (const [name, position] of Object.entries(setting)) {
    const row = [...document.querySelectorAll("[data-switch]")].find((one) => one.dataset.switch === name);
    [...row.querySelectorAll("input")].find((one) => one.value === position).click();
  }
}"""
"""Sets each turnout by the choice that the page has for it."""
VIEW = """() => {
  const root = document.querySelector("#drawing"), svg = root.querySelector("svg");
  return [root.scrollLeft, root.scrollTop, svg.getAttribute("width") / svg.viewBox.baseVal.width];
}"""
"""Which part of the drawing is seen, and how large."""


@pytest.fixture(scope="module")
def running() -> Iterator[Any]:
    with browser() as one:
        yield one


def made(plan: Path, folder: Path, *more: str) -> Path:
    file = folder / f"{plan.stem}.html"
    assert main(["draw", str(plan), "-o", str(file), *more]) == 0
    return file


def opened(plan: Path) -> Opened:
    return enter(str(plan), lambda path: Path(path).read_text(encoding="utf-8"))


@pytest.fixture
def faulty(running: Any, tmp_path: Path) -> Iterator[Tab]:
    tab = Tab(running, made(FAULTY, tmp_path))
    yield tab
    tab.close()


def shown(tab: Tab) -> dict[int, set[str]]:
    """The inks of each conductor as the browser has them."""
    found = tab.page.evaluate(
        "[...document.querySelectorAll('#drawing path[data-c]:not([data-core])')]"
        ".map((one) => [Number(one.dataset.c), one.getAttribute('class')])"
    )
    rails: dict[int, set[str]] = {}
    for conductor, kind in found:
        rails.setdefault(conductor, set()).add(kind.split()[-1])
    return rails


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.stem)
def test_every_rail_is_as_python_says_in_random_settings(running: Any, tmp_path: Path, plan: Path) -> None:
    facts = opened(plan).facts
    rng = random.Random(plan.stem)
    tab = Tab(running, made(plan, tmp_path))
    for _ in range(SETTINGS):
        setting = {name: rng.choice(each) for name, each in facts.graph.positions.items()}
        tab.page.evaluate(THROW, setting)
        said = inks(facts, setting)
        assert all(found == {said[conductor]} for conductor, found in shown(tab).items()), setting
    assert not tab.errors
    tab.close()


def test_every_mark_of_the_drawing_is_told_and_no_other(running: Any, tmp_path: Path) -> None:
    """Letters that join rows above all: nobody knows them who has not been told."""
    folded = tmp_path / "long.trackplan"
    folded.write_text("booster B1 15 V 5 A\ndistrict main from B1\n" + "".join(
        f"segment m{n} {f'T{n - 1}.through' if n else 'stop'} -> T{n}.points 2 m\nturnout T{n} left dead-frog\n"
        f"segment spur{n} T{n}.diverging -> stop 1 m\n" for n in range(40)
    ) + "segment last T39.through -> stop 1 m\n", encoding="utf-8")  # fmt: skip
    for plan, marks in ((folded, {"plastic", "buffer", "fold"}), (FAULTY, {"cut", "supply", "frog-feed", "buffer"})):
        tab = Tab(running, made(plan, tmp_path))
        told = tab.page.locator("#keys li:visible")
        assert {one.get_attribute("data-mark") for one in told.all()} == marks
        assert not tab.errors
        tab.close()


def test_points_are_thrown_by_a_click_in_the_drawing_and_by_keyboard(faulty: Tab) -> None:
    setting = "JSON.parse(document.documentElement.dataset.setting)"
    name = next(iter(faulty.page.evaluate(setting)))
    before = faulty.page.evaluate(setting)[name]
    faulty.page.locator(".hand").first.click()
    after = faulty.page.evaluate(setting)[name]
    assert after != before
    faulty.page.locator(".hand").first.focus()
    faulty.page.keyboard.press("Enter")
    assert faulty.page.evaluate(setting)[name] == before


def test_a_finding_sets_its_points_and_is_walked_on_the_rails(faulty: Tab) -> None:
    (finding,) = opened(FAULTY).inspection.findings
    faulty.page.locator("[data-switch='T1'] input").last.check()
    faulty.page.locator(".finding").focus()
    faulty.page.keyboard.press("Enter")
    setting = faulty.page.evaluate("JSON.parse(document.documentElement.dataset.setting)")
    assert "T1 straight" in finding.setting and setting["T1"] == "through"
    told = []
    for step in finding.why:
        told.append(faulty.page.inner_text("#step"))
        assert step.text in told[-1]
        assert faulty.page.locator("#drawing path.walked").count() > 0
        faulty.page.locator("#next").click()
    assert finding.message in faulty.page.inner_text("#step")
    assert len(set(told)) == len(finding.why)
    faulty.page.locator("#leave").click()
    assert faulty.page.locator("#drawing path.walked").count() == 0


def test_a_rail_says_what_feeds_it_through_which_lines(faulty: Tab) -> None:
    faulty.page.locator("#drawing path.rail[data-p='west']").first.click(force=True)
    said = faulty.page.inner_text("#rail")
    lines = FAULTY.read_text().split("\n")
    number = next(n for n, line in enumerate(lines, 1) if line.startswith("feeder") and "west" in line)
    told = re.search(r"through lines? ([\d, and]+)\.", said)
    assert "west's" in said and "carries main." in said and told and str(number) in re.findall(r"\d+", told[1])


def test_a_train_stops_where_points_are_against_it_and_shorts_where_the_frog_is_wrong(faulty: Tab) -> None:
    faulty.page.select_option("#from", "west")
    faulty.page.locator("#put").click()
    said = set()
    for _ in range(40):
        faulty.page.keyboard.press("PageUp")
        said.add(faulty.page.inner_text("#cab"))
    assert any("Short" in one for one in said) and any("Runs." in one for one in said)
    assert any("The end of the track." in one for one in said)
    faulty.page.locator("#turn").click()
    assert faulty.page.locator("#drawing .train").count() > 3


def test_a_reverser_turns_under_a_train(running: Any, tmp_path: Path) -> None:
    tab = Tab(running, made(EXAMPLES / "balloon_loop.trackplan", tmp_path))
    tab.page.locator("#put").click()
    said = set()
    for _ in range(20):
        tab.page.locator("#drive").focus()
        tab.page.keyboard.press("PageUp")
        said.add(tab.page.inner_text("#cab"))
        if "needs T1 diverging" in tab.page.inner_text("#cab"):
            tab.page.locator("[data-switch='T1'] input[value='diverging']").check()
    assert any("turns its polarity" in one for one in said), said
    assert not any("Short" in one for one in said)
    tab.close()


def test_what_is_searched_is_marked(faulty: Tab) -> None:
    faulty.page.fill("#search", "T1")
    faulty.page.keyboard.press("Enter")
    assert faulty.page.locator("#drawing path.chosen").count() > 0
    assert faulty.page.locator("#drawing .found").count() == 1
    faulty.page.fill("#search", "nobody")
    faulty.page.keyboard.press("Enter")
    assert "Nothing here is called nobody" in faulty.page.inner_text("#rail")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", ["narrow", *SIZES])
def test_it_is_accessible_at_every_size(
    running: Any, tmp_path: Path, size: str, scheme: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(SIZES, "narrow", (360, 740))
    file = made(FAULTY, tmp_path)
    tab = Tab(running, file, size, scheme)
    tab.page.locator(".finding").click()
    assert violations(tab) == []
    assert tab.page.evaluate("document.documentElement.scrollWidth") <= SIZES[size][0]
    assert tab.asked == [file.as_uri()]
    tab.close()


def test_it_lets_in_nothing_and_reaches_nothing(running: Any, tmp_path: Path) -> None:
    plan, title = tmp_path / "plan.trackplan", "</script><script>alert(1)</script>"
    plan.write_text(f'plan "{title}"\nsegment a stop -> stop 1 m # <img src=x onerror=alert(1)>\n')
    tab = Tab(running, made(plan, tmp_path))
    assert tab.page.inner_text("h1") == title
    tab.page.evaluate("fetch('https://nowhere.example/').catch(() => undefined)")
    assert any("Content Security Policy" in one for one in tab.errors)
    assert tab.page.evaluate("document.scripts.length") == 2
    tab.close()


def test_it_begins_with_the_points_as_asked(running: Any, tmp_path: Path) -> None:
    tab = Tab(running, made(FAULTY, tmp_path, "--setting", "T1 diverging"))
    assert json.loads(tab.page.evaluate("document.documentElement.dataset.setting"))["T1"] == "diverging"
    tab.close()


def test_a_reader_stays_where_he_looks_while_the_plan_is_typed(running: Any, tmp_path: Path) -> None:
    """News of the plan neither make the drawing another size nor lead away from the place that is looked at."""
    plan = EXAMPLES / "station_throat.trackplan"
    tab = Tab(running, made(plan, tmp_path))
    for _ in range(3):
        tab.page.click("#larger")
    tab.page.evaluate("document.querySelector('#drawing').scrollTo(180, 40)")
    before = tab.page.evaluate(VIEW)
    assert before[0] == 180
    typed = plan.read_text(encoding="utf-8") + "segment typed stop -> stop 1 m\n"
    now = enter(str(plan), lambda _: typed)
    news = {"railbond": "shown", "shown": railroad(now.facts, now.placed)}
    tab.page.evaluate("(news) => window.postMessage(news, '*')", news)
    tab.page.wait_for_selector("#drawing path[data-p='typed']", state="attached")
    assert tab.page.evaluate(VIEW) == pytest.approx(before, rel=0.01)
    tab.close()


def test_a_wide_drawing_is_shown_so_that_its_names_are_read_and_whole_when_asked(running: Any, tmp_path: Path) -> None:
    tab = Tab(running, made(EXAMPLES / "meet" / "spring_meet.trackplan", tmp_path))
    size = "document.querySelector('#drawing svg').getBoundingClientRect().width"
    room = tab.page.locator("#drawing").bounding_box()["width"]
    wide = tab.page.evaluate("document.querySelector('#drawing svg').viewBox.baseVal.width")
    assert tab.page.evaluate(size) == pytest.approx(0.75 * wide, rel=0.01) and 0.5 * wide > room
    tab.page.locator("#fit").click()
    assert tab.page.evaluate(size) <= room
    tab.close()


def test_on_a_phone_a_step_is_read_beside_what_it_marks(
    running: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody scrolls to and fro between the step and the rails."""
    monkeypatch.setitem(SIZES, "narrow", (360, 740))
    tab = Tab(running, made(FAULTY, tmp_path), "narrow")
    tab.page.locator(".finding").click()
    tab.page.locator("#next").click()
    for shown in ("#drawing path.walked >> nth=0", "#step", "#next"):
        box = tab.page.locator(shown).bounding_box()
        assert box["y"] >= 0 and box["y"] + box["height"] <= 740, shown
    tab.close()
