"""`railbond accept`: the first day of an old plan."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from railbond.command import main
from railbond.rules import all_rules
from trackplan.read import read
from trackplan.span import Source

OLD = """\
booster  B1    15 V  5 A
district main  from B1  trips 4 A
segment  line  stop -> T1.points     90 cm
turnout  T1    left  number 6  isolated-frog
segment  more  T1.through -> stop    90 cm
segment  dock  T1.diverging -> stop  90 cm
segment  shed  stop -> stop          1 m
feeder   main -> line
feeder   main -> more
feeder   main -> dock  crossed"""
NO_PLACE = ("acceptance-without-reason", "acceptance-unused", "syntax", "outdated-word")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    Path("old.trackplan").write_text(OLD)
    return tmp_path


def said(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str]:
    status = main([*words])
    return status, "".join(capsys.readouterr())


def test_what_is_known_is_silent_and_what_is_new_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert said(capsys, "inspect", "old.trackplan")[0] == 1
    status, text = said(capsys, "accept", "old.trackplan")
    assert status == 0 and "changed: old.trackplan" in text and "Accepted by 3 lines; 0 findings left." in text
    now = Path("old.trackplan").read_text()
    assert now.startswith(OLD + "\n") and not read(Source("p", now)).broken
    assert f'accept    unfed-rail at shed because "known on {date.today()}: no wire reaches' in now
    assert said(capsys, "inspect", "old.trackplan")[0] == 0
    Path("old.trackplan").write_text(now + "segment  new  stop -> stop  1 m\n")
    status, text = said(capsys, "inspect", "old.trackplan")
    assert status == 1 and "rail of new" in text.replace("rails", "rail") and "1 error" in text


def test_what_is_mended_is_told_to_accept_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, "accept", "old.trackplan")
    Path("old.trackplan").write_text(Path("old.trackplan").read_text() + "feeder   main -> shed\n")
    status, text = said(capsys, "inspect", "old.trackplan")
    assert status == 1 and "nothing is left to accept: unfed-rail is not found at shed" in text


def test_show_writes_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    status, text = said(capsys, "accept", "--show", "old.trackplan")
    assert status == 1 and "+accept    unfed-rail at shed because" in text
    assert Path("old.trackplan").read_text() == OLD


def test_only_what_one_rule_finds(capsys: pytest.CaptureFixture[str]) -> None:
    status, text = said(capsys, "accept", "old.trackplan", "--rule", "unfed-rail")
    assert status == 1 and "Accepted by 1 line; 2 findings left." in text
    assert said(capsys, "accept", "old.trackplan", "--rule", "unfed-rial")[0] == 2


def test_a_second_time_there_is_nothing_to_do(capsys: pytest.CaptureFixture[str]) -> None:
    said(capsys, "accept", "old.trackplan")
    before = Path("old.trackplan").read_text()
    assert said(capsys, "accept", "old.trackplan") == (0, "Accepted by 0 lines; 0 findings left.\n")
    assert Path("old.trackplan").read_text() == before


def test_what_a_shared_file_brings_is_accepted_there(capsys: pytest.CaptureFixture[str]) -> None:
    lines = OLD.splitlines(keepends=True)
    Path("shared.trackplan").write_bytes("".join(lines[:7]).replace("\n", "\r\n").encode())
    Path("one.trackplan").write_text('include "shared.trackplan"\n' + "".join(lines[7:]))
    assert said(capsys, "accept", "one.trackplan")[0] == 0
    assert b"accept    unfed-rail at shed" in Path("shared.trackplan").read_bytes()
    assert b"\n" not in Path("shared.trackplan").read_bytes().replace(b"\r\n", b"")


def test_a_file_that_cannot_be_read_or_written(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert said(capsys, "accept", "gone.trackplan")[0] == 2
    monkeypatch.setattr("os.access", lambda path, mode: False)
    status, text = said(capsys, "accept", "old.trackplan")
    assert (
        status == 2
        and "Accepted by nothing" in text
        and "left" not in text.rpartition("Accepted")[2]
        and Path("old.trackplan").read_text() == OLD
    )


@pytest.mark.parametrize(
    "rule", [rule for rule in all_rules() if rule.name not in NO_PLACE], ids=lambda rule: rule.name
)
def test_whatever_a_rule_finds_can_be_accepted(rule, capsys: pytest.CaptureFixture[str]) -> None:  # type: ignore[no-untyped-def]
    Path("old.trackplan").write_text(rule.fails)
    said(capsys, "accept", "old.trackplan", "--rule", rule.name)
    assert f"(rule {rule.name})" not in said(capsys, "inspect", "old.trackplan")[1]
