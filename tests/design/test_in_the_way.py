"""What stands in the way of a sound wiring: lines that are there, files that others include, supplies that cannot."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from design.test_wiring import SIDING
from design.tracks import random_track
from railbond.design.wire import wire


def told(path: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """What the command says of a folder that it wires."""
    from railbond.command import main

    main(["wire", str(path)])
    return capsys.readouterr().out.replace(str(path) + "/", "")


def test_the_line_that_stands_in_the_way_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It stays as it is; what each way out would change is told below."""
    wire = "feeder power -> main crossed"
    (tmp_path / "own.trackplan").write_text(f"{SIDING}district power from B1\nfeeder power -> west\n{wire}\n")
    out = told(tmp_path, capsys)
    where = (tmp_path / "own.trackplan").read_text().splitlines().index(wire) + 1
    assert "cannot be cured by more lines. In its way stands:" in out
    assert f"  own.trackplan:{where}  {wire}" in out and "             feeder power -> main\n" in out


def test_a_file_that_another_one_includes_is_wired_there_and_only_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Else both would feed the same frogs; and a wrong line in it is named by its own file."""
    part = f"{SIDING}district power from B1\nfeeder power -> west\nfeeder power -> main crossed\n"
    (tmp_path / "part.trackplan").write_text(part)
    (tmp_path / "whole.trackplan").write_text('include "part.trackplan"\n')
    out = told(tmp_path, capsys)
    assert "part.trackplan: wired as a part of whole.trackplan." in out
    assert (tmp_path / "part.trackplan").read_text() == part
    assert (tmp_path / "whole.trackplan").read_text().count("frog  T1") == 1
    assert "  part.trackplan:9  feeder power -> main crossed" in out


def test_no_reverser_is_written_where_throttles_feed_the_track() -> None:
    """It works behind a digital supply only; what turns is told instead."""
    text = random_track(Random(5), "dog_bone")
    lines = [line for line in text.splitlines() if not line.startswith("booster")]
    text = "\n".join([*lines, "cab C1 12 V 1 A"]) + "\n"
    plan = wire("plan", {"plan": text}.__getitem__)
    assert not any("plug" in line.text or line.kind == "reverser" for line in plan.lines)
    assert "reversing-without-reverser" in [one.rule for one in plan.left]
