"""Nothing that comes from outside steers a terminal or breaks a picture: every command on a plan whose title, names and
texts are full of what does."""

from __future__ import annotations

import re
from pathlib import Path
from xml.dom.minidom import parse

import pytest

from railbond.command import main

STEERS = "\x1b[31m\x1b]0;title\a\u202eevil\u2066\x9b2J\0\x7f\x08"
PLAN = f"""\
plan "{STEERS}</text><script>"
scale HO
booster B1 15 V 5 A
district main from B1 trips 4 A legs red black
bus main -> P1 2 m 14 AWG
segment west stop -> T1.points 60 cm
turnout T1 left number 6 isolated-frog
segment line T1.through -> stop 1.2 m
segment mill T1.diverging -> stop 90 cm
segment dead stop -> stop 90 cm
frog T1 switched through P1.black diverging P1.red
accept unfed-rail at nothing because "{STEERS}"
engine "{STEERS}" left 0 18 mm right 0 18 mm 0.3 A
feeder P1 -> west
feeder P1 -> line
feeder P1 -> mill
segment {STEERS} stop -> stop 1 m
"""
FACES = (
    ("inspect",),
    ("inspect", "--as", "brief"),
    ("inspect", "--as", "annotations"),
    ("inspect", "--as", "sarif"),
    ("meet", "--no-cache"),
    ("meet", "--no-cache", "-o", "page.html"),
    ("mend", "--show"),
    ("tidy", "--show"),
    ("accept", "--show"),
    ("draw",),
    ("draw", "-o", "picture.svg"),
    ("meter",),
    ("meter", "--as", "csv"),
    ("meter", "--as", "page"),
    ("schedule",),
    ("schedule", "--as", "csv"),
    ("schedule", "--as", "page", "-o", "page.html"),
    ("power",),
    ("choose",),
    ("diagnose", "seen.txt"),
    ("walk", "west", STEERS),
    ("walk", "west", "line"),
)
FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")


@pytest.mark.parametrize("words", FACES, ids=lambda words: " ".join(words).encode("ascii", "replace").decode())
@pytest.mark.parametrize("name", ["plan", f"{STEERS}".replace("\0", "").replace("/", "")])
def test_nothing_from_outside_steers(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    words: tuple[str, ...],
    name: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    Path(f"{name}.trackplan").write_text(PLAN)
    Path("seen.txt").write_text(f"beeps {STEERS} and west.left\n")
    status = main([words[0], f"{name}.trackplan", *words[1:]])
    out, errors = capsys.readouterr()
    assert status in (0, 1, 2) and "broke off" not in errors
    written = [path.read_text() for path in tmp_path.iterdir() if path.suffix in (".html", ".svg")]
    for text in (out, errors, *written):
        assert not FORBIDDEN.search(text), FORBIDDEN.findall(text)[:5]
    assert not any("</text><script>" in text for text in written)
    if words[-1] == "picture.svg":
        parse("picture.svg")
