"""Comments of a line, which no statement is made of."""

from __future__ import annotations

import re

QUOTED_OR_COMMENT = re.compile(r'"[^"\r\n]*"|#[^\r\n]*')
_ONLY_COMMENT = r"[^\S\r\n]*#"  # these are compiled where they are asked for: most processes do not
_BLANKS_AT_END = r"(?<![^\S\r\n])[^\S\r\n]++(?=[\r\n]|\Z)"
_MORE_THAN_COMMENT = r"(?m)^[^\S\n]*+[^\s#]"
_LAST_LINE_END = r"(?:\r\n|\r(?!\n)|\n)(?![^\S\r\n]*#)"
"""Behind which the next line is none of a comment alone."""


def is_comment(line: str) -> bool:
    """Whether a line has nothing but a comment."""
    return re.match(_ONLY_COMMENT, line) is not None


def without_comments(line: str) -> str:
    """The line with blanks where its comments were, so that places in it hold."""
    if "#" in line and '"' not in line and "\r" not in line:
        line = "\n".join([one.partition("#")[0].ljust(len(one)) for one in line.split("\n")])
    elif "#" in line:
        line = QUOTED_OR_COMMENT.sub(lambda one: one[0] if one[0][0] == '"' else " " * len(one[0]), line)
    return line.rstrip()


def without_last_comments(lines: str) -> str:
    """Lines that end in LF without those of nothing but a comment behind them."""
    last = None
    for last in re.finditer(_MORE_THAN_COMMENT, lines):  # noqa: B007
        pass
    end = lines.find("\n", last.end()) if last else 0
    return lines if end < 0 else lines[:end]


def comment_lines(text: str, start: int) -> tuple[str, int, int]:
    """The lines of nothing but a comment from a place on, without blanks behind them; where the last one ends and where
    the next line begins."""
    found = re.compile(_LAST_LINE_END).search(text, start)
    end, after = found.span() if found else (len(text), len(text))
    return re.sub(_BLANKS_AT_END, "", text[start:end]), end, after
