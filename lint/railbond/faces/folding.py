"""Text folded to a page's width, between words alone: a path, a name or a build is never broken."""

from __future__ import annotations


def folded(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """Lines of whole words, the first behind `first`, the others behind `rest`; a word longer than `width` stands out.

    Whoever reads `PATH:LINE:` needs it in one piece, a person as well as an editor that jumps there.
    """
    from textwrap import wrap

    return wrap(
        text, width, initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
    )


def paragraph(text: str, width: int, first: str = "", rest: str = "") -> str:
    """The same as one text."""
    return "\n".join(folded(text, width, first, rest))
