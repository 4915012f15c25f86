"""Comments of a line, which no statement is made of."""

from __future__ import annotations

import re

QUOTED_OR_COMMENT = re.compile(r'"[^"\r\n]*"|#[^\r\n]*')


def without_comments(line: str) -> str:
    """The line with blanks where its comments were, so that places in it hold."""
    if "#" in line:
        line = QUOTED_OR_COMMENT.sub(lambda one: one[0] if one[0][0] == '"' else " " * len(one[0]), line)
    return line.rstrip()
