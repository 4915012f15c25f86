"""What is told of a meet can be accepted in the meet's own plan, by the names that it has there."""

from __future__ import annotations

from pathlib import Path

import pytest

from meet.samples import FILES, LOOP, SOUND, outcome
from railbond.command import main
from railbond.meet.examining import Outcome

CROSSED = SOUND.replace("loop.plug", "loop.plug crossed")
BAD_LOOP = LOOP.replace("feeder P -> lead", "feeder P -> lead crossed")
UNBONDED = LOOP.replace("bond T1 closure rails to stock rails\n", "")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    for name, text in (FILES | {"meet.trackplan": CROSSED, "loop.trackplan": UNBONDED}).items():
        Path(name).write_text(text)
    return tmp_path


def rules(found: Outcome) -> list[tuple[str, str]]:
    return [(one.finding.rule, one.module) for one in found.told if one.finding.level != "note"]


def accept(rule: str, place: str, reason: str = ' because "we know"') -> str:
    return f"accept {rule} {place}{reason}\n"


def test_what_the_whole_has_is_accepted_at_a_name_of_a_module() -> None:
    assert rules(outcome(CROSSED)) == [("legs-joined", "")]
    names = next(one.finding.names for one in outcome(CROSSED).told if one.finding.rule == "legs-joined")
    assert "loop" in names
    for name in names:
        assert rules(outcome(CROSSED + accept("legs-joined", f"at {name}"))) == [], name


def test_what_a_module_has_alone_is_accepted_behind_the_name_of_the_module() -> None:
    (told,) = [one.finding for one in outcome(SOUND, loop=BAD_LOOP).told if one.finding.level != "note"]
    place = f"at loop.{told.names[0]}"
    assert rules(outcome(SOUND + accept(told.rule, place), loop=BAD_LOOP)) == []
    elsewhere = rules(outcome(SOUND + accept(told.rule, "at one.line"), loop=BAD_LOOP))
    assert elsewhere == [("acceptance-unused", ""), (told.rule, "loop")]


def test_edges_that_do_not_fit_are_accepted_at_either_of_them() -> None:
    row = SOUND.replace("two.E -> loop.W", "two.W -> loop.W").replace("one.E -> two.W", "one.E -> two.E")
    first = next(one.finding for one in outcome(row).told if "do not fit" in one.finding.message)
    for name in first.names[:2]:
        now = outcome(row + accept(first.rule, f"at {name}"))
        assert not [one for one in now.told if "do not fit" in one.finding.message], name
        assert "acceptance-unused" not in dict(rules(now))


@pytest.mark.parametrize("place", ["at loop.T1", "at one.line", "at town.B1", "at loop", "everywhere"])
def test_what_accepts_nothing_is_told_at_its_line(place: str) -> None:
    text = SOUND + accept("unfed-frog", place)
    (told,) = [one for one in outcome(text).told if one.finding.level != "note"]
    assert told.finding.rule == "acceptance-unused" and told.module == ""
    assert text[told.finding.at.start :].startswith("accept")


def test_an_acceptance_without_a_reason_silences_nothing_and_says_so() -> None:
    found = rules(outcome(CROSSED + accept("legs-joined", "at loop.plug", reason="")))
    assert sorted(found) == [("acceptance-without-reason", ""), ("legs-joined", "")]


def test_a_name_that_no_module_has_is_told_with_the_near_one() -> None:
    text = SOUND + accept("unfed-frog", "at loop.leed")
    told = {one.finding.rule: one.finding.message for one in outcome(text).told}
    assert "train is called `loop.leed`; did you mean `loop.lead`?" in told["unknown-name"]
    assert "acceptance-unused" not in told, "one slip is told once"


def test_nothing_is_told_of_a_module_that_is_left_out_or_cannot_be_read() -> None:
    from meet.samples import meet
    from railbond.meet.examining import examine_meet

    text = SOUND + accept("unfed-frog", "at loop.T1")
    left = examine_meet(meet(text).without({"loop"}))
    assert not [one for one in left.told if one.finding.rule in ("acceptance-unused", "unknown-name")]
    gone = outcome(text.replace("loop.trackplan", "gone.trackplan"))
    assert not [one for one in gone.told if one.finding.rule in ("acceptance-unused", "unknown-name")]


def test_what_a_module_accepts_is_no_business_of_the_meet() -> None:
    note = 'accept set-against at T1 because "a signal guards it"\n'
    unused = [one.module for one in outcome(SOUND, loop=LOOP + note).told if one.finding.rule == "acceptance-unused"]
    assert unused == ["loop"]


def test_accept_writes_into_the_plan_of_the_meet_and_into_no_other(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = {path.name: path.read_text() for path in folder.iterdir()}
    assert main(["inspect", "meet.trackplan", "--no-cache"]) == 1
    assert main(["accept", "meet.trackplan"]) == 0
    assert {path.name for path in folder.iterdir() if path.read_text() != before[path.name]} == {"meet.trackplan"}
    capsys.readouterr()
    assert main(["inspect", "meet.trackplan", "--no-cache"]) == 0
    Path("meet.trackplan").write_text(Path("meet.trackplan").read_text().replace("loop.plug crossed", "loop.plug"))
    assert main(["inspect", "meet.trackplan", "--no-cache"]) == 1
    assert "nothing is left to accept: legs-joined" in capsys.readouterr().out


def test_a_whole_folder_can_be_accepted_at_once(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["accept", "."]) == 0
    assert "because" in Path("loop.trackplan").read_text(), "a module's own fault is accepted at home"
    assert main(["inspect", ".", "--no-cache"]) == 0
    before = {path.name: path.read_text() for path in folder.iterdir()}
    assert main(["accept", "."]) == 0
    assert {path.name: path.read_text() for path in folder.iterdir()} == before
