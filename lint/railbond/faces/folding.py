"""Text folded to a page's width, between words alone: a path, a name or a build is never broken."""

from __future__ import annotations


def folded(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """Lines of whole words, the first behind `first`, the others behind `rest`; a word longer than `width` stands out.

    Whoever reads `PATH:LINE:` needs it in one piece, a person as well as an editor that jumps there. The standard
    library's own takes as long to load as all that a plan of 40 lines has wrong takes to write.
    """
    lines, line, is_empty, blanks = list[str](), first, True, ""
    for word in " ".join(text.expandtabs().splitlines()).split(" "):
        if not word:
            blanks += " "
            continue
        if is_empty or len(line) + len(blanks) + len(word) <= width:
            line += blanks + word
        else:
            lines.append(line)
            line = rest + word
        is_empty, blanks = False, " "
    return lines if is_empty else [*lines, line]


def paragraph(text: str, width: int, first: str = "", rest: str = "") -> str:
    """The same as one text."""
    return "\n".join(folded(text, width, first, rest))
