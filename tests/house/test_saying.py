"""There is one way to print: `railbond.saying`, which lets nothing that came from outside steer a terminal."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from house.files import modules
from railbond.saying import harmless, printable

MAY_PRINT = ("railbond.saying", "trackplan.")


@pytest.mark.parametrize(("name", "path"), modules().items())
def test_nobody_else_prints(name: str, path: Path) -> None:
    if name.startswith(MAY_PRINT):
        return
    tree = ast.parse(path.read_text(encoding="utf-8"))
    calls = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    assert not [one for one in calls if isinstance(one, ast.Name) and one.id == "print"], "say or complain instead"
    written = [one for one in calls if isinstance(one, ast.Attribute) and one.attr in ("write", "writelines")]
    streams = [
        one for one in written if isinstance(one.value, ast.Attribute) and one.value.attr in ("stdout", "stderr")
    ]
    assert not streams, "say or complain instead"


@pytest.mark.parametrize("char", ["\x1b", "\a", "\r", "\b", "\0", "\x7f", "\x9b", "\u202e", "\u2028", "\ud800"])
def test_what_steers_a_terminal_is_spelled_out(char: str) -> None:
    assert char not in printable(f"a{char}b") and char not in harmless(f"a{char}b")
    assert "\\" in printable(f"a{char}b")


def test_what_lays_out_a_text_of_ours_stays() -> None:
    assert harmless("a\tb\nc\r\nd 5\xa0V\n") == "a\tb\nc\r\nd 5\xa0V\n"
