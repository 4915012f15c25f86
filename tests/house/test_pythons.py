"""Which Pythons are promised, and which of them the release is tried on."""

from __future__ import annotations

import re
import stat
import tomllib
from pathlib import Path

import pytest

from house.files import TOP
from release.pythons import OLDEST, pythons
from release.pythons import oldest_and_newest as chosen


def test_the_oldest_python_is_the_one_that_is_promised() -> None:
    project = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["requires-python"] == f">={OLDEST[0]}.{OLDEST[1]}"
    assert f"Programming Language :: Python :: {OLDEST[0]}.{OLDEST[1]}" in project["classifiers"]


def test_every_python_on_the_path_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Programs that answer as a Python would, one that does not start, and one that is too old."""
    for name, answer in (("3.10", "3 10 4"), ("3.13", "3 13 0"), ("3.11", "3 11 7"), ("3.12", "3 12 1"), ("3.14", "")):
        program = tmp_path / f"python{name}"
        program.write_text(f"#!/bin/sh\ntest -n '{answer}' && echo {answer}\n")
        program.chmod(program.stat().st_mode | stat.S_IXUSR)
    monkeypatch.setenv("PATH", f"{tmp_path}:/usr/bin:/bin")
    found = pythons()
    assert {(3, 11), (3, 12), (3, 13)} <= set(found) and (3, 10) not in found and (3, 14) not in found
    assert [re.sub(r"\D*3\.", "", path.name) for path in chosen()] == ["11", "13"]
