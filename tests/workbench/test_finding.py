"""Which program the extension starts."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest

from needs import program

SOURCE = Path(__file__).parents[2] / "grammar" / "vscode" / "finding.js"


def found(folder: Path, setting: str, folders: list[str], path: list[str]) -> str | None:
    """The program by its place below a folder in which some are."""
    given = json.dumps([setting, [str(folder / one) for one in folders], ":".join(str(folder / one) for one in path)])
    code = f"const f = require({json.dumps(str(SOURCE))}); console.log(f.findServer(...{given}) ?? '')"
    told = subprocess.run([program("node"), "-e", code], capture_output=True, text=True, check=True).stdout.strip()
    return str(Path(told).relative_to(folder)) if told else None


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name in ("club/.venv/bin/railbond", "bin/railbond", "own/proof"):
        (tmp_path / name).parent.mkdir(parents=True)
        (tmp_path / name).write_text("#!/bin/sh\n")
        (tmp_path / name).chmod(0o755)
    (tmp_path / "off").mkdir()
    (tmp_path / "off" / "railbond").write_text("not to be run")
    return tmp_path


@pytest.mark.parametrize(
    ("setting", "folders", "path", "expected"),
    [
        ("", ["club"], ["bin"], "club/.venv/bin/railbond"),
        ("", ["off"], ["bin"], "bin/railbond"),
        ("", [], ["off", "bin"], "bin/railbond"),
        ("", [], ["off"], None),
        ("proof", ["club"], ["own"], "own/proof"),
        ("../own/proof", ["club"], [], "own/proof"),
        ("missing", ["club"], ["bin"], None),
    ],
)
def test_it_starts_the_nearest(
    folder: Path, setting: str, folders: list[str], path: list[str], expected: str | None
) -> None:
    assert found(folder, setting, folders, path) == expected


def test_a_whole_path_is_taken_as_it_is(folder: Path) -> None:
    assert found(folder, str(folder / "own" / "proof"), [], []) == "own/proof"
    assert found(folder, str(folder / "own" / "nothing"), ["club"], ["bin"]) is None
