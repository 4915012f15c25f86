"""The page in a real browser: on a phone, a laptop, a beamer and paper; by keyboard and for a screen reader."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from page.browser import SIZES, Tab, browser, violations
from railbond.command import main

EXAMPLE = Path(__file__).parents[2] / "example_plans" / "meet"


@pytest.fixture(scope="module")
def running() -> Iterator[Any]:
    with browser() as one:
        yield one


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of the example meet, and of a plan that belongs to no meet, has a warning, and lies far down in folders
    with long names. It is made where the meet lies, so that it is as long wherever that is."""
    folder = tmp_path_factory.mktemp("page") / "what-the-evening-crew-brought-along" / "on-the-second-saturday-of-may"
    folder.mkdir(parents=True)
    (folder / "spur.trackplan").write_text(
        'plan "<Spur> & more"\nbooster B1 15 V 5 A\ndistrict main from B1\nsegment a stop -> T1.points 1 m\n'
        "turnout T1 left number 6 isolated-frog\nsegment b T1.through -> stop 1 m\nsegment c T1.diverging -> stop 1 m\n"
        "feeder main -> a\n"
    )
    file = folder / "report.html"
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(EXAMPLE.parent)
        assert main(["meet", EXAMPLE.name, str(folder), "--no-cache", "-o", str(file)]) == 1
    return file


@pytest.fixture
def tab(running: Any, report: Path) -> Iterator[Tab]:
    one = Tab(running, report)
    yield one
    one.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", SIZES)
def test_it_is_accessible_at_every_size(running: Any, report: Path, size: str, scheme: str) -> None:
    tab = Tab(running, report, size, scheme)
    assert violations(tab) == []
    assert tab.errors == [] and tab.asked == [report.as_uri()]
    tab.close()


@pytest.mark.parametrize("size", SIZES)
def test_it_never_scrolls_sideways_as_a_whole(running: Any, report: Path, size: str) -> None:
    tab = Tab(running, report, size)
    assert tab.page.evaluate("document.documentElement.scrollWidth") <= SIZES[size][0]
    tab.close()


def test_every_module_is_in_the_table_with_its_state(tab: Tab) -> None:
    rows = [row.inner_text().split("\t") for row in tab.page.locator("tbody tr").all()]
    states = {row[0].strip(): row[1].strip() for row in rows}
    assert states["bridge"] == "1 fault" and states["the meet"] == "2 faults"
    assert states["town"] == states["plain-2"] == "runs"
    assert any("warning" in one for one in states.values()) and len(states) == 10


def test_first_comes_whether_it_runs_and_then_who_does_what(tab: Tab) -> None:
    """Both owners at a cable that two modules share, the module, one sentence, one box."""
    assert tab.page.inner_text("body").split("\n").count("Spring meet") == 1
    assert tab.page.inner_text(".verdict").startswith("It does not run yet: 3 faults to mend at ")
    todo = tab.page.locator(".todo li")
    who = "the Milltown club and the ridge group, plain-2 and junction: "
    assert todo.nth(1).inner_text().startswith(f"{who}Swap the two wires of the bus run to plain-2.plug.")
    assert todo.nth(2).inner_text().startswith("the creek group, bridge: Swap the two wires")
    assert all(one.locator("input[type=checkbox]").count() == 1 for one in todo.all())
    assert tab.page.locator("details[open]").count() == 0
    todo.nth(2).locator("a").click()
    assert tab.page.locator("details[open]").inner_text().index("What to do") < tab.page.locator(
        "details[open]"
    ).inner_text().index("Why:")


def test_the_day_and_each_plans_version_are_told(tab: Tab) -> None:
    assert re.search(r"As of \d{4}-\d{2}-\d{2}", tab.page.inner_text("header"))
    files = [one.inner_text() for one in tab.page.locator("td.file").all()]
    assert all(re.search(r", (revision [0-9a-f]{7,}|written \d{4}-)", one) for one in files), files


