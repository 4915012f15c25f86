"""First plans are sound, say what they are, and never take the place of a file."""

from __future__ import annotations

from pathlib import Path

import pytest

from railbond.command import main
from railbond.commands.begin import beginnings
from railbond.inspection import inspect
from trackplan.gather import gather
from trackplan.span import Source
from trackplan.tidy import tidy


@pytest.mark.parametrize("name", beginnings())
def test_it_is_sound_in_every_setting(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["begin", name]) == 0
    assert main(["inspect", f"{name}.trackplan", "--fail-at", "warning"]) == 0
    said = capsys.readouterr().out
    assert "proven for every setting" in " ".join(said.split()) and said.count("(rule ") == said.count(
        "(rule set-against)"
    )


@pytest.mark.parametrize(("name", "text"), beginnings().items())
def test_nothing_is_left_out_of_its_judgment(name: str, text: str) -> None:
    """Every wire has its size and length, so that drop and tripping are looked at too. How a frog fed by contacts meets
    a train against the points is said of every plan that has one."""
    inspection = inspect(gather("p", lambda path: text))
    assert {one.rule for one in inspection.findings} == ({"set-against"} if "switched" in text else set())
    assert not inspection.remarks


@pytest.mark.parametrize(("name", "text"), beginnings().items())
def test_it_is_commented_and_tidy(name: str, text: str) -> None:
    assert text.startswith("# ") and text.count("\n# ") >= 2
    assert tidy(Source("p", text)) == text


def test_a_file_that_is_there_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "oval.trackplan").write_text("mine")
    assert main(["begin", "oval"]) == 2
    assert "is there already" in capsys.readouterr().err
    assert (tmp_path / "oval.trackplan").read_text() == "mine"
    assert main(["begin", "oval", "-o", "club.trackplan"]) == 0 and (tmp_path / "club.trackplan").exists()
    assert main(["begin", "oval", "-o", "no/such.trackplan"]) == 2


def test_what_there_is_and_what_is_nearest(capsys) -> None:
    assert main(["begin"]) == 0
    assert {line.split()[0] for line in capsys.readouterr().out.splitlines()} == set(beginnings())
    assert main(["begin", "ovel"]) == 2
    assert "did you mean oval" in capsys.readouterr().err
    assert main(["begin", "oval", "-o", "oval.txt"]) == 2
