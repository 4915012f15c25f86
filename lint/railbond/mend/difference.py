"""From one text to another: as edits of whole lines, as a unified diff, and what is where then."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from trackplan.edit import Edit, Resolved, replace
from trackplan.read import QUOTED_OR_COMMENT
from trackplan.span import Source, Span


def line_edits(source: Source, other: str) -> Iterator[Edit]:
    """The edits of whole lines that turn a file's text into another; all lines that both have stay untouched, but for
    one beside lines that are only added. Lines that are new or changed end as the file's lines do."""
    old, new = whole_lines(source), whole_lines(Source(source.path, other))
    marks = [*source.starts[: len(old)], len(source.text)]
    for first, last, lines in _stretches(old, new):
        yield replace(Span(source.path, marks[first], marks[last]), "".join(lines).replace(source.newline, "\n"))


def _stretches(old: list[str], new: list[str]) -> list[tuple[int, int, list[str]]]:
    """Lines `first` to `last` of the old ones and what takes their place. None is empty where there are old ones: an
    edit of nothing could be none of the text, see `is_added`."""
    from difflib import SequenceMatcher

    found: list[tuple[int, int, list[str]]] = []
    for kind, first, last, start, stop in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        lines = new[start:stop]
        if kind == "insert" and first < len(old):
            found.append((first, first + 1, [*lines, old[first]]))
        elif kind == "insert" and found and found[-1][1] == first:
            found[-1][2].extend(lines)
        elif kind == "insert" and old:
            found.append((first - 1, first, [old[first - 1], *lines]))
        elif kind != "equal":
            found.append((first, last, lines))
    return found


def changed_lines(source: Source, text: str) -> int:
    """How many lines are changed, added or taken out from one text to another."""
    edits = line_edits(source, text)
    return sum(max(_count(source.text[edit.at.start : edit.at.end]), _count(edit.text)) for edit in edits)


def _count(text: str) -> int:
    return len(whole_lines(Source("", text)))


def unified(source: Source, text: str) -> Iterator[str]:
    """The lines of a unified diff, three lines around each change, each with its line end."""
    from difflib import unified_diff

    old, new = whole_lines(source), whole_lines(Source(source.path, text))
    path = source.path.lstrip("/")
    names = f"a/{path}", f"b/{path}"
    whole = old and new and set(new).isdisjoint(old)  # nothing to be looked for, which would take long
    for line in _all_of(old, new, *names) if whole else unified_diff(old, new, *names):
        yield line if line.endswith(("\n", "\r")) else f"{line}\n\\ No newline at end of file\n"


def _all_of(old: list[str], new: list[str], *names: str) -> Iterator[str]:
    """A unified diff of texts that have no line in common."""
    lengths = [f"1,{len(lines)}" if len(lines) > 1 else "1" for lines in (old, new)]
    yield from (f"--- {names[0]}\n", f"+++ {names[1]}\n", f"@@ -{lengths[0]} +{lengths[1]} @@\n")
    yield from map("-".__add__, old)
    yield from map("+".__add__, new)


def whole_lines(source: Source) -> list[str]:
    """Every line with its end; none where the text ends with one."""
    ends = [*source.starts[1:], len(source.text)]
    return [source.text[start:end] for start, end in zip(source.starts, ends, strict=True) if start < end]


def moved_to(offset: int, resolved: Iterable[Resolved]) -> int:
    """Where an offset of the unmodified text is after the edits; one within a stretch that is replaced goes to its
    beginning."""
    shift = 0
    for start, end, new in resolved:
        if end <= offset:
            shift += len(new) - (end - start)
        elif start < offset:
            return start + shift
    return offset + shift


def comments(text: str) -> list[str]:
    """All comments of a text, in their order."""
    return [one.rstrip() for one in QUOTED_OR_COMMENT.findall(text) if one[0] == "#"]
