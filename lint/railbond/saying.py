"""Everything that is said on standard output or standard error. What came from outside cannot steer a terminal."""

from __future__ import annotations

import sys

from trackplan.typed import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import TextIO

LAYOUT = "\n\t\xa0\u2002\u2003\u2009\u200a\u202f"
"""Line ends, tabs and blanks by which our own texts are laid out."""


def say(text: str = "", end: str = "\n", to: TextIO | None = None, painted: bool = False) -> None:
    """Prints a text of ours. With `painted` each part of it that came from outside has been made printable already, and
    the colors in it are ours."""
    print(text if painted else printable(text, LAYOUT), end=end, file=to or sys.stdout)


def harmless(text: str) -> str:
    """A whole text of ours, to be told or written to a file, in which nothing that came from outside steers anything.
    What XML and terminals have no use for is spelled out; lines may end as those of CSV do."""
    return "\r\n".join(printable(part, LAYOUT) for part in text.split("\r\n"))


def complain(text: str) -> None:
    """One line on standard error, whatever is in it."""
    print(f"railbond: {printable(text)}", file=sys.stderr)


def printable(text: str, keep: str = "\t") -> str:
    """The text with what would move a terminal's cursor or turn its writing direction spelled out."""
    if text.isprintable() or ("\n" in keep and text.replace("\n", "").isprintable()):
        return text
    if "\n" in keep and "\n" in text:  # most lines of a long text are printable as they are
        return "\n".join(printable(line, keep) for line in text.split("\n"))
    return "".join(char if char.isprintable() or char in keep else _spelled(char) for char in text)


def _spelled(char: str) -> str:
    return char.encode("unicode_escape").decode("ascii")
