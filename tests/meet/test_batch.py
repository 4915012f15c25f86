"""Many plans: in order, whatever one of them holds; and from the cache, which costs time at the worst."""

from __future__ import annotations

import json
import os
from pathlib import Path
from random import Random

import pytest

from oracle.plans import random_wild
from railbond.batch import cache
from railbond.batch import many as batch
from railbond.batch.many import answered, results
from railbond.batch.plain import from_plain, to_plain
from railbond.inspection import inspect
from trackplan.gather import gather

PLAN = 'plan "One"\nbooster B1 15 V 5 A\ndistrict main from B1\ninclude "club.trackplan"\nsegment a stop -> stop 1 m\n'
CLUB = "feeder main -> a\n"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(batch, "program", lambda: "this version")
    monkeypatch.chdir(tmp_path)
    Path("plan.trackplan").write_text(PLAN)
    Path("club.trackplan").write_text(CLUB)
    return tmp_path


def entries(folder: Path) -> list[Path]:
    return sorted((folder / "cache").rglob("*.json"))


def rules_of(path: str) -> list[str]:
    (one,) = results([path])
    assert one.inspection is not None
    return [finding.rule for finding in one.inspection.findings if finding.level != "note"]


@pytest.mark.parametrize("seed", range(12))
def test_an_inspection_goes_through_json_unchanged(seed: int) -> None:
    text = random_wild(Random(seed), 5)
    whole = inspect(gather("plan", {"plan": text}.__getitem__))
    back = from_plain(json.loads(json.dumps(to_plain(whole))), {"plan": text})
    assert back.findings == whole.findings and back.remarks == whole.remarks


def test_results_come_in_order_from_all_processes(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    names = [f"p{number:02}.trackplan" for number in range(20)]
    for number, name in enumerate(names):
        Path(name).write_text(PLAN.replace("1 m", f"{number + 1} m").replace('include "club.trackplan"\n', ""))
    Path("p07.trackplan").write_bytes(b"\xff\xfe\x00 nonsense")
    told: list[int] = []
    found = list(results(names, done=lambda done, of: told.append(done)))
    assert [one.path for one in found] == names and told == list(range(1, 21))
    assert [one.path for one in found if one.trouble] == ["p07.trackplan"]
    assert all(one.inspection for one in found)


def test_a_file_that_is_not_there_stops_nothing(folder: Path) -> None:
    gone, there = results(["gone.trackplan", "plan.trackplan"])
    assert gone.inspection is None and "cannot be read" in gone.trouble
    assert there.inspection is not None and not there.trouble


def test_an_unchanged_plan_is_answered_without_inspecting_it(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    Path("club.trackplan").write_text("# nothing fed\n")
    assert rules_of("plan.trackplan") == ["unfed-rail"]
    monkeypatch.setattr(batch, "enter", lambda *given: pytest.fail("it was inspected again"))
    assert rules_of("plan.trackplan") == ["unfed-rail"]


@pytest.mark.parametrize("name", ["plan.trackplan", "club.trackplan"])
def test_a_changed_file_is_looked_at_again(folder: Path, name: str) -> None:
    assert rules_of("plan.trackplan") == []
    text = Path(name).read_text()
    more = text.replace("1 m", "1 m\nsegment b stop -> stop 1 m")
    Path(name).write_text(more.replace("feeder main -> a", "# nothing fed"))
    assert rules_of("plan.trackplan") == ["unfed-rail"]


def test_another_version_has_other_answers(folder: Path) -> None:
    answered("plan.trackplan", cache.folder(), "one")
    answered("plan.trackplan", cache.folder(), "other")
    assert len(entries(folder)) == 2


@pytest.mark.parametrize(
    "content", [b"", b"{", b"[]", b'{"contents": 3}', b"\xff", b'{"contents": {}, "answer": {"files": 1}}']
)
def test_a_corrupt_entry_costs_time_and_no_answer(folder: Path, content: bytes) -> None:
    Path("club.trackplan").write_text("# nothing fed\n")
    assert rules_of("plan.trackplan") == ["unfed-rail"]
    (entry,) = entries(folder)
    entry.write_bytes(content)
    assert rules_of("plan.trackplan") == ["unfed-rail"]


def test_a_cache_that_cannot_be_written_costs_no_answer(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    Path("no-folder").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder / "no-folder"))
    assert rules_of("plan.trackplan") == []


def test_nothing_is_kept_where_nobody_wants_it(folder: Path) -> None:
    list(results(["plan.trackplan"], keep=False))
    assert entries(folder) == []


def test_an_entry_is_for_its_owner_only(folder: Path) -> None:
    rules_of("plan.trackplan")
    (entry,) = entries(folder)
    assert entry.parent.stat().st_mode & 0o077 == 0
