"""What was found before is not worked out again, and what is told is the same whoever works it out, and how often."""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from multiprocessing import get_context
from pathlib import Path
from random import Random
from typing import Any

import pytest

from oracle.plans import random_sound, random_wild
from railbond.batch import at_hand, cache
from railbond.command import main
from railbond.doorway import Opened

PLANS = 6
NO_UTF_8 = b"segment caf\xe9 stop -> stop 1 m\n"


@pytest.fixture(autouse=True)
def club(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of plans, sound ones and others, one of which reads another."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setattr(at_hand, "program", lambda: "this version")
    folder = tmp_path / "club"
    folder.mkdir()
    for number in range(PLANS):
        make = random_sound if number % 2 else random_wild
        (folder / f"p{number}.trackplan").write_text(make(Random(number), 3))
    (folder / "q.trackplan").write_text('include "shared.trackplan"\nsegment a stop -> stop 1 m\nfeeder main -> a\n')
    (folder / "shared.trackplan").write_text("booster B1 15 V 5 A\ndistrict main from B1\n")
    monkeypatch.chdir(folder)
    return folder


def told(*more: str) -> tuple[int, str, str]:
    """What `inspect` says of the folder."""
    out, err = StringIO(), StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = main(["inspect", ".", *more])
    return status, out.getvalue(), err.getvalue()


@pytest.fixture
def worked_out(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The plans that were inspected in this process."""
    done: list[str] = []
    enter = at_hand.enter

    def noted(path: str, *args: Any, **more: Any) -> Opened:
        done.append(path)
        return enter(path, *args, **more)

    monkeypatch.setattr(at_hand, "enter", noted)
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    return done


def entries(folder: Path) -> Iterator[Path]:
    return (folder.parent / "cache").rglob("*.json")


def test_a_second_run_works_nothing_out_and_says_the_same(worked_out: list[str]) -> None:
    first = told()
    assert len(worked_out) == PLANS + 2
    worked_out.clear()
    assert told() == first and worked_out == []
    assert told("--no-cache") == first and len(worked_out) == PLANS + 2


def test_only_what_a_change_can_reach_is_worked_out(club: Path, worked_out: list[str]) -> None:
    told()
    worked_out.clear()
    (club / "shared.trackplan").write_text("booster B1 15 V 5 A\ndistrict main from B1\ndistrict more from B1\n")
    after = told()
    assert sorted(worked_out) == ["q.trackplan", "shared.trackplan"]
    assert told("--no-cache") == after


@pytest.mark.parametrize("settings", ['[rules]\nunfed-rail = "note"\n', '[limits]\nfeeder-spacing = "1 cm"\n'])
def test_settings_count(club: Path, worked_out: list[str], settings: str) -> None:
    told()
    (club / "railbond.toml").write_text(settings)
    assert told() == told("--no-cache")


def test_by_two_processes_as_by_one(club: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Findings, their order, and what cannot be read; with what was kept of it, and without."""
    (club / "odd.trackplan").write_bytes(NO_UTF_8)
    monkeypatch.setattr(at_hand, "A_START", 1)
    monkeypatch.setattr(os, "cpu_count", lambda: 1)
    alone = told("--no-cache")
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    assert told("--no-cache") == alone == told() == told()
    assert "0xe9" in alone[2]


def test_what_is_not_utf_8_is_told_every_time(club: Path) -> None:
    (club / "odd.trackplan").write_bytes(NO_UTF_8)
    assert told() == told()


def test_entries_are_the_owners_alone_and_run_nothing(club: Path) -> None:
    told()
    found = list(entries(club))
    assert len(found) == PLANS + 2
    for entry in found:
        assert json.loads(entry.read_text().partition("\n")[2])["answer"]
        assert entry.stat().st_mode & 0o777 == 0o600 and entry.parent.stat().st_mode & 0o777 == 0o700


@pytest.mark.skipif(os.name != "posix", reason="permissions as POSIX has them")
def test_what_others_can_write_to_is_not_believed(club: Path, worked_out: list[str]) -> None:
    before = told()
    for entry in entries(club):
        entry.write_text(entry.read_text().replace('"error"', '"note"'))
        entry.chmod(0o666)
    worked_out.clear()
    assert told() == before and len(worked_out) == PLANS + 2


@pytest.mark.parametrize("spoilt", ["", "{", "[]", '{"asked": 1}', '{"asked": {}, "answer": {"files": []}}'])
def test_a_spoilt_entry_costs_time_alone(club: Path, spoilt: str) -> None:
    before = told()
    for entry in entries(club):
        entry.write_text(spoilt)
    assert told() == before == told()


def test_two_processes_at_once(club: Path) -> None:
    before = told("--no-cache")
    with get_context("fork").Pool(2) as pool:
        assert set(pool.starmap(told, [()] * 8, chunksize=1)) == {before}
    assert not [
        path for path in (club.parent / "cache").rglob("*") if path.suffix not in (".json", "") and path.is_file()
    ]


def test_what_nobody_asks_for_goes_after_a_month(club: Path) -> None:
    told()
    at, found = cache.folder(), sorted(entries(club))
    mark = Path(at, "swept")
    old = found[0]
    os.utime(old, (1, 1))
    cache.sweep(at)  # it was done a moment ago
    assert old.exists()
    os.utime(mark, (1, 1))
    with ThreadPoolExecutor(2) as both:
        list(both.map(cache.sweep, [at, at]))
    assert not old.exists() and all(one.exists() for one in found[1:])
    told()  # what is used stays
    later = found[1].stat().st_mtime + 2 * cache.A_DAY
    cache.sweep(at, later)
    assert found[1].exists()
