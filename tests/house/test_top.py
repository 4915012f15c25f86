"""The top folder, and what must not be in any file."""

from __future__ import annotations

import re
from hashlib import sha256
from pathlib import Path

import pytest

from house.files import kept, texts

TOP_ENTRIES = {
    ".ci", ".gitignore", ".pre-commit-hooks.yaml", "DEVELOPERS.md", "README.md", "example_plans",
    "grammar", "lint", "pyproject.toml", "tests",
}  # fmt: skip
THIS = "tests/house/test_top.py"

# Nothing of the machine that it was written on.
LEAKS = re.compile(r"(?<![\w.])/(?:root|home|Users|opt|mnt)/\w|https?://(?:127|10\.|192|localhost)", re.IGNORECASE)

# Brands and products of the hobby, by the start of their SHA-256: the list must not name them either.
UNNAMED = frozenset(Path(__file__).with_name("unnamed.txt").read_text().split())


def test_the_top_folder_holds_what_it_should() -> None:
    assert {path.split("/")[0] for path in kept()} <= TOP_ENTRIES


def test_no_file_tells_where_it_was_made() -> None:
    found = {path: match.group() for path, text in texts() if path != THIS and (match := LEAKS.search(text))}
    assert found == {}


def test_the_search_for_leaks_finds_them() -> None:
    for text in ("in /home/x", "/root/cache", "http://localhost:1"):
        assert LEAKS.search(text)


def unnamed(text: str) -> set[str]:
    """Words of a text that are on the list."""
    return {word for word in set(re.findall(r"\w+", text.lower())) if digest(word) in UNNAMED}


def digest(word: str) -> str:
    return sha256(word.encode()).hexdigest()[:12]


def test_no_file_names_a_brand() -> None:
    assert {path: found for path, text in texts() if (found := unnamed(text))} == {}


def test_the_search_for_brands_finds_them(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(f"{__name__}.UNNAMED", {digest("trainco")})
    assert unnamed("a turnout by TrainCo.") == {"trainco"}
