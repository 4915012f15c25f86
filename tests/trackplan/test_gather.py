"""A plan with its includes: paths, circles, doubles and what is missing."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from trackplan.gather import MOST_FILES, GatheredPlan, beside, gather


def opener(files: dict[str, str]) -> Callable[[str], str]:
    def open_text(path: str) -> str:
        if path not in files:
            raise FileNotFoundError(2, "No such file or directory", path)
        return files[path]

    return open_text


def gathered(**files: str) -> GatheredPlan:
    """The plan of `a`, of files named by a letter in one folder."""
    return gather("club/a", opener({f"club/{name}": text for name, text in files.items()}))


def told(gathered: GatheredPlan) -> list[tuple[str, str, str]]:
    """Of every broken line its file, the words it is told at and the message."""
    sources = gathered.sources
    return [(one.at.path, sources[one.at.path].text[one.at.start : one.at.end], one.message) for one in gathered.broken]


def test_included_statements_come_with_their_own_places() -> None:
    found = gathered(a='include "b"\ntrain one 1 m', b='include "c"\ntrain two 2 m', c="train three 3 m")
    assert not found.broken
    assert [(one.at.path, type(one).__name__) for one in found.statements] == [
        ("club/a", "Include"), ("club/a", "Train"), ("club/b", "Include"), ("club/b", "Train"), ("club/c", "Train"),
    ]  # fmt: skip
    assert list(found.sources) == ["club/a", "club/b", "club/c"] and found.root == "club/a"


@pytest.mark.parametrize(
    ("path", "file", "found"),
    [
        ("club/a", "b", "club/b"),
        ("a", "b", "b"),
        ("./a", "b", "b"),
        ("club/a", "../parts/b", "parts/b"),
        ("club/a", "./x//../b", "club/b"),
        ("/plans/a", "b", "/plans/b"),
        ("club/a", "/plans/b", "/plans/b"),
        ("club/a", "parts\\b", "club/parts/b"),
        ("C:\\club\\a", "b", "C:/club/b"),
    ],
)
def test_paths_are_beside_the_plan(path: str, file: str, found: str) -> None:
    assert beside(path, file) == found


def test_a_missing_file_is_told_at_its_name() -> None:
    found = gathered(a='train one 1 m\ninclude   "nowhere"  # yet\ntunrout\n')
    assert told(found) == [
        ("club/a", '"nowhere"', "there is no file `club/nowhere`"),
        ("club/a", "tunrout", told(found)[1][2]),
    ]
    assert len(found.statements) == 2


@pytest.mark.parametrize(
    ("error", "why"),
    [
        (PermissionError(13, "Permission denied"), "Permission denied"),
        (IsADirectoryError(21, "Is a directory"), "Is a directory"),
        (ValueError("embedded null byte"), "embedded null byte"),
        (OSError("gone"), "gone"),
    ],
)
def test_a_file_that_does_not_open_is_told(error: Exception, why: str) -> None:
    def open_text(path: str) -> str:
        if path == "a":
            return 'include "b"'
        raise error

    assert told(gather("a", open_text)) == [("a", '"b"', f"`b` cannot be read: {why}")]


def test_the_plan_itself_must_open() -> None:
    with pytest.raises(FileNotFoundError):
        gather("a", opener({}))


@pytest.mark.parametrize(
    ("files", "at"),
    [
        ({"a": 'include "a"'}, ("club/a", '"a"')),
        ({"a": 'include "b"', "b": 'include "./a"'}, ("club/b", '"./a"')),
        ({"a": 'include "b"', "b": 'include "c"', "c": 'include "../club/a"'}, ("club/c", '"../club/a"')),
    ],
)
def test_a_circle_is_told_where_it_closes(files: dict[str, str], at: tuple[str, str]) -> None:
    message = "`club/a` includes this file in turn: files cannot include each other in a circle"
    assert told(gathered(**files)) == [(*at, message)]


def test_a_circle_below_the_plan() -> None:
    found = gathered(a='include "b"', b='include "c"', c='include "b"')
    assert [one[:2] for one in told(found)] == [("club/c", '"b"')]
    assert "in a circle" in told(found)[0][2]


def test_a_file_counts_once() -> None:
    message = "`club/c` is included already: once is enough"
    found = gathered(a='include "b"\ninclude "c"\ninclude "c"', b='include "c"', c="train one 1 m")
    assert sorted(told(found)) == [("club/a", '"c"', message), ("club/b", '"c"', message)]
    assert sum(type(one).__name__ == "Train" for one in found.statements) == 1


def test_there_is_an_end_to_includes() -> None:
    found = gather("f", lambda path: f'include "{path}f"')
    assert len(found.readings) == MOST_FILES
    assert [one.message for one in found.broken] == ["more than 1,000 files are included"]


def test_modules_are_not_followed() -> None:
    found = gathered(a='module quarry "b"', b="train one 1 m")
    assert not found.broken and list(found.readings) == ["club/a"]
