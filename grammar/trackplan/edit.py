"""Edits of a plan's text, as places and new text, applied together. Knows no rule."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence, Set
from itertools import compress, count, pairwise

from .quantities import Quantity
from .read import closes, read
from .record import NamedTuple
from .span import Source, Span, Word
from .statements import Statement
from .typed import Any, TypeVar, cast

Resolved = tuple[int, int, str]
Changed = dict[tuple[str, int], Statement | None]
"""What became of statements, by their file and where they begin."""
Part = Word | Quantity
PartType = TypeVar("PartType", bound=Part)
PARTS = (Word, Quantity)  # for `isinstance`, which is quicker with a tuple


class Edit(NamedTuple):
    """Replaces a stretch of a file. With `line`, `text` becomes lines of their own after the line that holds
    `at.end` (a statement's last line), and nothing is replaced. `says` tells in words what is then there."""

    at: Span
    text: str
    line: bool = False
    says: str = ""


def replace(at: Span, text: str) -> Edit:
    """Puts `text` in the place of what stands at `at`."""
    return Edit(at, text)


def add_line(after: Span, text: str, says: str = "") -> Edit:
    """Puts `text` as a line of its own after the line in which `after` ends."""
    return Edit(Span(after.path, after.end, after.end), text, True, says)


def resolve(source: Source, edit: Edit) -> Resolved:
    """Start and end offset in the unmodified text, and the very characters to put there."""
    text = edit.text.replace("\n", source.newline)
    if not edit.line:
        return edit.at.start, edit.at.end, text
    line = source.line_of(edit.at.end)
    if line + 1 < len(source.starts) and is_added(source, edit.at):
        return edit.at.end, edit.at.end, text + source.newline
    if line + 1 < len(source.starts):
        after = source.starts[line + 1]
        return after, after, text + source.newline
    end = source.size
    return end, end, source.newline + text if source.line_text(line) else text + source.newline


def is_added(source: Source, at: Span) -> bool:
    """Whether a place is that of a statement which `revise` adds: empty, and at the left edge."""
    return at.start == at.end == source.starts[source.line_of(at.start)]


def in_text(source: Source, edits: Iterable[Edit]) -> list[Resolved]:
    """The edits in order. Raises ValueError for one that would change a statement which `revise` adds."""
    edits = list(edits)
    if any(not edit.line and edit.text and is_added(source, edit.at) for edit in edits):
        raise ValueError(f"what an edit of {source.path} is to change is not in the text")
    return in_order(source, edits)


def fits(edits: Iterable[Edit], sources: Mapping[str, Source]) -> bool:
    """Whether edits can be made, all of them, in the texts as they stand."""
    by_path: dict[str, list[Edit]] = {}
    for edit in edits:
        by_path.setdefault(edit.at.path, []).append(edit)
    try:
        for path, own in by_path.items():
            resolved = in_text(sources[path], own)
            if any(after[0] < before[1] for before, after in pairwise(resolved)):
                return False
    except (ValueError, KeyError):
        return False
    return True


def apply(source: Source, edits: Iterable[Edit]) -> str:
    """The text with all edits made. Equal edits count once; raises ValueError where two overlap."""
    return splice(source.path, source.text, in_order(source, edits))


def in_order(source: Source, edits: Iterable[Edit]) -> list[Resolved]:
    """The edits of a file in the order of their places, equal ones once."""
    return sorted(dict.fromkeys(resolve(source, edit) for edit in edits), key=lambda one: one[:2])


def splice(path: str, text: str, resolved: Iterable[Resolved], first: int = 0) -> str:
    """A text with edits made whose offsets count from `first` characters before it."""
    pieces: list[str] = []
    done = 0
    for start, end, new in resolved:
        if start - first < done:
            raise ValueError(f"two edits of {path} overlap at character {start}")
        pieces += text[done : start - first], new
        done = end - first
    return "".join(pieces) + text[done:]


def revise(
    statements: Iterable[Statement],
    edits: Iterable[Edit],
    sources: Mapping[str, Source],
    begins: Sequence[int] | None = None,
) -> list[Statement]:
    """The statements as they would be read after the edits, at their places in the unmodified text.

    Only the lines that the edits touch are read again. What they add comes last, at an empty span near where
    it would be put. `edits` are all those made since the sources were read, `begins` is where each statement begins,
    for whoever knows. Raises ValueError where two overlap or an edited line does not read.
    """
    edits = list(edits)
    changed: Changed = {}
    new: list[Statement] = []
    for path in dict.fromkeys(edit.at.path for edit in edits):
        source = sources[path]
        here = in_text(source, (edit for edit in edits if edit.at.path == path))
        for start, end, own in stretches(source, here):
            new += reread(Source(path, source.part(start, end)), start, own, changed)
    kept = list(statements)
    begins = [one[0][1] for one in kept] if begins is None else begins
    near = places_of({start for _, start in changed}, begins)
    for place in reversed([at for at in near if kept[at][0][:2] in changed]):
        revised = changed[kept[place][0][:2]]
        kept[place : place + 1] = [revised._replace(at=kept[place].at)] if revised else []
    return kept + new


def places_of(starts: Set[int], begins: Sequence[int]) -> Iterable[int]:
    """Where some offsets are among those at which statements begin."""
    if len(starts) != 1:
        return compress(count(), map(starts.__contains__, begins))
    (start,), at = starts, -1
    return [at := begins.index(start, at + 1) for _ in range(begins.count(start))]


def stretches(source: Source, resolved: list[Resolved]) -> list[tuple[int, int, list[Resolved]]]:
    """The whole statements that the edits touch: start, end and edits of each run of lines."""
    found: list[tuple[int, int, list[Resolved]]] = []
    for edit in resolved:
        start, end = whole_statements(source, edit[0], edit[1])
        if found and start < found[-1][1]:
            first, last, own = found.pop()
            found.append((first, max(last, end), [*own, edit]))
        else:
            found.append((start, end, [edit]))
    return found


def whole_statements(source: Source, start: int, end: int) -> tuple[int, int]:
    """The stretch widened to where a statement begins, on either side."""
    first, after = source.line_of(start), source.line_of(end) + 1
    while first and not begins_statement(source, first):
        first -= 1
    while after < len(source.starts) and not begins_statement(source, after):
        after += 1
    return source.starts[first], source.starts[after] if after < len(source.starts) else source.size


def begins_statement(source: Source, line: int) -> bool:
    text = source.line_text(line)
    return bool(text) and not text[0].isspace() and text[0] != "#" and not closes(text)


def reread(old: Source, start: int, own: list[Resolved], changed: Changed) -> list[Statement]:
    """Notes what became of each statement of a stretch that begins at `start`; returns the new ones."""
    before, after = read(old), read(Source(old.path, splice(old.path, old.text, own, start)))
    if len(after.broken) > len(before.broken):
        message = after.broken[-1].message
        raise ValueError(f"an edit of {old.path} leaves a line that does not read: {message}")
    new = after.statements
    edited = [statement for statement in before.statements if not take_equal(statement, new)]
    for statement in edited:
        at = Span(old.path, start + statement.at.start, start + statement.at.end)
        changed[at[:2]] = as_it_was(new.pop(0), at, start, own) if new else None
    return [added(statement, Span(old.path, start, start)) for statement in new]


def as_it_was(statement: Statement, at: Span, start: int, own: list[Resolved]) -> Statement:
    """A changed statement at its old place, each word of it where it stood, or where its edit will put it."""
    begins = start + statement.at.start
    before = own[0][0] - begins if begins == at.start else -1

    def back(part: PartType) -> PartType:
        if part.end <= before:
            return part
        first, last = unmoved(begins + part.start, own)[0], unmoved(begins + part.end, own)[1]
        return put(part, first - at.start, max(first, last) - at.start, tuple(map(back, part.lead)))

    return each_part(statement, back)._replace(at=at)


def unmoved(offset: int, resolved: Iterable[Resolved]) -> tuple[int, int]:
    """Where an offset of the edited text was before. One within new text gives both ends of what that replaced."""
    shift = 0
    for start, end, new in resolved:
        if offset <= start + shift:
            break
        if offset < start + shift + len(new):
            return start, end
        shift += len(new) - (end - start)
    return offset - shift, offset - shift


def added(statement: Statement, at: Span) -> Statement:
    """A statement that is not in the text: nothing of it can be edited."""
    return each_part(statement, lambda part: put(part, 0, 0))._replace(at=at)


def each_part(statement: Statement, change: Callable[[Part], Part]) -> Statement:
    """The statement with each of its words and quantities changed, those within tuples too."""

    def changed(value: Any) -> Any:
        if isinstance(value, PARTS):
            return change(value)
        if not isinstance(value, tuple):
            return value
        parts = map(changed, value)
        return type(value)(*parts) if hasattr(value, "_fields") else tuple(parts)

    kind: Any = type(statement)
    return cast("Statement", kind(statement.at, *map(changed, statement[1:])))


def put(part: PartType, start: int, end: int, lead: tuple[Word, ...] = ()) -> PartType:
    """The same word or quantity at another place, and the keywords that lead up to it at theirs."""
    placed: Part
    if isinstance(part, Word):
        placed = Word(part, start, end, lead)
    else:
        placed = type(part)(float(part), part.text, start, end)
        placed.lead = lead
    return cast("PartType", placed)


def take_equal(statement: Statement, others: list[Statement]) -> bool:
    """Takes out the first of the others that says the same, if one does."""
    for place, other in enumerate(others):
        if type(other) is type(statement) and other[1:] == statement[1:]:
            del others[place]
            return True
    return False
