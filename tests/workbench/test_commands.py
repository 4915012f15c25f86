"""The extension's own commands, and what it says where something is missing, in the real thing."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from editor.real import FAULTY, MENDED
from workbench.real import Workbench, installed, workbench

SPUR = """booster   B1    15 V  5 A
district  main  from B1  trips 4 A
turnout   T1    left number 6  isolated-frog
segment   lead  stop -> T1.points       1 m
segment   line  T1.through -> stop      1 m
segment   spur  T1.diverging -> stop    1 m
frog      T1    automatic main
feeder    main -> lead
feeder    main -> line
feeder    main -> spur
"""


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workbench]:
    home, folder = installed(), tmp_path_factory.mktemp("plans")
    for name, text in {
        "all": FAULTY, "untidy": FAULTY.replace("  ", " "), "told": FAULTY, "spur": SPUR, "button": FAULTY,
    }.items():  # fmt: skip
        (folder / f"{name}.trackplan").write_text(text)
    with workbench(folder, home, tmp_path_factory.mktemp("user")) as one:
        yield one


def test_all_that_is_plain_is_mended_by_a_command(bench: Workbench) -> None:
    bench.open("all.trackplan")
    bench.status("1 error")
    bench.command("railbond: Mend All That Is Plain")
    bench.status("no faults found")
    bench.save()
    assert bench.text("all.trackplan") == MENDED


def test_a_plan_is_laid_out_by_a_command(bench: Workbench) -> None:
    bench.open("untidy.trackplan")
    bench.status("1 error")
    bench.command("railbond: Tidy This Plan")
    bench.page.wait_for_selector(".tab.active.dirty")
    bench.save()
    assert "segment   line" in bench.text("untidy.trackplan")


def test_the_lesson_of_a_finding_is_opened(bench: Workbench) -> None:
    bench.open("told.trackplan")
    bench.status("1 error")
    bench.to(7)
    bench.command("railbond: Open a Lesson")
    bench.page.wait_for_selector('.editor-group-container.active .view-line:has-text("opposed-at-gap")')
    bench.command("View: Close All Editors")


def test_points_stay_as_they_were_thrown_and_a_text_that_cannot_be_read_keeps_its_picture(bench: Workbench) -> None:
    bench.open("spur.trackplan")
    bench.status("no faults found")
    bench.command("railbond: Show the Railroad")
    bench.panel.locator("#drawing circle.hand").wait_for(state="attached")
    bench.page.click(".editor-group-container:has(.monaco-editor) .view-lines")
    bench.command("railbond: Throw a Turnout")
    bench.page.wait_for_selector('.quick-input-list .monaco-list-row.focused:has-text("T1")')
    bench.page.keyboard.press("Enter")
    html = bench.panel.locator("html")
    bench.until(lambda: "diverging" in (html.get_attribute("data-setting") or ""), "T1 thrown")
    bench.page.keyboard.press("Control+End")
    bench.page.keyboard.type("segment x")
    banner = bench.panel.locator('#banner:has-text("cannot be read")')
    banner.wait_for()
    assert bench.panel.locator("#drawing path.rail[data-p='spur']").count()
    bench.page.keyboard.type(" stop -> stop 1 m\n")
    bench.panel.locator("#drawing path.rail[data-p='x']").first.wait_for(state="attached")
    assert banner.count() == 0
    assert "diverging" in (html.get_attribute("data-setting") or "")
    bench.command("File: Revert File")
    bench.command("View: Close All Editors")


def test_the_picture_has_the_lightbulb_too(bench: Workbench) -> None:
    bench.open("button.trackplan")
    bench.status("1 error")
    bench.page.wait_for_selector(".squiggly-error")
    bench.command("railbond: Show the Railroad")
    bench.panel.locator('button:has-text("Mend")').click()
    bench.page.wait_for_selector(".action-widget .monaco-list-row")
    bench.page.keyboard.press("Enter")
    bench.page.wait_for_selector(".squiggly-error", state="detached")
    bench.status("no faults found")
    bench.save()
    bench.until(lambda: bench.text("button.trackplan") == MENDED, "mended from the picture")