def test_on_a_narrow_phone_owner_and_state_are_seen(
    running: Any, report: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(SIZES, "narrow", (360, 740))
    tab = Tab(running, report, "narrow")
    assert violations(tab) == [] and tab.page.evaluate("document.documentElement.scrollWidth") <= 360
    for cell in tab.page.locator("tbody td").all():
        box = cell.bounding_box()
        assert box and box["x"] >= 0 and box["x"] + box["width"] <= 360
    tab.close()


def test_at_1280_the_drawing_is_as_wide_as_it_can_be(running: Any, report: Path, monkeypatch: Any) -> None:
    """Not squeezed into half of the page, where its letters are too small to read."""
    monkeypatch.setitem(SIZES, "desk", (1280, 800))
    tab = Tab(running, report, "desk")
    box, own = tab.page.evaluate(
        "(() => { const one = document.querySelector('.picture svg');"
        " return [one.getBoundingClientRect().width, one.viewBox.baseVal.width]; })()"
    )
    assert box >= min(0.9 * 1280, own)
    tab.close()


def test_at_1280_nothing_is_hidden(running: Any, report: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(SIZES, "desk", (1280, 800))
    tab = Tab(running, report, "desk")
    for one in tab.page.locator(".picture, .wide").all():
        assert one.evaluate("(one) => one.scrollWidth <= one.clientWidth")
    tab.close()


def test_every_finding_has_its_mark_in_the_drawing(tab: Tab) -> None:
    section = tab.page.locator("section[aria-label]").first
    marks = section.locator(".picture .flag .number").all_text_contents()
    heads = section.locator("article h4 span").all_inner_texts()
    assert sorted(marks) == sorted(head.split(".")[0] for head in heads) and len(set(marks)) >= 4


def test_a_finding_shows_its_line_its_reason_and_its_mend(tab: Tab) -> None:
    article = tab.page.locator("article", has_text="looking out of the edge E")
    assert "bridge: short: looking out of the edge E" in article.inner_text()
    article.locator("summary").click()
    text = article.inner_text()
    for words in ("bridge.trackplan:6", "endplate  E  left red", "Why:", "swap the two wires to bank"):
        assert words in text
    assert "+ " in text and "feeder    P1 -> girder  at 40 cm" in text


def test_findings_are_gathered_by_owner(tab: Tab) -> None:
    heads = tab.page.locator("h3").all_inner_texts()
    assert heads[0] == "For the meet" and "For the creek group" in heads and len(set(heads)) == len(heads)


def test_the_filter_works_by_keyboard_and_says_what_it_shows(tab: Tab) -> None:
    page = tab.page
    page.locator("input[name=state]").first.focus()
    for _ in range(4):
        page.keyboard.press("ArrowRight")
        wanted = page.locator("input:checked").get_attribute("value")
        shown = [row for row in page.locator("tbody tr").all() if row.is_visible()]
        states = {row.get_attribute("data-state") for row in shown}
        assert states == ({wanted} if wanted else {"runs", "doubts", "faults"})
        assert page.locator("#shown").inner_text() == f"{len(shown)} plan{'s' if len(shown) > 1 else ''} shown"
    assert tab.errors == []


def test_without_script_everything_is_there(running: Any, report: Path) -> None:
    context = running.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(report.as_uri())
    assert page.locator("tbody tr").count() == 10 and not page.locator("#filter").is_visible()
    context.close()


def test_what_a_plan_says_is_shown_and_not_carried_out(tab: Tab) -> None:
    assert tab.page.locator(".picture", has_text="<Spur> & more").count() == 1
    assert tab.page.locator("spur").count() == 0


def test_on_paper_the_filter_is_gone_and_nothing_is_hidden(tab: Tab) -> None:
    tab.page.locator("input[value=runs]").check()
    tab.page.emulate_media(media="print", color_scheme="dark")
    assert not tab.page.locator("#filter").is_visible()
    assert all(one.is_visible() for one in tab.page.locator("article").all())
    ground = tab.page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert ground == "rgb(252, 251, 248)", "paper is light even where the screen is dark"
    assert not any(one.is_visible() for one in tab.page.locator(".picture").all())
    sheets = tab.page.locator(".sheets svg.sheet")
    assert sheets.count() > 2 and all(one.is_visible() for one in sheets.all())


def test_it_prints_on_a_few_pages(tab: Tab) -> None:
    """A finding may run on over to the next page: none begins one only because it is long."""
    paper = tab.page.pdf(format="A4")
    assert paper.startswith(b"%PDF") and 2 <= paper.count(b"/Type /Page\n") + paper.count(b"/Type /Page/") <= 13


def test_the_drawing_can_be_reached_and_scrolled_by_keyboard(running: Any, report: Path) -> None:
    tab = Tab(running, report, "phone")
    picture = tab.page.locator(".picture").first
    picture.focus()
    assert picture.evaluate("(one) => one === document.activeElement && one.scrollWidth > one.clientWidth")
    for _ in range(5):
        tab.page.keyboard.press("ArrowRight")
    tab.page.wait_for_function("document.querySelector('.picture').scrollLeft > 0", timeout=5000)
    tab.close()


def test_without_jinja_the_command_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import sys

    monkeypatch.setitem(sys.modules, "jinja2", None)
    assert main(["meet", str(EXAMPLE), "--no-cache", "-o", str(tmp_path / "report.html")]) == 2
    assert "pip install '.[page]'" in capsys.readouterr().err
