"""A club's settings: found upwards, obeyed by command, gate and editor alike, and told where they cannot be."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from railbond.command import main
from railbond.editor.store import PlanStore
from railbond.editor.texts import Buffer
from railbond.settings import settings_of
from trackplan.span import Source

PLAN = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> stop  5 m  code 83 nickel-silver
feeder   main -> line  at 10 cm  22 AWG  20 cm
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "club" / "plans").mkdir(parents=True)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.chdir(tmp_path / "club")
    Path("plans/yard.trackplan").write_text(PLAN)
    return tmp_path / "club"


def told(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    status = main([*words] or ["inspect", "plans/yard.trackplan"])
    return status, "".join(capsys.readouterr())


def settle(text: str, at: str = "railbond.toml") -> None:
    Path(at).write_text(text)


def test_a_limit_for_all_plans(capsys: pytest.CaptureFixture[str]) -> None:
    before = told(capsys)
    assert "feeders-too-far-apart" in before[1]
    settle('[limits]\nfeeder-spacing = "10 m"\n')
    assert "(rule feeders-too-far-apart)" not in told(capsys)[1]
    Path("plans/yard.trackplan").write_text(PLAN + "limit feeder-spacing 1 m\n")
    assert "(rule feeders-too-far-apart)" in told(capsys)[1], "a plan's own goes first"


def test_the_level_of_a_rule_and_the_level_that_fails(capsys: pytest.CaptureFixture[str]) -> None:
    settle('[rules]\nfeeders-too-far-apart = "error"\n')
    status, text = told(capsys)
    assert status == 1 and "error: dead rail" in text or "error: " in text
    settle('fail-at = "error"\n[rules]\nfeeders-too-far-apart = "warning"\n')
    status, text = told(capsys)
    assert status == 0 and "warning: " in text
    assert told(capsys, "inspect", "plans/yard.trackplan", "--fail-at", "warning")[0] == 1, "the call goes first"
    settle('fail-at = "note"\n')
    assert told(capsys)[0] == 1
    settle('[rules]\nfeeders-too-far-apart = "off"\n')
    assert "(rule feeders-too-far-apart)" not in told(capsys)[1]


@pytest.mark.parametrize("words", [["meet"], ["meet", "--no-cache"], ["inspect", "--as", "sarif"], ["mend", "--show"]])
def test_other_commands_obey(capsys: pytest.CaptureFixture[str], words: list[str]) -> None:
    settle('[rules]\nfeeders-too-far-apart = "error"\n')
    first = told(capsys, *words, "plans/yard.trackplan")
    settle('[rules]\nfeeders-too-far-apart = "off"\n')
    second = told(capsys, *words, "plans/yard.trackplan")
    assert first != second and first[0] == 1 and second[0] == 0
    assert (first[1] == "") is (words == ["mend", "--show"]) or "feeder" in first[1]


def test_a_table_of_pyproject_counts_and_the_nearest_file_does(capsys: pytest.CaptureFixture[str]) -> None:
    settle('[project]\nname = "club"\n', "pyproject.toml")
    assert "(rule feeders-too-far-apart)" in told(capsys)[1]
    settle('[tool.railbond.limits]\nfeeder-spacing = "10 m"\n', "pyproject.toml")
    assert "(rule feeders-too-far-apart)" not in told(capsys)[1]
    settle("", "plans/railbond.toml")
    assert "(rule feeders-too-far-apart)" in told(capsys)[1]


@pytest.mark.parametrize(
    ("text", "place", "words"),
    [
        ('fial-at = "error"', "1:1", "no setting called `fial-at`; did you mean fail-at?"),
        ('fail-at = "eror"', "1:1", "`eror` is no level here: expected note, warning, error; did you mean error?"),
        ('\n[rules]\nstals = "note"', "3:1", "no rule called `stals`; did you mean stalls?"),
        ('[rules]\nstalls = "of"', "2:1", "did you mean off?"),
        ('[rules]\nunfed-rail = "off"', "2:1", "`off` is no level here"),
        ('[limits]\nfeeder-spacin = "1 m"', "2:1", "did you mean feeder-spacing"),
        ('[limits]\nfeeder-spacing = "1 A"', "2:1", 'expected one as in "2 m"'),
        ("[limits]\nfeeder-spacing = 1", "2:1", 'expected one as in "2 m"'),
        ("rules = 3", "1:1", "expected a table"),
        ('reach = "x"', "1:1", "expected a list of folders"),
        ("\n\nfail-at = = 1", "3:1", "this is no TOML"),
    ],
)
def test_what_cannot_be_understood_is_told_at_its_line(
    capsys: pytest.CaptureFixture[str], text: str, place: str, words: str
) -> None:
    settle(text)
    status, out = told(capsys)
    assert status == 1 and f"railbond.toml:{place}: error: " in out
    assert words in " ".join(out.split())


def test_reach_lets_plans_lead_further(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder.parent / "shared").mkdir()
    (folder.parent / "shared" / "power.trackplan").write_text(PLAN.partition("segment")[0])
    Path("plans/yard.trackplan").write_text(
        'include "../../shared/power.trackplan"\nsegment' + PLAN.partition("segment")[2]
    )
    assert "lies outside" in told(capsys)[1]
    settle('reach = ["../shared"]\n')
    assert "lies outside" not in told(capsys)[1]


def test_a_fix_is_tried_under_the_settings(capsys: pytest.CaptureFixture[str]) -> None:
    """What is offered cures the finding that the club's limit brought."""
    settle('[limits]\nfeeder-spacing = "50 cm"\n')
    main(["inspect", "plans/yard.trackplan", "--as", "sarif"])
    (run,) = json.loads(capsys.readouterr().out)["runs"]
    (found,) = (one for one in run["results"] if one["ruleId"] == "feeders-too-far-apart")
    assert any(location.get("physicalLocation", {}).get("artifactLocation", {}).get("uri", "").endswith("railbond.toml")
               for location in found.get("relatedLocations", [])) or found["fixes"]  # fmt: skip


def test_the_editor_obeys_and_notices_a_change(folder: Path) -> None:
    store, path = PlanStore(), str(folder / "plans" / "yard.trackplan")
    store.texts.buffers[path] = Buffer(PLAN, 1, f"file://{path}")

    def rules() -> set[str]:
        return {one.rule for one in store.plan(path).inspection.findings}

    assert "feeders-too-far-apart" in rules()
    settle('[limits]\nfeeder-spacing = "10 m"\n')
    assert "feeders-too-far-apart" not in rules()
    settle('[rules]\nfeeders-too-far-apart = "error"\n')
    assert {one.level for one in store.plan(path).inspection.findings if one.rule == "feeders-too-far-apart"} == {
        "error"
    }


def test_places_of_values_are_those_in_the_file() -> None:
    text = '[limits]\n  "feeder-spacing"  =  "3 m"  # as at home\nvoltage-drop="4 %"\n'
    reading = settings_of(Source("railbond.toml", text)).reading
    assert reading and not reading.broken
    places = [(one.at.start + one.value.start, one.at.start + one.value.end) for one in reading.statements]  # type: ignore[union-attr]
    assert [text[start:end] for start, end in places] == ["3 m", "4 %"]
